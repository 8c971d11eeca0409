package drape

import (
	"math"
	"slices"
)

// Stiffness of what stands for hard contact and firm stitches, as multiples of
// the sheet's stretch per metre.
const (
	contactPerMetre = 1500
	stickShare      = 0.1  // of the contact's stiffness, along the surface
	slideShare      = 0.01 // the same of what slides: its pull is that of friction, and hardly grows on the way
	firmStitch      = 4    // of a pin or a stitch, times the stretch
)

// plan is a mesh in its scene with the layout of its matrix: what does not hang on the
// cloth, and is shared by all that are laid in it.
type plan struct {
	*mesh
	body     Body
	friction float64
	pins     []pinned
	seams    []stitched
	beside   []beside // by stitch of the scene
	free     []int32  // nodes that move
	place    []int32  // of a node among the free, -1 where it is held
	pattern  *matrix  // never factored: each system has a copy
	slots    slots
}

// system is the energy of one sheet on a plan.
type system struct {
	*plan
	sheet  Sheet
	mass   []float64 // by node, kg
	mat    *matrix
	still  []float64 // by slot: the part of the matrix that never changes
	anchor []Vec     // by node: where it sticks to the body
	stuck  []bool
	grip   []float64 // how firmly it does, as a share of the contact's stiffness
	weight []float64 // by free node, for the shift
	light  []float64 // the same of one that was not put back
	near   *nearness // nil: parts of the cloth pass through each other
	soft   float64   // what is left of stretch and shear at the start
}

type pinned struct {
	weighted
	at Vec
}

type stitched struct {
	a, b     weighted
	inA, inB weighted // a cell in from the seam on either side
	bend     float64  // across the seam, as a multiple of rigidity / h²; 0: loose
}

// beside is what lies some cells in from a stitch, on either side.
type beside struct {
	a, b     int
	inA, inB []weighted
}

// slots are where each element's blocks go, -1 where one of the nodes is held.
type slots struct {
	quad       [][10]int32
	warp, weft [][3]int32
}

func newPlan(m *mesh, sc Scene) *plan {
	s := &plan{mesh: m, body: sc.Body, friction: sc.Friction}
	s.place = make([]int32, len(m.uv))
	for i, f := range m.fixed {
		s.place[i] = -1
		if !f {
			s.place[i] = int32(len(s.free))
			s.free = append(s.free, int32(i))
		}
	}
	for _, p := range sc.Pins {
		if w, ok := m.point(p.Mark); ok {
			s.pins = append(s.pins, pinned{w, p.At})
		}
	}
	for i, p := range sc.Seams {
		a, okA := m.point(p.A)
		b, okB := m.point(p.B)
		if okA && okB {
			s.seams = append(s.seams, stitched{a: a, b: b})
			s.across(&s.seams[len(s.seams)-1], sc, i)
		}
		s.beside = append(s.beside, s.lookedIn(sc, p))
	}
	s.order()
	return s
}

// across works out how a seam bends at one of its stitches.
func (s *plan) across(t *stitched, sc Scene, i int) {
	k := sc.Seams[i]
	other := i - 1 // the stitch beside it
	if i == 0 || sc.Seams[other].A.Panel != k.A.Panel {
		other = i + 1
	}
	if other >= len(sc.Seams) {
		return
	}
	apart := math.Hypot(sc.Seams[other].A.U-k.A.U, sc.Seams[other].A.V-k.A.V)
	if apart > 3*s.h {
		return
	}
	inA, okA := s.inwards(sc.Panels[k.A.Panel], k.A, 1)
	inB, okB := s.inwards(sc.Panels[k.B.Panel], k.B, 1)
	if !okA || !okB {
		return
	}
	t.inA, t.inB, t.bend = inA, inB, apart/s.h
	if k.Stiff > 0 {
		t.bend *= k.Stiff
	}
}

// lookedIn finds what lies beside a stitch of two panels.
func (s *plan) lookedIn(sc Scene, k Seam) beside {
	out := beside{a: k.A.Panel, b: k.B.Panel}
	if out.a == out.b {
		return out
	}
	for _, cells := range []float64{3, 4, 5} {
		inA, okA := s.inwards(sc.Panels[out.a], k.A, cells)
		inB, okB := s.inwards(sc.Panels[out.b], k.B, cells)
		if okA && okB {
			out.inA, out.inB = append(out.inA, inA), append(out.inB, inB)
		}
	}
	return out
}

// inwards is the point so many cells in from the edge of a panel.
func (s *plan) inwards(p Panel, k Mark, cells float64) (weighted, bool) {
	var u, v float64
	for i := range 24 {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 24)
		if p.Inside(k.U+s.h/2*cos, k.V+s.h/2*sin) {
			u, v = u+cos, v+sin
		}
	}
	l := math.Hypot(u, v)
	if l < 1 {
		return weighted{}, false
	}
	return s.point(Mark{k.Panel, k.U + cells*s.h*u/l, k.V + cells*s.h*v/l})
}

