package search

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"
	"unicode/utf8"

	"tenter/fibres/fault"
)

const (
	usual     = 20   // hits when no limit is given
	maxHits   = 1000 // hits at most
	maxAlso   = 6    // other words that one word is looked for by
	maxCalled = 4    // entries of one name up to which their other names are used
)

// Ask is a query taken apart.
type Ask struct {
	All         []string   // every word
	Words       []string   // the words that must be found
	Stems       []string   // of Words
	Phrases     [][]string // words that must stand together
	PhraseStems [][]string
	Doubtful    []bool                 // of Words: those that may be slips
	Tells       []float64              // of Words: how much each tells; nil where all must be found
	Last        bool                   // the last of Words is still being typed
	Key         string                 // what a name that is asked for in full has in common with it
	Lead        string                 // the beginning of a name, if it is one
	Narrow      bool                   // pieces of the words stand in many own records that do not hold them
	None        bool                   // the one word stands in no own record
	Also        map[string][]Expansion // by a word, or several with blanks between
}

// Expansion is what a word of the query may stand for.
type Expansion struct {
	Words  []string
	text   string // as it is shown
	maker  bool   // from the thesaurus: taken as; else another name: also called
	origin string // the words as they were asked
}

// Typing tells whether a word is the one still being typed.
func (a *Ask) Typing(i int) bool { return a.Last && i == len(a.Words)-1 }

// Slip tells whether a word may be a slip of spelling.
func (a *Ask) Slip(i int) bool { return a.Doubtful != nil && a.Doubtful[i] }

// InPhrases are the words that a phrase asks for already.
func (a *Ask) InPhrases() map[string]bool {
	in := map[string]bool{}
	for _, p := range a.Phrases {
		for _, w := range p {
			in[w] = true
		}
	}
	return in
}

// Replaceable tells whether a word that no phrase asks for may stand for others.
func (a *Ask) Replaceable() bool {
	in := a.InPhrases()
	for origin := range a.Also {
		if !in[origin] {
			return true
		}
	}
	return false
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
			hits, facets, err = nil, nil, &fault.Fault{Kind: fault.Internal, What: "the search index could not be read", Mend: "delete the cache folder and search again", Err: fmt.Errorf("%v", r)}
		}
	}()
	a := parse(q.Words, q.Prefix)
	limit := q.Limit
	if limit <= 0 {
		limit = usual
	}
	limit = min(limit, maxHits)
	s := search{x: x, q: q, a: &a, limit: limit, seen: map[string]bool{}}
	if len(a.All) == 0 {
		if !q.filtered() || strings.TrimSpace(q.Words) != "" {
			return nil, Facets{}, nil
		}
		everything := Way{How: Listed}
		s.take(s.own(passListed, 0))
		if err := s.run(everything); err != nil {
			return nil, nil, err
		}
		return s.answer(everything)
	}
	if err := x.expand(&a); err != nil {
		return nil, nil, err
	}
	ways, err := s.look()
	if err != nil {
		return nil, nil, err
	}
	return s.answer(ways...)
}

// look asks from the strong ways to the weak, and returns those that count.
func (s *search) look() (ways []Way, err error) {
	a := s.a
	own := map[bool][]found{} // by whether words were replaced
	for _, f := range s.own(passExact, 0) {
		own[f.tier == tierAlso] = append(own[f.tier == tierAlso], f)
	}
	s.take(own[false])
	// How many more are wanted is a matter of the reference alone: the own
	// records take turns with it.
	mine := len(s.found)
	more := func() bool { return len(s.found)-mine < s.limit }

	ways = []Way{{How: Named}, {How: Written}} // both are counted, whether there are hits enough without or not
	try := func(w Way) {
		if err == nil {
			err = s.run(w)
		}
	}
	also := func(w Way, own []found) {
		s.take(own)
		mine += len(own)
		ways = append(ways, w)
		try(w)
	}
	try(ways[0])
	if s.facets = !s.q.NoFacets && len(a.Phrases) > 0; s.facets || more() {
		try(ways[1]) // a phrase is slow: it is counted while it is looked for
	}
	if more() && a.Replaceable() {
		also(Way{How: Replaced}, own[true])
	}
	if more() && s.best() <= tierText && len(a.Phrases) == 0 {
		// Of several words that all stand somewhere none is a slip.
		if s.x.doubt(a); len(a.Words) == 1 || slices.Contains(a.Doubtful, true) {
			also(Way{How: Guess}, s.own(passLoose, 0))
		}
	}
	if len(a.Words) < 2 || len(a.Phrases) > 0 {
		return ways, err
	}
	hows := []How{Some, SomeNear}
	if !slices.Contains(a.Doubtful, false) { // no word stands anywhere
		hows = hows[1:]
	}
	for _, how := range hows {
		for n := len(a.Words) / 2; n > 0 && len(s.found) == 0; n-- {
			s.x.weighWords(a)
			w := Way{How: how, AtLeast: n}
			also(w, s.own(w.pass(), n))
		}
	}
	return ways, err
}

