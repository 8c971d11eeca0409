package data_test

import (
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/data"
	"tenter/fibres"
	"tenter/internal/testkit"
)

// bestStocked is how many of the cloths that shops keep most often are looked at.
const bestStocked = 120

// stocked lists them, the commonest first and by id among like ones.
func stocked(b *book) []string {
	common := []string{"always", "often", "sometimes", "seldom", "rare"}
	rows := slices.Clone(b.sheets["stocked"].rows)
	slices.SortStableFunc(rows, func(x, y map[string]string) int {
		if d := slices.Index(common, x["common"]) - slices.Index(common, y["common"]); d != 0 {
			return d
		}
		return strings.Compare(x["cloth_id"], y["cloth_id"])
	})
	var out []string
	for _, r := range rows[:bestStocked] {
		out = append(out, r["cloth_id"])
	}
	return out
}

var yearOf = regexp.MustCompile(`\d{4}`)

// ofToday reports whether a source is of 1970 or later; a page without a year was read on
// the web, and is.
func ofToday(source map[string]string) bool {
	years := yearOf.FindAllString(source["year"], -1)
	if len(years) == 0 {
		return source["kind"] == "page" || source["kind"] == "standard" // the standards here name methods of after 1990
	}
	return slices.Max(years) >= "1970"
}

// learned are pages of encyclopaedias, dictionaries, teaching and trade bodies.
var learned = []string{"cameo-mfa", "cn-textile-dictionary", "cotton-encyclopedia", "crepe-dictionary", "drycleaning-bulletin-2018", "fabrics-wiki", "jcwa-reference",
	"modip-cuprammonium", "sheer-course-page", "silk-glossary", "textile-institute-reprints", "trc-leiden", "ua-materials-school", "vintage-fabric-resource",
	"virginia-poplin-tender", "weavers-glossary", "wikipedia-cotton-duck", "wikipedia-pongee", "wikipedia-ru-flannel", "wikipedia-textiles", "wordnet-3-1"}

// grade says how much a source is worth: A what a state, a standard or a laboratory
// gives, B books and the pages of learned bodies, C the rest.
func grade(source map[string]string) string {
	switch {
	case source["kind"] == "book" || slices.Contains(learned, source["id"]): // a dictionary may come as a file of data
		return "B"
	case slices.Contains([]string{"law", "standard", "data", "paper"}, source["kind"]):
		return "A"
	}
	return "C"
}

// restsOn says what the answer for a property of a cloth rests on.
func restsOn(t *testing.T, c *fibres.Catalogue, b *book, cloth string, p fibres.Property) string {
	e := c.Estimate(fibres.Subject{Cloth: c.Cloths[cloth]}, p)
	require.True(t, e.Known(), "%s: %s", cloth, fibres.Properties[p].ID)
	if e.Basis == fibres.Derived {
		return "structure"
	}
	if e.Stated() != fibres.Published {
		return string(e.Basis)
	}
	if !ofToday(b.source(e.Sources[0])) {
		return "old"
	}
	return "published"
}

// given lists the best-stocked cloths that have a figure of their own from a source of
// today, by the best grade of its sources.
func givenFigures(b *book) map[string][]string {
	out := map[string][]string{}
	for _, cloth := range stocked(b) {
		best := ""
		for _, name := range []string{"mass", "width", "hand"} {
			for _, r := range b.facts(name, "cloth", cloth) {
				if src := b.source(r["source_id"]); r["basis"] == "published" && r["given"] != "word" && ofToday(src) && (best == "" || grade(src) < best) {
					best = grade(src)
				}
			}
		}
		if best != "" {
			out[best] = append(out[best], cloth)
		}
	}
	return out
}

