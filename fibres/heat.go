package fibres

import (
	"math"
	"strings"

	"tenter/fibres/units"
	"tenter/fibres/yarn"
)

// Heat is the pressing limit of layers that are pressed together, the least of
// theirs: the one figure that every answer presses by. A typical of zero is "do
// not iron".
func (c *Catalogue) Heat(layers ...Subject) Estimate {
	var of []Estimate
	var src, names []string
	for _, s := range layers {
		e := c.Estimate(s, PressingLimit)
		of, src, names = append(of, e), appendNew(src, e.Sources...), append(names, s.Label()+" "+e.Limit().String())
	}
	ends := [3]float64{}
	for i, end := range []func(Estimate) float64{func(e Estimate) float64 { return e.Low }, func(e Estimate) float64 { return e.Typical }, func(e Estimate) float64 { return e.High }} {
		var parts []yarn.Pressed
		for _, e := range of {
			parts = append(parts, yarn.Pressed{Share: 1, Limit: limitAt(e, end(e))})
		}
		l, err := yarn.PressingLimit(parts)
		if err != nil || !l.Known {
			return unknown(PressingLimit, "no limit is known of a part: "+strings.Join(names, ", "))
		}
		if l.Iron {
			ends[i] = float64(l.Celsius)
		}
	}
	if len(of) == 1 {
		return of[0]
	}
	return Figure(PressingLimit, ends[0], ends[1], ends[2], Derived, "the tenderest layer decides: "+strings.Join(names, ", "), src...)
}

// Limit is the pressing limit that an estimate of it stands for: its typical
// figure, zero being "do not iron".
func (e Estimate) Limit() yarn.Limit { return limitAt(e, e.Typical) }

func limitAt(e Estimate, celsius float64) yarn.Limit {
	return yarn.Limit{Known: e.Known(), Iron: celsius > 0, Celsius: units.Temperature(celsius)}
}

// traceBelow is under which part in per cent an elastic fibre is a trace: it lies
// inside the other yarns, and cotton with a little of it is ironed hot by most and
// spoilt by some (practice). It widens the limit downwards and does not set it.
const traceBelow = 8

func isTrace(p Part) bool {
	return (p.Fibre.ID == "elastane" || p.Fibre.ID == "elastolefin") && p.Share.Typical < traceBelow
}

// least is the least of the fibres' limits, and of the structure's: a blend is
// washed and pressed as its tenderest part.
func (c *Catalogue) least(k *Cloth, p Property) Estimate {
	out := unknown(p, "no fibre of it has a limit")
	limit := func(e Estimate, who string) {
		if !out.Known() || e.Typical < out.Typical {
			out = Figure(p, e.Low, e.Typical, e.High, Derived, "the least of its parts, "+who, e.Sources...)
		}
	}
	lowest, occasional := math.Inf(1), ""
	var unheard []string // fibres of which no limit is known, as in yarn.PressingLimit
	for _, part := range k.Content {
		e := c.fibreLimit(part.Fibre, p)
		if !e.Known() && p == PressingLimit && part.Share.Typical >= 1 {
			unheard = append(unheard, part.Fibre.Name)
		}
		if !e.Known() || part.Share.High < 1 {
			continue
		}
		if part.Share.Typical < 1 || p == PressingLimit && isTrace(part) { // most cloths of the name lack it, or bear the heat in spite of it
			if e.Low < lowest {
				lowest, occasional = e.Low, part.Fibre.Name
			}
			continue
		}
		limit(e, part.Fibre.Name)
	}
	if r := c.rows("structure", k.Structure.ID, p); len(r) > 0 {
		limit(r[0], k.Structure.Name)
	}
	if out.Known() && lowest < out.Low {
		out = Figure(p, lowest, out.Typical, out.High, Derived, out.Because+"; less where "+occasional+" in it suffers", out.Sources...)
	}
	if len(unheard) > 0 && out.Typical > 0 {
		return unknown(p, "no limit is known of "+strings.Join(unheard, " and "))
	}
	if out.Known() {
		out = c.changed(k, p, out)
	}
	return out
}

// fibreLimit is one fibre's limit; a fibre that must not be ironed at all has
// the limit zero.
func (c *Catalogue) fibreLimit(f *Fibre, p Property) Estimate {
	if p == PressingLimit {
		if d := c.Scalars("dots", f.ID); len(d) > 0 && d[0].Value == 0 {
			return Figure(p, 0, 0, 0, Derived, "do not iron", d[0].Source)
		}
	}
	if r := c.rows("fibre", f.ID, p); len(r) > 0 {
		return r[0]
	}
	return unknown(p, "no row")
}
