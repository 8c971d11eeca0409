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
	lineStep  = 15
	letter    = 7  // how wide one is
	margin    = 8  // on every side of words
	scaleRoom = 40 // how wide the words of the scale are, at least
)

// sheetLayout is where the parts of a sheet lie, in pixels.
type sheetLayout struct {
	w, h, tall int        // tall: of the tallest picture
	labels     [][]string // of each frame, in lines
	caption    []string
	foot       int // where the caption and the scale begin
	scale      float64
}

// layout finds room for all words: labels under their pictures, then the caption with the scale
// beside it.
func (s WornSheet) layout() (l sheetLayout) {
	rows := 1
	for _, f := range s.Frames {
		b := f.Picture.Bounds()
		l.w, l.tall = l.w+b.Dx(), max(l.tall, b.Dy())
		lines := wrapWords(f.Label, (b.Dx()-2*margin)/letter)
		l.labels, rows = append(l.labels, lines), max(rows, len(lines))
	}
	l.foot = sheetHead + l.tall + rows*lineStep + margin
	l.scale = 0.1 * s.PerMetre
	room := 0
	if l.scale > 0 {
		room = int(math.Max(l.scale, scaleRoom)) + 2*margin
	}
	l.caption = wrapWords(s.Caption, (l.w-2*margin-room)/letter)
	l.h = l.foot + max(2, len(l.caption))*lineStep + margin
	return l
}

// PNG is the sheet as a picture with its words in it.
func (s WornSheet) PNG() ([]byte, error) {
	l := s.layout()
	out := image.NewRGBA(image.Rect(0, 0, l.w, l.h))
	stddraw.Draw(out, out.Bounds(), image.NewUniform(sheetGround), image.Point{}, stddraw.Src)
	write := func(x, y int, text string) {
		d := font.Drawer{Dst: out, Src: image.NewUniform(sheetInk), Face: basicfont.Face7x13, Dot: fixed.P(x, y)}
		d.DrawString(plainLetters(text))
	}
	write(margin, 17, s.Title)
	x := 0
	for i, f := range s.Frames {
		b := f.Picture.Bounds()
		stddraw.Draw(out, image.Rect(x, sheetHead, x+b.Dx(), sheetHead+b.Dy()), f.Picture, b.Min, stddraw.Over)
		for j, line := range l.labels[i] {
			write(x+margin, sheetHead+l.tall+12+j*lineStep, line)
		}
		x += b.Dx()
	}
	if l.scale > 0 {
		long, right := int(l.scale), l.w-margin
		write(right-max(long, scaleRoom), l.foot+12, "10 cm")
		stddraw.Draw(out, image.Rect(right-long, l.foot+17, right, l.foot+20), image.NewUniform(sheetInk), image.Point{}, stddraw.Src)
	}
	for i, line := range l.caption {
		write(margin, l.foot+12+i*lineStep, line)
	}
	var b bytes.Buffer
	err := png.Encode(&b, out)
	return b.Bytes(), err
}

// SVG is the sheet with its words as words: its ground is clear, and its ink follows the
// reader's light or dark theme.
func (s WornSheet) SVG() (string, error) {
	l := s.layout()
	var o strings.Builder
	fmt.Fprintf(&o, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %d" width="%d" height="%d" role="img" aria-label="%s">`, l.w, l.h, l.w, l.h, html.EscapeString(s.Title+". "+s.Caption))
	o.WriteString(`<style>text{font:13px sans-serif;fill:#28282c}.s{fill:#28282c}@media(prefers-color-scheme:dark){text,.s{fill:#e4e4e0}}</style>`)
	fmt.Fprintf(&o, `<title>%s</title>`, html.EscapeString(s.Title))
	write := func(x, y int, text string) {
		fmt.Fprintf(&o, `<text x="%d" y="%d">%s</text>`, x, y, html.EscapeString(text))
	}
	write(margin, 17, s.Title)
	x := 0
	for i, f := range s.Frames {
		var b bytes.Buffer
		if err := png.Encode(&b, f.Picture); err != nil {
			return "", err
		}
		d := f.Picture.Bounds()
		fmt.Fprintf(&o, `<image x="%d" y="%d" width="%d" height="%d" href="data:image/png;base64,%s"/>`, x, sheetHead, d.Dx(), d.Dy(), base64.StdEncoding.EncodeToString(b.Bytes()))
		for j, line := range l.labels[i] {
			write(x+margin, sheetHead+l.tall+12+j*lineStep, line)
		}
		x += d.Dx()
	}
	if l.scale > 0 {
		right := float64(l.w - margin)
		write(int(right-math.Max(l.scale, scaleRoom)), l.foot+12, "10 cm")
		fmt.Fprintf(&o, `<rect class="s" x="%.1f" y="%d" width="%.1f" height="3"/>`, right-l.scale, l.foot+17, l.scale)
	}
	for i, line := range l.caption {
		write(margin, l.foot+12+i*lineStep, line)
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
