// Package search finds entries of the knowledge base by words: by name, by
// another name, by the beginning of a name, by what is written about them, and
// by what was nearly the right spelling.
//
// It knows no domain types, only [Doc], and no index on a disk: what does not change
// stands behind [Reference], which kb/index keeps and [InMemory] reads through. Own
// records are few, and are read through. Words, tiers and reasons are the same for
// all of them.
package search

// Doc is one entry as the search sees it.
type Doc struct {
	Kind     string   // cloth, fibre, term, swatch …
	ID       string   // unique within its kind
	Name     string   // what it is called
	Names    []string // synonyms, names of other countries
	Misspelt []string // usual misspellings, found like names
	Text     string   // what is written about it
	Fibres   []string // ids of fibres it is made of
	Mass     float64  // g/m²; 0 = not known
	Words    []string // further words it should be found by, weaker than a name
	Rank     int      // which of entries that answer alike comes first: the higher
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

// Facets counts the entries found: by "kind" and by "fibre". Under "over" stand the kinds
// of own records of which there are more than were counted.
type Facets map[string]map[string]int

// Index is what can be searched: a reference and the user's own records. It may be
// used from several goroutines.
type Index struct {
	ref       Reference
	own       Own
	hidden    []string               // addresses of the reference that own records stand for
	thesaurus map[string][]Expansion // by key
}

// New joins a reference with the user's own records, nil where there are none. The
// index closes the reference.
func New(ref Reference, own Own, thesaurus map[string][]string) (*Index, error) {
	if own == nil {
		own = list(nil)
	}
	x := &Index{ref: ref, own: own, thesaurus: readThesaurus(thesaurus)}
	if err := x.hide(); err != nil {
		_ = ref.Close()
		return nil, err
	}
	return x, nil
}

// With is the same reference with other own records. Only one of the two is to be
// closed.
func (x *Index) With(own Own) (*Index, error) {
	y := &Index{ref: x.ref, own: own, thesaurus: x.thesaurus}
	return y, y.hide()
}

// Close gives back what was opened. Searching afterwards is an error.
func (x *Index) Close() error { return x.ref.Close() }

// Count is the number of entries that can be found.
func (x *Index) Count() int { return x.ref.Count() - len(x.hidden) + x.own.Count() }
