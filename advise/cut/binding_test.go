package cut

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/units"
)

func TestBindingPlanHasTheStripItSays(t *testing.T) {
	for _, edge := range []float64{30, 140, 400, 1200} {
		p, err := PlanBinding([]Join{{"edge", FreeEdge, edge, 0}, {"neck", FreeEdge, 0, 6}, {"seam", Seam, 90, 0}}, BindingWish{Shows: 0.8, Stretch: 0.1}, 0.1)
		require.NoError(t, err)
		require.InDelta(t, edge+10, p.Length, 1e-9, "edges, not seams, and 10 cm for the ends")
		require.Equal(t, p.Strips-1, p.Joins)
		require.LessOrEqual(t, p.Joins, max(2, int(math.Ceil(p.Length/60))))
		require.GreaterOrEqual(t, p.Square*p.Square, p.Length*p.Width/10, "no less cloth than there is strip")
		c, err := BiasFromSquare(units.Length(p.Continuous), units.Length(p.Width/10), 0.6, true)
		require.NoError(t, err)
		require.GreaterOrEqual(t, float64(c.Length), p.Length)
		require.InDelta(t, 6, p.Tightest, 1e-12)
		require.Contains(t, p.Say, "steam it into the curve first", "8 mm of firm binding wants a radius of 8.8 cm")
	}
}
