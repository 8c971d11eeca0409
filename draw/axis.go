package draw

import (
	"math"
	"strconv"

	"tenter/fibres"
	"tenter/fibres/units"
)

// axis is a scale of figures along a line of the drawing, evenly or by powers.
// Figures come in the unit of the data; ticks are round in the unit shown.
type axis struct {
	low, high float64 // in the unit of the data
	from, to  float64 // places on the drawing
	log       bool
	factor    float64 // shown = data × factor + shift
	shift     float64
	unit      string
}

func newAxis(low, high float64, unit string, sys units.System) axis {
	a := axis{low: low, high: high, factor: 1, unit: unit}
	if sys == units.Imperial {
		switch unit {
		case "g/m2":
			a.factor, a.unit = 1/float64(units.OuncePerSquareYard), "oz/yd2"
		case "cm":
			a.factor, a.unit = 1/float64(units.Inch), "in"
		case "mm":
			a.factor, a.unit = 0.1/float64(units.Inch), "in"
		case "C":
			a.factor, a.shift, a.unit = 1.8, 32, "°F"
		}
	}
	if a.unit == "C" {
		a.unit = "°C"
	}
	if a.unit == "g/m2" {
		a.unit = "g/m²"
	}
	if a.unit == "oz/yd2" {
		a.unit = "oz/yd²"
	}
	return a
}

func (a axis) at(v float64) float64 {
	lo, hi := a.low, a.high
	if a.log {
		lo, hi, v = math.Log(lo), math.Log(hi), math.Log(v)
	}
	if hi == lo {
		return (a.from + a.to) / 2
	}
	return a.from + (a.to-a.from)*(v-lo)/(hi-lo)
}

// tick is a mark on an axis.
type tick struct {
	v    float64 // in the unit of the data
	word string
}

func (a axis) ticks() []tick {
	lo, hi := a.low*a.factor+a.shift, a.high*a.factor+a.shift
	var out []tick
	add := func(s float64) {
		if s >= lo-1e-9 && s <= hi+1e-9 {
			out = append(out, tick{(s - a.shift) / a.factor, strconv.FormatFloat(s, 'g', 6, 64)})
		}
	}
	if a.log && lo > 0 {
		steps := []float64{1, 2, 5}
		if hi/lo > 200 {
			steps = []float64{1, 3}
		} else if hi/lo < 8 {
			steps = []float64{1, 1.5, 2, 3, 4, 5, 6, 8}
		}
		for p := math.Floor(math.Log10(lo)); p <= math.Ceil(math.Log10(hi)); p++ {
			for _, s := range steps {
				add(s * math.Pow(10, p))
			}
		}
		return out
	}
	step := 1.0
	if hi > lo {
		step = math.Pow(10, math.Floor(math.Log10((hi-lo)/4)))
		for _, s := range []float64{1, 2, 2.5, 5, 10} {
			if (hi-lo)/(s*step) <= 6 {
				step *= s
				break
			}
		}
	}
	for v := math.Ceil(lo/step-1e-9) * step; v <= hi+1e-9; v += step {
		add(math.Round(v/step) * step)
	}
	return out
}

// graded is an axis over the words of a scale.
func gradedTicks(s fibres.Scale) []tick {
	out := make([]tick, len(s))
	for i, w := range s {
		out[i] = tick{float64(i), w}
	}
	return out
}
