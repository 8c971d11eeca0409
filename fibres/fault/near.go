package fault

import (
	"slices"
	"sort"
	"strings"
)

// maxEdits is how many slips apart two words may lie and still be taken for one
// another; a short word may hold one.
const maxEdits = 2

// Near returns up to n of the known words that lie nearest to word, nearest
// first: those at most two slips away, those that contain it, and those that share a
// word with it. Nothing else is guessed; a text of more than 100 bytes has none near it.
func Near(word string, known []string, n int) []string {
	type scored struct {
		word string
		d    int
		slip bool // only near in spelling, and two slips away
	}
	const longest = 100 // a longer text is no misspelt word, and comparing it takes for ever
	if len(word) > longest {
		return nil
	}
	w := []rune(strings.ToLower(word))
	edits := maxEdits
	if len(w) < 5 {
		edits = 1
	}
	long := longWords(string(w))
	var s []scored
	for _, k := range known {
		lk := strings.ToLower(k)
		const far = 100
		d, slip := far, false
		// A word that is longer or shorter by more than the slips allowed needs no comparing.
		if r := []rune(lk); max(len(r)-len(w), len(w)-len(r)) <= edits {
			if x := distance(w, r); x <= edits {
				d, slip = 2*x, x == maxEdits
			}
		}
		if len(w) > 2 && strings.Contains(lk, string(w)) {
			d, slip = min(d, 1+(len(lk)-len(w))/4), false
		}
		if d == far && sharesWord(long, lk) {
			d = far - 1
		}
		if d < far {
			s = append(s, scored{k, d, slip})
		}
	}
	sort.SliceStable(s, func(i, j int) bool {
		if s[i].d != s[j].d {
			return s[i].d < s[j].d
		}
		return s[i].word < s[j].word
	})
	if len(s) > 0 && s[0].d <= 2 { // one slip away: two slips are not meant
		s = slices.DeleteFunc(s, func(x scored) bool { return x.slip })
	}
	var out []string
	seen := map[string]bool{}
	for _, x := range s {
		if len(out) == n {
			break
		}
		if !seen[x.word] {
			seen[x.word] = true
			out = append(out, x.word)
		}
	}
	return out
}

// longWords are the words of a text that tell something: those of four letters and more.
func longWords(text string) []string {
	return slices.DeleteFunc(strings.FieldsFunc(text, betweenWords), func(w string) bool { return len(w) < 4 })
}

func betweenWords(r rune) bool { return strings.ContainsRune(" -.,_", r) }

// sharesWord tells whether a text has one of the words.
func sharesWord(words []string, text string) bool {
	if !slices.ContainsFunc(words, func(w string) bool { return strings.Contains(text, w) }) {
		return false
	}
	return slices.ContainsFunc(strings.FieldsFunc(text, betweenWords), func(w string) bool { return slices.Contains(words, w) })
}

// DidYouMean phrases the nearest words as a hint, or returns the other words
// when none is near.
func DidYouMean(word string, known []string, otherwise string) string {
	near := Near(word, known, 3)
	if len(near) == 0 {
		return otherwise
	}
	for i := range near {
		near[i] = `"` + near[i] + `"`
	}
	return "did you mean " + strings.Join(near, " or ") + "?"
}

// distance is the optimal string alignment distance: insertions, deletions,
// changes and swaps of neighbours each count one.
func distance(a, b []rune) int {
	prev2, prev, cur := make([]int, len(b)+1), make([]int, len(b)+1), make([]int, len(b)+1)
	for j := range prev {
		prev[j] = j
	}
	for i := 1; i <= len(a); i++ {
		cur[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			cur[j] = min(prev[j]+1, cur[j-1]+1, prev[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				cur[j] = min(cur[j], prev2[j-2]+1)
			}
		}
		prev2, prev, cur = prev, cur, prev2
	}
	return prev[len(b)]
}
