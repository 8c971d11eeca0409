package advise

import (
	"math"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// worn is one verdict on a cape of a known stand-off and mass.
func worn(id int64, piece, finding string, fact string, low, typical, high float64) Worn {
	return Worn{ID: id, Piece: piece, Finding: finding, Who: "attic sateen", At: time.Date(2026, 11, 2, 0, 0, 0, 0, time.UTC), Figures: map[string]Figures{fact: {low, typical, high}}}
}

func demandOf(t *testing.T, a *Adviser, piece, fact string) Demand {
	t.Helper()
	p, err := a.Piece(piece)
	require.NoError(t, err)
	for _, d := range p.Demands {
		if d.Fact == fact {
			return d
		}
	}
	t.Fatalf("%s asks nothing of %s", piece, fact)
	return Demand{}
}

func TestTooStiffMovesTheLimitDown(t *testing.T) {
	a := adviser(t)
	const piece, fact = "half-circle-cape", "make-up.stand-off"
	was := demandOf(t, a, piece, fact)
	inside := (was.Ideal.Low + was.Ideal.High) / 2

	sure := demandOf(t, a.WithWorn([]Worn{worn(1, piece, "too-stiff", fact, inside*0.97, inside, inside*1.03)}), piece, fact)
	vague := demandOf(t, a.WithWorn([]Worn{worn(1, piece, "too-stiff", fact, inside/2, inside, inside*2)}), piece, fact)
	require.Less(t, sure.Ideal.High, was.Ideal.High)
	require.Less(t, sure.Limit.High, was.Limit.High)
	require.Equal(t, was.Ideal.Low, sure.Ideal.Low, "the other end stays")
	require.Less(t, sure.score(inside), SuitsFrom, "what was worn no longer suits")
	require.Greater(t, vague.Ideal.High, sure.Ideal.High, "a make-up of which only the name was known moves it less")
	require.Less(t, vague.Ideal.High, was.Ideal.High)
	require.Equal(t, []int64{1}, sure.Moved.By)
	require.Equal(t, was.Ideal, sure.Moved.IdealWas)

	require.Nil(t, demandOf(t, a, piece, fact).Moved, "the adviser itself is not changed")
	require.Nil(t, demandOf(t, a.WithWorn([]Worn{worn(1, "cowl", "too-stiff", fact, 1, 1, 1)}), piece, fact).Moved, "nor is another piece")
	require.Nil(t, demandOf(t, a.WithWorn([]Worn{worn(1, piece, "too-heavy", fact, inside, inside, inside)}), piece, fact).Moved, "nor what the verdict does not speak of")
	require.Same(t, a, a.WithWorn(nil), "and taking the last away gives it all back")
}

func TestWhatWasPredictedMovesNothing(t *testing.T) {
	a := adviser(t)
	const piece, fact = "half-circle-cape", "make-up.stand-off"
	was := demandOf(t, a, piece, fact)
	beyond := was.Limit.High * 1.5
	require.Nil(t, demandOf(t, a.WithWorn([]Worn{worn(1, piece, "too-stiff", fact, beyond, beyond, beyond)}), piece, fact).Moved)
	inside := (was.Ideal.Low + was.Ideal.High) / 2
	require.Nil(t, demandOf(t, a.WithWorn([]Worn{worn(1, piece, "right", fact, inside, inside, inside)}), piece, fact).Moved)
}

func TestRightWidens(t *testing.T) {
	a := adviser(t)
	const piece, fact = "half-circle-cape", "make-up.stand-off"
	was := demandOf(t, a, piece, fact)
	beyond := was.Limit.High * 1.2
	d := demandOf(t, a.WithWorn([]Worn{worn(1, piece, "right", fact, beyond, beyond, beyond)}), piece, fact)
	require.Greater(t, d.Limit.High, was.Limit.High)
	require.Greater(t, d.score(beyond), was.score(beyond))
}

func TestTooLimpMakesALimitWhereThereWasNone(t *testing.T) {
	a := adviser(t)
	const piece, fact = "hooded-wrap", "make-up.stand-off"
	was := demandOf(t, a, piece, fact)
	require.Zero(t, was.Ideal.Low)
	v := was.Ideal.High / 2
	d := demandOf(t, a.WithWorn([]Worn{worn(1, piece, "too-limp", fact, v, v, v)}), piece, fact)
	require.Greater(t, d.Ideal.Low, 0.0)
	require.Less(t, d.score(v/2), 0.5)
	require.Equal(t, 1.0, d.score(was.Ideal.High), "the upper end stays")
}

func TestAGradedLimitMovesByALevel(t *testing.T) {
	a := adviser(t)
	const piece, fact = "full-circle-skirt", "make-up.show-through"
	was := demandOf(t, a, piece, fact)
	require.Equal(t, 1.0, was.Ideal.High)
	d := demandOf(t, a.WithWorn([]Worn{worn(4, piece, "shows-through", fact, 1, 1, 1)}), piece, fact)
	require.Equal(t, 0.0, d.Ideal.High)
	require.Equal(t, "none", d.Words[1])
	require.Contains(t, d.SayMoved(), "ideal none (was none to low)")
}

// TestManyVerdictsKeepAnOrder: whatever is said, low stays below high and the
// limit round the ideal.
func TestManyVerdictsKeepAnOrder(t *testing.T) {
	a := adviser(t)
	const piece = "half-circle-cape"
	facts := []string{"make-up.stand-off", "make-up.mass"}
	findings := []string{"right", "too-stiff", "too-limp", "too-heavy", "too-light"}
	var list []Worn
	for i := range 60 {
		v := []float64{0.2, 1, 3, 9, 40, 200, 800}[i%7]
		list = append(list, worn(int64(i), piece, findings[i%5], facts[i%2], v*0.8, v, v*1.3))
		b := a.WithWorn(list)
		for _, f := range facts {
			d := demandOf(t, b, piece, f)
			require.LessOrEqual(t, d.Limit.Low, d.Ideal.Low)
			require.LessOrEqual(t, d.Ideal.Low, d.Ideal.High)
			require.LessOrEqual(t, d.Ideal.High, d.Limit.High)
		}
	}
}

func TestMovedLimitsAreToldInTheAnswer(t *testing.T) {
	a := adviser(t)
	const piece = "half-circle-cape"
	m := MakeUp{Shell: &fibres.Subject{Cloth: a.Cat.Cloths["wool-flannel"]}}
	m.Piece, _ = a.Piece(piece)
	before, err := a.Check(m)
	require.NoError(t, err)
	figures := a.FiguresOf(m)
	require.Contains(t, figures, "make-up.stand-off")
	require.NotContains(t, figures, "piece.hang")
	b := a.WithWorn([]Worn{{ID: 7, Piece: piece, Finding: "too-stiff", Who: "wool-flannel", Figures: map[string]Figures{"make-up.stand-off": {1, 1, 1}}}})
	m.Piece, _ = b.Piece(piece)
	after, err := b.Check(m)
	require.NoError(t, err)
	require.Less(t, after.Share, before.Share)
	notes := strings.Join(after.Notes, "\n")
	require.Contains(t, notes, "`tenter wear remove 7` takes it back")
	require.Contains(t, notes, `"too stiff after all" after wearing wool-flannel`)
}

func TestParseFinding(t *testing.T) {
	for text, id := range map[string]string{"too stiff after all": "too-stiff", "Too Stiff": "too-stiff", "just right": "right", "see through": "shows-through", "too-heavy": "too-heavy"} {
		f, err := ParseFinding(text)
		require.NoError(t, err, text)
		require.Equal(t, id, f.ID)
	}
	_, err := ParseFinding("too purple")
	require.ErrorContains(t, err, "one of right, too-stiff")
	seen := map[string]bool{}
	for _, f := range Findings {
		require.False(t, seen[f.ID])
		seen[f.ID] = true
	}
}

func TestTheLearnedCatalogueIsUsed(t *testing.T) {
	a := adviser(t)
	require.Same(t, a, a.WithCatalogue(a.Cat))
	lawn := a.Cat.Cloths["cotton-lawn"]
	heavy := fibres.Lesson{Swatch: "attic", Cloth: lawn, Known: map[fibres.Property]fibres.Estimate{fibres.Mass: fibres.Figure(fibres.Mass, 300, 310, 320, fibres.Measured, "")}}
	b := a.WithCatalogue(a.Cat.Learned([]fibres.Lesson{heavy, heavy, heavy}))
	m := MakeUp{Shell: &fibres.Subject{Cloth: lawn}}
	m.Piece, _ = a.Piece("wide-sash")
	before, err := a.Check(m)
	require.NoError(t, err)
	after, err := b.Check(m)
	require.NoError(t, err)
	require.Less(t, after.Share, before.Share, "what the user's lawn weighs counts")
}

// What a wearer says is weighed by how surely the make-up was known: a figure by the
// spread of its logarithm, a level by that of its levels. What was worn and right moves
// only an end that the piece has, and lies beyond.
func TestHowSurelyItWasWorn(t *testing.T) {
	const z90 = 1.2815515655446004
	e := &edge{sign: 1}
	x, sd, ok := e.at(Figures{1, 2, 4})
	require.True(t, ok)
	require.InDelta(t, math.Log(2), x, 1e-12)
	require.InDelta(t, math.Hypot(math.Log(4)/(2*z90), 0.1), sd, 1e-12)
	_, sd, _ = e.at(Figures{0, 2, 1})
	require.InDelta(t, math.Hypot(math.Log(10)/(2*z90), 0.1), sd, 1e-12, "no low is below a tenth of the middle, no high below it")
	_, _, ok = e.at(Figures{})
	require.False(t, ok, "nothing was known")
	require.Equal(t, 0.15, e.margin())

	e.graded = true
	x, sd, ok = e.at(Figures{1, 2, 3})
	require.True(t, ok)
	require.Equal(t, 2.0, x)
	require.InDelta(t, math.Hypot(2/(2*z90), 0.1), sd, 1e-12)
	require.Equal(t, 0.5, e.margin())

	require.False(t, (&edge{sign: 1}).within(Figures{1, 2, 4}), "the piece has no such end")
	upper := func() *edge { return &edge{sign: 1, there: true, middle: math.Log(3)} }
	require.False(t, upper().within(Figures{2, 2, 2}), "the limits allowed for it")
	require.False(t, upper().within(Figures{}))
	e = upper()
	require.True(t, e.within(Figures{4, 4, 4}))
	require.InDelta(t, math.Log(4)+0.15, e.sum/e.weight, 1e-12)
	require.InDelta(t, 100, e.weight, 1e-9)
}

// How far a limit may move at first, by how far ideal and limit lie apart: little where
// they lie close, and half a level where it is graded.
func TestWhereAnEndBegins(t *testing.T) {
	begun := func(sign int, d Demand) *edge {
		e := &edge{sign: sign}
		e.begin(&d)
		return e
	}
	e := begun(1, Demand{Ideal: Bounds{1, 2}, Limit: Bounds{0, 8}})
	require.True(t, e.there)
	require.InDelta(t, math.Log(4), e.middle, 1e-12)
	require.InDelta(t, math.Log(4), e.half, 1e-12)
	require.InDelta(t, 1/(math.Log(4)*math.Log(4)), e.weight, 1e-12)
	e = begun(1, Demand{Ideal: Bounds{1, 2}, Limit: Bounds{0, 2.1}})
	require.InDelta(t, 0.3, e.half, 1e-12)
	e = begun(-1, Demand{Ideal: Bounds{1, 2}, Limit: Bounds{0, 2.1}})
	require.True(t, e.there)
	require.InDelta(t, math.Log(0.5), e.middle, 1e-12, "from nothing up to the ideal")
	require.False(t, begun(-1, Demand{Ideal: Bounds{0, 2}, Limit: Bounds{0, 3}}).there)
	e = begun(1, Demand{graded: true, Ideal: Bounds{0, 2}, Limit: Bounds{0, 2}})
	require.Equal(t, []float64{2.5, 0.7}, []float64{e.middle, e.half})
}

// What is not known of a make-up is not recorded of it: a single layer parts from nothing.
func TestFiguresOfWhatIsKnown(t *testing.T) {
	a := adviser(t)
	one := a.FiguresOf(makeUp(t, "scarf, single-layer-hem, shell cotton-lawn"))
	require.Contains(t, one, "make-up.mass")
	require.NotContains(t, one, "make-up.shrink-gap")
	require.Contains(t, a.FiguresOf(makeUp(t, "hooded-wrap, bagged-lining, shell cotton-lawn, lining silk-habotai")), "make-up.shrink-gap")
}
