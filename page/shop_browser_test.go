package page

import (
	"strings"

	"github.com/stretchr/testify/assert"
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

// fitsOneHand: what is used standing before a bolt is for one hand and the smallest screen;
// and any page is no wider than that.
func (b *tab) fitsOneHand(at string) {
	b.phone(320, 640)
	if strings.HasPrefix(at, "/shop") {
		assert.Empty(b.t, js[string](b, fits), at)
	}
	for _, w := range []int64{320, 390} {
		b.phone(w, 740)
		assert.LessOrEqual(b.t, js[int64](b, "document.documentElement.scrollWidth"), w, "%s at %d is wider than the screen", at, w)
	}
}
