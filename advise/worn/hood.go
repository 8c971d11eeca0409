package worn

import (
	"math"

	"tenter/advise/cut"
	"tenter/fibres/drape"
)

// hood is the two sides of a hood round the head, their neck edge along a given line.
type hood struct {
	outline []cut.Point // of one side in metres: from the face edge backwards, from the neck up
	neck    float64
	at      func(s float64) drape.Vec // where the neck edge starts, from the middle of the back, right side over 0
	cell    float64
}

// hoodOf takes the hood of a draft: the part of which two are cut and that has a face edge.
func hoodOf(d cut.Draft, neck float64) (hood, bool) {
	for _, p := range d.Parts {
		if p.Outline == nil || p.Count != 2 {
			continue
		}
		for _, s := range p.Outline.Sides {
			if s.Name == "face edge" {
				points, _ := p.Outline.Polygon()
				h := hood{neck: neck / 100}
				for _, q := range points {
					h.outline = append(h.outline, cut.Point{X: q.X / 100, Y: q.Y / 100})
				}
				return h, true
			}
		}
	}
	return hood{}, false
}

// inside reports whether a point, back from the face edge and up from the neck, is cloth.
func (h hood) inside(x, y float64) bool {
	in := false
	for i, a := range h.outline {
		b := h.outline[(i+1)%len(h.outline)]
		if (a.Y > y) != (b.Y > y) && x < a.X+(y-a.Y)/(b.Y-a.Y)*(b.X-a.X) {
			in = !in
		}
	}
	return in
}

// centre are the points of the seam over the head, from the nape to the brow, and how far a
// point is from it.
func (h hood) centre(step float64) (out [][2]float64) {
	deep, tall := 0.0, 0.0
	for _, p := range h.outline {
		deep, tall = math.Max(deep, p.X), math.Max(tall, p.Y)
	}
	var gone float64
	for i, a := range h.outline {
		b := h.outline[(i+1)%len(h.outline)]
		if a.Y < 1e-6 && b.Y < 1e-6 || a.X < 1e-6 && b.X < 1e-6 { // the neck; the face edge
			continue
		}
		l := math.Hypot(b.X-a.X, b.Y-a.Y)
		for d := step - gone; d < l; d += step {
			out = append(out, [2]float64{a.X + (b.X-a.X)*d/l, a.Y + (b.Y-a.Y)*d/l})
		}
		gone = math.Mod(gone+l, step)
	}
	return out
}

// addTo puts both sides on the scene's end: the right one first.
func (h hood) addTo(sc *drape.Scene, f *Figure) {
	first := len(sc.Panels)
	seam := h.centre(0.7 * h.cell)
	k := f.crown / 163
	for side := range 2 {
		sign := 1 - 2*float64(side)
		place := func(u, v float64) drape.Vec { // u up, v back from the face; the left side is cut face down
			v *= sign
			away := 0.3
			for _, q := range seam {
				away = math.Min(away, math.Hypot(q[0]-v, q[1]-u))
			}
			// Like half a shell round the head, down to the line of the neck.
			x := 0.105 * k * math.Sqrt(math.Max(0, 1-math.Exp(-away/(0.045*k))))
			shell := drape.Vec{sign * math.Max(0.002, x), 0.115*k - v, f.neckSide/100 + 0.01 + u}
			if t := u / (0.12 * k); t < 1 {
				low := h.at(sign * math.Max(0, h.neck-v)).Add(drape.Vec{0, 0, u})
				shell = low.Mul(1 - t).Add(shell.Mul(t))
			}
			return shell
		}
		low, high := cut.Point{X: math.Inf(1), Y: math.Inf(1)}, cut.Point{}
		for _, p := range h.outline {
			low.X, low.Y, high.X, high.Y = math.Min(low.X, p.X), math.Min(low.Y, p.Y), math.Max(high.X, p.X), math.Max(high.Y, p.Y)
		}
		sc.Panels = append(sc.Panels, drape.Panel{
			Low: [2]float64{low.Y, math.Min(sign*low.X, sign*high.X)}, High: [2]float64{high.Y, math.Max(sign*low.X, sign*high.X)},
			Inside: func(u, v float64) bool { return h.inside(sign*v, u) }, Place: place,
		})
	}
	for _, q := range seam {
		sc.Seams = append(sc.Seams, drape.Seam{A: drape.Mark{Panel: first, U: q[1], V: q[0]}, B: drape.Mark{Panel: first + 1, U: q[1], V: -q[0]}, Stiff: seamStiff})
	}
}

// neckMarks are the points of the neck edge of one side, with the way from the middle of the back,
// under 0 on the left.
func (h hood) neckMarks(panel int, sign float64, visit func(m drape.Mark, s float64)) {
	for v := 0.002; v < h.neck; v += 0.7 * h.cell {
		visit(drape.Mark{Panel: panel, U: 0.001, V: sign * v}, sign*(h.neck-v))
	}
}

