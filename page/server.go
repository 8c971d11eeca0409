// Package page is the site on this machine: the same answers as the commands,
// in a browser. Every page is made on the server and can be read without
// script; the whole state of a page is in its address.
//
// server.go serves, guard.go keeps others out, first.go finds the page that
// already runs; each kind of page has a folder of its own, and sheet is what
// they are all written on.
package page

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"errors"
	"fmt"
	"html/template"
	"io"
	"mime"
	"net"
	"net/http"
	"path"
	"runtime/debug"
	"strconv"
	"strings"
	"sync"

	"tenter/fibres/fault"
	"tenter/kb"
	"tenter/kb/search"
	"tenter/page/about"
	"tenter/page/chart"
	"tenter/page/check"
	"tenter/page/cloth"
	"tenter/page/compare"
	"tenter/page/cutting"
	"tenter/page/entry"
	"tenter/page/fail"
	"tenter/page/find"
	"tenter/page/home"
	"tenter/page/list"
	"tenter/page/making"
	"tenter/page/sheet"
	"tenter/page/swatch"
)

//go:embed static
var static embed.FS

// helloPath answers who is there.
const helloPath = "/hello"

// Options is what the site is made from.
type Options struct {
	Knowledge
	Search  func(search.Query) (kb.Answer, error) // may be nil
	Own     *Own                                  // nil where nothing can be recorded
	Version string
	Log     io.Writer // where errors of our own are written; nil is nowhere
}

// Site is the site, ready to be served.
type Site struct {
	own     *Own
	now     current
	shelf   sheet.Shelf
	writing sync.Mutex // one change of the records at a time
	pages   []made
	files   map[string]file
	assets  sheet.Assets
	failed  *template.Template
	token   string
	id      string
	log     io.Writer
}

// made is a page with its template.
type made struct {
	sheet.Page
	t *template.Template
}

// file is a file of the site as it is sent.
type file struct {
	data       []byte
	kind, etag string
}

// pages lists every page of the site.
func pages() []sheet.Page {
	out := []sheet.Page{home.Page, making.Page, cutting.Page, check.Page, find.Page, cloth.Page, compare.Page, chart.Page, list.Page, list.Index, about.Page}
	return append(append(out, entry.Pages...), swatch.Pages...)
}

// New makes the site: templates are read, nothing is opened.
func New(o Options) (*Site, error) {
	s := &Site{files: map[string]file{}, token: newToken(), id: newToken(), log: o.Log}
	s.own, s.now.search, s.now.version = o.Own, o.Search, o.Version
	s.now.shared = s.makeShared(o.Knowledge)
	s.now.stamp = s.own.stamp()
	for _, p := range pages() {
		t, err := p.Parse()
		if err != nil {
			return nil, fmt.Errorf("template %s: %w", p.Template, err)
		}
		s.pages = append(s.pages, made{p, t})
	}
	t, err := fail.Page.Parse()
	if err != nil {
		return nil, fmt.Errorf("template %s: %w", fail.Page.Template, err)
	}
	s.failed = t
	return s, s.readFiles()
}

// readFiles takes in the files that pages use. Their addresses carry a mark of
// what they hold, so that a browser may keep them.
func (s *Site) readFiles() error {
	names, err := static.ReadDir("static")
	if err != nil {
		return err
	}
	for _, e := range names {
		b, err := static.ReadFile("static/" + e.Name())
		if err != nil {
			return err
		}
		sum := sha256.Sum256(b)
		kind := mime.TypeByExtension(path.Ext(e.Name()))
		if k := map[string]string{".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".svg": "image/svg+xml"}[path.Ext(e.Name())]; k != "" {
			kind = k
		}
		s.files[e.Name()] = file{b, kind, hex.EncodeToString(sum[:6])}
	}
	at := func(name string) string { return "/static/" + name + "?v=" + s.files[name].etag }
	s.assets = sheet.Assets{Style: at("tenter.css"), Script: at("tenter.js")}
	return nil
}

// Handler is the site behind its guard, as it is called at the address.
func (s *Site) Handler(addr net.Addr) http.Handler {
	mux := http.NewServeMux()
	for _, p := range s.pages {
		mux.HandleFunc("GET "+p.Pattern, s.show(p))
		if p.Submit != nil {
			mux.HandleFunc("POST "+p.Pattern, s.take(p))
		}
	}
	mux.HandleFunc("GET /card", s.card)
	mux.HandleFunc("GET /swatches/rejected/{id}", s.rejected)
	mux.HandleFunc("GET /static/{name}", s.file)
	mux.HandleFunc("GET "+helloPath, s.hello)
	mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) {
		if r.Method != http.MethodGet && r.Method != http.MethodHead {
			s.fail(w, r, http.StatusMethodNotAllowed, "nothing can be sent to this page")
			return
		}
		s.failed404(w, r)
	})
	return &guard{hosts: loopbackHosts(addr), token: s.token, next: s.recovered(mux), fail: s.fail}
}

// hello tells the id of this run, which is no secret.
func (s *Site) hello(w http.ResponseWriter, _ *http.Request) {
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	_, _ = io.WriteString(w, "tenter "+s.id+"\n")
}

// recovered turns a panic into a page that says so without telling internals.
func (s *Site) recovered(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			if p := recover(); p != nil && p != http.ErrAbortHandler {
				s.note(r, fmt.Errorf("panic: %v\n%s", p, debug.Stack()))
				s.fail(w, r, http.StatusInternalServerError, "something went wrong on our side")
			}
		}()
		next.ServeHTTP(w, r)
	})
}

