package search

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"
	"unicode/utf8"

	"github.com/blevesearch/bleve/v2"
	bsearch "github.com/blevesearch/bleve/v2/search"
	"github.com/blevesearch/bleve/v2/search/query"

	"tenter/fibres/fault"
)

const (
	usual      = 20   // hits when no limit is given
	mostHits   = 1000 // hits at most
	spare      = 10   // hits fetched beyond the limit, as some turn out not to fit
	facetWords = 60   // fibres counted at most
	mostAlso   = 6    // other words that one word is looked for by
	mostCalled = 4    // entries of one name up to which their other names are used
	mostWays   = 4    // ways in which several words are replaced at once
)

// The boosts of the strong ways to be found lie so far apart that nothing a
// weaker way adds up to reaches the next: by tf-idf one word scores between
// some 0.005 and 200 times its boost.
const (
	boostName  = 1e16
	boostOther = 1e11
	boostLead  = 1e6
	boostOLead = 3e5
)

// ask is a query taken apart.
type ask struct {
	all         []string   // every word
	words       []string   // the words that must be found
	stems       []string   // of words
	phrases     [][]string // words that must stand together
	phraseStems [][]string
	doubtful    []bool // words that may be slips
	last        bool   // the last of words is still being typed
	key         string
	lead        string
	also        map[string][]expansion // by a word, or several joined
}

// expansion is what a word of the query may stand for.
type expansion struct {
	words  []string
	text   string // as it is shown
	maker  bool   // from the thesaurus: taken as; else another name: also called
	origin string // the words as they were asked
}

// Search answers a query. It never fails because of what was typed.
//
// It goes from the strong ways of being found to the weak ones and stops when
// there are hits enough: names first, as they hold few words, then everything
// written, then guesses at the spelling, then some of the words only.
func (x *Index) Search(q Query) (hits []Hit, facets Facets, err error) {
	defer func() {
		// A damaged index must not take the program with it.
		if r := recover(); r != nil {
			hits, facets, err = nil, nil, unreadable(fmt.Errorf("%v", r))
		}
	}()
	a := parse(q.Words, q.Prefix)
	limit := q.Limit
	if limit <= 0 {
		limit = usual
	}
	limit = min(limit, mostHits)
	s := search{x: x, q: q, a: &a, filter: filters(q), limit: limit, seen: map[string]bool{}}
	if len(a.all) == 0 {
		if len(s.filter) == 0 || strings.TrimSpace(q.Words) != "" {
			return nil, Facets{}, nil
		}
		everything := query.NewMatchAllQuery()
		s.take(s.own(passListed, 0))
		if err := s.run(everything, passListed); err != nil {
			return nil, nil, err
		}
		return s.answer(everything)
	}
	if err := x.expand(&a); err != nil {
		return nil, nil, err
	}
	own := map[bool][]found{} // by whether words were replaced
	for _, f := range s.own(passExact, 0) {
		own[f.tier == tierAlso] = append(own[f.tier == tierAlso], f)
	}
	s.take(own[false])
	// How many more are wanted is a matter of the reference alone: the own
	// records take turns with it.
	mine := len(s.found)
	more := func() bool { return len(s.found)-mine < limit }

	ways := []query.Query{named(&a), written(&a)} // both are counted, whether there are hits enough without or not
	try := func(q query.Query, p pass) {
		if err == nil {
			err = s.run(q, p)
		}
	}
	also := func(q query.Query, p pass, own []found) {
		s.take(own)
		mine += len(own)
		ways = append(ways, q)
		try(q, p)
	}
	try(ways[0], passExact)
	if s.facets = !q.NoFacets && len(a.phrases) > 0; s.facets || more() {
		try(ways[1], passExact) // a phrase is slow: it is counted while it is looked for
	}
	if more() && a.replaceable() {
		also(substituted(&a), passExact, own[true])
	}
	if more() && s.best() <= tierText && len(a.phrases) == 0 {
		x.doubt(&a)
		also(guessed(&a), passLoose, s.own(passLoose, 0))
	}
	for n := len(a.words) - 1; n > 0 && len(s.found) == 0 && len(a.phrases) == 0; n-- {
		also(partly(&a, n), passPartly, s.own(passPartly, n))
	}
	if err != nil {
		return nil, nil, err
	}
	return s.answer(ways...)
}

