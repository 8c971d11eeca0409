package cut

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestTurningAndMirroringKeepsAnOutline(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	for _, p := range anyParts(r, 60) {
		if p.Outline == nil {
			continue
		}
		o := *p.Outline
		require.NoError(t, o.Check(), p.Name)
		for _, x := range []Outline{o.Turn(30), o.Mirror(), o.Move(Point{5, -3}), o.Mirror().Mirror()} {
			require.InDelta(t, o.Area(), x.Area(), 1e-6)
			require.InDelta(t, o.Perimeter(), x.Perimeter(), 1e-6)
		}
		back := Outline{Sides: append([]Side(nil), o.Sides...)}
		for i, s := range back.Sides { // run the other way round
			s.To, s.Bulge = o.from(i), -o.Sides[i].Bulge
			back.Sides[len(back.Sides)-1-i] = s
		}
		require.Less(t, back.Area(), 0.0)
		require.InDelta(t, o.Area(), back.leftward().Area(), 1e-6)
		low, high := o.Box()
		pts, _ := o.Polygon()
		l2, h2 := bounds(pts)
		require.InDelta(t, low.X, l2.X, 2*arcStep)
		require.InDelta(t, high.Y, h2.Y, 2*arcStep)
	}
}
