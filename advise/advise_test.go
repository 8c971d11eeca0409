package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/order"
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
	known := func(w, f, wash fibres.Estimate) *fibres.Subject {
		return &fibres.Subject{Known: map[fibres.Property]fibres.Estimate{fibres.ShrinkWarp: w, fibres.ShrinkWeft: f, fibres.Wash: wash}}
	}
	shrinks, nobody := fibres.Estimate{Low: 2, Typical: 3, High: 4, Basis: fibres.Measured}, fibres.Estimate{Basis: fibres.Unknown}
	wash := fibres.Estimate{Low: 1, Typical: 2, High: 3, Words: []string{"hand", "cool", "warm"}, Basis: fibres.Measured}
	clean := fibres.Estimate{Low: 0, Typical: 0, High: 1, Words: []string{"dry-clean", "dry-clean", "hand"}, Basis: fibres.Measured}
	cool := a.preWash("shell", known(shrinks, shrinks, wash), true)
	require.Equal(t, "cool", cool.Method, "as most of it is washed")
	require.Contains(t, cool.Say, " Expect 2–4 % along the warp, 2–4 % along the weft.")
	for _, s := range []*fibres.Subject{known(shrinks, nobody, wash), known(nobody, shrinks, wash), known(shrinks, shrinks, clean)} {
		require.NotContains(t, a.preWash("shell", s, true).Say, "Expect")
	}
	require.True(t, a.cleaned(MakeUp{Shell: known(shrinks, shrinks, clean)}))
	require.True(t, a.cleaned(MakeUp{Shell: known(shrinks, shrinks, wash), Lining: known(shrinks, shrinks, clean)}))
	require.False(t, a.cleaned(MakeUp{Shell: known(shrinks, shrinks, wash), Lining: known(shrinks, shrinks, nobody)}))
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
	unknown := asked{demand: d("crease")}
	require.Equal(t, "nearly all would do", short(&judged{known: true, share: 1, asked: []asked{unknown, at(0.95)}}), "what is not known fails nothing")
	require.Equal(t, "make no sail of it", short(&judged{forbid: []rules.Firing{{Rule: &rules.Rule{Say: "Make no sail of it."}}}}))
	require.Equal(t, "not judged, for nothing that is asked is known of it", short(&judged{asked: []asked{{demand: d("mass")}}}))
}

// What makers take moves to the front what nothing speaks against, and what they do not take
// only will do; where they pick among enough, what no rule speaks for is left out.
func TestWhatMakersTakeMovesChoices(t *testing.T) {
	picks := map[string]float64{"a": 1, "b": 0.4, "h": 0.5}
	for _, x := range []struct {
		s      scored
		effect string
		v      float64
	}{
		{scored{Choice: Choice{ID: "a", Effect: WillDo}, v: 0}, "for", 2},
		{scored{Choice: Choice{ID: "b", Effect: WillDo}, v: 0}, WillDo, 0.8},
		{scored{Choice: Choice{ID: "c", Effect: "for"}, v: 1}, "for", 1},
		{scored{Choice: Choice{ID: "a", Effect: NotFor}, v: -1}, NotFor, -1},
		{scored{Choice: Choice{ID: "a", Effect: "forbids"}, v: -10}, "forbids", -10},
		{scored{Choice: Choice{ID: "a", Effect: WillDo, other: true}, v: 0}, WillDo, 2},
		{scored{Choice: Choice{ID: "b", Effect: WillDo, other: true}, v: 0}, NotFor, 0.8},
		{scored{Choice: Choice{ID: "h", Effect: WillDo}, v: 0}, "for", 1},
		{scored{Choice: Choice{ID: "h", Effect: WillDo, other: true}, v: 0}, WillDo, 1},
	} {
		x.s.take(picks)
		require.Equal(t, x.effect, x.s.Effect, "%+v", x)
		require.InDelta(t, x.v, x.s.v, 1e-9, "%+v", x)
	}
	s := scored{Choice: Choice{ID: "c", Effect: WillDo}, v: 0}
	s.take(nil)
	require.Equal(t, WillDo, s.Effect, "where nobody says what makers take")
}

