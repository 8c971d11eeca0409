package yarn

import (
	"fmt"
	"math"

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
