package units

import (
	"fmt"
	"math"
)

// OffTheBolt writes a length as it is asked for in a shop, rounded up: to 5 cm,
// or to the eighth of a yard.
func (l Length) OffTheBolt(sys System) string {
	metric := Length(math.Ceil(float64(l)/5-1e-6) * 5).In(Metric)
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
