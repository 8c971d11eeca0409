package units

import (
	"fmt"
	"math"
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
	metric := l.Bought(Metric).In(Metric)
	if sys == Metric {
		return metric
	}
	eighths := int(math.Ceil(float64(l)/float64(Yard)*8 - 1e-6))
	yards := ""
	if whole := eighths / 8; whole > 0 || eighths == 0 {
		yards = fmt.Sprintf("%d ", whole)
	}
	if n := eighths % 8; n > 0 {
		d := 8
		for n%2 == 0 {
			n, d = n/2, d/2
		}
		yards += fmt.Sprintf("%d/%d ", n, d)
	}
	yards += "yd"
	if sys == Both {
		return metric + " (" + yards + ")"
	}
	return yards
}
