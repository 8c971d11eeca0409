package cut

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/units"
)

// Thicker seams and shorter stitches take more thread, chain stitches more than the
// lockstitch; every stitch that is listed has its share of the needle.
func TestThreadGoesWithThicknessAndStitch(t *testing.T) {
	of := func(s Stitch, thick, long units.Length) float64 {
		v, err := ThreadFromGeometry(s, thick, long)
		require.NoError(t, err)
		return v
	}
	require.InDelta(t, 2.8, of(Lockstitch, 0.1, 0.25), 1e-9, "2 + 2 · 0.1 / 0.25")
	require.InDelta(t, 2, of(Lockstitch, 0, 0.25), 1e-9, "two threads along it")
	require.Greater(t, of(Lockstitch, 0.1, 0.2), of(Lockstitch, 0.1, 0.3))
	require.InDelta(t, 2, of(DoubleChain, 0.1, 0.25)-of(Lockstitch, 0.1, 0.25), 1e-9)
	for _, s := range Stitches() {
		ratio, needle, err := ThreadFromRatio(s)
		require.NoError(t, err)
		require.True(t, ratio >= 2 && needle > 0 && needle <= 1, "%s", s)
	}
	_, _, err := ThreadFromRatio("999")
	require.ErrorContains(t, err, "999")
	_, err = ThreadFromGeometry(Overedge3, 0.1, 0.25)
	require.Error(t, err, "nobody tells how it lies")
	_, err = ThreadFromGeometry(Lockstitch, units.Length(math.NaN()), 0.25)
	require.Error(t, err)
	l, err := ThreadFromUnpicking(400, 10, 13, 12, 0.15)
	require.NoError(t, err)
	require.InDelta(t, 400*2.5*1.15, float64(l), 1e-9)
}
