package rules

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// rule compiles conditions, given as fact and words in turn.
func rule(t testing.TB, s *Schema, id string, when ...string) *Rule {
	t.Helper()
	r := &Rule{ID: id}
	for i := 0; i < len(when); i += 2 {
		k, sl := s.parse(fact(t, s, when[i]), when[i+1])
		require.Nil(t, sl, "%s = %s", when[i], when[i+1])
		r.Parts.Conds = append(r.Parts.Conds, k)
		r.Parts.When = append(r.Parts.When, When{Fact: when[i], Words: when[i+1]})
		r.Parts.Lines = append(r.Parts.Lines, i/2+1)
	}
	r.compile(s)
	return r
}

func TestShareIsThePartOfThePopulation(t *testing.T) {
	s := testSchema(t)
	c := s.NewCase(4)
	set(t, s, c, "shell.mass", []float64{50, 100, 150, 200})
	set(t, s, c, "shell.fray", []float64{0, 3, 3, 1})
	set(t, s, c, "lining.mass", []float64{60, 60, 160, 160})
	set(t, s, c, "piece", "cowl")
	for _, x := range []struct {
		want float64
		when []string
	}{
		{0.75, []string{"shell.mass", "over 50 g/m2"}},
		{0.25, []string{"shell.mass", "not 100 to 200 g/m2"}},
		{0.5, []string{"shell.fray", "high"}},
		{0.25, []string{"shell.fray", "high", "shell.mass", "over 100 g/m2"}},
		{0, []string{"shell.fray", "none", "shell.mass", "over 50 g/m2"}},
		{0.5, []string{"shell.mass", "over lining.mass"}},
		{0.25, []string{"shell.mass", "over lining.mass", "shell.fray", "low"}},
		{0.25, []string{"shell.mass", "50 g/m2 or 300 to 400 g/m2", "piece", "cowl"}},
		{0, []string{"shell.mass", "over 50 g/m2", "piece", "sash"}},
		{1, []string{"shell.mass", "known"}},
	} {
		f := rule(t, s, "r", x.when...).Fire(c)
		require.Equal(t, x.want, f.Share, "%v", x.when)
		require.Empty(t, f.Open)
		held, n := c.NewMembers(), 0
		require.Equal(t, f, rule(t, s, "r", x.when...).Hold(c, held), "%v", x.when)
		for i := range c.N {
			if held.Has(i) {
				n++
			}
		}
		require.Equal(t, x.want, float64(n)/4, "%v: the members it holds for", x.when)
	}
}

// The members that are handed out are those for which the conditions hold, each by
// its number, also beyond the first word of 64.
func TestHoldNamesTheMembers(t *testing.T) {
	s := testSchema(t)
	c := s.NewCase(100)
	mass := make([]float64, 100)
	for i := range mass {
		mass[i] = float64(i + 1)
	}
	set(t, s, c, "shell.mass", mass)
	held := c.NewMembers()
	for i := range held {
		held[i] = ^uint64(0) // what was in it before does not count
	}
	rule(t, s, "r", "shell.mass", "over 60 g/m2", "shell.mass", "under 90 g/m2").Hold(c, held)
	for i := range c.N {
		require.Equal(t, mass[i] > 60 && mass[i] < 90, held.Has(i), "member %d", i)
	}
	require.Zero(t, held[1]>>36, "no member beyond the last")
	rule(t, s, "r", "shell.mass", "over 1000 g/m2").Hold(c, held)
	require.Equal(t, Members{0, 0}, held)
	rule(t, s, "r", "shell.mass", "known").Hold(c, held)
	require.Equal(t, Members{^uint64(0), 1<<36 - 1}, held)
}

func TestUnknownFactsLeaveARuleOpen(t *testing.T) {
	s := testSchema(t)
	c := s.NewCase(2)
	set(t, s, c, "shell.mass", []float64{50, 150})
	set(t, s, c, "piece", "cowl")
	f := rule(t, s, "r", "shell.fray", "high", "shell.mass", "over 100 g/m2", "lining.mass", "under shell.mass", "lining.fray", "under shell.fray").Fire(c)
	require.Equal(t, 0.5, f.Share, "the share of what is known")
	require.ElementsMatch(t, []string{"shell.fray", "lining.mass", "lining.fray"}, f.Open, "each once")
	require.False(t, f.Firm())
	f = rule(t, s, "r", "shell.fray", "high", "piece", "sash").Fire(c)
	require.Zero(t, f.Share)
	require.Empty(t, f.Open, "what is surely false is not decided by what is unknown")
	f = rule(t, s, "r", "shell.fray", "high", "shell.mass", "over 200 g/m2").Fire(c)
	require.Zero(t, f.Share)
	require.Empty(t, f.Open)
}

