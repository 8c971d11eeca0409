package cut

import (
	"math"
	"math/rand/v2"
	"slices"
)

// block is one box, or several that make a rectangle together. Its ways are those
// in which it may lie; where the boxes in it lie follows from each.
type block struct {
	ways []blockWay
}

type blockWay struct {
	w, h  float64
	boxes []boxAt
}

// boxAt is where a box lies within a block.
type boxAt struct {
	box int
	spot
}

func blockOf(i int, b box) block {
	out := block{[]blockWay{{b.w, b.h, []boxAt{{box: i}}}}}
	if b.w2 > 0 {
		out.ways = append(out.ways, blockWay{b.w2, b.h2, []boxAt{{i, spot{other: true}}}})
	}
	return out
}

// above sets y on x, beside sets it to the right of x.
func (x blockWay) above(y blockWay) blockWay  { return x.with(y, 0, x.h, math.Max(x.w, y.w), x.h+y.h) }
func (x blockWay) beside(y blockWay) blockWay { return x.with(y, x.w, 0, x.w+y.w, math.Max(x.h, y.h)) }

func (x blockWay) with(y blockWay, dx, dy, w, h float64) blockWay {
	out := blockWay{w: w, h: h, boxes: slices.Clone(x.boxes)}
	for _, b := range y.boxes {
		b.x, b.y = b.x+dx, b.y+dy
		out.boxes = append(out.boxes, b)
	}
	return out
}

// match is a pair of blocks that make a rectangle: in which ways, and how exactly.
type match struct {
	i, j, a, b int
	stacked    bool
	rivals     int     // how many more blocks have a side of that length
	off        float64 // how far the two sides are from alike
	draw       float64 // parts matches that are as good at random
}

// matches lists the pairs of blocks with a side in common.
func matches(list []block, width float64, r *rand.Rand) (out []match) {
	sides := map[int]int{} // length to how many blocks have it
	key := func(l float64) int { return int(math.Round(l / tolerance)) }
	for _, x := range list {
		w := x.ways[0]
		if sides[key(w.w)]++; key(w.h) != key(w.w) {
			sides[key(w.h)]++
		}
	}
	for i, x := range list {
		for j := i + 1; j < len(list); j++ {
			for a, p := range x.ways {
				for b, q := range list[j].ways {
					if off := math.Abs(p.w - q.w); off <= tolerance {
						out = append(out, match{i, j, a, b, true, sides[key(p.w)] - 2, off, r.Float64()})
					}
					if off := math.Abs(p.h - q.h); off <= tolerance && p.w+q.w <= width+tolerance {
						out = append(out, match{i, j, a, b, false, sides[key(p.h)] - 2, off, r.Float64()})
					}
				}
			}
		}
	}
	return out
}

// exactly is how close two sides come that were one cut: what floating point adds.
const exactly = 1e-9

// better orders matches: the exact ones first, then those that no other block
// would do for, the rest at random.
func (m match) better(than match) bool {
	if x, y := m.off > exactly, than.off > exactly; x != y {
		return y
	}
	if m.rivals != than.rivals {
		return m.rivals < than.rivals
	}
	return m.draw < than.draw
}

// join makes one block of a match; it may be turned where both its blocks may.
func (m match) join(list []block, width float64) block {
	x, y := list[m.i], list[m.j]
	put := func(p, q blockWay, stacked bool) blockWay {
		if stacked {
			return p.above(q)
		}
		return p.beside(q)
	}
	out := block{[]blockWay{put(x.ways[m.a], y.ways[m.b], m.stacked)}}
	if len(x.ways) == 2 && len(y.ways) == 2 {
		p, q := x.ways[1-m.a], y.ways[1-m.b]
		if m.stacked && same(p.h, q.h) && p.w+q.w <= width+tolerance || !m.stacked && same(p.w, q.w) {
			out.ways = append(out.ways, put(p, q, !m.stacked))
		}
	}
	return out
}

// joinBlocks joins boxes that make rectangles together, pair by pair, until no more
// than least are left or no two have a side in common: parts of one width are laid
// in a row, as a cutter does. It stops when so many pairs were weighed against each other:
// of many boxes alike nearly every pair is one.
func joinBlocks(b bench, boxes []box, least int, seed uint64, most int) []block {
	var list []block
	for i, x := range boxes {
		list = append(list, blockOf(i, x))
	}
	r := rand.New(rand.NewPCG(seed, 1921))
	for weighed := 0; len(list) > least && weighed <= most; {
		all := matches(list, b.width, r)
		if weighed += len(all); len(all) == 0 {
			break
		}
		best := all[0]
		for _, m := range all[1:] {
			if m.better(best) {
				best = m
			}
		}
		joined := best.join(list, b.width)
		list = slices.Delete(list, best.j, best.j+1)
		list[best.i] = joined
	}
	return list
}

// pairsOfOne is how many pairs are weighed for every placement that is tried.
const pairsOfOne = 2

// packBlocks lays boxes joined to blocks.
func packBlocks(b bench, boxes []box, least int, seed uint64, budget int) ([]spot, float64) {
	list := joinBlocks(b, boxes, least, seed, pairsOfOne*budget)
	if len(list) == len(boxes) {
		return nil, math.Inf(1)
	}
	whole := make([]box, len(list))
	for i, x := range list {
		whole[i] = box{w: x.ways[0].w, h: x.ways[0].h}
		if len(x.ways) == 2 {
			whole[i].w2, whole[i].h2 = x.ways[1].w, x.ways[1].h
		}
	}
	at, length := packEach(b, whole, budget)
	out := make([]spot, len(boxes))
	for i, x := range list {
		w := x.ways[0]
		if at[i].other {
			w = x.ways[1]
		}
		for _, m := range w.boxes {
			out[m.box] = spot{at[i].x + m.x, at[i].y + m.y, m.other}
		}
	}
	return out, length
}
