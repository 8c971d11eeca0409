// Package shelf holds lists that were sent to be looked at before they are kept.
package shelf

import (
	"crypto/rand"
	"encoding/hex"
	"sync"
	"time"
)

// Shelf holds lists that were sent to be looked at before they are kept, for a
// while and only a few: the browser has the file still.
type Shelf struct {
	mu    sync.Mutex
	lists []*Shelved // oldest first
}

// Shelved is one list on the shelf.
type Shelved struct {
	ID, Name string
	Data     []byte
	Rejected []byte // the rows that were refused when the rest was kept
	at       time.Time
}

const (
	maxShelved = 4
	shelfTime  = time.Hour
)

// Put lays a list on the shelf; the oldest may have to go.
func (s *Shelf) Put(name string, data []byte) string {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.sweep()
	if len(s.lists) == maxShelved {
		s.lists = s.lists[1:]
	}
	var b [9]byte
	_, _ = rand.Read(b[:]) // never fails, see crypto/rand
	l := &Shelved{ID: hex.EncodeToString(b[:]), Name: name, Data: data, at: time.Now()}
	s.lists = append(s.lists, l)
	return l.ID
}

// Get finds a list; what it holds is not to be changed.
func (s *Shelf) Get(id string) (Shelved, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.sweep()
	for _, l := range s.lists {
		if l.ID == id {
			return *l, true
		}
	}
	return Shelved{}, false
}

// Reject lays the refused rows beside their list.
func (s *Shelf) Reject(id string, rows []byte) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, l := range s.lists {
		if l.ID == id {
			l.Rejected = rows
		}
	}
}

func (s *Shelf) sweep() {
	for len(s.lists) > 0 && time.Since(s.lists[0].at) > shelfTime {
		s.lists = s.lists[1:]
	}
}
