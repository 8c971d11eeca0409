package fibres

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
)

// FactRow is one recorded fact with where it is from, for listing.
type FactRow struct {
	Of       string `json:"of"`
	ID       string `json:"id"`
	Property string `json:"property"`
	Say      string `json:"say"`
	Basis    Basis  `json:"basis"`           // of the figures
	Word     Basis  `json:"word,omitempty"`  // of the source's bare word, where the figures are ours
	Given    Given  `json:"given,omitempty"` // which figures the source gives
	Source   string `json:"source"`
	Locator  string `json:"locator,omitempty"`
}

// factNames are the words for facts that are no property of a cloth, and for
// what tells the rows of one file apart.
var factNames = map[string]string{
	"bulk": "bulk", "bend": "bending length", "shrink": "shrink", "density": "density",
	"elongation": "elongation at break", "recovery": "recovery", "retention": "water held when wrung", "dots": "iron dots", "moisture": "moisture",
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

func (e Estimate) fact(of, id, property, say string) FactRow {
	return FactRow{Of: of, ID: id, Property: property, Say: say, Basis: e.Basis, Word: e.Word, Given: e.Given, Source: e.Sources[0], Locator: e.Locator}
}

// Rests says in words what the fact rests on, as [Estimate.Rests] does.
func (f FactRow) Rests() string {
	return Estimate{Basis: f.Basis, Word: f.Word, Given: f.Given}.Rests()
}

// What a fact counts as whose source gives but part of its figures, or none.
const (
	PublishedPart = "published in part"
	PublishedWord = "published word"
)

// CountsAs is what a fact is counted under: published only where its source gives
// every figure of it.
func (f FactRow) CountsAs() string {
	switch {
	case f.Word == Published:
		return PublishedWord
	case f.Basis == Published && f.Given != GivesAll:
		return PublishedPart
	}
	return string(f.Basis)
}

// givesOne is what the source of a single figure, or of one factor, gives: all of it.
func givesOne(b Basis) Given {
	if b == Practice {
		return 0
	}
	return GivesAll
}

// Facts lists every recorded fact, in the order of property, thing and basis.
func (c *Catalogue) Facts() []FactRow {
	return c.factsWhere(func(string, string) bool { return true })
}

// FactsOf lists the recorded facts of one thing: of is "cloth", "fibre",
// "structure" or "treatment".
func (c *Catalogue) FactsOf(of, id string) []FactRow {
	return c.factsWhere(func(o, i string) bool { return o == of && i == id })
}

// factsWhere lists the facts of the things that are wanted.
func (c *Catalogue) factsWhere(wanted func(of, id string) bool) []FactRow {
	var out []FactRow
	for _, f := range c.facts {
		if at := f.At; wanted(at.of, at.id) {
			for _, e := range f.Rows {
				out = append(out, e.fact(at.of, at.id, at.prop, e.recorded()))
			}
		}
	}
	for at, rows := range c.scalars {
		if wanted(at.of, at.id) {
			for _, s := range rows {
				out = append(out, s.fact(at))
			}
		}
	}
	for at, rows := range c.effects {
		if wanted(at.of, at.id) {
			for _, e := range rows {
				out = append(out, e.fact(at))
			}
		}
	}
	for _, k := range c.clothOrder {
		if wanted("cloth", k.ID) {
			for _, p := range k.Content {
				for _, e := range append([]Estimate{p.Share}, p.Share.Differ...) {
					out = append(out, e.fact("cloth", k.ID, "content", p.Fibre.ID+" "+e.recorded()))
				}
			}
		}
	}
	slices.SortFunc(out, inOrder)
	return out
}

// inOrder compares two facts by property, thing and basis.
func inOrder(a, b FactRow) int {
	return cmp.Or(strings.Compare(a.Property, b.Property), strings.Compare(a.Of, b.Of), strings.Compare(a.ID, b.ID),
		cmp.Compare(a.Basis.rank(), b.Basis.rank()), strings.Compare(a.Say, b.Say))
}

func (s Scalar) fact(at ref) FactRow {
	name, unit := at.prop, " %"
	if s.Key != "" {
		name += " " + s.Key
	}
	if at.prop == "dots" {
		unit = ""
	}
	return FactRow{Of: at.of, ID: at.id, Property: name, Say: written(s.Value) + unit, Basis: s.Basis, Given: givesOne(s.Basis), Source: s.Source, Locator: s.Locator}
}

func (e effect) fact(at ref) FactRow {
	unit := " times"
	if p, ok := PropertyByID(e.property); ok && Properties[p].Scale != nil {
		unit = " steps"
	}
	return FactRow{Of: at.of, ID: at.id, Property: "effect on " + e.property, Say: written(e.low) + " – " + written(e.typical) + " – " + written(e.high) + unit,
		Basis: e.Basis, Given: givesOne(e.Basis), Source: e.Source, Locator: e.Locator}
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
