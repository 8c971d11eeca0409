package cut

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/units"
)

func TestAllowanceHasItsBounds(t *testing.T) {
	for _, a := range []units.Length{0, 1.2, maxAllowance} {
		require.NoError(t, allowanceFault(a))
	}
	require.ErrorContains(t, allowanceFault(-0.1), "0 to 50 cm")
	require.ErrorContains(t, allowanceFault(maxAllowance+0.1), "0 to 50 cm")
	require.ErrorContains(t, allowanceFault(units.Length(math.NaN())), "is not a number")
	require.ErrorContains(t, sizeFault("the drop", units.Length(math.Inf(1))), "the drop is not a number")
	require.ErrorContains(t, sizeFault("the drop", -3), "a length above zero")
}
