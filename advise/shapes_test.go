package advise

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise/plain"
	"tenter/data"
)

func TestShapesLoadAndDraw(t *testing.T) {
	a, err := Load(data.FS)
	require.NoError(t, err)
	s, err := LoadShapes(data.FS, a.Cat, a.PieceNames)
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
	s, err := LoadShapes(data.FS, a.Cat, a.PieceNames)
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
		{map[string]string{"parts": "1.5"}, "not a whole number"},
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

// What is said of pictures names pieces and shapes that there are, each once, and says
// either what is doubtful in a picture or why there is none.
func TestPicturesSayOneThing(t *testing.T) {
	a := adviser(t)
	require.Contains(t, a.PictureOf("bias-skirt").Doubt, "drops for days")
	require.Contains(t, a.PictureOf("cowl").NotShown, "lie on each other")
	require.Empty(t, a.PictureOf("scarf"))
	const ends = "\nbasis = \"derived\"\nsources = [\"tenter\"]\n"
	for text, want := range map[string]string{
		`of = ["cowl"]` + "\n" + `doubt = "It swings."`:  "",
		`of = ["cowll"]` + "\n" + `doubt = "It swings."`: `there is no piece or shape "cowll"; ids of pieces and shapes; did you mean "cowl"?`,
		`doubt = "It swings."`:                           "x.toml:1:1: of is missing",
		`of = ["cowl"]`:                                  "it has both doubt and not-shown, or neither",
		`of = ["cowl"]` + "\n" + `doubt = "It swings."` + "\n" + `not-shown = "heaps"`:                                                      "it has both doubt and not-shown, or neither",
		`of = ["cowl", "ruff"]` + "\n" + `doubt = "It swings."` + ends + "[[picture]]\n" + `of = ["ruff"]` + "\n" + `not-shown = "pressed"`: `"ruff" is there twice`,
	} {
		l := &loader{a: &Adviser{Cat: a.Cat, PieceNames: a.PieceNames}}
		out := &Shapes{Names: a.PieceNames}
		got := strings.Join(l.readAs("[[picture]]\n"+text+ends, func(doc *plain.Doc) { l.pictures(doc, out) }), "\n")
		if want == "" {
			require.Empty(t, got)
			require.Equal(t, "It swings.", out.PictureOf("cowl").Doubt)
			continue
		}
		require.Contains(t, got, want, text)
	}
}
