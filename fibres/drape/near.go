package drape

import (
	"math"
	"slices"
)

// nearStiffness is of node against node, as a share of the sheet's stretch, and nearCells how
// close two nodes may come.
const (
	nearStiffness = 0.3
	nearCells     = 0.9
	nearMaterial  = 2.6 // cells apart in the flat cloth within which nodes are neighbours anyway
)

// nearness keeps nodes of the cloth that are far from each other in the flat from
// coming closer than a cell in space.
type nearness struct {
	pairs [][2]int32
	reach float64
	k     float64
}

// find lists the pairs that may come near within the next step.
func (c *nearness) find(s *system, x []Vec) {
	c.reach, c.k = nearCells*s.h, nearStiffness*s.sheets[wholeOf].Stretch
	c.pairs = c.pairs[:0]
	look := 2 * s.h
	grid := newBuckets(look, x)
	for i := range x {
		grid.around(x[i], int32(i), func(j int32) {
			d := x[i].Sub(x[j])
			if d.Dot(d) > look*look || s.fixed[i] && s.fixed[j] || s.neighbours(int32(i), j, nearMaterial*s.h) {
				return
			}
			c.pairs = append(c.pairs, [2]int32{int32(i), j})
		})
	}
}

// neighbours reports whether two nodes lie within reach of each other in the cloth as it is
// sewn: in one panel, or across a seam.
func (m *mesh) neighbours(a, b int32, reach float64) bool {
	if m.panel[a] == m.panel[b] && math.Hypot(m.uv[a][0]-m.uv[b][0], m.uv[a][1]-m.uv[b][1]) < reach {
		return true
	}
	p, q := m.sewn[a], m.sewn[b]
	if p.seam < 0 || q.seam < 0 || p.away+q.away > reach {
		return false
	}
	along := math.Hypot(p.at[0]-q.at[0], p.at[1]-q.at[1])
	return math.Hypot(along, p.away+q.away) < reach
}

func (c *nearness) energy(x, g []Vec) float64 {
	sum := 0.0
	for _, p := range c.pairs {
		d := x[p[0]].Sub(x[p[1]])
		l := d.Len()
		if l >= c.reach || l == 0 {
			continue
		}
		sum += c.k * (c.reach - l) * (c.reach - l) / 2
		if g != nil {
			f := d.Mul(c.k * (c.reach - l) / l)
			g[p[0]], g[p[1]] = g[p[0]].Sub(f), g[p[1]].Add(f)
		}
	}
	return sum
}

// hessian adds what bounds the pairs' part from above, on the diagonal alone, so
// that no new pair changes the shape of the matrix.
func (c *nearness) hessian(s *system, x []Vec) {
	for _, p := range c.pairs {
		d := x[p[0]].Sub(x[p[1]])
		l := d.Len()
		if l >= c.reach || l == 0 {
			continue
		}
		n := d.Mul(1 / l)
		for _, i := range p {
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

// mostBuckets bounds the cells of the box; what is spread wider gets larger cells.
const mostBuckets = 1 << 20

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
		if cells <= mostBuckets {
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
