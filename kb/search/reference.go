package search

import (
	"strings"

	"tenter/fibres/fault"
)

// Reference is an index of entries that do not change, on a disk or in memory. It
// is asked in the words of [Ask]; what its answers are worth is judged here.
type Reference interface {
	// Count is the number of entries.
	Count() int
	// Frequency is in how many entries a word stands, by its stem. It may stop
	// counting above most.
	Frequency(word, stem string, limit int) int
	// Present gives those of the addresses, as [Address] writes them, that there are.
	Present(addresses []string) ([]string, error)
	// Called gives entries of which a name has one of the keys, at most limit.
	Called(keys []string, limit int) ([]Shown, error)
	// Find finds the entries that one of the ways leads to.
	Find(Question) (Found, error)
	Close() error
}

// Question is what a [Reference] is asked.
type Question struct {
	Ask    *Ask
	Ways   []Way    // one of them is enough
	Query  *Query   // its filters hold
	Hidden []string // addresses that are left out
	Limit  int      // of the hits, best first; 0 = none, only counted
	Count  bool     // facets are wanted
}

// Way is one way of being found.
type Way struct {
	How     How
	AtLeast int // of Some and SomeNear: so many of the words
}

// How is what a way asks of an entry.
type How int

// The ways, strong ones first. Entries found by Named and Written have every word;
// those found by the later ones may have others in their place, or lack some.
const (
	Listed   How = iota // nothing but the filters
	Named               // every word in the names, or the beginning of one
	Written             // every word anywhere, every phrase together
	Replaced            // every word or what it stands for
	Guess               // every word, those that are doubtful by a near spelling
	Some                // some of the words
	SomeNear            // some of the words, those that are doubtful by a near spelling
)

func (w Way) pass() pass {
	switch w.How {
	case Listed:
		return passListed
	case Guess:
		return passLoose
	case Some:
		return passPartly
	case SomeNear:
		return passStrays
	}
	return passExact
}

// Found is what a [Reference] found.
type Found struct {
	Hits   []Raw
	Facets Facets // nil unless they were wanted
}

// Raw is one entry found with how well it fits, comparable within one answer.
type Raw struct {
	Shown Shown
	Score float64

	entry *entry // where it is split into words already
}

// Shown is what must be known of an entry to print it and to say why it was found.
type Shown struct {
	Kind     string   `json:"k"`
	ID       string   `json:"i"`
	Name     string   `json:"n"`
	Names    []string `json:"s,omitempty"`
	Misspelt int      `json:"m,omitempty"` // the last so many names are misspellings
	Words    []string `json:"w,omitempty"`
	Fibre    []string `json:"f,omitempty"`
	Text     string   `json:"t,omitempty"` // as [Fold] splits it, blanks between
	Rank     int      `json:"r,omitempty"`
}

// Show is what must be known of an entry.
func Show(d *Doc, folded []string) Shown {
	return Shown{d.Kind, d.ID, d.Name, d.Called(), len(d.Misspelt), d.Words, d.Fibres, strings.Join(folded, " "), d.Rank}
}

// Called are all names of an entry but the first, misspellings last.
func (d *Doc) Called() []string { return append(d.Names[:len(d.Names):len(d.Names)], d.Misspelt...) }

// Address is what an entry is known by among all.
func Address(kind, id string) string { return kind + "/" + id }

// TwoOfOneID is the fault of two entries of one kind and id.
func TwoOfOneID(address string) error {
	return &fault.Fault{Kind: fault.BadData, Where: address, What: "two entries have this kind and id", Expected: "one entry for each kind and id"}
}
