package cut

import (
	"math"
	"math/rand/v2"
	"slices"
	"sort"
)

// way is one way in which a part may lie on the cloth: its cut line with the box
// round it beginning at the origin.
type way struct {
	pts      []Point
	w, h     float64
	quarters int // quarter turns to the left
	mirror   bool
	// members are set where it is a row of parts: pts is then only round them.
	members []member
	parts   [][]Point // their cut lines within the row
}

func newWay(pts []Point, quarters int, mirror bool) way {
	t := turned(pts, quarters, mirror)
	_, high := bounds(t)
	return way{pts: t, w: high.X, h: high.Y, quarters: quarters, mirror: mirror}
}

// blank is a part to be laid, with the ways it may lie.
type blank struct {
	part int
	ways []way
	fold bool // its left edge lies on the fold

	// Instead of so many copies through one layer or both it may be laid as others, on
	// the fold or off it: share of one of them for each of these.
	instead []way
	share   float64
}

// laid is where a blank lies: which way, and the corner of its box.
type laid struct {
	way  int
	x, y float64
}

// profile is a way cut into upright columns, with a line in each that it does not
// reach below and one that it does not reach above: entry 2k is the line's height
// at the left of column k, 2k+1 at its right. Parts whose lines lie clear of each
// other in every column cannot overlap; and the line through the greater of two
// heights at both ends lies above both lines.
type profile struct {
	low, high []float64
	least     []float64 // of low, in stretch after stretch
	sum       float64   // of low
	shift     float64   // of its left edge from the first column's
	top       float64   // greatest of high
	area      float64
}

// stretch is so many heights of a profile or of the sky as are looked over together: where
// the sky's greatest less the profile's least cannot hold a part up, none of them does.
const stretch = 16

// nester lays parts of any outline from the start of the cloth on, each as near
// to it as it comes from the open end, in columns all along the width.
type nester struct {
	bench
	step     float64
	every    int // columns from one place where a part may begin to the next
	sky      relief
	profiles [][]profile // by blank and way
	flush    [][]profile // the same, level with the right edge of its last column
	blanks   []blank
	at       []laid
	mode     mode
	held     int      // where in the sky the part was held up that was let down last
	room     struct { // of one way in columns after another
		counts []int
		in     [][]Point
		points []Point
	}
}

// mode is what a place for a part is judged by: where the part ends; the same,
// and how far to the left it lies, so that parts stand between each other; the
// cloth left empty below it.
type mode int

const (
	byEnd mode = iota
	byLeft
	byEmpty
	modes
)

// leftWeight is how many cm further along a part may end to lie 1 cm further
// left.
const leftWeight = 0.1

// columns chooses in how many columns the width is cut: about so many to the cm
// that is fine, the number by which the widths of the parts lose least to rounding.
func columns(width float64, blanks []blank, fine float64) int {
	about := int(math.Min(400, math.Max(60, width*fine)))
	best, bestLoss := about, math.Inf(1)
	for n := about * 5 / 4; n >= about*3/4; n-- {
		step, loss := width/float64(n), 0.0
		for _, b := range blanks {
			least := math.Inf(1)
			for _, w := range b.ways {
				least = math.Min(least, (math.Ceil(w.w/step-tolerance)*step-w.w)*w.h)
			}
			loss += least
		}
		if loss < bestLoss-1e-9 {
			best, bestLoss = n, loss
		}
	}
	return best
}

func newNester(b bench, blanks []blank, fine float64) *nester {
	n := columns(b.width, blanks, fine)
	s := &nester{bench: b, step: b.width / float64(n), every: 1, blanks: blanks, at: make([]laid, len(blanks))}
	if b.repeatX > 0 { // whole columns to a repeat
		s.every = int(math.Ceil(b.repeatX / s.step))
		s.step = b.repeatX / float64(s.every)
		n = int(b.width/s.step + tolerance)
	}
	s.sky = newRelief(2 * n)
	seen := map[*Point][2]profile{} // copies of a part share their outline
	for _, x := range blanks {
		var left, right []profile
		for _, w := range x.ways {
			p, ok := seen[&w.pts[0]]
			if !ok {
				k := math.Ceil(w.w/s.step - tolerance)
				p = [2]profile{s.profile(w, 0), s.profile(w, math.Max(0, k*s.step-w.w))}
				seen[&w.pts[0]] = p
			}
			left, right = append(left, p[0]), append(right, p[1])
		}
		s.profiles, s.flush = append(s.profiles, left), append(s.flush, right)
	}
	return s
}

