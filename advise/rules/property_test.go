package rules

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// wish is a condition as a person would think of it, judged member by member
// and without any of the package's own comparing.
type wish struct {
	fact, words string
	holds       func(m member) (holds, known bool)
}

// member is one cloth of the population: a value for each fact, nil when it is
// not known.
type member map[string]any

var massSteps = []float64{50, 80, 100, 120, 150}

// draw makes a wish about one of a few facts.
func draw(r *rand.Rand) wish {
	pick := func(l []string) string { return l[r.IntN(len(l))] }
	on := func(f string, words string, holds func(v any) bool) wish {
		return wish{f, words, func(m member) (bool, bool) {
			if m[f] == nil {
				return false, false
			}
			return holds(m[f]), true
		}}
	}
	both := func(f, g, words string, holds func(v, w float64) bool) wish {
		return wish{f, words, func(m member) (bool, bool) {
			if m[f] == nil || m[g] == nil {
				return false, false
			}
			return holds(m[f].(float64), m[g].(float64)), true
		}}
	}
	relations := []struct {
		words string
		holds func(v, w float64) bool
	}{{"at least", func(v, w float64) bool { return v >= w }}, {"at most", func(v, w float64) bool { return v <= w }},
		{"over", func(v, w float64) bool { return v > w }}, {"under", func(v, w float64) bool { return v < w }}}
	rel := relations[r.IntN(4)]
	switch r.IntN(9) {
	case 0:
		f := pick([]string{"shell.fray", "lining.fray", "seam.fray-held"})
		i := r.IntN(4)
		if rel.words == "over" && i == 3 || rel.words == "under" && i == 0 {
			i = 1
		}
		return on(f, rel.words+" "+frays[i], func(v any) bool { return rel.holds(v.(float64), float64(i)) })
	case 1:
		f := pick([]string{"shell.fray", "lining.fray"})
		a, b := r.IntN(4), r.IntN(4)
		return on(f, frays[a]+" or "+frays[b], func(v any) bool { return v == float64(a) || v == float64(b) })
	case 2:
		f := pick([]string{"shell.mass", "lining.mass"})
		x := massSteps[r.IntN(len(massSteps))]
		return on(f, fmt.Sprintf("%s %v g/m2", rel.words, x), func(v any) bool { return rel.holds(v.(float64), x) })
	case 3:
		f := pick([]string{"shell.mass", "lining.mass"})
		a, b := massSteps[r.IntN(2)], massSteps[2+r.IntN(3)]
		not := r.IntN(2) == 0
		words := fmt.Sprintf("%v to %v g/m2", a, b)
		if not {
			words = "not " + words
		}
		return on(f, words, func(v any) bool { return (v.(float64) >= a && v.(float64) <= b) != not })
	case 4:
		if r.IntN(2) == 0 {
			return both("shell.mass", "lining.mass", rel.words+" lining.mass", rel.holds)
		}
		return both("lining.mass", "shell.mass", rel.words+" shell.mass", rel.holds)
	case 5:
		if r.IntN(2) == 0 {
			return both("shell.fray", "seam.fray-held", rel.words+" seam.fray-held", rel.holds)
		}
		return both("seam.fray-held", "shell.fray", rel.words+" shell.fray", rel.holds)
	case 6:
		w, not := testIds["piece"][r.IntN(3)], r.IntN(2) == 0
		words := w
		if not {
			words = "not " + w
		}
		return on("piece", words, func(v any) bool { return (v == w) != not })
	case 7:
		a, b := "hood", "cord"
		not := r.IntN(2) == 0
		words := a + " or " + b
		if not {
			words = "not " + words
		}
		return on("piece.features", words, func(v any) bool {
			return (slices.Contains(v.([]string), a) || slices.Contains(v.([]string), b)) != not
		})
	}
	f := pick([]string{"shell.mass", "shell.fray", "piece"})
	if r.IntN(2) == 0 {
		return wish{f, "known", func(m member) (bool, bool) { return m[f] != nil, true }}
	}
	return wish{f, "unknown", func(m member) (bool, bool) { return m[f] == nil, true }}
}

