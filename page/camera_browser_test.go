package page

import (
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"

	"tenter/fibres/hang"
	"tenter/fibres/units"
)

// scene is a strip of known bending length over a table edge, as a camera on a shaky
// stand sees it: turned, tipped and rolled, under a lamp at one side, not quite sharp.
// Lengths are in cm, the edge of the table is the origin, y runs down.
type scene struct {
	w, h             int
	strip            []hang.Point
	away, focal      float64 // cm from the strip, pixels
	yaw, pitch, roll float64 // radians
	at               [2]float64
}

// rulerAt is where the ruler lies, below the strip, with a line for each cm.
const rulerAt, rulerFrom, rulerTo = 14.0, -4.0, 18.0

func newScene(t *testing.T, c, overhang units.Length) *scene {
	t.Helper()
	const mass = 180
	fall, err := hang.Hang(hang.Flap{Segments: []hang.Segment{{Length: overhang, Rigidity: hang.RigidityFromBendingLength(c, mass), Mass: mass}}}, 181)
	require.NoError(t, err)
	return &scene{w: 1200, h: 900, strip: fall.Points, away: 110, focal: 4200, yaw: 0.1, pitch: -0.06, roll: 0.035, at: [2]float64{5, 6.5}}
}

// turn is the rotation of the camera.
func (s *scene) turn(v [3]float64, back bool) [3]float64 {
	rot := func(v [3]float64, i, j int, a float64) [3]float64 {
		v[i], v[j] = v[i]*math.Cos(a)-v[j]*math.Sin(a), v[i]*math.Sin(a)+v[j]*math.Cos(a)
		return v
	}
	if back {
		return rot(rot(rot(v, 0, 1, -s.roll), 1, 2, -s.pitch), 2, 0, -s.yaw)
	}
	return rot(rot(rot(v, 2, 0, s.yaw), 1, 2, s.pitch), 0, 1, s.roll)
}

// seen is where a place of the strip's plane lies on the photograph: the camera was
// carried round it, and still aims at the same place.
func (s *scene) seen(x, y float64) [2]float64 {
	q := s.turn([3]float64{x - s.at[0], y - s.at[1], 0}, false)
	q[2] += s.away
	return [2]float64{s.focal*q[0]/q[2] + float64(s.w)/2, s.focal*q[1]/q[2] + float64(s.h)/2}
}

// place is what of the plane a pixel shows.
func (s *scene) place(px, py float64) (x, y float64) {
	d := s.turn([3]float64{px - float64(s.w)/2, py - float64(s.h)/2, s.focal}, true)
	from := s.turn([3]float64{0, 0, s.away}, true)
	k := from[2] / d[2]
	return s.at[0] + k*d[0] - from[0], s.at[1] + k*d[1] - from[1]
}

// light is how light a place of the plane is, 0 to 1.
func (s *scene) light(x, y float64) float64 {
	nearest := math.Inf(1)
	for i := 1; i < len(s.strip); i += 3 {
		nearest = math.Min(nearest, math.Hypot(x-float64(s.strip[i].Out), y-float64(s.strip[i].Down)))
	}
	if x < 0 {
		nearest = math.Min(nearest, math.Abs(y))
	}
	shadow := 1 - 0.25*math.Exp(-math.Pow(math.Hypot(x-1, y-1)-3, 2)/9)
	switch {
	case nearest < 0.09: // the cloth
		return 0.22
	case x < 0 && y > 0 && y < 4: // the table
		return 0.38 + 0.05*math.Sin(9*y+math.Sin(2*x))
	case y > rulerAt && y < rulerAt+2.4 && x > rulerFrom && x < rulerTo:
		if math.Abs(x-math.Round(x)) < 0.05 && y < rulerAt+1 {
			return 0.15
		}
		return 0.93
	}
	return 0.75 * shadow
}

// photograph draws it, and gives its file.
func (s *scene) photograph(t *testing.T) string {
	t.Helper()
	r := rand.New(rand.NewPCG(5, 8))
	sharp := make([]float64, s.w*s.h)
	for i := range sharp {
		px, py := float64(i%s.w), float64(i/s.w)
		x, y := s.place(px, py)
		lamp := 0.62 + 0.4*px/float64(s.w) - 0.25*math.Pow(math.Hypot(px/float64(s.w)-0.5, py/float64(s.h)-0.5), 2)
		sharp[i] = s.light(x, y) * lamp
	}
	img := image.NewGray(image.Rect(0, 0, s.w, s.h))
	for y := range s.h {
		for x := range s.w {
			sum, n := 0.0, 0.0
			for dy := -2; dy <= 2; dy++ {
				for dx := -2; dx <= 2; dx++ {
					if u, v := x+dx, y+dy; u >= 0 && u < s.w && v >= 0 && v < s.h {
						sum, n = sum+sharp[v*s.w+u], n+1
					}
				}
			}
			img.SetGray(x, y, color.Gray{uint8(max(0, min(255, 255*sum/n+9*r.NormFloat64())))})
		}
	}
	at := filepath.Join(t.TempDir(), "strip.jpg")
	f, err := os.Create(at)
	require.NoError(t, err)
	require.NoError(t, jpeg.Encode(f, img, &jpeg.Options{Quality: 82}))
	require.NoError(t, f.Close())
	return at
}

