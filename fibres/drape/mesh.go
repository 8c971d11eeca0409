package drape

import (
	"fmt"
	"math"
	"math/rand/v2"

	"tenter/fibres/fault"
)

// The least share of a cell inside the outline for which it is kept, and the least
// weight that is given to what it holds.
const (
	leastCell   = 0.02
	leastWeight = 0.05
	sampled     = 8 // samples along a cell's side
	maxNodes    = 40000
)

// quad is a cell: its corners 00, 10, 01, 11, and the share of it that is cloth.
type quad struct {
	n    [4]int32
	part float64
}

// edge is a piece of yarn between two nodes.
type edge struct {
	a, b int32
	part float64
}

// triple is three nodes in a row along a yarn; k is its bending stiffness as a
// multiple of rigidity / h².
type triple struct {
	a, b, c int32
	k       float64
	weft    bool
}

// weighted is a material point as a mean of nodes.
type weighted struct {
	n [4]int32
	w [4]float64
}

type mesh struct {
	h       float64
	uv      [][2]float64
	panel   []int
	start   []Vec
	loose   []float64 // how far from what is held, for the first disturbance
	fixed   []bool
	cloth   []bool    // inside the outline: other nodes are corners of cells that it cuts
	area    []float64 // of cloth that a node stands for, m²
	load    []float64 // the same times the mass as a multiple of the sheet's
	quads   []quad
	warp    []edge
	weft    []edge
	triples []triple
	cells   []map[[2]int]int // by panel: quad at a grid place
	sewn    [][]sewn         // by node: the stitches near to it
	faces   [][3]int32       // triangles of the cells that are mostly cloth
}

func newMesh(s Scene, h float64) (*mesh, error) {
	m := &mesh{h: h}
	for i, p := range s.Panels {
		n := (p.High[0] - p.Low[0]) * (p.High[1] - p.Low[1]) / (h * h)
		if !(n < maxNodes) {
			return nil, &fault.Fault{Kind: fault.OutsideRange, Where: "drape", What: fmt.Sprintf("a panel has %.0f cells", n), Expected: fmt.Sprintf("under %d", maxNodes), Mend: "take a coarser mesh"}
		}
		m.addPanel(i, p)
	}
	if len(m.quads) == 0 {
		return nil, &fault.Fault{Kind: fault.OutsideRange, Where: "drape", What: "no cell of the mesh lies inside the outline", Expected: "cloth larger than a cell", Mend: "take a finer mesh"}
	}
	m.sewn, m.faces = m.nearSeams(s.Seams), m.triangles()
	return m, nil
}

// sewn is a stitch near to a node, and how far off it is.
type sewn struct {
	stitch int32
	away   float64
}

// nearSeams are the stitches near to each node, in order: where seams meet, those of all of them.
func (m *mesh) nearSeams(seams []Seam) [][]sewn {
	const reach = farCells
	out := make([][]sewn, len(m.uv))
	for i, uv := range m.uv {
		for n, t := range seams {
			away := math.Inf(1)
			for _, k := range [2]Mark{t.A, t.B} {
				if m.panel[i] == k.Panel {
					away = math.Min(away, math.Hypot(uv[0]-k.U, uv[1]-k.V))
				}
			}
			if away < reach*m.h {
				out[i] = append(out[i], sewn{int32(n), away})
			}
		}
	}
	return out
}

