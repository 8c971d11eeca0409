package yarn

import (
	"fmt"
	"math"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// shareSlack is how far the shares of a blend may miss the whole: labels round.
const shareSlack = 0.02

// Part is one fibre of a blend for the reckoning of moisture: its share by mass,
// its agreed moisture allowance over dry mass, and what was taken off it before
// weighing, if anything (also over dry mass).
type Part struct {
	Share     units.Fraction
	Allowance units.Fraction
	Loss      units.Fraction
}

func checkParts(parts []Part) error {
	shares := make([]units.Fraction, len(parts))
	for i, p := range parts {
		shares[i] = p.Share
		if !(p.Allowance >= 0 && p.Allowance <= 0.5) || !(p.Loss >= 0 && p.Loss <= 0.5) {
			return outside(fmt.Sprintf("fibre %d", i+1), fmt.Sprintf("its allowance is %s and its loss %s", percent(p.Allowance), percent(p.Loss)), "each 0 % to 50 % of the dry mass", "")
		}
	}
	return checkShares(shares)
}

func checkShares(shares []units.Fraction) error {
	if len(shares) == 0 {
		return outside("the blend", "it has no fibre", "one fibre or more", "")
	}
	sum := units.Fraction(0)
	for i, s := range shares {
		if !(s > 0 && s <= 1) {
			return outside(fmt.Sprintf("fibre %d", i+1), "its share is "+percent(s), "over 0 %, at most 100 %", "")
		}
		sum += s
	}
	if math.Abs(float64(sum-1)) > shareSlack+1e-9 {
		return outside("the blend", "its shares add up to "+percent(sum), "100 %, or within 2 points of it for a rounded label", "")
	}
	return nil
}

// normal scales shares to a whole of one.
func normal(s []units.Fraction) []units.Fraction {
	sum := units.Fraction(0)
	for _, v := range s {
		sum += v
	}
	for i := range s {
		s[i] /= sum
	}
	return s
}

// AllowanceSharesFromDry returns the shares of a blend with each fibre's agreed
// moisture in it, as a label states them, from shares of the dry mass.
//
//	P_A = P (1 + a + b) / Σ P (1 + a + b)
//
// Given: for each fibre its dry share P, agreed allowance a and pre-treatment loss
// b. The result has the same length and order and is new.
//
// Valid: shares over 0 that add to 1 within 0.02 and are taken in proportion;
// a and b each 0 to 50 %. Allowances of one table only: EU and US differ.
// Accuracy: exact; the law's own examples round at each step, to 0.01 points.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: Regulation (EU) No 1007/2011, Annex VIII and IX (read).
// Checked: reference_test.go, TestBlends.
func AllowanceSharesFromDry(parts []Part) ([]units.Fraction, error) {
	if err := checkParts(parts); err != nil {
		return nil, err
	}
	out := make([]units.Fraction, len(parts))
	for i, p := range parts {
		out[i] = p.Share * (1 + p.Allowance + p.Loss)
	}
	return normal(out), nil
}

// DrySharesFromAllowance returns the shares of the dry mass from shares that
// include each fibre's agreed moisture: [AllowanceSharesFromDry] read backwards.
//
//	P = P_A / (1 + a + b) / Σ P_A / (1 + a + b)
//
// Given: for each fibre its share P_A with allowance, the allowance a and loss b.
// The result has the same length and order and is new.
//
// Valid: shares over 0 that add to 1 within 0.02 and are taken in proportion;
// a and b each 0 to 50 %.
// Accuracy: exact.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: Regulation (EU) No 1007/2011, Annex VIII and IX (read), inverted.
// Checked: reference_test.go, TestBlends.
func DrySharesFromAllowance(parts []Part) ([]units.Fraction, error) {
	if err := checkParts(parts); err != nil {
		return nil, err
	}
	out := make([]units.Fraction, len(parts))
	for i, p := range parts {
		out[i] = p.Share / (1 + p.Allowance + p.Loss)
	}
	return normal(out), nil
}

// MassWithAllowance returns the mass of cloth or yarn with the agreed moisture in
// it, from its dry mass.
//
//	m_A = m · Σ P (1 + a)
//
// Given: dry mass in any unit, returned in the same; the parts with their dry
// shares and allowances. Their losses are not used.
//
// Valid: mass over 0; parts as [AllowanceSharesFromDry].
// Accuracy: exact; cloth in a room holds the allowance only roughly.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: Regulation (EU) No 1007/2011, Annex IX (read).
// Checked: reference_test.go, TestBlends.
func MassWithAllowance(dry float64, parts []Part) (float64, error) {
	if !(dry > 0) || math.IsInf(dry, 0) {
		return 0, outside("the dry mass", fmt.Sprintf("it is %v", dry), "over 0", "")
	}
	if err := checkParts(parts); err != nil {
		return 0, err
	}
	sum, whole := 0.0, 0.0
	for _, p := range parts {
		sum += float64(p.Share * (1 + p.Allowance))
		whole += float64(p.Share)
	}
	return dry * sum / whole, nil
}

// ContentFromRegain returns the moisture in the wet mass from moisture over the
// dry mass.
//
//	C = R / (1 + R)
//
// Given: regain R, water over dry mass.
//
// Valid: 0 to 500 %.
// Accuracy: exact.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: arithmetic.
// Checked: reference_test.go, TestBlends.
func ContentFromRegain(regain units.Fraction) (units.Fraction, error) {
	if !(regain >= 0 && regain <= 5) {
		return 0, outside("the regain", "it is "+percent(regain), "0 % to 500 % of the dry mass", "")
	}
	return regain / (1 + regain), nil
}

// RegainFromContent returns moisture over the dry mass from moisture in the wet
// mass.
//
//	R = C / (1 − C)
//
// Given: content C, water over wet mass.
//
// Valid: 0 to 80 %.
// Accuracy: exact.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: arithmetic.
// Checked: reference_test.go, TestBlends.
func RegainFromContent(content units.Fraction) (units.Fraction, error) {
	if !(content >= 0 && content <= 0.8) {
		return 0, outside("the moisture content", "it is "+percent(content), "0 % to 80 % of the wet mass", "")
	}
	return content / (1 - content), nil
}

// Dense is one fibre of a blend for the reckoning of volume: its share by mass and
// its density in g/cm³.
type Dense struct {
	Share   units.Fraction
	Density float64
}

func checkDense(parts []Dense) error {
	shares := make([]units.Fraction, len(parts))
	for i, p := range parts {
		shares[i] = p.Share
		if !(p.Density >= 0.5 && p.Density <= 20) {
			return outside(fmt.Sprintf("fibre %d", i+1), fmt.Sprintf("its density is %v g/cm³", p.Density), "0.5 to 20 g/cm³", "")
		}
	}
	return checkShares(shares)
}

// BlendDensity returns the density of the fibre in a blend, in g/cm³.
//
//	d = Σ w / Σ (w / d_i)
//
// Given: for each fibre its share by mass w and its density; all densities taken
// at the same moisture.
//
// Valid: shares over 0 that add to 1 within 0.02 and are taken in proportion;
// densities 0.5 to 20 g/cm³.
// Accuracy: exact. Averaging the densities themselves reads high.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: arithmetic: volumes add, densities do not.
// Checked: reference_test.go, TestBlends.
func BlendDensity(parts []Dense) (float64, error) {
	if err := checkDense(parts); err != nil {
		return 0, err
	}
	mass, volume := 0.0, 0.0
	for _, p := range parts {
		mass += float64(p.Share)
		volume += float64(p.Share) / p.Density
	}
	return mass / volume, nil
}

// VolumeShares returns the share of each fibre by volume.
//
//	v = (w / d) / Σ (w / d)
//
// Given: for each fibre its share by mass w and its density d. The result has the
// same length and order and is new.
//
// Valid: as [BlendDensity].
// Accuracy: exact.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: arithmetic.
// Checked: reference_test.go, TestBlends.
func VolumeShares(parts []Dense) ([]units.Fraction, error) {
	if err := checkDense(parts); err != nil {
		return nil, err
	}
	out := make([]units.Fraction, len(parts))
	for i, p := range parts {
		out[i] = p.Share / units.Fraction(p.Density)
	}
	return normal(out), nil
}

// LabelTolerance is how far a test may miss the label of a blend: 3 points of the
// total, for each fibre. Regulation (EU) No 1007/2011, Art. 20(3) (read).
const LabelTolerance units.Fraction = 0.03

// NamedFromUS is the share of the mass from which the label of a US garment names a
// fibre by its generic name. 16 CFR 303.6 (read).
const NamedFromUS units.Fraction = 0.05

// WithinLabelTolerance reports whether a tested blend agrees with its label, and
// the greatest difference of any fibre.
//
//	|tested − label| ≤ 3 points, for each fibre
//
// Given: shares on the label and found, of the same fibres in the same order, both
// with agreed moisture.
//
// Valid: two lists of the same length; labelled shares over 0; found shares 0 to 1;
// each list adds to 1 within 0.02.
// Accuracy: exact to the rounding of the shares; a difference of 3 points just
// passes. The law has further rules that this does not judge.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: Regulation (EU) No 1007/2011, Art. 20(3) (read).
// Checked: reference_test.go, TestBlends.
func WithinLabelTolerance(label, tested []units.Fraction) (ok bool, most units.Fraction, err error) {
	if len(label) != len(tested) {
		return false, 0, outside("the test", fmt.Sprintf("it has %d fibres, the label %d", len(tested), len(label)), "the same fibres in the same order", "")
	}
	if err := checkShares(label); err != nil {
		return false, 0, err
	}
	sum := units.Fraction(0)
	for i, s := range tested {
		if !(s >= 0 && s <= 1) {
			return false, 0, outside(fmt.Sprintf("fibre %d", i+1), "its share is "+percent(s), "0 % to 100 %", "")
		}
		sum += s
		most = max(most, s-label[i], label[i]-s)
	}
	if math.Abs(float64(sum-1)) > shareSlack+1e-9 {
		return false, 0, outside("the test", "its shares add up to "+percent(sum), "100 %, or within 2 points of it", "")
	}
	return most <= LabelTolerance+1e-9, most, nil
}

// Residues are the weighings of a blend of three fibres by two solvents on two
// specimens: the first solvent takes the first fibre off specimen 1, the second
// takes the second fibre off specimen 2.
type Residues struct {
	Mass1, Left1 float64 // specimen 1 before and after
	Mass2, Left2 float64 // specimen 2 before and after
	// What each solvent costs the fibres it should leave alone, as a factor on
	// their mass: D1 and D2 the second and third fibre in the first solvent, D3 and
	// D4 the first and third in the second.
	D1, D2, D3, D4 float64
}

// DrySharesFromResidues returns the dry shares of a blend of three fibres from the
// residues that two solvents leave.
//
//	P₁ = d₂/d₁ − d₂ r₁/m₁ + (r₂/m₂)(1 − d₂/d₁)
//	P₂ = d₄/d₃ − d₄ r₂/m₂ + (r₁/m₁)(1 − d₄/d₃)
//	P₃ = 1 − P₁ − P₂
//
// Given: the masses m before and r after, in any one unit, and the correction
// factors d.
//
// Valid: 0 ≤ r ≤ m, m over 0; factors 0.5 to 2; no share below 0. The solvents are
// for a laboratory with an extractor, not for the sewing room.
// Accuracy: exact arithmetic; the law prints its example to 0.01 points, cut short.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: Regulation (EU) No 1007/2011, Annex VIII, chapter 3 (read).
// Checked: reference_test.go, TestBlends.
func DrySharesFromResidues(r Residues) ([3]units.Fraction, error) {
	for _, s := range [][2]float64{{r.Mass1, r.Left1}, {r.Mass2, r.Left2}} {
		if !(s[0] > 0 && s[1] >= 0 && s[1] <= s[0]) || math.IsInf(s[0], 0) {
			return [3]units.Fraction{}, outside("the residue", fmt.Sprintf("it is %v of %v", s[1], s[0]), "a mass over 0 before, and no more than it after", "")
		}
	}
	for _, d := range []float64{r.D1, r.D2, r.D3, r.D4} {
		if !(d >= 0.5 && d <= 2) {
			return [3]units.Fraction{}, outside("the correction factor", fmt.Sprintf("it is %v", d), "0.5 to 2", "")
		}
	}
	a, b := r.Left1/r.Mass1, r.Left2/r.Mass2
	p1 := r.D2/r.D1 - r.D2*a + b*(1-r.D2/r.D1)
	p2 := r.D4/r.D3 - r.D4*b + a*(1-r.D4/r.D3)
	out := [3]units.Fraction{units.Fraction(p1), units.Fraction(p2), units.Fraction(1 - p1 - p2)}
	for i, p := range out {
		if p < 0 {
			return [3]units.Fraction{}, &fault.Fault{
				Kind:     fault.OutsideRange,
				What:     fmt.Sprintf("fibre %d comes out at %s", i+1, percent(p)),
				Expected: "shares of 0 % and more",
				Mend:     "weigh both specimens again, dry",
			}
		}
	}
	return out, nil
}
