package sheet

import "sync"

// ranks keeps the latest rankings: the steps of one question ask for the same
// one again and again, and a ranking of all cloths is the dearest thing there
// is to work out.
type ranks struct {
	mu    sync.Mutex
	by    map[string]any
	order []string // oldest first
}

// most is how many answers are kept.
const most = 48

// Remember returns what was worked out for a key, working it out the first
// time. What comes back is shared: it must not be changed.
func Remember[T any](k *Kit, key string, work func() T) T {
	r := &k.ranks
	r.mu.Lock()
	if got, ok := r.by[key].(T); ok {
		r.mu.Unlock()
		return got
	}
	r.mu.Unlock()
	made := work() // outside the lock: two readers may both do it, with one result
	r.mu.Lock()
	defer r.mu.Unlock()
	if r.by == nil {
		r.by = map[string]any{}
	}
	if _, there := r.by[key]; !there {
		r.order = append(r.order, key)
		if len(r.order) > most {
			delete(r.by, r.order[0])
			r.order = r.order[1:]
		}
	}
	r.by[key] = made
	return made
}

// Forget drops what was worked out, after the user's own records changed.
func (k *Kit) Forget() {
	k.ranks.mu.Lock()
	defer k.ranks.mu.Unlock()
	k.ranks.by, k.ranks.order = nil, nil
}
