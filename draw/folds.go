package draw

import (
	"fmt"
	"math"

	"tenter/fibres/fault"
	"tenter/fibres/prose"
	"tenter/fibres/units"
)

// FoldsView is a hem seen from above.
type FoldsView struct {
	Name  string
	Hem   units.Length    // along the cloth
	Width [3]units.Length // of one fold: low, typical, high, as hang.FoldWidth gives it
	Round units.Length    // the ring or line it hangs in; 0 where nobody said
	Open  bool            // an open front
	Flat  bool            // a curtain or banner: it hangs in a line, not round a person
}

// maxFolds is more than a drawing can show.
const maxFolds = 150

// Folds draws the folds round a hem from above. The length of the hem and the
// number of folds are to scale; how deep they lie follows from the ring, which
// is a guess where none is given.
func Folds(o Options, v FoldsView) (Picture, error) {
	if err := positive("the hem", float64(v.Hem)); err != nil {
		return Picture{}, err
	}
	if err := positive("the width of a fold", float64(v.Width[0]), float64(v.Width[1]), float64(v.Width[2])); err != nil {
		return Picture{}, err
	}
	count := func(w units.Length) int { return max(1, int(math.Round(float64(v.Hem/w)))) }
	n := count(v.Width[1])
	few, many := min(n, count(v.Width[2])), max(n, count(v.Width[0]))
	if n > maxFolds {
		return Picture{}, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("%d folds are too many to draw", n), Expected: fmt.Sprintf("at most %d", maxFolds)}
	}
	p := foldsPicture{c: newCanvas(o), v: v, ring: float64(v.Round)}
	if hem := float64(v.Hem); !(p.ring > 0) || p.ring > 0.95*hem {
		p.ring = 0.55 * hem
	}
	likely := wave(float64(v.Hem), p.ring, n, v)
	reach := 0.0
	for _, p := range likely {
		reach = math.Max(reach, math.Max(math.Abs(p.x), math.Abs(p.y)))
	}
	p.k = 150 / reach
	if !v.Flat {
		feet(p.c, p.k)
	}
	p.hem(inkOn(2.4), likely, p.k, 0, 0)
	height := p.others(n, few, many)
	p.caption(n, height, o)
	name := named(v.Name)
	text := fmt.Sprintf("%s: about %s over %s of hem, one about every %s along the cloth.", prose.Upper(name), folds(n), cm(v.Hem, o.Units), cm(v.Width[1], o.Units))
	if few != many {
		text += fmt.Sprintf(" It may be as few as %d or as many as %d: cloths of one name differ, and even for one cloth folds cannot be predicted more closely than within a factor of two.", few, many)
	}
	desc := fmt.Sprintf("The hem from above, its length to scale, laid in about %s.", folds(n))
	return p.c.finish("Folds of "+name, desc, text)
}

// foldsPicture is a hem from above while it is drawn.
type foldsPicture struct {
	c       *canvas
	v       FoldsView
	ring, k float64 // the length round which the hem stands in cm, and the scale
}

// hem draws a line of folds about a place.
func (p foldsPicture) hem(l look, points []pt, k, x, y float64) {
	var out []pt
	for i, q := range points {
		at := pt{tenth(x + k*q.x), tenth(y + k*q.y)}
		if n := len(out); n > 0 && i < len(points)-1 && math.Hypot(at.x-out[n-1].x, at.y-out[n-1].y) < 1 {
			continue // no eye sees less than a pixel
		}
		out = append(out, at)
	}
	p.c.path(l, out, !p.v.Open && !p.v.Flat)
}

