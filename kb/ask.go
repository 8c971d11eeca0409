package kb

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"tenter/kb/search"
)

// Answer is what a question to the search found.
type Answer struct {
	Hits   []search.Hit
	Facets search.Facets
	Asks   bool // it is a question of how or why, or tells of what goes wrong: advice answers it
}

// Ask answers a question as a maker puts it. What the wording asks for (a
// fabric, a lining, a seam) stands before what merely holds the words; "does
// not fray" is looked up in what is known of cloths.
func Ask(ix Finder, t *Thesaurus, q search.Query) (Answer, error) {
	w := t.wording(q)
	limit := q.Limit
	if limit <= 0 {
		limit = 20
	}
	hits, facets, err := w.held(ix, q, limit+spare)
	if err != nil {
		return Answer{}, err
	}
	for i := range hits {
		hits[i].Score += w.lift(hits[i], len(q.Kinds) > 0)
	}
	if len(w.kinds) > 0 && len(q.Kinds) == 0 {
		wanted, counts, err := w.wanted(ix, q, limit)
		if err == nil && len(wanted) == 0 && w.explicit { // no hem is "for a circle skirt": a rule may tell of it
			w.kinds, w.rest, w.grade = []string{"rule"}, w.words, ""
			wanted, counts, err = w.wanted(ix, q, limit)
		}
		if err != nil {
			return Answer{}, err
		}
		if w.explicit {
			facets = most(facets, counts)
		}
		hits = join(hits, wanted)
	}
	slices.SortStableFunc(hits, func(a, b search.Hit) int { return cmp.Compare(b.Score, a.Score) })
	hits = hits[:min(limit, len(hits))]
	for i := range hits {
		hits[i].Why = t.reading.Replace(hits[i].Why)
		hits[i].Score = math.Round(hits[i].Score*1e4) / 1e4
	}
	return Answer{hits, facets, w.how || w.trouble || w.asks}, nil
}

// held finds what holds the words of a question, before all what is called by them:
// what reads like a question may be the very name of a thing, as "non-woven".
func (w *wording) held(ix Finder, q search.Query, limit int) ([]search.Hit, search.Facets, error) {
	asked := q
	asked.Words, asked.Limit = w.words, limit
	hits, facets, err := ix.Search(asked)
	if err != nil || w.words == q.Words {
		return hits, facets, err
	}
	if asked.Words = q.Words; len(hits) == 0 {
		if hits, facets, err = ix.Search(asked); err != nil {
			return nil, nil, err
		}
	}
	asked.NoFacets = true
	named, _, err := ix.Search(asked)
	if err != nil {
		return nil, nil, err
	}
	named = slices.DeleteFunc(named, func(h search.Hit) bool { return h.Tier() < search.Other })
	hits = slices.DeleteFunc(hits, func(h search.Hit) bool {
		return slices.ContainsFunc(named, func(n search.Hit) bool { return n.Kind == h.Kind && n.ID == h.ID })
	})
	return append(named, hits...), facets, nil
}

// wanted finds what the question asks for: of the kinds that it names, and so graded.
func (w *wording) wanted(ix Finder, q search.Query, limit int) ([]search.Hit, search.Facets, error) {
	q.Words, q.Kinds, q.Limit = w.rest, w.kinds, limit
	hits, counts, err := ix.Search(q)
	if err == nil && w.grade != "" && !slices.ContainsFunc(hits, w.isSo) {
		q.Words = w.grade // better any lining than something else
		hits, counts, err = ix.Search(q)
	}
	if err != nil {
		return nil, nil, err
	}
	hits = slices.DeleteFunc(hits, func(h search.Hit) bool { return !w.isSo(h) })
	for i := range hits {
		switch {
		case hits[i].Tier() >= search.Also:
			hits[i].Score += liftAsked
		case w.explicit || w.trouble:
			hits[i].Score += liftPartly
		}
	}
	return hits, counts, nil
}

// join adds hits to others; of one thing the better stays.
func join(hits, more []search.Hit) []search.Hit {
	at := map[string]int{}
	for i, h := range hits {
		at[h.Kind+"/"+h.ID] = i
	}
	for _, h := range more {
		if i, there := at[h.Kind+"/"+h.ID]; !there {
			hits = append(hits, h)
		} else if h.Score > hits[i].Score {
			hits[i] = h
		}
	}
	return hits
}

