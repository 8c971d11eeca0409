package draw

import (
	"fmt"
	"math"
	"slices"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/hang"
	"tenter/fibres/prose"
	"tenter/fibres/units"
)

// Hold is what a cloth falls from in a picture, drawn to scale beside it.
type Hold int

// The holds: a grown person's shoulder, or the edge of a flat rail.
const (
	Shoulder Hold = iota
	Rail
)

// HoldFor is the hold for a piece carried so: "head", "shoulder" and "body" are
// shown on a shoulder, all else on a rail.
func HoldFor(support string) Hold {
	switch support {
	case "head", "shoulder", "body":
		return Shoulder
	}
	return Rail
}

// FallView is the hanging edge of one make-up.
type FallView struct {
	Name string // the cloth or make-up
	// Flaps are the edge at the limp end of the range, typical, and at the stiff
	// end. Where nothing is in doubt all three are the same.
	Flaps [3]hang.Flap
	Hold  Hold
}

// fallen is a flap that has been hung.
type fallen struct {
	fall  hang.Fall
	strip int // the point where the stiffened strip begins; len(points) without one
	long  units.Length
}

// hangPoints is in how many points a curve is drawn.
const hangPoints = 81

func hungUp(f hang.Flap) (fallen, error) {
	var out fallen
	h, err := hang.Hang(f, hangPoints)
	if err != nil {
		return out, err
	}
	out.fall, out.strip = h, len(h.Points)
	for _, s := range f.Segments {
		out.long += s.Length
	}
	if n := len(f.Segments); n > 1 {
		body := float64(out.long-f.Segments[n-1].Length) / float64(out.long)
		out.strip = int(math.Round(body * float64(len(h.Points)-1)))
	}
	return out, nil
}

// hungAll hangs the three flaps of a range, closest first.
func hungAll(flaps [3]hang.Flap) ([3]fallen, error) {
	var out [3]fallen
	for i, f := range flaps {
		var err error
		if out[i], err = hungUp(f); err != nil {
			return out, err
		}
	}
	if out[0].fall.StandOff > out[2].fall.StandOff {
		out[0], out[2] = out[2], out[0]
	}
	return out, nil
}

// trace gives the curve in the drawing: hold at (x, y), k units to the cm.
func (f fallen) trace(x, y, k float64) []pt {
	out := make([]pt, len(f.fall.Points))
	for i, p := range f.fall.Points {
		out[i] = pt{x + k*float64(p.Out), y + k*float64(p.Down)}
	}
	return out
}

// Fall draws the hanging edge from the side, to scale: the computed curve, the
// range between the limp and the stiff end shaded, and how far it stands off.
func Fall(o Options, v FallView) (Picture, error) {
	hung, err := hungAll(v.Flaps)
	if err != nil {
		return Picture{}, err
	}
	low, mid, high := hung[0], hung[1], hung[2]
	long := float64(mid.long)
	if long > 200 {
		return Picture{}, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("the flap is %s long", mid.long), Expected: "at most 2 m"}
	}
	p := fallPicture{c: newCanvas(o), o: o, v: v, low: low, mid: mid, high: high, k: 20} // one scale for all common flaps, so that pictures compare
	if long > 12 {
		p.k = 240 / long
	}
	bottom := math.Max(float64(low.fall.Drop), math.Max(float64(mid.fall.Drop), float64(high.fall.Drop)))
	hold(p.c, v.Hold, p.k, bottom, o.Units)
	p.flaps()
	p.standOff(p.k*bottom + 22)
	p.key()

	what := "a shoulder"
	if v.Hold == Rail {
		what = "the edge of a rail"
	}
	name, say := named(v.Name), cm(mid.fall.StandOff, o.Units)
	text := fmt.Sprintf("%s: %s of it, hanging free from %s, stands about %s out and drops %s.", prose.Upper(name), cm(mid.long, o.Units), what, say, cm(mid.fall.Drop, o.Units))
	if p.ranged() {
		text += fmt.Sprintf(" Over the cloths sold so it stands %s out at the limp end, %s at the stiff end.", cm(low.fall.StandOff, o.Units), cm(high.fall.StandOff, o.Units))
	}
	desc := fmt.Sprintf("Side view to scale of %s of cloth falling from %s. The end stands about %s out.", cm(mid.long, o.Units), what, say)
	return p.c.finish("How "+name+" falls", desc, text)
}

// fallPicture is a falling edge from the side while it is drawn.
type fallPicture struct {
	c              *canvas
	o              Options
	v              FallView
	low, mid, high fallen
	k              float64 // units of the drawing to the cm
}

// The lines of the limp end, the stiff end and the strip along the edge.
var (
	limpLine  = look{class: "tn-ink", stroke: 1.3, dash: "1.5 3.5"}
	stiffLine = look{class: "tn-ink", stroke: 1.3, dash: "7 4"}
	stripLine = look{class: "tn-ink", stroke: 5}
)

// ranged says that limp and stiff end can be told apart.
func (p fallPicture) ranged() bool {
	return float64(p.high.fall.StandOff-p.low.fall.StandOff) > 0.02
}

// flaps draws the typical flap over the range of all.
func (p fallPicture) flaps() {
	if p.ranged() {
		limp, stiff := p.low.trace(0, 0, p.k), p.high.trace(0, 0, p.k)
		p.c.path(shade, between(limp, stiff), true)
		p.c.path(limpLine, limp, false)
		p.c.path(stiffLine, stiff, false)
	}
	typical := p.mid.trace(0, 0, p.k)
	p.c.path(inkOn(2.4), typical, false)
	if p.mid.strip < len(typical)-1 {
		p.c.path(stripLine, typical[p.mid.strip:], false)
	}
}

