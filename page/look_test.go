package page

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"

	"tenter/internal/shots"
)

const madeUp = "piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel&lining=viscose-twill"

// A first screen says what it has to say in 150 words, at any width, and nothing juts
// out sideways. On the screen of a verdict the picture and the answer are both seen.
func TestBrowserFirstScreensKeepToTheirWords(t *testing.T) {
	b := newTab(t)
	for _, size := range [][2]int64{{390, 844}, {768, 1024}, {1400, 900}} {
		b.size(size[0], size[1])
		for _, at := range []string{"/", "/make", "/make?piece=half-circle-cape", "/make?piece=half-circle-cape&finish=bagged-lining",
			"/make?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel", "/make?" + madeUp, "/check?piece=triangular-shawl&finish=single-layer-hem&shell=oilcloth", "/camera", "/shortlist"} {
			b.open(at)
			got := js[[]int64](b, shots.Measure)
			require.LessOrEqual(t, got[0], int64(150), "words on the first screen of %s at %d", at, size[0])
			require.Greater(t, got[0], int64(15), "%s at %d shows nothing", at, size[0])
			require.LessOrEqual(t, got[3], size[0], "%s at %d is wider than the screen", at, size[0])
			if b.text(".answer") == "" || at == "/" {
				continue
			}
			for _, css := range []string{"h1", ".seen svg", ".answer"} {
				require.True(t, js[bool](b, `(r => r.top >= 0 && r.bottom <= innerHeight)(document.querySelector("`+css+`").getBoundingClientRect())`), "%s of %s at %d is not on the first screen", css, at, size[0])
			}
		}
	}
}

// On a phone the trail is one line, the menu and the filter are folded, and what is
// meant to be tapped is large enough.
func TestBrowserPhoneFirst(t *testing.T) {
	b := newTab(t)
	b.phone(390, 844)
	b.open("/make?piece=half-circle-cape&finish=bagged-lining")
	require.LessOrEqual(t, js[float64](b, "document.querySelector('.trail').getBoundingClientRect().height"), 48.0)
	require.False(t, js[bool](b, "document.querySelector('.top nav').checkVisibility()"))
	require.False(t, js[bool](b, "document.querySelector('form.narrow').checkVisibility({contentVisibilityAuto: true})"))
	small := js[[]string](b, `[...document.querySelectorAll("a[href], button, summary, input:not([type=hidden])")].filter(e => e.checkVisibility() && !e.closest("p, .skip, dd")).map(e => [e.getBoundingClientRect(), e]).filter(([r]) => r.height > 0 && r.height < 24).map(([r, e]) => e.textContent.trim().slice(0, 30) + " " + r.height)`)
	require.Empty(t, small, "too small to be tapped")
	for _, css := range []string{".trail a", ".open-menu"} {
		require.GreaterOrEqual(t, js[float64](b, "document.querySelector('"+css+"').getBoundingClientRect().height"), 44.0, css)
	}
	b.do(chromedp.Tap(chromedp.CSS(".open-menu")))
	b.until("document.querySelector('.top nav').checkVisibility()")
	require.GreaterOrEqual(t, js[float64](b, "document.querySelector('.top nav a').getBoundingClientRect().height"), 44.0)
}

// photo is a photograph of a strip over a table edge as a camera would take it: a
// dark table, a blurred strip along the marks.
func photo(t *testing.T, marks [][2]float64) string {
	t.Helper()
	const w, h = 800, 640
	img := image.NewGray(image.Rect(0, 0, w, h))
	strip := append([][2]float64{{0, marks[2][1]}, marks[2]}, marks[4:]...)
	strip = append(strip, marks[3])
	for y := range h {
		for x := range w {
			away := math.Inf(1)
			for i := 1; i < len(strip); i++ {
				a, b := strip[i-1], strip[i]
				dx, dy := b[0]-a[0], b[1]-a[1]
				u := math.Max(0, math.Min(1, ((float64(x)-a[0])*dx+(float64(y)-a[1])*dy)/math.Max(1e-9, dx*dx+dy*dy)))
				away = math.Min(away, math.Hypot(float64(x)-a[0]-u*dx, float64(y)-a[1]-u*dy))
			}
			grey := 225 - 170*math.Exp(-away*away/8)
			if float64(x) < marks[2][0] && float64(y) > marks[2][1]+4 && y < 220 {
				grey = 90
			}
			img.SetGray(x, y, color.Gray{uint8(grey)})
		}
	}
	var out bytes.Buffer
	require.NoError(t, png.Encode(&out, img))
	at := filepath.Join(t.TempDir(), "strip.png")
	require.NoError(t, os.WriteFile(at, out.Bytes(), 0o600))
	return at
}

// A photograph is marked by pointer and by keys; the curve that fits is drawn over it,
// and the bending length is that of the strip.
func TestBrowserCamera(t *testing.T) {
	b := newTab(t)
	marks := stripMarks(t, 2.4, 11)
	b.open("/camera")
	require.False(t, js[bool](b, "document.querySelector('canvas').checkVisibility()"))
	b.do(chromedp.SetUploadFiles(chromedp.CSS("#photo"), []string{photo(t, marks)}))
	b.until("document.querySelector('#next-mark').textContent.includes('one mark of the ruler')")
	b.do(chromedp.ScrollIntoView(chromedp.CSS("canvas")))
	box := js[[]float64](b, "(r => [r.left, r.top, r.width / document.querySelector('canvas').width])(document.querySelector('canvas').getBoundingClientRect())")
	for i, m := range marks[:len(marks)-1] {
		b.do(chromedp.MouseClickXY(box[0]+m[0]*box[2], box[1]+m[1]*box[2]))
		b.until(fmt.Sprintf("document.querySelector('#marks').value.split(';').length === %d", i+1))
	}
	b.until("document.querySelector('#fit .lead') && document.querySelector('#fit .lead').textContent.includes('It bends at 2.')")
	require.Regexp(t, `It bends at 2\.[345]`, b.text("#fit .lead"))
	curve := js[string](b, "document.querySelector('[data-curve]').dataset.curve")
	require.Greater(t, strings.Count(curve, ","), 50)
	drawn := js[int](b, `(() => { const c = document.querySelector("canvas"), d = c.getContext("2d").getImageData(0, 0, c.width, c.height).data; let n = 0; for (let i = 0; i < d.length; i += 4) if (d[i] > 140 && d[i + 1] < 90 && d[i + 2] < 70) n++; return n; })()`)
	require.Greater(t, drawn, 300, "the curve is not drawn over the photograph")

	// by keys: one more mark, and away with it again
	b.do(chromedp.Focus(chromedp.CSS("canvas")))
	n := js[int](b, "document.querySelector('#marks').value.split(';').length")
	b.key(kb.ArrowRight)
	b.key(kb.Enter)
	require.Equal(t, n+1, js[int](b, "document.querySelector('#marks').value.split(';').length"))
	b.key(kb.Backspace)
	require.Equal(t, n, js[int](b, "document.querySelector('#marks').value.split(';').length"))
}
