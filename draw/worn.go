package draw

import (
	"image"
	"image/color"
	"math"

	"tenter/fibres/drape"
)

// Fallen is cloth at rest, to be drawn as it is seen from one side.
type Fallen struct {
	Result     drape.Result
	Inside     []func(u, v float64) bool // outline of each panel
	Body       drape.Body                // what it rests on; nil: none
	Face, Back color.RGBA                // of the shell, and of the side that shows where it turns
	Turn, Tilt float64                   // of the eye, degrees from the front and down
	Low, High  drape.Vec                 // what the picture shows at least
}

// View is how places in space come to lie on the picture.
type View struct {
	right, up, into drape.Vec
	middle          drape.Vec
	perMetre        float64
	w, h            int
}

// NewView frames a box from the given side on a picture of w by h.
func NewView(turn, tilt float64, low, high drape.Vec, w, h int) View {
	s, c := math.Sincos(turn * math.Pi / 180)
	st, ct := math.Sincos(tilt * math.Pi / 180)
	into := drape.Vec{-s * ct, -c * ct, -st} // the front is where y is large
	right := drape.Vec{-c, s, 0}
	v := View{right: right, up: right.Cross(into), into: into, w: w, h: h}
	v.middle = low.Add(high).Mul(0.5)
	var wide, tall float64
	for i := range 8 {
		p := low
		for k := range 3 {
			if i>>k&1 == 1 {
				p[k] = high[k]
			}
		}
		d := p.Sub(v.middle)
		wide, tall = math.Max(wide, math.Abs(d.Dot(v.right))), math.Max(tall, math.Abs(d.Dot(v.up)))
	}
	v.perMetre = math.Min(float64(w)/(2.08*wide), float64(h)/(2.08*tall))
	return v
}

// PerMetre is how many pixels of a picture of w by h a metre takes.
func (f Fallen) PerMetre(w, h int) float64 {
	return NewView(f.Turn, f.Tilt, f.Low, f.High, w, h).perMetre
}

func (v View) at(p drape.Vec) (x, y, depth float64) {
	d := p.Sub(v.middle)
	return float64(v.w)/2 + d.Dot(v.right)*v.perMetre, float64(v.h)/2 - d.Dot(v.up)*v.perMetre, d.Dot(v.into)
}

// pixel is what is nearest at one place of the picture.
type pixel struct {
	depth      float64
	normal     drape.Vec
	u, v       float64
	cloth, out bool // whether it is cloth, and its outer side
	seen       bool
}

