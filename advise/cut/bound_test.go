package cut

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// The lower bound, against sums by hand: two quarter circles of 100 cm cannot lie side
// by side on 140 cm where both are over 70 cm wide; three boxes that go two abreast
// take a length and a half; and area over width.
func TestLowerBoundByHand(t *testing.T) {
	for _, x := range []struct {
		name        string
		part        Part
		want, layer float64 // at least so long; what area over width alone would say
	}{
		{"two quarter circles", outlined("q", 2, sectorOutline(0, 100, math.Pi/2)), 2 * math.Sqrt(100*100-70*70), 2 * math.Pi / 4 * 100 * 100 / 140},
		{"three two abreast", Part{Name: "b", Count: 3, Width: 50, Height: 100}, 150, 3 * 50 * 100 / 140.0},
		{"boxes side by side", Part{Name: "b", Count: 8, Width: 35, Height: 100}, 200, 200},
		{"one triangle", outlined("t", 1, triangleOutline(60, 80, 0)), 80, 60 * 80 / 2 / 140.0},
	} {
		l, err := lay(drawParts([]Part{x.part}, allowances{}), Layer{}, 140, 0, 0, quickEffort/10)
		require.NoError(t, err)
		require.InDelta(t, x.want, l.bound, 0.02*x.want, x.name)
		require.GreaterOrEqual(t, l.bound, x.layer-0.01, x.name)
		require.LessOrEqual(t, l.bound, l.length+tolerance, x.name)
	}
}

// On a fold, by hand: two parts 49 × 53 go on half of 88 cm only as halves, end to end:
// 106. A band 88 × 14 goes beside them where it lies turned, off the fold, and adds nothing
// to what no layout comes under; on the fold it would add 14.
func TestLowerBoundOnTheFold(t *testing.T) {
	parts := drawParts([]Part{{Name: "side", Count: 2, Width: 49, Height: 53}, {Name: "band", Count: 1, Width: 88, Height: 14}}, allowances{})
	l, err := lay(parts, Layer{Folded: true, CrossGrain: true, OneWay: true, Repeat: 16}, 88, 0, 0, quickEffort/10)
	require.NoError(t, err)
	require.InDelta(t, 106, l.bound, 0.01)
	require.LessOrEqual(t, l.bound, l.length+tolerance)
}
