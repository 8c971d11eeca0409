package main

import (
	"flag"
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

var soak = flag.Duration("soak", 0, "how long TestSoak goes on, such as 10m")

// A page that is read by twenty at once, while one command records and another takes
// in lists, answers every request and grows no larger.
//
//	go test ./cmd/tenter -run TestSoak -soak 10m -v -timeout 0
func TestSoak(t *testing.T) {
	if *soak == 0 {
		t.Skip("goes on for as long as -soak says")
	}
	home(t)
	at, stop := servePage(t)
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: 32}}
	addresses := []string{"/", "/cloth/denim", "/cloth/cotton-sateen", "/search?q=does+not+fray", "/search?q=bolt", "/make", "/list/pieces", "/swatches", "/map", "/check?piece=half-circle-cape&finish=bagged-lining&shell=wool-flannel&lining=cupro-lining"}

	var (
		mu     sync.Mutex
		took   []time.Duration
		failed []string
	)
	fail := func(format string, args ...any) {
		mu.Lock()
		defer mu.Unlock()
		if len(failed) < 20 {
			failed = append(failed, fmt.Sprintf(format, args...))
		}
	}
	end := time.Now().Add(*soak)
	going := func() bool { return time.Now().Before(end) }
	var all sync.WaitGroup
	for reader := range 20 {
		all.Go(func() {
			for i := reader; going(); i++ {
				start := time.Now()
				res, err := client.Get(at + addresses[i%len(addresses)])
				if err != nil {
					fail("%s: %v", addresses[i%len(addresses)], err)
					continue
				}
				_, err = io.Copy(io.Discard, res.Body)
				_ = res.Body.Close()
				if err != nil || res.StatusCode != http.StatusOK {
					fail("%s: %s %v", addresses[i%len(addresses)], res.Status, err)
				}
				mu.Lock()
				took = append(took, time.Since(start))
				mu.Unlock()
			}
		})
	}
	command := func(args ...string) { // a process each, as a user's is: what it holds is not the page's
		if said, err := exec.Command("tenter", args...).CombinedOutput(); err != nil {
			fail("tenter %s: %v %s", strings.Join(args, " "), err, said)
		}
	}
	added, imported := 0, 0
	all.Go(func() {
		for ; going(); added++ {
			command("swatch", "add", fmt.Sprintf("bolt %d", added), "--sold-as", "denim")
			time.Sleep(time.Second / 4)
		}
	})
	dir := t.TempDir()
	all.Go(func() {
		for ; going(); imported++ {
			list := filepath.Join(dir, fmt.Sprintf("%d.csv", imported))
			require.NoError(t, os.WriteFile(list, fmt.Appendf(nil, "name,sold as,mass gsm\nroll %[1]d a,denim,300\nroll %[1]d b,wool flannel,220\n", imported), 0o600))
			command("swatch", "import", list)
			_ = os.Remove(list)
			time.Sleep(time.Second) // a stall sends no list more often
		}
	})
	heap := func() float64 {
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		return float64(m.HeapAlloc) / (1 << 20)
	}
	time.Sleep(*soak / 3)
	early := heap()
	all.Wait()
	late := heap()
	client.CloseIdleConnections()
	require.NoError(t, stop())
	require.Empty(t, failed)
	slices.Sort(took)
	require.NotEmpty(t, took)
	t.Logf("%d pages in %v, p50 %v, p99 %v; %d swatches added, %d lists; heap %.0f MB after a third, %.0f MB at the end", len(took), *soak, took[len(took)/2], took[len(took)*99/100], added, imported, early, late)
	require.Less(t, late, 1.5*early+32, "the heap grows")
}
