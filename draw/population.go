package draw

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/prose"
)

// PopulationRow is a cloth's estimate of the property, or the user's own swatch.
type PopulationRow struct {
	Name string
	Have fibres.Estimate
	Own  bool
}

// PopulationView is where cloths, and the user's own, lie for one property.
type PopulationView struct {
	Property fibres.Property
	Rows     []PopulationRow
}

// maxRows is how many rows are drawn.
const maxRows = 60

// Population draws each row's low, typical and high on one common scale.
func Population(o Options, v PopulationView) (Picture, error) {
	if v.Property < 0 || v.Property >= fibres.NumProperties || len(v.Rows) == 0 || len(v.Rows) > maxRows {
		return Picture{}, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("%d rows of property %d", len(v.Rows), v.Property), Expected: fmt.Sprintf("a property of cloth, and 1 to %d rows", maxRows)}
	}
	lo, hi, err := v.span()
	if err != nil {
		return Picture{}, err
	}
	info := fibres.Properties[v.Property]
	p := populationPicture{c: newCanvas(o), o: o, graded: info.Scale != nil, axis: populationAxis(info, lo, hi, o)}
	ticks := gradedTicks(info.Scale)
	if !p.graded {
		ticks = p.axis.ticks()
	}
	if lo > hi && !p.graded { // nothing is known of any: there is no scale
		ticks = nil
	}
	end := populationTop + populationRow*float64(len(v.Rows)) - 8
	for _, t := range ticks {
		x := p.axis.at(t.v)
		p.c.line(plumb, x, 8, x, end)
	}
	var says []string
	for i, r := range v.Rows {
		says = append(says, p.row(r, populationTop+populationRow*float64(i)))
	}
	p.c.line(thin, p.axis.from, end, p.axis.to, end)
	p.ticks(ticks, end)
	title := info.Name
	if p.axis.unit != "" && !p.graded {
		title += ", " + p.axis.unit
	}
	middle := (p.axis.from + p.axis.to) / 2
	p.c.text(middle, end+34, "middle", sizeText, false, title)
	key := "bar: eight cloths in ten; thick stroke: typical"
	if slices.ContainsFunc(v.Rows, func(r PopulationRow) bool { return r.Own }) {
		key += "; the diamond is your own"
	}
	p.c.text(middle, end+50, "middle", sizeSmall, true, key)
	return p.c.finish("Where they lie: "+info.Name, fmt.Sprintf("Bars from low to high for %s on a common scale of %s.", prose.Count(len(v.Rows), "cloth"), info.Name), strings.Join(says, "; ")+".")
}

// The first row's height on the drawing, and that of each row.
const populationTop, populationRow = 20.0, 34.0

// span is the least and the most of what is known; +Inf and -Inf where nothing is.
func (v PopulationView) span() (lo, hi float64, err error) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, r := range v.Rows {
		e := r.Have
		if !e.Known() {
			continue
		}
		if math.IsNaN(e.Low+e.Typical+e.High) || math.IsInf(e.Low+e.High, 0) || e.Low > e.Typical || e.Typical > e.High {
			return 0, 0, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("%s has the range %v, %v, %v", named(r.Name), e.Low, e.Typical, e.High), Expected: "low, typical and high in that order"}
		}
		lo, hi = math.Min(lo, e.Low), math.Max(hi, e.High)
	}
	return lo, hi, nil
}

// populationAxis holds lo to hi with some room: by levels for what is graded, by
// ratios for what differs by more than four times.
func populationAxis(info fibres.PropertyInfo, lo, hi float64, o Options) axis {
	a := newAxis(0, 1, info.Unit, o.Units)
	switch {
	case info.Scale != nil:
		a.low, a.high = -0.4, float64(len(info.Scale))-0.6
	case lo > hi:
	case lo > 0 && hi/lo > 4:
		a.log = true
		a.low, a.high = lo/1.12, hi*1.12
	default:
		d := math.Max((hi-lo)*0.08, hi*0.03+1e-6)
		a.low, a.high = math.Max(lo-d, math.Min(0, lo)), hi+d
	}
	a.from, a.to = 0, 360
	return a
}

// populationPicture is a picture of populations while it is drawn.
type populationPicture struct {
	c      *canvas
	o      Options
	axis   axis
	graded bool
}

// row draws one row at height y, and says what it shows.
func (p populationPicture) row(r PopulationRow, y float64) string {
	e, left, right := r.Have, p.axis.from, p.axis.to
	for i, l := range fold(r.Name, sizeSmall, 170, 2) {
		p.c.text(left-12, y+4+float64(i)*12, "end", sizeSmall, false, l)
	}
	if !e.Known() {
		p.c.text(left+6, y+4, "start", sizeSmall, true, "not known")
		return clean(r.Name) + ": not known"
	}
	what := ""
	if r.Own {
		what = " (your own)"
		p.diamond(e, y)
	} else {
		p.bar(e, y)
	}
	p.c.text(right+12, y+4, "start", sizeSmall, true, e.In(p.o.Units))
	return clean(r.Name) + what + ": " + e.In(p.o.Units)
}

// diamond is the user's own, with a whisker where it is a range.
func (p populationPicture) diamond(e fibres.Estimate, y float64) {
	x1, x, x2 := p.axis.at(e.Low), p.axis.at(e.Typical), p.axis.at(e.High)
	if x2 > x1 {
		p.c.line(look{class: "tn-own", stroke: 1.5}, x1, y, x2, y)
		for _, q := range []float64{x1, x2} {
			p.c.line(look{class: "tn-own", stroke: 1.5}, q, y-5, q, y+5)
		}
	}
	p.c.path(look{class: "tn-own", fill: "currentColor", shade: 1, stroke: 1}, []pt{{x, y - 7}, {x + 7, y}, {x, y + 7}, {x - 7, y}}, true)
}

// bar is what is sold under a name.
func (p populationPicture) bar(e fibres.Estimate, y float64) {
	x1, x, x2 := p.axis.at(e.Low), p.axis.at(e.Typical), p.axis.at(e.High)
	if p.graded { // a level is as wide as its word
		x1, x2 = x1-12, x2+12
	}
	p.c.rect(look{class: "tn-shade", fill: "currentColor", shade: 0.15, stroke: 1.2}, x1, y-7, x2-x1, 14, 2)
	p.c.line(inkOn(3), x, y-7, x, y+7)
}

// ticks writes the words of the axis, those that would touch left out.
func (p populationPicture) ticks(ticks []tick, end float64) {
	last := math.Inf(-1)
	for _, t := range ticks {
		x := p.axis.at(t.v)
		p.c.line(thin, x, end, x, end+4)
		w := textWidth(t.word, sizeSmall) / 2
		if x-w > last+4 {
			p.c.text(x, end+17, "middle", sizeSmall, true, t.word)
			last = x + w
		}
	}
}
