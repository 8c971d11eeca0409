// Package search finds entries of the knowledge base by words: by name, by
// another name, by the beginning of a name, by what is written about them, and
// by what was nearly the right spelling.
//
// It knows no domain types, only [Doc]. It is the only package that imports
// bleve. The reference index is an immutable folder in the cache, built once
// for each edition of the data; own records are few, and are read through.
package search

import (
	"github.com/blevesearch/bleve/v2"
)

// Doc is one entry as the search sees it.
type Doc struct {
	Kind   string   // cloth, fibre, term, swatch …
	ID     string   // unique within its kind
	Name   string   // what it is called
	Names  []string // synonyms, names of other countries
	Slips  []string // usual misspellings, found like names
	Text   string   // what is written about it
	Fibres []string // ids of fibres it is made of
	Mass   float64  // g/m²; 0 = not known
	Words  []string // further words it should be found by, weaker than a name
}

// Query is what is asked. An empty Words with a filter lists what passes the
// filter; an empty query finds nothing. Words in double quotes must stand
// together in that order.
type Query struct {
	Words   string
	Kinds   []string // none = all
	Fibre   string   // id of a fibre it must hold
	MaxMass float64  // 0 = no limit; entries of unknown mass are left out
	MinMass float64
	Limit   int  // 0 = 20; at most 1000
	Prefix  bool // the last word is still being typed
	// NoFacets saves counting; Search then gives no Facets.
	NoFacets bool
}

// Hit is one entry found, best first.
type Hit struct {
	Kind, ID, Name string
	Score          float64 // comparable within one answer only
	Why            string  // in words: name, synonym "broadcloth", spelling near "georgette", text …
}

// Facets counts the entries found: by "kind" and by "fibre".
type Facets map[string]map[string]int

// Options says what to search and where the index may be kept.
type Options struct {
	CacheDir  string              // "" = keep nothing on disk
	Key       string              // hash of data and code: another key, another index
	Docs      func() []Doc        // called only when the index must be built
	Count     int                 // how many entries Docs gives; 0 = not known
	Own       []Doc               // the user's own records; of the same kind and id as another entry, it hides that
	Thesaurus map[string][]string // a maker's word (or words) → words it may stand for
}

// Index is an open index. It may be used from several goroutines.
type Index struct {
	ix        bleve.Index
	count     int
	own       []ownRecord
	hidden    []string               // addresses of the reference that own records stand for
	thesaurus map[string][]expansion // by key
}

// Open opens the index, building it first where it is missing. A cache that
// cannot be written is no error: the index is then built in memory. The own
// records are read, not copied: they must stay as they are.
func Open(o Options) (*Index, error) {
	docs := o.Docs
	if docs == nil {
		docs = func() []Doc { return nil }
	}
	base, err := open(o.CacheDir, o.Key, o.Count, docs)
	if err != nil {
		return nil, err
	}
	x := &Index{ix: base, own: readOwn(o.Own), thesaurus: readThesaurus(o.Thesaurus)}
	n, err := base.DocCount()
	if err == nil {
		x.count = int(n)
		err = x.hide()
	}
	if err != nil {
		_ = x.Close()
		return nil, unreadable(err)
	}
	return x, nil
}

// Close gives back what Open took. Searching afterwards is an error.
func (x *Index) Close() error { return x.ix.Close() }

// Count is the number of entries that can be found.
func (x *Index) Count() int { return x.count - len(x.hidden) + len(x.own) }

// address is the id of an entry in the index.
func address(kind, id string) string { return kind + "/" + id }
