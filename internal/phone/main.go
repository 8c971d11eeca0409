// Phone measures how long the pages for a phone take in a browser that has a part of
// the processor only: from the start of what was installed to its first pages, and from
// page to page. It wants a quiet machine, and Linux for its signals.
//
//	go run ./internal/phone            every figure beside what it is held against
//	go run ./internal/phone -slow 1    without slowing
//	go run ./internal/phone -pages F   addresses of a file in place of its own walk, a line each
//
// Beside the time stands what of the processor each page took, which other work on the
// machine changes little: the engine, what draws the page, and the rest (compiling of the
// engine, above all).
package main

import (
	"context"
	"flag"
	"fmt"
	"log"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/chromedp/chromedp"
)

// step is a page that is asked for when the one before is there.
type step struct {
	name, path string
	most       float64 // seconds
}

// walk is a maker's way; each page is asked as soon as the one before has come.
var walk = []step{
	{"first computed page, from the start", "shop?piece=half-circle-cape&finish=bagged-lining", 4},
	{"first cloths", "make?piece=half-circle-cape&finish=bagged-lining", 2.5},
	{"first card", "card?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel&lining=viscose-twill", 3},
	{"first search", "search?q=soft+drapey", 2},
	{"later: cloths of another piece", "make?piece=cowl&finish=faced-edge", 0.5},
	{"later: will it do", "check?piece=cowl&finish=faced-edge&shell=denim", 0.5},
	{"later: the work", "make?piece=cowl&finish=faced-edge&shell=cotton-lawn", 0.5},
	{"later: a cloth", "cloth/denim", 0.5},
	{"later: another search", "search?q=denim", 0.5},
	{"later: the shortlist", "shortlist", 0.5},
	{"a cutting plan of round parts", "cut?piece=full-circle-skirt&finish=single-layer-hem&shell=denim", 3},
}

const below = "/school/tenter/"

// addressBar are the pages that a desktop browser draws its own suggestions with. It starts them beside
// the first page of a site, a second of the processor that was counted as ours; a phone has none.
const addressBar = "WebUIOmniboxPopup,WebUIOmniboxAimPopup,OmniboxAimPopup"

func main() {
	slow := flag.Int("slow", 4, "into how many parts the processor is cut, of which the pages get one")
	runs := flag.Int("n", 5, "runs, of which the median is told")
	read := flag.Duration("read", 0, "how long each page is read before the next is asked for")
	dir := flag.String("dir", "", "a folder that was exported; none exports one")
	pages := flag.String("pages", "", "a file of addresses to walk; none takes the walk that is held to bounds")
	flag.Parse()
	if err := run(*dir, *slow, *runs, *read, *pages); err != nil {
		log.Fatal(err)
	}
}

func run(dir string, slow, runs int, read time.Duration, pages string) error {
	if pages != "" {
		b, err := os.ReadFile(pages)
		if err != nil {
			return err
		}
		walk = nil
		for _, path := range strings.Fields(string(b)) {
			walk = append(walk, step{name: path, path: path})
		}
	}
	work, err := os.MkdirTemp("", "tenter-phone")
	if err != nil {
		return err
	}
	defer os.RemoveAll(work)
	if dir == "" {
		dir = filepath.Join(work, "site")
		c := exec.Command("go", "run", "./cmd/tenter", "page", "export", dir)
		c.Stderr = os.Stderr
		if err := c.Run(); err != nil {
			return err
		}
	}
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return err
	}
	srv := &http.Server{Handler: http.StripPrefix(below, http.FileServer(http.Dir(dir)))}
	go func() { _ = srv.Serve(l) }()
	at, profile := "http://"+l.Addr().String()+below, filepath.Join(work, "profile")
	if _, err := visit(profile, at, 1, nil, 0); err != nil { // installs it
		return err
	}
	_ = srv.Close()
	var all [][]cost
	for range runs {
		costs, err := visit(profile, at, slow, walk, read)
		if err != nil {
			return err
		}
		all = append(all, costs)
	}
	tellAll(all, slow)
	return nil
}

// cost is what a page took.
type cost struct {
	seconds float64
	spent           // of the processor, in seconds
	memory  float64 // linear, of the engine, when the page was there, in MB
}

func tellAll(all [][]cost, slow int) {
	load, _ := os.ReadFile("/proc/loadavg")
	fmt.Printf("%d runs, processor slowed %d times, load at the end %s\n", len(all), slow, strings.Join(strings.Fields(string(load))[:1], ""))
	fmt.Printf("%-38s %27s  %s\n", "", "seconds", "processor: engine, page, rest; MB")
	steps := append([]step{{name: "plain home page, from the start", most: 1}}, walk...)
	for i, s := range steps {
		tell(s, column(all, func(c []cost) float64 { return c[i].seconds }), fmt.Sprintf("  %.2f %.2f %.2f  %.0f",
			middle(all, func(c []cost) float64 { return c[i].engine }), middle(all, func(c []cost) float64 { return c[i].page }),
			middle(all, func(c []cost) float64 { return c[i].rest }), middle(all, func(c []cost) float64 { return c[i].memory })))
	}
	last := len(steps) - 1
	tell(step{name: "linear memory after the walk, MB", most: 96}, column(all, func(c []cost) float64 { return c[last].memory }), "")
}

