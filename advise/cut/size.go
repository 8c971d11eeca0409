package cut

import (
	"fmt"
	"math"

	"tenter/fibres/fault"
	"tenter/fibres/shrink"
	"tenter/fibres/units"
)

// maxAllowance is wider than any seam or hem allowance.
const maxAllowance units.Length = 50

// CutSize returns the size to cut along one direction so that a part has its
// finished size, and its allowances their full width, after the shrinking.
//
//	cut = (finished + 2·allowance) / (1 − s)
//
// The allowances come first, because they are cloth and shrink with the rest: a
// 12 mm allowance added after the shrinkage would be 12 mm on the table and less
// after the wash.
//
// Given: finished size along one direction; allowance on each of its two ends;
// s, what the cloth will still lose along that direction.
//
// Valid: finished over 0; allowance from 0 to 50 cm; s from −20 % (the cloth
// grows) to 60 %.
// Accuracy: exact for a known s.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: arithmetic; the definition of s as in [shrink.FromMarks].
// Checked: reference_test.go, TestCutSizeOfTheWorkedExample.
func CutSize(finished, allowance units.Length, s units.Fraction) (units.Length, error) {
	if !(finished > 0) || math.IsInf(float64(finished), 0) {
		return 0, sizeFault("the finished size", finished)
	}
	if err := allowanceFault(allowance); err != nil {
		return 0, err
	}
	return shrink.CutFromFinished(finished+2*allowance, s)
}

// FinishedSize returns what is left of a cut size after shrinking, seam line to
// seam line.
//
//	finished = cut·(1 − s) − 2·allowance
//
// Given: cut size along one direction; allowance on each of its two ends, as wide
// as it is to be after the shrinking; s as in [CutSize].
//
// Valid: as [CutSize]; the allowances must leave something over.
// Accuracy: exact for a known s; the inverse of [CutSize].
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: arithmetic; the definition of s as in [shrink.FromMarks].
// Checked: property_test.go, TestCutPieceShrunkAgainIsFinished.
func FinishedSize(cut, allowance units.Length, s units.Fraction) (units.Length, error) {
	if !(cut > 0) || math.IsInf(float64(cut), 0) {
		return 0, sizeFault("the cut size", cut)
	}
	if err := allowanceFault(allowance); err != nil {
		return 0, err
	}
	left, err := shrink.FinishedFromCut(cut, s)
	if err != nil {
		return 0, err
	}
	if left <= 2*allowance {
		return 0, &fault.Fault{
			Kind:     fault.OutsideRange,
			What:     fmt.Sprintf("%s after shrinking leaves nothing between two allowances of %s", left.Centimetres(), allowance.Millimetres()),
			Expected: fmt.Sprintf("an allowance under %s", (left / 2).Millimetres()),
		}
	}
	return left - 2*allowance, nil
}

func sizeFault(what string, l units.Length) error {
	f := &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("%s is %s", what, l), Expected: "a length over nought"}
	if math.IsNaN(float64(l)) || math.IsInf(float64(l), 0) {
		f.What = what + " is not a number"
	}
	return f
}

func allowanceFault(a units.Length) error {
	if a >= 0 && a <= maxAllowance {
		return nil
	}
	f := &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("the allowance is %s", a), Expected: "0 to " + maxAllowance.Centimetres()}
	if math.IsNaN(float64(a)) || math.IsInf(float64(a), 0) {
		f.What = "the allowance is not a number"
	}
	return f
}
