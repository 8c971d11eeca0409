package worn

import (
	"math"

	"tenter/fibres/drape"
)

// round is a part of a circle in equal parts: its inner edge of the girth is pinned to a ring,
// shared out over the given part of it.
type round struct {
	angle, girth, length float64 // radians, metres
	parts                int
	bias                 float64 // of the grain against the middle of a part, radians
	middle               bool    // the grain follows the middle of a part, not its edge
	ring                 ring
	share                float64 // of the ring that the inner edge takes
	turn                 float64 // where on the ring the middle lies: 0 at the back, 0.5 in front
	slope                float64 // of the start, radians under level
	cell                 float64
	flutes               []int   // how many flutes the starts have; none: one smooth cone
	open                 bool    // in front
	bend                 float64 // metres from the inner edge at which the start turns down over the shoulders; 0: nowhere
}

// under the bend the start falls so steeply, radians under level.
const steep = 1.25

// profile is how far out and down the start lies, so far from the inner edge.
func (r round) profile(d float64) (out, down float64) {
	s, c := math.Sincos(r.slope)
	if r.bend == 0 || d <= r.bend {
		return d * c, d * s
	}
	s2, c2 := math.Sincos(steep)
	return r.bend*c + (d-r.bend)*c2, r.bend*s + (d-r.bend)*s2
}

// seamStiff is how many times as hard a pressed seam bends along its line as the cloth: its two
// allowances lie on it. Practice.
const seamStiff = 3

func (r round) inner() float64 { return r.girth / r.angle }

// grainAt is the direction in the whole round, from its middle, along which the warp of a
// part runs. Every second part is cut face down, so that two share the grain at their seam.
func (r round) grainAt(part int) float64 {
	wide := r.angle / float64(r.parts)
	low := -r.angle/2 + float64(part)*wide
	switch {
	case r.parts == 1 || r.middle:
		return low + wide/2 + r.bias
	case part%2 == 0:
		return low + wide + r.bias
	}
	return low + r.bias
}

// mark is a point of the round by its distance from the centre and its angle, on the given part.
func (r round) mark(part int, rho, phi float64) drape.Mark {
	s, c := math.Sincos(phi - r.grainAt(part))
	return drape.Mark{Panel: part, U: rho * c, V: rho * s}
}

// polar is the reverse: the angle is one within half a turn of the part's middle.
func (r round) polar(part int, u, v float64) (rho, phi float64) {
	wide := r.angle / float64(r.parts)
	middle := -r.angle/2 + (float64(part)+0.5)*wide
	phi = math.Atan2(v, u) + r.grainAt(part) - middle
	phi -= 2 * math.Pi * math.Round(phi/(2*math.Pi))
	return math.Hypot(u, v), middle + phi
}

// cone is the smooth start, and where the inner edge is held.
func (r round) cone(rho, phi float64) drape.Vec {
	p, out := r.ring.point(r.turn + phi/r.angle*r.share)
	away, down := r.profile(rho - r.inner())
	return p.Add(out.Mul(away)).Sub(drape.Vec{0, 0, down})
}

// fluted is a start in n even flutes that need next to no stretch: the cone hangs steeply,
// and what its round is short of the cloth goes into waves.
func (r round) fluted(n int) func(rho, phi float64) drape.Vec {
	return func(rho, phi float64) drape.Vec {
		away, down := r.profile(rho - r.inner())
		width := (r.girth*r.share + 2*math.Pi*r.share*away) / float64(n)
		depth := pleatDepth(width, math.Max(1, r.angle*rho/float64(n)/width))
		t, _ := alongWave((phi/r.angle+0.5)*float64(n), width, depth)
		p, out := r.ring.point(r.turn + (t/float64(n)-0.5)*r.share)
		return p.Add(out.Mul(away + depth*math.Cos(2*math.Pi*t))).Sub(drape.Vec{0, 0, down})
	}
}

