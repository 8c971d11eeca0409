package cut

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// Two panels of 80 × 200 whose cloths lose 2 and 5 % along, by hand: over the edge of 200 cm
// they part 60 mm, the lining being the shorter; of 0.1 % between them nothing shows.
func TestGapByHand(t *testing.T) {
	layer := func(name string, loses float64) Layer {
		l := Layer{Name: name, Cloth: name, Warp: lost(loses), Weft: lost(1), Width: fibres.Figure(fibres.Width, 140, 140, 140, fibres.Practice, "", "practice")}
		l.warp, l.weft = []float64{loses}, []float64{1}
		return l
	}
	j := Job{Parts: []Part{{Name: "panel", Count: 2, Width: 80, Height: 200}}}
	g, ok := gapOf(j, layer("shell", 2), layer("lining", 5))
	require.True(t, ok)
	require.InDelta(t, 200, g.EdgeCM, 1e-9)
	require.Equal(t, "along", g.Direction)
	require.InDelta(t, 60, g.MM.Typical, 1e-9)
	require.InDelta(t, 60, g.Signed[1], 1e-9)
	require.Zero(t, g.Within)
	require.Contains(t, g.Say, "lining comes out shorter")
	g, _ = gapOf(j, layer("shell", 5), layer("lining", 2))
	require.Contains(t, g.Say, "shell comes out shorter")
	g, _ = gapOf(j, layer("shell", 2), layer("lining", 2.1))
	require.Contains(t, g.Say, "does not show", "2 mm")
	_, ok = gapOf(j, layer("shell", 2), Layer{Name: "lining"})
	require.False(t, ok, "nobody knows what it loses")
}
