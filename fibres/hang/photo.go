package hang

import (
	"fmt"
	"math"
	"slices"

	"tenter/fibres/units"
)

// Mark is a place on a photograph: X to the right, Y down, in any unit.
type Mark struct{ X, Y float64 }

// Photograph is what was marked on a photograph of a strip that hangs over the edge
// of a level table, taken from the side. Along are marks between edge and tip, in any
// order; Ruler are two marks that lie RulerLength apart in the plane of the strip, and
// RulerTrue says that it lay level or hung plumb, which tells how the camera was
// tilted. MarkError is what one mark may be out by, as a standard deviation; 0 stands for
// 1 mm.
type Photograph struct {
	Edge, Tip   Mark
	Along       []Mark
	Ruler       [2]Mark
	RulerLength units.Length
	RulerTrue   bool
	MarkError   units.Length
}

// Photographed is what a photograph says: the bending length with its error, how far
// the strip reaches out along itself, how far its tip lies below the edge once the
// tilt of the camera is taken out, and how far the marks lie off the curve that was
// fitted, as the root of their mean square. Curve is that curve on the photograph.
type Photographed struct {
	Bending        Interval
	Overhang, Drop units.Length
	Tilt           units.Angle
	Miss           units.Length
	Curve          []Mark
}

const (
	photoPoints = 121 // of the curve that marks are held against
	fewestMarks = 3   // between edge and tip
	// tiltError is how level a camera is held and rulerError a ruler, as standard
	// deviations; maxTilt is beyond what a photograph is refused.
	tiltError, rulerError, maxTilt units.Angle = 3, 0.3, 15
)

// FromPhotograph fits the heavy elastica to a strip on a photograph and returns its
// bending length, for any overhang.
//
//	minimise  Σ (distance of mark from curve / σ)² + ((tilt − level) / σ tilt)²
//	over      ln c, ln overhang, tilt, and the place of the edge (2)
//
// with the curve of [Hang] for a uniform strip, σ the error of a mark; level is that of
// the ruler where it is true, to the error of its marks, else 0 to 3°. The error of c
// is that of the fit, or what the marks really miss by where that is more, with the
// error of the two marks of the ruler.
//
// Given: marks in one unit, y downwards. The strip may hang to either side.
//
// Valid: three marks along the curve or more, c from 0.03 to 3 overhangs, a camera
// tilted by up to 15°. Best where the tip has dropped by a third to four fifths.
// Accuracy: within 5 % in c with 20 marks, each out by up to 1 mm, on a strip of 10 cm or more beside a true ruler of 20 cm.
// Errors: [*fault.Fault] of kind OutsideRange otherwise, NaN included.
// Source: the elastica of [Hang]; least squares after Levenberg and Marquardt (from memory).
// Checked: photo_test.go, TestPhotographReadsBack.
func FromPhotograph(p Photograph) (Photographed, error) {
	if err := p.check(); err != nil {
		return Photographed{}, err
	}
	f := newPhotoFit(p)
	best, cost := [photoUnknowns]float64{}, math.Inf(1)
	for _, start := range f.starts() {
		if cost < 4*float64(len(p.Along)+5) {
			break // it fits: the others would come to the same
		}
		if x, c := f.descend(start); c < cost {
			best, cost = x, c
		}
	}
	if math.IsInf(cost, 1) {
		return Photographed{}, outside("marks", "no hanging strip fits them", "edge, tip and points along the strip", "mark them anew, the edge where the strip leaves the table")
	}
	return f.result(best, cost)
}

