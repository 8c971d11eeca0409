package worn

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/advise/cut"
	"tenter/data"
	"tenter/fibres/drape"
	"tenter/fibres/units"
)

// shapes finds the shapes of the knowledge that is built in.
func shapes(t testing.TB) func(id string) *cut.Shape {
	t.Helper()
	a, err := advise.Load(data.FS)
	require.NoError(t, err)
	all, err := a.Shapes()
	require.NoError(t, err)
	return func(id string) *cut.Shape {
		for _, s := range all.List {
			if s.ID == id {
				return s
			}
		}
		return nil
	}
}

// Every piece in the list is laid out on an adult and on a child in the right size, and starts
// without passing through itself more than its seams do.
func TestEveryPieceIsLaidOut(t *testing.T) {
	shape := shapes(t)
	for _, id := range Shown() {
		t.Run(id, func(t *testing.T) {
			for _, f := range []*Figure{Adult, Child} {
				w, err := Wear(id, shape, nil, f, "")
				require.NoError(t, err)
				require.NotEmpty(t, w.Says)
				require.NotEmpty(t, w.Hem)
				area := 0.0
				for _, p := range w.Scene.Panels {
					area += areaOf(p)
				}
				require.InDelta(t, cutArea(t, id, shape), area, 0.04*area, "square metres of cloth")
				for _, k := range w.Scene.Pins {
					require.False(t, math.IsNaN(k.At[0]+k.At[1]+k.At[2]))
				}
			}
		})
	}
}

// areaOf measures a panel by counting points of a grid.
func areaOf(p drape.Panel) float64 {
	const step = 0.004
	n := 0
	for u := p.Low[0] + step/2; u < p.High[0]; u += step {
		for v := p.Low[1] + step/2; v < p.High[1]; v += step {
			if p.Inside(u, v) {
				n++
			}
		}
	}
	return float64(n) * step * step
}

// cutArea is the cloth in what is drawn to be cut, by the shapes' own outlines: bands, facings and
// casings left out, and only as much of a curtain and a sash as is shown.
func cutArea(t *testing.T, id string, shape func(string) *cut.Shape) float64 {
	p := pieces[id]
	s := shape(p.shape)
	d, err := s.Draw(p.usual)
	require.NoError(t, err)
	m, err := s.Measures(p.usual)
	require.NoError(t, err)
	switch id {
	case "curtain", "gathered-panel", "stage-curtain":
		return math.Min(m["width"], 100) * m["fullness"] * m["drop"] / 1e4
	case "wide-sash":
		t.Skip("one end of it is shown")
	}
	sum := 0.0
	for _, x := range d.Parts {
		if x.ShellOnly || x.Name == "waistband" {
			continue
		}
		one := float64(x.Width) * float64(x.Height)
		if x.Outline != nil {
			one = x.Outline.Area()
		}
		sum += one * float64(x.Count) / 1e4
	}
	if id == "hooded-cloak" {
		h, err := shape("hood-two-part").Draw(map[string]string{"neck": "24 cm"})
		require.NoError(t, err)
		sum += 2 * h.Parts[0].Outline.Area() / 1e4
	}
	return sum
}

func TestMeasuresChangeTheScene(t *testing.T) {
	shape := shapes(t)
	short, err := Wear("half-circle-cape", shape, map[string]string{"length": "40 cm"}, Adult, "")
	require.NoError(t, err)
	long, err := Wear("half-circle-cape", shape, map[string]string{"length": "80 cm"}, Adult, "")
	require.NoError(t, err)
	require.InDelta(t, 0.4, long.Scene.Panels[0].High[0]-short.Scene.Panels[0].High[0], 1e-9)
	_, err = Wear("half-circle-cape", shape, map[string]string{"height": "80 cm"}, Adult, "")
	require.ErrorContains(t, err, "has no such measure")
	_, err = Wear("rectangle", shape, nil, Adult, "moon")
	require.ErrorContains(t, err, "table, hand, shoulders")
	_, err = Wear("tailored-jacket", shape, nil, Adult, "")
	require.ErrorContains(t, err, "cannot be shown worn")
}

// Source: US Army 2010-12 (ANSUR II) and UM-HSRI-77-17, means at the figures' statures, as in the
// comment of body.go: bust 94 cm, a neck's base wider than a neck, a child's head nearly an adult's.
func TestFormHasThePublishedGirths(t *testing.T) {
	girth := func(f *Figure, z float64) float64 {
		s, sum := f.section(z), 0.0
		p := func(i int) (x, y float64) {
			sin, cos := math.Sincos(2 * math.Pi * float64(i) / 2000)
			on := func(c, half float64) float64 { return math.Copysign(math.Pow(math.Abs(c), 2/s.n), c) * half }
			return on(cos, s.breadth/2), on(sin, s.depth/2)
		}
		for i := range 2000 {
			x0, y0 := p(i)
			x1, y1 := p(i + 1)
			sum += math.Hypot(x1-x0, y1-y0)
		}
		return sum
	}
	require.InDelta(t, 94, girth(Adult, 117.34), 1)
	require.InDelta(t, 78, 100*Adult.waistGirth(), 4)
	require.Less(t, girth(Child, Child.waist), girth(Adult, Adult.waist))
	require.InDelta(t, girth(Adult, 154.6), girth(Child, 106.93), 6, "a child's head is nearly as large")
}

