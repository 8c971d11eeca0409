package index

import (
	"encoding/json"
	"math"
	"strings"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/analysis/analyzer/custom"
	"github.com/blevesearch/bleve/v2/analysis/analyzer/keyword"
	"github.com/blevesearch/bleve/v2/analysis/tokenizer/whitespace"
	"github.com/blevesearch/bleve/v2/mapping"

	"tenter/kb/search"
)

// The fields of an entry in the index.
const (
	fExact   = "exact" // keys of the name and the id
	fOther   = "syn"   // keys of the other names
	fLead    = "lead"  // beginnings of the name
	fOLead   = "olead" // beginnings of the other names
	fEdge    = "edge"  // beginnings of each word of all names
	fWord    = "word"  // words of all names as they are spelt, for guessing
	fName    = "name"  // stems of the name
	fNames   = "names" // stems of the other names
	fAll     = "all"   // stems of everything
	fKind    = "kind"
	fFibre   = "fibre"
	fMass    = "mass"
	fShow    = "show" // stored: what a hit tells
	longEdge = 12     // runes of the beginnings of words
	barrier  = "|"    // between parts of one field, so that no phrase reaches across
)

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
	text(fKind, keyword.Name, nil)
	text(fFibre, keyword.Name, nil)
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
func fill(to indexer, docs []search.Doc) error {
	seen := make(map[string]bool, len(docs))
	for i := range docs {
		a := search.Address(docs[i].Kind, docs[i].ID)
		if seen[a] {
			return search.TwoOfOneID(a)
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

// indexed turns an entry into the fields of the index.
func indexed(d *search.Doc) (map[string]any, error) {
	name, id := search.Fold(d.Name), search.Fold(d.ID)
	var names [][]string
	called := d.Called()
	for _, n := range called {
		if t := search.Fold(n); len(t) > 0 {
			names = append(names, t)
		}
	}
	var words []string
	for _, w := range d.Words {
		words = append(words, search.Fold(w)...)
	}
	text := search.Fold(d.Text)

	exact := search.Unique([]string{search.Key(name), search.Key(id)})
	lead := search.Edges(search.Joined(name), search.LongestLead)
	var other, olead, spelt, edge []string
	spelt = append(append(spelt, name...), id...)
	all := append(search.Stems(name), barrier)
	if search.Joined(id) != search.Joined(name) {
		all = append(append(all, search.Stems(id)...), barrier)
	}
	var namesStems []string
	for _, n := range names {
		other = append(other, search.Key(n))
		olead = append(olead, search.Edges(search.Joined(n), search.LongestLead)...)
		spelt = append(spelt, n...)
		s := search.Stems(n)
		namesStems = append(namesStems, s...)
		all = append(append(all, s...), barrier)
	}
	spelt = search.Unique(spelt)
	for _, w := range spelt {
		edge = append(edge, search.Edges(w, longEdge)...)
	}
	all = append(append(all, search.Stems(words)...), barrier)
	for _, f := range d.Fibres {
		all = append(append(all, search.Stems(search.Fold(f))...), barrier)
	}
	all = append(all, search.Stems(text)...)

	show, err := json.Marshal(search.Show(d, text))
	if err != nil {
		return nil, err
	}
	data := map[string]any{
		fExact: exact, fOther: search.Unique(other), fLead: search.Unique(lead), fOLead: search.Unique(olead), fEdge: search.Unique(edge), fWord: spelt,
		fName: strings.Join(search.Stems(name), " "), fNames: strings.Join(namesStems, " "), fAll: strings.Join(all, " "),
		fKind: d.Kind, fFibre: search.Unique(d.Fibres), fShow: string(show),
	}
	if d.Mass > 0 && !math.IsInf(d.Mass, 0) {
		data[fMass] = d.Mass
	}
	return data, nil
}
