package cut

import (
	"math"
	"slices"
)

// weightings say how much of the width a part takes up on a line across the cloth.
// Whatever stretches lie side by side on a line and come to no more than its width,
// their weights come to no more than 1 (dual feasible functions; Fekete and Schepers
// 2001, from memory). The first is the plain part of the width: the area. The next
// count what is over a half, or nearly all of the width, as the whole of it; the last
// what is over a third as a half, and so on.
var weightings = func() (out []func(float64) float64) {
	out = append(out, func(x float64) float64 { return x })
	for e := 0.02; e < 0.5; e += 0.02 {
		out = append(out, func(x float64) float64 {
			switch {
			case x > 1-e+1e-9:
				return 1
			case x < e:
				return 0
			}
			return x
		})
	}
	out = append(out, func(x float64) float64 {
		if x > 0.5+1e-9 {
			return 1
		}
		return 0
	})
	for k := 2.0; k <= 4; k++ {
		out = append(out, func(x float64) float64 { return math.Floor((k+1)*x-1e-9) / k })
	}
	return out
}()

// sliceStep is how thick the slices are at most that parts are weighed in, in cm.
const sliceStep = 0.5

// boundOf is a length that no layout of the blanks in a width can be under. Every line
// across the cloth meets parts that lie side by side on it, so
//
//	length ≥ Σ ∫ f(chord / width) dy
//
// over all parts, for each of the [weightings] f; and it is at least that of the longest
// part. A part that may lie in several ways, on a fold or off it, counts by the one that
// asks least.
func boundOf(width float64, blanks []blank) float64 {
	sums := make([]float64, len(weightings))
	longest := 0.0
	seen := map[*Point][]float64{} // copies of a part share their ways
	for _, b := range blanks {
		short := math.Inf(1)
		for _, w := range append(slices.Clone(b.ways), b.instead...) {
			short = math.Min(short, w.h)
		}
		longest = math.Max(longest, short)
		least, ok := seen[&b.ways[0].pts[0]]
		if !ok {
			least = weighed(b.ways, width)
			if len(b.instead) > 0 {
				for i, v := range weighed(b.instead, width) {
					least[i] = math.Min(least[i], b.share*v)
				}
			}
			seen[&b.ways[0].pts[0]] = least
		}
		for i, v := range least {
			sums[i] += v
		}
	}
	return math.Max(longest, slices.Max(sums))
}

// weighed is what a part adds to the length by each measure, in the way that adds least.
func weighed(ways []way, width float64) []float64 {
	least := make([]float64, len(weightings))
	for i := range least {
		least[i] = math.Inf(1)
	}
	for _, w := range ways {
		list := chords(w.pts)
		for i, f := range weightings {
			sum := 0.0
			for _, c := range list {
				sum += c.high * f(math.Max(0, c.wide-tolerance)/width)
			}
			least[i] = math.Min(least[i], sum)
		}
	}
	return least
}

// chord is a slice of a part: how high, and how wide it is at least.
type chord struct{ high, wide float64 }

// chords cuts a polygon into level slices. Between two corners its width runs straight,
// so that it is narrowest at one end of the slice.
func chords(pts []Point) (out []chord) {
	var ys []float64
	for _, p := range pts {
		ys = append(ys, p.Y)
	}
	slices.Sort(ys)
	ys = slices.Compact(ys)
	for i := 1; i < len(ys); i++ {
		low, high := ys[i-1], ys[i]
		n := math.Ceil((high - low) / sliceStep)
		const inside = 1e-7 // where a level side begins
		a := wideAt(pts, low+inside*(high-low))
		b := wideAt(pts, high-inside*(high-low))
		for k := range int(n) {
			from, to := a+(b-a)*float64(k)/n, a+(b-a)*float64(k+1)/n
			out = append(out, chord{(high - low) / n, math.Min(from, to)})
		}
	}
	return out
}

// wideAt is how much of the line at a height lies in a polygon.
func wideAt(pts []Point, y float64) float64 {
	var xs []float64
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		if (a.Y <= y) != (b.Y <= y) {
			xs = append(xs, a.X+(b.X-a.X)*(y-a.Y)/(b.Y-a.Y))
		}
	}
	slices.Sort(xs)
	sum := 0.0
	for i := 0; i+1 < len(xs); i += 2 {
		sum += xs[i+1] - xs[i]
	}
	return sum
}
