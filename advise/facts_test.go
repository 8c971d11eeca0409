package advise

import (
	"math"
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

// Nothing is a figure that is known; what is missing is not.
func TestWhatAFigureIsKnownAs(t *testing.T) {
	a := adviser(t)
	c := a.caseOf(MakeUp{Piece: &Piece{Hang: 0}, Finish: &Finish{}, Interfacing: &Interfacing{Hand: -1, Wash: -1}})
	require.Equal(t, []float64{0}, c.Column(a.place("piece.hang")).Num)
	for _, name := range []string{"interfacing.mass", "interfacing.heat", "interfacing.stiffness", "interfacing.hand", "interfacing.wash", "wished-fibre"} {
		require.Equal(t, rules.Unknown, c.Column(a.place(name)).State, name)
	}
	require.Equal(t, 3.0, unless(false, 3))
	require.True(t, math.IsNaN(unless(true, 3)))
	x := a.caseOf(MakeUp{Interfacing: &Interfacing{MassLow: 20, MassHigh: 80, HeatLow: 130, HeatHigh: 150, Stiffness: 2}})
	for name, want := range map[string]float64{"interfacing.mass": 40, "interfacing.heat": 130, "interfacing.stiffness": 2} {
		require.Equal(t, []float64{want}, x.Column(a.place(name)).Num, name)
	}
	s := a.caseOf(MakeUp{Seam: &Seam{AllowanceHigh: 1.5, MassLow: 50, MassHigh: 300}, Edge: &Seam{}})
	for name, want := range map[string]float64{"seam.allowance": 15, "seam.mass-low": 50, "seam.mass-high": 300} {
		require.Equal(t, []float64{want}, s.Column(a.place(name)).Num, name)
	}
	require.Equal(t, rules.Unknown, s.Column(a.place("edge.allowance")).State)
}

// A fibre counts from a fifth on, elastane however little; what half of a cloth does in the
// wash the cloth does.
func TestWhatFibresComeTo(t *testing.T) {
	part := func(id, family string, felts int, share float64) fibres.Part {
		return fibres.Part{Fibre: &fibres.Fibre{ID: id, Family: family, Felts: felts}, Share: fibres.Estimate{Typical: share}}
	}
	of := func(parts ...fibres.Part) *clothOf { return content(&fibres.Subject{Content: parts}) }
	k := of(part("wool", "protein", 2, 50), part("silk", "protein", 0, 20), part("linen", "cellulose", 0, 19), part("elastane", "synthetic", 0, 2))
	require.Equal(t, []string{"wool", "silk", "elastane"}, k.fibres)
	require.Equal(t, []string{"protein", "synthetic"}, k.families)
	require.Equal(t, 2, k.felts)
	require.True(t, k.made)
	require.Equal(t, -1, of(part("wool", "protein", 2, 49)).felts, "less than half of it decides nothing")
	require.Empty(t, of(part("elastane", "synthetic", 0, 0)).fibres)
	require.False(t, of().made)
	plain := &fibres.Subject{Lightness: "odd"}
	require.Same(t, plain, content(plain).Subject, "what has one name is not copied")
	require.Equal(t, -1, content(plain).lightness())
}

// How a make-up hangs is told with its flap, where it has one, and by one layer or two.
func TestHowAHangCameAbout(t *testing.T) {
	cloth := &fibres.Subject{}
	require.Equal(t, "from the bending length of the shell", fromLayers(MakeUp{Shell: cloth}))
	require.Equal(t, "from mass and bending length of shell and lining, layer on layer", fromLayers(MakeUp{Shell: cloth, Lining: cloth}))
	require.Equal(t, "from the bending length of the shell", flapFromLayers(MakeUp{Shell: cloth}))
	require.Equal(t, "a flap of 12 cm, from the bending length of the shell", flapFromLayers(MakeUp{Shell: cloth, Piece: &Piece{Flap: 12}}))
}