func TestAbsentThingsAreNotUnknown(t *testing.T) {
	s := testSchema(t)
	c := s.NewCase(1)
	c.SetAbsent(s.Group("lining")...)
	for _, words := range []string{"known", "unknown", "high", "not high", "at least shell.fray"} {
		f := rule(t, s, "r", "lining.fray", words).Fire(c)
		require.Zero(t, f.Share, words)
		require.Empty(t, f.Open, words)
	}
	require.Zero(t, rule(t, s, "r", "shell.fray", "at least lining.fray").Fire(c).Share)
	c.Forget(s.Group("lining")...)
	require.Equal(t, 1.0, rule(t, s, "r", "lining.fray", "unknown").Fire(c).Share)
}

func TestSettersKeepACaseSound(t *testing.T) {
	s := testSchema(t)
	c := s.NewCase(4)
	mass, fray, piece := fact(t, s, "shell.mass"), fact(t, s, "shell.fray"), fact(t, s, "piece")
	c.SetNumber(mass, 1, 2, 3)
	require.Equal(t, Unknown, c.Column(mass).State, "neither one value nor one for each")
	c.SetNumber(mass)
	require.Equal(t, Unknown, c.Column(mass).State)
	c.SetLevel(fray, -1)
	require.Equal(t, Unknown, c.Column(fray).State)
	c.SetLevel(fray, 99)
	require.Equal(t, Unknown, c.Column(fray).State)
	c.SetWord(piece, "")
	require.Equal(t, Unknown, c.Column(piece).State)
	for _, off := range [][]float64{{99}, {4, 3, 64, 1e9}} {
		c.SetNumber(fray, off...)
		require.Equal(t, 1.0, rule(t, s, "r", "shell.fray", "high").Fire(c).Share, "off the scale is its end")
		require.Equal(t, 1.0, rule(t, s, "r", "shell.fray", "none or high").Fire(c).Share)
		require.Zero(t, rule(t, s, "r", "shell.fray", "under high").Fire(c).Share)
	}
	c.SetNumber(fray, -1, 0, 3, 4)
	require.Equal(t, 0.5, rule(t, s, "r", "shell.fray", "none").Fire(c).Share)
	require.Equal(t, 0.5, rule(t, s, "r", "shell.fray", "over none").Fire(c).Share)
	require.Equal(t, 1.0, rule(t, s, "r", "shell.fray", "none or high").Fire(c).Share)
}

func TestCandidatesAreJudgedBySwappingTheirFacts(t *testing.T) {
	s := testSchema(t)
	c := s.NewCase(1)
	set(t, s, c, "shell.fray", "high")
	r := rule(t, s, "r", "seam.fray-held", "at least shell.fray")
	seam := s.Group("seam")
	french, plain := s.NewCase(1), s.NewCase(1)
	set(t, s, french, "seam.fray-held", "high")
	set(t, s, plain, "seam.fray-held", "low")
	patches := []Patch{french.Cut(seam...), plain.Cut(seam...)}
	w := c.With()
	w.Lay(patches[0])
	require.Equal(t, 1.0, r.Fire(w).Share)
	w.Lay(patches[1])
	require.Zero(t, r.Fire(w).Share)
	require.Equal(t, []string{"seam.fray-held"}, r.Fire(c).Open, "the case itself is as it was")
}

// speaking are the firings of the rules that speak, firmly or not, in their order.
func speaking(dst []Firing, rules []*Rule, c *Case) []Firing {
	for _, r := range rules {
		if f := r.Fire(c); f.Share > 0 {
			dst = append(dst, f)
		}
	}
	return dst
}

// Many members use more marks than stand on the stack.
func TestALargePopulation(t *testing.T) {
	s := testSchema(t)
	const n = 5000
	c := s.NewCase(n)
	mass, fray := make([]float64, n), make([]float64, n)
	for i := range n {
		mass[i], fray[i] = float64(i), float64(i%4)
	}
	set(t, s, c, "shell.mass", mass)
	set(t, s, c, "shell.fray", fray)
	require.Equal(t, 0.25, rule(t, s, "r", "shell.mass", "at least 0 g/m2", "shell.fray", "high").Fire(c).Share)
	require.Equal(t, 0.1, rule(t, s, "r", "shell.mass", "under 1000 g/m2", "shell.fray", "low to medium").Fire(c).Share)
}

func TestQuietRulesAllocateNothing(t *testing.T) {
	s := testSchema(t)
	c := s.NewCase(256)
	mass := make([]float64, 256)
	for i := range mass {
		mass[i] = float64(i)
	}
	set(t, s, c, "shell.mass", mass)
	set(t, s, c, "piece", "cowl")
	set(t, s, c, "lining.mass", 300)
	for name, r := range map[string]*Rule{
		"false at once":    rule(t, s, "r", "piece", "sash", "shell.mass", "over 10 g/m2"),
		"false at the end": rule(t, s, "r", "piece", "cowl", "shell.mass", "over 10 g/m2", "shell.mass", "under 5 g/m2"),
		"two facts":        rule(t, s, "r", "shell.mass", "over lining.mass"),
		"speaks":           rule(t, s, "r", "shell.mass", "under lining.mass"),
		"open by one":      rule(t, s, "r", "shell.fray", "high"),
	} {
		require.Zero(t, testing.AllocsPerRun(100, func() { r.Fire(c) }), name)
	}
}
