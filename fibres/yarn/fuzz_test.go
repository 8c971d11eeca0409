package yarn

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// FuzzParseCount: nothing panics; what parses is a yarn, and prints and parses back.
func FuzzParseCount(f *testing.F) {
	for _, s := range []string{"Ne 60/2", "150 den", "20x2 tex", "Nm 34/2", "40 lea", "29,5tex", "", "/", "x2 tex", "Ne 1e9", "\xff 3", "Ne 60/2/2"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		c, err := ParseCount(s)
		if err != nil {
			return
		}
		d, err := LinearDensityFromCount(c)
		require.NoError(t, err)
		require.Greater(t, float64(d), 0.0)
		if d < 2*minTex || d > maxTex/2 {
			return // printing rounds, and may round out of the range
		}
		back, err := ParseCount(c.String())
		require.NoError(t, err, c.String())
		require.InEpsilon(t, c.Single, back.Single, 1e-5)
		require.Equal(t, c.Ply, back.Ply)
		require.Equal(t, c.System, back.System)
	})
}

// FuzzParseLiftPlan: nothing panics; what parses prints back and can be counted.
func FuzzParseLiftPlan(f *testing.F) {
	for _, s := range []string{"10;01", "110;011;101", " 10 ; 01 ", "", ";", "1;0", "12", "1100;0011"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		w, err := ParseLiftPlan(s)
		if err != nil {
			return
		}
		require.LessOrEqual(t, w.CrossingFirmness(), 2.0)
		require.Less(t, w.Floats().LongestFace(), max(w.Ends(), w.Picks()))
	})
}
