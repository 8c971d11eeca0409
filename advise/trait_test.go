package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/fibres/yarn"
)

// What a fibre brings into a blend: a fifth of what marks with water is enough, scaled hair
// must be half (practice).
func TestTraitsOfABlend(t *testing.T) {
	a := adviser(t)
	silk, wool, cotton := a.Cat.Fibres["silk"], a.Cat.Fibres["wool"], a.Cat.Fibres["cotton"]
	for _, x := range []struct {
		f    *fibres.Fibre
		part float64
		want []yarn.Trait
	}{
		{silk, 0.2, []yarn.Trait{yarn.WaterMarks}}, {silk, 0.19, nil}, {wool, 0.5, []yarn.Trait{yarn.Wool}}, {wool, 0.49, nil}, {cotton, 1, nil},
	} {
		require.Equal(t, x.want, a.TraitsOfFibre(x.f, x.part), "%s %g", x.f.ID, x.part)
	}
}

// What a cloth is like under heat and damp, by structure and fibre, each trait once.
func TestTraitsOfCloths(t *testing.T) {
	a := adviser(t)
	for id, want := range map[string][]yarn.Trait{"silk-velvet": {yarn.Pile, yarn.WaterMarks}, "velveteen": {yarn.Pile}, "wool-flannel": {yarn.Wool}, "cotton-lawn": nil, "silk-taffeta": {yarn.WaterMarks}} {
		require.Equal(t, want, a.TraitsOf(&fibres.Subject{Cloth: a.Cat.Cloths[id]}), id)
	}
	require.Nil(t, a.TraitsOf(nil))
	mixed := &fibres.Subject{Cloth: a.Cat.Cloths["cotton-lawn"], Content: []fibres.Part{{Fibre: a.Cat.Fibres["silk"], Share: fibres.Estimate{Typical: 50}}, {Fibre: a.Cat.Fibres["silk"], Share: fibres.Estimate{Typical: 50}}}}
	require.Equal(t, []yarn.Trait{yarn.WaterMarks}, a.TraitsOf(mixed), "by its label, and once")
	few := &fibres.Subject{Content: []fibres.Part{{Fibre: a.Cat.Fibres["silk"], Share: fibres.Estimate{Typical: 10}}, {Fibre: a.Cat.Fibres["wool"], Share: fibres.Estimate{Typical: 40}}}}
	require.Nil(t, a.TraitsOf(few), "a tenth of silk, two fifths of wool")
}
