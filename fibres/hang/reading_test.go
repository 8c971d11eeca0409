package hang

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// slid is a reading of the fixed-angle test.
func slid(overhang units.Length, d Direction, f Face) Reading {
	return Reading{Test: FixedAngle, Length: overhang, Direction: d, Face: f}
}

func TestEveryTestReadsTheSameCloth(t *testing.T) {
	const c = 2.0
	fall, err := Hang(uniform(3.6, c), 0)
	require.NoError(t, err)
	heart, err := LoopHeight(Heart, 10, c)
	require.NoError(t, err)
	ring, err := LoopHeight(Ring, 10, c)
	require.NoError(t, err)
	for _, r := range []Reading{
		{Test: FixedAngle, Length: 4},
		{Test: RulerDrop, Length: 3.6, Drop: fall.Drop},
		{Test: RulerDroop, Length: 3.6, Droop: fall.ChordAngle},
		{Test: HeartLoop, Length: 10, Drop: heart},
		{Test: RingLoop, Length: 10, Drop: ring},
	} {
		got, err := r.BendingLength()
		require.NoError(t, err)
		require.InEpsilon(t, c, float64(got), 1e-5, r.Test.String())
		e, err := r.Error()
		require.NoError(t, err)
		require.Greater(t, e, 0.0)
		most := 0.12
		if r.Test == HeartLoop || r.Test == RingLoop {
			most = 0.35 // loops are for cloth that nothing else can read
		}
		require.Less(t, e, most, "%v: %v", r.Test, e)
		require.Empty(t, r.Doubt(), r.Test.String())
	}
}

func TestOneReadingErrsAsTheRulerDoes(t *testing.T) {
	// 2 mm on 40 mm is 5 % in c.
	e, err := slid(4, AnyDirection, AnyFace).Error()
	require.NoError(t, err)
	require.InDelta(t, 0.05, e, 0.001)
	// And half the care doubles it.
	r := slid(4, AnyDirection, AnyFace)
	r.LengthError = 4 * units.Millimetre
	wide, err := r.Error()
	require.NoError(t, err)
	require.InDelta(t, 0.10, wide, 0.001)
}

func TestMoreReadingsNarrow(t *testing.T) {
	before := math.Inf(1)
	for _, n := range []int{1, 2, 4, 8, 16} {
		rs := make([]Reading, n)
		for i := range rs {
			rs[i] = slid(4, AnyDirection, AnyFace)
		}
		i, err := FromReadings(rs)
		require.NoError(t, err)
		require.InDelta(t, 2, float64(i.Typical), 1e-12)
		require.Less(t, i.half(), before)
		require.Greater(t, i.half(), 0.05, "the ruler's own error stays")
		before = i.half()
	}
}

func TestSpreadWidens(t *testing.T) {
	even, err := FromReadings([]Reading{slid(4, Warp, RightSide), slid(4, Warp, RightSide), slid(4, Warp, RightSide), slid(4, Warp, RightSide)})
	require.NoError(t, err)
	uneven, err := FromReadings([]Reading{slid(3, Warp, RightSide), slid(5, Warp, RightSide), slid(3, Warp, RightSide), slid(5, Warp, RightSide)})
	require.NoError(t, err)
	require.InDelta(t, float64(even.Typical), float64(uneven.Typical), 1e-12)
	require.Greater(t, uneven.half(), 1.5*even.half())
}

func TestFacesAndDirectionsAreNotSpread(t *testing.T) {
	// A curling cloth reads 3 and 5 on its faces: their mean is meant, and the
	// difference is no scatter.
	same, err := FromReadings([]Reading{slid(4, Warp, RightSide), slid(4, Warp, WrongSide)})
	require.NoError(t, err)
	faces, err := FromReadings([]Reading{slid(3, Warp, RightSide), slid(5, Warp, WrongSide)})
	require.NoError(t, err)
	require.InDelta(t, 2, float64(faces.Typical), 1e-12)
	require.InDelta(t, same.half(), faces.half(), 0.02)
	// More of one face does not draw the mean to it.
	faces, err = FromReadings([]Reading{slid(3, Warp, RightSide), slid(3, Warp, RightSide), slid(3, Warp, RightSide), slid(5, Warp, WrongSide)})
	require.NoError(t, err)
	require.InDelta(t, 2, float64(faces.Typical), 1e-12)
	// Warp and weft give √(warp · weft).
	both, err := FromReadings([]Reading{slid(4, Warp, RightSide), slid(9, Weft, RightSide)})
	require.NoError(t, err)
	require.InDelta(t, 3, float64(both.Typical), 1e-12)
}

func TestReadingsHoldTheTruth(t *testing.T) {
	// Strips scattered by 7.5 % in c, read to ±2 mm at 80 %: the interval of four
	// should hold the truth about eight times in ten.
	rng := newNormal(7)
	inside, n := 0, 2000
	for range n {
		ruler := rng() * 0.2 / tenth
		rs := make([]Reading, 4)
		for i := range rs {
			rs[i] = slid(units.Length(4*math.Exp(0.075*rng())+ruler), Warp, RightSide)
		}
		i, err := FromReadings(rs)
		require.NoError(t, err)
		if i.Low <= 2 && 2 <= i.High {
			inside++
		}
	}
	share := float64(inside) / float64(n)
	t.Logf("held %.3f", share)
	require.InDelta(t, 0.80, share, 0.04)
}

