package advise

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/cut"
	"tenter/fibres"
)

// A preference steers by more or less of a property.
func TestWhatAPreferenceSteersBy(t *testing.T) {
	for prefer, want := range map[string]struct {
		p    fibres.Property
		sign float64
	}{"more warmth": {fibres.Warmth, 1}, "less mass": {fibres.Mass, -1}, "ease": {}, "most mass": {}, "more nothing": {}, "": {}} {
		p, sign := steered(prefer)
		require.Equal(t, want.sign, sign, prefer)
		if sign != 0 {
			require.Equal(t, want.p, p, prefer)
		}
	}
}

// Wishes are named one by one or parted by commas, each counted once; two that cannot
// both be so are refused, whichever is named first.
func TestWishesAsTheyAreSaid(t *testing.T) {
	a := adviser(t)
	list, err := a.WishesOf("warm, washable", "", "warm", " , ")
	require.NoError(t, err)
	m := MakeUp{Wishes: list}
	require.Equal(t, []string{"warm", "washable"}, m.wishIDs())
	require.True(t, m.Wished("warm"))
	require.False(t, m.Wished("cheap"))
	require.Equal(t, len(list[0].Demands)+len(list[1].Demands), len(wishDemands(m)))
	said := wishEchoes(m)
	require.Equal(t, WishEcho{"warm", list[0].Say}, said[0])
	tried := 0
	for _, w := range a.Wishes {
		for _, x := range w.Against {
			tried++
			for _, both := range [][]string{{w.ID, x}, {x, w.ID}} {
				_, err := a.WishesOf(both...)
				require.ErrorContains(t, err, "it cannot be", "%v", both)
			}
		}
	}
	require.Positive(t, tried)
	_, err = a.WishesOf("nonsense-wish, warm")
	require.ErrorContains(t, err, "nonsense-wish")
}

// What a wish asks tells cloths apart, and names its matter where one falls short. Source:
// common practice.
func TestWishesThatAskOfTheCloth(t *testing.T) {
	a := adviser(t)
	for _, x := range []struct{ wish, piece, grants, fails, matter string }{
		{"windproof", "rectangular-wrap", "wool-melton", "marquisette", "warmth"},
		{"no-bulk", "winter-shawl", "wool-challis", "blanket-cloth", "bulk"},
		{"dries-fast", "blouse", "polyester-crepe", "viscose-crepe", "wash"},
		{"springs-back", "straight-skirt", "worsted-suiting", "linen-dress", "stretch"},
		{"evening", "straight-skirt", "silk-satin", "denim", "looks"},
		{"swirls", "tabard", "silk-georgette", "cotton-canvas", "fall"},
		{"downproof", "cushion-cover", "ticking", "cotton-hopsack", "strength"},
		{"holds-threads", "casual-jacket", "wool-melton", "linen-crash", "fray"},
		{"of-wool", "straight-skirt", "wool-flannel", "cotton-velvet", "looks"},
		{"natural", "straight-skirt", "linen-dress", "polyester-gabardine", "looks"},
		{"starched", "tabard", "cotton-poplin", "polyester-satin", "body"},
		{"looks-old", "tunic", "homespun", "polyester-satin", "looks"},
		{"tailors-well", "tailored-jacket", "wool-flannel", "polyester-satin", "heat"},
		{"keeps-pleats", "straight-skirt", "worsted-suiting", "viscose-jersey", "crease"},
	} {
		asked := func(cloth, wish string) CheckAnswer {
			ans, err := a.Check(makeUp(t, x.piece+", single-layer-hem, shell "+cloth+wish))
			require.NoError(t, err)
			return ans
		}
		require.InDelta(t, asked(x.grants, "").Share, asked(x.grants, ", wish "+x.wish).Share, 0.02, x.wish)
		with := asked(x.fails, ", wish "+x.wish)
		require.True(t, with.Share < asked(x.fails, "").Share || with.Share == 0, x.wish)
		require.True(t, slices.ContainsFunc(with.Reasons, func(r Reason) bool { return r.Demand == x.wish && r.Matter == x.matter }), x.wish)
	}
}

// What the label of one's own cloth says goes before what its name would have it of.
func TestWishedFibreIsThatOfTheLabel(t *testing.T) {
	a := adviser(t)
	flannel := makeUp(t, "straight-skirt, single-layer-hem, shell wool-flannel, wish of-wool")
	require.InDelta(t, 100, flannel.wishedFibre(), 30)
	own := *flannel.Shell
	own.Content = []fibres.Part{{Fibre: a.Cat.Fibres["polyester"], Share: fibres.Estimate{Low: 100, Typical: 100, High: 100, Unit: "%", Basis: fibres.Measured}}}
	labelled := flannel
	labelled.Shell = &own
	require.Zero(t, labelled.wishedFibre())
	_, named := a.Verdict(flannel)
	_, read := a.Verdict(labelled)
	require.Less(t, read, named)
	require.Zero(t, a.prefers("made of wool", &own, &unknownStock))
}

// What is dry-cleaned is never washed: nothing asks that it take a wash, and its layers part
// as much as in dry-cleaning; silk satin is a nightgown then.
func TestDryCleanedIsNeverWashed(t *testing.T) {
	a := adviser(t)
	washed := makeUp(t, "nightgown, single-layer-rolled-hem, shell silk-satin")
	cleaned := makeUp(t, "nightgown, single-layer-rolled-hem, shell silk-satin, wish dry-cleaned")
	asksWash := func(m MakeUp) bool {
		return slices.ContainsFunc(a.judge(m).asked, func(k asked) bool { return k.demand.about == washMatter })
	}
	require.True(t, asksWash(washed))
	require.False(t, asksWash(cleaned))
	_, was := a.Verdict(washed)
	_, is := a.Verdict(cleaned)
	require.Greater(t, is, was+0.15)
	skirt := makeUp(t, "half-circle-skirt, dropped-in-lining, shell wool-crepe, lining cupro-lining, wish dry-cleaned")
	ans, err := a.CheckAlone(skirt)
	require.NoError(t, err)
	for _, r := range ans.Reservations {
		require.NotContains(t, r.Say, "wash")
	}
	require.Equal(t, cut.DryCleaned, a.CutJob(skirt).Care)
	require.True(t, a.judge(skirt).dry, "the gap is that of dry-cleaning")
	skirt.Wishes = nil
	require.Empty(t, a.CutJob(skirt).Care)
	require.False(t, a.judge(skirt).dry)
}
