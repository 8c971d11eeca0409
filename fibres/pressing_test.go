package fibres

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/units"
	"tenter/fibres/yarn"
)

// The pressing limit that a cloth is given from its fibres is that of the mechanics: the
// least of the parts whatever their share, do not iron where one of them must not be.
// Source: common practice, as in yarn.PressingLimit.
func TestPressingLimitIsThatOfTheBlend(t *testing.T) {
	c := catalogue(t)
	checked, blends := 0, 0
	for _, k := range c.ClothList() {
		if len(c.rows("cloth", k.ID, PressingLimit)) > 0 || len(c.rows("structure", k.Structure.ID, PressingLimit)) > 0 || treatedBy(c, k, "pressing-limit") {
			continue // their own figure, not the fibres'
		}
		var parts []yarn.Pressed
		for _, p := range k.Content {
			if p.Share.Typical < 1 || isTrace(p) {
				continue
			}
			e := c.fibreLimit(p.Fibre, PressingLimit)
			l := yarn.Limit{Known: e.Known(), Iron: e.Typical > 0, Celsius: units.Temperature(e.Typical)}
			parts = append(parts, yarn.Pressed{Share: units.Fraction(p.Share.Typical / 100), Limit: l})
		}
		want, err := yarn.PressingLimit(parts)
		require.NoError(t, err, k.ID)
		got := c.Estimate(Subject{Cloth: k}, PressingLimit)
		require.Equal(t, want.Known, got.Known(), k.ID)
		if !want.Known {
			continue
		}
		checked++
		if len(parts) > 1 {
			blends++
		}
		if !want.Iron {
			require.Zero(t, got.Typical, k.ID)
			continue
		}
		require.Equal(t, float64(want.Celsius), got.Typical, k.ID)
		d, ok := want.Dots()
		require.True(t, ok)
		require.GreaterOrEqual(t, got.Typical, dotted[d], "%s: the dots keep below the limit", k.ID)
	}
	require.Greater(t, checked, 250)
	require.Greater(t, blends, 60)
}

func treatedBy(c *Catalogue, k *Cloth, property string) bool {
	for _, t := range k.Treatments {
		for _, e := range c.effectsOf("treatment", t.ID) {
			if e.property == property {
				return true
			}
		}
	}
	return false
}

// A fibre of which no limit is known leaves the cloth's unknown, unless another of its
// fibres must not be ironed at all.
func TestUnknownFibreLeavesTheLimitUnknown(t *testing.T) {
	c := catalogue(t)
	odd := &Fibre{ID: "none", Name: "some new fibre"}
	part := func(f *Fibre, share float64) Part {
		return Part{Fibre: f, Share: Estimate{Low: share, Typical: share, High: share, Unit: "%", Basis: Practice}}
	}
	k := &Cloth{ID: "none", Name: "none", Structure: c.Structures["plain"], Content: []Part{part(c.Fibres["cotton"], 60), part(odd, 40)}}
	require.False(t, c.least(k, PressingLimit).Known())
	k.Content = []Part{part(c.Fibres["cotton"], 100)}
	require.True(t, c.least(k, PressingLimit).Known())
	k.Content = []Part{part(c.Fibres["polypropylene"], 60), part(odd, 40)}
	require.Zero(t, c.least(k, PressingLimit).Typical)
	require.True(t, c.least(k, PressingLimit).Known())
}
