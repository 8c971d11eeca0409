package draw

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/hang"
	"tenter/fibres/prose"
	"tenter/fibres/units"
)

// MapPoint is one cloth on the map.
type MapPoint struct {
	Name      string
	Href      string // where it leads; a path of this site, or empty
	MassGSM   float64
	BendingCM float64
	Mark      bool // named and drawn larger
	Own       bool // a swatch of the user's
	Pale      bool // not what is looked for: it stands back
	// Mass and Bending are the range of its population, drawn as a box; zero is
	// none.
	Mass, Bending [2]float64
}

// MapView is cloths by what they weigh and how stiff they are.
type MapView struct {
	Points []MapPoint
	// Beside says that a list beside the map holds the same links: then the tab
	// key need not go through all of those on the map.
	Beside bool
}

// maxPoints is how many points a map holds.
const maxPoints = 5000

// Map draws cloths by mass and bending length, both by powers, over the bands of
// hand. Points with an Href are links; then the picture is a group and not one
// image, so that the links can be reached.
func Map(o Options, v MapView) (Picture, error) {
	if len(v.Points) > maxPoints {
		return Picture{}, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("%d points", len(v.Points)), Expected: fmt.Sprintf("at most %d", maxPoints)}
	}
	m := mapPicture{c: newCanvas(o), o: o, v: v, x: newAxis(10, 1000, "g/m2", o.Units), y: newAxis(0.5, 9, "cm", o.Units)}
	for _, p := range v.Points {
		if err := positive("mass or bending length of "+named(p.Name), p.MassGSM, p.BendingCM); err != nil {
			return Picture{}, err
		}
		m.x.low, m.x.high = math.Min(m.x.low, p.MassGSM*0.9), math.Max(m.x.high, p.MassGSM*1.1)
		m.y.low, m.y.high = math.Min(m.y.low, p.BendingCM*0.9), math.Max(m.y.high, p.BendingCM*1.1)
	}
	m.x.log, m.y.log = true, true
	m.x.from, m.x.to, m.y.from, m.y.to = 0, 560, 400, 0
	m.bands()
	m.frame()
	m.spreads()
	marked := m.points()

	counts := map[hang.Hand]int{}
	for _, p := range v.Points {
		counts[hang.Band(units.Length(p.BendingCM))]++
	}
	var bands []string
	for h := hang.Fluid; h <= hang.Rigid; h++ {
		bands = append(bands, fmt.Sprintf("%s %d", h, counts[h]))
	}
	many := prose.Count(len(v.Points), "cloth")
	text := fmt.Sprintf("%s by mass and bending length. By hand: %s.", many, strings.Join(bands, ", "))
	if len(marked) > 0 {
		text += " Marked: " + strings.Join(marked, "; ") + "."
	}
	return m.c.finish("Map of cloths", fmt.Sprintf("%s placed by what they weigh (left to right) and how stiff they are (bottom to top), over the bands of hand from fluid to rigid.", many), text)
}

// mapPicture is a map while it is drawn.
type mapPicture struct {
	c    *canvas
	o    Options
	v    MapView
	x, y axis
}

// bands draws the bands of hand and their words.
func (m mapPicture) bands() {
	x, y := m.x, m.y
	for h := hang.Fluid; h <= hang.Rigid; h++ {
		lo, hi := hang.BandRange(h)
		top, bottom := y.at(math.Min(y.high, float64(hi))), y.at(math.Max(y.low, float64(lo)))
		if h == hang.Rigid {
			top = y.to
		}
		if h%2 == 0 {
			m.c.rect(look{class: "tn-band", fill: "currentColor", shade: 0.05}, x.from, top, x.to-x.from, bottom-top, 0)
		}
		m.c.line(look{class: "tn-thin", stroke: 0.6}, x.from, bottom, x.to, bottom)
		m.c.text(x.to+8, (top+bottom)/2+4, "start", sizeSmall, true, h.String())
	}
}

// frame draws the two axes.
func (m mapPicture) frame() {
	c, x, y := m.c, m.x, m.y
	c.rect(look{class: "tn-thin", stroke: 0.8}, x.from, y.to, x.to-x.from, y.from-y.to, 0)
	for _, t := range x.ticks() {
		q := x.at(t.v)
		c.line(thin, q, y.from, q, y.from+4)
		c.text(q, y.from+17, "middle", sizeSmall, true, t.word)
	}
	for _, t := range y.ticks() {
		q := y.at(t.v)
		c.line(thin, x.from-4, q, x.from, q)
		c.text(x.from-8, q+4, "end", sizeSmall, true, t.word)
	}
	c.text((x.from+x.to)/2, y.from+34, "middle", sizeText, false, "mass, "+x.unit)
	c.text(x.from-40, y.to-12, "start", sizeText, false, "bending length, "+y.unit)
	c.text(x.to+8, y.to-12, "start", sizeSmall, true, "hand")
}

// spreads draws where eight in ten of a point's cloths lie.
func (m mapPicture) spreads() {
	x, y := m.x, m.y
	for _, p := range m.v.Points {
		if a, b := p.Mass, p.Bending; a[0] > 0 && b[0] > 0 && a[1] >= a[0] && b[1] >= b[0] {
			left, top := x.at(math.Max(x.low, a[0])), y.at(math.Min(y.high, b[1]))
			m.c.rect(look{class: "tn-spread", fill: "currentColor", shade: 0.1, stroke: 1, dash: "5 4"}, left, top, x.at(math.Min(x.high, a[1]))-left, y.at(math.Max(y.low, b[0]))-top, 4)
		}
	}
}

