package main

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"syscall"

	"github.com/spf13/cobra"

	"tenter/advise"
	"tenter/fibres/fault"
	"tenter/kb"
	"tenter/kb/search"
	"tenter/page"
)

func newPage(a *app) *cobra.Command {
	var addr string
	var noOpen bool
	c := &cobra.Command{
		Use:     "page",
		GroupID: groupAsk,
		Short:   "the same answers in a browser, on this machine only",
		Long: `Opens a page in the browser: pick a piece, see which cloths suit with pictures
of their fall, pick a lining, get the order of work; search, a map of cloths,
and a page for everything in the reference. It listens on this machine only and
asks nothing of the network. The first line of the output is its address. A page
that already runs is found and opened again. Ctrl-C stops it.` + exitStatus,
		Example: `  tenter page
  tenter page --no-open --addr 127.0.0.1:8173`,
		Args: cobra.NoArgs,
		RunE: func(cmd *cobra.Command, _ []string) error {
			ctx, stop := signal.NotifyContext(cmd.Context(), os.Interrupt, syscall.SIGTERM)
			defer stop()
			return a.page(ctx, addr, !noOpen)
		},
	}
	c.Flags().StringVar(&addr, "addr", "127.0.0.1:0", "loopback address and port; port 0 is any free one")
	c.Flags().BoolVar(&noOpen, "no-open", false, "only print the address")
	c.AddCommand(newPageExport(a))
	return c
}

// page serves until the context ends.
func (a *app) page(ctx context.Context, addr string, open bool) error {
	collectAt(100) // unlike the other commands it goes on
	read := a.reference()
	if read.err != nil {
		return read.err
	}
	reference := read.adviser
	a.adviser, a.broken = reference, read.broken
	a.sayBroken() // now, since the page goes on
	a.broken = nil
	finder := &lazySearch{a: a}
	defer finder.close()
	own := &ownRecords{a: a, reference: reference, search: finder}
	know, err := own.again()
	if err != nil {
		return err
	}
	name, serves := a.served()
	site, err := page.New(page.Options{Knowledge: know, Search: finder.ask, Version: version(), Log: a.err, StoreName: name, Serves: serves,
		Own: &page.Own{Path: storePath(), Make: own.make, Again: own.again}})
	if err != nil {
		return err
	}
	l, first, done, err := site.Start(stateDir(), addr)
	if err != nil {
		return err
	}
	defer done()
	at := first
	if l != nil {
		at = "http://" + l.Addr().String()
	}
	if a.json {
		err = a.writeJSON(struct {
			Version int    `json:"version"`
			Address string `json:"address"`
			First   bool   `json:"already_running"`
		}{1, at, l == nil})
	} else {
		_, err = fmt.Fprintln(a.out, at)
	}
	if err != nil {
		return err
	}
	if l == nil {
		fmt.Fprintln(a.err, "a page already runs there; it is this one")
	} else {
		fmt.Fprintln(a.err, "only this machine can reach it; Ctrl-C stops it")
	}
	if open {
		if err := openBrowser(at); err != nil {
			fmt.Fprintln(a.err, "no browser could be opened: open the address yourself")
		}
	}
	if l == nil {
		return nil
	}
	go finder.warm() // a new index takes seconds to build, and the first who asks should not wait
	return site.Serve(ctx, l)
}

// served tells this page from others: the name of the records where they are not the
// usual ones, and all that makes its answers others than those of the usual page.
func (a *app) served() (name, serves string) {
	path := storePath()
	if path != ownPath() {
		name = strings.TrimSuffix(filepath.Base(path), filepath.Ext(path))
		serves = path
	}
	if a.noLearn {
		serves += " without learning"
	}
	return name, serves
}

// ownRecords reaches the user's records for the page, which asks from many
// goroutines.
type ownRecords struct {
	a         *app
	reference *advise.Adviser // without what the records move
	search    *lazySearch
	mu        sync.Mutex
}

// make opens the records, and makes them when they are missing.
func (o *ownRecords) make() error {
	o.mu.Lock()
	defer o.mu.Unlock()
	_, err := o.a.makeStore()
	return err
}

// again gives the knowledge as the records stand now. Records that cannot be
// read leave the reference as it is, and are told.
func (o *ownRecords) again() (page.Knowledge, error) {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.search.close()
	records, err := o.a.store()
	if err == nil {
		var adv *advise.Adviser
		if adv, err = o.a.learned(o.reference); err == nil {
			return page.Knowledge{Adviser: adv, Base: newBase(adv.Cat, records)}, nil
		}
	}
	fmt.Fprintln(o.a.err, "caution: your own records were not used: "+clean(err.Error()))
	return page.Knowledge{Adviser: o.reference, Base: &kb.Base{Cat: o.reference.Cat}}, nil
}

// lazySearch opens the index when the first word is looked for, and anew after
// it was closed. Searches that are under way are waited for.
type lazySearch struct {
	a    *app
	mu   sync.RWMutex
	open *searcher
}

func (s *lazySearch) ask(q search.Query) (kb.Answer, error) {
	s.mu.RLock()
	for s.open == nil {
		s.mu.RUnlock()
		if err := s.reopen(); err != nil {
			return kb.Answer{}, err
		}
		s.mu.RLock()
	}
	defer s.mu.RUnlock()
	return kb.Ask(s.open.ix, s.open.thesaurus, q)
}

func (s *lazySearch) reopen() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.open != nil {
		return nil
	}
	x, err := s.a.openSearch()
	if err == nil {
		s.open = x
	}
	return err
}

// warm opens the index before anything is looked for. Where that fails, the first
// who asks is told.
func (s *lazySearch) warm() { _ = s.reopen() }

func (s *lazySearch) close() {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.open != nil {
		s.open.close()
		s.open = nil
	}
}

// openBrowser opens an address in the user's own browser.
func openBrowser(at string) error {
	var c *exec.Cmd
	switch runtime.GOOS {
	case "darwin":
		c = exec.Command("open", at)
	case "windows":
		c = exec.Command("rundll32", "url.dll,FileProtocolHandler", at)
	default:
		if os.Getenv("DISPLAY") == "" && os.Getenv("WAYLAND_DISPLAY") == "" {
			return &fault.Fault{Kind: fault.Internal, What: "there is no screen to open a browser on"}
		}
		c = exec.Command("xdg-open", at)
	}
	if err := c.Start(); err != nil {
		return err
	}
	go func() { _ = c.Wait() }()
	return nil
}
