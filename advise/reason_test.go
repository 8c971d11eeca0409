package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/rules"
)

// Reasons stand in bands, and in a band by weight, the least first; those alike keep their
// order.
func TestReasonsInTheirPlaces(t *testing.T) {
	list := []placedReason{{Reason{Say: "rest"}, remaining, -9}, {Reason{Say: "lesser"}, deciding, -0.2}, {Reason{Say: "met"}, supporting, 0}, {Reason{Say: "again"}, repeated, -0.9},
		{Reason{Say: "greater"}, deciding, -0.4}, {Reason{Say: "alike"}, deciding, -0.2}}
	inPlace(list)
	var got []string
	for _, r := range list {
		got = append(got, r.reason.Say)
	}
	require.Equal(t, []string{"greater", "lesser", "alike", "again", "met", "rest"}, got)
}

// What decides comes first, the costliest before the rest, and of a matter one before a
// second; what costs nothing comes after all that does.
func TestWhatDecidesIsToldFirst(t *testing.T) {
	a := adviser(t)
	for _, words := range []string{"triangular-shawl, single-layer-hem, shell cotton-duck", "straight-skirt, dropped-in-lining, shell silk-chiffon, lining wool-melton", "child-cape, bagged-lining, shell nylon-net, lining polar-fleece, wearer child"} {
		j := a.judge(makeUp(t, words))
		list := a.reasons(j)
		told := map[string]bool{}
		second, done := false, false
		last := 2.0
		for _, r := range list {
			if r.Cost < decides || len(r.Open) > 0 {
				done = true
				continue
			}
			require.False(t, done, "%s: %q costs %g and comes after what costs nothing", words, r.Say, r.Cost)
			if told[r.Matter] && r.Matter != "" {
				second = true
				continue
			}
			require.False(t, second, "%s: %q comes after a second of another matter", words, r.Say)
			if r.Rule != "" && last <= 1 {
				require.LessOrEqual(t, r.Cost, last*2+1e-9, words) // weight counts half where a piece does not hang free
			}
			told[r.Matter], last = true, r.Cost
		}
		require.NotEmpty(t, told, words)
		for _, r := range reservations(list) {
			require.GreaterOrEqual(t, r.Cost, 0.1)
		}
	}
}

// A demand that is missed tells on which side, what that costs and how many miss it.
func TestAMissedDemandAsAReason(t *testing.T) {
	a := adviser(t)
	d := Demand{ID: "mass", Fact: "make-up.mass", Matter: "bulk", Ideal: Bounds{100, 200}, Limit: Bounds{50, 300}, Say: "It hangs."}
	j := &judged{}
	column := make([]float64, 256)
	for i := range column {
		column[i] = 260
	}
	j.asked = []asked{{demand: &d, known: true, share: 0.4, cost: 0.3, column: column}, {demand: &d, known: true, share: 0.95, cost: 0.05, column: column}, {demand: &d}}
	got := a.demandReasons(j)
	require.Len(t, got, 2, "one of which nothing is known is no reason")
	require.Equal(t, deciding, got[0].band)
	require.Equal(t, -0.3, got[0].weight)
	r := got[0].reason
	require.Equal(t, "against", r.Effect)
	require.Equal(t, "Too heavy.", r.Because)
	require.InDelta(t, 0.6, r.Share, 1e-9)
	require.Equal(t, 0.3, r.Cost)
	require.False(t, r.Firm)
	require.Equal(t, supporting, got[1].band)
	require.Equal(t, "for", got[1].reason.Effect)
	require.True(t, got[1].reason.Firm)
	require.Zero(t, got[1].reason.Cost)
	require.Equal(t, []string{"bulk"}, a.notJudged(j, nil))
	require.Equal(t, []string{"bulk"}, a.notJudged(j, []Reason{{}}), "a reason that waits for nothing")
	require.Equal(t, []string{"bulk", "colour"}, a.notJudged(j, []Reason{{Open: []string{"shell.lightness"}}, {Open: []string{"lining.lightness"}}}))
}

// The weight of a piece that does not hang free says least of a reason of its cost.
func TestWeightTellsLeastWhereNothingHangs(t *testing.T) {
	weight, bulk := &Demand{about: weightMatter}, &Demand{about: bulkMatter}
	require.Equal(t, 0.5, (&asked{demand: weight}).tells())
	require.Equal(t, 1.0, (&asked{demand: weight, hangs: true}).tells())
	require.Equal(t, 1.0, (&asked{demand: bulk}).tells())
}

// A rule costs the part that it holds for, less what it leaves of that; what only is work,
// what waits for a colour and what speaks for a make-up cost nothing.
func TestWhatARuleCosts(t *testing.T) {
	a := adviser(t)
	for _, x := range []struct {
		effect rules.Effect
		matter string
		harm   int
		share  float64
		open   []string
		cost   float64
		firm   bool
	}{
		{rules.Against, "fall", 2, 1, nil, 0.25, true},
		{rules.Against, "fall", 2, 0.4, nil, 0.1, false},
		{rules.Against, "fall", 3, 0.8, nil, 0.8 * 0.63, true},
		{rules.Against, "fall", 4, 0.5, nil, 0.375, false},
		{rules.Against, "work", 3, 1, nil, 0, true},
		{rules.Forbids, "work", 3, 0.5, nil, 0.5, false},
		{rules.Forbids, "fall", 1, 1, nil, 1, true},
		{rules.Forbids, "fall", 1, 1, []string{"shell.lightness"}, 0, false},
		{rules.For, "fall", 3, 1, nil, 0, true},
		{rules.Caution, "fall", 5, 1, nil, 0, true},
	} {
		r := a.reason(rules.Firing{Rule: &rules.Rule{Effect: x.effect, Matter: x.matter, Harm: x.harm}, Share: x.share, Open: x.open})
		require.InDelta(t, x.cost, r.Cost, 1e-9, "%+v", x)
		require.Equal(t, x.firm, r.Firm, "%+v", x)
	}
	require.True(t, askable([]string{"shell.lightness", "lining.lightness"}))
	require.False(t, askable([]string{"shell.lightness", "shell.fray"}))
}

