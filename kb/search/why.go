package search

import (
	"math"
	"sort"
	"strings"
	"unicode/utf8"

	bsearch "github.com/blevesearch/bleve/v2/search"
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
)

// found is a hit before it is ordered.
type found struct {
	Hit
	tier  int
	bonus float64
	raw   float64 // comparable within a tier only
	addr  string
}

// keep notes the hits that were not found before.
func (s *search) keep(hits bsearch.DocumentMatchCollection, p pass) {
	for _, h := range hits {
		if s.seen[h.ID] || (h.Index == baseName && s.x.own[h.ID]) { // the user's own record hides the reference's
			continue
		}
		e, ok := show(h)
		if !ok {
			continue
		}
		s.seen[h.ID] = true
		f := found{Hit: Hit{Kind: e.Kind, ID: e.ID, Name: e.Name}, raw: h.Score, addr: h.ID}
		if p == passListed {
			f.tier, f.Why = tierSome, "listed"
		} else {
			f.tier, f.bonus, f.Why = why(s.a, &e, p)
		}
		s.found = append(s.found, f)
	}
}

// best is the highest tier found, 0 when nothing is.
func (s *search) best() int {
	best := 0
	for _, f := range s.found {
		best = max(best, f.tier)
	}
	return best
}

// hits orders what was found, best first, at most as many as asked for.
func (s *search) hits() []Hit {
	fs := s.found
	sort.SliceStable(fs, func(i, j int) bool {
		switch a, b := &fs[i], &fs[j]; {
		case a.tier != b.tier:
			return a.tier > b.tier
		case a.bonus != b.bonus:
			return a.bonus > b.bonus
		case a.raw != b.raw:
			return a.raw > b.raw
		default:
			return a.addr < b.addr
		}
	})
	if len(fs) > s.limit {
		fs = fs[:s.limit]
	}
	// The whole part of a score is its tier; the rest falls from hit to hit as
	// the raw scores do, and never rises.
	var out []Hit
	below := 0.999
	most := map[int]float64{}
	for _, f := range fs {
		most[f.tier] = math.Max(most[f.tier], f.raw)
	}
	for i, f := range fs {
		if i > 0 && fs[i-1].tier != f.tier {
			below = 0.999
		}
		part := 0.0
		if most[f.tier] > 0 {
			part = 0.999 * f.raw / most[f.tier]
		}
		below = math.Min(below, part)
		f.Score = math.Round((float64(f.tier)+below)*1e4) / 1e4
		out = append(out, f.Hit)
	}
	return out
}

// why says how an entry answers the query: the tier, a bonus within the tier,
// and the words for it.
func why(a *ask, s *shown, p pass) (tier int, bonus float64, words string) {
	name := tokens(s.Name, 0)
	if len(a.phrases) == 0 || len(a.phrases) == 1 && len(a.phrases[0]) == len(a.words) {
		if key(name) == a.key {
			return tierName, 0, "name"
		}
		if key(tokens(s.ID, 0)) == a.key {
			return tierName, 0, "id"
		}
	}
	names := make([][]string, len(s.Names))
	for i, n := range s.Names {
		names[i] = tokens(n, 0)
		if key(names[i]) == a.key {
			return tierOther, 0, `synonym "` + n + `"`
		}
	}
	if full := joined(a.all); len(a.phrases) == 0 && utf8.RuneCountInString(full) > 0 {
		if strings.HasPrefix(joined(name), full) {
			return tierLead, 1, "beginning of the name"
		}
		for i, n := range names {
			if strings.HasPrefix(joined(n), full) {
				return tierLead, 0, `beginning of synonym "` + s.Names[i] + `"`
			}
		}
	}
	f := finder{a: a, s: s, name: name, id: tokens(s.ID, 0), names: names, guess: p == passLoose}
	return f.all(p)
}

// finder looks for each word of a query in one entry.
type finder struct {
	a     *ask
	s     *shown
	name  []string
	id    []string
	names [][]string
	guess bool

	text []string
}

// Where a word was found, from strong to weak.
const (
	inName = iota
	inNames
	inWords
	inText
	instead1 // as what it stands for
	byGuess
	nowhere
)

type place struct {
	where int
	what  string
}

func (f *finder) all(p pass) (int, float64, string) {
	places := make([]place, len(f.a.words))
	for i, w := range f.a.words {
		places[i] = f.find(w, f.a.last && i == len(f.a.words)-1)
	}
	// Neighbouring words that stand for something together.
	for n := 3; n >= 2; n-- {
		for i := 0; i+n <= len(f.a.words); i++ {
			for _, e := range f.a.also[strings.Join(f.a.words[i:i+n], " ")] {
				if f.has(e.words) {
					for j := i; j < i+n; j++ {
						if places[j].where >= byGuess {
							places[j] = place{instead1, taken(e)}
						}
					}
				}
			}
		}
	}
	found, worst := 0, 0
	for _, pl := range places {
		if pl.where < nowhere {
			found++
			worst = max(worst, pl.where)
		}
	}
	if found < len(places) && f.guess {
		if whole, ok := f.wholeName(); ok {
			return tierNear, 0, `spelling near "` + whole + `"`
		}
	}
	var reasons []string
	seen := map[string]bool{}
	say := func(s string) {
		if !seen[s] {
			seen[s] = true
			reasons = append(reasons, s)
		}
	}
	for where := inName; where < nowhere; where++ {
		for _, pl := range places {
			if pl.where == where {
				say(pl.what)
			}
		}
	}
	if len(reasons) == 0 {
		say("text")
	}
	reason := strings.Join(reasons, ", ")
	if found < len(places) && p == passPartly {
		var missed []string
		for i, pl := range places {
			if pl.where == nowhere {
				missed = append(missed, f.a.words[i])
			}
		}
		return tierSome, float64(found), reason + `; without "` + strings.Join(missed, `", "`) + `"`
	}
	switch {
	case worst == byGuess || found < len(places):
		return tierNear, 0, reason
	case worst <= inNames:
		return tierWords, f.together(), reason
	case worst == instead1:
		return tierAlso, f.together(), reason
	default:
		return tierText, f.together(), reason
	}
}