// marks are what a maker marks: two lines of the ruler, the edge, the tip, five places
// along the strip.
func (s *scene) marks() [][2]float64 {
	tip := s.strip[len(s.strip)-1]
	out := [][2]float64{s.seen(-3, rulerAt+0.5), s.seen(17, rulerAt+0.5), s.seen(0, 0), s.seen(float64(tip.Out), float64(tip.Down))}
	for i := 30; i < 180; i += 30 {
		out = append(out, s.seen(float64(s.strip[i].Out), float64(s.strip[i].Down)))
	}
	return out
}

// bends is the bending length that the page tells, in cm.
func bends(b *tab) float64 {
	b.t.Helper()
	words := strings.Fields(b.text("#fit .lead")) // It bends at 2.4 cm …
	require.Greater(b.t, len(words), 3)
	v, err := strconv.ParseFloat(words[3], 64)
	require.NoError(b.t, err)
	return v
}

// onCamera opens the camera from the guide of the ruler test of a fresh swatch, and
// shows it the photograph.
func onCamera(t *testing.T, s *scene) *tab {
	t.Helper()
	b := newOwnTab(t)
	b.open("/swatches/add?name=blue&sold_as=denim")
	b.follow("form.ask button")
	b.open("/swatch/blue/measure?kind=droop")
	b.follow("a[href*='/swatch/blue/camera']")
	require.False(t, js[bool](b, "document.querySelector('canvas').checkVisibility()"))
	b.do(chromedp.SetUploadFiles(chromedp.CSS("#photo"), []string{s.photograph(t)}))
	b.until("document.querySelector('#next-mark').textContent.includes('one mark of the ruler')")
	return b
}

// recorded takes the reading, and finds it on the swatch as any home test's.
func recorded(b *tab, want float64, goOn func(css string)) {
	b.t.Helper()
	require.InEpsilon(b.t, want, bends(b), 0.05, "within 5 %% of the strip that was drawn")
	goOn("#fit a.button")
	require.Contains(b.t, b.text(".guide"), "So far")
	goOn("form[method=post] button")
	require.Contains(b.t, b.text("#p-bending-length-warp"), "measured")
	require.Contains(b.t, b.text("[aria-labelledby=measured]"), "droop")
	b.open("/cloth/denim")
	require.Equal(b.t, 1, js[int](b, "document.querySelectorAll('#p-bending-length .knot.own').length"), "it lies among the cloths of its name")
}

// A photograph is marked with the pointer; the curve that fits is drawn over it, and the
// reading is recorded as any of the ruler test.
func TestBrowserCameraByPointer(t *testing.T) {
	s := newScene(t, 2.4, 11)
	b := onCamera(t, s)
	b.do(chromedp.ScrollIntoView(chromedp.CSS("canvas")))
	box := js[[]float64](b, "(r => [r.left, r.top, r.width / document.querySelector('canvas').width])(document.querySelector('canvas').getBoundingClientRect())")
	r := rand.New(rand.NewPCG(1, 2))
	for i, m := range s.marks() {
		x, y := m[0]+2*r.Float64()-1, m[1]+2*r.Float64()-1 // no hand is surer
		b.do(chromedp.MouseClickXY(box[0]+x*box[2], box[1]+y*box[2]))
		b.until(fmt.Sprintf("document.querySelector('#marks').value.split(';').length === %d", i+1))
	}
	b.until("!!document.querySelector('#fit .lead')")
	b.until(fmt.Sprintf("location.search.split('%%3B').length === %d", len(s.marks())))
	drawn := js[int](b, `(() => { const c = document.querySelector("canvas"), d = c.getContext("2d").getImageData(0, 0, c.width, c.height).data; let n = 0; for (let i = 0; i < d.length; i += 4) if (d[i] > 140 && d[i + 1] < 90 && d[i + 2] < 70) n++; return n; })()`)
	require.Greater(t, drawn, 300, "the curve is not drawn over the photograph")
	recorded(b, 2.4, b.follow)
}

// The same with nothing but the keyboard: aiming by the arrows, by leaps and steps.
func TestBrowserCameraByKeyboard(t *testing.T) {
	s := newScene(t, 1.7, 9)
	b := onCamera(t, s)
	b.tabTo("canvas")
	u := js[float64](b, "document.querySelector('canvas').width / document.querySelector('canvas').clientWidth")
	aim := [2]float64{float64(s.w) / 2, float64(s.h) / 2}
	for _, m := range s.marks() {
		for axis, keys := range [2][2]string{{kb.ArrowLeft, kb.ArrowRight}, {kb.ArrowUp, kb.ArrowDown}} {
			steps := int(math.Round((m[axis] - aim[axis]) / u))
			aim[axis] += float64(steps) * u
			key := keys[1]
			if steps < 0 {
				key, steps = keys[0], -steps
			}
			for range steps / 20 {
				b.key(key, chromedp.ModifierShift)
			}
			for range steps % 20 {
				b.key(key)
			}
		}
		b.key(kb.Enter)
	}
	n := len(s.marks())
	require.Equal(t, n, js[int](b, "document.querySelector('#marks').value.split(';').length"))
	b.key(kb.Enter) // one too many, and away with it again
	b.key(kb.Backspace)
	require.Equal(t, n, js[int](b, "document.querySelector('#marks').value.split(';').length"))
	b.until(fmt.Sprintf("!!document.querySelector('#fit .lead') && location.search.split('%%3B').length === %d", n))
	recorded(b, 1.7, func(css string) {
		b.tabTo(css)
		b.press(kb.Enter)
	})
}
