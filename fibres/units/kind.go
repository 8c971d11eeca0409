package units

import (
	"math"
	"strconv"
	"strings"

	"tenter/fibres/fault"
)

// Kind is what a figure measures.
type Kind int

// The kinds of figure that [Parse] tells apart. [Kind.Unit] names the unit each
// is returned in.
const (
	Number        Kind = iota // a bare number, no unit
	OfLength                  // cm
	OfArealMass               // g/m2
	OfTemperature             // C
	OfPercent                 // %
	OfAngle                   // deg
	OfRigidity                // uN.m
)

// kinds holds what is said of each kind, in the order of the constants.
var kinds = [...]struct{ name, unit, examples string }{
	{"a plain number", "", "such as 4 or 2.5"},
	{"a length", "cm", `such as 76cm, 1.5 m, 44 1/2 in or 2 yd`},
	{"a weight of cloth", "g/m2", "such as 150gsm, 4.5 oz/yd2 or 12 momme"},
	{"a temperature", "C", "such as 150 C or 300 F"},
	{"a percentage", "%", "such as 5% or 5 percent"},
	{"an angle", "deg", "such as 41.5° or 41.5 deg"},
	{"a bending rigidity", "uN.m", "such as 12 uN.m or 120 mg.cm"},
}

// String is the kind in words: "a weight of cloth".
func (k Kind) String() string {
	if k < 0 || int(k) >= len(kinds) {
		return "an unknown quantity"
	}
	return kinds[k].name
}

// Unit is the unit in which [Parse] returns a figure of this kind, empty for a
// plain number.
func (k Kind) Unit() string {
	if k < 0 || int(k) >= len(kinds) {
		return ""
	}
	return kinds[k].unit
}

// Examples shows how a figure of this kind is written.
func (k Kind) Examples() string {
	if k < 0 || int(k) >= len(kinds) {
		return ""
	}
	return kinds[k].examples
}

// Quantity is a figure whose kind is known only when it is read, as in a rule.
// Value is in the unit of its kind.
type Quantity struct {
	Value float64
	Kind  Kind
}

// String writes the figure with its unit, so that it parses back.
func (q Quantity) String() string {
	u := q.Kind.Unit()
	if u == "" {
		return number(q.Value)
	}
	return number(q.Value) + " " + u
}

// In returns the figure in another unit of the same kind: a length in "mm", a
// mass in "oz/yd2". The empty unit stands for a plain number.
// A unit of another kind is a [fault.Fault].
func (q Quantity) In(unit string) (float64, error) {
	if unit == "" {
		if q.Kind == Number {
			return q.Value, nil
		}
		return 0, mismatch(q.String(), q.Kind, Number)
	}
	u, ok := spellings()[normalise(unit)]
	if !ok {
		return 0, unknownUnit(unit, unit, q.Kind)
	}
	if u.kind != q.Kind {
		return 0, mismatch(q.String(), q.Kind, u.kind)
	}
	return u.fromBase(q.Value), nil
}

// unit is one spelling's meaning: base = (value - zero) * mul / div. Two
// factors, because dividing by 10 is exact where multiplying by 0.1 is not.
type unit struct {
	kind           Kind
	mul, div, zero float64
}

func (u unit) toBase(v float64) float64   { return (v - u.zero) * u.mul / u.div }
func (u unit) fromBase(v float64) float64 { return v*u.div/u.mul + u.zero }

// number writes a figure to six significant digits and without an exponent.
func number(v float64) string {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return strconv.FormatFloat(math.Abs(v), 'g', -1, 64)
	}
	return strconv.FormatFloat(significant(v, 6), 'f', -1, 64)
}

// significant rounds v to n significant digits.
func significant(v float64, n int) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', n, 64), 64)
	if err != nil { // only when v is at the end of the scale
		return v
	}
	return r
}

func mismatch(text string, got, want Kind) *fault.Fault {
	f := &fault.Fault{
		Kind:     fault.WrongCall,
		What:     quote(text) + " is " + got.String() + ", not " + want.String(),
		Expected: want.String() + ", " + want.Examples(),
	}
	if want == OfArealMass && got == OfLength && strings.HasSuffix(strings.TrimSpace(text), "mm") {
		f.Mend = "mm is read as millimetres; for a silk weight write momme"
	}
	return f
}

func unknownUnit(text, word string, want Kind) *fault.Fault {
	f := &fault.Fault{
		Kind:     fault.WrongCall,
		What:     quote(text) + " has an unknown unit, " + quote(word),
		Expected: anyKind,
	}
	var known []string
	for s, u := range spellings() {
		if letter(s[0]) && (want == Number || u.kind == want) {
			known = append(known, s)
		}
	}
	if want != Number {
		f.Expected = want.String() + ", " + want.Examples()
	}
	f.Mend = fault.DidYouMean(word, known, "")
	if strings.Trim(word, "ol") == "" {
		f.Mend = "a letter stands where a figure was meant"
	}
	return f
}

const anyKind = "a number with its unit, such as 12 mm, 44 1/2 in, 150 g/m2, 5 % or 150 C"

// quote puts text in straight quotation marks, cut short so that a slip of the
// clipboard does not fill the screen.
func quote(s string) string {
	const maxShown = 40
	r := []rune(s)
	if len(r) > maxShown {
		s = string(r[:maxShown]) + "…"
	}
	return `"` + strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, s) + `"`
}