func (r round) panel(part int) drape.Panel {
	outer, wide := r.inner()+r.length, r.angle/float64(r.parts)
	low := -r.angle/2 + float64(part)*wide
	whole := r.parts == 1 && r.angle > 2*math.Pi-1e-6
	on := func(at func(rho, phi float64) drape.Vec) func(u, v float64) drape.Vec {
		return func(u, v float64) drape.Vec {
			rho, phi := r.polar(part, u, v)
			return at(rho, math.Max(low, math.Min(low+wide, phi)))
		}
	}
	p := drape.Panel{
		Low: [2]float64{-outer, -outer}, High: [2]float64{outer, outer},
		Inside: func(u, v float64) bool {
			rho, phi := r.polar(part, u, v)
			return rho > r.inner() && rho < outer && (whole || phi > low && phi < low+wide)
		},
		Place: on(r.cone),
	}
	for _, n := range r.flutes {
		p.Starts = append(p.Starts, on(r.fluted(n)))
	}
	return p
}

// scene lays the parts out, pins the inner edge and joins the seams; it tells the hem.
func (r round) scene() (drape.Scene, []drape.Mark) {
	sc := drape.Scene{Friction: 0.3}
	wide := r.angle / float64(r.parts)
	var hem []drape.Mark
	for part := range r.parts {
		sc.Panels = append(sc.Panels, r.panel(part))
		low := -r.angle/2 + float64(part)*wide
		n := max(4, int(math.Ceil(r.girth/float64(r.parts)/(0.7*r.cell))))
		for i := range n + 1 {
			phi := low + wide*float64(i)/float64(n)
			sc.Pins = append(sc.Pins, drape.Pin{Mark: r.mark(part, r.inner(), phi), At: r.cone(r.inner(), phi)})
		}
		m := 240 / r.parts
		for i := range m {
			hem = append(hem, r.mark(part, r.inner()+r.length-0.001, low+wide*(float64(i)+0.5)/float64(m)))
		}
		next := (part + 1) % r.parts
		if next == 0 && (r.open || r.parts == 1 && r.angle > 2*math.Pi-1e-6) {
			continue
		}
		far := low + wide // of the next part, the same line seen from its other side
		if next == 0 {
			far = -r.angle / 2
		}
		for d := r.cell; d < r.length; d += 0.7 * r.cell {
			sc.Seams = append(sc.Seams, drape.Seam{A: r.mark(part, r.inner()+d, low+wide), B: r.mark(next, r.inner()+d, far)})
		}
	}
	r.stiffen(sc.Panels)
	return sc, hem
}

// stiffen makes the cloth stiffer along the seams, by their allowances.
func (r round) stiffen(panels []drape.Panel) {
	if r.parts == 1 {
		return
	}
	wide := r.angle / float64(r.parts)
	for part := range panels {
		low := -r.angle/2 + float64(part)*wide
		grain := r.grainAt(part)
		panels[part].Stiffer = func(u, v float64) (float64, float64, float64) {
			rho, phi := r.polar(part, u, v)
			edge, d := low, phi-low
			if low+wide-phi < d {
				edge, d = low+wide, low+wide-phi
			}
			if r.open && (part == 0 && edge == low || part == len(panels)-1 && edge > low) || d*rho > 0.75*r.cell {
				return 1, 1, 1
			}
			// Of a strip as wide as a cell and a half, an allowance of 1.5 cm on either side is stiffer.
			more := (seamStiff - 1) * math.Min(1, 0.015/(0.75*r.cell))
			along := math.Pow(math.Cos(edge-grain), 2)
			return 1 + more*along, 1 + more*(1-along), 1 + math.Min(1, 0.015/(0.75*r.cell))
		}
	}
}

// cellFor is a mesh fine enough for a hem and coarse enough to be done in time.
func cellFor(length float64) float64 { return math.Max(0.012, math.Min(0.02, length/30)) }

// flutesFor are the numbers of flutes to start from: about as many as a hem of this fullness
// shows; the lowest energy of them is gone on with.
func flutesFor(angle float64) []int {
	if angle < 0.45*2*math.Pi {
		return nil
	}
	n := int(math.Round(9 * angle / (2 * math.Pi)))
	return []int{max(3, n-2), n, n + 3}
}

// flutesHang is how long the flutes are that are to be seen, of what is much fuller than its cone; 0: none.
func (r round) flutesHang() float64 {
	if r.angle < 0.7*2*math.Pi {
		return 0
	}
	return r.length
}

