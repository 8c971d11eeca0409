package index

import (
	"encoding/json"
	"math"
	"strings"

	"github.com/blevesearch/bleve/v2"
	bsearch "github.com/blevesearch/bleve/v2/search"
	"github.com/blevesearch/bleve/v2/search/query"

	"tenter/fibres/fault"
	"tenter/kb/search"
)

const maxWays = 4 // ways in which several words are replaced at once

// The boosts of the strong ways to be found lie so far apart that nothing a
// weaker way adds up to reaches the next: by tf-idf one word scores between
// some 0.005 and 200 times its boost.
const (
	boostName  = 1e16
	boostOther = 1e11
	boostLead  = 1e6
	boostOLead = 3e5
)

// request prepares a question to bleve.
func request(q query.Query, size int) *bleve.SearchRequest {
	return bleve.NewSearchRequestOptions(q, size, 0, false)
}

// way is one way of being found as bleve is asked for it.
func (r *reference) way(a *search.Ask, w search.Way) query.Query {
	switch w.How {
	case search.Listed:
		return query.NewMatchAllQuery()
	case search.Named:
		return named(a)
	case search.Written:
		return written(a)
	case search.Replaced:
		return substituted(a)
	case search.Guess:
		return guessed(a, r.spellings)
	case search.SomeNear:
		return partly(a, w.AtLeast, func(i int) query.Query { return nearly(a, i, r.spellings) })
	default:
		return partly(a, w.AtLeast, func(i int) query.Query { return clause(a, i) })
	}
}

// filtered puts the filters on a question, and leaves out what is hidden.
func filtered(q *search.Question, by query.Query) query.Query {
	if fs := filters(q.Query); len(fs) > 0 {
		by = query.NewConjunctionQuery(append([]query.Query{by}, fs...))
	}
	if len(q.Hidden) > 0 {
		// A conjunction, since a boolean query whose must finds nothing takes the
		// should alone.
		by = query.NewBooleanQuery([]query.Query{query.NewConjunctionQuery([]query.Query{by})}, nil, []query.Query{query.NewDocIDQuery(q.Hidden)})
	}
	return by
}

// filters are the conditions that do not score.
func filters(q *search.Query) []query.Query {
	var fs []query.Query
	var kinds []query.Query
	for _, k := range q.Kinds {
		kinds = append(kinds, term(fKind, k, 0))
	}
	if len(kinds) > 0 {
		d := query.NewDisjunctionQuery(kinds)
		d.SetBoost(0)
		fs = append(fs, d)
	}
	if q.Fibre != "" {
		fs = append(fs, term(fFibre, q.Fibre, 0))
	}
	low, high := q.MinMass > 0, q.MaxMass > 0 && !math.IsInf(q.MaxMass, 0)
	if low || high {
		yes := true
		from, to := (*float64)(nil), (*float64)(nil)
		if low {
			from = &q.MinMass
		}
		if high {
			to = &q.MaxMass
		}
		n := query.NewNumericRangeInclusiveQuery(from, to, &yes, &yes)
		n.SetField(fMass)
		n.SetBoost(0)
		fs = append(fs, n)
	}
	return fs
}

func term(field, word string, boost float64) query.Query {
	t := query.NewTermQuery(word)
	t.SetField(field)
	t.SetBoost(boost)
	return t
}

func oneOf(boost float64, qs ...query.Query) query.Query {
	if len(qs) == 1 && boost == 1 {
		return qs[0]
	}
	d := query.NewDisjunctionQuery(qs)
	d.SetBoost(boost)
	return d
}

func allOf(boost float64, qs ...query.Query) query.Query {
	if len(qs) == 1 && boost == 1 {
		return qs[0]
	}
	c := query.NewConjunctionQuery(qs)
	c.SetBoost(boost)
	return c
}

// strong are the ways of being found by the whole of what was asked.
func strong(a *search.Ask) []query.Query {
	qs := []query.Query{term(fExact, a.Key, boostName), term(fOther, a.Key, boostOther)}
	if len(a.Phrases) == 0 {
		qs = append(qs, term(fLead, a.Lead, boostLead), term(fOLead, a.Lead, boostOLead))
	}
	return qs
}

// everyWord is what is asked of each of the words.
func everyWord(a *search.Ask, by func(i int) query.Query) []query.Query {
	qs := make([]query.Query, len(a.Words))
	for i := range qs {
		qs[i] = by(i)
	}
	return qs
}

// named finds what has every word in its names.
func named(a *search.Ask) query.Query {
	qs := strong(a)
	must := everyWord(a, func(i int) query.Query { return typed(a, i, inNames(a, i)...) })
	if len(must) > 0 && len(a.Phrases) == 0 {
		qs = append(qs, allOf(1, must...))
	}
	return oneOf(1, qs...)
}

// inNames are the ways in which a word stands in a name.
func inNames(a *search.Ask, i int) []query.Query {
	st := search.Stem(a.Words[i])
	return []query.Query{term(fName, st, 4), term(fNames, st, 2.5)}
}

