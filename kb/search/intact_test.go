package search

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// However a word was misspelt, as far as a guess goes, one of the pieces is left.
func TestOnePieceIsLeftIntact(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	slip := func(w []byte) []byte {
		at := r.IntN(len(w))
		switch letter := byte('a' + r.IntN(26)); r.IntN(4) {
		case 0:
			return slices.Delete(w, at, at+1)
		case 1:
			return slices.Insert(w, at, letter)
		case 2:
			w[at] = letter
		default:
			if at > 0 {
				w[at], w[at-1] = w[at-1], w[at]
			}
		}
		return w
	}
	for range 20_000 {
		w := make([]byte, 4+r.IntN(9))
		for i := range w {
			w[i] = byte('a' + r.IntN(26))
		}
		n := edits(string(w))
		wrong := slices.Clone(w)
		for range n {
			wrong = slip(wrong)
		}
		if distance(string(w), string(wrong), n) > n {
			continue // two slips met
		}
		pieces := intact(string(w), n)
		require.True(t, slices.ContainsFunc(pieces, func(p string) bool { return len(p) > 1 && strings.Contains(string(wrong), p) }), "%s for %s: %q", wrong, w, pieces)
	}
}
