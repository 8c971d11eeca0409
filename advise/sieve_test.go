package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// The most that a rank may come to: what is left of the members, on the side of the verdict
// that this allows, and what may speak for it.
func TestTheMostThatARankMayBe(t *testing.T) {
	all := func(v float64) (met [fibres.N]float64) {
		for i := range met {
			met[i] = v
		}
		return met
	}
	rank := func(v float64, banned bool, liked float64) float64 {
		met := all(v)
		return rankAtMost(&met, banned, liked)
	}
	for _, v := range []float64{0, 0.2, 0.5, 0.9} {
		j := judged{verdict: Borderline, share: v, liked: 0.3}
		if v >= SuitsFrom {
			j.verdict = Suits
		}
		require.InDelta(t, j.rank(), rank(v, false, 0.3), 1e-9, "%g: it may do at the least, for nothing may be known of it", v)
	}
	require.Less(t, rank(1, true, 9), rank(0, false, 0), "what is banned is behind all that is not")
	require.Less(t, rank(0.9, false, 0), rank(0.9, false, 1))
}

// The podium tidies itself when it is twice full, and its least is the last that stays.
func TestThePodiumFills(t *testing.T) {
	p := newPodium(2)
	for i, rank := range []float64{1, 2, 3} {
		p.add(i, rank)
		require.Less(t, p.least(), 0.0, "three of four")
	}
	p.add(3, 0)
	require.Equal(t, 2.0, p.least())
	require.Equal(t, []int{2, 1}, p.order())
	few := newPodium(5)
	few.add(7, 1)
	require.Equal(t, []int{7}, few.order(), "fewer than it keeps")
}

// Facts hang on the shell, on the lining, on no layer, or on both: those of both hang on
// neither alone.
func TestWhatAFactHangsOn(t *testing.T) {
	a := adviser(t)
	ofShell, ofLining := a.hangsOn(shell), a.hangsOn(lining)
	for name, want := range map[string][2]bool{"shell.mass": {true, false}, "lining.mass": {false, true}, "piece": {true, true}, "finish.lined": {true, true}, "make-up.mass": {false, false}, "lining.job": {false, false}, "wearer": {true, true}, "seam": {true, true}} {
		i := a.place(name)
		require.Equal(t, want, [2]bool{ofShell[i], ofLining[i]}, name)
	}
}
