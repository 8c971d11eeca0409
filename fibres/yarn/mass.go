package yarn

import (
	"fmt"
	"math"

	"tenter/fibres/units"
)

// Sett is threads per centimetre.
type Sett float64

// ThreadsPerInch is one thread in an inch.
const ThreadsPerInch Sett = 1 / 2.54

// Threads is one system of a woven cloth, warp or weft: how close, how heavy, and
// by how much the yarn is longer than the cloth it lies in (0.08: 108 cm of yarn
// in 100 cm of cloth).
type Threads struct {
	Sett  Sett
	Yarn  LinearDensity
	Crimp units.Fraction
}

// maxSett is closer than the finest silk; maxCrimp is more than a crêpe's.
const (
	maxSett                 = 300
	maxCrimp units.Fraction = 1
)

func (t Threads) check(which string) error {
	if !(t.Sett > 0 && t.Sett <= maxSett) {
		return outside("the "+which+" sett", fmt.Sprintf("it is %v threads per cm", float64(t.Sett)), fmt.Sprintf("over 0, at most %d threads per cm", maxSett), "")
	}
	if err := yarnWeight(t.Yarn); err != nil {
		return err
	}
	if !(t.Crimp >= 0 && t.Crimp <= maxCrimp) {
		return outside("the "+which+" crimp", "it is "+percent(t.Crimp), "0 % to 100 %: how much longer the yarn is than the cloth", "")
	}
	return nil
}

// ArealMassFromSett returns the mass of a woven cloth from its threads.
//
//	W = [n₁ T₁ (1 + k₁) + n₂ T₂ (1 + k₂)] / 10
//
// Given: warp and weft, each with sett n in threads per cm, yarn T in tex, crimp k.
//
// Valid: sett over 0, at most 300 per cm; yarn 0.01 to 100,000 tex; crimp 0 to 100 %.
// Accuracy: exact for the yarn as it lies in the cloth. A yarn's nominal count,
// size, finish and moisture each move it by some per cent: bleaching takes 3 to
// 6 % out, size and filling put more in (common practice).
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: geometry of cloth, as in textbooks (from memory).
// Checked: reference_test.go, TestMassOfTheWorkedExample.
func ArealMassFromSett(warp, weft Threads) (units.ArealMass, error) {
	if err := warp.check("warp"); err != nil {
		return 0, err
	}
	if err := weft.check("weft"); err != nil {
		return 0, err
	}
	mass := func(t Threads) float64 { return float64(t.Sett) * float64(t.Yarn) * (1 + float64(t.Crimp)) }
	return units.ArealMass((mass(warp) + mass(weft)) / 10), nil
}

// ArealMassFromRunningMass returns mass per area from mass per running length at
// a width, as cloth is often sold.
//
//	W = m / width
//
// Given: m in grams per running metre (ounces per running yard times 31.0034);
// width of the cloth.
//
// Valid: m over 0; width from 5 cm to 10 m.
// Accuracy: exact; the width between the selvedges may be 1 to 3 cm less than sold.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: arithmetic.
// Checked: reference_test.go, TestRunningMassAgainstGNUUnits.
func ArealMassFromRunningMass(gramsPerMetre float64, width units.Length) (units.ArealMass, error) {
	if !(gramsPerMetre > 0) || math.IsInf(gramsPerMetre, 0) {
		return 0, outside("the running mass", fmt.Sprintf("it is %v g/m", gramsPerMetre), "grams per running metre, over 0", "")
	}
	if !(width >= 5*units.Centimetre && width <= 10*units.Metre) {
		return 0, outside("the width", "it is "+width.String(), "5 cm to 10 m", "")
	}
	return units.ArealMass(gramsPerMetre / float64(width/units.Metre)), nil
}

// ArealMassFromSample returns mass per area from a piece that was weighed.
//
//	W = m / area
//
// Given: mass in grams; area in square centimetres.
//
// Valid: both over 0; a result from 5 to 2000 g/m².
// Accuracy: that of the scale and the cutting: on 100 cm², 0.01 g is 1 g/m² and
// 0.5 mm on each side of a square 2 %. Weigh several pieces with different threads,
// 5 cm clear of the selvedge.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: a garment laboratory's note on weighing cloth (read).
// Checked: reference_test.go, TestWeighedSamples.
func ArealMassFromSample(grams, areaCM2 float64) (units.ArealMass, error) {
	if !(grams > 0) || !(areaCM2 > 0) || math.IsInf(grams, 0) || math.IsInf(areaCM2, 0) {
		return 0, outside("the sample", fmt.Sprintf("it is %v g on %v cm²", grams, areaCM2), "grams and square centimetres, both over 0", "")
	}
	w := units.ArealMass(grams / areaCM2 * 1e4)
	if err := units.Within("the mass per area", w, units.ArealMassLimits); err != nil {
		return 0, err
	}
	return w, nil
}
