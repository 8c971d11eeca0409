package search

import (
	"encoding/json"
	"math"
	"strings"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/analysis/analyzer/custom"
	"github.com/blevesearch/bleve/v2/analysis/analyzer/keyword"
	"github.com/blevesearch/bleve/v2/analysis/tokenizer/whitespace"
	"github.com/blevesearch/bleve/v2/mapping"

	"tenter/fibres/fault"
)

// The fields of an entry in the index.
const (
	fExact  = "exact" // keys of the name and the id
	fOther  = "syn"   // keys of the other names
	fLead   = "lead"  // beginnings of the name
	fOLead  = "olead" // beginnings of the other names
	fEdge   = "edge"  // beginnings of each word of all names
	fWord   = "word"  // words of all names as they are spelt, for guessing
	fName   = "name"  // stems of the name
	fNames  = "names" // stems of the other names
	fAll    = "all"   // stems of everything
	fKind   = "kind"
	fFibre  = "fibre"
	fMass   = "mass"
	fShow   = "show" // stored: what a hit tells
	longest = 20     // runes of the beginnings of names
	longEdg = 12     // runes of the beginnings of words
	barrier = "|"    // between parts of one field, so that no phrase reaches across
)

// shown is what is kept of an entry to print it and to say why it was found.
type shown struct {
	Kind  string   `json:"k"`
	ID    string   `json:"i"`
	Name  string   `json:"n"`
	Names []string `json:"s,omitempty"`
	Slips int      `json:"m,omitempty"` // the last so many names are misspellings
	Words []string `json:"w,omitempty"`
	Fibre []string `json:"f,omitempty"`
	Text  string   `json:"t,omitempty"` // folded words
}

// fields describes the index. The text is split into words before it comes
// here, so the analysers do next to nothing.
func fields() mapping.IndexMapping {
	m := bleve.NewIndexMapping()
	if err := m.AddCustomAnalyzer("blanks", map[string]any{"type": custom.Name, "tokenizer": whitespace.Name}); err != nil {
		panic(err) // only if bleve lost its tokenizer
	}
	m.DefaultAnalyzer = keyword.Name
	m.StoreDynamic, m.IndexDynamic, m.DocValuesDynamic = false, false, false
	d := bleve.NewDocumentStaticMapping()
	text := func(name, analyser string, edit func(f *mapping.FieldMapping)) {
		f := bleve.NewTextFieldMapping()
		f.Analyzer, f.Store, f.IncludeInAll, f.IncludeTermVectors, f.DocValues = analyser, false, false, false, false
		if edit != nil {
			edit(f)
		}
		d.AddFieldMappingsAt(name, f)
	}
	// SkipFreqNorm would save little, and makes every score of a field NaN.
	for _, n := range []string{fExact, fOther, fLead, fOLead, fEdge, fWord} {
		text(n, keyword.Name, nil)
	}
	text(fName, "blanks", nil)
	text(fNames, "blanks", nil)
	text(fAll, "blanks", func(f *mapping.FieldMapping) { f.IncludeTermVectors = true }) // for phrases
	for _, n := range []string{fKind, fFibre} {
		text(n, keyword.Name, func(f *mapping.FieldMapping) { f.DocValues = true })
	}
	text(fShow, keyword.Name, func(f *mapping.FieldMapping) { f.Index, f.Store = false, true })
	mass := bleve.NewNumericFieldMapping()
	mass.Store, mass.IncludeInAll, mass.DocValues = false, false, false
	d.AddFieldMappingsAt(fMass, mass)
	m.DefaultMapping = d
	return m
}

// indexer is a batch or a builder.
type indexer interface {
	Index(id string, data any) error
}

// fill puts entries into the index.
func fill(to indexer, docs []Doc) error {
	seen := make(map[string]bool, len(docs))
	for i := range docs {
		a := address(docs[i].Kind, docs[i].ID)
		if seen[a] {
			return &fault.Fault{Kind: fault.BadData, Where: a, What: "two entries have this kind and id", Expected: "one entry for each kind and id"}
		}
		seen[a] = true
		data, err := indexed(&docs[i])
		if err != nil {
			return err
		}
		if err := to.Index(a, data); err != nil {
			return err
		}
	}
	return nil
}

// called are all names of an entry but the first, misspellings last.
func (d *Doc) called() []string { return append(d.Names[:len(d.Names):len(d.Names)], d.Slips...) }

// indexed turns an entry into the fields of the index.
func indexed(d *Doc) (map[string]any, error) {
	name, id := tokens(d.Name, 0), tokens(d.ID, 0)
	var names [][]string
	called := d.called()
	for _, n := range called {
		if t := tokens(n, 0); len(t) > 0 {
			names = append(names, t)
		}
	}
	var words []string
	for _, w := range d.Words {
		words = append(words, tokens(w, 0)...)
	}
	text := tokens(d.Text, 0)

	exact := unique([]string{key(name), key(id)})
	lead := edges(joined(name), longest)
	var other, olead, spelt, edge []string
	spelt = append(append(spelt, name...), id...)
	all := append(stems(name), barrier)
	if joined(id) != joined(name) {
		all = append(append(all, stems(id)...), barrier)
	}
	var namesStems []string
	for _, n := range names {
		other = append(other, key(n))
		olead = append(olead, edges(joined(n), longest)...)
		spelt = append(spelt, n...)
		s := stems(n)
		namesStems = append(namesStems, s...)
		all = append(append(all, s...), barrier)
	}
	spelt = unique(spelt)
	for _, w := range spelt {
		edge = append(edge, edges(w, longEdg)...)
	}
	all = append(append(all, stems(words)...), barrier)
	for _, f := range d.Fibres {
		all = append(append(all, stems(tokens(f, 0))...), barrier)
	}
	all = append(all, stems(text)...)

	show, err := json.Marshal(shown{d.Kind, d.ID, d.Name, called, len(d.Slips), d.Words, d.Fibres, strings.Join(text, " ")})
	if err != nil {
		return nil, err
	}
	data := map[string]any{
		fExact: exact, fOther: unique(other), fLead: unique(lead), fOLead: unique(olead), fEdge: unique(edge), fWord: spelt,
		fName: strings.Join(stems(name), " "), fNames: strings.Join(namesStems, " "), fAll: strings.Join(all, " "),
		fKind: d.Kind, fFibre: unique(d.Fibres), fShow: string(show),
	}
	if d.Mass > 0 && !math.IsInf(d.Mass, 0) {
		data[fMass] = d.Mass
	}
	return data, nil
}

// unique drops empty and repeated words and keeps the order.
func unique(words []string) []string {
	seen := make(map[string]bool, len(words))
	out := make([]string, 0, len(words))
	for _, w := range words {
		if w != "" && !seen[w] {
			seen[w] = true
			out = append(out, w)
		}
	}
	return out
}
