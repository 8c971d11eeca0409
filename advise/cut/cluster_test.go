package cut

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestTrianglesLieHeadToTail(t *testing.T) {
	flag := outlined("flag", 20, triangleOutline(20, 24, 0))
	parts := drawParts([]Part{flag}, allowances{1, 1, 1})
	any, err := lay(parts, Layer{}, 150, 0, 0, fullEffort)
	require.NoError(t, err)
	nap, err := lay(parts, Layer{OneWay: true}, 150, 0, 0, fullEffort)
	require.NoError(t, err)
	require.InDelta(t, 2*26.4, any.length, 1, "two rows, their points between each other")
	require.Greater(t, nap.length, any.length+5, "all one way they leave gaps")
}

// How near two outlines stand side by side, by hand: a right-angled triangle of 40 × 40, its
// slant to the right, and the same turned half round stand as close as the square they make;
// two squares their own width apart; and one with a hollow to the right as far as its arms.
func TestOutlinesStandSideBySide(t *testing.T) {
	slant := []Point{{0, 0}, {40, 0}, {0, 40}}
	against := []Point{{40, 0}, {40, 40}, {0, 40}}
	square := []Point{{0, 0}, {40, 0}, {40, 40}, {0, 40}}
	hollow := []Point{{0, 0}, {40, 0}, {40, 10}, {15, 20}, {40, 30}, {40, 40}, {0, 40}}
	require.InDelta(t, 0, beside(slant, against), 1e-6)
	require.InDelta(t, 40, beside(slant, square), 1e-6)
	require.InDelta(t, 40, beside(square, square), 1e-6)
	require.InDelta(t, 40, beside(hollow, square), 1e-6)
	require.InDelta(t, 40, beside(against, slant), 1e-6)
}
