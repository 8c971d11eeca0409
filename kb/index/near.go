package index

import (
	"context"

	"github.com/blevesearch/bleve/v2/index/scorch"
	"github.com/blevesearch/bleve/v2/mapping"
	bsearch "github.com/blevesearch/bleve/v2/search"
	"github.com/blevesearch/bleve/v2/search/query"
	"github.com/blevesearch/bleve/v2/search/searcher"
	bleveindex "github.com/blevesearch/bleve_index_api"

	"tenter/fibres/memo"
)

// spellings keeps which words of the index are spelt nearly like one that was asked. A
// generation never changes, so what was found stays true; to find it takes most of the
// time of a guess, and every guess is asked twice, for its hits and for their count.
type spellings struct {
	found memo.Cache[spelling, nearby]
}

// keptSpellings is how many words are remembered.
const keptSpellings = 500

// spelling is a word as it was asked for in a field.
type spelling struct {
	field, word string
	edits       int
}

// nearby are the words that are spelt nearly so, and how far each is off.
type nearby struct {
	words []string
	edits []uint8
	err   error
}

func newSpellings() *spellings {
	s := &spellings{}
	s.found.Within(keptSpellings, nil)
	return s
}

// near finds what is spelt nearly like a word.
func (s *spellings) near(field, word string, edits int, boost float64) query.Query {
	return nearQuery{s, spelling{field, word, edits}, boost}
}

// nearQuery is bleve's fuzzy query with a memory.
type nearQuery struct {
	known *spellings
	spelling
	boost float64
}

var _ query.Query = nearQuery{}

// Searcher makes bleve's half of the query.
func (q nearQuery) Searcher(ctx context.Context, r bleveindex.IndexReader, _ mapping.IndexMapping, o bsearch.SearcherOptions) (bsearch.Searcher, error) {
	snapshot, err := asSnapshot(r)
	if err != nil {
		return nil, err
	}
	n := q.nearby(snapshot)
	if n.err != nil {
		return nil, n.err
	}
	return searcher.NewMultiTermSearcherBoosted(ctx, r, n.words, q.field, q.boost, n.edits, o, true)
}

// nearby are the words that are spelt nearly so.
func (q nearQuery) nearby(r *scorch.IndexSnapshot) nearby {
	return q.known.found.Get(q.spelling, func() nearby { return lookAlikes(r, q.spelling) })
}

// lookAlikes reads them off the dictionary of the field.
func lookAlikes(r *scorch.IndexSnapshot, s spelling) (n nearby) {
	dict, _, err := r.FieldDictFuzzyAutomaton(s.field, s.word, s.edits, "")
	if err != nil {
		return nearby{err: err}
	}
	defer dict.Close()
	for {
		e, err := dict.Next()
		if err != nil || e == nil {
			n.err = err
			return n
		}
		n.words, n.edits = append(n.words, e.Term), append(n.edits, e.EditDistance)
	}
}