// addPanel lays the grid over one panel: cells, then the yarns between their corners.
func (m *mesh) addPanel(index int, p Panel) {
	h := m.h
	i0, i1 := int(math.Floor(p.Low[0]/h)), int(math.Ceil(p.High[0]/h))
	j0, j1 := int(math.Floor(p.Low[1]/h)), int(math.Ceil(p.High[1]/h))
	cells := map[[2]int]int{}
	node := map[[2]int]int32{}
	at := func(i, j int) int32 {
		k := [2]int{i, j}
		if n, ok := node[k]; ok {
			return n
		}
		n := int32(len(m.uv))
		node[k] = n
		u, v := float64(i)*h, float64(j)*h
		m.uv, m.panel, m.start = append(m.uv, [2]float64{u, v}), append(m.panel, index), append(m.start, p.Place(u, v))
		d := math.Inf(1)
		if p.Held != nil {
			d = p.Held(u, v)
		}
		m.loose = append(m.loose, d)
		m.fixed, m.cloth = append(m.fixed, d <= 0.35*h), append(m.cloth, p.holds(u, v, 0.1*h))
		m.area, m.load = append(m.area, 0), append(m.load, 0)
		return n
	}
	part := map[[2]int]float64{}
	for i := i0; i < i1; i++ {
		for j := j0; j < j1; j++ {
			w, f := cellMoments(p, float64(i)*h, float64(j)*h, h)
			if f <= leastCell {
				continue
			}
			q := quad{n: [4]int32{at(i, j), at(i+1, j), at(i, j+1), at(i+1, j+1)}, part: math.Max(f, leastWeight)}
			_, _, mass := p.stiffer((float64(i)+0.5)*h, (float64(j)+0.5)*h)
			for k, n := range q.n {
				m.area[n] += w[k] * h * h
				m.load[n] += w[k] * h * h * mass
			}
			part[[2]int{i, j}] = f
			cells[[2]int{i, j}] = len(m.quads)
			m.quads = append(m.quads, q)
		}
	}
	m.cells = append(m.cells, cells)
	m.addYarns(p, node, part, i0, i1, j0, j1)
}

// holds reports whether a point lies inside the outline, or hardly beyond it.
func (p Panel) holds(u, v, beyond float64) bool {
	return p.Inside(u-beyond, v-beyond) || p.Inside(u+beyond, v-beyond) || p.Inside(u-beyond, v+beyond) || p.Inside(u+beyond, v+beyond)
}

func (p Panel) stiffer(u, v float64) (float64, float64, float64) {
	if p.Stiffer == nil {
		return 1, 1, 1
	}
	return p.Stiffer(u, v)
}

// cellMoments returns how the cloth in a cell is shared among its corners, and
// how much of the cell is cloth.
func cellMoments(p Panel, u, v, h float64) (w [4]float64, part float64) {
	const each = 1.0 / (sampled * sampled)
	for a := range sampled {
		for b := range sampled {
			s, t := (float64(a)+0.5)/sampled, (float64(b)+0.5)/sampled
			if !p.Inside(u+s*h, v+t*h) {
				continue
			}
			part += each
			w[0] += each * (1 - s) * (1 - t)
			w[1] += each * s * (1 - t)
			w[2] += each * (1 - s) * t
			w[3] += each * s * t
		}
	}
	return w, part
}

// addYarns adds edges along warp and weft and the rows of three that bend.
func (m *mesh) addYarns(p Panel, node map[[2]int]int32, part map[[2]int]float64, i0, i1, j0, j1 int) {
	along := func(i, j int, weft bool) (int32, int32, float64, bool) {
		to, other := [2]int{i + 1, j}, [2]int{i, j - 1}
		if weft {
			to, other = [2]int{i, j + 1}, [2]int{i - 1, j}
		}
		w := (part[[2]int{i, j}] + part[other]) / 2
		if w == 0 {
			return 0, 0, 0, false
		}
		return node[[2]int{i, j}], node[to], math.Max(w, leastWeight), true
	}
	for i := i0; i <= i1; i++ {
		for j := j0; j <= j1; j++ {
			for _, weft := range []bool{false, true} {
				a, b, w, ok := along(i, j, weft)
				if !ok {
					continue
				}
				if weft {
					m.weft = append(m.weft, edge{a: a, b: b, part: w})
				} else {
					m.warp = append(m.warp, edge{a: a, b: b, part: w})
				}
				di, dj := 1, 0
				if weft {
					di, dj = 0, 1
				}
				_, c, w2, ok := along(i+di, j+dj, weft)
				if !ok {
					continue
				}
				t := triple{a: a, b: b, c: c, k: (w + w2) / 2 * m.clamp(a, b, c), weft: weft}
				su, sv, _ := p.stiffer(m.uv[b][0], m.uv[b][1])
				if weft {
					t.k *= sv
				} else {
					t.k *= su
				}
				m.triples = append(m.triples, t)
			}
		}
	}
}