// most joins the counts of two ways of asking: what both found is counted once.
func most(a, b search.Facets) search.Facets {
	out := search.Facets{}
	for _, f := range []search.Facets{a, b} {
		for by, counts := range f {
			if out[by] == nil {
				out[by] = map[string]int{}
			}
			for word, n := range counts {
				out[by][word] = max(out[by][word], n)
			}
		}
	}
	return out
}

// How far what the wording asks for is put before the rest. A tier is worth 1.
const (
	spare      = 20   // hits looked at beyond the limit
	liftAsked  = 10   // of the kind asked for, with every word
	liftPartly = 4.5  // of the kind asked for, with some of the words: before texts, behind names
	liftGraded = 2    // a cloth, where the words say how a cloth is
	liftHow    = 1.5  // a rule or term, where the words ask how or why
	lowRule    = -1.5 // a rule's name is a sentence: its words are a text
	lowFinish  = -1.5 // a finish tells all its steps: much is said there in passing
	lowSource  = -3.5 // a source only shares a word with what is asked
)

// lift is what the wording adds to a hit by its kind.
func (w wording) lift(h search.Hit, filtered bool) float64 {
	switch {
	case h.Tier() >= search.Other:
		return liftAsked // what is called so stands first, whatever the wording
	case h.Kind == "source" && !filtered:
		return lowSource
	case filtered || h.Tier() >= search.Lead:
		return 0
	case w.differ && h.Kind == "term" && h.Tier() >= search.Also:
		return liftAsked
	case h.Kind == "finish" && h.Tier() == search.Text:
		return lowFinish
	case w.graded && h.Kind == "cloth" && (h.Tier() == search.Also || h.Tier() == search.Text):
		return liftGraded
	case h.Kind == "rule" && h.Tier() == search.Words && !w.how:
		return lowRule
	case w.how && (h.Kind == "rule" || h.Kind == "term") && h.Tier() >= search.Also:
		return liftHow
	}
	return 0
}

// wording is what the words of a question mean besides being words.
type wording struct {
	words    string   // with what is said of a cloth put into one word
	rest     string   // without the word that names the kind
	kinds    []string // the kinds that are asked for
	grade    string   // the made-up word of what it must be to be called so
	explicit bool     // the kind is named as that which is sought: "lining for …"
	graded   bool     // something is said of how a cloth is
	how      bool     // it asks how or why
	asks     bool     // it asks what or which for something
	differ   bool     // it asks what two things have apart
	trouble  bool     // it tells of what goes wrong
}

// isSo tells whether a hit is what the wording's word for it says: a lining.
func (w wording) isSo(h search.Hit) bool {
	_, without, _ := strings.Cut(h.Why, "without ")
	return w.grade == "" || !strings.Contains(without, w.grade)
}

// head is a word that names a kind of thing.
type head struct {
	kinds []string
	grade string // what a cloth must be to be called so
}

var heads = byStem(map[string]head{
	"cloth": {kinds: []string{"cloth"}}, "fabric": {kinds: []string{"cloth"}}, "material": {kinds: []string{"cloth"}}, "textile": {kinds: []string{"cloth"}},
	"lining": {kinds: []string{"cloth"}, grade: "group lining"}, "knit": {kinds: []string{"cloth"}, grade: "class knit"},
	"seam": {kinds: []string{"seam"}}, "edge": {kinds: []string{"edge"}}, "hem": {kinds: []string{"edge"}},
	"interfacing": {kinds: []string{"interfacing"}}, "interlining": {kinds: []string{"interfacing"}}, "underlining": {kinds: []string{"interfacing"}}, "wadding": {kinds: []string{"interfacing"}},
	"needle": topic("needle"), "thread": topic("thread"), "press": topic("pressing"),
	"finish": {kinds: []string{"finish", "edge"}},
	"fibre":  {kinds: []string{"fibre"}}, "weave": {kinds: []string{"structure"}}, "rule": {kinds: []string{"rule"}}, "term": {kinds: []string{"term"}},
})

// works are words of work, whose questions rules answer: "marking dark cloth". Their stems
// would not do: who asks for a cloth to wash asks for a cloth.
var works = map[string]head{
	"pressing": topic("pressing"), "ironing": topic("pressing"), "steaming": topic("pressing"), "marking": topic("marking"), "pinning": topic("marking"),
	"cutting": topic("cutting"), "washing": topic("washing"), "laundering": topic("washing"), "storing": topic("care"), "hemming": {kinds: []string{"edge", "rule"}},
}

