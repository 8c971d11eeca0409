package fall

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/data"
	"tenter/fibres"
)

// Two layers joined at the edge alone fall as two sheets, each of its own cloth; mounted or fused ones
// as one.
func TestBaggedLayersAreApart(t *testing.T) {
	a, err := advise.Load(data.FS)
	require.NoError(t, err)
	piece, err := a.Piece("half-circle-cape")
	require.NoError(t, err)
	for finish, apart := range map[string]bool{"bagged-lining": true, "bound-together": true, "self-lined": true, "underlined": false, "dropped-in-lining": false, "single-layer-hem": false} {
		f, err := a.Finish(finish)
		require.NoError(t, err)
		m := advise.MakeUp{Piece: piece, Finish: f, Shell: &fibres.Subject{Cloth: a.Cat.Cloths["wool-flannel"]}}
		if f.Lined {
			m.Lining = &fibres.Subject{Cloth: a.Cat.Cloths["silk-habotai"]}
		}
		w, err := Scene(a, m, piece.ID, nil, "", true)
		require.NoError(t, err)
		require.Equal(t, apart, w.Lined(), finish)
		w, err = Scene(a, m, piece.ID, nil, "", false)
		require.NoError(t, err)
		require.False(t, w.Lined(), finish)
		cloths, err := Cloths(a, m, 0, false)
		require.NoError(t, err)
		last := 0.0
		for _, c := range cloths {
			l := c.Layers
			if !apart {
				require.Equal(t, l.Whole, l.Shell, finish)
				continue
			}
			require.InDelta(t, l.Whole.Mass, l.Shell.Mass+l.Lining.Mass, 0.05*l.Whole.Mass, finish)
			require.Greater(t, l.Shell.Warp, last, "the stiffer end has the stiffer shell")
			last = l.Shell.Warp
			if f.Lined {
				require.Less(t, l.Lining.Warp, l.Shell.Warp/4, "habotai under flannel")
			}
		}
	}
}
