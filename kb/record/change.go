package record

import (
	"encoding/json"
	"sync"
	"time"
)

// KeptChanges is how many changes can be undone; older ones are forgotten.
const KeptChanges = 1000

// Change is one entry of the log.
type Change struct {
	At   time.Time
	What string
}

// Undone is a change that was taken back, with what is needed to make it again.
type Undone struct {
	What  string          `json:"what"`
	Steps json.RawMessage `json:"steps,omitempty"` // nil where it is too large to be kept
	ID    int64           `json:"id"`              // the number that it had
	Last  int64           `json:"last"`            // the change that was the last when it had been taken back
}

// AddUndone adds a change to those taken back before, of which it keeps the latest. One
// that does not follow on them begins anew; one that cannot be made again leaves none, as
// what was taken back before rests on it.
func AddUndone(list []Undone, u Undone) []Undone {
	if u.Steps == nil {
		return nil
	}
	if n := len(list); n > 0 && list[n-1].Last != u.ID {
		list = nil
	}
	list = append(list, u)
	return list[max(0, len(list)-maxTakenBack):]
}

// TakenBack are the changes that were taken back and can be made again, the last at the
// end. The zero value has none; it may be used from several goroutines.
type TakenBack struct {
	mu   sync.Mutex
	list []Undone
}

// maxTakenBack is how many changes can be made again.
const maxTakenBack = 20

// Add keeps a change that was taken back, as [AddUndone] does.
func (t *TakenBack) Add(u Undone) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.list = AddUndone(t.list, u)
}

// Last is the change that was taken back last; false where there is none.
func (t *TakenBack) Last() (Undone, bool) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if len(t.list) == 0 {
		return Undone{}, false
	}
	return t.list[len(t.list)-1], true
}

// Drop forgets the change that was taken back last.
func (t *TakenBack) Drop() {
	t.mu.Lock()
	defer t.mu.Unlock()
	if n := len(t.list); n > 0 {
		t.list = t.list[:n-1]
	}
}

// Moment reads a stored time: whole seconds since 1970.
func Moment(unix int64) time.Time { return time.Unix(unix, 0).UTC() }
