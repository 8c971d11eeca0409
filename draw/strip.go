package draw

import (
	"fmt"
	"math"
	"strings"

	"tenter/fibres/fault"
	"tenter/fibres/hang"
)

// StripItem is one candidate cloth: its name, what is said of it ("about 7 in 10
// would do"), and its edge at the limp end, typical and at the stiff end.
type StripItem struct {
	Name, Say string
	Flaps     [3]hang.Flap
}

// StripView is candidate cloths side by side.
type StripView struct {
	Name  string // what they are candidates for
	Items []StripItem
}

// maxStrips is how many candidates one strip shows.
const maxStrips = 24

// Strip draws the falls of several cloths side by side at one scale.
func Strip(o Options, v StripView) (Picture, error) {
	if len(v.Items) == 0 || len(v.Items) > maxStrips {
		return Picture{}, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("%d cloths to draw side by side", len(v.Items)), Expected: fmt.Sprintf("1 to %d", maxStrips)}
	}
	hung := make([][3]fallen, len(v.Items))
	long, out := 0.0, 0.0
	for i, it := range v.Items {
		var err error
		if hung[i], err = hungAll(it.Flaps); err != nil {
			return Picture{}, err
		}
		long = math.Max(long, float64(hung[i][1].long))
		for _, h := range hung[i] {
			out = math.Max(out, float64(h.fall.StandOff))
		}
	}
	p := stripPicture{c: newCanvas(o), o: o, k: 110 / long, long: long} // one scale for all, the flap 110 units long
	p.cell = math.Max(146, stripRail+p.k*out+30)
	perRow := max(1, min(len(v.Items), int(740/p.cell)))
	y, tall := 0.0, 0.0
	var says []string
	for i, it := range v.Items {
		if i > 0 && i%perRow == 0 {
			y, tall = y+tall+14, 0
		}
		tall = math.Max(tall, p.item(it, hung[i], float64(i%perRow)*p.cell+stripRail, y))
		says = append(says, fmt.Sprintf("%s stands about %s out (%s to %s), %s", clean(it.Name), cm(hung[i][1].fall.StandOff, o.Units), cm(hung[i][0].fall.StandOff, o.Units), cm(hung[i][2].fall.StandOff, o.Units), clean(it.Say)))
	}
	y += tall + 14
	p.c.scaleBar(0, y, p.k, 70, o.Units)
	const legend = "thick: typical; dotted to dashed: limp end to stiff end"
	if wide := p.cell * float64(perRow); wide > 460 {
		p.c.text(110, y+6, "start", sizeSmall, true, legend)
	} else {
		p.c.lines(0, y+24, "start", sizeSmall, true, fold(legend, sizeSmall, wide, 4))
	}
	name := named(v.Name)
	return p.c.finish("Cloths for "+name+" side by side", fmt.Sprintf("The falling edges of %d cloths at one scale, each with its range.", len(v.Items)), strings.Join(says, "; ")+".")
}

// stripRail is how long the piece of rail is that each cloth hangs from.
const stripRail = 24.0

// stripPicture is cloths side by side while they are drawn.
type stripPicture struct {
	c             *canvas
	o             Options
	k, long, cell float64 // units to the cm, the longest flap in cm, the width of a place
}

// item draws one cloth that hangs from x, y and its words, and returns its height.
func (p stripPicture) item(it StripItem, h [3]fallen, x, y float64) float64 {
	c, k, left := p.c, p.k, x-stripRail
	c.rect(look{class: "tn-body", fill: "currentColor", shade: 0.06, stroke: 0.8}, left, y+1, stripRail-1, 8, 1)
	c.line(inkOn(2.2), left, y, x, y)
	drop := k * math.Max(float64(h[0].fall.Drop), float64(h[2].fall.Drop))
	c.line(plumb, x, y, x, y+drop+4)
	if float64(h[2].fall.StandOff-h[0].fall.StandOff) > 0.02 {
		limp, stiff := h[0].trace(x, y, k), h[2].trace(x, y, k)
		c.path(shade, between(limp, stiff), true)
		c.path(look{class: "tn-ink", stroke: 1, dash: "1.5 3"}, limp, false)
		c.path(look{class: "tn-ink", stroke: 1, dash: "6 3"}, stiff, false)
	}
	c.path(inkOn(2.2), h[1].trace(x, y, k), false)
	below := c.lines(left, y+k*p.long+18, "start", sizeSmall, false, fold(it.Name, sizeSmall, p.cell-10, 2))
	below = c.lines(left, below, "start", sizeSmall, true, []string{cm(h[1].fall.StandOff, p.o.Units) + " out"})
	below = c.lines(left, below, "start", sizeSmall, true, fold(it.Say, sizeSmall, p.cell-10, 3))
	return below - y
}
