package units

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"tenter/fibres/fault"
)

// System is the family of units an answer is printed in.
type System int

// The systems.
const (
	Metric System = iota
	Imperial
	Both // metric, with imperial in brackets
)

// ParseSystem reads "metric", "imperial" or "both".
func ParseSystem(s string) (System, error) {
	words := []string{"metric", "imperial", "both"}
	for i, w := range words {
		if strings.EqualFold(strings.TrimSpace(s), w) {
			return System(i), nil
		}
	}
	return Metric, &fault.Fault{
		Kind:     fault.WrongCall,
		What:     quote(s) + " is not a system of units",
		Expected: strings.Join(words, ", "),
		Mend:     fault.DidYouMean(s, words, ""),
	}
}

// String is the word [ParseSystem] reads.
func (s System) String() string {
	switch s {
	case Imperial:
		return "imperial"
	case Both:
		return "both"
	}
	return "metric"
}

// Shown is a text in the units of the system; both are the metric one, with the other
// in brackets.
func (s System) Shown(metric, imperial string) string {
	switch s {
	case Imperial:
		return imperial
	case Both:
		return metric + " (" + imperial + ")"
	}
	return metric
}

// Measure is any of the quantities of this package.
type Measure interface {
	~float64
	// String is the figure in its base unit, to six significant digits.
	String() string
	// In is the figure as a maker says it.
	In(System) string
	// show gives number and unit apart, in the unit that suits like; single says
	// that no other figure shares the unit.
	show(sys System, like float64, single bool) (number, unit string)
}

// String writes centimetres.
func (l Length) String() string { return number(float64(l)) + " cm" }

// String writes grams per square metre.
func (m ArealMass) String() string { return number(float64(m)) + " g/m2" }

// String writes micronewton metres.
func (r Rigidity) String() string { return number(float64(r)) + " uN.m" }

// String writes degrees.
func (a Angle) String() string { return number(float64(a)) + "°" }

// String writes degrees Celsius.
func (t Temperature) String() string { return number(float64(t)) + " °C" }

// String writes per cent.
func (f Fraction) String() string { return number(float64(f)*100) + " %" }

// In writes millimetres under a centimetre, centimetres with one decimal under
// ten, whole centimetres to ten metres, then metres; inches to the eighth, and
// yards and inches from ten feet.
func (l Length) In(sys System) string { return in(sys, l) }

// In writes whole g/m2 (one decimal under 10), or oz/yd2 with one decimal.
func (m ArealMass) In(sys System) string { return in(sys, m) }

// In writes µN·m to three figures; the imperial trade has no unit of its own.
func (r Rigidity) In(sys System) string { return in(sys, r) }

// In writes degrees with at most one decimal.
func (a Angle) In(sys System) string { return in(sys, a) }

// In writes whole degrees Celsius or Fahrenheit.
func (t Temperature) In(sys System) string { return in(sys, t) }

// In writes per cent with one decimal under ten.
func (f Fraction) In(sys System) string { return in(sys, f) }

// Millimetres writes whole millimetres, one decimal under 10 and two under 1:
// for seam allowances and thicknesses.
func (l Length) Millimetres() string {
	n, _ := millimetres(float64(l) * 10)
	return n + " mm"
}

// Centimetres writes centimetres with at most one decimal, whatever the size:
// for what is measured off and cut.
func (l Length) Centimetres() string {
	return trim(strconv.FormatFloat(math.Round(float64(l)*10)/10, 'f', 1, 64)) + " cm"
}

func (l Length) show(sys System, like float64, single bool) (string, string) {
	if sys == Imperial {
		return inches(float64(l)/2.54, like/2.54, single)
	}
	switch {
	case like < 0.995:
		return millimetres(float64(l) * 10)
	case like < 999.5:
		return tidy(float64(l), like), "cm"
	}
	return strconv.FormatFloat(float64(l)/100, 'f', 1, 64), "m"
}

func millimetres(mm float64) (string, string) {
	if mm > 0 && mm < 0.995 {
		return trim(strconv.FormatFloat(mm, 'f', 2, 64)), "mm"
	}
	return tidy(mm, mm), "mm"
}

func (m ArealMass) show(sys System, like float64, _ bool) (string, string) {
	if sys == Imperial {
		oz := float64(m) / float64(OuncePerSquareYard)
		return strconv.FormatFloat(oz, 'f', 1, 64), "oz/yd2"
	}
	return tidy(float64(m), like), "g/m2"
}

func (r Rigidity) show(System, float64, bool) (string, string) {
	return number(significant(float64(r), 3)), "µN·m"
}

func (a Angle) show(System, float64, bool) (string, string) {
	return trim(strconv.FormatFloat(float64(a), 'f', 1, 64)), "°"
}

func (t Temperature) show(sys System, _ float64, _ bool) (string, string) {
	if sys == Imperial {
		return strconv.FormatFloat(float64(t)*9/5+32, 'f', 0, 64), "°F"
	}
	return strconv.FormatFloat(float64(t), 'f', 0, 64), "°C"
}

func (f Fraction) show(_ System, like float64, _ bool) (string, string) {
	return tidy(float64(f)*100, like*100), "%"
}

// in prints one figure, in both systems where they differ.
func in[Q Measure](sys System, q Q) string {
	return Range[Q]{q, q}.In(sys)
}

// tidy rounds v to one decimal where like is under ten, else to a whole number.
func tidy(v, like float64) string {
	if like < 9.95 {
		return trim(strconv.FormatFloat(v, 'f', 1, 64))
	}
	return strconv.FormatFloat(math.Round(v), 'f', 0, 64)
}

// trim cuts ".0" and trailing zeros after a point.
func trim(s string) string {
	if !strings.Contains(s, ".") {
		return s
	}
	return strings.TrimSuffix(strings.TrimRight(s, "0"), ".")
}

// inches writes eighths of an inch; under an eighth, where the ruler ends,
// decimals; from ten feet yards and whole inches, unless a range must keep to
// inches throughout.
func inches(v, like float64, single bool) (string, string) {
	switch {
	case like > 0 && like < 0.0625:
		return number(significant(v, 2)), "in"
	case like >= 120 && single:
		rounded := math.Round(v)
		yards := math.Floor(rounded / 36)
		if rest := rounded - yards*36; rest > 0 {
			return fmt.Sprintf("%.0f yd %.0f", yards, rest), "in"
		}
		return fmt.Sprintf("%.0f", yards), "yd"
	case like >= 120:
		return strconv.FormatFloat(v, 'f', 0, 64), "in"
	}
	return fraction(math.Round(v*8)/8, 8), "in"
}

var raised = strings.NewReplacer("g/m2", "g/m²", "oz/yd2", "oz/yd²", "g/cm3", "g/cm³")

// Raised writes the units in a text with their raised figures, as print has them.
func Raised(s string) string { return raised.Replace(s) }
