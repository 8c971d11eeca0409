package cut

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// A quarter of a ring, by hand: area and edges of circles, right angles at its corners, its
// neck hollow and clipped, its hem round and not.
func TestGeometryOfAQuarterCircle(t *testing.T) {
	g := GeometryOf(outlined("panel", 2, sectorOutline(12, 52, math.Pi/2)))
	require.InDelta(t, math.Pi/4*(52*52-12*12), g.Area, 1e-3)
	require.InDelta(t, math.Pi/2*(52+12)+2*40, g.Perimeter, 1e-3)
	require.Len(t, g.Corners, 4)
	for _, c := range g.Corners {
		require.InDelta(t, 90, c.Angle, 0.01)
		require.False(t, c.Inward)
	}
	neck, hem := EdgeLine{}, EdgeLine{}
	for _, e := range g.Edges {
		switch e.Name {
		case "neck":
			neck = e
		case "hem":
			hem = e
		}
	}
	require.True(t, neck.Inward)
	require.InDelta(t, 12, neck.Radius, 1e-6)
	require.Positive(t, neck.Clips)
	require.False(t, hem.Inward)
	require.Zero(t, hem.Clips, "a hem is turned up, not notched")
}
