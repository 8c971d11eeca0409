// Command screens takes pictures of the pages in a real browser and says how
// many words each shows, how high it is and how much it weighs:
//
//	go run ./internal/screens -o docs/screens
//	go run ./internal/screens -at http://127.0.0.1:8173 -o /tmp/shots -width 390,1400 -look light,dark -whole /make
//
// Without -at it serves the records of the demonstration itself.
package main

import (
	"bufio"
	"bytes"
	"context"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"log"
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

// screen is a page to take, with the name of its picture.
type screen struct{ name, path string }

const made = "piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel&lining=viscose-twill"

// screens are those of the documents, in the order of a maker's way.
var screens = []screen{
	{"home", "/"},
	{"pieces", "/make"},
	{"finishes", "/make?piece=half-circle-cape"},
	{"cloths", "/make?piece=half-circle-cape&finish=bagged-lining"},
	{"linings", "/make?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel"},
	{"work", "/make?" + made},
	{"no", "/check?piece=triangular-shawl&finish=bagged-lining&shell=denim"},
	{"cut", "/cut?" + made},
	{"cloth", "/cloth/cotton-sateen"},
	{"swatches", "/swatches"},
	{"camera", "/camera"},
}

func main() {
	log.SetFlags(0)
	at := flag.String("at", "", "address of a page that runs")
	out := flag.String("o", "", "folder for the pictures; without it they are only measured")
	widths := flag.String("width", "1400,390", "widths, in pixels")
	looks := flag.String("look", "light", "light, dark or both, with a comma between")
	whole := flag.Bool("whole", false, "the whole page instead of its first screen")
	flag.Parse()
	list := screens
	if flag.NArg() > 0 {
		list = nil
		for _, p := range flag.Args() {
			list = append(list, screen{plainName(p), p})
		}
	}
	if err := run(*at, *out, *widths, *looks, *whole, list); err != nil {
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

func run(at, out, widths, looks string, whole bool, list []screen) error {
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
				if err := take(ctx, at+s.path, width, look, whole, out, name); err != nil {
					return fmt.Errorf("%s: %w", name, err)
				}
			}
		}
	}
	return nil
}

// serve runs the page of the demonstration's records for as long as this runs.
func serve() (at string, stop func(), err error) {
	c := exec.Command("go", "run", "./cmd/tenter", "--store", "demo", "page", "--no-open", "--addr", "127.0.0.1:0")
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

func take(parent context.Context, at string, width int, look string, whole bool, out, name string) error {
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
	small, err := shrink(shot)
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(out, name), small, 0o644)
}

// shrink writes a picture with the 255 colours that it has most of, which is a
// third of the bytes and cannot be told from it by eye.
func shrink(shot []byte) ([]byte, error) {
	img, err := png.Decode(bytes.NewReader(shot))
	if err != nil {
		return nil, err
	}
	count := map[color.RGBA]int{}
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			count[coarse(img.At(x, y))]++
		}
	}
	var most []color.RGBA
	for c := range count {
		most = append(most, c)
	}
	slices.SortFunc(most, func(a, c color.RGBA) int {
		if count[a] != count[c] {
			return count[c] - count[a]
		}
		return int(a.R)<<16 + int(a.G)<<8 + int(a.B) - int(c.R)<<16 - int(c.G)<<8 - int(c.B)
	})
	var palette color.Palette
	for _, c := range most[:min(len(most), 255)] {
		palette = append(palette, c)
	}
	to := image.NewPaletted(b, palette)
	at := map[color.RGBA]uint8{}
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			c := coarse(img.At(x, y))
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

func coarse(c color.Color) color.RGBA {
	r, g, b, _ := c.RGBA()
	return color.RGBA{uint8(r>>8) &^ 3, uint8(g>>8) &^ 3, uint8(b>>8) &^ 3, 255}
}
