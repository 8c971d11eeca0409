package cut

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/units"
)

// A circle drawn with the radius as it is written comes out within an eighth of an
// inch, or 3.2 mm, of the girth. Source: the length of an arc.
func TestRadiusAsWrittenMakesTheGirth(t *testing.T) {
	for girth := units.Length(8); girth < 180; girth += 0.37 {
		r, err := NeckRadius(girth, 360)
		require.NoError(t, err)
		for _, sys := range []units.System{units.Metric, units.Imperial} {
			drawn, err := units.ParseLength(RadiusIn(r, sys))
			require.NoError(t, err)
			require.InDelta(t, float64(girth), 2*math.Pi*float64(drawn), float64(units.Inch)/8, "%v in %v", girth, RadiusIn(r, sys))
		}
	}
	require.Equal(t, "4 15/32 in", RadiusIn(28*units.Inch/(2*math.Pi), units.Imperial), "a waist of 28 in")
	require.Equal(t, "1/2 in", RadiusIn(units.Inch/2, units.Imperial))
	require.Equal(t, "11.3 cm (4 7/16 in)", RadiusIn(11.3, units.Both))
}
