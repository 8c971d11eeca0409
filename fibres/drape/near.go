package drape

import "math"

// nearStiffness is of cloth against cloth, N/m³, and nearCells how close two nodes may come.
const (
	nearStiffness = 3000
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
	c.reach, c.k = nearCells*s.h, nearStiffness*s.h*s.h
	c.pairs = c.pairs[:0]
	look := 2 * s.h
	grid := newBuckets(look)
	for i := range x {
		grid.add(x[i], int32(i))
	}
	for i := range x {
		grid.around(x[i], func(j int32) {
			if int(j) <= i || s.fixed[i] && s.fixed[j] || x[i].Sub(x[j]).Len() > look || s.neighbours(int32(i), j) {
				return
			}
			c.pairs = append(c.pairs, [2]int32{int32(i), j})
		})
	}
}

func (s *system) neighbours(a, b int32) bool {
	if s.sewn[a] && s.sewn[b] {
		return true
	}
	if s.panel[a] != s.panel[b] {
		return s.start[a].Sub(s.start[b]).Len() < nearMaterial*s.h
	}
	return math.Hypot(s.uv[a][0]-s.uv[b][0], s.uv[a][1]-s.uv[b][1]) < nearMaterial*s.h
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

// buckets find what is near in space.
type buckets struct {
	size float64
	at   map[[3]int32][]int32
}

func newBuckets(size float64) *buckets { return &buckets{size, map[[3]int32][]int32{}} }

func (b *buckets) key(p Vec) [3]int32 {
	return [3]int32{int32(math.Floor(p[0] / b.size)), int32(math.Floor(p[1] / b.size)), int32(math.Floor(p[2] / b.size))}
}

func (b *buckets) add(p Vec, i int32) {
	k := b.key(p)
	b.at[k] = append(b.at[k], i)
}

func (b *buckets) around(p Vec, visit func(i int32)) {
	k := b.key(p)
	for x := k[0] - 1; x <= k[0]+1; x++ {
		for y := k[1] - 1; y <= k[1]+1; y++ {
			for z := k[2] - 1; z <= k[2]+1; z++ {
				for _, i := range b.at[[3]int32{x, y, z}] {
					visit(i)
				}
			}
		}
	}
}
