package advise

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/rules"
	"tenter/fibres"
)

// someMembers is a set of n members chosen at random; all of them is nil.
func someMembers(r *rand.Rand, n int) rules.Members {
	if n == fibres.N {
		return nil
	}
	m := make(rules.Members, fibres.N/64)
	for _, i := range r.Perm(fibres.N)[:n] {
		m[i/64] |= 1 << (i % 64)
	}
	return m
}

// randomCase is a population that meets its demands more or less, and objections
// to some of its members.
func randomCase(r *rand.Rand) (met [fibres.N]float64, list []objection) {
	for i := range met {
		met[i] = min(1, 1.5*r.Float64())
	}
	for range r.IntN(6) {
		list = append(list, objection{matter: r.IntN(4), leaves: leaves[1+r.IntN(5)], holds: someMembers(r, r.IntN(fibres.N+1))})
	}
	for i := range list { // whether a demand asks of a matter is the same for all on it
		list[i].asked = list[i].matter == 0
	}
	return met, list
}

func meanOf(v [fibres.N]float64) float64 {
	var sum float64
	for _, x := range v {
		sum += x
	}
	return sum / fibres.N
}

// Over 2,000 random populations: an objection more never raises the share; the
// share never exceeds what meets the demands; a ban on all leaves nothing; the
// order of the objections does not count; the same objection twice is one.
func TestWeighing(t *testing.T) {
	for seed := range uint64(2000) {
		r := rand.New(rand.NewPCG(seed, 7))
		met, list := randomCase(r)
		was := weigh(&met, list)
		require.LessOrEqual(t, was, meanOf(met)+1e-9, "seed %d", seed)
		more := objection{matter: r.IntN(6), leaves: leaves[1+r.IntN(5)], holds: someMembers(r, r.IntN(fibres.N+1))}
		more.asked = more.matter == 0
		require.LessOrEqual(t, weigh(&met, append(slices.Clone(list), more)), was+1e-9, "seed %d: an objection raised the share", seed)
		ban := objection{matter: r.IntN(6)}
		require.Zero(t, weigh(&met, append(slices.Clone(list), ban)), "seed %d: a ban leaves nothing", seed)
		turned := slices.Clone(list)
		slices.Reverse(turned)
		require.InDelta(t, was, weigh(&met, turned), 1e-12, "seed %d: the order of rules counts", seed)
		require.InDelta(t, was, weigh(&met, append(slices.Clone(list), list...)), 1e-12, "seed %d: said twice it counts twice", seed)
	}
}

// A firm grave objection keeps a make-up that is otherwise perfect from suiting;
// one of looks does not.
func TestGraveObjection(t *testing.T) {
	var met [fibres.N]float64
	for i := range met {
		met[i] = 1
	}
	held := someMembers(rand.New(rand.NewPCG(1, 1)), int(math.Ceil(firm*fibres.N)))
	for harm := 1; harm <= 5; harm++ {
		for _, asked := range []bool{false, true} {
			v := verdictAt(weigh(&met, []objection{{leaves: leaves[harm], holds: held, asked: asked}}))
			require.Equal(t, harm < pieceFails, v == Suits, "harm %d: %s", harm, v)
		}
	}
	two := []objection{{matter: 1, leaves: leaves[pieceFails]}, {matter: 2, leaves: leaves[pieceFails]}}
	require.Equal(t, Unsuited, verdictAt(weigh(&met, two)), "two grave objections")
	require.Equal(t, Borderline, verdictAt(weigh(&met, two[:1])), "one grave objection")
}

// Reservations that only look wrong are still reservations, however many there are;
// grave ones add up.
func TestSmallReservationsDoNotAddUp(t *testing.T) {
	var met [fibres.N]float64
	for i := range met {
		met[i] = 1
	}
	var small, grave []objection
	for matter := range 4 {
		small = append(small, objection{matter: matter, leaves: leaves[looksWrong]})
		grave = append(grave, objection{matter: matter, leaves: leaves[pieceFails]})
	}
	require.InDelta(t, leaves[looksWrong], weigh(&met, small), 1e-12)
	require.Less(t, weigh(&met, grave[:2]), weigh(&met, grave[:1]))
}

// A fault that a demand has weighed is not weighed again by the rule that speaks of
// it: the worse of the two counts.
func TestAFaultCountsOnce(t *testing.T) {
	var met [fibres.N]float64
	for i := range met {
		met[i] = 0.6
	}
	for _, x := range []struct{ leaves, share float64 }{{0.75, 0.6}, {0.5, 0.5}} {
		require.InDelta(t, x.share, weigh(&met, []objection{{leaves: x.leaves, asked: true}}), 1e-12)
		other := 0.6 * x.leaves
		if x.leaves >= leaves[looksWrong] { // what only looks wrong takes no part of another fault
			other = min(0.6, x.leaves)
		}
		require.InDelta(t, other, weigh(&met, []objection{{leaves: x.leaves}}), 1e-12)
	}
}

func TestVerdictAt(t *testing.T) {
	for share, want := range map[float64]string{0: Unsuited, 0.349: Unsuited, 0.35: Borderline, 0.499: Borderline, 0.5: Suits, 1: Suits} {
		require.Equal(t, want, verdictAt(share), fmt.Sprint(share))
	}
}
