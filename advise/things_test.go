package advise

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// What rests on a source is listed by kind, each list in order, and holds all that names it.
func TestThingsOfASource(t *testing.T) {
	a := adviser(t)
	got := a.ThingsFrom("practice")
	for _, kind := range []string{"pieces", "demands", "finishes", "seams", "edges", "interfacings", "fibres", "structures", "treatments", "cloths", "terms"} {
		require.NotEmpty(t, got[kind], kind)
		require.True(t, slices.IsSorted(got[kind]), kind)
	}
	demands := 0
	for _, p := range a.Pieces {
		for _, d := range p.Demands {
			if slices.Contains(d.Sources, "practice") {
				demands++
			}
		}
	}
	require.Len(t, got["demands"], demands)
	for _, id := range got["cloths"] {
		require.Equal(t, "practice", a.Cat.Cloths[id].Source)
	}
	require.Empty(t, a.ThingsFrom("nobody"))
}
