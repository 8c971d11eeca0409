package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// A preference steers by more or less of a property.
func TestWhatAPreferenceSteersBy(t *testing.T) {
	for prefer, want := range map[string]struct {
		p    fibres.Property
		sign float64
	}{"more warmth": {fibres.Warmth, 1}, "less mass": {fibres.Mass, -1}, "ease": {}, "most mass": {}, "more nothing": {}, "": {}} {
		p, sign := steered(prefer)
		require.Equal(t, want.sign, sign, prefer)
		if sign != 0 {
			require.Equal(t, want.p, p, prefer)
		}
	}
}

// Wishes are named one by one or parted by commas, each counted once; two that cannot
// both be so are refused, whichever is named first.
func TestWishesAsTheyAreSaid(t *testing.T) {
	a := adviser(t)
	list, err := a.WishesOf("warm, washable", "", "warm", " , ")
	require.NoError(t, err)
	m := MakeUp{Wishes: list}
	require.Equal(t, []string{"warm", "washable"}, m.wishIDs())
	require.True(t, m.Wished("warm"))
	require.False(t, m.Wished("cheap"))
	require.Equal(t, len(list[0].Demands)+len(list[1].Demands), len(wishDemands(m)))
	said := wishesSaid(m)
	require.Equal(t, WishSaid{"warm", list[0].Say}, said[0])
	tried := 0
	for _, w := range a.Wishes {
		for _, x := range w.Against {
			tried++
			for _, both := range [][]string{{w.ID, x}, {x, w.ID}} {
				_, err := a.WishesOf(both...)
				require.ErrorContains(t, err, "it cannot be", "%v", both)
			}
		}
	}
	require.Positive(t, tried)
	_, err = a.WishesOf("nonsense-wish, warm")
	require.ErrorContains(t, err, "nonsense-wish")
}