func newSystem(p *plan, sheet Sheet, contact bool) *system {
	s := &system{plan: p, sheet: sheet, mat: p.pattern.copy()}
	s.unchanging()
	s.mass = make([]float64, len(s.uv))
	for n := range s.mass {
		s.mass[n] = sheet.Mass * s.load[n]
	}
	s.weight = make([]float64, len(s.free))
	for i, n := range s.free {
		s.weight[i] = math.Max(s.mass[n], 0.1*s.h*s.h*sheet.Mass)
	}
	if contact {
		s.near, s.light = &nearness{}, slices.Clone(s.weight)
	}
	s.begin(1)
	return s
}

// begin makes ready for a stage: nothing sticks yet.
func (s *system) begin(soft float64) {
	s.soft = soft
	s.anchor, s.stuck, s.grip = make([]Vec, len(s.uv)), make([]bool, len(s.uv)), make([]float64, len(s.uv))
}

// order finds which nodes act on each other and lays out the matrix.
func (s *plan) order() {
	var pairs [][2]int32
	pair := func(nodes ...int32) {
		for i, a := range nodes {
			for _, b := range nodes[:i] {
				if p, q := s.place[a], s.place[b]; p >= 0 && q >= 0 && p != q {
					pairs = append(pairs, [2]int32{p, q})
				}
			}
		}
	}
	for _, q := range s.quads {
		pair(q.n[:]...)
	}
	for _, t := range s.triples {
		pair(t.a, t.b, t.c)
	}
	for _, p := range s.pins {
		pair(p.n[:]...)
	}
	for _, t := range s.seams {
		nodes := append(append([]int32{}, t.a.n[:]...), t.b.n[:]...)
		if t.bend > 0 {
			nodes = append(append(nodes, t.inA.n[:]...), t.inB.n[:]...)
		}
		pair(nodes...)
	}
	at := make([]Vec, len(s.free))
	for i, n := range s.free {
		at[i] = Vec{s.uv[n][0] + 3*float64(s.panel[n]), s.uv[n][1], 0}
		if len(s.seams) > 0 { // parts that are sewn together are cut through together
			at[i] = s.start[n]
		}
	}
	s.pattern = newMatrix(at, pairs)
	s.findSlots()
}

func (s *plan) slotOf(a, b int32) int32 {
	p, q := s.place[a], s.place[b]
	if p < 0 || q < 0 {
		return -1
	}
	return s.pattern.slot[s.pattern.key(p, q)]
}

func (s *plan) findSlots() {
	for _, q := range s.quads {
		var k [10]int32
		n := 0
		for i := range 4 {
			for j := 0; j <= i; j++ {
				k[n] = s.slotOf(q.n[i], q.n[j])
				n++
			}
		}
		s.slots.quad = append(s.slots.quad, k)
	}
	of := func(edges []edge) (out [][3]int32) {
		for _, e := range edges {
			out = append(out, [3]int32{s.slotOf(e.a, e.a), s.slotOf(e.b, e.b), s.slotOf(e.a, e.b)})
		}
		return out
	}
	s.slots.warp, s.slots.weft = of(s.warp), of(s.weft)
}

// linear is an energy ½ k |Σ w x − at|².
type linear struct {
	n  []int32
	w  []float64
	k  float64
	at Vec
}

var (
	bends  = []float64{1, -2, 1}
	twists = []float64{1, -1, -1, 1}
)

// eachLinear visits the parts of the energy that are quadratic in place.
func (s *system) eachLinear(visit func(l linear)) {
	along, across, twist := s.sheet.Warp/(s.h*s.h), s.sheet.Weft/(s.h*s.h), 2*s.sheet.Twist/(s.h*s.h)
	var nodes [16]int32
	var ws [16]float64
	for _, t := range s.triples {
		k := along
		if t.weft {
			k = across
		}
		nodes[0], nodes[1], nodes[2] = t.a, t.b, t.c
		visit(linear{nodes[:3], bends, k * t.k, Vec{}})
	}
	for i := range s.quads {
		q := &s.quads[i]
		visit(linear{q.n[:], twists, twist * q.part, Vec{}})
	}
	firm := firmStitch * s.sheet.Stretch
	for i := range s.pins {
		p := &s.pins[i]
		visit(linear{p.n[:], p.w[:], firm, p.at})
	}
	for i := range s.seams {
		t := &s.seams[i]
		copy(nodes[:4], t.a.n[:])
		copy(nodes[4:], t.b.n[:])
		for j := range 4 {
			ws[j], ws[4+j] = t.a.w[j], -t.b.w[j]
		}
		visit(linear{nodes[:8], ws[:8], firm, Vec{}})
		if t.bend == 0 {
			continue
		}
		copy(nodes[8:], t.inA.n[:])
		copy(nodes[12:], t.inB.n[:])
		for j := range 4 {
			ws[j], ws[4+j], ws[8+j], ws[12+j] = -t.a.w[j], -t.b.w[j], t.inA.w[j], t.inB.w[j]
		}
		visit(linear{nodes[:], ws[:], t.bend * math.Sqrt(along*across), Vec{}})
	}
}

