package index

import (
	"context"
	"sync"

	"github.com/RoaringBitmap/roaring/v2"
	"github.com/blevesearch/bleve/v2/index/scorch"
	"github.com/blevesearch/bleve/v2/mapping"
	bsearch "github.com/blevesearch/bleve/v2/search"
	"github.com/blevesearch/bleve/v2/search/query"
	bleveindex "github.com/blevesearch/bleve_index_api"
	segment "github.com/blevesearch/scorch_segment_api/v2"

	"tenter/fibres/fault"
	"tenter/kb/search"
)

// To count what is found nothing need be scored or read: the numbers of the entries
// that hold a term are a set on the disk, and a question is a few sets joined. bleve's
// own counting visits every entry that is found, which took more than half of a search.

// reading is the index as it stands while one question is answered.
type reading struct {
	*scorch.IndexSnapshot
	mapping mapping.IndexMapping
}

// read opens a reading; it is to be closed.
func (r *reference) read() (*reading, error) {
	engine, err := r.ix.Advanced()
	if err != nil {
		return nil, unreadable(err)
	}
	reader, err := engine.Reader()
	if err != nil {
		return nil, unreadable(err)
	}
	snapshot, err := asSnapshot(reader)
	if err != nil {
		_ = reader.Close()
		return nil, err
	}
	return &reading{snapshot, r.ix.Mapping()}, nil
}

// asSnapshot is the one place that knows which engine bleve was asked for.
func asSnapshot(r bleveindex.IndexReader) (*scorch.IndexSnapshot, error) {
	s, ok := r.(*scorch.IndexSnapshot)
	if !ok {
		return nil, &fault.Fault{Kind: fault.Internal, What: "the search index is of another make and cannot be read term by term",
			Mend: "delete the cache folder and search again"}
	}
	return s, nil
}

// segments goes through the parts of an index, each with the number of its first entry.
func segments(r *scorch.IndexSnapshot, each func(s *scorch.SegmentSnapshot, first uint64) error) error {
	first := uint64(0)
	for _, s := range r.Segments() {
		if err := each(s, first); err != nil {
			return err
		}
		first += s.Segment().Count()
	}
	return nil
}

// placed is the set of a list of places; it must not be changed.
func placed(it segment.PostingsIterator) (*roaring.Bitmap, error) {
	o, ok := it.(segment.OptimizablePostingsIterator)
	if !ok {
		return drain(func() (uint64, bool, error) {
			p, err := it.Next()
			if p == nil || err != nil {
				return 0, false, err
			}
			return p.Number(), true, nil
		})
	}
	if n, one := o.DocNum1Hit(); one {
		return roaring.BitmapOf(uint32(n)), nil
	}
	if b := o.ActualBitmap(); b != nil {
		return b, nil
	}
	return roaring.New(), nil
}

// drain gathers numbers until there are no more.
func drain(next func() (n uint64, more bool, err error)) (*roaring.Bitmap, error) {
	b := roaring.New()
	for {
		n, more, err := next()
		if err != nil || !more {
			return b, err
		}
		b.Add(uint32(n))
	}
}

// term is the set of entries that have a term in a field; it must not be changed.
func (r *reading) term(field, term string) (*roaring.Bitmap, error) {
	var all *roaring.Bitmap
	err := segments(r.IndexSnapshot, func(s *scorch.SegmentSnapshot, first uint64) error {
		dict, err := s.Segment().Dictionary(field)
		if err != nil {
			return err
		}
		places, err := dict.PostingsList([]byte(term), s.Deleted(), nil)
		if err != nil {
			return err
		}
		b, err := placed(places.Iterator(false, false, false, nil))
		if err != nil {
			return err
		}
		if all == nil && first == 0 { // most indexes are of one part
			all = b
			return nil
		}
		all = roaring.Or(all, roaring.AddOffset64(b, int64(first)))
		return nil
	})
	if all == nil {
		all = roaring.New()
	}
	return all, err
}

// set is the set of entries that a question leads to; it must not be changed.
func (r *reading) set(q query.Query) (*roaring.Bitmap, error) {
	switch q := q.(type) {
	case *query.TermQuery:
		return r.term(q.FieldVal, q.Term)
	case *query.ConjunctionQuery:
		sets, err := r.sets(q.Conjuncts)
		if err != nil || len(sets) == 0 {
			return roaring.New(), err
		}
		return roaring.FastAnd(sets...), nil
	case *query.DisjunctionQuery:
		sets, err := r.sets(q.Disjuncts)
		return atLeast(max(1, int(q.Min)), sets), err
	case *query.BooleanQuery: // what merely should hold scores and does not count
		must, err := r.set(q.Must)
		if err != nil || q.MustNot == nil {
			return must, err
		}
		not, err := r.set(q.MustNot)
		return roaring.AndNot(must, not), err
	case nearQuery:
		return r.near(q)
	case phraseQuery:
		return r.phrase(q)
	}
	return r.searched(q)
}

