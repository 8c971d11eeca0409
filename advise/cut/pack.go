package cut

import (
	"math"
	"math/rand/v2"
	"slices"
	"sort"
)

// box is a rectangle to be laid on the cloth: w across, h along, in the one or
// two ways it may lie.
type box struct {
	w, h   float64
	w2, h2 float64 // the other way; 0 where there is none
	fold   bool    // lies against the fold, which is at x = 0
}

// spot is where the corner of a box nearest to the origin lies, and whether it
// lies the other way.
type spot struct {
	x, y  float64
	other bool
}

// bench is the strip of cloth that parts are laid on: its width, and the pattern
// repeat that every part begins on (0 is none).
type bench struct {
	width            float64
	repeatX, repeatY float64
}

// near is how close two lengths count as equal, in cm: a hundredth of a
// millimetre, far below what scissors do.
const near = 1e-3

// segment is a level stretch of the skyline.
type segment struct{ x, w, y float64 }

// skyline lays boxes one after another on the lowest, leftmost level stretch
// that is left. Of the boxes that fit there it takes the one that closes the
// stretch best, and among equals the first in the order given, or simply the first:
// the one that closes a stretch may stand in the way of the rest. A stretch that
// no box fits is raised to its lower neighbour.
type skyline struct {
	bench
	first bool // take the first box that fits
	boxes []box
	line  []segment
	left  []int // boxes not laid yet, in their order
	at    []spot
	way   []int8 // of each box: 0 lies as it fits best, 1 as it is, 2 the other way
	tried int    // placements tried
}

func newSkyline(b bench, boxes []box) *skyline {
	n := len(boxes)
	return &skyline{bench: b, boxes: boxes, line: make([]segment, 0, 2*n+2), left: make([]int, 0, n), at: make([]spot, n), way: make([]int8, n)}
}

// run lays the boxes in the order given and returns the length used, +Inf where
// a box cannot be laid at all.
func (s *skyline) run(order []int) float64 {
	s.line = append(s.line[:0], segment{0, s.width, 0})
	s.left = append(s.left[:0], order...)
	length := 0.0
	for len(s.left) > 0 {
		k := 0
		for i, g := range s.line {
			if g.y < s.line[k].y {
				k = i
			}
		}
		i, p, ok := s.choose(k)
		if !ok {
			if !s.raise(k) {
				return math.Inf(1)
			}
			continue
		}
		n := s.left[i]
		s.left = append(s.left[:i], s.left[i+1:]...)
		b := s.boxes[n]
		w, h := b.w, b.h
		if p.other {
			w, h = b.w2, b.h2
		}
		s.at[n] = p
		length = math.Max(length, p.y+h)
		s.put(k, p.x, w, p.y+h)
	}
	return length
}

// choose finds the box for stretch k and where on it the box goes.
func (s *skyline) choose(k int) (int, spot, bool) {
	g := s.line[k]
	left, right := math.Inf(1), math.Inf(1) // height of the walls
	if k > 0 {
		left = s.line[k-1].y - g.y
	}
	if k+1 < len(s.line) {
		right = s.line[k+1].y - g.y
	}
	best, bestScore, at := -1, -1, spot{}
	for i, n := range s.left {
		b := &s.boxes[n]
		for other, w, h := false, b.w, b.h; ; other, w, h = true, b.w2, b.h2 {
			s.tried++
			if other && s.way[n] == 1 || !other && s.way[n] == 2 {
				// it is to lie the other way
			} else if p, score, ok := s.fit(g, w, h, left, right, b.fold); ok && score > bestScore {
				p.other = other
				best, bestScore, at = i, score, p
			}
			if other || b.w2 == 0 {
				break
			}
		}
		if bestScore == 4 || s.first && best >= 0 {
			break
		}
	}
	return best, at, best >= 0
}

// fit says where a box goes on a stretch between two walls, and how well it
// closes it: 4 fills it level with a wall, 2 fills it, 1 is level with a wall.
func (s *skyline) fit(g segment, w, h, left, right float64, fold bool) (spot, int, bool) {
	if w > g.w+near || fold && g.x > near {
		return spot{}, 0, false
	}
	p := spot{x: g.x, y: up(g.y, s.repeatY)}
	score := 0
	switch {
	case w >= g.w-near:
		score = 2
		if same(h, left) || same(h, right) {
			score = 4
		}
	case same(h, left):
		score = 1
	case same(h, right):
		score = 1
		p.x = g.x + g.w - w
	case right > left:
		p.x = g.x + g.w - w
	}
	if fold {
		p.x = 0
	} else if s.repeatX > 0 {
		p.x = up(g.x, s.repeatX)
		if p.x+w > g.x+g.w+near {
			return spot{}, 0, false
		}
	}
	return p, score, true
}

