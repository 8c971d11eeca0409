package data_test

import (
	"fmt"
	"io/fs"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/data"
	"tenter/fibres"
	"tenter/internal/testkit"
)

// What the tables say together: rows that are each in order may still make a
// cloth that cannot be, or a rule that nobody hears.

// adviser is the built-in knowledge, loaded once for all tests.
var adviser = testkit.Loaded(func() (*advise.Adviser, error) { return advise.Load(data.FS) })

// canBe reports whether a cloth may have a density: a tangle of the loosest pile
// holds some fibre, and nothing is denser than its fibres without any air.
func canBe(density, solid float64) bool { return density >= 0.02 && density <= solid }

// physics finds what cannot be in the estimates of a cloth.
func physics(c *fibres.Catalogue, k *fibres.Cloth) (found []string) {
	bad := func(format string, args ...any) {
		found = append(found, k.ID+": "+fmt.Sprintf(format, args...))
	}
	s := fibres.Subject{Cloth: k}
	mass, thick := c.Estimate(s, fibres.Mass), c.Estimate(s, fibres.Thickness)
	if mass.Known() && thick.Known() {
		d := mass.Typical / thick.Typical / 1000
		var inverse, share float64 // a blend's density is harmonic
		for _, p := range k.Content {
			for _, r := range c.FactsOf("fibre", p.Fibre.ID) {
				var v float64
				if r.Property != "density" {
					continue
				}
				if _, err := fmt.Sscanf(r.Say, "%g", &v); err == nil && v > 0 {
					inverse, share = inverse+p.Share.Typical/v, share+p.Share.Typical
					break
				}
			}
		}
		solid := 1.6
		if share > 50 && inverse > 0 {
			solid = share / inverse
		}
		if !canBe(d, solid) {
			bad("mass over thickness is %.2f g/cm3, want 0.02 to %.2f, the density of its fibres without any air", d, solid)
		}
	}
	for _, p := range []fibres.Property{fibres.ShrinkWarp, fibres.ShrinkWeft} {
		if e := c.Estimate(s, p); e.Known() && (e.Low < 0 || e.High > 25) {
			bad("%s %s, want 0 to 25 %%", fibres.Properties[p].Name, e.Say())
		}
	}
	if e := c.Estimate(s, fibres.BendingLength); e.Known() && (e.Low < 0.3 || e.High > 12) {
		bad("bending length %s, want 0.3 to 12 cm", e.Say())
	}
	limit := c.Estimate(s, fibres.PressingLimit)
	for _, p := range k.Content {
		if p.Share.Typical < 1 || !limit.Known() {
			continue
		}
		for _, r := range c.FactsOf("fibre", p.Fibre.ID) {
			var lo, ty, hi float64
			if r.Property != "pressing-limit" {
				continue
			}
			if n, _ := fmt.Sscanf(r.Say, "%g – %g – %g", &lo, &ty, &hi); n == 3 && limit.Typical > ty && (limit.Low > ty || p.Fibre.Family != "synthetic" || p.Share.Typical >= 8) {
				bad("pressed at %s, but its fibre %s takes %s", limit.Say(), p.Fibre.ID, r.Say)
			}
		}
	}
	return found
}

func TestClothsObeyPhysics(t *testing.T) {
	c := adviser(t).Cat
	for _, k := range c.ClothList() {
		for _, finding := range physics(c, k) {
			t.Error(finding)
		}
	}
	require.False(t, canBe(11.3, 1.52), "lead")
	require.False(t, canBe(0.001, 1.52), "smoke")
	require.True(t, canBe(0.4, 1.52), "calico")
}

// A recorded shrinkage over 25 % would be felting, not shrinking.
func TestShrinkageRowsInBounds(t *testing.T) {
	for _, r := range readBook(t).sheets["shrinkage"].rows {
		require.LessOrEqual(t, number(r["shrinkage_pct_high"]), 25.0, "%s %s %s", r["id"], r["direction"], r["method"])
		require.GreaterOrEqual(t, number(r["shrinkage_pct_low"]), 0.0, r["id"])
	}
}

// againstStructure finds a cloth whose recorded fray its structure forbids: a
// guess may stand one step off what its structure and treatments give, what was
// read may stand anywhere, and no felt or film frays.
func againstStructure(c *fibres.Catalogue, k *fibres.Cloth, e fibres.Estimate) string {
	switch k.Structure.ID {
	case "felt", "nonwoven", "film", "leather":
		if e.Typical > 0 && k.Structure.ID != "nonwoven" || e.Typical > 1 {
			return fmt.Sprintf("%s is %s, which has no yarns to lose, yet frays %s", k.ID, k.Structure.Name, e.Say())
		}
	}
	if e.Basis == fibres.Published {
		return ""
	}
	for _, r := range c.FactsOf("structure", k.Structure.ID) {
		if r.Property != "fray" {
			continue
		}
		words := strings.Split(r.Say, " – ")
		lo, _ := fibres.FrayScale.Level(words[0])
		hi, _ := fibres.FrayScale.Level(words[len(words)-1])
		tight, loose := 1.0, 1.0
		if len(k.Treatments) > 0 { // milling, coating and felting hold the yarns
			tight = 3
		}
		if e.Typical < float64(lo)-tight || e.Typical > float64(hi)+loose {
			return fmt.Sprintf("%s frays %s, but %s frays %s", k.ID, e.Say(), k.Structure.Name, r.Say)
		}
	}
	return ""
}

