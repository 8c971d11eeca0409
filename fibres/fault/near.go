package fault

import (
	"sort"
	"strings"
)

// Near returns up to n of the known words that lie nearest to word, nearest
// first: by edit distance on lower case, words that contain it before others.
// A word further away than half its own length is left out; a text of more than
// 100 bytes has none near it.
func Near(word string, known []string, n int) []string {
	type scored struct {
		word string
		d    int
	}
	const longest = 100 // a longer text is no misspelt word, and comparing it takes for ever
	if len(word) > longest {
		return nil
	}
	w := []rune(strings.ToLower(word))
	var s []scored
	for _, k := range known {
		lk := strings.ToLower(k)
		d := distance(w, []rune(lk)) * 2
		if len(w) > 2 && strings.Contains(lk, string(w)) {
			d = min(d, 1+(len(lk)-len(w))/4)
		}
		if d <= max(len(w), 3) {
			s = append(s, scored{k, d})
		}
	}
	sort.SliceStable(s, func(i, j int) bool {
		if s[i].d != s[j].d {
			return s[i].d < s[j].d
		}
		return s[i].word < s[j].word
	})
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
