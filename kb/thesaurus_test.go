package kb

import (
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"tenter/data"
	"tenter/fibres"
	"tenter/internal/testkit"
	"tenter/kb/search"
)

// catalogue is the built-in one, loaded once for all tests.
var catalogue = testkit.Loaded(func() (*fibres.Catalogue, error) { return fibres.Load(data.FS) })

// allGrades lists every grade that the scales and ids allow.
func allGrades(cat *fibres.Catalogue) map[string]bool {
	g := map[string]bool{}
	ordered := func(name string, scale fibres.Scale) {
		for _, w := range scale {
			g[name+" "+w], g[name+" at most "+w], g[name+" at least "+w] = true, true, true
		}
	}
	for _, p := range graded {
		ordered(p.String(), p.Scale())
	}
	ordered("mass", massScale)
	ordered("shrink", shrinkScale)
	for _, c := range cat.ClothList() {
		g["group "+c.Group], g["class "+c.Structure.Class] = true, true
	}
	for id := range cat.Structures {
		g["structure "+id] = true
	}
	for id := range cat.Treatments {
		g["treatment "+id] = true
	}
	for id, f := range cat.Fibres {
		g["fibre "+id], g["family "+f.Family] = true, true
	}
	return g
}

// ofShops tells whether a grade is of what shops say, which the catalogue does not know:
// cmd/tenter tries these with the whole index.
func ofShops(grade string) bool {
	return strings.HasPrefix(grade, "price ") || strings.HasPrefix(grade, "ease ")
}

func TestThesaurusNamesGradesThatThereAre(t *testing.T) {
	th, err := LoadThesaurus(data.FS)
	require.NoError(t, err)
	all := allGrades(catalogue(t))
	require.NotEmpty(t, th.grades)
	for _, p := range th.grades {
		if ofShops(p.grade) {
			continue
		}
		require.True(t, all[p.grade], "%s: no such grade: %q", p.where, p.grade)
	}
}

// Two grades must not run together to one made-up word.
func TestGradeWordsAreDistinct(t *testing.T) {
	seen := map[string]string{}
	for g := range allGrades(catalogue(t)) {
		w := gradeWord(g)
		require.Empty(t, seen[w], "%q and %q are both %q", seen[w], g, w)
		seen[w] = g
		require.True(t, isGrade(g), g)
		require.LessOrEqual(t, len(w), 40, "the index cuts longer words: %q", w)
	}
}

// A grade that no cloth has makes its word useless.
func TestThesaurusGradesHoldForSomeCloth(t *testing.T) {
	cat := catalogue(t)
	th, err := LoadThesaurus(data.FS)
	require.NoError(t, err)
	var cloths []map[string]bool
	for _, c := range cat.ClothList() {
		have := map[string]bool{}
		for _, g := range grades(cat.Sample(fibres.Subject{Cloth: c}, fibres.ShellSalt), c) {
			have[gradeWord(g)] = true
		}
		cloths = append(cloths, have)
	}
	made := map[string]bool{}
	for _, p := range th.grades {
		made[gradeWord(p.grade)] = !ofShops(p.grade)
	}
	for word, means := range th.Means {
		for _, m := range means {
			found := 0
			only := true
			for _, have := range cloths {
				all := true
				for _, w := range strings.Fields(m) {
					only = only && made[w]
					all = all && have[w]
				}
				if all {
					found++
				}
			}
			if only {
				require.NotZero(t, found, "%q: no cloth is %q", word, m)
				require.Less(t, found, len(cloths)*9/10, "%q: nearly every cloth is %q", word, m)
			}
		}
	}
}

func TestGradesFollowTheEstimates(t *testing.T) {
	cat := catalogue(t)
	c := cat.Cloths["silk-chiffon"]
	g := grades(cat.Sample(fibres.Subject{Cloth: c}, fibres.ShellSalt), c)
	show := cat.Estimate(fibres.Subject{Cloth: c}, fibres.ShowThrough)
	require.Contains(t, g, "show-through "+show.Words[1])
	require.Contains(t, g, "mass very light")
	require.Contains(t, g, "mass at most light")
	require.NotContains(t, g, "mass at least light")
	require.Contains(t, g, "fibre silk")
	require.Contains(t, g, "class woven")
}

