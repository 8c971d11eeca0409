package fibres

import (
	"sort"
	"strconv"
	"strings"
)

// FactRow is one recorded fact with where it is from, for listing.
type FactRow struct {
	Of       string `json:"of"`
	ID       string `json:"id"`
	Property string `json:"property"`
	Say      string `json:"say"`
	Basis    Basis  `json:"basis"`
	Source   string `json:"source"`
	Locator  string `json:"locator,omitempty"`
}

// factNames are the words for facts that are no property of a cloth, and for
// what tells the rows of one file apart.
var factNames = map[string]string{
	"bulk": "bulk", "bend": "bending length", "shrink": "shrink", "density": "density",
	"elongation": "elongation at break", "recovery": "recovery", "dots": "iron dots", "moisture": "moisture",
	"5": "from 5 % stretch", "50": "from 50 % stretch", "later-wash": "five washes",
	"eu": "EU allowance", "eu-carded": "EU allowance, carded", "eu-combed": "EU allowance, combed",
	"us": "US regain", "physical": "at 65 % humidity",
}

// Name is the fact in words: "recovery, from 5 % stretch".
func (f FactRow) Name() string {
	if p, ok := PropertyByID(f.Property); ok {
		return Properties[p].Name
	}
	if of, ok := strings.CutPrefix(f.Property, "effect on "); ok {
		return "effect on " + FactRow{Property: of}.Name()
	}
	parts := strings.Fields(f.Property)
	for i, w := range parts {
		if n := factNames[w]; n != "" {
			parts[i] = n
		}
	}
	return strings.Join(parts, ", ")
}

// written is a recorded figure with all its digits: an agreed allowance of 18.25 % is no 18 %.
func written(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// recorded says an estimate that stands in the files, unrounded.
func (e Estimate) recorded() string {
	if len(e.Words) == 3 {
		return e.Say()
	}
	unit := e.Unit
	if unit == "C" {
		unit = "°C"
	}
	if e.Low == e.High {
		return written(e.Typical) + " " + unit
	}
	return written(e.Low) + " – " + written(e.Typical) + " – " + written(e.High) + " " + unit
}

// Facts lists every recorded fact, in the order of property, thing and basis.
func (c *Catalogue) Facts() []FactRow {
	var out []FactRow
	for _, f := range c.facts {
		at := f.At
		for _, e := range f.Rows {
			out = append(out, FactRow{at.of, at.id, at.prop, e.recorded(), e.Basis, e.Sources[0], e.Locator})
		}
	}
	for at, rows := range c.scalars {
		for _, s := range rows {
			name := at.prop
			if s.Key != "" {
				name += " " + s.Key
			}
			unit := " %"
			if at.prop == "dots" {
				unit = ""
			}
			out = append(out, FactRow{at.of, at.id, name, written(s.Value) + unit, s.Basis, s.Source, s.Locator})
		}
	}
	for at, rows := range c.effects {
		for _, e := range rows {
			unit := " times"
			if p, ok := PropertyByID(e.property); ok && Properties[p].Scale != nil {
				unit = " steps"
			}
			out = append(out, FactRow{at.of, at.id, "effect on " + e.property, written(e.low) + " – " + written(e.typical) + " – " + written(e.high) + unit, e.Basis, e.Source, e.Locator})
		}
	}
	for _, k := range c.clothOrder {
		for _, p := range k.Content {
			for _, e := range append([]Estimate{p.Share}, p.Share.Differ...) {
				out = append(out, FactRow{"cloth", k.ID, "content", p.Fibre.ID + " " + e.recorded(), e.Basis, e.Sources[0], e.Locator})
			}
		}
	}
	sort.Slice(out, func(i, j int) bool {
		a, b := out[i], out[j]
		switch {
		case a.Property != b.Property:
			return a.Property < b.Property
		case a.Of != b.Of:
			return a.Of < b.Of
		case a.ID != b.ID:
			return a.ID < b.ID
		case a.Basis != b.Basis:
			return a.Basis.rank() < b.Basis.rank()
		}
		return a.Say < b.Say
	})
	return out
}

// FactsFrom lists the facts that rest on a source.
func (c *Catalogue) FactsFrom(source string) []FactRow {
	out := []FactRow{}
	for _, f := range c.Facts() {
		if f.Source == source {
			out = append(out, f)
		}
	}
	return out
}

// FactsOf lists the recorded facts of one thing: of is "cloth", "fibre",
// "structure" or "treatment".
func (c *Catalogue) FactsOf(of, id string) []FactRow {
	var out []FactRow
	for _, f := range c.Facts() {
		if f.Of == of && f.ID == id {
			out = append(out, f)
		}
	}
	return out
}
