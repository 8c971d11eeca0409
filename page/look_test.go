package page

import (
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

const madeUp = "piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel&lining=viscose-twill"

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
