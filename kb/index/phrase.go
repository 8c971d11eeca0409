package index

import (
	"context"
	"math"
	"sort"

	"github.com/blevesearch/bleve/v2/mapping"
	bsearch "github.com/blevesearch/bleve/v2/search"
	"github.com/blevesearch/bleve/v2/search/query"
	index "github.com/blevesearch/bleve_index_api"
)

// phraseQuery finds stems that stand side by side in a field. bleve's own
// gathers the places of every word of every candidate in maps, which takes some
// five times as long where the words are common.
type phraseQuery struct {
	field string
	stems []string
}

var _ query.Query = phraseQuery{}

// Searcher makes bleve's half of the query.
func (q phraseQuery) Searcher(ctx context.Context, r index.IndexReader, _ mapping.IndexMapping, o bsearch.SearcherOptions) (bsearch.Searcher, error) {
	s := &phraseSearcher{score: o.Score != "none", norm: 1}
	for i, stem := range q.stems {
		tr, err := r.TermFieldReader(ctx, []byte(stem), q.field, s.score, s.score, true)
		if err != nil {
			_ = s.Close()
			return nil, err
		}
		s.words = append(s.words, &phraseWord{reader: tr, offset: uint64(i)})
	}
	// The rarest word leads: the others are only looked at where it is.
	sort.SliceStable(s.words, func(i, j int) bool { return s.words[i].reader.Count() < s.words[j].reader.Count() })
	return s, nil
}

// phraseWord is one word of a phrase on its way through the index.
type phraseWord struct {
	reader index.TermFieldReader
	offset uint64 // its place in the phrase
	doc    index.TermFieldDoc
	at     bool // doc is set
}

func (w *phraseWord) next() (err error) {
	d, err := w.reader.Next(&w.doc)
	w.at = d != nil
	return err
}

// to goes to a document or beyond.
func (w *phraseWord) to(id index.IndexInternalID) error {
	if w.at && w.doc.ID.Compare(id) >= 0 {
		return nil
	}
	d, err := w.reader.Advance(id, &w.doc)
	w.at = d != nil
	return err
}

type phraseSearcher struct {
	words []*phraseWord
	score bool
	norm  float64
}

// Next finds the next document that holds the phrase.
func (s *phraseSearcher) Next(ctx *bsearch.SearchContext) (*bsearch.DocumentMatch, error) {
	if err := s.words[0].next(); err != nil {
		return nil, err
	}
	return s.align(ctx)
}

// Advance finds the first at a document or beyond.
func (s *phraseSearcher) Advance(ctx *bsearch.SearchContext, id index.IndexInternalID) (*bsearch.DocumentMatch, error) {
	if err := s.words[0].to(id); err != nil {
		return nil, err
	}
	return s.align(ctx)
}

// align brings all words to one document where they stand side by side.
func (s *phraseSearcher) align(ctx *bsearch.SearchContext) (*bsearch.DocumentMatch, error) {
	lead := s.words[0]
search:
	for lead.at {
		for _, w := range s.words[1:] {
			if err := w.to(lead.doc.ID); err != nil {
				return nil, err
			}
			if !w.at {
				return nil, nil
			}
			if w.doc.ID.Compare(lead.doc.ID) > 0 {
				if err := lead.to(w.doc.ID); err != nil {
					return nil, err
				}
				continue search
			}
		}
		if n := s.together(); n > 0 {
			m := ctx.DocumentMatchPool.Get()
			m.IndexInternalID = append(m.IndexInternalID[:0], lead.doc.ID...)
			if s.score {
				m.Score = s.norm * math.Sqrt(float64(n)) * lead.doc.Norm
			}
			return m, nil
		}
		if err := lead.next(); err != nil {
			return nil, err
		}
	}
	return nil, nil
}

// together counts how often the words stand side by side in this document.
func (s *phraseSearcher) together() int {
	n := 0
	for _, v := range s.words[0].doc.Vectors {
		start := v.Pos - s.words[0].offset // of the phrase; a wrapped one meets nothing
		all := true
		for _, w := range s.words[1:] {
			if !w.stands(start + w.offset) {
				all = false
				break
			}
		}
		if all {
			n++
		}
	}
	return n
}

func (w *phraseWord) stands(pos uint64) bool {
	for _, v := range w.doc.Vectors {
		if v.Pos == pos {
			return true
		}
	}
	return false
}

// Close gives the readers back.
func (s *phraseSearcher) Close() error {
	var first error
	for _, w := range s.words {
		if err := w.reader.Close(); err != nil && first == nil {
			first = err
		}
	}
	return first
}

// The rest of what bleve asks of a searcher.

func (s *phraseSearcher) Weight() float64            { return 1 }
func (s *phraseSearcher) SetQueryNorm(q float64)     { s.norm = q }
func (s *phraseSearcher) Count() uint64              { return s.words[0].reader.Count() }
func (s *phraseSearcher) Min() int                   { return 0 }
func (s *phraseSearcher) DocumentMatchPoolSize() int { return 1 }
func (s *phraseSearcher) Size() int {
	n := 0
	for _, w := range s.words {
		n += w.reader.Size()
	}
	return n
}
