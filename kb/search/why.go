package search

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// The tiers of being found, strongest last. A hit of a higher tier stands
// before every hit of a lower one.
const (
	tierSome  = 1 + iota // some of the words
	tierNear             // the spelling had to be guessed
	tierAlso             // every word, some by what they stand for
	tierText             // every word, some in the text
	tierWords            // every word in the names
	tierLead             // the beginning of a name
	tierOther            // another name
	tierName             // the name or id itself
)

// pass is which question a result answers.
type pass int

const (
	passListed pass = iota
	passExact
	passLoose
	passPartly
	passStrays
)

// guesses tells whether the spelling of doubtful words may be wrong.
func (p pass) guesses() bool { return p == passLoose || p == passStrays }

// partly tells whether words may be missing.
func (p pass) partly() bool { return p == passPartly || p == passStrays }

// entry is one entry with its texts split into words: what the reasons are
// found in.
type entry struct {
	Shown
	name, id            []string
	names, words, fibre [][]string
	text                []string
	keyName, keyID      string
	keyNames            []string
}

// split prepares an entry.
func split(s Shown) *entry {
	e := &entry{Shown: s, name: tokens(s.Name, 0), id: tokens(s.ID, 0), names: each(s.Names), words: each(s.Words), fibre: each(s.Fibre)}
	e.text = strings.Fields(s.Text)
	e.keyName, e.keyID = key(e.name), key(e.id)
	for _, n := range e.names {
		e.keyNames = append(e.keyNames, key(n))
	}
	return e
}

func each(texts []string) [][]string {
	if len(texts) == 0 {
		return nil
	}
	out := make([][]string, len(texts))
	for i, t := range texts {
		out[i] = tokens(t, 0)
	}
	return out
}

// called says that the entry was found by one of its other names.
func (e *entry) called(i int, how string) place {
	if i >= len(e.Names)-e.Misspelt {
		return place{where: inNames, say: how + "usual misspelling", of: e.Names[i]}
	}
	return place{where: inNames, say: how + "synonym", of: e.Names[i]}
}

// others are the names by which the entry is rightly called.
func (s *Shown) others() []string { return s.Names[:max(0, len(s.Names)-s.Misspelt)] }

// Where a word was found, from strong to weak.
const (
	inName = iota
	inNames
	inWords
	inText
	standsFor // as what it stands for
	byGuess
	nowhere
)

// weights are what a place counts among own records.
var weights = [...]float64{inName: 4, inNames: 2.5, inWords: 1.5, inText: 1, standsFor: 0.3, byGuess: 0.2, nowhere: 0}

// place is where a word was found, and what to say of it: a phrase, with the
// word it speaks of.
type place struct {
	where int
	say   string
	of    string
	for1  *Expansion
}

func (p place) String() string {
	if p.for1 != nil {
		return taken(*p.for1)
	}
	if p.of != "" {
		return p.say + ` "` + p.of + `"`
	}
	return p.say
}

// judged is how an entry answers a query.
type judged struct {
	ok     bool // it has all that was asked
	tier   int
	bonus  float64 // within the tier
	weight float64 // within the bonus, for own records
	found  int     // words found
	graded bool    // found by made-up words alone
	places []place
	missed []string
}

// why says it in words.
func (j judged) why() string {
	var reasons []string
	seen := map[string]bool{}
	for where := inName; where < nowhere; where++ {
		for _, p := range j.places {
			if s := p.String(); p.where == where && !seen[s] {
				seen[s] = true
				reasons = append(reasons, s)
			}
		}
	}
	if len(reasons) == 0 {
		reasons = []string{"text"}
	}
	reason := strings.Join(reasons, ", ")
	if len(j.missed) > 0 {
		reason += `; without "` + strings.Join(j.missed, `", "`) + `"`
	}
	return reason
}

