package hang

import (
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
	root := math.Sqrt(float64(c)) // c^(3/4) by roots: several times as fast as math.Pow
	w := units.Length(2 * math.Sqrt(math.Pi) * root * math.Sqrt(root) * math.Sqrt(math.Sqrt(float64(hang))))
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
