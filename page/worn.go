package page

import (
	"bytes"
	"image"
	"image/color"
	stddraw "image/draw"
	"image/png"
	"strconv"

	"tenter/draw/worn"
)

// The colours in which a piece is shown worn: its face, and what shows where it turns.
var (
	wornFace = color.RGBA{0x8e, 0x3b, 0x46, 255}
	wornBack = color.RGBA{0xd8, 0xb8, 0x71, 255}
)

// wornPicture gives the picture of a piece worn that was computed beforehand: one side of it, or
// all in a row.
func (s *Site) wornPicture(r Request) Reply {
	q := r.URL.Query()
	bending, err := strconv.ParseFloat(q.Get("c"), 64)
	if err != nil {
		return s.failed404(r)
	}
	p, ok := worn.Find(q.Get("piece"), bending)
	if !ok {
		return s.failed404(r)
	}
	sides := p.Sides
	if side := q.Get("side"); side != "all" {
		n, err := strconv.Atoi(side)
		if err != nil || n < 0 || n >= len(sides) {
			return s.failed404(r)
		}
		sides = sides[n : n+1]
	}
	row := image.NewNRGBA(image.Rect(0, 0, worn.Wide*len(sides), worn.Tall))
	for i, x := range sides {
		one := x.Paint(wornFace, wornBack)
		stddraw.Draw(row, one.Bounds().Add(image.Pt(i*worn.Wide, 0)), one, image.Point{}, stddraw.Src)
	}
	var b bytes.Buffer
	if err := png.Encode(&b, row); err != nil {
		return s.failWith(r, err)
	}
	a := newReply(statusOK, "image/png", b.Bytes())
	a.Header["Cache-Control"] = "private, max-age=3600"
	return a
}
