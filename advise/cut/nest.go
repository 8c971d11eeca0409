package cut

import (
	"math"
	"math/rand/v2"
	"sort"
)

// way is one way in which a part may lie on the cloth: its cut line with the box
// round it beginning at the origin.
type way struct {
	pts      []Point
	w, h     float64
	quarters int // quarter turns to the left
	mirror   bool
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
}

// laid is where a blank lies: which way, and the corner of its box.
type laid struct {
	way  int
	x, y float64
}

// profile is a way cut into upright columns, with how low and how high it
// reaches in each. Parts that lie clear of each other in every column cannot
// overlap.
type profile struct {
	low, high []float64
	shift     float64 // of its left edge from the first column's
	top       float64 // greatest of high
	area      float64
}

// nester lays parts of any outline from the start of the cloth on, each as near
// to it as it comes from the open end, in columns all along the width.
type nester struct {
	bench
	step     float64
	sky      []float64
	profiles [][]profile // by blank and way
	flush    [][]profile // the same, level with the right edge of its last column
	blanks   []blank
	at       []laid
	spread   bool // judge a place by the cloth left empty below, not by the length
}

// columns chooses in how many columns the width is cut: about so many that the
// widths of the parts lose least to rounding.
func columns(width float64, blanks []blank) int {
	about := int(math.Min(400, math.Max(120, width*2)))
	best, bestLoss := about, math.Inf(1)
	for n := about * 3 / 4; n <= about*5/4; n++ {
		step, loss := width/float64(n), 0.0
		for _, b := range blanks {
			least := math.Inf(1)
			for _, w := range b.ways {
				least = math.Min(least, (math.Ceil(w.w/step-near)*step-w.w)*w.h)
			}
			loss += least
		}
		if loss < bestLoss-1e-9 {
			best, bestLoss = n, loss
		}
	}
	return best
}

