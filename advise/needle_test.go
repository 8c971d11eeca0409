package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// The rows of the needle table cover every mass once, and needle, thread and stitch grow
// with it. Source: common practice, finer needles for finer cloth.
func TestTheNeedleTableRises(t *testing.T) {
	a := adviser(t)
	require.Greater(t, len(a.Needles), 4)
	for i, n := range a.Needles {
		require.Less(t, n.MassLow, n.MassHigh, n.ID)
		require.LessOrEqual(t, n.NeedleLow, n.NeedleFirst, n.ID)
		require.LessOrEqual(t, n.NeedleFirst, n.NeedleHigh, n.ID)
		require.LessOrEqual(t, n.ThreadLow, n.ThreadHigh, n.ID)
		require.LessOrEqual(t, n.StitchLow, n.StitchHigh, n.ID)
		if i > 0 {
			before := a.Needles[i-1]
			require.Equal(t, before.MassHigh, n.MassLow, "%s begins where %s ends", n.ID, before.ID)
			require.Less(t, before.NeedleFirst, n.NeedleFirst)
			require.GreaterOrEqual(t, n.ThreadHigh, before.ThreadHigh)
			require.GreaterOrEqual(t, n.StitchHigh, before.StitchHigh)
		}
	}
}

// The needle follows the heavier of the layers, and there is none where no mass is known.
func TestTheNeedleIsThatOfTheHeavierLayer(t *testing.T) {
	a := adviser(t)
	first := func(words string) float64 {
		n, _ := a.stitching(makeUp(t, words), nil, nil)
		require.NotNil(t, n, words)
		return n.FirstNM
	}
	require.Equal(t, first("shell mass 300 g/m2"), first("shell mass 60 g/m2, lining mass 300 g/m2"))
	require.Equal(t, first("shell mass 300 g/m2"), first("shell mass 300 g/m2, lining mass 60 g/m2"))
	require.Greater(t, first("shell mass 300 g/m2"), first("shell mass 60 g/m2"))
	n, thread := a.stitching(MakeUp{Shell: &fibres.Subject{Name: "remnant", Swatch: true}}, nil, nil)
	require.Nil(t, n)
	require.Nil(t, thread)
	require.Nil(t, a.NeedleFor(fibres.Subject{Name: "remnant", Swatch: true}))
	n = a.NeedleFor(*makeUp(t, "shell denim").Shell)
	require.Contains(t, n.Say, "first;")
	require.Equal(t, 10.0, PerInch(2.5), "25.4 mm over 2.5 mm, in whole stitches")
	require.Equal(t, 8.0, PerInch(3))
}
