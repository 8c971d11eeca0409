package kb

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// A figure is written so that it reads back as the same, without exponents, which
// spreadsheets of some countries take for words.
func TestFiguresReadBackAsTheSame(t *testing.T) {
	for v, want := range map[float64]string{0: "0", 1.5: "1.5", 141: "141", 0.30000000000000004: "0.30000000000000004", 1e21: "1000000000000000000000", -0.00001: "-0.00001"} {
		require.Equal(t, want, number(v))
		back, err := strconv.ParseFloat(number(v), 64)
		require.NoError(t, err)
		require.Equal(t, v, back)
	}
}
