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
