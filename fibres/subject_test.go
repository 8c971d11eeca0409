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

// From a quarter of other fibres on, a label makes another cloth of the name.
func TestHowMuchOtherFibreMakesAnotherCloth(t *testing.T) {
	c, k := toy()
	for straw, other := range map[float64]bool{40: false, 64: false, 65: true, 100: true} {
		s := Subject{Cloth: k, Content: []Part{{c.Fibres["down"], percent(100 - straw)}, {c.Fibres["straw"], percent(straw)}}}
		require.Equal(t, other, s.labelled().other, "%g %% straw where the name has 40", straw)
	}
}

// A single figure carries the error of its test, 4 % of a mass and 6 % of a bending length;
// a range is met with what is sold under the name.
func TestAFigureOfYourOwn(t *testing.T) {
	c, k := toy(toyRow{"cloth", "stuff", "mass", 100, 120, 150})
	for _, x := range []struct {
		p         Property
		low, high float64
		want      []float64
		because   string
	}{
		{Mass, 200, 200, []float64{192, 200, 208}, "the figure you gave, with the error of the test"},
		{BendingLength, 2, 2, []float64{1.88, 2, 2.12}, "the figure you gave, with the error of the test"},
		{Mass, 90, 110, []float64{100, 110, 110}, "the range you gave, within what is sold under the name"},
		{Mass, 110, 200, []float64{110, 120, 150}, "the range you gave, within what is sold under the name"},
		{Mass, 130, 140, []float64{130, 130, 140}, "the range you gave, within what is sold under the name"},
		{Mass, 160, 250, []float64{160, 200, 250}, "the range you gave, outside what is usually sold under the name"},
		{Mass, 150, 216, []float64{150, 180, 216}, "the range you gave, outside what is usually sold under the name"},
	} {
		e := Subject{Cloth: k}.With(c, x.p, x.low, x.high).Known[x.p]
		require.InDeltaSlice(t, x.want, ends(e), 1e-9, "%+v", x)
		require.Equal(t, x.because, e.Because)
		require.Equal(t, Measured, e.Basis)
	}
	e := Subject{}.With(c, Mass, 100, 225).Known[Mass]
	require.InDeltaSlice(t, []float64{100, 150, 225}, ends(e), 1e-9, "of a cloth without a name")
	require.Equal(t, "the figure you gave", e.Because)
	s := Subject{Cloth: k}.With(c, Mass, 90, 110)
	require.Len(t, s.With(c, BendingLength, 2, 2).Known, 2, "the figures given before stay")
	require.True(t, s.Measured())
	require.False(t, Subject{Cloth: k}.Feeling(1, 2).Measured(), "a hand is no ruler")
}
