package drape

import (
	"context"
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/hang"
	"tenter/fibres/units"
	"tenter/internal/testkit"
)

func number(t testing.TB, s string) float64 {
	x, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return x
}

// strip is cloth held flat up to u = 0 of which the length hangs over.
func strip(length, width float64) Scene {
	return Scene{Panels: []Panel{{
		Low: [2]float64{-0.03, 0}, High: [2]float64{length, width},
		Inside: func(u, v float64) bool { return u < length && v > 0 && v < width },
		Held:   func(u, v float64) float64 { return u },
		Place:  func(u, v float64) Vec { return Vec{u, v, 0} },
	}}}
}

// hangStrip returns reach and drop of the end of a strip.
func hangStrip(t *testing.T, c units.Length, length, cell float64) (reach, drop float64) {
	sheet, err := NewSheet(150, c, c, 0, 0)
	require.NoError(t, err)
	sheet.Stretch = 5000
	r, err := fall(context.Background(), strip(length, 0.025), sheet, Options{Cell: cell})
	require.NoError(t, err)
	require.True(t, r[0].Converged)
	p, ok := r[0].Point(Mark{0, length, 0.0125})
	require.True(t, ok)
	return p[0], -p[2]
}

// Source: definition of the fixed-angle test (ISO 9073-7, BS 3356, from memory): a strip that
// hangs over by twice its bending length meets the plane at 41.5°. 2°, for a cell of a
// quarter of c or less.
func TestCantilever(t *testing.T) {
	for _, c := range []float64{2, 3, 5} {
		for _, cell := range []float64{0.0025, 0.005} {
			reach, drop := hangStrip(t, units.Length(c), 2*c/100, cell)
			require.InDelta(t, 41.5, math.Atan2(drop, reach)*180/math.Pi, 2, "c %v cm, cell %v", c, cell)
		}
	}
}

// Source: testdata/reference/elastica_reference.csv, exact elastica of a level
// flap; 1.5 % of the flap's length, with 24 cells along it or more.
func TestFlapAgainstExactElastica(t *testing.T) {
	tried := 0
	for _, r := range testkit.Rows(t, "elastica_reference.csv") {
		lc := number(t, r["L_over_c"])
		if r["case"] != "uniform" || r["clamp_deg_below_horizontal"] != "0" || lc != 1 && lc != 2 && lc != 3 && lc != 4 {
			continue
		}
		tried++
		length := 0.02 * lc
		reach, drop := hangStrip(t, 2, length, length/(12+6*lc))
		require.InDelta(t, number(t, r["reach_over_L"]), reach/length, 0.015, "reach at L/c %v", lc)
		require.InDelta(t, number(t, r["drop_over_L"]), drop/length, 0.015, "drop at L/c %v", lc)
	}
	require.Equal(t, 4, tried)
}

// The table that fibres/hang reads a sheet's drape coefficient from is what the solver gives: at two
// points, within the 3 points of mesh and start.
func TestTableOfHangIsTheSolvers(t *testing.T) {
	for _, c := range []float64{2.5, 4} {
		half := math.Sqrt(1.14)
		sheet, err := NewSheet(150, units.Length(c*half), units.Length(c/half), 0, 0)
		require.NoError(t, err)
		coefficient, _ := disc(t, Usual, sheet, Options{Cell: 0.0075})
		require.InDelta(t, hang.DrapeCoefficientSheet(units.Length(c)), coefficient, 3, "c %v", c)
	}
}

// measured is a cloth of testdata/reference/measured_drape.csv as a sheet.
func measured(t testing.TB, r map[string]string) Sheet {
	s := Sheet{Mass: number(t, r["mass_gsm"]) / 1000, Warp: number(t, r["rigidity_warp_un_m"]) * 1e-6, Shear: UsualShear, Stretch: UsualStretch}
	s.Weft = s.Warp
	if w := r["rigidity_weft_un_m"]; w != "" {
		s.Weft = number(t, w) * 1e-6
	}
	if g := r["shear_n_m"]; g != "" {
		s.Shear = number(t, g)
	}
	s.Twist = usualTwist * math.Sqrt(s.Warp*s.Weft)
	return s
}

// Source: testdata/reference/measured_drape.csv, ten cloths, second-hand. The first source's
// four come in the right order, each within 20 points. The second's shear stiffness,
// taken as printed, makes its two limpest far too stiff: the level is not to be trusted.
func TestDiscAgainstMeasuredCloths(t *testing.T) {
	if testing.Short() {
		t.Skip("5 s of computing")
	}
	have, want := map[string]float64{}, map[string]float64{}
	for _, r := range testkit.Rows(t, "measured_drape.csv") {
		switch r["id"] {
		case "MD01", "MD02", "MD03", "MD04", "MD06":
			coefficient, shape := disc(t, Usual, measured(t, r), Options{Cell: 0.0075})
			require.True(t, shape.Converged, r["id"])
			require.Zero(t, shape.Crossings, r["id"])
			have[r["id"]], want[r["id"]] = coefficient, number(t, r["drape_coefficient_pct"])
		}
	}
	require.Less(t, have["MD04"], have["MD02"])
	require.Less(t, have["MD02"], have["MD03"])
	require.Less(t, have["MD03"], have["MD01"])
	for _, id := range []string{"MD01", "MD02", "MD03", "MD04"} {
		require.InDelta(t, want[id], have[id], 20, id)
	}
	require.Greater(t, have["MD06"], want["MD06"]+15, "if this no longer fails so, docs/mechanics.md must say so")
}

