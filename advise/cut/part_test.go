package cut

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestParsePart(t *testing.T) {
	for s, want := range map[string]Part{
		"wrap 150cm x 75cm x1": {Name: "wrap", Count: 1, Width: 150, Height: 75},
		"tie 40 x 6 in x2":     {Name: "tie", Count: 2, Width: 101.6, Height: 15.24},
		"tie: 80 x 8 cm x 2":   {Name: "tie", Count: 2, Width: 80, Height: 8},
		"150x75cm":             {Name: "part", Count: 1, Width: 150, Height: 75},
		"box side 30in×12in":   {Name: "box side", Count: 1, Width: 76.2, Height: 30.48},
		`hood 11 1/2" x 15"x2`: {Name: "hood", Count: 2, Width: 29.21, Height: 38.1},
	} {
		p, err := ParsePart(s)
		require.NoError(t, err, s)
		require.Equal(t, want.Name, p.Name, s)
		require.Equal(t, want.Count, p.Count, s)
		require.InDelta(t, float64(want.Width), float64(p.Width), 1e-9, s)
		require.InDelta(t, float64(want.Height), float64(p.Height), 1e-9, s)
	}
	name, w, h, err := ParseSize("hood=30x38cm")
	require.NoError(t, err)
	require.Equal(t, "hood 30 38", fmt.Sprint(name, " ", float64(w), " ", float64(h)))
	name, _, _, err = ParseSize("240x45cm")
	require.NoError(t, err)
	require.Empty(t, name)
}
