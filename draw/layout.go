package draw

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"tenter/advise/cut"
	"tenter/fibres"
	"tenter/fibres/fault"
)

// Laid is one part on the cloth, in cm: X and Across from selvedge to selvedge
// (or from the fold), Y and Along with the warp from the start of the cloth.
// Outline is the line to cut along, in places on the cloth; without one the part
// is its box.
type Laid struct {
	Name          string
	X, Y          float64
	Across, Along float64
	Outline       []cut.Point
	OnFold        bool
}

// LayoutView is parts laid on a cloth.
type LayoutView struct {
	Name          string  // the layer and the cloth
	Width, Usable float64 // as sold, and between the selvedges
	Length        float64
	Folded        bool // along its length: the fold lies at X = 0, and half the width is seen
	OneWay        bool // nap, pile or a pattern that has a top: all parts lie one way
	RepeatAlong   float64
	RepeatAcross  float64
	Parts         []Laid
}

// mostLines is how many pattern repeats are drawn.
const mostLines = 200

// LayoutOf is the view of what is laid out for a layer. What the layer asks of
// the layout (one way, repeats) is for the caller to add.
func LayoutOf(name string, b cut.Buy) LayoutView {
	v := LayoutView{Name: name, Width: b.Width, Usable: b.Usable, Folded: b.Folded}
	for _, l := range b.Lie {
		p := Laid{Name: l.Part, X: l.X, Y: l.Y, Across: l.Across, Along: l.Along, OnFold: l.OnFold}
		for _, q := range l.Outline {
			p.Outline = append(p.Outline, cut.Point{X: q[0], Y: q[1]})
		}
		v.Parts = append(v.Parts, p)
		v.Length = math.Max(v.Length, l.Y+l.Along)
	}
	return v
}

// Layout draws parts on the cloth to scale, the cloth's length from left to
// right.
func Layout(o Options, v LayoutView) (Picture, error) {
	if err := positive("the width or length of the cloth", v.Width, v.Usable, v.Length); err != nil {
		return Picture{}, err
	}
	if v.Usable > v.Width+1e-6 || len(v.Parts) > 2000 {
		return Picture{}, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("%d parts on %.0f cm of a cloth %.0f cm wide cannot be drawn", len(v.Parts), v.Usable, v.Width), Expected: "at most 2000 parts, and no more width used than there is"}
	}
	c := newCanvas(o)
	wide, used := v.Width, v.Usable // as seen
	top := (wide - used) / 2        // where the usable width begins, from y = 0
	margin := top
	if v.Folded {
		wide, used, top = wide/2, used/2, 0
	}
	k := math.Min(math.Max(600/v.Length, 70/wide), 200/wide)
	w := k * wide
	used, margin, top = k*used, k*margin, k*top
	l := k * v.Length
	c.rect(look{class: "tn-cloth", fill: "currentColor", shade: 0.05}, 0, 0, l, w, 0)
	if margin > 0.5 {
		if !v.Folded {
			c.rect(look{class: "tn-cloth", fill: c.hatch("diagonal"), shade: 0.4}, 0, 0, l, margin, 0)
		}
		c.rect(look{class: "tn-cloth", fill: c.hatch("diagonal"), shade: 0.4}, 0, top+used, l, w-top-used, 0)
	}
	// The repeats lie below the parts.
	repeat := look{class: "tn-thin", stroke: 0.7, dash: "1 4"}
	for i, n := 1, 0; v.RepeatAlong > 0 && float64(i)*v.RepeatAlong < v.Length && n < mostLines; i, n = i+1, n+1 {
		x := float64(i) * v.RepeatAlong * k
		c.line(repeat, x, top, x, top+used)
	}
	for i, n := 1, 0; v.RepeatAcross > 0 && float64(i)*v.RepeatAcross*k < used && n < mostLines; i, n = i+1, n+1 {
		y := top + float64(i)*v.RepeatAcross*k
		c.line(repeat, 0, y, l, y)
	}
	c.line(inkOn(1.6), 0, 0, l, 0)
	c.line(inkOn(1.6), 0, w, l, w)
	c.line(look{class: "tn-thin", stroke: 1, dash: "5 3"}, 0, 0, 0, w)
	c.line(look{class: "tn-thin", stroke: 1, dash: "5 3"}, l, 0, l, w)

	number := map[string]int{}
	var names []string
	count, size := map[string]int{}, map[string]Laid{}
	for _, p := range v.Parts {
		if err := positive("the size of "+named(p.Name), p.Across, p.Along); err != nil {
			return Picture{}, err
		}
		if number[p.Name] == 0 {
			names = append(names, p.Name)
			number[p.Name] = len(names)
			size[p.Name] = p
		}
		count[p.Name]++
		part(c, p, number[p.Name], k, top, v.OneWay)
	}

	topWord, bottomWord := "selvedge", "selvedge"
	if v.Folded {
		topWord, bottomWord = "fold", "both selvedges"
		c.line(inkOn(3.2), 0, 0, l, 0)
	}
	c.text(4, -6, "start", sizeSmall, true, topWord)
	c.text(4, w+14, "start", sizeSmall, true, bottomWord)
	if v.OneWay {
		const say = "nap or pattern runs this way"
		x, y := math.Max(l-8, textWidth(say, sizeSmall)+78), -9.0
		if x-78-textWidth(say, sizeSmall) < textWidth(topWord, sizeSmall)+12 {
			y -= 16 // no room beside the other word
		}
		arrow(c, x-62, y, x, y, false)
		c.text(x-70, y+3.5, "end", sizeSmall, true, say)
	}
	y := w + 26
	c.across(0, l, y)
	c.text(l/2, y+16, "middle", sizeText, false, fibres.Quantity(v.Length, "cm", o.Units)+" of cloth")
	c.upright(-14, 0, w)
	c.text(-22, w/2+4, "end", sizeText, false, fibres.Quantity(wide, "cm", o.Units))
	if v.Folded {
		c.text(-22, w/2+18, "end", sizeSmall, true, "folded")
	}
	y += 36
	var list []string
	for _, n := range names {
		p := size[n]
		line := fmt.Sprintf("%d  %s", number[n], n)
		if count[n] > 1 {
			line += fmt.Sprintf(", %d times", count[n])
		}
		line += ": " + fibres.Quantity(p.Across, "cm", o.Units) + " across × " + fibres.Quantity(p.Along, "cm", o.Units) + " along"
		list = append(list, clean(line))
		c.text(0, y, "start", sizeSmall, false, shorten(line, sizeSmall, math.Max(l, 420)))
		y += sizeSmall * 1.45
	}
	if v.RepeatAlong > 0 || v.RepeatAcross > 0 {
		c.text(0, y, "start", sizeSmall, true, "dotted: where the pattern begins anew")
		y += sizeSmall * 1.45
	}
	c.scaleBar(0, y-6, k, 80, o.Units)

	name := named(v.Name)
	folded := ""
	if v.Folded {
		folded = ", folded along its length"
	}
	text := fmt.Sprintf("%s: %d parts on %s of cloth %s wide%s.", capital(name), len(v.Parts), fibres.Quantity(v.Length, "cm", o.Units), fibres.Quantity(v.Width, "cm", o.Units), folded)
	if v.OneWay {
		text += " All lie one way."
	}
	text += " " + strings.Join(list, "; ") + ". From the start of the cloth:"
	for i, p := range v.Parts {
		if i == 40 {
			text += fmt.Sprintf(" and %d more", len(v.Parts)-i)
			break
		}
		text += fmt.Sprintf(" %s at %s along, %s in;", clean(p.Name), fibres.Quantity(p.Y, "cm", o.Units), fibres.Quantity(p.X, "cm", o.Units))
	}
	text = strings.TrimSuffix(text, ";") + "."
	return c.finish("Layout of "+name, fmt.Sprintf("%d parts laid to scale on a cloth %s wide, %s long%s.", len(v.Parts), fibres.Quantity(v.Width, "cm", o.Units), fibres.Quantity(v.Length, "cm", o.Units), folded), text)
}