// people draws a population: some facts unknown, some the same for all members,
// some different.
func people(t testing.TB, r *rand.Rand, s *Schema, n int) (*Case, []member) {
	c, ms := s.NewCase(n), make([]member, n)
	for i := range ms {
		ms[i] = member{}
	}
	for _, f := range []string{"shell.mass", "lining.mass", "shell.fray", "lining.fray", "seam.fray-held"} {
		num := make([]float64, n)
		one := func() float64 {
			if strings.HasSuffix(f, "mass") {
				return float64(5 * (5 + r.IntN(30)))
			}
			return float64(r.IntN(4))
		}
		switch r.IntN(4) {
		case 0:
			continue
		case 1:
			num = []float64{one()}
		default:
			for i := range num {
				num[i] = one()
			}
		}
		set(t, s, c, f, num)
		for i := range ms {
			ms[i][f] = num[i%len(num)]
		}
	}
	if r.IntN(3) > 0 {
		p := testIds["piece"][r.IntN(3)]
		set(t, s, c, "piece", p)
		for i := range ms {
			ms[i]["piece"] = p
		}
	}
	if r.IntN(3) > 0 {
		var l []string
		for _, w := range []string{"hood", "cord", "curved edge"} {
			if r.IntN(2) == 0 {
				l = append(l, w)
			}
		}
		if l == nil {
			l = []string{}
		}
		set(t, s, c, "piece.features", l)
		for i := range ms {
			ms[i]["piece.features"] = l
		}
	}
	return c, ms
}

// wishes draws a rule of a few conditions.
func wishes(t testing.TB, r *rand.Rand, s *Schema, id string) (*Rule, []wish) {
	var l []wish
	var when []string
	for range 1 + r.IntN(4) {
		w := draw(r)
		l = append(l, w)
		when = append(when, w.fact, w.words)
	}
	return rule(t, s, id, when...), l
}

// naive judges a rule member by member.
func naive(l []wish, ms []member) (share float64, open bool) {
	n := 0
	for _, m := range ms {
		all := true
		for _, w := range l {
			holds, known := w.holds(m)
			if !known {
				open = true
			} else if !holds {
				all = false
			}
		}
		if all {
			n++
		}
	}
	if n == 0 {
		return 0, false
	}
	return float64(n) / float64(len(ms)), open
}

func TestFiringAgreesWithJudgingEveryMember(t *testing.T) {
	s := testSchema(t)
	r := rand.New(rand.NewPCG(1, 1))
	spoke := 0
	for range 4000 {
		n := 1 + r.IntN(200)
		c, ms := people(t, r, s, n)
		x, l := wishes(t, r, s, "r")
		share, open := naive(l, ms)
		f := x.Fire(c)
		require.InDelta(t, share, f.Share, 1e-12, "%v", x.When())
		require.Equal(t, open, len(f.Open) > 0, "%v", x.When())
		if f.Share > 0 && f.Share < 1 {
			spoke++
		}
		for i, h := range x.Held(c) { // and so does each condition by itself
			share, open := naive(l[i:i+1], ms)
			require.Equal(t, x.When()[i], h.When)
			require.InDelta(t, share, h.Share, 1e-12)
			require.Equal(t, open, h.Open)
			require.GreaterOrEqual(t, h.Share, f.Share)
		}
	}
	require.Greater(t, spoke, 400, "enough of them were neither yes nor no")
}

func TestOrderOfConditionsIsNothing(t *testing.T) {
	s := testSchema(t)
	r := rand.New(rand.NewPCG(2, 2))
	for range 1000 {
		c, _ := people(t, r, s, 65)
		x, l := wishes(t, r, s, "r")
		var back []string
		for _, w := range slices.Backward(l) {
			back = append(back, w.fact, w.words)
		}
		y := rule(t, s, "r", back...)
		a, b := x.Fire(c), y.Fire(c)
		require.Equal(t, a.Share, b.Share)
		require.ElementsMatch(t, a.Open, b.Open)
	}
}

