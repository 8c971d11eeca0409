package units

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"tenter/fibres/fault"
)

// Parse reads one figure of any kind: "80 g/m2", "3 cm", "44 1/2 in", "5 %",
// "150 C", "4". A [fault.Fault] says what was expected. Figures are never
// negative; a caller who knows what the figure is for checks its size.
func Parse(s string) (Quantity, error) {
	low, _, single, err := parse(s, anyOf, "")
	if err != nil {
		return Quantity{}, err
	}
	if !single {
		return Quantity{}, &fault.Fault{
			Kind:     fault.WrongCall,
			What:     quote(s) + " is a range",
			Expected: "one figure",
			Mend:     "write one end of it",
		}
	}
	return low, nil
}

// ParseRange reads a range of any kind, "20 to 150 g/m2", "0 cm to 3 cm",
// "120–150 gsm". One figure gives low and high the same.
func ParseRange(s string) (low, high Quantity, err error) {
	low, high, _, err = parse(s, anyOf, "")
	if err != nil {
		return Quantity{}, Quantity{}, err
	}
	return low, high, nil
}

// ParseLength reads a length that names its unit: "76cm", `44 1/2"`, "1yd 9in",
// "7,5 cm".
func ParseLength(s string) (Length, error) { return ParseLengthIn(s, 0) }

// ParseLengthIn reads a length; a bare number is taken in the unit given, which
// is one of the units of length named in this package, and refused when it is 0.
func ParseLengthIn(s string, bare Length) (Length, error) {
	return one[Length](s, OfLength, bareLength(bare), 1, LengthLimits)
}

// ParseLengthRange reads "10 to 13 mm" or a single length.
func ParseLengthRange(s string, bare Length) (Range[Length], error) {
	return two[Length](s, OfLength, bareLength(bare), 1, LengthLimits)
}

// ParseArealMass reads mass per area: "150gsm", "4.5 oz/yd2", "12 momme". "oz"
// alone is ounces per square yard.
func ParseArealMass(s string) (ArealMass, error) {
	return one[ArealMass](s, OfArealMass, "", 1, ArealMassLimits)
}

// ParseArealMassRange reads "120-150gsm", "120 to 150 g/m2" or a single mass.
func ParseArealMassRange(s string) (Range[ArealMass], error) {
	return two[ArealMass](s, OfArealMass, "", 1, ArealMassLimits)
}

// ParseAngle reads "41.5°" or "41.5 deg"; a bare number is in degrees.
func ParseAngle(s string) (Angle, error) {
	return one[Angle](s, OfAngle, "deg", 1, AngleLimits)
}

// ParseTemperature reads "150 C" or "300 F"; a bare number is refused, because
// the two scales are a scorch apart.
func ParseTemperature(s string) (Temperature, error) {
	return one[Temperature](s, OfTemperature, "", 1, TemperatureLimits)
}

// ParseTemperatureRange reads "130 to 150 C" or a single temperature.
func ParseTemperatureRange(s string) (Range[Temperature], error) {
	return two[Temperature](s, OfTemperature, "", 1, TemperatureLimits)
}

// ParseFraction reads a part of a whole written with its per cent sign, "5%" or
// "5 percent", as 0.05. A bare number is refused: 0.5 might be a half or half a
// per cent.
func ParseFraction(s string) (Fraction, error) {
	return one[Fraction](s, OfPercent, "", 100, FractionLimits)
}

// ParsePercent is [ParseFraction], where a bare number is taken as per cent.
func ParsePercent(s string) (Fraction, error) {
	return one[Fraction](s, OfPercent, "%", 100, FractionLimits)
}

// ParsePercentRange reads "3 to 8 %" or a single percentage; bare numbers are per cent.
func ParsePercentRange(s string) (Range[Fraction], error) {
	return two[Fraction](s, OfPercent, "%", 100, FractionLimits)
}

