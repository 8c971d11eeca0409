package order

import (
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// random makes a plan of up to 12 steps whose constraints point back in a
// shuffled order, so that there is no circle and the written order is mostly
// not a valid one.
func random(t *testing.T, r *rand.Rand) *Plan {
	t.Helper()
	n := 2 + r.IntN(11)
	var out []Step
	rank := r.Perm(n)
	for i := range n {
		s := Step{ID: strconv.Itoa(i)}
		for j := range n {
			if rank[j] < rank[i] && r.IntN(4) == 0 {
				s.After = append(s.After, strconv.Itoa(j))
			}
		}
		out = append(out, s)
	}
	p, err := New(out)
	require.NoError(t, err)
	return p
}

// pairs lists what must come before what, straight or through others.
func pairs(p *Plan) map[[2]string]bool {
	m := map[[2]string]bool{}
	for _, a := range p.nodes {
		for _, b := range p.nodes {
			if a != b && p.leads(a, b) {
				m[[2]string{a.ID, b.ID}] = true
			}
		}
	}
	return m
}

func TestOrderRespectsEveryConstraint(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 500 {
		p := random(t, r)
		for range r.IntN(4) { // whatever was done to it
			_ = p.Move(strconv.Itoa(r.IntN(12)), strconv.Itoa(r.IntN(12)), "")
			_ = p.Add(Step{ID: "x" + strconv.Itoa(r.IntN(3))}, strconv.Itoa(r.IntN(12)), "")
			_ = p.Drop(strconv.Itoa(r.IntN(40)))
		}
		l, err := p.Order()
		require.NoError(t, err)
		at := map[string]int{}
		for i, s := range l {
			at[s.ID] = i
		}
		live := 0
		for _, n := range p.nodes {
			if !n.dropped {
				live++
			}
		}
		require.Len(t, l, live)
		require.Len(t, at, live)
		for c := range pairs(p) {
			if !p.byID[c[0]].dropped && !p.byID[c[1]].dropped {
				require.Less(t, at[c[0]], at[c[1]], "%v", c)
			}
		}
		for i, s := range l { // what is said of a step's freedom is true, and no more is
			if s.Later == "" {
				continue
			}
			far := at[s.Later]
			require.Greater(t, far, i)
			for _, x := range l[i+1 : far+1] {
				require.False(t, p.leads(p.byID[s.ID], p.byID[x.ID]), "%s may not come after %s", s.ID, x.ID)
			}
			if far+1 < len(l) {
				require.True(t, p.leads(p.byID[s.ID], p.byID[l[far+1].ID]))
			}
		}
	}
}

func TestWrittenOrderIsKeptWhereItIsValid(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for range 300 {
		p := random(t, r)
		l, err := p.Order()
		require.NoError(t, err)
		var again []Step
		for _, s := range l {
			s.Step.After = s.After
			again = append(again, s.Step)
		}
		q, err := New(again)
		require.NoError(t, err)
		require.Equal(t, ids(t, p), ids(t, q), "a valid order written down comes out as it went in")
	}
}

func TestMoveGivesUpOnlyWhatItMust(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	moved := 0
	for range 2000 {
		p := random(t, r)
		n := len(p.nodes)
		id, after, before := strconv.Itoa(r.IntN(n)), strconv.Itoa(r.IntN(n)), strconv.Itoa(r.IntN(n))
		switch r.IntN(3) {
		case 0:
			after = ""
		case 1:
			before = ""
		}
		was := pairs(p)
		leads := func(a, b string) bool { return b != "" && a != "" && (a == b || was[[2]string{a, b}]) }
		err := p.Move(id, after, before)
		if err != nil {
			require.Equal(t, was, pairs(p), "a move that fails changes nothing")
			require.True(t, id == after || id == before || leads(before, after), "and fails only where it must")
			continue
		}
		moved++
		now := pairs(p)
		if after != "" {
			require.True(t, now[[2]string{after, id}])
		}
		if before != "" {
			require.True(t, now[[2]string{id, before}])
		}
		for c := range was {
			if c[0] == id && leads(c[1], after) || c[1] == id && leads(before, c[0]) {
				continue // this is what had to give way
			}
			require.True(t, now[c], "%v was given up when %s moved after %q before %q", c, id, after, before)
		}
		at := slices.Index(p.nodes, p.byID[id])
		if after != "" {
			require.Equal(t, after, p.nodes[at-1].ID)
		}
	}
	require.Greater(t, moved, 500, "the moves were mostly possible")
}