// Learning a fact never makes a rule speak louder, and settles what it was open
// about.
func TestLearningAFactNarrows(t *testing.T) {
	s := testSchema(t)
	r := rand.New(rand.NewPCG(3, 3))
	for range 2000 {
		c, _ := people(t, r, s, 64)
		x, l := wishes(t, r, s, "r")
		if slices.ContainsFunc(l, func(w wish) bool { return w.words == "known" || w.words == "unknown" }) {
			continue // these ask about knowing itself
		}
		before := x.Fire(c)
		for _, name := range before.Open {
			d := c.With()
			if strings.HasSuffix(name, "mass") || strings.Contains(name, "fray") {
				set(t, s, d, name, float64(r.IntN(4)))
			} else if name == "piece" {
				set(t, s, d, name, "cowl")
			} else {
				set(t, s, d, name, []string{"hood"})
			}
			after := x.Fire(d)
			require.LessOrEqual(t, after.Share, before.Share)
			require.NotContains(t, after.Open, name)
			require.Subset(t, before.Open, after.Open)
		}
	}
}

// Narrowing a population to some of its members turns no certainty about.
func TestNarrowingThePopulationKeepsCertainties(t *testing.T) {
	s := testSchema(t)
	r := rand.New(rand.NewPCG(4, 4))
	for range 2000 {
		c, _ := people(t, r, s, 60)
		d := s.NewCase(20)
		for i, col := range c.columns {
			d.columns[i] = col
			if len(col.Num) == 60 {
				d.columns[i].Num = col.Num[20:40]
			}
		}
		x, _ := wishes(t, r, s, "r")
		a, b := x.Fire(c), x.Fire(d)
		if a.Share == 0 || a.Share == 1 {
			require.Equal(t, a.Share, b.Share)
		}
		require.InDelta(t, a.Share, b.Share, 1, "a share is a share")
	}
}

// A new rule changes nothing about the others.
func TestAddingARuleChangesNoOther(t *testing.T) {
	s := testSchema(t)
	r := rand.New(rand.NewPCG(5, 5))
	block := func(id string) string {
		var b strings.Builder
		fmt.Fprintf(&b, "[[rule]]\nid = %q\neffect = \"caution\"\nsay = \"Mind.\"\nbecause = \"So.\"\nbasis = \"practice\"\nsources = [\"practice\"]\nfires = [\"x\"]\nquiet = [\"x\"]\n", id)
		seen := map[string]bool{}
		for range 1 + r.IntN(3) {
			if w := draw(r); !seen[w.fact] {
				seen[w.fact] = true
				fmt.Fprintf(&b, "when.%q = %q\n", w.fact, w.words)
			}
		}
		return b.String()
	}
	for range 200 {
		var blocks []string
		for i := range 5 {
			blocks = append(blocks, block("r"+strconv.Itoa(i)))
		}
		few, _, _ := Load(s, File{Name: "a", Data: []byte(strings.Join(blocks, ""))})
		at := r.IntN(6)
		all := slices.Insert(slices.Clone(blocks), at, block("new"))
		many, _, _ := Load(s, File{Name: "a", Data: []byte(strings.Join(all, ""))})
		c, _ := people(t, r, s, 64)
		got := map[string]Firing{}
		for _, f := range speaking(nil, many, c) {
			got[f.Rule.ID] = f
		}
		delete(got, "new")
		want := speaking(nil, few, c)
		require.Len(t, got, len(want))
		for _, f := range want {
			require.Equal(t, f.Share, got[f.Rule.ID].Share)
			require.Equal(t, f.Open, got[f.Rule.ID].Open)
		}
	}
}

// What validation claims to have proved is never refuted by a population.
func TestWhatValidationProvesHolds(t *testing.T) {
	s := testSchema(t)
	r := rand.New(rand.NewPCG(6, 6))
	never, covered, both, scratch := 0, 0, 0, s.NewCase(1)
	for range 20000 {
		x, _ := wishes(t, r, s, "x")
		y, _ := wishes(t, r, s, "y")
		impossible, covers := s.neverFires(x, scratch) != nil, s.covers(x, y)
		if impossible {
			never++
		}
		if covers {
			covered++
		}
		if !impossible && !covers {
			continue
		}
		for range 5 {
			c, _ := people(t, r, s, 8)
			if impossible {
				if f := x.Fire(c); len(f.Open) == 0 {
					require.Zero(t, f.Share, "%v", x.When())
				}
			}
			if covers {
				fx, fy := x.Fire(c), y.Fire(c)
				if fy.Firm() {
					both++
					require.GreaterOrEqual(t, fx.Share, fy.Share, "%v covers %v", x.When(), y.When())
				}
			}
		}
	}
	require.Greater(t, never, 200)
	require.Greater(t, covered, 200)
	require.Greater(t, both, 50)
}