func topic(name string) head { return head{kinds: []string{"rule"}, grade: "topic " + name} }

// headOf is what a word names, if it names a kind of thing.
func headOf(word string) (head, bool) {
	if h, ok := works[word]; ok {
		return h, true
	}
	h, ok := heads[search.Stem(word)]
	return h, ok
}

func byStem(m map[string]head) map[string]head {
	out := map[string]head{}
	for w, h := range m {
		out[search.Stem(w)] = h
	}
	return out
}

var (
	preposition = words("for that to which with on in of whose when where who from under over")
	asking      = words("best better good nice suitable recommended need needed want wanted please looking find")
	negator     = words("not no non never without cannot")
	contracted  = words("doesnt dont wont isnt arent cant didnt shouldnt wouldnt")
	auxiliary   = words("does do will would to be is are easily really very so much any at all it too")
	proof       = words("free proof resistant resisting less")
	fibreWords  = words("wool woollen worsted cotton linen silk viscose polyester nylon acrylic cashmere mohair fur leather")
	howWords    = words("how why should must when can may does do is are will")
	unlike      = words("difference differences differ different versus vs")
	// words that say nothing by themselves where others stand beside them
	filler = words("stop prevent avoid keep keeps when while if but then than get gets getting got leave leaves left look looks looking always just about off out my i me am we they way ways make makes made " +
		"do does use using")
	// words of what goes wrong: whoever says them asks for advice
	mishaps = words("stop prevent avoid keeps wont cant goes went gone got gets shrank shrunk puckers puckered puckering frayed curls curling skipped skips skipping runs bleeds bled stain stains stained " +
		"scratchy itchy itches prickles static cling clings clinging eats eaten slides slipping snags snagged ladders breaks snaps dropping drops droops sags sagging stretched wavy rippled twisted twists " +
		"holes marks moth ruined leaves shiny melts melted scorched creased crooked uneven " +
		"bubbles bubbled bubbling bulky lumpy spots spotted felted faded fades splits tore torn rolls rolled rolling flips flipping gapes gaping buckles buckled warps skewed tangles tangled jams jammed " +
		"swallows swallowed loosens peels peeling cracks cracked cracking crushed flattened glazed scratches snapped snapping tunnels tunnelling flammable " +
		"fraying laddered shredding slipped unevenly")
	// and words of it in every form: none of these is also the name of a cloth or a seam
	ails = stemsOf("pucker curl skip stain itch prickle cling snag sag ripple scorch bubble fade gape buckle skew tangle swallow peel crush tunnel uneven lumpy " +
		"choke burn hurt harm danger safe unsafe poison strangle")
)

func words(s string) map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields(s) {
		m[w] = true
	}
	return m
}

func stemsOf(s string) map[string]bool {
	m := map[string]bool{}
	for w := range words(s) {
		m[search.Stem(w)] = true
	}
	return m
}

// wording reads a question. One in quotes, or still being typed, is taken as
// it stands.
func (t *Thesaurus) wording(q search.Query) wording {
	w := wording{words: q.Words}
	all := search.Fold(q.Words)
	if q.Prefix || len(all) == 0 || strings.ContainsAny(q.Words, "\"“”") {
		return w
	}
	all = all[:min(len(all), 24)]
	first := all[0]
	trouble := troubled(all)
	if len(all) > 3 && all[0] == "which" && all[1] == "way" { // "way" says no more than "how"
		all, trouble = all[2:], true
	}
	either := slices.Contains(all, "or")
	w.differ = either && len(all) == 3 || slices.ContainsFunc(all, func(x string) bool { return unlike[x] })
	all = plainly(all)
	last := all[len(all)-1]
	w.how = trouble || howWords[all[0]] || len(all) > 1 && (last == "way" || last == "direction") || either
	at := w.head(all)
	w.asks = w.explicit && (first == "what" || first == "which")
	switch {
	case trouble && len(all) > 1 && (at < 0 || !w.explicit):
		w.trouble, w.kinds, at = true, []string{"rule"}, -1
	case w.how && at < 0 && !w.differ && len(all) > 1:
		w.kinds = []string{"rule"}
	}
	w.read(t, all, at)
	if w.words == strings.Join(search.Fold(q.Words), " ") {
		w.words = q.Words
	}
	return w
}

