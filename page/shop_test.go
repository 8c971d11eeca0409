package page

import (
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The way through the shop: the piece, the bolt by its feel and fall, the verdict with
// what to buy, a lining of one's own, the shortlist.
func TestShop(t *testing.T) {
	s, _ := ownSite(t)
	h := s.Handler(here)
	require.Contains(t, read(t, h, "/shop").Says(), "What are you making?")
	const made = "/shop?finish=bagged-lining&piece=half-circle-cape"
	bolt := read(t, h, made)
	require.Equal(t, "This bolt", bolt.One("h1").Says())
	require.Len(t, bolt.All(".falls svg"), 6, "each hand is drawn")
	// No name on the ticket: fibre and weave lead to names, and what was said of the bolt goes along.
	near := read(t, h, made+"&fibre=wool&weave=twill-2-2&price=18")
	require.NotEmpty(t, near.All(".taps a"))
	for _, a := range near.All(".taps a") {
		require.Contains(t, a.Attr["href"], "price=18")
	}
	require.Contains(t, read(t, h, made+"&fibre=elastane&weave=felt").Says(), "Nothing of that fibre and weave")
	// By feel and fall: the address says it as all pages do.
	res := get(h, made+"&shell=wool-flannel&feels=like+jeans&falls=soft&width=150&price=18")
	to, err := url.Parse(res.Header.Get("Location"))
	require.NoError(t, err)
	require.Equal(t, "230-400gsm", to.Query().Get("mass"))
	require.Equal(t, "1.2-1.8cm", to.Query().Get("bending-length"))
	require.Empty(t, to.Query().Get("feels"))
	answer := read(t, h, to.RequestURI())
	require.Regexp(t, `Buy .*wool flannel [0-9]+ cm, 150 cm wide`, answer.Says())
	require.Contains(t, answer.Says(), "at 18.00 per metre")
	require.Equal(t, "/check", strings.SplitN(answer.All(".taps a")[len(answer.All(".taps a"))-2].Attr["href"], "?", 2)[0])
	require.NotContains(t, answer.Says(), "Of your own")
	// A swatch of one's own is offered as a lining.
	post(s, h, "/swatches/add", "name", "attic twill", "sold_as", "viscose-twill")
	require.Contains(t, read(t, h, to.RequestURI()).One("#linings").Says(), "Which lining?")
	require.Contains(t, read(t, h, to.RequestURI()).Says(), "attic twill")
	// The shortlist holds the bolt with its price and verdict, once, and leads back.
	keep := answer.One("form[method=post]").Attr["action"]
	moved(t, h, post(s, h, keep, "do", "add"))
	list := moved(t, h, post(s, h, keep, "do", "add"))
	require.Len(t, list.All(".bolts li"), 1)
	require.Contains(t, list.One(".bolts").Says(), "18.00 per metre")
	require.Contains(t, read(t, h, list.One(".bolts a").Attr["href"]).One("h1").Says(), "Wool flannel")
	id := list.One("input[name=bolt]").Attr["value"]
	list = moved(t, h, post(s, h, "/shop/list", "do", "remove", "bolt", id))
	require.Empty(t, list.All(".bolts li"))
}