// judge tells how an entry answers a query.
func judge(a *Ask, e *entry, p pass) judged {
	one := func(tier int, bonus float64, pl place) judged {
		return judged{ok: true, tier: tier, bonus: bonus, weight: 1 / (1 + float64(len(e.name))), found: len(a.Words), places: []place{pl}}
	}
	if len(a.Phrases) == 0 || len(a.Phrases) == 1 && len(a.Phrases[0]) == len(a.All) {
		if e.keyName == a.Key {
			return one(tierName, 0, place{say: "name"})
		}
		if e.keyID == a.Key {
			return one(tierName, 0, place{say: "id"})
		}
		for i, k := range e.keyNames {
			if k == a.Key {
				return one(tierOther, 0, e.called(i, ""))
			}
		}
	}
	if full := joined(a.All); len(a.Phrases) == 0 && full != "" {
		if strings.HasPrefix(joined(e.name), full) {
			return one(tierLead, 1, place{say: "beginning of the name"})
		}
		for i, n := range e.names {
			if strings.HasPrefix(joined(n), full) {
				return one(tierLead, 0, e.called(i, "beginning of "))
			}
		}
	}
	f := finder{a: a, entry: e}
	return f.all(p)
}

// finder looks for each word of a query in one entry.
type finder struct {
	*entry
	a     *Ask
	guess bool // at the spelling of the word that is looked for
}

func (f *finder) all(p pass) judged {
	j := judged{places: make([]place, len(f.a.Words))}
	for i, w := range f.a.Words {
		f.guess = p.guesses() && f.a.Slip(i)
		j.places[i] = f.find(w, f.a.Stems[i], f.a.Typing(i))
	}
	if len(f.a.Also) > 0 {
		f.together(&j)
	}
	worst, tells := 0, 0.0
	j.graded = len(j.places) > 0
	for i, pl := range j.places {
		if pl.where < nowhere {
			j.found++
			worst = max(worst, pl.where)
			j.graded = j.graded && (pl.where == inWords || pl.where == standsFor)
			j.weight += weights[pl.where]
			if f.a.Tells != nil {
				tells += f.a.Tells[i]
			}
		} else if p.partly() {
			j.missed = append(j.missed, f.a.Words[i])
		}
	}
	j.weight /= 3 + float64(len(f.name))
	j.ok = len(j.places) > 0 && j.found == len(j.places)
	for i := 0; j.ok && i < len(f.a.Phrases); i++ {
		j.ok = f.phrase(f.a.PhraseStems[i])
	}
	if !j.ok && p == passLoose {
		if whole, ok := f.wholeName(); ok {
			return judged{ok: true, tier: tierNear, found: j.found, weight: j.weight, places: []place{{where: byGuess, say: "spelling near", of: whole}}}
		}
	}
	switch {
	case j.found < len(j.places) && p.partly():
		j.tier, j.bonus = tierSome, float64(j.found)
		if f.a.Tells != nil && len(f.a.Words) > 2 { // of two words the one found may be either
			j.bonus = tells
		}
	case worst == byGuess || j.found < len(j.places):
		j.tier = tierNear
	case worst == standsFor:
		j.tier, j.bonus = tierAlso, f.sideBySide()
	case worst > inNames:
		j.tier, j.bonus = tierText, f.sideBySide()
	default:
		j.tier, j.bonus = tierWords, f.sideBySide()
	}
	return j
}

// together looks for what neighbouring words stand for together.
func (f *finder) together(j *judged) {
	for n := 3; n >= 2; n-- {
		for i := 0; i+n <= len(f.a.Words); i++ {
			es := f.a.Also[strings.Join(f.a.Words[i:i+n], " ")]
			for k := range es {
				if !f.has(es[k].Words) {
					continue
				}
				for at := i; at < i+n; at++ {
					if j.places[at].where >= byGuess {
						j.places[at] = place{where: standsFor, for1: &es[k]}
					}
				}
			}
		}
	}
}

// find looks for one word.
func (f *finder) find(w, s string, typing bool) place {
	if hasStem(f.name, s) {
		return place{where: inName, say: "name"}
	}
	for i, n := range f.names {
		if hasStem(n, s) {
			return f.called(i, "")
		}
	}
	if typing {
		if pl, ok := f.beginning(w); ok {
			return pl
		}
	}
	if hasStem(f.id, s) {
		return place{where: inWords, say: "id"}
	}
	for i, o := range f.words {
		if hasStem(o, s) {
			return place{where: inWords, say: "word", of: f.Words[i]}
		}
	}
	for _, o := range f.fibre {
		if hasStem(o, s) {
			return place{where: inWords, say: "fibre"}
		}
	}
	if hasStem(f.text, s) {
		return place{where: inText, say: "text"}
	}
	es := f.a.Also[w]
	for i := range es {
		if f.has(es[i].Words) {
			return place{where: standsFor, for1: &es[i]}
		}
	}
	if !f.guess {
		return place{where: nowhere}
	}
	if pl, ok := f.beginning(w); ok {
		return pl
	}
	if at := f.nearest(w); at != "" {
		return place{where: byGuess, say: "spelling near", of: at}
	}
	return place{where: nowhere}
}

