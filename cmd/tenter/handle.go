package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/kb"
	"tenter/kb/store"
)

// baseHandle is the opened knowledge base of this run.
type baseHandle struct{ *kb.Base }

// kb opens the reference with the user's own records, where there are any.
// What only reads does not make a store.
func (a *app) kb() (*kb.Base, error) {
	if a.base != nil {
		return a.base.Base, nil
	}
	adv, err := a.adv()
	if err != nil {
		return nil, err
	}
	s, err := a.readRecords()
	if err != nil {
		return nil, err
	}
	a.base = &baseHandle{newBase(adv.Cat, s)}
	return a.base.Base, nil
}

// recordsKB is [app.kb] for a command about the records themselves, which has no
// answer without them.
func (a *app) recordsKB() (*kb.Base, error) {
	b, err := a.kb()
	if err == nil && b.Records == nil {
		_, err = a.store()
	}
	return b, err
}

// newBase joins the reference with the user's records; nil is none yet. A nil
// *store.Store must not get into the interface, where it would pass for records.
func newBase(cat *fibres.Catalogue, s *store.Store) *kb.Base {
	if s == nil {
		return &kb.Base{Cat: cat}
	}
	return &kb.Base{Cat: cat, Records: s}
}

// store opens the user's own records; nil is none yet.
func (a *app) store() (*store.Store, error) {
	if a.records != nil {
		return a.records, nil
	}
	p := storePath()
	if p == "" || missing(p) {
		return nil, noNamedStore(p)
	}
	s, there, err := store.OpenIfExists(p)
	if err != nil || !there {
		return nil, err
	}
	a.use(s)
	return s, nil
}

// use keeps the opened store, and tells what is to be known of its opening.
func (a *app) use(s *store.Store) {
	a.records = s
	for _, what := range s.Notices() {
		for _, l := range wrap("caution: "+clean(what), a.width(), 4) {
			fmt.Fprintln(a.err, l)
		}
	}
}

// readRecords opens the user's own records for an answer that also holds without
// them: records that cannot be read are told beside it. A slip in the name of the
// store, or one that another process holds, remains an error.
func (a *app) readRecords() (*store.Store, error) {
	s, err := a.store()
	var f *fault.Fault
	if errors.As(err, &f) && (f.Kind == fault.BadData || f.Kind == fault.Internal) {
		a.unused = err
		return nil, nil
	}
	return s, err
}

// makeStore opens the user's own records and makes the store when it is
// missing.
func (a *app) makeStore() (*store.Store, error) {
	if a.records != nil {
		return a.records, nil
	}
	p := storePath()
	if p == "" {
		return nil, noHome()
	}
	if err := noNamedStore(p); err != nil && !a.newStore {
		return nil, err
	}
	s, err := store.Open(p)
	if err != nil {
		return nil, err
	}
	a.use(s)
	if a.base != nil {
		a.base.Records = s
	}
	return s, nil
}

// noNamedStore refuses a store that was named and is not there: a slip in its name
// must not pass for a store without records, nor make another one.
func noNamedStore(path string) error {
	if path == "" || path == ownPath() || path == demoPath() || !missing(path) {
		return nil
	}
	f := &fault.Fault{Kind: fault.NotFound, Where: path, What: "there is no store of this name", Expected: "the file of a store", Mend: "--new-store makes it, with what records something"}
	if st, err := os.Lstat(path); err == nil && st.Mode()&fs.ModeSymlink != 0 {
		f.What, f.Mend = "this is a link to a file that is not there", "mend the link, or remove it"
	}
	return f
}

func noHome() error {
	return &fault.Fault{Kind: fault.Internal, What: "there is no home folder to keep records in", Expected: "HOME or XDG_DATA_HOME to name a folder",
		Mend: "set XDG_DATA_HOME to a folder that can be written"}
}

// missing reports whether there is no such file, so that a user without
// records pays nothing for SQLite.
func missing(path string) bool {
	_, err := os.Stat(path)
	return errors.Is(err, fs.ErrNotExist)
}
