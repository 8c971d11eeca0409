package drape

import (
	"fmt"
	"math"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

const gravity = 9.80665

// Sheet is cloth as the solver needs it.
type Sheet struct {
	Mass       float64 // kg/m²
	Warp, Weft float64 // bending rigidity along each, N·m
	Twist      float64 // rigidity against twist, N·m
	Shear      float64 // N/m per radian
	Stretch    float64 // of warp and weft, N/m
}

// Usual values of what is hardly ever measured.
const (
	UsualShear   = 20  // N/m per radian, own judgement for woven cloth
	UsualStretch = 500 // N/m; over 100 it hardly matters
	// usualTwist is a multiple of √(warp × weft); 1 is a sheet alike in all directions. Derived:
	// median over 251 measured cloths with a bending length on the bias (a tenth lie under 0, a tenth over 2.3).
	usualTwist = 0.8
)

// NewSheet returns the sheet of a mass and bending lengths along warp and weft.
//
//	B = W g c³
//
// Given: areal mass; bending lengths; the length on the bias, 0 where it is not known;
// shear stiffness in N/m per radian, 0 for the usual.
//
// Valid: mass and lengths over 0.
// Accuracy: as good as the bending lengths; twist without a length on the bias is a guess.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: definition of the bending length; bias rigidity (B1 + B2 + 2 Bt) / 4 of the energy used.
// Checked: reference_test.go, TestCantilever, TestTwistAgainstPlate, TestUsualTwistAgreesWithMeasuredBias.
func NewSheet(mass units.ArealMass, warp, weft, bias units.Length, shear float64) (Sheet, error) {
	for _, x := range []float64{float64(mass), float64(warp), float64(weft)} {
		if !(x > 0) || math.IsInf(x, 0) {
			return Sheet{}, &fault.Fault{Kind: fault.OutsideRange, Where: "cloth", What: fmt.Sprintf("mass %v g/m2, bending lengths %v and %v cm", float64(mass), float64(warp), float64(weft)),
				Expected: "each over 0", Mend: "measure the bending length with a ruler"}
		}
	}
	w := float64(mass) / 1000
	rigidity := func(c units.Length) float64 { return w * gravity * math.Pow(float64(c)/100, 3) }
	s := Sheet{Mass: w, Warp: rigidity(warp), Weft: rigidity(weft), Shear: shear, Stretch: UsualStretch}
	s.Twist = usualTwist * math.Sqrt(s.Warp*s.Weft)
	if bias > 0 {
		s.Twist = math.Max(0.02*s.Twist, 2*rigidity(bias)-(s.Warp+s.Weft)/2)
	}
	if shear <= 0 {
		s.Shear = UsualShear
	}
	return s, nil
}

// BendingLength returns the overall bending length in metres.
func (s Sheet) BendingLength() float64 {
	return math.Cbrt(math.Sqrt(s.Warp*s.Weft) / (s.Mass * gravity))
}

// Panel is one flat part: u runs along the warp, v along the weft, in metres.
type Panel struct {
	Low, High [2]float64                                        // a box round the outline
	Inside    func(u, v float64) bool                           // the outline
	Held      func(u, v float64) float64                        // distance from what is held fast, under 0 inside it; nil: nothing is
	Place     func(u, v float64) Vec                            // where it is held, and where it starts
	Starts    []func(u, v float64) Vec                          // other places to start from, tried in turn; empty: Place
	Stiffer   func(u, v float64) (alongU, alongV, mass float64) // multiples at an edge strip or a seam; nil: 1
}

// Mark is a point of a panel.
type Mark struct {
	Panel int
	U, V  float64
}

// Pin holds a point of the cloth at a place.
type Pin struct {
	Mark
	At Vec
}

// Seam joins two points of the cloth; a row of them bends across like the cloth, or so many
// times as hard.
type Seam struct {
	A, B  Mark
	Stiff float64 // 0: 1
}

// Body is what the cloth rests on: the distance from its surface, under 0 inside, and the
// direction in which that grows.
type Body interface {
	Distance(p Vec) (float64, Vec)
}

// Scene is cloth, how it is held and what it rests on.
type Scene struct {
	Panels   []Panel
	Pins     []Pin
	Seams    []Seam
	Body     Body    // nil: none
	Friction float64 // of cloth on the body
}
