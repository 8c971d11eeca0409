// Package worn makes of a piece, drawn out by its measures, a scene for the sheet
// solver: where it is held, what it rests on and how it starts.
package worn

import (
	"math"
	"sync"

	"tenter/fibres/drape"
)

// level is a cross-section of a dress form: |x/a|^n + |(y−c)/b|^n = 1.
type level struct {
	height, breadth, depth, n, centre float64 // cm
}

// Figure is a plain dress form with a head, without face or hair.
type Figure struct {
	levels                []level // from the brow down
	crown                 float64
	shoulder, point       float64 // half breadth and height of the shoulder point
	neckSide, neckHalf    float64
	ridgeNeck, ridgePoint float64 // radius of the shoulder's ridge at either end
	armAt, arm, armLength float64
	neckBack, neckFront   float64 // heights at which a neckline lies
	waist                 float64

	once  sync.Once
	field *field
}

// Adult and Child are the middle of three sizes of woman (stature 163 cm, bust 94
// cm) and a child of six (116 cm). Girths, breadths and heights are means of public
// surveys at that stature: US Army 2010-12 (ANSUR II) and US children 1975-77
// (UM-HSRI-77-17), both released as open data; exponents are fitted so that the girth of each section
// is the measured one. Fore and aft places and the child's shoulder slope are practice.
var (
	Adult = &Figure{
		levels: []level{
			{154.60, 14.77, 18.98, 2.70, 1.00}, {150.36, 13.36, 17.65, 2.00, 1.50}, {141.99, 10.16, 13.67, 2.00, 2.00},
			{140.56, 9.73, 11.17, 2.00, 0.00}, {139.13, 11.79, 11.79, 2.00, -1.96}, {136.37, 24.16, 12.75, 2.00, -2.45},
			{133.61, 36.53, 13.49, 2.00, -1.96}, {124.04, 32.04, 20.11, 2.60, -0.98}, {117.34, 31.10, 24.52, 3.00, 0},
			{110.00, 26.83, 22.49, 2.50, -0.52}, {102.71, 27.14, 19.23, 2.83, 0.35}, {98.19, 29.78, 21.09, 2.83, 0.28},
			{83.46, 36.70, 23.15, 3.00, -0.69}, {78.37, 36.70, 20.69, 2.00, -0.19},
		},
		crown: 163, shoulder: 18.27, point: 133.61, neckSide: 139.13, neckHalf: 5.89, ridgeNeck: 5.9, ridgePoint: 3.9,
		armAt: 17.2, arm: 4.6, armLength: 24, neckBack: 139.7, neckFront: 133.1, waist: 102.71,
	}
	Child = &Figure{
		levels: []level{
			{106.93, 14.09, 18.45, 2.07, 0.80}, {104.17, 11.75, 17.16, 2.00, 1.20}, {97.33, 8.93, 12.92, 2.00, 1.60},
			{95.95, 8.03, 8.58, 2.00, 0.00}, {94.57, 9.22, 9.22, 2.00, -0.72}, {92.88, 17.59, 8.40, 2.00, -1.16},
			{91.18, 25.96, 8.69, 2.00, -0.87}, {84.86, 19.71, 14.48, 3.00, 0}, {68.77, 18.39, 13.03, 2.65, 0.48},
			{65.99, 18.50, 13.10, 2.65, 0.31}, {55.44, 20.90, 13.79, 3.00, -0.34}, {51.40, 20.51, 11.57, 2.00, -0.04},
		},
		crown: 116, shoulder: 12.98, point: 91.18, neckSide: 94.57, neckHalf: 4.61, ridgeNeck: 3.5, ridgePoint: 2.3,
		armAt: 11.4, arm: 2.76, armLength: 16, neckBack: 95, neckFront: 90.4, waist: 68.77,
	}
)

// section is the cross-section at a height in cm, levels joined without overshoot.
func (f *Figure) section(z float64) level {
	l := f.levels
	if z >= l[0].height {
		return l[0]
	}
	last := len(l) - 1
	if z <= l[last].height {
		return l[last]
	}
	i := 0
	for l[i+1].height > z {
		i++
	}
	cubic := func(of func(level) float64) float64 {
		slope := func(k int) float64 {
			if k == 0 || k == last {
				return 0
			}
			d0, d1 := (of(l[k])-of(l[k-1]))/(l[k].height-l[k-1].height), (of(l[k+1])-of(l[k]))/(l[k+1].height-l[k].height)
			if d0*d1 <= 0 {
				return 0
			}
			return 2 * d0 * d1 / (d0 + d1)
		}
		h := l[i+1].height - l[i].height
		t := (z - l[i].height) / h
		p, q := of(l[i]), of(l[i+1])
		return p*(1+2*t)*(1-t)*(1-t) + q*t*t*(3-2*t) + h*(slope(i)*t*(1-t)*(1-t)-slope(i+1)*t*t*(1-t))
	}
	return level{z, cubic(func(l level) float64 { return l.breadth }), cubic(func(l level) float64 { return l.depth }),
		cubic(func(l level) float64 { return l.n }), cubic(func(l level) float64 { return l.centre })}
}

