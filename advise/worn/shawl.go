package worn

import (
	"math"

	"tenter/fibres/drape"
)

// path is a line in space by the way along it, mirrored at the middle of the back.
type path struct {
	at  []drape.Vec // where x is 0 or more
	way []float64
}

func newPath(at ...drape.Vec) path {
	p := path{at: at, way: make([]float64, len(at))}
	for i := 1; i < len(at); i++ {
		p.way[i] = p.way[i-1] + at[i].Sub(at[i-1]).Len()
	}
	return p
}

// point is the place so far along, past the end straight down.
func (p path) point(s float64) drape.Vec {
	side := math.Copysign(1, s)
	s = math.Abs(s)
	last := len(p.at) - 1
	for i := 1; i <= last; i++ {
		if s <= p.way[i] {
			q := p.at[i-1].Add(p.at[i].Sub(p.at[i-1]).Mul((s - p.way[i-1]) / (p.way[i] - p.way[i-1])))
			q[0] *= side
			return q
		}
	}
	q := p.at[last].Sub(drape.Vec{0, 0, s - p.way[last]})
	q[0] *= side
	return q
}

// spread is a sheet that starts ruled from its upper edge: s runs along the edge from the middle
// of the back, d away from it.
type spread struct {
	edge path
	aim  func(s float64) drape.Vec // the direction of d where s is 0 or more
}

func (p spread) at(s, d float64) drape.Vec {
	a := p.aim(math.Abs(s)).Unit()
	if s < 0 {
		a[0] = -a[0]
	}
	return p.edge.point(s).Add(a.Mul(d))
}

// panel makes a part of it: the warp runs along d, away from the edge.
func (p spread) panel(half, deep float64, inside func(s, d float64) bool) drape.Panel {
	return drape.Panel{Low: [2]float64{0, -half}, High: [2]float64{deep, half},
		Inside: func(u, v float64) bool { return inside(v, u) },
		Place:  func(u, v float64) drape.Vec { return p.at(v, u) }}
}

// between is a where s is 0, b at the end, and even in between.
func between(s, end float64, a, b drape.Vec) drape.Vec {
	t := math.Max(0, math.Min(1, s/end))
	return a.Mul(1 - t).Add(b.Mul(t))
}

// aroundShoulders is a wall round the back and the arms, open in front: a shawl as it is held
// before it is let down on the shoulders. Nothing of it is stretched.
func (f *Figure) aroundShoulders() spread {
	k := f.crown / 16300 // the adult form's places in cm, brought to this figure in metres
	z := 140.5
	edge := newPath(drape.Vec{0, -13.5, z}.Mul(k), drape.Vec{9, -13, z}.Mul(k), drape.Vec{18, -10.5, z}.Mul(k), drape.Vec{24, -5.5, z}.Mul(k),
		drape.Vec{26, 2, z}.Mul(k), drape.Vec{27, 12, z}.Mul(k), drape.Vec{29, 130, z}.Mul(k))
	return spread{edge, func(float64) drape.Vec { return drape.Vec{0, 0, -1} }}
}

// shawl hangs over both shoulders: a rectangle or a triangle with its point at the back.
func shawl(f *Figure, width, depth, dip float64, triangle bool) Worn {
	sp := f.aroundShoulders()
	p := sp.panel(width/2, depth, triangleOrNot(width, depth, dip, triangle))
	sc := drape.Scene{Panels: []drape.Panel{p}, Body: f, Friction: 0.4}
	k := f.crown / 16300
	held := newPath(drape.Vec{0, -7.4, 141}.Mul(k), drape.Vec{7.5, -5, 140.2}.Mul(k), drape.Vec{12.2, -1, 138.6}.Mul(k), drape.Vec{12.4, 2, 138}.Mul(k))
	for _, s := range []float64{0, 0.02, held.way[2], held.way[3]} { // at the neck and on either shoulder
		for _, side := range []float64{-1, 1} {
			d := dip*math.Max(0, 1-math.Pow(2*s/width, 2)) + 0.004
			sc.Pins = append(sc.Pins, drape.Pin{Mark: drape.Mark{U: d, V: side * s}, At: held.point(side * s)})
		}
	}
	area := width * depth
	if triangle {
		area /= 2
	}
	return Worn{Scene: sc, Cell: math.Max(0.015, math.Sqrt(area/1600)), Gently: true, Turn: 35, Tilt: 8, Hem: lowerEdge(width, depth, triangle),
		Low: drape.Vec{-0.25, -0.15, f.waist/100 - 0.25}, High: drape.Vec{0.25, 0.15, f.crown / 100},
		Says: []string{"It is pinned at the back of the neck and on either shoulder, and hangs open in front."}}
}

