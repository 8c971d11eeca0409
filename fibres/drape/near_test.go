package drape

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// Two halves and a part under them, sewn to each other: where the three seams meet, a node is as near to
// the other half across their own seam as it is across that of the part under both.
func TestApartWhereSeamsMeet(t *testing.T) {
	const h, side = 0.01, 0.1
	panel := func(low, high float64) Panel {
		return Panel{Low: [2]float64{0, low}, High: [2]float64{side, high},
			Inside: func(u, v float64) bool { return u > 0 && u < side && v > low && v < high },
			Place:  func(u, v float64) Vec { return Vec{v, 0, u} }}
	}
	sc := Scene{Panels: []Panel{panel(0, side), panel(-side, 0), panel(-side, side)}}
	for v := -side + 0.001; v < side; v += 0.7 * h { // the halves stand on the part under them, first
		half := 0
		if v < 0 {
			half = 1
		}
		sc.Seams = append(sc.Seams, Seam{A: Mark{half, 0.0005, v}, B: Mark{2, side - 0.0005, v}})
	}
	for u := 0.005; u < side; u += 0.7 * h {
		sc.Seams = append(sc.Seams, Seam{A: Mark{0, u, 0.0005}, B: Mark{1, u, -0.0005}})
	}
	m, err := newMesh(sc, h)
	require.NoError(t, err)
	node := func(panel int, u, v float64) int32 {
		for i, at := range m.uv {
			if m.panel[i] == panel && math.Hypot(at[0]-u, at[1]-v) < 1e-9 {
				return int32(i)
			}
		}
		t.Fatalf("no node at %v %v", u, v)
		return 0
	}
	apart := func(a, b int32) float64 {
		way, _ := m.apart(a, b)
		return way
	}
	require.Less(t, apart(node(0, 0, h), node(1, 0, -h)), 2.3*h, "across the seam of the halves, at its lower end")
	require.Less(t, apart(node(0, h, h), node(2, side-h, h)), 2.3*h, "across the seam to the part under it")
	require.InDelta(t, farCells*h, apart(node(0, 5*h, 5*h), node(1, 5*h, -5*h)), 1e-12, "far from every seam")
	require.InDelta(t, 2*h, apart(node(2, 2*h, 0), node(2, 4*h, 0)), 1e-12, "in one panel")
}

// Two sides hang from their seam, and have come past each other beside it: contact brings them back to where they
// are further down, instead of keeping them the wrong way round.
func TestSidesOfASeamComeBack(t *testing.T) {
	for first := range 2 {
		sidesComeBack(t, first)
	}
}

// sidesComeBack tries it with either panel named first in the seam.
func sidesComeBack(t *testing.T, first int) {
	t.Helper()
	const h, wide, tall = 0.01, 0.06, 0.12
	side := func(sign float64) Panel {
		return Panel{Low: [2]float64{0, 0}, High: [2]float64{tall, wide},
			Inside: func(u, v float64) bool { return u > 0 && u < tall && v > 0 && v < wide },
			Place: func(u, v float64) Vec {
				out := sign * math.Min(0.006, 0.4*u)
				if u < 1.5*h {
					out = -out
				}
				return Vec{out, v, -u}
			}}
	}
	sc := Scene{Panels: []Panel{side(1), side(-1)}}
	for v := 0.0; v <= wide; v += 0.7 * h {
		sc.Seams = append(sc.Seams, Seam{A: Mark{first, 0, v}, B: Mark{1 - first, 0, v}})
		sc.Pins = append(sc.Pins, Pin{Mark{0, 0, v}, Vec{0, v, 0}})
	}
	sheet, err := NewSheet(150, 1.5, 1.5, 0, 0)
	require.NoError(t, err)
	r, err := fall(t.Context(), sc, sheet, Options{Cell: h, Apart: true, Iterations: 120, Settled: 0.0005})
	require.NoError(t, err)
	require.Zero(t, r[0].Crossings)
	for u := h; u < tall; u += h {
		right, _ := r[0].Point(Mark{0, u, wide / 2})
		left, _ := r[0].Point(Mark{1, u, wide / 2})
		require.Greater(t, right[0], left[0], "%v m from the seam", u)
	}
}

// Where the grain runs slantwise to a seam, corners of cells reach across it: flat cloth has not come past itself there.
func TestFlatClothIsLeftAloneBesideASlantingSeam(t *testing.T) {
	const h, side = 0.01, 0.1
	panel := func(sign float64) Panel {
		return Panel{Low: [2]float64{0, 0}, High: [2]float64{side, side},
			Inside: func(u, v float64) bool { return u > 0 && v > 0 && u < side && v < side && sign*(u-v-0.3*h) > 0 },
			Place:  func(u, v float64) Vec { return Vec{u, v, 0} }}
	}
	sc := Scene{Panels: []Panel{panel(1), panel(-1)}}
	for u := 0.5 * h; u < side; u += 0.5 * h {
		sc.Seams = append(sc.Seams, Seam{A: Mark{0, u + 0.3*h, u}, B: Mark{1, u + 0.3*h, u}})
	}
	m, err := newMesh(sc, h)
	require.NoError(t, err)
	sheet, err := NewSheet(150, 2, 2, 0, 0)
	require.NoError(t, err)
	s := newSystem(newPlan(m, sc), sheet, true)
	s.near.find(s, m.start)
	for _, p := range s.near.pairs {
		require.Zero(t, p.back, "nodes at %v and %v", m.uv[p.a], m.uv[p.b])
	}
}
