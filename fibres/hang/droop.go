package hang

import (
	"fmt"
	"math"

	"tenter/fibres/units"
)

// BendingLengthFromClosedForm returns the bending length of a strip that projects
// level from an edge and droops under its own weight, by Peirce's closed form: to
// say how far it is off, where somebody compares.
//
//	c = l · [cos(θ/2) / (8 tan θ)]^(1/3)
//
// Given: overhang l, measured along the cloth; droop θ, below the horizontal, of
// the straight line from the edge to the tip.
//
// Valid: l over 0; θ over 0°, under 90°; a uniform, untwisted strip.
// Accuracy: reads high against the exact heavy elastica, by 0.11 % at 10°, 0.49 %
// at 21.5°, 1.9 % at 41.5°. No reading is judged by it: [BendingLengthFromElastica]
// is exact and as simple to call.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: Peirce 1930, J. Textile Inst. 21, T377 (from memory); the form seen in
// teaching pages.
// Checked: reference_test.go, TestDroopAgainstExactElastica.
func BendingLengthFromClosedForm(overhang units.Length, droop units.Angle) (units.Length, error) {
	if err := overZero("overhang", overhang); err != nil {
		return 0, err
	}
	if !(droop > 0 && droop < 90) {
		return 0, outside("droop", fmt.Sprintf("it is %v°", float64(droop)), "over 0° and under 90°",
			"measure from the level of the edge down to the line that joins edge and tip")
	}
	t := radians(droop)
	return overhang * units.Length(math.Cbrt(math.Cos(t/2)/(8*math.Tan(t)))), nil
}

// BendingLengthFromElastica returns the bending length of a strip that projects
// level from an edge and droops under its own weight, from the exact elastica.
//
// Given: overhang, measured along the cloth; droop, below the horizontal, of the
// straight line from the edge to the tip.
//
// Valid: overhang over 0; droop from 0.1° to 89°. Between 20° and 60° a reading is
// best: below, a degree changes much; above, the strip hangs nearly plumb.
// Accuracy: 1e-7 of the bending length against [Hang].
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: the elastica of [Hang], inverted.
// Checked: reference_test.go, TestDroopAgainstExactElastica.
func BendingLengthFromElastica(overhang units.Length, droop units.Angle) (units.Length, error) {
	if err := overZero("overhang", overhang); err != nil {
		return 0, err
	}
	if !(droop >= 0.1 && droop <= 89) {
		return 0, outside("droop", fmt.Sprintf("it is %v°", float64(droop)), "0.1° to 89°, best 20° to 60°",
			"let the strip hang out further where it hardly droops, less far where it hangs plumb")
	}
	t := math.Tan(radians(droop))
	y := solveY(func(y float64) float64 { return t*uniformReach(y) - uniformDrop(y) })
	return overhang * fromY(y), nil
}

// BendingLengthFromDrop returns the bending length of a strip that projects level
// from an edge, from how far its tip lies below the edge.
//
// Given: overhang, measured along the cloth; drop, straight down from the height
// of the edge to the tip.
//
// Valid: overhang over 0; drop from 0.001 to 0.985 of it. Between a third and four
// fifths a reading is best.
// Accuracy: 1e-7 of the bending length against [Hang].
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: the elastica of [Hang], inverted.
// Checked: reference_test.go, TestDropReadsBack.
func BendingLengthFromDrop(overhang, drop units.Length) (units.Length, error) {
	if err := overZero("overhang", overhang); err != nil {
		return 0, err
	}
	d := float64(drop / overhang)
	if !(d >= 0.001 && d <= 0.985) {
		return 0, outside("drop", fmt.Sprintf("it is %v cm of an overhang of %v cm", float64(drop), float64(overhang)),
			"0.001 to 0.985 of the overhang, best a third to four fifths",
			"let the strip hang out further where it hardly drops, less far where it hangs plumb")
	}
	y := solveY(func(y float64) float64 { return d - uniformDrop(y) })
	return overhang * fromY(y), nil
}

// BendingLengthFromFixedAngle returns the bending length of a strip slid out until
// its tip meets a plane 41.5° below the horizontal.
//
//	c = l / 2
//
// Given: the overhang l at that moment, measured along the cloth.
//
// Valid: l over 0.
// Accuracy: 0.02 % high against the exact elastica. The closed form of
// [BendingLengthFromClosedForm] would read 1.9 % high and is not used.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: teaching pages; standard test of stiffness (from memory).
// Checked: reference_test.go, TestFixedAngle.
func BendingLengthFromFixedAngle(overhang units.Length) (units.Length, error) {
	if err := overZero("overhang", overhang); err != nil {
		return 0, err
	}
	return overhang / 2, nil
}

// fromY turns y = (c/L)^1.5 back to c/L.
func fromY(y float64) units.Length {
	r := math.Cbrt(y)
	return units.Length(r * r)
}

// solveY finds the y at which a rising function is 0, by halving the range of
// the logarithm and closing in with the Illinois rule.
func solveY(f func(float64) float64) float64 {
	a, b := math.Log(1e-4), math.Log(1e4)
	fa, fb := f(math.Exp(a)), f(math.Exp(b))
	side := 0
	for range 200 {
		m := (a*fb - b*fa) / (fb - fa)
		if side > 2 || side < -2 || !(m > a && m < b) {
			m, side = (a+b)/2, 0
		}
		fm := f(math.Exp(m))
		if fm == 0 || b-a < 1e-13 {
			return math.Exp(m)
		}
		if fm < 0 {
			a, fa = m, fm
			side = min(side, 0) - 1
		} else {
			b, fb = m, fm
			side = max(side, 0) + 1
		}
	}
	return math.Exp((a + b) / 2)
}