func (p Photograph) check() error {
	for _, m := range append([]Mark{p.Edge, p.Tip, p.Ruler[0], p.Ruler[1]}, p.Along...) {
		if math.IsNaN(m.X+m.Y) || math.IsInf(m.X+m.Y, 0) {
			return outside("marks", "one is no place", "figures", "mark them anew")
		}
	}
	if err := overZero("ruler", p.RulerLength); err != nil {
		return err
	}
	ruler, strip := apart(p.Ruler[0], p.Ruler[1]), apart(p.Edge, p.Tip)
	switch {
	case len(p.Along) < fewestMarks:
		return outside("marks", fmt.Sprintf("there are %d along the strip", len(p.Along)), "3 or more, better 8 to 20", "mark more points between the edge and the tip")
	case ruler <= 0:
		return outside("ruler", "its two marks are the same place", "two marks as far apart as the photograph has room", "mark the ruler anew")
	case strip <= 0:
		return outside("tip", "it is marked where the edge is", "the free end of the strip", "mark the tip anew")
	case !(p.MarkError >= 0):
		return outside("error of a mark", fmt.Sprintf("it is %v cm", float64(p.MarkError)), "0 or more", "leave it out for 1 mm")
	}
	return nil
}

func apart(a, b Mark) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

// The unknowns of a fit.
const (
	lnBending = iota
	lnOverhang
	tilt // in radians, the photograph turned clockwise
	edgeX
	edgeY
	photoUnknowns
)

// photoFit holds the marks in cm from the marked edge, the strip hanging to the right.
type photoFit struct {
	tip    Mark
	along  []Mark
	sigma  float64 // of a mark, cm
	ruler  float64 // part by which the scale may be out
	level  float64 // the tilt that the ruler tells, in radians
	tilted float64 // and its standard deviation
	perCM  float64 // of the photograph
	mirror float64
	edge   Mark // on the photograph
}

func newPhotoFit(p Photograph) *photoFit {
	f := &photoFit{sigma: 0.1, mirror: 1, edge: p.Edge, perCM: apart(p.Ruler[0], p.Ruler[1]) / float64(p.RulerLength)}
	if p.MarkError > 0 {
		f.sigma = float64(p.MarkError)
	}
	if p.Tip.X < p.Edge.X {
		f.mirror = -1
	}
	f.ruler = math.Sqrt2 * f.sigma / float64(p.RulerLength)
	f.tilted = float64(tiltError) * math.Pi / 180
	if p.RulerTrue {
		quarter := math.Pi / 2
		turned := math.Atan2(p.Ruler[1].Y-p.Ruler[0].Y, f.mirror*(p.Ruler[1].X-p.Ruler[0].X))
		f.level = turned - quarter*math.Round(turned/quarter)
		f.tilted = math.Hypot(f.ruler, float64(rulerError)*math.Pi/180)
	}
	in := func(m Mark) Mark { return Mark{f.mirror * (m.X - p.Edge.X) / f.perCM, (m.Y - p.Edge.Y) / f.perCM} }
	f.tip = in(p.Tip)
	for _, m := range p.Along {
		f.along = append(f.along, in(m))
	}
	// From the edge to the tip along the strip: each next mark is the nearest one left.
	at, left := Mark{}, slices.Clone(f.along)
	f.along = f.along[:0]
	for len(left) > 0 {
		i := 0
		for k := range left {
			if apart(at, left[k]) < apart(at, left[i]) {
				i = k
			}
		}
		at = left[i]
		f.along, left = append(f.along, at), slices.Delete(left, i, i+1)
	}
	return f
}

// starts are where the descent begins: the length along the marks, and the bending
// length that the drop of the tip gives, stiffer and limper ones besides.
func (f *photoFit) starts() [][photoUnknowns]float64 {
	long, at := 0.0, Mark{}
	for _, m := range append(slices.Clone(f.along), f.tip) {
		long += apart(at, m)
		at = m
	}
	long = math.Max(long, 1.02*apart(Mark{}, f.tip))
	drop := math.Min(math.Max(f.tip.Y, 0.01*long), 0.97*long)
	c, err := BendingLengthFromDrop(units.Length(long), units.Length(drop))
	if err != nil {
		c = units.Length(long / 4)
	}
	var out [][photoUnknowns]float64
	for _, by := range []float64{1, 0.6, 1.6} {
		out = append(out, [photoUnknowns]float64{lnBending: math.Log(by * float64(c)), lnOverhang: math.Log(long), tilt: f.level})
	}
	return out
}

