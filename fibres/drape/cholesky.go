package drape

import (
	"cmp"
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
	d := dissection{at: at, next: next, upper: make([]bool, n), m: m}
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
	at    []Vec
	next  [][]int32
	upper []bool // for the time of one cut
	m     *matrix
}

// split orders nodes and returns the fronts at the top of what it made.
func (d *dissection) split(nodes []int32) []int {
	if len(nodes) == 0 {
		return nil
	}
	if len(nodes) <= leafNodes {
		return []int{d.front(nodes, nil)}
	}
	low, between, high := d.cut(nodes)
	if len(between)*2 > len(nodes) { // hardly a cut: one dense block
		return []int{d.front(nodes, nil)}
	}
	children := append(d.split(low), d.split(high)...)
	if len(between) == 0 {
		return children
	}
	return []int{d.front(between, children)}
}

// cuts are the directions in which nodes are split in two: along the axes and aslant.
var cuts = []Vec{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {1, 1, 0}, {1, -1, 0}, {1, 0, 1}, {1, 0, -1}, {0, 1, 1}, {0, 1, -1}}

// cut parts nodes by a plane through their middle; between are those of the lower half that touch the
// upper. Of all directions it takes that in which they are fewest.
func (d *dissection) cut(nodes []int32) (low, between, high []int32) {
	half, fewest := len(nodes)/2, len(nodes)
	for _, axis := range cuts {
		slices.SortFunc(nodes, func(a, b int32) int {
			return cmp.Or(cmp.Compare(d.at[a].Dot(axis), d.at[b].Dot(axis)), cmp.Compare(a, b))
		})
		for _, n := range nodes[half:] {
			d.upper[n] = true
		}
		touches := func(n int32) bool {
			return slices.ContainsFunc(d.next[n], func(o int32) bool { return d.upper[o] })
		}
		var apart, touching []int32
		for _, n := range nodes[:half] {
			if touches(n) {
				touching = append(touching, n)
			} else {
				apart = append(apart, n)
			}
		}
		for _, n := range nodes[half:] {
			d.upper[n] = false
		}
		if len(touching) < fewest {
			low, between, high, fewest = apart, touching, slices.Clone(nodes[half:]), len(touching)
		}
	}
	return low, between, high
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
		if !eliminateCorner(a, n, p, q) {
			return false
		}
		eliminateBelow(a, n, p, q)
		subtract(a, n, p, q)
	}
	return true
}

// eliminateCorner factors the square of columns p to q on the diagonal; false where it is not
// positive definite.
func eliminateCorner(a []float64, n, p, q int) bool {
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
		for i := j + 1; i < q; i++ {
			s := a[i*n+j]
			for x, y := range rj {
				s -= y * a[i*n+p+x]
			}
			a[i*n+j] = s * inverse
		}
	}
	return true
}

// eliminateBelow brings the rows under such a square to the factor, four at a time: each waits for
// its own last sum, so that alone it would idle.
func eliminateBelow(a []float64, n, p, q int) {
	i := q
	for ; i+4 <= n; i += 4 {
		r0, r1, r2, r3 := a[i*n+p:i*n+q], a[(i+1)*n+p:(i+1)*n+q], a[(i+2)*n+p:(i+2)*n+q], a[(i+3)*n+p:(i+3)*n+q]
		for j := range r0 {
			rj := a[(p+j)*n+p : (p+j)*n+p+j+1]
			s0, s1, s2, s3 := r0[j], r1[j], r2[j], r3[j]
			l := rj[:j]
			x0, x1, x2, x3 := r0[:len(l)], r1[:len(l)], r2[:len(l)], r3[:len(l)]
			for x, y := range l {
				s0 -= y * x0[x]
				s1 -= y * x1[x]
				s2 -= y * x2[x]
				s3 -= y * x3[x]
			}
			inverse := 1 / rj[j]
			r0[j], r1[j], r2[j], r3[j] = s0*inverse, s1*inverse, s2*inverse, s3*inverse
		}
	}
	for ; i < n; i++ {
		r := a[i*n+p : i*n+q]
		for j := range r {
			rj := a[(p+j)*n+p : (p+j)*n+p+j+1]
			s := r[j]
			for x, y := range rj[:j] {
				s -= y * r[x]
			}
			r[j] = s * (1 / rj[j])
		}
	}
}

// subtract takes the product of columns p to q from what lies below and right of them, three rows by
// two columns at a time: six sums that need not wait for each other, as many as the registers
// hold. What it writes above the diagonal is never read.
func subtract(a []float64, n, p, q int) {
	w := q - p
	i := q
	for ; i+3 <= n; i += 3 {
		x0, x1, x2 := a[i*n+p : i*n+q][:w], a[(i+1)*n+p : (i+1)*n+q][:w], a[(i+2)*n+p : (i+2)*n+q][:w]
		for j := q; j < i+3; j += 2 {
			j1 := min(j+1, n-1)
			y0, y1 := a[j*n+p : j*n+q][:w], a[j1*n+p : j1*n+q][:w]
			var s00, s01, s10, s11, s20, s21 float64
			for k := range w {
				c, d := y0[k], y1[k]
				s00 += x0[k] * c
				s01 += x0[k] * d
				s10 += x1[k] * c
				s11 += x1[k] * d
				s20 += x2[k] * c
				s21 += x2[k] * d
			}
			to0, to1, to2 := a[i*n+j:], a[(i+1)*n+j:], a[(i+2)*n+j:]
			to0[0] -= s00
			to1[0] -= s10
			to2[0] -= s20
			if j1 > j {
				to0[1] -= s01
				to1[1] -= s11
				to2[1] -= s21
			}
		}
	}
	for ; i < n; i++ {
		x := a[i*n+p : i*n+q]
		for j := q; j <= i; j++ {
			s := 0.0
			for k, y := range a[j*n+p : j*n+q] {
				s += y * x[k]
			}
			a[i*n+j] -= s
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
