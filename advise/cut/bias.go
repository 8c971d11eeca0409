package cut

import (
	"fmt"
	"math"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// Binding is a way of folding a bias strip round an edge.
type Binding string

// The bindings. A single binding is folded in along both sides and then in half; a
// double one is folded in half first, and both its raw edges are sewn together.
const (
	SingleBinding Binding = "single"
	DoubleBinding Binding = "double"
)

// maxSquare is more cloth than bias strip is cut from, in cm.
const maxSquare = 1000.0

// BindingWidth returns the width to cut a bias strip at.
//
//	single: 4·b + T      double: 6·b + T
//
// Given: b, the width that shows on each side of the edge; T, the thickness of
// the edge that is bound.
//
// Valid: b from 2 mm to 10 cm; T from 0 to 5 cm.
// Accuracy: of strips folded flat; a strip pulled on a curve narrows by up to a
// fifth, so cut 2 to 3 mm more for those (common practice).
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included; NotFound
// for another binding.
// Source: the folds counted.
// Checked: reference_test.go, TestBindingWidthCountsTheFolds.
func BindingWidth(shows, thickness units.Length, b Binding) (units.Length, error) {
	if !(shows >= 0.2 && shows <= 10) {
		return 0, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("a binding that shows %s", shows.Millimetres()), Expected: "2 mm to 10 cm"}
	}
	if !(thickness >= 0 && thickness <= 5) {
		return 0, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("the edge is %s thick", thickness), Expected: "0 to 5 cm"}
	}
	switch b {
	case SingleBinding:
		return 4*shows + thickness, nil
	case DoubleBinding:
		return 6*shows + thickness, nil
	}
	return 0, &fault.Fault{Kind: fault.NotFound, What: fmt.Sprintf("%q is no binding", string(b)), Expected: "single or double"}
}

// BiasStrip is bias strip from a square of cloth.
type BiasStrip struct {
	Length units.Length // joined, ready to sew
	Strips int          // cut apart, or rows of the continuous strip
	Joins  int          // seams in the finished strip
}

// BiasFromSquare returns the bias strip that a square of cloth gives.
//
// Cut apart, the strips run beside the diagonal, whole ones only, and are joined
// along the grain, every second one turned end for end so that the slanting ends
// meet:
//
//	strip i: a·√2 − 2·max(|dᵢ|, w/2),   dᵢ its middle's distance from the diagonal
//	length = Σ strips − (n − 1)·2·√2·s
//
// Continuous, the square is cut along its diagonal, joined to a slanting piece,
// marked in rows and joined once more into a tube, one row out of step:
//
//	n = ⌊(a − 2·s) / (√2·w)⌋,   length = n·√2·(a − 2·s)
//
// Given: a, the side of the square; w, the width of the strip across it; s, the
// allowance of the joins; whether the strip is continuous.
//
// Valid: a over 0 and at most 10 m; w from 1 mm; s from 0 to 5 cm; at least one
// strip must go on the square.
// Accuracy: exact for straight cutting. Without allowances it comes near a²/w.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: geometry of the square.
// Checked: bias_test.go, TestBiasStripComesNearAreaOverWidth.
func BiasFromSquare(side, width, allowance units.Length, continuous bool) (BiasStrip, error) {
	a, w, s := float64(side), float64(width), float64(allowance)
	switch {
	case !(a > 0 && a <= maxSquare):
		return BiasStrip{}, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("the square is %s", side), Expected: "over 0 and at most 10 m"}
	case !(w > 0) || math.IsInf(w, 0):
		return BiasStrip{}, sizeFault("the strip's width", width)
	case w < leastStrip:
		return BiasStrip{}, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("the strip is %s wide", width), Expected: "at least 1 mm"}
	case !(s >= 0 && s <= 5):
		return BiasStrip{}, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("the joins take %s", allowance), Expected: "0 to 5 cm"}
	}
	none := &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("no strip of %s goes on a square of %s", width.Centimetres(), side.Centimetres()),
		Expected: "a larger square", Mend: "or a narrower strip"}
	if continuous {
		n := math.Floor((a-2*s)/(math.Sqrt2*w) + 1e-9)
		if n < 1 {
			none.Expected = "a square of at least " + units.Length(math.Sqrt2*w+2*s).Centimetres()
			return BiasStrip{}, none
		}
		return BiasStrip{Length: units.Length(n * math.Sqrt2 * (a - 2*s)), Strips: int(n), Joins: 2*int(n) - 1}, nil
	}
	best := BiasStrip{}
	for odd := range 2 {
		l := biasStrips(a, w, s, odd == 1)
		if n := len(l); n > 0 {
			sum := 0.0
			for _, x := range l {
				sum += x
			}
			if sum := units.Length(sum - float64(n-1)*joinTakes*s); sum > best.Length {
				best = BiasStrip{Length: sum, Strips: n, Joins: n - 1}
			}
		}
	}
	if best.Strips == 0 {
		none.Expected = "a square over " + units.Length(math.Sqrt2*w+2*s).Centimetres()
		return best, none
	}
	return best, nil
}