// others draws smaller what else it might be, and returns how far down the drawing
// reaches.
func (p foldsPicture) others(n, few, many int) (height float64) {
	height = 150
	if p.v.Flat {
		height = 30
	}
	for i, m := range []int{few, many} {
		if m == n || m > maxFolds {
			continue
		}
		line := wave(float64(p.v.Hem), p.ring, m, p.v)
		x, y, k := 285.0, -85+float64(i)*160, p.k*0.34
		if p.v.Flat {
			x, y, k = 0, 70+float64(i)*62, p.k
		}
		p.hem(inkOn(1.4), line, k, x, y)
		words := fmt.Sprintf("or as few as %d", m)
		if i == 1 {
			words = fmt.Sprintf("or as many as %d", m)
		}
		foot := 18.0
		if p.v.Flat {
			height = y + 42
		} else {
			foot = 0
			for _, q := range line {
				foot = math.Max(foot, k*q.y)
			}
		}
		p.c.text(x, y+foot+16, "middle", sizeSmall, true, words)
	}
	return height
}

// caption writes how many folds there are about, and the scale.
func (p foldsPicture) caption(n int, height float64, o Options) {
	if p.v.Flat {
		p.c.text(0, -28, "middle", sizeText, false, fmt.Sprintf("about %s along %s of hem", folds(n), cm(p.v.Hem, o.Units)))
		p.c.scaleBar(-150, height+10, p.k, 70, o.Units)
		return
	}
	p.c.text(0, height+24, "middle", sizeText, false, fmt.Sprintf("about %s round %s of hem", folds(n), cm(p.v.Hem, o.Units)))
	p.c.scaleBar(-150, height+36, p.k, 70, o.Units)
	if p.v.Open {
		p.c.text(0, p.k*p.ring/(2*math.Pi)*0.62, "middle", sizeSmall, true, "open front")
	}
}

// tenth rounds to a tenth of a pixel: a hem is hundreds of points, and no eye sees more.
func tenth(v float64) float64 { return math.Round(v*10) / 10 }

func folds(n int) string {
	if n == 1 {
		return "1 fold"
	}
	return fmt.Sprintf("%d folds", n)
}

// wave is the hem's line in cm: n waves round a ring or along a line, deep
// enough that their length is the hem's. The front is down.
func wave(hem, ring float64, n int, v FoldsView) []pt {
	steps := max(360, 24*n)
	line := func(r, depth float64) []pt {
		out := make([]pt, 0, steps+1)
		for i := 0; i <= steps; i++ {
			t := float64(i) / float64(steps)
			w := depth * math.Cos(2*math.Pi*float64(n)*t)
			if v.Flat {
				out = append(out, pt{(t - 0.5) * r, -w})
				continue
			}
			gap := 0.0
			if v.Open {
				gap = 0.16
			}
			a := math.Pi/2 + gap + t*2*(math.Pi-gap)
			d := r/(2*math.Pi) + w
			out = append(out, pt{d * math.Cos(a), d * math.Sin(a)})
		}
		return out
	}
	length := func(p []pt) float64 {
		l := 0.0
		for i := 1; i < len(p); i++ {
			l += math.Hypot(p[i].x-p[i-1].x, p[i].y-p[i-1].y)
		}
		return l
	}
	for range 60 {
		limit := 0.85 * ring / (2 * math.Pi)
		if v.Flat {
			limit = 0.12 * ring
		}
		if length(line(ring, limit)) >= hem || length(line(ring, 0)) >= hem {
			low, high := 0.0, limit
			for range 60 {
				mid := (low + high) / 2
				if length(line(ring, mid)) < hem {
					low = mid
				} else {
					high = mid
				}
			}
			return line(ring, high)
		}
		ring *= 1.04
	}
	return line(ring, 0)
}

// feet are the wearer's, from above: 26 cm long, the one thing under a hem that
// everybody knows the size of.
func feet(c *canvas, k float64) {
	for _, side := range []float64{-1, 1} {
		out := make([]pt, 0, 40)
		for i := range 40 {
			a := 2 * math.Pi * float64(i) / 40
			w := 4.4 + 0.9*math.Sin(a) // wider at the toes
			out = append(out, pt{k * (side*7.5 + w*math.Cos(a)), k * 13 * math.Sin(a)})
		}
		c.path(look{class: "tn-body", fill: "currentColor", shade: 0.08, stroke: 0.8}, out, true)
	}
}
