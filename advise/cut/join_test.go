package cut

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/units"
)

func TestWidePartIsJoinedFromStrips(t *testing.T) {
	var l Layer
	l.Name, l.Cloth, l.Join = "shell", "cotton", true
	l.SetWidth(units.Range[units.Length]{Low: 140, High: 140})
	require.NoError(t, l.SetShrink(units.Range[units.Fraction]{}, units.Range[units.Fraction]{}))
	round := outlined("cloth", 1, Outline{Sides: []Side{{Name: "hem", To: Point{0, 0}, Bulge: 1}, {Name: "hem", To: Point{200, 0}, Bulge: 1}}})
	for _, p := range []Part{{Name: "cloth", Count: 2, Width: 200, Height: 180}, {Name: "cloth", Count: 2, Width: 180, Height: 200, Grain: AlongWidth}, round} {
		a, err := Plan(Job{Parts: []Part{p}, Layers: []Layer{l}, Allowance: 1})
		require.NoError(t, err)
		area := 0.0
		for _, x := range a.Layers[0].Pieces {
			require.LessOrEqual(t, math.Min(x.Cut[0], x.Cut[1]), 140.0)
			area += float64(x.Count) * x.Finished[0] * x.Finished[1]
		}
		require.GreaterOrEqual(t, area, 0.99*float64(p.Count)*GeometryOf(p).Area, "nothing of it is lost")
		l.Join = false
		_, err = Plan(Job{Parts: []Part{p}, Layers: []Layer{l}, Allowance: 1})
		require.ErrorContains(t, err, "cloth at least")
		l.Join = true
	}
}
