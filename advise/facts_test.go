package advise

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/rules"
	"tenter/fibres"
)

// Every fact has words of help, stands once in the list, and says where it comes
// from: one that is derived or is a property of a layer names the properties and
// the home test that settles it; one of a make-up says how it came about.
func TestEveryFactHasAnOrigin(t *testing.T) {
	list, at := describe()
	require.Len(t, at.origin, len(list))
	seen := map[string]bool{}
	for i, f := range list {
		require.NotEmpty(t, f.Doc, f.Name)
		require.False(t, seen[f.Name], "%s stands twice", f.Name)
		seen[f.Name] = true
		o := at.origin[i]
		group, rest, _ := strings.Cut(f.Name, ".")
		if _, isProperty := fibres.PropertyByID(rest); group == "make-up" || isProperty && (group == "shell" || group == "lining") {
			require.NotEmpty(t, o.from, f.Name)
			require.NotEmpty(t, fibres.Tests[fibres.Properties[o.from[0]].Test].ID, "%s: no home test settles it", f.Name)
			require.Equal(t, group == "make-up", o.because != nil, f.Name)
		}
		require.Equal(t, f.Kind == rules.Number && f.Unit != "", f.Unit != "", "%s: a unit belongs to a number", f.Name)
	}
}

// What is known of each thing reaches the fact of its name, and no other: the rows
// of a table stand in a case in the order in which they are described.
func TestFactsReachTheirPlaces(t *testing.T) {
	a := adviser(t)
	m := makeUp(t, "hooded-wrap, bagged-lining, shell cotton-sateen, lining silk-taffeta, seam french-seam, edge bias-binding, wearer child, white lining")
	x, err := a.Interfacing("silk-organza-underlining")
	if err != nil {
		x = a.Interfacings[0]
	}
	m.Interfacing = x
	c, w := a.build(m)
	word := func(name string) []string { return c.Column(a.place(name)).Words }
	figure := func(name string) float64 { return c.Column(a.place(name)).Num[0] }
	require.Equal(t, []string{"hooded-wrap"}, word("piece"))
	require.Equal(t, []string{"head"}, word("piece.support"))
	require.Equal(t, m.Piece.Features, word("piece.features"))
	require.Equal(t, float64(m.Piece.Flap), figure("piece.flap"))
	require.Equal(t, []string{"bagged-lining"}, word("finish"))
	require.Equal(t, []string{m.Finish.Edge}, word("finish.edge"))
	require.Equal(t, []string{"child"}, word("wearer"))
	require.Equal(t, []string{"cotton-sateen"}, word("shell.cloth"))
	require.Equal(t, []string{"cotton"}, word("shell.fibre"))
	require.Equal(t, []string{"silk-taffeta"}, word("lining.cloth"))
	require.Equal(t, []string{"protein"}, word("lining.family"))
	require.Equal(t, 3.0, figure("lining.lightness"))
	require.Equal(t, rules.Unknown, c.Column(a.place("shell.lightness")).State)
	require.Equal(t, []string{x.ID}, word("interfacing"))
	require.Equal(t, []string{x.Role}, word("interfacing.role"))
	require.Equal(t, []string{"french-seam"}, word("seam"))
	require.Equal(t, float64(m.Seam.FrayHeld), figure("seam.fray-held"))
	require.Equal(t, []string{"bias-binding"}, word("edge"))
	require.Equal(t, float64(m.Edge.Layers), figure("edge.layers"))
	require.Equal(t, a.sample(m.Lining, fibres.LiningSalt).Of(fibres.Mass), c.Column(a.place("lining.mass")).Num)
	require.Equal(t, w.gap, c.Column(a.place("make-up.shrink-gap")).Num)
	require.Equal(t, w.stand(), c.Column(a.place("make-up.stand-off")).Num)
}