// part draws one part: outline, number, name where there is room, and an arrow
// along the grain, which is along the warp.
func part(c *canvas, p Laid, number int, k, top float64, oneWay bool) {
	at := func(x, y float64) pt { return pt{k * y, top + k*x} } // the cloth turned a quarter: its start to the left
	box := []pt{at(p.X, p.Y), at(p.X, p.Y+p.Along), at(p.X+p.Across, p.Y+p.Along), at(p.X+p.Across, p.Y)}
	outline := box
	if len(p.Outline) > 2 {
		outline = nil
		for _, q := range p.Outline {
			outline = append(outline, at(q.X, q.Y))
		}
	}
	c.path(look{class: "tn-part", fill: "currentColor", shade: 0.13, stroke: 1.4}, outline, true)
	mid := middle(outline)
	w, h := k*p.Along, k*p.Across
	s := strconv.Itoa(number)
	if r := textWidth(s, sizeSmall); w < r+4 || h < sizeSmall {
		if w >= textWidth(s, 9) && h >= 9 {
			c.text(mid.x, mid.y+3.2, "middle", 9, false, s)
		}
		return // else too small to letter; the list below says what it is
	}
	grown := h > 46 && w > 40
	y := mid.y
	if grown {
		y -= 12
	}
	label := s
	if full := s + " " + clean(p.Name); textWidth(full, sizeSmall) < w*0.8 {
		label = full
	}
	c.text(mid.x, y+4, "middle", sizeSmall, false, label)
	if grown {
		half := math.Min(w*0.3, 45)
		arrow(c, mid.x-half, mid.y+8, mid.x+half, mid.y+8, !oneWay)
	}
}

// arrow draws a line with a head at its end, or at both.
func arrow(c *canvas, x1, y1, x2, y2 float64, both bool) {
	l := inkOn(1.1)
	c.line(l, x1, y1, x2, y2)
	a := math.Atan2(y2-y1, x2-x1)
	head := func(x, y, a float64) {
		for _, d := range []float64{2.7, -2.7} {
			c.line(l, x, y, x+6*math.Cos(a+d), y+6*math.Sin(a+d))
		}
	}
	head(x2, y2, a)
	if both {
		head(x1, y1, a+math.Pi)
	}
}

// middle is the centre of the area of a polygon, or of its corners where it has
// none.
func middle(p []pt) pt {
	var a, x, y float64
	for i := range p {
		q := p[(i+1)%len(p)]
		d := p[i].x*q.y - q.x*p[i].y
		a += d
		x += (p[i].x + q.x) * d
		y += (p[i].y + q.y) * d
	}
	if math.Abs(a) > 1e-9 {
		return pt{x / (3 * a), y / (3 * a)}
	}
	var m pt
	for _, q := range p {
		m.x += q.x / float64(len(p))
		m.y += q.y / float64(len(p))
	}
	return m
}
