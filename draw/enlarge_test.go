package draw

import (
	"image/color"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// disc is half face, half back, on nothing, as Shade would give it.
func disc(w int, r float64) Shading {
	s := NewShading(w, w)
	for j := range w {
		for i := range w {
			seen := 0
			for k := range fine * fine {
				x, y := float64(i)+(float64(k%fine)+0.5)/fine-float64(w)/2, float64(j)+(float64(k/fine)+0.5)/fine-float64(w)/2
				if math.Hypot(x, y) < r {
					seen++
				}
			}
			if kind := faceSeen + i/(w/2); seen > 0 {
				s.set(i, j, kind, 0.6+0.3*float64(kind-faceSeen), seen)
			}
		}
	}
	return s
}

// A disc that is enlarged is the larger disc: its outline lies within a third of an old pixel of the
// circle (Source: the circle itself), nearer than the steps of pixels blown up; its area stays, and no
// shade is mixed across the line between two kinds.
func TestEnlargedKeepsOutlineAreaAndKinds(t *testing.T) {
	const w, r, times = 40, 15.0, 3
	s := disc(w, r)
	require.Equal(t, s, s.Enlarged(1))
	big := s.Enlarged(times)
	require.Equal(t, [2]int{w * times, w * times}, [2]int{big.W, big.H})
	face, back := color.RGBA{R: 200, A: 255}, color.RGBA{B: 200, A: 255}
	img := big.Paint(face, back)
	area := 0.0
	for y := range big.H {
		for x := range big.W {
			c := img.NRGBAAt(x, y)
			area += float64(c.A) / 255 / (times * times)
			from := math.Hypot((float64(x)+0.5)/times-w/2, (float64(y)+0.5)/times-w/2)
			if from < r-0.34 {
				require.EqualValues(t, 255, c.A, "a hole at %d, %d", x, y)
			}
			if from > r+0.34 {
				require.Zero(t, c.A, "a crumb at %d, %d", x, y)
			}
			if c.A == 0 {
				continue
			}
			want := [3]uint8{img.NRGBAAt(w*times/2-9, w*times/2).R, 0, 0}
			if x >= w*times/2 {
				want = [3]uint8{0, 0, img.NRGBAAt(w*times/2+9, w*times/2).B}
			}
			require.Equal(t, want, [3]uint8{c.R, c.G, c.B}, "the shade at %d, %d", x, y)
		}
	}
	require.InEpsilon(t, math.Pi*r*r, area, 0.01)
}

// A picture is enlarged in little time; at most 50 ms.
func BenchmarkEnlarged(b *testing.B) {
	s := disc(160, 70)
	for b.Loop() {
		s.Enlarged(3)
	}
}