// Where enough is recommended, what no rule speaks for and nobody takes is left out.
func TestWhatIsLeftOutBesideEnough(t *testing.T) {
	picks := map[string]float64{"a": 1, "b": 0.4}
	effects := func(recommended int) (out []string, say string) {
		list := []scored{{Choice: Choice{ID: "c", Effect: WillDo}, v: 0}, {Choice: Choice{ID: "a", Effect: WillDo}, v: 0}, {Choice: Choice{ID: "b", Effect: WillDo}, v: -1}, {Choice: Choice{ID: "d", Effect: WillDo}, v: 0.1}, {Choice: Choice{ID: "f", Effect: "forbids"}, v: 0}}
		for range recommended {
			list = append(list, scored{Choice: Choice{ID: "e", Effect: "for"}, v: 0})
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

// That a cloth is open or close to the wind is told as its weave, unless it is warmth or water
// that is minded.
func TestWindTellsOfTheWeave(t *testing.T) {
	p, ok := fibres.PropertyByID("wind")
	require.True(t, ok)
	air := fibres.Properties[p].Failing
	for matter, want := range map[string][2]string{"strength": {"woven too open", "woven too close"}, "warmth": air, "water": air} {
		d := &Demand{ID: "close", Fact: "shell.wind", Matter: matter}
		require.Equal(t, want, [2]string{sideWords(d, false), sideWords(d, true)}, matter)
	}
}

// The cloths are chosen among those that are given, the best is taken, and said; with none
// there is nothing to work on. A list is no longer than is asked for.
func TestAdviceAmongFewCloths(t *testing.T) {
	a := adviser(t)
	m := makeUp(t, "tote-bag, single-layer-hem")
	pool := func(ids ...string) []*fibres.Subject {
		out := []*fibres.Subject{}
		for _, id := range ids {
			out = append(out, &fibres.Subject{Cloth: a.Cat.Cloths[id]})
		}
		return out
	}
	two, err := a.AdviseAmong(m, 1, pool("silk-chiffon", "denim"))
	require.NoError(t, err)
	require.Len(t, two.Cloths, 1)
	require.Equal(t, "denim", two.Cloths[0].ID)
	require.Contains(t, two.Notes, "The work below is for the first of the cloths, denim; name one with --shell to see its own.")
	require.Equal(t, "denim", two.Judged.MakeUp.Cloth)
	for _, list := range [][]Choice{two.Seams, two.Edges, two.Interfacings} {
		require.Len(t, list, 1)
	}
	none, err := a.AdviseAmong(m, 1, pool())
	require.NoError(t, err)
	require.Nil(t, none.Judged)
	require.Empty(t, none.Cloths)
	require.Empty(t, none.Notes)
}

// A support is offered for cloths of its weight, of any weight where it names none, and of any
// where it carries the shape.
func TestSupportsOfAWeight(t *testing.T) {
	a := &Adviser{Cat: adviser(t).Cat, Interfacings: []*Interfacing{{ID: "light", ShellMassLow: 50, ShellMassHigh: 100}, {ID: "any"}, {ID: "heavy", ShellMassLow: 250, ShellMassHigh: 500}, {ID: "from", ShellMassLow: 300, ShellMassHigh: 400}, {ID: "to", ShellMassLow: 100, ShellMassHigh: 300}}}
	ids := func(m MakeUp, job *Job) (out []string) {
		for _, x := range a.candidatesOf(m, support, job) {
			require.Equal(t, x.ID, x.make.Interfacing.ID)
			out = append(out, x.ID)
		}
		return out
	}
	weighing := func(v float64) MakeUp {
		return MakeUp{Shell: &fibres.Subject{Known: map[fibres.Property]fibres.Estimate{fibres.Mass: {Low: v, Typical: v, High: v, Basis: fibres.Measured}}}}
	}
	require.Equal(t, []string{"any", "heavy", "from", "to"}, ids(weighing(300), nil), "its ends belong to it")
	require.Equal(t, []string{"light", "any"}, ids(weighing(60), &Job{}))
	require.Equal(t, []string{"light", "any", "heavy", "from", "to"}, ids(weighing(300), &Job{Bears: true}))
	require.Len(t, ids(MakeUp{Shell: &fibres.Subject{Swatch: true}}, nil), 5, "of one that nobody has weighed")
}

// Cautions and what there is to do are told of rules of that kind alone, and of a seam where
// one is named; a step of the work stands in its order instead.
func TestWhichRulesAreToldWhere(t *testing.T) {
	a := *adviser(t)
	ofSeam := rules.Parts{About: "seam"}
	a.Rules = []*rules.Rule{{ID: "a", Say: "a", Effect: rules.Caution}, {ID: "b", Say: "b", Effect: rules.Caution, Parts: ofSeam}, {ID: "c", Say: "c", Effect: rules.Against}, {ID: "d", Say: "d", Effect: rules.Do},
		{ID: "e", Say: "e", Effect: rules.Do, Parts: ofSeam}, {ID: "f", Say: "f", Effect: rules.Do, Step: &rules.Step{Add: "x"}}, {ID: "g", Say: "g", Effect: rules.Do, Step: &rules.Step{Add: "y"}, Parts: ofSeam},
		{ID: "h", Say: "h", Effect: rules.Do, Step: &rules.Step{Say: "x"}}}
	said := func(m MakeUp) (cautions, working, order string) {
		j := &judged{make: m, c: a.caseOf(m)}
		for _, c := range a.cautions(j) {
			require.True(t, c.Firm)
			require.Equal(t, 1.0, c.Share)
			cautions += c.Say
		}
		for _, w := range a.working(j) {
			working += w.Say
		}
		for _, s := range a.order(j) {
			require.False(t, s.If)
			order += s.Step + ":" + s.Say + " "
		}
		return cautions, working, order
	}
	m := MakeUp{Finish: &Finish{}, Shell: &fibres.Subject{}}
	cautions, working, order := said(m)
	require.Equal(t, []string{"a", "d", "x:h "}, []string{cautions, working, order})
	m.Seam = &Seam{}
	cautions, working, order = said(m)
	require.Equal(t, []string{"ab", "de", "x:h y:g "}, []string{cautions, working, order})
	m.Finish = nil
	_, _, order = said(m)
	require.Empty(t, order)
}

// A step without a reason of its own has that of the first note that gives one.
func TestAStepHasItsFirstReason(t *testing.T) {
	notes := []order.Note{{Say: "n"}, {Say: "o", Because: "second"}, {Say: "p", Because: "third"}}
	st := inOrder(order.Placed{Step: order.Step{ID: "x", Notes: notes}})
	require.Equal(t, "second", st.Because)
	require.Equal(t, []string{"n", "o", "p"}, st.Notes)
	require.Equal(t, "own", inOrder(order.Placed{Step: order.Step{Because: "own", Notes: notes}}).Because)
}

// The needle is that of the heavier layer, and none where nobody knows how heavy it is; how
// much thread it takes is told where there are seams.
func TestNeedleOfTheHeavierLayer(t *testing.T) {
	a := adviser(t)
	weighing := func(v float64) *fibres.Subject {
		return &fibres.Subject{Known: map[fibres.Property]fibres.Estimate{fibres.Mass: {Low: v, Typical: v, High: v, Basis: fibres.Measured}}}
	}
	first := func(m MakeUp) float64 {
		n, _ := a.stitching(m, nil, nil)
		return n.FirstNM
	}
	light, heavy := first(MakeUp{Shell: weighing(60)}), first(MakeUp{Shell: weighing(500)})
	require.Less(t, light, heavy)
	require.Equal(t, heavy, first(MakeUp{Shell: weighing(500), Lining: weighing(60)}))
	require.Equal(t, heavy, first(MakeUp{Shell: weighing(60), Lining: weighing(500)}))
	unknown := &fibres.Subject{Swatch: true}
	n, thread := a.stitching(MakeUp{Shell: unknown, Lining: weighing(60)}, nil, nil)
	require.Nil(t, n)
	require.Nil(t, thread)
	require.Equal(t, light, first(MakeUp{Shell: weighing(60), Lining: unknown}))
	_, thread = a.stitching(MakeUp{Shell: weighing(60)}, nil, nil)
	require.Nil(t, thread.Metres)
	_, thread = a.stitching(MakeUp{Shell: weighing(60), Piece: &Piece{Seams: []PieceSeam{{"side", 100}}}}, nil, nil)
	require.NotNil(t, thread.Metres)
	require.Contains(t, thread.Say, "The seams take about ")
}

// Topics stand in the order of the work: washing first, and what is of no topic last.
func TestTopicsInTheOrderOfTheWork(t *testing.T) {
	a := *adviser(t)
	a.Rules = nil
	for _, topic := range []string{"house", "wearing", "cutting", "prewash", "marking"} {
		a.Rules = append(a.Rules, &rules.Rule{ID: topic, Effect: rules.Do, Place: "data/rules/" + topic + ".toml:1:1"})
	}
	var got []string
	for _, w := range a.working(&judged{c: a.caseOf(MakeUp{})}) {
		got = append(got, w.Topic)
	}
	require.Equal(t, []string{"prewash", "cutting", "marking", "wearing", "house"}, got)
}