// find looks for one word.
func (f *finder) find(w string, typing bool) place {
	s := stem(w)
	if hasStem(f.name, s) {
		return place{inName, "name"}
	}
	for i, n := range f.names {
		if hasStem(n, s) {
			return place{inNames, `synonym "` + f.s.Names[i] + `"`}
		}
	}
	if typing {
		if pl, ok := f.beginning(w); ok {
			return pl
		}
	}
	if hasStem(f.id, s) {
		return place{inWords, "id"}
	}
	for _, o := range f.s.Words {
		if hasStem(tokens(o, 0), s) {
			return place{inWords, `word "` + o + `"`}
		}
	}
	for _, o := range f.s.Fibre {
		if hasStem(tokens(o, 0), s) {
			return place{inWords, "fibre"}
		}
	}
	if hasStem(f.texts(), s) {
		return place{inText, "text"}
	}
	for _, e := range f.a.also[w] {
		if f.has(e.words) {
			return place{instead1, taken(e)}
		}
	}
	if !f.guess {
		return place{nowhere, ""}
	}
	if pl, ok := f.beginning(w); ok {
		return pl
	}
	if n := edits(w); n > 0 {
		best, at := n+1, ""
		try := func(words []string, limit int) {
			for _, o := range words {
				if d := distance(w, o, limit); d <= limit && d < best {
					best, at = d, o
				}
			}
		}
		try(f.name, n)
		for _, o := range f.names {
			try(o, n)
		}
		if at == "" {
			try(f.texts(), n)
		}
		if at != "" {
			return place{byGuess, `spelling near "` + at + `"`}
		}
	}
	return place{nowhere, ""}
}

func (f *finder) beginning(w string) (place, bool) {
	for _, o := range append(f.name[:len(f.name):len(f.name)], f.id...) {
		if strings.HasPrefix(o, w) {
			return place{inName, "name"}, true
		}
	}
	for i, n := range f.names {
		for _, o := range n {
			if strings.HasPrefix(o, w) {
				return place{inNames, `synonym "` + f.s.Names[i] + `"`}, true
			}
		}
	}
	return place{}, false
}

// wholeName finds a name that is near the whole of what was asked.
func (f *finder) wholeName() (string, bool) {
	n := edits(f.a.key)
	if n == 0 {
		return "", false
	}
	if distance(f.a.key, key(f.name), n) <= n {
		return f.s.Name, true
	}
	for i, o := range f.names {
		if distance(f.a.key, key(o), n) <= n {
			return f.s.Names[i], true
		}
	}
	return "", false
}

// has tells whether every one of the words is in the entry.
func (f *finder) has(words []string) bool {
	for _, w := range words {
		s := stem(w)
		ok := hasStem(f.name, s) || hasStem(f.id, s)
		for i := 0; !ok && i < len(f.names); i++ {
			ok = hasStem(f.names[i], s)
		}
		for i := 0; !ok && i < len(f.s.Words); i++ {
			ok = hasStem(tokens(f.s.Words[i], 0), s)
		}
		for i := 0; !ok && i < len(f.s.Fibre); i++ {
			ok = hasStem(tokens(f.s.Fibre[i], 0), s)
		}
		if !ok && !hasStem(f.texts(), s) {
			return false
		}
	}
	return true
}

// together is 1 when the words stand in the name side by side, in order.
func (f *finder) together() float64 {
	if len(f.a.words) < 2 {
		return 0
	}
	want := " " + strings.Join(stems(f.a.words), " ") + " "
	if strings.Contains(" "+strings.Join(stems(f.name), " ")+" ", want) {
		return 1
	}
	for _, n := range f.names {
		if strings.Contains(" "+strings.Join(stems(n), " ")+" ", want) {
			return 1
		}
	}
	return 0
}

func (f *finder) texts() []string {
	if f.text == nil {
		f.text = strings.Fields(f.s.Text)
	}
	return f.text
}

// hasStem looks for a stem among words. The stemmer leaves the beginning of a
// word alone, so most words need no stemming to be ruled out.
func hasStem(words []string, s string) bool {
	for _, w := range words {
		if w == s || (len(w) > 2 && len(s) > 1 && w[0] == s[0] && w[1] == s[1] && stem(w) == s) {
			return true
		}
	}
	return false
}

// taken says what a word was understood as.
func taken(e expansion) string {
	if e.maker {
		return `"` + e.origin + `" taken as "` + e.text + `"`
	}
	return `"` + e.origin + `" is also called "` + e.text + `"`
}
