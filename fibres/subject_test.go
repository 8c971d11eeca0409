package fibres

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestALabelOverridesTheFibresOfTheName(t *testing.T) {
	c := catalogue(t)
	lawn := c.Cloths["cotton-lawn"]
	part := func(id string, pct float64) Part {
		require.NotNil(t, c.Fibres[id], id)
		return Part{Fibre: c.Fibres[id], Share: Estimate{Low: pct, Typical: pct, High: pct, Unit: "%", Basis: Measured}}
	}
	named := Subject{Cloth: lawn}
	poly := Subject{Cloth: lawn, Swatch: true, Name: "poly lawn", Content: []Part{part("polyester", 100)}}
	require.Equal(t, "polyester", poly.Made()[0].Fibre.ID)
	require.Equal(t, lawn.Content, named.Made())

	shrinks, less := c.Estimate(named, ShrinkWarp), c.Estimate(poly, ShrinkWarp)
	require.Less(t, less.Typical, shrinks.Typical, "polyester hardly shrinks, whatever the name")
	require.Equal(t, c.Estimate(named, Mass), c.Estimate(poly, Mass), "its mass still follows the name")
	require.NotEqual(t, c.Estimate(named, PressingLimit).Typical, c.Estimate(poly, PressingLimit).Typical)
	require.Len(t, lawn.Content, 1, "the name itself is not changed")
	require.Equal(t, "cotton", lawn.Content[0].Fibre.ID)

	// Where the name's own shrinkage is recorded, a tenth of another fibre leaves
	// it in force, and a half does not.
	recorded := 0
	for _, k := range c.ClothList() {
		rows := c.rows("cloth", k.ID, ShrinkWarp)
		if len(rows) == 0 || !k.Has("cotton", 100) {
			continue
		}
		recorded++
		nearly := Subject{Cloth: k, Content: []Part{part("cotton", 90), part("polyester", 10)}}
		half := Subject{Cloth: k, Content: []Part{part("cotton", 50), part("polyester", 50)}}
		require.Equal(t, c.Estimate(Subject{Cloth: k}, ShrinkWarp).Typical, c.Estimate(nearly, ShrinkWarp).Typical, k.ID)
		require.Equal(t, Derived, c.Estimate(half, ShrinkWarp).Basis, k.ID)
	}
	require.NotZero(t, recorded)
}

func TestALabelWithoutAName(t *testing.T) {
	c := catalogue(t)
	s := Subject{Name: "scrap from the market", Swatch: true, Content: []Part{{Fibre: c.Fibres["wool"], Share: Estimate{Low: 100, Typical: 100, High: 100, Unit: "%", Basis: Measured}}}}
	require.True(t, c.Estimate(s, PressingLimit).Known())
	require.True(t, c.Estimate(s, ShrinkWarp).Known())
	require.False(t, c.Estimate(s, Fray).Known(), "what depends on the weave stays unknown")
	require.False(t, c.Estimate(s, Mass).Known())
	require.False(t, c.Estimate(Subject{Name: "x", Swatch: true}, Wash).Known())
	require.NotNil(t, c.Sample(s, ShellSalt).Of(PressingLimit))
}