// bareLength is the spelling of a unit of length, empty for none.
func bareLength(l Length) string {
	switch l {
	case Millimetre:
		return "mm"
	case Centimetre:
		return "cm"
	case Metre:
		return "m"
	case Inch:
		return "in"
	case Yard:
		return "yd"
	}
	return ""
}

func one[Q Measure](s string, k Kind, bare string, div float64, limits Range[Q]) (Q, error) {
	low, _, single, err := parse(s, k, bare)
	if err != nil {
		return 0, err
	}
	if !single {
		return 0, &fault.Fault{
			Kind:     fault.WrongCall,
			What:     quote(s) + " is a range",
			Expected: "one figure, " + k.Examples(),
			Mend:     "write one end of it",
		}
	}
	q := Q(low.Value / div)
	if err := Within(quote(s), q, limits); err != nil {
		return 0, err
	}
	return q, nil
}

func two[Q Measure](s string, k Kind, bare string, div float64, limits Range[Q]) (Range[Q], error) {
	low, high, _, err := parse(s, k, bare)
	if err != nil {
		return Range[Q]{}, err
	}
	r := Range[Q]{Q(low.Value / div), Q(high.Value / div)}
	if err := Within(quote(s), r.Low, limits); err != nil {
		return Range[Q]{}, err
	}
	if err := Within(quote(s), r.High, limits); err != nil {
		return Range[Q]{}, err
	}
	return r, nil
}

// anyOf asks parse for whatever kind the unit says.
const anyOf Kind = -1

// figure is one end of a range before its unit is settled: the terms of
// "5 ft 3 in" or a bare number.
type figure struct {
	terms []term
}

type term struct {
	value float64
	unit  string // spelling, empty for a bare number
}

// parse reads one figure or a range. want may be anyOf. A bare number takes the
// unit of the other end, else the unit bare, else it is a Number or refused.
func parse(s string, want Kind, bare string) (low, high Quantity, single bool, err error) {
	p := &parser{text: s, rest: normalise(s), want: want}
	if p.rest == "" {
		return low, high, false, p.fault("nothing was written where a figure belongs", "")
	}
	if !utf8.ValidString(s) {
		return low, high, false, p.fault("the figure is not readable text", "")
	}
	a, err := p.figure()
	if err != nil {
		return low, high, false, err
	}
	b := a
	single = !p.separator()
	if !single {
		if b, err = p.figure(); err != nil {
			return low, high, false, err
		}
	}
	if p.rest != "" {
		return low, high, false, p.leftOver()
	}
	// "120 to 150 g/m2" and "120 g/m2 to 150": the unit named once serves both.
	a, b = share(a, b), share(b, a)
	if low, err = p.settle(a, bare); err != nil {
		return low, high, false, err
	}
	if high, err = p.settle(b, bare); err != nil {
		return low, high, false, err
	}
	if low.Kind != high.Kind {
		return low, high, false, p.fault(quote(s)+" runs from "+low.Kind.String()+" to "+high.Kind.String(), "give both ends in the same unit")
	}
	if low.Value > high.Value {
		return low, high, false, p.fault(quote(s)+" runs downwards", "write the smaller figure first")
	}
	return low, high, single, nil
}

func share(f, other figure) figure {
	if len(f.terms) == 1 && f.terms[0].unit == "" && len(other.terms) > 0 {
		if u := other.terms[len(other.terms)-1].unit; u != "" {
			return figure{[]term{{f.terms[0].value, u}}}
		}
	}
	return f
}

type parser struct {
	text, rest string
	want       Kind
}

func (p *parser) fault(what, mend string) *fault.Fault {
	f := &fault.Fault{Kind: fault.WrongCall, What: what, Expected: anyKind, Mend: mend}
	if p.want != anyOf {
		f.Expected = p.want.String() + ", " + p.want.Examples()
	}
	return f
}

