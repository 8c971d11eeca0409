package drape

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// bag is a square of cloth with a lining, its upper edge held along a line.
func bag(side, full float64) Scene {
	return Scene{Panels: []Panel{{
		Low: [2]float64{0, 0}, High: [2]float64{side, side},
		Inside: func(u, v float64) bool { return u > 0 && v > 0 && u < side && v < side },
		Held:   func(u, v float64) float64 { return u },
		Place: func(u, v float64) Vec {
			const depth = 0.02
			return Vec{v / full, depth * math.Sin(2*math.Pi*v/0.2), -u}
		},
		Lined: true,
	}}}
}

// The lining's part of the gradient is the slope of the energy, where it presses and where not.
func TestGradientOfALining(t *testing.T) {
	sc := bag(0.1, 1)
	m, err := newMesh(sc, 0.011)
	require.NoError(t, err)
	shell, err := NewSheet(150, 2, 1.3, 0, 30)
	require.NoError(t, err)
	lining, err := NewSheet(90, 1.2, 1, 0, 10)
	require.NoError(t, err)
	s := newSystem(newPlan(m, sc), Layers{shell, shell, lining}, true)
	x := m.disturbed(m.start, 3, 0.003)
	s.layUnder(x)
	s.face(x)
	y := m.disturbed(x, 4, 0.002)
	for n := range y {
		if m.inner(int32(n)) {
			y[n] = y[n].Add(Vec{0.001 * math.Sin(float64(5*n)), 0.004 * math.Sin(float64(n)), 0})
		}
	}
	s.face(y)
	pressed := 0
	for i := range s.facing {
		if s.depth(&s.facing[i], y) > 0 {
			pressed++
		}
	}
	require.Greater(t, pressed, len(s.facing)/5)
	require.Less(t, pressed, len(s.facing)*4/5)
	g := make([]Vec, len(y))
	s.energy(y, g)
	scale := 0.0
	for _, v := range g {
		scale = math.Max(scale, v.Len())
	}
	const step = 1e-7
	for _, n := range s.free {
		for k := range 3 {
			was := y[n][k]
			y[n][k] = was + step
			up := s.energy(y, nil)
			y[n][k] = was - step
			down := s.energy(y, nil)
			y[n][k] = was
			require.InDelta(t, (up-down)/(2*step), g[n][k], 1e-5*scale, "node %d, axis %d", n, k)
		}
	}
}

// flap is a flap of 20 by 30 cm in cells of 2 cm, and how deep its tip lies, in degrees.
func flap(t *testing.T, lined bool, l Layers) (angle float64, r Result) {
	sc := strip(0.2, 0.3)
	sc.Panels[0].Low[0] = -0.1
	sc.Panels[0].Lined = lined
	p, err := Prepare(sc, Options{Cell: 0.02, Apart: lined, Settled: 1e-5})
	require.NoError(t, err)
	results, err := p.FallLayered(context.Background(), l, Watch{})
	require.NoError(t, err)
	r = results[0]
	require.True(t, r.Converged)
	require.Zero(t, r.Crossings, "a sheet passes through the other")
	tip, ok := r.Point(Mark{0, 0.2, 0.15})
	require.True(t, ok)
	return math.Atan2(-tip[2], tip[0]) * 180 / math.Pi, r
}

// asOne are two layers as one sheet, so much of a full bond between them.
func asOne(a, b Sheet, bond float64) Sheet {
	join := func(p, q float64) float64 { return p + q + bond*(math.Pow(math.Cbrt(p)+math.Cbrt(q), 3)-p-q) }
	s := Sheet{Mass: a.Mass + b.Mass, Warp: join(a.Warp, b.Warp), Weft: join(a.Weft, b.Weft), Shear: a.Shear + b.Shear, Stretch: a.Stretch + b.Stretch}
	s.Twist = usualTwist * math.Sqrt(s.Warp*s.Weft)
	return s
}

// widest is how far the lining hangs off its own place on the shell at most.
func widest(r Result) (far float64) {
	for n, l := range r.mesh.twin {
		far = math.Max(far, r.At[n].Sub(r.At[l]).Len())
	}
	return far
}

// Source: four measured cloths folded once, of which the open edge lies free: 0.05 to 0.26 of a full bond
// (testdata/reference/bending_summary.csv; fibres/hang, TestJoinedLayersAgainstMeasured). The flap lies between
// loose and the upper end.
func TestBaggedLayersAreBondedAsFoldedClothIs(t *testing.T) {
	shell, err := NewSheet(150, 8, 8, 0, 0)
	require.NoError(t, err)
	bagged, _ := flap(t, true, Layers{shell, shell, shell})
	loose, _ := flap(t, false, Layers{Whole: asOne(shell, shell, 0)})
	folded, _ := flap(t, false, Layers{Whole: asOne(shell, shell, 0.26)})
	fused, _ := flap(t, false, Layers{Whole: asOne(shell, shell, 1)})
	require.Less(t, bagged, loose)
	require.Greater(t, bagged, folded)
	require.Greater(t, bagged, fused+15, "fused it would be a board")
}

// A heavy limp lining on the underside draws the flap deeper than it would as part of one sheet, and bags:
// it hangs off the shell by more than where a light stiff one lies.
func TestHeavyLiningBags(t *testing.T) {
	shell, err := NewSheet(150, 8, 8, 0, 0)
	require.NoError(t, err)
	heavy, err := NewSheet(400, 2, 2, 0, 0)
	require.NoError(t, err)
	light, err := NewSheet(60, 6, 6, 0, 0)
	require.NoError(t, err)
	bagged, deep := flap(t, true, Layers{shell, shell, heavy})
	fused, _ := flap(t, false, Layers{Whole: asOne(shell, heavy, 1)})
	lightly, _ := flap(t, true, Layers{shell, shell, light})
	require.Greater(t, bagged, fused+4)
	require.Greater(t, bagged, lightly+4)
	require.Greater(t, widest(deep), 3*layerGap*0.02)
}