// A bagged lining is one sheet with its shell: a shell of 8 cm and a heavy limp lining of 2 cm, two sheets held at one
// line and stitched to each other all over, hang as the one sheet of the sum of their masses and stiffnesses, and as
// the exact elastica of that, worked out elsewhere.
func TestTwoSheetsThatLieOnEachOtherAreOne(t *testing.T) {
	const length, width, h = 0.2, 0.04, 0.01
	shell, lining := hang.Layer{Mass: 150, BendingLength: 8}, hang.Layer{Mass: 400, BendingLength: 2}
	stack := hang.StackFree(shell, lining)
	exact, err := hang.Hang(hang.Flap{Segments: []hang.Segment{{Length: 100 * length, Rigidity: stack.Rigidity(), Mass: stack.Mass}}}, 0)
	require.NoError(t, err)
	dips := func(sc Scene, l hang.Layer) float64 {
		sheet, err := NewSheet(l.Mass, l.BendingLength, l.BendingLength, 0, 0)
		require.NoError(t, err)
		sheet.Stretch = 5000
		r, err := fall(t.Context(), sc, sheet, Options{Cell: h})
		require.NoError(t, err)
		require.True(t, r[0].Converged)
		p, ok := r[0].Point(Mark{0, length, width / 2})
		require.True(t, ok)
		return math.Atan2(-p[2], p[0]) * 180 / math.Pi
	}
	one := strip(length, width)
	two := strip(length, width)
	two.Panels = append(two.Panels, two.Panels[0])
	rigidity, mass := float64(lining.Rigidity()/shell.Rigidity()), float64(lining.Mass/shell.Mass)
	two.Panels[1].Stiffer = func(_, _ float64) (float64, float64, float64) { return rigidity, rigidity, mass }
	for i := range int(length/h) + 1 {
		for j := range int(width/h) + 1 {
			u, v := float64(i)*h, float64(j)*h
			two.Seams = append(two.Seams, Seam{A: Mark{0, u, v}, B: Mark{1, u, v}})
		}
	}
	want := dips(one, stack)
	require.InDelta(t, float64(exact.ChordAngle), want, 2)
	require.InDelta(t, want, dips(two, shell), 1)
	require.Greater(t, want, dips(one, shell)+10, "the lining pulls it down")
}

// saddled is a sheet of 20 cm in cells of 5 mm, without weight, and its place under a shape of small slope.
func saddled(t *testing.T, s Sheet, z func(u, v float64) float64) float64 {
	m, err := newMesh(Scene{Panels: []Panel{{
		High:   [2]float64{0.2, 0.2},
		Inside: func(u, v float64) bool { return u > 0 && v > 0 && u < 0.2 && v < 0.2 },
		Place:  func(u, v float64) Vec { return Vec{u, v, z(u, v)} },
	}}}, 0.005)
	require.NoError(t, err)
	s.Mass, s.Stretch, s.Shear = 0, 0, 0
	return newSystem(newPlan(m, Scene{}), s, false).energy(m.start, nil)
}

// Source: theory of thin plates, from memory. Pure twist z = k u v of a plate alike in all directions, whose Poisson ratio is
// nil, takes D k² on each square metre. What is bent to a cylinder along the bias takes half its bias rigidity times κ², and that
// rigidity is W g c³ of the bending length measured on the bias, by its definition.
func TestTwistAgainstPlate(t *testing.T) {
	const area, k = 0.04, 0.1
	for _, bias := range []units.Length{1.6, 2, 2.6} {
		s, err := NewSheet(150, 2, 2, bias, 0)
		require.NoError(t, err)
		rigidity := 0.15 * 9.80665 * math.Pow(float64(bias)/100, 3)
		bent := saddled(t, s, func(u, v float64) float64 { return k * (u + v) * (u + v) / 4 })
		require.InEpsilon(t, rigidity*k*k/2*area, bent, 0.03, "bias %v cm", bias)
		if bias == 2 {
			twisted := saddled(t, s, func(u, v float64) float64 { return k * u * v })
			require.InEpsilon(t, s.Warp*k*k*area, twisted, 1e-6)
		}
	}
}

// Source: testdata/reference/calibration.csv, derived from 251 measured cloths: cloth alike in warp and weft is about as rigid
// on the bias. The usual twist agrees within 15 %.
func TestUsualTwistAgreesWithMeasuredBias(t *testing.T) {
	s, err := NewSheet(150, 2, 2, 0, 0)
	require.NoError(t, err)
	want := 0.0
	for _, r := range testkit.Rows(t, "calibration.csv") {
		if r["figure"] == "bias rigidity over the formula, median" {
			want = number(t, r["value"])
		}
	}
	const area, k = 0.04, 0.1
	bent := saddled(t, s, func(u, v float64) float64 { return k * (u + v) * (u + v) / 4 })
	require.InEpsilon(t, want, bent/(s.Warp*k*k/2*area), 0.15)
}
