package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/cut"
	"tenter/fibres/units"
)

// What lies under the needle, told with its thickness where that is known.
func TestUnderTheNeedle(t *testing.T) {
	require.Equal(t, "layers under the needle: 4", Sewn{Layers: 4}.Under(units.Metric))
	require.Equal(t, "layers under the needle: 4, 1.5 mm", Sewn{Layers: 4, MM: 1.5}.Under(units.Metric))
	require.Equal(t, `layers under the needle: 2, 0.059 in`, Sewn{Layers: 2, MM: 1.5}.Under(units.Imperial))
}

// A seam or edge without a place of its own is sewn as the first of its list, where that is
// recommended; a place that is skipped has none.
func TestPlacesWithoutAWay(t *testing.T) {
	a := *adviser(t)
	a.Places = []Place{{Words: []string{"zip"}, Skip: true}}
	m := makeUp(t, "shell denim")
	c, _ := a.build(m)
	seams, edges := []Choice{{ID: "s", Name: "S", Effect: "for", Why: "why", Say: "say"}}, []Choice{{ID: "e", Name: "E", Effect: WillDo}}
	got, ok := a.sewnHere(m, c, cut.Join{Name: "side", Kind: cut.Seam}, seams, edges)
	require.True(t, ok)
	require.Equal(t, Sewn{Kind: "seam", ID: "s", Name: "S", Say: "why"}, got)
	seams[0].Why = ""
	got, _ = a.sewnHere(m, c, cut.Join{Name: "side", Kind: cut.Seam}, seams, edges)
	require.Equal(t, "say", got.Say)
	_, ok = a.sewnHere(m, c, cut.Join{Name: "hem", Kind: cut.Hem}, seams, edges)
	require.False(t, ok, "an edge that only will do is not told as how it is sewn")
	_, ok = a.sewnHere(m, c, cut.Join{Name: "hem", Kind: cut.Hem}, seams, nil)
	require.False(t, ok)
	_, ok = a.sewnHere(m, c, cut.Join{Name: "zip, centre back", Kind: cut.Seam}, seams, edges)
	require.False(t, ok)
}

// Every seam and edge of a piece is told once, alike ones together; the seam of denim is
// thicker under the needle than that of lawn, and none is thicker than a needle goes.
func TestPlacesOfAPiece(t *testing.T) {
	a := adviser(t)
	thick := map[string]float64{}
	for _, cloth := range []string{"denim", "cotton-lawn"} {
		ans, err := a.Advise(makeUp(t, "shirt, single-layer-hem, shell "+cloth), 0)
		require.NoError(t, err)
		seen := map[string]bool{}
		for _, s := range ans.Places {
			for _, p := range s.Places {
				require.False(t, seen[p], "%s is told twice", p)
				seen[p] = true
			}
			require.Positive(t, s.Layers)
			require.LessOrEqual(t, s.MM, 10.0)
			thick[cloth] = max(thick[cloth], s.MM)
		}
		require.Greater(t, len(seen), 4)
	}
	require.Greater(t, thick["denim"], 2*thick["cotton-lawn"])
}
