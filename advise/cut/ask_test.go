package cut

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/units"
)

// A mass to the running metre goes to an area and back.
func TestRunningMassReadBack(t *testing.T) {
	for _, m := range []units.ArealMass{60, 150, 420} {
		g, err := RunningMass(m, 148)
		require.NoError(t, err)
		back, err := ArealFromRunning(g, 148)
		require.NoError(t, err)
		require.InDelta(t, float64(m), float64(back), 1e-9)
	}
	_, err := RunningMass(0, 148)
	require.Error(t, err)
}

func TestLongestCircleIsClothForCircleReadBack(t *testing.T) {
	for _, angle := range []units.Angle{45, 90, 120, 180, 230, 270} {
		l, err := LongestCircle(140, 12, angle)
		require.NoError(t, err)
		w, err := ClothForCircle(12, l, angle)
		require.NoError(t, err)
		require.InDelta(t, 140, float64(w), 1e-9)
	}
	_, err := LongestCircle(10, 12, 90)
	require.ErrorContains(t, err, "nothing is left")
}

// The last width of a curtain takes no whole repeat; a shop reckons with one.
func TestLastDropTakesNoWholeRepeat(t *testing.T) {
	d, err := DropsForCurtain(300, 2, 20, 137, 220, 25, 64)
	require.NoError(t, err)
	require.Equal(t, 5, d.Widths, "620 cm on 137 cm")
	require.InDelta(t, 256, float64(d.Whole), 1e-9, "four repeats")
	require.InDelta(t, 4*256+245, float64(d.Length), 1e-9)
	require.InDelta(t, 5*256, float64(d.Shop), 1e-9)
	_, err = DropsForCurtain(300, 0.5, 0, 137, 220, 25, 0)
	require.ErrorContains(t, err, "1 to 5")
	_, err = DropsForCurtain(units.Length(math.NaN()), 2, 0, 137, 220, 25, 0)
	require.Error(t, err)
}

// Both sizes of a needle stand on its packet (common practice).
func TestNeedleSizesBothWays(t *testing.T) {
	for _, x := range [][2]float64{{60, 8}, {70, 10}, {80, 12}, {90, 14}, {100, 16}, {110, 18}} {
		require.InDelta(t, x[1], NeedleUS(x[0]), 0)
		require.InDelta(t, x[0], NeedleMetric(x[1]), 0)
	}
	require.InDelta(t, 12, NeedleUS(82), 0)
}