// between is the area from one line to another that begins with it.
func between(a, b []pt) []pt {
	area := slices.Clone(a)
	for _, p := range slices.Backward(b) {
		area = append(area, p)
	}
	return area
}

// standOff draws how far it stands off, at height y: from the plumb line of the hold
// to the edge's end.
func (p fallPicture) standOff(y float64) {
	out := p.k * float64(p.mid.fall.StandOff)
	typical := p.mid.trace(0, 0, p.k)
	end := typical[len(typical)-1]
	p.c.line(plumb, 0, 0, 0, y+5)
	p.c.line(plumb, end.x, end.y+4, end.x, y+5)
	p.c.across(0, out, y)
	p.c.text(math.Max(out+9, 12), y+4.5, "start", sizeText, false, "stands about "+cm(p.mid.fall.StandOff, p.o.Units)+" out")
}

// key explains the lines, beside them.
func (p fallPicture) key() {
	x, y := p.k*math.Max(float64(p.high.fall.StandOff), float64(p.mid.fall.StandOff))+34, 16.0
	entry := func(l look, words string) {
		p.c.line(l, x, y-4, x+28, y-4)
		p.c.text(x+36, y, "start", sizeText, false, words)
		y += 21
	}
	if p.ranged() {
		entry(limpLine, "limp end: "+cm(p.low.fall.StandOff, p.o.Units))
		entry(inkOn(2.4), "typical: "+cm(p.mid.fall.StandOff, p.o.Units))
		entry(stiffLine, "stiff end: "+cm(p.high.fall.StandOff, p.o.Units))
	} else {
		entry(inkOn(2.4), "the edge from the side")
	}
	if n := len(p.v.Flaps[1].Segments); n > 1 {
		entry(stripLine, "edge strip, "+mm(float64(p.v.Flaps[1].Segments[n-1].Length)*10, p.o.Units))
	}
	p.c.scaleBar(x, y+2, p.k, 90, p.o.Units)
}

// hold draws what the cloth lies on, left of the plumb line, and the cloth upon
// it. The places are cm.
func hold(c *canvas, on Hold, k, bottom float64, sys units.System) {
	body := look{class: "tn-body", fill: "currentColor", shade: 0.06}
	at := func(ps []pt) []pt {
		out := make([]pt, len(ps))
		for i, p := range ps {
			out[i] = pt{k * p.x, k * p.y}
		}
		return out
	}
	floor := bottom + 0.8
	if on == Rail {
		c.rect(look{class: "tn-body", fill: "currentColor", shade: 0.06, stroke: 1}, -5*k, 0.09*k, 4.95*k, 2*k, 1)
		c.text(-2.5*k, 1.05*k+4, "middle", sizeSmall, true, "rail, "+fibres.Quantity(2, "cm", sys)+" thick")
		c.line(inkOn(2.4), -5*k, 0, 0, 0)
		return
	}
	// Half of the neck, the slope of the shoulder, and the upper arm of a grown
	// person from the front.
	rim := smooth([]pt{{-12.1, -6.2}, {-11.8, -5.4}, {-11, -4.5}, {-9, -3.2}, {-6, -1.8}, {-3.4, -0.75}, {-1.6, -0.18}, {-0.5, 0.05}, {-0.2, 0.4}, {-0.15, 1.2}, {-0.25, 3}, {-0.5, 6}, {-0.8, math.Max(7, floor)}})
	for len(rim) > 2 && rim[len(rim)-2].y > floor {
		rim = rim[:len(rim)-1]
	}
	rim[len(rim)-1].y = math.Min(rim[len(rim)-1].y, floor)
	outline := append([]pt(nil), rim...)
	outline = append(outline, pt{-13.5, rim[len(rim)-1].y}, pt{-13.5, -6.2})
	c.path(body, at(outline), true)
	c.path(look{class: "tn-body", stroke: 1}, at(rim), false)
	cloth := []pt{}
	for _, p := range rim {
		if p.y <= 0.02 && p.x > -9.5 && p.x < -0.5 {
			cloth = append(cloth, pt{p.x, p.y - 0.1})
		}
	}
	cloth = append(cloth, pt{0, 0})
	c.path(inkOn(2.4), at(cloth), false)
	c.text(-7.2*k, 2.6*k, "middle", sizeSmall, true, "shoulder, to scale")
}

// smooth draws a curve through points (Catmull-Rom), eight steps to each.
func smooth(p []pt) []pt {
	at := func(i int) pt { return p[max(0, min(i, len(p)-1))] }
	var out []pt
	for i := 0; i+1 < len(p); i++ {
		a, b, d, e := at(i-1), at(i), at(i+1), at(i+2)
		for s := range 8 {
			t := float64(s) / 8
			f := func(a, b, d, e float64) float64 {
				return 0.5 * (2*b + (d-a)*t + (2*a-5*b+4*d-e)*t*t + (3*b-a-3*d+e)*t*t*t)
			}
			out = append(out, pt{f(a.x, b.x, d.x, e.x), f(a.y, b.y, d.y, e.y)})
		}
	}
	return append(out, p[len(p)-1])
}

// cm says a length as falls are told.
func cm(l units.Length, sys units.System) string { return fibres.Quantity(float64(l), "cm", sys) }

// mm says a thickness or an allowance.
func mm(v float64, sys units.System) string { return fibres.Quantity(v, "mm", sys) }

// named is a name that can stand in a sentence.
func named(s string) string {
	if s = clean(s); s == "" {
		return "the cloth"
	}
	return shorten(s, sizeText, 600)
}
