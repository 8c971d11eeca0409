package sheet

import (
	"html/template"
	"slices"

	"tenter/fibres"
	"tenter/page/picture"
)

// Prop is one property of a subject with its picture and its chain.
type Prop struct {
	fibres.PropertyInfo
	E       fibres.Estimate
	Say     string
	Picture template.HTML
	Cite    Cited
	Differ  []Differ
	Test    fibres.HomeTest
}

// Differ is what another source says.
type Differ struct {
	Say  string
	Cite Cited
}

// PropsOf tells every property of a subject; those of bending length by
// direction apart.
func (s *Sheet) PropsOf(of *fibres.Subject) (all, ways []Prop) {
	for p := range fibres.NumProperties {
		x := s.prop(of, p)
		switch p {
		case fibres.BendingLengthWarp, fibres.BendingLengthWeft, fibres.BendingLengthBias:
			ways = append(ways, x)
		default:
			all = append(all, x)
		}
	}
	return all, ways
}

func (s *Sheet) prop(of *fibres.Subject, p fibres.Property) Prop {
	e := s.Adv.Cat.Estimate(*of, p)
	x := Prop{PropertyInfo: fibres.Properties[p], E: e, Say: s.Estimate(e), Cite: s.CiteEstimate(e)}
	var own []float64
	if !of.Swatch && of.Cloth != nil {
		own = s.ownPoints(of.Cloth.ID, p)
	}
	x.Picture = picture.Range(s.Units, s.ruler(p), p, e, own)
	for _, d := range e.Differ {
		x.Differ = append(x.Differ, Differ{Say: s.Estimate(d), Cite: s.CiteEstimate(d)})
	}
	if e.Basis != fibres.Measured {
		x.Test = fibres.Tests[x.PropertyInfo.Test]
	}
	return x
}

// knownProps are those of which something is known.
func knownProps(list []Prop) []Prop {
	return slices.DeleteFunc(slices.Clone(list), func(p Prop) bool { return !p.E.Known() })
}

// unknownProps names those of which nothing is known.
func unknownProps(list []Prop) []string {
	var out []string
	for _, p := range list {
		if !p.E.Known() {
			out = append(out, p.Name)
		}
	}
	return out
}
