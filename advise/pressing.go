package advise

import (
	"fmt"
	"strings"

	"tenter/fibres"
	"tenter/fibres/prose"
	"tenter/fibres/units"
	"tenter/fibres/yarn"
)

// Dots is the ironing symbol's dot count for a sole plate of so many degrees;
// 0 is below one dot.
func Dots(c float64) int {
	d, _ := limitOf(c).Dots()
	return int(d)
}

// limitOf turns a figure of the data into a limit; zero is do not iron.
func limitOf(c float64) yarn.Limit {
	return yarn.Limit{Known: true, Iron: c > 0, Celsius: units.Temperature(c)}
}

// pressing is how hot, how damp, and whether the interfacing can be fused.
func (a *Adviser) pressing(j *judged) *Pressing {
	m := j.make
	var layers []fibres.Subject
	var traits []yarn.Trait
	for _, s := range m.subjects() {
		layers = append(layers, *s)
		traits = append(traits, a.TraitsOf(s)...)
	}
	e := a.Cat.Heat(layers...)
	e.Chain = nil
	limit := e.Limit()
	steam, how, err := yarn.SteamFor(limit, traits...)
	if err != nil { // no trait is made up
		steam = yarn.SteamUnknown
	}
	p := &Pressing{Limit: e, Steam: steam.String(), How: how, Fuse: fuse(m.Interfacing, limit)}
	switch d, known := limit.Dots(); {
	case !known:
		p.Say = "Not known how hot: iron a scrap first, from the coolest setting up."
	case !limit.Iron:
		p.Say = "Do not iron: a part of it takes no hot iron. Finger-press, or weight the seam."
	default:
		p.Dots = int(d)
		words := d.String()
		if d == 0 {
			words = "below one dot"
		}
		p.Say = fmt.Sprintf("At most %.0f °C (%s), on the wrong side, on a scrap first. %s Iron and steam burn.", e.Typical, words, strings.Join(how, " "))
	}
	if p.Fuse != nil {
		p.Say += " " + p.Fuse.Say
	}
	return p
}

// fuse says whether an interfacing that is fused takes in the stack; nil for a
// sewn one.
func fuse(x *Interfacing, stack yarn.Limit) *Fuse {
	if x == nil || x.HeatHigh == 0 || x.Attach == "sew" {
		return nil
	}
	f, err := yarn.FuseInto(stack, units.Range[units.Temperature]{Low: units.Temperature(x.HeatLow), High: units.Temperature(x.HeatHigh)})
	if err != nil {
		return nil // a test of the data makes this impossible
	}
	out := &Fuse{Interfacing: x.ID, Known: f.Known, Possible: f.Possible, Say: prose.Upper(x.Name) + ": " + prose.Lower(f.Say)}
	if f.Possible {
		out.At = &[2]float64{float64(f.At.Low), float64(f.At.High)}
	}
	return out
}
