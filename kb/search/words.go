package search

import (
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	porterstemmer "github.com/blevesearch/go-porterstemmer"
)

// What is asked and what is indexed go through the same functions here; an
// index only splits at blanks. So a spelling that is folded is folded on both sides.

const (
	longestWord = 40  // runes; the rest of a longer word is cut off
	longestAsk  = 500 // runes of a query that are looked at
	maxWords    = 24  // words of a query that are looked at
)

// stop are words that say nothing about cloth. Words like "off", "without" and
// "under" are kept: "off grain" is a thing.
var stop = set("a an the of for to in on at with and or is are was be been it its this that these those as by from " +
	"what which how do does i me my we our you your can could would should will shall may there some any " +
	"vs versus difference between")

// weak are words that nearly every entry could be called; they are not required
// when other words are there.
var weak = set("cloth fabric material textile stuff " +
	"make makes made making get gets got getting come comes came coming left") // and verbs that any question may have

type spelling struct{ from, to string }

// spelt are the spellings by their first letter: every word that is found is asked.
var spelt = sync.OnceValue(func() *[256][]spelling {
	var by [256][]spelling
	for _, p := range spellings {
		by[p.from[0]] = append(by[p.from[0]], p)
	}
	return &by
})

// spellings are beginnings of words as they are spelt in the US, or loosely,
// and what they become. Only pairs that mean the same: "muslin" and "calico"
// do not.
var spellings = []spelling{
	{"color", "colour"}, {"discolor", "discolour"}, {"fiber", "fibre"}, {"gray", "grey"}, {"mold", "mould"},
	{"centered", "centred"}, {"centering", "centring"}, {"center", "centre"}, {"centimeter", "centimetre"},
	{"millimeter", "millimetre"}, {"luster", "lustre"}, {"theater", "theatre"}, {"pajama", "pyjama"},
	{"jewelry", "jewellery"}, {"woolen", "woollen"}, {"wooly", "woolly"}, {"aluminum", "aluminium"},
	{"sulfur", "sulphur"}, {"cozy", "cosy"}, {"checkered", "chequered"}, {"raveling", "ravelling"},
	{"raveled", "ravelled"}, {"labeled", "labelled"}, {"odor", "odour"}, {"vapor", "vapour"},
	{"behavior", "behaviour"}, {"armor", "armour"}, {"meter", "metre"},
}

// sameThing are words of the UK and the US for one thing. They are looked for
// together, the other's word counting less.
var sameThing = [][2]string{
	{"wadding", "batting"}, {"tacking", "basting"}, {"tack", "baste"}, {"zip", "zipper"}, {"haberdashery", "notions"},
	{"popper", "snap"}, {"reel", "spool"}, {"dressmaking", "sewing"}, {"trousers", "pants"},
	{"waistcoat", "vest"}, {"braces", "suspenders"}, {"nappy", "diaper"}, {"tartan", "plaid"}, {"waterproof", "rainproof"},
}

// tokens splits a text into words: lower case, accents off, spellings folded,
// at most n of them (0 = all).
func tokens(s string, n int) []string {
	if !utf8.ValidString(s) {
		s = strings.ToValidUTF8(s, " ")
	}
	if !ascii(s) {
		s = plain(s)
	}
	s = strings.ToLower(s)
	var out []string
	for at := 0; at < len(s) && (n == 0 || len(out) < n); {
		var w string
		if w, at = wordAt(s, at); strings.Contains(w, "'") || strings.Contains(w, "’") {
			w = strings.Trim(strings.TrimSuffix(strings.ReplaceAll(w, "’", "'"), "'s"), "'")
			w = strings.ReplaceAll(w, "'", "")
		}
		if w == "" {
			continue
		}
		if len(w) > longestWord {
			w = cut(w, longestWord)
		}
		if out == nil { // a word is some six letters, with its blank
			out = make([]string, 0, 1+(len(s)-at)/6)
		}
		out = append(out, spell(w))
	}
	return out
}

// wordAt is the next run of signs of words at a place of a text, and the place after it.
func wordAt(s string, at int) (word string, after int) {
	from := -1
	for at < len(s) {
		size, apart := 1, false
		if c := s[at]; c < utf8.RuneSelf {
			apart = apartInASCII[c]
		} else {
			var r rune
			r, size = utf8.DecodeRuneInString(s[at:])
			apart = between(r)
		}
		switch {
		case !apart && from < 0:
			from = at
		case apart && from >= 0:
			return s[from:at], at + size
		}
		at += size
	}
	if from < 0 {
		return "", at
	}
	return s[from:], at
}