// search is one query on its way.
type search struct {
	x        *Index
	q        Query
	a        *ask
	filter   []query.Query
	limit    int
	seen     map[string]bool
	found    []found
	ownFound []string // addresses
	facets   bool     // the next run counts
	counts   Facets   // what it counted
}

// request prepares a question to bleve.
func request(q query.Query, size int) *bleve.SearchRequest {
	return bleve.NewSearchRequestOptions(q, size, 0, false)
}

// filtered puts the filter on a question, and leaves out what own records hide.
func (s *search) filtered(q query.Query) query.Query {
	if len(s.filter) > 0 {
		q = query.NewConjunctionQuery(append([]query.Query{q}, s.filter...))
	}
	if len(s.x.hidden) > 0 {
		// A conjunction, since a boolean query whose must finds nothing takes the
		// should alone.
		q = query.NewBooleanQuery([]query.Query{query.NewConjunctionQuery([]query.Query{q})}, nil, []query.Query{query.NewDocIDQuery(s.x.hidden)})
	}
	return q
}

// run asks bleve and keeps what was not found before.
func (s *search) run(q query.Query, p pass) error {
	req := request(s.filtered(q), s.limit+spare)
	req.Fields = []string{fShow}
	req.SortBy([]string{"-_score", "_id"}) // the order of ties differs from build to build otherwise
	if p == passListed {
		req.SortBy([]string{"_id"})
	}
	if s.facets {
		facets(req)
	}
	r, err := s.x.ask(req)
	if err != nil {
		return err
	}
	if s.facets {
		s.counts, s.facets = count(r), false
	}
	s.keep(r.Hits, p)
	return nil
}

func facets(req *bleve.SearchRequest) {
	req.AddFacet(fKind, bleve.NewFacetRequest(fKind, facetWords))
	req.AddFacet(fFibre, bleve.NewFacetRequest(fFibre, facetWords))
}

// answer orders what was found and counts all that passes one of the ways.
func (s *search) answer(ways ...query.Query) ([]Hit, Facets, error) {
	hits := s.hits()
	if s.q.NoFacets {
		return hits, nil, nil
	}
	if s.counts == nil {
		req := request(s.filtered(oneOf(1, ways...)), 0)
		req.Score = "none"
		facets(req)
		r, err := s.x.ask(req)
		if err != nil {
			return nil, nil, err
		}
		s.counts = count(r)
	}
	if len(s.ownFound) > 0 {
		mine := map[string]bool{}
		for _, addr := range s.ownFound {
			mine[addr] = true
		}
		for i := range s.x.own {
			o := &s.x.own[i]
			if !mine[o.addr] {
				continue
			}
			s.counts[fKind][o.doc.Kind]++
			for _, f := range unique(o.doc.Fibres) {
				s.counts[fFibre][f]++
			}
		}
	}
	return hits, s.counts, nil
}

// ask puts one question to bleve.
func (x *Index) ask(req *bleve.SearchRequest) (*bleve.SearchResult, error) {
	r, err := x.ix.Search(req)
	if errors.Is(err, bleve.ErrorIndexClosed) {
		return nil, &fault.Fault{Kind: fault.Internal, What: "the search index is closed", Err: err}
	}
	if err != nil {
		return nil, unreadable(err)
	}
	return r, nil
}

func unreadable(err error) error {
	return &fault.Fault{Kind: fault.Internal, What: "the search index could not be read", Mend: "delete the cache folder and search again", Err: err}
}

// parse takes the words of a query apart.
func parse(s string, typing bool) ask {
	s = cut(s, longestAsk)
	var a ask
	a.all = tokens(s, mostWords)
	if len(a.all) == 0 {
		return a
	}
	a.key, a.lead = key(a.all), cut(joined(a.all), longest)
	end, _ := utf8.DecodeLastRuneInString(s)
	a.last = typing && !between(end)

	// Each pair of double quotes is a phrase; one left over is none.
	parts := strings.Split(strings.NewReplacer("“", `"`, "”", `"`).Replace(s), `"`)
	for i := 1; i+1 < len(parts); i += 2 {
		if p := tokens(parts[i], mostWords); len(p) > 1 {
			a.phrases = append(a.phrases, p)
			a.phraseStems = append(a.phraseStems, stems(p))
		}
	}
	a.words = required(a.all, true)
	if a.last && len(a.words) > 0 && a.words[len(a.words)-1] != a.all[len(a.all)-1] {
		a.words = append(a.words, a.all[len(a.all)-1]) // "with o…" may become "with organza"
	}
	a.stems = stems(a.words)
	return a
}

