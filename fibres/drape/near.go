package drape

import (
	"math"
	"slices"
)

// nearStiffness is of node against node, as a share of the sheet's stretch, and nearCells how
// close two nodes may come that are farCells or more apart in the cloth; nearer ones may come as much
// closer, and those within sameCells are held by the cells themselves.
const (
	nearStiffness = 0.3
	nearCells     = 0.9
	farCells      = 2.6
	sameCells     = 1.5
)

// closePair are two nodes, and how close they may come. Where they have come past each other beside a
// seam, back is the way back for a.
type closePair struct {
	a, b  int32
	reach float64
	back  Vec
}

// between is how far apart a pair is and the way from b to a; beside a seam that was passed, along the way back.
func (p closePair) between(x []Vec) (float64, Vec) {
	d := x[p.a].Sub(x[p.b])
	if p.back != (Vec{}) {
		return d.Dot(p.back), p.back
	}
	l := d.Len()
	if l == 0 {
		return p.reach, Vec{}
	}
	return l, d.Mul(1 / l)
}

// nearness keeps nodes of the cloth from coming closer in space than a fold of the mesh lets them.
type nearness struct {
	pairs []closePair
	k     float64
}

// find lists the pairs that may come too near within the next step.
func (c *nearness) find(s *system, x []Vec) {
	c.k = nearStiffness * s.sheet.Stretch
	c.pairs = c.pairs[:0]
	const steps = 2 * stepCellsApart
	look := (nearCells + steps) * s.h
	grid := newBuckets(look, x)
	sides := s.sides(x)
	for i := range x {
		grid.around(x[i], int32(i), func(j int32) {
			d := x[i].Sub(x[j])
			if d.Dot(d) > look*look || s.fixed[i] && s.fixed[j] {
				return
			}
			way, stitch := s.apart(int32(i), j)
			reach := nearCells * way / farCells
			if way <= sameCells*s.h || d.Len() >= reach+steps*s.h {
				return
			}
			p := closePair{a: int32(i), b: j, reach: reach}
			if stitch >= 0 && s.cloth[i] && s.cloth[j] { // a corner beyond a seam lies beside the other side from the first
				p.turnBack(d, sides[stitch].from(s.panel[i], s.panel[j]))
			}
			c.pairs = append(c.pairs, p)
		})
	}
}

// turnBack sets the way back of a pair that lies d apart and has come past each other, where its own side of
// the seam lies that way.
func (p *closePair) turnBack(d, side Vec) {
	past := d.Dot(side)
	if past >= 0 {
		return
	}
	beside := d.Sub(side.Mul(past))
	if left := p.reach*p.reach - beside.Dot(beside); left > 0 {
		p.reach, p.back = math.Sqrt(left), side
	}
}

// side is the way from the second to the first of two panels beside a stitch, nothing where they lie on each other.
type side struct {
	a, b int
	way  Vec
}

// from is the way from the second panel to the first.
func (s side) from(first, second int) Vec {
	switch {
	case first == s.a && second == s.b:
		return s.way
	case first == s.b && second == s.a:
		return s.way.Mul(-1)
	}
	return Vec{}
}

// sides are the ways across each stitch, from some cells further in: contact alone does not know which of two sides
// that met beside a seam belongs where, and would keep them apart the wrong way round.
func (s *plan) sides(x []Vec) []side {
	out := make([]side, len(s.beside))
	for i, k := range s.beside {
		out[i].a, out[i].b = k.a, k.b
		var d Vec
		for j := range k.inA {
			d = d.Add(k.inA[j].of(x)).Sub(k.inB[j].of(x))
		}
		if d.Len() > 0.3*s.h*float64(len(k.inA)) {
			out[i].way = d.Unit()
		}
	}
	return out
}