// settle turns a figure into a quantity in the base unit of its kind.
func (p *parser) settle(f figure, bare string) (Quantity, error) {
	var q Quantity
	var lastMul float64
	for i, t := range f.terms {
		if t.unit == "" {
			if len(f.terms) > 1 {
				return q, p.fault(quote(p.text)+" has a number without a unit", "name the unit of each part")
			}
			if bare == "" {
				if p.want == anyOf || p.want == Number {
					return Quantity{t.value, Number}, nil
				}
				return q, p.fault(quote(p.text)+" has no unit", "write "+quote(number(t.value)+" "+p.want.Unit())+" if that is what you mean")
			}
			t.unit = bare
		}
		u := spellings()[t.unit]
		if p.want != anyOf && u.kind != p.want {
			return q, mismatch(p.text, u.kind, p.want)
		}
		if i > 0 {
			if u.kind != OfLength || q.Kind != OfLength {
				return q, p.fault(quote(p.text)+" is more than one figure", "only lengths are written in parts, such as 5 ft 3 in")
			}
			if u.mul/u.div >= lastMul {
				return q, p.fault(quote(p.text)+" has its parts out of order", "the larger unit comes first, such as 1 yd 9 in")
			}
		}
		lastMul = u.mul / u.div
		q.Kind = u.kind
		q.Value += u.toBase(t.value)
	}
	if math.IsInf(q.Value, 0) || math.IsNaN(q.Value) {
		return q, p.fault(quote(p.text)+" is too large a figure", "")
	}
	return q, nil
}

// figure reads terms until a separator or the end.
func (p *parser) figure() (figure, error) {
	var f figure
	for {
		v, ok, err := p.number()
		if err != nil {
			return f, err
		}
		if !ok {
			if len(f.terms) == 0 {
				return f, p.notNumber()
			}
			return f, nil
		}
		u, err := p.unit()
		if err != nil {
			return f, err
		}
		f.terms = append(f.terms, term{v, u})
		if len(f.terms) > 4 {
			return f, p.fault(quote(p.text)+" has too many parts", "")
		}
	}
}

// separator eats "-", "..", "to" between the ends of a range.
func (p *parser) separator() bool {
	p.rest = strings.TrimLeft(p.rest, " ")
	for _, sep := range []string{"...", "..", "-"} {
		if after, ok := strings.CutPrefix(p.rest, sep); ok {
			p.rest = strings.TrimLeft(after, " ")
			return true
		}
	}
	if after, ok := strings.CutPrefix(p.rest, "to"); ok && !startsWithLetter(after) {
		p.rest = strings.TrimLeft(after, " ")
		return true
	}
	return false
}

// number reads "44", "4.5", "4,5", ".5", "5/8", "44 1/2" or "44-1/2".
func (p *parser) number() (float64, bool, error) {
	p.rest = strings.TrimLeft(p.rest, " ")
	whole, ok, err := p.decimal()
	if !ok || err != nil {
		return 0, false, err
	}
	if den, cut := p.denominator(); cut {
		if den == 0 {
			return 0, false, p.fault(quote(p.text)+" divides by zero", "")
		}
		return whole / den, true, nil
	}
	// A mixed number: a proper fraction after a space or a hyphen. Read as a
	// range, "44-1/2" would run downwards, so nothing is lost.
	save := p.rest
	if after, found := strings.CutPrefix(p.rest, " "); found {
		p.rest = strings.TrimLeft(after, " ")
	} else if after, found := strings.CutPrefix(p.rest, "-"); found && whole >= 1 {
		p.rest = after
	} else {
		return whole, true, nil
	}
	num, ok, err := p.decimal()
	if ok && err == nil {
		if den, cut := p.denominator(); cut && num < den && whole == math.Trunc(whole) {
			return whole + num/den, true, nil
		}
	}
	p.rest = save
	return whole, true, nil
}

