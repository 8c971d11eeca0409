package advise

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/data"
)

func TestShapesLoadAndDraw(t *testing.T) {
	a, err := Load(data.FS)
	require.NoError(t, err)
	s, err := LoadShapes(data.FS, a.Cat)
	require.NoError(t, err)
	require.Greater(t, len(s.List), 15)
	pieces := 0
	for _, x := range s.List {
		t.Run(x.ID, func(t *testing.T) {
			d, err := x.Draw(nil)
			require.NoError(t, err)
			require.NotEmpty(t, d.Parts)
			require.NotEmpty(t, d.Joins)
			for _, j := range d.Joins {
				require.GreaterOrEqual(t, j.Length, 0.0, j.Name)
			}
			for _, p := range x.Parameters {
				require.NotEmpty(t, p.Say, p.ID)
			}
			i := slices.IndexFunc(a.Pieces, func(p *Piece) bool { return p.ID == x.ID })
			if i < 0 {
				return
			}
			piece := a.Pieces[i]
			pieces++
			// Drawn at its defaults, the piece has the parts that are recorded of it, in
			// about their sizes: what is reckoned from either must agree.
			require.Len(t, d.Parts, len(piece.Parts))
			for i, p := range piece.Parts {
				require.Equal(t, p.Count, d.Parts[i].Count, p.Name)
				require.InEpsilon(t, float64(p.Width), float64(d.Parts[i].Width), 0.12, "%s, width", p.Name)
				require.InEpsilon(t, float64(p.Height), float64(d.Parts[i].Height), 0.12, "%s, height", p.Name)
			}
		})
	}
	require.Greater(t, pieces, 10, "shapes that stand for pieces")
}

func TestShapeRefusesWhatCannotBeDrawn(t *testing.T) {
	a, err := Load(data.FS)
	require.NoError(t, err)
	s, err := LoadShapes(data.FS, a.Cat)
	require.NoError(t, err)
	cape, err := s.Find("half-circle-cape")
	require.NoError(t, err)
	for _, c := range []struct {
		set  map[string]string
		want string
	}{
		{map[string]string{"lenght": "80cm"}, `did you mean "length"?`},
		{map[string]string{"length": "80"}, "length: "},
		{map[string]string{"length": "9 m"}, "15 cm to 200 cm"},
		{map[string]string{"parts": "1.5"}, "no whole number"},
		{map[string]string{"parts": "2 cm"}, "a plain number"},
		{map[string]string{"angle": "270 deg", "parts": "1"}, ""},
	} {
		_, err := cape.Draw(c.set)
		if c.want == "" {
			require.NoError(t, err)
			continue
		}
		require.ErrorContains(t, err, c.want)
	}
	hood, err := s.Find("hood-two-part")
	require.NoError(t, err)
	for line, want := range map[string]string{"52 cm": "goes into the neckline of 52 cm as it is", "50 cm": "is 2 cm longer than the neckline of 50 cm: ease it in", "40cm": "pleat or gather it in", "60 cm": "8 cm shorter than the neckline of 60 cm: set it back 4 cm from each front edge"} {
		d, err := hood.Draw(map[string]string{"neckline": line})
		require.NoError(t, err)
		require.Contains(t, d.Says[0], want)
	}
}
