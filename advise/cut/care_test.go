package cut

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

func lost(v float64) fibres.Estimate {
	return fibres.Figure(fibres.ShrinkWarp, v, v, v, fibres.Practice, "", "practice")
}

// What later washes take is reckoned of the cloth that the first has left, by hand: 7 % in
// all and 4 % at first leave 1 − 0.93/0.96 = 3.125 %. A cloth that felts is not washed again.
func TestWhatIsLeftAfterTheFirstWash(t *testing.T) {
	e := left(lost(7), lost(4))
	require.InDelta(t, 3.125, e.Typical, 1e-9)
	require.Zero(t, left(lost(3), lost(4)).Typical, "all of it went in the first")
	require.False(t, left(fibres.Estimate{Basis: fibres.Unknown}, lost(4)).Known())
	c := Care{LeftWarp: e}
	require.Equal(t, "Wash the shell twice: after one wash it still loses about 3.1 %.", c.Again("shell", "3.1"))
	c.Felts = "it felts"
	require.Contains(t, c.Again("shell", "3.1"), "once only")
	require.Empty(t, Care{LeftWarp: lost(0.4)}.Again("shell", "0.4"))
}

// What can burn or felt is said; what was washed already is not washed again.
func TestCareSaysWhatCanHurt(t *testing.T) {
	require.Contains(t, careOf(Layer{Name: "interfacing"}).Cautions[0], "burn")
	require.Contains(t, careOf(Layer{Name: "shell", Prewashed: true}).Say, "has had its first wash")
	require.Contains(t, careOf(Layer{Name: "shell", Treatment: DryCleaned}).Say, "Do not wash the shell")
	require.Contains(t, careOf(Layer{Name: "shell"}).Say, "scrap", "nobody has told how it washes")
}