// profile cuts a way into columns, its left edge shifted from the first one's.
func (s *nester) profile(w way, shift float64) profile {
	n := max(1, int(math.Ceil((w.w+shift)/s.step-tolerance)))
	p := profile{low: make([]float64, 2*n), high: make([]float64, 2*n), shift: shift, area: math.Abs(area(w.pts))}
	for k, pts := range s.inColumns(w, shift, n) {
		p.low[2*k], p.low[2*k+1] = lineBelow(pts)
		for i := range pts {
			if pts[i].Y > p.top {
				p.top = pts[i].Y
			}
			pts[i].Y = -pts[i].Y
		}
		l, r := lineBelow(pts)
		p.high[2*k], p.high[2*k+1] = -l, -r
	}
	for part := range slices.Chunk(p.low, stretch) {
		p.least = append(p.least, slices.Min(part))
	}
	for _, l := range p.low {
		p.sum += l
	}
	return p
}

// resized gives n of a slice that is used again and again.
func resized[T any](of *[]T, n int) []T {
	if cap(*of) < n {
		*of = make([]T, n)
	}
	return (*of)[:n]
}

// inColumns is where the outline of a way runs in each of n columns, x from 0 to 1; it
// holds until the next is asked for.
func (s *nester) inColumns(w way, shift float64, n int) [][]Point {
	outlines := w.parts
	if outlines == nil {
		outlines = [][]Point{w.pts}
	}
	lines := func(do func(a, b Point, x0, x1 float64, k int)) {
		for _, pts := range outlines {
			for i, a := range pts {
				b := pts[(i+1)%len(pts)]
				if a.X > b.X {
					a, b = b, a
				}
				x0, x1 := (a.X+shift)/s.step, (b.X+shift)/s.step
				first, last := int(math.Floor(x0+tolerance)), int(math.Ceil(x1-tolerance))-1
				for k := max(0, min(first, n-1)); k <= max(last, first) && k < n; k++ {
					do(a, b, x0, x1, k)
				}
			}
		}
	}
	counts, all := resized(&s.room.counts, n), 0
	clear(counts)
	lines(func(_, _ Point, _, _ float64, k int) { counts[k] += 2; all += 2 })
	in, room := resized(&s.room.in, n), resized(&s.room.points, all)
	for k, c := range counts {
		in[k], room = room[:0:c], room[c:]
	}
	lines(func(a, b Point, x0, x1 float64, k int) {
		from, to := math.Max(x0, float64(k)), math.Min(x1, float64(k+1))
		y0, y1 := a.Y, b.Y
		if x1-x0 > 1e-9 {
			y0 = a.Y + (b.Y-a.Y)*(from-x0)/(x1-x0)
			y1 = a.Y + (b.Y-a.Y)*(to-x0)/(x1-x0)
		}
		in[k] = append(in[k], Point{from - float64(k), y0}, Point{to - float64(k), y1})
	})
	return in
}

// lineBelow is a line that no point lies below, by its heights at x = 0 and 1: the
// one through the lowest points there, let down as far as it must be.
func lineBelow(pts []Point) (left, right float64) {
	left, right = math.Inf(1), math.Inf(1)
	least := math.Inf(1)
	for _, p := range pts { // math.Min is a call
		if p.Y < least {
			least = p.Y
		}
		if p.X < tolerance && p.Y < left {
			left = p.Y
		}
		if p.X > 1-tolerance && p.Y < right {
			right = p.Y
		}
	}
	if math.IsInf(left, 1) || math.IsInf(right, 1) {
		return least, least
	}
	down := 0.0
	for _, p := range pts {
		if d := left + (right-left)*p.X - p.Y; d > down {
			down = d
		}
	}
	return left - down, right - down
}

