package drape

import (
	"math"

	"tenter/fibres/units"
)

// Tester is a round of cloth over a disc.
type Tester struct{ Disc, Specimen units.Length }

// Usual is the usual tester, 18 cm under 30 cm.
var Usual = Tester{18, 30}

// Scene returns the round on its disc: cloth is held flat over the disc.
func (t Tester) Scene() Scene {
	r, out := float64(t.Disc)/200, float64(t.Specimen)/200
	return Scene{Panels: []Panel{{
		Low: [2]float64{-out, -out}, High: [2]float64{out, out},
		Inside: func(u, v float64) bool { return u*u+v*v < out*out },
		Held:   func(u, v float64) float64 { return math.Hypot(u, v) - r },
		Place:  func(u, v float64) Vec { return Vec{u, v, 0} },
	}}}
}

// Mean is the coefficient of several results of one cloth, the mean over their starts.
//
// Valid: bending lengths of 0.8 to 8 cm, a cell of 7.5 mm, finer for a limp sheet, three starts.
// Accuracy: 3 points by mesh and start. Level against real cloth: 13 points off over
// ten cloths, root mean square, either way; the order is right within one source alone (docs/mechanics.md).
// Checked: reference_test.go, TestDiscAgainstMeasuredCloths.
func (t Tester) Mean(results []Result) float64 {
	sum := 0.0
	for _, r := range results {
		sum += t.Coefficient(r)
	}
	return sum / float64(max(1, len(results)))
}

// Coefficient is the share of the ring round the disc that lies in shadow, per cent.
func (t Tester) Coefficient(r Result) float64 {
	disc, out := float64(t.Disc)/200, float64(t.Specimen)/200
	const pixel = 0.0005
	n := int(2*out*1.1/pixel) + 2
	dark := make([]bool, n*n)
	r.eachCell(8, func(c [4]Vec, u, v float64) {
		if u*u+v*v < out*out {
			shade(dark, n, pixel, c[0], c[1], c[3])
			shade(dark, n, pixel, c[0], c[3], c[2])
		}
	})
	ring := 0
	for i := range n {
		for j := range n {
			x, y := (float64(i)+0.5-float64(n)/2)*pixel, (float64(j)+0.5-float64(n)/2)*pixel
			if dark[i*n+j] && x*x+y*y > disc*disc {
				ring++
			}
		}
	}
	return 100 * float64(ring) * pixel * pixel / (math.Pi * (out*out - disc*disc))
}

// eachCell visits every cell divided k by k, with the middle of the part in the flat.
func (r Result) eachCell(k int, visit func(corner [4]Vec, u, v float64)) {
	for _, q := range r.Quads {
		p := [4]Vec{r.At[q[0]], r.At[q[1]], r.At[q[2]], r.At[q[3]]}
		at := func(i, j int) Vec {
			s, t := float64(i)/float64(k), float64(j)/float64(k)
			return p[0].Mul((1 - s) * (1 - t)).Add(p[1].Mul(s * (1 - t))).Add(p[2].Mul((1 - s) * t)).Add(p[3].Mul(s * t))
		}
		u, v := r.UV[q[0]][0], r.UV[q[0]][1]
		for i := range k {
			for j := range k {
				visit([4]Vec{at(i, j), at(i+1, j), at(i, j+1), at(i+1, j+1)},
					u+(float64(i)+0.5)/float64(k)*r.Cell, v+(float64(j)+0.5)/float64(k)*r.Cell)
			}
		}
	}
}

// shade darkens the pixels whose middle lies under a triangle seen from above.
func shade(dark []bool, n int, pixel float64, a, b, c Vec) {
	half := float64(n) / 2
	px := func(p Vec) (float64, float64) { return p[0]/pixel + half - 0.5, p[1]/pixel + half - 0.5 }
	ax, ay := px(a)
	bx, by := px(b)
	cx, cy := px(c)
	area := (bx-ax)*(cy-ay) - (by-ay)*(cx-ax)
	if area == 0 {
		return
	}
	low := func(p, q, r float64) int { return max(0, int(math.Ceil(math.Min(p, math.Min(q, r))))) }
	high := func(p, q, r float64) int { return min(n-1, int(math.Floor(math.Max(p, math.Max(q, r))))) }
	for i := low(ax, bx, cx); i <= high(ax, bx, cx); i++ {
		for j := low(ay, by, cy); j <= high(ay, by, cy); j++ {
			x, y := float64(i), float64(j)
			s := ((bx-x)*(cy-y) - (by-y)*(cx-x)) / area
			t := ((cx-x)*(ay-y) - (cy-y)*(ax-x)) / area
			if s >= 0 && t >= 0 && s+t <= 1 {
				dark[i*n+j] = true
			}
		}
	}
}

// Peaks counts the peaks of a closed line that rise over the hollows beside them
// by least, or by a tenth of the range where that is more.
func Peaks(y []float64, least float64) int {
	low, high, lowest := math.Inf(1), math.Inf(-1), 0
	for i, v := range y {
		if v < low {
			low, lowest = v, i
		}
		high = math.Max(high, v)
	}
	least = math.Max(least, (high-low)/10)
	count, rising := 0, true
	extreme := low
	for i := range len(y) + 1 {
		v := y[(lowest+i)%len(y)]
		switch {
		case rising && v > extreme, !rising && v < extreme:
			extreme = v
		case rising && v < extreme-least:
			count, rising, extreme = count+1, false, v
		case !rising && v > extreme+least:
			rising, extreme = true, v
		}
	}
	return count
}
