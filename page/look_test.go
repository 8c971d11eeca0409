package page

import (
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"tenter/internal/shots"
)

const madeUp = "piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel&lining=viscose-twill"

// A first screen says what it has to say in 150 words, at any width, and nothing juts
// out sideways. On the screen of a verdict the picture and the answer are both seen.
func TestBrowserFirstScreensKeepToTheirWords(t *testing.T) {
	b := newTab(t)
	for _, at := range []string{"/", "/make", "/make?piece=half-circle-cape", "/make?piece=half-circle-cape&finish=bagged-lining",
		"/make?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel", "/make?" + madeUp, "/check?piece=triangular-shawl&finish=single-layer-hem&shell=oilcloth", "/camera", "/shortlist"} {
		b.open(at)
		for _, size := range [][2]int64{{390, 844}, {768, 1024}, {1400, 900}} {
			b.size(size[0], size[1])
			got := js[[]int64](b, shots.Measure)
			require.LessOrEqual(t, got[0], int64(150), "words on the first screen of %s at %d", at, size[0])
			require.Greater(t, got[0], int64(15), "%s at %d shows nothing", at, size[0])
			require.LessOrEqual(t, got[3], size[0], "%s at %d is wider than the screen", at, size[0])
			if b.text(".answer") == "" || at == "/" {
				continue
			}
			for _, css := range []string{"h1", ".seen :is(svg, img)", ".answer"} {
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
