package picture

import (
	"fmt"
	"html/template"
	"math"
	"slices"
	"sort"
	"strings"

	"tenter/advise"
	"tenter/advise/cut"
)

// Piece draws a piece as its parts, each with its neighbours at one scale;
// a part that is cut more than once shows its double behind it. A part whose
// outline is known is drawn by it, one known only by its box and its name as a
// sketch.
func Piece(p *advise.Piece, parts []cut.Part, label string) template.HTML {
	parts = append([]cut.Part{}, parts...)
	sort.SliceStable(parts, func(i, j int) bool {
		return parts[i].Width*parts[i].Height > parts[j].Width*parts[j].Height
	})
	if len(parts) > 5 {
		parts = parts[:5]
	}
	type placed struct {
		cut.Part
		x, y, w, h float64
	}
	var all []placed
	var area, widest float64
	for _, q := range parts {
		area += float64(q.Width) * float64(q.Height)
		widest = math.Max(widest, float64(q.Width))
	}
	// Shelves about three parts wide to two parts high.
	gap := math.Sqrt(area) * 0.07
	shelf := math.Max(widest, math.Sqrt(area*1.9))
	var x, y, high, wide float64
	for _, q := range parts {
		w, h := float64(q.Width), float64(q.Height)
		if x > 0 && x+w > shelf {
			x, y, high = 0, y+high+gap, 0
		}
		all = append(all, placed{q, x, y, w, h})
		x += w + gap
		high, wide = math.Max(high, h), math.Max(wide, x-gap)
	}
	tall := y + high
	if wide <= 0 || tall <= 0 {
		return ""
	}
	// Into a frame of 150 by 100 with a margin for the doubles.
	scale := math.Min(136/wide, 86/tall)
	left, top := (150-wide*scale)/2, (100-tall*scale)/2
	var out pic
	out.open("piece", `viewBox="0 0 150 100"`, label)
	for _, q := range all {
		shape := outline(p, q.Part)
		at := func(dx, dy float64) string {
			return shape(left+q.x*scale+dx, top+q.y*scale+dy, q.w*scale, q.h*scale)
		}
		if q.Count > 1 {
			fmt.Fprintf(&out, `<path class="double" d="%s"/>`, at(2.5, -2.5))
		}
		fmt.Fprintf(&out, `<path class="part" d="%s"/>`, at(0, 0))
		if w, h := q.w*scale, q.h*scale; w > 18 && h > 22 { // the grain runs with the height
			cx, cy := left+(q.x+q.w/2)*scale, top+(q.y+q.h/2)*scale
			fmt.Fprintf(&out, `<path class="grain" d="M%s %sv%sm-2 3l2-3 2 3m-4 %sl2 3 2-3"/>`, n(cx), n(cy+h*0.14), n(-h*0.28), n(h*0.28-6))
		}
	}
	return out.close()
}

// outline gives the drawing of a part in a box.
func outline(p *advise.Piece, q cut.Part) func(x, y, w, h float64) string {
	var unit []stroke
	if q.Outline != nil {
		unit = polygon(*q.Outline)
	} else {
		word := ""
		for _, x := range p.Parts {
			if x.Name == q.Name {
				word = x.Shape
			}
		}
		unit = sketch(q, word, p.Shape)
	}
	return func(x, y, w, h float64) string { return pathIn(unit, x, y, w, h) }
}

// pathIn writes a closed path in a box. Each command goes by the steps from the point
// before, which are half as long to write as where it lies; points are rounded before steps
// are taken, so that no error adds up.
func pathIn(unit []stroke, x, y, w, h float64) string {
	tenth := func(v float64) float64 { return math.Round(v*10) / 10 }
	var b strings.Builder
	var last byte
	write := func(op byte, figures ...float64) {
		for i, v := range figures {
			text := n(v)
			if math.Abs(v) < 1 {
				text = strings.Replace(text, "0.", ".", 1)
			}
			switch {
			case i == 0 && op != last:
				b.WriteByte(op)
			case text[0] != '-':
				b.WriteByte(' ')
			}
			b.WriteString(text)
		}
		last = op
	}
	var fromX, fromY float64
	for i, s := range unit {
		var steps []float64
		var toX, toY float64
		for at := range slices.Chunk(s.at, 2) {
			toX, toY = tenth(x+at[0]*w), tenth(y+at[1]*h)
			steps = append(steps, toX-fromX, toY-fromY)
		}
		switch op := s.op + 'a' - 'A'; {
		case i == 0:
			write(s.op, steps...) // from nowhere
		case s.op == 'L' && toX == fromX:
			write('v', toY-fromY)
		case s.op == 'L' && toY == fromY:
			write('h', toX-fromX)
		default:
			write(op, steps...)
		}
		fromX, fromY = toX, toY
	}
	b.WriteByte('Z')
	return b.String()
}

// polygon draws an outline with as many points as a small picture needs: every
// corner, and a few on each curve.
func polygon(o cut.Outline) []stroke {
	points, of := o.Polygon()
	low, high := o.Box()
	w, h := high.X-low.X, high.Y-low.Y
	if len(points) < 3 || w <= 0 || h <= 0 {
		return poly(0, 0, 1, 0, 1, 1, 0, 1)
	}
	step := max(1, len(points)/18)
	var out []stroke
	for i, q := range points {
		corner := i == 0 || of[i] != of[i-1]
		if !corner && i%step != 0 {
			continue
		}
		op := byte('L')
		if len(out) == 0 {
			op = 'M'
		}
		out = append(out, stroke{op, []float64{(q.X - low.X) / w, (high.Y - q.Y) / h}})
	}
	return out
}

