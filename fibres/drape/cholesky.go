package drape

import (
	"math"
	"slices"
	"sync"
	"sync/atomic"
)

// leafNodes is how many nodes are factored as one dense block.
const leafNodes = 14

// front is a dense block of the factor: the nodes eliminated in it come first in
// rows, then those they touch that are eliminated later.
type front struct {
	rows     []int32 // places in the order of elimination, rising
	own      int     // how many of them are eliminated here
	children []int
	up       []int32 // for each row beyond own, its place in the parent's rows
	a        []float64
	slots    []placed
	size     int // nodes in the whole subtree
}

// placed says where a block of the matrix goes in a front.
type placed struct {
	slot     int32
	row, col int32
}

// matrix is a symmetric matrix of 3 by 3 blocks with its Cholesky factor.
type matrix struct {
	order  []int32 // node at each place
	place  []int32 // place of each node
	slot   map[[2]int32]int32
	blocks [][9]float64 // block (row, col) of the lower half, by place
	diag   []int32      // slot of each node's own block
	fronts []front
	root   []int
	failed atomic.Bool // one front was not positive definite: the rest need not be done
}

// newMatrix orders n nodes at the given places in space by nested dissection and
// works out where the factor is filled. Pairs are the nodes that act on each other.
func newMatrix(at []Vec, pairs [][2]int32) *matrix {
	n := len(at)
	m := &matrix{place: make([]int32, n), slot: map[[2]int32]int32{}}
	next := make([][]int32, n)
	for _, p := range pairs {
		next[p[0]], next[p[1]] = append(next[p[0]], p[1]), append(next[p[1]], p[0])
	}
	for i := range next {
		slices.Sort(next[i])
		next[i] = slices.Compact(next[i])
	}
	all := make([]int32, n)
	for i := range all {
		all[i] = int32(i)
	}
	d := dissection{at: at, next: next, side: make([]int8, n), m: m}
	m.root = d.split(all)
	for p, node := range m.order {
		m.place[node] = int32(p)
	}
	m.diag = make([]int32, n)
	for i := range n {
		m.diag[i] = m.addSlot(int32(i), int32(i))
	}
	for i := range next {
		for _, j := range next[i] {
			if j > int32(i) {
				m.addSlot(int32(i), j)
			}
		}
	}
	m.fill(next)
	return m
}

// copy returns a matrix of the same layout with values of its own.
func (m *matrix) copy() *matrix {
	c := &matrix{order: m.order, place: m.place, slot: m.slot, diag: m.diag, root: m.root, fronts: slices.Clone(m.fronts), blocks: make([][9]float64, len(m.blocks))}
	for i := range c.fronts {
		n := 3 * len(c.fronts[i].rows)
		c.fronts[i].a = make([]float64, n*n)
	}
	return c
}

// addSlot makes room for the block of two nodes.
func (m *matrix) addSlot(i, j int32) int32 {
	k := m.key(i, j)
	s, ok := m.slot[k]
	if !ok {
		s = int32(len(m.blocks))
		m.slot[k] = s
		m.blocks = append(m.blocks, [9]float64{})
	}
	return s
}

func (m *matrix) key(i, j int32) [2]int32 {
	a, b := m.place[i], m.place[j]
	if a < b {
		a, b = b, a
	}
	return [2]int32{a, b}
}

// dissection splits the nodes again and again by a plane, the nodes along it
// being eliminated after those on either side.
type dissection struct {
	at   []Vec
	next [][]int32
	side []int8
	m    *matrix
}

