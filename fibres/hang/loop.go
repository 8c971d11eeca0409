package hang

import (
	"fmt"
	"math"

	"tenter/fibres/units"
)

// Loop is a way of hanging a strip by both its ends from one clamp.
type Loop int

// The loops. In a Heart the strip leaves the clamp upwards on both sides, in a
// Ring level, in a Pear downwards.
const (
	Heart Loop = iota
	Ring
	Pear
)

var loopNames = [...]string{"heart", "ring", "pear"}

// String returns the loop's word.
func (k Loop) String() string {
	if k < Heart || k > Pear {
		return ""
	}
	return loopNames[k]
}

// loopLeast is the strip length over c from which a height can be read back: a
// shorter loop sags by less than 1 % of its strip.
const loopLeast = 2.0

// LoopHeight returns how far the lowest point of a hanging loop lies below its clamp.
//
// Given: which loop; the length of the strip in the loop; its bending length.
//
// Valid: strip over 0; c at least a twelfth of it.
// Accuracy: 1e-6 of the strip, before the cloth departs from an elastic strip.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: exact heavy elastica of half the loop; see gen.
// Checked: reference_test.go, TestLoopsAgainstReference.
func LoopHeight(kind Loop, strip, c units.Length) (units.Length, error) {
	if err := loopKnown(kind); err != nil {
		return 0, err
	}
	if err := overZero("strip", strip); err != nil {
		return 0, err
	}
	ratio := float64(strip / c)
	if !(c > 0 && ratio <= loopStep*(loopNodes-1)) {
		return 0, outside("bending length", fmt.Sprintf("it is %v cm, for a strip of %v cm", float64(c), float64(strip)),
			"at least a twelfth of the strip", "take a shorter strip")
	}
	return strip * units.Length(loopHeight(kind, ratio)), nil
}

// BendingLengthFromLoop returns the bending length of a limp or curling cloth from
// the height of a loop of it: the table of exact loops, read backwards.
//
// Given: which loop; the length of the strip in the loop, between the clamp's two
// sides; the height from clamp to lowest point, both ends in the same clamp.
//
// Valid: strip over 0 and from 2 to 12 times the bending length that comes out;
// 3 to 8 times is best. A pear hardly changes its height: take a heart.
// Accuracy: 1e-4 of the bending length for 3 c and more, before the error of the reading.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: exact heavy elastica of half the loop; see gen. The closed forms of Peirce
// 1930 (from memory) are off by up to 10 % (heart, ring; strip 1 to 12 c) and 84 % (pear)
// and are not used.
// Checked: reference_test.go, TestLoopsAgainstReference.
func BendingLengthFromLoop(kind Loop, strip, height units.Length) (units.Length, error) {
	if err := loopKnown(kind); err != nil {
		return 0, err
	}
	if err := overZero("strip", strip); err != nil {
		return 0, err
	}
	const most = loopStep * (loopNodes - 1)
	h := float64(height / strip)
	low, high := loopHeight(kind, loopLeast), loopHeight(kind, most)
	if !(h >= low && h <= high) {
		return 0, outside("height of the loop", fmt.Sprintf("it is %v cm for a strip of %v cm", float64(height), float64(strip)),
			fmt.Sprintf("%.3g to %.3g cm for a %v", low*float64(strip), high*float64(strip), kind),
			"a longer strip where the loop hardly sags, a shorter one where it hangs as two lines")
	}
	a, b := loopLeast, most
	for b-a > 1e-12 {
		m := (a + b) / 2
		if loopHeight(kind, m) < h {
			a = m
		} else {
			b = m
		}
	}
	return strip / units.Length((a+b)/2), nil
}

func loopKnown(kind Loop) error {
	if kind < Heart || kind > Pear {
		return outside("loop", fmt.Sprintf("there is no loop %d", int(kind)), "heart, ring or pear", "take a heart")
	}
	return nil
}

// loopHeight reads the table at strip/c: a cubic between values and slopes.
func loopHeight(kind Loop, ratio float64) float64 {
	q := ratio / loopStep
	i := min(int(math.Max(q, 0)), loopNodes-2)
	t := q - float64(i)
	a, b := loopTable[kind][i], loopTable[kind][i+1]
	d := b[0] - a[0]
	return a[0] + t*(a[1]+t*(3*d-2*a[1]-b[1]+t*(a[1]+b[1]-2*d)))
}
