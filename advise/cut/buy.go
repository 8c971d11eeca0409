package cut

import (
	"tenter/fibres/units"
)

// LengthToBuy returns the length of cloth that parts take in a width, laid out
// flat or folded, and a length that no layout can be under.
//
// Given: parts at their finished sizes; allowance on every edge; the layer: its
// width as sold, what it loses, and how parts may lie on it. The typical width and
// shrinkage are used, see [Plan] for the range.
//
// Valid: as [Part.Check]; parts that go on the cloth.
// Accuracy: a search: on zero-waste benchmark sets it comes within 0 to 3.5 % of
// the best there is, 1 % on average.
// Errors: [*fault.Fault], with the width that would do, where a part does not go
// on the cloth.
// Source: derived; the search is a skyline heuristic improved by annealing.
// Checked: bench_test.go, TestZeroWasteSets.
func LengthToBuy(parts []Part, allowance units.Length, l Layer) (length, atLeast units.Length, err error) {
	j := Job{Parts: parts, Allowance: allowance}
	if err := j.check(); err != nil {
		return 0, 0, err
	}
	warp, weft := percents(l.Warp), percents(l.Weft)
	if l.Prewashed {
		warp, weft = three{}, three{}
	}
	sized := drawParts(parts, allowances{float64(allowance), float64(allowance), float64(allowance)})
	out, err := lay(sized, l, l.Width.Typical-2*float64(l.Selvedge), weft.mid, warp.mid, fullEffort)
	if err != nil {
		return 0, 0, err
	}
	return units.Length(out.length), units.Length(out.bound), nil
}
