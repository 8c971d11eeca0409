package drape

import "math"

// triangles are two for each cell that is mostly cloth.
func (m *mesh) triangles() [][3]int32 {
	var all [][3]int32
	for _, q := range m.quads {
		if q.part < 0.3 { // mostly outside the outline: its far corner is not cloth
			continue
		}
		for _, t := range [2][3]int32{{q.n[0], q.n[1], q.n[3]}, {q.n[0], q.n[3], q.n[2]}} {
			all = append(all, t)
		}
	}
	return all
}

// crossing visits the pairs of triangles of the cloth that pass through each other and
// are no neighbours.
func (m *mesh) crossing(x []Vec, visit func(a, b [3]int32)) {
	all := m.faces
	middle := make([]Vec, len(all))
	for i, t := range all {
		middle[i] = x[t[0]].Add(x[t[1]]).Add(x[t[2]]).Mul(1.0 / 3)
	}
	reach := 1.5 * m.h // of two middles, where each lies within 0.75 h of its corners, and yarns hardly stretch
	grid := newBuckets(reach, middle)
	for i, a := range all {
		grid.around(middle[i], int32(i), func(j int32) {
			b := all[j]
			if d := middle[i].Sub(middle[j]); d.Dot(d) > reach*reach {
				return
			}
			if (pierces(x, a, b) || pierces(x, b, a)) && !m.touch(a, b, sameCells) {
				visit(a, b)
			}
		})
	}
}

// touch reports whether two triangles lie within so many cells of each other in the cloth as it is sewn.
func (m *mesh) touch(a, b [3]int32, cells float64) bool {
	for _, p := range a {
		for _, q := range b {
			if way, _ := m.apart(p, q); p == q || way < cells*m.h {
				return true
			}
		}
	}
	return false
}

// crossings are the places in the flat where the cloth passes through itself, one for each
// pair of triangles.
func (m *mesh) crossings(x []Vec) (out []Mark) {
	m.crossing(x, func(a, _ [3]int32) { out = append(out, m.middle(a)) })
	return out
}

// middle is the middle of a triangle in the flat.
func (m *mesh) middle(t [3]int32) Mark {
	k := Mark{Panel: m.panel[t[0]]}
	for _, n := range t {
		k.U, k.V = k.U+m.uv[n][0]/3, k.V+m.uv[n][1]/3
	}
	return k
}

// pierces reports whether an edge of a passes through b.
func pierces(x []Vec, a, b [3]int32) bool {
	o := x[b[0]]
	e, f := x[b[1]].Sub(o), x[b[2]].Sub(o)
	n := e.Cross(f)
	p := [3]Vec{x[a[0]].Sub(o), x[a[1]].Sub(o), x[a[2]].Sub(o)}
	s := [3]float64{p[0].Dot(n), p[1].Dot(n), p[2].Dot(n)}
	if s[0]*s[1] >= 0 && s[1]*s[2] >= 0 { // all on one side, as nearly always
		return false
	}
	for i := range 3 {
		j := (i + 1) % 3
		if s[i]*s[j] >= 0 {
			continue
		}
		at := p[i].Add(p[j].Sub(p[i]).Mul(s[i] / (s[i] - s[j])))
		nn := n.Dot(n)
		u, v := at.Cross(f).Dot(n)/nn, e.Cross(at).Dot(n)/nn
		if u > 0 && v > 0 && u+v < 1 && !math.IsNaN(u) {
			return true
		}
	}
	return false
}
