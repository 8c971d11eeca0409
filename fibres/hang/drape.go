package hang

import (
	"fmt"
	"math"

	"tenter/fibres/units"
)

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

// sheetModel is the drape coefficient in per cent of a whole sheet in the usual
// test, at the bending lengths sheetAt in cm, as fibres/drape computes it (cell 7.5 mm, 6 mm at
// 1 cm; mean of three starts, which lay within 2.6 points): shear stiffness 20 N/m, a guess; warp c 1.14 times the
// weft's and twist 0.8 of bending, the medians of 251 measured cloths.
// Source: own computation, good to about 8 points.
var (
	sheetAt    = [...]float64{0, 1, 1.5, 2, 2.5, 3, 4, 5, 6, 9}
	sheetModel = [...]float64{0, 24.9, 44.2, 64.6, 76.6, 85.0, 94.8, 98.4, 99.1, 100}
)

// DrapeCoefficientSheet returns the drape coefficient in per cent by a model of
// the whole sheet in three dimensions, read from a table.
//
// Given: the overall bending length; disc 18 cm, specimen 30 cm.
//
// Valid: c of 0 or more. Solved from 1 to 6 cm; a straight line to 0 and to 100 beyond.
// Accuracy: 8 points or so for a woven cloth: friction and lasting creases are left
// out, and for limp cloth and for stiff it depends on a shear stiffness that was guessed.
// Errors: none; NaN out of range.
// Source: own computation: energy of a sheet on a square grid, minimised.
// Checked: reference_test.go, TestDrapeCoefficient.
func DrapeCoefficientSheet(c units.Length) float64 {
	if !(c >= 0) {
		return math.NaN()
	}
	last := len(sheetAt) - 1
	for i := range last {
		if a, b := sheetAt[i], sheetAt[i+1]; float64(c) < b {
			return sheetModel[i] + (float64(c)-a)/(b-a)*(sheetModel[i+1]-sheetModel[i])
		}
	}
	return sheetModel[last]
}

// DrapeCoefficient returns the drape coefficient in per cent of a cloth whose
// bending length was measured: the mean of three models, and 13 points either
// way, or as far as the models disagree where that is more.
//
// Given: the overall bending length.
//
// Valid: c of 0 or more; disc 18 cm, specimen 30 cm.
// Accuracy: no better than it says. 13 points is the gap of strips and regression (root
// mean square over c of 1 to 4 cm). No source that was read pairs a bending length
// with a standard drape coefficient, so none of the models could be tried on cloth.
// Errors: none; NaN out of range.
// Source: [DrapeCoefficientStrips], [DrapeCoefficientRegression] at its lowest shear
// term, [DrapeCoefficientSheet].
// Checked: reference_test.go, TestDrapeCoefficient.
func DrapeCoefficient(c units.Length) (low, typical, high float64) {
	return drape(c, regressionShear, 13)
}

// DrapeCoefficientEstimated is [DrapeCoefficient] where the bending length was
// itself only estimated: 20 points either way.
//
// Given: the overall bending length.
//
// Valid: c of 0 or more; disc 18 cm, specimen 30 cm.
// Accuracy: no better than it says.
// Errors: none; NaN out of range.
// Source: as [DrapeCoefficient].
// Checked: reference_test.go, TestDrapeCoefficient.
func DrapeCoefficientEstimated(c units.Length) (low, typical, high float64) {
	return drape(c, regressionShear, 20)
}

// DrapeCoefficientSheared is [DrapeCoefficient] where the shear angle at a small
// stress was measured too; only the regression knows what to do with it.
//
// Given: the overall bending length; the shear angle.
//
// Valid: c and shear of 0 or more; disc 18 cm, specimen 30 cm.
// Accuracy: as [DrapeCoefficient]; the angle's definition is not known for certain.
// Errors: none; NaN out of range.
// Source: as [DrapeCoefficient].
// Checked: reference_test.go, TestDrapeCoefficient.
func DrapeCoefficientSheared(c units.Length, shear units.Angle) (low, typical, high float64) {
	return drape(c, shear, 13)
}

func drape(c units.Length, shear units.Angle, half float64) (low, typical, high float64) {
	strips, sheet := DrapeCoefficientStrips(c, testDisc, testSpecimen), DrapeCoefficientSheet(c)
	recalled := DrapeCoefficientRegression(c, shear)
	typical = (strips + sheet + recalled) / 3
	low = math.Min(typical-half, math.Min(strips, math.Min(sheet, recalled)))
	high = math.Max(typical+half, math.Max(strips, math.Max(sheet, recalled)))
	return percent(low), typical, percent(high)
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
