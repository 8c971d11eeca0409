package draw

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"tenter/advise/cut"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/prose"
	"tenter/fibres/units"
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

	High     float64  // how high the cloth is drawn at most; 0 is 200 units
	Numbered []string // parts in the order of their numbers; else as they lie
	Unlisted bool     // the list of parts and sizes is left to the caller
}

// maxLines is how many pattern repeats are drawn.
const maxLines = 200

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
	if err := v.check(); err != nil {
		return Picture{}, err
	}
	b := newBolt(o, v)
	b.cloth()
	parts := v.kinds()
	for _, p := range v.Parts {
		part(b.c, p, parts.number[p.Name], b.k, b.top, v.OneWay)
	}
	b.selvedges()
	y := b.lengths()
	if !v.Unlisted {
		for _, line := range parts.lines(o) {
			b.c.text(0, y, "start", sizeSmall, false, shorten(line, sizeSmall, math.Max(b.long, 420)))
			y += sizeSmall * 1.45
		}
	}
	if v.RepeatAlong > 0 || v.RepeatAcross > 0 {
		b.c.text(0, y, "start", sizeSmall, true, "dotted: where the pattern begins anew")
		y += sizeSmall * 1.45
	}
	b.c.scaleBar(0, y-6, b.k, 80, o.Units)
	about := fmt.Sprintf("%d parts laid to scale on a cloth %s wide, %s long%s.", len(v.Parts), fibres.Quantity(v.Width, "cm", o.Units), fibres.Quantity(v.Length, "cm", o.Units), v.folded())
	return b.c.finish("Layout of "+named(v.Name), about, v.text(o, parts.lines(o)))
}

func (v LayoutView) check() error {
	if err := positive("the width or length of the cloth", v.Width, v.Usable, v.Length); err != nil {
		return err
	}
	if v.Usable > v.Width+1e-6 || len(v.Parts) > 2000 {
		return &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("%d parts on %.0f cm of a cloth %.0f cm wide cannot be drawn", len(v.Parts), v.Usable, v.Width), Expected: "at most 2000 parts, and no more width used than there is"}
	}
	for _, p := range v.Parts {
		if err := positive("the size of "+named(p.Name), p.Across, p.Along); err != nil {
			return err
		}
	}
	return nil
}

// bolt is a cloth as it is drawn: k units of the drawing to the cm.
type bolt struct {
	c   *canvas
	sys units.System
	v   LayoutView
	k   float64
	// width, used and long are those of the cloth as it lies, in units; top is where
	// the usable width begins.
	width, used, top, long float64
}

func newBolt(o Options, v LayoutView) *bolt {
	high := v.High
	if high <= 0 {
		high = 200
	}
	b := &bolt{c: newCanvas(o), sys: o.Units, v: v}
	wide, used, top := v.Width, v.Usable, (v.Width-v.Usable)/2
	if v.Folded {
		wide, used, top = wide/2, used/2, 0
	}
	b.k = math.Min(math.Max(600/v.Length, 70/wide), high/wide)
	b.width, b.used, b.top, b.long = b.k*wide, b.k*used, b.k*top, b.k*v.Length
	return b
}

// cloth draws the cloth, its selvedges hatched, and where its pattern repeats.
func (b *bolt) cloth() {
	c, l, w := b.c, b.long, b.width
	c.rect(look{class: "tn-cloth", fill: "currentColor", shade: 0.05}, 0, 0, l, w, 0)
	if below := w - b.top - b.used; below > 0.5 {
		hatched := look{class: "tn-cloth", fill: c.hatch("diagonal"), shade: 0.4}
		if b.top > 0 {
			c.rect(hatched, 0, 0, l, b.top, 0)
		}
		c.rect(hatched, 0, b.top+b.used, l, below, 0)
	}
	// The repeats lie below the parts.
	repeat := look{class: "tn-thin", stroke: 0.7, dash: "1 4"}
	for i := 1; b.v.RepeatAlong > 0 && float64(i)*b.v.RepeatAlong < b.v.Length && i <= maxLines; i++ {
		x := float64(i) * b.v.RepeatAlong * b.k
		c.line(repeat, x, b.top, x, b.top+b.used)
	}
	for i := 1; b.v.RepeatAcross > 0 && float64(i)*b.v.RepeatAcross*b.k < b.used && i <= maxLines; i++ {
		y := b.top + float64(i)*b.v.RepeatAcross*b.k
		c.line(repeat, 0, y, l, y)
	}
	c.line(inkOn(1.6), 0, 0, l, 0)
	c.line(inkOn(1.6), 0, w, l, w)
	c.line(look{class: "tn-thin", stroke: 1, dash: "5 3"}, 0, 0, 0, w)
	c.line(look{class: "tn-thin", stroke: 1, dash: "5 3"}, l, 0, l, w)
}