// stroke is one command of a path in a box of one by one.
type stroke struct {
	op byte
	at []float64
}

func poly(at ...float64) []stroke {
	out := []stroke{{'M', at[:2]}}
	for i := 2; i+1 < len(at); i += 2 {
		out = append(out, stroke{'L', at[i : i+2]})
	}
	return out
}

// quarter is the curve of a quarter of a circle, as a cubic.
const quarter = 0.5523

// sketch stands for a part of which only the box, a word and the name are known.
func sketch(q cut.Part, word, pieceShape string) []stroke {
	has := func(words ...string) bool {
		for _, w := range words {
			if strings.Contains(q.Name, w) {
				return true
			}
		}
		return false
	}
	switch word {
	case "rectangle", "tube", "gathered", "pleated":
		return poly(0, 0, 1, 0, 1, 1, 0, 1)
	case "triangle":
		return poly(0, 0, 1, 0, 0.5, 1)
	case "gored":
		return poly(0.32, 0, 0.68, 0, 1, 1, 0, 1)
	case "part-circle", "full-circle":
		const r = 0.14 // the neck or waist
		return []stroke{{'M', []float64{r, 0}}, {'L', []float64{1, 0}}, {'C', []float64{1, quarter, quarter, 1, 0, 1}},
			{'L', []float64{0, r}}, {'C', []float64{r * quarter, r, r, r * quarter, r, 0}}}
	}
	switch {
	case has("hood"):
		return []stroke{{'M', []float64{0, 1}}, {'L', []float64{0, 0.3}}, {'Q', []float64{0.05, 0, 0.5, 0}}, {'Q', []float64{1, 0, 1, 0.55}},
			{'L', []float64{0.86, 1}}}
	case has("sleeve"):
		return []stroke{{'M', []float64{0, 0.34}}, {'Q', []float64{0.25, 0.3, 0.5, 0}}, {'Q', []float64{0.75, 0.3, 1, 0.34}},
			{'L', []float64{0.84, 1}}, {'L', []float64{0.16, 1}}}
	case has("facing", "collar", "yoke") && q.Width > q.Height:
		return []stroke{{'M', []float64{0, 0.05}}, {'Q', []float64{0.5, 0.75, 1, 0.05}}, {'L', []float64{1, 0.55}}, {'Q', []float64{0.5, 1.3, 0, 0.55}}}
	case has("leg", "trouser"):
		return []stroke{{'M', []float64{0.22, 0}}, {'L', []float64{0.78, 0}}, {'Q', []float64{0.8, 0.25, 1, 0.3}}, {'L', []float64{0.78, 1}},
			{'L', []float64{0.22, 1}}, {'L', []float64{0, 0.3}}, {'Q', []float64{0.2, 0.25, 0.22, 0}}}
	case has("band", "strap", "tie", "cuff", "belt", "strip", "gusset", "pocket", "facing", "collar", "yoke"):
		return poly(0, 0, 1, 0, 1, 1, 0, 1)
	case has("skirt", "gore", "flare"):
		return []stroke{{'M', []float64{0.2, 0}}, {'Q', []float64{0.5, 0.06, 0.8, 0}}, {'L', []float64{1, 0.96}}, {'Q', []float64{0.5, 1.04, 0, 0.96}}}
	}
	if pieceShape == "gored" {
		return poly(0.32, 0, 0.68, 0, 1, 1, 0, 1)
	}
	// a front or back: shoulder, armhole, side
	return []stroke{{'M', []float64{0.36, 0}}, {'Q', []float64{0.5, 0.16, 0.64, 0}}, {'L', []float64{0.9, 0.07}}, {'Q', []float64{0.78, 0.28, 1, 0.34}},
		{'L', []float64{1, 1}}, {'L', []float64{0, 1}}, {'L', []float64{0, 0.34}}, {'Q', []float64{0.22, 0.28, 0.1, 0.07}}}
}

// Weave draws a lift plan on point paper: a filled square is the warp on
// top. The plan has its bottom pick first.
func Weave(plan, label string) template.HTML {
	picks := strings.Split(plan, ";")
	if len(picks) == 0 || len(picks[0]) == 0 {
		return ""
	}
	ends := len(picks[0])
	for _, q := range picks {
		if len(q) != ends {
			return ""
		}
	}
	rows, cols := repeatTo(len(picks)), repeatTo(ends)
	var p pic
	p.open("weave", fmt.Sprintf(`viewBox="0 0 %d %d"`, cols*10, rows*10), label)
	var d strings.Builder
	for y := range rows {
		q := picks[(rows-1-y)%len(picks)]
		for x := range cols {
			if q[x%ends] == '1' {
				fmt.Fprintf(&d, "M%d %dh8v8h-8z", x*10+1, y*10+1)
			}
		}
	}
	fmt.Fprintf(&p, `<rect class="weft" width="%d" height="%d"/><path class="warp" d="%s"/>`, cols*10, rows*10, d.String())
	// one repeat, from the lower left
	fmt.Fprintf(&p, `<path class="repeat" d="M0 %dH%dV%d"/>`, (rows-len(picks))*10, ends*10, rows*10)
	return p.close()
}

// repeatTo is the least multiple of a repeat that fills eight squares, and no
// more than two repeats of a great one.
func repeatTo(n int) int {
	m := n
	for m < 8 {
		m += n
	}
	if m == n && n <= 12 {
		m = 2 * n
	}
	return m
}
