// Command screens takes pictures of the pages in a real browser and says how
// many words each shows, how high it is and how much it weighs:
//
//	go run ./internal/screens -docs
//	go run ./internal/screens -at http://127.0.0.1:8173 -o /tmp/shots -width 390,1400 -look light,dark -whole /make
//
// Without -at it serves the records of the demonstration itself.
package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"log"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"tenter/internal/shots"
)

// screen is a page to take, with the name of its picture and what it shows.
type screen struct{ name, path, say string }

const made = "piece=triangular-shawl&finish=bagged-lining&shell=cotton-lawn"

// screens are those of the documents, in the order of a maker's way.
var screens = []screen{
	{"home", "/", "The first page: one shawl of the theatre in three cloths, and three ways to begin."},
	{"finishes", "/make?piece=half-circle-cape", "Finishes for the piece, each edge cut through, the usual ones first."},
	{"cloths", "/make?piece=triangular-shawl&finish=bagged-lining", "Cloths ranked for the piece; search, my swatches and what mine weighs at the side."},
	{"linings", "/make?" + made + "&lining=silk-taffeta&step=lining", "Other linings over the one that is chosen, in grey, and what each would change."},
	{"compare", "/compare?piece=half-circle-cape&finish=bagged-lining&pick=denim,tweed,wool-flannel&of=shell", "Cloths picked to compare for a piece; all of them can be kept on the shortlist."},
	{"work", "/make?" + made + "&lining=cupro-twill", "The verdict of a make-up: picture, answer, reasons, what to mind, the next step."},
	{"cut", "/cut?" + made + "&lining=cupro-twill", "What to buy, how it lies on the cloth, what to do before; sizes, curves and thread are folded below."},
	{"cloth", "/cloth/cotton-lawn?piece=triangular-shawl&finish=single-layer-hem", "A cloth judged for a piece; what yours weighs and how it bends moves picture and answer."},
	{"no", "/check?piece=triangular-shawl&finish=single-layer-hem&shell=oilcloth", "A no, with three ways out."},
	{"camera", "/camera", "A strip over a table edge, measured on a photograph."},
}

func main() {
	log.SetFlags(0)
	at := flag.String("at", "", "address of a page that runs")
	out := flag.String("o", "", "folder for the pictures; without it they are only measured")
	widths := flag.String("width", "1400,390", "widths, in pixels")
	looks := flag.String("look", "light", "light, dark or both, with a comma between")
	whole := flag.Bool("whole", false, "the whole page instead of its first screen")
	docs := flag.Bool("docs", false, "write docs/screens.md and its pictures")
	flag.Parse()
	if *docs {
		if err := writeDocs(*at); err != nil {
			log.Fatal(err)
		}
		return
	}
	list := screens
	if flag.NArg() > 0 {
		list = nil
		for _, p := range flag.Args() {
			list = append(list, screen{name: plainName(p), path: p})
		}
	}
	if err := run(*at, *out, *widths, *looks, *whole, 1, list); err != nil {
		log.Fatal(err)
	}
}

func plainName(path string) string {
	name := strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-' {
			return r
		}
		return '_'
	}, strings.Trim(path, "/"))
	if name == "" {
		return "home"
	}
	return name[:min(len(name), 60)]
}

func run(at, out, widths, looks string, whole bool, scale int, list []screen) error {
	if at == "" {
		served, stop, err := serve()
		if err != nil {
			return err
		}
		defer stop()
		at = served
	}
	if out != "" {
		if err := os.MkdirAll(out, 0o755); err != nil {
			return err
		}
	}
	ctx, stop, err := browser()
	if err != nil {
		return err
	}
	defer stop()
	fmt.Println("screen width look: words on the first screen, words shown, pixels high, kB of page with style and script")
	for _, look := range strings.Split(looks, ",") {
		for _, word := range strings.Split(widths, ",") {
			width, err := strconv.Atoi(word)
			if err != nil {
				return err
			}
			for _, s := range list {
				name := fmt.Sprintf("%s-%d-%s.png", s.name, width, look)
				if err := take(ctx, at+s.path, width, look, whole, scale, out, name); err != nil {
					return fmt.Errorf("%s: %w", name, err)
				}
			}
		}
	}
	return nil
}

