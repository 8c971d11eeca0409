package draw

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// A line that is thinned lies nowhere farther from what was drawn than the eye sees, ends
// where it ended, and is shorter: an arc of a hundred points by more than half, a straight
// line to its two ends.
func TestThinned(t *testing.T) {
	var arc, straight []pt
	for i := range 101 {
		a := float64(i) / 100 * math.Pi / 2
		arc = append(arc, pt{100 * math.Cos(a), 100 * math.Sin(a)})
		straight = append(straight, pt{float64(i), 2 * float64(i)})
	}
	require.Equal(t, []pt{straight[0], straight[100]}, thinned(straight))
	thin := thinned(arc)
	require.Less(t, len(thin), 50)
	require.Equal(t, arc[0], thin[0])
	require.Equal(t, arc[100], thin[len(thin)-1])
	for _, p := range arc {
		nearest := math.Inf(1)
		for i := 1; i < len(thin); i++ {
			a, b := thin[i-1], thin[i]
			x := min(1, max(0, ((p.x-a.x)*(b.x-a.x)+(p.y-a.y)*(b.y-a.y))/(math.Pow(b.x-a.x, 2)+math.Pow(b.y-a.y, 2))))
			nearest = min(nearest, math.Hypot(p.x-a.x-x*(b.x-a.x), p.y-a.y-x*(b.y-a.y)))
		}
		require.LessOrEqual(t, nearest, unseen+1e-9)
	}
	// a closed way goes out and comes back: its ends are one point
	ring := []pt{{0, 0}, {10, 0}, {10, 10}, {0, 10}, {0, 0}}
	require.Equal(t, ring, thinned(ring))
	require.Len(t, thinned(ring[:1]), 1)
}
