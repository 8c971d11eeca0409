package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/data"
	"tenter/fibres"
)

// Shell and lining part by what each loses on the longest edge: nothing where they are the
// same cloth member by member, by hand where both figures are single ones.
func TestHowFarLayersPart(t *testing.T) {
	a := adviser(t)
	of := func(shell, lining string) ([]float64, bool) {
		m := makeUp(t, "half-circle-cape, bagged-lining, "+shell+", "+lining)
		return a.gap(m, a.sample(m.Shell, fibres.ShellSalt), a.sample(m.Lining, fibres.LiningSalt))
	}
	figures := func(layer, warp, weft string) string {
		return layer + " mass 200 g/m2, " + layer + " wash warm, " + layer + " shrink-warp " + warp + ", " + layer + " shrink-weft " + weft
	}
	same, dry := of(figures("shell", "3 %", "3 %"), figures("lining", "3 %", "3 %"))
	require.False(t, dry)
	require.InDelta(t, 0, same[0], 1e-9, "what shrinks alike stays together")
	two, _ := of(figures("shell", "4 %", "4 %"), figures("lining", "1 %", "1 %"))
	back, _ := of(figures("shell", "1 %", "1 %"), figures("lining", "4 %", "4 %"))
	require.InDelta(t, two[0], back[0], 1e-9, "whichever of the two shrinks more")
	one, _ := of(figures("shell", "2.5 %", "2.5 %"), figures("lining", "1 %", "1 %"))
	require.InEpsilon(t, 2, two[0]/one[0], 1e-6, "twice the difference parts them twice as far")
	_, dry = of(figures("shell", "4 %", "4 %"), "lining mass 80 g/m2, lining wash dry-clean, lining shrink-warp 1 %, lining shrink-weft 1 %")
	require.True(t, dry, "where one is not washed neither is")
	unknown, _ := of("shell mass 200 g/m2", figures("lining", "1 %", "1 %"))
	require.Nil(t, unknown)
}

// What a cloth lined with itself was asked for changes nothing of what it is told as the
// lining of another: the gap hangs on the members, which are its shell's in the one and
// its own in the other.
func TestAnAnswerHangsOnNoneBefore(t *testing.T) {
	a, err := Load(data.FS) // whose answers nobody has asked for
	require.NoError(t, err)
	gap := func(a *Adviser, shell string) float64 {
		ans, err := a.Pair(makeUp(t, "triangular-shawl, bagged-lining, shell "+shell+", lining viscose-challis"), false, 1)
		require.NoError(t, err)
		require.NotNil(t, ans.Pairs[0].Gap)
		return ans.Pairs[0].Gap.Typical
	}
	want := gap(a, "cotton-lawn")
	b, err := Load(data.FS)
	require.NoError(t, err)
	require.Zero(t, gap(b, "viscose-challis"), "one bolt shrinks alike")
	require.Equal(t, want, gap(b, "cotton-lawn"))
}
