// Package units holds the quantities that cloth is measured in, one type per
// quantity so that swapped arguments do not compile, and reads and prints them
// as makers write them: metric and imperial, fractions of an inch included.
//
// Each type is stored in one base unit, named in its comment.
package units

// Length is a length in centimetres, the maker's unit.
type Length float64

// Units of length.
const (
	Millimetre Length = 0.1
	Centimetre Length = 1
	Metre      Length = 100
	Inch       Length = 2.54
	Yard       Length = 91.44
)

// ArealMass is mass per area in grams per square metre.
type ArealMass float64

// Ounce is an avoirdupois ounce in grams.
const Ounce = 28.349523125

// Units of areal mass. An ounce per square yard is 28.349523125 g over
// 0.83612736 m² (GNU Units 2.22); a momme, as a silk weight, is one pound
// (453.59237 g) over a strip 45 in (1.143 m) wide and 100 yd (91.44 m) long.
const (
	GramPerSquareMetre ArealMass = 1
	OuncePerSquareYard ArealMass = 28.349523125 / 0.83612736
	MommeWeight        ArealMass = 453.59237 / (1.143 * 91.44)
)

// Rigidity is flexural rigidity per width in micronewton metres (µN·m).
type Rigidity float64

// Units of rigidity: 1 mg·cm = 0.0980665 µN·m, 1 gf·cm²/cm = 1000 mg·cm.
const (
	MicronewtonMetre  Rigidity = 1
	MilligramCm       Rigidity = 0.0980665
	GramForceCm2PerCm Rigidity = 98.0665
)

// Angle is an angle in degrees.
type Angle float64

// Temperature is degrees Celsius.
type Temperature float64

// Fraction is a part of one: 0.05 is 5 %.
type Fraction float64
