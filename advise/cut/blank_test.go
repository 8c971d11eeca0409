package cut

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestCutLineShrunkAgain: the cut line of any part, shrunk as its cloth shrinks,
// stands its allowance outside the finished outline and is as wide and long as
// that with the allowances.
func TestCutLineShrunkAgain(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for range 60 {
		for _, p := range anyParts(r, 3) {
			p.Grain = ""
			across, along := 0.08*r.Float64(), 0.12*r.Float64()
			s := drawParts([]Part{p}, allowances{1.2, 1.2, 1.2})[0]
			w := s.ways(Layer{OneWay: true}, math.Inf(1), across, along)[0]
			require.InDelta(t, float64(p.Width)+2.4, w.w*(1-across), 1e-6)
			require.InDelta(t, float64(p.Height)+2.4, w.h*(1-along), 1e-6)
			if p.Outline == nil || s.rough {
				continue
			}
			seam, _ := p.Outline.Polygon()
			for _, q := range w.pts {
				back := Point{q.X*(1-across) - 1.2, q.Y*(1-along) - 1.2}
				d := math.Inf(1)
				for i := range seam {
					d = math.Min(d, fromLine(back, seam[i], seam[(i+1)%len(seam)]))
				}
				require.Greater(t, d, 1.2-0.02, "never less than the allowance")
				require.Less(t, d, 1.2*2+0.01, "sharp corners are trimmed")
			}
		}
	}
}
