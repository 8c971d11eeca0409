package cut

import (
	"cmp"
	"math"
	"slices"
)

// allowances are what is left outside the seam line, in cm, by the role of the
// edge.
type allowances struct{ seam, hem, edge float64 }

func (a allowances) of(r Role) float64 {
	switch r {
	case Fold:
		return 0
	case Hem:
		return a.hem
	case FreeEdge:
		return a.edge
	}
	return a.seam
}

// withAllowance draws the line to cut along: every side moved out by its
// allowance, sharp corners trimmed so that the cut part is as wide and as long as
// the finished one with the allowances of its outermost sides. rough is true
// where the allowances of a narrow notch run into each other; then the notch is
// left closed.
func withAllowance(o Outline, a allowances) (cut []Point, rough bool) {
	pts, of := o.Polygon()
	n := len(pts)
	each := make([]float64, n)
	most := 0.0
	for k, i := range of {
		each[k] = a.of(o.Sides[i].Role)
		most = math.Max(most, each[k])
	}
	if most == 0 {
		return pts, false
	}
	cut = offset(pts, each)
	if _, bad := crossing(cut); bad || area(cut) < area(pts) {
		hull := convexHull(pts)
		wide := make([]float64, len(hull))
		for i := range wide {
			wide[i] = most
		}
		cut, rough = offset(hull, wide), true
	}
	low, high := bounds(pts)
	left, right, down, up := 0.0, 0.0, 0.0, 0.0
	const touch = 1e-6
	for k := range pts {
		for _, p := range []Point{pts[k], pts[(k+1)%n]} {
			if p.X-low.X < touch {
				left = math.Max(left, each[k])
			}
			if high.X-p.X < touch {
				right = math.Max(right, each[k])
			}
			if p.Y-low.Y < touch {
				down = math.Max(down, each[k])
			}
			if high.Y-p.Y < touch {
				up = math.Max(up, each[k])
			}
		}
	}
	cut = clip(cut, low.X-left, high.X+right, low.Y-down, high.Y+up)
	return cut, rough
}

// offset moves every line of an anticlockwise polygon out by its own distance
// and joins them by mitres, the sharpest cut off.
func offset(pts []Point, by []float64) []Point {
	n := len(pts)
	out := make([]Point, 0, n+8)
	for i := range n {
		h := (i + n - 1) % n
		a, b, c := pts[h], pts[i], pts[(i+1)%n]
		u, v := unit(b.sub(a)), unit(c.sub(b))
		nu, nv := Point{u.Y, -u.X}, Point{v.Y, -v.X}
		turn := u.cross(v)
		along := u.dot(v)
		switch {
		case math.Abs(turn) < 1e-9 && along > 0: // straight on
			out = append(out, b.add(nv.mul(by[i])))
			if math.Abs(by[h]-by[i]) > 1e-9 {
				out[len(out)-1] = b.add(nu.mul(by[h]))
				out = append(out, b.add(nv.mul(by[i])))
			}
		case along < -0.5 && turn > 0: // a corner sharper than 60°: trimmed
			d := math.Max(by[h], by[i])
			out = append(out, b.add(nu.mul(by[h])).add(u.mul(d)), b.add(nv.mul(by[i])).sub(v.mul(d)))
		case math.Abs(turn) < 1e-9: // straight back
			out = append(out, b.add(nu.mul(by[h])), b.add(nv.mul(by[i])))
		default:
			// The two moved lines meet at b + x, where x·nu and x·nv are their distances.
			det := nu.cross(nv)
			out = append(out, b.add(Point{(by[h]*nv.Y - by[i]*nu.Y) / det, (by[i]*nu.X - by[h]*nv.X) / det}))
		}
	}
	return out
}

func unit(p Point) Point {
	l := math.Hypot(p.X, p.Y)
	if l == 0 {
		return p
	}
	return p.mul(1 / l)
}

func bounds(pts []Point) (low, high Point) {
	low, high = Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, p := range pts {
		low = Point{math.Min(low.X, p.X), math.Min(low.Y, p.Y)}
		high = Point{math.Max(high.X, p.X), math.Max(high.Y, p.Y)}
	}
	return low, high
}

// area of a polygon, above zero when it runs anticlockwise.
func area(pts []Point) float64 {
	sum := 0.0
	for i, p := range pts {
		sum += p.cross(pts[(i+1)%len(pts)]) / 2
	}
	return sum
}

