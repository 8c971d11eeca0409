package fibres

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestPowerIsThatOfTheLibrary(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 5))
	for range 200_000 {
		x := math.Exp(r.NormFloat64())
		if r.IntN(4) == 0 {
			x = 1 + r.Float64()/100
		}
		p, y := powerOf(x), 2*r.NormFloat64()
		require.Equal(t, math.Pow(x, y), p.to(y), "%v to the power of %v", x, y)
	}
	for _, x := range []float64{0.5, 1, 2, 3, 1e40, math.Inf(1), math.NaN()} {
		p := powerOf(x)
		for _, y := range []float64{-3, -2, -1.5, -1, -0.5, 0, 0.25, 0.5, 1, 1.5, 2, 2.75, 3.25, 1e9} {
			if got, want := p.to(y), math.Pow(x, y); math.Float64bits(got) != math.Float64bits(want) && !math.IsNaN(want) {
				t.Errorf("%v to the power of %v: %v, not %v", x, y, got, want)
			}
		}
	}
}
