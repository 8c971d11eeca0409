package advise

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// The sieve passes over what cannot be among the best. What it leaves is what judging
// every pair gives, in the same order.
func TestTheSieveChangesNoAnswer(t *testing.T) {
	a := adviser(t)
	passed := 0
	for _, words := range []string{
		"half-circle-cape, bagged-lining", "hooded-wrap, bagged-lining", "coat, fused-front-tailored", "straight-skirt, dropped-in-lining",
		"boned-bodice, underlined", "lined-bag, bagged-lining", "curtain, sides-lined", "child-cape, bagged-lining, wearer child, wish warm",
	} {
		t.Run(words, func(t *testing.T) {
			m, err := a.ParseCase(words)
			require.NoError(t, err)
			pairs := sampleOfPairs(a, m)
			require.Greater(t, len(pairs), 200)
			js := make([]*judged, len(pairs))
			at := map[*judged]int{}
			s := a.newSieve(m, pairs)
			for i, p := range pairs {
				mm := m
				mm.Shell, mm.Lining = p.shell, p.lining
				js[i] = a.judge(mm)
				at[js[i]] = i
				_, layers := s.layers(p)
				require.GreaterOrEqual(t, layers, js[i].rank(), "%s with %s", p.shell.Cloth.ID, p.lining.Cloth.ID)
				require.True(t, s.reaches(p, js[i].rank()), "%s with %s", p.shell.Cloth.ID, p.lining.Cloth.ID)
			}
			sortJudged(js)
			want := make([]int, len(js))
			for i, j := range js {
				want[i] = at[j]
			}
			told := 0
			for _, keep := range []int{1, 10, len(pairs)} {
				got := s.best(pairs, keep, func(done, of int) { told = max(told, done); require.Equal(t, len(pairs), of) })
				require.Equal(t, want[:keep], got, "the best %d", keep)
			}
			require.Equal(t, len(pairs)/tellEvery*tellEvery, told)
			tenth := js[9].rank()
			passed += len(slices.DeleteFunc(pairs, func(p pair) bool { return s.reaches(p, tenth) }))
		})
	}
	require.Positive(t, passed, "the sieve holds nothing back")
}

// sampleOfPairs is every tenth pair or so of a make-up, alike over shells and linings.
func sampleOfPairs(a *Adviser, m MakeUp) []pair {
	var out []pair
	for i, p := range a.pairsOf(m, false) {
		if i%83 == 0 {
			out = append(out, p)
		}
	}
	return out
}

// A rank that is not a number of the sort would let a pair through or hold it back.
func TestPodiumKeepsTheBest(t *testing.T) {
	p := newPodium(2)
	require.Equal(t, math.Inf(-1), p.least())
	for i, rank := range []float64{1, 5, 3, 5, 2} {
		p.add(i, rank)
	}
	require.Equal(t, []int{1, 3}, p.order())
	require.Equal(t, 5.0, p.least())
}
