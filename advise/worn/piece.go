package worn

import (
	"fmt"
	"math"
	"slices"

	"tenter/advise/cut"
	"tenter/fibres/drape"
	"tenter/fibres/fault"
)

// Worn is a piece ready to fall.
type Worn struct {
	Scene     drape.Scene
	Cell      float64       // side of the mesh's cells, metres
	Gently    bool          // from coarse and soft, kept from passing through itself
	Turn      float64       // of the camera, degrees from the front
	Tilt      float64       // of the camera, degrees down
	Hem       []drape.Mark  // along the lower edge, in order, for counting folds
	Closed    bool          // the hem runs all round
	Tester    *drape.Tester // where it is the disc test
	Low, High drape.Vec     // what a picture shows besides the cloth
	Says      []string      // how it is held, and what is left out
}

// builders make the scenes of what can be shown, by the word of what draws the shape.
var builders = map[string]func(m map[string]float64, f *Figure) Worn{
	"cape":         cape,
	"circle-skirt": circleSkirt,
	"gored":        gored,
	"gathered":     curtain,
	"rectangle":    tableCloth,
}

// Drawn lists the drawings that can be shown worn.
func Drawn() []string {
	var out []string
	for d := range builders {
		out = append(out, d)
	}
	slices.Sort(out)
	return out
}

// Wear makes a scene of a shape with the measures set, on an adult or a child.
func Wear(s cut.Shape, set map[string]string, f *Figure) (Worn, error) {
	build, ok := builders[s.Draws]
	if !ok {
		return Worn{}, NotShown(s.Name)
	}
	if _, err := s.Draw(set); err != nil {
		return Worn{}, err
	}
	m, err := s.Measures(set)
	if err != nil {
		return Worn{}, err
	}
	return build(m, f), nil
}

// round is a part of a circle: its inner edge of the girth is pinned to a ring, shared
// out over the given part of it.
type round struct {
	angle, girth, length float64 // radians, metres
	ring                 ring
	share                float64 // of the ring that the inner edge takes
	turn                 float64 // where on the ring the middle lies: 0 at the back, 0.5 in front
	slope                float64 // of the start, radians under level
	cell                 float64
	flutes               []int // how many flutes the starts have; none: one smooth cone
}

// fluted is a start in n even flutes that need next to no stretch: the cone hangs steeply,
// and what its round is short of the cloth goes into waves.
func (r round) fluted(n int) func(u, v float64) drape.Vec {
	inner := r.girth / r.angle
	return func(u, v float64) drape.Vec {
		rho, phi := math.Hypot(u, v), math.Atan2(v, u)
		phi = math.Max(-r.angle/2, math.Min(r.angle/2, phi))
		d := rho - inner
		share := phi / r.angle
		width := (r.girth*r.share + 2*math.Pi*r.share*d*math.Cos(r.slope)) / float64(n)
		depth := pleatDepth(width, math.Max(1, r.angle*rho/float64(n)/width))
		waves := (share + 0.5) * float64(n)
		t, _ := alongWave(waves, width, depth)
		p, out := r.ring.point(r.turn + (t/float64(n)-0.5)*r.share)
		return p.Add(out.Mul(d*math.Cos(r.slope) + depth*math.Cos(2*math.Pi*t))).Sub(drape.Vec{0, 0, d * math.Sin(r.slope)})
	}
}

// scene lays the round out with the middle of its back along the warp.
func (r round) scene() (drape.Scene, []drape.Mark) {
	inner := r.girth / r.angle
	outer := inner + r.length
	whole := r.angle > 2*math.Pi-1e-6
	polar := func(u, v float64) (float64, float64) { return math.Hypot(u, v), math.Atan2(v, u) }
	place := func(rho, phi float64) drape.Vec {
		p, out := r.ring.point(r.turn + phi/r.angle*r.share)
		d := rho - inner
		return p.Add(out.Mul(d * math.Cos(r.slope))).Sub(drape.Vec{0, 0, d * math.Sin(r.slope)})
	}
	mark := func(rho, phi float64) drape.Mark {
		s, c := math.Sincos(phi)
		return drape.Mark{U: rho * c, V: rho * s}
	}
	panel := drape.Panel{
		Low: [2]float64{-outer, -outer}, High: [2]float64{outer, outer},
		Inside: func(u, v float64) bool {
			rho, phi := polar(u, v)
			return rho > inner && rho < outer && (whole || math.Abs(phi) < r.angle/2)
		},
		Place: func(u, v float64) drape.Vec {
			rho, phi := polar(u, v)
			return place(rho, math.Max(-r.angle/2, math.Min(r.angle/2, phi)))
		},
	}
	for _, n := range r.flutes {
		panel.Starts = append(panel.Starts, r.fluted(n))
	}
	sc := drape.Scene{Panels: []drape.Panel{panel}, Friction: 0.3}
	n := max(12, int(math.Ceil(r.girth/(0.7*r.cell))))
	for i := range n + 1 {
		phi := r.angle * (float64(i)/float64(n) - 0.5)
		if whole && i == n {
			break
		}
		sc.Pins = append(sc.Pins, drape.Pin{Mark: mark(inner, phi), At: place(inner, phi)})
	}
	if !whole && r.share > 0.999 {
		for d := r.cell; d < r.length; d += 0.7 * r.cell {
			sc.Seams = append(sc.Seams, drape.Seam{A: mark(inner+d, -r.angle/2), B: mark(inner+d, r.angle/2)})
		}
	}
	var hem []drape.Mark
	for i := range 240 {
		hem = append(hem, mark(outer-0.001, r.angle*((float64(i)+0.5)/240-0.5)))
	}
	return sc, hem
}

