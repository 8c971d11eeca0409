package index

import (
	"context"
	"math"
	"sort"
	"sync"

	"github.com/RoaringBitmap/roaring/v2"
	"github.com/blevesearch/bleve/v2/index/scorch"
	"github.com/blevesearch/bleve/v2/mapping"
	bsearch "github.com/blevesearch/bleve/v2/search"
	"github.com/blevesearch/bleve/v2/search/query"
	index "github.com/blevesearch/bleve_index_api"
	segment "github.com/blevesearch/scorch_segment_api/v2"
)

// phraseQuery finds stems that stand side by side in a field. bleve's own reads the
// places of every word of every entry into maps; this reads them only of the entries
// that hold all of the words, once for the hits and for their count.
type phraseQuery struct {
	field string
	stems []string
	found *phraseFound
}

var _ query.Query = phraseQuery{}

func phrase(field string, stems []string) query.Query {
	return phraseQuery{field, stems, &phraseFound{}}
}

// phraseFound is what a phrase led to, by the numbers of the entries.
type phraseFound struct {
	once sync.Once
	hits []phraseHit
	err  error
}

// phraseHit is an entry that holds the phrase, with its score but for the norm of the question.
type phraseHit struct {
	number uint64
	score  float64
}

// Searcher makes bleve's half of the query.
func (q phraseQuery) Searcher(_ context.Context, r index.IndexReader, _ mapping.IndexMapping, _ bsearch.SearcherOptions) (bsearch.Searcher, error) {
	snapshot, err := asSnapshot(r)
	if err != nil {
		return nil, err
	}
	hits, err := q.hits(snapshot)
	return &phraseSearcher{hits: hits, norm: 1}, err
}

// hits finds the phrase; a question is asked of one state of the index.
func (q phraseQuery) hits(r *scorch.IndexSnapshot) ([]phraseHit, error) {
	f := q.found
	f.once.Do(func() {
		f.err = segments(r, func(s *scorch.SegmentSnapshot, first uint64) error {
			return f.search(s, first, q)
		})
	})
	return f.hits, f.err
}

// search looks through one part of the index.
func (f *phraseFound) search(s *scorch.SegmentSnapshot, first uint64, q phraseQuery) error {
	dict, err := s.Segment().Dictionary(q.field)
	if err != nil {
		return err
	}
	words := make([]segment.PostingsIterator, len(q.stems))
	sets := make([]*roaring.Bitmap, len(q.stems))
	for i, stem := range q.stems {
		places, err := dict.PostingsList([]byte(stem), s.Deleted(), nil)
		if err != nil {
			return err
		}
		words[i] = places.Iterator(true, true, true, nil)
		if sets[i], err = placed(places.Iterator(false, false, false, nil)); err != nil {
			return err
		}
	}
	all := roaring.FastAnd(sets...)
	for _, w := range words {
		if o, ok := w.(segment.OptimizablePostingsIterator); ok && o.ActualBitmap() != nil {
			o.ReplaceActual(all) // the places of other entries are not read
		}
	}
	at := make([]segment.Posting, len(words))
	for it := all.Iterator(); it.HasNext(); {
		n := uint64(it.Next())
		for i, w := range words {
			if at[i], err = w.Advance(n); err != nil || at[i] == nil {
				return err
			}
		}
		if times := together(at); times > 0 {
			f.hits = append(f.hits, phraseHit{first + n, math.Sqrt(float64(times)) * at[0].Norm()})
		}
	}
	return nil
}

// together counts how often the words stand side by side in an entry.
func together(words []segment.Posting) (times int) {
	for _, p := range words[0].Locations() {
		all := true
		for i := 1; all && i < len(words); i++ {
			all = stands(words[i], p.Pos()+uint64(i))
		}
		if all {
			times++
		}
	}
	return times
}

func stands(word segment.Posting, at uint64) bool {
	for _, p := range word.Locations() {
		if p.Pos() == at {
			return true
		}
	}
	return false
}

// phraseSearcher gives the hits to bleve one after the other.
type phraseSearcher struct {
	hits []phraseHit // those still to come
	norm float64
}

// Next gives the next entry that holds the phrase.
func (s *phraseSearcher) Next(ctx *bsearch.SearchContext) (*bsearch.DocumentMatch, error) {
	if len(s.hits) == 0 {
		return nil, nil
	}
	h := s.hits[0]
	s.hits = s.hits[1:]
	m := ctx.DocumentMatchPool.Get()
	m.IndexInternalID = index.NewIndexInternalID(m.IndexInternalID, h.number)
	m.Score = s.norm * h.score
	return m, nil
}

// Advance gives the first at an entry or beyond.
func (s *phraseSearcher) Advance(ctx *bsearch.SearchContext, id index.IndexInternalID) (*bsearch.DocumentMatch, error) {
	n := id.Value()
	s.hits = s.hits[sort.Search(len(s.hits), func(i int) bool { return s.hits[i].number >= n }):]
	return s.Next(ctx)
}

// The rest of what bleve asks of a searcher.

func (s *phraseSearcher) Close() error               { return nil }
func (s *phraseSearcher) Weight() float64            { return 1 }
func (s *phraseSearcher) SetQueryNorm(q float64)     { s.norm = q }
func (s *phraseSearcher) Count() uint64              { return uint64(len(s.hits)) }
func (s *phraseSearcher) Min() int                   { return 0 }
func (s *phraseSearcher) DocumentMatchPoolSize() int { return 1 }
func (s *phraseSearcher) Size() int                  { return 16 * len(s.hits) }
