package phone

import (
	"net/url"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/page"
	"tenter/page/sheet"
)

const below = "/school/tenter/p"

func ask(t *testing.T, p *Phone, method, at string, fields ...string) (page.Reply, []byte) {
	t.Helper()
	u, err := url.Parse(below + at)
	require.NoError(t, err)
	r := page.Request{Method: method, URL: u}
	r.Form.Fields = url.Values{"token": {"secret"}}
	for i := 0; i+1 < len(fields); i += 2 {
		r.Form.Fields.Set(fields[i], fields[i+1])
	}
	return p.Answer(r)
}

// What is recorded comes out as a document before the answer; what could not be kept
// is as if it had not been, and what was kept before stays.
func TestRecordsAreKeptOrNot(t *testing.T) {
	p, err := New(Options{Token: "secret", Prefix: below})
	require.NoError(t, err)
	a, first := ask(t, p, "POST", "/swatches/add", "name", "gold", "sold_as", "sateen")
	require.Equal(t, 303, a.Status)
	require.Equal(t, below+"/swatch/gold", a.Header["Location"])
	require.Contains(t, string(first), `"name": "gold"`)
	p.Kept(first)
	_, second := ask(t, p, "POST", "/swatches/add", "name", "red", "sold_as", "denim")
	require.Contains(t, string(second), `"name": "red"`)
	u, err := url.Parse(below + "/swatches/add")
	require.NoError(t, err)
	form := sheet.Form{Fields: url.Values{"name": {"red"}, "sold_as": {"denim"}, "token": {"guess"}}}
	a = p.Lost(page.Request{Method: "POST", URL: u, Form: form}, "the storage of the browser is full")
	require.Equal(t, 500, a.Status)
	require.Contains(t, string(a.Body), "storage of the browser is full")
	require.Contains(t, string(a.Body), `name="sold_as" value="denim"`, "what was typed can be sent again")
	require.Contains(t, string(a.Body), `action="`+below+`/swatches/add"`)
	require.Contains(t, string(a.Body), `href="`+below+`/records/copy"`)
	require.NotContains(t, string(a.Body), "guess", "the token is of this page")
	a, none := ask(t, p, "GET", "/swatches")
	require.Nil(t, none)
	require.Contains(t, string(a.Body), "gold")
	require.NotContains(t, string(a.Body), ">denim<")

	again, err := New(Options{Token: "secret", Prefix: below, Document: first})
	require.NoError(t, err)
	a, _ = ask(t, again, "GET", "/search?q=gold")
	require.Contains(t, string(a.Body), below+"/swatch/gold", "found after a start anew")
	_, err = New(Options{Document: []byte(`{"version":1,"layout":99}`)})
	require.Error(t, err, "records of a newer tenter are not written over")
}

// Every address of a page lies below the prefix, also with a name that looks like one.
func TestAddressesLieBelowThePrefix(t *testing.T) {
	p, err := New(Options{Token: "secret", Prefix: below})
	require.NoError(t, err)
	ask(t, p, "POST", "/swatches/add", "name", `x" href="/evil`, "sold_as", "sateen")
	for _, at := range []string{"/", "/shop", "/make?piece=cowl&finish=bagged-lining", "/check?shell=denim&piece=cowl", "/swatches", "/list", "/cut?piece=cowl&shell=denim&finish=faced-edge"} {
		a, _ := ask(t, p, "GET", at)
		require.Equal(t, 200, a.Status, at)
		for _, attribute := range []string{`href="`, `src="`, `action="`} {
			for _, rest := range strings.Split(string(a.Body), attribute)[1:] {
				if strings.HasPrefix(rest, "/") {
					require.True(t, strings.HasPrefix(rest, below+"/"), "%s leads out of the folder: %s%.60s", at, attribute, rest)
				}
			}
		}
		require.Equal(t, "SAMEORIGIN", a.Header["X-Frame-Options"])
		require.Contains(t, a.Header["Content-Security-Policy"], "default-src 'self'")
		require.Contains(t, string(a.Body), "All in this browser; nothing is sent.", at)
	}
	a, _ := ask(t, p, "POST", "/swatches/add", "token", "guess")
	require.Equal(t, 403, a.Status)
}

// Working ahead ends, and changes no answer.
func TestWarm(t *testing.T) {
	if testing.Short() {
		t.Skip("draws every cloth")
	}
	p, err := New(Options{Token: "secret", Prefix: below})
	require.NoError(t, err)
	cold, _ := ask(t, p, "GET", "/check?shell=denim&piece=cowl")
	n := 0
	for ; p.Warm(); n++ {
		require.Less(t, n, 5000)
	}
	require.Greater(t, n, 300)
	p, err = New(Options{Token: "secret", Prefix: below})
	require.NoError(t, err)
	for range n {
		p.Warm()
	}
	warm, _ := ask(t, p, "GET", "/check?shell=denim&piece=cowl")
	require.Equal(t, string(cold.Body), string(warm.Body))
}
