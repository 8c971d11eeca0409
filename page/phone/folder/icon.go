//go:build !js

package folder

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"slices"
)

// The icon is the mark of the site, drawn anew at each size: a strip of cloth over
// the edge of a table, below a bar with two hooks.

var (
	paper = color.RGBA{0xfb, 0xf6, 0xec, 0xff}
	bar   = color.RGBA{0x7c, 0x6e, 0x59, 0xff}
	cloth = color.RGBA{0x8f, 0x31, 0x22, 0xff}
)

// icons are the pictures that a phone shows of the site.
func icons() map[string][]byte {
	return map[string][]byte{"icon-192.png": icon(192, 1), "icon-512.png": icon(512, 1), "icon-maskable-512.png": icon(512, 0.72)}
}

// icon draws the mark, which takes up a part of the square.
func icon(size int, part float64) []byte {
	img := image.NewRGBA(image.Rect(0, 0, size, size))
	const fine = 4 // points across a dot
	for y := range size {
		for x := range size {
			var r, g, b int
			for i := range fine * fine {
				at := func(v, j int) float64 {
					u := (float64(v) + (float64(j)+0.5)/fine) / float64(size) * 32
					return 16 + (u-16)/part
				}
				c := markAt(at(x, i%fine), at(y, i/fine))
				r, g, b = r+int(c.R), g+int(c.G), b+int(c.B)
			}
			n := fine * fine
			img.SetRGBA(x, y, color.RGBA{uint8(r / n), uint8(g / n), uint8(b / n), 0xff})
		}
	}
	var out bytes.Buffer
	if err := png.Encode(&out, img); err != nil {
		panic(err) // into memory
	}
	return out.Bytes()
}

// markAt is the colour of the mark at a point of a square of 32.
func markAt(x, y float64) color.RGBA {
	switch {
	case onStrip(x, y):
		return cloth
	case x >= 4 && x <= 28 && y >= 4.5 && y <= 7.5, y >= 6 && y <= 11 && (math.Abs(x-10) <= 1 || math.Abs(x-22) <= 1):
		return bar
	}
	return paper
}

// fall are points along the middle of the strip where it falls over the edge.
var fall = func() (at [41][2]float64) {
	for i := range at {
		t := float64(i) / 40
		at[i] = [2]float64{bezier(t, 15, 24, 25, 26), bezier(t, 12, 12, 18, 28)}
	}
	return at
}()

// onStrip reports whether a point lies on the cloth: flat on the table to x = 15,
// then falling over its edge, 4 thick with round ends.
func onStrip(x, y float64) bool {
	const half = 2.0
	within := func(px, py float64) bool { return (x-px)*(x-px)+(y-py)*(y-py) <= half*half }
	if x < 5-half || x > 26+half || y < 12-half || y > 28+half {
		return false
	}
	return within(math.Min(math.Max(x, 5), 15), 12) || slices.ContainsFunc(fall[:], func(p [2]float64) bool { return within(p[0], p[1]) })
}

func bezier(t, a, b, c, d float64) float64 {
	u := 1 - t
	return u*u*u*a + 3*u*u*t*b + 3*u*t*t*c + t*t*t*d
}