func TestFrayAgreesWithStructure(t *testing.T) {
	c := adviser(t).Cat
	for _, k := range c.ClothList() {
		if e := c.Estimate(fibres.Subject{Cloth: k}, fibres.Fray); e.Known() && e.Basis != fibres.Derived {
			require.Empty(t, againstStructure(c, k, e))
		}
	}
	frays := fibres.Figure(fibres.Fray, 3, 3, 3, fibres.Practice, "")
	require.NotEmpty(t, againstStructure(c, c.Cloths["wool-felt"], frays))
	require.NotEmpty(t, againstStructure(c, c.Cloths["ponte"], frays))
	require.Empty(t, againstStructure(c, c.Cloths["silk-chiffon"], frays))
}

// blocks reads the [[kind]] blocks of a TOML file.
func blocks(t *testing.T, file, kind string) []map[string]any {
	t.Helper()
	raw, err := fs.ReadFile(data.FS, file)
	require.NoError(t, err)
	var doc map[string][]map[string]any
	require.NoError(t, toml.Unmarshal(raw, &doc))
	require.NotEmpty(t, doc[kind])
	return doc[kind]
}

// Within pieces, finishes, seams and interfacings a name leads to one thing.
func TestMadeThingsHaveNamesOfTheirOwn(t *testing.T) {
	for file, kind := range map[string]string{"pieces.toml": "piece", "finishes.toml": "finish", "seams.toml": "seam", "interfacings.toml": "interfacing"} {
		var rows []map[string]string
		for _, b := range blocks(t, file, kind) {
			row := map[string]string{"id": b["id"].(string), "name": b["name"].(string)}
			var also []string
			if list, ok := b["synonyms"].([]any); ok {
				for _, x := range list {
					also = append(also, x.(string))
				}
			}
			row["synonyms"] = strings.Join(also, "; ")
			rows = append(rows, row)
		}
		require.Empty(t, nameClashes(kind, rows), file)
	}
}

// Every fact of the rule language is asked for by a rule, a demand or a job; one that
// nobody asks for is a word without use.
func TestEveryFactIsAskedFor(t *testing.T) {
	a := adviser(t)
	asked := map[string]bool{}
	for _, r := range a.Rules {
		for _, w := range r.When() {
			asked[w.Fact] = true
			for _, word := range strings.FieldsFunc(w.Words, func(c rune) bool { return c == ' ' || c == '"' }) {
				asked[word] = true // compared with another fact
			}
		}
	}
	for _, p := range a.Pieces {
		for _, d := range p.Demands {
			asked[d.Fact] = true
		}
	}
	for _, f := range a.Finishes {
		for _, d := range f.Demands {
			asked[d.Fact] = true
		}
	}
	for _, j := range a.Jobs {
		if j.When != nil {
			for _, w := range j.When.When() {
				asked[w.Fact] = true
			}
		}
		for _, d := range j.Demands {
			asked[d.Fact] = true
		}
	}
	for _, w := range a.Wishes {
		for _, d := range w.Demands {
			asked[d.Fact] = true
		}
	}
	facts := a.Facts()
	require.Greater(t, len(facts), 80)
	for _, f := range facts {
		layer, id, _ := strings.Cut(f.Name, ".")
		if _, ok := fibres.PropertyByID(id); ok && (layer == "shell" || layer == "lining") {
			other := map[string]string{"shell": "lining", "lining": "shell"}[layer]
			require.True(t, asked[f.Name] || asked[other+"."+id] || slices.Contains(unasked, id), "no rule and no demand asks for %s of any layer", id)
			continue
		}
		if layer == "outer" { // the shell answers by itself what is asked of the make-up
			require.True(t, asked["make-up."+id], "no demand asks for make-up.%s, which %s answers", id, f.Name)
			continue
		}
		require.True(t, asked[f.Name], "no rule, demand or job asks for %s", f.Name)
	}
}

// unasked are properties that are shown and searched for, and that no rule and no
// demand asks of a layer yet.
var unasked = []string{"slide", "reverse", "rough", "warmth", "wind", "water", "sunfast", "wear", "crease-holds", "flame"}