// nearest is the word of the thing whose spelling is nearest to w, a name before the
// text; nothing where none is near enough.
func (f *finder) nearest(w string) string {
	n := edits(w)
	best, at := n+1, ""
	try := func(words []string) {
		for _, o := range words {
			if d := distance(w, o, n); d < best {
				best, at = d, o
			}
		}
	}
	if n == 0 {
		return ""
	}
	try(f.name)
	for _, o := range f.names {
		try(o)
	}
	if at == "" {
		try(f.text)
	}
	return at
}

// beginning finds a word of the names that begins so.
func (f *finder) beginning(w string) (place, bool) {
	for _, words := range [][]string{f.name, f.id} {
		for _, o := range words {
			if strings.HasPrefix(o, w) {
				return place{where: inName, say: "name"}, true
			}
		}
	}
	for i, n := range f.names {
		for _, o := range n {
			if strings.HasPrefix(o, w) {
				return f.called(i, ""), true
			}
		}
	}
	return place{}, false
}

// wholeName finds a name that is near the whole of what was asked.
func (f *finder) wholeName() (string, bool) {
	n := edits(f.a.Key)
	if n == 0 {
		return "", false
	}
	if distance(f.a.Key, f.keyName, n) <= n {
		return f.Name, true
	}
	for i, k := range f.keyNames {
		if distance(f.a.Key, k, n) <= n {
			return f.Names[i], true
		}
	}
	return "", false
}

// has tells whether every one of the words is in the entry.
func (f *finder) has(words []string) bool {
	for _, w := range words {
		s := stem(w)
		ok := hasStem(f.name, s) || hasStem(f.id, s) || hasStem(f.text, s)
		for _, more := range [][][]string{f.names, f.words, f.fibre} {
			for i := 0; !ok && i < len(more); i++ {
				ok = hasStem(more[i], s)
			}
		}
		if !ok {
			return false
		}
	}
	return true
}

// sideBySide is 1 when the words stand in a name side by side, in order.
func (f *finder) sideBySide() float64 {
	if len(f.a.Words) < 2 {
		return 0
	}
	if run(f.name, f.a.Stems) {
		return 1
	}
	for _, n := range f.names {
		if run(n, f.a.Stems) {
			return 1
		}
	}
	return 0
}

// phrase tells whether the stems stand side by side anywhere.
func (f *finder) phrase(stems []string) bool {
	if run(f.name, stems) || run(f.id, stems) || run(f.text, stems) {
		return true
	}
	for _, more := range [][][]string{f.names, f.fibre} {
		for _, words := range more {
			if run(words, stems) {
				return true
			}
		}
	}
	var all []string // the further words are one text in the index
	for _, w := range f.words {
		all = append(all, w...)
	}
	return run(all, stems)
}

// run tells whether the words hold the stems side by side.
func run(words, stems []string) bool {
	for i := 0; i+len(stems) <= len(words); i++ {
		all := true
		for k, s := range stems {
			if !isStem(words[i+k], s) {
				all = false
				break
			}
		}
		if all {
			return true
		}
	}
	return false
}

// hasStem looks for a stem among words.
func hasStem(words []string, s string) bool {
	for _, w := range words {
		if isStem(w, s) {
			return true
		}
	}
	return false
}

// isStem tells whether s is the stem of w. The stemmer leaves a word alone but for its
// end, and changes no more than the last two letters of what it leaves ("bil" becomes
// "ble"), so most words need no stemming to be ruled out.
func isStem(w, s string) bool {
	if n := len(s) - 2; n > 0 && (len(w) < n || w[:n] != s[:n]) {
		return false
	}
	return stem(w) == s
}