// filtered tells whether anything but words is asked.
func (q *Query) filtered() bool {
	return len(q.Kinds) > 0 || q.Fibre != "" || q.Weighs()
}

// search is one query on its way.
type search struct {
	x        *Index
	q        Query
	a        *Ask
	limit    int
	seen     map[string]bool
	found    []found
	ownFound []found
	err      error    // of reading the own records
	over     []string // kinds of own records of which there are more than were counted
	facets   bool     // the next run counts
	counts   Facets   // what it counted
}

// spare is how many hits are fetched beyond the limit, as some turn out not to fit.
const spare = 10

// question puts ways of being found to the reference.
func (s *search) question(ways ...Way) Question {
	return Question{Ask: s.a, Ways: ways, Query: &s.q, Hidden: s.x.hidden}
}

// run asks the reference and keeps what was not found before.
func (s *search) run(w Way) error {
	q := s.question(w)
	q.Limit, q.Count = s.limit+spare, s.facets
	r, err := s.x.ref.Find(q)
	if err != nil {
		return err
	}
	if s.facets {
		s.counts, s.facets = r.Facets, false
	}
	s.keep(r.Hits, w.pass())
	return nil
}

// answer orders what was found and counts all that passes one of the ways.
func (s *search) answer(ways ...Way) ([]Hit, Facets, error) {
	if s.err != nil {
		return nil, nil, s.err
	}
	hits := s.hits()
	if s.q.NoFacets {
		return hits, nil, nil
	}
	if s.counts == nil {
		q := s.question(ways...)
		q.Count = true
		r, err := s.x.ref.Find(q)
		if err != nil {
			return nil, nil, err
		}
		s.counts = r.Facets
	}
	for _, f := range s.ownFound {
		s.counts.add(f.Kind, f.fibres)
	}
	for _, kind := range s.over {
		s.counts.note(kind)
	}
	return hits, s.counts, nil
}

// newFacets counts nothing yet.
func newFacets() Facets { return Facets{byKind: {}, byFibre: {}} }

// What entries are counted by.
const (
	byKind  = "kind"
	byFibre = "fibre"
	Over    = "over" // kinds of own records of which there are more than this
)

// add counts one entry.
func (f Facets) add(kind string, fibres []string) {
	f[byKind][kind]++
	for _, x := range Unique(fibres) {
		f[byFibre][x]++
	}
}

// note says of a kind that there are more than were counted.
func (f Facets) note(kind string) {
	if f[Over] == nil {
		f[Over] = map[string]int{}
	}
	f[Over][kind] = f[byKind][kind]
}

// frequency is in how many entries the i-th word stands; it stops counting above the limit.
func (x *Index) frequency(a *Ask, i, limit int) int {
	w, stem := a.Words[i], a.Stems[i]
	n := x.ref.Frequency(w, stem, limit)
	if n > limit || a.None {
		return n
	}
	needs := all([][]string{roots(w, stem)})
	if a.Narrow {
		needs = a.narrow(needs)
	}
	looked, held := 0, 0
	for d, err := range x.own.Holding(&Query{}, needs) {
		if err != nil {
			return limit + 1 // the next question tells of it
		}
		if looked++; looked > maxWeak {
			break
		}
		if (&finder{entry: splitDoc(d)}).has([]string{w}) {
			held++
		}
		if n+held > limit {
			return n + held
		}
	}
	if looked > maxWeak && held > maxWeak/2 { // there are more of them
		return limit + 1
	}
	return n + held
}

