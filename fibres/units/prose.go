package units

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// measured finds a figure, or the figures of a range, with the unit behind.
var measured = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`((?:\d+(?:\.\d+)?(?: to | by | or | and | – |–|-))*)(\d+(?:\.\d+)?) ?(mm|cm|m|°C|g/m[2²]|g/cm3|kg|g)`)
})

// figures finds the figures of a range, each with what joins it to the next.
var figures = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(\d+(?:\.\d+)?)( to | by | or | and | – |–|-)`) })

// inward is the word "in" behind a measure: 12 mm in from the edge.
var inward = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^ in\b`) })

// inBrackets finds the other system's figure behind one.
var inBrackets = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(?: [a-z]+)? \([^)]*(?:\bin\b|yd|°F|oz)|^, [0-9./ ]+(?:in|yd|°F|oz)`)
})

// Prose tells the measures that stand in a sentence in a system's units, as a
// ruler or a dial shows them: "leave a gap of 15 to 20 cm" is "leave a gap of 6
// to 8 in". They are rounded, for a sentence gives no more than a round figure.
// Of a stitch that is counted by the inch the count is told. What is no measure of
// length, mass or heat stays.
//
// With both systems the second stands in brackets behind the first, unless it stands
// there already.
func Prose(s string, sys System) string {
	if sys == Metric {
		return s
	}
	var out strings.Builder
	at := 0
	for _, m := range measured().FindAllStringSubmatchIndex(s, -1) {
		after, _ := utf8.DecodeRuneInString(s[m[1]:])
		before, _ := utf8.DecodeLastRuneInString(s[:m[0]])
		counted, byInch := byTheInch(s[m[1]:])
		if byInch && sys == Imperial {
			out.WriteString(s[at:m[0]] + counted)
			at = m[1] + len(" (") + len(counted) + len(")")
			continue
		}
		if unicode.IsLetter(after) || unicode.IsNumber(after) || after == '/' || unicode.IsLetter(before) || byInch || sys == Both && inBrackets().MatchString(s[m[1]:]) {
			continue
		}
		unit := s[m[6]:m[7]]
		last, word := imperial(s[m[4]:m[5]], unit)
		var values []string
		for _, f := range figures().FindAllStringSubmatch(s[m[2]:m[3]], -1) {
			v, _ := imperial(f[1], unit)
			joint := f[2]
			if joint == "-" || joint == "–" { // 1/2-3/4 could be read as one figure
				joint = " to "
			}
			values = append(values, v, joint)
		}
		if n := len(values); n == 2 && values[0] == last && values[1] != " by " {
			values = nil
		}
		phrase := strings.Join(values, "") + last + " " + word
		if word == "in" && inward().MatchString(s[m[1]:]) { // 1/2 in in is read twice
			phrase = strings.Join(values, "") + last + `"`
		}
		if sys == Both && strings.Count(s[:m[0]], "(") > strings.Count(s[:m[0]], ")") {
			phrase = s[m[0]:m[1]] + ", " + phrase
		} else if sys == Both {
			phrase = s[m[0]:m[1]] + " (" + phrase + ")"
		}
		out.WriteString(s[at:m[0]] + phrase)
		at = m[1]
	}
	out.WriteString(s[at:])
	return out.String()
}

// byTheInch is the count of stitches to the inch that stands in brackets behind their
// length.
func byTheInch(rest string) (counted string, ok bool) {
	rest, ok = strings.CutPrefix(rest, " (")
	counted, _, closed := strings.Cut(rest, ")")
	return counted, ok && closed && strings.HasSuffix(counted, "to the inch")
}

// imperial tells one figure of a sentence, and the unit of it.
func imperial(figure, unit string) (string, string) {
	v, _ := strconv.ParseFloat(figure, 64) // the expression lets only figures through
	whole := func(v float64) string { return strconv.FormatFloat(math.Round(v), 'f', 0, 64) }
	switch unit {
	case "mm":
		return onRuler(v / 10 / float64(Inch)), "in"
	case "cm":
		return onRuler(v / float64(Inch)), "in"
	case "m":
		if yd := v * 100 / float64(Yard); yd >= 10 {
			return whole(yd), "yd"
		}
		return fraction(v*100/float64(Yard), 4), "yd"
	case "°C":
		return whole(v*9/5 + 32), "°F"
	case "g/cm3":
		return number(significant(v*float64(Inch)*float64(Inch)*float64(Inch)/Ounce, 2)), "oz/in³"
	case "g":
		return number(significant(v/Ounce, 2)), "oz"
	case "kg":
		return number(significant(v*1000/Ounce, 2)), "oz"
	}
	return number(significant(v/float64(OuncePerSquareYard), 2)), "oz/yd²"
}

// onRuler tells inches by the marks that are read at that length.
func onRuler(in float64) string {
	if in < 1.0/32 {
		return number(significant(in, 2))
	}
	for _, x := range []struct{ under, parts float64 }{{0.5, 16}, {2, 8}, {4, 4}, {100, 2}} {
		if in < x.under {
			return fraction(in, x.parts)
		}
	}
	return fraction(in, 1)
}

// fraction tells a figure in so many parts of one.
func fraction(v, parts float64) string {
	n := int(math.Round(v * parts))
	if n == 0 { // less than the ruler shows
		return number(significant(v, 1))
	}
	d := int(parts)
	for n%2 == 0 && d%2 == 0 {
		n, d = n/2, d/2
	}
	switch w := n / d; {
	case d == 1:
		return strconv.Itoa(n)
	case w > 0:
		return strconv.Itoa(w) + " " + strconv.Itoa(n%d) + "/" + strconv.Itoa(d)
	}
	return strconv.Itoa(n) + "/" + strconv.Itoa(d)
}