// taken says what a word was understood as.
func taken(e Expansion) string {
	if e.maker {
		return `"` + e.origin + `" taken as "` + e.text + `"`
	}
	return `"` + e.origin + `" is also called "` + e.text + `"`
}

// found is a hit before it is ordered.
type found struct {
	Hit
	judged
	own  bool
	raw  float64 // comparable within a tier of own records, or of others
	addr string
	rank int // of entries that answer alike the higher comes first
	// fibres are what own records are counted by.
	fibres []string
}

// keep notes the hits of the reference that were not found before.
func (s *search) keep(hits []Raw, p pass) {
	for _, h := range hits {
		addr := Address(h.Shown.Kind, h.Shown.ID)
		if s.seen[addr] {
			continue
		}
		f := found{Hit: Hit{Kind: h.Shown.Kind, ID: h.Shown.ID, Name: h.Shown.Name}, raw: h.Score, addr: addr, rank: h.Shown.Rank}
		if p == passListed {
			f.judged = listed
		} else {
			if h.entry == nil {
				h.entry = split(h.Shown)
			}
			f.judged = judge(s.a, h.entry, p)
			if !f.ok && p == passExact {
				continue // a long name of which only the beginning fits
			}
		}
		s.seen[addr] = true
		s.found = append(s.found, f)
	}
}

// listed is what passes a filter when no words were asked.
var listed = judged{ok: true, tier: tierSome, places: []place{{say: "listed"}}}

// best is the highest tier found, 0 when nothing is.
func (s *search) best() int {
	best := 0
	for _, f := range s.found {
		best = max(best, f.tier)
	}
	return best
}

// rank is what parts hits that were found by what a word stands for alone: "a lining"
// says nothing of which.
func rank(f found) int {
	if f.graded {
		return f.rank
	}
	return 0
}

// better puts the hit that answers better before the other.
func better(a, b found) int {
	mine := func(f found) int {
		if f.own {
			return 1
		}
		return 0
	}
	return cmp.Or(cmp.Compare(b.tier, a.tier), cmp.Compare(b.bonus, a.bonus), cmp.Compare(mine(b), mine(a)), cmp.Compare(rank(b), rank(a)), cmp.Compare(b.raw, a.raw), cmp.Compare(a.addr, b.addr))
}

// hits orders what was found, best first, at most as many as asked for. Own
// records and others are scored apart, so they take turns where they answer
// equally well.
func (s *search) hits() []Hit {
	fs := s.found
	slices.SortFunc(fs, better)
	for i := 0; i < len(fs); {
		j, own := i, 0
		for ; j < len(fs) && fs[j].tier == fs[i].tier && fs[j].bonus == fs[i].bonus; j++ {
			if fs[j].own {
				own++
			}
		}
		takeTurns(fs[i:j], own)
		i = j
	}
	if len(fs) > s.limit {
		fs = fs[:s.limit]
	}
	// The whole part of a score is its tier; the rest falls from hit to hit as
	// the raw scores do, and never rises.
	type sort struct {
		tier int
		own  bool
	}
	most := map[sort]float64{}
	for _, f := range fs {
		k := sort{f.tier, f.own}
		most[k] = math.Max(most[k], f.raw)
	}
	var out []Hit
	below := 0.999
	for i, f := range fs {
		if i > 0 && fs[i-1].tier != f.tier {
			below = 0.999
		}
		part := 0.0
		if m := most[sort{f.tier, f.own}]; m > 0 {
			part = 0.999 * f.raw / m
		}
		below = math.Min(below, part)
		f.Score = math.Round((float64(f.tier)+below)*1e4) / 1e4
		f.Why = f.why()
		out = append(out, f.Hit)
	}
	return out
}

// takeTurns puts one of the first n between each two of the rest.
func takeTurns(fs []found, n int) {
	own := append([]found(nil), fs[:n]...)
	rest := append([]found(nil), fs[n:]...)
	for i := range fs {
		if len(own) > 0 && (i%2 == 0 || len(rest) == 0) {
			fs[i], own = own[0], own[1:]
		} else {
			fs[i], rest = rest[0], rest[1:]
		}
	}
}
