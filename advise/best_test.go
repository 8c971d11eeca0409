package advise

import (
	"sort"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// A cloth's best pieces are those of all pieces judged one by one, in that order.
func TestBestPiecesAreThoseOfAll(t *testing.T) {
	a := adviser(t)
	for i, c := range a.Shells() {
		if i%8 > 0 {
			continue
		}
		s := &fibres.Subject{Cloth: c}
		all := []Candidate{}
		for _, p := range a.Pieces {
			if v, share := a.Verdict(MakeUp{Piece: p, Shell: s}); v == Suits {
				all = append(all, Candidate{ID: p.ID, Name: p.Name, Verdict: v, Share: share})
			}
		}
		sort.SliceStable(all, func(i, k int) bool { return all[i].Share > all[k].Share })
		for _, n := range []int{1, 10} {
			require.Equal(t, all[:min(n, len(all))], append([]Candidate{}, a.BestPieces(s, n)...), "%s, %d", c.ID, n)
		}
	}
}
