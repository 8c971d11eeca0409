package yarn

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Worked examples of counts, recomputed; the source stands beside each.
func TestCountsOfTextbooks(t *testing.T) {
	const (
		weaving  = "a national vocational textbook of shawl weaving, trade theory, pp. 70-72 (read)"
		knitting = "a practical guide to knitting, conversion formulae (read)"
	)
	for _, x := range []struct {
		source, count string
		to            CountSystem
		want, within  float64
	}{
		{weaving, "Ne 20", Lea, 56, 0.05},
		{weaving, "Nm 2/48", Metric, 24, 1e-9},
		{weaving, "Nm 2/48", Cotton, 14.17, 0.02},
		{weaving, "Ne 30", Denier, 177.17, 0.05},
		{knitting, "Ne 1/40", Dtex, 148, 0.5},
	} {
		t.Run(x.source+": "+x.count, func(t *testing.T) {
			c, err := ParseCount(x.count)
			require.NoError(t, err)
			got, err := ConvertCount(c, x.to)
			require.NoError(t, err)
			require.InDelta(t, x.want, got.Single/float64(max(1, got.Ply)), x.within)
		})
	}
}
