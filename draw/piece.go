package draw

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"tenter/advise/cut"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/prose"
)

// PieceView is a piece as its parts. A part without an outline whose Shaped entry
// is true is known by its box only, and drawn as a dashed one.
type PieceView struct {
	Name   string
	Parts  []cut.Part
	Shaped map[string]bool // by the part's name
}

// The frame of a piece, the same for all so that they can stand in rows.
const (
	pieceWide = 150.0
	pieceTall = 110.0
)

// Piece draws the parts of a piece small, all at one scale, to know it by.
func Piece(o Options, v PieceView) (Picture, error) {
	if len(v.Parts) == 0 || len(v.Parts) > 60 {
		return Picture{}, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("the piece has %d parts", len(v.Parts)), Expected: "1 to 60"}
	}
	var shapes partShapes
	var says []string
	for _, p := range v.Parts {
		if err := positive("the size of "+named(p.Name), float64(p.Width), float64(p.Height)); err != nil {
			return Picture{}, err
		}
		shapes = append(shapes, shapeOf(p))
		n := ""
		if p.Count > 1 {
			n = fmt.Sprintf(" (%d times)", p.Count)
		}
		says = append(says, fmt.Sprintf("%s%s, %s by %s", clean(p.Name), n, fibres.Quantity(float64(p.Width), "cm", o.Units), fibres.Quantity(float64(p.Height), "cm", o.Units)))
	}
	sort.SliceStable(shapes, func(i, k int) bool { return shapes[i].h > shapes[k].h })
	k, at := shapes.fit()
	if k <= 0 {
		return Picture{}, &fault.Fault{Kind: fault.OutsideRange, What: "the parts of " + named(v.Name) + " cannot be drawn small", Expected: "fewer parts"}
	}
	c := newCanvas(o)
	c.pad = 3
	c.reach(0, 0, 0)
	c.reach(pieceWide, pieceTall, 0)
	wide, tall := 0.0, 0.0
	for i, s := range shapes {
		wide, tall = math.Max(wide, at[i].x+s.w*k+double(s.part.Count)), math.Max(tall, at[i].y+s.h*k+double(s.part.Count))
	}
	for i, s := range shapes {
		corner := pt{(pieceWide-wide)/2 + at[i].x, (pieceTall-tall)/2 + at[i].y}
		s.draw(c, k, corner, v.Shaped[s.part.Name])
	}
	name := named(v.Name)
	return c.finish(prose.Upper(name), fmt.Sprintf("The parts of %s at one scale.", name), prose.Upper(name)+": "+strings.Join(says, "; ")+".")
}

// partShape is a part as it is drawn.
type partShape struct {
	part cut.Part
	pts  []pt // in cm, y downwards, from the corner of the box
	w, h float64
}

func shapeOf(p cut.Part) partShape {
	s := partShape{part: p, w: float64(p.Width), h: float64(p.Height)}
	if p.Outline == nil {
		s.pts = []pt{{0, 0}, {s.w, 0}, {s.w, s.h}, {0, s.h}}
		return s
	}
	pts, _ := p.Outline.Polygon()
	low, high := p.Outline.Box()
	s.w, s.h = high.X-low.X, high.Y-low.Y
	step := max(1, len(pts)/160) // small: a few points draw it
	for i := 0; i < len(pts); i += step {
		s.pts = append(s.pts, pt{pts[i].X - low.X, high.Y - pts[i].Y})
	}
	return s
}

// draw puts a part at its corner, k to the cm; one that is there twice has its
// double behind it, one without its true outline is dashed.
func (s partShape) draw(c *canvas, k float64, corner pt, shaped bool) {
	outline := func(l look, x, y float64) {
		pts := make([]pt, len(s.pts))
		for i, p := range s.pts {
			pts[i] = pt{corner.x + x + p.x*k, corner.y + y + p.y*k}
		}
		c.path(l, pts, true)
	}
	l := look{class: "tn-part", fill: "currentColor", shade: 0.12, stroke: 1.4}
	if s.part.Outline == nil && shaped {
		l.dash = "4 2.5"
	}
	d := double(s.part.Count)
	if d > 0 {
		outline(look{class: "tn-thin", stroke: 0.9, dash: l.dash}, d, 0)
	}
	outline(l, 0, d)
}

type partShapes []partShape

// fit finds by halving the greatest scale at which the parts fit the frame, and
// their corners; 0 where they do not.
func (s partShapes) fit() (scale float64, at []pt) {
	low, high := 0.0, 40.0
	for range 40 {
		if mid := (low + high) / 2; fits(s.place(mid)) {
			low = mid
		} else {
			high = mid
		}
	}
	at, ok := s.place(low)
	if !ok {
		return 0, nil
	}
	return low, at
}

// place lays the parts in rows as wide as the frame.
func (s partShapes) place(k float64) ([]pt, bool) {
	const gap = 7.0
	at := make([]pt, len(s))
	x, y, row := 0.0, 0.0, 0.0
	for i, p := range s {
		w, h := p.w*k+double(p.part.Count), p.h*k+double(p.part.Count)
		if x > 0 && x+w > pieceWide {
			x, y, row = 0, y+row+gap, 0
		}
		if w > pieceWide {
			return nil, false
		}
		at[i] = pt{x, y}
		x += w + gap
		row = math.Max(row, h)
	}
	return at, y+row <= pieceTall
}

func fits(_ []pt, ok bool) bool { return ok }

// double is how far the copy of a part stands out behind it.
func double(count int) float64 {
	if count > 1 {
		return 3
	}
	return 0
}