// unchanging sums the quadratic parts into the matrix once.
func (s *system) unchanging() {
	s.still = make([]float64, len(s.mat.blocks))
	s.eachLinear(func(l linear) {
		for i, a := range l.n {
			for j, b := range l.n {
				if p, q := s.place[a], s.place[b]; p >= 0 && q >= 0 && s.mat.place[p] >= s.mat.place[q] {
					if p == q && i != j { // one node twice: both halves of its own block
						s.still[s.mat.diag[p]] += l.k * l.w[i] * l.w[j]
						continue
					}
					s.still[s.slotOf(a, b)] += l.k * l.w[i] * l.w[j]
				}
			}
		}
	})
}

// energy returns the energy at x; where g is not nil it is set to the gradient.
func (s *system) energy(x, g []Vec) float64 {
	clear(g)
	sum := 0.0
	for i, p := range x {
		w := gravity * s.mass[i]
		sum += w * p[2]
		if g != nil {
			g[i][2] += w
		}
	}
	s.eachLinear(func(l linear) {
		d := l.at.Mul(-1)
		for i, n := range l.n {
			d = d.Add(x[n].Mul(l.w[i]))
		}
		sum += l.k * d.Dot(d) / 2
		if g != nil {
			for i, n := range l.n {
				g[n] = g[n].Add(d.Mul(l.k * l.w[i]))
			}
		}
	})
	sum += s.stretch(x, g, s.warp) + s.stretch(x, g, s.weft)
	sum += s.sheared(x, g)
	sum += s.contact(x, g)
	if s.near != nil {
		sum += s.near.energy(x, g)
	}
	if g != nil {
		for i, f := range s.fixed {
			if f {
				g[i] = Vec{}
			}
		}
	}
	return sum
}

// yarns is the resistance to stretch, as much of it as there is yet.
func (s *system) yarns() float64 { return s.sheet.Stretch * s.soft }

func (s *system) stretch(x, g []Vec, edges []edge) float64 {
	sum, inverse, k := 0.0, 1/(s.h*s.h), s.yarns()
	for _, e := range edges {
		d := x[e.b].Sub(x[e.a])
		strain := (d.Dot(d)*inverse - 1) / 2
		sum += k * e.part * s.h * s.h * strain * strain / 2
		if g != nil {
			f := d.Mul(k * e.part * strain)
			g[e.b], g[e.a] = g[e.b].Add(f), g[e.a].Sub(f)
		}
	}
	return sum
}

// The mean edges of a cell along warp and weft as sums of its corners.
var (
	alongU = [4]float64{-0.5, 0.5, -0.5, 0.5}
	alongV = [4]float64{-0.5, -0.5, 0.5, 0.5}
)

func means(q *quad, x []Vec) (a, b Vec) {
	p := [4]Vec{x[q.n[0]], x[q.n[1]], x[q.n[2]], x[q.n[3]]}
	d, e := p[3].Sub(p[0]), p[1].Sub(p[2])
	return d.Add(e).Mul(0.5), d.Sub(e).Mul(0.5)
}

func (s *system) sheared(x, g []Vec) float64 {
	sum, inverse, k := 0.0, 1/(s.h*s.h), s.shears()
	for i := range s.quads {
		q := &s.quads[i]
		a, b := means(q, x)
		shear := a.Dot(b) * inverse
		sum += k * q.part * s.h * s.h * shear * shear / 2
		if g != nil {
			f := k * q.part * shear
			for j, n := range q.n {
				g[n] = g[n].Add(b.Mul(f * alongU[j])).Add(a.Mul(f * alongV[j]))
			}
		}
	}
	return sum
}

// shears is the resistance to shear, as much of it as there is yet.
func (s *system) shears() float64 { return s.sheet.Shear * math.Max(s.soft, 0.25) }

func (s *system) contactStiffness() float64 {
	return contactPerMetre * s.sheet.Stretch
}

