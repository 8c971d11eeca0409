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

// mostFolds is more than a drawing can show.
const mostFolds = 150

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
	few, n, many := count(v.Width[2]), count(v.Width[1]), count(v.Width[0])
	if few > n {
		few = n
	}
	if many < n {
		many = n
	}
	if n > mostFolds {
		return Picture{}, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("%d folds are too many to draw", n), Expected: fmt.Sprintf("at most %d", mostFolds)}
	}
	c := newCanvas(o)
	hem, ring := float64(v.Hem), float64(v.Round)
	if !(ring > 0) || ring > 0.95*hem {
		ring = 0.55 * hem
	}
	big, small := wave(hem, ring, n, v), [2][]pt{}
	reach := 0.0
	for _, p := range big {
		reach = math.Max(reach, math.Max(math.Abs(p.x), math.Abs(p.y)))
	}
	k := 150 / reach
	y0 := 0.0
	put := func(points []pt, k, x, y float64) []pt {
		out := make([]pt, len(points))
		for i, p := range points {
			out[i] = pt{tenth(x + k*p.x), tenth(y + k*p.y)}
		}
		return out
	}
	if !v.Flat {
		feet(c, k)
	}
	c.path(inkOn(2.4), put(big, k, 0, y0), !v.Open && !v.Flat)
	height := 150.0
	if v.Flat {
		height = 30
	}
	// What else it might be, smaller.
	shown := 0
	for i, m := range []int{few, many} {
		if m == n || m > mostFolds {
			continue
		}
		shown++
		small[i] = wave(hem, ring, m, v)
		x, y := 285.0, -85+float64(i)*160
		kk := k * 0.34
		if v.Flat {
			x, y, kk = 0, 70+float64(i)*62, k
		}
		c.path(inkOn(1.4), put(small[i], kk, x, y), !v.Open && !v.Flat)
		words := fmt.Sprintf("or as few as %d", m)
		if i == 1 {
			words = fmt.Sprintf("or as many as %d", m)
		}
		if v.Flat {
			c.text(x, y+34, "middle", sizeSmall, true, words)
			height = y + 42
		} else {
			foot := 0.0
			for _, p := range small[i] {
				foot = math.Max(foot, kk*p.y)
			}
			c.text(x, y+foot+16, "middle", sizeSmall, true, words)
		}
	}
	if v.Flat {
		c.text(0, -28, "middle", sizeText, false, fmt.Sprintf("about %s along %s of hem", folds(n), cm(v.Hem, o.Units)))
		c.scaleBar(-150, height+10, k, 70, o.Units)
	} else {
		c.text(0, height+24, "middle", sizeText, false, fmt.Sprintf("about %s round %s of hem", folds(n), cm(v.Hem, o.Units)))
		c.scaleBar(-150, height+36, k, 70, o.Units)
		if v.Open {
			c.text(0, k*ring/(2*math.Pi)*0.62, "middle", sizeSmall, true, "open front")
		}
	}
	name := named(v.Name)
	text := fmt.Sprintf("%s: about %s over %s of hem, one about every %s along the cloth.", prose.Upper(name), folds(n), cm(v.Hem, o.Units), cm(v.Width[1], o.Units))
	if few != many {
		text += fmt.Sprintf(" It may be as few as %d or as many as %d: cloths of one name differ, and even for one cloth folds cannot be foretold nearer than within a factor of two.", few, many)
	}
	desc := fmt.Sprintf("The hem from above, its length to scale, laid in about %s.", folds(n))
	return c.finish("Folds of "+name, desc, text)
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
		most := 0.85 * ring / (2 * math.Pi)
		if v.Flat {
			most = 0.12 * ring
		}
		if length(line(ring, most)) >= hem || length(line(ring, 0)) >= hem {
			low, high := 0.0, most
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