// hoodAlone is a hood whose neck edge is held at the neck.
func hoodAlone(d cut.Draft, m map[string]float64, f *Figure) (Worn, bool) {
	sc := drape.Scene{Body: f, Friction: 0.4}
	pin := func(m drape.Mark, _ float64, at drape.Vec) { sc.Pins = append(sc.Pins, drape.Pin{Mark: m, At: at}) }
	if !addHood(&sc, d, m["neck"], f, hoodCell, pin) {
		return Worn{}, false
	}
	w := Worn{Scene: sc, Cell: hoodCell, Gently: true, Turn: 55, Tilt: 8,
		Low: drape.Vec{-0.16, -0.18, f.point / 100}, High: drape.Vec{0.16, 0.14, f.crown/100 + 0.06},
		Says: []string{"Its neck edge is held round the neck, as sewn to a neckline."}}
	for i := range 2 {
		for t := 0.5; t < 60; t++ {
			w.Hem = append(w.Hem, drape.Mark{Panel: i, U: m["face"] / 100 * t / 60, V: 0.002 * (1 - 2*float64(i))})
		}
	}
	return w, true
}

// addHood adds a hood whose neck edge lies along the neckline, from the back to the front; joined holds
// each of its points where it lies, seen from the middle of the back.
func addHood(sc *drape.Scene, d cut.Draft, neck float64, f *Figure, cell float64, joined func(m drape.Mark, s float64, at drape.Vec)) bool {
	h, ok := hoodOf(d, neck)
	if !ok {
		return false
	}
	line := f.neckRing(2 * h.neck)
	h.cell = cell
	h.at = func(s float64) drape.Vec {
		p, _ := line.point(s / (2 * h.neck))
		return p.Add(drape.Vec{0, 0, 0.004})
	}
	first := len(sc.Panels)
	h.addTo(sc, f)
	for side := range 2 {
		h.neckMarks(first+side, 1-2*float64(side), func(m drape.Mark, s float64) { joined(m, s, h.at(s)) })
	}
	return true
}

// hoodedCloak is a cape with a hood sewn to its neck edge, which is held at the neckline.
func hoodedCloak(m map[string]float64, f *Figure, hoodDraft cut.Draft, neck float64) (Worn, bool) {
	w, r := cape(m, f), capeRound(m, f)
	cell := math.Min(w.Cell, cloakCell)
	w.Cell = cell
	sew := func(m drape.Mark, s float64, _ drape.Vec) {
		phi := s / r.girth * r.angle
		part := max(0, min(r.parts-1, int((phi/r.angle+0.5)*float64(r.parts))))
		w.Scene.Seams = append(w.Scene.Seams, drape.Seam{A: m, B: r.mark(part, r.inner()+0.002, phi), Stiff: seamStiff})
	}
	if !addHood(&w.Scene, hoodDraft, neck, f, cell, sew) {
		return Worn{}, false
	}
	w.High[2] = f.crown/100 + 0.08
	w.Says = []string{"The neck edge with the hood is held at the neckline and closed by a clasp; the front hangs open below."}
	return w, true
}

// cloakCell is wide for a hood and narrow for a long cape; in cells finer than hoodCell the sides of a hood
// came to pass through each other beside its seam.
const cloakCell, hoodCell = 0.03, 0.018

// hoodedWrap is a triangle round the shoulders with a hood on the middle of its long edge,
// closed in front of the neck.
func hoodedWrap(d cut.Draft, m map[string]float64, f *Figure) (Worn, bool) {
	h, ok := hoodOf(d, m["neck"])
	if !ok {
		return Worn{}, false
	}
	width, depth, dip := m["width"]/100, m["depth"]/100, m["dip"]/100
	k := f.crown / 16300
	sp := f.aroundShoulders()
	held := newPath(drape.Vec{0, -8.5, 140.8}.Mul(k), drape.Vec{5.5, -6.8, 140.6}.Mul(k), drape.Vec{9.6, -1.5, 139.8}.Mul(k), drape.Vec{9.9, 4, 138}.Mul(k),
		drape.Vec{7.5, 10.5, 132.5}.Mul(k), drape.Vec{3, 14, 126}.Mul(k))
	cell := math.Max(0.015, math.Sqrt(width*depth/2/1500))
	sc := drape.Scene{Body: f, Friction: 0.4, Panels: []drape.Panel{sp.panel(width/2, depth, triangleOrNot(width, depth, dip, true))}}
	h.cell, h.at = cell, sp.edge.point
	h.addTo(&sc, f)
	hollow := func(s float64) float64 { return dip*math.Max(0, 1-math.Pow(2*s/width, 2)) + 0.003 }
	for i := range 2 {
		sign := 1 - 2*float64(i)
		h.neckMarks(1+i, sign, func(m drape.Mark, s float64) {
			sc.Seams = append(sc.Seams, drape.Seam{A: m, B: drape.Mark{U: hollow(s), V: s}, Stiff: seamStiff})
		})
		s := sign * math.Min(h.neck, held.way[5]) // closed where the hood ends
		sc.Pins = append(sc.Pins, drape.Pin{Mark: drape.Mark{U: hollow(s), V: s}, At: held.point(s)})
	}
	return Worn{Scene: sc, Cell: cell, Gently: true, Turn: 40, Tilt: 8, Hem: lowerEdge(width, depth, true),
		Low: drape.Vec{-0.25, -0.15, f.waist/100 - 0.2}, High: drape.Vec{0.25, 0.15, f.crown/100 + 0.08},
		Says: []string{"It is held on either side of the throat, where the hood ends, as by a tie; the hood rests on the head."}}, true
}