func column(all [][]cost, of func([]cost) float64) (out []float64) {
	for _, row := range all {
		out = append(out, of(row))
	}
	slices.Sort(out)
	return out
}

func middle(all [][]cost, of func([]cost) float64) float64 { return column(all, of)[len(all)/2] }

func tell(s step, v []float64, more string) {
	mark := ""
	if s.most > 0 {
		mark = fmt.Sprintf(", at most %g", s.most)
		if v[len(v)/2] > s.most {
			mark += ", over"
		}
	}
	fmt.Printf("%-38s %6.2f (%5.2f to %5.2f)%s%s\n", s.name, v[len(v)/2], v[0], v[len(v)-1], more, mark)
}

// visit starts a browser with what it kept, opens the site, takes the walk, and gives
// the cost of each page. Each page is read for a while before the next is asked for.
func visit(profile, at string, slow int, walk []step, read time.Duration) ([]cost, error) {
	path, err := exec.LookPath("chromium")
	if err != nil {
		return nil, err
	}
	opts := []chromedp.ExecAllocatorOption{chromedp.ExecPath(path), chromedp.NoFirstRun, chromedp.NoDefaultBrowserCheck, chromedp.Headless,
		chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(profile), chromedp.Flag("disable-dev-shm-usage", true), chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-features", addressBar)}
	alloc, stop := chromedp.NewExecAllocator(context.Background(), opts...)
	defer stop()
	ctx, end := chromedp.NewContext(alloc)
	defer end()
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile, chromedp.EmulateTouch)); err != nil {
		return nil, err
	}
	beat := make(chan struct{})
	defer close(beat)
	if slow > 1 {
		go slowDown(profile, slow, beat)
	}
	if err := chromedp.Do(ctx, chromedp.Navigate(at)); err != nil {
		return nil, err
	}
	if len(walk) == 0 { // all is kept, and the engine has started once
		_, err := ask(ctx, `new Promise((done) => { const look = () => document.documentElement.dataset.engine === "ready" ? setTimeout(() => done([]), 5000) : setTimeout(look, 50); look(); })`)
		return nil, errOrEnd(err, ctx)
	}
	costs, err := take(ctx, profile, walk, read)
	return costs, errOrEnd(err, ctx)
}

// take waits for the first page, then asks for each of the walk, as soon as the one before
// is there and read.
func take(ctx context.Context, profile string, walk []step, read time.Duration) (costs []cost, err error) {
	var before spent
	add := func(script string) error {
		v, err := ask(ctx, script)
		if err != nil {
			return err
		}
		now := spentBy(renderers(profile))
		costs = append(costs, cost{v[0], now.less(before), v[1] / 1e6})
		before = now
		time.Sleep(read)
		return nil
	}
	if err := add(fmt.Sprintf(firstScript, below+"p/")); err != nil {
		return nil, err
	}
	for i, s := range walk {
		if err := add(fmt.Sprintf(nextScript, below+"p/"+s.path, i == 0)); err != nil {
			return nil, fmt.Errorf("%s: %w", s.path, err)
		}
	}
	return costs, nil
}

func ask(ctx context.Context, script string) ([]float64, error) {
	return chromedp.Run(ctx, chromedp.Evaluate[[]float64](script, chromedp.EvalAwaitPromise))
}

func errOrEnd(err error, ctx context.Context) error {
	if err != nil {
		return err
	}
	return chromedp.Cancel(ctx) // what was kept is written down
}

// firstScript waits for the first page, nextScript asks for another. A page is there when it
// is loaded and may be drawn; the first computed one counts from the start of the window.
const (
	firstScript = `(async () => {
	const frame = document.getElementById("frame");
	while (frame.hidden || frame.contentDocument?.readyState !== "complete" || !frame.contentWindow.location.pathname.startsWith(%q)) await new Promise((next) => setTimeout(next, 10));
	return [performance.now() / 1000, 0];
})()`
	nextScript = `(async () => {
	const frame = document.getElementById("frame"), path = %q, since = %t ? 0 : performance.now();
	const come = new Promise((done) => frame.addEventListener("load", done, { once: true }));
	frame.contentWindow.location.href = path;
	await come;
	if (!frame.contentDocument.querySelector("main, body > *")) throw new Error("nothing at " + path);
	return [(performance.now() - since) / 1000, Number(document.documentElement.dataset.memory) || 0];
})()`
)
