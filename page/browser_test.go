package page

import (
	"bytes"
	"context"
	_ "embed"
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	cdplog "github.com/chromedp/cdproto/log"
	cdppage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/data"
	"tenter/internal/testkit"
	"tenter/internal/testkit/chromium"
	knowledgebase "tenter/kb"
)

// These tests drive a real browser, one for all of them.

//go:embed testdata/axe/axe.min.js
var axe string

func TestMain(m *testing.M) {
	lockOld, lockWait, askTime = 30*time.Minute, time.Hour, time.Hour // no test depends on the clock
	_, err := advise.Load(data.FS)
	code := testkit.NeedData(m, err)
	chromium.Close()
	os.Exit(code)
}

// tab is one tab on a site of its own.
type tab struct {
	t   testing.TB
	ctx context.Context
	at  string // of the site

	mu     sync.Mutex
	errors []string // what the browser complained of
	asked  []string // dialogs that were opened
}

func (b *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	b.t.Helper()
	require.NoError(b.t, chromedp.Do(b.ctx, steps...))
}

// call sends one command of the protocol.
func call[P any](b *tab, c cdp.Command[P, cdp.Empty], p P) {
	b.t.Helper()
	b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, c, p)
		return err
	}))
}

// serveSite serves a site for the length of a test.
func serveSite(t testing.TB, s *Site) string {
	t.Helper()
	l, err := Listen("127.0.0.1:0")
	require.NoError(t, err)
	ctx, stop := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- s.Serve(ctx, l) }()
	t.Cleanup(func() {
		stop()
		require.NoError(t, <-done)
	})
	return "http://" + l.Addr().String()
}

// newTab opens a tab on a fresh site. A complaint of the browser, a script
// error, or a dialog fails the test.
func newTab(t testing.TB) *tab {
	t.Helper()
	chromium.One(t)
	return tabOn(t, serveSite(t, newSite(t)))
}

func tabOn(t testing.TB, at string) *tab {
	t.Helper()
	b := &tab{t: t, at: at}
	parent, cancel := chromedp.NewContext(chromium.One(t))
	t.Cleanup(cancel)
	_, err := chromedp.Run(parent, chromedp.Title())
	require.NoError(t, err)
	ctx := parent
	if end, limited := testkit.Context(t).Deadline(); limited {
		var stop func()
		ctx, stop = context.WithDeadline(parent, end)
		t.Cleanup(stop)
	}
	b.ctx = ctx
	require.NoError(t, chromedp.Listen(ctx, func(ev any) {
		b.mu.Lock()
		defer b.mu.Unlock()
		switch e := ev.(type) {
		case *runtime.EventExceptionThrown:
			b.errors = append(b.errors, "script: "+e.ExceptionDetails.Text)
		case *cdplog.EventEntryAdded:
			if e.Entry.Level == cdplog.EntryLevelError {
				b.errors = append(b.errors, string(e.Entry.Source)+": "+e.Entry.Text+" "+e.Entry.URL)
			}
		case *cdppage.EventJavascriptDialogOpening:
			b.asked = append(b.asked, e.Message)
		}
	}))
	b.size(1200, 900)
	b.media()
	t.Cleanup(func() {
		b.mu.Lock()
		defer b.mu.Unlock()
		require.Empty(t, b.errors, "the browser complained")
		require.Empty(t, b.asked, "a dialog was opened")
	})
	return b
}

// forgive drops complaints that a test means to cause.
func (b *tab) forgive() []string {
	b.mu.Lock()
	defer b.mu.Unlock()
	out := b.errors
	b.errors = nil
	return out
}

func (b *tab) size(w, h int64) { b.do(chromedp.EmulateViewport(w, h)) }

func (b *tab) phone(w, h int64) {
	b.do(chromedp.EmulateViewport(w, h, chromedp.EmulateMobile, chromedp.EmulateTouch))
}

