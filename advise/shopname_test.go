package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// A shop's name is judged as all the cloths it may mean: its share lies between
// those of the best and the worst of them, near their average by parts, and the
// answer says what was counted.
func TestAShopNameIsJudgedAsAllItMayBe(t *testing.T) {
	a := adviser(t)
	find := func(name string) *fibres.Subject {
		s, err := a.Cat.Find(name)
		require.NoError(t, err)
		return s
	}
	piece, err := a.Piece("gathered-skirt")
	require.NoError(t, err)
	finish, err := a.Finish("single-layer-hem")
	require.NoError(t, err)
	s := find("crepe")
	m := MakeUp{Piece: piece, Finish: finish, Shell: s}
	ans, err := a.Check(m)
	require.NoError(t, err)
	require.Equal(t, "crepe", ans.MakeUp.Cloth)
	require.Contains(t, ans.Notes, "Crepe may be polyester crêpe, viscose crêpe, silk crêpe de Chine, triacetate crêpe or wool crepe: all are counted; name one to narrow it.")
	mean, low, high := 0.0, 1.0, 0.0
	for _, w := range s.May {
		one := m
		one.Shell = &fibres.Subject{Cloth: w.Cloth}
		_, share := a.Verdict(one)
		mean += w.Part * share
		low, high = min(low, share), max(high, share)
	}
	require.GreaterOrEqual(t, ans.Share, low-0.05)
	require.LessOrEqual(t, ans.Share, high+0.05)
	require.InDelta(t, mean, ans.Share, 0.15)

	lined, err := a.Finish("bagged-lining")
	require.NoError(t, err)
	pairs, err := a.Pair(MakeUp{Piece: piece, Finish: lined, Shell: find("velvet"), Lining: find("taffeta")}, false, 3)
	require.NoError(t, err)
	require.Len(t, pairs.Notes, 2)
	require.Equal(t, "taffeta", pairs.Pairs[0].Lining)
	require.True(t, pairs.Pairs[0].Gap.Known())
	advice, err := a.Advise(MakeUp{Piece: piece, Finish: lined, Shell: find("velvet"), Lining: find("taffeta")}, 3)
	require.NoError(t, err)
	require.Contains(t, advice.Judged.Notes, "Taffeta may be polyester, acetate, silk or nylon taffeta: all are counted; name one to narrow it.")
}