// required drops the words that say nothing, unless there are no others.
func required(words []string, once bool) []string {
	var strong, some []string
	seen := map[string]bool{}
	for _, w := range words {
		if stop[w] || (once && seen[w]) {
			continue
		}
		seen[w] = true
		some = append(some, w)
		if !weak[singular(w)] {
			strong = append(strong, w)
		}
	}
	if len(strong) > 0 && once {
		return strong
	}
	return some
}

// filters are the conditions that do not score.
func filters(q Query) []query.Query {
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
func strong(a *ask) []query.Query {
	qs := []query.Query{term(fExact, a.key, boostName), term(fOther, a.key, boostOther)}
	if len(a.phrases) == 0 {
		qs = append(qs, term(fLead, a.lead, boostLead), term(fOLead, a.lead, boostOLead))
	}
	return qs
}

// named finds what has every word in its names.
func named(a *ask) query.Query {
	qs := strong(a)
	var must []query.Query
	for i, w := range a.words {
		st := stem(w)
		in := []query.Query{term(fName, st, 4), term(fNames, st, 2.5)}
		if a.typing(i) {
			in = append(in, term(fEdge, cut(w, longEdg), 2))
		}
		must = append(must, oneOf(1, in...))
	}
	if len(must) > 0 && len(a.phrases) == 0 {
		qs = append(qs, allOf(1, must...))
	}
	return oneOf(1, qs...)
}

// typing tells whether a word is the one still being typed.
func (a *ask) typing(i int) bool { return a.last && i == len(a.words)-1 }

// written finds what has every word anywhere, more so in a name.
func written(a *ask) query.Query {
	if len(a.words) == 0 {
		return query.NewMatchNoneQuery()
	}
	in := a.inPhrases()
	must := phrases(a)
	var should []query.Query
	for i, w := range a.words {
		st := stem(w)
		if !in[w] {
			is := []query.Query{term(fAll, st, 1)}
			if a.typing(i) {
				is = append(is, term(fEdge, cut(w, longEdg), 2))
			}
			must = append(must, oneOf(1, is...))
		}
		if len(a.words) > 1 { // one word in a name was found before
			should = append(should, term(fName, st, 4), term(fNames, st, 2.5))
		}
	}
	return query.NewBooleanQuery(must, should, nil)
}

// substituted finds what has every word or what it stands for.
func substituted(a *ask) query.Query {
	in := a.inPhrases()
	must := phrases(a)
	for i, w := range a.words {
		if !in[w] {
			must = append(must, oneOf(1, clause(a, i)...))
		}
	}
	if len(must) == 0 {
		return query.NewMatchNoneQuery()
	}
	return oneOf(1, append([]query.Query{allOf(1, must...)}, ways(a)...)...)
}

// replaceable tells whether a word that no phrase asks for may stand for others.
func (a *ask) replaceable() bool {
	in := a.inPhrases()
	for origin := range a.also {
		if !in[origin] {
			return true
		}
	}
	return false
}

// inPhrases are the words that a phrase asks for already.
func (a *ask) inPhrases() map[string]bool {
	in := map[string]bool{}
	for _, p := range a.phrases {
		for _, w := range p {
			in[w] = true
		}
	}
	return in
}

// clause is one word that must be found, in any field or as what it stands for.
func clause(a *ask, i int) []query.Query {
	w := a.words[i]
	st := stem(w)
	qs := []query.Query{term(fAll, st, 1)}
	if len(a.words) > 1 { // a single word in a name was found before
		qs = append(qs, term(fName, st, 4), term(fNames, st, 2.5))
	}
	for _, e := range a.also[w] {
		qs = append(qs, instead(e))
	}
	if a.typing(i) {
		qs = append(qs, term(fEdge, cut(w, longEdg), 2))
	}
	return qs
}

// instead finds what a word stands for; it counts less than the word.
func instead(e expansion) query.Query {
	if len(e.words) == 1 {
		return term(fAll, stem(e.words[0]), 0.3)
	}
	var qs []query.Query
	for _, w := range e.words {
		qs = append(qs, term(fAll, stem(w), 0.3))
	}
	return allOf(1, qs...)
}

func phrases(a *ask) []query.Query {
	var qs []query.Query
	for _, p := range a.phraseStems {
		qs = append(qs, phraseQuery{fAll, p})
	}
	return qs
}

// ways replaces neighbouring words together: "press stud" by its other name.
func ways(a *ask) []query.Query {
	var qs []query.Query
	if len(a.phrases) > 0 {
		return nil
	}
	for n := 3; n >= 2; n-- {
		for i := 0; i+n <= len(a.words) && len(qs) < mostWays; i++ {
			es := a.also[strings.Join(a.words[i:i+n], " ")]
			if len(es) == 0 {
				continue
			}
			var by []query.Query
			for _, e := range es {
				by = append(by, instead(e))
			}
			must := []query.Query{oneOf(1, by...)}
			for j := range a.words {
				if j < i || j >= i+n {
					must = append(must, oneOf(1, clause(a, j)...))
				}
			}
			qs = append(qs, allOf(0.5, must...))
		}
	}
	return qs
}

// guessed also guesses at the spelling of the doubtful words.
func guessed(a *ask) query.Query {
	var qs []query.Query
	if n := edits(a.key); n > 0 {
		qs = append(qs, near(fExact, a.key, n, 20), near(fOther, a.key, n, 10))
	}
	var must []query.Query
	for i, w := range a.words {
		is := clause(a, i)
		if a.doubtful[i] {
			is = append(is, term(fEdge, cut(w, longEdg), 0.5))
			if n := edits(w); n > 0 {
				is = append(is, near(fWord, w, n, 0.5), near(fAll, stem(w), 1, 0.05))
			}
		}
		must = append(must, oneOf(1, is...))
	}
	if len(must) > 0 {
		qs = append(qs, allOf(1, must...))
	}
	if len(qs) == 0 {
		return query.NewMatchNoneQuery()
	}
	return oneOf(1, qs...)
}

// common is the part of all entries above which a word is taken as meant.
const common = 50

// doubt notes which words are rare enough to be slips.
func (x *Index) doubt(a *ask) {
	a.doubtful = make([]bool, len(a.words))
	most := x.Count() / common
	for i, w := range a.words {
		a.doubtful[i] = len(a.also[w]) == 0 && x.frequency(w, a.stems[i], most) <= most
	}
}

// frequency is in how many entries a word stands; it stops counting above most.
func (x *Index) frequency(w, stem string, most int) int {
	n := x.terms(fAll, stem)
	needs := [][]string{roots(w, stem)}
	for i := 0; n <= most && i < len(x.own); i++ {
		if o := &x.own[i]; o.mayHold(needs) && (&finder{entry: o.entry()}).has([]string{w}) {
			n++
		}
	}
	return n
}

// terms is how many entries of the reference have a term in a field.
func (x *Index) terms(field, term string) int {
	d, err := x.ix.FieldDictRange(field, []byte(term), []byte(term))
	if err != nil {
		return 0
	}
	defer d.Close()
	if e, err := d.Next(); err == nil && e != nil && e.Term == term {
		return int(e.Count)
	}
	return 0
}

func near(field, word string, edits int, boost float64) query.Query {
	f := query.NewFuzzyQuery(word)
	f.SetField(field)
	f.SetFuzziness(edits)
	f.SetBoost(boost)
	return f
}

// partly finds what has at least n of the words.
func partly(a *ask, n int) query.Query {
	var qs []query.Query
	for i := range a.words {
		qs = append(qs, oneOf(1, clause(a, i)...))
	}
	d := query.NewDisjunctionQuery(qs)
	d.SetMin(float64(n))
	return d
}

// expand finds what the words may stand for: the maker's thesaurus, words of
// the UK and the US, and the other names of entries that are called so.
func (x *Index) expand(a *ask) error {
	a.also = map[string][]expansion{}
	grams := map[string]string{} // key → the words as asked
	var order []string
	for n := 1; n <= 3; n++ {
		for i := 0; i+n <= len(a.words); i++ {
			ws := a.words[i : i+n]
			k := key(ws)
			if _, ok := grams[k]; !ok {
				grams[k] = strings.Join(ws, " ")
				order = append(order, k)
			}
		}
	}
	for _, k := range order {
		for _, e := range x.thesaurus[k] {
			a.add(grams[k], e)
		}
	}
	if len(order) == 0 {
		return nil
	}
	var qs []query.Query
	for _, k := range order {
		qs = append(qs, term(fExact, k, 2), term(fOther, k, 1))
	}
	req := bleve.NewSearchRequestOptions(query.NewDisjunctionQuery(qs), 2*usual, 0, false)
	req.Fields = []string{fShow}
	req.SortBy([]string{"-_score", "_id"})
	r, err := x.ask(req)
	if err != nil {
		return err
	}
	called := map[string][][]string{} // the words as asked → for each entry called so, all it is rightly called
	look := func(e *entry) {
		seen := map[string]bool{}
		for _, k := range append([]string{e.keyName}, e.keyNames...) {
			if origin, ok := grams[k]; ok && !seen[origin] {
				seen[origin] = true
				called[origin] = append(called[origin], append([]string{e.Name}, e.others()...))
			}
		}
	}
	for _, h := range r.Hits {
		if s, ok := show(h); ok {
			s.Text = "" // not needed here
			look(split(s, true))
		}
	}
	for i := range x.own {
		if d := x.own[i].doc; len(d.Names)+len(d.Slips) > 0 { // else it is called by nothing else
			look(x.own[i].entry())
		}
	}
	for _, k := range order {
		origin := grams[k]
		if len(called[origin]) > mostCalled {
			continue // a word that so many are called by is nobody's name
		}
		slices.SortFunc(called[origin], slices.Compare[[]string])
		for _, all := range called[origin] {
			for _, other := range all {
				a.add(origin, expansion{words: tokens(other, 6), text: other})
			}
		}
	}
	return nil
}

// add notes that the words of origin may stand for e, unless that finds
// nothing new.
func (a *ask) add(origin string, e expansion) {
	if len(e.words) == 0 || len(a.also[origin]) >= mostAlso {
		return
	}
	e.origin = origin
	have := map[string]bool{}
	for _, w := range e.words {
		have[stem(w)] = true
	}
	missing := false
	for _, w := range strings.Fields(origin) {
		missing = missing || !have[stem(w)]
	}
	if !missing {
		return // what has "silk georgette" has "georgette"
	}
	for _, o := range a.also[origin] {
		if key(o.words) == key(e.words) {
			return
		}
	}
	a.also[origin] = append(a.also[origin], e)
}

// readThesaurus prepares the maker's thesaurus and the words of UK and US.
func readThesaurus(t map[string][]string) map[string][]expansion {
	out := map[string][]expansion{}
	add := func(from, to string, maker bool) {
		k, w := key(tokens(from, 0)), required(tokens(to, 6), false)
		if k != "" && len(w) > 0 {
			out[k] = append(out[k], expansion{words: w, text: to, maker: maker})
		}
	}
	var words []string
	for w := range t {
		words = append(words, w)
	}
	sort.Strings(words)
	for _, w := range words {
		for _, to := range t[w] {
			add(w, to, true)
		}
	}
	for _, p := range sameThing {
		add(p[0], p[1], false)
		add(p[1], p[0], false)
	}
	return out
}

// show reads what is kept of a hit.
func show(h *bsearch.DocumentMatch) (shown, bool) {
	var s shown
	raw, ok := h.Fields[fShow].(string)
	return s, ok && json.Unmarshal([]byte(raw), &s) == nil
}

// count turns bleve's facets into ours.
func count(r *bleve.SearchResult) Facets {
	f := Facets{}
	for name, res := range r.Facets {
		m := map[string]int{}
		if res.Terms != nil {
			for _, t := range res.Terms.Terms() {
				m[t.Term] = t.Count
			}
		}
		f[name] = m
	}
	return f
}