// serve runs the page of the demonstration's records for as long as this runs.
func serve() (at string, stop func(), err error) {
	dir, err := os.MkdirTemp("", "tenter-screens")
	if err != nil {
		return "", nil, err
	}
	bin := filepath.Join(dir, "tenter") // `go run` would keep an interrupt to itself
	build := exec.Command("go", "build", "-o", bin, "./cmd/tenter")
	build.Stderr = os.Stderr
	if err := build.Run(); err != nil {
		return "", nil, errors.Join(err, os.RemoveAll(dir))
	}
	c := exec.Command(bin, "--store", "demo", "page", "--no-open", "--addr", "127.0.0.1:0")
	c.Stderr = os.Stderr
	pipe, err := c.StdoutPipe()
	if err != nil {
		return "", nil, err
	}
	if err := c.Start(); err != nil {
		return "", nil, err
	}
	line, err := bufio.NewReader(pipe).ReadString('\n')
	stop = func() {
		_ = c.Process.Signal(os.Interrupt)
		_ = c.Wait()
		_ = os.RemoveAll(dir)
	}
	if err != nil {
		stop()
		return "", nil, fmt.Errorf("the page does not say where it is: %w", err)
	}
	return strings.TrimSpace(line), stop, nil
}

func browser() (context.Context, func(), error) {
	dir, err := os.MkdirTemp("", "tenter-screens")
	if err != nil {
		return nil, nil, err
	}
	path := ""
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if p, err := exec.LookPath(name); err == nil && path == "" {
			path = p
		}
	}
	opts := []chromedp.ExecAllocatorOption{chromedp.ExecPath(path), chromedp.NoFirstRun, chromedp.NoDefaultBrowserCheck, chromedp.Headless,
		chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(dir), chromedp.Flag("hide-scrollbars", true), chromedp.Flag("disable-dev-shm-usage", true)}
	alloc, c1 := chromedp.NewExecAllocator(context.Background(), opts...)
	ctx, c2 := chromedp.NewContext(alloc)
	_, err = chromedp.Run(ctx, chromedp.Title())
	return ctx, func() { c2(); c1(); _ = os.RemoveAll(dir) }, err
}

func take(parent context.Context, at string, width int, look string, whole bool, scale int, out, name string) error {
	ctx, cancel := context.WithTimeout(parent, 3*time.Minute)
	defer cancel()
	height := 900
	if width < 600 {
		height = 844
	}
	err := chromedp.Do(ctx, chromedp.EmulateViewport(int64(width), int64(height)),
		chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
			_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{
				{Name: "prefers-color-scheme", Value: look}, {Name: "prefers-reduced-motion", Value: "reduce"}}})
			return err
		}),
		chromedp.Navigate(at))
	if err != nil {
		return err
	}
	// pictures that are asked for late, within the first screen or the whole page
	if _, err := chromedp.Run(ctx, chromedp.Poll[bool]("[...document.images].every(i => i.complete || !i.checkVisibility() || i.getBoundingClientRect().top > innerHeight)", chromedp.WithPollingTimeout(time.Minute))); err != nil {
		return err
	}
	got, err := chromedp.Run(ctx, chromedp.Evaluate[[]int](shots.Measure))
	if err != nil {
		return err
	}
	wide := ""
	if got[3] > width {
		wide = fmt.Sprintf("  WIDER than the screen: %d", got[3])
	}
	fmt.Printf("%-42s %4d %5d %6d %4d kB%s\n", name, got[0], got[1], got[2], got[4], wide)
	if out == "" {
		return nil
	}
	var shot []byte
	if whole {
		shot, err = chromedp.Run(ctx, chromedp.FullScreenshot(100))
	} else {
		shot, err = chromedp.Run(ctx, chromedp.CaptureScreenshot())
	}
	if err != nil {
		return err
	}
	small, err := shrink(shot, scale)
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(out, name), small, 0o644)
}

// maxColours is how many colours a picture keeps: under half of the bytes of all of them,
// and hardly told from it by eye.
const maxColours = 240

