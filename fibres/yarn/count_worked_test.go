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
		brooks   = "Brooks, Cotton Manufacturing, chapter on wrapping (read)"
		taylor   = "Taylor, Cotton Weaving and Designing, 6th ed., p. 239 of the edition online (read)"
		davis    = "Davis, Hosiery Manufacture, examples 37 and 38 (read)"
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
		{brooks, "Ne 20", Worsted, 30, 1e-9},
		{brooks, "Ne 20", Lea, 56, 1e-9},
		{brooks, "Ne 2/80", Cotton, 40, 1e-9},
		{brooks, "Ne 2/30", Cotton, 15, 1e-9},
		{taylor, "Ne 2/40", Cotton, 20, 1e-9},
		{davis, "Ne 10", Worsted, 15, 1e-9},
		{davis, "NeW 2/60", Worsted, 30, 1e-9},
		{davis, "NeW 2/42", Worsted, 21, 1e-9},
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

// What a length of yarn weighs, as textbooks reckon it, read both ways.
func TestWeightsOfTextbooks(t *testing.T) {
	const (
		school = "American Correspondence School of Textiles, Calculations, part IV, 1898, sections 3 and 5 (read)"
		brooks = "Brooks, Cotton Manufacturing, chapter on wrapping (read)"
		ounce  = poundG / 16
		grain  = poundG / 7000
	)
	for _, x := range []struct {
		source       string
		count        Count
		yards, grams float64
		within       float64 // of the count, for the rounding of the source
	}{
		{school, Count{5.5, 1, Run}, 8800, 16 * ounce, 1e-9},
		{school, Count{3, 1, Run}, 5250, 17.5 * ounce, 1e-9},
		{school, Count{8, 1, Run}, 4000, 5 * ounce, 1e-9},
		{school, Count{8.33, 1, Run}, 200000, 15 * poundG, 0.005},
		{brooks, Count{44, 1, Cotton}, 9240, poundG / 4, 1e-9},
		{brooks, Count{40, 1, Cotton}, 120, 25 * grain, 1e-9},
	} {
		got, err := CountFromLinearDensity(LinearDensity(x.grams/(x.yards*yardM)*1000), x.count.System)
		require.NoError(t, err)
		require.InDelta(t, x.count.Single, got.Single, x.within, x.source)
		d, err := LinearDensityFromCount(x.count)
		require.NoError(t, err)
		require.InEpsilon(t, x.grams, float64(d)*x.yards*yardM/1000, x.within/x.count.Single+1e-9, x.source)
	}
}

// Threads of unlike counts twisted together: their weights add up.
func TestTwistsOfTextbooks(t *testing.T) {
	const (
		brooks = "Brooks, Cotton Manufacturing, double yarns (read)"
		taylor = "Taylor, Cotton Weaving and Designing, 6th ed., twofold yarns (read)"
		davis  = "Davis, Hosiery Manufacture, example 39 (read)"
	)
	for _, x := range []struct {
		source string
		of     []float64
		want   float64
	}{
		{brooks, []float64{40, 20}, 13.33},
		{brooks, []float64{40, 80, 120}, 21.81},
		{taylor, []float64{60, 40}, 24},
		{davis, []float64{48, 24}, 16},
		{"Davis, Hosiery Manufacture, example 38: what with 70's makes 21's (read)", []float64{30, 70}, 21},
	} {
		var sum LinearDensity
		for _, n := range x.of {
			d, err := LinearDensityFromCount(Count{n, 1, Cotton})
			require.NoError(t, err)
			sum += d
		}
		got, err := CountFromLinearDensity(sum, Cotton)
		require.NoError(t, err)
		require.InDelta(t, x.want, got.Single, 0.01, x.source)
	}
}
