package units

import (
	"math"
	"strings"

	"tenter/fibres/fault"
)

// Range is a quantity known only between two ends, or the limits of one.
type Range[Q Measure] struct{ Low, High Q }

// Sizes beyond which a figure is a slip of the pen: a bolt of cloth is at most
// some hundred metres; gauze begins at 10 g/m2 and carpet ends near 2000.
var (
	LengthLimits      = Range[Length]{0, 500 * Metre}
	ThicknessLimits   = Range[Length]{0, 5 * Centimetre}
	ArealMassLimits   = Range[ArealMass]{5, 2000}
	TemperatureLimits = Range[Temperature]{0, 300}
	AngleLimits       = Range[Angle]{0, 180}
	FractionLimits    = Range[Fraction]{0, 1}
	RigidityLimits    = Range[Rigidity]{0, 1e6}
)

// Holds reports whether q lies in the range, ends included. Not a number never
// does.
func (r Range[Q]) Holds(q Q) bool { return q >= r.Low && q <= r.High }

// Single reports whether the range is one figure.
func (r Range[Q]) Single() bool { return r.Low == r.High }

// String writes base units, "120 to 150 g/m2"; it parses back.
func (r Range[Q]) String() string {
	if r.Single() {
		return r.High.String()
	}
	return r.Low.String() + " to " + r.High.String()
}

// In writes the range as a maker says it, both ends in the unit that suits the
// upper one: "120 to 150 g/m2".
func (r Range[Q]) In(sys System) string {
	if sys != Both {
		return r.in(sys)
	}
	m, i := r.in(Metric), r.in(Imperial)
	if m == i {
		return m
	}
	return m + " (" + i + ")"
}

func (r Range[Q]) in(sys System) string {
	for _, v := range []float64{float64(r.Low), float64(r.High)} {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return "not known"
		}
	}
	low, _ := r.Low.show(sys, float64(r.High), r.Single())
	high, unit := r.High.show(sys, float64(r.High), r.Single())
	gap := " "
	if unit == "°" {
		gap = ""
	}
	if low == high || r.Single() {
		return high + gap + unit
	}
	return low + " to " + high + gap + unit
}

// FormatRange writes the range from low to high; see [Range.In].
func FormatRange[Q Measure](low, high Q, sys System) string {
	return Range[Q]{low, high}.In(sys)
}

// Within returns a [fault.Fault] when q is outside the limits, ends included,
// or not a number. what names the figure: the flag, the cell, what was typed.
func Within[Q Measure](what string, q Q, limits Range[Q]) error {
	if limits.Holds(q) {
		return nil
	}
	f := &fault.Fault{
		Kind:     fault.OutsideRange,
		Expected: "from " + limits.Low.String() + " to " + limits.High.String(),
	}
	switch {
	case math.IsNaN(float64(q)):
		f.What = what + " is not a number"
	case q < limits.Low:
		f.What = what + " is too small"
	default:
		f.What = what + " is too large"
	}
	if !strings.Contains(what, q.String()) && !math.IsNaN(float64(q)) && !math.IsInf(float64(q), 0) {
		f.What += ": " + q.String()
	}
	return f
}