// Box is the room that cloth takes up.
func Box(r drape.Result) (low, high drape.Vec) {
	low, high = drape.Vec{math.Inf(1), math.Inf(1), math.Inf(1)}, drape.Vec{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
	for _, p := range r.At {
		for k := range 3 {
			low[k], high[k] = math.Min(low[k], p[k]), math.Max(high[k], p[k])
		}
	}
	return low, high
}

// Draw draws the cloth and what it rests on, shaded, on a clear ground.
func (f Fallen) Draw(w, h int) *image.NRGBA {
	return f.Shade(w, h).Paint(f.Face, f.Back)
}

// fine is how many points are looked at along a pixel's side.
const fine = 2

// Shade looks at the cloth and what it rests on and tells light from dark, in no colour yet.
func (f Fallen) Shade(w, h int) Shading {
	v := NewView(f.Turn, f.Tilt, f.Low, f.High, w*fine, h*fine)
	px := make([]pixel, v.w*v.h)
	for i := range px {
		px[i].depth = math.Inf(1)
	}
	f.drawCloth(v, px)
	if f.Body != nil {
		f.drawBody(v, px)
	}
	return f.tone(v, px)
}

// drawCloth puts each cell's two triangles in the depth picture.
func (f Fallen) drawCloth(v View, px []pixel) {
	r := f.Result
	normals := make([]drape.Vec, len(r.At))
	for _, q := range r.Quads {
		n := r.At[q[3]].Sub(r.At[q[0]]).Cross(r.At[q[2]].Sub(r.At[q[1]]))
		for _, k := range q {
			normals[k] = normals[k].Add(n)
		}
	}
	low, high := Box(r)
	middle := low.Add(high).Mul(0.5)
	middle[2] = low[2]
	outwards := 0.0
	for i, n := range normals {
		normals[i] = n.Unit()
		if f.Body != nil {
			outwards += normals[i].Dot(r.At[i].Sub(middle))
		} else { // it hangs free: its face is to the front
			outwards += normals[i][1]
		}
	}
	for i, q := range r.Quads {
		sound := r.Part[i] > 0.999
		for _, t := range [2][3]int{{0, 1, 3}, {0, 3, 2}} {
			f.triangle(v, px, [3]int32{q[t[0]], q[t[1]], q[t[2]]}, normals, sound, outwards > 0)
		}
	}
}

func (f Fallen) triangle(v View, px []pixel, n [3]int32, normals []drape.Vec, sound, outwards bool) {
	r := f.Result
	var x, y, d [3]float64
	for k, i := range n {
		x[k], y[k], d[k] = v.at(r.At[i])
	}
	area := (x[1]-x[0])*(y[2]-y[0]) - (x[2]-x[0])*(y[1]-y[0])
	if math.Abs(area) < 1e-9 {
		return
	}
	inside := f.Inside[r.Panel[n[0]]]
	x0, x1 := int(math.Ceil(min(x[0], x[1], x[2]))), int(math.Floor(max(x[0], x[1], x[2])))
	y0, y1 := int(math.Ceil(min(y[0], y[1], y[2]))), int(math.Floor(max(y[0], y[1], y[2])))
	for j := max(0, y0); j <= min(v.h-1, y1); j++ {
		for i := max(0, x0); i <= min(v.w-1, x1); i++ {
			fx, fy := float64(i), float64(j)
			b := ((fx-x[0])*(y[2]-y[0]) - (fy-y[0])*(x[2]-x[0])) / area
			c := ((x[1]-x[0])*(fy-y[0]) - (y[1]-y[0])*(fx-x[0])) / area
			a := 1 - b - c
			if a < -1e-9 || b < -1e-9 || c < -1e-9 {
				continue
			}
			depth := a*d[0] + b*d[1] + c*d[2]
			p := &px[j*v.w+i]
			if depth >= p.depth {
				continue
			}
			uu := a*r.UV[n[0]][0] + b*r.UV[n[1]][0] + c*r.UV[n[2]][0]
			vv := a*r.UV[n[0]][1] + b*r.UV[n[1]][1] + c*r.UV[n[2]][1]
			if !sound && !inside(uu, vv) {
				continue
			}
			normal := normals[n[0]].Mul(a).Add(normals[n[1]].Mul(b)).Add(normals[n[2]].Mul(c)).Unit()
			facing := normal.Dot(v.into) < 0
			if !facing {
				normal = normal.Mul(-1)
			}
			*p = pixel{depth, normal, uu, vv, true, facing == outwards, true}
		}
	}
}

// sunk is how far inside its surface the body is drawn, in metres: cells of the cloth
// are flat, and cut its corners, the larger the more.
func (f Fallen) sunk() float64 { return math.Max(0.008, 0.45*f.Result.Cell) }

// drawBody follows a ray through the middle of each pixel to the body's surface.
func (f Fallen) drawBody(v View, px []pixel) {
	reach, sunk := f.High.Sub(f.Low).Len(), f.sunk()
	for j := 0; j < v.h; j += fine {
		for i := 0; i < v.w; i += fine {
			deepest := math.Inf(-1)
			for dj := range fine {
				for di := range fine {
					deepest = math.Max(deepest, px[(j+dj)*v.w+i+di].depth)
				}
			}
			x, y := float64(i)+0.5*(fine-1)-float64(v.w)/2, float64(j)+0.5*(fine-1)-float64(v.h)/2
			at := v.middle.Add(v.right.Mul(x / v.perMetre)).Sub(v.up.Mul(y / v.perMetre))
			depth, normal, hit := f.meets(at, v.into, reach, deepest, sunk)
			if !hit {
				continue
			}
			for dj := range fine {
				for di := range fine {
					if p := &px[(j+dj)*v.w+i+di]; depth < p.depth {
						*p = pixel{depth: depth, normal: normal, seen: true}
					}
				}
			}
		}
	}
}

// meets follows one ray.
func (f Fallen) meets(at, into drape.Vec, reach, deepest, sunk float64) (depth float64, normal drape.Vec, hit bool) {
	for t := -reach; t < math.Min(reach, deepest); {
		d, n := f.Body.Distance(at.Add(into.Mul(t)))
		if d += sunk; d < 0.001 {
			return t, n.Unit(), true
		}
		t += math.Max(0.0015, 0.8*d)
	}
	return 0, drape.Vec{}, false
}

// grainEvery is how far apart the drawn grain lines lie, in metres.
const grainEvery = 0.05

// tone lights the depth picture and brings it to its size.
func (f Fallen) tone(v View, px []pixel) Shading {
	out := NewShading(v.w/fine, v.h/fine)
	light := v.right.Mul(-0.6).Add(v.up.Mul(0.55)).Sub(v.into.Mul(0.58)).Unit()
	for j := range out.H {
		for i := range out.W {
			var sum [4]float64
			var count [4]int
			seen := 0
			for dj := range fine {
				for di := range fine {
					kind, shade := f.lit(v, px, i*fine+di, j*fine+dj, light)
					if kind == nothing {
						continue
					}
					sum[kind] += shade
					count[kind]++
					seen++
				}
			}
			most := nothing
			for k := formSeen; k <= backSeen; k++ {
				if count[k] > count[most] {
					most = k
				}
			}
			if most != nothing {
				out.set(i, j, most, sum[most]/float64(count[most]), seen)
			}
		}
	}
	return out
}

// lit is what one fine pixel shows, and how light it is.
func (f Fallen) lit(v View, px []pixel, i, j int, light drape.Vec) (kind int, shade float64) {
	p := px[j*v.w+i]
	switch {
	case !p.seen:
		return nothing, 0
	case !p.cloth:
		kind = formSeen
	case p.out:
		kind = faceSeen
	default:
		kind = backSeen
	}
	l := p.normal.Dot(light)
	shade = 0.42 + 0.68*math.Max(0, l) + 0.1*p.normal.Dot(v.up)
	if p.cloth && !p.out {
		shade *= 0.72 // the inside lies in shadow
	}
	shade *= 1 - f.hollow(v, px, i, j)
	if p.cloth {
		half := 0.6 / v.perMetre * 1.4 // half a line's width on the cloth
		warp, weft := p.v/grainEvery, p.u/grainEvery
		if math.Abs(warp-math.Round(warp))*grainEvery < half {
			shade *= 0.86
		}
		if math.Abs(weft-math.Round(weft))*grainEvery < half/2 {
			shade *= 0.92
		}
	}
	if f.edge(v, px, i, j) {
		shade *= 0.5
	}
	return kind, shade
}

// hollow darkens what lies deep beside what is near: the bottom of a fold.
func (f Fallen) hollow(v View, px []pixel, i, j int) float64 {
	reach := int(0.02 * v.perMetre)
	if reach < 2 {
		return 0
	}
	at, sum, n := px[j*v.w+i].depth, 0.0, 0
	for _, d := range [8][2]int{{-1, 0}, {1, 0}, {0, -1}, {0, 1}, {-2, 0}, {2, 0}, {-1, -1}, {1, -1}} {
		x, y := i+d[0]*reach, j+d[1]*reach
		if x < 0 || y < 0 || x >= v.w || y >= v.h {
			continue
		}
		n++
		if q := px[y*v.w+x]; q.seen {
			sum += math.Max(0, math.Min(1, (at-q.depth-0.004)/0.03))
		}
	}
	return 0.45 * sum / float64(max(1, n))
}

// edge reports whether the depth jumps beside a pixel: a hem or the side of a fold.
func (f Fallen) edge(v View, px []pixel, i, j int) bool {
	p := px[j*v.w+i]
	for _, d := range [4][2]int{{-1, 0}, {1, 0}, {0, -1}, {0, 1}} {
		x, y := i+d[0], j+d[1]
		if x < 0 || y < 0 || x >= v.w || y >= v.h {
			continue
		}
		q := px[y*v.w+x]
		if !q.seen || q.depth > p.depth+0.012 || q.cloth != p.cloth && q.depth > p.depth+0.002 {
			return true
		}
	}
	return false
}
