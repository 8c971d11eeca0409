package picture

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// A path written in steps leads to the points it was made of: a circle's, which a step
// rounded by itself would miss by more with every point.
func TestPathsLeadWhereTheyShould(t *testing.T) {
	var at []float64
	for i := range 50 {
		a := 2 * math.Pi * float64(i) / 50
		at = append(at, 0.5+0.5*math.Cos(a), 0.5+0.5*math.Sin(a))
	}
	d := pathIn(poly(at...), 11, 7, 33, 66)
	require.NotContains(t, d, "L")
	require.NotContains(t, d, "0.", "the nought is left out")
	var x, y float64
	points := 0
	for _, command := range regexp.MustCompile(`[Mlhv][^Mlhv]*`).FindAllString(strings.TrimSuffix(d, "Z"), -1) {
		figures := regexp.MustCompile(`-?[0-9]*\.?[0-9]+`).FindAllString(command, -1)
		for len(figures) > 0 {
			var step [2]float64
			for i := range step {
				if command[0] == 'h' && i == 1 || command[0] == 'v' && i == 0 {
					continue
				}
				v, err := strconv.ParseFloat(figures[0], 64)
				require.NoError(t, err)
				step[i], figures = v, figures[1:]
			}
			x, y = x+step[0], y+step[1]
			require.InDelta(t, 11+33*at[points], x, 0.051)
			require.InDelta(t, 7+66*at[points+1], y, 0.051)
			points += 2
		}
	}
	require.Equal(t, len(at), points)
	require.Equal(t, "M0 0h10v.5l-9.5 4.5Z", pathIn(poly(0, 0, 1, 0, 1, 0.1, 0.05, 1), 0, 0, 10, 5))
}