// Distance grows outwards, is the same on both sides, and its slope is a direction.
func TestDistanceFromTheForm(t *testing.T) {
	for _, f := range []*Figure{Adult, Child} {
		mid := f.waist / 100
		inside, _ := f.Distance(drape.Vec{0, 0, mid})
		require.Negative(t, inside)
		for _, x := range []float64{0.2, 0.29, 0.6} {
			right, n := f.Distance(drape.Vec{x, 0.03, mid})
			left, _ := f.Distance(drape.Vec{-x, 0.03, mid})
			require.InDelta(t, right, left, 1e-3)
			require.Positive(t, right)
			require.LessOrEqual(t, right, x)
			require.InDelta(t, 1, n.Len(), 0.35)
		}
	}
}

func TestHandIsAsThickAsItSays(t *testing.T) {
	d, n := palm{}.Distance(drape.Vec{0, 0, 0.01})
	require.InDelta(t, 0.01, d, 1e-9)
	require.InDelta(t, 1, n[2], 1e-9)
	d, _ = palm{}.Distance(drape.Vec{0.049, 0, -0.013})
	require.InDelta(t, 0.01, d, 1e-9, "7.8 cm broad")
}

func TestEdgeStripStiffensTheEdgeAlone(t *testing.T) {
	w, err := Wear("rectangle", shapes(t), nil, Adult, "hand")
	require.NoError(t, err)
	w.Stiffen(0.02, 4, 2)
	a, b, m := w.Scene.Panels[0].Stiffer(0, 0)
	require.Equal(t, [3]float64{1, 1, 1}, [3]float64{a, b, m})
	a, b, m = w.Scene.Panels[0].Stiffer(0.295, 0)
	require.Equal(t, [3]float64{4, 4, 2}, [3]float64{a, b, m})
}

// A hem weighs and bends by what lies in it, however much wider the cells are: what is added, summed over the cloth, is its own.
func TestNarrowHemAddsNoMoreThanItHas(t *testing.T) {
	for _, width := range []float64{0.001, 0.004, 0.03} {
		w, err := Wear("rectangle", shapes(t), nil, Adult, "hand")
		require.NoError(t, err)
		w.Stiffen(width, 5, 3)
		bends, weighs := 0.0, 0.0
		p := w.Scene.Panels[0]
		const step = 0.0005
		for u := p.Low[0] + step/2; u < p.High[0]; u += step {
			for v := p.Low[1] + step/2; v < p.High[1]; v += step {
				a, _, m := p.Stiffer(u, v)
				bends, weighs = bends+(a-1)*step*step, weighs+(m-1)*step*step
			}
		}
		strip := 4 * width * (0.6 - width) // square metres, round a piece of 60 cm
		require.InEpsilon(t, 4*strip, bends, 0.12, "%v m", width)
		require.InEpsilon(t, 2*strip, weighs, 0.12, "%v m", width)
	}
}

// A piece is held where its words say, on both sides alike, and nowhere else.
func TestHeldWhereItSays(t *testing.T) {
	neck, throat := func(p drape.Vec) bool { return math.Abs(p[0]) < 0.03 && p[1] < 0 }, func(p drape.Vec) bool { return p[1] > 0 && p[2] < 1.4 }
	shoulder := func(p drape.Vec) bool { return math.Abs(p[0]) > 0.1 && math.Abs(p[1]) < 0.03 && p[2] > 1.35 }
	brow := func(p drape.Vec) bool { return p[1] > 0.05 && p[2] > 1.55 }
	for _, c := range []struct {
		id, where, says string
		at              []func(p drape.Vec) bool
	}{
		{"rectangular-wrap", "shoulders", "pinned at the back of the neck and on either shoulder", []func(p drape.Vec) bool{neck, shoulder}},
		{"triangular-shawl", "shoulders", "pinned at the back of the neck and on either shoulder", []func(p drape.Vec) bool{neck, shoulder}},
		{"hooded-wrap", "", "held on either side of the throat", []func(p drape.Vec) bool{throat}},
		{"triangular-shawl", "head", "held over the brow and under the chin", []func(p drape.Vec) bool{brow, throat}},
	} {
		w, err := Wear(c.id, shapes(t), nil, Adult, c.where)
		require.NoError(t, err)
		require.Contains(t, w.Says[0], c.says)
		held := 0
		for _, at := range c.at {
			sides := map[bool]int{}
			for _, k := range w.Scene.Pins {
				if at(k.At) {
					sides[k.At[0] > 0]++
					held++
				}
			}
			require.Positive(t, sides[true], "%s: %s", c.id, c.says)
			require.Positive(t, sides[false], "%s: %s", c.id, c.says)
		}
		require.Equal(t, len(w.Scene.Pins), held, "%s is held elsewhere too", c.id)
	}
}

