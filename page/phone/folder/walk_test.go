package folder

import (
	"context"
	"encoding/json"
	"maps"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"tenter/kb/record"
)

// Installed from a host that then stops: the whole way through the shop without a
// network, and what was recorded is there after the browser was closed.
func TestBrowserShopOffline(t *testing.T) {
	h := newHost(t, builtFiles(t))
	d := newDevice(t)
	d.open(h.at())
	d.ready("shop")
	h.stop()
	asked := h.asked.Load()
	d.restart()
	d.open(h.at())
	d.ready("shop")
	d.fill("piece", "half-circle-cape")
	d.fill("finish", "bagged-lining")
	d.press("On to the bolt")
	d.fill("shell", "wool flannel")
	d.fill("feels", "like jeans")
	d.fill("width", "150")
	d.fill("price", "18")
	d.press("Will it do?")
	require.Contains(t, d.text("main"), "Wool flannel 230 cm, 150 cm wide")
	d.press("Keep on the shortlist")
	require.Contains(t, d.text(".kept"), "18.00 per metre")

	// The engine ends: it starts anew, and what was asked meanwhile is answered.
	js[bool](d, `(page.location.href = page.location.pathname.replace("shortlist", "check?shell=denim&piece=cowl"), navigator.locks.request("tenter engine /school/tenter/", { steal: true }, () => {}), true)`)
	d.ready("check")
	require.Contains(t, d.text("main"), "denim")

	d.restart()
	d.open(h.at() + "#shortlist")
	d.ready("shortlist")
	require.Contains(t, d.text(".kept"), "18.00 per metre", "kept after the browser was closed")
	d.press("wool flannel")
	d.press("Shopping card")
	d.until("page.location.pathname.endsWith('/p/card') && page.body.textContent.length > 200")
	require.Equal(t, asked, h.asked.Load(), "nothing was asked of the host")
}

// The browser itself finds nothing amiss that would keep it from the home screen: neither
// in the manifest nor in what it wants to install a page. A folder without its icons is
// found wanting.
func TestBrowserMayInstall(t *testing.T) {
	amiss := func(files map[string][]byte) (out []string) {
		h := newHost(t, files)
		d := newDevice(t)
		d.open(h.at())
		d.until(`navigator.serviceWorker.controller !== null || document.getElementById("say").textContent.startsWith("Not all files came")`)
		require.NoError(t, chromedp.Do(d.ctx, chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
			m, err := cdp.Call(ctx, t, page.GetAppManifest, page.GetAppManifestParams{})
			if err != nil {
				return err
			}
			if !strings.HasSuffix(m.URL, below+"manifest.webmanifest") || m.Data == "" {
				out = append(out, "no manifest at "+m.URL)
			}
			for _, e := range m.Errors {
				out = append(out, e.Message)
			}
			r, err := cdp.Call(ctx, t, page.GetInstallabilityErrors, cdp.Empty{})
			for _, e := range r.InstallabilityErrors {
				out = append(out, e.ErrorID)
			}
			return err
		})))
		return out
	}
	files := builtFiles(t)
	require.Empty(t, amiss(files))
	bare := maps.Clone(files)
	for name := range icons() {
		delete(bare, name)
	}
	require.NotEmpty(t, amiss(bare))
}

// Records come in from a desktop, a clash is shown with both sides, and a copy goes
// home. Markup in them is words. A full storage is told, and nothing is half kept.
func TestBrowserRecordsMove(t *testing.T) {
	h := newHost(t, builtFiles(t))
	d := newDevice(t)
	d.open(h.at() + "#records")
	d.ready("records")
	require.Contains(t, d.text("main"), "in this browser alone", "that it may be cleared is said")
	d.choose("desk.json", `{"version":1,"layout":1,"swatches":[{"name":"<img src=x onerror=alert(1)>","sold_as":"denim","colour":"blue"}],"notes":[]}`)
	d.press("Look at it")
	require.Contains(t, d.text("main"), "1 thing is new")
	d.press("Take it in")
	require.Contains(t, d.text(".said"), "1 added")
	d.choose("desk.json", `{"version":1,"layout":1,"swatches":[{"name":"<img src=x onerror=alert(1)>","sold_as":"denim","colour":"black"}],"notes":[]}`)
	d.press("Look at it")
	require.Contains(t, d.text("fieldset"), "Here: colour blue")
	require.Contains(t, d.text("fieldset"), "There: colour black")
	require.Zero(t, js[int](d, `page.querySelectorAll("main img").length`))
	js[bool](d, `(page.querySelectorAll("fieldset input")[1].checked = true)`)
	d.press("Take it in")
	require.Contains(t, d.text(".said"), "1 taken from there")
	d.press("Take a copy")
	var copied record.Document
	require.NoError(t, json.Unmarshal([]byte(js[string](d, `fetch("p/records/copy").then((r) => r.text())`)), &copied))
	require.Equal(t, "black", copied.Swatches[0].Colour)
	require.NotEmpty(t, copied.Copies)

	// From now on the store refuses the worker: it is of a newer build.
	require.True(t, js[bool](d, `new Promise((done) => { const r = indexedDB.open("tenter /school/tenter/", 2); r.onsuccess = () => { r.result.close(); done(true); }; r.onerror = () => done(false); })`))
	js[bool](d, `(page.location.href = page.location.pathname.replace("records", "swatches/add"), true)`)
	d.ready("swatches/add")
	d.fill("name", "one too many")
	js[bool](d, `(page.querySelector("form[method=post] button").click(), true)`)
	d.until(`page.body.textContent.includes("Nothing was recorded")`)
	js[bool](d, `(page.location.href = page.location.pathname.replace("swatches/add", "swatches"), true)`)
	d.ready("swatches")
	require.NotContains(t, d.text("main"), "one too many")
	require.Contains(t, d.text("main"), "<img src=x")
}