// denominator reads "/8" when digits follow the stroke.
func (p *parser) denominator() (float64, bool) {
	after, ok := strings.CutPrefix(p.rest, "/")
	if !ok {
		return 0, false
	}
	n := 0
	for n < len(after) && digit(after[n]) {
		n++
	}
	if n == 0 || n > 4 {
		return 0, false
	}
	den, err := strconv.ParseFloat(after[:n], 64)
	if err != nil {
		return 0, false
	}
	p.rest = after[n:]
	return den, true
}

// decimal reads digits with at most one point or comma.
func (p *parser) decimal() (float64, bool, error) {
	s := p.rest
	i := 0
	for i < len(s) && digit(s[i]) {
		i++
	}
	lead := i
	point := byte(0)
	if i < len(s) && (s[i] == '.' || s[i] == ',') && i+1 < len(s) && digit(s[i+1]) {
		point = s[i]
		i++
		for i < len(s) && digit(s[i]) {
			i++
		}
		if i+1 < len(s) && (s[i] == '.' || s[i] == ',') && digit(s[i+1]) {
			return 0, false, p.fault(quote(p.text)+" has more than one point or comma", "write the figure without thousands marks")
		}
	}
	if i == 0 {
		return 0, false, nil
	}
	text := s[:i]
	if point == ',' {
		// "1,250" is a thousand to some and one and a quarter to others.
		if i-lead == 4 && lead > 0 && lead <= 3 && s[0] != '0' {
			return 0, false, p.fault(quote(p.text)+" can be read two ways",
				"write "+quote(s[:lead]+s[lead+1:i])+" or "+quote(s[:lead]+"."+s[lead+1:i]))
		}
		text = strings.Replace(text, ",", ".", 1)
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, false, p.fault(quote(p.text)+" is too large a figure", "")
	}
	p.rest = s[i:]
	return v, true, nil
}

// unit reads the unit after a number, empty when there is none.
func (p *parser) unit() (string, error) {
	s := strings.TrimLeft(p.rest, " ")
	for _, u := range longestFirst() {
		after, ok := strings.CutPrefix(s, u)
		if !ok || letter(u[len(u)-1]) && startsWithLetter(after) {
			continue
		}
		// "2 ft." is an abbreviation, "2 ft.5" is not.
		if letter(u[len(u)-1]) && strings.HasPrefix(after, ".") && !strings.HasPrefix(after, "..") &&
			(len(after) == 1 || !digit(after[1])) {
			after = after[1:]
		}
		p.rest = after
		return u, nil
	}
	word := firstWord(s)
	if after, ok := strings.CutPrefix(word, "to"); word == "" || ok && !startsWithLetter(after) {
		return "", nil
	}
	return "", unknownUnit(p.text, word, max(p.want, Number))
}

// firstWord is what stands where a unit was looked for: letters and the signs
// that units contain.
func firstWord(s string) string {
	end := strings.IndexFunc(s, func(r rune) bool { return r == ' ' || r == '-' || r == ',' || r == ';' })
	if end >= 0 {
		s = s[:end]
	}
	if s == "" || digit(s[0]) || s[0] == '.' {
		return ""
	}
	return s
}

func (p *parser) notNumber() *fault.Fault {
	if strings.HasPrefix(p.rest, "-") {
		return p.fault(quote(p.text)+" is negative", "leave the minus sign out")
	}
	if strings.HasPrefix(p.rest, "o") && len(p.rest) > 1 && !letter(p.rest[1]) {
		return p.fault(quote(p.text)+" does not begin with a number", "a letter O stands where a zero was meant")
	}
	if p.rest != normalise(p.text) {
		return p.fault(quote(p.text)+" has no number after the dash or \"to\"", "")
	}
	return p.fault(quote(p.text)+" does not begin with a number", "")
}

func (p *parser) leftOver() *fault.Fault {
	return p.fault(quote(p.text)+" goes on after the figure: "+quote(p.rest), "")
}

func digit(b byte) bool  { return '0' <= b && b <= '9' }
func letter(b byte) bool { return 'a' <= b && b <= 'z' }

func startsWithLetter(s string) bool { return s != "" && letter(s[0]) }
