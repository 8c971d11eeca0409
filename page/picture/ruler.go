package picture

import (
	"math"
	"strconv"

	"tenter/fibres"
	"tenter/fibres/units"
)

// Ruler is a scale that figures are drawn on: from lo to hi, evenly or evenly
// in the logarithm, in the data's unit.
type Ruler struct {
	lo, hi float64
	log    bool
	unit   string
}

// at is where a figure lies, from 0 to 1; what is off the ruler lies at its
// end.
func (r Ruler) at(v float64) float64 {
	x := 0.0
	if r.log {
		x = math.Log(math.Max(v, 1e-9)/r.lo) / math.Log(r.hi/r.lo)
	} else if r.hi > r.lo {
		x = (v - r.lo) / (r.hi - r.lo)
	}
	return math.Max(0, math.Min(1, x))
}

// Figures of the data's units in the units shown: factor and offset.
func shown(unit string, sys units.System) (factor, offset float64, name string) {
	if sys == units.Imperial {
		switch unit {
		case "g/m2":
			return 1 / float64(units.OuncePerSquareYard), 0, "oz/yd²"
		case "cm":
			return 1 / 2.54, 0, "in"
		case "mm":
			return 1 / 25.4, 0, "in"
		case "C":
			return 1.8, 32, "°F"
		}
	}
	if unit == "C" {
		return 1, 0, "°C"
	}
	return 1, 0, units.Raised(unit)
}

// tick is a mark on a ruler with what stands at it.
type tick struct {
	at    float64
	label string
}

// ticks are round figures of the units shown that lie on the ruler.
func (r Ruler) ticks(sys units.System) []tick {
	f, o, _ := shown(r.unit, sys)
	lo, hi := r.lo*f+o, r.hi*f+o
	var out []tick
	add := func(v float64) {
		if v >= lo*(1-1e-9) && v <= hi*(1+1e-9) {
			out = append(out, tick{r.at((v - o) / f), strconv.FormatFloat(v, 'f', -1, 64)})
		}
	}
	if r.log && hi/lo > 5 {
		for e := math.Floor(math.Log10(lo)); e <= math.Ceil(math.Log10(hi)); e++ {
			for _, m := range []float64{1, 2, 5} {
				add(rounded(m * math.Pow(10, e)))
			}
		}
		return out
	}
	step := niceStep((hi - lo) / 5)
	for v := math.Ceil(lo/step) * step; v <= hi*(1+1e-9); v += step {
		add(rounded(math.Round(v/step) * step))
	}
	return out
}

// rounded takes off what binary figures add at the far end.
func rounded(v float64) float64 {
	out, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 9, 64), 64)
	return out
}

// niceStep is the least of 1, 2, 5, 10 … that is no less than v.
func niceStep(v float64) float64 {
	if v <= 0 {
		return 1
	}
	e := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range []float64{1, 2, 5, 10} {
		if v <= m*e*(1+1e-9) {
			return m * e
		}
	}
	return 10 * e
}

// RulerOf is the common scale of a property: over the span of all cloths (see
// [fibres.Catalogue.Spans]), so that pages can be laid side by side.
func RulerOf(span [2]float64, p fibres.Property) Ruler {
	info := fibres.Properties[p]
	r := Ruler{lo: span[0], hi: span[1], unit: info.Unit}
	switch p {
	case fibres.ShrinkWarp, fibres.ShrinkWeft, fibres.PressingLimit:
		r.lo = math.Min(0, r.lo)
	default:
		r.log = true
	}
	if info.Scale != nil {
		return Ruler{lo: 0, hi: float64(len(info.Scale) - 1)}
	}
	if math.IsInf(r.lo, 0) || r.hi <= r.lo {
		r.lo, r.hi = info.Low, info.High
	}
	if r.log {
		r.lo, r.hi = roundDown(math.Max(r.lo, info.Low)), roundUp(r.hi)
	} else {
		r.hi = math.Ceil(r.hi/5) * 5
	}
	return r
}

func roundDown(v float64) float64 {
	e := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range []float64{5, 2, 1} {
		if v >= m*e*(1-1e-9) {
			return m * e
		}
	}
	return e
}

func roundUp(v float64) float64 {
	e := math.Pow(10, math.Floor(math.Log10(v)))
	for _, m := range []float64{1, 2, 5, 10} {
		if v <= m*e*(1+1e-9) {
			return m * e
		}
	}
	return 10 * e
}
