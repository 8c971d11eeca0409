package cut

import (
	"math"
	"math/rand/v2"
	"sort"
)

// box is a rectangle to be laid on the cloth: w across, h along. It is not
// turned: how a part lies is settled before.
type box struct {
	w, h float64
	fold bool // lies against the fold, which is at x = 0
}

// spot is where the corner of a box nearest to the origin lies.
type spot struct{ x, y float64 }

// bench is the strip that boxes are laid on: its width, and the pattern repeat
// that every box starts on (0 is none).
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
// stretch best, and among equals the first in the order given; a stretch that
// no box fits is raised to its lower neighbour.
type skyline struct {
	bench
	boxes []box
	line  []segment
	used  []bool
	at    []spot
}

func newSkyline(b bench, boxes []box) *skyline {
	return &skyline{bench: b, boxes: boxes, line: make([]segment, 0, 2*len(boxes)+2), used: make([]bool, len(boxes)), at: make([]spot, len(boxes))}
}

// run lays the boxes in the order given and returns the length used; it gives
// up, with +Inf, once the length is more than limit.
func (s *skyline) run(order []int, limit float64) float64 {
	s.line = append(s.line[:0], segment{0, s.width, 0})
	for i := range s.used {
		s.used[i] = false
	}
	length := 0.0
	for left := len(order); left > 0; {
		k := 0
		for i, g := range s.line {
			if g.y < s.line[k].y {
				k = i
			}
		}
		i, p, ok := s.choose(order, k)
		if !ok {
			if !s.raise(k) {
				return math.Inf(1)
			}
			continue
		}
		b := s.boxes[i]
		s.used[i], s.at[i] = true, p
		left--
		length = math.Max(length, p.y+b.h)
		if length > limit {
			return math.Inf(1)
		}
		s.put(k, p.x, b.w, p.y+b.h)
	}
	return length
}

// choose finds the box for stretch k and where on it the box goes.
func (s *skyline) choose(order []int, k int) (int, spot, bool) {
	g := s.line[k]
	left, right := math.Inf(1), math.Inf(1) // height of the walls
	if k > 0 {
		left = s.line[k-1].y - g.y
	}
	if k+1 < len(s.line) {
		right = s.line[k+1].y - g.y
	}
	best, bestScore, at := -1, -1, spot{}
	for _, i := range order {
		if s.used[i] {
			continue
		}
		b := s.boxes[i]
		if b.w > g.w+near || b.fold && g.x > near {
			continue
		}
		p := spot{g.x, up(g.y, s.repeatY)}
		score := 0
		switch {
		case b.w >= g.w-near:
			score = 2
			if same(b.h, left) || same(b.h, right) {
				score = 4
			}
		case same(b.h, left):
			score = 1
		case same(b.h, right):
			score = 1
			p.x = g.x + g.w - b.w
		case right > left && !b.fold:
			p.x = g.x + g.w - b.w
		}
		if s.repeatX > 0 && !b.fold {
			p.x = up(g.x, s.repeatX)
			if p.x+b.w > g.x+g.w+near {
				continue
			}
		}
		if b.fold {
			p.x = 0
		}
		if score > bestScore {
			best, bestScore, at = i, score, p
			if score == 4 {
				break
			}
		}
	}
	return best, at, best >= 0
}

// put raises the part of stretch k that a box covers.
func (s *skyline) put(k int, x, w, top float64) {
	g := s.line[k]
	var parts [3]segment
	n := 0
	if x > g.x+near {
		parts[n] = segment{g.x, x - g.x, g.y}
		n++
	}
	end := math.Min(x+w, g.x+g.w)
	if g.x+g.w-end <= near {
		end = g.x + g.w
	}
	start := x
	if n == 0 {
		start = g.x
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

// effort is about how many boxes a search lays in all; it settles the time, not
// the clock, so that the answer is the same in every run.
const effort = 300_000

// packBoxes lays boxes on the bench in the shortest length it finds, and says
// where each lies. Several orders are tried, then the best is improved by
// exchanging two boxes at random, with a seed that is fixed.
func packBoxes(b bench, boxes []box, effort int) ([]spot, float64) {
	n := len(boxes)
	if n == 0 {
		return nil, 0
	}
	s := newSkyline(b, boxes)
	best, at := math.Inf(1), make([]spot, n)
	low := lowerBound(b, boxes)
	order := make([]int, n)
	bestOrder := make([]int, n)
	keep := func(l float64) {
		if l < best-near {
			best = l
			copy(at, s.at)
			copy(bestOrder, order)
		}
	}
	for _, by := range []func(b box) float64{
		func(b box) float64 { return b.w * b.h }, func(b box) float64 { return b.h }, func(b box) float64 { return b.w },
		func(b box) float64 { return b.w + b.h }, func(b box) float64 { return math.Max(b.w, b.h) },
	} {
		for i := range order {
			order[i] = i
		}
		sort.SliceStable(order, func(i, j int) bool { return by(boxes[order[i]]) > by(boxes[order[j]]) })
		keep(s.run(order, math.Inf(1)))
	}
	r := rand.New(rand.NewPCG(12, 1914))
	current := best
	copy(order, bestOrder)
	heat := 0.02
	tries := effort / n
	for t := 0; t < tries && best > low+near && n > 1; t++ {
		i, j := r.IntN(n), r.IntN(n)
		if boxes[order[i]] == boxes[order[j]] {
			continue
		}
		order[i], order[j] = order[j], order[i]
		l := s.run(order, math.Inf(1))
		cool := heat * best * (1 - float64(t)/float64(tries))
		if l <= current || r.Float64() < math.Exp((current-l)/cool) {
			current = l
			keep(l)
		} else {
			order[i], order[j] = order[j], order[i]
		}
	}
	return at, best
}

// lowerBound is a length that no layout of the boxes can be under: the area
// over the width, the longest box, and the boxes too wide to lie side by side
// laid end to end.
func lowerBound(b bench, boxes []box) float64 {
	area, longest := 0.0, 0.0
	var wide float64
	for _, x := range boxes {
		area += x.w * x.h
		longest = math.Max(longest, x.h)
		if x.w > b.width/2+near {
			wide += x.h
		}
	}
	return math.Max(area/b.width, math.Max(longest, wide))
}