// split orders nodes and returns the fronts at the top of what it made.
func (d *dissection) split(nodes []int32) []int {
	if len(nodes) == 0 {
		return nil
	}
	if len(nodes) <= leafNodes {
		return []int{d.front(nodes, nil)}
	}
	axis := d.widest(nodes)
	slices.SortFunc(nodes, func(a, b int32) int {
		switch x, y := d.at[a].Dot(axis), d.at[b].Dot(axis); {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return int(a - b)
	})
	half := len(nodes) / 2
	for i, n := range nodes {
		d.side[n] = 1
		if i >= half {
			d.side[n] = 2
		}
	}
	var low, between []int32
	for _, n := range nodes[:half] {
		touches := slices.ContainsFunc(d.next[n], func(o int32) bool { return d.side[o] == 2 })
		if touches {
			between = append(between, n)
		} else {
			low = append(low, n)
		}
	}
	high := slices.Clone(nodes[half:])
	for _, n := range nodes {
		d.side[n] = 0
	}
	if len(between)*2 > len(nodes) { // hardly a cut: one dense block
		return []int{d.front(nodes, nil)}
	}
	children := append(d.split(low), d.split(high)...)
	if len(between) == 0 {
		return children
	}
	return []int{d.front(between, children)}
}

// widest is the axis along which the nodes spread most.
func (d *dissection) widest(nodes []int32) Vec {
	low, high := Vec{math.Inf(1), math.Inf(1), math.Inf(1)}, Vec{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
	for _, n := range nodes {
		for k := range 3 {
			low[k], high[k] = math.Min(low[k], d.at[n][k]), math.Max(high[k], d.at[n][k])
		}
	}
	s := high.Sub(low)
	switch {
	case s[0] >= s[1] && s[0] >= s[2]:
		return Vec{1, 0, 0}
	case s[1] >= s[2]:
		return Vec{0, 1, 0}
	}
	return Vec{0, 0, 1}
}

func (d *dissection) front(nodes []int32, children []int) int {
	f := front{own: len(nodes), children: children, size: len(nodes)}
	for _, c := range children {
		f.size += d.m.fronts[c].size
	}
	for _, n := range nodes {
		f.rows = append(f.rows, int32(len(d.m.order)))
		d.m.order = append(d.m.order, n)
	}
	d.m.fronts = append(d.m.fronts, f)
	return len(d.m.fronts) - 1
}

// fill works out the rows of each front and where blocks and children go in it.
func (m *matrix) fill(next [][]int32) {
	owner := make([]int32, len(m.order))
	for i := range m.fronts {
		f := &m.fronts[i]
		last := f.rows[f.own-1]
		var more []int32
		for _, p := range f.rows {
			owner[p] = int32(i)
			for _, o := range next[m.order[p]] {
				if q := m.place[o]; q > last {
					more = append(more, q)
				}
			}
		}
		for _, c := range f.children {
			for _, q := range m.fronts[c].rows[m.fronts[c].own:] {
				if q > last {
					more = append(more, q)
				}
			}
		}
		slices.Sort(more)
		f.rows = append(f.rows, slices.Compact(more)...)
	}
	for i := range m.fronts {
		f := &m.fronts[i]
		for _, c := range f.children {
			g := &m.fronts[c]
			for _, q := range g.rows[g.own:] {
				g.up = append(g.up, f.at(q))
			}
		}
	}
	for k, s := range m.slot {
		o := owner[k[1]]
		f := &m.fronts[o]
		f.slots = append(f.slots, placed{s, f.at(k[0]), f.at(k[1])})
	}
}

func (f *front) at(place int32) int32 {
	i, _ := slices.BinarySearch(f.rows, place)
	return int32(i)
}

// factor computes the Cholesky factor of the matrix plus shift times the given
// diagonal (by node); false where that is not positive definite.
func (m *matrix) factor(shift float64, diagonal []float64) bool {
	good := make([]bool, len(m.fronts))
	m.failed.Store(false)
	var tops sync.WaitGroup
	for _, r := range m.root {
		tops.Go(func() { m.factorTree(r, shift, diagonal, good) })
	}
	tops.Wait()
	for _, r := range m.root {
		if !good[r] {
			return false
		}
	}
	return true
}

// parallelNodes is the least size of a subtree that is worth a goroutine.
const parallelNodes = 400

func (m *matrix) factorTree(i int, shift float64, diagonal []float64, good []bool) {
	f := &m.fronts[i]
	var wait sync.WaitGroup
	for n, c := range f.children {
		if n > 0 && m.fronts[c].size >= parallelNodes {
			wait.Go(func() { m.factorTree(c, shift, diagonal, good) })
		} else if n > 0 {
			m.factorTree(c, shift, diagonal, good)
		}
	}
	if len(f.children) > 0 {
		m.factorTree(f.children[0], shift, diagonal, good)
	}
	wait.Wait()
	if m.failed.Load() {
		return
	}
	m.gather(f, shift, diagonal)
	good[i] = eliminate(f.a, 3*len(f.rows), 3*f.own)
	if !good[i] {
		m.failed.Store(true)
	}
}

// gather fills a front with its blocks and what its children left.
func (m *matrix) gather(f *front, shift float64, diagonal []float64) {
	n := 3 * len(f.rows)
	clear(f.a)
	for _, p := range f.slots {
		b := &m.blocks[p.slot]
		for r := range 3 {
			row := f.a[(3*int(p.row)+r)*n+3*int(p.col):]
			row[0] += b[3*r]
			row[1] += b[3*r+1]
			row[2] += b[3*r+2]
		}
	}
	for k := range f.own {
		d := shift * diagonal[m.order[f.rows[k]]]
		for r := range 3 {
			f.a[(3*k+r)*(n+1)] += d
		}
	}
	for _, c := range f.children {
		g := &m.fronts[c]
		gn := 3 * len(g.rows)
		for x, ux := range g.up {
			for r := range 3 {
				from := g.a[(3*(g.own+x)+r)*gn+3*g.own:]
				to := f.a[(3*int(ux)+r)*n:]
				for y := 0; y <= x; y++ {
					t := to[3*g.up[y] : 3*g.up[y]+3]
					s := from[3*y : 3*y+3]
					t[0] += s[0]
					t[1] += s[1]
					t[2] += s[2]
				}
			}
		}
	}
}

// eliminate factors the first k columns of a dense symmetric matrix of n rows, of
// which only the lower half is read, and leaves in the rest what remains.
func eliminate(a []float64, n, k int) bool {
	const wide = 32
	for p := 0; p < k; p += wide {
		q := min(p+wide, k)
		for j := p; j < q; j++ {
			rj := a[j*n+p : j*n+j]
			d := a[j*n+j]
			scale := math.Abs(d)
			for _, x := range rj {
				d -= x * x
			}
			if !(d > 1e-13*scale) {
				return false
			}
			d = math.Sqrt(d)
			a[j*n+j] = d
			inverse := 1 / d
			for i := j + 1; i < n; i++ {
				ri := a[i*n+p : i*n+j+1]
				s := ri[len(rj)]
				for x, y := range rj {
					s -= y * ri[x]
				}
				ri[len(rj)] = s * inverse
			}
		}
		subtract(a, n, p, q)
	}
	return true
}

// subtract takes the product of columns p to q from what lies below and right of
// them, two rows by two columns at a time.
func subtract(a []float64, n, p, q int) {
	w := q - p
	for i := q; i < n; i += 2 {
		x0 := a[i*n+p : i*n+q]
		if i+1 == n {
			for j := q; j <= i; j++ {
				s := 0.0
				for k, y := range a[j*n+p : j*n+q] {
					s += y * x0[k]
				}
				a[i*n+j] -= s
			}
			break
		}
		x1 := a[(i+1)*n+p : (i+1)*n+q]
		x0, x1 = x0[:w], x1[:w]
		for j := q; j <= i; j += 2 {
			y0, y1 := a[j*n+p : j*n+q][:w], a[(j+1)*n+p : (j+1)*n+q][:w]
			var s00, s01, s10, s11 float64
			for k := range w {
				u, v, c, d := x0[k], x1[k], y0[k], y1[k]
				s00 += u * c
				s01 += u * d
				s10 += v * c
				s11 += v * d
			}
			a[i*n+j] -= s00
			a[i*n+j+1] -= s01 // above the diagonal where j = i: never read
			a[(i+1)*n+j] -= s10
			a[(i+1)*n+j+1] -= s11
		}
	}
}

// solve replaces x, by node, by the solution of the factored system.
func (m *matrix) solve(x []Vec) {
	y := make([]float64, 3*len(x))
	for p, node := range m.order {
		copy(y[3*p:3*p+3], x[node][:])
	}
	for i := range m.fronts {
		m.fronts[i].forward(y)
	}
	for i := len(m.fronts) - 1; i >= 0; i-- {
		m.fronts[i].backward(y)
	}
	for p, node := range m.order {
		copy(x[node][:], y[3*p:3*p+3])
	}
}

func (f *front) row(i int) int { return 3*int(f.rows[i/3]) + i%3 }

func (f *front) forward(y []float64) {
	n, k := 3*len(f.rows), 3*f.own
	first := 3 * int(f.rows[0])
	own := y[first : first+k]
	for i := range k {
		s := own[i]
		for j, l := range f.a[i*n : i*n+i] {
			s -= l * own[j]
		}
		own[i] = s / f.a[i*n+i]
	}
	for i := k; i < n; i++ {
		s := 0.0
		for j, l := range f.a[i*n : i*n+k] {
			s += l * own[j]
		}
		y[f.row(i)] -= s
	}
}

func (f *front) backward(y []float64) {
	n, k := 3*len(f.rows), 3*f.own
	first := 3 * int(f.rows[0])
	own := y[first : first+k]
	for i := k; i < n; i++ {
		v := y[f.row(i)]
		for j, l := range f.a[i*n : i*n+k] {
			own[j] -= l * v
		}
	}
	for i := k - 1; i >= 0; i-- {
		own[i] /= f.a[i*n+i]
		v := own[i]
		for j, l := range f.a[i*n : i*n+i] {
			own[j] -= l * v
		}
	}
}
