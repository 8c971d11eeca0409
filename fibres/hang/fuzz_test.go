package hang

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// FuzzHang: any three numbers and a clamp give a fall without NaN, or a fault;
// never a panic.
func FuzzHang(f *testing.F) {
	f.Add(10.0, 20.0, 150.0, 0.0, 1.0, 40.0, 300.0)
	f.Add(math.NaN(), 1.0, 1.0, 0.0, 1.0, 1.0, 1.0)
	f.Add(-1.0, 1.0, 1.0, -90.0, 1.0, 1.0, 1.0)
	f.Add(1.0, 0.0, math.Inf(1), 90.0, 1.0, 1.0, 1.0)
	f.Add(1e-300, 1e300, 1e-300, 91.0, 1.0, 1.0, 1.0)
	f.Fuzz(func(t *testing.T, l, g, w, clamp, l2, g2, w2 float64) {
		fall, err := Hang(Flap{units.Angle(clamp), []Segment{
			{units.Length(l), units.Rigidity(g), units.ArealMass(w)},
			{units.Length(l2), units.Rigidity(g2), units.ArealMass(w2)},
		}}, 3)
		if err != nil {
			return
		}
		for _, x := range []float64{float64(fall.StandOff), float64(fall.Drop), float64(fall.EndAngle), float64(fall.ChordAngle)} {
			require.False(t, math.IsNaN(x), "%+v", fall)
		}
		require.Len(t, fall.Points, 3)
	})
}

// FuzzTests: every home test takes any numbers and answers over 0 and finite, or
// with a fault that says what was expected.
func FuzzTests(f *testing.F) {
	f.Add(7.0, 41.5, 3.0)
	f.Add(math.NaN(), math.NaN(), math.NaN())
	f.Add(-7.0, -1.0, -3.0)
	f.Add(0.0, 0.0, 0.0)
	f.Add(math.Inf(1), math.Inf(1), math.Inf(1))
	f.Fuzz(func(t *testing.T, l, angle, drop float64) {
		length, height := units.Length(l), units.Length(drop)
		for name, read := range map[string]func() (units.Length, error){
			"droop":    func() (units.Length, error) { return BendingLengthFromClosedForm(length, units.Angle(angle)) },
			"elastica": func() (units.Length, error) { return BendingLengthFromElastica(length, units.Angle(angle)) },
			"drop":     func() (units.Length, error) { return BendingLengthFromDrop(length, height) },
			"fixed":    func() (units.Length, error) { return BendingLengthFromFixedAngle(length) },
			"loop":     func() (units.Length, error) { return BendingLengthFromLoop(Heart, length, height) },
			"off grain": func() (units.Length, error) {
				return OffGrain(length, height, 0, units.Angle(angle))
			},
			"overall": func() (units.Length, error) { return Overall(length, height) },
		} {
			c, err := read()
			if err != nil {
				var x *fault.Fault
				require.True(t, errors.As(err, &x), name)
				require.Equal(t, fault.OutsideRange, x.Kind, name)
				require.NotEmpty(t, x.Expected, name)
				require.NotEmpty(t, x.Mend, name)
				continue
			}
			// Products of extreme figures may leave the range of a float.
			if l > 1e-90 && l < 1e90 && drop < 1e90 && (drop > 1e-90 || drop <= 0) {
				require.True(t, c > 0 && !math.IsInf(float64(c), 0), "%s: %v", name, c)
			}
		}
	})
}

// FuzzFast: what is asked hundreds of thousands of times neither panics nor gives
// a figure for nonsense.
func FuzzFast(f *testing.F) {
	f.Add(10.0, 2.0, 1.2, 3.0, 2.0)
	f.Add(math.NaN(), 2.0, 1.2, 3.0, 2.0)
	f.Add(10.0, -2.0, 1.2, 3.0, 2.0)
	f.Add(10.0, 2.0, math.Inf(1), 1e300, 1e-300)
	f.Fuzz(func(t *testing.T, length, c, strip, rigidity, mass float64) {
		l, b := units.Length(length), units.Length(c)
		s := StandOff(l, b)
		sane := length >= 0 && c >= 0
		if !sane {
			require.True(t, math.IsNaN(float64(s)))
		} else if length < 1e100 && c < 1e100 {
			require.True(t, s >= 0 && float64(s) <= length*(1+1e-9), "%v", s)
		}
		x := StandOffStrip(l, b, units.Length(strip), rigidity, mass)
		if !sane || !(strip >= 0) || !(rigidity > 0) || !(mass > 0) {
			require.True(t, math.IsNaN(float64(x)))
		}
		FoldWidth(b, l)
		FoldCount(l, b, units.Length(strip))
		low, typical, high := DrapeCoefficient(b)
		if c >= 0 {
			require.True(t, 0 <= low && low <= typical && typical <= high && high <= 100, "%v %v %v", low, typical, high)
		}
		h := Band(b)
		from, to := BandRange(h)
		if c > 0 && c < 9 {
			require.True(t, from <= b && b < to)
		}
		StackJoined(rigidity, Layer{units.ArealMass(length), b}, Layer{units.ArealMass(mass), b})
		RectangleOverDisc(b, l, units.Length(strip), units.Length(mass))
	})
}
