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

// What a pair needs: a piece, a lined finish, and one that may be turned where it is to be.
func TestWhatAPairNeeds(t *testing.T) {
	a := adviser(t)
	for words, says := range map[string]string{"shell denim, bagged-lining": "a pair is judged for a piece", "half-circle-cape, shell denim": "a pair is judged for a piece", "half-circle-cape, single-layer-hem, shell denim": "has no lining"} {
		_, err := a.Pair(makeUp(t, words), false, 1)
		require.ErrorContains(t, err, says, words)
	}
	turned := &Piece{Name: "x"}
	_, err := a.Pair(MakeUp{Piece: turned, Finish: &Finish{Name: "odd", Lined: true}, Shell: &fibres.Subject{}}, true, 1)
	require.ErrorContains(t, err, "odd is not reversible")
}

// With one cloth named the other is chosen, no more than are asked for, and never the same; with
// both named, the same cloth may be both. Few reasons are told, and no steps of the work.
func TestPairsOfANamedCloth(t *testing.T) {
	a := adviser(t)
	m := makeUp(t, "half-circle-cape, bagged-lining, lining cupro-lining")
	ans, err := a.Pair(m, false, 2)
	require.NoError(t, err)
	require.Len(t, ans.Pairs, 2)
	require.Equal(t, len(a.Shells()), ans.Judged, "every cloth that may be a shell")
	for _, p := range ans.Pairs {
		require.Equal(t, "cupro-lining", p.Lining)
		require.LessOrEqual(t, len(p.Reasons), 5)
		for _, r := range p.Reasons {
			require.NotEqual(t, "do", r.Effect)
		}
		require.Contains(t, p.Say, "cut unwashed, the first wash parts them by about ")
	}
	both := makeUp(t, "half-circle-cape, bagged-lining, shell wool-flannel, lining wool-flannel")
	one, err := a.Pair(both, false, 0)
	require.NoError(t, err)
	require.Len(t, one.Pairs, 1)
	both.Lining = nil
	linings := func(reversible bool) (n int, ids map[string]int) {
		ids = map[string]int{}
		for _, p := range a.pairsOf(both, reversible) {
			require.NotEqual(t, p.shell.Cloth, p.lining.Cloth)
			ids[p.lining.Cloth.ID]++
		}
		return len(ids), ids
	}
	few, _ := linings(false)
	many, ids := linings(true)
	require.Greater(t, many, few, "where either face is worn out any shell may be the second")
	for id, n := range ids {
		require.Equal(t, 1, n, id)
	}
}
