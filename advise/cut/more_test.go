package cut

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestFurtherLayersAreRead(t *testing.T) {
	w, err := ParseLayer("second lining = silk habotai; parts=cape, hood; width=90cm; shrink=3%,2%")
	require.NoError(t, err)
	require.Equal(t, "second lining", w.Name)
	require.Equal(t, "silk habotai", w.Cloth)
	require.Len(t, w.Parts, 2)
	require.InDelta(t, 90, float64(w.Width.High), 1e-9)
	for text, says := range map[string]string{
		"silk habotai":                   "names no layer and its cloth",
		"lining=silk; colour=red":        "says nothing of a layer",
		"lining=silk; width=wide":        "wide",
		"underlining=cotton; width=90cm": "",
	} {
		_, err := ParseLayer(text)
		if says == "" {
			require.NoError(t, err, text)
			continue
		}
		require.ErrorContains(t, err, says, text)
	}
}

func TestShrinkageOfALayerIsRead(t *testing.T) {
	var l Layer
	require.NoError(t, l.ParseShrink("5%,2%"))
	require.InDelta(t, 5, l.Warp.Typical, 1e-9)
	require.InDelta(t, 2, l.Weft.Typical, 1e-9)
	require.NoError(t, l.ParseShrink("3"), "one figure serves both")
	require.InDelta(t, 3, l.Weft.Typical, 1e-9)
	require.Error(t, l.ParseShrink("much"))
}
