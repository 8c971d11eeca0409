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

// mostStrips is how many candidates one strip shows.
const mostStrips = 24

// Strip draws the falls of several cloths side by side at one scale.
func Strip(o Options, v StripView) (Picture, error) {
	if len(v.Items) == 0 || len(v.Items) > mostStrips {
		return Picture{}, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("%d cloths to draw side by side", len(v.Items)), Expected: fmt.Sprintf("1 to %d", mostStrips)}
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
	c := newCanvas(o)
	k := 110 / long // one scale for all, the flap 110 units long
	const rail = 24.0
	cell := math.Max(146, rail+k*out+30)
	perRow := max(1, min(len(v.Items), int(740/cell)))
	y := 0.0
	var says []string
	for row := 0; row*perRow < len(v.Items); row++ {
		items := v.Items[row*perRow : min(len(v.Items), (row+1)*perRow)]
		tall := 0.0
		for i, it := range items {
			h := hung[row*perRow+i]
			x := float64(i)*cell + rail
			c.rect(look{class: "tn-body", fill: "currentColor", shade: 0.06, stroke: 0.8}, x-rail, y+1, rail-1, 8, 1)
			c.line(inkOn(2.2), x-rail, y, x, y)
			drop := k * math.Max(float64(h[0].fall.Drop), float64(h[2].fall.Drop))
			c.line(plumb, x, y, x, y+drop+4)
			if float64(h[2].fall.StandOff-h[0].fall.StandOff) > 0.02 {
				area := h[0].trace(x, y, k)
				up := h[2].trace(x, y, k)
				for j := len(up) - 1; j >= 0; j-- {
					area = append(area, up[j])
				}
				c.path(shade, area, true)
				c.path(look{class: "tn-ink", stroke: 1, dash: "1.5 3"}, h[0].trace(x, y, k), false)
				c.path(look{class: "tn-ink", stroke: 1, dash: "6 3"}, up, false)
			}
			c.path(inkOn(2.2), h[1].trace(x, y, k), false)
			ty := y + k*long + 18
			ty = c.lines(x-rail, ty, "start", sizeSmall, false, fold(it.Name, sizeSmall, cell-10, 2))
			ty = c.lines(x-rail, ty, "start", sizeSmall, true, []string{"stands off " + cm(h[1].fall.StandOff, o.Units)})
			ty = c.lines(x-rail, ty, "start", sizeSmall, true, fold(it.Say, sizeSmall, cell-10, 3))
			tall = math.Max(tall, ty-y)
			says = append(says, fmt.Sprintf("%s stands off about %s (%s to %s), %s", clean(it.Name), cm(h[1].fall.StandOff, o.Units), cm(h[0].fall.StandOff, o.Units), cm(h[2].fall.StandOff, o.Units), clean(it.Say)))
		}
		y += tall + 14
	}
	c.scaleBar(0, y, k, 70, o.Units)
	const legend = "thick: typical; dotted to dashed: limp end to stiff end"
	if wide := cell * float64(perRow); wide > 460 {
		c.text(110, y+6, "start", sizeSmall, true, legend)
	} else {
		c.lines(0, y+24, "start", sizeSmall, true, fold(legend, sizeSmall, wide, 4))
	}
	name := named(v.Name)
	return c.finish("Cloths for "+name+" side by side", fmt.Sprintf("The falling edges of %d cloths at one scale, each with its range.", len(v.Items)), strings.Join(says, "; ")+".")
}
