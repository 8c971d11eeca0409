package sheet

import "sync"

// ranks keeps the latest answers that are dear to work out: the steps of one
// question ask for the same ranking again and again.
type ranks struct {
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

// Remember returns what was worked out for a key, working it out the first
// time; of many who ask at once one works and the others wait. What comes back
// is shared: it must not be changed.
func Remember[T any](k *Kit, key string, work func() T) T {
	r := &k.ranks
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
func (k *Kit) Forget() {
	k.ranks.mu.Lock()
	defer k.ranks.mu.Unlock()
	k.ranks.by, k.ranks.order = nil, nil
}
