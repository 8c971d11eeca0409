// Package picture is the small pictures that stand in the pages themselves: ranges on
// rulers, edges as they hang, finishes cut through, pieces by their parts, weaves. Each is
// made of figures alone, knows nothing of the site, and follows the scheme of the page.
package picture

import (
	"fmt"
	"html"
	"html/template"
	"math"
	"strconv"
	"strings"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/hang"
	"tenter/fibres/units"
)

// Pictures are SVG in the page itself. Colours and line styles are classes, so
// that they follow the scheme; nothing carries a style of its own, which the
// policy of the site forbids.

type pic struct{ strings.Builder }

// open begins a picture. With a label it is an image to a screen reader; without
// one the words beside it already say everything.
func (p *pic) open(class, attrs, label string) {
	p.WriteString(`<svg class="` + class + `" ` + attrs)
	if label == "" {
		p.WriteString(` aria-hidden="true">`)
		return
	}
	p.WriteString(` role="img" aria-label="` + html.EscapeString(label) + `">`)
}

func (p *pic) close() template.HTML {
	p.WriteString(`</svg>`)
	return template.HTML(p.String()) // figures and escaped words only
}

// n writes a figure with as many decimals as a screen shows.
func n(v float64) string {
	s := strconv.FormatFloat(math.Round(v*10)/10, 'f', -1, 64)
	if s == "-0" {
		return "0"
	}
	return s
}

// pc writes a part of one as per cent of the drawn width, with room at the
// ends for what is drawn there.
func pc(x float64) string { return n(3+x*94) + "%" }

func (p *pic) text(x, y, class, anchor, words string) {
	fmt.Fprintf(p, `<text x="%s" y="%s" class="%s"`, x, y, class)
	if anchor != "" {
		fmt.Fprintf(p, ` text-anchor="%s"`, anchor)
	}
	p.WriteString(`>` + html.EscapeString(words) + `</text>`)
}

// Stitches draws so many tenths as a row of ten stitches.
func Stitches(on int) template.HTML {
	var p pic
	p.open("stitches", `viewBox="0 0 120 10"`, "")
	for i := range 10 {
		class := "st"
		if i < on {
			class = "st on"
		}
		fmt.Fprintf(&p, `<path class="%s" d="M%d 5h8"/>`, class, i*12+2)
	}
	return p.close()
}

// IsOwn reports whether an estimate comes from what the user measured of the
// very cloth, if only from its kin: the overall bending length from the warp.
func IsOwn(e fibres.Estimate) bool {
	return e.Basis == fibres.Measured || (len(e.Chain) > 0 && e.Chain[0].Used && e.Chain[0].Asked == "your own measurement")
}

// Range draws an estimate on the common scale of its property, and the user's own
// swatches on it as points.
func Range(sys units.System, r Ruler, prop fibres.Property, e fibres.Estimate, own []float64) template.HTML {
	if s := fibres.Properties[prop].Scale; s != nil {
		return levels(s, e, nil, own)
	}
	var p pic
	p.open("range", `height="34"`, "")
	tape(&p, r, sys)
	if e.Known() {
		thread(&p, r, e)
	}
	for _, v := range own {
		ownPoint(&p, r, v)
	}
	return p.close()
}

// ownPoint is a swatch of the user's: a diamond, whatever else is there.
func ownPoint(p *pic, r Ruler, v float64) {
	fmt.Fprintf(p, `<svg x="%s" y="8" class="own"><path class="knot own" d="M0-6L6 0L0 6L-6 0Z"/></svg>`, pc(r.at(v)))
}

// tape draws the ruler itself.
func tape(p *pic, r Ruler, sys units.System) {
	p.WriteString(`<line class="tape" x1="3%" x2="97%" y1="18" y2="18"/>`)
	last := -1.0
	for _, t := range r.ticks(sys) {
		x := pc(t.at)
		fmt.Fprintf(p, `<line class="tape" x1="%s" x2="%s" y1="15" y2="21"/>`, x, x)
		if t.at-last > 0.1 {
			p.text(x, "32", "tick", "middle", t.label)
			last = t.at
		}
	}
}

// thread draws the range: its style tells the basis, as the word beside does.
func thread(p *pic, r Ruler, e fibres.Estimate) {
	lo, mid, hi := pc(r.at(e.Low)), pc(r.at(e.Typical)), pc(r.at(e.High))
	if e.Low < e.High {
		fmt.Fprintf(p, `<line class="thread b-%s" x1="%s" x2="%s" y1="8" y2="8"/>`, e.Basis, lo, hi)
	}
	if IsOwn(e) {
		ownPoint(p, r, e.Typical)
		return
	}
	fmt.Fprintf(p, `<circle class="knot" cx="%s" cy="8" r="4.5"/>`, mid)
}

// levels draws a graded estimate on the words of its scale; ideal marks the
// levels that are asked for.
func levels(s fibres.Scale, e fibres.Estimate, ideal *[2]float64, own []float64) template.HTML {
	var p pic
	p.open("range", `height="34"`, "")
	r := Ruler{lo: -0.4, hi: float64(len(s)) - 0.6}
	if ideal != nil {
		from, to := 3+94*r.at(ideal[0]-0.4), 3+94*r.at(ideal[1]+0.4)
		fmt.Fprintf(&p, `<rect class="ideal" x="%s%%" width="%s%%" y="1" height="20"/>`, n(from), n(to-from))
	}
	p.WriteString(`<line class="tape" x1="3%" x2="97%" y1="18" y2="18"/>`)
	for i, w := range s {
		x := pc(r.at(float64(i)))
		fmt.Fprintf(&p, `<line class="tape" x1="%s" x2="%s" y1="15" y2="21"/>`, x, x)
		p.text(x, "32", "tick", "middle", w)
	}
	if e.Known() {
		thread(&p, r, e)
	}
	for _, v := range own {
		ownPoint(&p, r, v)
	}
	return p.close()
}

