package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/rules"
	"tenter/fibres"
)

// Without a piece there is no advice; without a finish the usual one is taken, and said.
func TestWhatAdviceNeeds(t *testing.T) {
	a := adviser(t)
	_, err := a.Advise(makeUp(t, "shell denim"), 0)
	require.ErrorContains(t, err, "no piece is named")
	ans, err := a.Advise(makeUp(t, "cowl, shell viscose-twill"), 1)
	require.NoError(t, err)
	require.NotEmpty(t, ans.MakeUp.Finish)
	require.Contains(t, ans.Notes[0], "No finish is named: the usual one is taken, ")
}

// How each cloth is washed before it is cut. Source: common practice. Wool that felts is not
// washed twice, whatever it shrinks; what is never washed is steamed.
func TestWashingBeforeCutting(t *testing.T) {
	a := adviser(t)
	for _, x := range []struct {
		shell  string
		washed bool
		method string
		times  int
		says   string
	}{
		{"wash warm, shell shrink-warp 2-5 %, shell shrink-weft 1-2 %", true, "warm", 1, "Wash and dry it once as the piece will be washed, warm at most. Expect 2–5 % along the warp, 1–2 % along the weft."},
		{"wash warm, shell shrink-warp 2-6 %, shell shrink-weft 1-2 %", true, "warm", 2, "Wash and dry it twice"},
		{"wash hand, shell shrink-warp 2-6 %, shell shrink-weft 1-2 %", true, "hand", 0, "Wash it by hand in cool water, dry it flat, press it half dry. Expect 2–6 %"},
		{"wash dry-clean, shell shrink-warp 2-6 %, shell shrink-weft 1-2 %", true, "steam", 0, "Do not wash it: shrink it with steam or a damp cloth, flat and untouched until dry."},
		{"wash warm, shell shrink-warp 2-6 %, shell shrink-weft 1-2 %", false, "steam", 0, "It will not be washed: steam it over once, so that pressing does not shrink it later."},
		{"mass 100 g/m2", true, "test first", 0, "Nobody has recorded how it washes: wash a swatch first."},
	} {
		m := makeUp(t, "shell "+x.shell)
		w := a.preWash("shell", m.Shell, x.washed)
		require.Equal(t, x.method, w.Method, x.shell)
		require.Equal(t, x.times, w.Times, x.shell)
		require.Contains(t, w.Say, x.says)
	}
	w := a.preWash("shell", makeUp(t, "shell viscose-jersey").Shell, true)
	require.Contains(t, w.Say, "along the length", "a knit has no warp")
	require.Contains(t, w.Say, "across the width")
	waxed := a.preWash("shell", makeUp(t, "shell waxed-cotton").Shell, true)
	require.Equal(t, "leave", waxed.Method)
	require.Contains(t, waxed.Say, "Do not wash or steam it")
	felting := makeUp(t, "shell wool-flannel, shell wash warm, shell shrink-warp 2-8 %, shell shrink-weft 2-8 %").Shell
	require.Equal(t, 1, a.preWash("shell", felting, true).Times, "each wash felts wool further")
}