// claspFrom and claspTo are how far under the neck edge the fronts are held together.
const claspFrom, claspTo = 0.005, 0.04

// capeRound is a cape's round, its fronts closed at the neck.
func capeRound(m map[string]float64, f *Figure) round {
	girth := math.Max(m["girth"]/100, 0.3)
	angle := m["angle"] * math.Pi / 180
	r := round{angle: angle, girth: girth, length: m["length"] / 100, parts: max(1, int(m["parts"])), ring: f.neckRing(girth), share: 1, slope: 0.3, cell: capeCell(angle, m["length"]/100), open: true, bend: 0.009 * f.point / 100 * f.shoulder}
	if r.parts == 1 {
		r.angle = math.Min(angle, 2*math.Pi-0.02) // a whole circle is cut open in front
	}
	if angle > 1.2*math.Pi {
		r.flutes = flutesFor(angle)
	}
	return r
}

// clasp holds the fronts together under the neck edge.
func (r round) clasp() (out []drape.Seam) {
	for d := claspFrom; d <= claspTo; d += 0.7 * math.Min(r.cell, claspTo-claspFrom) {
		out = append(out, drape.Seam{A: r.mark(0, r.inner()+d, -r.angle/2), B: r.mark(r.parts-1, r.inner()+d, r.angle/2)})
	}
	return out
}

func cape(m map[string]float64, f *Figure) Worn {
	r := capeRound(m, f)
	sc, hem := r.scene()
	sc.Body, sc.Seams = f, append(sc.Seams, r.clasp()...)
	return Worn{Scene: sc, Cell: r.cell, Gently: true, Turn: 30, Tilt: 8, Hem: hem, Flutes: r.flutesHang(),
		Low: drape.Vec{-0.25, -0.15, f.waist/100 - 0.25}, High: drape.Vec{0.25, 0.15, f.crown / 100},
		Says: []string{"The neck edge is held as if sewn to a collar and closed by a clasp; the front hangs open below."}}
}

// capeCell keeps a large cape to some two thousand nodes.
func capeCell(angle, length float64) float64 {
	area := angle / 2 * (length + 0.1) * (length + 0.1)
	return math.Max(cellFor(length), math.Sqrt(area/1600))
}

func circleSkirt(m map[string]float64, f *Figure) Worn {
	return skirt(round{angle: m["angle"] * math.Pi / 180, girth: m["girth"] / 100, length: m["length"] / 100, parts: int(m["parts"])}, f)
}

func skirt(r round, f *Figure) Worn {
	r.parts = max(1, r.parts)
	r.slope = math.Acos(math.Min(0.4, r.angle/(2*math.Pi))) // a cone that needs no stretch, or a steep one in flutes
	r.ring, r.share, r.turn = f.waistRing(r.girth), 1, 0.5
	if r.parts%4 != 0 && r.parts > 1 { // a part in the middle of the front, seams at the sides
		r.turn += 0.5 / float64(r.parts)
	}
	r.cell, r.flutes = capeCell(r.angle, r.length), flutesFor(r.angle)
	sc, hem := r.scene()
	sc.Body = f
	return Worn{Scene: sc, Cell: r.cell, Gently: true, Turn: 25, Tilt: 10, Hem: hem, Closed: true, Flutes: r.flutesHang(),
		Low: drape.Vec{-0.2, -0.12, f.waist / 100}, High: drape.Vec{0.2, 0.12, f.point / 100},
		Says: []string{"The waist edge is held at the waist; seams are stiffer by their allowances, and do not pucker."}}
}

func gored(m map[string]float64, f *Figure) Worn {
	return skirt(round{angle: math.Max(0.3, (m["hem"]-m["top"])/m["length"]), girth: m["top"] / 100, length: m["length"] / 100, parts: int(m["parts"]), middle: true}, f)
}

// biasSkirt is two panels with the grain at 45 degrees to the middle of each.
func biasSkirt(m map[string]float64, f *Figure) Worn {
	return skirt(round{angle: math.Max(0.3, (m["hem"]-m["top"])/m["length"]), girth: m["top"] / 100, length: m["length"] / 100, parts: 2, middle: true, bias: math.Pi / 4}, f)
}
