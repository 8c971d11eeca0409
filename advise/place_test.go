package advise

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/cut"
	"tenter/advise/rules"
	"tenter/fibres"
	"tenter/fibres/units"
)

// What lies under the needle, told with its thickness where that is known.
func TestUnderTheNeedle(t *testing.T) {
	require.Equal(t, "layers under the needle: 4", Sewn{Layers: 4}.Under(units.Metric))
	require.Equal(t, "layers under the needle: 4, 1.5 mm", Sewn{Layers: 4, MM: 1.5}.Under(units.Metric))
	require.Equal(t, `layers under the needle: 2, 0.059 in`, Sewn{Layers: 2, MM: 1.5}.Under(units.Imperial))
}

// A seam or edge without a place of its own is sewn as the first of its list, where that is
// recommended; a place that is skipped has none.
func TestPlacesWithoutAWay(t *testing.T) {
	a := *adviser(t)
	a.Places = []Place{{Words: []string{"zip"}, Skip: true}}
	m := makeUp(t, "shell denim")
	c, _ := a.build(m)
	seams, edges := []Choice{{ID: "s", Name: "S", Effect: "for", Why: "why", Say: "say"}}, []Choice{{ID: "e", Name: "E", Effect: WillDo}}
	got, ok := a.sewnHere(m, c, cut.Join{Name: "side", Kind: cut.Seam}, seams, edges)
	require.True(t, ok)
	require.Equal(t, Sewn{Kind: "seam", ID: "s", Name: "S", Say: "why"}, got)
	seams[0].Why = ""
	got, _ = a.sewnHere(m, c, cut.Join{Name: "side", Kind: cut.Seam}, seams, edges)
	require.Equal(t, "say", got.Say)
	_, ok = a.sewnHere(m, c, cut.Join{Name: "hem", Kind: cut.Hem}, seams, edges)
	require.False(t, ok, "an edge that only will do is not told as how it is sewn")
	_, ok = a.sewnHere(m, c, cut.Join{Name: "hem", Kind: cut.Hem}, seams, nil)
	require.False(t, ok)
	_, ok = a.sewnHere(m, c, cut.Join{Name: "zip, centre back", Kind: cut.Seam}, seams, edges)
	require.False(t, ok)
}

// Every seam and edge of a piece is told once, alike ones together; the seam of denim is
// thicker under the needle than that of lawn, and none is thicker than a needle goes.
func TestPlacesOfAPiece(t *testing.T) {
	a := adviser(t)
	thick := map[string]float64{}
	for _, cloth := range []string{"denim", "cotton-lawn"} {
		ans, err := a.Advise(makeUp(t, "shirt, single-layer-hem, shell "+cloth), 0)
		require.NoError(t, err)
		seen := map[string]bool{}
		for _, s := range ans.Places {
			for _, p := range s.Places {
				require.False(t, seen[p], "%s is told twice", p)
				seen[p] = true
			}
			require.Positive(t, s.Layers)
			require.LessOrEqual(t, s.MM, 10.0)
			thick[cloth] = max(thick[cloth], s.MM)
		}
		require.Greater(t, len(seen), 4)
	}
	require.Greater(t, thick["denim"], 2*thick["cotton-lawn"])
}

// Places stand in the order of the piece, alike ones together; one that has a way of its own is
// sewn so, one that is skipped is not told.
func TestAlikePlacesStandTogether(t *testing.T) {
	a := *adviser(t)
	a.Rules = nil
	a.Places = []Place{{Words: []string{"zip"}, Skip: true}, {Words: []string{"crotch", "seat"}, Ways: []Way{{Of: "seam", Preferred: []string{"no-such-seam", "plain-seam"}, Say: "Sew it twice."}}},
		{Words: []string{"yoke"}, Ways: []Way{{Of: "seam", Preferred: []string{"no-such-seam"}}}}}
	piece := &Piece{ID: "odd", Seams: []PieceSeam{{"left side", 10}, {"seat", 10}, {"zip opening", 10}, {"right side", 10}, {"hem", 10}, {"crotch", 10}, {"yoke", 10}}}
	m := MakeUp{Piece: piece, Shell: &fibres.Subject{}}
	list := a.sewnAt(m, a.caseOf(m), []Choice{{ID: "french-seam", Name: "French seam", Effect: "for", Say: "It is neat."}}, []Choice{{ID: "bias-binding", Name: "bias binding", Effect: "for", Say: "It is flat."}})
	require.Len(t, list, 3)
	for i, want := range []Sewn{{Places: []string{"left side", "right side", "yoke"}, Kind: "seam", ID: "french-seam", Say: "It is neat."}, {Places: []string{"seat", "crotch"}, Kind: "seam", ID: "plain-seam", Say: "Sew it twice."},
		{Places: []string{"hem"}, Kind: "edge", ID: "bias-binding", Say: "It is flat."}} {
		got := list[i]
		require.Equal(t, want, Sewn{Places: got.Places, Kind: got.Kind, ID: got.ID, Say: got.Say})
		s, err := a.Seam(got.Kind, got.ID)
		require.NoError(t, err)
		require.Equal(t, s.Layers, got.Layers)
		require.Equal(t, s.Name, got.Name, got.ID)
	}
	a.Places[1].Ways[0].Preferred = []string{"french-seam"}
	list = a.sewnAt(m, a.caseOf(m), []Choice{{ID: "french-seam", Effect: "for", Say: "It is neat."}}, nil)
	require.Len(t, list, 2, "the same seam for another reason is told by itself, and no edge without one")
}