// On which side most of those lie that miss a demand, in a maker's words.
func TestSidesOfAFailing(t *testing.T) {
	column := func(low, high int) []float64 {
		v := make([]float64, fibres.N)
		for i := range v {
			switch {
			case i < low:
				v[i] = 10
			case i < low+high:
				v[i] = 90
			default:
				v[i] = 50
			}
		}
		return v
	}
	for _, x := range []struct {
		id, fact  string
		low, high int
		want      string
	}{
		{"mass", "make-up.mass", 100, 20, "too light"}, {"mass", "make-up.mass", 20, 100, "too heavy"}, {"mass", "make-up.mass", 50, 50, "too heavy"},
		{"fall", "make-up.stand-off", 100, 20, "too limp"}, {"body", "outer.bending-length", 20, 100, "too stiff"},
		{"odd", "make-up.none", 100, 0, "too little odd"}, {"odd", "make-up.none", 0, 100, "too much odd"}, {"support", "make-up.mass-ratio", 0, 100, "the lining is too heavy"},
	} {
		d := &Demand{ID: x.id, Fact: x.fact, Ideal: Bounds{20, 80}}
		require.Equal(t, x.want, (&asked{demand: d, column: column(x.low, x.high)}).failing(), "%+v", x)
	}
	mass := func(k asked) *asked {
		k.demand = &Demand{ID: "mass", Fact: "make-up.mass", Ideal: Bounds{20, 80}}
		return &k
	}
	require.Equal(t, "too heavy", mass(asked{column: column(0, 0), upper: column(0, 256), allow: 1}).failing(), "the upper end is asked of both layers")
	require.Equal(t, "too light", mass(asked{column: column(20, 0), upper: column(0, 256), allow: 1.35}).failing(), "90 is no more than 1.35 times 80")
	first := rules.Members{1<<60 - 1, 0, 0, 0} // sixty members
	require.Equal(t, "too light", mass(asked{column: column(50, 206), of: first}).failing(), "those whom it does not concern do not count")
}

// A make-up that does not hang free and is too heavy is told as bulk, also where as many
// are too light: the matter and the words are of one side.
func TestTooHeavyIsToldAsBulk(t *testing.T) {
	column := make([]float64, fibres.N)
	for i := range column {
		column[i] = []float64{10, 90}[i%2]
	}
	d := &Demand{ID: "mass", Fact: "make-up.mass", Matter: "weight", about: weightMatter, Ideal: Bounds{20, 80}}
	for hangs, matter := range map[bool]string{false: "bulk", true: "weight"} {
		j := &judged{asked: []asked{{demand: d, known: true, share: 0.2, cost: 0.8, column: column, hangs: hangs}}}
		r := adviser(t).demandReasons(j)[0].reason
		require.Equal(t, "Too heavy.", r.Because)
		require.Equal(t, matter, r.Matter)
	}
}

// A candidate is told by its ban, else by the worst of what it misses, where that is worth
// telling.
func TestACandidateInAPhrase(t *testing.T) {
	d := func(id string) *Demand { return &Demand{ID: id, Fact: "make-up." + id, Ideal: Bounds{20, 80}} }
	heavy := make([]float64, fibres.N)
	for i := range heavy {
		heavy[i] = 90
	}
	at := func(share float64) asked { return asked{demand: d("mass"), known: true, share: share, column: heavy} }
	require.Equal(t, "about 9 in 10 would do", short(&judged{known: true, share: 0.9, asked: []asked{at(0.9)}}))
	require.Equal(t, "about 9 in 10 would do; too heavy", short(&judged{known: true, share: 0.9, asked: []asked{at(0.95), at(0.89)}}))
	require.Equal(t, "make no sail of it", short(&judged{forbid: []rules.Firing{{Rule: &rules.Rule{Say: "Make no sail of it."}}}}))
	require.Equal(t, "not judged, for nothing that is asked is known of it", short(&judged{asked: []asked{{demand: d("mass")}}}))
}

// What makers take moves to the front what nothing speaks against, and what they do not take
// only will do; where they pick among enough, what no rule speaks for is left out.
func TestWhatMakersTakeMovesChoices(t *testing.T) {
	picks := map[string]float64{"a": 1, "b": 0.4}
	for _, x := range []struct {
		s      scored
		effect string
		v      float64
	}{
		{scored{Choice{ID: "a", Effect: WillDo}, 0}, "for", 2},
		{scored{Choice{ID: "b", Effect: WillDo}, 0}, WillDo, 0.8},
		{scored{Choice{ID: "c", Effect: "for"}, 1}, "for", 1},
		{scored{Choice{ID: "a", Effect: NotFor}, -1}, NotFor, -1},
		{scored{Choice{ID: "a", Effect: "forbids"}, -10}, "forbids", -10},
		{scored{Choice{ID: "a", Effect: WillDo, other: true}, 0}, WillDo, 2},
		{scored{Choice{ID: "b", Effect: WillDo, other: true}, 0}, NotFor, 0.8},
	} {
		x.s.take(picks)
		require.Equal(t, x.effect, x.s.Effect, "%+v", x)
		require.InDelta(t, x.v, x.s.v, 1e-9, "%+v", x)
	}
	s := scored{Choice{ID: "c", Effect: WillDo}, 0}
	s.take(nil)
	require.Equal(t, WillDo, s.Effect, "where nobody says what makers take")
}

