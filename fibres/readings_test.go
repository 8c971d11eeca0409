package fibres

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestReadingsHoldTheTruth draws cloths and readings as the customary spread has
// them: the interval must hold the truth about eight times in ten, whatever the
// number of readings.
func TestReadingsHoldTheTruth(t *testing.T) {
	const customary, reading = 0.03, 0.02
	for _, n := range []int{1, 2, 3, 6} {
		r := rand.New(rand.NewPCG(7, uint64(n)))
		held := 0
		const rounds = 4000
		for range rounds {
			truth := 150 * math.Exp(0.3*r.NormFloat64())
			tool := reading / z90 * r.NormFloat64() // the same in every reading
			var values []float64
			for range n {
				values = append(values, truth*math.Exp(customary*r.NormFloat64()+tool))
			}
			e := FromReadings(Mass, values, customary, reading, "")
			require.Equal(t, Measured, e.Basis)
			require.Equal(t, n, e.Count)
			if e.Low <= truth && truth <= e.High {
				held++
			}
		}
		part := float64(held) / rounds
		require.InDelta(t, 0.82, part, 0.05, "%d readings", n)
	}
}

func TestMoreReadingsSayMore(t *testing.T) {
	width := func(n int) float64 {
		v := make([]float64, n)
		for i := range v {
			v[i] = 150
		}
		e := FromReadings(Mass, v, 0.03, 0.01, "")
		return e.High / e.Low
	}
	require.Greater(t, width(1), width(2))
	require.Greater(t, width(2), width(6))
	require.Greater(t, width(6), math.Exp(0.02), "the scale's own error does not average out")
}

func TestReadingsOfNothing(t *testing.T) {
	for _, v := range [][]float64{nil, {0}, {-3}, {150, math.NaN()}} {
		require.False(t, FromReadings(Mass, v, 0.03, 0.02, "").Known(), "%v", v)
	}
	e := FromReadings(ShrinkWarp, []float64{-1, -2}, 0.5, 0.5, "")
	require.True(t, e.Known(), "a cloth may grow")
	require.InDelta(t, -1.5, e.Typical, 1e-12)
}

func TestPart(t *testing.T) {
	e := Figure(Mass, 80, 120, 180, Practice, "", "practice")
	for _, c := range []struct{ v, part float64 }{{80, 0.1}, {120, 0.5}, {180, 0.9}} {
		got, ok := e.Part(c.v)
		require.True(t, ok)
		require.InDelta(t, c.part, got, 1e-9)
	}
	f := Figure(Fray, 0, 1, 2, Practice, "", "practice")
	low, _ := f.Part(0)
	mid, _ := f.Part(1)
	high, _ := f.Part(3)
	require.Less(t, low, mid)
	require.InDelta(t, 0.5, mid, 0.01)
	require.Equal(t, 1.0, high)
	_, ok := unknown(Fray, "").Part(1)
	require.False(t, ok)
}

// TestEveryHomeTestHasItsPage: what can be recorded can be printed and done.
func TestEveryHomeTestHasItsPage(t *testing.T) {
	kinds, drawn := 0, 0
	for id, h := range Tests {
		require.Equal(t, id, h.ID)
		require.NotEmpty(t, h.How)
		if h.Kind == "" {
			continue
		}
		kinds++
		require.NotEmpty(t, h.Needs, id)
		require.NotEmpty(t, h.Steps, id)
		require.NotEmpty(t, h.Error, id)
		require.NotEmpty(t, h.Enter, id)
		if h.Figure != "" { // what is graded by eye or hand needs no drawing
			drawn++
		}
		for _, l := range splitLines(h.Figure) {
			require.LessOrEqual(t, len(l), 60, "%s: %s", id, l)
			for _, r := range l {
				require.True(t, r >= ' ' && r <= '~', "%s is drawn in plain letters: %q", id, l)
			}
		}
		got, ok := TestOfKind(h.Kind)
		require.True(t, ok)
		require.Equal(t, id, got.ID, "one test for each kind")
	}
	require.GreaterOrEqual(t, kinds, 25)
	require.GreaterOrEqual(t, drawn, 11, "what is measured is drawn")
	_, ok := TestOfKind("")
	require.False(t, ok)
	for p := range NumProperties {
		_, ok := Tests[Properties[p].Test]
		require.True(t, ok, "%s has no test", p)
	}
	require.Len(t, TestIDs(), len(Tests))
	require.Contains(t, Tests["heart-loop"].Settles(), BendingLength)
	require.Contains(t, Tests["wash-swatch"].Settles(), ShrinkWeft)
	require.Equal(t, []Property{Mass}, Tests["scale"].Settles())
	require.Equal(t, Tests["ruler-droop"].Settles()[:4], Tests["heart-loop"].Settles(), "a loop tells what a droop tells, but the hand")
}

func splitLines(s string) []string {
	var out []string
	for len(s) > 0 {
		i := 0
		for i < len(s) && s[i] != '\n' {
			i++
		}
		out = append(out, s[:i])
		s = s[min(i+1, len(s)):]
	}
	return out
}

// Student's 90th percentile from four degrees of freedom on, against the distribution
// itself. Source: SciPy 1.x, stats.t.ppf(0.9, n); tolerance that of the expansion.
func TestStudent(t *testing.T) {
	for freedom, want := range map[float64]float64{4: 1.533206, 5: 1.475884, 6: 1.439756, 10: 1.372184, 30: 1.310415} {
		require.InDelta(t, want, student(freedom), 0.1/(freedom*freedom*freedom*freedom), "%g", freedom)
	}
}

// Readings pooled with the customary spread for four of them, computed apart from the
// code in SciPy from the formula of FromReadings.
func TestPooledReadings(t *testing.T) {
	mean, half, spread := Pool([]float64{2, 3.5, 3.5}, 0.5, 0.3)
	require.InDelta(t, 3, mean, 1e-9)
	require.InDelta(t, 0.61474, half, 0.001)
	require.InDelta(t, 0.866025, spread, 1e-6)
	_, half, spread = Pool([]float64{2}, 0.5, 0.3)
	require.InDelta(t, 0.82321, half, 0.001)
	require.Zero(t, spread, "one reading does not scatter")
	e := FromReadings(Mass, []float64{100, 110, 130}, 0.03, 0.02, "")
	require.InDelta(t, 112.6623, e.Typical, 1e-3)
	require.InDelta(t, 105.063, e.Low, 0.02)
	require.InDelta(t, 120.811, e.High, 0.02)
	require.InDelta(t, 0.132807, e.Spread, 1e-5)
	require.Equal(t, "your readings, 3 of them", e.Because)
	require.Equal(t, "as told", FromReadings(Mass, []float64{1}, 0.03, 0.02, "as told").Because)
}

// Which part of a name has less: of a grade the levels below and half of its own.
func TestPartOfAGrade(t *testing.T) {
	e := Figure(Fray, 0, 1, 3, Practice, "", "practice") // a tenth to 0, the middle at 1, a tenth at 3
	for level, want := range map[float64]float64{0: 0.15, 1: 0.45, 2: 0.7, 3: 0.9} {
		// levels change at 0.3, 0.6 and 0.8 of the population: straight lines from 0.1 to 0.5 to 0.9
		got, _ := e.Part(level)
		require.InDelta(t, want, got, 0.002, "%g", level)
	}
	one := Figure(Mass, 120, 120, 120, Practice, "", "practice")
	for v, want := range map[float64]float64{119: 0, 120: 0.5, 121: 1} {
		got, ok := one.Part(v)
		require.True(t, ok)
		require.Equal(t, want, got)
	}
}