// Beside its seam a part is stiffer along it, by an allowance of 1.5 cm on either side, which weighs what it weighs; the
// fronts of a cape, which are no seam, are cloth alone.
func TestAllowancesStiffenASeam(t *testing.T) {
	m, err := shapes(t)("half-circle-cape").Measures(map[string]string{"parts": "2"})
	require.NoError(t, err)
	r := capeRound(m, Adult)
	sc, _ := r.scene()
	p := sc.Panels[0]
	near := r.mark(0, r.inner()+r.length/2, -0.005) // the middle of the back, along which the warp of both parts runs
	warp, weft, mass := p.Stiffer(near.U, near.V)
	require.Greater(t, warp, 1.5)
	require.InDelta(t, 1, weft, 0.01)
	require.Greater(t, mass, 1.3)
	front := r.mark(0, r.inner()+r.length/2, -r.angle/2+0.005)
	warp, weft, mass = p.Stiffer(front.U, front.V)
	require.Equal(t, [3]float64{1, 1, 1}, [3]float64{warp, weft, mass})
	bends, weighs := 0.0, 0.0
	const step = 0.002
	for u := p.Low[0]; u < p.High[0]; u += step {
		for v := p.Low[1]; v < p.High[1]; v += step {
			if p.Inside(u, v) {
				a, _, w := p.Stiffer(u, v)
				bends, weighs = bends+(a-1)*step*step, weighs+(w-1)*step*step
			}
		}
	}
	require.InEpsilon(t, 0.015*r.length, weighs, 0.05)
	require.InEpsilon(t, (seamStiff-1)*0.015*r.length, bends, 0.05)
}

// fall computes a piece on a coarse mesh.
func fall(t *testing.T, id, where string, c units.Length, set map[string]string) (Worn, drape.Result) {
	return fallIn(t, 1.7, id, where, c, set)
}

// fallIn computes a piece in cells so many times as wide as its own.
func fallIn(t *testing.T, coarser float64, id, where string, c units.Length, set map[string]string) (Worn, drape.Result) {
	w, err := Wear(id, shapes(t), set, Adult, where)
	require.NoError(t, err)
	s, err := drape.NewSheet(200, c, c, 0, 0)
	require.NoError(t, err)
	o := w.Options()
	o.Cell *= coarser
	p, err := drape.Prepare(w.Scene, o)
	require.NoError(t, err)
	r, err := p.Fall(context.Background(), s, o.Watch)
	require.NoError(t, err)
	require.Empty(t, w.Misleads(s, r[0]))
	return w, r[0]
}

// A napkin over a hand hangs down on all sides; the stiffer stands out farther.
func TestNapkinOverAHand(t *testing.T) {
	if testing.Short() {
		t.Skip("3 s of computing")
	}
	spread := map[units.Length]float64{}
	for _, c := range []units.Length{1.5, 5} {
		w, r := fall(t, "napkin", "", c, nil)
		low := 0.0
		for _, k := range w.Hem {
			p, ok := r.Point(k)
			require.True(t, ok)
			spread[c] += math.Abs(p[0]) / float64(len(w.Hem))
			low = math.Min(low, p[2])
		}
		require.Less(t, low, -0.1, "c %v", c)
		require.Greater(t, low, -0.34, "half a diagonal is 32 cm")
	}
	require.Greater(t, spread[5], spread[1.5]+0.01)
}

// A shawl rests on both shoulders, clear of the form, and no yarn of it is stretched by more than some
// per cent.
func TestShawlRestsOnTheShoulders(t *testing.T) {
	if testing.Short() {
		t.Skip("3 s of computing")
	}
	_, r := fall(t, "triangular-shawl", "shoulders", 2.5, nil)
	deep := 0.0
	for _, p := range r.At {
		d, _ := Adult.Distance(p)
		deep = math.Min(deep, d)
	}
	require.Greater(t, deep, -0.015, "cloth lies within the form")
	point, ok := r.Point(drape.Mark{U: 0.84, V: 0})
	require.True(t, ok)
	require.Negative(t, point[1], "its point hangs at the back")
	require.InDelta(t, 1.41-0.84, point[2], 0.12)
	long := 0.0
	for i, q := range r.Quads {
		if r.Part[i] > 0.99 {
			long = math.Max(long, r.At[q[1]].Sub(r.At[q[0]]).Len()/r.Cell)
		}
	}
	require.Less(t, long, 1.08, "next to a pin")
}

