package cut

import (
	"math"
	"slices"
)

// member is a blank in a row: which, how it lies, and where in the row.
type member struct {
	blank, way int
	x, y       float64
}

// rows joins copies of one part into rows across the cloth, of at most so many,
// each lying so that it stands closest to the one before: triangles head to tail,
// say. Parts laid one after another from the open end cannot do that, for one
// would have to go below the slant of another. ok is false where no row is shorter
// than its parts side by side.
func rows(b bench, blanks []blank, most int) (out []blank, ok bool) {
	group, near := map[int][]int{}, besides{} // by part
	var parts []int
	for i, x := range blanks {
		if x.fold || slices.ContainsFunc(x.ways, func(w way) bool { return isBox(w.pts) }) {
			out = append(out, blank{part: x.part, ways: single(i, x), fold: x.fold})
			continue
		}
		if group[x.part] == nil {
			parts = append(parts, x.part)
		}
		group[x.part] = append(group[x.part], i)
	}
	for _, p := range parts {
		left := group[p]
		for len(left) > 0 {
			var best way
			saved := 0.0
			for first := range blanks[left[0]].ways {
				if w, s := near.row(b, blanks, left, first, most); s > saved+tolerance {
					best, saved = w, s
				}
			}
			if saved == 0 {
				x := blanks[left[0]]
				out = append(out, blank{part: p, ways: single(left[0], x)})
				left = left[1:]
				continue
			}
			ok = true
			out = append(out, blank{part: p, ways: []way{best}})
			left = slices.DeleteFunc(slices.Clone(left), func(i int) bool {
				return slices.ContainsFunc(best.members, func(m member) bool { return m.blank == i })
			})
		}
	}
	return out, ok
}

// single are the ways of a blank that stays by itself.
func single(i int, b blank) []way {
	out := make([]way, len(b.ways))
	for k, w := range b.ways {
		w.members = []member{{blank: i, way: k}}
		out[k] = w
	}
	return out
}

// besides are how far to the right of an outline another must lie, of all that were asked:
// copies of a part share theirs.
type besides map[[2]*Point]float64

func (near besides) of(a, b []Point) float64 {
	key := [2]*Point{&a[0], &b[0]}
	d, known := near[key]
	if !known {
		d = beside(a, b)
		near[key] = d
	}
	return d
}

// row sets blanks beside each other and says how much width that saves over their
// boxes.
func (near besides) row(b bench, blanks []blank, left []int, first, most int) (way, float64) {
	w := blanks[left[0]].ways[first]
	out := way{quarters: w.quarters, w: w.w, h: w.h, members: []member{{blank: left[0], way: first}}}
	last, x, saved := w, 0.0, 0.0
	rest := slices.Clone(left[1:])
	for len(out.members) < most && len(rest) > 0 {
		pick, how, step := -1, 0, math.Inf(1)
		for k, i := range rest {
			if k > 0 && &blanks[i].ways[0].pts[0] == &blanks[rest[k-1]].ways[0].pts[0] {
				continue // the same as the one just tried
			}
			for v, next := range blanks[i].ways {
				if d := near.of(last.pts, next.pts); d < step-tolerance {
					pick, how, step = k, v, d
				}
			}
		}
		if pick < 0 {
			break
		}
		next := blanks[rest[pick]].ways[how]
		if x+step+next.w > b.width+tolerance {
			break
		}
		saved += last.w - step
		x += step
		out.members = append(out.members, member{blank: rest[pick], way: how, x: x})
		out.w, out.h = math.Max(out.w, x+next.w), math.Max(out.h, next.h)
		last = next
		rest = slices.Delete(rest, pick, pick+1)
	}
	if len(out.members) < 2 {
		return out, 0
	}
	var all []Point
	for _, m := range out.members {
		var line []Point
		for _, p := range blanks[m.blank].ways[m.way].pts {
			line = append(line, p.add(Point{m.x, m.y}))
		}
		out.parts = append(out.parts, line)
		all = append(all, line...)
	}
	out.pts = convexHull(all)
	return out, saved
}

// beside is how far to the right of a polygon another must lie so as to stand
// clear of it, both on the same base line; never less than 0.
func beside(a, b []Point) float64 {
	d := 0.0
	ys := heights(a, b)
	right := spansAt(b, ys)
	for i, left := range spansAt(a, ys) {
		if left.any() && right[i].any() {
			d = math.Max(d, left.high-right[i].low)
		}
	}
	return d
}

// heights are those of all corners of two polygons, rising, and some just inside of
// them, where a level side begins: between two, every rim runs straight.
func heights(a, b []Point) []float64 {
	const inside = 1e-9
	corners := make([]float64, 0, len(a)+len(b))
	for _, p := range a {
		corners = append(corners, p.Y)
	}
	for _, p := range b {
		corners = append(corners, p.Y)
	}
	slices.Sort(corners)
	corners = slices.Compact(corners)
	out := make([]float64, 0, 3*len(corners))
	for i, y := range corners {
		if i > 0 && y-corners[i-1] > 2*inside {
			out = append(out, corners[i-1]+inside, y-inside)
		}
		out = append(out, y)
	}
	return out
}

// span is how far left and right something reaches.
type span struct{ low, high float64 }

func (s span) any() bool { return s.high >= s.low }

// spansAt is how far left and right a polygon reaches at each of the heights, which
// rise.
func spansAt(pts []Point, ys []float64) []span {
	out := make([]span, len(ys))
	for i := range out {
		out[i] = span{math.Inf(1), math.Inf(-1)}
	}
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		if a.Y > b.Y {
			a, b = b, a
		}
		k, _ := slices.BinarySearch(ys, a.Y)
		low, high, d := min(a.X, b.X), max(a.X, b.X), b.Y-a.Y
		for ; k < len(ys) && ys[k] <= b.Y; k++ {
			if d > 1e-12 {
				low = a.X + (b.X-a.X)*(ys[k]-a.Y)/d
				high = low
			}
			s := &out[k]
			if low < s.low { // min and max are calls
				s.low = low
			}
			if high > s.high {
				s.high = high
			}
		}
	}
	return out
}
