package advise

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/hang"
)

// The table of a question's flap stays within 0.1 % of the mechanics.
func TestStandTable(t *testing.T) {
	for _, k := range []flapKind{{10, 0, 1, 1}, {10, 1.2, 2, 2}, {6, 2, 4, 3}, {15, 5, 1.5, 2}} {
		table := new(tables).standOff(k)
		worst := 0.0
		for c := 0.31; c < 12; c *= 1.0137 {
			want := exactStandOff(k, c)
			worst = math.Max(worst, math.Abs(table.at(c)-want)/want)
		}
		require.Less(t, worst, 0.001, "flap %+v", k)
	}
}

// The stack worked out in the loop is that of the mechanics package.
func TestStackIsThatOfHang(t *testing.T) {
	m := makeUp(t, "hooded-wrap, dropped-in-lining, shell mass 200 g/m2, shell bending-length 2.5 cm, lining mass 70 g/m2, lining bending-length 1.5 cm")
	j := adviser(t).judge(m)
	want := hang.StackFree(hang.Layer{Mass: 200, BendingLength: 2.5}, hang.Layer{Mass: 70, BendingLength: 1.5}).BendingLength
	got := estimateOf(j.whole.bend, "cm", nil, "", nil)
	lo, hi := joinedStiffening(m.Finish.Joined, 2)
	require.InDelta(t, float64(want)*math.Sqrt(lo*hi), got.Typical, 0.01)
	// the layers' own worked example: 2.318 cm (formulas for loose layers, computed)
	require.InDelta(t, 2.318, float64(want), 0.001)
}
