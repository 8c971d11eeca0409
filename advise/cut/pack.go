package cut

import (
	"cmp"
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

// tolerance is how close two lengths count as equal, in cm: a hundredth of a
// millimetre, far below what scissors do.
const tolerance = 1e-3

// segment is a level stretch of the skyline.
type segment struct{ x, w, y float64 }

// skyline lays boxes one after another on the lowest, leftmost level stretch
// that is left. Of the boxes that fit there it takes the one that closes the
// stretch best, and among equals the first in the order given, or simply the first:
// the one that closes a stretch may stand in the way of the rest. A stretch that
// no box fits is raised to its lower neighbour.
type skyline struct {
	bench
	first    bool // take the first box that fits
	boxes    []box
	line     []segment
	at       []spot
	way      []int8    // of each box: 0 lies as it fits best, 1 as it is, 2 the other way
	tried    int       // placements tried
	area     float64   // of all boxes
	least    []float64 // of each box, how much width it takes at least
	target   float64   // the length that is sought
	over     float64   // what lies beyond it, after a run
	byWidth  []side    // the sides that may lie across, the narrowest first
	byHeight []side    // the same, the lowest first
	narrow   int       // before it in byWidth all are laid
	rank     []int     // of each box in the order; -1 when it is laid
	next     []int     // of each box, the one after it in the order that is not laid yet, -1 after the last
	last     []int     // of each box, the one before it, -1 before the first
	head     int       // the first of them
}

// side is a box as it may lie, and its side by which it is found.
type side struct {
	long  float64
	box   int
	other bool
}

func newSkyline(b bench, boxes []box) *skyline {
	n := len(boxes)
	s := &skyline{bench: b, boxes: boxes, line: make([]segment, 0, 2*n+2), at: make([]spot, n), way: make([]int8, n), rank: make([]int, n), next: make([]int, n), last: make([]int, n)}
	for i, x := range boxes {
		s.byWidth, s.byHeight = append(s.byWidth, side{x.w, i, false}), append(s.byHeight, side{x.h, i, false})
		least := x.w * x.h
		if x.w2 > 0 {
			s.byWidth, s.byHeight = append(s.byWidth, side{x.w2, i, true}), append(s.byHeight, side{x.h2, i, true})
			least = min(least, x.w2*x.h2)
		}
		s.area += least
		short := x.w
		if x.w2 > 0 {
			short = min(x.w, x.w2)
		}
		s.least = append(s.least, short)
	}
	byLong := func(a, b side) int { return cmp.Compare(a.long, b.long) }
	slices.SortStableFunc(s.byWidth, byLong)
	slices.SortStableFunc(s.byHeight, byLong)
	return s
}

// begin clears the bench and puts all boxes in the order given.
func (s *skyline) begin(order []int) {
	s.line = append(s.line[:0], segment{0, s.width, 0})
	s.narrow, s.head = 0, order[0]
	before := -1
	for i, n := range order {
		s.rank[n], s.last[n], s.next[n] = i, before, -1
		if before >= 0 {
			s.next[before] = n
		}
		before = n
	}
}

// take removes a box from those that are not laid yet.
func (s *skyline) take(n int) {
	s.rank[n] = -1
	if s.last[n] >= 0 {
		s.next[s.last[n]] = s.next[n]
	} else {
		s.head = s.next[n]
	}
	if s.next[n] >= 0 {
		s.last[s.next[n]] = s.last[n]
	}
	for s.narrow < len(s.byWidth) && s.rank[s.byWidth[s.narrow].box] < 0 {
		s.narrow++
	}
}

// run lays the boxes in the order given and returns the length used, +Inf where
// a box cannot be laid at all, or as soon as it is sure to come to more than limit.
func (s *skyline) run(order []int, limit float64) float64 {
	s.begin(order)
	length, empty := 0.0, 0.0
	s.over = 0
	bad := func() bool { return s.cost(length, max(s.over, empty+s.area-s.target*s.width)) > limit+tolerance }
	for s.head >= 0 {
		k := 0
		for i, g := range s.line {
			if g.y < s.line[k].y {
				k = i
			}
		}
		n, p, ok := s.choose(k)
		if !ok {
			low := s.line[k]
			y, ok := s.raise(k)
			if empty += low.w * (min(y, s.target) - min(low.y, s.target)); !ok || bad() {
				return math.Inf(1)
			}
			continue
		}
		s.take(n)
		b := s.boxes[n]
		w, h := b.w, b.h
		if p.other {
			w, h = b.w2, b.h2
		}
		s.at[n] = p
		if top := p.y + h; top > s.target {
			s.over += w * min(h, top-s.target)
			if length = max(length, top); bad() {
				return math.Inf(1)
			}
		} else {
			length = max(length, top)
		}
		s.put(k, p.x, w, p.y+h)
	}
	return length
}

// choice is the box that is best for a stretch so far.
type choice struct {
	box, score, rank int
	at               spot
}

// choose finds the box for stretch k and where on it the box goes. Boxes that close it
// are looked up by their sides; else it is the first that fits.
func (s *skyline) choose(k int) (int, spot, bool) {
	g := s.line[k]
	if s.narrow == len(s.byWidth) || s.byWidth[s.narrow].long > g.w+tolerance {
		s.tried++
		return -1, spot{}, false
	}
	left, right := math.Inf(1), math.Inf(1) // height of the walls
	if k > 0 {
		left = s.line[k-1].y - g.y
	}
	if k+1 < len(s.line) {
		right = s.line[k+1].y - g.y
	}
	best := choice{box: -1, score: 0}
	if !s.first {
		s.look(s.byWidth, g.w, g, left, right, &best)
		if best.score < 2 {
			s.look(s.byHeight, left, g, left, right, &best)
			s.look(s.byHeight, right, g, left, right, &best)
		}
	}
	passed := 0 // too wide: seen at a glance
	for n := s.head; best.box < 0 && n >= 0; n = s.next[n] {
		if s.least[n] > g.w+tolerance {
			passed++
			continue
		}
		s.consider(n, false, g, left, right, &best)
		if s.boxes[n].w2 > 0 {
			s.consider(n, true, g, left, right, &best)
		}
	}
	s.tried += passed / 4
	return best.box, best.at, best.box >= 0
}

// look considers the boxes that have a side of a length.
func (s *skyline) look(list []side, long float64, g segment, left, right float64, best *choice) {
	if math.IsInf(long, 1) {
		return
	}
	i := sort.Search(len(list), func(i int) bool { return list[i].long >= long-tolerance })
	s.tried += 2
	for ; i < len(list) && list[i].long <= long+tolerance; i++ {
		s.consider(list[i].box, list[i].other, g, left, right, best)
	}
}

// consider lets a box be the best where it fits better than the one so far, or as well
// and comes before it; of those that close nothing only the first.
func (s *skyline) consider(n int, other bool, g segment, left, right float64, best *choice) {
	s.tried++
	if s.rank[n] < 0 || other && s.way[n] == 1 || !other && s.way[n] == 2 {
		return
	}
	w, h := s.boxes[n].w, s.boxes[n].h
	if other {
		w, h = s.boxes[n].w2, s.boxes[n].h2
	}
	p, score, ok := s.fit(g, w, h, left, right, s.boxes[n].fold)
	if ok && (best.box < 0 || score > best.score && !s.first || score == best.score && s.rank[n] < best.rank) {
		p.other = other
		*best = choice{n, score, s.rank[n], p}
	}
}

// fit says where a box goes on a stretch between two walls, and how well it
// closes it: 4 fills it level with a wall, 2 fills it, 1 is level with a wall.
func (s *skyline) fit(g segment, w, h, left, right float64, fold bool) (spot, int, bool) {
	if w > g.w+tolerance || fold && g.x > tolerance {
		return spot{}, 0, false
	}
	p := spot{x: g.x, y: up(g.y, s.repeatY)}
	score := 0
	switch {
	case w >= g.w-tolerance:
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
		if p.x+w > g.x+g.w+tolerance {
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
	start, end := x, min(x+w, g.x+g.w)
	if x > g.x+tolerance {
		parts[n] = segment{g.x, x - g.x, g.y}
		n++
	} else {
		start = g.x
	}
	if g.x+g.w-end <= tolerance {
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

// raise lifts stretch k to its lower neighbour and says how high that is; false when
// it has none.
func (s *skyline) raise(k int) (y float64, ok bool) {
	y = math.Inf(1)
	if k > 0 {
		y = s.line[k-1].y
	}
	if k+1 < len(s.line) {
		y = min(y, s.line[k+1].y)
	}
	if math.IsInf(y, 1) {
		return 0, false
	}
	s.line[k].y = y
	s.merge()
	return y, true
}

// merge joins neighbours of one height.
func (s *skyline) merge() {
	level := 1
	for level < len(s.line) && math.Abs(s.line[level].y-s.line[level-1].y) > tolerance {
		level++
	}
	if level == len(s.line) { // most often none are
		return
	}
	out := s.line[:level]
	for _, g := range s.line[level:] {
		if last := &out[len(out)-1]; math.Abs(g.y-last.y) <= tolerance {
			last.w += g.w
			last.y = max(last.y, g.y)
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
	return math.Ceil((v-tolerance)/step) * step
}

func same(a, b float64) bool { return math.Abs(a-b) <= tolerance }

// packBoxes lays boxes on the bench in the shortest length it finds, and says
// where each lies; +Inf where one does not fit. The boxes are laid one by one, and
// joined to blocks where some make a rectangle together. budget is how many
// placements are tried, so that an answer is the same on every machine.
func packBoxes(b bench, boxes []box, budget int) ([]spot, float64) {
	low := boxBound(b, boxes)
	at, best := packEach(b, boxes, budget/2)
	if b.repeatX > 0 || b.repeatY > 0 || slices.ContainsFunc(boxes, func(x box) bool { return x.fold }) {
		return at, best // in a block a part would lie off the figure or the fold
	}
	n := len(boxes)
	for seed, least := range []int{1, 1, n / 16, n / 8, n / 4, n / 3, n / 2, n / 2} {
		if best <= low+tolerance {
			break
		}
		if spots, length := packBlocks(b, boxes, max(1, least), uint64(seed), budget/12); length < best-tolerance {
			at, best = spots, length
		}
	}
	return at, best
}

// runsOf is how many orders of n boxes are tried at the most, perhaps a dozen placements
// for each box of them: beyond it a few boxes come out no shorter.
func runsOf(n int) int { return 4 * n * n * n }

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
	p := newPacker(b, boxes)
	budget = min(budget, runsOf(n)*12*n)
	low := boxBound(b, boxes)
	p.sorted()
	p.improve(budget, low)
	if p.best > low+tolerance {
		p.first = true
		p.sorted()
		if n > fewBoxes {
			budget /= 6
		}
		p.improve(budget, low)
	}
	return p.at, p.best
}

func newPacker(b bench, boxes []box) *packer {
	n := len(boxes)
	p := &packer{skyline: newSkyline(b, boxes), best: math.Inf(1), at: make([]spot, n), order: make([]int, n), bestOrder: make([]int, n), bestWay: make([]int8, n)}
	for i, x := range boxes {
		if x.w2 > 0 && x.w <= b.width+tolerance && x.w2 <= b.width+tolerance {
			p.turns = append(p.turns, i)
		}
	}
	return p
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

// measure lays the boxes in the order that is tried, and keeps it if it is the best;
// +Inf where they take more than limit.
func (p *packer) measure(limit float64) float64 {
	l := p.run(p.order, limit)
	if l < p.best-tolerance {
		p.best = l
		copy(p.at, p.skyline.at)
		copy(p.bestOrder, p.order)
		copy(p.bestWay, p.way)
	}
	return p.cost(l, p.over)
}

// An order is judged by what lies beyond the length that is sought, as if it were spread
// over the width, and a little by its length. By the length alone nearly all orders would
// be alike. What is sought lies between the best that was found and the lower bound.
const (
	lengthWeight = 0.2
	aim          = 0.5
)

func (s *skyline) cost(length, over float64) float64 {
	return over/s.width + lengthWeight*max(0, length-s.target)
}

// aims sets the length that is sought, and reports whether it is another now.
func (p *packer) aims(low float64) bool {
	to := low + aim*(p.best-low)
	if to >= p.target-tolerance {
		return false
	}
	p.target = to
	return true
}

// sorted tries the boxes from the largest to the smallest, in several senses.
func (p *packer) sorted() {
	clear(p.way)
	for _, by := range []func(b box) float64{
		func(b box) float64 { return b.w * b.h }, func(b box) float64 { return b.h }, func(b box) float64 { return b.w },
		func(b box) float64 { return b.w + b.h }, func(b box) float64 { return max(b.w, b.h) },
	} {
		for i := range p.order {
			p.order[i] = i
		}
		sort.SliceStable(p.order, func(i, j int) bool { return by(p.boxes[p.order[i]]) > by(p.boxes[p.order[j]]) })
		p.measure(math.Inf(1))
	}
}

// improve tries changes of the best order until the budget is spent.
func (p *packer) improve(budget int, low float64) {
	p.tried = 0
	spent := func() float64 { return float64(p.tried) / float64(max(1, budget)) }
	copy(p.way, p.bestWay)
	copy(p.order, p.bestOrder)
	p.target = math.Inf(1)
	done := func() bool { return p.best <= low+tolerance || math.IsInf(p.best, 1) }
	anneal(min(maxHeat, heatOfOne/float64(len(p.boxes)))*p.best, spent, done, func() bool { return p.aims(low) }, p.change, p.measure)
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
func anneal(heat float64, spent func() float64, done, moved func() bool, change func(*rand.Rand) (undo func(), ok bool), measure func(limit float64) float64) {
	if done() {
		return
	}
	r := rand.New(rand.NewPCG(12, 1914))
	moved()
	current := measure(math.Inf(1))
	for idle := 0; spent() < 1 && !done() && idle < 1000; {
		undo, ok := change(r)
		if !ok || undo == nil {
			idle++ // nothing to exchange: all parts are alike
			continue
		}
		idle = 0
		most := current - heat*max(0, 1-spent())*math.Log(1-r.Float64()) // the longest that is kept this time
		if l := measure(most); l <= most {
			current = l
			if moved() {
				current = measure(math.Inf(1))
			}
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
		if x.w2 > 0 && x.w2 <= b.width+tolerance {
			area += min(x.w2*x.h2, x.w*x.h) - x.w*x.h
			h, w = min(h, x.h2), min(w, x.w2)
		}
		longest = max(longest, h)
		if w > b.width/2+tolerance {
			wide += h
		}
	}
	return max(area/b.width, max(longest, wide))
}