// curve is the strip of the unknowns, in cm from the marked edge.
func (f *photoFit) curve(x [photoUnknowns]float64) ([]Mark, bool) {
	c, long := math.Exp(x[lnBending]), math.Exp(x[lnOverhang])
	if r := c / long; !(r > 0.02 && r < 4) || math.Abs(x[tilt]) > 0.6 {
		return nil, false
	}
	const mass = 100 // the shape depends on the bending length alone
	g := RigidityFromBendingLength(units.Length(c), mass)
	fall, err := Hang(Flap{Segments: []Segment{{units.Length(long), g, mass}}}, photoPoints)
	if err != nil {
		return nil, false
	}
	cos, sin := math.Cos(x[tilt]), math.Sin(x[tilt])
	out := make([]Mark, len(fall.Points))
	for i, q := range fall.Points {
		u, v := float64(q.Out), float64(q.Down)
		out[i] = Mark{x[edgeX] + u*cos - v*sin, x[edgeY] + u*sin + v*cos}
	}
	return out, true
}

// misses are the residuals, each in its standard deviation.
func (f *photoFit) misses(x [photoUnknowns]float64) []float64 {
	c, ok := f.curve(x)
	if !ok {
		return nil
	}
	end := c[len(c)-1]
	out := []float64{x[edgeX] / f.sigma, x[edgeY] / f.sigma, (f.tip.X - end.X) / f.sigma, (f.tip.Y - end.Y) / f.sigma, (x[tilt] - f.level) / f.tilted}
	for _, m := range f.along {
		out = append(out, off(c, m)/f.sigma)
	}
	return out
}

// off is how far a mark lies from a curve, above it over 0.
func off(c []Mark, m Mark) float64 {
	least, side := math.Inf(1), 1.0
	for i := 1; i < len(c); i++ {
		a, b := c[i-1], c[i]
		dx, dy := b.X-a.X, b.Y-a.Y
		t := ((m.X-a.X)*dx + (m.Y-a.Y)*dy) / (dx*dx + dy*dy)
		t = math.Max(0, math.Min(1, t))
		if d := math.Hypot(m.X-a.X-t*dx, m.Y-a.Y-t*dy); d < least {
			least, side = d, 1
			if dx*(m.Y-a.Y)-dy*(m.X-a.X) > 0 {
				side = -1
			}
		}
	}
	return side * least
}

func sumOfSquares(r []float64) float64 {
	if r == nil {
		return math.Inf(1)
	}
	sum := 0.0
	for _, v := range r {
		sum += v * v
	}
	return sum
}

// descend goes down from a start by damped steps of Gauss and Newton.
func (f *photoFit) descend(x [photoUnknowns]float64) ([photoUnknowns]float64, float64) {
	cost := sumOfSquares(f.misses(x))
	damp := 1e-2
	for range 60 {
		if math.IsInf(cost, 1) {
			break
		}
		jtj, jtr := f.normal(x)
		for i := range photoUnknowns {
			jtj[i][i] *= 1 + damp
		}
		step, ok := solved(jtj, jtr)
		if !ok {
			break
		}
		next := x
		for i := range next {
			next[i] -= step[i]
		}
		if c := sumOfSquares(f.misses(next)); c < cost {
			done := cost-c < 1e-9*cost
			x, cost, damp = next, c, damp/4
			if done {
				break
			}
		} else if damp *= 6; damp > 1e8 {
			break
		}
	}
	return x, cost
}

