package cut

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// Point is a place on the cloth or on a pattern, in cm: x to the right (across
// the cloth), y upwards (along it).
type Point struct{ X, Y float64 }

func (p Point) add(q Point) Point     { return Point{p.X + q.X, p.Y + q.Y} }
func (p Point) sub(q Point) Point     { return Point{p.X - q.X, p.Y - q.Y} }
func (p Point) mul(k float64) Point   { return Point{p.X * k, p.Y * k} }
func (p Point) cross(q Point) float64 { return p.X*q.Y - p.Y*q.X }
func (p Point) dot(q Point) float64   { return p.X*q.X + p.Y*q.Y }
func (p Point) far(q Point) float64   { return math.Hypot(p.X-q.X, p.Y-q.Y) }
func (p Point) turn(rad float64) Point {
	s, c := math.Sincos(rad)
	return Point{p.X*c - p.Y*s, p.X*s + p.Y*c}
}

// Role says what becomes of an edge.
type Role string

// The roles of an edge. A fold gets no allowance, a hem that of the hem.
const (
	Seam     Role = "seam"
	Hem      Role = "hem"
	FreeEdge Role = "edge" // finished as the make-up says
	Fold     Role = "fold"
)

// Side is one side of an outline: a straight line or an arc of a circle to the
// point To, from where the side before ended.
type Side struct {
	Name string
	Role Role
	To   Point
	// Bulge is the tangent of a quarter of the angle that the arc turns through,
	// above zero when it turns to the left; 0 is a straight line.
	Bulge float64
}

// Outline is the seam line of a part, closed: the last side ends where the first
// began. It runs anticlockwise, the inside on the left.
type Outline struct{ Sides []Side }

// from is where side i begins.
func (o Outline) from(i int) Point {
	return o.Sides[(i+len(o.Sides)-1)%len(o.Sides)].To
}

// sweep is the angle that an arc turns through, in radians.
func sweep(bulge float64) float64 { return 4 * math.Atan(bulge) }

// Length is the length of side i in cm, exact for line and arc.
func (o Outline) Length(i int) float64 {
	chord := o.from(i).far(o.Sides[i].To)
	b := o.Sides[i].Bulge
	if b == 0 {
		return chord
	}
	return math.Abs(o.radius(i) * sweep(b))
}

// radius of the arc of side i; +Inf for a straight one.
func (o Outline) radius(i int) float64 {
	b := math.Abs(o.Sides[i].Bulge)
	if b == 0 {
		return math.Inf(1)
	}
	return o.from(i).far(o.Sides[i].To) * (1 + b*b) / (4 * b)
}

// centre of the arc of side i.
func (o Outline) centre(i int) Point {
	a, z, b := o.from(i), o.Sides[i].To, o.Sides[i].Bulge
	mid, d := a.add(z).mul(0.5), z.sub(a)
	k := (1 - b*b) / (4 * b)
	return Point{mid.X - d.Y*k, mid.Y + d.X*k}
}

// Perimeter is the length of all sides.
func (o Outline) Perimeter() float64 {
	sum := 0.0
	for i := range o.Sides {
		sum += o.Length(i)
	}
	return sum
}

// Area is the area inside in cm², exact for lines and arcs.
func (o Outline) Area() float64 {
	sum := 0.0
	for i, s := range o.Sides {
		sum += o.from(i).cross(s.To) / 2
		if s.Bulge != 0 {
			r, a := o.radius(i), sweep(s.Bulge)
			sum += r * r * (a - math.Sin(a)) / 2
		}
	}
	return sum
}

// Box is the least upright rectangle round the outline.
func (o Outline) Box() (low, high Point) {
	low, high = Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	take := func(p Point) {
		low = Point{math.Min(low.X, p.X), math.Min(low.Y, p.Y)}
		high = Point{math.Max(high.X, p.X), math.Max(high.Y, p.Y)}
	}
	for i, s := range o.Sides {
		take(s.To)
		if s.Bulge == 0 {
			continue
		}
		c, r := o.centre(i), o.radius(i)
		for q := range 4 { // where the arc is furthest right, up, left and down
			if o.holds(i, float64(q)*math.Pi/2) {
				take(c.add(Point{r, 0}.turn(float64(q) * math.Pi / 2)))
			}
		}
	}
	return low, high
}

