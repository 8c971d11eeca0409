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
	b := a.WithWorn([]Worn{worn(1, piece, "too-stiff", fact, inside, inside, inside)})
	for i, p := range a.Pieces {
		require.Equal(t, p.ID != piece, p == b.Pieces[i], "a piece that was not worn is the same: %s", p.ID)
	}
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
	e := &edge{upper: true}
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

	require.False(t, (&edge{upper: true}).within(Figures{1, 2, 4}), "the piece has no such end")
	upper := func() *edge { return &edge{upper: true, there: true, middle: math.Log(3)} }
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
		e := &edge{upper: sign > 0}
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
	weighed := &fibres.Subject{Known: map[fibres.Property]fibres.Estimate{fibres.Mass: {Low: 120, Typical: 120, High: 120, Basis: fibres.Measured}}}
	require.Equal(t, Figures{120, 120, 120}, a.FiguresOf(MakeUp{Shell: weighed, Piece: a.Pieces[0]})["make-up.mass"], "also where it is known to the gram")
	require.Contains(t, a.FiguresOf(makeUp(t, "hooded-wrap, bagged-lining, shell cotton-lawn, lining silk-habotai")), "make-up.shrink-gap")
}

// What a verdict makes of the ends of a demand, in figures. A sure one weighs 100 against the
// ends' own doubt: a figure by its logarithm, a level by whole steps, and no further than the
// scale goes. What moves neither ideal nor limit has moved nothing.
func TestHowFarAVerdictMoves(t *testing.T) {
	grades := fibres.Scale{"none", "low", "medium", "high"}
	figure := func(ideal, limit Bounds) Demand { return Demand{Fact: "make-up.mass", Ideal: ideal, Limit: limit} }
	graded := func(ideal, limit Bounds) Demand {
		return Demand{Fact: "shell.stretch", graded: true, scale: grades, Ideal: ideal, Limit: limit}
	}
	frayed := func(ideal, limit Bounds) Demand {
		d := graded(ideal, limit)
		d.Fact = "make-up.hand"
		return d
	}
	// towards is where a middle goes that has this doubt and is told of x.
	towards := func(middle, half, x float64) float64 {
		own := 1 / (half * half)
		return (own*middle+100*x)/(own+100) - middle
	}
	lightened := math.Exp(towards((math.Log(200)+math.Log(300))/2, math.Log(1.5), math.Log(150)-0.15))
	heavier := math.Exp(towards((math.Log(100)+math.Log(50))/2, math.Log(2), math.Log(120)+0.15))
	wider := math.Exp(towards((math.Log(200)+math.Log(300))/2, math.Log(1.5), math.Log(400)+0.15))
	lower := math.Exp(towards((math.Log(100)+math.Log(50))/2, math.Log(2), math.Log(20)-0.15))
	fresh := math.Log(150) - 2*0.5 + towards(math.Log(150)-1, 0.5, math.Log(150)+0.15)
	atThree := towards(math.Log(3)+1, 0.5, math.Log(3)-0.15)
	fromNothing := math.Log(50) + towards(math.Log(50), math.Ln2, math.Log(120)+0.15)
	for name, x := range map[string]struct {
		d            Demand
		finding      string
		worn         float64
		ideal, limit Bounds
		moved        bool
	}{
		"too heavy":                      {figure(Bounds{100, 200}, Bounds{50, 300}), "too-heavy", 150, Bounds{100, 200 * lightened}, Bounds{50, 300 * lightened}, true},
		"too light":                      {figure(Bounds{100, 200}, Bounds{50, 300}), "too-light", 120, Bounds{100 * heavier, 200}, Bounds{50 * heavier, 300}, true},
		"right above":                    {figure(Bounds{100, 200}, Bounds{50, 300}), "right", 400, Bounds{100, 200 * wider}, Bounds{50, 300 * wider}, true},
		"right below":                    {figure(Bounds{100, 200}, Bounds{50, 300}), "right", 20, Bounds{100 * lower, 200}, Bounds{50 * lower, 300}, true},
		"right inside":                   {figure(Bounds{100, 200}, Bounds{50, 300}), "right", 150, Bounds{100, 200}, Bounds{50, 300}, false},
		"allowed for":                    {figure(Bounds{100, 200}, Bounds{50, 300}), "too-heavy", 280, Bounds{100, 200}, Bounds{50, 300}, false},
		"too light, without a lower end": {figure(Bounds{0, 200}, Bounds{0, 300}), "too-light", 150, Bounds{math.Exp(fresh + 0.15), 200}, Bounds{math.Exp(fresh - 0.15), 300}, true},
		"too light, from nothing on":     {figure(Bounds{100, 200}, Bounds{0, 300}), "too-light", 120, Bounds{math.Exp(fromNothing + 0.15), 200}, Bounds{math.Exp(fromNothing - 0.15), 300}, true},
		"without an ideal":               {figure(Bounds{0, 0}, Bounds{0, 5}), "too-heavy", 3, Bounds{0, 3 * math.Exp(1+atThree-0.15)}, Bounds{0, 3 * math.Exp(1+atThree+0.15)}, true},
		"of another fact":                {figure(Bounds{100, 200}, Bounds{50, 300}), "creased", 150, Bounds{100, 200}, Bounds{50, 300}, false},
		"a step down":                    {graded(Bounds{0, 2}, Bounds{0, 3}), "stretched", 2, Bounds{0, 1}, Bounds{0, 2}, true},
		"no lower than none":             {graded(Bounds{0, 0}, Bounds{0, 1}), "stretched", 0, Bounds{0, 0}, Bounds{0, 0}, true},
		"no whole step":                  {graded(Bounds{0, 1}, Bounds{0, 2}), "stretched", 1.6, Bounds{0, 1}, Bounds{0, 2}, false},
		"up to the top":                  {graded(Bounds{0, 2}, Bounds{0, 3}), "right", 3, Bounds{0, 3}, Bounds{0, 3}, true},
		"a step up at the lower end":     {frayed(Bounds{1, 3}, Bounds{0, 3}), "too-limp", 1, Bounds{2, 3}, Bounds{1, 3}, true},
		"a step down at the lower end":   {frayed(Bounds{2, 3}, Bounds{1, 3}), "right", 1, Bounds{1, 3}, Bounds{0, 3}, true},
		"no lower end than none":         {frayed(Bounds{1, 3}, Bounds{0, 3}), "right", 0, Bounds{0, 3}, Bounds{0, 3}, true},
	} {
		d := x.d
		d.learn([]Worn{{ID: 3, Finding: x.finding, Who: "a cloth", Figures: map[string]Figures{d.Fact: {x.worn, x.worn, x.worn}}}})
		require.InDeltaSlice(t, []float64{x.ideal.Low, x.ideal.High, x.limit.Low, x.limit.High}, []float64{d.Ideal.Low, d.Ideal.High, d.Limit.Low, d.Limit.High}, 1e-9, name)
		require.Equal(t, x.moved, d.Moved != nil, name)
		if x.moved {
			require.Equal(t, []int64{3}, d.Moved.By, name)
			require.Equal(t, []Bounds{x.d.Ideal, x.d.Limit}, []Bounds{d.Moved.IdealWas, d.Moved.LimitWas}, name)
		}
	}
}