// clip keeps what of a polygon lies between the four lines.
func clip(pts []Point, x0, x1, y0, y1 float64) []Point {
	half := func(pts []Point, inside func(Point) float64) []Point {
		var out []Point
		for i, p := range pts {
			q := pts[(i+1)%len(pts)]
			a, b := inside(p), inside(q)
			if a >= 0 {
				out = append(out, p)
			}
			if a > 0 && b < 0 || a < 0 && b > 0 {
				out = append(out, p.add(q.sub(p).mul(a/(a-b))))
			}
		}
		return out
	}
	pts = half(pts, func(p Point) float64 { return p.X - x0 })
	pts = half(pts, func(p Point) float64 { return x1 - p.X })
	pts = half(pts, func(p Point) float64 { return p.Y - y0 })
	return half(pts, func(p Point) float64 { return y1 - p.Y })
}

// convexHull goes round a set of points, anticlockwise (monotone chain).
func convexHull(pts []Point) []Point {
	p := append([]Point(nil), pts...)
	sortPoints(p)
	build := func(p []Point) []Point {
		var h []Point
		for _, q := range p {
			for len(h) >= 2 && h[len(h)-1].sub(h[len(h)-2]).cross(q.sub(h[len(h)-1])) <= 1e-12 {
				h = h[:len(h)-1]
			}
			h = append(h, q)
		}
		return h[:len(h)-1]
	}
	low := build(p)
	for i, k := 0, len(p)-1; i < k; i, k = i+1, k-1 {
		p[i], p[k] = p[k], p[i]
	}
	return append(low, build(p)...)
}

func sortPoints(p []Point) {
	slices.SortFunc(p, func(a, b Point) int {
		if c := cmp.Compare(a.X, b.X); c != 0 {
			return c
		}
		return cmp.Compare(a.Y, b.Y)
	})
}

// shrunkUp is the cut line as it must lie on cloth that will shrink: drawn out
// across and along the cloth by what it will lose there.
func shrunkUp(pts []Point, across, along float64) []Point {
	return scaled(pts, 1/(1-across), 1/(1-along))
}

func scaled(pts []Point, x, y float64) []Point {
	out := make([]Point, len(pts))
	for i, p := range pts {
		out[i] = Point{p.X * x, p.Y * y}
	}
	return out
}

// turned turns a polygon by quarter turns to the left and moves it so that its
// box begins at the origin.
func turned(pts []Point, quarters int, mirror bool) []Point {
	out := make([]Point, len(pts))
	for i, p := range pts {
		if mirror {
			p.X = -p.X
		}
		switch quarters & 3 {
		case 1:
			p = Point{-p.Y, p.X}
		case 2:
			p = Point{-p.X, -p.Y}
		case 3:
			p = Point{p.Y, -p.X}
		}
		out[i] = p
	}
	if mirror {
		slices.Reverse(out)
	}
	return atOrigin(out)
}

func atOrigin(pts []Point) []Point {
	low, _ := bounds(pts)
	for i := range pts {
		pts[i] = pts[i].sub(low)
	}
	return pts
}

// isBox reports whether a polygon is an upright rectangle.
func isBox(pts []Point) bool {
	low, high := bounds(pts)
	return area(pts) > (high.X-low.X)*(high.Y-low.Y)-1e-6
}

// alike reports whether two polygons that begin at the origin cover the same
// cloth, to a millimetre: every corner of one lies on the rim of the other.
func alike(p, q []Point) bool {
	if math.Abs(area(p)-area(q)) > 0.01*math.Abs(area(p))+0.1 {
		return false
	}
	return rimHolds(p, q) && rimHolds(q, p)
}

func rimHolds(rim, pts []Point) bool {
	const close = 0.1
	for _, p := range pts {
		ok := false
		for i := range rim {
			if fromLine(p, rim[i], rim[(i+1)%len(rim)]) < close {
				ok = true
				break
			}
		}
		if !ok {
			return false
		}
	}
	return true
}

// fromLine is how far p is from the line a–b.
func fromLine(p, a, b Point) float64 {
	d := b.sub(a)
	l := d.dot(d)
	if l == 0 {
		return p.far(a)
	}
	t := math.Max(0, math.Min(1, p.sub(a).dot(d)/l))
	return p.far(a.add(d.mul(t)))
}