// Where enough is recommended, what no rule speaks for and nobody takes is left out.
func TestWhatIsLeftOutBesideEnough(t *testing.T) {
	picks := map[string]float64{"a": 1, "b": 0.4}
	effects := func(recommended int) (out []string, say string) {
		list := []scored{{Choice{ID: "c", Effect: WillDo}, 0}, {Choice{ID: "a", Effect: WillDo}, 0}, {Choice{ID: "b", Effect: WillDo}, -1}, {Choice{ID: "d", Effect: WillDo}, 0.1}, {Choice{ID: "f", Effect: "forbids"}, 0}}
		for range recommended {
			list = append(list, scored{Choice{ID: "e", Effect: "for"}, 0})
		}
		leaveOut(list, picks)
		for _, s := range list[:5] {
			out = append(out, s.Effect)
		}
		return out, list[0].Say
	}
	for recommended, want := range map[int][]string{0: {WillDo, WillDo, WillDo, WillDo, "forbids"}, 1: {WillDo, WillDo, WillDo, WillDo, "forbids"}, 2: {NotFor, WillDo, WillDo, WillDo, "forbids"}, 3: {NotFor, WillDo, WillDo, WillDo, "forbids"}} {
		got, say := effects(recommended)
		require.Equal(t, want, got, "%d", recommended)
		require.Equal(t, recommended >= 2, say == othersUsual, "%d", recommended)
	}
}

// A seam, edge or interfacing as the rules weigh it that speak of it: what a ban says is told
// before what speaks against it, and that before what recommends it.
func TestHowRulesWeighAChoice(t *testing.T) {
	fires := func(effect rules.Effect, harm int, share float64, say string) rules.Firing {
		return rules.Firing{Rule: &rules.Rule{Effect: effect, Harm: harm, Say: say}, Share: share}
	}
	for name, x := range map[string]struct {
		spoken []rules.Firing
		effect string
		say    string
		v      float64
		other  bool
	}{
		"nothing":                 {nil, WillDo, "own", 0, false},
		"for":                     {[]rules.Firing{fires(rules.For, 1, 0.5, "a")}, "for", "a", 0.5, false},
		"a little for":            {[]rules.Firing{fires(rules.For, 1, 0.49, "a")}, WillDo, "a", 0.49, false},
		"twice for":               {[]rules.Firing{fires(rules.For, 1, 0.3, "a"), fires(rules.For, 1, 0.3, "b")}, "for", "a", 0.6, false},
		"against":                 {[]rules.Firing{fires(rules.For, 1, 1, "a"), fires(rules.Against, 3, 0.5, "b")}, NotFor, "b", 0.5, false},
		"against, then for":       {[]rules.Firing{fires(rules.Against, 3, 0.5, "b"), fires(rules.For, 1, 1, "a")}, NotFor, "b", 0.5, false},
		"a little against":        {[]rules.Firing{fires(rules.Against, 3, 0.4, "b")}, WillDo, "own", -0.4, false},
		"a little against, for":   {[]rules.Firing{fires(rules.Against, 3, 0.4, "b"), fires(rules.For, 1, 0.4, "a"), fires(rules.For, 1, 0.1, "c")}, WillDo, "c", 0.1, false},
		"against twice":           {[]rules.Firing{fires(rules.Against, 3, 0.6, "b"), fires(rules.Against, 5, 1, "c")}, NotFor, "b", -1.6, false},
		"banned":                  {[]rules.Firing{fires(rules.Forbids, 3, 0.8, "b")}, "forbids", "b", -1.6, false},
		"a ban of some":           {[]rules.Firing{fires(rules.Forbids, 3, 0.79, "b")}, NotFor, "b", -0.79, false},
		"a ban of few":            {[]rules.Firing{fires(rules.Forbids, 3, 0.4, "b")}, WillDo, "own", -0.4, false},
		"against, then banned":    {[]rules.Firing{fires(rules.Against, 3, 1, "a"), fires(rules.Forbids, 3, 1, "b"), fires(rules.Forbids, 3, 1, "c")}, "forbids", "b", -5, false},
		"banned, then against":    {[]rules.Firing{fires(rules.Forbids, 3, 1, "b"), fires(rules.Against, 3, 1, "a")}, "forbids", "b", -3, false},
		"aside":                   {[]rules.Firing{fires(rules.Against, 1, 0.5, "a"), fires(rules.For, 1, 1, "b")}, WillDo, "b", 0.5, true},
		"little aside":            {[]rules.Firing{fires(rules.Against, 1, 0.4, "a"), fires(rules.For, 1, 1, "b")}, "for", "b", 0.6, false},
		"aside, then little":      {[]rules.Firing{fires(rules.Against, 1, 0.5, "a"), fires(rules.Against, 1, 0.2, "a")}, WillDo, "own", -0.7, true},
		"a ban of the least harm": {[]rules.Firing{fires(rules.Forbids, 1, 1, "b")}, "forbids", "b", -2, false},
		"a caution":               {[]rules.Firing{fires(rules.Caution, 3, 1, "b"), fires(rules.Do, 3, 1, "c")}, WillDo, "own", 0, false},
	} {
		s := weighed(Choice{ID: "x", Say: "own"}, x.spoken)
		require.Equal(t, x.effect, s.Effect, name)
		require.Equal(t, x.say, s.Say, name)
		require.InDelta(t, x.v, s.v, 1e-9, name)
		require.Equal(t, x.other, s.other, name)
	}
}