// holds reports whether the arc of side i passes the direction from its centre.
func (o Outline) holds(i int, angle float64) bool {
	c := o.centre(i)
	start := o.from(i).sub(c)
	a := sweep(o.Sides[i].Bulge)
	d := angle - math.Atan2(start.Y, start.X)
	if a < 0 {
		a, d = -a, -d
	}
	d = math.Mod(d, 2*math.Pi)
	if d < 0 {
		d += 2 * math.Pi
	}
	return d <= a
}

// arcStep is how far a chord may lie inside its arc when an outline is drawn as
// a polygon, in cm.
const arcStep = 0.01

// Polygon draws the outline as corners of straight lines, anticlockwise; of[k]
// is the side that begins at corner k.
func (o Outline) Polygon() (points []Point, of []int) {
	for i, s := range o.Sides {
		a := o.from(i)
		points, of = append(points, a), append(of, i)
		if s.Bulge == 0 {
			continue
		}
		r, turn := o.radius(i), sweep(s.Bulge)
		n := 1
		if r > arcStep {
			n = int(math.Ceil(math.Abs(turn) / (2 * math.Acos(1-arcStep/r))))
		}
		n = min(max(n, 1), 400)
		c := o.centre(i)
		stops := make([]float64, 0, n+4) // parts of the turn
		for k := 1; k < n; k++ {
			stops = append(stops, float64(k)/float64(n))
		}
		start := math.Atan2(a.Y-c.Y, a.X-c.X)
		for q := range 4 { // where the box touches it
			if at := float64(q) * math.Pi / 2; o.holds(i, at) {
				if u := math.Mod((at-start)/turn*math.Abs(turn)+4*math.Pi, 2*math.Pi) / math.Abs(turn); u > 1e-6 && u < 1-1e-6 {
					stops = append(stops, u)
				}
			}
		}
		slices.Sort(stops)
		for k, u := range stops {
			if k > 0 && u-stops[k-1] < 1e-9 {
				continue
			}
			points, of = append(points, c.add(a.sub(c).turn(turn*u))), append(of, i)
		}
	}
	return points, of
}

// Move shifts the outline.
func (o Outline) Move(by Point) Outline {
	return o.each(func(s Side) Side { s.To = s.To.add(by); return s })
}

// Turn turns the outline to the left about the origin.
func (o Outline) Turn(a units.Angle) Outline {
	rad := float64(a) * math.Pi / 180
	return o.each(func(s Side) Side { s.To = s.To.turn(rad); return s })
}

func (o Outline) each(f func(Side) Side) Outline {
	out := Outline{Sides: make([]Side, len(o.Sides))}
	for i, s := range o.Sides {
		out.Sides[i] = f(s)
	}
	return out
}

// Mirror turns the outline face down, left to right.
func (o Outline) Mirror() Outline {
	n := len(o.Sides)
	out := Outline{Sides: make([]Side, n)}
	for i, s := range o.Sides {
		from := o.from(i)
		s.To = Point{-from.X, from.Y} // run backwards, so that the inside stays left
		out.Sides[n-1-i] = s
	}
	return out
}

// limits of an outline.
const (
	leastEdge = 0.05 // cm
	maxPoints = 4000
)

