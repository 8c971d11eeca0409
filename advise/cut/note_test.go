package cut

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// What is true of shell and lining alike is told once, of both; of one it is told by name.
func TestANoteOfSeveralLayersIsToldOnce(t *testing.T) {
	layer := func(name string) note {
		return note{layers: []string{name}, one: "How the {layer} shrinks.", several: "How {layer} shrink."}
	}
	folded := note{layers: []string{"shell"}, one: "The cloth lies folded."}
	require.Equal(t, []string{"How the lining shrinks."}, merged([]note{layer("lining")}))
	require.Equal(t, []string{"How shell and lining shrink.", "The cloth lies folded."},
		merged([]note{layer("shell"), folded, layer("lining"), {layers: []string{"lining"}, one: folded.one}}))
}

func TestAPlanOfUnknownClothsSaysSoOnce(t *testing.T) {
	unknown := fibres.Estimate{}
	known := fibres.Estimate{Basis: fibres.Measured, Low: 1, Typical: 2, High: 3}
	for _, x := range []struct {
		lining fibres.Estimate
		want   string
	}{
		{unknown, "How shell and lining shrink is not known, so nothing is added for it. Wash both first, or wash a marked square of each."},
		{known, "How the shell shrinks is not known, so nothing is added for it. Wash it first, or wash a marked square."},
	} {
		width := fibres.Estimate{Basis: fibres.Measured, Low: 140, Typical: 140, High: 140}
		ans, err := Plan(Job{Parts: []Part{{Name: "panel", Count: 1, Width: 60, Height: 40}}, Allowance: 1.5, Layers: []Layer{
			{Name: "shell", Cloth: "wool", Width: width, Warp: unknown, Weft: unknown},
			{Name: "lining", Cloth: "silk", Width: width, Warp: x.lining, Weft: x.lining}}})
		require.NoError(t, err)
		require.Equal(t, x.want, ans.Notes[0])
		require.NotContains(t, ans.Notes[1:], x.want)
	}
}