func newNester(b bench, blanks []blank) *nester {
	n := columns(b.width, blanks)
	s := &nester{bench: b, step: b.width / float64(n), sky: make([]float64, n), blanks: blanks, at: make([]laid, len(blanks))}
	seen := map[*Point][2]profile{} // copies of a part share their outline
	for _, x := range blanks {
		var left, right []profile
		for _, w := range x.ways {
			p, ok := seen[&w.pts[0]]
			if !ok {
				k := math.Ceil(w.w/s.step - near)
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
	n := max(1, int(math.Ceil((w.w+shift)/s.step-near)))
	p := profile{low: make([]float64, n), high: make([]float64, n), shift: shift, area: math.Abs(area(w.pts))}
	for i := range n {
		p.low[i], p.high[i] = math.Inf(1), math.Inf(-1)
	}
	for i, a := range w.pts {
		b := w.pts[(i+1)%len(w.pts)]
		if a.X > b.X {
			a, b = b, a
		}
		x0, x1 := (a.X+shift)/s.step, (b.X+shift)/s.step
		first, last := int(math.Floor(x0+near)), int(math.Ceil(x1-near))-1
		for k := max(0, min(first, n-1)); k <= max(last, first) && k < n; k++ {
			y0, y1 := a.Y, b.Y
			if x1-x0 > 1e-9 {
				y0 = a.Y + (b.Y-a.Y)*(math.Max(x0, float64(k))-x0)/(x1-x0)
				y1 = a.Y + (b.Y-a.Y)*(math.Min(x1, float64(k+1))-x0)/(x1-x0)
			}
			p.low[k] = math.Min(p.low[k], math.Min(y0, y1))
			p.high[k] = math.Max(p.high[k], math.Max(y0, y1))
		}
	}
	for _, h := range p.high {
		p.top = math.Max(p.top, h)
	}
	return p
}

// run lays the blanks in the order given and returns the length used.
func (s *nester) run(order []int) float64 {
	clear(s.sky)
	length := 0.0
	for _, i := range order {
		top, ok := s.lay(i)
		if !ok {
			return math.Inf(1)
		}
		length = math.Max(length, top)
	}
	return length
}

// lay puts blank i where it ends soonest, or leaves least cloth empty below it.
func (s *nester) lay(i int) (float64, bool) {
	cols := len(s.sky)
	best, bestY := math.Inf(1), 0.0
	var where struct {
		way, k int
		flush  bool
	}
	found := false
	for v := range s.profiles[i] {
		p := &s.profiles[i][v]
		n := len(p.low)
		if n > cols {
			continue
		}
		last := cols - n
		if s.blanks[i].fold {
			last = 0
		}
		for k := 0; k <= last; k++ {
			q, flush := p, false
			if k == last && k > 0 {
				q, flush = &s.flush[i][v], true
			}
			if s.repeatX > 0 && !s.blanks[i].fold {
				x := float64(k)*s.step + q.shift
				if math.Abs(x-up(x, s.repeatX)) > s.step && math.Abs(x-up(x-s.step, s.repeatX)) > s.step {
					continue
				}
			}
			y, score := s.drop(q, k, best)
			if score < best-near {
				best, bestY, found = score, y, true
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
	for c := range p.high {
		s.sky[where.k+c] = math.Max(s.sky[where.k+c], bestY+p.high[c])
	}
	s.at[i] = laid{way: where.way, x: float64(where.k)*s.step + p.shift, y: bestY}
	return bestY + p.top, true
}

// drop lets a part fall towards the start of the cloth at column k and returns
// where it comes to lie and how good that is, the less the better. It gives up
// when the place cannot be better than limit.
func (s *nester) drop(p *profile, k int, limit float64) (y, score float64) {
	sky := s.sky[k : k+len(p.low)]
	if !s.spread {
		stop := limit - p.top
		for c, l := range p.low {
			if v := sky[c] - l; v > y {
				if y = v; y >= stop {
					return y, math.Inf(1)
				}
			}
		}
		y = up(y, s.repeatY)
		return y, y + p.top
	}
	for c, l := range p.low {
		y = math.Max(y, sky[c]-l)
	}
	y = up(y, s.repeatY)
	empty := 0.0
	for c, l := range p.low {
		empty += y + l - sky[c]
	}
	return y, empty*s.step + 0.2*(y+p.top)*s.width/2
}

// nest lays the blanks in the shortest length it finds; +Inf where one does not
// fit. tries is how many layouts are tried in all.
func nest(b bench, blanks []blank, tries int, low float64) ([]laid, float64) {
	n := len(blanks)
	if n == 0 {
		return nil, 0
	}
	s := newNester(b, blanks)
	best, at := math.Inf(1), make([]laid, n)
	order, bestOrder := make([]int, n), make([]int, n)
	keep := func(l float64) {
		if l < best-near {
			best = l
			copy(at, s.at)
			copy(bestOrder, order)
		}
	}
	size := func(i int) *profile { return &s.profiles[i][0] }
	for round := range 2 {
		s.spread = round == 1
		var first []int
		start := math.Inf(1)
		for _, by := range []func(i int) float64{
			func(i int) float64 { return size(i).area }, func(i int) float64 { return size(i).top }, func(i int) float64 { return float64(len(size(i).low)) },
		} {
			for i := range order {
				order[i] = i
			}
			sort.SliceStable(order, func(i, j int) bool { return by(order[i]) > by(order[j]) })
			l := s.run(order)
			keep(l)
			if l < start {
				start, first = l, append([]int(nil), order...)
			}
		}
		if first == nil {
			return nil, math.Inf(1)
		}
		anneal(n, tries/2, start, low, func(r *rand.Rand) (func(), bool) {
			i, j := r.IntN(n), r.IntN(n)
			if &blanks[order[i]].ways[0].pts[0] == &blanks[order[j]].ways[0].pts[0] {
				return nil, false
			}
			order[i], order[j] = order[j], order[i]
			return func() { order[i], order[j] = order[j], order[i] }, true
		}, func() float64 { copy(order, first); return start }, func() float64 {
			l := s.run(order)
			keep(l)
			return l
		})
	}
	return at, best
}