// Check reports an outline that cannot be cut: too few sides, a side without
// length, no area, an arc of more than a full turn, sides that cross.
func (o Outline) Check() error {
	wrong := func(what, expected, mend string) error {
		return &fault.Fault{Kind: fault.WrongCall, What: what, Expected: expected, Mend: mend}
	}
	if len(o.Sides) < 2 {
		return wrong(fmt.Sprintf("the outline has %s", count(len(o.Sides), "side")), "at least three corners", "")
	}
	for i, s := range o.Sides {
		for _, v := range []float64{s.To.X, s.To.Y, s.Bulge} {
			if math.IsNaN(v) || math.Abs(v) > float64(maxPart) {
				return wrong("a point of the outline is not a place on cloth", "coordinates within "+maxPart.String(), "check the unit")
			}
		}
		if l := o.Length(i); l < leastEdge {
			return wrong(fmt.Sprintf("side %d has no length at (%s)", i+1, place(s.To)), "every side at least 0.5 mm", "leave the doubled point out")
		}
	}
	pts, _ := o.Polygon()
	if len(pts) < 3 {
		return wrong(fmt.Sprintf("the outline has %s", count(len(pts), "corner")), "at least three corners", "")
	}
	if len(pts) > maxPoints {
		return wrong(fmt.Sprintf("the outline has %d points", len(pts)), fmt.Sprintf("at most %d", maxPoints), "draw it with fewer points: a millimetre is fine enough")
	}
	if p, ok := crossing(pts); ok {
		return wrong(fmt.Sprintf("the outline crosses itself at (%s)", place(p)), "sides that meet only at corners", "move the point there, or give the points in order round the part")
	}
	if a := o.Area(); math.Abs(a) < float64(minPart*minPart) {
		return wrong("the outline holds no area", "sides that go round the part", "")
	}
	return nil
}

// leftward is the outline with the inside on the left.
func (o Outline) leftward() Outline {
	if o.Area() >= 0 {
		return o
	}
	n := len(o.Sides)
	out := Outline{Sides: make([]Side, n)}
	for i, s := range o.Sides {
		s.To, s.Bulge = o.from(i), -s.Bulge
		out.Sides[n-1-i] = s
	}
	return out
}

// crossing finds two lines of a closed polygon that cross or lie on each other.
func crossing(p []Point) (Point, bool) {
	n := len(p)
	type line struct {
		i         int
		low, high float64 // from left to right
	}
	lines := make([]line, n)
	for i := range p {
		q := p[(i+1)%n]
		lines[i] = line{i, math.Min(p[i].X, q.X), math.Max(p[i].X, q.X)}
	}
	slices.SortFunc(lines, func(a, b line) int { return cmp.Compare(a.low, b.low) })
	for k, l := range lines {
		a, b := p[l.i], p[(l.i+1)%n]
		for _, m := range lines[k+1:] {
			if m.low > l.high {
				break
			}
			c, d := p[m.i], p[(m.i+1)%n]
			if math.Min(c.Y, d.Y) > math.Max(a.Y, b.Y) || math.Max(c.Y, d.Y) < math.Min(a.Y, b.Y) {
				continue
			}
			beside := (l.i+1)%n == m.i || (m.i+1)%n == l.i
			if at, ok := meet(a, b, c, d, beside); ok {
				return at, true
			}
		}
	}
	return Point{}, false
}

// meet finds where the lines a–b and c–d cross. Lines that are beside each other
// on the outline share a corner and cross only if they lie on each other.
func meet(a, b, c, d Point, beside bool) (Point, bool) {
	r, s := b.sub(a), d.sub(c)
	det := r.cross(s)
	scale := math.Hypot(r.X, r.Y) * math.Hypot(s.X, s.Y)
	if scale == 0 {
		return a, false
	}
	if math.Abs(det) < 1e-12*scale { // parallel
		if math.Abs(c.sub(a).cross(r)) > 1e-9*scale {
			return Point{}, false
		}
		l := r.dot(r)
		t0, t1 := c.sub(a).dot(r)/l, d.sub(a).dot(r)/l
		lo, hi := math.Max(0, math.Min(t0, t1)), math.Min(1, math.Max(t0, t1))
		return a.add(r.mul(lo)), hi-lo > 1e-9
	}
	t, u := c.sub(a).cross(s)/det, c.sub(a).cross(r)/det
	const e = 1e-9
	if beside {
		return Point{}, false
	}
	return a.add(r.mul(t)), t > -e && t < 1+e && u > -e && u < 1+e
}

func place(p Point) string { return fmt.Sprintf("%.1f, %.1f cm", p.X, p.Y) }

// count says how many of a thing there are.
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// box makes the outline of a rectangle with its lower left corner at the origin.
func rectangle(w, h float64) Outline {
	return Outline{Sides: []Side{
		{Name: "bottom", To: Point{w, 0}}, {Name: "right", To: Point{w, h}}, {Name: "top", To: Point{0, h}}, {Name: "left", To: Point{0, 0}},
	}}
}
