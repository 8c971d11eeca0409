// Package remember keeps the latest answers that are dear to work out, and the latest
// pages as they were sent, for as long as the knowledge is the same.
package remember

import "sync"

// Answers keeps the latest answers that are dear to work out: the steps of one
// question ask for the same ranking again and again.
type Answers struct {
	mu    sync.Mutex
	by    map[string]*remembered
	order []string // oldest first
}

type remembered struct {
	once  sync.Once
	value any
}

// most is how many answers are kept.
const most = 64

// Answer returns what was worked out for a key, working it out the first
// time; of many who ask at once one works and the others wait. What comes back
// is shared: it must not be changed.
func Answer[T any](r *Answers, key string, work func() T) T {
	r.mu.Lock()
	e := r.by[key]
	if e == nil {
		e = &remembered{}
		if r.by == nil {
			r.by = map[string]*remembered{}
		}
		r.by[key] = e
		r.order = append(r.order, key)
		if len(r.order) > most {
			delete(r.by, r.order[0])
			r.order = r.order[1:]
		}
	}
	r.mu.Unlock()
	e.once.Do(func() { e.value = work() })
	v, ok := e.value.(T)
	if !ok { // the work before this ended in a panic, or two sorts share a key
		return work()
	}
	return v
}

// Forget drops what was worked out, after the user's own records changed.
func (r *Answers) Forget() {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.by, r.order = nil, nil
}

// mostWritten is how many bytes of pages are kept.
const mostWritten = 8 << 20

// Pages keeps the latest pages as they were sent: back, forward and reload ask
// for what was seen a moment ago, and nothing changes while the knowledge is the
// same.
type Pages struct {
	mu    sync.Mutex
	by    map[string][]byte
	order []string // oldest first
	size  int
}

// Get is the page of an address as it was last sent, or nil.
func (w *Pages) Get(address string) []byte {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.by[address]
}

// Keep keeps a page as it was sent; it must not be changed afterwards.
func (w *Pages) Keep(address string, page []byte) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.by[address] != nil || len(page) > mostWritten/8 {
		return
	}
	if w.by == nil {
		w.by = map[string][]byte{}
	}
	w.by[address], w.order, w.size = page, append(w.order, address), w.size+len(page)
	for w.size > mostWritten {
		w.size -= len(w.by[w.order[0]])
		delete(w.by, w.order[0])
		w.order = w.order[1:]
	}
}

// Forget drops them.
func (w *Pages) Forget() {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.by, w.order, w.size = nil, nil, 0
}
