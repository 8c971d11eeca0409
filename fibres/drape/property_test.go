package drape

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/units"
)

// ball is a body for tests.
type ball struct {
	at Vec
	r  float64
}

func (b ball) Distance(p Vec) (float64, Vec) {
	d := p.Sub(b.at)
	return d.Len() - b.r, d.Unit()
}

// crumpled is a small system in which every part of the energy acts.
func crumpled(t *testing.T) (*system, []Vec) {
	sc := Scene{
		Panels: []Panel{{
			Low: [2]float64{0, 0}, High: [2]float64{0.1, 0.1},
			Inside:  func(u, v float64) bool { return u > 0 && v > 0 && u+v < 0.17 },
			Held:    func(u, v float64) float64 { return u - 0.01 },
			Place:   func(u, v float64) Vec { return Vec{u, v, 0.01 * math.Sin(60*u) * math.Sin(40*v)} },
			Stiffer: func(u, v float64) (float64, float64, float64) { return 1 + u, 2, 1.5 },
		}},
		Pins:     []Pin{{Mark{0, 0.05, 0.05}, Vec{0.05, 0.06, 0.02}}},
		Seams:    []Seam{{A: Mark{0, 0.03, 0.07}, B: Mark{0, 0.07, 0.03}}, {A: Mark{0, 0.04, 0.08}, B: Mark{0, 0.08, 0.04}}},
		Body:     ball{Vec{0.05, 0.05, -0.06}, 0.062},
		Friction: 0.3,
	}
	m, err := newMesh(sc, 0.01)
	require.NoError(t, err)
	sheet, err := NewSheet(150, 2, 1.3, 0, 30)
	require.NoError(t, err)
	s := newSystem(newPlan(m, sc), sheet, true)
	x := m.disturbed(m.start, 3, 0.003)
	s.stick(x)
	y := m.disturbed(m.start, 4, 0.003)
	s.near.pairs, s.near.k = []closePair{{a: 5, b: 40, reach: 0.2}, {a: 8, b: 60, reach: 0.15, back: Vec{0.6, 0, 0.8}}}, 0.3
	return s, y
}

func TestGradientAgainstDifferences(t *testing.T) {
	s, x := crumpled(t)
	g := make([]Vec, len(x))
	s.energy(x, g)
	scale := 0.0
	for _, v := range g {
		scale = math.Max(scale, v.Len())
	}
	const step = 1e-6
	for _, n := range s.free {
		for k := range 3 {
			was := x[n][k]
			x[n][k] = was + step
			up := s.energy(x, nil)
			x[n][k] = was - step
			down := s.energy(x, nil)
			x[n][k] = was
			require.InDelta(t, (up-down)/(2*step), g[n][k], 1e-5*scale, "node %d, axis %d", n, k)
		}
	}
}

// The matrix is the slope of the gradient; contact is left out, since its curvature is
// bounded from above on purpose.
func TestMatrixAgainstDifferences(t *testing.T) {
	s, x := crumpled(t)
	s.body, s.near = nil, nil
	s.hessian(x, false)
	up, down := make([]Vec, len(x)), make([]Vec, len(x))
	const step = 1e-6
	for _, n := range s.free[:40] {
		was := x[n][1]
		x[n][1] = was + step
		s.energy(x, up)
		x[n][1] = was - step
		s.energy(x, down)
		x[n][1] = was
		for _, o := range s.free {
			var want, have Vec
			for k := range 3 {
				want[k] = (up[o][k] - down[o][k]) / (2 * step)
			}
			if sl, ok := s.mat.slot[s.mat.key(s.place[o], s.place[n])]; ok {
				b := s.mat.blocks[sl]
				have = Vec{b[1], b[4], b[7]}
				if s.mat.place[s.place[o]] < s.mat.place[s.place[n]] {
					have = Vec{b[3], b[4], b[5]}
				}
			}
			require.InDelta(t, 0, want.Sub(have).Len(), 2e-3, "nodes %d and %d", o, n)
		}
	}
}

// The factor solves the system it was made of.
func TestFactorSolves(t *testing.T) {
	s, x := crumpled(t)
	s.hessian(x, true)
	require.True(t, s.mat.factor(5, s.weight))
	want := make([]Vec, len(s.free))
	for i := range want {
		want[i] = Vec{math.Sin(float64(i)), math.Cos(3 * float64(i)), 1}
	}
	b := make([]Vec, len(want))
	for k, sl := range s.mat.slot {
		i, j := s.mat.order[k[0]], s.mat.order[k[1]]
		m := s.mat.blocks[sl]
		for r := range 3 {
			for c := range 3 {
				b[i][r] += m[3*r+c] * want[j][c]
				if i != j {
					b[j][c] += m[3*r+c] * want[i][r]
				}
			}
		}
	}
	for i := range b {
		b[i] = b[i].Add(want[i].Mul(5 * s.weight[i]))
	}
	s.mat.solve(b)
	for i := range b {
		require.InDelta(t, 0, b[i].Sub(want[i]).Len(), 1e-7)
	}
}