// A step that only some cloths of a name need says what the test must show.
func TestStepsThatATestDecides(t *testing.T) {
	for when, want := range map[string]string{"shell.fray at least medium": "If it frays in the test", "shell.slip high": "If it slips in the test", "shell.fray not high": "If your test says so", "shell.fray at most low": "If your test says so", "shell.mass over 200 g/m2": "If your test says so"} {
		var r rules.Rule
		fact, words, _ := cutOnce(when)
		r.Parts.When = []rules.When{{Fact: fact, Words: words}}
		require.Equal(t, want, ifTested(&r), when)
	}
}

func cutOnce(s string) (a, b string, ok bool) {
	for i := range s {
		if s[i] == ' ' {
			return s[:i], s[i+1:], true
		}
	}
	return s, "", false
}

// What there is to do besides the order of work is told in the order of the work.
func TestWorkingIsInTheOrderOfTheWork(t *testing.T) {
	a := adviser(t)
	ans, err := a.Advise(makeUp(t, "coat, dropped-in-lining, shell silk-velvet, lining cupro-lining"), 1)
	require.NoError(t, err)
	require.NotEmpty(t, ans.Working)
	at := func(topic string) int {
		for i, t := range topics {
			if t == topic {
				return i
			}
		}
		return len(topics)
	}
	for i := 1; i < len(ans.Working); i++ {
		x, y := ans.Working[i-1], ans.Working[i]
		require.LessOrEqual(t, at(x.Topic), at(y.Topic), "%s before %s", x.Rule, y.Rule)
		if x.Topic == y.Topic {
			require.GreaterOrEqual(t, x.Share, y.Share-0.001)
		}
		require.GreaterOrEqual(t, y.Share, 0.5)
	}
	require.Equal(t, "fray", Topic(&rules.Rule{Place: "data/rules/fray.toml:3:1"}))
	require.Equal(t, "house", Topic(&rules.Rule{Place: "house.toml:3:1"}))
}
