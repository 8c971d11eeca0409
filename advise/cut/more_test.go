package cut

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/fibres/units"
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

// A hem that nothing is known of is said; where the outline has one it is in the sizes.
func TestUnknownHemsAreSaid(t *testing.T) {
	hem := units.Length(4)
	l := Layer{Name: "shell", Cloth: "cotton", Width: fibres.Figure(fibres.Width, 140, 140, 140, fibres.Practice, "", "practice"), Prewashed: true}
	plain := Part{Name: "panel", Count: 1, Width: 60, Height: 80}
	ans, err := Plan(Job{Parts: []Part{plain}, Layers: []Layer{l}, Allowance: 1.2, Hem: &hem, Edge: &hem})
	require.NoError(t, err)
	require.Contains(t, ans.Notes, "Which edges are seams is not known of these parts: leave 4 cm at hems and free edges, not 1.2 cm.")
	require.Equal(t, "12 mm on each edge", ans.Layers[0].Allowances(0), "no more is in the sizes")

	o := rectangle(60, 80)
	for i := range o.Sides {
		o.Sides[i].Role = Seam
	}
	o.Sides[0].Role = Hem // along the foot
	known := outlined("panel", 1, o)
	ans, err = Plan(Job{Parts: []Part{known}, Layers: []Layer{l}, Allowance: 1.2, Hem: &hem, Edge: &hem})
	require.NoError(t, err)
	require.Empty(t, ans.Notes)
	require.Equal(t, "12 mm at seams, 40 mm at hems", ans.Layers[0].Allowances(0))
	require.InDelta(t, 80+1.2+4, ans.Layers[0].Pieces[0].Cut[1], 1e-6, "the foot has its hem")
}
