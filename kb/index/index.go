// Package index keeps what is searched on the disk. It is the only package that
// imports bleve.
//
// The reference index is an immutable folder in the cache, built once for each
// edition of the data. What an answer is worth is judged in kb/search, by the same
// words for every engine.
package index

import (
	"errors"
	"strings"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/search/query"

	"tenter/fibres/fault"
	"tenter/kb/search"
)

// Place is where an index may be kept.
type Place struct {
	Dir string // the cache; "" = keep nothing on disk
	Key string // hash of data and code: another key, another index
}

// Open opens a search over an index, building it first where it is missing. A
// cache that cannot be written is no error: the index is then built in memory.
func Open(at Place, o search.Options) (*search.Index, error) {
	docs := o.Docs
	if docs == nil {
		docs = func() []search.Doc { return nil }
	}
	ix, err := open(at.Dir, at.Key, o.Count, docs)
	if err != nil {
		return nil, err
	}
	n, err := ix.DocCount()
	if err != nil {
		_ = ix.Close()
		return nil, unreadable(err)
	}
	return search.New(&reference{ix: ix, entries: int(n), spellings: newSpellings()}, o.Own, o.Thesaurus)
}

// reference is an open index as [search.Index] asks it.
type reference struct {
	ix        bleve.Index
	entries   int
	spellings *spellings
	tallies   tallies
}

// Count is the number of entries.
func (r *reference) Count() int { return r.entries }

// Close gives the files back.
func (r *reference) Close() error { return r.ix.Close() }

// Frequency is in how many entries a stem stands.
func (r *reference) Frequency(_, stem string, _ int) int { return r.terms(fAll, stem) }

// terms is how many entries have a term in a field.
func (r *reference) terms(field, term string) int {
	d, err := r.ix.FieldDictRange(field, []byte(term), []byte(term))
	if err != nil {
		return 0
	}
	defer d.Close()
	if e, err := d.Next(); err == nil && e != nil && e.Term == term {
		return int(e.Count)
	}
	return 0
}

// Present gives those of the addresses that there are. Most own records are of
// kinds that the reference has none of: those are not looked for.
func (r *reference) Present(addresses []string) ([]string, error) {
	kinds := map[string]bool{}
	var maybe []string
	for _, a := range addresses {
		kind, _, _ := strings.Cut(a, "/")
		in, known := kinds[kind]
		if !known {
			in = r.terms(fKind, kind) > 0
			kinds[kind] = in
		}
		if in {
			maybe = append(maybe, a)
		}
	}
	if len(maybe) == 0 {
		return nil, nil
	}
	found, err := r.ask(request(query.NewDocIDQuery(maybe), len(maybe)))
	if err != nil {
		return nil, err
	}
	var out []string
	for _, h := range found.Hits {
		out = append(out, h.ID)
	}
	return out, nil
}

// Called gives entries of which a name has one of the keys. What more entries are
// called by than are wanted is passed over: it is nobody's name.
func (r *reference) Called(keys []string, limit int) ([]search.Shown, error) {
	qs, err := r.callers(keys, limit)
	if err != nil {
		return nil, unreadable(err)
	}
	if len(qs) == 0 { // most words are nobody's name: to ask would take a quarter of the whole search
		return nil, nil
	}
	req := request(query.NewDisjunctionQuery(qs), limit)
	req.Fields = []string{fShow}
	req.SortBy([]string{"-_score", "_id"})
	found, err := r.ask(req)
	if err != nil {
		return nil, err
	}
	var out []search.Shown
	for _, h := range found.Hits {
		if s, ok := show(h); ok {
			out = append(out, s)
		}
	}
	return out, nil
}

// callers ask for those of the keys that some entries, but not too many, have for a name.
func (r *reference) callers(keys []string, limit int) (qs []query.Query, err error) {
	now, err := r.read()
	if err != nil {
		return nil, err
	}
	defer now.Close()
	for _, k := range keys {
		exact, err := now.term(fExact, k)
		if err != nil {
			return nil, err
		}
		other, err := now.term(fOther, k)
		if err != nil {
			return nil, err
		}
		a, b := int(exact.GetCardinality()), int(other.GetCardinality())
		if max(a, b) > limit {
			continue
		}
		if a > 0 {
			qs = append(qs, term(fExact, k, 2))
		}
		if b > 0 {
			qs = append(qs, term(fOther, k, 1))
		}
	}
	return qs, nil
}

// Find finds the entries that one of the ways leads to.
func (r *reference) Find(q search.Question) (search.Found, error) {
	var ways []query.Query
	listed := false
	for _, w := range q.Ways {
		ways = append(ways, r.way(q.Ask, w))
		listed = listed || w.How == search.Listed
	}
	by := filtered(&q, oneOf(1, ways...))
	var out search.Found
	var err error
	if q.Count {
		if out.Facets, err = r.count(by); err != nil {
			return search.Found{}, err
		}
	}
	if q.Limit > 0 {
		out.Hits, err = r.hits(by, q.Limit, listed)
	}
	return out, err
}

// hits are the best that a question leads to; what is only listed has no better.
func (r *reference) hits(by query.Query, limit int, listed bool) (hits []search.Raw, err error) {
	req := request(by, limit)
	req.SortBy([]string{"-_score", "_id"}) // the order of ties differs from build to build otherwise
	if listed {
		req.SortBy([]string{"_id"})
	}
	req.Fields = []string{fShow}
	found, err := r.ask(req)
	if err != nil {
		return nil, err
	}
	for _, h := range found.Hits {
		if s, ok := show(h); ok {
			hits = append(hits, search.Raw{Shown: s, Score: h.Score})
		}
	}
	return hits, nil
}

// ask puts one question to bleve.
func (r *reference) ask(req *bleve.SearchRequest) (*bleve.SearchResult, error) {
	found, err := r.ix.Search(req)
	if errors.Is(err, bleve.ErrorIndexClosed) {
		return nil, &fault.Fault{Kind: fault.Internal, What: "the search index is closed", Err: err}
	}
	if err != nil {
		return nil, unreadable(err)
	}
	return found, nil
}
