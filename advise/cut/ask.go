package cut

import (
	"fmt"
	"math"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// Drops is cloth for hangings of several widths side by side.
type Drops struct {
	Widths int          // of cloth, side by side
	Cut    units.Length // each, with hem and heading
	Whole  units.Length // each, rounded up to whole repeats of the figure
	Length units.Length // to buy: all widths but the last in whole repeats
	Shop   units.Length // to buy as a shop reckons: all of them in whole repeats
}

// DropsForCurtain returns the widths of cloth and the length to buy for a gathered
// hanging.
//
//	widths = ⌈(track · fullness + sides) / cloth⌉
//	length = (widths − 1) · ⌈cut / repeat⌉ · repeat + cut,   cut = drop + turnings
//
// Given: the track; fullness, how many times the track the cloth is; sides, for side
// hems, returns and overlap; the width of the cloth; the finished drop; turnings,
// for heading and hem together; the repeat of the figure along the cloth, 0 for
// none.
//
// Valid: track and drop over 0; fullness from 1 to 5; at most 500 widths.
// Accuracy: exact. A shop takes whole repeats for the last width as well, see
// [Drops].
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: worked examples of home economics (read), see the table of the check.
// Checked: worked_test.go, TestWorkedExamples.
func DropsForCurtain(track units.Length, fullness float64, sides, cloth, drop, turnings, repeat units.Length) (Drops, error) {
	for _, x := range []struct {
		word string
		l    units.Length
	}{{"the track", track}, {"the cloth's width", cloth}, {"the drop", drop}} {
		if !(x.l > 0 && x.l <= maxPart) {
			return Drops{}, sizeFault(x.word, x.l)
		}
	}
	if !(sides >= 0 && turnings >= 0 && repeat >= 0) {
		return Drops{}, sizeFault("sides, turnings or repeat", min(sides, turnings, repeat))
	}
	if !(fullness >= 1 && fullness <= 5) {
		return Drops{}, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("a fullness of %g", fullness), Expected: "1 to 5 times the track"}
	}
	n := int(math.Ceil((float64(track)*fullness+float64(sides))/float64(cloth) - 1e-9))
	if n > maxCount {
		return Drops{}, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("%d widths", n), Expected: fmt.Sprintf("at most %d", maxCount)}
	}
	d := Drops{Widths: n, Cut: drop + turnings}
	d.Whole = units.Length(up(float64(d.Cut), float64(repeat)))
	d.Length = units.Length(n-1)*d.Whole + d.Cut
	d.Shop = units.Length(n) * d.Whole
	return d, nil
}

// RunningMass returns what a running length of cloth weighs, in grams per metre.
//
//	mass per metre = mass per area · width
//
// Given: mass per area; the whole width, selvedges included.
//
// Valid: both over 0.
// Accuracy: exact; the trade weighs some cloth without its selvedges.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: the definitions of the units.
// Checked: worked_test.go, TestWorkedExamples.
func RunningMass(m units.ArealMass, width units.Length) (gramsPerMetre float64, err error) {
	if !(m > 0) || !(width > 0) || math.IsInf(float64(m)*float64(width), 0) {
		return 0, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("cloth of %s, %s wide", m, width), Expected: "a mass and a width over 0"}
	}
	return float64(m) * float64(width/units.Metre), nil
}

// ArealFromRunning returns the mass per area of cloth of which a running metre
// weighs so much: [RunningMass] read back.
//
// Given: grams of a running metre; the whole width.
//
// Valid: both over 0.
// Accuracy: exact.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: the definitions of the units.
// Checked: worked_test.go, TestWorkedExamples.
func ArealFromRunning(gramsPerMetre float64, width units.Length) (units.ArealMass, error) {
	if !(gramsPerMetre > 0) || !(width > 0) || math.IsInf(gramsPerMetre, 0) {
		return 0, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("%g g to the metre, %s wide", gramsPerMetre, width), Expected: "a mass and a width over 0"}
	}
	return units.ArealMass(gramsPerMetre / float64(width/units.Metre)), nil
}

// LongestCircle returns the longest part circle that goes on a cloth, from its
// inner edge to the hem: [ClothForCircle] read back.
//
//	length = W/sin φ − r  to 90°,   W − r  to 180°,   W/(1 − sin φ) − r  to 270°
//
// Given: W, the width between the selvedges less the allowances; r, the radius of
// the inner edge; φ, the angle of one part.
//
// Valid: W over r; r from 0; φ over 0 and at most 270°.
// Accuracy: exact, seam line to seam line.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: the box round a part of a ring.
// Checked: ask_test.go, TestLongestCircleIsClothForCircleReadBack.
func LongestCircle(width, radius units.Length, angle units.Angle) (units.Length, error) {
	one, err := ClothForCircle(0, 1, angle) // the box grows with the outer radius alone
	if err != nil {
		return 0, err
	}
	if !(radius >= 0) || !(width > 0) || math.IsInf(float64(width), 0) {
		return 0, sizeFault("the width or the radius", min(width, radius))
	}
	length := width/one - radius
	if length <= 0 {
		return 0, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("nothing is left of %s outside a radius of %s", width.Centimetres(), radius.Centimetres()), Expected: "a wider cloth, or more parts"}
	}
	return length, nil
}

// needleSizes are the sizes of machine needles: the metric one, which is the blade
// in hundredths of a millimetre, and the one of the United States (common practice:
// both stand on the packet).
var needleSizes = [][2]float64{{60, 8}, {65, 9}, {70, 10}, {75, 11}, {80, 12}, {90, 14}, {100, 16}, {110, 18}, {120, 19}}

// NeedleUS returns the US size of the machine needle nearest to a metric size.
//
// Given: the metric size.
//
// Valid: any number; sizes that are made run from metric 60 to 120, US 8 to 19.
// Accuracy: the nearest size that is made.
// Errors: none.
// Source: common practice: both sizes stand on the packet.
// Checked: ask_test.go, TestNeedleSizesBothWays.
func NeedleUS(metric float64) float64 { return nearestNeedle(metric, 0)[1] }

// NeedleMetric returns the metric size of the machine needle nearest to a US size.
//
// Given: the US size.
//
// Valid: any number; sizes that are made run from metric 60 to 120, US 8 to 19.
// Accuracy: the nearest size that is made.
// Errors: none.
// Source: common practice: both sizes stand on the packet.
// Checked: ask_test.go, TestNeedleSizesBothWays.
func NeedleMetric(us float64) float64 { return nearestNeedle(us, 1)[0] }

func nearestNeedle(v float64, by int) [2]float64 {
	best := needleSizes[0]
	for _, n := range needleSizes {
		if math.Abs(n[by]-v) < math.Abs(best[by]-v) {
			best = n
		}
	}
	return best
}