// relative is how far outside the section through it a point lies, as a share of
// the section's size; in cm.
func (f *Figure) relative(s level, x, y, z float64) float64 {
	brow, foot := f.levels[0].height, f.levels[len(f.levels)-1].height
	u, v := math.Abs(x)/(s.breadth/2), math.Abs(y-s.centre)/(s.depth/2)
	r := math.Pow(math.Pow(u, s.n)+math.Pow(v, s.n), 1/s.n)
	switch {
	case z > brow:
		return math.Hypot(r, (z-brow)/(f.crown-brow)) - 1
	case z < foot:
		return math.Hypot(r, (foot-z)/4) - 1
	}
	return r - 1
}

// field is a grid of distances in metres, with the place of its first corner.
type field struct {
	from drape.Vec
	n    [3]int
	step float64
	at   []float32
}

// Distance is how far a point is outside the form.
func (f *Figure) Distance(p drape.Vec) (float64, drape.Vec) {
	f.once.Do(f.measure)
	return f.field.distance(p)
}

func (g *field) distance(p drape.Vec) (float64, drape.Vec) {
	var i [3]int
	var t [3]float64
	for k := range 3 {
		x := (p[k] - g.from[k]) / g.step
		i[k] = int(math.Floor(x))
		if i[k] < 0 || i[k] >= g.n[k]-1 {
			return math.Max(0.07, g.outside(p)), drape.Vec{0, 0, 1} // at least so far from it
		}
		t[k] = x - float64(i[k])
	}
	at := func(a, b, c int) float64 {
		return float64(g.at[((i[2]+c)*g.n[1]+i[1]+b)*g.n[0]+i[0]+a])
	}
	mix := func(a, b, t float64) float64 { return a + t*(b-a) }
	x00, x10 := mix(at(0, 0, 0), at(1, 0, 0), t[0]), mix(at(0, 1, 0), at(1, 1, 0), t[0])
	x01, x11 := mix(at(0, 0, 1), at(1, 0, 1), t[0]), mix(at(0, 1, 1), at(1, 1, 1), t[0])
	y0, y1 := mix(x00, x10, t[1]), mix(x01, x11, t[1])
	dx := mix(mix(at(1, 0, 0)-at(0, 0, 0), at(1, 1, 0)-at(0, 1, 0), t[1]), mix(at(1, 0, 1)-at(0, 0, 1), at(1, 1, 1)-at(0, 1, 1), t[1]), t[2])
	slope := drape.Vec{dx, mix(x10-x00, x11-x01, t[2]), y1 - y0}.Mul(1 / g.step)
	return mix(y0, y1, t[2]), slope
}

// outside is how far a point lies from the box of the grid.
func (g *field) outside(p drape.Vec) float64 {
	var far drape.Vec
	for k := range 3 {
		high := g.from[k] + float64(g.n[k]-1)*g.step
		far[k] = math.Max(0, math.Max(g.from[k]-p[k], p[k]-high))
	}
	return far.Len()
}

// measure fills the grid: section by section, then the shoulders' ridge and the arms.
func (f *Figure) measure() {
	const step = 1.0 // cm
	wide, foot := math.Ceil(f.armAt+f.arm)+8, f.levels[len(f.levels)-1].height-12
	deep := 22.0
	n := [3]int{int(2*wide/step) + 1, int(2*deep/step) + 1, int((f.crown+8-foot)/step) + 1}
	g := &field{from: drape.Vec{-wide / 100, -deep / 100, foot / 100}, n: n, step: step / 100, at: make([]float32, n[0]*n[1]*n[2])}
	const d = 0.1
	for k := range n[2] {
		z := foot + float64(k)*step
		s, over, under := f.section(z), f.section(z+d), f.section(z-d)
		for j := range n[1] {
			for i := range (n[0] + 1) / 2 { // one side is the mirror of the other
				x, y := float64(i)*step-wide, float64(j)*step-deep
				r := f.relative(s, x, y, z)
				slope := drape.Vec{f.relative(s, x+d, y, z) - r, f.relative(s, x, y+d, z) - r,
					(f.relative(over, x, y, z+d) - f.relative(under, x, y, z-d)) / 2}.Mul(1 / d).Len()
				far := f.limbs(r/math.Max(slope, 0.02), math.Abs(x), y, z)
				row := (k*n[1] + j) * n[0]
				g.at[row+i] = float32(math.Max(-8, math.Min(30, far)) / 100)
				g.at[row+n[0]-1-i] = g.at[row+i]
			}
		}
	}
	f.field = g
}

