package page

import (
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/page/htmlcheck"
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
	require.Regexp(t, `Buy ?Wool flannel [0-9]+ cm, 150 cm wide`, answer.Says())
	require.Contains(t, answer.Says(), "at 18.00 per metre")
	require.Equal(t, "/check", strings.SplitN(answer.All(".taps a")[len(answer.All(".taps a"))-2].Attr["href"], "?", 2)[0])
	require.NotContains(t, answer.Says(), "Of your own")
	// A swatch of one's own is offered as a lining.
	post(s, h, "/swatches/add", "name", "attic twill", "sold_as", "viscose-twill")
	require.Contains(t, read(t, h, to.RequestURI()).One("#linings").Says(), "Which lining?")
	require.Contains(t, read(t, h, to.RequestURI()).Says(), "attic twill")
	// The one shortlist holds the bolt with its price and verdict, once, whatever page kept
	// it, and leads back. The address that the shop had for it leads there.
	keep := func(page *htmlcheck.Node) *htmlcheck.Node {
		return moved(t, h, post(s, h, "/shortlist", "do", "add", "for", page.One("form.keep input[name=for]").Attr["value"]))
	}
	keep(answer)
	list := keep(read(t, h, answer.All(".taps a")[len(answer.All(".taps a"))-2].Attr["href"]))
	require.Len(t, list.All(".kept .whole"), 1)
	require.Regexp(t, `Buy .*wool flannel [0-9]+ cm, 150 cm wide: about [0-9.]+ at 18\.00 per metre`, list.One(".kept").Says())
	require.Contains(t, list.One(".kept").Says(), "suits")
	require.Contains(t, read(t, h, list.One(".kept a").Attr["href"]).One("h1").Says(), "of wool flannel")
	require.Equal(t, "/shortlist", get(h, "/shop/list").Header.Get("Location"))
	// What was written of it stays when it is kept again.
	id := list.One("input[name=bolt]").Attr["value"]
	moved(t, h, post(s, h, "/shortlist", "do", "write", "bolt", id, "price", "18.00 per metre", "note", "last 3 m"))
	require.Contains(t, keep(answer).One(".kept").Says(), "last 3 m")
	list = moved(t, h, post(s, h, "/shortlist", "do", "remove", "bolt", id))
	require.Empty(t, list.All(".kept .whole"))
}
