package cut

import (
	"fmt"
	"math"
	"slices"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// effort is how hard layouts are sought, in placements tried: those that are shown,
// and those of which only the length is wanted.
type effort struct{ full, quick int }

// usualEffort is spent on every plan; the properties of plans are tested with less.
var usualEffort = effort{fullEffort, quickEffort}

const (
	fullEffort  = 8_000_000
	quickEffort = 200_000
)

// sized is a part with its cut line before any shrinking is added, as it is
// worn: width to the right, height upwards.
type sized struct {
	Part
	pts     []Point
	allowed allowances
	rough   bool
	even    bool // left and right are alike, so that it may be cut on a fold
}

// leaves is the allowance at the part's edges of a role; at its seams where it has none.
func (p sized) leaves(r Role) float64 {
	if slices.ContainsFunc(p.outline().Sides, func(s Side) bool { return s.Role == r }) {
		return p.allowed.of(r)
	}
	return p.allowed.seam
}

// hemmed reports whether an edge of the part is known to be a hem or left free.
func (p sized) hemmed() bool {
	return slices.ContainsFunc(p.outline().Sides, func(s Side) bool { return s.Role == Hem || s.Role == FreeEdge })
}

// drawParts finds the cut lines of the parts.
func drawParts(parts []Part, a allowances) []sized {
	out := make([]sized, len(parts))
	for i, p := range parts {
		o := rectangle(float64(p.Width), float64(p.Height))
		if p.Outline != nil {
			o = *p.Outline
		}
		pts, rough := withAllowance(o, a)
		out[i] = sized{Part: p, pts: pts, allowed: a, rough: rough}
		out[i].even = alike(turned(pts, 0, false), turned(pts, 0, true))
	}
	return out
}

// base is the cut line as it is worn, turned to the bias where it is cut so, and
// the quarter turns to the left by which it comes to lie with its grain.
func (p sized) base() (pts []Point, quarters int) {
	switch p.Grain {
	case AlongWidth:
		return p.pts, 1
	case OnBias:
		out := make([]Point, len(p.pts))
		for i, q := range p.pts {
			out[i] = q.turn(math.Pi / 4)
		}
		return out, 0
	}
	return p.pts, 0
}

// ways lists how a part may lie on a cloth of the layer that shrinks so much:
// its own way and its opposite; across the grain where that is allowed, and where
// it does not go on the cloth otherwise.
func (p sized) ways(l Layer, width, across, along float64) (ways []way) {
	pts, q := p.base()
	try := func(quarters int, mirror bool) {
		w := newWay(shrunkUp(turned(pts, quarters, mirror), across, along), 0, false)
		w.quarters, w.mirror = quarters&3, mirror
		if w.w > width+tolerance {
			return
		}
		for _, x := range ways {
			if x.mirror == mirror && alike(x.pts, w.pts) {
				return
			}
		}
		ways = append(ways, w)
	}
	try(q, false)
	if !l.OneWay {
		try(q+2, false)
	}
	if len(ways) == 0 || l.CrossGrain || p.Grain == AlongEither {
		try(q+1, false)
		if !l.OneWay {
			try(q+3, false)
		}
	}
	return ways
}

// mirrored are the same ways of the part cut face down.
func mirrored(ways []way) []way {
	out := make([]way, len(ways))
	for i, w := range ways {
		out[i] = newWay(w.pts, 0, true)
		out[i].quarters, out[i].mirror = w.quarters, true
	}
	return out
}

// layout is parts laid on cloth.
type layout struct {
	bench
	blanks []blank
	at     []laid
	length float64
	bound  float64
	area   float64 // of all parts
	folded bool
	spare  []int // parts of which a copy is left over, cut through both layers
	parts  []sized
}

// shrunk is the layout once its cloth has lost so much across and along: every point of
// it has moved with the cloth.
func (l layout) shrunk(across, along float64) layout {
	x, y := 1-across, 1-along
	l.width, l.repeatX = l.width*x, l.repeatX*x
	l.length, l.repeatY, l.bound = l.length*y, l.repeatY*y, l.bound*y
	l.area *= x * y
	blanks, at := slices.Clone(l.blanks), slices.Clone(l.at)
	for i := range blanks {
		w := blanks[i].ways[at[i].way]
		w.pts, w.w, w.h = scaled(w.pts, x, y), w.w*x, w.h*y
		blanks[i].ways = []way{w}
		at[i] = laid{x: at[i].x * x, y: at[i].y * y}
	}
	l.blanks, l.at = blanks, at
	return l
}

// copies counts how many copies of a part lie turned, their height across the
// cloth, or not.
func (l layout) copies(part int, turned bool) int {
	n, last := 0, false
	for i, b := range l.blanks {
		if b.part != part {
			continue
		}
		if last = b.ways[l.at[i].way].quarters&1 == 1; last != turned {
			continue
		}
		n++
		if l.folded && !b.fold {
			n++
		}
	}
	if last == turned && slices.Contains(l.spare, part) {
		n-- // the last is cut once more than it is needed
	}
	return n
}

// waste is the part of the cloth that is in no part.
func (l layout) waste() float64 {
	if l.length <= 0 {
		return 0
	}
	w := l.width
	if l.folded {
		w *= 2
	}
	return math.Max(0, 1-l.area/(w*l.length))
}

// lay lays the parts on a cloth of the width between its selvedges, shrinking so
// much. The fault says which part does not go on it. Whatever freedom the layer leaves
// the parts, it is never longer than with less of it.
func lay(parts []sized, l Layer, width, across, along float64, effort int) (layout, error) {
	out, err := layInWidths(parts, l, width, across, along, effort)
	if err != nil {
		return out, err
	}
	for _, less := range out.lessFree(l) {
		if out.length <= out.bound+tolerance {
			break
		}
		if x, err := layInWidths(less.parts, less.layer, width, across, along, effort); err == nil && x.length < out.length-tolerance {
			x.bound, x.parts = out.bound, parts
			out = x
		}
	}
	return out, nil
}

// leave is what a layer leaves its parts: less of it is tried as well.
type leave struct {
	parts []sized
	layer Layer
}

// lessFree are all ways of leaving the parts of a layout less freedom than the layer
// does: none across the grain but where it cannot lie otherwise, none that may lie either
// way, the nap all one way, and on a fold all that go on it or none that need not.
func (l layout) lessFree(layer Layer) []leave {
	all := []leave{{l.parts, layer}}
	less := func(of func(leave) (leave, bool)) {
		for _, x := range all {
			if y, ok := of(x); ok {
				all = append(all, y)
			}
		}
	}
	less(func(x leave) (leave, bool) {
		was := x.layer.CrossGrain
		x.layer.CrossGrain = false
		return x, was
	})
	less(func(x leave) (y leave, ok bool) {
		y = x
		y.parts, ok = straightened(x.parts)
		return y, ok && !x.layer.CrossGrain
	})
	less(func(x leave) (leave, bool) {
		was := x.layer.OneWay
		x.layer.OneWay = true
		return x, !was && l.endForEnd()
	})
	for _, to := range []foldWish{allOnFold, noneOnFold} {
		less(func(x leave) (leave, bool) {
			was := x.layer.fold
			x.layer.fold = to
			return x, was == oddOnFold && slices.ContainsFunc(l.blanks, func(b blank) bool { return b.fold == (to == noneOnFold) && len(b.instead) > 0 })
		})
	}
	return all[1:]
}

// foldWish is which parts lie on the fold of those that go on it and off it.
type foldWish int

const (
	oddOnFold  foldWish = iota // one of an odd number: none is cut once too often
	allOnFold                  // each copy by itself
	noneOnFold                 // all through both layers
)

// wants reports whether one of n copies is to lie on the fold.
func (f foldWish) wants(n int) bool { return f == allOnFold || f == oddOnFold && n%2 == 1 }

// endForEnd reports whether it is another thing for some part to lie turned end for end.
func (l layout) endForEnd() bool {
	return slices.ContainsFunc(l.blanks, func(b blank) bool {
		return slices.ContainsFunc(b.ways, func(w way) bool { return (w.quarters-b.ways[0].quarters)&3 == 2 })
	})
}

// layInWidths lays the parts in the ways that the layer lets them lie. What was found for
// a narrower cloth serves a wider one too: as long as one of fewer centimetres could be
// shorter by its lower bound, it is tried, with little effort.
func layInWidths(parts []sized, l Layer, width, across, along float64, effort int) (layout, error) {
	out, err := layAs(parts, l, width, across, along, effort)
	if err != nil {
		return out, err
	}
	step, narrower := rung, rungs
	if !out.boxes() {
		step, narrower = rungOfOutlines, rungsOfOutlines
	}
	least := out.narrowest(l, across, along)
	for w := math.Ceil(width/step-1) * step; narrower > 0 && w >= least && out.length > math.Max(out.bound, out.area/w)+tolerance; w = math.Ceil(w/step-1) * step {
		x, err := layAs(parts, l, w, across, along, min(effort, rungEffort))
		if err != nil {
			break
		}
		if narrower--; x.length < out.length-tolerance {
			x.width, x.bound = out.width, out.bound
			out = x
		}
	}
	return out, nil
}

// Of how many narrower cloths the layout is tried, how far apart they are, in cm, and
// with how much effort: a few parts come out no shorter with more, and outlines take
// their time.
const (
	rung, rungs                     = 1.0, 20
	rungOfOutlines, rungsOfOutlines = 5.0, 3
	rungEffort                      = 12_000
)

// narrowest is the least width of cloth on which no part has to lie turned that need
// not lie so on this one.
func (l layout) narrowest(layer Layer, across, along float64) float64 {
	least := 0.0
	for _, p := range l.parts {
		if layer.CrossGrain || p.Grain == AlongEither {
			continue
		}
		own := layer
		own.OneWay = true
		if w := p.ways(own, math.Inf(1), across, along)[0].w; w <= l.width+tolerance {
			least = math.Max(least, w)
		}
	}
	if l.folded {
		least *= 2
	}
	return least
}

// straightened are the parts of which none may lie either way; false where none may anyway.
func straightened(parts []sized) (less []sized, turns bool) {
	less = slices.Clone(parts)
	for i := range less {
		if less[i].Grain == AlongEither {
			less[i].Grain, turns = AlongHeight, true
		}
	}
	return less, turns
}

// layAs lays the parts in the ways that the layer lets them lie.
func layAs(parts []sized, l Layer, width, across, along float64, effort int) (layout, error) {
	out := layout{bench: bench{width: width, repeatY: float64(l.Repeat), repeatX: float64(l.RepeatAcross)}, folded: l.Folded, parts: parts}
	if l.Folded {
		out.width = width / 2
	}
	var found fault.List
	for i, p := range parts {
		ways := p.ways(l, out.width, across, along)
		n := p.Count
		half, folds := way{}, l.Folded && p.even && p.Grain != OnBias
		if folds {
			half, folds = onFold(p, l, out.width, across, along)
		}
		// An odd one lies on the fold, and so does each that is too wide for half the cloth.
		for folds && n > 0 && (l.fold.wants(n) || len(ways) == 0) {
			out.blanks = append(out.blanks, blank{part: i, ways: []way{half}, fold: true, instead: ways, share: 0.5})
			n--
		}
		if n > 0 && len(ways) == 0 {
			found = append(found, tooWide(p, l, width, across, along))
			continue
		}
		down := ways
		if !p.Same && !p.even && !l.Folded {
			down = mirrored(ways)
		}
		if l.Folded {
			if n%2 == 1 {
				out.spare = append(out.spare, i)
			}
			n = (n + 1) / 2
		}
		for k := range n {
			b := blank{part: i, ways: ways}
			if k%2 == 1 {
				b.ways = down
			}
			if folds {
				b.instead, b.share = []way{half}, 2
			}
			out.blanks = append(out.blanks, b)
		}
	}
	if err := found.OrNil(); err != nil {
		return out, err
	}
	for _, p := range parts {
		out.area += math.Abs(area(p.pts)) / (1 - across) / (1 - along) * float64(p.Count)
	}
	out.place(effort)
	return out, nil
}

// onFold is the half of an even part, its middle on the fold at the left.
func onFold(p sized, l Layer, width, across, along float64) (way, bool) {
	pts, q := p.base()
	w := newWay(shrunkUp(turned(pts, q, false), across, along), 0, false)
	if !alike(w.pts, turned(w.pts, 0, true)) {
		return w, false
	}
	half := clip(w.pts, w.w/2, w.w, 0, w.h)
	w = newWay(half, 0, false)
	w.quarters = q
	return w, w.w <= width+tolerance && len(half) > 2
}

// place finds where every blank lies: as boxes, and where there are other
// outlines also by their true shape.
func (l *layout) place(effort int) {
	boxes, stands := l.asBoxes()
	all := l.boxes()
	l.bound = boundOf(l.width, l.blanks)
	onBoxes := effort
	if all && !l.folded { // folded, a part may lie on the fold or off it
		l.bound = math.Max(l.bound, boxBound(l.bench, boxes))
	}
	if !all { // boxes are then no more than where the true shapes begin
		onBoxes /= 16
	}
	spots, length := packBoxes(l.bench, boxes, onBoxes)
	l.length, l.at = length, make([]laid, len(boxes))
	for i, s := range spots {
		l.at[i] = laid{way: 0, x: s.x, y: s.y}
		if s.other {
			l.at[i].way = stands[i]
		}
	}
	if !all && length > l.bound+tolerance {
		l.placeOutlines(effort)
	}
}

// asBoxes are the boxes round the blanks, each in the one or two ways it may lie; stands
// is the way that the second of a box's stands for.
func (l *layout) asBoxes() (boxes []box, stands []int) {
	boxes, stands = make([]box, len(l.blanks)), make([]int, len(l.blanks))
	for i, b := range l.blanks {
		boxes[i] = box{w: b.ways[0].w, h: b.ways[0].h, fold: b.fold}
		for k, w := range b.ways {
			if boxes[i].w2 == 0 && (!same(w.w, boxes[i].w) || !same(w.h, boxes[i].h)) {
				boxes[i].w2, boxes[i].h2, stands[i] = w.w, w.h, k
			}
		}
	}
	return boxes, stands
}

// placeOutlines lays the blanks by their true shapes: one by one, then joined to rows.
func (l *layout) placeOutlines(effort int) {
	cost := 0
	for _, b := range l.blanks {
		cost += 3000 * len(b.ways)
	}
	tries := max(12, min(300, 10*effort/cost))
	if at, nested := nest(l.bench, l.blanks, tries, l.bound); nested < l.length-tolerance {
		l.at, l.length = at, nested
	}
	if l.repeatX > 0 || l.repeatY > 0 {
		return // parts in a row, or let down, would not match
	}
	for _, perRow := range []int{len(l.blanks), 2} {
		if l.length > l.bound+tolerance {
			l.placeRows(perRow, tries/2)
		}
	}
	if len(l.blanks) <= maxSettled {
		l.length = settle(l.blanks, l.at)
	}
}

// placeRows lays the blanks joined to rows of so many at most, where that is shorter.
func (l *layout) placeRows(perRow, tries int) {
	list, ok := rows(l.bench, l.blanks, perRow)
	if !ok {
		return
	}
	at, nested := nest(l.bench, list, tries, l.bound)
	if nested >= l.length-tolerance {
		return
	}
	l.length, l.at = nested, make([]laid, len(l.blanks))
	for i, a := range at {
		for _, m := range list[i].ways[a.way].members {
			l.at[m.blank] = laid{way: m.way, x: a.x + m.x, y: a.y + m.y}
		}
	}
}

// boxes reports whether all parts are rectangles as they may lie.
func (l *layout) boxes() bool {
	return !slices.ContainsFunc(l.blanks, func(b blank) bool {
		return slices.ContainsFunc(b.ways, func(w way) bool { return !isBox(w.pts) })
	})
}

// maxSettled is up to how many parts are let down by their true outlines.
const maxSettled = 150

// tooWide says that a part does not go on the cloth, and what would.
func tooWide(p sized, l Layer, width, across, along float64) *fault.Fault {
	pts, q := p.base()
	least := math.Inf(1)
	for k := range 2 {
		w := newWay(shrunkUp(turned(pts, q+k, false), across, along), 0, false)
		least = math.Min(least, w.w)
	}
	need := least
	cloth := fmt.Sprintf("the %s is %s between its selvedges", l.Name, units.Length(width).Tape(l.sys))
	if l.Folded {
		need *= 2
		cloth = fmt.Sprintf("the %s is %s folded", l.Name, units.Length(width/2).Tape(l.sys))
		width /= 2
	}
	over := least*(1-across) - math.Min(float64(p.Width), float64(p.Height)) // allowances
	widest := units.Length(width*(1-across) - over)
	f := &fault.Fault{Kind: fault.WrongCall, Where: p.Name,
		What:     fmt.Sprintf("it is %s wide when cut; %s", units.Length(least).Tape(l.sys), cloth),
		Expected: fmt.Sprintf("cloth at least %s wide", (units.Length(need) + 2*l.Selvedge).AtLeast(l.sys)),
		Mend:     "choose wider cloth, or join the part from strips (--join)"}
	if widest > 0 && p.Grain != OnBias {
		f.Expected += fmt.Sprintf(", or a part at most %s wide when finished", widest.AtMost(l.sys))
	}
	if l.Folded {
		f.Mend = "lay the cloth flat, or choose wider cloth"
	}
	return f
}

// Lie is where one part lies on the cloth: its box, from the cut end of the cloth
// and its left selvedge (or fold), in cm.
type Lie struct {
	Part    string       `json:"part"`
	X       float64      `json:"x_cm"`
	Y       float64      `json:"y_cm"`
	Across  float64      `json:"across_cm"`
	Along   float64      `json:"along_cm"`
	Turn    int          `json:"turn_deg"`
	Mirror  bool         `json:"face_down,omitempty"`
	OnFold  bool         `json:"on_fold,omitempty"`
	Outline [][2]float64 `json:"outline,omitempty"` // the cut line, where it is no rectangle
}

// lies tells where the parts lie.
func (l layout) lies(parts []sized) []Lie {
	out := make([]Lie, 0, len(l.blanks))
	for i, b := range l.blanks {
		a := l.at[i]
		w := b.ways[a.way]
		x := Lie{Part: parts[b.part].Name, X: round4(a.x), Y: round4(a.y), Across: round4(w.w), Along: round4(w.h), Turn: w.quarters * 90, Mirror: w.mirror, OnFold: b.fold}
		if parts[b.part].Grain == OnBias {
			x.Turn += 45
		}
		if !isBox(w.pts) {
			for _, p := range thin(w.pts, 0.05) {
				x.Outline = append(x.Outline, [2]float64{round2(a.x + p.X), round2(a.y + p.Y)})
			}
		}
		out = append(out, x)
	}
	return out
}

func round2(v float64) float64 { return math.Round(v*100) / 100 }

// thin leaves out points of a polygon that lie within tol of the line between
// those that stay (Douglas and Peucker).
func thin(pts []Point, tol float64) []Point {
	n := len(pts)
	if n < 5 {
		return pts
	}
	far, k := 0.0, 0
	for i, p := range pts {
		if d := p.far(pts[0]); d > far {
			far, k = d, i
		}
	}
	keep := make([]bool, n+1)
	keep[0], keep[k] = true, true
	var walk func(a, b int)
	walk = func(a, b int) {
		worst, at := tol, -1
		for i := a + 1; i < b; i++ {
			if d := fromLine(pts[i%n], pts[a%n], pts[b%n]); d > worst {
				worst, at = d, i
			}
		}
		if at >= 0 {
			keep[at%n] = true
			walk(a, at)
			walk(at, b)
		}
	}
	walk(0, k)
	walk(k, n)
	out := make([]Point, 0, n)
	for i, p := range pts {
		if keep[i] {
			out = append(out, p)
		}
	}
	return out
}
