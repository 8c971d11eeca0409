package fibres

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Estimate is what is known of one property: low and high are the 10th and
// 90th percentile of cloths sold under the name (or of the error of a
// measurement), typical the median. Known estimates hold Low ≤ Typical ≤ High.
// For a graded property the figures are levels of its scale and Words names
// them.
type Estimate struct {
	Low     float64    `json:"low"`
	Typical float64    `json:"typical"`
	High    float64    `json:"high"`
	Unit    string     `json:"unit"`
	Words   []string   `json:"words,omitempty"`
	Basis   Basis      `json:"basis"`           // of the three figures
	Word    Basis      `json:"word,omitempty"`  // of the source's bare name or adjective, where the figures are ours
	Given   Given      `json:"given,omitempty"` // which of the figures the source itself gives
	Sources []string   `json:"sources"`
	Because string     `json:"because"`
	Locator string     `json:"locator,omitempty"`
	Note    string     `json:"note,omitempty"`
	Differ  []Estimate `json:"sources_differ,omitempty"`
	Chain   []Rung     `json:"chain,omitempty"`
}

// Rung is one step of the chain that was followed to an estimate: what was
// asked and what was found there.
type Rung struct {
	Asked string `json:"asked"`
	Found string `json:"found"`
	Used  bool   `json:"used"`
}

// Known reports whether the estimate says anything.
func (e Estimate) Known() bool { return e.Basis != Unknown && e.Basis != "" }

// far is from how many times the usual range a figure is asked about (own judgement).
const far = 1.5

// Far reports whether a figure between low and high lies so far from the usual range that
// it can hardly be meant.
func (e Estimate) Far(low, high float64) bool {
	return e.Known() && (low > far*e.High || high < e.Low/far)
}

// unknown is the answer where nothing is known.
func unknown(p Property, why string) Estimate {
	unit := Properties[p].Unit
	if Properties[p].Scale != nil {
		unit = "level"
	}
	return Estimate{Unit: unit, Basis: Unknown, Sources: []string{}, Because: why}
}

// Figure makes a known estimate of a property from three figures (levels for
// a graded property).
func Figure(p Property, low, typical, high float64, b Basis, because string, sources ...string) Estimate {
	e := Estimate{Low: low, Typical: typical, High: high, Unit: Properties[p].Unit, Basis: b,
		Sources: append([]string{}, sources...), Because: because}
	if s := Properties[p].Scale; s != nil {
		e.Unit = "level"
		e.Low, e.Typical, e.High = clampLevel(s, low), clampLevel(s, typical), clampLevel(s, high)
		e.Words = []string{s.Word(e.Low), s.Word(e.Typical), s.Word(e.High)}
	}
	return e
}

func clampLevel(s Scale, v float64) float64 {
	return math.Max(0, math.Min(math.Round(v), float64(len(s)-1)))
}

// Say prints the estimate's range as a maker reads it, without its basis:
// "120 – 150 – 180 g/m2", "low to medium", "not known".
func (e Estimate) Say() string {
	if !e.Known() {
		return "not known"
	}
	if len(e.Words) == 3 {
		w := []string{e.Words[0]}
		for _, x := range e.Words[1:] {
			if x != w[len(w)-1] {
				w = append(w, x)
			}
		}
		return strings.Join(w, " – ")
	}
	if e.Low == e.High {
		return Round(e.Typical) + " " + e.Unit
	}
	return fmt.Sprintf("%s – %s – %s %s", Round(e.Low), Round(e.Typical), Round(e.High), e.Unit)
}

// Round prints a figure with two or three significant digits, enough for a
// maker and no more than the evidence bears.
func Round(v float64) string {
	a := math.Abs(v)
	switch {
	case a == 0:
		return "0"
	case a < 1:
		two, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 2, 64), 64) // what was written can be read
		return strconv.FormatFloat(two, 'f', -1, 64)
	case a < 20:
		return strings.TrimSuffix(fmt.Sprintf("%.1f", v), ".0")
	default:
		return fmt.Sprintf("%.0f", v)
	}
}

// z90 is the standard normal quantile at 0.9.
const z90 = 1.2815515655446004

// Quantile returns the value below which the part u of the population lies,
// 0 < u < 1: log-normal on each side of the median where all three figures are
// positive, normal otherwise (never negative), a level for graded ones.
func (e Estimate) Quantile(u float64) float64 {
	if e.Low == e.High {
		return e.Typical
	}
	if len(e.Words) == 3 {
		return math.Round(e.linear(u))
	}
	return e.quantileZ(normalQuantile(u))
}

// quantileZ is Quantile for a measured property at a standard normal z.
func (e Estimate) quantileZ(z float64) float64 {
	q := e.quantiles()
	return q.z(z)
}

// quantiles are those of one estimate of a measured property, of which many are asked.
type quantiles struct {
	low, typical, high float64
	below, above       power // of how much less and more it may be
}

func (e *Estimate) quantiles() quantiles {
	q := quantiles{low: e.Low, typical: e.Typical, high: e.High}
	if e.Low > 0 {
		q.below, q.above = powerOf(e.Typical/e.Low), powerOf(e.High/e.Typical)
	}
	return q
}

func (q *quantiles) z(z float64) float64 {
	t := z / z90
	if q.low > 0 {
		if z < 0 {
			return q.typical * q.below.to(t)
		}
		return q.typical * q.above.to(t)
	}
	if z < 0 {
		return math.Max(0, q.typical+t*(q.typical-q.low))
	}
	return q.typical + t*(q.high-q.typical)
}

// z is the inverse of quantileZ: where v lies in the population, in standard
// normal units, held to ±3.
func (e Estimate) z(v float64) float64 {
	ratio := func(a, b float64) float64 {
		switch {
		case a == 0:
			return 0
		case b == 0: // outside a side that has no width
			return math.Copysign(3/z90, a)
		}
		return a / b
	}
	var t float64
	switch {
	case e.Low > 0 && v > 0 && v < e.Typical:
		t = ratio(math.Log(v/e.Typical), math.Log(e.Typical/e.Low))
	case e.Low > 0 && v > 0:
		t = ratio(math.Log(v/e.Typical), math.Log(e.High/e.Typical))
	case v < e.Typical:
		t = ratio(v-e.Typical, e.Typical-e.Low)
	default:
		t = ratio(v-e.Typical, e.High-e.Typical)
	}
	return math.Max(-3, math.Min(3, t*z90))
}

// linear is the quantile of a graded property before rounding: straight lines
// between the 10th percentile, the median and the 90th.
func (e *Estimate) linear(u float64) float64 {
	switch {
	case u <= 0.1:
		return e.Low
	case u < 0.5:
		return e.Low + (e.Typical-e.Low)*(u-0.1)/0.4
	case u < 0.9:
		return e.Typical + (e.High-e.Typical)*(u-0.5)/0.4
	}
	return e.High
}

// normalQuantile is the inverse of the standard normal distribution.
func normalQuantile(u float64) float64 { return math.Sqrt2 * math.Erfinv(2*u-1) }

// normalCDF is the standard normal distribution.
func normalCDF(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }
