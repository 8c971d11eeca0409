package worn

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

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
	Unseen    bool          // what it rests on is not drawn
	Flutes    float64       // how long the flutes hang that the picture is of, metres; 0: it is of none
}

// built is what a scene is made of: the measures, the draft cut from them, the form, and
// other shapes that the piece is joined with.
type built struct {
	m     map[string]float64
	draft cut.Draft
	form  *Figure
	shape func(id string) *cut.Shape
}

// piece says which shape a piece is cut from, with which measures where none are set, and how
// it is worn, by the word for where.
type piece struct {
	shape string
	usual map[string]string
	on    []on
}

type on struct {
	where string
	build func(b built) (Worn, bool)
}

func plainly(f func(m map[string]float64, form *Figure) Worn) func(b built) (Worn, bool) {
	return func(b built) (Worn, bool) { return f(b.m, b.form), true }
}

var (
	onNeck      = []on{{"neck", plainly(cape)}}
	onWaist     = []on{{"waist", plainly(circleSkirt)}}
	onShoulders = on{"shoulders", func(b built) (Worn, bool) {
		return shawl(b.form, b.m["width"]/100, b.m["height"]/100, 0, false), true
	}}
	onRod = []on{{"rod", plainly(curtain)}}
	flat  = []on{{"table", plainly(tableCloth)}, {"hand", plainly(overHand)}, onShoulders}
)

func rectangle(width, height string, o ...on) piece {
	return piece{"rectangle", map[string]string{"width": width, "height": height, "parts": "1"}, o}
}

// pieces are what can be shown worn.
var pieces = map[string]piece{
	"half-circle-cape":     {"half-circle-cape", nil, onNeck},
	"full-circle-cape":     {"full-circle-cape", nil, onNeck},
	"capelet":              {"half-circle-cape", map[string]string{"length": "45 cm"}, onNeck},
	"child-cape":           {"half-circle-cape", map[string]string{"length": "60 cm", "girth": "34 cm"}, onNeck},
	"hooded-cloak":         {"half-circle-cape", map[string]string{"length": "110 cm", "girth": "48 cm"}, []on{{"neck", cloak}}},
	"hood-two-part":        {"hood-two-part", nil, []on{{"head", func(b built) (Worn, bool) { return hoodAlone(b.draft, b.m, b.form) }}}},
	"hooded-wrap":          {"hooded-wrap", nil, []on{{"head", func(b built) (Worn, bool) { return hoodedWrap(b.draft, b.m, b.form) }}}},
	"triangular-shawl":     {"triangular-shawl", nil, []on{{"shoulders", shoulderTriangle}, {"head", headTriangle}}},
	"rectangular-wrap":     rectangle("190 cm", "70 cm", onShoulders),
	"stole":                rectangle("190 cm", "55 cm", onShoulders),
	"scarf":                rectangle("180 cm", "30 cm", onShoulders),
	"full-circle-skirt":    {"full-circle-skirt", nil, onWaist},
	"half-circle-skirt":    {"half-circle-skirt", nil, onWaist},
	"quarter-circle-skirt": {"quarter-circle-skirt", nil, onWaist},
	"gored-skirt":          {"gored-skirt", nil, []on{{"waist", plainly(gored)}}},
	"bias-skirt":           {"gored-skirt", map[string]string{"top": "74 cm", "hem": "150 cm", "length": "75 cm", "parts": "2"}, []on{{"waist", plainly(biasSkirt)}}},
	"gathered-skirt":       {"gathered-panel", nil, []on{{"waist", plainly(gatheredSkirt)}}},
	"wide-sash":            {"wide-sash", nil, []on{{"waist", plainly(sashEnd)}}},
	"gathered-panel":       {"gathered-panel", map[string]string{"width": "100 cm", "drop": "150 cm"}, onRod},
	"curtain":              {"gathered-panel", map[string]string{"width": "100 cm", "drop": "150 cm"}, onRod},
	"stage-curtain":        {"gathered-panel", map[string]string{"width": "120 cm", "drop": "200 cm"}, onRod},
	"table-cover":          rectangle("140 cm", "140 cm", flat...),
	"rectangle":            rectangle("60 cm", "60 cm", flat...),
	"napkin":               rectangle("45 cm", "45 cm", on{"hand", plainly(overHand)}),
}

// Shown lists the pieces that can be shown worn.
func Shown() []string { return slices.Sorted(maps.Keys(pieces)) }

// Shows reports whether a piece can be shown worn.
func Shows(id string) bool {
	_, ok := pieces[id]
	return ok
}

// Wear makes a scene of a piece with the measures set, on an adult or a child; where is empty for the
// usual place. Shape finds a shape by its id.
func Wear(id string, shape func(id string) *cut.Shape, set map[string]string, f *Figure, where string) (Worn, error) {
	p, ok := pieces[id]
	if !ok {
		return Worn{}, NotShown(id, "")
	}
	s := shape(p.shape)
	if s == nil {
		return Worn{}, NotShown(id, "")
	}
	all := maps.Clone(p.usual)
	if all == nil {
		all = map[string]string{}
	}
	maps.Copy(all, set)
	d, err := s.Draw(all)
	if err != nil {
		return Worn{}, err
	}
	m, err := s.Measures(all)
	if err != nil {
		return Worn{}, err
	}
	for _, o := range p.on {
		if where == "" || where == o.where {
			if w, ok := o.build(built{m, d, f, shape}); ok {
				return w, nil
			}
			return Worn{}, NotShown(id, "")
		}
	}
	return Worn{}, notThere(id, where, p.on)
}

func shoulderTriangle(b built) (Worn, bool) {
	return shawl(b.form, b.m["width"]/100, b.m["depth"]/100, b.m["dip"]/100, true), true
}

func headTriangle(b built) (Worn, bool) {
	return kerchief(b.form, b.m["width"]/100, b.m["depth"]/100, b.m["dip"]/100), true
}

// cloak is a cape with the usual hood.
func cloak(b built) (Worn, bool) {
	h := b.shape("hood-two-part")
	if h == nil {
		return Worn{}, false
	}
	neck := map[string]string{"neck": fmt.Sprintf("%.1f cm", math.Min(30, b.m["girth"]/2))}
	d, err := h.Draw(neck)
	if err != nil {
		return Worn{}, false
	}
	return hoodedCloak(b.m, b.form, d, math.Min(30, b.m["girth"]/2))
}

// gathers are a panel whose upper edge is laid in even pleats along a line: so many, given and
// not found.
type gathers struct {
	line      func(x float64) (p, out drape.Vec) // the place x along it, and the way the pleats stand out
	show      float64                            // how long the line is
	full      float64                            // how many times as much cloth
	drop      float64
	pleats    float64
	spreading float64 // how far the start leans out, as a share of the drop
	closed    bool
}

func (g gathers) scene() (drape.Scene, float64, []drape.Mark) {
	flat := g.show * g.full
	cell := math.Max(0.014, math.Min(0.025, flat/g.pleats/9))
	depth := pleatDepth(g.show/g.pleats, g.full)
	head := func(v, lean float64) drape.Vec {
		t, x := alongWave(v/flat*g.pleats, g.show/g.pleats, depth)
		p, out := g.line(x)
		return p.Add(out.Mul(depth*math.Sin(2*math.Pi*t) + lean))
	}
	panel := drape.Panel{
		// The warp runs down: u is the drop.
		Low: [2]float64{0, 0}, High: [2]float64{g.drop, flat},
		Inside: func(u, v float64) bool { return u > 0 && u < g.drop && v > 0 && v < flat },
		Place: func(u, v float64) drape.Vec {
			return head(math.Max(0, math.Min(flat, v)), g.spreading*math.Max(0, u)).Sub(drape.Vec{0, 0, u})
		},
	}
	sc := drape.Scene{Panels: []drape.Panel{panel}}
	for v := 0.0; v <= flat+1e-9; v += 0.7 * cell {
		sc.Pins = append(sc.Pins, drape.Pin{Mark: drape.Mark{V: v}, At: head(v, 0)})
	}
	if g.closed {
		for u := cell; u < g.drop; u += 0.7 * cell {
			sc.Seams = append(sc.Seams, drape.Seam{A: drape.Mark{U: u}, B: drape.Mark{U: u, V: flat}})
		}
	}
	var hem []drape.Mark
	for i := range 240 {
		hem = append(hem, drape.Mark{U: g.drop - 0.001, V: flat * (float64(i) + 0.5) / 240})
	}
	return sc, cell, hem
}

// neighbours are the widths of a curtain on either side, which keep its edges from swinging out.
type neighbours struct{ half float64 }

func (n neighbours) Distance(p drape.Vec) (float64, drape.Vec) {
	return n.half - math.Abs(p[0]), drape.Vec{-math.Copysign(1, p[0]), 0, 0}
}

// curtain hangs from a rod: a part of it, for it goes on alike.
func curtain(m map[string]float64, _ *Figure) Worn {
	show, full, drop := math.Min(m["width"]/100, 1), math.Max(1, m["fullness"]), m["drop"]/100
	pleats := math.Max(2, math.Round(show*full/0.25))
	g := gathers{func(x float64) (drape.Vec, drape.Vec) { return drape.Vec{x - show/2, 0, 0}, drape.Vec{0, 1, 0} }, show, full, math.Min(drop, 2.5), pleats, 0, false}
	sc, cell, hem := g.scene()
	sc.Body = neighbours{show / 2}
	w := Worn{Scene: sc, Unseen: true, Cell: cell, Gently: true, Turn: 20, Tilt: 10, Hem: hem, Says: []string{fmt.Sprintf("The heading holds %.0f pleats over %.0f cm, as many as given, not computed; the curtain goes on alike on either side.", pleats, 100*show)}}
	if drop > 2.5 {
		w.Says = append(w.Says, "Only its upper 2.5 m are shown.")
	}
	return w
}

// gatheredSkirt hangs from the waist in even gathers.
func gatheredSkirt(m map[string]float64, f *Figure) Worn {
	waist, full, drop := m["width"]/100, math.Max(1, m["fullness"]), m["drop"]/100
	r := f.waistRing(waist)
	pleats := math.Max(6, math.Round(waist*full/0.085))
	line := func(x float64) (drape.Vec, drape.Vec) {
		p, out := r.point(x / waist)
		return p.Add(out.Mul(0.004)), out
	}
	sc, cell, hem := gathers{line, waist, full, drop, pleats, 0.25, true}.scene()
	sc.Body, sc.Friction = f, 0.3
	return Worn{Scene: sc, Cell: cell, Gently: true, Turn: 25, Tilt: 10, Hem: hem, Closed: true,
		Low: drape.Vec{-0.2, -0.12, f.waist / 100}, High: drape.Vec{0.2, 0.12, f.point / 100},
		Says: []string{fmt.Sprintf("The waist is laid in %.0f even folds, as a stand for gathers, which are finer.", pleats)}}
}

// sashEnd is one end of a sash knotted at the side of the waist.
func sashEnd(m map[string]float64, f *Figure) Worn {
	r := f.waistRing(1.02 * f.waistGirth())
	width := m["width"] / 100
	drop := math.Max(0.2, math.Min(1, (m["length"]/100-1.35*r.length)/2))
	show := math.Max(0.05, width/4)
	at := 0.36 // of the way round from the back: the left front
	line := func(x float64) (drape.Vec, drape.Vec) {
		p, out := r.point(at + (x-show/2)/r.length)
		return p.Add(out.Mul(0.02 + 0.25*show)), out
	}
	pleats := math.Max(2, math.Round(width/0.13))
	sc, cell, hem := gathers{line, show, width / show, drop, pleats, 0.02, false}.scene()
	sc.Body, sc.Friction = f, 0.3
	return Worn{Scene: sc, Cell: cell, Gently: true, Turn: 35, Tilt: 8, Hem: hem,
		Low: drape.Vec{-0.2, -0.12, f.waist/100 - 0.2}, High: drape.Vec{0.2, 0.12, f.point / 100},
		Says: []string{fmt.Sprintf("One end of it, %.0f cm below the knot, which is not shown: the cloth is held there in %.0f folds.", 100*drop, pleats)}}
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
	w := Worn{Scene: drape.Scene{Panels: []drape.Panel{panel}, Body: table{radius - 0.004, 0.03}}, Cell: math.Max(0.006, math.Sqrt(a*b/2600)), Gently: true, Turn: 30, Tilt: 28, Closed: true,
		Says: []string{fmt.Sprintf("It lies flat on a round top of %.0f cm and hangs over its edge.", 200*radius)}}
	w.Hem = squareHem(a, b)
	return w
}

