package brief

import (
	"math"
	"slices"
	"strings"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/prose"
	"tenter/fibres/units"
)

// Teller puts answers into a maker's words, in the units asked for.
type Teller struct {
	Adviser *advise.Adviser
	System  units.System
	Page    bool // for a page, which has fields and links where a command has flags
}

// span writes a range of figures in the units of the answer, as fine as the hand
// works.
func (t Teller) span(low, high float64, unit string) string {
	switch unit {
	case "cm":
		if t.System == units.Metric { // a ruler is read to a millimetre
			return metricSpan(math.Round(low*10)/10, math.Round(high*10)/10, "cm")
		}
		return units.FormatRange(units.Length(low), units.Length(high), t.System)
	case "mm":
		if t.System != units.Metric {
			return units.FormatRange(units.Length(low/10), units.Length(high/10), t.System)
		}
	case "g/m2":
		return units.FormatRange(units.ArealMass(low), units.ArealMass(high), t.System)
	case "C":
		return units.FormatRange(units.Temperature(low), units.Temperature(high), t.System)
	}
	return metricSpan(low, high, unit)
}

func metricSpan(low, high float64, unit string) string {
	l, h := fibres.Round(low), fibres.Round(high)
	if l == h {
		return strings.TrimSpace(h + " " + unit)
	}
	return strings.TrimSpace(l + " to " + h + " " + unit)
}

// want writes what a demand asks: "1.3 cm or less".
func (t Teller) want(n advise.Need) string {
	if n.Words != nil {
		if n.Words[0] == n.Words[1] {
			return n.Words[0]
		}
		return n.Words[0] + " to " + n.Words[1]
	}
	switch lo, hi := n.Ideal[0], n.Ideal[1]; {
	case lo <= n.Limit[0]:
		return t.span(hi, hi, n.Unit) + " or less"
	case hi >= n.Limit[1]:
		return t.span(lo, lo, n.Unit) + " or more"
	default:
		return t.span(lo, hi, n.Unit)
	}
}

// have writes an estimate as a range of its two ends.
func (t Teller) have(e fibres.Estimate, unit string) string {
	if len(e.Words) == 3 {
		if e.Words[0] == e.Words[2] {
			return e.Words[0]
		}
		return e.Words[0] + " to " + e.Words[2]
	}
	return t.span(e.Low, e.High, unit)
}

// levels says a graded fact in the words that are said of a cloth at each level; ok is
// false where it is of no property.
func (t Teller) levels(m advise.MakeUp, d advise.Asked) (text string, ok bool) {
	of, id, _ := strings.Cut(d.Fact, ".")
	p, found := fibres.PropertyByID(id)
	if !found || fibres.Properties[p].Levels == nil || len(d.Have.Words) != 3 {
		return "", false
	}
	scale, said := p.Scale(), fibres.Properties[p].Levels
	at := func(word string) int { return slices.Index(scale, word) }
	lo, hi := at(d.Have.Words[0]), at(d.Have.Words[2])
	least, most := at(d.Need.Words[0]), at(d.Need.Words[1])
	if min(lo, hi, least, most) < 0 {
		return "", false
	}
	who := "this cloth"
	switch {
	case of == "lining":
		who = "the lining"
	case of == "make-up" && m.Lining != nil:
		who = "the two"
	}
	have := said[lo]
	switch hi - lo {
	case 0:
	case 1:
		have += " or " + said[hi]
	default:
		have += " to " + said[hi]
	}
	want := said[least] + " to " + said[most]
	switch {
	case least == most:
		want = said[least]
	case least == 0:
		want = "at most " + said[most]
	case most == len(scale)-1:
		want = "at least " + said[least]
	}
	return prose.Upper(who) + ": " + have + "; wanted: " + want + ".", true
}

// several puts the name of a cloth into the plural: "about 5 in 10 cotton lawns".
// A name that has no plain plural is said with "cloths sold as".
func several(name string) string {
	last := name[strings.LastIndexByte(name, ' ')+1:]
	if last == "" || strings.ContainsAny(name, "(),;") || strings.HasSuffix(last, "s") || strings.HasSuffix(last, "ing") || !lower(last) {
		return "cloths sold as " + name
	}
	return prose.Plural(name)
}

func lower(s string) bool {
	for _, r := range s {
		if r < 'a' || r > 'z' {
			return false
		}
	}
	return true
}
