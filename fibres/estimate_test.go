package fibres

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// Small figures keep two digits and no idle zeros.
func TestRoundKeepsWhatIsKnown(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 0.0004: "0.0004", 0.09: "0.09", 0.0996: "0.1", 0.061: "0.061", 0.1: "0.1", 0.126: "0.13", 0.25: "0.25", 0.7: "0.7",
		0.996: "1", 1: "1", 1.26: "1.3", 12.04: "12", 19.96: "20", 141.4: "141", -0.05: "-0.05"} {
		require.Equal(t, want, Round(v), "%g", v)
	}
}

// The quantiles of a range whose 10th, 50th and 90th are 50, 100 and 400 lie on two
// log-normal halves; of one that reaches zero or below on two normal ones. The score of
// 0.25 is −0.6745 and of 0.9 it is 1.2816 (tables of the normal distribution).
func TestQuantilesOfARange(t *testing.T) {
	at := 0.6744897501960817 / 1.2815515655446004
	for _, x := range []struct {
		e       Estimate
		u, want float64
	}{
		{Estimate{Low: 50, Typical: 100, High: 400}, 0.1, 50},
		{Estimate{Low: 50, Typical: 100, High: 400}, 0.25, 100 * math.Pow(0.5, at)},
		{Estimate{Low: 50, Typical: 100, High: 400}, 0.5, 100},
		{Estimate{Low: 50, Typical: 100, High: 400}, 0.75, 100 * math.Pow(4, at)},
		{Estimate{Low: 50, Typical: 100, High: 400}, 0.9, 400},
		{Estimate{Low: -2, Typical: 5, High: 9}, 0.25, 5 - 7*at},
		{Estimate{Low: -2, Typical: 5, High: 9}, 0.1, 0}, // never negative
		{Estimate{Low: 0, Typical: 5, High: 9}, 0.75, 5 + 4*at},
		{Estimate{Low: 7, Typical: 7, High: 7}, 0.99, 7},
		{Estimate{Low: 0, Typical: 1, High: 3, Words: []string{"none", "low", "high"}}, 0.1, 0},
		{Estimate{Low: 0, Typical: 1, High: 3, Words: []string{"none", "low", "high"}}, 0.29, 0},
		{Estimate{Low: 0, Typical: 1, High: 3, Words: []string{"none", "low", "high"}}, 0.31, 1},
		{Estimate{Low: 0, Typical: 1, High: 3, Words: []string{"none", "low", "high"}}, 0.69, 2},
		{Estimate{Low: 0, Typical: 1, High: 3, Words: []string{"none", "low", "high"}}, 0.85, 3},
	} {
		require.InDelta(t, x.want, x.e.Quantile(x.u), 1e-6, "%v at %g", x.e, x.u)
	}
}

// Where a figure lies among its like is the way back from a quantile, held to three.
func TestWhereAFigureLies(t *testing.T) {
	for _, e := range []Estimate{{Low: 50, Typical: 100, High: 400}, {Low: 0, Typical: 5, High: 9}, {Low: -2, Typical: 5, High: 9}} {
		for _, z := range []float64{-0.7, -0.3, 0, 0.4, 1.3, 2.9} {
			require.InDelta(t, z, e.z(e.quantileZ(z)), 1e-9, "%v", e)
		}
		require.Equal(t, 3.0, e.z(1e9))
	}
	require.Equal(t, -3.0, Estimate{Low: 50, Typical: 100, High: 400}.z(1))
	flat := Estimate{Low: 5, Typical: 5, High: 9}
	require.InDelta(t, -3.0, flat.z(4.9), 1e-9, "below a side that has no width")
	require.Zero(t, flat.z(5))
	require.InDelta(t, 1.2815515655446004, flat.z(9), 1e-9)
}
