// Package shrink holds the arithmetic of cloth that grows shorter: from marks on
// a swatch to per cent, from finished size to cut size, from one wash to many,
// and the gap between a shell and a lining that shrink unlike.
//
// Shrinkage s is always the loss over the length before: 100 cm that come out of
// the wash as 95 cm have shrunk 5 %. A cloth that grew has a shrinkage below
// zero. Warp and weft are reckoned apart, each with its own s.
package shrink

import (
	"fmt"
	"math"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// The ends between which a shrinkage is believed. Loose wool that felts may lose
// 30 %; beyond 60 % a mark was misread. Knits and bias pieces may grow a little.
const (
	minShrink units.Fraction = -0.2
	maxShrink units.Fraction = 0.6
)

// FromMarks returns the shrinkage of a swatch from the distance between two
// marks before and after.
//
//	s = (before − after) / before
//
// Given: before and after, between the same two marks, lying flat and dry without
// pull; both times along the same direction, warp or weft.
//
// Valid: before over 0; a result from −20 % (grown) to 60 %.
// Accuracy: exact; the reading itself is not: 1 mm on 25 cm marks is 0.4 %, so
// mark far apart.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: W. H. Dooley, Textiles, 1914, chapter on testing (read).
// Checked: reference_test.go, TestShrinkageIsLossOverOriginal.
func FromMarks(before, after units.Length) (units.Fraction, error) {
	if err := overZero("the distance before", before); err != nil {
		return 0, err
	}
	s := units.Fraction((before - after) / before)
	if !(s >= minShrink && s <= maxShrink) {
		return 0, &fault.Fault{
			Kind:     fault.OutsideRange,
			What:     fmt.Sprintf("%s before and %s after is not a shrinkage", before, after),
			Expected: fmt.Sprintf("after between %s and %s", before*units.Length(1-maxShrink), before*units.Length(1-minShrink)),
			Mend:     "measure both again between the same marks, in the same unit",
		}
	}
	return s, nil
}

// CutFromFinished returns the length to cut so that the piece has its finished
// length after shrinking.
//
//	cut = finished / (1 − s)
//
// Given: finished length along one direction; s, what the cloth will still lose
// along it.
//
// Valid: finished over 0; s from −20 % (the cloth grows) to 60 %.
// Accuracy: exact for a known s. Multiplying by 1 + s instead is the usual slip:
// at 5 % it is short by 0.26 %, at 20 % by 4 %.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: arithmetic; the definition of s as in [FromMarks].
// Checked: reference_test.go, TestCutSizeOfTheWorkedExample.
func CutFromFinished(finished units.Length, s units.Fraction) (units.Length, error) {
	if err := overZero("the finished length", finished); err != nil {
		return 0, err
	}
	if err := believable("the shrinkage", s); err != nil {
		return 0, err
	}
	return finished / units.Length(1-s), nil
}

// FinishedFromCut returns what is left of a cut length after shrinking.
//
//	finished = cut · (1 − s)
//
// Given: cut length along one direction; s, what the cloth will still lose along
// it.
//
// Valid: cut over 0; s from −20 % (the cloth grows) to 60 %.
// Accuracy: exact for a known s.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: arithmetic; the definition of s as in [FromMarks].
// Checked: property_test.go, TestCutAndFinishedAreInverse.
func FinishedFromCut(cut units.Length, s units.Fraction) (units.Length, error) {
	if err := overZero("the cut length", cut); err != nil {
		return 0, err
	}
	if err := believable("the shrinkage", s); err != nil {
		return 0, err
	}
	return cut * units.Length(1-s), nil
}

// Compose returns the shrinkage of one treatment after another, each measured on
// the cloth as it came to it.
//
//	s = 1 − (1 − s₁)(1 − s₂)
//
// Given: s₁ of the first treatment, s₂ of the second on what the first left.
//
// Valid: each from −20 % to 60 %.
// Accuracy: exact. Adding them instead reads high, by s₁·s₂.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: arithmetic; the definition of s as in [FromMarks].
// Checked: property_test.go, TestComposeIsOneWashAfterTheOther.
func Compose(s1, s2 units.Fraction) (units.Fraction, error) {
	if err := believable("the first shrinkage", s1); err != nil {
		return 0, err
	}
	if err := believable("the second shrinkage", s2); err != nil {
		return 0, err
	}
	return 1 - (1-s1)*(1-s2), nil
}

// LeftAfter returns what a cloth will still lose after a treatment has taken out
// a part of its whole shrinkage: what a pre-wash leaves for the wardrobe.
//
//	left = 1 − (1 − whole) / (1 − done)
//
// Given: whole shrinkage of the cloth as bought; done, the part already taken
// out, both of the length as bought.
//
// Valid: each from −20 % to 60 %. Where it is negative, the cloth was shrunk further than
// the wash would shrink it, and may grow back.
// Accuracy: exact; the inverse of [Compose].
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: arithmetic; the definition of s as in [FromMarks].
// Checked: property_test.go, TestComposeIsOneWashAfterTheOther.
func LeftAfter(whole, done units.Fraction) (units.Fraction, error) {
	if err := believable("the whole shrinkage", whole); err != nil {
		return 0, err
	}
	if err := believable("the part done", done); err != nil {
		return 0, err
	}
	return 1 - (1-whole)/(1-done), nil
}

func overZero(what string, l units.Length) error {
	if l > 0 && !math.IsInf(float64(l), 0) {
		return nil
	}
	f := &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("%s is %s", what, l), Expected: "a length over zero"}
	if math.IsNaN(float64(l)) || math.IsInf(float64(l), 0) {
		f.What = what + " is not a number"
	}
	return f
}

func believable(what string, s units.Fraction) error {
	if s >= minShrink && s <= maxShrink {
		return nil
	}
	f := &fault.Fault{
		Kind:     fault.OutsideRange,
		What:     fmt.Sprintf("%s is %s", what, s),
		Expected: fmt.Sprintf("from %s (the cloth grows) to %s", signed(minShrink), maxShrink),
		Mend:     "shrinkage is the loss over the length before, as a part of one: 0.05 is 5 %",
	}
	if math.IsNaN(float64(s)) || math.IsInf(float64(s), 0) {
		f.What = what + " is not a number"
	}
	return f
}

// signed writes a growth with a proper minus sign.
func signed(s units.Fraction) string {
	if s < 0 {
		return "−" + (-s).String()
	}
	return s.String()
}
