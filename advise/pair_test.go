package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// bestOf keeps no more than a rank of each make-up; the order is that of the plain
// loop, which keeps all of it.
func TestBestOfOrdersAsThePlainLoop(t *testing.T) {
	a := adviser(t)
	m := MakeUp{Piece: a.Pieces[0], Finish: a.Finishes[0]}
	for _, f := range a.Finishes {
		if f.Lined {
			m.Finish = f
		}
	}
	shells, linings := subjectsOf(a.Shells()), subjectsOf(a.Linings())
	var pairs []MakeUp
	for i := 0; i < len(shells); i += 9 {
		for k := 0; k < len(linings); k += 3 {
			mm := m
			mm.Shell, mm.Lining = shells[i], linings[k]
			pairs = append(pairs, mm)
		}
	}
	require.Greater(t, len(pairs), 300)
	of := func(i int) MakeUp { return pairs[i] }
	js := make([]*judged, len(pairs))
	for i := range js {
		js[i] = a.judge(of(i))
	}
	sortJudged(js)
	told := 0
	for at, i := range a.bestOf(len(pairs), of, func(done, n int) { told = done; require.Equal(t, len(pairs), n) }) {
		require.Equal(t, [2]*fibres.Subject{js[at].make.Shell, js[at].make.Lining}, [2]*fibres.Subject{pairs[i].Shell, pairs[i].Lining}, "place %d", at)
	}
	require.Equal(t, len(pairs)/tellEvery*tellEvery, told)
}