func (s *Site) note(r *http.Request, err error) {
	if s.log != nil {
		fmt.Fprintf(s.log, "tenter page: %s %s: %v\n", r.Method, r.URL.Path, err)
	}
}

// show serves one kind of page.
func (s *Site) show(p made) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		k := s.shared()
		keep := p.Submit == nil // a page with a form of its own may hang on what was sent before
		at := r.URL.RequestURI()
		if keep {
			if page := k.Written(at); page != nil {
				s.send(w, http.StatusOK, page)
				return
			}
		}
		ask := sheet.NewAsk(r.URL.EscapedPath(), r.PathValue("id"), r.URL.Query())
		v, err := p.Make(k, ask)
		if page := s.answer(w, r, p, http.StatusOK, v, err); keep && page != nil {
			k.KeepWritten(at, page)
		}
	}
}

// answer sends what a page came to, and returns it where it is a page as it
// should be.
func (s *Site) answer(w http.ResponseWriter, r *http.Request, p made, status int, v sheet.View, err error) []byte {
	var moved *sheet.Moved
	switch {
	case errors.As(err, &moved):
		http.Redirect(w, r, moved.To, http.StatusSeeOther)
	case err != nil:
		s.failWith(w, r, err)
	default:
		return s.write(w, r, status, p.t, v)
	}
	return nil
}

// take serves a form that was sent to a page; the guard has seen its token.
func (s *Site) take(p made) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		k := s.shared()
		if k.Change == nil {
			s.fail(w, r, http.StatusForbidden, "nothing can be recorded here")
			return
		}
		f := sheet.Form{Fields: r.PostForm}
		if r.MultipartForm != nil {
			defer func() { _ = r.MultipartForm.RemoveAll() }()
			if file, head, err := r.FormFile("file"); err == nil {
				b, err := io.ReadAll(file)
				_ = file.Close()
				if err != nil {
					s.failWith(w, r, err)
					return
				}
				f.File, f.FileName = b, path.Base(strings.ReplaceAll(head.Filename, `\\`, "/"))
			}
		}
		ask := sheet.NewAsk(r.URL.EscapedPath(), r.PathValue("id"), r.URL.Query())
		v, err := p.Submit(k, ask, f)
		s.answer(w, r, p, http.StatusOK, v, err)
	}
}

// write sends a page, whole or not at all, and returns it where all is well.
func (s *Site) write(w http.ResponseWriter, r *http.Request, status int, t *template.Template, v sheet.View) []byte {
	b := v.Base()
	b.Assets, b.Token = s.assets, s.token
	if b.Status != 0 {
		status = b.Status
	}
	var out bytes.Buffer
	if err := sheet.Write(&out, t, v); err != nil {
		s.note(r, err)
		http.Error(w, "the page could not be written", http.StatusInternalServerError)
		return nil
	}
	s.send(w, status, out.Bytes())
	if status != http.StatusOK {
		return nil
	}
	return out.Bytes()
}

func (s *Site) send(w http.ResponseWriter, status int, page []byte) {
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Content-Length", strconv.Itoa(len(page)))
	w.WriteHeader(status)
	_, _ = w.Write(page)
}

// failWith shows an error as a page: what was asked wrongly is told, what went
// wrong here only in the log.
func (s *Site) failWith(w http.ResponseWriter, r *http.Request, err error) {
	var f *fault.Fault
	if !errors.As(err, &f) {
		s.note(r, err)
		s.fail(w, r, http.StatusInternalServerError, "something went wrong on our side")
		return
	}
	switch f.Kind {
	case fault.NotFound:
		s.failed404(w, r)
	case fault.WrongCall, fault.OutsideRange, fault.BadData:
		what := f.What
		if f.Expected != "" {
			what += "; expected: " + f.Expected
		}
		s.fail(w, r, http.StatusBadRequest, what)
	case fault.Busy:
		s.fail(w, r, http.StatusServiceUnavailable, f.What)
	default:
		s.note(r, err)
		s.fail(w, r, http.StatusInternalServerError, "something went wrong on our side")
	}
}

// failed404 offers what lies nearest to the address.
func (s *Site) failed404(w http.ResponseWriter, r *http.Request) {
	ask := sheet.NewAsk(r.URL.EscapedPath(), "", r.URL.Query())
	s.write(w, r, http.StatusNotFound, s.failed, fail.NotFound(s.shared(), ask))
}

func (s *Site) fail(w http.ResponseWriter, r *http.Request, status int, what string) {
	ask := sheet.NewAsk(r.URL.EscapedPath(), "", nil)
	s.write(w, r, status, s.failed, fail.Because(s.shared(), ask, status, http.StatusText(status), what))
}

// file sends one of the site's files.
func (s *Site) file(w http.ResponseWriter, r *http.Request) {
	f, ok := s.files[r.PathValue("name")]
	if !ok {
		s.failed404(w, r)
		return
	}
	w.Header().Set("ETag", `"`+f.etag+`"`)
	if r.URL.Query().Get("v") == f.etag {
		w.Header().Set("Cache-Control", "private, max-age=31536000, immutable")
	}
	if strings.Contains(r.Header.Get("If-None-Match"), f.etag) {
		w.WriteHeader(http.StatusNotModified)
		return
	}
	w.Header().Set("Content-Type", f.kind)
	w.Header().Set("Content-Length", strconv.Itoa(len(f.data)))
	_, _ = w.Write(f.data)
}
