package draw

import (
	"bytes"
	"image/color"
	"image/png"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/drape"
)

// ball is a body of 10 cm radius.
type ball struct{}

func (ball) Distance(p drape.Vec) (float64, drape.Vec) { return p.Len() - 0.1, p.Unit() }

// board is a square of cloth of 20 cm in the plane x, z, its outer side to the front.
func board() Fallen {
	r := drape.Result{Cell: 0.2, UV: [][2]float64{{0, 0}, {0.2, 0}, {0, 0.2}, {0.2, 0.2}}, Panel: make([]int, 4),
		At:    []drape.Vec{{-0.1, 0, 0.1}, {-0.1, 0, -0.1}, {0.1, 0, 0.1}, {0.1, 0, -0.1}},
		Quads: [][4]int32{{0, 1, 2, 3}}, Part: []float64{1}}
	return Fallen{Result: r, Inside: []func(u, v float64) bool{func(u, v float64) bool { return true }},
		Face: color.RGBA{200, 0, 0, 255}, Back: color.RGBA{0, 0, 200, 255}, Low: drape.Vec{-0.2, -0.2, -0.2}, High: drape.Vec{0.2, 0.2, 0.2}}
}

// count is how many pixels show the outer side of the cloth, its inner side, and the form.
func count(s Shading) (face, back, form int) {
	for _, w := range s.what {
		switch w & 3 {
		case faceSeen:
			face++
		case backSeen:
			back++
		case formSeen:
			form++
		}
	}
	return face, back, form
}

func TestClothIsDrawnToScaleOnItsTwoSides(t *testing.T) {
	f := board()
	front := f.Shade(200, 200)
	want := math.Pow(0.2*f.PerMetre(200, 200), 2)
	face, back, form := count(front)
	require.InDelta(t, want, float64(face), 0.03*want, "20 cm by 20 cm in pixels")
	require.Zero(t, back)
	require.Zero(t, form)
	f.Turn = 180
	face, back, _ = count(f.Shade(200, 200))
	require.Zero(t, face)
	require.InDelta(t, want, float64(back), 0.03*want)
	f.Turn = 90
	face, back, _ = count(f.Shade(200, 200))
	require.Less(t, face+back, int(want)/20, "seen from the side it is a line")
}

// What lies before hides what lies behind.
func TestClothHidesTheFormBehindIt(t *testing.T) {
	f := board()
	f.Result.Cell = 0.001
	f.Body = ball{}
	_, _, form := count(f.Shade(200, 200))
	require.Positive(t, form, "half of the ball stands out before the cloth")
	for i := range f.Result.At {
		f.Result.At[i][1] = 0.15 // before the ball
	}
	_, _, form = count(f.Shade(200, 200))
	require.Zero(t, form)
}

func TestPaintedInTheColoursAsked(t *testing.T) {
	p := board().Draw(100, 100)
	c := p.NRGBAAt(50, 50)
	require.Greater(t, c.R, uint8(60))
	require.Zero(t, c.G+c.B)
	require.Equal(t, uint8(255), c.A)
	require.Zero(t, p.NRGBAAt(2, 2).A, "the ground is clear")
	b := board()
	b.Turn = 180
	c = b.Draw(100, 100).NRGBAAt(50, 50)
	require.Zero(t, c.R)
	require.Greater(t, c.B, uint8(30))
}

// The words and the scale are in the picture; both themes can be read.
func TestWornSheet(t *testing.T) {
	f := board()
	s := WornSheet{Title: "a board", Caption: "A computed fall.", PerMetre: f.PerMetre(200, 200), Frames: []WornFrame{{f.Draw(200, 200), "limp end"}, {f.Draw(200, 200), "stiff end"}}}
	svg, err := s.SVG()
	require.NoError(t, err)
	for _, w := range []string{"limp end", "stiff end", "A computed fall.", "10 cm", "prefers-color-scheme:dark"} {
		require.Contains(t, svg, w)
	}
	b, err := s.PNG()
	require.NoError(t, err)
	img, err := png.Decode(bytes.NewReader(b))
	require.NoError(t, err)
	require.Equal(t, 400, img.Bounds().Dx())

	// More words get more room, and none runs out at the side.
	tall := img.Bounds().Dy()
	s.Caption = strings.Repeat("It is held at the neck and hangs open. ", 8)
	s.Frames[0].Label = "limp end: not shown, the cloth passes through itself in 40 places"
	b, err = s.PNG()
	require.NoError(t, err)
	img, err = png.Decode(bytes.NewReader(b))
	require.NoError(t, err)
	require.Greater(t, img.Bounds().Dy(), tall+6*lineStep)
	l := s.layout()
	require.Equal(t, s.Caption, strings.Join(l.caption, " ")+" ")
	require.Equal(t, s.Frames[0].Label, strings.Join(l.labels[0], " "))
	for _, line := range append(l.caption, l.labels[0]...) {
		require.LessOrEqual(t, margin+len(line)*letter, 400-margin)
	}
	require.LessOrEqual(t, l.foot+max(2, len(l.caption))*lineStep, l.h)
}

func TestShadingComesBackAsItWasPacked(t *testing.T) {
	f := board()
	f.Body, f.Turn = ball{}, 30
	s := f.Shade(120, 140)
	b, err := s.Pack()
	require.NoError(t, err)
	require.Less(t, len(b), 120*140/4)
	back, err := UnpackShading(b)
	require.NoError(t, err)
	require.Equal(t, s, back)
	_, err = UnpackShading(b[:len(b)/2])
	require.Error(t, err)
}