// From which shares on a demand decides and a reason is firm, and what weight it has in its
// band.
func TestWhenAReasonDecides(t *testing.T) {
	a := adviser(t)
	heavy := make([]float64, 256)
	for i := range heavy {
		heavy[i] = 260
	}
	d := &Demand{ID: "mass", Fact: "make-up.mass", Matter: "weight", about: weightMatter, Ideal: Bounds{100, 200}, Limit: Bounds{50, 300}}
	of := func(share, cost float64, hangs bool) placedReason {
		return a.demandReasons(&judged{asked: []asked{{demand: d, known: true, share: share, cost: cost, column: heavy, hangs: hangs}}})[0]
	}
	for _, x := range []struct {
		share, cost float64
		hangs       bool
		band        int
		weight      float64
		firm        bool
	}{{0.5, 0.1, true, deciding, -0.1, false}, {0.5, 0.09, true, supporting, 0, false}, {0.2, 0.4, true, deciding, -0.4, true}, {0.21, 0.4, false, deciding, -0.2, false},
		{0.8, 0.05, true, supporting, 0, true}, {0.79, 0.05, true, supporting, 0, false}} {
		r := of(x.share, x.cost, x.hangs)
		require.Equal(t, x.band, r.band, "%+v", x)
		require.InDelta(t, x.weight, r.weight, 1e-9, "%+v", x)
		require.Equal(t, x.firm, r.reason.Firm, "%+v", x)
	}
	require.Len(t, reservations([]Reason{{Cost: 0.1}, {Cost: 0.09}, {}}), 1)
	require.NotNil(t, reservations(nil))
}

// A second reason of a matter is told after the first of the others; a matter that has no name
// is told each time.
func TestAMatterIsToldOnceBeforeTheOthers(t *testing.T) {
	a := adviser(t)
	column := make([]float64, 256)
	j := &judged{}
	for i, matter := range []string{"fall", "fall", "crease", "", ""} {
		j.asked = append(j.asked, asked{demand: &Demand{ID: string(rune('a' + i)), Fact: "make-up.none", Matter: matter, Ideal: Bounds{1, 2}}, known: true, share: 0.2, cost: 0.8 - 0.1*float64(i), column: column, hangs: true})
	}
	j.asked = append(j.asked, asked{demand: &Demand{ID: "z", Fact: "make-up.none", Matter: "crease", Ideal: Bounds{0, 2}}, known: true, share: 1, column: column})
	j.make, j.c = MakeUp{}, a.caseOf(MakeUp{})
	bare := *a
	bare.Rules = nil
	var got string
	for _, r := range bare.reasons(j) {
		got += r.Demand
	}
	require.Equal(t, "acdebz", got)
}

// Rules that do not decide are told by their effects, bans first, the surer before the less
// sure; one that speaks of who wears it goes before its like.
func TestInWhichOrderRulesAreTold(t *testing.T) {
	a := *adviser(t)
	rule := func(id string, effect rules.Effect, names ...string) *rules.Rule {
		return &rules.Rule{ID: id, Effect: effect, Harm: 1, Matter: "fall", Parts: rules.Parts{Names: names}}
	}
	a.Rules = []*rules.Rule{rule("do", rules.Do), rule("for", rules.For), rule("caution", rules.Caution), rule("wearer", rules.Caution, "wearer"), rule("made-for", rules.Caution, "piece.wearer"), rule("against", rules.Against),
		{ID: "seam", Effect: rules.Forbids, Parts: rules.Parts{About: "seam"}}}
	j := &judged{c: a.caseOf(MakeUp{}), asked: make([]asked, 3)}
	place := map[string]placedReason{}
	for _, x := range a.ruleReasons(j) {
		place[x.reason.Rule] = x
	}
	require.NotContains(t, place, "seam", "no seam is named")
	require.Equal(t, supporting, place["for"].band)
	require.Equal(t, deciding, place["against"].band)
	require.InDelta(t, -0.12, place["against"].weight, 1e-9)
	for id, want := range map[string]float64{"for": 2, "do": 3.5, "caution": 1.5, "wearer": 0.6, "made-for": 0.6} {
		require.InDelta(t, want, place[id].weight, 1e-9, id)
	}
	require.Equal(t, remaining, place["do"].band)
	require.Equal(t, remaining, place["caution"].band)
}

// On which side those lie that miss a demand is counted among those whom it concerns; as many
// of both is too much.
func TestTooMuchOrTooLittle(t *testing.T) {
	d := &Demand{Ideal: Bounds{1, 2}}
	column := make([]float64, 256)
	for i := range column {
		column[i] = 1.5
	}
	require.True(t, (&asked{demand: d, column: column}).tooMuch(), "none on either side")
	column[0] = 0.5
	require.False(t, (&asked{demand: d, column: column}).tooMuch())
	column[1] = 2.5
	require.True(t, (&asked{demand: d, column: column}).tooMuch())
	column[2], column[3] = 1, 2
	require.True(t, (&asked{demand: d, column: column}).tooMuch(), "the ends belong to it")
	column[1] = 1.5
	require.False(t, (&asked{demand: d, column: column}).tooMuch())
	require.True(t, (&asked{demand: d, column: column, of: rules.Members{^uint64(1), 0, 0, 0}}).tooMuch())
}
