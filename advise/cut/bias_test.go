package cut

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/units"
)

func TestBiasStripComesNearAreaOverWidth(t *testing.T) {
	for _, a := range []units.Length{20, 35.5, 50, 90, 120} {
		for _, w := range []units.Length{2, 3.3, 4, 6} {
			for _, continuous := range []bool{false, true} {
				b, err := BiasFromSquare(a, w, 0, continuous)
				require.NoError(t, err)
				require.LessOrEqual(t, float64(b.Length), float64(a*a/w)+1e-9, "never more cloth than there is")
				require.Greater(t, float64(b.Length), float64(a*a/w)*(1-3*float64(w/a)), "near it for narrow strips")
				less, err := BiasFromSquare(a, w, 0.6, continuous)
				require.NoError(t, err)
				require.Less(t, less.Length, b.Length, "joins take cloth")
				require.GreaterOrEqual(t, b.Joins, b.Strips-1)
			}
		}
	}
}

func TestSquareForBiasIsTheSmallest(t *testing.T) {
	for _, want := range []units.Length{50, 380, 900, 2500} {
		for _, w := range []units.Length{2, 4, 5.5} {
			for _, continuous := range []bool{false, true} {
				a, err := SquareForBias(want, w, 0.6, continuous)
				require.NoError(t, err)
				b, err := BiasFromSquare(a, w, 0.6, continuous)
				require.NoError(t, err)
				require.GreaterOrEqual(t, b.Length, want)
				for s := a - 0.5; s > 1; s -= 0.5 {
					b, err := BiasFromSquare(s, w, 0.6, continuous)
					require.True(t, err != nil || b.Length < want, "%v would have done", s)
				}
			}
		}
	}
}

func TestBoundCurveTakesTheStretch(t *testing.T) {
	for _, b := range []units.Length{0.5, 0.8, 2} {
		for _, e := range []units.Fraction{0.05, 0.12, 0.3} {
			r, err := CurveForBinding(b, e, false)
			require.NoError(t, err)
			require.InDelta(t, float64(1+e), float64(r/(r-b)), 1e-9, "the fold against the stitched line")
			r, err = CurveForBinding(b, e, true)
			require.NoError(t, err)
			require.InDelta(t, float64(1+e), float64((r+b)/r), 1e-9, "the stitched line against the fold")
		}
	}
}

func TestLongestBiasIsTheFirstStrip(t *testing.T) {
	for _, a := range []units.Length{20, 50, 90} {
		l, err := LongestBias(a, 4)
		require.NoError(t, err)
		require.InDelta(t, float64(a)*math.Sqrt2-4, float64(l), 1e-9)
		b, err := BiasFromSquare(a, 4, 0, false)
		require.NoError(t, err)
		require.GreaterOrEqual(t, b.Length, l)
	}
	_, err := LongestBias(4, 10)
	require.Error(t, err)
	_, err = LongestBias(1000, 1e-6) // as many strips as that gives no memory holds
	require.ErrorContains(t, err, "at least 1 mm")
}

// A binding that is no width of one, and a strip that does not stretch or more than
// doubles, are refused; what is just allowed is not.
func TestBoundCurveOutsideItsRange(t *testing.T) {
	for _, x := range []struct {
		shows units.Length
		e     units.Fraction
		want  string
	}{{0.2, 0.1, ""}, {10, 1, ""}, {0.19, 0.1, "2 mm to 10 cm"}, {10.1, 0.1, "2 mm to 10 cm"}, {0.8, 0, "over 0 and at most 100 %"}, {0.8, 1.01, "over 0 and at most 100 %"}, {0.8, -0.1, "over 0"}} {
		_, err := CurveForBinding(x.shows, x.e, false)
		if x.want == "" {
			require.NoError(t, err)
			continue
		}
		require.ErrorContains(t, err, x.want, "%v", x)
	}
}
