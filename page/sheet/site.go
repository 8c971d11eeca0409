// Package sheet is what every page of the site is written on: the layout, the
// state that an address holds, the words, the links between things, and the
// pictures. The pages themselves are the folders beside it.
package sheet

import (
	"sync"

	"tenter/advise"
	"tenter/fibres"
	"tenter/kb"
	"tenter/kb/record"
	"tenter/kb/search"
	"tenter/page/remember"
	"tenter/page/shelf"
)

// Site is what every page of the running site shares. It is made once and then only read; it may
// be used by several goroutines.
type Site struct {
	Adv *advise.Adviser
	// Base joins the catalogue with the user's own records, if there are any.
	Base *kb.Base
	// Change does something to the user's own records, which are made when they
	// are missing; every page that is written afterwards knows of it. It is nil
	// where nothing can be recorded.
	Change func(func(*kb.Base) error) error
	// Search answers a question to the whole base. It may be nil: then there is
	// no search, and the page says so.
	Search func(search.Query) (kb.Answer, error)
	// Shelf holds lists that are looked at before they are kept.
	Shelf *shelf.Shelf
	// Back are the changes that this site took back and can make again.
	Back *record.TakenBack
	// Clearable says that a browser keeps the records, and may clear them.
	Clearable bool
	// StoreName names the user's records where they are not the usual ones.
	StoreName string
	// Version names the program.
	Version string

	once    sync.Once
	web     *web
	scales  onceScales
	answers remember.Answers
	pages   remember.Pages
	facts   onceFacts
}

// Subject finds a cloth or swatch by what it is called.
func (k *Site) Subject(name string) (*fibres.Subject, error) { return k.Base.Subject(name) }

// Remember returns what was worked out for a key, working it out the first time. What
// comes back is shared: it must not be changed.
func Remember[T any](k *Site, key string, work func() T) T {
	return remember.Answer(&k.answers, key, work)
}

// Written is the page of an address as it was last sent, or nil.
func (k *Site) Written(address string) []byte { return k.pages.Get(address) }

// KeepWritten keeps a page as it was sent; it must not be changed afterwards.
func (k *Site) KeepWritten(address string, page []byte) { k.pages.Keep(address, page) }

// Forget drops what was worked out and written, after the user's own records changed.
func (k *Site) Forget() {
	k.answers.Forget()
	k.pages.Forget()
}

// onceFacts keeps the recorded facts by what they are of and by their source.
type onceFacts struct {
	sync.Once
	of, from map[string][]fibres.FactRow
}

func (k *Site) gather() {
	k.facts.Do(func() {
		k.facts.of, k.facts.from = map[string][]fibres.FactRow{}, map[string][]fibres.FactRow{}
		for _, f := range k.Adv.Cat.Facts() {
			k.facts.of[f.Of+"/"+f.ID] = append(k.facts.of[f.Of+"/"+f.ID], f)
			k.facts.from[f.Source] = append(k.facts.from[f.Source], f)
		}
	})
}

// FactsOf lists the recorded facts of one thing.
func (k *Site) FactsOf(kind, id string) []fibres.FactRow {
	k.gather()
	return k.facts.of[kind+"/"+id]
}

// FactsFrom lists the facts that rest on a source.
func (k *Site) FactsFrom(source string) []fibres.FactRow {
	k.gather()
	return k.facts.from[source]
}