// apartInASCII are the answers of between for the signs of ASCII, of which texts consist.
var apartInASCII = func() (a [utf8.RuneSelf]bool) {
	for r := range rune(utf8.RuneSelf) {
		a[r] = between(r)
	}
	return a
}()

func between(r rune) bool {
	if r < utf8.RuneSelf {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9') && r != '\'' && (r < 'A' || r > 'Z')
	}
	return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !unicode.IsMark(r) && r != '\'' && r != '’'
}

func ascii(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] >= utf8.RuneSelf {
			return false
		}
	}
	return true
}

// cut returns the first n runes.
func cut(s string, n int) string {
	i := 0
	for at := range s {
		if i == n {
			return s[:at]
		}
		i++
	}
	return s
}

// spell folds British and US spellings of one word.
func spell(w string) string {
	if w == "" {
		return w
	}
	for _, p := range spelt()[w[0]] {
		if strings.HasPrefix(w, p.from) {
			return p.to + w[len(p.from):]
		}
	}
	if len(w) >= 6 && strings.IndexByte(w, 'z') > 0 {
		for _, end := range []string{"ize", "ized", "izes", "izing", "izer", "ization"} {
			if strings.HasSuffix(w, end) {
				return strings.TrimSuffix(w, end) + "is" + end[2:]
			}
		}
	}
	return w
}

// stem takes the endings off a word.
func stem(w string) string {
	for i := 0; i < len(w); i++ {
		if w[i] < 'a' || w[i] > 'z' { // the stemmer knows English letters only
			return w
		}
	}
	return string(porterstemmer.StemWithoutLowerCasing([]rune(w)))
}

func stems(words []string) []string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = stem(w)
	}
	return out
}

// singular takes a plural ending off, clumsily but the same on both sides.
func singular(w string) string {
	n := len(w)
	switch {
	case n > 4 && strings.HasSuffix(w, "ies"):
		return w[:n-3] + "y"
	case n > 4 && (strings.HasSuffix(w, "sses") || strings.HasSuffix(w, "ches") || strings.HasSuffix(w, "shes") || strings.HasSuffix(w, "xes")):
		return w[:n-2]
	case n > 3 && w[n-1] == 's' && w[n-2] != 's' && w[n-2] != 'u' && w[n-2] != 'i':
		return w[:n-1]
	}
	return w
}

// joined runs words together, so that "broad cloth", "broad-cloth" and
// "broadcloth" are one name.
func joined(words []string) string { return strings.Join(words, "") }

// key is joined with the plurals taken off: what two names share that count as
// the same name.
func key(words []string) string {
	single := make([]string, len(words))
	for i, w := range words {
		single[i] = singular(w)
	}
	return joined(single)
}

// edits is how many slips a word may hold and still be guessed.
func edits(w string) int {
	switch n := utf8.RuneCountInString(w); {
	case n >= 8:
		return 2
	case n >= 4:
		return 1
	}
	return 0
}

// distance counts the slips between two words: a letter missing, too many,
// wrong, or two neighbours swapped. It gives up above limit and returns limit+1.
func distance(a, b string, limit int) int {
	ra, rb := []rune(a), []rune(b)
	if d := len(ra) - len(rb); d > limit || -d > limit {
		return limit + 1
	}
	before, prev, cur := make([]int, len(rb)+1), make([]int, len(rb)+1), make([]int, len(rb)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(ra); i++ {
		cur[0] = i
		least := i
		for j := 1; j <= len(rb); j++ {
			cost := 1
			if ra[i-1] == rb[j-1] {
				cost = 0
			}
			cur[j] = min(prev[j]+1, cur[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && ra[i-1] == rb[j-2] && ra[i-2] == rb[j-1] {
				cur[j] = min(cur[j], before[j-2]+1)
			}
			least = min(least, cur[j])
		}
		if least > limit {
			return limit + 1
		}
		before, prev, cur = prev, cur, before
	}
	return prev[len(rb)]
}

// edges lists the beginnings of a word, up to most runes long.
func edges(w string, limit int) []string {
	var out []string
	n := 0
	for i, r := range w {
		n++
		if n > limit {
			break
		}
		out = append(out, w[:i+utf8.RuneLen(r)])
	}
	return out
}

func set(words string) map[string]bool {
	m := map[string]bool{}
	for _, w := range strings.Fields(words) {
		m[w] = true
	}
	return m
}
