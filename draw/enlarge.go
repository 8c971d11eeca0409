package draw

import "math"

// Enlarged is the picture so many times as wide and as tall, for a screen with more pixels. Outlines
// are drawn smoothly through what little each pixel knows of them; shades are mixed within one kind
// only, so that cloth stays parted from what lies behind it. Nothing is seen that the picture did not hold.
func (s Shading) Enlarged(times int) Shading {
	if times < 2 {
		return s
	}
	out := NewShading(s.W*times, s.H*times)
	cover, dark := s.planes()
	weights := phases(times)
	for k := formSeen; k <= backSeen; k++ {
		cover[k] = stretched(cover[k], s.W, s.H, weights)
		dark[k] = stretched(dark[k], s.W, s.H, weights)
	}
	steep := float32(times) * 1.5 // of an outline: from nothing to all of it within a new pixel
	for i := range out.what {
		kind, seen := formSeen, cover[formSeen][i]+cover[faceSeen][i]+cover[backSeen][i]
		for k := faceSeen; k <= backSeen; k++ {
			if cover[k][i] > cover[kind][i] {
				kind = k
			}
		}
		covered := int(fine*fine*min(1, 0.5+(seen-0.5)*steep) + 0.5)
		if covered < 1 {
			continue
		}
		out.what[i] = uint8(kind | (covered-1)<<2)
		out.dark[i] = uint8(dark[kind][i]/cover[kind][i] + 0.5)
	}
	return out
}

// planes parts the picture by kind: how much of each pixel it covers, and how dark it is times that.
func (s Shading) planes() (cover, dark [4][]float32) {
	for k := formSeen; k <= backSeen; k++ {
		cover[k], dark[k] = make([]float32, len(s.what)), make([]float32, len(s.what))
	}
	for i, what := range s.what {
		if kind := what & 3; kind != nothing {
			cover[kind][i] = float32(what>>2+1) / (fine * fine)
			dark[kind][i] = cover[kind][i] * float32(s.dark[i])
		}
	}
	return cover, dark
}

// phase is which of the old pixels round a new one comes first, from the one it lies in, and the
// weights of the four.
type phase struct {
	first  int
	weight [4]float32
}

// phases are those of the new pixels that lie in one old one: a cubic B-spline, whose weights are
// never below nothing, and one in all.
func phases(times int) []phase {
	out := make([]phase, times)
	for i := range out {
		at := (float64(i)+0.5)/float64(times) - 0.5
		floor := math.Floor(at)
		t := at - floor
		out[i].first = int(floor) - 1
		for k, w := range [4]float64{(1 - t) * (1 - t) * (1 - t), 3*t*t*t - 6*t*t + 4, -3*t*t*t + 3*t*t + 3*t + 1, t * t * t} {
			out[i].weight[k] = float32(w / 6)
		}
	}
	return out
}

// stretched enlarges a plane of w by h, across and then down. Beyond its border lies nothing.
func stretched(plane []float32, w, h int, weights []phase) []float32 {
	times := len(weights)
	wide := make([]float32, w*times*h)
	for y := range h {
		from, to := plane[y*w:(y+1)*w], wide[y*w*times:(y+1)*w*times]
		for x := range to {
			p := &weights[x%times]
			for k, a := range p.weight {
				if at := x/times + p.first + k; at >= 0 && at < w {
					to[x] += a * from[at]
				}
			}
		}
	}
	out := make([]float32, len(wide)*times)
	for y := range h * times {
		p, to := &weights[y%times], out[y*w*times:(y+1)*w*times]
		for k, a := range p.weight {
			at := y/times + p.first + k
			if at < 0 || at >= h {
				continue
			}
			for x, v := range wide[at*w*times : (at+1)*w*times] {
				to[x] += a * v
			}
		}
	}
	return out
}
