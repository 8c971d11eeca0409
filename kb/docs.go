package kb

import (
	"sort"
	"strings"

	"tenter/fibres"
	"tenter/kb/record"
	"tenter/kb/search"
)

// Docs describes everything of the catalogue to the search: cloths, fibres,
// structures, treatments, terms and sources. It needs every estimate of every
// cloth, so it is only called when an index must be built.
func Docs(cat *fibres.Catalogue) []search.Doc {
	var out []search.Doc
	for _, c := range cat.ClothList() {
		out = append(out, clothDoc(cat, c))
	}
	for _, id := range ids(cat.Fibres) {
		f := cat.Fibres[id]
		out = append(out, search.Doc{Kind: "fibre", ID: id, Name: f.Name, Names: filled(f.USName, f.Synonyms...), Fibres: []string{id},
			Text: text(f.Family+" fibre", felts(f), "Burning: "+f.Burn, "Hurt by "+f.Hurts, f.Caution)})
	}
	for _, id := range ids(cat.Structures) {
		s := cat.Structures[id]
		out = append(out, search.Doc{Kind: "structure", ID: id, Name: s.Name, Names: s.Synonyms, Text: text(s.Definition, s.Class, "weave")})
	}
	for _, id := range ids(cat.Treatments) {
		t := cat.Treatments[id]
		out = append(out, search.Doc{Kind: "treatment", ID: id, Name: t.Name, Names: t.Synonyms, Text: t.Definition})
	}
	for _, id := range ids(cat.Terms) {
		t := cat.Terms[id]
		out = append(out, search.Doc{Kind: "term", ID: id, Name: t.Name, Text: text(t.Meaning, t.Trap, strings.Join(t.SeeAlso, ", "))})
	}
	for _, id := range ids(cat.Sources) {
		s := cat.Sources[id]
		out = append(out, search.Doc{Kind: "source", ID: id, Name: s.Title, Text: text(s.Author, s.Year, s.Kind)})
	}
	return out
}

func clothDoc(cat *fibres.Catalogue, c *fibres.Cloth) search.Doc {
	d := search.Doc{Kind: "cloth", ID: c.ID, Name: c.Name}
	d.Names, d.Misspelt = filled(c.USName, c.Synonyms...), c.Misspellings
	parts := []string{c.Describe, strings.Join(c.UsedFor, ", "), c.RightSide, c.Structure.Name, strings.Join(c.Structure.Synonyms, ", "), c.Group, c.Era}
	for _, t := range c.Treatments {
		parts = append(parts, t.Name)
	}
	for _, p := range c.Content {
		if p.Share.Typical < 1 {
			continue
		}
		d.Fibres = append(d.Fibres, p.Fibre.ID)
		parts = append(parts, strings.Join(filled(p.Fibre.Name, p.Fibre.Synonyms...), ", "))
	}
	s := cat.Sample(fibres.Subject{Cloth: c}, fibres.ShellSalt)
	if mass, known := s.Typical(fibres.Mass); known {
		d.Mass = mass
	}
	d.Text = text(append(parts, behaviour(s)...)...)
	for _, g := range grades(s, c) {
		d.Words = append(d.Words, gradeWord(g))
	}
	return d
}

// text joins parts as sentences, so that words of two of them are not taken
// together. A label with nothing behind it is left out.
func text(parts ...string) string {
	var out []string
	for _, p := range parts {
		if p = strings.TrimSpace(p); p != "" && !strings.HasSuffix(p, ":") {
			out = append(out, strings.TrimSuffix(p, "."))
		}
	}
	return strings.Join(out, ". ")
}

// filled is the list of the names that are not empty.
func filled(first string, rest ...string) []string {
	var out []string
	for _, n := range append([]string{first}, rest...) {
		if n != "" {
			out = append(out, n)
		}
	}
	return out
}

func ids[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

func felts(f *fibres.Fibre) string {
	if f.Felts < 0 {
		return ""
	}
	return []string{"does not felt", "felts slowly", "felts"}[f.Felts]
}

// OwnDocs describes the user's swatches and notes to the search.
func OwnDocs(r Records) ([]search.Doc, error) {
	swatches, _, err := r.ListSwatches(record.SwatchFilter{}, 0, 0)
	if err != nil {
		return nil, err
	}
	_, weighed, err := r.Measured([]string{"mass"}, 0)
	if err != nil {
		return nil, err
	}
	var out []search.Doc
	for _, w := range swatches {
		mass := 0.0
		for _, m := range weighed[w.ID] { // the last counts
			if v, ok := m.Mean(record.ReadingMass); ok {
				mass = v
			}
		}
		out = append(out, search.Doc(record.SwatchEntry(w, mass)))
	}
	notes, err := noteDocs(r)
	return append(out, notes...), err
}

// noteDocs describes every note to the search.
func noteDocs(r interface {
	Notes(kind, subject string) ([]record.Note, error)
}) ([]search.Doc, error) {
	notes, err := r.Notes("", "")
	out := make([]search.Doc, len(notes))
	for i, n := range notes {
		out[i] = search.Doc(record.NoteEntry(n))
	}
	return out, err
}