// Need draws what a make-up has against what a demand asks: the ideal
// range, the limit round it, and the range that is there.
func Need(sys units.System, d advise.Asked) template.HTML {
	if d.Need.Words != nil {
		if s := scaleOf(d); s != nil {
			ideal := d.Need.Ideal
			return levels(s, d.Have, &ideal, nil)
		}
	}
	var p pic
	p.open("range", `height="34"`, "")
	r := needRuler(d)
	limit, ideal := [2]float64{r.at(d.Need.Limit[0]), r.at(d.Need.Limit[1])}, [2]float64{r.at(d.Need.Ideal[0]), r.at(d.Need.Ideal[1])}
	fmt.Fprintf(&p, `<rect class="limit" x="%s" width="%s%%" y="1" height="20"/>`, pc(limit[0]), n(94*(limit[1]-limit[0])))
	fmt.Fprintf(&p, `<rect class="ideal" x="%s" width="%s%%" y="1" height="20"/>`, pc(ideal[0]), n(94*(ideal[1]-ideal[0])))
	tape(&p, r, sys)
	if d.Known {
		thread(&p, r, d.Have)
	}
	return p.close()
}

// needRuler holds the limit and what is there, from zero where that is near.
func needRuler(d advise.Asked) Ruler {
	lo, hi := d.Need.Limit[0], d.Need.Limit[1]
	if d.Known {
		lo, hi = math.Min(lo, d.Have.Low), math.Max(hi, d.Have.High)
	}
	if lo > 0 && lo < hi/4 {
		lo = 0
	}
	step := niceStep((hi - lo) / 5)
	return Ruler{lo: math.Floor(lo/step) * step, hi: math.Ceil(hi*1.02/step) * step, unit: d.Need.Unit}
}

// scaleOf finds the words of the scale that a graded demand speaks of.
func scaleOf(d advise.Asked) fibres.Scale {
	for _, s := range []fibres.Scale{fibres.FrayScale, fibres.NapScale, fibres.WashScale, fibres.HandScale} {
		if _, ok := s.Level(d.Need.Words[0]); ok {
			if _, ok := s.Level(d.Need.Words[1]); ok {
				return s
			}
		}
	}
	return nil
}

// Strip draws strips of cloth over a table edge, as in the ruler test: 10 cm
// of each, for a low, a typical and a high bending length.
func Strip(sys units.System, bending fibres.Estimate, label string) template.HTML {
	if !bending.Known() {
		return ""
	}
	const reach = 10
	var curves [3][]hang.Point
	for i, c := range []float64{bending.Low, bending.Typical, bending.High} {
		g := hang.RigidityFromBendingLength(units.Length(c), 150)
		fall, err := hang.Hang(hang.Flap{Segments: []hang.Segment{{Length: reach, Rigidity: g, Mass: 150}}}, curvePoints)
		if err != nil {
			return ""
		}
		curves[i] = fall.Points
	}
	return fallSVG(curves, reach, units.Raised(fibres.Quantities(reach, reach, "cm", sys)), label)
}

func fallSVG(curves [3][]hang.Point, length float64, caption, label string) template.HTML {
	const x0, y0, size = 34, 22, 104
	at := func(q hang.Point) string {
		return n(x0+float64(q.Out)/length*size) + " " + n(y0+float64(q.Down)/length*size)
	}
	line := func(c []hang.Point) string {
		var b strings.Builder
		for i, q := range c {
			if i == 0 {
				b.WriteString("M" + at(q) + "L")
				continue
			}
			b.WriteString(at(q) + " ")
		}
		return strings.TrimSpace(b.String())
	}
	var p pic
	p.open("fall", `viewBox="0 0 146 136"`, label)
	// what holds it, and the plumb line it falls towards
	fmt.Fprintf(&p, `<path class="hold" d="M0 %d H%d V%d H0Z"/><path class="plumb" d="M%d %d V134"/>`, y0+2, x0-1, y0+14, x0, y0+14)
	back := make([]hang.Point, 0, len(curves[0]))
	for i := len(curves[0]) - 1; i >= 0; i-- {
		back = append(back, curves[0][i])
	}
	fmt.Fprintf(&p, `<path class="band" d="%s L%sZ"/>`, line(curves[2]), strings.TrimPrefix(strings.ReplaceAll(line(back), "L", " "), "M"))
	fmt.Fprintf(&p, `<path class="edge-of" d="%s"/><path class="edge-of" d="%s"/>`, line(curves[0]), line(curves[2]))
	fmt.Fprintf(&p, `<path class="cloth" d="M0 %d H%d %s"/>`, y0, x0, "L"+strings.TrimPrefix(line(curves[1]), "M"))
	end := curves[1][len(curves[1])-1]
	x := x0 + float64(end.Out)/length*size
	if x > x0+4 {
		y := y0 + float64(end.Down)/length*size
		fmt.Fprintf(&p, `<path class="measure" d="M%d %s H%s"/>`, x0, n(y), n(x))
	}
	// the length of the flap, for scale
	fmt.Fprintf(&p, `<path class="tape" d="M%d 6 H%d M%d 3v6 M%d 3v6"/>`, x0, x0+size, x0, x0+size)
	p.text(strconv.Itoa(x0+size/2), "17", "tick", "middle", caption)
	return p.close()
}
