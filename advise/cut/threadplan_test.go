package cut

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestThreadPlanNeverRunsOutInASeamOneBobbinWouldDo(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for range 200 {
		var joins []Join
		sum := 0.0
		for i := range 1 + r.IntN(12) {
			l := 20 + 3000*r.Float64()
			sum += l
			joins = append(joins, Join{Name: fmt.Sprint("seam ", i), Kind: Seam, Length: l})
		}
		p, err := PlanThread(joins, Sewing{Stitch: Lockstitch, Length: 0.25, Thickness: 0.05, Tex: 20 + 60*r.Float64()})
		require.NoError(t, err)
		left, bobbins := 0.0, 0
		for _, s := range p.Seams {
			if s.Wind {
				left = p.Holds.Low
				bobbins++
			}
			for s.Under > left+1e-6 {
				require.Greater(t, s.Under, p.Holds.Low, "only a seam longer than a bobbin runs out")
				left += p.Holds.Low
				bobbins++
			}
			left -= s.Under
		}
		require.Equal(t, bobbins, p.Bobbins)
		require.InDelta(t, (2+2*0.05/0.25)*1.15*sum/100, p.Needle+p.Under, 1e-6)
	}
}