func (r *reading) sets(qs []query.Query) ([]*roaring.Bitmap, error) {
	out := make([]*roaring.Bitmap, len(qs))
	for i, q := range qs {
		var err error
		if out[i], err = r.set(q); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// atLeast are the entries that stand in so many of the sets.
func atLeast(n int, sets []*roaring.Bitmap) *roaring.Bitmap {
	if n == 1 {
		return roaring.FastOr(sets...)
	}
	in := make([]*roaring.Bitmap, n) // in one more of the sets that were looked at
	for i := range in {
		in[i] = roaring.New()
	}
	for _, s := range sets {
		for i := n - 1; i > 0; i-- {
			in[i].Or(roaring.And(in[i-1], s))
		}
		in[0].Or(s)
	}
	return in[n-1]
}

// near is the set of what holds one of the words that are spelt nearly so.
func (r *reading) near(q nearQuery) (*roaring.Bitmap, error) {
	n := q.nearby(r.IndexSnapshot)
	sets := make([]*roaring.Bitmap, len(n.words))
	for i, w := range n.words {
		var err error
		if sets[i], err = r.term(q.field, w); err != nil {
			return nil, err
		}
	}
	return roaring.FastOr(sets...), n.err
}

// phrase is the set of what holds a phrase.
func (r *reading) phrase(q phraseQuery) (*roaring.Bitmap, error) {
	hits, err := q.hits(r.IndexSnapshot)
	b := roaring.New()
	for _, h := range hits {
		b.Add(uint32(h.number))
	}
	return b, err
}

// searched asks bleve for a set, without scores.
func (r *reading) searched(q query.Query) (*roaring.Bitmap, error) {
	ctx := context.Background()
	s, err := q.Searcher(ctx, r.IndexSnapshot, r.mapping, bsearch.SearcherOptions{Score: "none"})
	if err != nil {
		return nil, err
	}
	defer s.Close()
	pool := &bsearch.SearchContext{DocumentMatchPool: bsearch.NewDocumentMatchPool(s.DocumentMatchPoolSize()+1, 0), IndexReader: r.IndexSnapshot}
	return drain(func() (uint64, bool, error) {
		m, err := s.Next(pool)
		if m == nil || err != nil {
			return 0, false, err
		}
		n := m.IndexInternalID.Value()
		pool.DocumentMatchPool.Put(m)
		return n, true, nil
	})
}

// tallies are the sets that what is found is counted by, read once: for each field its
// terms with their entries.
type tallies struct {
	once sync.Once
	of   map[string]map[string]*roaring.Bitmap
	err  error
}

// counted are the fields by which entries are counted.
var counted = []string{fKind, fFibre}

func (t *tallies) read(r *reading) error {
	t.once.Do(func() {
		t.of = map[string]map[string]*roaring.Bitmap{}
		for _, f := range counted {
			if t.of[f], t.err = r.allOf(f); t.err != nil {
				return
			}
		}
	})
	return t.err
}

// allOf are the terms of a field with their entries, as copies that outlive the reading.
func (r *reading) allOf(field string) (map[string]*roaring.Bitmap, error) {
	dict, err := r.FieldDict(field)
	if err != nil {
		return nil, err
	}
	defer dict.Close()
	out := map[string]*roaring.Bitmap{}
	for {
		e, err := dict.Next()
		if err != nil || e == nil {
			return out, err
		}
		b, err := r.term(field, e.Term)
		if err != nil {
			return nil, err
		}
		out[e.Term] = b.Clone()
	}
}

// count counts what a question leads to.
func (r *reference) count(q query.Query) (search.Facets, error) {
	now, err := r.read()
	if err != nil {
		return nil, err
	}
	defer now.Close()
	if err := r.tallies.read(now); err != nil {
		return nil, unreadable(err)
	}
	found, err := now.set(q)
	if err != nil {
		return nil, unreadable(err)
	}
	f := search.Facets{}
	for _, field := range counted {
		f[field] = map[string]int{}
		for term, of := range r.tallies.of[field] {
			if n := found.AndCardinality(of); n > 0 {
				f[field][term] = int(n)
			}
		}
	}
	return f, nil
}