// palm is a hand held out flat, a rounded board, with the arm behind it. Woman's hand: US Army
// 2010-12 (ANSUR II), breadth 7.8 cm; its thickness of 2.6 cm is practice.
type palm struct{}

func (palm) Distance(p drape.Vec) (float64, drape.Vec) {
	const half, tip, wrist, thick = 0.026, 0.075, -0.09, 0.013
	at := drape.Vec{math.Max(-half, math.Min(half, p[0])), math.Max(wrist, math.Min(tip, p[1])), -thick}
	d := p.Sub(at)
	far, normal := d.Len()-thick, d.Unit()
	a, b := drape.Vec{0, wrist, -0.022}, drape.Vec{0, -0.32, -0.04}
	ab := b.Sub(a)
	t := math.Max(0, math.Min(1, p.Sub(a).Dot(ab)/ab.Dot(ab)))
	if d := p.Sub(a.Add(ab.Mul(t))); d.Len()-(0.024+0.012*t) < far {
		far, normal = d.Len()-(0.024+0.012*t), d.Unit()
	}
	return far, normal
}

// overHand lies with its middle on a hand held out.
func overHand(m map[string]float64, _ *Figure) Worn {
	a, b := m["width"]/100, m["height"]/100
	panel := drape.Panel{
		Low: [2]float64{-b / 2, -a / 2}, High: [2]float64{b / 2, a / 2},
		Inside: func(u, v float64) bool { return math.Abs(u) < b/2 && math.Abs(v) < a/2 },
		Place:  func(u, v float64) drape.Vec { return drape.Vec{v, u, 0.002} },
	}
	w := Worn{Scene: drape.Scene{Panels: []drape.Panel{panel}, Body: palm{}, Friction: 0.4}, Cell: math.Max(0.009, math.Sqrt(a*b/2200)), Gently: true, Turn: 40, Tilt: 22, Closed: true,
		Low: drape.Vec{-0.1, -0.2, -0.1}, High: drape.Vec{0.1, 0.1, 0.03},
		Says: []string{"Its middle lies on a hand held out flat."}}
	for _, u := range []float64{-0.01, 0.01} {
		w.Scene.Pins = append(w.Scene.Pins, drape.Pin{Mark: drape.Mark{U: u}, At: drape.Vec{0, u, 0.001}})
	}
	w.Hem = squareHem(a, b)
	return w
}

// squareHem is the way round a rectangle.
func squareHem(a, b float64) (out []drape.Mark) {
	for i := range 240 {
		s, c := math.Sincos(2 * math.Pi * (float64(i) + 0.5) / 240)
		k := math.Min(b/2/math.Max(1e-9, math.Abs(c)), a/2/math.Max(1e-9, math.Abs(s))) * 0.999
		out = append(out, drape.Mark{U: k * c, V: k * s})
	}
	return out
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
	return drape.Options{Cell: w.Cell, Gently: w.Gently, Apart: w.Gently, Iterations: 150, Settled: 0.0015}
}

// Stiffen makes a strip along the edges stiffer and heavier: a hem, a binding, allowances that lie
// in it, an interfacing. Where a cell is wider than the strip, its stiffness is shared out over the cell.
func (w *Worn) Stiffen(width, rigidity, mass float64) {
	if width <= 0 {
		return
	}
	reach := math.Max(width, w.cell()/2)
	share := width / reach
	for i := range w.Scene.Panels {
		p := &w.Scene.Panels[i]
		inside, before := p.Inside, p.Stiffer
		p.Stiffer = func(u, v float64) (float64, float64, float64) {
			a, b, c := 1.0, 1.0, 1.0
			if before != nil {
				a, b, c = before(u, v)
			}
			for k := range 8 {
				s, t := math.Sincos(math.Pi / 4 * float64(k))
				if !inside(u+reach*t, v+reach*s) {
					more := 1 + (rigidity-1)*share
					return a * more, b * more, c * (1 + (mass-1)*share)
				}
			}
			return a, b, c
		}
	}
}

// Form is what of its body is drawn; nil: nothing.
func (w Worn) Form() drape.Body {
	if w.Unseen {
		return nil
	}
	return w.Scene.Body
}

func (w Worn) cell() float64 { return w.Options().Cell }

// maxCrossings is how often cloth may pass through itself in a picture that is still shown: a
// fold or two of thousands of cells.
const maxCrossings = 12

