package drape

import "math"

// crossings counts the pairs of triangles of the cloth that pass through each
// other and share no corner; along a seam cloth lies on cloth and is not counted.
func (m *mesh) crossings(x []Vec) int {
	type tri [3]int32
	var all []tri
	for _, q := range m.quads {
		if q.part < 0.3 { // mostly outside the outline: its far corner is not cloth
			continue
		}
		all = append(all, tri{q.n[0], q.n[1], q.n[3]}, tri{q.n[0], q.n[3], q.n[2]})
	}
	middle := func(t tri) Vec { return x[t[0]].Add(x[t[1]]).Add(x[t[2]]).Mul(1.0 / 3) }
	grid := newBuckets(1.6 * m.h)
	for i, t := range all {
		grid.add(middle(t), int32(i))
	}
	count := 0
	for i, a := range all {
		grid.around(middle(a), func(j int32) {
			b := all[j]
			if int(j) <= i {
				return
			}
			for _, p := range a {
				for _, q := range b {
					if p == q || m.sewn[p] && m.sewn[q] || m.panel[p] != m.panel[q] && m.start[p].Sub(m.start[q]).Len() < nearMaterial*m.h {
						return
					}
				}
			}
			if pierces(x, a, b) || pierces(x, b, a) {
				count++
			}
		})
	}
	return count
}

// pierces reports whether an edge of a passes through b.
func pierces(x []Vec, a, b [3]int32) bool {
	o := x[b[0]]
	e, f := x[b[1]].Sub(o), x[b[2]].Sub(o)
	n := e.Cross(f)
	for i := range 3 {
		p, q := x[a[i]].Sub(o), x[a[(i+1)%3]].Sub(o)
		s, t := p.Dot(n), q.Dot(n)
		if s*t >= 0 {
			continue
		}
		at := p.Add(q.Sub(p).Mul(s / (s - t)))
		nn := n.Dot(n)
		u, v := at.Cross(f).Dot(n)/nn, e.Cross(at).Dot(n)/nn
		if u > 0 && v > 0 && u+v < 1 && !math.IsNaN(u) {
			return true
		}
	}
	return false
}
