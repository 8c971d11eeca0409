//go:build !js

package page

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
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
	noteName = "page.json"     // in the state directory, of the page of the usual records
	lockName = "page.starting" // a folder that stands while one is starting
)

// noteOf is the name of the note of a page by what it serves: a page of other
// records, or with other options, is another page.
func noteOf(serves string) string {
	if serves == "" {
		return noteName
	}
	sum := sha256.Sum256([]byte(serves))
	return "page-" + hex.EncodeToString(sum[:6]) + ".json"
}

// sameAddress reports whether a page that runs at an address may stand for one that
// was asked for at another: any port will do where none was named.
func sameAddress(runs, asked string) bool {
	_, port, err := net.SplitHostPort(asked)
	return err == nil && port == "0" || strings.TrimPrefix(runs, "http://") == asked
}

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

// Start opens the site's address, unless a page of the same records already runs
// there: then first is its address and there is no listener. dir is where the running
// page is noted down; without one each page stands alone. The function returned takes
// the note away again.
func (s *Site) Start(dir, addr string) (l net.Listener, first string, done func(), err error) {
	done = func() {}
	name := noteOf(s.serves)
	noted := false // by a page that still runs
	if dir != "" {
		unlock := lock(dir)
		defer unlock()
		if n, ok := readNote(dir, name); ok && alive(n) {
			if sameAddress(n.Address, addr) {
				return nil, n.Address, done, nil
			}
			noted = true
		}
	}
	if l, err = Listen(addr); err != nil || dir == "" || noted {
		return l, "", done, err
	}
	n := note{Address: "http://" + l.Addr().String(), ID: s.id}
	if writeNote(dir, name, n) == nil { // a page that cannot note itself down still runs
		done = func() {
			if now, ok := readNote(dir, name); ok && now.ID == n.ID {
				_ = os.Remove(filepath.Join(dir, name))
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

func readNote(dir, name string) (n note, ok bool) {
	b, err := os.ReadFile(filepath.Join(dir, name))
	return n, err == nil && json.Unmarshal(b, &n) == nil && n.Address != "" && n.ID != ""
}

func writeNote(dir, name string, n note) error {
	b, err := json.Marshal(n)
	if err != nil {
		return err
	}
	tmp := filepath.Join(dir, name+".new")
	if err := os.WriteFile(tmp, b, 0o600); err != nil {
		return err
	}
	return os.Rename(tmp, filepath.Join(dir, name))
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