// presentTable tells what mass, width and hand of the best-stocked cloths rest on.
func presentTable(t *testing.T, b *book) string {
	t.Helper()
	c, err := fibres.Load(data.FS)
	require.NoError(t, err)
	var out strings.Builder
	fmt.Fprintf(&out, "| of the %d best-stocked cloths | source of 1970 or later | practice of today | practice by its structure | older source alone |\n|---|---|---|---|---|\n", bestStocked)
	for _, p := range []fibres.Property{fibres.Mass, fibres.Width, fibres.Hand} {
		n := map[string]int{}
		for _, cloth := range stocked(b) {
			n[restsOn(t, c, b, cloth, p)]++
		}
		require.Equal(t, bestStocked, n["published"]+n["practice"]+n["structure"]+n["old"], "%v", n)
		fmt.Fprintf(&out, "| %s | %d | %d | %d | %d |\n", fibres.Properties[p].ID, n["published"], n["practice"], n["structure"], n["old"])
	}
	g := givenFigures(b)
	fmt.Fprintf(&out, "\nA figure of mass, width or hand that such a source gives: %d of them, %d from a state, a\nstandard or a laboratory, %d from books and learned bodies, %d from other pages.\n", len(g["A"])+len(g["B"])+len(g["C"]), len(g["A"]), len(g["B"]), len(g["C"]))
	all, unread := deciding(t, b)
	fmt.Fprintf(&out, "Of the %d published rows that decide an answer for them, %d were read again. Of the others the\npassage was read once and not reached a second time:\n", all, all-len(unread))
	out.WriteString("\n| row | source, place |\n|---|---|\n")
	for _, row := range unread {
		fmt.Fprintf(&out, "| %s |\n", row)
	}
	return out.String()
}

// rowKey names a row of a property: what it is of, besides its cloth.
func rowKey(r map[string]string) string {
	return strings.Join(strings.Fields(r["fibre"]+" "+r["direction"]+" "+r["method"]), " ")
}

// deciding counts the published rows of the best-stocked cloths that stand first of their
// fact, and lists those of them that were not read a second time.
func deciding(t *testing.T, b *book) (all int, unread []string) {
	t.Helper()
	read := map[string]bool{}
	for _, r := range testkit.Rows(t, "second_reading.csv") {
		read[strings.Join([]string{r["file"], r["id"], r["key"], r["source"], r["locator"]}, "|")] = true
	}
	for name, s := range b.sheets {
		if _, has := s.field("given"); !has {
			continue
		}
		for _, cloth := range stocked(b) {
			first, rank := map[string]map[string]string{}, map[string]int{}
			for _, r := range b.facts(name, "cloth", cloth) {
				key := rowKey(r)
				at := slices.Index(fibres.Bases, r["basis"])
				if year := b.source(r["source_id"])["year"]; slices.Contains([]string{"mass", "width", "hand", "thickness"}, name) && len(year) == 4 && year < "1960" {
					at += 10
				}
				if was, has := rank[key]; !has || at < was {
					first[key], rank[key] = r, at
				}
			}
			for key, r := range first {
				if r["basis"] != "published" {
					continue
				}
				all++
				if !read[strings.Join([]string{s.Path, cloth, key, r["source_id"], r["locator"]}, "|")] {
					unread = append(unread, fmt.Sprintf("%s of %s | %s, %s", name, strings.TrimSpace(cloth+" "+key), r["source_id"], r["locator"]))
				}
			}
		}
	}
	slices.Sort(unread)
	return all, unread
}

// What shops keep most often is not judged by books of before 1970, and half of it
// has a figure of its own from a source that can be trusted.
func TestBestStockedClothsAreOfToday(t *testing.T) {
	b := readBook(t)
	c, err := fibres.Load(data.FS)
	require.NoError(t, err)
	n := map[string]int{}
	for _, cloth := range stocked(b) {
		for _, p := range []fibres.Property{fibres.Mass, fibres.Width, fibres.Hand} {
			on := restsOn(t, c, b, cloth, p)
			n[on]++
			require.Contains(t, []string{"published", "practice", "structure"}, on, "%s: %s rests on an old book or on memory", cloth, fibres.Properties[p].ID)
			if on == "structure" {
				require.Equal(t, []string{"practice"}, c.Estimate(fibres.Subject{Cloth: c.Cloths[cloth]}, p).Sources, "%s: %s", cloth, fibres.Properties[p].ID)
			}
		}
	}
	require.Equal(t, 3*bestStocked, n["published"]+n["practice"]+n["structure"])
	g := givenFigures(b)
	require.GreaterOrEqual(t, len(g["A"])+len(g["B"]), 55)
}