// limbs rounds the shoulder and adds the arm, both of the side where x is over 0.
func (f *Figure) limbs(far, x, y, z float64) float64 {
	y0 := f.section(f.point).centre
	p := drape.Vec{x, y, z}
	ridge := capsule(p, drape.Vec{f.neckHalf, y0, f.neckSide - f.ridgeNeck}, drape.Vec{f.shoulder - f.ridgePoint/2, y0, f.point - f.ridgePoint}, f.ridgeNeck, f.ridgePoint)
	far = smooth(far, ridge, 1.5)
	top := drape.Vec{f.armAt, y0, f.point - f.arm}
	arm := capsule(p, top, top.Sub(drape.Vec{-1, 0, f.armLength - f.arm}), f.arm, 0.65*f.arm)
	return smooth(far, arm, 2)
}

// capsule is the distance from a rounded rod whose radius changes evenly.
func capsule(p, a, b drape.Vec, ra, rb float64) float64 {
	ab := b.Sub(a)
	t := math.Max(0, math.Min(1, p.Sub(a).Dot(ab)/ab.Dot(ab)))
	return p.Sub(a.Add(ab.Mul(t))).Len() - (ra + t*(rb-ra))
}

// smooth is the smaller of two distances, rounded where they meet.
func smooth(a, b, k float64) float64 {
	h := math.Max(0, 1-math.Abs(a-b)/k)
	return math.Min(a, b) - h*h*k/4
}

// ring is a closed line round the form, from the middle of the back, by the way along it.
type ring struct {
	at     []drape.Vec
	length float64
}

// waistGirth is the way round the waist's section, in metres.
func (f *Figure) waistGirth() float64 {
	s, sum := f.section(f.waist), 0.0
	at := func(t float64) (x, y float64) {
		sin, cos := math.Sincos(t)
		p := func(c, half float64) float64 { return math.Copysign(math.Pow(math.Abs(c), 2/s.n), c) * half }
		return p(sin, s.breadth/2), p(cos, s.depth/2)
	}
	const parts = 360
	for i := range parts {
		x0, y0 := at(2 * math.Pi * float64(i) / parts)
		x1, y1 := at(2 * math.Pi * float64(i+1) / parts)
		sum += math.Hypot(x1-x0, y1-y0)
	}
	return sum / 100
}

// waistRing is the waist's section, grown to a girth in metres.
func (f *Figure) waistRing(girth float64) ring {
	s := f.section(f.waist)
	return newRing(girth, func(t float64) drape.Vec {
		sin, cos := math.Sincos(t)
		p := func(c, half float64) float64 {
			return math.Copysign(math.Pow(math.Abs(c), 2/s.n), c) * half / 100
		}
		return drape.Vec{p(sin, s.breadth/2), -p(cos, s.depth/2), 0}
	}, drape.Vec{0, s.centre / 100, f.waist / 100}, 0)
}

// neckRing is the neckline: higher at the back, grown to a girth.
func (f *Figure) neckRing(girth float64) ring {
	tilt := (f.neckBack - f.neckFront) / 100
	return newRing(girth, func(t float64) drape.Vec {
		sin, cos := math.Sincos(t)
		return drape.Vec{f.neckHalf / 100 * sin, -f.neckHalf / 100 * cos, 0}
	}, drape.Vec{0, -0.003, f.neckBack/100 + 0.005}, tilt)
}

// newRing lays a line of the given length, its middle at a place, sinking by tilt to the front.
func newRing(girth float64, of func(t float64) drape.Vec, middle drape.Vec, tilt float64) ring {
	const parts = 720
	build := func(k float64) ring {
		r := ring{at: make([]drape.Vec, parts+1)}
		for i := range r.at {
			t := 2 * math.Pi * float64(i) / parts
			p := of(t).Mul(k)
			p[2] -= tilt * math.Pow((1-math.Cos(t))/2, 3) // hardly at the sides, most in front
			r.at[i] = middle.Add(p)
			if i > 0 {
				r.length += r.at[i].Sub(r.at[i-1]).Len()
			}
		}
		return r
	}
	low, high := 0.05, 20.0
	for high-low > 1e-9 {
		if mid := (low + high) / 2; build(mid).length < girth {
			low = mid
		} else {
			high = mid
		}
	}
	return build(low)
}

// point is the place a share of the way round, and the level direction outwards.
func (r ring) point(share float64) (p, out drape.Vec) {
	share -= math.Floor(share)
	want, gone := share*r.length, 0.0
	for i := 1; i < len(r.at); i++ {
		d := r.at[i].Sub(r.at[i-1])
		l := d.Len()
		if gone+l >= want {
			return r.at[i-1].Add(d.Mul((want - gone) / l)), drape.Vec{d[1], -d[0], 0}.Unit()
		}
		gone += l
	}
	return r.at[0], drape.Vec{0, -1, 0}
}
