package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/cut"
)

// Asked only what to buy, a plan says of it what the whole plan says.
func TestWhatToBuyIsThatOfTheWholePlan(t *testing.T) {
	for _, words := range []string{"half-circle-cape, bagged-lining, shell wool-flannel, lining cupro-lining", "straight-skirt, single-layer-hem, shell denim", "tote-bag, single-layer-hem, shell cotton-duck"} {
		m := makeUp(t, words)
		job := adviser(t).CutJob(m)
		whole, err := cut.Plan(job)
		require.NoError(t, err)
		job.BuyOnly = true
		only, err := cut.Plan(job)
		require.NoError(t, err)
		require.Len(t, only.Layers, len(whole.Layers))
		for i, l := range only.Layers {
			require.Equal(t, whole.Layers[i].Buy, l.Buy, words)
			require.Equal(t, whole.Layers[i].Pieces, l.Pieces, words)
			require.True(t, l.Buy.Length.Known(), words)
			require.NotNil(t, whole.Layers[i].Washed, words)
			require.Nil(t, l.Washed, words)
			require.Empty(t, l.Widths, words)
		}
	}
}
