package sheet

import (
	"fmt"
	"html"
	"html/template"
	"math"

	"tenter/fibres"
	"tenter/fibres/units"
)

// Spot is a cloth on the map: where its typical member lies, and the box of its
// population.
type Spot struct {
	Link
	Href                string
	Mass, Bending       fibres.Estimate
	Dim, Chosen, Swatch bool
}

// The map in its own measure.
const (
	mapWide, mapTall        = 900, 560
	mapLeft, mapRight       = 62, 884
	mapTop, mapBottom       = 16, 508
	mapMassLow, mapMassHigh = 8, 1500 // g/m²
	mapBendLow, mapBendHigh = 0.7, 6  // cm
	mapDot, mapDotDim       = 5, 3
	mapNames                = 28 // spots up to which each bears its name
)

func mapX(mass float64) float64 {
	r := ruler{lo: mapMassLow, hi: mapMassHigh, log: true}
	return mapLeft + (mapRight-mapLeft)*r.at(mass)
}

func mapY(bend float64) float64 {
	r := ruler{lo: mapBendLow, hi: mapBendHigh, log: true}
	return mapBottom - (mapBottom-mapTop)*r.at(bend)
}

// MapSVG draws where cloths lie by mass and bending length, both evenly in the
// logarithm, over the bands of hand. Each spot leads to its cloth; they are
// left out of the order of the tab key, since the list below the map holds the
// same.
func MapSVG(a Ask, spots []Spot, label string) template.HTML {
	var p pic
	fmt.Fprintf(&p, `<svg class="map" viewBox="0 0 %d %d" role="group" aria-label="%s">`, mapWide, mapTall, html.EscapeString(label))
	for i, w := range fibres.HandScale {
		lo, hi := fibres.HandEdges[i], fibres.HandEdges[i+1]
		if i == 0 {
			lo = mapBendLow
		}
		if i == len(fibres.HandScale)-1 {
			hi = mapBendHigh
		}
		y := mapY(hi)
		fmt.Fprintf(&p, `<rect class="hand h%d" x="%d" y="%s" width="%d" height="%s"/>`, i%2, mapLeft, n(y), mapRight-mapLeft, n(mapY(lo)-y))
		p.text(fmt.Sprint(mapRight-6), n((y+mapY(lo))/2+5), "hand-word", "end", w)
	}
	axes(&p, a.Units)
	var shownNames int
	for _, s := range spots {
		if !s.Dim {
			shownNames++
		}
	}
	for layer := range 3 { // what is pale lies below, what is pointed out on top
		for _, s := range spots {
			at := 1
			switch {
			case s.Chosen || s.Swatch:
				at = 2
			case s.Dim:
				at = 0
			}
			if at == layer {
				spot(&p, s, shownNames <= mapNames)
			}
		}
	}
	return p.close()
}

func axes(p *pic, sys units.System) {
	for _, axis := range []struct {
		r    ruler
		mass bool
	}{{ruler{lo: mapMassLow, hi: mapMassHigh, log: true, unit: "g/m2"}, true}, {ruler{lo: mapBendLow, hi: mapBendHigh, log: true, unit: "cm"}, false}} {
		_, _, unit := shown(axis.r.unit, sys)
		for _, t := range axis.r.ticks(sys) {
			if axis.mass {
				x := n(mapLeft + (mapRight-mapLeft)*t.at)
				fmt.Fprintf(p, `<path class="gridline" d="M%s %dV%d"/>`, x, mapTop, mapBottom)
				p.text(x, fmt.Sprint(mapBottom+20), "tick", "middle", t.label)
			} else {
				y := mapBottom - (mapBottom-mapTop)*t.at
				fmt.Fprintf(p, `<path class="gridline" d="M%d %sH%d"/>`, mapLeft, n(y), mapRight)
				p.text(fmt.Sprint(mapLeft-8), n(y+4), "tick", "end", t.label)
			}
		}
		if axis.mass {
			p.text(fmt.Sprint((mapLeft+mapRight)/2), fmt.Sprint(mapBottom+42), "axis", "middle", "mass, "+unit+" →")
		} else {
			fmt.Fprintf(p, `<text class="axis" text-anchor="middle" transform="translate(16 %d) rotate(-90)">bending length, %s →</text>`, (mapTop+mapBottom)/2, unit)
		}
	}
}

func spot(p *pic, s Spot, named bool) {
	x, y := mapX(s.Mass.Typical), mapY(s.Bending.Typical)
	if s.Chosen {
		x0, x1, y0, y1 := mapX(s.Mass.Low), mapX(s.Mass.High), mapY(s.Bending.High), mapY(s.Bending.Low)
		fmt.Fprintf(p, `<rect class="box" x="%s" y="%s" width="%s" height="%s" rx="6"/>`, n(x0), n(y0), n(x1-x0), n(y1-y0))
	}
	class, r := "spot", float64(mapDot)
	if s.Dim {
		class, r = "spot dim", mapDotDim
	}
	if s.Chosen {
		class, r = "spot chosen", mapDot+2
	}
	fmt.Fprintf(p, `<a href="%s" tabindex="-1"><title>%s</title>`, html.EscapeString(s.Href), html.EscapeString(s.Name))
	if s.Swatch {
		fmt.Fprintf(p, `<path class="%s own" d="M%s %sl8 8-8 8-8-8z"/>`, class, n(x), n(y-8))
	} else {
		fmt.Fprintf(p, `<circle class="%s" cx="%s" cy="%s" r="%s"/>`, class, n(x), n(y), n(math.Round(r)))
	}
	if (named && !s.Dim) || s.Chosen {
		anchor, dx := "start", 9.0
		if x > mapRight-150 {
			anchor, dx = "end", -9
		}
		p.text(n(x+dx), n(y+4), "spot-name", anchor, s.Name)
	}
	p.WriteString(`</a>`)
}
