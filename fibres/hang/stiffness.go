package hang

import (
	"fmt"
	"math"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// microPerCubicCm turns mass in g/m² times a length in cm cubed into µN·m:
// 1e-3 kg · g · 1e-6 m³ · 1e6 µN/N.
const microPerCubicCm = 1e-3 * gravity

// RigidityFromBendingLength returns the flexural rigidity of a cloth per width.
//
//	G = W g c³
//
// Given: bending length c and mass W of one sheet. With W in g/m² and c in cm,
// G in µN·m is 0.00980665 W c³.
//
// Valid: any; NaN and signs are passed on.
// Accuracy: exact by definition of the bending length.
// Errors: none.
// Source: Peirce 1930, J. Textile Inst. 21, T377 (from memory).
// Checked: reference_test.go, TestRigidityUnits.
func RigidityFromBendingLength(c units.Length, w units.ArealMass) units.Rigidity {
	return units.Rigidity(microPerCubicCm * float64(w) * float64(c*c*c))
}

// Overall returns the overall bending length of a cloth from those of its two
// directions.
//
//	c = √(warp · weft)
//
// Given: the bending lengths along warp and weft.
//
// Valid: both over 0.
// Accuracy: a convention, not a law: no one direction has this bending length.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: Peirce 1930, J. Textile Inst. 21, T377 (from memory).
// Checked: reference_test.go, TestOverallAndOffGrain.
func Overall(warp, weft units.Length) (units.Length, error) {
	if err := overZero("warp bending length", warp); err != nil {
		return 0, err
	}
	if err := overZero("weft bending length", weft); err != nil {
		return 0, err
	}
	return units.Length(math.Sqrt(float64(warp * weft))), nil
}

// OffGrainFactor is the factor either way within which two measured cloths in
// three lie round [OffGrain] where the bias was not measured: a spread of 0.48 in
// ln G at 45° over 251 cloths, which is 1.17 in c.
const OffGrainFactor = 1.17

// OffGrain returns the bending length along a direction off the warp.
//
//	bias unknown:  G(a) = (cos² a / √Gwarp + sin² a / √Gweft)^-2
//	bias measured: G(a) = Gwarp cos⁴ a + Gweft sin⁴ a + 2 J cos² a sin² a,
//	               J = 2 Gbias − (Gwarp + Gweft)/2
//
// Given: the bending lengths along warp and weft; along the 45° bias, or 0 where
// it was not measured; the angle from the warp.
//
// Valid: warp and weft over 0, bias 0 or more, angle 0° to 90°.
// Accuracy: with the bias unknown, unbiased over 251 measured cloths but good
// only to a factor of 1.17 for one cloth ([OffGrainFactor]). Measure the bias
// where it matters.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, or where the three
// figures cannot belong to one sheet.
// Source: Peirce 1930, J. Textile Inst. 21, T377, and Cooper 1960, J. Textile
// Inst. 51, T317 (both from memory).
// Checked: reference_test.go, TestOverallAndOffGrain.
func OffGrain(warp, weft, bias units.Length, angle units.Angle) (units.Length, error) {
	if err := overZero("warp bending length", warp); err != nil {
		return 0, err
	}
	if err := overZero("weft bending length", weft); err != nil {
		return 0, err
	}
	if !(bias >= 0) || math.IsInf(float64(bias), 0) {
		return 0, outside("bias bending length", fmt.Sprintf("it is %v cm", float64(bias)), "over 0 cm, or 0 where it was not measured", "hang a strip cut at 45°")
	}
	if !(angle >= 0 && angle <= 90) {
		return 0, outside("angle", fmt.Sprintf("it is %v°", float64(angle)), "0° (warp) to 90° (weft)", "45 is the true bias")
	}
	s, c := math.Sincos(radians(angle))
	s, c = s*s, c*c
	gw, gf := cube(warp), cube(weft)
	if bias == 0 {
		r := c/math.Sqrt(gw) + s/math.Sqrt(gf)
		return units.Length(math.Cbrt(1 / (r * r))), nil
	}
	j := 2*cube(bias) - (gw+gf)/2
	g := gw*c*c + gf*s*s + 2*j*c*s
	if g <= 0 {
		return 0, outside("bias bending length", fmt.Sprintf("%v cm gives no stiffness at %v°", float64(bias), float64(angle)),
			"three bending lengths of one sheet", "measure the bias strip again: it may have twisted")
	}
	return units.Length(math.Cbrt(g)), nil
}

func cube(c units.Length) float64 { return float64(c * c * c) }

func outside(where, what, expected, mend string) error {
	return &fault.Fault{Kind: fault.OutsideRange, Where: where, What: what, Expected: expected, Mend: mend}
}

func overZero(where string, l units.Length) error {
	if positive(float64(l)) {
		return nil
	}
	return outside(where, fmt.Sprintf("it is %v cm", float64(l)), "over 0 cm", "measure it again")
}
