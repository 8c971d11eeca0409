// Package search finds entries of the knowledge base by words: by name, by
// another name, by the beginning of a name, by what is written about them, and
// by what was nearly the right spelling.
//
// It knows no domain types, only [Doc]. It is the only package that imports
// bleve. The reference index is an immutable folder in the cache, built once
// for each edition of the data; own records lie in a small index beside it.
package search

import (
	"errors"

	"github.com/blevesearch/bleve/v2"
)

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
	ix        bleve.Index // what is asked: the base, or an alias over base and own
	parts     []bleve.Index
	count     int
	own       map[string]bool        // addresses of own records
	thesaurus map[string][]expansion // by key
}

// The names by which a hit tells where it comes from.
const (
	baseName = "reference"
	ownName  = "own"
)

// Open opens the index, building it first where it is missing. A cache that
// cannot be written is no error: the index is then built in memory.
func Open(o Options) (*Index, error) {
	docs := o.Docs
	if docs == nil {
		docs = func() []Doc { return nil }
	}
	base, err := open(o.CacheDir, generation, o.Key, o.Count, docs)
	if err != nil {
		return nil, err
	}
	base.SetName(baseName)
	x := &Index{ix: base, parts: []bleve.Index{base}, own: map[string]bool{}, thesaurus: readThesaurus(o.Thesaurus)}
	n, err := base.DocCount()
	if err != nil {
		_ = x.Close()
		return nil, unreadable(err)
	}
	x.count = int(n) + len(o.Own)
	if len(o.Own) == 0 {
		return x, nil
	}
	var own bleve.Index
	if len(o.Own) <= ownInMemory || o.CacheDir == "" {
		own, err = inMemory(o.Own)
	} else {
		own, err = open(o.CacheDir, ownRecords, ownKey(o.Own), len(o.Own), func() []Doc { return o.Own })
	}
	if err != nil {
		_ = x.Close()
		return nil, err
	}
	own.SetName(ownName)
	for _, d := range o.Own {
		x.own[address(d.Kind, d.ID)] = true
	}
	x.parts = append(x.parts, own)
	x.ix = bleve.NewIndexAlias(base, own)
	return x, nil
}

// Close gives back what Open took. Searching afterwards is an error.
func (x *Index) Close() error {
	var errs []error
	for _, p := range x.parts {
		errs = append(errs, p.Close())
	}
	return errors.Join(errs...)
}

// Count is the number of entries that can be found.
func (x *Index) Count() int { return x.count }

// address is the id of an entry in the index.
func address(kind, id string) string { return kind + "/" + id }
