package hang

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/units"
)

// uniform is a level flap of one segment.
func uniform(length, c units.Length) Flap {
	return Flap{Segments: []Segment{{length, RigidityFromBendingLength(c, 150), 150}}}
}

func TestStandOffAgainstHang(t *testing.T) {
	worstReach, worstDrop := 0.0, 0.0
	for lc := 0.05; lc < 60; lc *= 1.0037 {
		f, err := Hang(uniform(units.Length(lc), 1), 0)
		require.NoError(t, err)
		worstReach = math.Max(worstReach, math.Abs(float64(StandOff(units.Length(lc), 1)-f.StandOff))/lc)
		y := math.Pow(lc, -1.5)
		worstDrop = math.Max(worstDrop, math.Abs(uniformDrop(y)-float64(f.Drop)/lc))
	}
	t.Logf("worst error: reach %.1e L, drop %.1e L", worstReach, worstDrop)
	require.Less(t, worstReach, 1e-8)
	require.Less(t, worstDrop, 1e-8)
}

// stripped is a level flap with an edge strip, as [Hang] takes it.
func stripped(length, c, strip units.Length, rigidity, mass float64) Flap {
	g := RigidityFromBendingLength(c, 150)
	return Flap{Segments: []Segment{
		{length - strip, g, 150},
		{strip, g * units.Rigidity(rigidity), units.ArealMass(150 * mass)},
	}}
}

// The accuracy that StandOffStrip's comment states.
func TestStandOffStripAgainstHang(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	between := func(a, b float64) float64 { return a + (b-a)*rng.Float64() }
	worst, squares, n := 0.0, 0.0, 4000
	for range n {
		const length = 10
		c := units.Length(length / math.Exp(between(math.Log(0.3), math.Log(15))))
		strip := units.Length(length * between(0, 0.5))
		mass, soft := between(0.5, 6), between(0, 2)
		rigidity := 1 / math.Max(soft, 1e-3)
		f, err := Hang(stripped(length, c, strip, rigidity, mass), 0)
		require.NoError(t, err)
		off := math.Abs(float64(StandOffStrip(length, c, strip, rigidity, mass)-f.StandOff)) / length
		worst = math.Max(worst, off)
		squares += off * off
	}
	rms := math.Sqrt(squares / float64(n))
	t.Logf("worst %.1e L, root mean square %.1e L", worst, rms)
	require.Less(t, worst, 1.5e-3)
	require.Less(t, rms, 2e-4)
}

// Outside the table the elastica itself is solved.
func TestStandOffStripOutsideTheTable(t *testing.T) {
	for _, s := range []struct {
		strip          units.Length
		rigidity, mass float64
	}{{6, 2, 2}, {2, 0.3, 2}, {2, 5, 9}, {2, 1, 0.2}, {9.99, 3, 3}} {
		f, err := Hang(stripped(10, 3, s.strip, s.rigidity, s.mass), 0)
		require.NoError(t, err)
		require.InDelta(t, float64(f.StandOff), float64(StandOffStrip(10, 3, s.strip, s.rigidity, s.mass)), 1e-9)
	}
}

func TestStandOffStripAtItsEdges(t *testing.T) {
	plain := StandOff(10, 2)
	require.Equal(t, plain, StandOffStrip(10, 2, 0, 4, 2))
	require.Equal(t, plain, StandOffStrip(10, 2, 3, 1, 1))
	require.InDelta(t, float64(plain), float64(StandOffStrip(10, 2, 1e-6, 4, 2)), 1e-5)
	require.Equal(t, StandOff(10, 4), StandOffStrip(10, 2, 10, 8, 1), "a strip as long as the flap")
	require.Equal(t, StandOff(10, 4), StandOffStrip(10, 2, 30, 8, 1), "a strip longer than the flap")
	require.Equal(t, units.Length(0), StandOffStrip(10, 0, 1, 2, 2))
	require.Equal(t, units.Length(0), StandOffStrip(0, 2, 0, 2, 2))
	for _, bad := range []units.Length{StandOff(-1, 2), StandOff(1, -2), StandOff(units.Length(math.NaN()), 1),
		StandOffStrip(10, 2, -1, 2, 2), StandOffStrip(10, 2, 1, 0, 2), StandOffStrip(10, 2, 1, 2, math.NaN())} {
		require.True(t, math.IsNaN(float64(bad)))
	}
}

// A strip on a flap of hundreds of bending lengths, where the elastica is no longer solved:
// it stands off as [Hang] says just below, scaled as the bend at the clamp is, √(c³/L).
func TestStandOffStripOfVeryLongFlaps(t *testing.T) {
	for _, e := range []struct{ part, rigidity, mass float64 }{{0.001, 85, 39}, {0.1, 0.2, 9}, {0.5, 20, 8}, {0.9, 0.05, 2}, {0.9, 3, 0.05}} {
		const below, above = 0.999 * longFlap, 1.001 * longFlap
		solved := StandOffStrip(below, 1, units.Length(e.part*below), e.rigidity, e.mass)
		got := StandOffStrip(above, 1, units.Length(e.part*above), e.rigidity, e.mass)
		want := float64(solved) * math.Sqrt(below/above)
		require.InEpsilon(t, want, float64(got), 1e-4, "%+v", e)
	}
}
