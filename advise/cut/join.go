package cut

import (
	"fmt"
	"math"

	"tenter/fibres/units"
)

// narrowest is the least width of cloth that a part goes on, whichever way it
// lies.
func (p sized) narrowest(across, along float64) float64 {
	pts, q := p.base()
	least := math.Inf(1)
	for k := range 2 {
		least = math.Min(least, newWay(shrunkUp(turned(pts, q+k, false), across, along), 0, false).w)
	}
	return least
}

// widest is the width of cloth between its selvedges that all parts go on.
func widest(parts []sized, across, along float64, folded bool) float64 {
	w := 0.0
	for _, p := range parts {
		w = math.Max(w, p.narrowest(across, along))
	}
	if folded {
		w *= 2
	}
	return w
}

// maxStrips is into how many strips a part is cut at the most.
const maxStrips = 30

// joined cuts every part that does not go on the cloth into equal strips along the
// warp that do, with an allowance at the seams between them, and says so. Nothing
// is said where that is not possible.
func joined(parts []sized, l Layer, width, across, along float64) ([]Part, []string) {
	if l.Folded {
		width /= 2
	}
	var out []Part
	var say []string
	for _, p := range parts {
		if len(p.ways(l, width, across, along)) > 0 {
			out = append(out, p.Part)
			continue
		}
		done := false
		for n := 2; n <= maxStrips && !done; n++ {
			strips, ok := p.strips(n)
			if !ok {
				break
			}
			fits := true
			for _, s := range strips {
				a := p.allowed
				fits = fits && len(drawParts([]Part{s}, a)[0].ways(l, width, across, along)) > 0
			}
			if !fits {
				continue
			}
			done = true
			out = append(out, strips...)
			need := units.Length(p.narrowest(across, along)) + 2*l.Selvedge
			say = append(say, fmt.Sprintf("The %s is joined from %d strips; cloth %s wide would do without the seams.", p.Name, n, need.AtLeast(l.sys)))
		}
		if !done {
			return nil, nil
		}
	}
	return out, say
}

// strips cuts a part into n of equal width along the warp.
func (p sized) strips(n int) ([]Part, bool) {
	if p.Grain == OnBias {
		return nil, false
	}
	wide := p.Grain == AlongWidth // the strips lie one above the other
	w, h := float64(p.Width), float64(p.Height)
	if p.Outline == nil {
		s := p.Part
		s.Name, s.Count = p.Name+" strip", p.Count*n
		if wide {
			s.Height = units.Length(h / float64(n))
		} else {
			s.Width = units.Length(w / float64(n))
		}
		return []Part{s}, s.Check() == nil
	}
	pts, _ := p.Outline.Polygon()
	low, high := bounds(pts)
	var out []Part
	for i := range n {
		a, b := float64(i)/float64(n), float64(i+1)/float64(n)
		x0, x1, y0, y1 := low.X+w*a, low.X+w*b, low.Y, high.Y
		if wide {
			x0, x1, y0, y1 = low.X, high.X, low.Y+h*a, low.Y+h*b
		}
		s, err := partOf(fmt.Sprintf("%s strip %d", p.Name, i+1), p.Count, fromPoints(clip(pts, x0, x1, y0, y1)))
		if err != nil {
			return nil, false
		}
		s.Grain, s.ShellOnly, s.Same = p.Grain, p.ShellOnly, p.Same
		out = append(out, s)
	}
	return out, true
}
