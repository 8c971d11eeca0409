package yarn

import (
	"fmt"
	"math"

	"tenter/fibres/units"
)

// fullCover is the cover factor at which round cotton yarns lie side by side.
const fullCover = 28

// CoverFactor returns how closely one system of threads covers the cloth, on the
// scale where 28 is side by side.
//
//	K = n / √Ne   (n per inch)   = 0.10453 · n √tex   (n per cm)
//
// Given: the threads; their crimp is not used.
//
// Valid: sett over 0, at most 300 per cm; yarn 0.01 to 100,000 tex. Meant for spun
// yarns about as dense as cotton; filament yarns lie flat and cover more.
// Accuracy: exact by its definition; as a picture of the cloth, some 10 %.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: Peirce 1937, J. Textile Inst. 28, T45 (from memory).
// Checked: reference_test.go, TestCoverOfTheWorkedExample.
func CoverFactor(t Threads) (float64, error) {
	if err := t.check("thread"); err != nil {
		return 0, err
	}
	ne := systems[Cotton].k / float64(t.Yarn)
	return float64(t.Sett) * 2.54 / math.Sqrt(ne), nil
}

// ClothCover returns the cover factor of the cloth from that of warp and weft.
//
//	Kc = K₁ + K₂ − K₁ K₂ / 28
//
// Given: the cover factors of warp and weft, from [CoverFactor].
//
// Valid: each over 0; above 28, where threads ride over each other, it counts as 28.
// Accuracy: exact by its definition; as a picture of the cloth, some 10 %.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: Peirce 1937, J. Textile Inst. 28, T45 (from memory).
// Checked: reference_test.go, TestCoverOfTheWorkedExample.
func ClothCover(warp, weft float64) (float64, error) {
	if !(warp > 0 && weft > 0) || math.IsInf(warp, 0) || math.IsInf(weft, 0) {
		return 0, outside("the cover", fmt.Sprintf("it is %v and %v", warp, weft), "two cover factors over 0", "")
	}
	warp, weft = min(warp, fullCover), min(weft, fullCover)
	return warp + weft - warp*weft/fullCover, nil
}

// OpenShareFromCover returns the part of the cloth's area that no thread covers.
//
//	open = 1 − Kc / 28   = (1 − K₁/28)(1 − K₂/28)
//
// Given: the cover factor of the cloth, from [ClothCover].
//
// Valid: 0 to 28.
// Accuracy: for round yarns without hairs. Flattened or hairy yarns close half of
// it and more.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: derived from the definition of the cover factor.
// Checked: property_test.go, TestOpenShareIsTheProductOfTheGaps.
func OpenShareFromCover(cloth float64) (units.Fraction, error) {
	if !(cloth >= 0 && cloth <= fullCover) {
		return 0, outside("the cloth's cover", fmt.Sprintf("it is %v", cloth), "0 to 28", "")
	}
	return units.Fraction(1 - cloth/fullCover), nil
}

// ShowThrough is how much is seen through a cloth, as the trade says it.
type ShowThrough int

// From opaque to sheer.
const (
	ShowNone ShowThrough = iota
	ShowLow
	ShowMedium
	ShowHigh
)

// ShowThroughWords is the scale in words, in the order of the constants.
var ShowThroughWords = []string{"none", "low", "medium", "high"}

// openOf are the open shares above which a cloth shows more: common practice, set
// so that close shirting is low, voile and organdie are high.
var openOf = [...]units.Fraction{0.06, 0.2, 0.35}

// ShowThroughFromOpenShare returns what is seen through an undyed cloth of middling
// yarns, with the step on either side that colour and yarn decide.
//
// Given: the open share, from [OpenShareFromCover].
//
// Valid: 0 to 1.
// Accuracy: one step either way, which is what low and high say. Colour, lustre
// and what lies beneath decide more than the gaps: white shows more than dark.
// Hold the cloth over print to know.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: common practice; the steps are ours.
// Checked: reference_test.go, TestShowThroughOfKnownCloths.
func ShowThroughFromOpenShare(open units.Fraction) (low, typical, high ShowThrough, err error) {
	if !(open >= 0 && open <= 1) {
		return 0, 0, 0, outside("the open share", "it is "+percent(open), "0 % to 100 %", "")
	}
	for _, step := range openOf {
		if open > step {
			typical++
		}
	}
	return max(typical-1, ShowNone), typical, min(typical+1, ShowHigh), nil
}
