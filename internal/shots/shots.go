// Package shots is what the pictures of the pages and their tests share.
package shots

// Measure is a script that counts what a reader sees of a page without scrolling and
// without opening anything. It gives the words on the first screen, the words on the
// whole page, how high and how wide the page is in pixels, and what it weighs with its
// style and script, in kB; pictures of pieces worn, which come later, are not counted.
const Measure = `(() => {
	const words = (s) => (s.match(/[\p{L}\p{N}][^\s]*/gu) || []).length;
	const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
	let first = 0, all = 0;
	for (let n = walk.nextNode(); n; n = walk.nextNode()) {
		const e = n.parentElement;
		if (!e || e.closest("script, style, .hidden, .skip, svg, select, datalist") || !e.checkVisibility({contentVisibilityAuto: true, visibilityProperty: true})) continue;
		const r = document.createRange();
		r.selectNodeContents(n);
		const boxes = [...r.getClientRects()].filter((b) => b.width > 1 && b.height > 1);
		if (!boxes.length) continue;
		const w = words(n.textContent);
		all += w;
		const seen = boxes.filter((b) => b.top < innerHeight && b.bottom > 0).length / boxes.length;
		first += Math.round(w * seen);
	}
	const bytes = performance.getEntriesByType("resource").filter((e) => !e.name.includes("/fall.png")).concat(performance.getEntriesByType("navigation")).reduce((n, e) => n + (e.decodedBodySize || 0), 0);
	return [first, all, document.documentElement.scrollHeight, document.documentElement.scrollWidth, Math.round(bytes / 1024)];
})()`