// run lays the blanks in the order given and returns the length used; +Inf as soon as
// it is more than limit.
func (s *nester) run(order []int, limit float64) float64 {
	s.sky.clear()
	length := 0.0
	for _, i := range order {
		top, ok := s.lay(i)
		if !ok {
			return math.Inf(1)
		}
		if length = math.Max(length, top); length > limit {
			return math.Inf(1)
		}
	}
	return length
}

// lay puts blank i where it ends soonest, or leaves least cloth empty below it.
func (s *nester) lay(i int) (float64, bool) {
	cols := len(s.sky.at) / 2
	best, bestY := math.Inf(1), 0.0
	var where struct {
		way, k int
		flush  bool
	}
	found, right := false, 0
	for v := range s.profiles[i] {
		p := &s.profiles[i][v]
		n := len(p.low) / 2
		if n > cols {
			continue
		}
		last := cols - n
		if s.blanks[i].fold {
			last = 0
		}
		for k := 0; k <= last; k += s.every {
			q, flush := p, false
			if k == last && k > 0 && s.repeatX == 0 {
				q, flush = &s.flush[i][v], true
			}
			y, score := s.drop(q, k, best)
			if score < best-tolerance || score < best+tolerance && found && k+n < right {
				best, bestY, found, right = math.Min(best, score), y, true, k+n
				where.way, where.k, where.flush = v, k, flush
			}
		}
	}
	if !found {
		return 0, false
	}
	p := &s.profiles[i][where.way]
	if where.flush {
		p = &s.flush[i][where.way]
	}
	s.sky.raise(2*where.k, p.high, bestY)
	s.at[i] = laid{way: where.way, x: float64(where.k)*s.step + p.shift, y: bestY}
	return bestY + p.top, true
}

// drop lets a part fall towards the start of the cloth at column k and returns
// where it comes to lie and how good that is, the less the better. It gives up
// when the place cannot be better than limit.
func (s *nester) drop(p *profile, k int, limit float64) (y, score float64) {
	if s.mode == byEmpty {
		return s.dropByEmpty(p, k, limit)
	}
	right := 0.0
	if s.mode == byLeft {
		right = leftWeight * float64(k+len(p.low)/2) * s.step
	}
	stop := limit - p.top - right + tolerance
	if c := s.held - 2*k; c >= 0 && c < len(p.low) { // what held it up one column before most often does so again
		if v := s.sky.at[s.held] - p.low[c]; v > 0 {
			y = v
		}
	}
	if y = s.fall(p, k, y, stop); y > stop {
		return y, math.Inf(1)
	}
	y = up(y, s.repeatY)
	return y, y + p.top + right
}

// dropByEmpty is drop where the cloth left empty below is judged.
func (s *nester) dropByEmpty(p *profile, k int, limit float64) (y, score float64) {
	n, sure := len(p.low), tolerance*(2+0.1*s.width) // a repeat lets it down a little, and sums differ by their order
	if y = s.fall(p, k, 0, (limit+sure)/(0.1*s.width)-p.top); 0.1*(y+p.top)*s.width > limit+sure {
		return y, math.Inf(1)
	}
	y = up(y, s.repeatY)
	ends := 0.1 * (y + p.top) * s.width
	if about := float64(n)*y + p.sum - (s.sky.sums[2*k+n] - s.sky.sums[2*k]); about*s.step/2+ends > limit+sure {
		return y, math.Inf(1)
	}
	sky, empty := s.sky.at[2*k:][:n], 0.0
	for c, l := range p.low {
		empty += y + l - sky[c]
	}
	return y, empty*s.step/2 + ends
}

// fall is where a part comes to lie that lies at y or above; more than stop as soon as
// that is known.
func (s *nester) fall(p *profile, k int, y, stop float64) float64 {
	if y > stop {
		return y
	}
	for b, least := range p.least {
		at := b * stretch
		if s.sky.most[2*k+at]-least <= y {
			continue
		}
		low := p.low[at:min(at+stretch, len(p.low))]
		sky := s.sky.at[2*k+at:][:len(low)]
		for c, l := range low {
			if v := sky[c] - l; v > y { // math.Max is a call, and took a third of a plan
				if y, s.held = v, 2*k+at+c; y > stop {
					return y
				}
			}
		}
	}
	return y
}

