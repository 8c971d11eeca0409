// Package remember keeps the latest answers that are dear to work out, and the latest
// pages as they were sent, for as long as the knowledge is the same.
package remember

import "tenter/fibres/memo"

const (
	maxAnswers = 64
	maxPages   = 8 << 20 // bytes
)

// Answers keeps the latest answers that are dear to work out: the steps of one
// question ask for the same ranking again and again. The zero value is ready.
type Answers struct{ kept memo.Cache[string, any] }

// Answer returns what was worked out for a key, working it out the first
// time; of many who ask at once one works and the others wait. What comes back
// is shared: it must not be changed.
func Answer[T any](r *Answers, key string, work func() T) T {
	v, ok := r.kept.Within(maxAnswers, nil).Get(key, func() any { return work() }).(T)
	if !ok { // two sorts share a key
		return work()
	}
	return v
}

// Forget drops what was worked out, after the user's own records changed.
func (r *Answers) Forget() { r.kept.Clear() }

// Pages keeps the latest pages as they were sent: back, forward and reload ask
// for what was seen a moment ago, and nothing changes while the knowledge is the
// same. The zero value is ready.
type Pages struct{ kept memo.Cache[string, []byte] }

// Get is the page of an address as it was last sent, or nil.
func (p *Pages) Get(address string) []byte {
	page, _ := p.kept.Peek(address)
	return page
}

// Keep keeps a page as it was sent; it must not be changed afterwards.
func (p *Pages) Keep(address string, page []byte) {
	if len(page) <= maxPages/8 {
		p.kept.Within(maxPages, func(b []byte) int { return len(b) }).Put(address, page)
	}
}

// Forget drops them.
func (p *Pages) Forget() { p.kept.Clear() }
