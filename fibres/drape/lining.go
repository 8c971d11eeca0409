package drape

import "math"

// A lining is a second sheet on the inner side of a panel. Nodes outside the outline are those of both
// sheets: there they are joined. Within, each node of the lining keeps on its own side of the shell,
// which it may slide along and fall away from.

const (
	layerGap   = 0.07 // of a cell, between the sheets where they lie on each other
	layerShare = 0.3  // of the stiffness of the contact with a body, for each side
)

// line adds the lining's nodes and what acts between them.
func (m *mesh) line(panels []Panel) {
	m.over, m.under = make([]float64, len(m.uv)), make([]float64, len(m.uv))
	any := false
	for _, p := range panels {
		any = any || p.Lined
	}
	if !any {
		return
	}
	m.twin = make([]int32, len(m.uv))
	for n := range int32(len(m.twin)) {
		p := panels[m.panel[n]]
		m.twin[n] = n
		if p.Lined && p.Inside(m.uv[n][0], m.uv[n][1]) {
			m.twin[n] = int32(len(m.uv))
			m.uv, m.panel, m.start = append(m.uv, m.uv[n]), append(m.panel, m.panel[n]), append(m.start, m.start[n])
			m.loose, m.fixed = append(m.loose, m.loose[n]), append(m.fixed, m.fixed[n])
			m.area, m.load, m.under = append(m.area, m.area[n]), append(m.load, 0), append(m.under, 0)
			m.over = append(m.over, 0)
		}
		if p.Lined {
			m.under[m.twin[n]], m.over[n], m.load[n] = m.load[n], m.load[n], 0
		}
	}
	lined := func(n int32) bool { return panels[m.panel[n]].Lined }
	for i, q := range m.quads {
		if lined(q.n[0]) {
			m.quads[i].of = shellOf
			m.quads = append(m.quads, quad{m.lowerNodes(q.n), q.part, liningOf})
		}
	}
	under := func(edges []edge) []edge {
		for i, e := range edges {
			if lined(e.a) {
				edges[i].of = shellOf
				edges = append(edges, edge{m.twin[e.a], m.twin[e.b], e.part, liningOf})
			}
		}
		return edges
	}
	m.warp, m.weft = under(m.warp), under(m.weft)
	for i, t := range m.triples {
		if lined(t.a) {
			m.triples[i].of = shellOf
			m.triples = append(m.triples, triple{m.twin[t.a], m.twin[t.b], m.twin[t.c], t.k, t.weft, liningOf})
		}
	}
}

func (m *mesh) lowerNodes(n [4]int32) [4]int32 {
	return [4]int32{m.twin[n[0]], m.twin[n[1]], m.twin[n[2]], m.twin[n[3]]}
}

// lower is the same point of the lining.
func (m *mesh) lower(w weighted) weighted {
	if m.twin != nil {
		w.n = m.lowerNodes(w.n)
	}
	return w
}

// inner reports whether a node is the lining's alone: those come last.
func (m *mesh) inner(n int32) bool { return m.twin != nil && int(n) >= len(m.twin) }

// joined reports whether all corners of a triangle are those of both sheets.
func (m *mesh) joined(t [3]int32) bool {
	return !m.inner(t[0]) && !m.inner(t[1]) && !m.inner(t[2])
}

// normals are those of either sheet by node, along u × v.
func (m *mesh) normals(x []Vec) []Vec {
	out := make([]Vec, len(m.uv))
	for i := range m.quads {
		q := &m.quads[i]
		a, b := means(q, x)
		n := a.Cross(b).Mul(q.part)
		for _, k := range q.n {
			out[k] = out[k].Add(n)
		}
	}
	for i := range out {
		out[i] = out[i].Unit()
	}
	return out
}

// outwards tells of each panel on which side it is outside: away from the body, or to the front and up.
func (s *plan) outwards(sc Scene) []float64 {
	sums := make([]float64, len(sc.Panels))
	if s.twin == nil {
		return sums
	}
	for n, v := range s.normals(s.start) {
		out := Vec{0, 1, 1}
		if s.body != nil {
			_, out = s.body.Distance(s.start[n])
		}
		sums[s.panel[n]] += v.Dot(out)
	}
	for i, x := range sums {
		sums[i] = math.Copysign(1, x)
	}
	return sums
}

// layUnder brings the lining under the shell as that starts.
func (s *plan) layUnder(x []Vec) {
	for n, l := range s.twin {
		x[l] = x[n]
	}
	s.partLayers(x)
}

// partLayers moves the lining inwards where it lies too close to the shell, as on a mesh that is new.
func (s *plan) partLayers(x []Vec) {
	if s.twin == nil {
		return
	}
	normals := s.normals(x)
	for n, l := range s.twin {
		if !s.inner(l) {
			continue
		}
		out := normals[n].Mul(s.outer[s.panel[n]])
		if short := layerGap*s.h - x[n].Sub(x[l]).Dot(out); short > 0 {
			x[l] = x[l].Sub(out.Mul(short))
		}
	}
}

// facing is a node of one sheet and the point of the other that it faces.
type facing struct {
	n      int32
	at     Mark
	w      weighted
	normal Vec // away from where the node may be
}