// Misleads says why a result is not to be shown; empty where it may be.
func (w Worn) Misleads(s drape.Sheet, r drape.Result) string {
	switch {
	case r.Crossings > maxCrossings:
		return fmt.Sprintf("the cloth passes through itself in %d places", r.Crossings)
	case !r.Converged:
		return "it did not come to rest"
	case w.Flutes > 0 && foldWidth(s, w.Flutes) < foldCells*r.Cell:
		return fmt.Sprintf("so limp a cloth falls in flutes of some %.0f cm, finer than can be computed", 100*foldWidth(s, w.Flutes))
	}
	return ""
}

// foldCells is how many cells of the mesh a fold takes.
const foldCells = 5

// foldWidth is how wide a fold is of cloth that hangs so long, both in metres.
//
//	4.2 c^¾ L^¼
//
// Source: Cerda and Mahadevan 2003, from memory, with the weight of the cloth as its tension.
func foldWidth(s drape.Sheet, long float64) float64 {
	return 4.2 * math.Pow(s.BendingLength(), 0.75) * math.Pow(long, 0.25)
}

// narrowest is how narrow cells for flutes may be, as a share of the usual ones: narrower ones take too long.
const narrowest = 0.6

// CellFor is a cell no wider than the given one in which the flutes of a cloth show; the given one where they want
// too narrow a one.
func (w Worn) CellFor(s drape.Sheet, cell float64) float64 {
	wanted := 0.999 * foldWidth(s, w.Flutes) / foldCells
	if w.Flutes == 0 || wanted < narrowest*cell {
		return cell
	}
	return math.Min(cell, wanted)
}

// Again is the cell for another trial where one of the given cell would mislead, 0 where that would not help: in wider
// ones the sides of a hood mostly stay apart, but flutes want narrower ones.
func (w Worn) Again(s drape.Sheet, cell float64) float64 {
	if wider := 1.25 * cell; w.Flutes == 0 || foldWidth(s, w.Flutes) > foldCells*wider {
		return wider
	}
	return 0
}

// Unresolved is the width in metres under which folds cannot show in this mesh; 0 where the cloth
// makes none so narrow.
func (w Worn) Unresolved(s drape.Sheet, r drape.Result) float64 {
	low, high := heights(r)
	finest := foldCells * r.Cell
	if foldWidth(s, math.Max(0.05, high-low)) > finest {
		return 0
	}
	return finest
}

// heights are how high the lowest and the highest of a cloth lie, in metres.
func heights(r drape.Result) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range r.At {
		low, high = math.Min(low, p[2]), math.Max(high, p[2])
	}
	return low, high
}

// Where tells in words where most of the cloth lies that passes through itself.
func (w Worn) Where(r drape.Result) string {
	low, high := heights(r)
	found, best := map[string]int{}, ""
	for _, k := range r.Crossed {
		p, ok := r.Point(k)
		if !ok {
			continue
		}
		word := "half-way down"
		switch t := (p[2] - low) / math.Max(1e-9, high-low); {
		case t > 0.67:
			word = "high up"
		case t < 0.33:
			word = "low down"
		}
		if p[1] > 0 {
			word += " in front"
		} else {
			word += " at the back"
		}
		found[word]++
		if n := found[word]; n > found[best] || n == found[best] && word < best {
			best = word
		}
	}
	return best
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
		if !w.Closed && w.Unseen { // a curtain's folds stand before and behind its line
			far[i] = p[1]
		}
	}
	if len(far) == 0 {
		return 0
	}
	return drape.Peaks(far, 0.003)
}

// NotShown is the fault of a piece of which there is no picture; why may be empty.
func NotShown(id, why string) error {
	return &fault.Fault{Kind: fault.NotFound, Where: id, What: "it cannot be shown worn: " + cmp.Or(why, "no form of it is laid out"), Expected: "disc, " + strings.Join(Shown(), ", "),
		Mend: "tenter reckon hang tells how its edge falls; an -o FILE.svg draws it"}
}

func notThere(id, where string, all []on) error {
	var names []string
	for _, o := range all {
		names = append(names, o.where)
	}
	return &fault.Fault{Kind: fault.NotFound, Where: "--on", What: fmt.Sprintf("%s is not shown on %q", id, where), Expected: strings.Join(names, ", ")}
}