// shrink writes a picture scale times smaller, with the colours that it has most of.
func shrink(shot []byte, scale int) ([]byte, error) {
	img, err := png.Decode(bytes.NewReader(shot))
	if err != nil {
		return nil, err
	}
	small := smaller(img, scale)
	b := small.Bounds()
	count := map[color.RGBA]int{}
	for y := range b.Dy() {
		for x := range b.Dx() {
			count[coarse(small.At(x, y))]++
		}
	}
	palette := commonest(count)
	to := image.NewPaletted(b, palette)
	at := map[color.RGBA]uint8{}
	for y := range b.Dy() {
		for x := range b.Dx() {
			c := coarse(small.At(x, y))
			i, ok := at[c]
			if !ok {
				i = uint8(palette.Index(c))
				at[c] = i
			}
			to.SetColorIndex(x, y, i)
		}
	}
	var out bytes.Buffer
	enc := png.Encoder{CompressionLevel: png.BestCompression}
	err = enc.Encode(&out, to)
	return out.Bytes(), err
}

func commonest(count map[color.RGBA]int) color.Palette {
	most := slices.Collect(maps.Keys(count))
	slices.SortFunc(most, func(a, c color.RGBA) int {
		if count[a] != count[c] {
			return count[c] - count[a]
		}
		return int(a.R)<<16 + int(a.G)<<8 + int(a.B) - int(c.R)<<16 - int(c.G)<<8 - int(c.B)
	})
	var out color.Palette
	for _, c := range most[:min(len(most), maxColours)] {
		out = append(out, c)
	}
	return out
}

// smaller is a picture with the mean of each square of scale by scale pixels.
func smaller(img image.Image, scale int) *image.RGBA {
	b := img.Bounds()
	out := image.NewRGBA(image.Rect(0, 0, b.Dx()/scale, b.Dy()/scale))
	n := uint32(scale * scale)
	for y := range out.Rect.Dy() {
		for x := range out.Rect.Dx() {
			var sum [3]uint32
			for i := range scale * scale {
				r, g, b, _ := img.At(b.Min.X+x*scale+i%scale, b.Min.Y+y*scale+i/scale).RGBA()
				sum[0], sum[1], sum[2] = sum[0]+r>>8, sum[1]+g>>8, sum[2]+b>>8
			}
			out.SetRGBA(x, y, color.RGBA{uint8(sum[0] / n), uint8(sum[1] / n), uint8(sum[2] / n), 255})
		}
	}
	return out
}

func coarse(c color.Color) color.RGBA {
	r, g, b, _ := c.RGBA()
	return color.RGBA{uint8(r>>8) &^ 3, uint8(g>>8) &^ 3, uint8(b>>8) &^ 3, 255}
}

// writeDocs takes the pictures of the documents and writes the page that shows them.
func writeDocs(at string) error {
	const dir = "docs/screens"
	if at == "" {
		served, stop, err := serve()
		if err != nil {
			return err
		}
		defer stop()
		at = served
	}
	for _, x := range []struct{ widths, looks string }{{"1400", "light"}, {"390", "light"}} {
		if err := run(at, dir, x.widths, x.looks, false, 2, screens); err != nil {
			return err
		}
	}
	dark := slices.IndexFunc(screens, func(s screen) bool { return s.name == "work" })
	if err := run(at, dir, "1400,390", "dark", false, 2, screens[dark:dark+1]); err != nil {
		return err
	}
	var b strings.Builder
	b.WriteString("# The pages, in pictures\n\nHalf size, with the invented records of a village theatre. Made by `go run ./internal/screens -docs`.\n")
	for i, s := range screens {
		fmt.Fprintf(&b, "\n%s\n\n![%s, wide](screens/%s-1400-light.png) ![%s, on a phone](screens/%s-390-light.png)\n", s.say, s.name, s.name, s.name, s.name)
		if i == dark {
			fmt.Fprintf(&b, "\nThe same in the dark.\n\n![%s, wide, dark](screens/%s-1400-dark.png) ![%s, on a phone, dark](screens/%s-390-dark.png)\n", s.name, s.name, s.name, s.name)
		}
	}
	return os.WriteFile("docs/screens.md", []byte(b.String()), 0o644)
}
