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

// Where a strong layer is mounted on the shell of a laced bodice, or the shell is coutil
// itself, the lining inside only covers: lawn does, and nobody asks that it bear the bones.
// Named as an underlining or as the interfacing, coutil counts alike. Common practice.
func TestTheLiningInsideAFoundationOnlyCovers(t *testing.T) {
	a := adviser(t)
	for _, words := range []string{"boned-bodice, dropped-in-lining, shell silk-taffeta, lining cotton-lawn, layer underlining=coutil", "boned-bodice, bagged-lining, shell duchesse-satin, lining cotton-batiste, interfacing coutil",
		"corset, dropped-in-lining, shell coutil, lining cotton-lawn", "corset, underlined, shell silk-brocade, layer underlining=coutil"} {
		verdict, _ := a.Verdict(makeUp(t, words))
		require.Equal(t, Suits, verdict, words)
	}
	alone := a.judge(makeUp(t, "boned-bodice, dropped-in-lining, shell silk-taffeta, lining cotton-lawn"))
	require.Equal(t, Unsuited, alone.verdict)
	require.Equal(t, "foundation", alone.job.ID)
	weak := a.judge(makeUp(t, "boned-bodice, dropped-in-lining, shell silk-taffeta, lining cotton-lawn, layer underlining=silk-habotai"))
	require.Equal(t, Unsuited, weak.verdict, "what is mounted must bear")
	require.Equal(t, "inside-foundation", weak.job.ID)
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