// normal returns JᵀJ and Jᵀr by central differences.
func (f *photoFit) normal(x [photoUnknowns]float64) (jtj [photoUnknowns][photoUnknowns]float64, jtr [photoUnknowns]float64) {
	r := f.misses(x)
	var j [photoUnknowns][]float64
	for i := range photoUnknowns {
		const h = 1e-4
		up, down := x, x
		up[i] += h
		down[i] -= h
		a, b := f.misses(up), f.misses(down)
		j[i] = make([]float64, len(r))
		for k := range r {
			if a != nil && b != nil {
				j[i][k] = (a[k] - b[k]) / (2 * h)
			}
		}
	}
	for a := range photoUnknowns {
		for k, v := range r {
			jtr[a] += j[a][k] * v
		}
		for b := range photoUnknowns {
			for k := range r {
				jtj[a][b] += j[a][k] * j[b][k]
			}
		}
	}
	return jtj, jtr
}

// solved solves a small system by elimination with the largest pivot.
func solved(a [photoUnknowns][photoUnknowns]float64, b [photoUnknowns]float64) ([photoUnknowns]float64, bool) {
	for i := range photoUnknowns {
		top := i
		for k := i + 1; k < photoUnknowns; k++ {
			if math.Abs(a[k][i]) > math.Abs(a[top][i]) {
				top = k
			}
		}
		if math.Abs(a[top][i]) < 1e-14 {
			return b, false
		}
		a[i], a[top], b[i], b[top] = a[top], a[i], b[top], b[i]
		for k := i + 1; k < photoUnknowns; k++ {
			m := a[k][i] / a[i][i]
			for c := i; c < photoUnknowns; c++ {
				a[k][c] -= m * a[i][c]
			}
			b[k] -= m * b[i]
		}
	}
	for i := photoUnknowns - 1; i >= 0; i-- {
		for c := i + 1; c < photoUnknowns; c++ {
			b[i] -= a[i][c] * b[c]
		}
		b[i] /= a[i][i]
	}
	return b, true
}

// result turns the unknowns into what the photograph says.
func (f *photoFit) result(x [photoUnknowns]float64, cost float64) (Photographed, error) {
	turned := units.Angle(x[tilt] * 180 / math.Pi)
	c, long := units.Length(math.Exp(x[lnBending])), units.Length(math.Exp(x[lnOverhang]))
	switch ratio := c / long; {
	case math.Abs(float64(turned)) > float64(maxTilt):
		return Photographed{}, outside("tilt", fmt.Sprintf("the photograph is turned by %.0f°", math.Abs(float64(turned))), "less than 15°", "hold the camera level, or straighten the photograph")
	case !(ratio > 0.03 && ratio < 3):
		return Photographed{}, outside("strip", "it hangs plumb, or hardly bends", "a tip that has dropped by a third to four fifths of the strip", "let it reach further out where it is stiff, less far where it is limp")
	}
	jtj, _ := f.normal(x)
	column, ok := solved(jtj, [photoUnknowns]float64{lnBending: 1})
	if !ok {
		return Photographed{}, outside("marks", "they do not settle how it bends", "points all along the strip", "mark more points between the edge and the tip")
	}
	freedom := math.Max(1, float64(len(f.along)+5-photoUnknowns))
	sd := math.Sqrt(math.Max(0, column[lnBending])) * math.Sqrt(math.Max(1, cost/freedom))
	curve, _ := f.curve(x)
	out := Photographed{Bending: around(c, tenth*math.Hypot(sd, f.ruler)), Overhang: long, Tilt: units.Angle(f.mirror) * turned}
	out.Drop = long * units.Length(uniformDrop(math.Pow(float64(c/long), 1.5)))
	sum := 0.0
	for _, m := range f.along {
		d := off(curve, m)
		sum += d * d
	}
	out.Miss = units.Length(math.Sqrt(sum / float64(len(f.along))))
	if most := max(4*units.Length(f.sigma), long/30); out.Miss > most {
		return Photographed{}, outside("marks", fmt.Sprintf("they lie %.1f mm off any hanging strip", 10*float64(out.Miss)), "marks on the strip, each within a millimetre or two", "mark them anew; the strip must hang free and the photograph be upright")
	}
	for _, m := range curve {
		out.Curve = append(out.Curve, Mark{f.edge.X + f.mirror*m.X*f.perCM, f.edge.Y + m.Y*f.perCM})
	}
	return out, nil
}
