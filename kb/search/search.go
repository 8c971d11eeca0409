// Package search finds entries of the knowledge base by words: by name, by
// another name, by the beginning of a name, by what is written about them, and
// by what was nearly the right spelling.
//
// It knows no domain types, only [Doc]. It is the only package that imports
// bleve. The reference index is an immutable folder in the cache, built once
// for each edition of the data; own records lie in a small index beside it.
package search

import "errors"

// Doc is one entry as the search sees it.
type Doc struct {
	Kind   string   // cloth, fibre, term, swatch …
	ID     string   // unique within its kind
	Name   string   // what it is called
	Names  []string // synonyms, names of other countries, misspellings
	Text   string   // what is written about it
	Fibres []string // ids of fibres it is made of
	Mass   float64  // g/m²; 0 = not known
	Words  []string // further words it should be found by, weaker than a name
}

// Query is what is asked. An empty Words with a filter lists what passes the
// filter; an empty query finds nothing.
type Query struct {
	Words   string
	Kinds   []string // none = all
	Fibre   string   // id of a fibre it must hold
	MaxMass float64  // 0 = no limit; entries of unknown mass are left out
	MinMass float64
	Limit   int  // 0 = 20; at most 1000
	Prefix  bool // the last word is still being typed
}

// Hit is one entry found, best first.
type Hit struct {
	Kind, ID, Name string
	Score          float64
	Why            string // in words: name, synonym "broadcloth", spelling near "georgette", text …
}

// Facets counts the entries found: by "kind" and by "fibre".
type Facets map[string]map[string]int

// Options says what to search and where the index may be kept.
type Options struct {
	CacheDir  string              // "" = keep nothing on disk
	Key       string              // hash of data and code: another key, another index
	Docs      func() []Doc        // called only when the index must be built
	Count     int                 // how many entries Docs gives; 0 = not known
	Own       []Doc               // the user's own records
	Thesaurus map[string][]string // a maker's word → words it may stand for
}

// Index is an open index. It may be used from several goroutines.
type Index struct{}

// Open opens the index, building it first where it is missing.
func Open(o Options) (*Index, error) { return nil, errors.ErrUnsupported }

// Search answers a query.
func (x *Index) Search(q Query) ([]Hit, Facets, error) { return nil, nil, errors.ErrUnsupported }

// Close gives back what Open took.
func (x *Index) Close() error { return nil }