// tried is an order that was tried, and what came of it.
type tried struct {
	order  []int
	mode   mode
	length float64
}

// turnsOf counts how much of so many tries is used up.
func turnsOf(tries int) func() float64 {
	t := -1
	return func() float64 {
		t++
		return float64(t/2) / float64(max(1, tries)) // asked twice in each
	}
}

// fineness is how many columns there are to a cm: while orders are tried, and
// when the best of them are laid.
const (
	roughly   = 0.7
	carefully = 2.0
	bestOnes  = 5
)

// nest lays the blanks in the shortest length it finds; +Inf where one does not
// fit. Orders are tried in wide columns, about tries of them, and the best are
// laid again in narrow ones.
func nest(b bench, blanks []blank, tries int, low float64) ([]laid, float64) {
	n := len(blanks)
	if n == 0 {
		return nil, 0
	}
	o := orders{nester: newNester(b, blanks, roughly), order: make([]int, n)}
	var firsts []tried
	for o.mode = range modes {
		start := o.sorted()
		if start.order == nil {
			continue
		}
		firsts = append(firsts, start)
		copy(o.order, start.order)
		done := func() bool { return len(o.good) > 0 && o.good[0].length <= low+tolerance }
		never := func() bool { return false }
		anneal(math.Min(maxHeat, heatOfOne/float64(n))*start.length, turnsOf(tries/int(modes)), done, never, o.change, o.measure)
	}
	s := newNester(b, blanks, carefully)
	best, at := math.Inf(1), make([]laid, n)
	for _, t := range append(o.good, firsts...) {
		s.mode = t.mode
		if l := s.run(t.order, best); l < best-tolerance {
			best = l
			copy(at, s.at)
		}
	}
	return at, best
}

// orders seeks the best orders in which a nester lays its blanks.
type orders struct {
	*nester
	order []int
	good  []tried // the best, shortest first
}

// measure lays the blanks in the order that is tried, and keeps it among the best;
// +Inf where they take more than limit and would not be among them.
func (o *orders) measure(limit float64) float64 {
	if len(o.good) < bestOnes {
		limit = math.Inf(1)
	} else {
		limit = math.Max(limit, o.good[bestOnes-1].length)
	}
	l := o.run(o.order, limit)
	if math.IsInf(l, 1) || len(o.good) == bestOnes && l >= o.good[bestOnes-1].length-tolerance {
		return l
	}
	at := sort.Search(len(o.good), func(i int) bool { return o.good[i].length > l })
	o.good = slices.Insert(o.good, at, o.now(l))
	if len(o.good) > bestOnes {
		o.good = o.good[:bestOnes]
	}
	return l
}

func (o *orders) now(l float64) tried { return tried{slices.Clone(o.order), o.mode, l} }

// sorted tries the blanks from the largest to the smallest, in several senses.
func (o *orders) sorted() tried {
	size := func(i int) *profile { return &o.profiles[i][0] }
	start := tried{length: math.Inf(1)}
	for _, by := range []func(i int) float64{
		func(i int) float64 { return size(i).area }, func(i int) float64 { return size(i).top }, func(i int) float64 { return float64(len(size(i).low)) },
	} {
		for i := range o.order {
			o.order[i] = i
		}
		sort.SliceStable(o.order, func(i, j int) bool { return by(o.order[i]) > by(o.order[j]) })
		if l := o.measure(math.Inf(1)); l < start.length {
			start = o.now(l)
		}
	}
	return start
}

// change exchanges two blanks, and says how to undo that; false where they are alike.
func (o *orders) change(r *rand.Rand) (undo func(), ok bool) {
	x := o.order
	i, j := r.IntN(len(x)), r.IntN(len(x))
	if &o.blanks[x[i]].ways[0].pts[0] == &o.blanks[x[j]].ways[0].pts[0] {
		return nil, false
	}
	x[i], x[j] = x[j], x[i]
	return func() { x[i], x[j] = x[j], x[i] }, true
}
