package data_test

import (
	"fmt"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/data"
	"tenter/fibres"
	"tenter/internal/testkit"
)

// The tables of docs/knowledge.md are made from the data and from the rows of the
// reference folder; -update writes them anew.
func TestKnowledgePage(t *testing.T) {
	const path = "../docs/knowledge.md"
	b, err := os.ReadFile(path)
	require.NoError(t, err)
	text := string(b)
	for mark, table := range map[string]string{
		"basis":   basisTable(readBook(t)),
		"reading": readingTable(t, readBook(t)),
		"held":    heldTable(t),
		"present": presentTable(t, readBook(t)),
	} {
		block := regexp.MustCompile(`(?s)(<!-- ` + mark + ` -->\n).*?(<!-- end -->)`)
		require.Regexp(t, block, text)
		text = block.ReplaceAllString(text, "${1}\n"+strings.ReplaceAll(table, "$", "$$")+"\n$2")
	}
	if *update {
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
		return
	}
	require.True(t, text == string(b), "docs/knowledge.md is stale: go test ./data -run KnowledgePage -update")
}

func percent(part, of int) string {
	if of == 0 {
		return "–"
	}
	return fmt.Sprintf("%d %%", part*100/of)
}

// basisTable counts, file by file, what the rows of cloths rest on.
func basisTable(b *book) string {
	type count struct{ rows, all, part, word, practice, figures, given int }
	add := func(c *count, r map[string]string) {
		given := list(r["given"])
		c.rows++
		c.figures += 3
		switch {
		case r["basis"] == "practice":
			c.practice++
			return
		case r["given"] == "word":
			c.word++
			return
		case len(given) == 3:
			c.all++
		default:
			c.part++
		}
		c.given += len(given)
	}
	var out strings.Builder
	out.WriteString("| file, rows of cloths | rows | published | in part | word alone | practice | figures that a source gives |\n|---|---|---|---|---|---|---|\n")
	var sum count
	line := func(name string, c count) {
		fmt.Fprintf(&out, "| %s | %d | %d | %d | %d | %d | %d of %d, %s |\n", name, c.rows, c.all, c.part, c.word, c.practice, c.given, c.figures, percent(c.given, c.figures))
	}
	var names []string
	for name, s := range b.sheets {
		if _, has := s.field("given"); has {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	for _, name := range names {
		var c count
		for _, r := range b.sheets[name].rows {
			if r["of"] == "cloth" {
				add(&c, r)
				add(&sum, r)
			}
		}
		if c.rows > 0 {
			line("`"+b.sheets[name].Path+"`", c)
		}
	}
	line("all", sum)
	return out.String()
}

// encyclopaedia is the source whose articles a locator names.
const encyclopaedia = "wikipedia-textiles"

// notFoundAgain lists the articles that rows of properties cite and no second reading
// found, and counts all that they cite.
func notFoundAgain(t *testing.T, b *book) (cited int, lost []string) {
	t.Helper()
	found := map[string]bool{}
	for _, r := range testkit.Rows(t, "second_reading.csv") {
		if r["source"] == encyclopaedia {
			found[r["locator"]] = true
		}
	}
	articles := map[string]bool{}
	for _, s := range b.sheets {
		if _, has := s.field("given"); !has {
			continue
		}
		for _, r := range s.rows {
			if r["source_id"] == encyclopaedia {
				articles[r["locator"]] = true
			}
		}
	}
	for a := range articles {
		if !found[a] {
			lost = append(lost, a)
		}
	}
	slices.Sort(lost)
	return len(articles), lost
}

// readingTable counts what the second reading found, file by file.
func readingTable(t *testing.T, b *book) string {
	type count struct{ rows, confirmed, mended, downgraded int }
	by := map[string]*count{}
	var files []string
	for _, r := range testkit.Rows(t, "second_reading.csv") {
		for _, f := range []string{r["file"], "all"} {
			if by[f] == nil {
				by[f] = &count{}
				files = append(files, f)
			}
			c := by[f]
			c.rows++
			switch r["found"] {
			case "confirmed":
				c.confirmed++
			case "mended":
				c.mended++
			case "downgraded":
				c.downgraded++
			}
		}
	}
	slices.SortFunc(files, func(a, b string) int {
		if (a == "all") != (b == "all") {
			if a == "all" {
				return 1
			}
			return -1
		}
		return strings.Compare(a, b)
	})
	var out strings.Builder
	out.WriteString("| file | rows read again | confirmed | mended | downgraded | wrong in some way |\n|---|---|---|---|---|---|\n")
	for _, f := range files {
		c := by[f]
		name := f
		if f != "all" {
			name = "`" + f + "`"
		}
		fmt.Fprintf(&out, "| %s | %d | %d | %d | %d | %s |\n", name, c.rows, c.confirmed, c.mended, c.downgraded, percent(c.mended+c.downgraded, c.rows))
	}
	cited, lost := notFoundAgain(t, b)
	fmt.Fprintf(&out, "\nOf %d encyclopaedia articles that give a figure or a word, %d were found again. Not found, so\nthat their revision is not known: %s.\n", cited, cited-len(lost), strings.Join(lost, "; "))
	return out.String()
}

// Every row of the second reading is of a row that stands in the data, says where it
// was found again and how, and a downgraded one is said to give a word alone.
func TestSecondReading(t *testing.T) {
	b := readBook(t)
	rows := testkit.Rows(t, "second_reading.csv")
	require.GreaterOrEqual(t, len(rows), 200)
	for _, r := range rows {
		require.Contains(t, []string{"confirmed", "mended", "downgraded"}, r["found"])
		require.NotEmpty(t, r["text"], "the text it was found in")
		s := b.sheets[strings.ReplaceAll(strings.TrimSuffix(r["file"], ".csv"), "_", "-")]
		require.NotNil(t, s, r["file"])
		i := slices.IndexFunc(s.rows, func(x map[string]string) bool {
			return x["of"] == r["of"] && x["id"] == r["id"] && rowKey(x) == r["key"] && x["source_id"] == r["source"] && x["locator"] == r["locator"]
		})
		require.GreaterOrEqual(t, i, 0, "%s: no row of %s %s from %s, %s", r["file"], r["id"], r["key"], r["source"], r["locator"])
		if r["found"] == "downgraded" {
			require.Equal(t, "word", s.rows[i]["given"], "%s: %s", r["file"], r["id"])
		}
		if r["found"] != "confirmed" {
			require.Equal(t, s.rows[i]["note"], r["note"], "%s: %s says what was found", r["file"], r["id"])
		}
	}
}

// held is how often a range that claims 80 % held figures it was not made from.
type held struct {
	property, by string
	inside, n    int
}

func heldTable(t *testing.T) string {
	var out strings.Builder
	out.WriteString("| property | ranges of | tried on | held | claimed |\n|---|---|---|---|---|\n")
	for _, h := range bendingHeld(t) {
		fmt.Fprintf(&out, "| bending length | the predictor | %s | %d of %d, %s | 80 %% |\n", h.by, h.inside, h.n, percent(h.inside, h.n))
	}
	m, th := massHeld(t), thicknessHeld(t)
	fmt.Fprintf(&out, "| mass | practice | %s | %d of %d, %s | 80 %% |\n", m.by, m.inside, m.n, percent(m.inside, m.n))
	fmt.Fprintf(&out, "| thickness | mass over the bulk of the structure | %s | %d of %d, %s | 80 %% |\n", th.by, th.inside, th.n, percent(th.inside, th.n))
	for _, h := range []held{widthHeld(t), ruledHeld(t, "mass"), ruledHeld(t, "width")} {
		fmt.Fprintf(&out, "| %s | practice%s | %s | %d of %d, %s | 80 %% |\n", h.property, map[bool]string{true: " by structure"}[h.property == "width"], h.by, h.inside, h.n, percent(h.inside, h.n))
	}
	fmt.Fprintf(&out, "| shrinkage | practice | %s |\n", washedHeld(t))
	for _, p := range []string{"shrinkage of other cloths", "hand, fray, stretch, show-through, slip, crease, nap, wash", "slide, reverse, rough, warmth, wind, water, sunfast, wear, crease-holds, flame, lustre, drying, spring", "pressing limit"} {
		fmt.Fprintf(&out, "| %s | practice and structure or fibre | nothing: no measured rows by name of cloth were read | not tested | – |\n", p)
	}
	return out.String()
}

// bendingHeld are the counts of the calibration, by what was left out.
func bendingHeld(t *testing.T) (out []held) {
	t.Helper()
	for _, r := range testkit.Rows(t, "calibration.csv") {
		by, ok := map[string]string{
			"leave one out by mass: cloths within 10 to 90 %":                   "251 cloths without a name, each left out (feng-2022)",
			"named rows of wang-2011, left out: within 10 to 90 %":              "named cloths of wang-2011, left out",
			"named rows of denim-enzyme-2014, left out: within 10 to 90 %":      "one denim in four states, denim-enzyme-2014, left out",
			"named rows of kawabata-1980, left out: within 10 to 90 %":          "suitings of kawabata-1980 (from memory), left out",
			"rows without a name, from mass: within 10 to 90 %":                 "rows of other laboratories without a name",
			"named rows of which only the rigidity is known: within 10 to 90 %": "denims of denim-cellulose-2016, by rigidity alone",
		}[r["figure"]]
		if !ok {
			continue
		}
		inside, err := strconv.ParseFloat(r["value"], 64)
		require.NoError(t, err)
		n, err := strconv.Atoi(r["n"])
		require.NoError(t, err)
		out = append(out, held{"bending length", by, int(inside), n})
	}
	require.Len(t, out, 6)
	return out
}

// massHeld tries the ranges of practice on what sources of after 1960 give for the same
// cloth. No range was made from them; none is claimed to hold what is sold elsewhere.
func massHeld(t *testing.T) held {
	t.Helper()
	b := readBook(t)
	out := held{property: "mass"}
	cloths, sources := map[string]bool{}, map[string]bool{}
	var short []float64 // by what factor an end falls short of a figure
	for _, r := range b.sheets["mass"].rows {
		if year := b.source(r["source_id"])["year"]; r["basis"] != "published" || r["given"] == "word" || year != "" && year < "1960" || r["source_id"] == rulings {
			continue
		}
		for _, p := range b.facts("mass", "cloth", r["id"]) {
			if p["basis"] != "practice" {
				continue
			}
			cloths[r["id"]], sources[r["source_id"]] = true, true
			for _, cell := range list(r["given"]) {
				v := number(r["mass_gsm_"+cell])
				out.n++
				short = append(short, max(1, number(p["mass_gsm_low"])/v, v/number(p["mass_gsm_high"])))
				if v >= number(p["mass_gsm_low"]) && v <= number(p["mass_gsm_high"]) {
					out.inside++
				}
			}
		}
	}
	slices.Sort(short)
	out.by = fmt.Sprintf("figures that %d sources after 1960 give for %d of the cloths; 80 %% would take ends × %.2f as far", len(sources), len(cloths), short[len(short)*8/10])
	return out
}

// widthHeld tries the widths of practice that a structure gives on those that sources of
// today state for its cloths: ends of tolerances and least widths, each a figure.
func widthHeld(t *testing.T) held {
	t.Helper()
	b := readBook(t)
	out := held{property: "width"}
	cloths, sources := map[string]bool{}, map[string]bool{}
	for _, k := range b.sheets["cloths"].rows {
		for _, r := range b.facts("width", "cloth", k["id"]) {
			if r["basis"] != "published" || r["given"] == "word" || !ofToday(b.source(r["source_id"])) || r["source_id"] == rulings {
				continue
			}
			for _, s := range b.facts("width", "structure", k["structure"]) {
				cloths[k["id"]], sources[r["source_id"]] = true, true
				for _, cell := range list(r["given"]) {
					v := number(r["width_cm_"+cell])
					out.n++
					if v >= number(s["width_cm_low"]) && v <= number(s["width_cm_high"]) {
						out.inside++
					}
				}
			}
		}
	}
	out.by = fmt.Sprintf("figures that %d sources after 1970 give for %d of the cloths", len(sources), len(cloths))
	return out
}

// rulings are letters of a customs office on cloth that was to be imported, each with its
// mass and width. They are tried whole, those that fit and those that do not, so what the
// catalogue takes from them is left out of the two tables above.
const rulings = "us-customs-rulings"

// ruledHeld tries the ranges of practice, of the cloth or else of its structure, on all the
// rulings that were read and name a cloth of the catalogue. Source:
// testdata/reference/ruled_cloth.csv (read in stored copies; no range was made from them).
func ruledHeld(t *testing.T, property string) held {
	t.Helper()
	b := readBook(t)
	column := map[string]string{"mass": "mass_gsm", "width": "width_cm"}[property]
	structure := map[string]string{}
	for _, k := range b.sheets["cloths"].rows {
		structure[k["id"]] = k["structure"]
	}
	out := held{property: property}
	cloths, letters := map[string]bool{}, map[string]bool{}
	for _, r := range testkit.Rows(t, "ruled_cloth.csv") {
		require.NotEmpty(t, structure[r["cloth"]], "%s is no cloth", r["cloth"])
		all := append(b.facts(property, "cloth", r["cloth"]), b.facts(property, "structure", structure[r["cloth"]])...)
		i := slices.IndexFunc(all, func(p map[string]string) bool { return p["basis"] == "practice" })
		if r[column] == "" || i < 0 {
			continue
		}
		cloths[r["cloth"]], letters[r["ruling"]] = true, true
		out.n++
		if v := number(r[column]); v >= number(all[i][column+"_low"]) && v <= number(all[i][column+"_high"]) {
			out.inside++
		}
	}
	out.by = fmt.Sprintf("figures that %d customs rulings of 1990 to 2023 give for %d of the cloths, wherever one is named plainly", len(letters), len(cloths))
	return out
}

// washedHeld tries the first wash of practice on a cloth that was measured before and after:
// one denim in ten washes. Source: testdata/reference/washed_cloth.csv (two tables, read).
func washedHeld(t *testing.T) string {
	t.Helper()
	b := readBook(t)
	inside, n := map[string]int{}, map[string]int{}
	for _, r := range testkit.Rows(t, "washed_cloth.csv") {
		all := b.facts("shrinkage", "cloth", r["cloth"])
		i := slices.IndexFunc(all, func(p map[string]string) bool {
			return p["basis"] == "practice" && p["direction"] == r["direction"] && p["method"] == "wash"
		})
		require.GreaterOrEqual(t, i, 0, "%s %s", r["cloth"], r["direction"])
		n[r["direction"]]++
		if v := number(r["shrinkage_pct"]); v >= number(all[i]["shrinkage_pct_low"]) && v <= number(all[i]["shrinkage_pct_high"]) {
			inside[r["direction"]]++
		}
	}
	hit, tries := inside["warp"]+inside["weft"], n["warp"]+n["weft"]
	return fmt.Sprintf("one denim sold unwashed, in %d enzyme washes (denim-enzyme-2014): along %d, across, where it grew or kept its width, %d | %d of %d, %s | 80 %%", n["warp"], inside["warp"], inside["weft"], hit, tries, percent(hit, tries))
}

// thicknessHeld tries mass over bulk on measured cloths of a known weave. Source:
// testdata/reference/measured_thickness.csv (second-hand transcriptions of four papers).
func thicknessHeld(t *testing.T) held {
	t.Helper()
	c, err := fibres.Load(data.FS)
	require.NoError(t, err)
	out := held{property: "thickness"}
	for _, r := range testkit.Rows(t, "measured_thickness.csv") {
		st := c.Structures[r["structure"]]
		require.NotNil(t, st, r["structure"])
		g := number(r["mass_gsm"])
		s := fibres.Subject{Cloth: &fibres.Cloth{ID: "measured", Name: r["cloth"], Structure: st}, Known: map[fibres.Property]fibres.Estimate{
			fibres.Mass: fibres.Figure(fibres.Mass, g, g, g, fibres.Measured, "")}}
		e := c.Estimate(s, fibres.Thickness)
		require.True(t, e.Known())
		out.n++
		if v := number(r["thickness_mm"]); v >= e.Low && v <= e.High {
			out.inside++
		}
	}
	out.by = fmt.Sprintf("%d measured cloths of a known weave, four laboratories", out.n)
	return out
}

// The ranges that can be tried do not get worse. Bending length and thickness hold about as
// often as they claim; masses and widths of practice hold less often, and the page says by
// how much. Sources: as each of the tables above says.
func TestRangesHoldWhatTheyClaim(t *testing.T) {
	m, th := massHeld(t), thicknessHeld(t)
	require.GreaterOrEqual(t, m.n, 25)
	require.GreaterOrEqual(t, float64(m.inside)/float64(m.n), 0.55, "%d of %d masses", m.inside, m.n)
	w := widthHeld(t)
	require.GreaterOrEqual(t, w.n, 20)
	require.GreaterOrEqual(t, float64(w.inside)/float64(w.n), 0.55, "%d of %d widths", w.inside, w.n)
	for property, least := range map[string]float64{"mass": 0.7, "width": 0.55} {
		h := ruledHeld(t, property)
		require.GreaterOrEqual(t, h.n, 35)
		require.GreaterOrEqual(t, float64(h.inside)/float64(h.n), least, "%d of %d, %s of rulings", h.inside, h.n, property)
	}
	require.Equal(t, 18, th.n)
	require.GreaterOrEqual(t, float64(th.inside)/float64(th.n), 0.7, "%d of %d thicknesses", th.inside, th.n)
}
