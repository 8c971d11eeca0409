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

// Each layer hides its part: two half-sheer layers hide more than one, a second net hides nothing.
func TestTwoHalfSheerLayersHideMoreThanOne(t *testing.T) {
	require.Equal(t, 3.0, through(3, 3))
	require.Equal(t, 2.0, through(2, 3))
	require.Equal(t, 1.0, through(2, 2))
	require.Equal(t, 0.0, through(0, 3))
}
