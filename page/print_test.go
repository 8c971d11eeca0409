package page

import (
	"html"
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What is printed holds every caution that the screen holds, folded up or not.
func TestBrowserPrintsEveryCaution(t *testing.T) {
	b := newTab(t)
	b.media("media", "print")
	q := url.Values{"piece": {"half-circle-cape"}, "finish": {"bagged-lining"}, "shell": {"cotton-velvet"}, "lining": {"viscose-twill"}}
	for _, at := range []string{"/make?", "/check?"} {
		b.open(at + q.Encode())
		// The text of each sentence that a caution stands in, and what of the page is seen on paper.
		said := js[[]string](b, `[...document.querySelectorAll('summary.say')].map(e => e.textContent.replace(/\s+/g, ' ').trim())`)
		require.NotEmpty(t, said, at)
		seen := strings.Join(strings.Fields(js[string](b, `document.body.innerText`)), " ")
		for _, s := range said {
			require.Contains(t, strings.ToLower(seen), strings.ToLower(html.UnescapeString(s)), at)
		}
		hidden := js[int](b, `[...document.querySelectorAll('summary.say')].filter(e => e.getClientRects().length === 0).length`)
		require.Zero(t, hidden, "%s: a caution is not printed", at)
	}
}
