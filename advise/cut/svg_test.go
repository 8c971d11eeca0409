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

// Each transform moves a point as the standard says. Source: SVG 1.1, section 7.6, worked
// out by hand.
func TestEachTransformMovesAPoint(t *testing.T) {
	for text, want := range map[string]Point{
		"translate(3)": {13, 4}, "translate(3 5)": {13, 9}, "scale(2)": {20, 8}, "scale(2,3)": {20, 12}, "rotate(90)": {-4, 10}, "rotate(90 3 4)": {3, 11}, "rotate(180,1,1)": {-8, -2},
		"skewX(45)": {14, 4}, "skewY(45)": {10, 14}, "matrix(1 2 3 4 5 6)": {27, 42}, "translate(3 5) scale(2)": {23, 13}, "": {10, 4},
	} {
		m, ok := transform(text)
		require.True(t, ok, text)
		got := m.of(Point{10, 4})
		require.InDelta(t, want.X, got.X, 1e-9, text)
		require.InDelta(t, want.Y, got.Y, 1e-9, text)
	}
	for _, text := range []string{"translate(1 2 3)", "scale()", "rotate(90 1)", "skewX(1 2)", "matrix(1 2 3)", "turn(3)", "scale(x)"} {
		_, ok := transform(text)
		require.False(t, ok, text)
	}
}
