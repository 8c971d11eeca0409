package folder

import (
	"context"
	"fmt"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/cdproto/storage"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"tenter/internal/testkit"
	"tenter/internal/testkit/chromium"
)

// These tests drive a real browser: installed from a host, which then stops.

// built is the folder of the sources as they stand, compiled once for all tests.
var builtOnce = sync.OnceValues(func() (map[string][]byte, error) {
	top, err := sources()
	if err != nil {
		return nil, err
	}
	e, err := Build(top)
	if err != nil {
		return nil, err
	}
	// The engine's own file is no part of this test program: it is looked at here, so that a
	// pass that Go has kept is not taken for one of an engine that changed since.
	if _, err := os.ReadFile(filepath.Join(top, "page/phone/engine/main.go")); err != nil {
		return nil, err
	}
	files, _, err := Files(e, "test")
	return files, err
})

func builtFiles(t testing.TB) map[string][]byte {
	t.Helper()
	if testing.Short() {
		t.Skip("the engine is not compiled in short tests")
	}
	files, err := builtOnce()
	require.NoError(t, err)
	return files
}

// host is a web host that serves files below /school/tenter/, and can be stopped and
// given other files.
type host struct {
	t     testing.TB
	files atomic.Pointer[map[string][]byte]
	asked atomic.Int64
	addr  string
	srv   *http.Server
}

const below = "/school/tenter/"

func newHost(t testing.TB, files map[string][]byte) *host {
	h := &host{t: t, addr: "127.0.0.1:0"}
	h.files.Store(&files)
	h.begin()
	t.Cleanup(h.stop)
	return h
}

func (h *host) begin() {
	l, err := net.Listen("tcp", h.addr)
	require.NoError(h.t, err)
	h.addr = l.Addr().String()
	h.srv = &http.Server{Handler: h}
	go func(s *http.Server) { _ = s.Serve(l) }(h.srv)
}

func (h *host) stop() { _ = h.srv.Close() }

func (h *host) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h.asked.Add(1)
	name := strings.TrimPrefix(r.URL.Path, below)
	if name == "" {
		name = "index.html"
	}
	b, ok := (*h.files.Load())[name]
	if !ok {
		http.NotFound(w, r)
		return
	}
	kind := map[string]string{"html": "text/html", "js": "text/javascript", "css": "text/css", "svg": "image/svg+xml", "png": "image/png"}[name[strings.LastIndex(name, ".")+1:]]
	w.Header().Set("Content-Type", kind)
	w.Header().Set("Cache-Control", "no-store")
	_, _ = w.Write(b)
}

func (h *host) at() string { return "http://" + h.addr + below }

// device is a browser with a memory of its own, which outlives its restarts.
type device struct {
	t     testing.TB
	dir   string
	ctx   context.Context // the tab
	close func()
	mu    sync.Mutex
	wrong []string
}

func newDevice(t testing.TB) *device {
	d := &device{t: t, dir: t.TempDir()}
	d.start()
	t.Cleanup(func() { d.close(); require.Empty(t, d.wrong, "the browser complained") })
	return d
}

func (d *device) start() {
	alloc, c1 := chromedp.NewExecAllocator(testkit.Context(d.t), chromium.Options(d.t, d.dir)...)
	ctx, c2 := chromedp.NewContext(alloc)
	d.ctx, d.close = ctx, func() { _ = chromedp.Cancel(ctx); c2(); c1() }
	require.NoError(d.t, chromedp.Do(ctx, chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile, chromedp.EmulateTouch)))
	require.NoError(d.t, chromedp.Listen(ctx, func(ev any) {
		if e, ok := ev.(*runtime.EventExceptionThrown); ok {
			what := e.ExceptionDetails.Text
			if x := e.ExceptionDetails.Exception; x != nil {
				what += " " + x.Description
			}
			if strings.Contains(what, "ransition") { // the next page came too late to fade into: no fault of ours
				return
			}
			d.mu.Lock()
			defer d.mu.Unlock()
			d.wrong = append(d.wrong, what)
		}
	}))
}

// quota sets how many bytes the browser keeps for the host; 0 is as many as usual.
func (d *device) quota(h *host, bytes float64) {
	d.t.Helper()
	p := storage.OverrideQuotaForOriginParams{Origin: "http://" + h.addr}
	if bytes > 0 {
		p.QuotaSize = &bytes
	}
	require.NoError(d.t, chromedp.Do(d.ctx, chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, storage.OverrideQuotaForOrigin, p)
		return err
	})))
}

func (d *device) restart() { d.close(); d.start() }

func (d *device) open(at string) {
	d.t.Helper()
	require.NoError(d.t, chromedp.Do(d.ctx, chromedp.Navigate(at)))
}

// js evaluates an expression in the window; in it, page is the document of the frame.
func js[T any](d *device, expression string) T {
	d.t.Helper()
	v, err := chromedp.Run(d.ctx, chromedp.Evaluate[T]("(() => { const page = document.getElementById('frame')?.contentDocument; return "+expression+"; })()", chromedp.EvalAwaitPromise))
	require.NoError(d.t, err, expression)
	return v
}

// until waits for an expression to hold.
func (d *device) until(expression string) {
	d.t.Helper()
	testkit.Until(d.t, expression, func() bool {
		v, err := chromedp.Run(d.ctx, chromedp.Evaluate[bool]("(() => { try { const page = document.getElementById('frame')?.contentDocument; return !!("+expression+"); } catch { return false } })()"))
		return err == nil && v
	})
}

// ready waits for the page at an address below p/, with the engine running.
func (d *device) ready(path string) {
	d.t.Helper()
	d.until(fmt.Sprintf("page.location.pathname.endsWith('/p/%s') && page.readyState === 'complete' && document.documentElement.dataset.engine === 'ready'", path))
}

// choose sets a file field of the page to a file that holds a text.
func (d *device) choose(name, text string) {
	d.t.Helper()
	require.True(d.t, js[bool](d, fmt.Sprintf(`(() => { const t = new DataTransfer(); t.items.add(new File([%q], %q, { type: "application/json" })); const e = page.querySelector("input[type=file]"); e.files = t.files; return e.files.length === 1; })()`, text, name)))
}

// press presses the link or button that reads so, and waits for the next page.
func (d *device) press(words string) {
	d.t.Helper()
	found := js[bool](d, fmt.Sprintf(`(() => {
		const e = [...page.querySelectorAll("main a, main button, main summary")].find((e) => e.textContent.trim().startsWith(%[1]q) || [...e.children].some((c) => c.textContent.trim() === %[1]q));
		if (!e) return false;
		page.documentElement.dataset.left = "yes";
		e.click();
		return true;
	})()`, words))
	require.True(d.t, found, "nothing to press reads %q in %s", words, d.text("main"))
	d.until("page.documentElement.dataset.left === undefined && page.readyState === 'complete'")
}

func (d *device) fill(name, value string) {
	d.t.Helper()
	require.True(d.t, js[bool](d, fmt.Sprintf(`(() => { const e = page.querySelector("main [name='%s']"); if (!e) return false; e.value = %q; return e.value === %q; })()`, name, value, value)), "there is no field %s that takes %q", name, value)
}

func (d *device) text(css string) string {
	d.t.Helper()
	return strings.Join(strings.Fields(js[string](d, fmt.Sprintf("(page.querySelector(%q) || {textContent: ''}).textContent", css))), " ")
}
