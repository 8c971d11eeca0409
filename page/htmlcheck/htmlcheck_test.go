package htmlcheck

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestMarkupThatABrowserWouldGuessAtIsRefused(t *testing.T) {
	for _, x := range []struct{ page, why string }{
		{"<p>a<ul><li>b</li></ul></p>", "<ul> stands inside <p>"},
		{"<div><span>a</div>", "</div> ends <span>"},
		{"<div>", "<div> is left open"},
		{`<a href="x" href="y">a</a>`, "href twice"},
	} {
		_, err := Parse(x.page)
		require.ErrorContains(t, err, x.why, x.page)
	}
	_, err := Parse(`<!doctype html><div><input name=a disabled><br>&nbsp;<p>x</p></div>`)
	require.NoError(t, err)
}

func TestSelectorsFindWhatTheySay(t *testing.T) {
	page, err := Parse(`<main id="m"><ul class="a b"><li><a href="/x">one  two</a></li><li class="b"><a>three</a></li></ul></main>`)
	require.NoError(t, err)
	require.Len(t, page.All("li"), 2)
	require.Len(t, page.All("#m .a li"), 2)
	require.Equal(t, "one two", page.One("ul.a.b a[href=/x]").Says())
	require.Equal(t, "three", page.One("li.b a").Says())
	require.Nil(t, page.One("ol li"))
	require.Nil(t, page.One("li.b a[href]"))
}

func TestFaultsOfAPageAreFound(t *testing.T) {
	page, err := Parse(`<html><title>t</title><h1>a</h1><h3>b</h3><p id="x" style="a">c</p><p id="x" onclick="d">e</p><input name="n"><a href="#gone">f</a><a href="https://else.where/">g</a><script>1</script></html>`)
	require.NoError(t, err)
	require.Len(t, Faults(page), 9)
	sound, err := Parse(`<html lang="en"><title>t</title><h1>a</h1><h2 id="h">b</h2><section aria-labelledby="h"><label for="i">n</label><input id="i" name="n"></section></html>`)
	require.NoError(t, err)
	require.Empty(t, Faults(sound))
}
