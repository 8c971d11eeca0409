package fibres

import (
	"math"

	"tenter/fibres/price"
)

// Subject is a cloth as the user means it: the name's population, narrowed by
// whatever they have measured or said of the one they hold.
type Subject struct {
	Cloth     *Cloth
	May       []Weighted            // the cloths that a shop's name may mean; Cloth is nil then, and so is this for one cloth
	Name      string                // what to call it in an answer; "" is the cloth's name
	Swatch    bool                  // one real cloth, not a name
	Known     map[Property]Estimate // measured or said by the user
	Content   []Part                // what its own label says; nil is as the name has it
	Lightness string                // a word of LightnessScale, or ""
	Colour    string                // in its owner's words; nothing is judged by it
	Shear     Estimate              // resistance to shear, N/m per radian, where a drape test told of it; no property of a name
	Price     *price.Price          // what a length of it cost; nil is not known. Nothing is judged by it

	other bool // the label says another cloth than the name: see labelled
}

// Made is what the subject is made of: by its label, else by its name.
func (s Subject) Made() []Part {
	if s.Content != nil {
		return s.Content
	}
	if k := s.Named(); k != nil {
		return k.Content
	}
	return nil
}

// Measured reports whether anything that tells how it hangs was measured.
func (s Subject) Measured() bool {
	for p := range s.Known {
		if p == Mass || bends(p) {
			return true
		}
	}
	return false
}

// otherFrom is from which part in per cent, of fibres that the name does not
// have, a label makes another cloth of it: what is recorded of the name's
// washing and pressing is then not of this one (practice).
const otherFrom = 25

// labelled is the subject with the content of its label in the place of the
// name's.
func (s Subject) labelled() Subject {
	if s.Content == nil || s.Cloth == nil {
		return s
	}
	high := map[*Fibre]float64{}
	for _, p := range s.Cloth.Content {
		high[p.Fibre] = p.Share.High
	}
	foreign := 0.0
	for _, p := range s.Content {
		foreign += math.Max(0, p.Share.Typical-high[p.Fibre])
	}
	k := *s.Cloth
	k.Content = s.Content
	s.Cloth, s.Content, s.other = &k, nil, foreign >= otherFrom
	return s
}

// Label is what an answer calls the subject.
func (s Subject) Label() string {
	if s.Name != "" {
		return s.Name
	}
	if s.Cloth != nil {
		return s.Cloth.Name
	}
	return "cloth"
}

// Readings' own error, as a part of the figure: a kitchen scale and a cut
// square; a ruler droop to 2 mm on 40 mm (practice).
const (
	massError  = 0.04
	droopError = 0.06
)

// With returns the subject narrowed by a range that the user gives for a
// property: a single figure (low = high) carries the error of its home test.
// A range is met with the population where the two overlap.
func (s Subject) With(c *Catalogue, p Property, low, high float64) Subject {
	known := make(map[Property]Estimate, len(s.Known)+1)
	for k, v := range s.Known {
		known[k] = v
	}
	e := Figure(p, low, math.Sqrt(low*high), high, Measured, "the figure you gave")
	if low == high {
		part := massError
		if p != Mass {
			part = droopError
		}
		e = Figure(p, low*(1-part), low, low*(1+part), Measured, "the figure you gave, with the error of the test")
	} else if s.Cloth != nil || len(s.May) > 0 {
		was := c.Estimate(s, p)
		l, h := math.Max(low, was.Low), math.Min(high, was.High)
		if was.Known() && l < h {
			e = Figure(p, l, math.Max(l, math.Min(h, was.Typical)), h, Measured, "the range you gave, within what is sold under the name")
		} else {
			e.Because = "the range you gave, outside what is usually sold under the name"
		}
	}
	known[p] = e
	s.Known = known
	return s
}
