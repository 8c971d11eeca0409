package advise

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// Pairs of which neither cloth is named are the shells that are recommended for the
// piece, each with the lining that is told first where that shell is named, and what
// suits stands before what does not.
func TestUsualPairs(t *testing.T) {
	a := adviser(t)
	for _, words := range []string{
		"half-circle-cape, bagged-lining", "hooded-wrap, bagged-lining", "coat, fused-front-tailored",
		"boned-bodice, underlined", "lined-bag, bagged-lining", "child-cape, bagged-lining, wearer child, wish warm",
	} {
		t.Run(words, func(t *testing.T) {
			m, err := a.ParseCase(words)
			require.NoError(t, err)
			var told []int
			ans, err := a.PairTelling(m, false, 4, func(done, of int) { told = append(told, done); require.Equal(t, 4*shellsTried, of) })
			require.NoError(t, err)
			require.Len(t, ans.Pairs, 4)
			require.True(t, slices.IsSorted(told))
			require.Len(t, told, 4*shellsTried)

			advised, err := a.Advise(m, 4*shellsTried)
			require.NoError(t, err)
			at := -1
			for i, p := range ans.Pairs {
				where := slices.IndexFunc(advised.Cloths, func(c Candidate) bool { return c.ID == p.Shell })
				require.GreaterOrEqual(t, where, 0, "%s is no shell that is advised", p.Shell)
				if i > 0 && p.Verdict == ans.Pairs[i-1].Verdict {
					require.Greater(t, where, at, "%s stands out of its place", p.Shell)
				}
				at = where
				mm := m
				mm.Shell = &fibres.Subject{Cloth: a.Cat.Cloths[p.Shell]}
				one, err := a.Pair(mm, false, 1)
				require.NoError(t, err)
				require.Equal(t, one.Pairs[0], p)
				require.Greater(t, ans.Judged, one.Judged)
			}
			order := func(p Paired) int { return slices.Index(verdicts, p.Verdict) }
			require.True(t, slices.IsSortedFunc(ans.Pairs, func(x, y Paired) int { return order(x) - order(y) }))
		})
	}
}

// For a coat a maker is told of coatings with linings that slide, not of whatever pair
// scores highest (common practice: every list of a coat's linings begins with such).
func TestUsualPairsOfACoat(t *testing.T) {
	a := adviser(t)
	m, err := a.ParseCase("coat, fused-front-tailored")
	require.NoError(t, err)
	ans, err := a.Pair(m, false, 3)
	require.NoError(t, err)
	for _, p := range ans.Pairs {
		require.Contains(t, strings.Join(a.Cat.Cloths[p.Lining].UsedFor, "; "), "lining")
		require.Equal(t, Suits, p.Verdict)
	}
	require.Equal(t, "wool-coating", ans.Pairs[0].Shell)
}
