package page

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// fits finds what is too small for a thumb or for eyes in the sun, and whether the
// page can be moved sideways.
const fits = `(() => {
	const bad = [];
	const seen = (e) => e.getClientRects().length > 0 && getComputedStyle(e).visibility !== "hidden" && !e.closest(".hidden");
	for (const e of document.querySelectorAll("main a, main button, main select, main summary, main input:not([type=hidden]):not([type=radio]), main label:has(input)")) {
		const r = e.getBoundingClientRect();
		if (seen(e) && (r.height < 44 || r.width < 44)) bad.push(e.tagName + " " + Math.round(r.width) + "x" + Math.round(r.height) + " " + e.textContent.trim().slice(0, 30));
	}
	for (const e of document.querySelectorAll("main p, main li, main label, main legend, main select, main input, main button, main dt, main dd, main span")) {
		if (seen(e) && e.textContent.trim() && !e.closest("svg") && parseFloat(getComputedStyle(e).fontSize) < 16) bad.push("small letters " + e.textContent.trim().slice(0, 40));
	}
	if (document.documentElement.scrollWidth > document.documentElement.clientWidth) bad.push("wider than the screen: " + document.documentElement.scrollWidth);
	return bad.join("; ");
})()`

// The pages of the shop are for one hand and the smallest screen, in sun and dark.
func TestBrowserShopFitsOneHand(t *testing.T) {
	b := newTab(t)
	for _, at := range []string{"/shop", "/shop?piece=half-circle-cape&finish=bagged-lining", "/shop?piece=half-circle-cape&finish=bagged-lining&fibre=wool&weave=felt", "/shop?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel&price=18", "/shop/list"} {
		b.phone(320, 640)
		b.open(at)
		require.Empty(t, js[string](b, fits), at)
		for _, scheme := range []string{"light", "dark"} {
			b.media("prefers-color-scheme", scheme)
			js[bool](b, axe+";true")
			require.Empty(t, js[string](b, `axe.run(document, { resultTypes: ["violations"] }).then((r) => r.violations.map((v) => v.id + ": " + v.nodes.map((n) => n.html.slice(0, 160)).join(" | ")).join("\n"))`), "%s, %s", at, scheme)
		}
	}
}