func (b *tab) media(pairs ...string) {
	p := emulation.SetEmulatedMediaParams{}
	if !slices.Contains(pairs, "prefers-reduced-motion") { // the driver loses clicks while one page turns into the next
		pairs = append(pairs, "prefers-reduced-motion", "reduce")
	}
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i] == "media" {
			p.Media = pairs[i+1]
			continue
		}
		p.Features = append(p.Features, &emulation.MediaFeature{Name: pairs[i], Value: pairs[i+1]})
	}
	call(b, emulation.SetEmulatedMedia, p)
}

func (b *tab) open(path string) {
	b.t.Helper()
	b.do(chromedp.Navigate(b.at + path))
}

// follow clicks what leads to another page and waits for that.
func (b *tab) follow(css string) {
	b.t.Helper()
	_, err := chromedp.RunResponse(b.ctx, chromedp.Click(chromedp.CSS(css)))
	require.NoError(b.t, err, "%s at %s", css, b.path())
}

func js[T any](b *tab, expression string) T {
	b.t.Helper()
	v, err := chromedp.Run(b.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	require.NoError(b.t, err, expression)
	return v
}

func (b *tab) text(css string) string {
	b.t.Helper()
	return strings.Join(strings.Fields(js[string](b, fmt.Sprintf("(document.querySelector(%q) || {textContent: ''}).textContent", css))), " ")
}

func (b *tab) path() string {
	b.t.Helper()
	return js[string](b, "location.pathname + location.search")
}

// until waits for an expression to become true.
func (b *tab) until(expression string) {
	b.t.Helper()
	_, err := chromedp.Run(b.ctx, chromedp.Poll[bool](expression, chromedp.WithPollingTimeout(30*time.Second)))
	require.NoError(b.t, err, "%s never came true at %s", expression, b.path())
}

func (b *tab) key(keys string, mods ...chromedp.Modifier) {
	b.t.Helper()
	b.do(chromedp.KeyEvent(keys, chromedp.KeyModifiers(mods...)))
}

// family unfolds one family of the pieces.
func (b *tab) family(word string) {
	b.t.Helper()
	css := fmt.Sprintf("document.querySelector('details.family[data-family=%s]')", word)
	require.False(b.t, js[bool](b, css+".open"), "the families are folded")
	b.do(chromedp.Click(chromedp.CSS("details.family[data-family=" + word + "] > summary")))
	b.until(css + ".open")
}

// history goes back or forward, from the browser's memory or anew, as it likes.
func (b *tab) history(by int) {
	b.t.Helper()
	was := b.path()
	js[bool](b, fmt.Sprintf("setTimeout(() => history.go(%d)); true", by))
	testkit.Until(b.t, "history moves from "+was, func() bool {
		v, err := chromedp.Run(b.ctx, chromedp.Evaluate[string]("document.readyState === 'complete' ? location.pathname + location.search : ''"))
		return err == nil && v != "" && v != was // the page may be between two
	})
}

// tabTo presses the tab key until what has the focus fits a selector. On the
// way everything that takes the focus must show it.
func (b *tab) tabTo(css string) {
	b.t.Helper()
	for range 500 {
		b.key(kb.Tab)
		at := js[string](b, fmt.Sprintf(`(() => {
			const e = document.activeElement;
			if (!e || e === document.body) return "nothing";
			const s = getComputedStyle(e);
			if (s.outlineStyle === "none" || parseFloat(s.outlineWidth) < 2) return "unseen " + e.outerHTML.slice(0, 120);
			return e.matches(%q) ? "there" : "";
		})()`, css))
		require.NotContains(b.t, at, "unseen", "the focus cannot be seen")
		if at == "there" {
			return
		}
	}
	b.t.Fatalf("the tab key never came to %s at %s", css, b.path())
}

// press presses a key that leads to another page and waits for that.
func (b *tab) press(keys string) {
	b.t.Helper()
	_, err := chromedp.RunResponse(b.ctx, chromedp.KeyEvent(keys))
	require.NoError(b.t, err)
}

// The whole way: piece, finish, narrow, cloth, lining, work; back, forward,
// reload, and the address in another tab.
func TestBrowserTheWayOfAMaker(t *testing.T) {
	b := newTab(t)
	b.open("/")
	b.follow(".ways a[href='/make']")
	require.Equal(t, "What will you make?", b.text("h1"))
	b.family("cape")
	b.follow(".cards a[href*='piece=half-circle-cape']")
	b.follow(".cards a[href*='finish=bagged-lining']")
	before := js[int](b, "document.querySelectorAll('.cards .fall').length")
	require.Equal(t, 12, before, "each card has a picture of its fall")
	// the list follows the filter as it changes
	js[bool](b, `(() => { window.same = true; document.querySelector(".further").open = true; const f = document.querySelector("#fibre"); f.value = "wool"; f.dispatchEvent(new Event("change", {bubbles: true})); return true; })()`)
	b.until("location.search.includes('fibre=wool') && document.querySelector('.cards a.whole').href.includes('fibre=wool')")
	require.True(t, js[bool](b, "window.same === true"), "the page was loaded anew")
	shell := js[string](b, "new URL(document.querySelector('.cards a.whole').href).searchParams.get('shell')")
	b.follow(".cards a.whole")
	require.Contains(t, b.text("h1"), "Linings")
	first := js[string](b, "new URL(document.querySelector('.cards a.whole').href).searchParams.get('lining')")
	b.follow(".cards a.whole")
	work := b.path()
	for _, want := range []string{"piece=half-circle-cape", "finish=bagged-lining", "shell=" + shell, "lining=" + first, "fibre=wool"} {
		require.Contains(t, work, want)
	}
	require.Greater(t, js[int](b, "document.querySelectorAll('ol.order > li').length"), 5)
	whole := b.text("main")

	// swap the lining, and see what changes
	js[bool](b, `document.querySelector("#swap").closest("details").open = true`)
	b.follow("section[aria-labelledby=swap] .cards a.whole")
	require.NotEqual(t, work, b.path())
	require.NotEqual(t, whole, b.text("main"))
	require.Contains(t, b.text(".said"), "Instead of", "a swap tells the difference")

	b.history(-1)
	require.Equal(t, work, b.path())
	require.Equal(t, whole, b.text("main"))
	b.do(chromedp.Reload())
	require.Equal(t, whole, b.text("main"))
	other := tabOn(t, b.at)
	other.open(work)
	require.Equal(t, whole, other.text("main"), "the address holds the whole state")
	b.history(-1)
	require.Contains(t, b.text("h1"), "Linings")
	b.history(+1)
	require.Equal(t, work, b.path())
	b.history(-1)
	b.follow(".trail a[href]")
	require.Equal(t, "What will you make?", b.text("h1"), "the first of the trail leads back to the pieces")
	require.Contains(t, b.path(), "shell="+shell, "and keeps what was chosen")
}

// The same with nothing but the keyboard, and every focus can be seen.
func TestBrowserByKeyboardAlone(t *testing.T) {
	b := newTab(t)
	b.open("/")
	b.key(kb.Tab)
	require.Equal(t, "#main", js[string](b, "document.activeElement.getAttribute('href')"), "the first thing skips to the content")
	b.key(kb.Enter)
	b.until("location.hash === '#main'")
	b.tabTo("a[href='/make']")
	b.press(kb.Enter)
	b.tabTo("details[data-family=cowl] > summary")
	b.key(kb.Enter)
	b.tabTo(".cards a[href*='piece=cowl']")
	b.press(kb.Enter)
	b.tabTo(".cards a[href*='finish=single-layer-bound-edge']")
	b.press(kb.Enter)
	b.tabTo(".cards a.whole")
	b.press(kb.Enter)
	require.Contains(t, b.path(), "shell=")
	require.Greater(t, js[int](b, "document.querySelectorAll('ol.order > li').length"), 3)

	// a reason is opened in place
	b.tabTo("summary")
	b.key(kb.Enter)
	require.True(t, js[bool](b, "document.activeElement.parentElement.open"))

	// search: type, go down into what was found, open it
	b.open("/search")
	b.tabTo("#q")
	b.key("chiff")
	b.until("document.querySelectorAll('#hits ol li').length > 0")
	b.key(kb.ArrowDown)
	require.Equal(t, "A", js[string](b, "document.activeElement.tagName"))
	b.press(kb.Enter)
	require.Contains(t, strings.ToLower(b.text("h1")), "chiffon")

	// the slider, by its arrows
	b.open("/cloth/viscose-twill?piece=triangular-shawl&finish=single-layer-hem")
	b.tabTo("input[type=range][data-for='f-bending-length']")
	was := b.text("#share")
	for range 12 {
		b.key(kb.ArrowRight)
	}
	b.until(fmt.Sprintf("document.querySelector('#share').textContent.replace(/\\s+/g,' ').trim() !== %s", quoted(was)))
	require.Contains(t, b.path(), "bending-length=")
}

func urlQuery(s string) string { return url.QueryEscape(s) }

func quoted(s string) string {
	b, _ := json.Marshal(s)
	return string(b)
}

// Sliders move the share and the picture as they move, and the address follows.
func TestBrowserSlidersMoveShareAndPicture(t *testing.T) {
	b := newTab(t)
	b.open("/cloth/cotton-lawn?piece=triangular-shawl&finish=single-layer-hem")
	slide := func(id, value string) {
		js[bool](b, fmt.Sprintf(`(() => { const r = document.querySelector("input[data-for='%s']"); r.value = %q; r.dispatchEvent(new Event("input", {bubbles: true})); return true; })()`, id, value))
		b.until(fmt.Sprintf("new URLSearchParams(location.search).get(%q) === document.querySelector('#%s').value", strings.TrimPrefix(id, "f-"), id))
	}
	picture := "document.querySelector('#share svg .cloth').getAttribute('d')"
	on := "document.querySelectorAll('#share .st.on').length"
	before := js[int](b, on)
	slide("f-bending-length", "1.2")
	b.until(fmt.Sprintf("%s > %d", on, before))
	limp, many := js[string](b, picture), js[int](b, on)
	slide("f-bending-length", "2.4")
	b.until(fmt.Sprintf("%s < %d", on, many))
	require.NotEqual(t, limp, js[string](b, picture))
	at := b.path()
	require.NotContains(t, at, "part=")
	words := b.text("#share")
	b.do(chromedp.Reload())
	require.Equal(t, words, b.text("#share"), "what the script put there is what the server puts there")
	require.Equal(t, at, b.path())
	require.NotEmpty(t, b.text("[role=status]")+words)
}

// Search as you type: results with their kind, no page load, the address
// follows, an older answer never covers a newer one.
func TestBrowserSearchAsYouType(t *testing.T) {
	b := newTab(t)
	b.open("/search")
	js[bool](b, "window.same = true")
	b.do(chromedp.SendKeys(chromedp.CSS("#q"), "velv"))
	b.until("[...document.querySelectorAll('#hits ol a')].some(a => a.textContent.includes('velvet'))")
	require.True(t, js[bool](b, "window.same === true"), "the page was loaded anew")
	require.True(t, js[bool](b, "[...document.querySelectorAll('#hits ol li')].every(l => l.querySelector('.kind').textContent !== '')"))
	b.until("location.search === '?q=velv'")
	b.until("document.querySelector('[role=status]').textContent.includes('found')")
	b.do(chromedp.SendKeys(chromedp.CSS("#q"), "eteen"))
	b.until("document.querySelector('#hits ol a').textContent.includes('velveteen')")
	// down, up and back out of what was found; leaving the field asks for nothing anew
	b.key(kb.ArrowDown)
	time.Sleep(400 * time.Millisecond)
	const first = "document.activeElement === document.querySelector('#hits ol > li > a')"
	require.True(t, js[bool](b, first), "the focus was lost")
	b.key(kb.ArrowDown)
	require.True(t, js[bool](b, "document.activeElement === document.querySelectorAll('#hits ol > li > a')[1]"))
	b.key(kb.ArrowUp)
	require.True(t, js[bool](b, first))
	b.key(kb.Escape)
	require.Equal(t, "q", js[string](b, "document.activeElement.id"))
	// an answer that comes late leaves the focus in what was found
	js[bool](b, `(() => { const q = document.querySelector("#q"); q.value = "velvet"; q.dispatchEvent(new Event("input", {bubbles: true})); document.querySelectorAll("#hits ol > li > a")[0].focus(); return true; })()`)
	b.until("location.search === '?q=velvet' && document.querySelectorAll('#hits ol li').length > 10")
	require.True(t, js[bool](b, "document.querySelector('#hits').contains(document.activeElement)"))
	js[bool](b, `(() => { const q = document.querySelector("#q"); q.value = "velveteen"; q.dispatchEvent(new Event("change", {bubbles: true})); return true; })()`)
	b.until("location.search === '?q=velveteen' && document.querySelector('#hits ol a').textContent.includes('velveteen')")
	b.do(chromedp.Reload())
	require.Contains(t, b.text("#hits ol a"), "velveteen")
}

// Without script every answer can still be had.
func TestBrowserWithoutScript(t *testing.T) {
	b := newTab(t)
	call(b, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	b.open("/make?piece=cowl&finish=single-layer-bound-edge")
	b.follow(".cards a.whole")
	require.Contains(t, b.path(), "shell=")
	b.open("/search")
	b.do(chromedp.SendKeys(chromedp.CSS("#q"), "chiffon"))
	b.follow("form.search button")
	require.Contains(t, b.path(), "q=chiffon")
	require.Contains(t, b.text("#hits"), "chiffon")
	b.open("/cloth/viscose-twill?piece=triangular-shawl")
	require.False(t, js[bool](b, "document.querySelector('input[type=range]').checkVisibility()"), "a slider that does nothing is not shown")
	was := b.text("#share")
	b.do(chromedp.SendKeys(chromedp.CSS("#f-mass"), "440"))
	b.follow("form.yours button")
	require.NotEqual(t, was, b.text("#share"))
	require.Contains(t, b.path(), "mass=440")
	b.open("/map?fibre=silk")
	b.follow(".columns a")
	require.Contains(t, b.path(), "/cloth/")
}

// On a phone everything can be tapped.
func TestBrowserOnAPhone(t *testing.T) {
	b := newTab(t)
	b.phone(390, 740)
	b.open("/make")
	tap := func(css string) {
		b.do(chromedp.ScrollIntoView(chromedp.CSS(css)))
		_, err := chromedp.RunResponse(b.ctx, chromedp.Tap(chromedp.CSS(css)))
		require.NoError(t, err, css)
	}
	b.family("bag")
	tap(".cards a[href*='piece=tote-bag']")
	tap(".cards a[href*='finish=single-layer-hem']")
	tap(".cards a.whole")
	require.Contains(t, b.path(), "shell=")
}

// Printed, the work is on paper and the controls are not.
func TestBrowserPrints(t *testing.T) {
	b := newTab(t)
	b.open("/make?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel&lining=viscose-twill")
	b.media("media", "print")
	for _, css := range []string{".top nav", ".units", ".change", ".foot"} {
		require.Equal(t, "none", js[string](b, fmt.Sprintf("(e => e.checkVisibility() ? 'shown' : 'none')(document.querySelector(%q))", css)), css)
	}
	require.True(t, js[bool](b, "document.querySelector('ol.order:not(.short) li').checkVisibility()"))
	require.Equal(t, "rgb(255, 255, 255)", js[string](b, "getComputedStyle(document.body).backgroundColor"))
	pdf, err := chromedp.Run(b.ctx, chromedp.PrintToPDF())
	require.NoError(t, err)
	require.True(t, bytes.HasPrefix(pdf, []byte("%PDF-")))
	require.Greater(t, len(pdf), 10_000)
}

// hostile is what a name may hold that wants to be more than a name.
const hostile = `</script><script>window.pwned=1</script><img src=x onerror="window.pwned=2"><a href="javascript:window.pwned=3">x</a>`

// Names with markup and script in them never run and stay to be read: typed
// into the search, in the address, and in a piece of the user's own.
func TestBrowserHostileNamesStayNames(t *testing.T) {
	chromium.One(t)
	house := advise.House{Name: "house.toml", Data: []byte(`
[[piece]]
id       = "hostile"
name     = '` + hostile + `'
synonyms = ['"><svg onload=window.pwned=4>']
group    = "wrap"
shape    = "rectangle"
support  = "shoulder"
hang     = "70 cm"
flap     = "10 cm"
features = []
faces    = 1
wearer   = "adult"
wash     = "seldom"
stage    = false
parts    = [ { name = '<b onmouseover=window.pwned=5>', count = 1, width = "100 cm", height = "70 cm", shape = "rectangle" } ]
seams    = [ { name = "' onload='window.pwned=6", length = "340 cm" } ]
say      = '` + hostile + `'
basis    = "practice"
sources  = ["own"]
[[piece.demand]]
id    = "mass"
fact  = "make-up.mass"
ideal = "60 g/m2 to 290 g/m2"
limit = "25 g/m2 to 450 g/m2"
say   = '<script>window.pwned=7</script>'
basis = "practice"
sources = ["own"]
`)}
	adv, err := advise.Load(data.FS, house)
	require.NoError(t, err)
	find, err := index()
	require.NoError(t, err)
	s, err := New(Options{Knowledge: Knowledge{adv, &knowledgebase.Base{Cat: adv.Cat}}, Search: find, Version: hostile, Log: testLog{t}})
	require.NoError(t, err)
	b := tabOn(t, serveSite(t, s))
	for _, at := range []string{"/make", "/make?piece=hostile", "/make?piece=hostile&finish=single-layer-hem", "/make?piece=hostile&finish=single-layer-hem&shell=denim",
		"/check?piece=hostile&shell=denim", "/cloth/denim?piece=hostile", "/piece/hostile", "/list/pieces", "/about"} {
		b.open(at)
		require.True(t, js[bool](b, "document.documentElement.innerHTML.includes('pwned')"), "%s does not show the name at all", at)
		require.True(t, js[bool](b, "typeof window.pwned === 'undefined'"), at)
		require.Zero(t, js[int](b, "document.querySelectorAll('main img, main script').length"), at)
	}
	require.Contains(t, strings.ToLower(b.text("main")), strings.ToLower(hostile[:20]))
	b.open("/search")
	b.do(chromedp.SendKeys(chromedp.CSS("#q"), hostile))
	b.until("document.querySelector('#hits').textContent.includes('pwned')")
	require.True(t, js[bool](b, "typeof window.pwned === 'undefined'"))
	require.Zero(t, js[int](b, "document.querySelectorAll('main img, main script').length"))

	// Were markup ever let through, the policy would still keep it from running.
	b.open("/")
	js[bool](b, `document.querySelector("main").insertAdjacentHTML("beforeend", '<img src="/static/mark.svg" onload="window.pwned=8"><iframe srcdoc="<script>parent.pwned=9<\/script>"></iframe>'); true`)
	js[bool](b, `(() => { const s = document.createElement("script"); s.textContent = "window.pwned=10"; document.body.append(s); return true; })()`)
	time.Sleep(300 * time.Millisecond)
	require.True(t, js[bool](b, "typeof window.pwned === 'undefined'"))
	require.NotEmpty(t, b.forgive(), "the policy was not asked")
}

// newOwnTab opens a tab on a site that records.
func newOwnTab(t testing.TB) *tab {
	t.Helper()
	chromium.One(t)
	s, _ := ownSite(t)
	return tabOn(t, serveSite(t, s))
}

// A swatch by its form, measured step by step with the keyboard, a list by its
// file, and each change taken back; names with markup in them stay names.
func TestBrowserSwatches(t *testing.T) {
	b := newOwnTab(t)
	b.open("/swatches/add")
	b.do(chromedp.SendKeys(chromedp.CSS("#name"), hostile[:40]+" blue"), chromedp.SendKeys(chromedp.CSS("#sold_as"), "cotton-sateen"), chromedp.SendKeys(chromedp.CSS("#notes"), hostile))
	b.follow("form.ask button")
	require.Equal(t, hostile[:40]+" blue swatch", b.text("h1"), "the name is shown as it was typed")
	require.True(t, js[bool](b, "typeof window.pwned === 'undefined'"))
	require.Zero(t, js[int](b, "document.querySelectorAll('main img, main script').length"))

	b.tabTo("a[href$='/measure']")
	b.press(kb.Enter)
	b.tabTo("a[href*='kind=mass']")
	b.press(kb.Enter)
	for _, line := range []string{"10x10cm", "1.52", "1.49"} {
		if js[string](b, "document.activeElement.id") != "line" {
			b.tabTo("#line")
		}
		b.key(line)
		b.press(kb.Enter)
	}
	require.Contains(t, b.text(".guide"), "150 g/m²")
	b.history(-1)
	require.NotContains(t, b.text(".guide"), "1.49", "back takes the reading back")
	b.history(+1)
	b.tabTo("form[method=post] button")
	b.press(kb.Enter)
	require.Contains(t, b.text("#p-mass"), "measured")

	for _, at := range []string{"/swatches", "/map", "/cloth/cotton-sateen", "/make?piece=cowl&finish=single-layer-hem&own=yes", "/search?q=blue", "/check?piece=cowl&shell=" + urlQuery(hostile[:40]+" blue")} {
		b.open(at)
		require.True(t, js[bool](b, "typeof window.pwned === 'undefined'"), at)
		require.Zero(t, js[int](b, "document.querySelectorAll('main img, main script').length"), at)
	}

	file := filepath.Join(t.TempDir(), "market.csv")
	require.NoError(t, os.WriteFile(file, []byte("name,sold as,width\nred,wool flannel,150\n\""+`<img src=x onerror=""window.pwned=9"">`+"\",denim,140\ngreen,denim,wide\n"), 0o600))
	b.open("/swatches/import")
	b.do(chromedp.SetUploadFiles(chromedp.CSS("#file"), []string{file}))
	b.follow("form.ask button")
	require.Contains(t, b.text(".lead"), "2 would be added")
	b.follow(".next form button")
	require.Contains(t, b.text(".said"), "2 swatches were taken in")
	require.True(t, js[bool](b, "typeof window.pwned === 'undefined'"))
	require.Equal(t, 3, js[int](b, "document.querySelectorAll('tbody tr').length"))
	b.follow("form[method=post] button")
	require.Equal(t, 1, js[int](b, "document.querySelectorAll('tbody tr').length"), "the list is taken back whole")
}

// Another site can neither frame the page nor read it nor send it a form.
func TestBrowserOtherSitesAreKeptOut(t *testing.T) {
	chromium.One(t)
	ours := serveSite(t, newSite(t))
	l, err := Listen("127.0.0.1:0")
	require.NoError(t, err)
	other := &http.Server{Handler: http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", "text/html")
		fmt.Fprintf(w, `<!doctype html><title>other</title><iframe id="f" src="%s/"></iframe><img id="i" src="%[1]s/static/mark.svg">`, ours)
	})}
	go func() { _ = other.Serve(l) }()
	t.Cleanup(func() { _ = other.Close() })
	b := tabOn(t, "http://"+l.Addr().String())
	b.open("/")
	require.Equal(t, 0, js[int](b, "document.getElementById('i').naturalWidth"))
	require.Equal(t, "blocked", js[string](b, "(() => { try { return document.getElementById('f').contentDocument ? 'read' : 'blocked' } catch { return 'blocked' } })()"))
	require.Equal(t, "blocked", js[string](b, fmt.Sprintf("fetch(%q).then(r => r.text()).then(() => 'read', () => 'blocked')", ours+"/")))
	require.Equal(t, "opaque 403", js[string](b, fmt.Sprintf("fetch(%q, {method: 'POST', mode: 'no-cors', body: new URLSearchParams({a: 'b'})}).then(r => r.type + ' 403', () => 'opaque 403')", ours+"/")))
	b.forgive()
}