// fall computes a sheet in a scene.
func fall(ctx context.Context, sc Scene, s Sheet, o Options) ([]Result, error) {
	p, err := Prepare(sc, o)
	if err != nil {
		return nil, err
	}
	return p.Fall(ctx, s, o.Watch)
}

// disc is a disc test with one start: its coefficient and its shape.
func disc(t *testing.T, tester Tester, s Sheet, o Options) (float64, Result) {
	t.Helper()
	o.Seeds = 1
	r, err := fall(context.Background(), tester.Scene(), s, o)
	require.NoError(t, err)
	return tester.Mean(r), r[0]
}

// coarse is the coefficient of a cloth of equal bending lengths.
func coarse(t *testing.T, tester Tester, mass units.ArealMass, c units.Length, shear, cell float64) float64 {
	sheet, err := NewSheet(mass, c, c, 0, shear)
	require.NoError(t, err)
	coefficient, r := disc(t, tester, sheet, Options{Cell: cell})
	require.True(t, r.Converged)
	require.Zero(t, r.Crossings, "the cloth passes through itself")
	return coefficient
}

func TestStifferClothDrapesLess(t *testing.T) {
	last := 0.0
	for _, c := range []units.Length{1.5, 2.5, 4} {
		dc := coarse(t, Usual, 150, c, 20, 0.01)
		require.Greater(t, dc, last, "c %v", c)
		last = dc
	}
	last = 0
	for _, shear := range []float64{5, 80} {
		dc := coarse(t, Usual, 150, 2, shear, 0.01)
		require.Greater(t, dc, last, "shear %v", shear)
		last = dc
	}
}

func TestFinerMeshChangesLittle(t *testing.T) {
	rough, fine := coarse(t, Usual, 150, 4, 20, 0.01), coarse(t, Usual, 150, 4, 20, 0.0075)
	require.InDelta(t, fine, rough, 3)
}

// The same shape comes of a cloth twice as heavy and stiff in everything, and of one twice
// as large in everything.
func TestScaleLaws(t *testing.T) {
	sheet, err := NewSheet(150, 3, 2, 0, 20)
	require.NoError(t, err)
	run := func(tester Tester, s Sheet, cell float64) float64 {
		coefficient, _ := disc(t, tester, s, Options{Cell: cell, Tolerance: 1e-4})
		return coefficient
	}
	want := run(Usual, sheet, 0.015)
	double := Sheet{2 * sheet.Mass, 2 * sheet.Warp, 2 * sheet.Weft, 2 * sheet.Twist, 2 * sheet.Shear, 2 * sheet.Stretch}
	require.InDelta(t, want, run(Usual, double, 0.015), 0.1)
	// Lengths times 2: rigidity as their cube, forces per length as themselves.
	large := Sheet{sheet.Mass, 8 * sheet.Warp, 8 * sheet.Weft, 8 * sheet.Twist, 2 * sheet.Shear, 2 * sheet.Stretch}
	require.InDelta(t, want, run(Tester{36, 60}, large, 0.03), 3, "another start, so another minimum may be found")
}

func TestDrapeStopsWhenAsked(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	sheet, err := NewSheet(150, 2, 2, 0, 0)
	require.NoError(t, err)
	steps := 0
	_, err = fall(ctx, Usual.Scene(), sheet, Options{Cell: 0.01, Watch: Watch{Progress: func(Progress) {
		if steps++; steps == 3 {
			cancel()
		}
	}}})
	require.ErrorIs(t, err, context.Canceled)
	require.Equal(t, 3, steps)
}

func TestDrapeRefuses(t *testing.T) {
	_, err := NewSheet(0, 2, 2, 0, 0)
	require.ErrorContains(t, err, "mass 0")
	sheet, err := NewSheet(150, 2, 2, 0, 0)
	require.NoError(t, err)
	_, err = fall(context.Background(), Usual.Scene(), sheet, Options{Cell: 0.0005})
	require.ErrorContains(t, err, "cells")
}

func TestCrossingsAreCounted(t *testing.T) {
	sc := Scene{Panels: []Panel{{
		Low: [2]float64{0, 0}, High: [2]float64{0.2, 0.1},
		Inside: func(u, v float64) bool { return u > 0 && v > 0 && u < 0.2 && v < 0.1 },
		Place:  func(u, v float64) Vec { return Vec{u, v, 0} },
	}}}
	m, err := newMesh(sc, 0.01)
	require.NoError(t, err)
	require.Empty(t, m.crossings(m.start))
	x := make([]Vec, len(m.start))
	for i, p := range m.start {
		x[i] = p
		if p[0] > 0.1 { // one half is folded back, through the other at a slant
			x[i] = Vec{0.2 - p[0] + 0.003, p[1] + 0.002, 0.05 - 1.1*(p[0]-0.1)}
		}
	}
	require.NotEmpty(t, m.crossings(x))
}
