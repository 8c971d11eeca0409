package units

import "math"

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
	metric := l.Bought(Metric).In(Metric)
	if sys == Metric {
		return metric
	}
	yards := fraction(float64(l.Bought(Imperial)/Yard), 8) + " yd"
	if sys == Both {
		return metric + " (" + yards + ")"
	}
	return yards
}
