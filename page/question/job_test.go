package question

import (
	"net/url"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/advise/cut"
	"tenter/data"
	"tenter/kb"
	"tenter/page/address"
	"tenter/page/sheet"
)

// One figure for one thing: advise, check, pair, cut and the page are asked for the
// same make-ups, and each figure they share is the same.
func TestEveryAnswerHoldsTheSameFigures(t *testing.T) {
	adv, err := advise.Load(data.FS)
	require.NoError(t, err)
	k := &sheet.Site{Adv: adv, Base: &kb.Base{Cat: adv.Cat}}
	for _, c := range []struct{ piece, finish, shell, lining string }{
		{"half-circle-cape", "bagged-lining", "wool-flannel", "viscose-twill"},
		{"wide-sash", "bagged-lining", "cotton-poplin", "silk-habotai"},
		{"hooded-wrap", "bagged-lining", "cotton-sateen", "silk-taffeta"},
		{"full-circle-skirt", "dropped-in-lining", "wool-crepe", "cupro-twill"},
		{"cowl", "single-layer-bound-edge", "double-gauze", ""},
		{"half-circle-cape", "bagged-lining", "silk-velvet", "viscose-twill"}, // not washed
		{"triangular-shawl", "single-layer-rolled-hem", "silk-chiffon", ""},
		{"tunic", "single-layer-hem", "linen-dress", ""},
	} {
		words := c.piece + ", " + c.finish + ", shell " + c.shell
		q := url.Values{"piece": {c.piece}, "finish": {c.finish}, "shell": {c.shell}}
		if c.lining != "" {
			words += ", lining " + c.lining
			q.Set("lining", c.lining)
		}
		m, err := adv.ParseCase(words)
		require.NoError(t, err, words)
		t.Run(words, func(t *testing.T) {
			plan, err := cut.Plan(adv.CutJob(m))
			require.NoError(t, err)
			page, problems, err := Plan(k, address.NewAsk("/cut", "", q), m)
			require.NoError(t, err)
			require.Empty(t, problems)
			require.Equal(t, plan.Layers, page.Layers, "cut sizes and what to buy")
			require.Equal(t, plan.Thread, page.Thread)
			require.Equal(t, plan.Binding, page.Binding)
			require.Equal(t, plan.Gap, page.Gap)
			require.Equal(t, plan.Perimeter, page.Perimeter)
			require.Equal(t, c.finish == "single-layer-bound-edge", plan.Binding != nil, "a bound finish has its binding")

			ans, err := adv.Advise(m, 1)
			require.NoError(t, err)
			require.Equal(t, plan.Thread.Total, *ans.Thread.Metres)
			if c.lining == "" {
				require.Nil(t, plan.Gap)
				return
			}
			pair, err := adv.Pair(m, false, 1)
			require.NoError(t, err)
			for _, got := range [][3]float64{{pair.Pairs[0].Gap.Low, pair.Pairs[0].Gap.Typical, pair.Pairs[0].Gap.High}} {
				require.InDelta(t, plan.GapMM.Low, got[0], 1e-9)
				require.InDelta(t, plan.GapMM.Typical, got[1], 1e-9)
				require.InDelta(t, plan.GapMM.High, got[2], 1e-9)
			}
			require.Equal(t, plan.Layers[0].Treatment == cut.DryCleaned, pair.Pairs[0].GapIn == "dry-clean")
			for _, d := range ans.Judged.Demands {
				if d.ID == "shrink" && d.Have.Unit == "mm" {
					require.InDelta(t, plan.GapMM.Typical, d.Have.Typical, 1e-9, "the demand that check judges")
				}
			}
		})
	}
}