// What the data say of pictures is of pictures that there are, and of none that is
// said to be left out.
func TestPicturesAreAsTheDataSay(t *testing.T) {
	a, err := advise.Load(data.FS)
	require.NoError(t, err)
	all, err := a.Shapes()
	require.NoError(t, err)
	require.NotEmpty(t, all.Pictures)
	for _, p := range all.Pictures {
		for _, id := range p.Of {
			require.Equal(t, p.Doubt != "", Shows(id), id)
		}
	}
}

// What cannot be shown says so, with the reason where there is one.
func TestPiecesNotShownSayWhy(t *testing.T) {
	_, err := Wear("tote-bag", shapes(t), nil, Adult, "")
	require.ErrorContains(t, err, "no form of it is laid out")
	require.ErrorContains(t, NotShown("cowl", "its folds lie in heaps"), "its folds lie in heaps")
}

// The corners in front of a hooded wrap hang: near the form, and no higher than the elbow.
func TestWrapHangsInFront(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds of computing")
	}
	_, r := fallIn(t, 1.25, "hooded-wrap", "", 1.7, nil)
	for _, side := range []float64{-1, 1} {
		corner, ok := r.Point(drape.Mark{U: 0.01, V: side * 0.73})
		require.True(t, ok)
		require.Less(t, math.Hypot(corner[0], corner[1]), 0.4)
		require.Less(t, corner[2], 1.08)
	}
}

// The fronts of a cape meet at the neck and hang open under the clasp.
func TestCapeIsClosedAtTheNeck(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds of computing")
	}
	m, err := shapes(t)("half-circle-cape").Measures(nil)
	require.NoError(t, err)
	r := capeRound(m, Adult)
	_, fallen := fall(t, "half-circle-cape", "", 2.4, nil)
	gap := func(d float64) float64 {
		a, _ := fallen.Point(r.mark(0, r.inner()+d, -r.angle/2))
		b, _ := fallen.Point(r.mark(r.parts-1, r.inner()+d, r.angle/2))
		return a.Sub(b).Len()
	}
	require.Less(t, gap(0.03), 0.01)
	require.Greater(t, gap(0.5), 0.05)
}

// A hood's sides keep their places beside its seam in wraps of every size.
func TestSmallHoodedWrapDoesNotPassThroughItself(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds of computing")
	}
	_, r := fallIn(t, 1.25, "hooded-wrap", "", 1.6, map[string]string{"width": "140 cm", "depth": "70 cm"})
	require.LessOrEqual(t, r.Crossings, 3)
}

// Cloth too limp for the cells has its flutes computed in finer ones, and none shown where those will not do.
func TestLimpFlutesAreComputedFinerOrWithheld(t *testing.T) {
	w, err := Wear("full-circle-skirt", shapes(t), nil, Adult, "")
	require.NoError(t, err)
	cell := w.Options().Cell
	sheet := func(c units.Length) drape.Sheet {
		s, err := drape.NewSheet(150, c, c, 0, 0)
		require.NoError(t, err)
		return s
	}
	shown := func(c units.Length) string {
		return w.Misleads(sheet(c), drape.Result{Converged: true, Cell: w.CellFor(sheet(c), cell)})
	}
	require.Equal(t, cell, w.CellFor(sheet(3), cell))
	require.Empty(t, shown(3))
	require.Less(t, w.CellFor(sheet(1.4), cell), 0.95*cell)
	require.Empty(t, shown(1.4))
	require.Contains(t, shown(0.7), "finer than can be computed")
	require.Zero(t, w.Again(sheet(0.7), cell), "wider cells would not help")
	cape, err := Wear("half-circle-cape", shapes(t), nil, Adult, "")
	require.NoError(t, err)
	require.Empty(t, cape.Misleads(sheet(0.8), drape.Result{Converged: true, Cell: 0.04}), "its picture is not of flutes")
	require.Greater(t, cape.Again(sheet(0.8), 0.02), 0.02)
}

// What passes through itself is withheld above the limit, and what did not come to rest.
func TestWhatMisleadsIsWithheld(t *testing.T) {
	w, s := Worn{}, drape.Sheet{Mass: 0.15, Warp: 1e-5, Weft: 1e-5}
	require.Empty(t, w.Misleads(s, drape.Result{Converged: true, Crossings: maxCrossings}))
	require.Contains(t, w.Misleads(s, drape.Result{Converged: true, Crossings: maxCrossings + 1}), "passes through itself in 13 places")
	require.Contains(t, w.Misleads(s, drape.Result{}), "did not come to rest")
}
