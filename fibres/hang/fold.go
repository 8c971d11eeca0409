package hang

import (
	"fmt"
	"math"

	"tenter/fibres/units"
)

// FoldWidth returns how wide the folds of a gathered, hanging panel come, near
// its gathered edge.
//
//	width = 2 √π (G / (w H))^(1/4) H^(1/2) = 3.545 c^(3/4) H^(1/4)
//
// Given: the bending length round the folds (across the hang); the hanging length H.
//
// Valid: both over 0.
// Accuracy: order of magnitude: low and high are a factor of 2 either way. Fold
// shapes have several balances of nearly equal energy, so no width is promised.
// Errors: none; NaN for a negative figure or NaN.
// Source: Cerda and Mahadevan 2003, Phys. Rev. Lett. 90, 074302 (from memory), with
// the panel's own weight put in for the tension.
// Checked: reference_test.go, TestFoldWidth.
func FoldWidth(c, hang units.Length) (low, typical, high units.Length) {
	if !(c >= 0 && hang >= 0) {
		n := units.Length(math.NaN())
		return n, n, n
	}
	w := units.Length(2 * math.Sqrt(math.Pi) * math.Pow(float64(c), 0.75) * math.Sqrt(math.Sqrt(float64(hang))))
	return w / 2, w, w * 2
}

// FoldCount returns how many folds may lie round a hem.
//
// Given: the length of the hem along the cloth; bending length and hanging length
// as in [FoldWidth].
//
// Valid: all over 0.
// Accuracy: as [FoldWidth]: a range, never a count to promise.
// Errors: none; 0, 0 where a figure is not over 0.
// Source: as [FoldWidth].
// Checked: reference_test.go, TestFoldWidth.
func FoldCount(hem, c, hang units.Length) (low, high int) {
	if !positive(float64(hem)) || !positive(float64(c)) || !positive(float64(hang)) {
		return 0, 0
	}
	narrow, _, wide := FoldWidth(c, hang)
	const most = 1 << 30
	return int(math.Min(math.Floor(float64(hem/wide)), most)), int(math.Min(math.Ceil(float64(hem/narrow)), most))
}

// The usual test: a disc of 18 cm carries a round of cloth of 30 cm.
const (
	testDisc     units.Length = 18
	testSpecimen units.Length = 30
)

// regressionShear is the shear angle in degrees at which the recalled regression
// is lowest, and regressionPeak the bending length in cm at which it turns down;
// both are held there.
const (
	regressionShear = 2.59 / (2 * 0.0461)
	regressionPeak  = 35.6 / (2 * 3.61)
)

// DrapeCoefficientStrips returns the drape coefficient in per cent by a model of
// loose strips: every radius hangs as its own heavy elastica.
//
// Given: bending length; diameters of the disc and of the round specimen.
//
// Valid: c of 0 or more, 0 < disc < specimen.
// Accuracy: predicts how the coefficient changes with size to about 1 point over
// four cloths; its level is unproven, and it knows neither shear nor folds.
// Errors: none; NaN out of range.
// Source: own derivation.
// Checked: reference_test.go, TestStripModel.
func DrapeCoefficientStrips(c, disc, specimen units.Length) float64 {
	if !(c >= 0 && disc > 0 && specimen > disc) {
		return math.NaN()
	}
	r, full := float64(disc)/2, float64(specimen)/2
	s := r + float64(StandOff(units.Length(full-r), c))
	return 100 * (s*s - r*r) / (full*full - r*r)
}

// DrapeCoefficientRegression returns the drape coefficient in per cent by a
// regression on bending length C and shear angle A.
//
//	DC = 35.6 C − 3.61 C² − 2.59 A + 0.0461 A² + 17.0, held at its peak C = 4.93 cm
//
// Given: bending length in the usual test (disc 18 cm, specimen 30 cm); shear angle
// at a small shear stress.
//
// Valid: c and shear of 0 or more; kept within 0 to 100 %.
// Accuracy: unverified. Weak: beside another model it is one opinion, not truth.
// Errors: none; NaN out of range.
// Source: Cusick 1965, J. Textile Inst. 56, T596 (from memory).
// Checked: reference_test.go, TestRegressionArithmetic.
func DrapeCoefficientRegression(c units.Length, shear units.Angle) float64 {
	if !(c >= 0 && shear >= 0) {
		return math.NaN()
	}
	x, a := math.Min(float64(c), regressionPeak), math.Min(float64(shear), regressionShear)
	return percent(35.6*x - 3.61*x*x - 2.59*a + 0.0461*a*a + 17)
}

func percent(x float64) float64 {
	if math.IsNaN(x) {
		return x
	}
	return math.Max(0, math.Min(100, x))
}

// DrapeCoefficient returns the drape coefficient in per cent of a cloth whose
// bending length was measured: the mean of the strip model and the recalled
// regression at its lowest shear term, and 13 points either way.
//
// Given: the overall bending length.
//
// Valid: c of 0 or more; disc 18 cm, specimen 30 cm.
// Accuracy: 13 points is the gap of the two models (root mean square over c of 1 to
// 4 cm). No source that was read pairs a bending length with a standard drape coefficient.
// Errors: none; NaN out of range.
// Source: [DrapeCoefficientStrips] and [DrapeCoefficientRegression].
// Checked: reference_test.go, TestDrapeCoefficient.
func DrapeCoefficient(c units.Length) (low, typical, high float64) {
	return drape(c, regressionShear, 13)
}

