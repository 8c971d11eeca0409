package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/cut"
)

// Source: common practice: packets of machine needles print both sizes, 80/12, 90/14, 100/16; 10
// stitches to the inch are 2.5 mm (25.4 / 2.5 = 10.2, exact inch).
func TestNeedleInBothSizes(t *testing.T) {
	for nm, us := range map[float64]float64{60: 8, 70: 10, 75: 11, 80: 12, 90: 14, 100: 16, 110: 18} {
		require.Equal(t, us, cut.NeedleUS(nm), "%v", nm)
	}
	a := adviser(t)
	ans, err := a.Advise(makeUp(t, "cowl, single-layer-bound-edge, shell double-gauze"), 1)
	require.NoError(t, err)
	require.Equal(t, "Standard point 80 (US 12) first; 75–90 will do. Stitch 2.5 mm (10 to the inch).", ans.Needle.Say)
	require.Equal(t, "2", between(2, 2))
	require.Equal(t, "2–2.5", between(2, 2.5))
	for _, n := range a.Needles {
		require.LessOrEqual(t, cut.NeedleUS(n.NeedleLow), cut.NeedleUS(n.NeedleHigh), n.ID)
	}
}