func cape(m map[string]float64, f *Figure) Worn {
	girth := math.Max(m["girth"]/100, 0.3)
	angle := math.Min(m["angle"]*math.Pi/180, 2*math.Pi-0.02) // a whole circle is cut open in front
	r := round{angle, girth, m["length"] / 100, f.neckRing(girth * 1.02), 1 / 1.02, 0, 0.3, cellFor(m["length"] / 100), nil}
	sc, hem := r.scene()
	sc.Body = f
	w := Worn{Scene: sc, Cell: r.cell, Gently: true, Turn: 30, Tilt: 8, Hem: hem,
		Low: drape.Vec{-0.25, -0.15, f.waist/100 - 0.25}, High: drape.Vec{0.25, 0.15, f.crown / 100},
		Says: []string{"The neck edge is held as if sewn to a collar; the front hangs open."}}
	return w
}

// cellFor is a mesh fine enough for a hem and coarse enough to be done in time.
func cellFor(length float64) float64 { return math.Max(0.012, math.Min(0.02, length/30)) }

// flutesFor are the numbers of flutes to start from: about as many as a hem of this fullness
// shows; the lowest energy of them is gone on with.
func flutesFor(angle, length float64) []int {
	if angle < 0.45*2*math.Pi {
		return nil
	}
	n := int(math.Round(9 * angle / (2 * math.Pi)))
	return []int{max(3, n-2), n, n + 3}
}

func circleSkirt(m map[string]float64, f *Figure) Worn {
	return skirt(m["angle"]*math.Pi/180, m["girth"]/100, m["length"]/100, f)
}

func skirt(angle, girth, length float64, f *Figure) Worn {
	slope := math.Acos(math.Min(0.4, angle/(2*math.Pi))) // a cone that needs no stretch, or a steep one in flutes
	r := round{angle, girth, length, f.waistRing(girth), 1, 0.5, slope, cellFor(length) * math.Max(1, math.Sqrt(angle/math.Pi)*0.9), flutesFor(angle, length)}
	sc, hem := r.scene()
	sc.Body = f
	return Worn{Scene: sc, Cell: r.cell, Gently: true, Turn: 25, Tilt: 10, Hem: hem, Closed: true,
		Low: drape.Vec{-0.2, -0.12, f.waist / 100}, High: drape.Vec{0.2, 0.12, f.point / 100},
		Says: []string{"The waist edge is held at the waist; the seams are drawn together and no stiffer than the cloth."}}
}

func gored(m map[string]float64, f *Figure) Worn {
	w := skirt(math.Max(0.3, (m["hem"]-m["top"])/m["length"]), m["top"]/100, m["length"]/100, f)
	w.Says = append(w.Says, "The gores are shown as one round, with one grain.")
	return w
}

// curtain hangs from a rod in pleats of which the number is given, not found.
func curtain(m map[string]float64, _ *Figure) Worn {
	wide, full, drop := m["width"]/100, math.Max(1, m["fullness"]), m["drop"]/100
	show := math.Min(wide, 1.2) // a part of it shows how it falls
	flat := show * full
	pleats := math.Max(2, math.Round(flat/0.25))
	cell := math.Max(0.016, math.Min(0.025, flat/pleats/11))
	depth := pleatDepth(show/pleats, full)
	head := func(u float64) drape.Vec {
		t, x := alongWave(u/flat*pleats, show/pleats, depth)
		return drape.Vec{x - show/2, depth * math.Sin(2*math.Pi*t), 0}
	}
	panel := drape.Panel{
		// The warp runs down: u is the drop.
		Low: [2]float64{0, 0}, High: [2]float64{drop, flat},
		Inside: func(u, v float64) bool { return u > 0 && u < drop && v > 0 && v < flat },
		Place: func(u, v float64) drape.Vec {
			return head(math.Max(0, math.Min(flat, v))).Sub(drape.Vec{0, 0, u})
		},
	}
	sc := drape.Scene{Panels: []drape.Panel{panel}}
	for v := 0.0; v <= flat+1e-9; v += 0.7 * cell {
		sc.Pins = append(sc.Pins, drape.Pin{Mark: drape.Mark{V: v}, At: head(v)})
	}
	w := Worn{Scene: sc, Cell: cell, Turn: 20, Tilt: 10, Says: []string{fmt.Sprintf("The heading holds %.0f pleats over %.0f cm; how many is given, not computed.", pleats, 100*show)}}
	for i := range 240 {
		w.Hem = append(w.Hem, drape.Mark{U: drop - 0.001, V: flat * (float64(i) + 0.5) / 240})
	}
	return w
}

