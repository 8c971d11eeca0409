package rules

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
)

// set fills one fact from a plain Go value: nil leaves it unknown, false and
// true are flags, "-" is absent.
func set(t testing.TB, s *Schema, c *Case, name string, v any) {
	t.Helper()
	i := fact(t, s, name)
	switch v := v.(type) {
	case nil:
	case bool:
		c.SetFlag(i, v)
	case int:
		c.SetNumber(i, float64(v))
	case float64:
		c.SetNumber(i, v)
	case []float64:
		c.SetNumber(i, v...)
	case []string:
		c.SetSet(i, v...)
	case string:
		switch f := s.facts[i]; {
		case v == "-":
			c.SetAbsent(i)
		case f.Kind == Level:
			for j, w := range f.Scale {
				if w == v {
					c.SetLevel(i, j)
				}
			}
			require.Equal(t, Known, c.Column(i).State, "%s is not on the scale", v)
		default:
			c.SetWord(i, v)
		}
	default:
		t.Fatalf("%T", v)
	}
}

// answers is what a condition says of one value: share 0 or 1, or open.
func TestPhrases(t *testing.T) {
	s := testSchema(t)
	type facts = map[string]any
	for _, c := range []struct {
		fact, words string
		yes, no     []any
		with        facts
	}{
		// levels
		{"shell.fray", "low", []any{"low"}, []any{"none", "medium", "-"}, nil},
		{"shell.fray", "not low", []any{"none", "high"}, []any{"low", "-"}, nil},
		{"shell.fray", "low or high", []any{"low", "high"}, []any{"medium"}, nil},
		{"shell.fray", "not low or high", []any{"none", "medium"}, []any{"low", "high"}, nil},
		{"shell.fray", "at least medium", []any{"medium", "high"}, []any{"low"}, nil},
		{"shell.fray", "at most low", []any{"none", "low"}, []any{"medium"}, nil},
		{"shell.fray", "over low", []any{"medium", "high"}, []any{"low"}, nil},
		{"shell.fray", "under medium", []any{"none", "low"}, []any{"medium"}, nil},
		{"shell.fray", "low to medium", []any{"low", "medium"}, []any{"none", "high"}, nil},
		{"shell.fray", "none or medium to high", []any{"none", "medium", "high"}, []any{"low"}, nil},
		{"shell.fray", "at least seam.fray-held", []any{"medium", "high"}, []any{"low"}, facts{"seam.fray-held": "medium"}},
		{"shell.fray", "over seam.fray-held", []any{"high"}, []any{"medium"}, facts{"seam.fray-held": "medium"}},
		{"shell.fray", "lining.fray", []any{"low"}, []any{"none", "-"}, facts{"lining.fray": "low"}},
		{"shell.fray", "not lining.fray", []any{"none"}, []any{"low", "-"}, facts{"lining.fray": "low"}},
		{"shell.fray", "under lining.fray", nil, []any{"none", "low"}, facts{"lining.fray": "-"}},
		{"seam.curve", "yes", []any{"yes"}, []any{"no", "gentle"}, nil},
		{"shell.wash", "dry-clean or hand", []any{"hand"}, []any{"cool"}, nil},
		// numbers
		{"shell.mass", "80 g/m2", []any{80}, []any{81}, nil},
		{"shell.mass", "over 80 g/m2", []any{80.001, 200}, []any{80, 10, "-"}, nil},
		{"shell.mass", "under 80 g/m2", []any{79.9}, []any{80}, nil},
		{"shell.mass", "at least 80 gsm", []any{80}, []any{79.999}, nil},
		{"shell.mass", "at most 80 g/m2", []any{80, 0}, []any{80.001}, nil},
		{"shell.mass", "80 to 120 g/m2", []any{80, 120}, []any{79, 121}, nil},
		{"shell.mass", "80 g/m2 to 120 g/m2", []any{100}, []any{121}, nil},
		{"shell.mass", "not 80 to 120 g/m2", []any{79, 121}, []any{80, 120}, nil},
		{"shell.mass", "under 3 oz/yd2", []any{101.7}, []any{101.8}, nil},
		{"make-up.shrink-gap", "over 1 cm", []any{10.1}, []any{10}, nil},
		{"piece.hang", "at least 1 m", []any{100}, []any{99}, nil},
		{"shell.shrink-warp", "over 5 %", []any{5.1}, []any{5}, nil},
		{"shell.pressing-limit", "under 150 C", []any{149}, []any{150}, nil},
		{"piece.faces", "2", []any{2}, []any{1}, nil},
		{"piece.faces", "1 or 3", []any{1, 3}, []any{2}, nil},
		{"piece.faces", "not 1 or 3", []any{2}, []any{1, 3}, nil},
		{"piece.faces", "1 to 2 or 5 to 6", []any{1, 2, 5, 6}, []any{3, 7}, nil},
		{"shell.mass", "under lining.mass", []any{99}, []any{100}, facts{"lining.mass": 100}},
		{"shell.mass", "over 1.2 times lining.mass", []any{121}, []any{120, 119}, facts{"lining.mass": 100}},
		{"shell.mass", "lining.mass", []any{100}, []any{99}, facts{"lining.mass": 100}},
		{"shell.mass", "not lining.mass", []any{99}, []any{100}, facts{"lining.mass": 100}},
		{"make-up.stand-off", "over make-up.shrink-gap", []any{2.1}, []any{2}, facts{"make-up.shrink-gap": 20}},
		{"interfacing.heat", "at most shell.pressing-limit", []any{150}, []any{151}, facts{"shell.pressing-limit": 150}},
		// words and ids
		{"piece", "cowl", []any{"cowl"}, []any{"sash", "-"}, nil},
		{"piece", "not cowl", []any{"sash"}, []any{"cowl", "-"}, nil},
		{"piece", "cowl or sash", []any{"cowl", "sash"}, []any{"hooded-wrap"}, nil},
		{"piece", "not cowl or sash", []any{"hooded-wrap"}, []any{"cowl", "sash"}, nil},
		{"shell.cloth", `"chiffon" or 'organza'`, []any{"organza"}, []any{"cotton-lawn"}, nil},
		{"shell.cloth", "lining.cloth", []any{"chiffon"}, []any{"organza"}, facts{"lining.cloth": "chiffon"}},
		{"shell.cloth", "not lining.cloth", []any{"organza"}, []any{"chiffon"}, facts{"lining.cloth": "chiffon"}},
		{"shell.colour", "madder red or blue", []any{"madder red", "blue"}, []any{"green"}, nil},
		{"wearer", "child", []any{"child"}, []any{"adult"}, nil},
		// sets
		{"piece.features", "next to skin", []any{[]string{"hood", "next to skin"}}, []any{[]string{"hood"}, []string{}, "-"}, nil},
		{"piece.features", "hood or cord", []any{[]string{"cord"}}, []any{[]string{"curved edge"}}, nil},
		{"piece.features", "not hood", []any{[]string{}, []string{"cord"}}, []any{[]string{"cord", "hood"}, "-"}, nil},
		{"piece.features", "not hood or next to skin", []any{[]string{"cord"}}, []any{[]string{"hood"}, []string{"next to skin"}}, nil},
		{"shell.fibre", "lining.fibre", []any{[]string{"silk", "wool"}}, []any{[]string{"cotton"}}, facts{"lining.fibre": []string{"wool"}}},
		// flags
		{"finish.lined", "yes", []any{true}, []any{false, "-"}, nil},
		{"finish.lined", "no", []any{false}, []any{true}, nil},
		{"finish.lined", "true", []any{true}, []any{false}, nil},
		{"finish.lined", "not yes", []any{false}, []any{true}, nil},
		{"finish.lined", "piece.stage", []any{true}, []any{false}, facts{"piece.stage": true}},
		// the state itself
		{"shell.fray", "known", []any{"none"}, []any{nil, "-"}, nil},
		{"shell.mass", "unknown", []any{nil}, []any{80, "-"}, nil},
		{"piece", "Known", []any{"cowl"}, []any{nil}, nil},
		// blanks and capitals of the operators
		{"shell.mass", "  At Least   80 g/m2 ", []any{80}, []any{79}, nil},
	} {
		k, sl := s.parse(fact(t, s, c.fact), c.words)
		require.Nil(t, sl, "%s = %q: %+v", c.fact, c.words, sl)
		r := &Rule{Parts: Parts{Conds: []Cond{k}}}
		r.compile(s)
		judge := func(v any) Firing {
			cs := s.NewCase(1)
			for n, w := range c.with {
				set(t, s, cs, n, w)
			}
			set(t, s, cs, c.fact, v)
			return r.Fire(cs)
		}
		for _, v := range c.yes {
			t.Run(fmt.Sprintf("%s=%s/%v", c.fact, c.words, v), func(t *testing.T) {
				f := judge(v)
				require.Equal(t, 1.0, f.Share)
				require.True(t, f.Firm())
			})
		}
		for _, v := range c.no {
			t.Run(fmt.Sprintf("%s=%s/not %v", c.fact, c.words, v), func(t *testing.T) {
				f := judge(v)
				require.Zero(t, f.Share)
				require.Empty(t, f.Open)
			})
		}
		if k.Op != OpKnown && k.Op != OpUnknown {
			t.Run(fmt.Sprintf("%s=%s/open", c.fact, c.words), func(t *testing.T) {
				f := judge(nil)
				if c.with["lining.fray"] == "-" {
					require.Zero(t, f.Share, "the other thing is not there")
					return
				}
				require.Equal(t, 1.0, f.Share)
				require.Equal(t, []string{c.fact}, f.Open)
				require.False(t, f.Firm())
			})
		}
	}
}

