package advise

import (
	"flag"
	"fmt"
	"go/format"
	"os"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/rules"
	"tenter/data"
	"tenter/fibres/literal"
)

var update = flag.Bool("update", false, "write golden files and the compiled pieces and rules anew")

// The compiled literals are those of the data files as they stand.
func TestCompiledAdvice(t *testing.T) {
	a, err := read(data.FS)
	require.NoError(t, err)
	l := literals{sum: sumOf(data.FS, a.facts), needles: a.Needles, matters: a.Matters, traits: a.Traits, stock: a.Stock, usual: a.Usual, unfit: a.Unfit}
	for _, x := range a.Pieces {
		l.pieces = append(l.pieces, *x)
	}
	for _, x := range a.Finishes {
		l.finishes = append(l.finishes, *x)
	}
	for _, x := range a.Seams {
		l.seams = append(l.seams, *x)
	}
	for _, x := range a.Interfacings {
		l.interfacings = append(l.interfacings, *x)
	}
	for _, x := range a.Wishes {
		l.wishes = append(l.wishes, *x)
	}
	for _, x := range a.Jobs {
		l.jobs = append(l.jobs, *x)
	}
	l.picks, l.notions, l.places = a.Picks, a.Notions, a.Places
	for _, r := range a.Rules {
		l.rules = append(l.rules, unplaced(r))
	}
	p := literal.New("tenter/advise")
	p.Array("literalPieces", l.pieces)
	p.Array("literalFinishes", l.finishes)
	p.Array("literalUsual", l.usual)
	p.Array("literalUnfit", l.unfit)
	p.Array("literalSeams", l.seams)
	p.Array("literalInterfacings", l.interfacings)
	p.Array("literalNeedles", l.needles)
	p.Array("literalMatters", l.matters)
	p.Array("literalTraits", l.traits)
	p.Array("literalWishes", l.wishes)
	p.Array("literalStock", l.stock)
	p.Array("literalJobs", l.jobs)
	p.Array("literalPicks", l.picks)
	p.Array("literalNotions", l.notions)
	p.Array("literalPlaces", l.places)
	p.Array("literalRules", l.rules)
	src := p.Source("// Code generated from the data files by TestCompiledAdvice; DO NOT EDIT.\n\n//go:build !uncompiled") + fmt.Sprintf(`
func compiled() *literals {
	return &literals{sum: %d, pieces: literalPieces[:], finishes: literalFinishes[:], usual: literalUsual[:], unfit: literalUnfit[:], seams: literalSeams[:], interfacings: literalInterfacings[:],
		needles: literalNeedles[:], matters: literalMatters[:], traits: literalTraits[:], wishes: literalWishes[:], stock: literalStock[:], jobs: literalJobs[:], picks: literalPicks[:], notions: literalNotions[:], places: literalPlaces[:], rules: literalRules[:]}
}
`, l.sum)
	want, err := format.Source([]byte(src))
	require.NoError(t, err)
	if *update {
		require.NoError(t, os.WriteFile("compiled.go", want, 0o644))
		return
	}
	got, err := os.ReadFile("compiled.go")
	require.NoError(t, err)
	require.True(t, string(got) == string(want), "compiled.go is stale: run `go generate ./...`")
}

// unplaced is a rule without the places of its conditions: they tell where a rule is wrong,
// which one that is compiled in is not.
func unplaced(r *rules.Rule) rules.Rule {
	out := *r
	out.Parts.When = slices.Clone(r.Parts.When)
	for i := range out.Parts.When {
		out.Parts.When[i].Place = ""
	}
	return out
}

// What the literals give is what the files give.
func TestCompiledIsWhatTheFilesSay(t *testing.T) {
	x, err := read(data.FS)
	require.NoError(t, err)
	y := fromCompiled(data.FS)
	require.NotNil(t, y, "the literals are stale: run `go generate ./...`")
	require.Equal(t, x.Pieces, y.Pieces)
	require.Equal(t, x.Finishes, y.Finishes)
	require.Equal(t, x.Usual, y.Usual)
	require.Equal(t, x.Unfit, y.Unfit)
	require.Equal(t, x.Seams, y.Seams)
	require.Equal(t, x.Interfacings, y.Interfacings)
	require.Equal(t, x.Needles, y.Needles)
	require.Equal(t, x.Matters, y.Matters)
	require.Equal(t, x.Traits, y.Traits)
	require.Equal(t, x.Wishes, y.Wishes)
	require.Equal(t, x.Stock, y.Stock)
	require.Equal(t, x.Jobs, y.Jobs)
	require.Equal(t, x.Picks, y.Picks)
	for _, r := range x.Rules {
		*r = unplaced(r)
	}
	require.Equal(t, x.Rules, y.Rules)
}
