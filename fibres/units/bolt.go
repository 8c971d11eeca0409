package units

import (
	"math"
	"strings"
)

// Bought is a length as it is cut in a shop, rounded up: to 5 cm, or to the
// eighth of a yard.
func (l Length) Bought(sys System) Length {
	step := 5.0
	if sys == Imperial {
		step = float64(Yard) / 8
	}
	return Length(math.Ceil(float64(l)/step-1e-6) * step)
}

// OffTheBolt writes a length as it is asked for in a shop, see [Length.Bought].
func (l Length) OffTheBolt(sys System) string {
	return sys.Shown(l.Bought(Metric).In(Metric), fraction(float64(l.Bought(Imperial)/Yard), 8)+" yd")
}

// Tape writes a length as it is read off a tape: to the millimetre in centimetres,
// or to the eighth of an inch.
func (l Length) Tape(sys System) string {
	inches := fraction(float64(l/Inch), 8) + " in"
	switch sys {
	case Imperial:
		return inches
	case Both:
		return l.Centimetres() + " (" + inches + ")"
	}
	return l.Centimetres()
}

// AtLeast is [Length.Tape] rounded up, to whole centimetres or the eighth of an inch:
// what is that long is long enough.
func (l Length) AtLeast(sys System) string {
	if sys == Imperial {
		return Length(math.Ceil(float64(l/Inch)*8-1e-6) / 8 * float64(Inch)).Tape(sys)
	}
	return Length(math.Ceil(float64(l) - 1e-6)).Tape(sys)
}

// AtMost is [Length.Tape] rounded down: what is that long is not too long.
func (l Length) AtMost(sys System) string {
	if sys == Imperial {
		return Length(math.Floor(float64(l/Inch)*8+1e-6) / 8 * float64(Inch)).Tape(sys)
	}
	return Length(math.Floor(float64(l)*10+1e-6) / 10).Tape(sys)
}

// TapeBy writes a width by a height as they are read off a tape.
func TapeBy(width, height Length, sys System) string {
	metric := strings.TrimSuffix(width.Centimetres(), " cm") + " × " + height.Centimetres()
	imperial := strings.TrimSuffix(width.Tape(Imperial), " in") + " × " + height.Tape(Imperial)
	return sys.Shown(metric, imperial)
}
