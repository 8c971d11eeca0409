package page

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// A piece that turns is shown as large as it was painted for, one side at a time, in its own proportions; each side is chosen by a
// mark that stands beside its number, on a desk and on a phone.
func TestBrowserTurningShowsOneSideAtATime(t *testing.T) {
	b := newOwnTab(t)
	b.open("/make?piece=half-circle-cape&finish=single-layer-hem&shell=wool-flannel&step=work")
	js[bool](b, `document.querySelector("details.turn").open = true`)
	b.until(`(i => i.complete && i.naturalWidth > 0)(document.querySelector(".turning .turns"))`)
	for _, width := range []int64{1280, 390} {
		b.size(width, 900)
		got := js[[]float64](b, `(() => {
			const pane = document.querySelector(".turning > div").getBoundingClientRect(), img = document.querySelector(".turning .turns"), i = img.getBoundingClientRect();
			const mark = (l) => { const r = document.createRange(), a = l.querySelector("input").getBoundingClientRect(); r.selectNodeContents(l.lastChild); const w = r.getBoundingClientRect(); return Math.abs(a.top + a.bottom - w.top - w.bottom) / 2; };
			return [pane.width, i.width / pane.width, i.width / i.height * img.naturalHeight / img.naturalWidth, Math.max(...[...document.querySelectorAll(".turning:first-of-type label")].slice(1).map(mark))];
		})()`)
		require.Greater(t, got[0], 220.0, "%d: pixels across", width)
		require.InDelta(t, 8, got[1], 0.02, "%d: one of eight sides is seen", width)
		require.InDelta(t, 1, got[2], 0.01, "%d: in its proportions", width)
		require.Less(t, got[3], 8.0, "%d: a number stands beside its mark", width)
	}
}
