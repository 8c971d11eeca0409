package advise

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Where no lining is named the best is taken, and said; where makers take none, that stands
// first and is taken by nobody.
func TestTheLiningThatIsTaken(t *testing.T) {
	a := adviser(t)
	ans, err := a.Advise(makeUp(t, "coat, dropped-in-lining, shell wool-melton"), 3)
	require.NoError(t, err)
	taken, ok := ans.TakenLining()
	require.True(t, ok)
	require.Contains(t, ans.Notes, "The lining is taken to be "+taken.Name+"; name one with --lining.")
	require.Equal(t, taken.ID, ans.Judged.MakeUp.Lining)
	named, err := a.Advise(makeUp(t, "coat, dropped-in-lining, shell wool-melton, lining cupro-lining"), 3)
	require.NoError(t, err)
	require.Len(t, named.Linings, 1)
	require.Equal(t, "cupro-lining", named.Linings[0].ID)
	for _, n := range named.Notes {
		require.NotContains(t, n, "is taken to be")
	}
	for _, c := range ans.Linings {
		require.NotEqual(t, "wool-melton", c.ID, "the shell is no other lining")
	}
	_, ok = AdviseAnswer{Linings: []Candidate{{ID: noSupport}}}.TakenLining()
	require.False(t, ok)
}

// A shell that suits with no lining is not held against the linings: they are judged by
// themselves, and that is said.
func TestLiningsOfAShellThatDoesNotSuit(t *testing.T) {
	a := adviser(t)
	ans, err := a.Advise(makeUp(t, "coat, dropped-in-lining, shell silk-chiffon"), 3)
	require.NoError(t, err)
	require.Equal(t, Unsuited, ans.Judged.Verdict)
	require.Contains(t, ans.Notes, "The silk chiffon does not simply suit, whatever the lining is: the linings are judged by themselves.")
	for _, c := range ans.Linings {
		require.NotZero(t, c.Share, "a lining can be good though the shell is wrong: %v", c)
	}
}

// A demand that takes a fifth of the cloths under every lining is the shell's own.
func TestWhatNoLiningMends(t *testing.T) {
	a := adviser(t)
	always, mended, slight := &Demand{ID: "a"}, &Demand{ID: "b"}, &Demand{ID: "c"}
	judgedAt := func(costs ...float64) *judged {
		j := &judged{}
		for i, d := range []*Demand{always, mended, slight} {
			j.asked = append(j.asked, asked{demand: d, cost: costs[i]})
		}
		return j
	}
	b := a.beyondLinings([]*judged{judgedAt(0.9, 0.9, 0.19), judgedAt(0.2, 0.1, 0.9)})
	require.Equal(t, []*Demand{always}, b.demands)
}