// Advice is one sentence or two that fit on a card, and ends like a sentence.
func TestAdviceIsShort(t *testing.T) {
	const most = 240
	a := adviser(t)
	check := func(where, text string) {
		require.LessOrEqual(t, len([]rune(text)), most, "%s: %s", where, text)
		require.True(t, strings.HasSuffix(text, ".") || strings.HasSuffix(text, "?"), "%s does not end like a sentence: %s", where, text)
	}
	for _, r := range a.Rules {
		check("rule "+r.ID, r.Say)
		check("rule "+r.ID+" because", r.Because)
	}
	for _, p := range a.Pieces {
		check("piece "+p.ID, p.Say)
		for _, d := range p.Demands {
			check("piece "+p.ID+" "+d.ID, d.Say)
		}
	}
	for _, f := range a.Finishes {
		check("finish "+f.ID, f.Say)
		for _, s := range f.Steps {
			check("finish "+f.ID+" "+s.ID, s.Say)
		}
	}
	for _, s := range a.Seams {
		check(s.Kind+" "+s.ID, s.Say)
	}
	for _, x := range a.Interfacings {
		check("interfacing "+x.ID, x.Say)
	}
}

// british finds British spelling where the American name stands.
var british = regexp.MustCompile(`(?i)\b(colou?red|grey|fibres?|centre|metres?|lustre|mercerised|rubberised|mould|plough|pyjamas?|theatre|woollens?|aluminium|jewellery|velour de|waxed-cotton)\b`)

// A name in the American column is spelt as Americans do, and a British name is
// not: each reader finds a cloth under the spelling of home.
func TestBothEnglishes(t *testing.T) {
	b := readBook(t)
	for _, kind := range []string{"cloths", "fibres"} {
		for _, r := range b.sheets[kind].rows {
			if w := british.FindString(r["us_name"]); w != "" && !strings.EqualFold(w, "colored") {
				t.Errorf("data/%s.csv %s: the US name %q is spelt the British way (%q)", kind, r["id"], r["us_name"], w)
			}
			if w := american.FindString(r["name"]); w != "" {
				t.Errorf("data/%s.csv %s: the name %q is spelt the US way (%q)", kind, r["id"], r["name"], w)
			}
		}
	}
	require.NotEmpty(t, british.FindString("grey cloth"))
	require.Empty(t, british.FindString("gray cloth"))
	traps := 0
	for _, r := range b.sheets["terms"].rows {
		if r["trap"] == "" {
			continue
		}
		traps++
		require.NotEmpty(t, r["see_also"], "term %s has a trap, but does not say what is meant instead", r["id"])
	}
	require.Greater(t, traps, 20)
}

// At least four in ten facts of cloths, and 45 in a hundred rules, rest on a
// source that was read. Most of those sources give a word and no figure: of the
// figures themselves one in eight is a source's.
func TestWhatRestsOnReading(t *testing.T) {
	b := readBook(t)
	read, all, given, figures := 0, 0, 0, 0
	for name, s := range b.sheets {
		for _, r := range s.rows {
			if r["of"] != "cloth" && name != "cloths" {
				continue
			}
			all++
			if r["basis"] == "published" {
				read++
			}
			if _, has := s.field("given"); has {
				figures += 3
				if r["basis"] == "published" && r["given"] != "word" {
					given += len(list(r["given"]))
				}
			}
		}
	}
	require.GreaterOrEqual(t, float64(given)/float64(figures), 0.125, "%d of %d figures of cloths", given, figures)
	require.GreaterOrEqual(t, float64(read)/float64(all), 0.40, "%d of %d facts of cloths", read, all)
	rules, from := 0, 0
	for _, r := range adviser(t).Rules {
		rules++
		if r.Basis == "published" {
			from++
		}
	}
	require.GreaterOrEqual(t, float64(from)/float64(rules), 0.45, "%d of %d rules", from, rules)
	require.GreaterOrEqual(t, rules, 200)
}

// Nothing is recorded of a cloth that would be derived just the same.
func TestNothingIsRecordedTwice(t *testing.T) {
	b := readBook(t)
	grades := []string{"fray", "stretch", "show-through", "slip", "crease", "nap", "wash"}
	for _, name := range grades {
		s := b.sheets[name]
		stem := strings.ReplaceAll(name, "-", "_")
		at := map[string]map[string]string{} // structure → its row
		for _, r := range s.rows {
			if r["of"] == "structure" {
				at[r["id"]] = r
			}
		}
		for _, r := range s.rows {
			if r["of"] != "cloth" || r["basis"] != "practice" {
				continue
			}
			var cloth map[string]string
			for _, c := range b.sheets["cloths"].rows {
				if c["id"] == r["id"] {
					cloth = c
				}
			}
			of := at[cloth["structure"]]
			if of == nil || cloth["treatments"] != "" || stem == "stretch" || stem == "slip" {
				continue // fibres and treatments have a say there
			}
			same := slices.EqualFunc([]string{"_low", "_typical", "_high"}, []string{"_low", "_typical", "_high"}, func(x, y string) bool { return r[stem+x] == of[stem+y] })
			require.False(t, same, "data/%s: %s only repeats its structure, %s", s.Path, r["id"], cloth["structure"])
		}
	}
}