// waveLength is how long one wave of a sine is, and where on it a share of the length lies.
func waveLength(width, depth, upto float64) float64 {
	const parts = 400
	sum := 0.0
	for i := range parts {
		t := (float64(i) + 0.5) / parts * upto
		sum += math.Hypot(width, depth*2*math.Pi*math.Cos(2*math.Pi*t)) * upto / parts
	}
	return sum
}

func pleatDepth(width, full float64) float64 {
	low, high := 0.0, 10*width
	for high-low > 1e-7 {
		if mid := (low + high) / 2; waveLength(width, mid, 1) < full*width {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// alongWave is how many waves have gone by after so many of the cloth's, and how far
// along the rod.
func alongWave(waves, width, depth float64) (t, x float64) {
	whole := math.Floor(waves)
	want := (waves - whole) * waveLength(width, depth, 1)
	low, high := 0.0, 1.0
	for high-low > 1e-6 {
		if mid := (low + high) / 2; waveLength(width, depth, mid) < want {
			low = mid
		} else {
			high = mid
		}
	}
	return whole + low, (whole + low) * width
}

// table is a round top.
type table struct{ radius, thick float64 }

func (t table) Distance(p drape.Vec) (float64, drape.Vec) {
	r := math.Hypot(p[0], p[1])
	dr, dz := r-t.radius, math.Abs(p[2]+t.thick/2)-t.thick/2
	if dr > dz {
		return dr, drape.Vec{p[0] / r, p[1] / r, 0}
	}
	return dz, drape.Vec{0, 0, math.Copysign(1, p[2]+t.thick/2)}
}

// tableCloth lies on a round table two thirds as wide as its shorter side, and hangs over.
func tableCloth(m map[string]float64, _ *Figure) Worn {
	a, b := m["width"]/100, m["height"]/100
	radius := math.Min(a, b) / 3
	panel := drape.Panel{
		Low: [2]float64{-b / 2, -a / 2}, High: [2]float64{b / 2, a / 2},
		Inside: func(u, v float64) bool { return math.Abs(u) < b/2 && math.Abs(v) < a/2 },
		Held:   func(u, v float64) float64 { return math.Hypot(u, v) - radius },
		Place:  func(u, v float64) drape.Vec { return drape.Vec{u, v, 0.001} },
	}
	w := Worn{Scene: drape.Scene{Panels: []drape.Panel{panel}, Body: table{radius - 0.004, 0.03}}, Cell: math.Max(0.006, math.Min(a, b)/60), Turn: 30, Tilt: 28, Closed: true,
		Says: []string{fmt.Sprintf("It lies flat on a round top of %.0f cm and hangs over its edge.", 200*radius)}}
	for i := range 240 {
		s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / 240)
		k := math.Min(b/2/math.Max(1e-9, math.Abs(c)), a/2/math.Max(1e-9, math.Abs(s))) * 0.999
		w.Hem = append(w.Hem, drape.Mark{U: k * c, V: k * s})
	}
	return w
}

// Disc is the usual tester as something to be shown.
func Disc() Worn {
	t := drape.Usual
	sc := t.Scene()
	r := float64(t.Disc) / 200
	sc.Body = table{r - 0.004, 0.02}
	w := Worn{Scene: sc, Turn: 30, Tilt: 30, Closed: true, Tester: &t, Says: []string{"A round of 30 cm over a disc of 18 cm."}}
	for i := range 240 {
		s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / 240)
		w.Hem = append(w.Hem, drape.Mark{U: 0.1499 * c, V: 0.1499 * s})
	}
	return w
}

// Options are how the piece is computed.
func (w Worn) Options() drape.Options {
	if w.Tester != nil {
		return drape.Options{Cell: 0.0075, Seeds: 3}
	}
	return drape.Options{Cell: w.Cell, Gently: w.Gently, Apart: w.Gently, Iterations: 150, Settled: 0.0003}
}

// Folds counts how often the hem stands out from the middle on its way.
func (w Worn) Folds(r drape.Result) int {
	var at []drape.Vec
	var middle drape.Vec
	for _, k := range w.Hem {
		if p, ok := r.Point(k); ok {
			at = append(at, p)
			middle = middle.Add(p)
		}
	}
	middle = middle.Mul(1 / float64(max(1, len(at))))
	far := make([]float64, len(at))
	for i, p := range at {
		far[i] = math.Hypot(p[0]-middle[0], p[1]-middle[1])
		if !w.Closed && w.Scene.Body == nil { // a curtain's folds stand before and behind its line
			far[i] = p[1]
		}
	}
	if len(far) == 0 {
		return 0
	}
	return drape.Peaks(far, 0.003)
}

// NotShown is the fault of a piece of which there is no picture.
func NotShown(name string) error {
	return &fault.Fault{Kind: fault.NotFound, Where: name, What: "it cannot be shown worn", Expected: "a cape, a circle or gored skirt, a gathered panel, a rectangle, or disc",
		Mend: "tenter reckon hang tells how its edge falls"}
}
