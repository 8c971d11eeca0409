package page

import (
	"fmt"
	"os"
	"sync"
	"time"

	"tenter/advise"
	"tenter/kb"
	"tenter/kb/search"
	"tenter/page/copies"
	"tenter/page/sheet"
)

// Knowledge is what the answers rest on: the reference, and what the user's own
// records make of it.
type Knowledge struct {
	Adviser *advise.Adviser
	Base    *kb.Base
}

// Own is how the site reaches the user's own records. Other commands may change
// them while the page runs, so that each page is written from what is there
// now.
type Own struct {
	// Path is the file of the records, which need not be there yet.
	Path string
	// Make opens the records and makes them when they are missing.
	Make func() error
	// Again gives the knowledge anew, after the records changed.
	Again func() (Knowledge, error)
}

// stamp tells one state of the records from another by their files.
func (o *Own) stamp() string {
	if o == nil || o.Path == "" {
		return ""
	}
	out := ""
	for _, end := range []string{"", "-wal"} {
		if st, err := os.Stat(o.Path + end); err == nil {
			out += fmt.Sprintf("%s %d %d ", end, st.Size(), st.ModTime().UnixNano())
		}
	}
	return out
}

// current is what the pages share now.
type current struct {
	mu      sync.Mutex
	shared  *sheet.Site
	stamp   string
	since   time.Time // when it was made
	search  func(search.Query) (kb.Answer, error)
	version string
	// storeName names the records where they are not the usual ones
	storeName string
}

func (s *Site) makeShared(k Knowledge) *sheet.Site {
	shared := &sheet.Site{Adv: k.Adviser, Base: k.Base, Search: s.now.search, Shelf: &s.shelf, Back: &s.back, Version: s.now.version, Clearable: s.phone, StoreName: s.now.storeName}
	if s.own != nil {
		shared.Change = s.change
	}
	return shared
}

// shared is what the pages share, made anew when the records have changed.
func (s *Site) shared() *sheet.Site {
	s.now.mu.Lock()
	defer s.now.mu.Unlock()
	if s.own == nil {
		return s.now.shared
	}
	if time.Since(s.now.since) > settle && s.own.stamp() != s.now.stamp {
		s.renew()
	}
	return s.now.shared
}

// renew makes it from what is recorded now. What cannot be read leaves the
// one before, and is told in the log.
func (s *Site) renew() {
	k, err := s.own.Again()
	if err != nil {
		if s.log != nil {
			fmt.Fprintf(s.log, "tenter page: the records could not be read again: %v\n", err)
		}
	} else {
		s.now.shared = s.makeShared(k)
	}
	s.now.stamp, s.now.since = s.own.stamp(), time.Now()
}

// settle is how often, at the most, a change by another command is looked for:
// while it imports a long list the records change all the time.
const settle = time.Second

// change does something to the records, one change at a time. Pages go on being
// read meanwhile, from what was there before.
func (s *Site) change(do func(*kb.Base) error) error {
	s.writing.Lock()
	defer s.writing.Unlock()
	base := s.shared().Base
	if base.Records == nil {
		if err := s.own.Make(); err != nil {
			return err
		}
		base = s.renewed().Base
	}
	err := do(base)
	s.renewed()
	return err
}

// renewed makes it anew at once.
func (s *Site) renewed() *sheet.Site {
	s.now.mu.Lock()
	defer s.now.mu.Unlock()
	s.renew()
	return s.now.shared
}

// Renew makes the pages of what is recorded now.
func (s *Site) Renew() { s.renewed() }

// rejected gives the rows of a list that were refused, as a file to mend.
func (s *Site) rejected(r Request, id string) Reply {
	l, ok := s.shelf.Get(id)
	if !ok || len(l.Rejected) == 0 {
		return s.failed404(r)
	}
	a := newReply(statusOK, "text/csv; charset=utf-8", l.Rejected)
	a.Header["Content-Disposition"] = `attachment; filename="rejected.csv"`
	return a
}

// copyOf gives all that is recorded, as the file that moves.
func (s *Site) copyOf(r Request) Reply {
	b, err := copies.Copy(s.shared())
	if err != nil {
		return s.failWith(r, err)
	}
	a := newReply(statusOK, "application/json", b)
	a.Header["Content-Disposition"] = `attachment; filename="tenter-records.json"`
	return a
}
