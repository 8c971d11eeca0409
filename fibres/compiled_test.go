package fibres

import (
	"flag"
	"fmt"
	"go/format"
	"os"
	"sort"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/data"
	"tenter/fibres/literal"
)

var update = flag.Bool("update", false, "write the compiled catalogue anew")

// The compiled literals are those of the data files as they stand.
func TestCompiledCatalogue(t *testing.T) {
	c, err := read(data.FS)
	require.NoError(t, err)
	p := literal.New("tenter/fibres")
	l := literals{sum: Sum(data.FS, "*.csv")}
	for _, id := range keys(c.Sources) {
		l.sources = append(l.sources, *c.Sources[id])
	}
	for i, id := range keys(c.Fibres) {
		l.fibres = append(l.fibres, *c.Fibres[id])
		p.Name(c.Fibres[id], fmt.Sprintf("literalFibres[%d]", i))
	}
	for i, id := range keys(c.Structures) {
		l.structures = append(l.structures, *c.Structures[id])
		p.Name(c.Structures[id], fmt.Sprintf("literalStructures[%d]", i))
	}
	for i, id := range keys(c.Treatments) {
		l.treatments = append(l.treatments, *c.Treatments[id])
		p.Name(c.Treatments[id], fmt.Sprintf("literalTreatments[%d]", i))
	}
	for i, k := range c.clothOrder {
		l.cloths = append(l.cloths, *k)
		p.Name(k, fmt.Sprintf("literalCloths[%d]", i))
	}
	for _, k := range c.clothOrder {
		l.figures = append(l.figures, clothFigures{k.ID, c.writtenFigures(k)})
	}
	l.shopNames = c.shopNames
	l.idleWords = c.idleWords
	for _, id := range keys(c.Terms) {
		l.terms = append(l.terms, *c.Terms[id])
	}
	for _, id := range keys(c.Weaves) {
		l.weaves = append(l.weaves, [2]string{id, c.Weaves[id]})
	}
	l.facts = c.facts
	for at, rows := range c.scalars {
		l.scalars = append(l.scalars, scalarRows{at, rows})
	}
	sort.Slice(l.scalars, func(i, j int) bool { return l.scalars[i].At.compare(l.scalars[j].At) < 0 })
	for at, rows := range c.effects {
		l.effects = append(l.effects, effectRows{at, rows})
	}
	sort.Slice(l.effects, func(i, j int) bool { return l.effects[i].At.compare(l.effects[j].At) < 0 })
	p.Array("literalSources", l.sources)
	p.Array("literalFibres", l.fibres)
	p.Array("literalStructures", l.structures)
	p.Array("literalTreatments", l.treatments)
	p.Array("literalCloths", l.cloths)
	p.Array("literalShopNames", l.shopNames)
	p.Array("literalIdleWords", l.idleWords)
	p.Array("literalTerms", l.terms)
	p.Array("literalWeaves", l.weaves)
	p.Array("literalFacts", l.facts)
	p.Array("literalScalars", l.scalars)
	p.Array("literalEffects", l.effects)
	p.Array("literalFigures", l.figures)
	src := p.Source("// Code generated from the data files by TestCompiledCatalogue; DO NOT EDIT.\n\n//go:build !uncompiled") + fmt.Sprintf(`
func compiled() *literals {
	return &literals{sum: %d, sources: literalSources[:], fibres: literalFibres[:], structures: literalStructures[:], treatments: literalTreatments[:],
		cloths: literalCloths[:], shopNames: literalShopNames[:], idleWords: literalIdleWords[:], terms: literalTerms[:], weaves: literalWeaves[:], facts: literalFacts[:], scalars: literalScalars[:], effects: literalEffects[:], figures: literalFigures[:]}
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

// What the literals give is what the files give.
func TestCompiledIsWhatTheFilesSay(t *testing.T) {
	a, err := read(data.FS)
	require.NoError(t, err)
	b := fromCompiled(data.FS)
	require.NotNil(t, b, "the literals are stale: run `go generate ./...`")
	require.Equal(t, a.facts, b.facts)
	require.Equal(t, a.scalars, b.scalars)
	require.Equal(t, a.effects, b.effects)
	require.Equal(t, a.Sources, b.Sources)
	require.Equal(t, a.shopNames, b.shopNames)
	require.Equal(t, a.idleWords, b.idleWords)
	require.Equal(t, a.Terms, b.Terms)
	require.Equal(t, a.Weaves, b.Weaves)
	require.Equal(t, len(a.Cloths), len(b.Cloths))
	for id, k := range a.Cloths {
		require.Equal(t, k, b.Cloths[id])
	}
	for _, name := range []string{"cotton sateen", "gaberdine", "rayon challis"} {
		x, errA := a.ClothNames.Find(name)
		y, errB := b.ClothNames.Find(name)
		require.Equal(t, x, y)
		require.Equal(t, fmt.Sprint(errA), fmt.Sprint(errB))
	}
}