// troubled tells whether words speak of what goes wrong; what is "non-fraying" or
// "stain resistant" does not.
func troubled(all []string) bool {
	for i, x := range all {
		denied := i > 0 && negator[all[i-1]] || i+1 < len(all) && proof[all[i+1]]
		if (mishaps[x] || ails[search.Stem(x)]) && !denied {
			return true
		}
	}
	return false
}

// anyCloth tells whether a word names cloth and no more: the fabric of "fabric slides off
// the table" is what goes wrong, not what is looked for.
func (w *wording) anyCloth(word string) bool {
	h, ok := headOf(word)
	return ok && h.grade == "" && h.kinds[0] == "cloth"
}

// read puts what is said of a cloth into one word each, and the head, at its place, apart.
func (w *wording) read(t *Thesaurus, all []string, at int) {
	named := head{}
	if at >= 0 {
		named, _ = headOf(all[at])
	}
	// The wool of "lining for a wool coat" is the coat's.
	lined := w.explicit && named.grade == "group lining"
	graded := at >= 0 && named.kinds[0] == "cloth" // "warm" is a grade of cloths, and a word of much else
	var read, rest []string
	together := 0 // words before it belong to something that is said in several
	for i := 0; i < len(all); {
		n, as := t.gram(all[i:])
		sought := as
		if n > 0 {
			w.graded = true
		} else {
			n, as = 1, all[i]
			sought = as
			if made := t.single[search.Stem(as)]; made != "" {
				w.graded = true
				if graded {
					sought = made
				}
			}
		}
		read = append(read, as)
		together = max(together, i+t.phrase(all[i:]))
		switch {
		case n == 1 && filler[as] && len(all) > 2 && i >= together:
		case at < i || at >= i+n:
			if !lined || !fibreWords[as] {
				rest = append(rest, sought)
			}
		case named.grade != "":
			w.grade = gradeWord(named.grade)
			rest = append(rest, w.grade)
		}
		i += n
	}
	w.words, w.rest = strings.Join(read, " "), strings.Join(rest, " ")
	if len(rest) == 0 {
		w.rest = w.words
	}
}

// plainly takes off the words that only ask, and says every denial as "not".
func plainly(all []string) []string {
	var out []string
	for _, x := range all {
		if contracted[x] {
			x = "not"
		}
		if !asking[x] {
			out = append(out, x)
		}
	}
	if len(out) == 0 {
		return all
	}
	return out
}

// head finds the word that names what is sought: the last before "for", "that"
// … or at the end; and "fabric" and its like wherever they stand.
func (w *wording) head(all []string) int {
	end := len(all)
	for i, x := range all {
		if i > 0 && preposition[x] {
			end = i
			break
		}
	}
	at := -1
	if h, ok := works[all[0]]; ok && len(all) > 1 {
		at, w.kinds, w.explicit = 0, h.kinds, true
	} else if h, ok := headOf(all[end-1]); ok {
		at, w.kinds, w.explicit = end-1, h.kinds, end < len(all)
	}
	for i, x := range all {
		if at < 0 && w.anyCloth(x) {
			at, w.kinds = i, []string{"cloth"}
		}
	}
	return at
}

// phrase is how many words at the beginning say one thing together that is no grade.
func (t *Thesaurus) phrase(all []string) int {
	for n := min(4, len(all)); n >= 2; n-- {
		if t.phrases[stemmed(all[:n])] {
			return n
		}
	}
	return 0
}

// gram finds words at the beginning that mean one thing together, and the word
// that stands for it: "see through", "does not fray", "crease-resistant".
func (t *Thesaurus) gram(all []string) (int, string) {
	i := 0
	for i < len(all) && auxiliary[all[i]] {
		i++
	}
	if i < len(all) && negator[all[i]] {
		j := i + 1
		for j < len(all) && auxiliary[all[j]] {
			j++
		}
		for n := 2; n >= 1; n-- {
			if j+n <= len(all) {
				if as := t.grams["not "+stemmed(all[j:j+n])]; as != "" {
					return j + n, as
				}
			}
		}
	}
	for n := min(4, len(all)); n >= 2; n-- {
		if as := t.grams[stemmed(all[:n])]; as != "" {
			return n, as
		}
	}
	if len(all) > 1 && proof[all[1]] {
		if as := t.grams["not "+search.Stem(all[0])]; as != "" {
			return 2, as
		}
	}
	return 0, ""
}
