package cut

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/shrink"
	"tenter/fibres/units"
)

// The gap of a population is, member by member, that of two lengths of cloth.
func TestPartingIsTheDifferenceOfFinishedLengths(t *testing.T) {
	shell, lining := Loss{Warp: []float64{2, 4, 7}, Weft: []float64{1}}, Loss{Warp: []float64{5}, Weft: []float64{0, 3, 3}}
	e := LongEdge{Part: "cape", Length: 110, Direction: "along"}
	for i, got := range Parting(e, shell, lining) {
		outer, err := shrink.FinishedFromCut(110, units.Fraction(shell.Warp[i]/100))
		require.NoError(t, err)
		inner, err := shrink.FinishedFromCut(110, 0.05)
		require.NoError(t, err)
		require.InDelta(t, float64(outer-inner)*10, got, 1e-9)
	}
	e.Direction = "across"
	require.InDeltaSlice(t, []float64{-11, 22, 22}, Parting(e, shell, lining), 1e-9)
	e.Direction = "bias" // half of each
	require.InDeltaSlice(t, []float64{11, 16.5, 0}, Parting(e, shell, lining), 1e-9)
	require.Nil(t, Parting(e, Loss{Warp: []float64{1}}, lining), "nobody knows how it shrinks across")
}

// The longest edge runs as its part lies: across where the part is turned for want
// of width.
func TestLongEdgeRunsAsThePartLies(t *testing.T) {
	j := Job{Parts: []Part{{Name: "sash", Count: 1, Width: 240, Height: 40, Grain: AlongWidth}}, Allowance: 1.2}
	require.Equal(t, LongEdge{"sash", 240, "along"}, j.Edges().Longest(140, 0, 0))
	j.Parts = []Part{{Name: "wrap", Count: 1, Width: 150, Height: 75}}
	require.Equal(t, "across", j.Edges().Longest(160, 0, 0).Direction)
	require.Equal(t, "along", j.Edges().Longest(140, 0, 0).Direction, "it lies turned")
	require.Equal(t, "along", j.Edges().Longest(152.5, 0.03, 0).Direction, "cut for 3 % it is 157 cm wide")
	j.Parts[0].Grain = OnBias
	require.Equal(t, "bias", j.Edges().Longest(300, 0, 0).Direction)
}
