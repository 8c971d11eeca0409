package folder

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"net/url"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/data"
	"tenter/page"
	"tenter/page/phone"
)

// makeUps are addresses of questions, drawn by chance.
func makeUps(t *testing.T, n int, own string) []string {
	adv, err := advise.Load(data.FS)
	require.NoError(t, err)
	rnd := rand.New(rand.NewPCG(20, 11))
	shells, linings := adv.Shells(), adv.Linings()
	var out []string
	for i := range n {
		q := url.Values{"piece": {adv.Pieces[rnd.IntN(len(adv.Pieces))].ID}, "shell": {shells[rnd.IntN(len(shells))].ID}}
		if i%10 == 0 {
			q.Set("shell", own)
		}
		finish := adv.Finishes[rnd.IntN(len(adv.Finishes))]
		q.Set("finish", finish.ID)
		if finish.Lined && i%3 > 0 {
			q.Set("lining", linings[rnd.IntN(len(linings))].ID)
		}
		if i%4 == 0 {
			q.Set("mass", fmt.Sprint(60+rnd.IntN(300))+"gsm")
		}
		if i%5 == 0 {
			q.Set("bending-length", fmt.Sprintf("%.1fcm", 1+2*rnd.Float64()))
		}
		if i%7 == 0 {
			q.Set("units", "imperial")
		}
		out = append(out, "check?"+q.Encode())
	}
	return out
}

// The engine in a browser says of 200 make-ups what the same code says on the
// desktop, byte for byte: verdict, share, reasons, figures, pictures; a measured
// swatch among them.
func TestBrowserAnswersAreThoseOfTheDesktop(t *testing.T) {
	h := newHost(t, builtFiles(t))
	d := newDevice(t)
	d.open(h.at() + "#records")
	d.ready("records")
	d.choose("desk.json", `{"version":1,"layout":1,"swatches":[{"name":"attic blue","sold_as":"cotton-sateen","measurements":[
		{"kind":"mass","taken":"2026-11-20T10:00:00Z","readings":[{"mass_gsm":131.5}]},
		{"kind":"droop","taken":"2026-11-20T10:05:00Z","readings":[{"face":"right","direction":"warp","overhang_cm":3.4}]}]}]}`)
	d.press("Look at it")
	d.press("Take it in")
	require.Contains(t, d.text(".said"), "1 added")
	document := js[string](d, `fetch("p/records/copy").then((r) => r.text())`)
	asked := makeUps(t, 200, "attic blue")
	// Each device draws a token of its own for its forms, and the forms hold it.
	token := js[string](d, `fetch("p/`+asked[0]+`").then((r) => r.text()).then((page) => /name="token" value="(\w+)"/.exec(page)[1])`)
	native, err := phone.New(phone.Options{Document: []byte(document), Prefix: below + "p", Token: token, Version: "test"})
	require.NoError(t, err)

	list, err := json.Marshal(asked)
	require.NoError(t, err)
	sums := js[[]string](d, `(async () => {
		const out = [];
		for (const at of `+string(list)+`) {
			const r = await fetch("p/" + at);
			const sum = await crypto.subtle.digest("SHA-256", await r.arrayBuffer());
			out.push(r.status + " " + [...new Uint8Array(sum)].map((b) => b.toString(16).padStart(2, "0")).join(""));
		}
		return out;
	})()`)
	require.Len(t, sums, len(asked))
	different := map[string]bool{}
	for i, at := range asked {
		u, err := url.Parse(below + "p/" + at)
		require.NoError(t, err)
		a, _ := native.Answer(page.Request{Method: "GET", URL: u})
		sum := sha256.Sum256(a.Body)
		require.Equal(t, 200, a.Status, at)
		require.Equal(t, fmt.Sprint(a.Status)+" "+hex.EncodeToString(sum[:]), sums[i], at)
		different[sums[i]] = true
	}
	require.Greater(t, len(different), 190, "the questions differ, and so do the answers")
}
