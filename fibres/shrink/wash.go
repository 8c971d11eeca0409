package shrink

import (
	"fmt"
	"math"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// maxWashes is more than any garment sees.
const maxWashes = 1000

// Progressive returns the shrinkage after a number of washes, where each takes
// the same part of what is left to take.
//
//	s(n) = limit · [1 − (1 − first/limit)^n]
//
// Given: first, the shrinkage in the first wash; limit, what many washes come to
// in all; washes n, counted whole.
//
// Valid: 0 < first ≤ limit ≤ 60 %, or both 0; n from 0 to 1000. For cloth that
// relaxes; not for wool that felts, which has no limit it comes near to in use
// (see [FeltingNote]).
// Accuracy: that later washes come near a limit, and that most goes in the first,
// is published; that each wash takes an equal part of the rest is our reading of
// it, and between the first wash and the limit may be 2 points out on cotton.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: an abstract on how cotton goods shrink in washing (read; author and year
// not shown there) for the limit; the form derived.
// Checked: property_test.go, TestProgressiveComesNearItsLimit.
func Progressive(first, limit units.Fraction, washes int) (units.Fraction, error) {
	if err := believable("the first wash's shrinkage", first); err != nil {
		return 0, err
	}
	if err := believable("the limit", limit); err != nil {
		return 0, err
	}
	if washes < 0 || washes > maxWashes {
		return 0, countFault(washes, 0)
	}
	if first == 0 && limit == 0 {
		return 0, nil
	}
	if first <= 0 || first > limit {
		return 0, &fault.Fault{
			Kind:     fault.OutsideRange,
			What:     fmt.Sprintf("the first wash takes %s, all washes %s", signed(first), signed(limit)),
			Expected: "over 0 % in the first wash, and at least as much in all",
		}
	}
	return limit * units.Fraction(1-math.Pow(float64(1-first/limit), float64(washes))), nil
}

// LimitFromWashes returns the limit that [Progressive] comes near to, from the
// shrinkage after the first wash and after several.
//
//	after/first = 1 + r + … + r^(n−1),   limit = first / (1 − r)
//
// Given: first, the shrinkage in the first wash; after, in all after n washes;
// both of the length as bought.
//
// Valid: n from 2 to 1000; 0 < first ≤ after, and after less than 0.99 n times
// first, else the washes show no sign of a limit. Result at most 60 %.
// Accuracy: solved to 1e-12; a reading that is 0.5 points out moves the limit by
// more than that, the more the slower the cloth comes to rest.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: derived from the form of [Progressive].
// Checked: property_test.go, TestLimitFromWashesReadsProgressiveBack.
func LimitFromWashes(first, after units.Fraction, washes int) (units.Fraction, error) {
	if err := believable("the first wash's shrinkage", first); err != nil {
		return 0, err
	}
	if err := believable("the shrinkage after all washes", after); err != nil {
		return 0, err
	}
	if washes < 2 || washes > maxWashes {
		return 0, countFault(washes, 2)
	}
	if first <= 0 || after < first {
		return 0, &fault.Fault{
			Kind:     fault.OutsideRange,
			What:     fmt.Sprintf("the first wash takes %s, %d washes %s", signed(first), washes, signed(after)),
			Expected: "over 0 % in the first wash, and at least as much in all",
		}
	}
	want := float64(after / first)
	if want >= 0.99*float64(washes) {
		return 0, noLimit(first, after, washes)
	}
	low, high := 0.0, 1.0
	for range 60 {
		mid := (low + high) / 2
		sum, term := 0.0, 1.0
		for range washes {
			sum += term
			term *= mid
		}
		if sum < want {
			low = mid
		} else {
			high = mid
		}
	}
	limit := first / units.Fraction(1-low)
	if limit > maxShrink {
		return 0, noLimit(first, after, washes)
	}
	return limit, nil
}

func noLimit(first, after units.Fraction, washes int) *fault.Fault {
	return &fault.Fault{
		Kind:     fault.OutsideRange,
		What:     fmt.Sprintf("%s in one wash and %s in %d show no limit that the shrinkage comes near to", first, after, washes),
		Expected: "later washes that take less than the first",
		Mend:     "wash the swatch more often, or treat the cloth as one that goes on shrinking",
	}
}

func countFault(washes, least int) *fault.Fault {
	return &fault.Fault{
		Kind:     fault.OutsideRange,
		What:     fmt.Sprintf("%d washes were asked for", washes),
		Expected: fmt.Sprintf("%d to %d", least, maxWashes),
	}
}