// points draws the points, what stands back below and what is marked on top, and
// says what is marked.
func (m mapPicture) points() (marked []string) {
	var taken, dots []label
	crowd := 1.0
	for _, p := range m.v.Points {
		if p.Mark || p.Own {
			crowd = 0.4 // the rest steps back, so that names can be read over it
			continue
		}
		q := pt{m.x.at(p.MassGSM), m.y.at(p.BendingCM)}
		dots = append(dots, label{q.x - 3, q.y - 3, q.x + 3, q.y + 3})
	}
	plain := look{class: "tn-dot", fill: "currentColor", shade: 0.35 * crowd}
	if crowd == 1 {
		plain.stroke = 0.8
	}
	for _, layer := range []struct {
		in   func(MapPoint) bool
		look look
	}{{func(p MapPoint) bool { return p.Pale && !p.Mark && !p.Own }, look{class: "tn-dot tn-pale", fill: "currentColor", shade: 0.15}},
		{func(p MapPoint) bool { return !p.Pale && !p.Mark && !p.Own }, plain}, {func(p MapPoint) bool { return p.Mark || p.Own }, look{}}} {
		if !slices.ContainsFunc(m.v.Points, layer.in) {
			continue
		}
		m.c.open(m.c.attrs(layer.look))
		for _, p := range m.v.Points {
			if !layer.in(p) {
				continue
			}
			point(m.c, p, m.x.at(p.MassGSM), m.y.at(p.BendingCM), &taken, dots, m.v.Beside, m.o)
			if p.Mark || p.Own {
				marked = append(marked, fmt.Sprintf("%s: %s, %s, %s", clean(p.Name), fibres.Quantity(p.MassGSM, "g/m2", m.o.Units), fibres.Quantity(p.BendingCM, "cm", m.o.Units), hang.Band(units.Length(p.BendingCM))))
			}
		}
		m.c.shut()
	}
	return marked
}

// label is the room a name takes.
type label struct{ x1, y1, x2, y2 float64 }

// hits counts the labels of a list that this one lies on.
func (l label) hits(list []label) int {
	n := 0
	for _, m := range list {
		if l.x1 < m.x2 && m.x1 < l.x2 && l.y1 < m.y2 && m.y1 < l.y2 {
			n++
		}
	}
	return n
}

// beside are the places where a name may stand, best first.
var beside = []struct {
	dx, dy float64
	anchor string
}{{10, 4, "start"}, {-10, 4, "end"}, {0, -11, "middle"}, {0, 20, "middle"}, {10, 18, "start"}, {10, -10, "start"}, {-10, 18, "end"}, {-10, -10, "end"}, {10, 32, "start"}, {10, -24, "start"}}

func point(c *canvas, p MapPoint, x, y float64, taken *[]label, dots []label, listed bool, o Options) {
	href := safeHref(p.Href)
	say := fmt.Sprintf("%s: %s, %s", clean(p.Name), fibres.Quantity(p.MassGSM, "g/m2", o.Units), fibres.Quantity(p.BendingCM, "cm", o.Units))
	switch {
	case href != "" && listed:
		c.links = true
		fmt.Fprintf(&c.b, "<a href=\"%s\" tabindex=\"-1\">", escape(href))
	case href != "":
		c.links = true
		fmt.Fprintf(&c.b, "<a href=\"%s\" aria-label=\"%s\">\n", escape(href), escape(say))
	default:
		c.open("")
	}
	fmt.Fprintf(&c.b, "<title>%s</title>\n", escape(say))
	switch {
	case p.Own:
		c.path(look{class: "tn-own", fill: "currentColor", shade: 1, stroke: 1}, []pt{{x, y - 7}, {x + 7, y}, {x, y + 7}, {x - 7, y}}, true)
	case p.Mark:
		c.circle(look{class: "tn-dot", fill: "currentColor", shade: 1, stroke: 1.5}, x, y, 5)
	default: // there may be hundreds: their look is that of the group
		c.reach(x, y, 4)
		fmt.Fprintf(&c.b, "<circle cx=\"%s\" cy=\"%s\" r=\"3.2\"/>", c.num(x), c.num(y))
	}
	if p.Own || p.Mark {
		s := shorten(p.Name, sizeSmall, 150)
		w := textWidth(s, sizeSmall)
		*taken = append(*taken, label{x - 7, y - 7, x + 7, y + 7})
		best, bestHits := -1, 1<<30
		boxes := make([]label, len(beside))
		for i, at := range beside {
			l := label{x + at.dx, y + at.dy - 10, x + at.dx + w, y + at.dy + 3}
			switch at.anchor {
			case "end":
				l.x1, l.x2 = l.x1-w, l.x2-w
			case "middle":
				l.x1, l.x2 = l.x1-w/2, l.x2-w/2
			}
			boxes[i] = l
			if l.x1 < 0 || l.x2 > 556 || l.y1 < 0 || l.y2 > 398 || l.hits(*taken) > 0 {
				continue
			}
			if n := l.hits(dots); n < bestHits {
				best, bestHits = i, n
			}
		}
		if best >= 0 {
			*taken = append(*taken, boxes[best])
			at := beside[best]
			c.text(x+at.dx, y+at.dy, at.anchor, sizeSmall, false, s)
		}
	}
	if href != "" {
		c.b.WriteString("</a>\n")
	} else {
		c.shut()
	}
}

// safeHref lets paths of the same site and places on the same page through; an
// address that names a scheme or a host is left out.
func safeHref(s string) string {
	if s == "" || clean(s) != s || strings.HasPrefix(s, "//") || strings.ContainsAny(s, `\`) {
		return ""
	}
	if s[0] == '/' || s[0] == '#' || s[0] == '?' {
		return s
	}
	return ""
}