// apart is the way between two nodes in the cloth as it is sewn, in one panel or across a seam, and the stitch
// between them, -1 where there is none; what is more than farCells is not told apart.
func (m *mesh) apart(a, b int32) (float64, int32) {
	way, across, stitch := farCells*m.h, math.Inf(1), int32(-1)
	if m.panel[a] == m.panel[b] {
		way = math.Min(way, math.Hypot(m.uv[a][0]-m.uv[b][0], m.uv[a][1]-m.uv[b][1]))
	}
	p, q := m.sewn[a], m.sewn[b]
	for len(p) > 0 && len(q) > 0 {
		switch {
		case p[0].stitch < q[0].stitch:
			p = p[1:]
		case p[0].stitch > q[0].stitch:
			q = q[1:]
		default:
			if l := p[0].away + q[0].away; l < across {
				across, stitch = l, p[0].stitch
			}
			p, q = p[1:], q[1:]
		}
	}
	return math.Min(way, across), stitch
}

func (c *nearness) energy(x, g []Vec) float64 {
	sum := 0.0
	for _, p := range c.pairs {
		l, n := p.between(x)
		if l >= p.reach {
			continue
		}
		sum += c.k * (p.reach - l) * (p.reach - l) / 2
		if g != nil {
			f := n.Mul(c.k * (p.reach - l))
			g[p.a], g[p.b] = g[p.a].Sub(f), g[p.b].Add(f)
		}
	}
	return sum
}

// hessian adds what bounds the pairs' part from above, on the diagonal alone, so
// that no new pair changes the shape of the matrix.
func (c *nearness) hessian(s *system, x []Vec) {
	for _, p := range c.pairs {
		l, n := p.between(x)
		if l >= p.reach {
			continue
		}
		for _, i := range [2]int32{p.a, p.b} {
			if q := s.place[i]; q >= 0 {
				outer(&s.mat.blocks[s.mat.diag[q]], 2*c.k, n, n)
			}
		}
	}
}

// buckets find what is near in space: a box of cells, each with the points in it.
type buckets struct {
	size  float64
	low   Vec
	n     [3]int
	first []int32 // by cell, into index
	index []int32
}

// maxBuckets bounds the cells of the box; what is spread wider gets larger cells.
const maxBuckets = 1 << 20

func newBuckets(size float64, at []Vec) *buckets {
	b := &buckets{size: size, low: Vec{math.Inf(1), math.Inf(1), math.Inf(1)}}
	high := b.low.Mul(-1)
	for _, p := range at {
		for k := range 3 {
			b.low[k], high[k] = math.Min(b.low[k], p[k]), math.Max(high[k], p[k])
		}
	}
	for {
		cells := 1.0
		for k := range 3 {
			b.n[k] = int((high[k]-b.low[k])/b.size) + 1
			cells *= float64(b.n[k])
		}
		if cells <= maxBuckets {
			break
		}
		b.size *= 2
	}
	b.first = make([]int32, b.n[0]*b.n[1]*b.n[2]+1)
	cell := make([]int32, len(at))
	for i, p := range at {
		c := b.cell(p)
		cell[i] = int32((c[2]*b.n[1]+c[1])*b.n[0] + c[0])
		b.first[cell[i]+1]++
	}
	for i := range b.first[1:] {
		b.first[i+1] += b.first[i]
	}
	b.index = make([]int32, len(at))
	next := slices.Clone(b.first)
	for i, c := range cell {
		b.index[next[c]] = int32(i)
		next[c]++
	}
	return b
}

func (b *buckets) cell(p Vec) (c [3]int) {
	for k := range 3 {
		c[k] = max(0, min(b.n[k]-1, int((p[k]-b.low[k])/b.size)))
	}
	return c
}

// around visits the points in the cell of p and in those beside it, of an index over after.
func (b *buckets) around(p Vec, after int32, visit func(i int32)) {
	c := b.cell(p)
	for z := max(0, c[2]-1); z <= min(b.n[2]-1, c[2]+1); z++ {
		for y := max(0, c[1]-1); y <= min(b.n[1]-1, c[1]+1); y++ {
			row := (z*b.n[1] + y) * b.n[0]
			from, to := b.first[row+max(0, c[0]-1)], b.first[row+min(b.n[0]-1, c[0]+1)+1]
			for _, i := range b.index[from:to] {
				if i > after {
					visit(i)
				}
			}
		}
	}
}
