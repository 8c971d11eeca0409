package hang

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/units"
)

// uniform is a level flap of one segment.
func uniform(length, c units.Length) Flap {
	return Flap{Segments: []Segment{{length, RigidityFromBendingLength(c, 150), 150}}}
}

func TestStandOffAgainstHang(t *testing.T) {
	worstReach, worstDrop := 0.0, 0.0
	for lc := 0.05; lc < 60; lc *= 1.0037 {
		f, err := Hang(uniform(units.Length(lc), 1), 0)
		require.NoError(t, err)
		worstReach = math.Max(worstReach, math.Abs(float64(StandOff(units.Length(lc), 1)-f.StandOff))/lc)
		y := math.Pow(lc, -1.5)
		worstDrop = math.Max(worstDrop, math.Abs(uniformDrop(y)-float64(f.Drop)/lc))
	}
	t.Logf("worst error: reach %.1e L, drop %.1e L", worstReach, worstDrop)
	require.Less(t, worstReach, 1e-8)
	require.Less(t, worstDrop, 1e-8)
}
