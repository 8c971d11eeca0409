package page

import (
	"strings"

	"github.com/stretchr/testify/assert"
)

// thumbs are what is too small to hit with a thumb or to read in the sun, what is folded
// away opened: everything to press but links in running text, and all letters outside of
// pictures. Lists of names set like a sentence count as one.
const thumbs = `(() => {
	const bad = new Set();
	for (const e of document.querySelectorAll("details")) e.open = true;
	const seen = (e) => e.getClientRects().length > 0 && getComputedStyle(e).visibility !== "hidden" && !e.closest(".hidden, svg, .skip");
	const running = (e) => e.tagName === "A" && getComputedStyle(e).display === "inline" && [...e.parentElement.childNodes].some((n) => n !== e && !["A", "BUTTON"].includes(n.nodeName) && /\w/.test(n.textContent));
	for (const e of document.querySelectorAll("a, button, select, summary, textarea, input:not([type=hidden], [type=radio], [type=checkbox]), label:has(input[type=radio], input[type=checkbox])")) {
		const r = (getComputedStyle(e, "::after").position === "absolute" ? e.parentElement : e).getBoundingClientRect(); // a card is pressed as a whole
		if (seen(e) && !running(e) && r.height < 43.5) bad.add("low: " + e.tagName + "." + e.parentElement.tagName + "." + e.parentElement.className + " " + Math.round(r.height) + " " + e.textContent.trim().slice(0, 24));
	}
	const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	for (let n; n = walk.nextNode();) {
		const e = n.parentElement;
		if (n.data.trim() && seen(e) && parseFloat(getComputedStyle(e).fontSize) < 16) bad.add("small: " + getComputedStyle(e).fontSize + " " + e.tagName + "." + e.className + " " + n.data.trim().slice(0, 24));
	}
	if (document.documentElement.scrollWidth > document.documentElement.clientWidth) bad.add("wider than the screen: " + document.documentElement.scrollWidth);
	return [...bad].slice(0, 6);
})()`

// fitsAThumb: every page is for one hand too, at the widths of the smallest phone and of a
// usual one, before and after what is folded away is opened. But for the card, which is a
// sheet for paper.
func (b *tab) fitsAThumb(at string) {
	if strings.HasPrefix(at, "/card") {
		return
	}
	for _, width := range []int64{320, 390} {
		b.phone(width, 700)
		assert.Empty(b.t, js[[]string](b, thumbs), "%s, %d wide", at, width)
	}
}