// Two ends that verdicts drive past each other meet in the middle, inside their limits.
func TestEndsThatCrossMeet(t *testing.T) {
	d := Demand{Fact: "make-up.mass", Ideal: Bounds{100, 100.8}, Limit: Bounds{95, 106}}
	f := map[string]Figures{"make-up.mass": {10, 100.4, 1000}} // of which little is known, so that each verdict moves little
	low, high := d, d
	low.learn([]Worn{{ID: 1, Finding: "too-light", Figures: f}})
	high.learn([]Worn{{ID: 2, Finding: "too-heavy", Figures: f}})
	require.Less(t, low.Ideal.Low, 100.8, "by itself it does not reach the other end")
	require.Greater(t, low.Ideal.Low, high.Ideal.High, "both together cross")
	d.learn([]Worn{{ID: 2, Finding: "too-heavy", Figures: f}, {ID: 1, Finding: "too-light", Figures: f}})
	mid := (low.Ideal.Low + high.Ideal.High) / 2
	require.InDelta(t, mid, d.Ideal.Low, 1e-9)
	require.InDelta(t, mid, d.Ideal.High, 1e-9)
	require.LessOrEqual(t, d.Limit.Low, mid)
	require.GreaterOrEqual(t, d.Limit.High, mid)
	require.Equal(t, []int64{1, 2}, d.Moved.By)
}

// What was moved is told with what it was; of a limit only where there is one beside the ideal.
func TestWhatWasMovedIsTold(t *testing.T) {
	say := func(d Demand, was, limitWas Bounds) string {
		d.ID, d.Unit, d.Moved = "mass", "g/m2", &Moved{IdealWas: was, LimitWas: limitWas, By: []int64{3, 8}, Say: "x"}
		return d.SayMoved()
	}
	one, two := Bounds{100, 200}, Bounds{100, 300}
	const end = ". `tenter wear remove 3` or `tenter wear remove 8` takes it back."
	require.Equal(t, "What the piece asks of mass is your own, moved by x: ideal 100 to 200 g/m2 (was 100 to 300 g/m2)"+end, say(Demand{Ideal: one, Limit: one}, two, two))
	require.Contains(t, say(Demand{Ideal: one, Limit: two}, two, two), "(was 100 to 300 g/m2), limit 100 to 300 g/m2 (was 100 to 300 g/m2)"+end)
	require.Contains(t, say(Demand{Ideal: one, Limit: one}, one, two), ", limit 100 to 200 g/m2 (was 100 to 300 g/m2)"+end)
	grades := fibres.Scale{"none", "low", "medium", "high"}
	require.Contains(t, say(Demand{graded: true, scale: grades, Ideal: Bounds{0, 2}, Limit: Bounds{0, 2}}, Bounds{1, 1}, Bounds{1, 1}), ": ideal none to medium (was low)"+end)
}