// put raises the part of stretch k that a box covers.
func (s *skyline) put(k int, x, w, top float64) {
	g := s.line[k]
	var parts [3]segment
	n := 0
	start, end := x, math.Min(x+w, g.x+g.w)
	if x > g.x+near {
		parts[n] = segment{g.x, x - g.x, g.y}
		n++
	} else {
		start = g.x
	}
	if g.x+g.w-end <= near {
		end = g.x + g.w
	}
	parts[n] = segment{start, end - start, top}
	n++
	if g.x+g.w > end {
		parts[n] = segment{end, g.x + g.w - end, g.y}
		n++
	}
	s.splice(k, parts[:n])
	s.merge()
}

func (s *skyline) splice(k int, parts []segment) {
	grow := len(parts) - 1
	for range grow {
		s.line = append(s.line, segment{})
	}
	copy(s.line[k+len(parts):], s.line[k+1:len(s.line)-grow])
	copy(s.line[k:], parts)
}

// raise lifts stretch k to its lower neighbour; false when it has none.
func (s *skyline) raise(k int) bool {
	y := math.Inf(1)
	if k > 0 {
		y = s.line[k-1].y
	}
	if k+1 < len(s.line) {
		y = math.Min(y, s.line[k+1].y)
	}
	if math.IsInf(y, 1) {
		return false
	}
	s.line[k].y = y
	s.merge()
	return true
}

// merge joins neighbours of one height.
func (s *skyline) merge() {
	out := s.line[:1]
	for _, g := range s.line[1:] {
		if last := &out[len(out)-1]; math.Abs(g.y-last.y) <= near {
			last.w += g.w
			last.y = math.Max(last.y, g.y)
		} else {
			out = append(out, g)
		}
	}
	s.line = out
}

// up is the next multiple of step at or above v; v itself without a step.
func up(v, step float64) float64 {
	if step <= 0 {
		return v
	}
	return math.Ceil((v-near)/step) * step
}

func same(a, b float64) bool { return math.Abs(a-b) <= near }

// packBoxes lays boxes on the bench in the shortest length it finds, and says
// where each lies; +Inf where one does not fit. The boxes are laid one by one, and
// joined to blocks where some make a rectangle together. A box that may be turned
// is never laid worse for it: what comes of not turning it is tried first. budget
// is how many placements are tried, so that an answer is the same on every machine.
func packBoxes(b bench, boxes []box, budget int) ([]spot, float64) {
	low := boxBound(b, boxes)
	straight, may := unturned(b, boxes)
	at, best := []spot(nil), math.Inf(1)
	each := budget / 2
	if may {
		each /= 2
		at, best = packEach(b, straight, each)
	}
	try := func(spots []spot, length float64) {
		if length < best-near {
			at, best = spots, length
		}
	}
	if best > low+near {
		try(packEach(b, boxes, each))
	}
	if b.repeatX > 0 || b.repeatY > 0 || slices.ContainsFunc(boxes, func(x box) bool { return x.fold }) {
		return at, best // in a block a part would lie off the figure or the fold
	}
	n := len(boxes)
	for seed, least := range []int{1, 1, n / 16, n / 8, n / 4, n / 3, n / 2, n / 2} {
		if best <= low+near {
			break
		}
		try(packBlocks(b, boxes, max(1, least), uint64(seed), budget/12))
	}
	return at, best
}

// unturned are the boxes of which those that fit as they are may not be turned; false
// where none may be anyway.
func unturned(b bench, boxes []box) (straight []box, turns bool) {
	straight = slices.Clone(boxes)
	for i, x := range boxes {
		if x.w2 > 0 && x.w <= b.width+near {
			turns = true
			straight[i].w2, straight[i].h2 = 0, 0
		}
	}
	return straight, turns
}

// maxRuns is how many orders of a few boxes are tried: beyond it they come out no
// shorter. A run through n boxes tries about n² placements.
const maxRuns = 12000

// fewBoxes are so few that taking them as they come is worth as much effort as taking
// the one that fits best.
const fewBoxes = 24

// packEach lays boxes one by one. Several orders are tried, then the best is
// improved by exchanging two boxes, or turning one for good, at random, as hot metal
// settles when it cools, with a seed that is fixed: first with the box that fits a
// stretch best in each, then with the box that comes first.
func packEach(b bench, boxes []box, budget int) ([]spot, float64) {
	n := len(boxes)
	if n == 0 {
		return nil, 0
	}
	p := packer{skyline: newSkyline(b, boxes), best: math.Inf(1), at: make([]spot, n), order: make([]int, n), bestOrder: make([]int, n), bestWay: make([]int8, n)}
	for i, x := range boxes {
		if x.w2 > 0 && x.w <= b.width+near && x.w2 <= b.width+near {
			p.turns = append(p.turns, i)
		}
	}
	budget = min(budget, maxRuns*n*n)
	low := boxBound(b, boxes)
	p.sorted()
	p.improve(budget, low)
	if p.best > low+near {
		p.first = true
		p.sorted()
		if n > fewBoxes {
			budget /= 6
		}
		p.improve(budget, low)
	}
	return p.at, p.best
}

