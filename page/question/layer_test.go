package question

import (
	"net/url"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/advise/cut"
	"tenter/data"
	"tenter/kb"
	"tenter/page/address"
	"tenter/page/sheet"
)

// An address may ask for layers beyond shell and lining, as the command does; one that
// cannot be read stands beside its field, and the rest is planned all the same.
func TestAddressAsksForFurtherLayers(t *testing.T) {
	adv, err := advise.Load(data.FS)
	require.NoError(t, err)
	k := &sheet.Site{Adv: adv, Base: &kb.Base{Cat: adv.Cat}}
	ask := func(layer string) (cut.Answer, FieldErrors, error) {
		a := address.NewAsk("/cut", "", url.Values{"piece": {"half-circle-cape"}, "finish": {"bagged-lining"}, "shell": {"wool-flannel"}, "lining": {"viscose-twill"}, "layer": {layer}})
		m, wrong := MakeUp(k, a)
		plan, more, err := Plan(k, a, m)
		return plan, append(wrong, more...), err
	}

	plan, wrong, err := ask("underlining=cotton lawn; parts=cape; width=118cm | second lining=silk habotai")
	require.NoError(t, err)
	require.Empty(t, wrong)
	require.Len(t, plan.Layers, 4)
	under := plan.Layers[2]
	require.Equal(t, "underlining", under.Layer)
	require.Len(t, under.Pieces, 1, "the cape alone, no facing")
	require.InDelta(t, 118, under.Buy.Width, 1e-9)
	require.Equal(t, "second lining", plan.Layers[3].Layer)

	plan, wrong, err = ask("underlining=no such cloth")
	require.NoError(t, err)
	require.Len(t, plan.Layers, 2)
	require.NotNil(t, wrong.At("layer"))
	_, wrong, err = ask("lining=cotton lawn")
	require.NoError(t, err)
	require.NotNil(t, wrong.At("layer"), "there is a lining already")
	_, wrong, err = ask("underlining=cotton lawn; colour=red")
	require.NoError(t, err)
	require.Contains(t, wrong.At("layer").What, "colour=red")
}
