package draw

import (
	"fmt"
	"math"
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

// mostRows is how many rows are drawn.
const mostRows = 60

// Population draws each row's low, typical and high on one common scale.
func Population(o Options, v PopulationView) (Picture, error) {
	if v.Property < 0 || v.Property >= fibres.NumProperties || len(v.Rows) == 0 || len(v.Rows) > mostRows {
		return Picture{}, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("%d rows of property %d", len(v.Rows), v.Property), Expected: fmt.Sprintf("a property of cloth, and 1 to %d rows", mostRows)}
	}
	info := fibres.Properties[v.Property]
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, r := range v.Rows {
		e := r.Have
		if !e.Known() {
			continue
		}
		if math.IsNaN(e.Low+e.Typical+e.High) || math.IsInf(e.Low+e.High, 0) || e.Low > e.Typical || e.Typical > e.High {
			return Picture{}, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("%s has the range %v, %v, %v", named(r.Name), e.Low, e.Typical, e.High), Expected: "low, typical and high in that order"}
		}
		lo, hi = math.Min(lo, e.Low), math.Max(hi, e.High)
	}
	c := newCanvas(o)
	const left, right, row = 0.0, 360.0, 34.0
	a := newAxis(0, 1, info.Unit, o.Units)
	ticks := gradedTicks(info.Scale)
	if info.Scale != nil {
		a.low, a.high = -0.4, float64(len(info.Scale))-0.6
	} else if lo <= hi {
		a.low, a.high = lo, hi
		if lo > 0 && hi/lo > 4 {
			a.log = true
			a.low, a.high = lo/1.12, hi*1.12
		} else {
			d := math.Max((hi-lo)*0.08, hi*0.03+1e-6)
			a.low, a.high = math.Max(lo-d, math.Min(0, lo)), hi+d
		}
	}
	a.from, a.to = left, right
	if info.Scale == nil {
		ticks = a.ticks()
	}
	var says []string
	y := 20.0
	end := y + row*float64(len(v.Rows)) - 8
	for _, t := range ticks {
		if lo <= hi || info.Scale != nil {
			x := a.at(t.v)
			c.line(plumb, x, 8, x, end)
		}
	}
	for _, r := range v.Rows {
		e := r.Have
		for i, l := range fold(r.Name, sizeSmall, 170, 2) {
			c.text(left-12, y+4+float64(i)*12, "end", sizeSmall, false, l)
		}
		if !e.Known() {
			c.text(left+6, y+4, "start", sizeSmall, true, "not known")
			says = append(says, clean(r.Name)+": not known")
			y += row
			continue
		}
		x1, x, x2 := a.at(e.Low), a.at(e.Typical), a.at(e.High)
		if r.Own {
			if x2 > x1 {
				c.line(look{class: "tn-own", stroke: 1.5}, x1, y, x2, y)
				for _, q := range []float64{x1, x2} {
					c.line(look{class: "tn-own", stroke: 1.5}, q, y-5, q, y+5)
				}
			}
			c.path(look{class: "tn-own", fill: "currentColor", shade: 1, stroke: 1}, []pt{{x, y - 7}, {x + 7, y}, {x, y + 7}, {x - 7, y}}, true)
		} else {
			if info.Scale != nil { // a level is as wide as its word
				x1, x2 = x1-12, x2+12
			}
			c.rect(look{class: "tn-shade", fill: "currentColor", shade: 0.15, stroke: 1.2}, x1, y-7, x2-x1, 14, 2)
			c.line(inkOn(3), x, y-7, x, y+7)
		}
		c.text(right+12, y+4, "start", sizeSmall, true, e.In(o.Units))
		what := ""
		if r.Own {
			what = " (your own)"
		}
		says = append(says, clean(r.Name)+what+": "+e.In(o.Units))
		y += row
	}
	c.line(thin, left, end, right, end)
	lastEnd := math.Inf(-1)
	for _, t := range ticks {
		if lo > hi && info.Scale == nil {
			break
		}
		x := a.at(t.v)
		c.line(thin, x, end, x, end+4)
		w := textWidth(t.word, sizeSmall) / 2
		if x-w > lastEnd+4 {
			c.text(x, end+17, "middle", sizeSmall, true, t.word)
			lastEnd = x + w
		}
	}
	title := info.Name
	if a.unit != "" && info.Scale == nil {
		title += ", " + a.unit
	}
	c.text((left+right)/2, end+34, "middle", sizeText, false, title)
	own := ""
	for _, r := range v.Rows {
		if r.Own {
			own = "; the diamond is your own"
		}
	}
	c.text((left+right)/2, end+50, "middle", sizeSmall, true, "bar: eight cloths in ten; thick stroke: typical"+own)
	return c.finish("Where they lie: "+info.Name, fmt.Sprintf("Bars from low to high for %s on a common scale of %s.", prose.Count(len(v.Rows), "cloth"), info.Name), strings.Join(says, "; ")+".")
}