// A way takes the first of its seams that nothing speaks against; where its ends lie inside,
// what speaks against them does not count.
func TestAWayTakesWhatNothingSpeaksAgainst(t *testing.T) {
	a := *adviser(t)
	m := MakeUp{Shell: &fibres.Subject{}}
	c := a.caseOf(m)
	w := Way{Of: "seam", Preferred: []string{"plain-seam", "french-seam"}}
	takes := func(w Way) string {
		s, ok := a.wayOf(m, c, &w)
		require.Equal(t, s.ID != "", ok)
		return s.ID
	}
	a.Rules = []*rules.Rule{{Effect: rules.Forbids, Parts: rules.Parts{About: "edge"}}}
	require.Equal(t, "plain-seam", takes(w))
	a.Rules[0].Parts.About = "seam"
	require.Empty(t, takes(w))
	w.Closed = true
	require.Equal(t, "plain-seam", takes(w))
	w.When = a.knitsAlone(t)
	require.Empty(t, takes(w), "of a cloth of which nothing is known nobody says that it holds")

	s := &Seam{Kind: "seam"}
	require.Same(t, s, withSeam(MakeUp{Edge: s}, s).Seam)
	require.Nil(t, withSeam(MakeUp{Edge: s}, s).Edge)
	e := &Seam{Kind: "edge"}
	require.Same(t, e, withSeam(MakeUp{Seam: s}, e).Edge)
	require.Nil(t, withSeam(MakeUp{Seam: s}, e).Seam)
}

// knitsAlone is a rule of which the conditions hold for a shell that is knit.
func (a *Adviser) knitsAlone(t *testing.T) *rules.Rule {
	t.Helper()
	r := adviser(t).RuleByID("knit-takes-a-ball-point")
	require.NotNil(t, r)
	return r
}

// How thick a seam is under the needle, to a tenth of a millimetre; not told where the cloth's
// thickness is not known, or more than a needle goes through.
func TestThicknessUnderTheNeedle(t *testing.T) {
	a := adviser(t)
	s, err := a.Seam("seam", "plain-seam")
	require.NoError(t, err)
	of := func(thick float64) MakeUp {
		e := fibres.Estimate{Low: thick, Typical: thick, High: thick, Basis: fibres.Measured}
		if thick == 0 {
			e = fibres.Estimate{Basis: fibres.Unknown}
		}
		return MakeUp{Shell: &fibres.Subject{Known: map[fibres.Property]fibres.Estimate{fibres.Thickness: e}}}
	}
	strips := 0.25 * float64(s.Layers-s.OfShell)
	for thick, want := range map[float64]float64{0: 0, 0.52: math.Round(10*(0.52*float64(s.OfShell)+strips)) / 10, (10 - strips) / float64(s.OfShell): 10, (10.1 - strips) / float64(s.OfShell): 0} {
		layers, mm := a.underNeedleOf(of(thick), Sewn{Kind: "seam", ID: "plain-seam"})
		require.Equal(t, s.Layers, layers)
		require.InDelta(t, want, mm, 1e-9, "%g", thick)
	}
	layers, mm := a.underNeedleOf(of(0.5), Sewn{Kind: "seam", ID: "no-such-seam"})
	require.Equal(t, []float64{0, 0}, []float64{float64(layers), mm})
}