func triangleOrNot(width, depth, dip float64, triangle bool) func(s, d float64) bool {
	return func(s, d float64) bool {
		if !triangle {
			return d > 0 && d < depth && math.Abs(s) < width/2
		}
		return d > dip*math.Max(0, 1-math.Pow(2*s/width, 2)) && math.Abs(s) < width/2*(1-d/depth)
	}
}

// lowerEdge is the edge that hangs, from one end to the other.
func lowerEdge(width, depth float64, triangle bool) (out []drape.Mark) {
	for i := range 240 {
		t := (float64(i) + 0.5) / 240
		m := drape.Mark{U: depth - 0.002, V: width * (t - 0.5)}
		if triangle {
			m.U = (depth - 0.004) * (1 - math.Abs(2*t-1))
		}
		out = append(out, m)
	}
	return out
}

// overHead is a kerchief's long edge over the brow and down beside the face.
func (f *Figure) overHead() spread {
	k := f.crown / 16300
	edge := newPath(drape.Vec{0, 9, 160.5}.Mul(k), drape.Vec{5, 8.5, 158.5}.Mul(k), drape.Vec{8.3, 7, 152}.Mul(k), drape.Vec{8.3, 7, 144}.Mul(k),
		drape.Vec{7, 9, 138}.Mul(k), drape.Vec{6, 11, 132}.Mul(k), drape.Vec{6, 13.5, 124}.Mul(k), drape.Vec{6, 15, 114}.Mul(k))
	top, side, low := drape.Vec{0, -1, 0.12}, drape.Vec{0.35, -1, -0.1}, drape.Vec{1, -0.15, -0.35}
	return spread{edge, func(s float64) drape.Vec {
		if s < edge.way[3] {
			return between(s, edge.way[3], top, side)
		}
		return between(s-edge.way[3], edge.way[6]-edge.way[3], side, low)
	}}
}

// kerchief lies on the head, its long edge over the brow, and falls on the shoulders.
func kerchief(f *Figure, width, depth, dip float64) Worn {
	sp := f.overHead()
	p := sp.panel(width/2, depth, triangleOrNot(width, depth, dip, true))
	sc := drape.Scene{Panels: []drape.Panel{p}, Body: f, Friction: 0.4}
	chin := sp.edge.way[4]
	for _, s := range []float64{-chin, -0.02, 0, 0.02, chin} {
		d := dip*math.Max(0, 1-math.Pow(2*s/width, 2)) + 0.004
		sc.Pins = append(sc.Pins, drape.Pin{Mark: drape.Mark{U: d, V: s}, At: sp.edge.point(s)})
	}
	return Worn{Scene: sc, Cell: math.Max(0.014, math.Sqrt(width*depth/2/1600)), Gently: true, Turn: 50, Tilt: 8, Hem: lowerEdge(width, depth, true),
		Low: drape.Vec{-0.25, -0.15, f.waist/100 - 0.2}, High: drape.Vec{0.25, 0.15, f.crown/100 + 0.02},
		Says: []string{"Its long edge is held over the brow and under the chin."}}
}
