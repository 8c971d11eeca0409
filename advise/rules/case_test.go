package rules

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestALevelOffTheScaleIsUnknown(t *testing.T) {
	s := testSchema(t)
	c, fray := s.NewCase(4), fact(t, s, "shell.fray")
	for level, want := range map[int]State{-1: Unknown, 0: Known, 63: Known, 64: Unknown} {
		c.SetLevel(fray, level)
		require.Equal(t, want, c.Column(fray).State, "%d", level)
	}
	c.SetLevel(fray, 3)
	require.Equal(t, []float64{3}, c.Column(fray).Num)
	c.SetFlag(fact(t, s, "seam.sheer"), true)
	require.Equal(t, []float64{1}, c.Column(fact(t, s, "seam.sheer")).Num)
}

// A number is one for all members or one each; any other count would let members of
// one fact stand beside members of another that they are not.
func TestANumberOfTheWrongCountIsUnknown(t *testing.T) {
	s := testSchema(t)
	c, mass := s.NewCase(3), fact(t, s, "shell.mass")
	for n, want := range []State{Unknown, Known, Unknown, Known, Unknown} {
		c.SetNumber(mass, make([]float64, n)...)
		require.Equal(t, want, c.Column(mass).State, "%d", n)
	}
}

func TestACopyAndAPatchTouchNothingElse(t *testing.T) {
	s := testSchema(t)
	c := s.NewCase(1)
	mass, fray, piece := fact(t, s, "shell.mass"), fact(t, s, "shell.fray"), fact(t, s, "piece")
	c.SetNumber(mass, 100)
	c.SetLevel(fray, 2)
	c.SetWord(piece, "cowl")
	other := c.With()
	other.SetNumber(mass, 200)
	other.SetAbsent(fray)
	other.Forget(piece)
	require.Equal(t, 100.0, c.Column(mass).Num[0], "the copy was changed, not the case")
	require.Equal(t, "cowl", c.Column(piece).Words[0])
	c.Lay(other.Cut(mass, fray))
	require.Equal(t, 200.0, c.Column(mass).Num[0])
	require.Equal(t, Absent, c.Column(fray).State)
	require.Equal(t, "cowl", c.Column(piece).Words[0], "what the patch does not name stays")
	c.SetWord(piece, "")
	require.Equal(t, Unknown, c.Column(piece).State)
}
