package cut

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// Every drawing is drawn from the measures it names, of parts that can be cut.
func TestEveryDrawingDraws(t *testing.T) {
	usual := measures{"parts": 4, "width": 60, "height": 80, "depth": 75, "dip": 0, "face": 38, "hood-depth": 30, "neck": 26, "crown": 14, "nape": 8, "neckline": 40, "angle": 180, "length": 75, "girth": 44,
		"facing": 6, "band": 4, "lap": 3, "around": 90, "bias": 0, "point": 0, "drop": 70, "swallowtail": 10, "casing": 5, "fullness": 2, "heading": 3, "edge": 100, "strip": 140, "inner": 5, "top": 74, "hem": 228}
	for _, name := range Drawings() {
		m := measures{}
		for _, need := range Needs(name) {
			v, ok := usual[need]
			require.True(t, ok, "%s needs %s", name, need)
			m[need] = v
		}
		d, err := drawings[name].draw(m)
		require.NoError(t, err, name)
		require.NotEmpty(t, d.Parts, name)
		for _, p := range d.Parts {
			require.NoError(t, p.Check(), "%s: %s", name, p.Name)
			require.Positive(t, GeometryOf(p).Area, name)
		}
		for _, j := range d.Joins {
			require.Positive(t, j.Length, "%s: %s", name, j.Name)
		}
	}
	require.Nil(t, Needs("teapot"))
}

// A measure is read with its unit, else at its usual value; one that is out of bounds or
// unknown is told of by name.
func TestMeasuresOfAShape(t *testing.T) {
	s := Shape{ID: "skirt", Draws: "circle", Parameters: []Parameter{{ID: "length", Kind: KindLength, Default: 60, Low: 10, High: 200}, {ID: "angle", Kind: KindAngle, Default: 360, Low: 30, High: 720},
		{ID: "girth", Kind: KindLength, Default: 70, Low: 20, High: 300}, {ID: "parts", Kind: KindCount, Default: 2, Low: 1, High: 12}}}
	m, err := s.Measures(map[string]string{"length": "30in", "angle": "180"})
	require.NoError(t, err)
	require.InDelta(t, 76.2, m["length"], 1e-9)
	require.InDelta(t, 180, m["angle"], 1e-9)
	require.InDelta(t, 70, m["girth"], 1e-9)
	_, err = s.Measures(map[string]string{"length": "3m"})
	require.ErrorContains(t, err, "length")
	_, err = s.Measures(map[string]string{"lenght": "60cm"})
	require.ErrorContains(t, err, "lenght")
	d, err := s.Draw(nil)
	require.NoError(t, err)
	area := 0.0
	for _, p := range d.Parts {
		area += GeometryOf(p).Area * float64(p.Count)
	}
	r := 70 / (2 * math.Pi)
	require.InDelta(t, math.Pi*((r+60)*(r+60)-r*r), area, 0.1, "the ring, in two halves")
}