func TestThesaurusFindings(t *testing.T) {
	for _, c := range []struct{ name, rows, want string }{
		{"missing", "floaty,,practice,practice,,\n", "is missing"},
		{"twice", "floaty,soft,practice,practice,,\nfloaty,limp,practice,practice,,\n", `"floaty" is there twice`},
		{"header", "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := LoadThesaurus(fstest.MapFS{"thesaurus.csv": {Data: []byte("word,means,basis,source_id,locator,note\n" + c.rows)}})
			if c.want == "" {
				require.NoError(t, err)
				return
			}
			require.ErrorContains(t, err, c.want)
			require.ErrorContains(t, err, "data/thesaurus.csv:")
		})
	}
	_, err := LoadThesaurus(fstest.MapFS{})
	require.ErrorIs(t, err, os.ErrNotExist)
}

func TestWording(t *testing.T) {
	th, err := LoadThesaurus(data.FS)
	require.NoError(t, err)
	for _, c := range []struct {
		query, words string
		kinds        []string
		explicit     bool
	}{
		{"fabric that does not fray", "fabric that notfray", []string{"cloth"}, true},
		{"cloth that won't easily ravel", "cloth that notravel", []string{"cloth"}, true},
		{"crease-resistant trousers", "notcrease trousers", nil, false},
		{"non-fraying edge", "notfray edge", []string{"edge"}, false},
		{"see-through nylon", "seethrough nylon", nil, false},
		{"not see through", "notseethrough", nil, false},
		{"it frays", "it frays", nil, false},
		{"lining for a wool coat", "lining for a wool coat", []string{"cloth"}, true},
		{"seam for chiffon", "seam for chiffon", []string{"seam"}, true},
		{"interfacings for a shirt", "interfacings for a shirt", []string{"interfacing"}, true},
		{"georgette", "georgette", nil, false},
		{`"does not fray"`, `"does not fray"`, nil, false},
		{"", "", nil, false},
		{"not", "not", nil, false},
		{"does", "does", nil, false},
	} {
		t.Run(c.query, func(t *testing.T) {
			w := th.wording(search.Query{Words: c.query})
			require.Equal(t, c.words, w.words)
			require.Equal(t, c.kinds, w.kinds)
			require.Equal(t, c.explicit, w.explicit)
		})
	}
	require.Equal(t, "fabric that does not fr", th.wording(search.Query{Words: "fabric that does not fr", Prefix: true}).words, "what is still being typed stands as it is")
	require.Equal(t, "wool grouplining", th.wording(search.Query{Words: "wool lining"}).rest)
	require.Equal(t, "grouplining for a coat", th.wording(search.Query{Words: "lining for a wool coat"}).rest)
}

// What a question asks: how to do something, what is the difference, what has gone wrong.
func TestWhatAQuestionAsks(t *testing.T) {
	th, err := LoadThesaurus(data.FS)
	require.NoError(t, err)
	for words, want := range map[string]struct{ how, differ, trouble, asks bool }{
		"how to line a coat":     {how: true},
		"nap way":                {how: true},
		"way":                    {},
		"velvet nap direction":   {how: true},
		"hem or bind the edge":   {how: true},
		"lawn or voile":          {how: true, differ: true},
		"my hem ripples":         {how: true, trouble: true},
		"ripples":                {how: true},
		"which way does nap run": {how: true, trouble: true},
		"cotton lawn":            {},
		"what lining for a coat": {asks: true},
		"which seam for chiffon": {asks: true},
		"lining for a coat":      {},
		"velvet":                 {},
		"velvet and velveteen":   {},
	} {
		w := th.wording(search.Query{Words: words})
		require.Equal(t, want, struct{ how, differ, trouble, asks bool }{w.how, w.differ, w.trouble, w.asks}, words)
	}
}
