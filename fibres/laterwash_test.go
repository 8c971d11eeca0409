package fibres

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Five washes never take less than the first, for any cloth, and a finish that
// takes shrinkage out before the sale lowers both.
func TestFurtherWashesAddToTheFirst(t *testing.T) {
	c := catalogue(t)
	known := 0
	for _, k := range c.ClothList() {
		for i, d := range []string{"warp", "weft"} {
			s := Subject{Cloth: k}
			later, ok := c.Shrink(s, d, "later-wash")
			if !ok {
				continue
			}
			known++
			first := c.Estimate(s, ShrinkWarp+Property(i))
			require.LessOrEqual(t, later.Low, later.Typical, k.ID)
			require.LessOrEqual(t, later.Typical, later.High, k.ID)
			if later.Basis == Derived {
				require.GreaterOrEqual(t, later.Low, first.Low, "%s %s", k.ID, d)
				require.GreaterOrEqual(t, later.Typical, first.Typical, "%s %s", k.ID, d)
				require.GreaterOrEqual(t, later.High, first.High, "%s %s", k.ID, d)
			}
		}
	}
	require.Greater(t, known, len(c.ClothList()), "fewer than half are known")

	plain := *c.Cloths["cotton-canvas"]
	shrunk := plain
	shrunk.Treatments = append(append([]*Treatment{}, plain.Treatments...), c.Treatments["pre-shrunk"])
	require.NotNil(t, shrunk.Treatments[len(shrunk.Treatments)-1])
	a, _ := c.Shrink(Subject{Cloth: &plain}, "warp", "later-wash")
	b, _ := c.Shrink(Subject{Cloth: &shrunk}, "warp", "later-wash")
	require.Less(t, b.Typical, a.Typical)
}
