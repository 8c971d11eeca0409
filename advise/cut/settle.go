package cut

import (
	"cmp"
	"math"
	"slices"
)

// settle lets every part slide down as far as its true outline allows, for laying
// out in columns leaves a little air below slants. Lines that cross a part from
// below to above are kept in order, so that nothing comes to overlap.
func settle(blanks []blank, at []laid) (length float64) {
	n := len(blanks)
	shapes := make([][]Point, n) // as they lie, but across and along exchanged
	flip := func(i int) {
		w := blanks[i].ways[at[i].way]
		shapes[i] = make([]Point, len(w.pts))
		for k, p := range w.pts {
			shapes[i][k] = Point{p.Y + at[i].y, p.X + at[i].x}
		}
	}
	order := make([]int, n)
	for i := range n {
		flip(i)
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(at[a].y, at[b].y) })
	for range 2 {
		for _, i := range order {
			d := at[i].y
			w := blanks[i].ways[at[i].way]
			for k := range n {
				v := blanks[k].ways[at[k].way]
				if k == i || at[k].x >= at[i].x+w.w-tolerance || at[i].x >= at[k].x+v.w-tolerance || at[k].y >= at[i].y+w.h || d <= tolerance {
					continue
				}
				d = math.Min(d, drop(shapes[i], shapes[k]))
			}
			if d > tolerance {
				if d < at[i].y { // short of what it meets; the end of the cloth it may touch
					d -= tolerance / 2
				}
				at[i].y -= d
				flip(i)
			}
		}
	}
	for i, b := range blanks {
		length = math.Max(length, at[i].y+b.ways[at[i].way].h)
	}
	return length
}

// drop is how far polygon a may move to the left until it meets b, where it lies
// to the right of it.
func drop(a, b []Point) float64 {
	d := math.Inf(1)
	ys := heights(a, b)
	of := spansAt(b, ys)
	for i, x := range spansAt(a, ys) {
		switch y := of[i]; {
		case !x.any() || !y.any() || x.high <= y.low+4*tolerance: // a lies to the left here
		case x.low-y.high > -4*tolerance:
			d = min(d, max(0, x.low-y.high))
		default: // within each other
			return 0
		}
	}
	return d
}
