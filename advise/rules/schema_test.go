package rules

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
)

var (
	frays   = []string{"none", "low", "medium", "high"}
	testIds = map[string][]string{
		"piece":       {"cowl", "hooded-wrap", "sash"},
		"finish":      {"bagged-lining", "bound-edge", "single-layer"},
		"seam":        {"flat-felled", "french-seam", "plain-seam"},
		"edge":        {"bound-edge", "rolled-hem"},
		"interfacing": {"light-fusible", "sew-in-canvas"},
		"cloth":       {"chiffon", "cotton-lawn", "cotton-percale", "organza", "silk-taffeta"},
		"fibre":       {"cotton", "elastane", "silk", "wool"},
		"source":      {"B1", "practice"},
		"source-read": {"B1"},
		"step":        {"clip-curves", "join-layers", "pre-wash", "turn"},
	}
)

// testFacts is a cut of the facts there really are.
func testFacts() []Fact {
	id := func(name string) Fact { return Fact{Name: name, Kind: Word, Ids: name} }
	f := []Fact{
		id("piece"), id("finish"), id("seam"), id("edge"), id("interfacing"),
		{Name: "wearer", Kind: Word, Scale: []string{"adult", "child"}},
		{Name: "piece.group", Kind: Word, Scale: []string{"wrap", "cape", "cowl"}},
		{Name: "piece.features", Kind: Set, Scale: []string{"hood", "curved edge", "next to skin", "cord"}},
		{Name: "piece.faces", Kind: Number},
		{Name: "piece.hang", Kind: Number, Unit: "cm"},
		{Name: "piece.stage", Kind: Flag},
		{Name: "finish.lined", Kind: Flag},
		{Name: "finish.edge", Kind: Word, Scale: []string{"enclosed", "bound", "raw"}},
		{Name: "make-up.shrink-gap", Kind: Number, Unit: "mm"},
		{Name: "make-up.stand-off", Kind: Number, Unit: "cm"},
		{Name: "interfacing.attach", Kind: Word, Scale: []string{"fuse", "sew", "either"}},
		{Name: "interfacing.heat", Kind: Number, Unit: "C"},
		{Name: "seam.fray-held", Kind: Level, Scale: frays},
		{Name: "seam.sheer", Kind: Flag},
		{Name: "seam.layers", Kind: Number},
		{Name: "seam.curve", Kind: Level, Scale: []string{"no", "gentle", "yes"}},
	}
	for _, l := range []string{"shell", "lining"} {
		f = append(f,
			Fact{Name: l + ".cloth", Kind: Word, Ids: "cloth"},
			Fact{Name: l + ".fibre", Kind: Set, Ids: "fibre"},
			Fact{Name: l + ".colour", Kind: Word},
			Fact{Name: l + ".mass", Kind: Number, Unit: "g/m2"},
			Fact{Name: l + ".thickness", Kind: Number, Unit: "mm"},
			Fact{Name: l + ".bending-length", Kind: Number, Unit: "cm"},
			Fact{Name: l + ".shrink-warp", Kind: Number, Unit: "%"},
			Fact{Name: l + ".pressing-limit", Kind: Number, Unit: "C"},
			Fact{Name: l + ".fray", Kind: Level, Scale: frays},
			Fact{Name: l + ".show-through", Kind: Level, Scale: frays},
			Fact{Name: l + ".wash", Kind: Level, Scale: []string{"dry-clean", "hand", "cool", "warm", "hot"}})
	}
	return f
}

func testSchema(t testing.TB) *Schema {
	t.Helper()
	s, err := NewSchema(testFacts(), testIds)
	require.NoError(t, err)
	return s
}

// fact gives the place of a fact.
func fact(t testing.TB, s *Schema, name string) int {
	t.Helper()
	i, ok := s.Index(name)
	require.True(t, ok, name)
	return i
}

// implies is what follows from the finishes of the tests.
func implies(s *Schema) func(c *Case, fact int, word string) {
	lined, _ := s.Index("finish.lined")
	finish, _ := s.Index("finish")
	edge, _ := s.Index("finish.edge")
	piece, _ := s.Index("piece")
	group, _ := s.Index("piece.group")
	hang, _ := s.Index("piece.hang")
	return func(c *Case, fact int, word string) {
		switch {
		case fact == finish && word == "single-layer", fact == lined && word == "no":
			c.SetFlag(lined, false)
			c.SetAbsent(s.Group("lining")...)
		case fact == finish && word == "bagged-lining":
			c.SetFlag(lined, true)
			c.SetWord(edge, "enclosed")
		case fact == piece && word == "sash":
			c.SetWord(group, "wrap")
			c.SetNumber(hang, 30)
		}
	}
}

func TestSchemaSaysWhatIsWrongWithAFact(t *testing.T) {
	_, err := NewSchema([]Fact{
		{Name: "a", Kind: Number, Unit: "furlongs"},
		{Name: "b", Kind: Level, Scale: []string{"one"}},
		{Name: "c", Kind: Word, Ids: "nowhere"},
		{Name: "c", Kind: Flag},
		{Name: "d", Kind: Kind(9)},
		{Name: ""},
	}, nil)
	var got []string
	for _, f := range fault.All(err) {
		got = append(got, f.Where+": "+f.What)
	}
	require.ElementsMatch(t, []string{
		"fact a: unit furlongs is not known",
		"fact b: a scale has 2 to 64 words",
		"fact c: there is no list of ids called nowhere",
		"fact c: the name is empty or there twice",
		"fact d: the kind is not known",
		"fact : the name is empty or there twice",
	}, got)
}

func TestGroupsOfFacts(t *testing.T) {
	s := testSchema(t)
	var names []string
	for _, i := range s.Group("seam") {
		names = append(names, s.Facts()[i].Name)
	}
	require.Equal(t, []string{"seam", "seam.fray-held", "seam.sheer", "seam.layers", "seam.curve"}, names)
	require.Empty(t, s.Group("sea"))
	require.Equal(t, "level", Level.String())
	require.Equal(t, "unknown kind", Kind(7).String())
}
