package search

import (
	"errors"
	"slices"
	"sync/atomic"

	"tenter/fibres/fault"
)

// Options says what is to be searched.
type Options struct {
	Docs      func() []Doc        // the reference
	Count     int                 // how many entries Docs gives; 0 = not known
	Own       Own                 // the user's own records; of the same kind and id as another entry, it hides that
	Thesaurus map[string][]string // a maker's word (or words) → words it may stand for
}

// InMemory opens a search that keeps nothing on a disk and needs no index: each
// entry is read through. It serves some thousands of entries.
func InMemory(o Options) (*Index, error) {
	var docs []Doc
	if o.Docs != nil {
		docs = o.Docs()
	}
	m := &memory{records: readOwn(docs), at: make(map[string]int, len(docs)), called: map[string][]int{}}
	for i := range m.records {
		r := &m.records[i]
		if _, there := m.at[r.addr]; there {
			return nil, TwoOfOneID(r.addr)
		}
		m.at[r.addr] = i
		for _, n := range append([]string{r.doc.Name, r.doc.ID}, r.doc.Called()...) {
			if k := key(tokens(n, 0)); k != "" && !slices.Contains(m.called[k], i) {
				m.called[k] = append(m.called[k], i)
			}
		}
	}
	return New(m, o.Own, o.Thesaurus)
}

// Prepare splits some more entries of a reference in memory into words, which the first search
// would otherwise wait for, and tells whether there are more. One at a time may call it.
func (x *Index) Prepare(some int) (more bool) {
	m, ok := x.ref.(*memory)
	if !ok {
		return false
	}
	for ; some > 0 && m.prepared < len(m.records); some-- {
		m.records[m.prepared].entry()
		m.prepared++
	}
	return m.prepared < len(m.records)
}

// memory is a reference that is read through.
type memory struct {
	records  []ownRecord
	prepared int              // how many of them were split beforehand
	at       map[string]int   // by address
	called   map[string][]int // by the key of a name
	closed   atomic.Bool
}

func (m *memory) Count() int { return len(m.records) }

func (m *memory) Close() error {
	m.closed.Store(true)
	return nil
}

func (m *memory) Frequency(w, stem string, limit int) int {
	n := 0
	for i := 0; n <= limit && i < len(m.records); i++ {
		if m.records[i].holds(w, stem) {
			n++
		}
	}
	return n
}

func (m *memory) Present(addresses []string) ([]string, error) {
	return slices.DeleteFunc(slices.Clone(addresses), func(a string) bool {
		_, there := m.at[a]
		return !there
	}), nil
}

func (m *memory) Called(keys []string, limit int) ([]Shown, error) {
	var out []Shown
	seen := map[int]bool{}
	for _, k := range keys {
		for _, i := range m.called[k] {
			if !seen[i] && len(out) < limit {
				seen[i] = true
				out = append(out, m.records[i].entry().Shown)
			}
		}
	}
	return out, nil
}

func (m *memory) Find(q Question) (Found, error) {
	if m.closed.Load() {
		return Found{}, &fault.Fault{Kind: fault.Internal, What: "the search index is closed", Err: errors.New("closed")}
	}
	var out Found
	if q.Count {
		out.Facets = newFacets()
	}
	var fits []found
	needs := q.Ask.needs(false)
	hidden := map[string]bool{}
	for _, a := range q.Hidden {
		hidden[a] = true
	}
	for i := range m.records {
		r := &m.records[i]
		if hidden[r.addr] || !r.passes(q.Query) {
			continue
		}
		j, ok := q.judge(r, needs)
		if !ok {
			continue
		}
		if q.Count {
			out.Facets.add(r.doc.Kind, r.doc.Fibres)
		}
		if q.Limit > 0 {
			fits = append(fits, found{judged: j, raw: j.weight, addr: r.addr, rank: r.doc.Rank})
		}
	}
	slices.SortFunc(fits, better)
	for _, f := range fits[:min(len(fits), q.Limit)] {
		e := m.records[m.at[f.addr]].entry()
		out.Hits = append(out.Hits, Raw{Shown: e.Shown, Score: f.raw, entry: e})
	}
	return out, nil
}

// judge tells whether one of the ways leads to a record, and how well.
func (q *Question) judge(r *ownRecord, needs [][]string) (judged, bool) {
	for _, w := range q.Ways {
		if w.How == Listed {
			return listed, true
		}
		if (w.How == Named || w.How == Written) && !r.mayHold(needs) {
			continue
		}
		j := judge(q.Ask, r.entry(), w.pass())
		ok := j.ok
		switch w.How {
		case Named:
			ok = ok && j.tier >= tierWords
		case Written:
			ok = ok && j.tier >= tierText
		case Some, SomeNear:
			ok = ok || j.found >= w.AtLeast
		}
		if ok {
			return j, true
		}
	}
	return judged{}, false
}