// A phone that has no room for the files is told so, nothing half is kept, and with room it
// takes them.
func TestBrowserStorageIsFull(t *testing.T) {
	h := newHost(t, builtFiles(t))
	d := newDevice(t)
	d.quota(h, 1<<20)
	d.open(h.at())
	d.until(`document.getElementById("say").textContent.includes("no room for tenter")`)
	require.Zero(t, js[int](d, `caches.keys().then((names) => names.length)`))
	d.quota(h, 0)
	d.open(h.at() + "?again#swatches") // a reload, not a jump within the page
	d.ready("swatches")
}

// The storage fills up in use: nothing is said to be recorded that was not, what was typed
// can be sent again, and a copy of the rest can be saved meanwhile.
func TestBrowserStorageFillsUp(t *testing.T) {
	h := newHost(t, builtFiles(t))
	d := newDevice(t)
	d.open(h.at() + "#swatches/add")
	d.ready("swatches/add")
	d.fill("name", "there before")
	d.press("Record it")
	d.restart() // the browser asks anew how much there is
	d.quota(h, 1<<20)
	d.open(h.at() + "#swatches/add")
	d.ready("swatches/add")
	d.fill("name", `one "too" many`)
	d.fill("sold_as", "denim")
	d.press("Record it")
	require.Contains(t, d.text("main"), "The storage of the browser is full. Nothing was recorded")
	require.Contains(t, js[string](d, `fetch("p/records/copy").then((r) => r.text())`), "there before")
	require.NotContains(t, js[string](d, `fetch("p/swatches").then((r) => r.text())`), "too")
	d.press("Send it again")
	require.Contains(t, d.text("main"), "The storage of the browser is full", "still")
	d.quota(h, 0)
	d.restart()
	d.open(h.at() + "#swatches")
	d.ready("swatches")
	require.NotContains(t, d.text("main"), "too", "what was not acknowledged was not kept")
	require.Contains(t, d.text("main"), "there before")
}

// A new version comes while the old one is in use: half of it on the host is not
// taken, the whole of it only when the user says so, and the records stay.
func TestBrowserUpdate(t *testing.T) {
	old := builtFiles(t)
	e := Engine{Packed: old["engine.wasm.gz"], Exec: append(append([]byte{}, old["wasm_exec.js"]...), "// of another build\n"...)}
	fresh, stamp, err := Files(e, "test")
	require.NoError(t, err)
	h := newHost(t, old)
	d := newDevice(t)
	d.open(h.at() + "#swatches/add")
	d.ready("swatches/add")
	d.fill("name", "kept over")
	d.press("Record it")
	was := js[string](d, `document.querySelector("meta[name=tenter-stamp]").content`)
	require.NotEqual(t, stamp, was)

	half := maps.Clone(old)
	half["sw.js"] = fresh["sw.js"]
	h.files.Store(&half)
	require.Equal(t, "refused", js[string](d, `navigator.serviceWorker.getRegistration().then((r) => r.update().then(async (r) => {
		const w = r.installing || r.waiting;
		while (w && w.state === "installing") await new Promise((next) => w.addEventListener("statechange", next, { once: true }));
		return w && w.state === "redundant" ? "refused" : "taken";
	}))`), "files of two builds are not taken")
	js[bool](d, `(page.location.href = page.location.pathname.replace(/p\/.*/, "p/swatches"), true)`)
	d.ready("swatches")
	require.Contains(t, d.text("main"), "kept over", "the old version is whole")

	h.files.Store(&fresh)
	js[bool](d, `navigator.serviceWorker.getRegistration().then((r) => r.update()).then(() => true)`)
	d.until(`document.getElementById("say").textContent.includes("A newer tenter is here")`)
	require.Equal(t, was, js[string](d, `document.querySelector("meta[name=tenter-stamp]").content`), "nothing is switched unasked")
	js[bool](d, `(document.querySelector("#say button").click(), true)`)
	d.until(`document.querySelector("meta[name=tenter-stamp]").content === "` + stamp + `"`)
	d.ready("swatches")
	require.Contains(t, d.text("main"), "kept over")
}