// DrapeCoefficientEstimated is [DrapeCoefficient] where the bending length was
// itself only estimated: 20 points either way.
func DrapeCoefficientEstimated(c units.Length) (low, typical, high float64) {
	return drape(c, regressionShear, 20)
}

func drape(c units.Length, shear units.Angle, half float64) (low, typical, high float64) {
	typical = (DrapeCoefficientStrips(c, testDisc, testSpecimen) + DrapeCoefficientRegression(c, shear)) / 2
	return percent(typical - half), typical, percent(typical + half)
}

// DrapeCoefficientSheared is [DrapeCoefficient] where the shear angle was measured
// too: the mean of the two models at that shear, and 13 points either way or half
// their gap, whichever is more.
func DrapeCoefficientSheared(c units.Length, shear units.Angle) (low, typical, high float64) {
	gap := math.Abs(DrapeCoefficientStrips(c, testDisc, testSpecimen) - DrapeCoefficientRegression(c, shear))
	return drape(c, shear, math.Max(13, gap/2))
}

// DrapeCoefficientFromShadow returns the drape coefficient in per cent from the
// area of the shadow of a draped round: 0 where it is the disc's, 100 where it is
// the specimen's.
//
//	DC = 100 (shadow − disc) / (specimen − disc)
//
// Given: three areas in one unit.
//
// Valid: 0 < disc < specimen, shadow from disc to specimen.
// Accuracy: exact; the same cloth draped again may differ by several points.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: definition of the test, seen on a standard's first page and teaching pages.
// Checked: reference_test.go, TestDrapeCoefficientDefinition.
func DrapeCoefficientFromShadow(shadow, disc, specimen float64) (float64, error) {
	if !(disc > 0 && specimen > disc) || math.IsInf(specimen, 0) {
		return 0, outside("areas", fmt.Sprintf("disc %v, specimen %v", disc, specimen), "0 < disc < specimen", "give the areas of the two rounds, not their diameters")
	}
	if !(shadow >= disc && shadow <= specimen) {
		return 0, outside("shadow", fmt.Sprintf("it is %v", shadow), fmt.Sprintf("from the disc's %v to the specimen's %v", disc, specimen), "measure the shadow with the disc in it, in the same unit")
	}
	return 100 * (shadow - disc) / (specimen - disc), nil
}

// RectangleOverDisc returns the drape coefficient in per cent of a rectangle of
// cloth laid centrally over a disc, by the model of loose strips.
//
// Given: bending length; the diameter of the disc; the sides of the rectangle.
//
// Valid: c of 0 or more; each side longer than the disc is wide.
// Accuracy: predicts a large sheet from a small one to about 2 points over four
// cloths; a kitchen test to compare two cloths, not a standard drape coefficient.
// Errors: none; NaN out of range.
// Source: own derivation.
// Checked: reference_test.go, TestRectangleOverDisc.
func RectangleOverDisc(c, disc, short, long units.Length) float64 {
	r, a, b := float64(disc)/2, float64(short)/2, float64(long)/2
	if !(c >= 0 && r > 0 && a > r && b > r) || math.IsInf(a, 0) || math.IsInf(b, 0) {
		return math.NaN()
	}
	// A quarter is enough; the middle of each small angle stands for it.
	const steps = 360
	shadow, full := 0.0, 0.0
	for i := range steps {
		sin, cos := math.Sincos((float64(i) + 0.5) * math.Pi / 2 / steps)
		edge := math.Min(a/cos, b/sin)
		s := r + float64(StandOff(units.Length(edge-r), c))
		shadow += s*s - r*r
		full += edge*edge - r*r
	}
	return 100 * shadow / full
}

// BendingLengthFromRectangle returns the bending length that makes a rectangle of
// cloth over a disc cast a shadow of the given drape coefficient: [RectangleOverDisc]
// read backwards.
//
// Given: the drape coefficient in per cent; the disc; the sides of the rectangle.
//
// Valid: each side longer than the disc is wide, a coefficient of 0.5 to 99.5.
// Accuracy: consistent between sizes of sheet to 8 % over four cloths; its level is unproven.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: own derivation.
// Checked: reference_test.go, TestRectangleOverDisc.
func BendingLengthFromRectangle(percent float64, disc, short, long units.Length) (units.Length, error) {
	if math.IsNaN(RectangleOverDisc(1, disc, short, long)) {
		return 0, outside("rectangle over disc", fmt.Sprintf("%v by %v cm over %v cm", float64(short), float64(long), float64(disc)), "each side longer than the disc is wide", "take a smaller plate")
	}
	if !(percent >= 0.5 && percent <= 99.5) {
		return 0, outside("drape coefficient", fmt.Sprintf("it is %v %%", percent), "0.5 to 99.5 %", "take a larger plate for a limp cloth, a smaller one for a stiff one")
	}
	a, b := math.Log(1e-3*float64(disc)), math.Log(1e3*float64(long))
	for b-a > 1e-10 {
		m := (a + b) / 2
		if RectangleOverDisc(units.Length(math.Exp(m)), disc, short, long) < percent {
			a = m
		} else {
			b = m
		}
	}
	return units.Length(math.Exp((a + b) / 2)), nil
}