// selvedges letters the long edges, and draws the arrow of a nap above them.
func (b *bolt) selvedges() {
	above, below := "selvedge", "selvedge"
	if b.v.Folded {
		above, below = "fold", "both selvedges"
		b.c.line(inkOn(3.2), 0, 0, b.long, 0)
	}
	b.c.text(4, -6, "start", sizeSmall, true, above)
	b.c.text(4, b.width+14, "start", sizeSmall, true, below)
	if !b.v.OneWay {
		return
	}
	const say = "nap or pattern runs this way"
	x, y := math.Max(b.long-8, textWidth(say, sizeSmall)+78), -9.0
	if x-78-textWidth(say, sizeSmall) < textWidth(above, sizeSmall)+12 {
		y -= 16 // no room beside the other word
	}
	arrow(b.c, x-62, y, x, y, false)
	b.c.text(x-70, y+3.5, "end", sizeSmall, true, say)
}

// lengths draws how long and wide the cloth is, and returns where to letter on.
func (b *bolt) lengths() (y float64) {
	c, sys := b.c, b.sys
	wide := b.v.Width
	if b.v.Folded {
		wide /= 2
	}
	y = b.width + 26
	c.across(0, b.long, y)
	c.text(b.long/2, y+16, "middle", sizeText, false, fibres.Quantity(b.v.Length, "cm", sys)+" of cloth")
	c.upright(-14, 0, b.width)
	c.text(-22, b.width/2+4, "end", sizeText, false, fibres.Quantity(wide, "cm", sys))
	if b.v.Folded {
		c.text(-22, b.width/2+18, "end", sizeSmall, true, "folded")
	}
	return y + 36
}

// kinds are the parts that differ, each with its number and how many there are.
type kinds struct {
	names  []string
	number map[string]int
	count  map[string]int
	size   map[string]Laid
}

func (v LayoutView) kinds() kinds {
	k := kinds{number: map[string]int{}, count: map[string]int{}, size: map[string]Laid{}}
	for _, n := range v.Numbered {
		k.names = append(k.names, n)
		k.number[n] = len(k.names)
	}
	for _, p := range v.Parts {
		if k.number[p.Name] == 0 {
			k.names = append(k.names, p.Name)
			k.number[p.Name] = len(k.names)
		}
		if k.count[p.Name]++; k.count[p.Name] == 1 {
			k.size[p.Name] = p
		}
	}
	return k
}

// lines say of each kind its number, how many there are and how large.
func (k kinds) lines(o Options) (out []string) {
	for _, n := range k.names {
		p := k.size[n]
		if k.count[n] == 0 { // numbered, and not on this cloth
			continue
		}
		line := fmt.Sprintf("%d  %s", k.number[n], n)
		if k.count[n] > 1 {
			line += fmt.Sprintf(", %d times", k.count[n])
		}
		out = append(out, clean(line)+": "+fibres.Quantity(p.Across, "cm", o.Units)+" across × "+fibres.Quantity(p.Along, "cm", o.Units)+" along")
	}
	return out
}

func (v LayoutView) folded() string {
	if v.Folded {
		return ", folded along its length"
	}
	return ""
}

// text is the layout in words.
func (v LayoutView) text(o Options, list []string) string {
	q := func(cm float64) string { return fibres.Quantity(cm, "cm", o.Units) }
	s := fmt.Sprintf("%s: %d parts on %s of cloth %s wide%s.", prose.Upper(named(v.Name)), len(v.Parts), q(v.Length), q(v.Width), v.folded())
	if v.OneWay {
		s += " All lie one way."
	}
	s += " " + strings.Join(list, "; ") + ". From the start of the cloth:"
	for i, p := range v.Parts {
		if i == 40 {
			s += fmt.Sprintf(" and %d more", len(v.Parts)-i)
			break
		}
		s += fmt.Sprintf(" %s at %s along, %s in;", clean(p.Name), q(p.Y), q(p.X))
	}
	return strings.TrimSuffix(s, ";") + "."
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
			c.text(mid.x, mid.y+3.8, "middle", sizeLeast, false, s)
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
