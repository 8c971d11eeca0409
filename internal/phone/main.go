// Phone measures how long the pages for a phone take in a browser that has a part of
// the processor only: from the start of what was installed to its first pages, and from
// page to page. It wants a quiet machine, and Linux for its signals.
//
//	go run ./internal/phone            every figure beside what it is held against
//	go run ./internal/phone -slow 1    without slowing
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

func main() {
	slow := flag.Int("slow", 4, "into how many parts the processor is cut, of which the pages get one")
	runs := flag.Int("n", 5, "runs, of which the median is told")
	read := flag.Duration("read", 0, "how long each page is read before the next is asked for")
	dir := flag.String("dir", "", "a folder that was exported; none exports one")
	flag.Parse()
	if err := run(*dir, *slow, *runs, *read); err != nil {
		log.Fatal(err)
	}
}

func run(dir string, slow, runs int, read time.Duration) error {
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
	var all [][]float64
	for range runs {
		times, err := visit(profile, at, slow, walk, read)
		if err != nil {
			return err
		}
		all = append(all, times)
	}
	load, _ := os.ReadFile("/proc/loadavg")
	fmt.Printf("%d runs, processor slowed %d times, load at the end %s\n", runs, slow, strings.Join(strings.Fields(string(load))[:1], ""))
	tell("plain home page, from the start", "s", column(all, 0), 1)
	for i, s := range walk {
		tell(s.name, "s", column(all, i+1), s.most)
	}
	tell("linear memory after the walk", "MB", column(all, len(walk)+1), 96)
	return nil
}

func column(all [][]float64, i int) (out []float64) {
	for _, row := range all {
		out = append(out, row[i])
	}
	slices.Sort(out)
	return out
}

func tell(name, unit string, v []float64, most float64) {
	mark := ""
	if v[len(v)/2] > most {
		mark = "  over"
	}
	fmt.Printf("%-38s %6.2f (%.2f to %.2f) %s, at most %g%s\n", name, v[len(v)/2], v[0], v[len(v)-1], unit, most, mark)
}

// visit starts a browser with what it kept, opens the site, takes the walk, and gives
// the time of each page and the memory of the engine. Each page is read for a while before
// the next is asked for.
func visit(profile, at string, slow int, walk []step, read time.Duration) ([]float64, error) {
	path, err := exec.LookPath("chromium")
	if err != nil {
		return nil, err
	}
	opts := []chromedp.ExecAllocatorOption{chromedp.ExecPath(path), chromedp.NoFirstRun, chromedp.NoDefaultBrowserCheck, chromedp.Headless,
		chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(profile), chromedp.Flag("disable-dev-shm-usage", true), chromedp.Flag("disable-background-networking", true)}
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
	ask := func(script string) ([]float64, error) {
		return chromedp.Run(ctx, chromedp.Evaluate[[]float64](script, chromedp.EvalAwaitPromise))
	}
	if len(walk) == 0 { // all is kept, and the engine has started once
		_, err := ask(`new Promise((done) => { const look = () => document.documentElement.dataset.engine === "ready" ? setTimeout(() => done([]), 5000) : setTimeout(look, 50); look(); })`)
		return nil, errOrEnd(err, ctx)
	}
	var paths []string
	for _, s := range walk {
		paths = append(paths, fmt.Sprintf("%q", s.path))
	}
	times, err := ask(fmt.Sprintf(walkScript, below+"p/", strings.Join(paths, ", "), read.Milliseconds()))
	return times, errOrEnd(err, ctx)
}

func errOrEnd(err error, ctx context.Context) error {
	if err != nil {
		return err
	}
	return chromedp.Cancel(ctx) // what was kept is written down
}

// walkScript waits for the first page, then asks for each of the walk. A page is there when
// it is loaded and may be drawn; the first computed one counts from the start of the window.
const walkScript = `(async () => {
	const frame = document.getElementById("frame"), out = [];
	const there = () => !frame.hidden && frame.contentDocument?.readyState === "complete" && frame.contentWindow.location.pathname.startsWith(%[1]q);
	while (!there()) await new Promise((next) => setTimeout(next, 10));
	out.push(performance.now() / 1000);
	let since = 0;
	for (const path of [%[2]s]) {
		const come = new Promise((done) => frame.addEventListener("load", done, { once: true }));
		frame.contentWindow.location.href = %[1]q + path;
		await come;
		if (!frame.contentDocument.querySelector("main, body > *")) throw new Error("nothing at " + path);
		out.push((performance.now() - since) / 1000);
		await new Promise((next) => setTimeout(next, %[3]d));
		since = performance.now();
	}
	out.push(Number(document.documentElement.dataset.memory) / 1e6);
	return out;
})()`