// LongestBias returns the longest single bias strip that a square gives, on its
// diagonal.
//
//	length = a·√2 − w
//
// Given: a, the side of the square; w, the width of the strip across it.
//
// Valid: as [BiasFromSquare], without allowances.
// Accuracy: exact: the longer edge of a strip with square ends is as long as it.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: geometry of the square.
// Checked: bias_test.go, TestLongestBiasIsTheFirstStrip.
func LongestBias(side, width units.Length) (units.Length, error) {
	if _, err := BiasFromSquare(side, width, 0, false); err != nil {
		return 0, err
	}
	return units.Length(biasStrips(float64(side), float64(width), 0, false)[0]), nil
}

// BiasWithoutLoss returns the bias strip of a square by its area, as handbooks tell
// it: nothing is lost at joins and corners.
//
//	length = a² / w
//
// Given: a, the side of the square; w, the width of the strip across it.
//
// Valid: as [BiasFromSquare].
// Accuracy: too long by what joins and corners take; see [BiasFromSquare].
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: several handbooks of sewing and quilting (read).
// Checked: worked_test.go, TestWorkedExamples.
func BiasWithoutLoss(side, width units.Length) (units.Length, error) {
	if _, err := BiasFromSquare(side, width, 0, false); err != nil {
		return 0, err
	}
	return side * side / width, nil
}

// leastStrip is the narrowest strip, in cm: nothing narrower can be cut, and a square
// would give millions.
const leastStrip = 0.1

// joinTakes is what a slanting join takes of the strip, for an allowance of 1.
const joinTakes = 2 * math.Sqrt2

// biasStrips are the lengths of the strips that a square gives, longest first,
// with a strip on the diagonal or with two beside it.
func biasStrips(a, w, s float64, beside bool) []float64 {
	var out []float64
	for k := 0; ; k++ {
		d := w * float64(k)
		if beside {
			d += w / 2
		}
		l := a*math.Sqrt2 - 2*math.Max(d, w/2)
		if l < w+1e-9 || l <= joinTakes*s { // too short to hold its width
			return out
		}
		if out = append(out, l); d > 0 {
			out = append(out, l)
		}
	}
}

// fewJoins is the smallest square that gives the length in strips of some 60 cm,
// and how many strips that takes.
func fewJoins(length, width, allowance float64) (square float64, strips int, ok bool) {
	most := max(3, int(math.Ceil(length/60)))
	for half := 1; half <= 2*maxSquare; half++ {
		a := float64(half) / 2
		if a*a < length*width {
			continue
		}
		for odd := range 2 {
			sum := 0.0
			for i, l := range biasStrips(a, width, allowance, odd == 1) {
				if i == most {
					break
				}
				if i > 0 {
					l -= joinTakes * allowance
				}
				if sum += l; sum >= length {
					return a, i + 1, true
				}
			}
		}
	}
	return 0, 0, false
}

// SquareForBias returns the smallest square, in whole half centimetres, that
// gives a length of bias strip.
//
// Given: length wanted; w, s and continuous as in [BiasFromSquare].
//
// Valid: length over 0; as [BiasFromSquare]; a square of at most 10 m.
// Accuracy: the next half centimetre up.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: [BiasFromSquare] read back.
// Checked: bias_test.go, TestSquareForBiasIsTheSmallest.
func SquareForBias(length, width, allowance units.Length, continuous bool) (units.Length, error) {
	if !(length > 0) || math.IsInf(float64(length), 0) {
		return 0, sizeFault("the length wanted", length)
	}
	if _, err := BiasFromSquare(maxSquare, width, allowance, continuous); err != nil {
		return 0, err
	}
	enough := func(half int) bool {
		b, err := BiasFromSquare(units.Length(half)/2, width, allowance, continuous)
		return err == nil && b.Length >= length
	}
	// Less than the area is never enough. A larger square may give a little less,
	// where a row is not yet full, so each is tried.
	for half := max(1, int(2*math.Sqrt(float64(length*width))*0.9)); half <= 2*maxSquare; half++ {
		if enough(half) {
			return units.Length(half) / 2, nil
		}
	}
	return 0, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("%s of strip takes more than a square of 10 m", length), Expected: "less strip", Mend: "work it out in lots"}
}

// CurveForBinding returns the tightest curve that a bias binding goes round flat,
// as the radius of the bound edge.
//
//	outward: r = b·(1 + e) / e      inward: r = b / e
//
// On an outward curve the fold on the edge must stretch against the stitched line
// inside it, on an inward curve the stitched line against the fold.
//
// Given: b, the width that shows; e, how far a strip of the cloth stretches on
// the bias, as a part of one: pull 10 cm along a ruler without force.
//
// Valid: b from 2 mm to 10 cm; e over 0 and at most 100 %.
// Accuracy: of a strip that takes all of the difference by stretching; steaming
// it into the curve first helps beyond that. The cloth's own stretch decides:
// 8 to 15 % for firm cloth (common practice).
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: derived, the lengths of two arcs b apart.
// Checked: bias_test.go, TestBoundCurveTakesTheStretch.
func CurveForBinding(shows units.Length, stretch units.Fraction, inward bool) (units.Length, error) {
	if !(shows >= 0.2 && shows <= 10) {
		return 0, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("a binding that shows %s", shows.Millimetres()), Expected: "2 mm to 10 cm"}
	}
	if !(stretch > 0 && stretch <= 1) {
		return 0, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("a strip that stretches by %s", stretch), Expected: "over 0 and at most 100 %", Mend: "pull 10 cm of bias strip along a ruler"}
	}
	e := units.Length(stretch)
	if inward {
		return shows / e, nil
	}
	return shows * (1 + e) / e, nil
}
