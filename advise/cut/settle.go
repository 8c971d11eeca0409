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
				if k == i || at[k].x >= at[i].x+w.w-near || at[i].x >= at[k].x+v.w-near || at[k].y >= at[i].y+w.h || d <= near {
					continue
				}
				d = math.Min(d, drop(shapes[i], shapes[k]))
			}
			if d > near {
				at[i].y -= d - near/2
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
	var ys []float64
	for _, p := range a {
		ys = append(ys, p.Y)
	}
	for _, p := range b {
		ys = append(ys, p.Y)
	}
	slices.Sort(ys)
	ys = slices.Compact(ys)
	d := math.Inf(1)
	take := func(y float64) {
		left, end, ok := spanAt(a, y)
		start, right, ok2 := spanAt(b, y)
		switch {
		case !ok || !ok2 || end <= start+4*near: // a lies to the left here
		case left-right > -4*near:
			d = math.Min(d, math.Max(0, left-right))
		default: // within each other
			d = 0
		}
	}
	for i, y := range ys {
		take(y)
		if i > 0 && y-ys[i-1] > 1e-9 {
			take(y - 1e-9)
			take(ys[i-1] + 1e-9)
		}
	}
	return d
}