// A piece worn turns by itself, or to the side that is chosen: by the arrow keys, without script, and
// nothing moves for those who ask for that.
func TestBrowserTurnsToTheSideChosen(t *testing.T) {
	b := newTab(t)
	call(b, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
	b.media("prefers-reduced-motion", "no-preference")
	b.open("/make?piece=triangular-shawl&finish=single-layer-hem&shell=cotton-lawn&step=work")
	for _, wide := range []int64{390, 1280} {
		b.size(wide, 844)
		require.Contains(t, b.text(".seen figcaption"), "no photograph", "%d wide", wide)
	}
	b.tabTo("details.turn > summary")
	b.key(kb.Enter)
	const seen = "document.querySelector('.turning .turns').getBoundingClientRect().x - document.querySelector('.turning > div').getBoundingClientRect().x"
	b.tabTo(".turning input")
	require.Equal(t, 1, js[int](b, "document.querySelector('.turning .turns').getAnimations().length"))
	b.key(kb.ArrowRight)
	require.Zero(t, js[int](b, "document.querySelector('.turning .turns').getAnimations().length"), "the side chosen stays")
	require.InDelta(t, 0, js[float64](b, seen), 1)
	b.key(kb.ArrowRight)
	b.key(kb.ArrowRight)
	wide := js[float64](b, "document.querySelector('.turning > div').getBoundingClientRect().width")
	require.Greater(t, wide, 200.0, "a side is large enough to be looked at")
	require.InDelta(t, -2*wide, js[float64](b, seen), 1, "two sides farther")
	b.media("prefers-reduced-motion", "reduce")
	b.key(kb.ArrowLeft)
	b.key(kb.ArrowLeft)
	b.key(kb.ArrowLeft)
	require.Equal(t, "0", js[string](b, "document.activeElement.value"))
	require.Zero(t, js[int](b, "document.getAnimations().length"), "it turns all the same")
}

// Motion is left out for those who ask for it, and quiet for all others: one page turns into the
// next within a fifth of a second, where the browser can.
func TestBrowserReducedMotion(t *testing.T) {
	b := newTab(t)
	b.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, cdppage.AddScriptToEvaluateOnNewDocument, cdppage.AddScriptToEvaluateOnNewDocumentParams{
			Source: `addEventListener("pagereveal", (e) => { window.turned = e.viewTransition ? "turned" : "at once"; if (e.viewTransition) e.viewTransition.ready.then(() => {
				window.longest = Math.max(...document.getAnimations().filter((a) => (a.effect.pseudoElement || "").startsWith("::view-transition")).map((a) => a.effect.getComputedTiming().endTime)); }); });`})
		return err
	}))
	const work = "/make?piece=triangular-shawl&finish=single-layer-hem&shell=cotton-lawn"
	turns := func(motion string) string {
		b.media("prefers-reduced-motion", motion)
		b.open(work)
		js[bool](b, "setTimeout(() => { window.stays = true; location.href = '/check?piece=triangular-shawl&finish=single-layer-hem&shell=cotton-lawn'; }); true")
		turned := ""
		testkit.Until(t, "the page turns into the next", func() bool {
			v, err := chromedp.Run(b.ctx, chromedp.Evaluate[string]("window.stays || location.pathname !== '/check' ? '' : window.turned || ''"))
			turned = v
			return err == nil && v != "" // the page may be between two
		})
		return turned
	}
	require.Equal(t, "at once", turns("reduce"))
	js[bool](b, "document.querySelectorAll('details').forEach(d => d.open = true); true")
	require.Zero(t, js[int](b, "document.getAnimations().length"), "something moves all the same")
	require.Equal(t, "0s", js[string](b, "getComputedStyle(document.querySelector('.ways-out a, .button')).transitionDuration"))
	b.open("/make?piece=triangular-shawl")
	require.Equal(t, "0s", js[string](b, "getComputedStyle(document.querySelector('.cards > li')).transitionDuration"))

	require.Equal(t, "turned", turns("no-preference"))
	b.until("window.longest > 0")
	require.LessOrEqual(t, js[float64](b, "window.longest"), 250.0, "ms that a page takes to turn into the next")
	b.open("/make?piece=triangular-shawl")
	require.NotEqual(t, "0s", js[string](b, "getComputedStyle(document.querySelector('.cards > li')).transitionDuration"))
}