// packer seeks the best order of boxes for a skyline.
type packer struct {
	*skyline
	best             float64
	at               []spot // where the boxes of the best lie
	order, bestOrder []int
	bestWay          []int8
	turns            []int // boxes of which the way they lie is a move of the search
}

// measure lays the boxes in the order that is tried, and keeps it if it is the best.
func (p *packer) measure() float64 {
	l := p.run(p.order)
	if l < p.best-near {
		p.best = l
		copy(p.at, p.skyline.at)
		copy(p.bestOrder, p.order)
		copy(p.bestWay, p.way)
	}
	return l
}

// sorted tries the boxes from the largest to the smallest, in several senses.
func (p *packer) sorted() {
	clear(p.way)
	for _, by := range []func(b box) float64{
		func(b box) float64 { return b.w * b.h }, func(b box) float64 { return b.h }, func(b box) float64 { return b.w },
		func(b box) float64 { return b.w + b.h }, func(b box) float64 { return math.Max(b.w, b.h) },
	} {
		for i := range p.order {
			p.order[i] = i
		}
		sort.SliceStable(p.order, func(i, j int) bool { return by(p.boxes[p.order[i]]) > by(p.boxes[p.order[j]]) })
		p.measure()
	}
}

// improve tries changes of the best order until the budget is spent.
func (p *packer) improve(budget int, low float64) {
	p.tried = 0
	spent := func() float64 { return float64(p.tried) / float64(max(1, budget)) }
	copy(p.way, p.bestWay)
	copy(p.order, p.bestOrder)
	anneal(len(p.boxes), spent, p.best, low, p.change, p.measure, p.measure)
}

// change turns a box, or exchanges two, and says how to undo that; false where there
// is nothing to exchange.
func (p *packer) change(r *rand.Rand) (undo func(), ok bool) {
	if len(p.turns) > 0 && r.IntN(3) == 0 {
		i := p.turns[r.IntN(len(p.turns))]
		was := p.way[i]
		p.way[i] = (was + int8(1+r.IntN(2))) % 3
		return func() { p.way[i] = was }, true
	}
	o := p.order
	i, j := r.IntN(len(o)), r.IntN(len(o))
	if p.boxes[o[i]] == p.boxes[o[j]] {
		return nil, false
	}
	o[i], o[j] = o[j], o[i]
	return func() { o[i], o[j] = o[j], o[i] }, true
}

// The heat at the start, as a part of the length: of the order of what one of so many
// parts adds to it, found by trial on strips that are cut without waste.
const (
	maxHeat   = 0.02
	heatOfOne = 0.2
)

// anneal changes something at random and keeps the change when the length gets
// no longer, or, less and less often, when it does. It stops at the lower bound,
// and when spent, the part of the effort that is used up, comes to 1.
func anneal(n int, spent func() float64, best, low float64, change func(*rand.Rand) (undo func(), ok bool), begin, measure func() float64) {
	if n < 1 || best <= low+near || math.IsInf(best, 1) {
		return
	}
	r := rand.New(rand.NewPCG(12, 1914))
	current := begin()
	heat := math.Min(maxHeat, heatOfOne/float64(n))
	for idle := 0; spent() < 1 && best > low+near && idle < 1000; {
		undo, ok := change(r)
		if !ok || undo == nil {
			idle++ // nothing to exchange: all parts are alike
			continue
		}
		idle = 0
		l := measure()
		best = math.Min(best, l)
		cool := heat * best * (1 - spent())
		if l <= current || r.Float64() < math.Exp((current-l)/cool) {
			current = l
		} else {
			undo()
		}
	}
}

// boxBound is a length that no layout of the boxes can be under: the area over
// the width, the longest box, and the boxes too wide to lie side by side laid
// end to end.
func boxBound(b bench, boxes []box) float64 {
	area, longest, wide := 0.0, 0.0, 0.0
	for _, x := range boxes {
		area += x.w * x.h
		h, w := x.h, x.w
		if x.w2 > 0 && x.w2 <= b.width+near {
			area += math.Min(x.w2*x.h2, x.w*x.h) - x.w*x.h
			h, w = math.Min(h, x.h2), math.Min(w, x.w2)
		}
		longest = math.Max(longest, h)
		if w > b.width/2+near {
			wide += h
		}
	}
	return math.Max(area/b.width, math.Max(longest, wide))
}
