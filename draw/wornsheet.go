//go:build !js

package draw

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"html"
	"image"
	"image/color"
	stddraw "image/draw"
	"image/png"
	"math"
	"strings"

	"golang.org/x/image/font"
	"golang.org/x/image/font/basicfont"
	"golang.org/x/image/math/fixed"
)

// WornFrame is one picture of a row, with what is said under it.
type WornFrame struct {
	Picture *image.NRGBA
	Label   string
}

// WornSheet is a row of pictures of one piece from one side, with a scale.
type WornSheet struct {
	Title, Caption string
	Frames         []WornFrame
	PerMetre       float64 // pixels to a metre, for the scale; 0: none
}

// The ground and the words of a sheet, and room for them in pixels.
var (
	sheetGround = color.RGBA{238, 238, 234, 255}
	sheetInk    = color.RGBA{40, 40, 44, 255}
)

const (
	sheetHead = 26
	sheetFoot = 62
	lineStep  = 15
	// scaleWords is how wide the words of the scale are.
	scaleWords = 40
)

func (s WornSheet) size() (w, h int) {
	for _, f := range s.Frames {
		b := f.Picture.Bounds()
		w += b.Dx()
		h = max(h, b.Dy())
	}
	return w, h + sheetHead + sheetFoot
}

// PNG is the sheet as a picture with its words in it.
func (s WornSheet) PNG() ([]byte, error) {
	w, h := s.size()
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	stddraw.Draw(out, out.Bounds(), image.NewUniform(sheetGround), image.Point{}, stddraw.Src)
	write := func(x, y int, text string) {
		d := font.Drawer{Dst: out, Src: image.NewUniform(sheetInk), Face: basicfont.Face7x13, Dot: fixed.P(x, y)}
		d.DrawString(plainLetters(text))
	}
	write(8, 17, s.Title)
	x := 0
	for _, f := range s.Frames {
		b := f.Picture.Bounds()
		stddraw.Draw(out, image.Rect(x, sheetHead, x+b.Dx(), sheetHead+b.Dy()), f.Picture, b.Min, stddraw.Over)
		write(x+8, h-sheetFoot+12, f.Label)
		x += b.Dx()
	}
	if s.PerMetre > 0 {
		long := int(0.1 * s.PerMetre)
		stddraw.Draw(out, image.Rect(w-12-long, h-sheetFoot-8, w-12, h-sheetFoot-5), image.NewUniform(sheetInk), image.Point{}, stddraw.Src)
		write(w-12-max(long, scaleWords), h-sheetFoot-12, "10 cm")
	}
	for i, line := range wrapWords(s.Caption, (w-16)/7) {
		write(8, h-sheetFoot+30+i*lineStep, line)
	}
	var b bytes.Buffer
	err := png.Encode(&b, out)
	return b.Bytes(), err
}

// SVG is the sheet with its words as words: its ground is clear, and its ink follows the
// reader's light or dark theme.
func (s WornSheet) SVG() (string, error) {
	w, h := s.size()
	var o strings.Builder
	fmt.Fprintf(&o, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" width="%d" height="%d" role="img" aria-label="%s">`, w, h, w, h, html.EscapeString(s.Title+". "+s.Caption))
	o.WriteString(`<style>text{font:13px sans-serif;fill:#28282c}.s{fill:#28282c}@media(prefers-color-scheme:dark){text,.s{fill:#e4e4e0}}</style>`)
	fmt.Fprintf(&o, `<title>%s</title><text x="8" y="17">%s</text>`, html.EscapeString(s.Title), html.EscapeString(s.Title))
	x := 0
	for _, f := range s.Frames {
		var b bytes.Buffer
		if err := png.Encode(&b, f.Picture); err != nil {
			return "", err
		}
		d := f.Picture.Bounds()
		fmt.Fprintf(&o, `<image x="%d" y="%d" width="%d" height="%d" href="data:image/png;base64,%s"/>`, x, sheetHead, d.Dx(), d.Dy(), base64.StdEncoding.EncodeToString(b.Bytes()))
		fmt.Fprintf(&o, `<text x="%d" y="%d">%s</text>`, x+8, h-sheetFoot+12, html.EscapeString(f.Label))
		x += d.Dx()
	}
	if s.PerMetre > 0 {
		long := 0.1 * s.PerMetre
		fmt.Fprintf(&o, `<rect class="s" x="%.1f" y="%d" width="%.1f" height="3"/><text x="%.1f" y="%d">10 cm</text>`, float64(w)-12-long, h-sheetFoot-8, long, float64(w)-12-math.Max(long, scaleWords), h-sheetFoot-12)
	}
	for i, line := range wrapWords(s.Caption, (w-16)/7) {
		fmt.Fprintf(&o, `<text x="8" y="%d">%s</text>`, h-sheetFoot+30+i*lineStep, html.EscapeString(line))
	}
	o.WriteString("</svg>\n")
	return o.String(), nil
}

// plainLetters are those that the picture's small face has.
func plainLetters(s string) string {
	return strings.NewReplacer("²", "2", "–", "-", "−", "-", "°", " degrees", "…", "...", "’", "'", " ", " ").Replace(s)
}

func wrapWords(s string, wide int) []string {
	var lines []string
	line := ""
	for _, w := range strings.Fields(s) {
		if line != "" && len(line)+1+len(w) > wide {
			lines, line = append(lines, line), ""
		}
		if line != "" {
			line += " "
		}
		line += w
	}
	return append(lines, line)
}