// clamp corrects the bending at the last node that is held: the clamp's true line lies
// d cells outside it. Without this the error falls only as h.
func (m *mesh) clamp(a, b, c int32) float64 {
	if !m.fixed[b] || m.fixed[a] == m.fixed[c] {
		return 1
	}
	d := math.Max(-1, math.Min(0.4, m.loose[b]/m.h))
	return 4 * (0.5 - d) / math.Pow(1-d, 4)
}

// point is a material point as a mean of the corners of its cell, or of the
// nearest cell, beyond the edge.
func (m *mesh) point(k Mark) (weighted, bool) {
	i, j := int(math.Floor(k.U/m.h)), int(math.Floor(k.V/m.h))
	for ring := 0; ring <= 3; ring++ {
		best, bi, bj, found := math.Inf(1), 0, 0, 0
		for di := -ring; di <= ring; di++ {
			for dj := -ring; dj <= ring; dj++ {
				q, ok := m.cells[k.Panel][[2]int{i + di, j + dj}]
				if !ok {
					continue
				}
				cu, cv := (float64(i+di)+0.5)*m.h, (float64(j+dj)+0.5)*m.h
				if d := math.Hypot(cu-k.U, cv-k.V); d < best {
					best, bi, bj, found = d, i+di, j+dj, q+1
				}
			}
		}
		if found > 0 {
			s, t := k.U/m.h-float64(bi), k.V/m.h-float64(bj)
			return weighted{m.quads[found-1].n, [4]float64{(1 - s) * (1 - t), s * (1 - t), (1 - s) * t, s * t}}, true
		}
	}
	return weighted{}, false
}

func (w weighted) of(x []Vec) (p Vec) {
	for k, n := range w.n {
		p = p.Add(x[n].Mul(w.w[k]))
	}
	return p
}

// begun returns where the nodes start from in the given try.
func (m *mesh) begun(sc Scene, try int) []Vec {
	x := make([]Vec, len(m.start))
	for i, p := range m.start {
		x[i] = p
		if s := sc.Panels[m.panel[i]].Starts; len(s) > 0 && !m.fixed[i] {
			x[i] = s[try%len(s)](m.uv[i][0], m.uv[i][1])
		}
	}
	return x
}

// disturbed adds to a start a smooth random displacement, without which a flat sheet
// might stay flat.
func (m *mesh) disturbed(start []Vec, seed uint64, size float64) []Vec {
	r := rand.New(rand.NewPCG(seed, 0x9e3779b97f4a7c15))
	type wave struct {
		ku, kv, phase float64
		dir           Vec
	}
	waves := make([]wave, 8)
	for i := range waves {
		length := 0.05 * math.Pow(5, r.Float64())
		s, c := math.Sincos(2 * math.Pi * r.Float64())
		k := 2 * math.Pi / length
		waves[i] = wave{k * c, k * s, 2 * math.Pi * r.Float64(), Vec{r.NormFloat64() * 0.3, r.NormFloat64() * 0.3, r.NormFloat64()}}
	}
	x := make([]Vec, len(start))
	for i, p := range start {
		x[i] = p
		if m.fixed[i] {
			continue
		}
		grow := math.Min(1, math.Max(0, m.loose[i])/0.05) * size / math.Sqrt(float64(len(waves)))
		for _, w := range waves {
			x[i] = x[i].Add(w.dir.Mul(grow * math.Sin(w.ku*m.uv[i][0]+w.kv*m.uv[i][1]+w.phase)))
		}
	}
	return x
}