func TestOrderOfReadingsDoesNotMatter(t *testing.T) {
	a := []Reading{slid(4, Warp, RightSide), slid(5, Weft, WrongSide), slid(4.2, Warp, WrongSide), slid(3.9, Weft, RightSide)}
	b := []Reading{a[2], a[3], a[1], a[0]}
	x, err := FromReadings(a)
	require.NoError(t, err)
	y, err := FromReadings(b)
	require.NoError(t, err)
	require.Equal(t, x, y)
}

func TestReadingsRefused(t *testing.T) {
	for name, rs := range map[string][]Reading{
		"none":                     nil,
		"some without a direction": {slid(4, Warp, AnyFace), slid(4, AnyDirection, AnyFace)},
		"bias among the others":    {slid(4, Warp, AnyFace), slid(4, Bias, AnyFace)},
		"no length":                {slid(0, Warp, AnyFace)},
		"not a number":             {slid(units.Length(math.NaN()), Warp, AnyFace)},
		"unknown test":             {{Test: 99, Length: 4}},
		"negative error":           {{Test: FixedAngle, Length: 4, LengthError: -1}},
	} {
		_, err := FromReadings(rs)
		require.Error(t, err, name)
		for _, f := range fault.All(err) {
			require.Equal(t, fault.OutsideRange, f.Kind, name)
			require.NotEmpty(t, f.Mend, name)
		}
	}
	// All at once, each at its number.
	_, err := FromReadings([]Reading{slid(4, Warp, AnyFace), slid(0, Warp, AnyFace), slid(-1, Warp, AnyFace)})
	require.Len(t, fault.All(err), 2)
	require.ErrorContains(t, err, "reading 2, overhang")
	require.ErrorContains(t, err, "reading 3, overhang")
}

// Source: Student's table, common practice: 90th percentiles. Tolerance 0.003.
func TestStudent(t *testing.T) {
	for freedom, want := range map[float64]float64{4: 1.533, 5: 1.476, 10: 1.372, 30: 1.310, 1e9: 1.2816} {
		require.InDelta(t, want, student(freedom), 0.003)
	}
}

// Source: own count over the 251 cloths of Feng and others 2022: medians 0.937 and
// 1.067, spread 0.113 in ln.
func TestOverallFromOne(t *testing.T) {
	sharp := Interval{2, 2, 2}
	warp, err := OverallFromOne(Warp, sharp)
	require.NoError(t, err)
	require.InDelta(t, 1.874, float64(warp.Typical), 1e-9)
	require.InDelta(t, 1.874*math.Exp(tenth*0.113), float64(warp.High), 1e-9)
	weft, err := OverallFromOne(Weft, Interval{1.8, 2, 2.2})
	require.NoError(t, err)
	require.InDelta(t, 2.134, float64(weft.Typical), 1e-9)
	require.Greater(t, weft.half(), warp.half(), "a wide reading stays wide")
	for _, d := range []Direction{AnyDirection, Bias} {
		_, err = OverallFromOne(d, sharp)
		require.Error(t, err)
	}
	for _, i := range []Interval{{}, {3, 2, 1}, {2, 2, units.Length(math.Inf(1))}, {units.Length(math.NaN()), 1, 2}} {
		_, err = OverallFromOne(Warp, i)
		require.Error(t, err)
	}
}

func TestWhichTestFits(t *testing.T) {
	for _, c := range []struct {
		c    units.Length
		want Test
		say  string
	}{
		{0, FixedAngle, "not known"}, {units.Length(math.NaN()), FixedAngle, "not known"},
		{0.5, HeartLoop, "limp"}, {2, FixedAngle, "usual"}, {8, RulerDrop, "stiff"},
	} {
		got, say := TestFor(c.c)
		require.Equal(t, c.want, got, c.say)
		require.NotEmpty(t, say)
	}
}

func TestDoubtfulReadings(t *testing.T) {
	require.Contains(t, Reading{Test: RulerDroop, Length: 4, Droop: 8}.Doubt(), "hardly droops")
	require.Contains(t, Reading{Test: RulerDroop, Length: 4, Droop: 75}.Doubt(), "nearly plumb")
	require.Contains(t, slid(1, Warp, AnyFace).Doubt(), "heart loop")
	short, err := LoopHeight(Heart, 10, 4.5)
	require.NoError(t, err)
	require.Contains(t, Reading{Test: HeartLoop, Length: 10, Drop: short}.Doubt(), "longer strip")
	long, err := LoopHeight(Heart, 10, 1)
	require.NoError(t, err)
	require.Contains(t, Reading{Test: HeartLoop, Length: 10, Drop: long}.Doubt(), "shorter strip")
}

// newNormal returns a source of standard normal numbers.
func newNormal(seed uint64) func() float64 {
	return rand.New(rand.NewPCG(seed, seed)).NormFloat64
}
