package cut

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/fibres/units"
)

// How near a layout is to the shortest is told of rectangles in per cent; of curves what
// another layout could save at the most, rounded up.
func TestNearnessIsToldFairly(t *testing.T) {
	buy := func(long, bound float64, curved bool) Buy {
		return Buy{Length: fibres.Estimate{Typical: long}, Bound: bound, Over: long/bound - 1, Curved: curved}
	}
	require.Empty(t, buy(101, 100, false).Near(units.Metric))
	require.Empty(t, buy(101, 100, true).Near(units.Metric))
	require.Equal(t, "no layout is shorter than 174.2 cm; this one is 12 % longer.", buy(195.2, 174.28, false).Near(units.Metric))
	curved := buy(277.1, 174.28, true)
	require.Equal(t, "no other layout saves more than 103 cm of it; how much of that slants and curves leave to be had is not known.", curved.Near(units.Metric), "102.82 rounded up")
	require.Contains(t, curved.Near(units.Imperial), "40 1/2 in", "40.48 in rounded up")
}
