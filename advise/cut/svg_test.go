package cut

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A drawing in millimetres: 10 user units are 1 cm where the paper is 100 mm for 100 units; a
// shape that is moved and doubled comes out doubled; an open or empty one is told of.
func TestDrawingIsReadInItsOwnUnits(t *testing.T) {
	paper := func(inner string) []byte {
		return []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">` + inner + `</svg>`)
	}
	parts, err := ReadSVG("a.svg", paper(`<rect id="tab" x="5" y="5" width="20" height="40"/><g transform="translate(3 4) scale(2)"><circle id="disc" cx="20" cy="20" r="10"/></g>`))
	require.NoError(t, err)
	require.Len(t, parts, 2)
	require.InDelta(t, 2, float64(parts[0].Width), 1e-6)
	require.InDelta(t, 4, float64(parts[0].Height), 1e-6)
	require.InDelta(t, 4, float64(parts[1].Width), 0.01, "a circle of 10, doubled")
	require.Equal(t, "disc", parts[1].Name)
	_, err = ReadSVG("a.svg", paper(""))
	require.Error(t, err)
	m, ok := transform("translate(3 4) scale(2)")
	require.True(t, ok)
	require.Equal(t, Point{3 + 2*5, 4 + 2*6}, m.of(Point{5, 6}))
	_, ok = transform("twist(3)")
	require.False(t, ok)
	v, ok := svgCentimetres("1in")
	require.True(t, ok)
	require.InDelta(t, 2.54, v, 1e-9)
}
