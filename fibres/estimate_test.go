package fibres

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Small figures keep two digits and no idle zeros.
func TestRoundKeepsWhatIsKnown(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 0.0004: "0.0004", 0.09: "0.09", 0.0996: "0.1", 0.061: "0.061", 0.1: "0.1", 0.126: "0.13", 0.25: "0.25", 0.7: "0.7",
		0.996: "1", 1: "1", 1.26: "1.3", 12.04: "12", 19.96: "20", 141.4: "141", -0.05: "-0.05"} {
		require.Equal(t, want, Round(v), "%g", v)
	}
}