// expand finds what the words may stand for: the maker's thesaurus, words of
// the UK and the US, and the other names of entries that are called so.
func (x *Index) expand(a *Ask) error {
	a.Also = map[string][]Expansion{}
	grams := map[string]string{} // key → the words as asked
	var order []string
	for n := 1; n <= 3; n++ {
		for i := 0; i+n <= len(a.Words); i++ {
			ws := a.Words[i : i+n]
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
	called, err := x.called(order, grams)
	if err != nil {
		return err
	}
	for _, k := range order {
		origin := grams[k]
		if len(called[origin]) > maxCalled {
			continue // a word that so many are called by is nobody's name
		}
		slices.SortFunc(called[origin], slices.Compare[[]string])
		for _, all := range called[origin] {
			for _, other := range all {
				a.add(origin, Expansion{Words: tokens(other, 6), text: other})
			}
		}
	}
	return nil
}

// called finds what else the entries are rightly called that have one of the keys
// for a name: by the words as they were asked, a list for each entry.
func (x *Index) called(keys []string, grams map[string]string) (map[string][][]string, error) {
	named, err := x.ref.Called(keys, 2*usual)
	if err != nil {
		return nil, err
	}
	called := map[string][][]string{}
	look := func(e *entry) {
		seen := map[string]bool{}
		for _, k := range append([]string{e.keyName}, e.keyNames...) {
			if origin, ok := grams[k]; ok && !seen[origin] {
				seen[origin] = true
				called[origin] = append(called[origin], append([]string{e.Name}, e.others()...))
			}
		}
	}
	for _, s := range named {
		s.Text = "" // not needed here
		look(split(s))
	}
	for _, d := range x.own.Named() {
		if len(d.Names)+len(d.Misspelt) > 0 { // else it is called by nothing else
			look(splitDoc(d))
		}
	}
	return called, nil
}

// parse takes the words of a query apart.
func parse(s string, typing bool) Ask {
	s = cut(s, longestAsk)
	var a Ask
	a.All = tokens(s, maxWords)
	if len(a.All) == 0 {
		return a
	}
	a.Key, a.Lead = key(a.All), cut(joined(a.All), LongestLead)
	end, _ := utf8.DecodeLastRuneInString(s)
	a.Last = typing && !between(end)

	// Each pair of double quotes is a phrase; one left over is none.
	parts := strings.Split(strings.NewReplacer("“", `"`, "”", `"`).Replace(s), `"`)
	for i := 1; i+1 < len(parts); i += 2 {
		if p := tokens(parts[i], maxWords); len(p) > 1 {
			a.Phrases = append(a.Phrases, p)
			a.PhraseStems = append(a.PhraseStems, stems(p))
		}
	}
	a.Words = required(a.All, true)
	if a.Last && len(a.Words) > 0 && a.Words[len(a.Words)-1] != a.All[len(a.All)-1] {
		a.Words = append(a.Words, a.All[len(a.All)-1]) // "with o…" may become "with organza"
	}
	a.Stems = stems(a.Words)
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

// common is the part of all entries above which a word is common.
const common = 50

// doubt notes which words may be slips: those that stand nowhere as they are. What is
// found by the very word stands before what is nearly spelt so.
func (x *Index) doubt(a *Ask) {
	a.Doubtful = make([]bool, len(a.Words))
	for i, w := range a.Words {
		a.Doubtful[i] = len(a.Also[w]) == 0 && x.frequency(a, i, 0) == 0
	}
}

// weighWords notes how much each word tells, where not all of them are found: a rare
// one more than several that stand in many entries.
func (x *Index) weighWords(a *Ask) {
	if a.Tells != nil {
		return
	}
	a.Tells = make([]float64, len(a.Words))
	limit := x.Count() / common
	for i := range a.Words {
		times := 0
		if !a.Slip(i) { // else it stands nowhere
			times = x.frequency(a, i, limit)
		}
		idf := math.Log(1 + float64(x.Count())/float64(1+times))
		a.Tells[i] = idf * idf
	}
}

// add notes that the words of origin may stand for e, unless that finds
// nothing new.
func (a *Ask) add(origin string, e Expansion) {
	if len(e.Words) == 0 || len(a.Also[origin]) >= maxAlso {
		return
	}
	e.origin = origin
	have := map[string]bool{}
	for _, w := range e.Words {
		have[stem(w)] = true
	}
	missing := false
	for _, w := range strings.Fields(origin) {
		missing = missing || !have[stem(w)]
	}
	if !missing {
		return // what has "silk georgette" has "georgette"
	}
	for _, o := range a.Also[origin] {
		if key(o.Words) == key(e.Words) {
			return
		}
	}
	a.Also[origin] = append(a.Also[origin], e)
}

// readThesaurus prepares the maker's thesaurus and the words of UK and US.
func readThesaurus(t map[string][]string) map[string][]Expansion {
	out := map[string][]Expansion{}
	add := func(from, to string, maker bool) {
		k, w := key(tokens(from, 0)), required(tokens(to, 6), false)
		if k != "" && len(w) > 0 {
			out[k] = append(out[k], Expansion{Words: w, text: to, maker: maker})
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
