// Package words is how pages say figures, shares and facts.
package words

import (
	"math"
	"strings"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/units"
)

// BasisWord is one basis with what it means, as pages explain it.
type BasisWord struct{ Basis, Means string }

// Bases explains every basis, best first.
var Bases = []BasisWord{
	{"measured", "you measured it yourself"},
	{"published", "from a source that was read"},
	{"published in part", "from a source that was read; it gives some of the three figures, the others are ours"},
	{"published word", "a source that was read names or describes it; the figures are ours"},
	{"memory", "from a named work that was not read here"},
	{"practice", "common practice in the workroom, no source"},
	{"derived", "worked out here from other figures"},
	{"unknown", "nothing is known"},
}

// BasisMeans says in words what a basis means.
func BasisMeans(b string) string {
	for _, x := range Bases {
		if x.Basis == b {
			return x.Means
		}
	}
	return ""
}

// In says them in one system of units.
type In units.System

func (s In) system() units.System { return units.System(s) }

// Estimate tells an estimate's range in those units.
func (s In) Estimate(e fibres.Estimate) string { return units.Raised(e.In(s.system())) }

// Quantities tells a range of figures of one of the data's units.
func (s In) Quantities(lo, hi float64, unit string) string {
	return units.Raised(fibres.Quantities(lo, hi, unit, s.system()))
}

// Quantity tells a figure of one of the data's units.
func (s In) Quantity(v float64, unit string) string { return s.Quantities(v, v, unit) }

// InUnits is a sentence with its measures in those units.
func (s In) InUnits(text string) string { return Pretty(units.Prose(text, s.system())) }

// Length tells a length as a maker says it.
func (s In) Length(l units.Length) string {
	if s.system() == units.Metric {
		return l.Centimetres()
	}
	return l.In(s.system())
}

// Pretty writes the units in a text with their raised figures.
func Pretty(s string) string { return units.Raised(s) }

// Words is a graded estimate in words: "low to medium".
func Words(e fibres.Estimate) string {
	if len(e.Words) != 3 {
		return Pretty(e.Say())
	}
	if e.Words[0] == e.Words[2] {
		return e.Words[0]
	}
	return e.Words[0] + " to " + e.Words[2]
}

// Tenths is a share in whole stitches of ten; something is never none, and
// less than all never all.
func Tenths(share float64) int {
	n := int(math.Round(share * 10))
	switch {
	case n == 0 && share >= 0.025:
		return 1
	case n == 10 && share < 0.975:
		return 9
	}
	return max(0, min(n, 10))
}

// InTen says a share in words.
func InTen(share float64) string { return advise.InTen(share) }

// OpenWords names facts that only the user can say.
func OpenWords(open []string) string {
	var out []string
	for _, o := range open {
		of, colour := strings.CutSuffix(o, ".lightness")
		switch {
		case colour && of == "shell":
			of = "the colour of the cloth"
		case colour:
			of = "the colour of the " + of
		default:
			of = FactWords(o)
		}
		out = append(out, of)
	}
	return strings.Join(out, " and ")
}

// Wanted tells what a demand asks for.
func (s In) Wanted(d advise.Asked) string {
	n := d.Need
	if n.Words != nil {
		if n.Words[0] == n.Words[1] {
			return n.Words[0]
		}
		return n.Words[0] + " to " + n.Words[1]
	}
	return s.wanted(n.Ideal, n.Limit, n.Unit)
}

func (s In) wanted(ideal, limit [2]float64, unit string) string {
	switch lo, hi := ideal[0], ideal[1]; {
	case lo <= limit[0] && lo <= 0:
		return "at most " + s.Quantity(hi, unit)
	case hi >= limit[1]:
		return "at least " + s.Quantity(lo, unit)
	default:
		return s.Quantities(lo, hi, unit)
	}
}

// Has tells what the make-up has of what a demand asks.
func (s In) Has(d advise.Asked) string {
	switch {
	case !d.Known:
		return "not known"
	case d.Need.Words != nil:
		return Words(d.Have)
	}
	return s.Quantities(d.Have.Low, d.Have.High, d.Need.Unit)
}

// FallWords is the usual hang in maker's measures: how far it may differ stands in the
// answer beside it.
func (s In) FallWords(f *advise.Fall) string {
	if f == nil || !f.Hand.Known() {
		return ""
	}
	say := "It is " + Words(f.Hand) + " in the hand"
	if f.StandOff.Known() {
		say += ": the edge stands about " + s.Quantity(f.StandOff.Typical, "cm") + " out before it falls"
	}
	if f.FoldWidth.Known() {
		step := 1.0 // nobody predicts folds to the millimetre
		if s.system() == units.Imperial {
			step = 2.54
		}
		say += "; folds roughly " + s.Quantity(max(step, math.Round(f.FoldWidth.Typical/step)*step), "cm") + " apart"
	}
	return say + "."
}

// FactWords names a fact of the rule language as a maker reads it:
// "make-up.stand-off" is "stand-off".
func FactWords(name string) string {
	name = strings.TrimPrefix(name, "make-up.")
	return strings.ReplaceAll(strings.ReplaceAll(name, ".", "’s "), "-", " ")
}

// Notes are the notes of an answer without what they say of the commands and their
// flags, which a page has other means for.
func Notes(list []string) []string {
	var out []string
	for _, note := range list {
		var kept []string
		for _, s := range strings.SplitAfter(note, ". ") {
			if strings.Contains(s, "`tenter ") {
				continue
			}
			before, _, flag := strings.Cut(s, "--")
			if !flag {
				kept = append(kept, strings.TrimSpace(s))
			} else if clause, _, more := strings.Cut(before, ";"); more {
				kept = append(kept, strings.TrimSpace(clause)+".")
			}
		}
		if len(kept) > 0 {
			out = append(out, strings.Join(kept, " "))
		}
	}
	return out
}
