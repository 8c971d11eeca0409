// Package chromium starts the browser that tests drive. Where there is none they are
// skipped, unless TENTER_NEED_BROWSER says that there must be one.
package chromium

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"
)

// Options start a browser that keeps what it remembers in a folder.
func Options(t testing.TB, dir string) []chromedp.ExecAllocatorOption {
	t.Helper()
	path, err := find()
	if err != nil {
		if os.Getenv("TENTER_NEED_BROWSER") == "1" {
			t.Fatal(err)
		}
		t.Skip(err)
	}
	opts := []chromedp.ExecAllocatorOption{chromedp.ExecPath(path), chromedp.NoFirstRun, chromedp.NoDefaultBrowserCheck, chromedp.Headless, chromedp.NoSandbox, chromedp.DisableGPU, chromedp.UserDataDir(dir)}
	for _, f := range []string{"disable-quic", "disable-background-networking", "disable-component-update", "disable-sync", "disable-dev-shm-usage"} {
		opts = append(opts, chromedp.Flag(f, true))
	}
	return opts
}

func find() (string, error) {
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	return "", errors.New("there is no Chromium on this machine, so nothing was tried in a browser")
}

var one struct {
	sync.Mutex
	ctx   context.Context
	close func()
}

// One is the one browser of all tests of a package, whose TestMain closes it. In short
// tests no browser is driven.
func One(t testing.TB) context.Context {
	t.Helper()
	if testing.Short() {
		t.Skip("no browser is driven in short tests")
	}
	one.Lock()
	defer one.Unlock()
	if one.ctx != nil {
		return one.ctx
	}
	dir, err := os.MkdirTemp("", "tenter-browser")
	require.NoError(t, err)
	opts := append(Options(t, dir), chromedp.Flag("disable-features", "BackForwardCache")) // the driver loses a page that comes back from there
	alloc, c1 := chromedp.NewExecAllocator(context.Background(), opts...)
	ctx, c2 := chromedp.NewContext(alloc)
	_, err = chromedp.Run(ctx, chromedp.Title())
	require.NoError(t, err, "the browser does not start")
	one.ctx = ctx
	one.close = func() {
		c2()
		c1()
		for range 20 { // its children write for a moment longer
			if os.RemoveAll(dir) == nil {
				return
			}
			time.Sleep(100 * time.Millisecond)
		}
	}
	return ctx
}

// Close closes the one browser, if there was any need of it.
func Close() {
	if one.close != nil {
		one.close()
	}
}