// typed is one of the ways to find a word, or the beginning of a name while the word is
// still being typed.
func typed(a *search.Ask, i int, qs ...query.Query) query.Query {
	if a.Typing(i) {
		qs = append(qs, term(fEdge, search.Cut(a.Words[i], longEdge), 2))
	}
	return oneOf(1, qs...)
}

// written finds what has every word anywhere, more so in a name.
func written(a *search.Ask) query.Query {
	if len(a.Words) == 0 {
		return query.NewMatchNoneQuery()
	}
	must := needed(a, func(i int) query.Query { return typed(a, i, term(fAll, search.Stem(a.Words[i]), 1)) })
	var should []query.Query
	for i := range a.Words {
		if len(a.Words) > 1 { // one word in a name was found before
			should = append(should, inNames(a, i)...)
		}
	}
	return query.NewBooleanQuery(must, should, nil)
}

// needed is what must be found: the phrases, and each word that stands in none of them.
func needed(a *search.Ask, by func(i int) query.Query) []query.Query {
	in := a.InPhrases()
	must := phrases(a)
	for i, w := range a.Words {
		if !in[w] {
			must = append(must, by(i))
		}
	}
	return must
}

// substituted finds what has every word or what it stands for.
func substituted(a *search.Ask) query.Query {
	must := needed(a, func(i int) query.Query { return clause(a, i) })
	if len(must) == 0 {
		return query.NewMatchNoneQuery()
	}
	return oneOf(1, append([]query.Query{allOf(1, must...)}, ways(a)...)...)
}

// clause is one word that must be found, in any field, as what it stands for, or in more ways.
func clause(a *search.Ask, i int, more ...query.Query) query.Query {
	w := a.Words[i]
	qs := []query.Query{term(fAll, search.Stem(w), 1)}
	if len(a.Words) > 1 { // a single word in a name was found before
		qs = append(qs, inNames(a, i)...)
	}
	for _, e := range a.Also[w] {
		qs = append(qs, instead(e))
	}
	return typed(a, i, append(qs, more...)...)
}

// instead finds what a word stands for; it counts less than the word.
func instead(e search.Expansion) query.Query {
	qs := make([]query.Query, len(e.Words))
	for i, w := range e.Words {
		qs[i] = term(fAll, search.Stem(w), 0.3)
	}
	return allOf(1, qs...)
}

func phrases(a *search.Ask) []query.Query {
	var qs []query.Query
	for _, p := range a.PhraseStems {
		qs = append(qs, phrase(fAll, p))
	}
	return qs
}

// ways replaces neighbouring words together: "press stud" by its other name.
func ways(a *search.Ask) []query.Query {
	var qs []query.Query
	if len(a.Phrases) > 0 {
		return nil
	}
	for n := 3; n >= 2; n-- {
		for i := 0; i+n <= len(a.Words) && len(qs) < maxWays; i++ {
			es := a.Also[strings.Join(a.Words[i:i+n], " ")]
			if len(es) == 0 {
				continue
			}
			var by []query.Query
			for _, e := range es {
				by = append(by, instead(e))
			}
			must := []query.Query{oneOf(1, by...)}
			for j := range a.Words {
				if j < i || j >= i+n {
					must = append(must, clause(a, j))
				}
			}
			qs = append(qs, allOf(0.5, must...))
		}
	}
	return qs
}

// guessed also guesses at the spelling of the doubtful words.
func guessed(a *search.Ask, known *spellings) query.Query {
	var qs []query.Query
	if n := search.Edits(a.Key); n > 0 {
		qs = append(qs, known.near(fExact, a.Key, n, 20), known.near(fOther, a.Key, n, 10))
	}
	if must := everyWord(a, func(i int) query.Query { return nearly(a, i, known) }); len(must) > 0 {
		qs = append(qs, allOf(1, must...))
	}
	if len(qs) == 0 {
		return query.NewMatchNoneQuery()
	}
	return oneOf(1, qs...)
}

// nearly is one word that must be found; of a doubtful one the spelling may be wrong.
func nearly(a *search.Ask, i int, known *spellings) query.Query {
	if !a.Slip(i) {
		return clause(a, i)
	}
	w := a.Words[i]
	is := []query.Query{term(fEdge, search.Cut(w, longEdge), 0.5)}
	if n := search.Edits(w); n > 0 {
		is = append(is, known.near(fWord, w, n, 0.5), known.near(fAll, search.Stem(w), 1, 0.05))
	}
	return clause(a, i, is...)
}

// partly finds what has at least n of the words.
func partly(a *search.Ask, n int, by func(i int) query.Query) query.Query {
	d := query.NewDisjunctionQuery(everyWord(a, by))
	d.SetMin(float64(n))
	return d
}

// show reads what is kept of a hit.
func show(h *bsearch.DocumentMatch) (search.Shown, bool) {
	var s search.Shown
	raw, ok := h.Fields[fShow].(string)
	return s, ok && json.Unmarshal([]byte(raw), &s) == nil
}

func unreadable(err error) error {
	return &fault.Fault{Kind: fault.Internal, What: "the search index could not be read", Mend: "delete the cache folder and search again", Err: err}
}
