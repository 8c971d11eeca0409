package advise

import (
	"slices"

	"tenter/fibres"
	"tenter/fibres/yarn"
)

// Trait is what a structure or a fibre is like under heat and damp, beyond what its
// figures tell: a row of traits.csv.
type Trait struct {
	Of, ID, Trait string
	Cite
}

// The words of traits.csv.
const (
	raisedSurface = "raised"      // an iron presses it out
	waterMarks    = "water-marks" // drops leave rings
)

var (
	traitOf    = []string{"structure", "fibre"}
	traitWords = []string{raisedSurface, waterMarks}
)

// traits reads traits.csv.
func (l *loader) traits() {
	for _, r := range l.rows("traits.csv", "of", "id", "trait", "basis", "source_id", "locator", "note") {
		x := Trait{Of: r.Cell("of").Text, ID: r.Cell("id").Text, Trait: r.Cell("trait").Text,
			Cite: Cite{Basis: r.Cell("basis").Text, Sources: []string{r.Cell("source_id").Text}}}
		_, _, bad := r.Cell("of").Word(traitOf)
		l.found.Add(bad)
		_, _, bad = r.Cell("trait").Word(traitWords)
		l.found.Add(bad)
		_, fibre := l.a.Cat.Fibres[x.ID]
		_, structure := l.a.Cat.Structures[x.ID]
		if x.Of == "fibre" && !fibre || x.Of == "structure" && !structure {
			f := r.Cell("id").Fault("there is no "+x.Of+` "`+x.ID+`"`, "the id of a "+x.Of, "")
			f.Names = x.Of
			l.found.Add(f)
		}
		l.a.Traits = append(l.a.Traits, x)
	}
}

// has reports whether a structure or a fibre has a trait.
func (a *Adviser) has(of, id, trait string) bool {
	return slices.ContainsFunc(a.Traits, func(t Trait) bool { return t.Of == of && t.ID == id && t.Trait == trait })
}

// TraitsOf are what a cloth is like under heat and damp.
func (a *Adviser) TraitsOf(s *fibres.Subject) []yarn.Trait {
	if s == nil {
		return nil
	}
	var out []yarn.Trait
	if k := s.Named(); k != nil {
		if k.Structure.Class == "pile" {
			out = append(out, yarn.Pile)
		}
		if a.has("structure", k.Structure.ID, raisedSurface) {
			out = append(out, yarn.Raised)
		}
	}
	seen := map[yarn.Trait]bool{}
	for _, p := range s.Made() {
		for _, t := range a.TraitsOfFibre(p.Fibre, p.Share.Typical/100) {
			if !seen[t] {
				out = append(out, t)
			}
			seen[t] = true
		}
	}
	return out
}

// TraitsOfFibre are what a fibre brings into a blend of which it is the given part,
// 0 to 1: a fifth of what marks with water is enough, scaled hair must be half.
func (a *Adviser) TraitsOfFibre(f *fibres.Fibre, part float64) []yarn.Trait {
	var out []yarn.Trait
	if part >= 0.2 && a.has("fibre", f.ID, waterMarks) {
		out = append(out, yarn.WaterMarks)
	}
	if part >= 0.5 && f.Felts > 0 {
		out = append(out, yarn.Wool)
	}
	return out
}
