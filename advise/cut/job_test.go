package cut

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/fibres/units"
)

// A piece goes through what all its cloths stand: one that is not washed keeps the whole of
// it from the wash, and that is said.
func TestOneClothThatIsNotWashedDecidesForAll(t *testing.T) {
	silk := Layer{Name: "lining", Cloth: "silk"}
	silk.care.wash = fibres.Estimate{Typical: 0, Basis: fibres.Practice}
	require.True(t, silk.NotWashed())
	j := Job{Layers: []Layer{{Name: "shell", Cloth: "cotton"}, silk}}
	notes := j.treat()
	require.Len(t, notes, 1)
	require.Contains(t, notes[0], "Silk is not washed")
	require.Equal(t, DryCleaned, j.Layers[0].Treatment)
	require.Equal(t, DryCleaned, CareOf(j.Layers...))
	j = Job{Layers: []Layer{{Name: "shell", Cloth: "cotton"}}}
	require.Empty(t, j.treat())
	require.Equal(t, Washed, j.Layers[0].Treatment)
}

// Allowances are those of the job, of its hems and edges where they are another, and of a
// layer that has its own none else.
func TestAllowancesOfALayerComeBeforeThoseOfTheJob(t *testing.T) {
	hem, none := units.Length(4), units.Length(0)
	j := Job{Allowance: 1.2, Hem: &hem}
	require.Equal(t, allowances{1.2, 4, 1.2}, j.allowances(&Layer{}))
	require.Equal(t, allowances{}, j.allowances(&Layer{Allowance: &none}), "what is fused")
}

// Edges of which nothing is known are taken for free ones, both copies of a part together.
func TestUnknownEdgesAreFree(t *testing.T) {
	joins, guessed := Job{Parts: []Part{{Name: "sash", Count: 2, Width: 30, Height: 100}}}.joins()
	require.True(t, guessed)
	require.Equal(t, []Join{{Name: "sash edge", Kind: FreeEdge, Length: 520}}, joins)
	require.ErrorContains(t, Job{}.check(), "no parts to cut")
	require.ErrorContains(t, Job{Parts: []Part{{Name: "a", Count: 500, Width: 9, Height: 9}, {Name: "b", Count: 500, Width: 9, Height: 9}, {Name: "c", Count: 500, Width: 9, Height: 9}, {Name: "d", Count: 500, Width: 9, Height: 9}, {Name: "e", Count: 1, Width: 9, Height: 9}}}.check(), "2001 parts")
}
