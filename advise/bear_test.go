package advise

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Common practice (USDA and extension leaflets on linings give the rule that a lining
// is lighter than its shell; the strength layer of a boned bodice is its exception):
// what bears under a shell counts, and is not blamed for its weight.
func TestTheLayerThatBearsCounts(t *testing.T) {
	a := adviser(t)
	strong := a.judge(makeUp(t, "boned-bodice, bound-together, shell silk-dupion, lining coutil"))
	weak := a.judge(makeUp(t, "boned-bodice, bound-together, shell silk-dupion, lining silk-habotai"))
	require.Equal(t, "foundation", strong.job.ID)
	require.Greater(t, strong.share, weak.share+0.3)
	require.NotEqual(t, Unsuited, strong.verdict)
	require.Equal(t, Unsuited, weak.verdict)
	for _, r := range a.say(strong).Reasons {
		require.NotEqual(t, "lining-is-no-heavier-than-the-shell", r.Rule)
	}
}

// Two half-sheer layers hide more than one, and the order does not count; what is opaque
// hides whatever lies on it; two nets are still seen through. Source: common practice.
func TestTwoHalfSheerLayersHideMoreThanOne(t *testing.T) {
	for x := range 4 {
		for y := range 4 {
			both := through(float64(x), float64(y))
			require.Less(t, both, float64(min(x, y))+1e-9, "%d on %d", x, y)
			require.Equal(t, both, through(float64(y), float64(x)), "%d on %d", x, y)
		}
	}
	require.Zero(t, through(0, 3))
	require.InDelta(t, 1, through(2, 2), 0.3, "two half-sheer layers are nearly opaque")
	require.Greater(t, through(3, 3), 2.0)
	require.InDelta(t, 2, lightGrade(lightThrough(2)), 1e-9)
}
