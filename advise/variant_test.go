package advise

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A variant asks what its piece asks, less what it drops, and its own in the place of
// what has the same id.
func TestDemandsOfAVariant(t *testing.T) {
	of := []Demand{{ID: "mass", Say: "old"}, {ID: "wind"}, {ID: "fray"}}
	got := varied(of, []string{"fray"}, []Demand{{ID: "mass", Say: "new"}, {ID: "water"}})
	var said []string
	for _, d := range got {
		said = append(said, d.ID+d.Say)
	}
	require.Equal(t, []string{"wind", "massnew", "water"}, said)
	require.Equal(t, "old", of[0].Say, "the piece itself is as it was")
	a := adviser(t)
	variants := 0
	for _, p := range a.Pieces {
		if p.Of == "" {
			continue
		}
		variants++
		of, err := a.Piece(p.Of)
		require.NoError(t, err)
		require.NotEqual(t, of.Name, p.Name)
		require.NotEmpty(t, p.Parts, "%s has the parts of %s", p.ID, p.Of)
		require.NotEmpty(t, p.Group)
	}
	require.Greater(t, variants, 3)
}