// faced is each node that is not joined before its own place on the other sheet.
func (s *plan) faced() (out []facing) {
	for n, l := range s.twin {
		if s.inner(l) && !s.fixed[l] {
			at := Mark{s.panel[n], s.uv[n][0], s.uv[n][1]}
			out = append(out, facing{n: l, at: at}, facing{n: int32(n), at: at})
		}
	}
	return out
}

// pairLayers tells which nodes of the shell a node of the lining may press on without a change of the
// matrix: those beside it in the flat.
func (s *plan) pairLayers(pair func(nodes ...int32)) {
	for i := range s.quads {
		q := &s.quads[i]
		if q.of != shellOf {
			continue
		}
		for _, n := range q.n {
			for _, k := range q.n {
				pair(s.twin[n], k)
			}
		}
	}
}

// face finds, after each step, what each node faces: it is followed along the other sheet.
func (s *system) face(x []Vec) {
	if len(s.facing) == 0 {
		return
	}
	normals := s.normals(x)
	for i := range s.facing {
		f := &s.facing[i]
		other := s.other(f)
		w := other(f.at)
		q := quad{n: w.n}
		a, b := means(&q, x)
		off := x[f.n].Sub(w.of(x))
		along := func(e Vec) float64 {
			return math.Max(-0.3, math.Min(0.3, off.Dot(e)/math.Max(1e-12, e.Dot(e)))) * s.h
		}
		to := Mark{f.at.Panel, f.at.U + along(a), f.at.V + along(b)}
		if _, is := s.cells[to.Panel][[2]int{int(math.Floor(to.U / s.h)), int(math.Floor(to.V / s.h))}]; is {
			f.at = to
			w = other(to)
		}
		f.w, f.normal = w, Vec{}
		for k, n := range w.n {
			f.normal = f.normal.Add(normals[n].Mul(w.w[k]))
		}
		out := s.outer[f.at.Panel]
		if !s.inner(f.n) {
			out = -out
		}
		f.normal = f.normal.Unit().Mul(out)
	}
}

// other finds points of the sheet that a node is not of.
func (s *system) other(f *facing) func(k Mark) weighted {
	return func(k Mark) weighted {
		w, _ := s.point(k)
		if !s.inner(f.n) {
			w = s.lower(w)
		}
		return w
	}
}

// depth is how far a node is on the wrong side of the other sheet, over 0 where it is.
func (s *system) depth(f *facing, x []Vec) float64 {
	return layerGap*s.h + x[f.n].Sub(f.w.of(x)).Dot(f.normal)
}

// pushOut moves nodes of the lining that a step has brought through the shell back to their side, so
// that the shell need not stop for them.
func (s *system) pushOut(x []Vec) {
	for i := range s.facing {
		f := &s.facing[i]
		if d := s.depth(f, x); s.inner(f.n) && d > 0.5*layerGap*s.h {
			x[f.n] = x[f.n].Sub(f.normal.Mul(d))
		}
	}
}

func (s *system) layerStiffness(f *facing) float64 {
	return layerShare * s.contactStiffness() * math.Max(s.area[f.n], leastWeight*s.h*s.h)
}

// layered is the energy of the lining pressing on the shell.
func (s *system) layered(x, g []Vec) float64 {
	sum := 0.0
	for i := range s.facing {
		f := &s.facing[i]
		d := s.depth(f, x)
		if d <= 0 || f.normal == (Vec{}) {
			continue
		}
		k := s.layerStiffness(f)
		sum += k * d * d / 2
		if g != nil {
			force := f.normal.Mul(k * d)
			g[f.n] = g[f.n].Add(force)
			for j, n := range f.w.n {
				g[n] = g[n].Sub(force.Mul(f.w.w[j]))
			}
		}
	}
	return sum
}

// layeredHessian adds the slope of that; where nodes have no block in common, what bounds it from above on
// their own blocks.
func (s *system) layeredHessian(x []Vec) {
	for i := range s.facing {
		f := &s.facing[i]
		if s.depth(f, x) <= 0 || f.normal == (Vec{}) {
			continue
		}
		nodes := [5]int32{f.n, f.w.n[0], f.w.n[1], f.w.n[2], f.w.n[3]}
		ws := [5]float64{1, -f.w.w[0], -f.w.w[1], -f.w.w[2], -f.w.w[3]}
		k := s.layerStiffness(f)
		add := func(n int32, k float64) {
			if p := s.place[n]; p >= 0 {
				outer(&s.mat.blocks[s.mat.diag[p]], k, f.normal, f.normal)
			}
		}
		for a, n := range nodes {
			add(n, k*ws[a]*ws[a])
			for b := range a {
				kk := k * ws[a] * ws[b]
				if kk == 0 || s.place[n] < 0 || s.place[nodes[b]] < 0 {
					continue
				}
				if slot, ok := s.pattern.slot[s.pattern.key(s.place[n], s.place[nodes[b]])]; ok {
					outer(&s.mat.blocks[slot], kk, f.normal, f.normal)
				} else {
					add(n, math.Abs(kk))
					add(nodes[b], math.Abs(kk))
				}
			}
		}
	}
}
