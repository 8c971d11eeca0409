package fall

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/data"
	"tenter/fibres"
)

// A bagged lining and its shell fall as one sheet: it weighs what both weigh, and its stiffer end is the
// stiffer sheet.
func TestBaggedLayersAreOneSheet(t *testing.T) {
	a, err := advise.Load(data.FS)
	require.NoError(t, err)
	piece, err := a.Piece("half-circle-cape")
	require.NoError(t, err)
	finish, err := a.Finish("bagged-lining")
	require.NoError(t, err)
	shell, lining := fibres.Subject{Cloth: a.Cat.Cloths["wool-flannel"]}, fibres.Subject{Cloth: a.Cat.Cloths["silk-habotai"]}
	cloths, err := Cloths(a, advise.MakeUp{Piece: piece, Finish: finish, Shell: &shell, Lining: &lining}, 0, false)
	require.NoError(t, err)
	require.Len(t, cloths, 3)
	both := a.Cat.Estimate(shell, fibres.Mass).Typical + a.Cat.Estimate(lining, fibres.Mass).Typical
	last := 0.0
	for _, c := range cloths {
		require.InDelta(t, both/1000, c.Sheet.Mass, 0.05*both/1000)
		require.Greater(t, c.Sheet.Warp, last)
		last = c.Sheet.Warp
	}
}
