//go:build !js

package page

import (
	"context"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"time"
)

// One page is enough: its browser tabs and its records are shared. The first
// one writes down where it listens; the next looks there, asks whether it is
// still that one, and hands its address on.

const (
	noteName = "page.json"     // in the state directory
	lockName = "page.starting" // a folder that stands while one is starting
)

// How long another page is waited for; a test on a busy machine waits longer.
var (
	lockOld  = 10 * time.Second
	lockWait = 3 * time.Second
	askTime  = 2 * time.Second
)

// note is what the first page writes down.
type note struct {
	Address string `json:"address"`
	ID      string `json:"id"`
}

type onceDone struct{ sync.Once }

func (o *onceDone) do(f func()) { o.Do(f) }

// Start opens the site's address, unless a page already runs: then first is
// its address and there is no listener. dir is where the running page is noted
// down; without one each page stands alone. The function returned takes the
// note away again.
func (s *Site) Start(dir, addr string) (l net.Listener, first string, done func(), err error) {
	done = func() {}
	if dir != "" {
		unlock := lock(dir)
		defer unlock()
		if n, ok := readNote(dir); ok && alive(n) {
			return nil, n.Address, done, nil
		}
	}
	if l, err = Listen(addr); err != nil {
		return nil, "", done, err
	}
	if dir != "" {
		n := note{Address: "http://" + l.Addr().String(), ID: s.id}
		if writeNote(dir, n) == nil { // a page that cannot note itself down still runs
			done = func() {
				if now, ok := readNote(dir); ok && now.ID == n.ID {
					_ = os.Remove(filepath.Join(dir, noteName))
				}
			}
		}
	}
	return l, "", done, nil
}

// lock keeps two that start at once apart. A lock that was left behind falls
// after a while; one that cannot be taken is done without.
func lock(dir string) func() {
	at := filepath.Join(dir, lockName)
	if os.MkdirAll(dir, 0o700) != nil {
		return func() {}
	}
	for end := time.Now().Add(lockWait); ; time.Sleep(20 * time.Millisecond) {
		err := os.Mkdir(at, 0o700)
		if err == nil {
			return func() { _ = os.Remove(at) }
		}
		if !errors.Is(err, fs.ErrExist) || time.Now().After(end) {
			return func() {}
		}
		if st, err := os.Stat(at); err == nil && time.Since(st.ModTime()) > lockOld {
			_ = os.Remove(at)
		}
	}
}

func readNote(dir string) (n note, ok bool) {
	b, err := os.ReadFile(filepath.Join(dir, noteName))
	return n, err == nil && json.Unmarshal(b, &n) == nil && n.Address != "" && n.ID != ""
}

func writeNote(dir string, n note) error {
	b, err := json.Marshal(n)
	if err != nil {
		return err
	}
	tmp := filepath.Join(dir, noteName+".new")
	if err := os.WriteFile(tmp, b, 0o600); err != nil {
		return err
	}
	return os.Rename(tmp, filepath.Join(dir, noteName))
}

// alive asks the page noted down whether it is still there, and still that one.
func alive(n note) bool {
	host := strings.TrimPrefix(n.Address, "http://")
	if h, _, err := net.SplitHostPort(host); err != nil || !isLoopback(h) {
		return false
	}
	ctx, cancel := context.WithTimeout(context.Background(), askTime)
	defer cancel()
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, n.Address+helloPath, nil)
	if err != nil {
		return false
	}
	// Never by way of a proxy: it is this machine that is asked.
	c := &http.Client{Transport: &http.Transport{DisableKeepAlives: true}}
	res, err := c.Do(r)
	if err != nil {
		return false
	}
	defer res.Body.Close()
	b, err := io.ReadAll(io.LimitReader(res.Body, 200))
	return err == nil && strings.TrimSpace(string(b)) == "tenter "+n.ID
}
