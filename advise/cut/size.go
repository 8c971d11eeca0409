package cut

import (
	"fmt"
	"math"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// maxAllowance is wider than any seam or hem allowance.
const maxAllowance units.Length = 50

func sizeFault(what string, l units.Length) error {
	f := &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("%s is %s", what, l), Expected: "a length above zero"}
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