func (s *system) contact(x, g []Vec) float64 {
	if s.body == nil {
		return 0
	}
	sum, k := 0.0, s.contactStiffness()
	for _, n := range s.free {
		area := math.Max(s.area[n], leastWeight*s.h*s.h)
		if s.stuck[n] {
			d := x[n].Sub(s.anchor[n])
			grip := s.grip[n] * k * area
			sum += grip * d.Dot(d) / 2
			if g != nil {
				g[n] = g[n].Add(d.Mul(grip))
			}
		}
		d, normal := s.body.Distance(x[n])
		if d >= 0 {
			continue
		}
		sum += k * area * d * d / 2
		if g != nil {
			g[n] = g[n].Add(normal.Mul(k * area * d))
		}
	}
	return sum
}

// stick lets go of what the friction cannot hold, after each step.
func (s *system) stick(x []Vec) {
	if s.body == nil || s.friction <= 0 {
		return
	}
	for _, n := range s.free {
		d, normal := s.body.Distance(x[n])
		if d >= 0 {
			s.stuck[n] = false
			continue
		}
		if !s.stuck[n] {
			s.stuck[n], s.anchor[n], s.grip[n] = true, x[n], stickShare
			continue
		}
		pull := s.anchor[n].Sub(x[n]).Mul(s.grip[n])
		pull = pull.Sub(normal.Mul(pull.Dot(normal)))
		s.grip[n] = stickShare
		if l, most := pull.Len(), s.friction*-d; l > most {
			pull, s.grip[n] = pull.Mul(most/l), slideShare
		}
		s.anchor[n] = x[n].Add(pull.Mul(1 / s.grip[n]))
	}
}

// hessian fills the matrix at x; safe drops what could make it indefinite.
func (s *system) hessian(x []Vec, safe bool) {
	m := s.mat
	for i, k := range s.still {
		m.blocks[i] = [9]float64{0: k, 4: k, 8: k}
	}
	s.stretchHessian(x, s.warp, s.slots.warp, safe)
	s.stretchHessian(x, s.weft, s.slots.weft, safe)
	s.shearHessian(x, safe)
	s.contactHessian(x)
	if s.near != nil {
		s.near.hessian(s, x)
	}
}

func outer(b *[9]float64, k float64, u, v Vec) {
	for r := range 3 {
		for c := range 3 {
			b[3*r+c] += k * u[r] * v[c]
		}
	}
}

func identity(b *[9]float64, k float64) {
	b[0] += k
	b[4] += k
	b[8] += k
}

// crushed is the strain under which a yarn is no longer about to buckle but caught, where two folds or seams
// press: it must not be what says how far the rest of the cloth may move.
const crushed = -0.004

func (s *system) stretchHessian(x []Vec, edges []edge, slots [][3]int32, safe bool) {
	inverse, k := 1/(s.h*s.h), s.yarns()
	for i, e := range edges {
		d := x[e.b].Sub(x[e.a])
		strain := (d.Dot(d)*inverse - 1) / 2
		if safe || s.near != nil && strain < crushed {
			strain = math.Max(0, strain)
		}
		for j, sl := range slots[i] {
			if sl < 0 {
				continue
			}
			f := k * e.part
			if j == 2 {
				f = -f
			}
			outer(&s.mat.blocks[sl], f*inverse, d, d)
			identity(&s.mat.blocks[sl], f*strain)
		}
	}
}

func (s *system) shearHessian(x []Vec, safe bool) {
	inverse, k := 1/(s.h*s.h), s.shears()
	for i := range s.quads {
		q := &s.quads[i]
		a, b := means(q, x)
		shear := a.Dot(b) * inverse
		var slope [4]Vec
		for j := range 4 {
			slope[j] = b.Mul(alongU[j]).Add(a.Mul(alongV[j]))
		}
		f := k * q.part
		n := 0
		for r := range 4 {
			for c := 0; c <= r; c++ {
				sl := s.slots.quad[i][n]
				n++
				if sl < 0 {
					continue
				}
				block := &s.mat.blocks[sl]
				u, v := slope[r], slope[c]
				if s.mat.place[s.place[q.n[r]]] < s.mat.place[s.place[q.n[c]]] {
					u, v = v, u
				}
				outer(block, f*inverse, u, v)
				mixed := alongU[r]*alongV[c] + alongV[r]*alongU[c]
				if safe {
					sign := math.Copysign(1, shear)
					mixed = sign * (alongU[r] + sign*alongV[r]) * (alongU[c] + sign*alongV[c]) / 2
				}
				identity(block, f*shear*mixed)
			}
		}
	}
}

func (s *system) contactHessian(x []Vec) {
	if s.body == nil {
		return
	}
	k := s.contactStiffness()
	for i, n := range s.free {
		block := &s.mat.blocks[s.mat.diag[i]]
		area := math.Max(s.area[n], leastWeight*s.h*s.h)
		if s.stuck[n] {
			identity(block, s.grip[n]*k*area)
		}
		if d, normal := s.body.Distance(x[n]); d < 0 {
			outer(block, k*area, normal, normal)
		}
	}
}
