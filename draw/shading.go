package draw

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
	"errors"
	"image"
	"image/color"
	"io"
	"math"
)

// What a pixel of a shading shows.
const (
	nothing = iota
	formSeen
	faceSeen
	backSeen
)

// Shading is a picture of cloth that still has no colour: what each pixel shows, and how light
// it is. It is painted in any colours at once, and packs small.
type Shading struct {
	W, H int
	// kind in the lowest two bits, how much of the pixel is covered, less one, in the next two
	what []uint8
	dark []uint8 // from light at 0 to dark
}

// lightest is the shade that is kept as 0, and darkSteps how many there are.
const (
	lightest  = 1.2
	darkSteps = 63
)

// NewShading is an empty picture.
func NewShading(w, h int) Shading {
	return Shading{W: w, H: h, what: make([]uint8, w*h), dark: make([]uint8, w*h)}
}

func (s Shading) set(i, j, kind int, shade float64, seen int) {
	s.what[j*s.W+i] = uint8(kind | (seen-1)<<2)
	s.dark[j*s.W+i] = uint8(math.Round(darkSteps * (1 - math.Max(0, math.Min(lightest, shade))/lightest)))
}

// formColour is a plain dress form's.
var formColour = color.RGBA{176, 168, 156, 255}

// Paint puts colours on the two sides of the cloth.
func (s Shading) Paint(face, back color.RGBA) *image.NRGBA {
	out := image.NewNRGBA(image.Rect(0, 0, s.W, s.H))
	colours := [4]color.RGBA{{}, formColour, face, back}
	for i, what := range s.what {
		kind := what & 3
		if kind == nothing {
			continue
		}
		shade := lightest * (1 - float64(s.dark[i])/darkSteps)
		c, o := colours[kind], out.Pix[4*i:]
		for k, x := range [3]uint8{c.R, c.G, c.B} {
			o[k] = uint8(math.Max(0, math.Min(255, float64(x)*shade)))
		}
		o[3] = uint8(255 * (int(what>>2) + 1) / (fine * fine))
	}
	return out
}

// Pack writes the shading small: each value as the step from the one above, then deflated.
func (s Shading) Pack() ([]byte, error) {
	var b bytes.Buffer
	_ = binary.Write(&b, binary.LittleEndian, [2]uint16{uint16(s.W), uint16(s.H)})
	w, err := flate.NewWriter(&b, flate.BestCompression)
	if err != nil {
		return nil, err
	}
	for _, plane := range [][]uint8{s.what, s.dark} {
		steps := make([]uint8, len(plane))
		for i, x := range plane {
			steps[i] = x
			if i >= s.W {
				steps[i] -= plane[i-s.W]
			}
		}
		if _, err := w.Write(steps); err != nil {
			return nil, err
		}
	}
	err = w.Close()
	return b.Bytes(), err
}

// UnpackShading reads what Pack wrote.
func UnpackShading(b []byte) (Shading, error) {
	if len(b) < 4 {
		return Shading{}, errors.New("a packed picture of under four bytes")
	}
	s := NewShading(int(binary.LittleEndian.Uint16(b)), int(binary.LittleEndian.Uint16(b[2:])))
	r := flate.NewReader(bytes.NewReader(b[4:]))
	for _, plane := range [][]uint8{s.what, s.dark} {
		if _, err := io.ReadFull(r, plane); err != nil {
			return Shading{}, err
		}
		for i := s.W; i < len(plane); i++ {
			plane[i] += plane[i-s.W]
		}
	}
	return s, nil
}