func TestPhrasesThatAreWrong(t *testing.T) {
	s := testSchema(t)
	for _, c := range []struct {
		fact, words string
		at          int
		what        string
		expected    string
		mend        string
	}{
		{"shell.fray", "at least medum", 9, `"medum" is not on the scale of fray`, "none, low, medium, high", `did you mean "medium"?`},
		{"shell.fray", "low or hihg", 7, `"hihg" is not on the scale of fray`, "none, low, medium, high", `did you mean "high"?`},
		{"shell.fray", "over high", 5, `can never fire: nothing on the scale of fray is over high`, "none, low, medium, high", ""},
		{"shell.fray", "not none to high", 4, `can never fire: nothing is left on the scale of fray`, "none, low, medium, high", ""},
		{"shell.fray", "high to low", 0, `"high to low" runs downwards`, "low to high", ""},
		{"shell.fray", "at least low or high", 13, `"at least" takes one level, not a choice`, "at least X", ""},
		{"shell.fray", "at least low to high", 13, `"at least" takes one level, not a range`, "at least X, or X to Y", ""},
		{"shell.fray", "at least shell.wash", 9, `fray and shell.wash are on different scales`, "none, low, medium, high", ""},
		{"shell.fray", "at least shell.mass", 9, `fray is compared with shell.mass, which is a number`, "a fact that is a level too", ""},
		{"shell.fray", "at least lining.frey", 9, `unknown fact "lining.frey"`, "a fact of lining, one of bending-length, cloth, colour, fibre, fray, mass …",
			"did you mean \"lining.fray\"? `tenter rule facts` lists them all"},
		{"shell.fray", "shell.fray", 0, `fray is compared with itself`, "another fact", ""},
		{"shell.fray", "1.2 times lining.fray", 0, "fray is no figure, so nothing is so many times it", forms, ""},
		{"shell.fray", "", 0, "nothing is asked of fray", forms, ""},
		{"shell.mass", "80", 0, `mass is compared with "80", which has no unit`, `"80 g/m2"`, ""},
		{"shell.mass", "over 80", 5, `mass is compared with "80", which has no unit`, `"80 g/m2"`, ""},
		{"shell.mass", "3 cm", 0, `mass is compared with "3 cm"`, "mass is in g/m2", ""},
		{"shell.mass", "over 3 cm", 5, `mass is compared with "3 cm"`, "mass is in g/m2", ""},
		{"shell.mass", "120 to 80 g/m2", 0, `"120 to 80 g/m2" runs downwards`, "mass is in g/m2", "write the smaller figure first"},
		{"shell.mass", "over shell.thickness", 5, `mass is compared with shell.thickness, which is in mm`, "mass is in g/m2", ""},
		{"shell.mass", "over 1.2 times shell.mas", 15, `unknown fact "shell.mas"`, "a fact of shell, one of bending-length, cloth, colour, fibre, fray, mass …",
			"did you mean \"shell.mass\"? `tenter rule facts` lists them all"},
		{"shell.mass", "over lots times shell.mass", 5, `"lots" is not a number of times`, `"over 1.2 times shell.mass"`, ""},
		{"shell.mass", "more than 80 g/m2", 0, `"more than" is not one of the words for a condition`, forms, `"over 80 g/m2"`},
		{"shell.mass", "below 80 g/m2", 0, `"below" is not one of the words for a condition`, forms, `"under 80 g/m2"`},
		{"shell.mass", "over 8O g/m2", 5, `"8O g/m2" has an unknown unit, "o"`, "mass is in g/m2", "a letter stands where a figure was meant"},
		{"shell.mass", "heavy", 0, `"heavy" does not begin with a number`, "mass is in g/m2", ""},
		{"piece.faces", "2 cm", 0, `faces is compared with "2 cm"`, "faces is a plain number", ""},
		{"piece", "at least cowl", 0, `piece has no order, so nothing is "at least" it`, "X, not X or X or Y", ""},
		{"piece", "cowll", 0, `there is no piece "cowll"`, "the id of a piece", `did you mean "cowl"?`},
		{"piece", "cowl to sash", 0, `piece has no order, so there is no "cowl to sash"`, "X, not X or X or Y", `did you mean "cowl" or "sash"?`},
		{"piece", "cowl or", 0, `there is no piece "cowl or"`, "the id of a piece", `did you mean "cowl"?`},
		{"piece.group", "wrap, cape, cowl", 0, `"wrap, cape, cowl" is not a word of group`, "wrap, cape, cowl", `a choice is written "wrap or cape or cowl"`},
		{"piece.features", "next to skim", 0, `features has no order, so there is no "next to skim"`, "X, not X or X or Y", `did you mean "next to skin"?`},
		{"finish.lined", "maybe", 0, `lined is compared with "maybe"`, "yes or no", ""},
		{"finish.lined", "yes or no", 0, "", "", ""},
		{"shell.mass", "not known", 0, `"not known" is not one of the words for a condition`, forms, `"unknown"`},
	} {
		t.Run(c.fact+"="+c.words, func(t *testing.T) {
			_, sl := s.parse(fact(t, s, c.fact), c.words)
			if c.what == "" {
				require.Nil(t, sl)
				return
			}
			require.NotNil(t, sl)
			require.Equal(t, c.what, sl.what)
			require.Equal(t, c.expected, sl.expected)
			require.Equal(t, c.mend, sl.mend)
			require.Equal(t, c.at, sl.at)
		})
	}
}

// A fact that there is not is told with those that there are: of its group where the
// group is right, with the group where the fact is.
func TestFactsThatThereAreNot(t *testing.T) {
	for fact, want := range map[string][]string{
		"shell.fary":     {`unknown fact "shell.fary"`, `did you mean "shell.fray"?`, "a fact of shell, one of bending-length, cloth, colour, fibre, fray, mass …"},
		"seam.layer":     {`did you mean "seam.layers"?`, "a fact of seam, one of curve, fray-held, layers, sheer"},
		"shel.mass":      {`did you mean "shell.mass"?`, "a fact of "},
		"shell.zzzzzzzz": {"`tenter rule facts` lists them all", "a fact of shell, one of "},
	} {
		_, err := load(t, File{Name: "a.toml", Data: []byte(about("one", "caution", "when."+fact+` = "low"`))})
		require.Error(t, err, fact)
		for _, w := range want {
			require.ErrorContains(t, err, w, fact)
		}
	}
}
