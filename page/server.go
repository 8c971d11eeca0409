// Package page is the site on this machine: the same answers as the commands,
// in a browser. Every page is made on the server and can be read without
// script; the whole state of a page is in its address.
//
// server.go answers a request, whatever carried it here; http.go carries it on
// this machine, guard.go keeps others out, first.go finds the page that already
// runs. A phone has no server: there page/phone carries it. Each kind of page has
// a folder of its own, and sheet is what they are all written on.
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
	"net/url"
	"path"
	"runtime/debug"
	"slices"
	"strings"
	"sync"

	"tenter/fibres/fault"
	"tenter/kb"
	"tenter/kb/record"
	"tenter/kb/search"
	"tenter/page/about"
	"tenter/page/address"
	"tenter/page/chart"
	"tenter/page/check"
	"tenter/page/cloth"
	"tenter/page/compare"
	"tenter/page/copies"
	"tenter/page/cutting"
	"tenter/page/entry"
	"tenter/page/fail"
	"tenter/page/find"
	"tenter/page/home"
	"tenter/page/list"
	"tenter/page/making"
	"tenter/page/sheet"
	"tenter/page/shelf"
	"tenter/page/shop"
	"tenter/page/shortlist"
	"tenter/page/swatch"
)

//go:embed static
var static embed.FS

// Static are the files that pages use, by name, as they are sent.
func Static() (map[string][]byte, error) {
	names, err := static.ReadDir("static")
	if err != nil {
		return nil, err
	}
	out := map[string][]byte{}
	for _, e := range names {
		b, err := static.ReadFile("static/" + e.Name())
		if err != nil {
			return nil, err
		}
		out[e.Name()] = Squeezed(path.Ext(e.Name()), b)
	}
	return out, nil
}

// helloPath answers who is there.
const helloPath = "/hello"

// Options is what the site is made from.
type Options struct {
	Knowledge
	Search  func(search.Query) (kb.Answer, error) // may be nil
	Own     *Own                                  // nil where nothing can be recorded
	Version string
	Log     io.Writer // where errors of our own are written; nil is nowhere
	// Token goes with every form; empty makes one for this run.
	Token string
	// Phone says that the site runs inside a browser, which may clear the records,
	// in a frame of its own.
	Phone bool
	// StoreName names the records where they are not the user's usual ones, and Serves
	// tells this page from others: by its records and options, empty for the usual.
	StoreName, Serves string
}

// Site is the site, ready to be served.
type Site struct {
	own     *Own
	now     current
	falls   falls
	shelf   shelf.Shelf
	back    record.TakenBack // what was taken back and can be made again
	writing sync.Mutex       // one change of the records at a time
	pages   []*made
	files   map[string]file
	assets  sheet.Assets
	failed  *made
	phone   bool
	token   string
	id      string
	serves  string
	log     io.Writer
}

// made is a page with its template, which is read when it is first asked for.
type made struct {
	sheet.Page
	template func() (*template.Template, error)
}

func newMade(p sheet.Page) *made { return &made{p, sync.OnceValues(p.Parse)} }

// file is a file of the site as it is sent.
type file struct {
	data       []byte
	kind, etag string
}

// pages lists every page of the site.
func pages() []sheet.Page {
	out := []sheet.Page{home.Page, making.Page, cutting.Page, check.Page, find.Page, cloth.Page, compare.Page, chart.Page, list.Page, list.Index, about.Page, copies.Page, shop.Page}
	return slices.Concat(out, entry.Pages, shortlist.Pages, swatch.Pages)
}

// New makes the site: nothing is opened, and no template read.
func New(o Options) (*Site, error) {
	s := &Site{files: map[string]file{}, token: o.Token, phone: o.Phone, id: newToken(), serves: o.Serves, log: o.Log}
	if s.token == "" {
		s.token = newToken()
	}
	s.own, s.now.search, s.now.version, s.now.storeName = o.Own, o.Search, o.Version, o.StoreName
	s.now.shared = s.makeShared(o.Knowledge)
	s.now.stamp = s.own.stamp()
	for _, p := range pages() {
		s.pages = append(s.pages, newMade(p))
	}
	s.failed = newMade(fail.Page)
	return s, s.readFiles()
}

// readFiles takes in the files that pages use. Their addresses carry a mark of
// what they hold, so that a browser may keep them.
func (s *Site) readFiles() error {
	files, err := Static()
	if err != nil {
		return err
	}
	for name, b := range files {
		sum := sha256.Sum256(b)
		kind := map[string]string{".css": "text/css; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".svg": "image/svg+xml"}[path.Ext(name)]
		s.files[name] = file{b, kind, hex.EncodeToString(sum[:6])}
	}
	at := func(name string) string { return "/static/" + name + "?v=" + s.files[name].etag }
	s.assets = sheet.Assets{Style: at("tenter.css"), Script: at("tenter.js")}
	return nil
}

// Request is what a browser asks, whatever carried it here.
type Request struct {
	Method string
	URL    *url.URL   // path and query
	Form   sheet.Form // what was sent, of a POST
	Held   string     // the mark of the file that the browser has already

	Left <-chan struct{} // closed once who asked has gone; nil: it is not known
}

// Reply is what it is answered.
type Reply struct {
	Status int
	Header map[string]string
	Body   []byte
}

func newReply(status int, kind string, body []byte) Reply {
	return Reply{status, map[string]string{"Content-Type": kind}, body}
}

const (
	htmlKind = "text/html; charset=utf-8"
	textKind = "text/plain; charset=utf-8"
)

// The statuses of the answers, as HTTP counts them.
const (
	statusOK        = 200
	statusMoved     = 303
	statusUnchanged = 304
	statusWrong     = 400
	statusForbidden = 403
	statusNotFound  = 404
	statusNoMethod  = 405
	statusBroken    = 500
	statusBusy      = 503
	statusMisplaced = 421
	statusTooLarge  = 413
	statusTooLong   = 414
)

// statusWords names the statuses of failures.
var statusWords = map[int]string{statusWrong: "Bad Request", statusForbidden: "Forbidden", statusNotFound: "Not Found", statusNoMethod: "Method Not Allowed",
	statusTooLarge: "The file is too large", statusTooLong: "Request URI Too Long", statusMisplaced: "Misdirected Request", statusBroken: "Internal Server Error", statusBusy: "Service Unavailable"}

// Answer answers a request that may pass. What breaks is told without internals.
func (s *Site) Answer(r Request) (out Reply) {
	defer func() {
		if p := recover(); p != nil {
			s.note(r, fmt.Errorf("panic: %v\n%s", p, debug.Stack()))
			out = s.finish(s.fail(r, statusBroken, broken))
		}
	}()
	if r.Method == "POST" && !sameToken(r.Form.Fields.Get("token"), s.token) { // never of the address
		return s.finish(s.fail(r, statusForbidden, "the form is not one of this page, or the page was started anew since it was opened"))
	}
	return s.finish(s.route(r))
}

const broken = "something went wrong on our side"

// finish adds what every answer says, where it does not say otherwise.
func (s *Site) finish(a Reply) Reply {
	for key, value := range s.manners() {
		if _, set := a.Header[key]; !set {
			a.Header[key] = value
		}
	}
	return a
}

// route finds what an address names.
func (s *Site) route(r Request) Reply {
	for _, p := range s.pages {
		id, ok := matches(p.Pattern, r.URL)
		if !ok {
			continue
		}
		switch {
		case r.Method == "GET" || r.Method == "HEAD":
			return s.show(r, p, id)
		case r.Method == "POST" && p.Submit != nil:
			return s.accept(r, p, id)
		}
		return s.fail(r, statusNoMethod, "nothing can be sent to this page")
	}
	if r.Method != "GET" && r.Method != "HEAD" {
		return s.fail(r, statusNoMethod, "nothing can be sent to this page")
	}
	if id, ok := matches("/static/{id}", r.URL); ok {
		return s.file(r, id)
	}
	if id, ok := matches("/swatches/rejected/{id}", r.URL); ok {
		return s.rejected(r, id)
	}
	switch r.URL.Path {
	case "/card":
		return s.card(r)
	case "/records/copy":
		return s.copyOf(r)
	case address.WornPath:
		return s.wornPicture(r)
	case helloPath: // the id of this run, which is no secret
		return newReply(statusOK, textKind, []byte("tenter "+s.id+"\n"))
	}
	return s.failed404(r)
}

// Failure is the page that says what went wrong where the request was carried.
func (s *Site) Failure(r Request, what string) Reply {
	return s.finish(s.fail(r, statusBroken, what))
}

// Unkept is the page of a form of which nothing could be kept, and why. What was typed is
// in it, to be sent again.
func (s *Site) Unkept(r Request, why string) Reply {
	ask := address.NewAsk(r.URL.EscapedPath(), "", r.URL.Query())
	return s.finish(s.write(r, statusBroken, s.failed, fail.Unkept(s.shared(), ask, statusBroken, why, r.Form)))
}

// matches reports whether an address is of a pattern, and what stands in the
// place of its {id}.
func matches(pattern string, at *url.URL) (id string, ok bool) {
	want, have := strings.Split(strings.TrimSuffix(pattern, "{$}"), "/"), strings.Split(at.EscapedPath(), "/")
	ok = slices.EqualFunc(want, have, func(w, h string) bool {
		if w != "{id}" {
			return w == h
		}
		part, err := url.PathUnescape(h)
		id = part
		return err == nil && part != ""
	})
	return id, ok
}

func (s *Site) note(r Request, err error) {
	if s.log != nil {
		fmt.Fprintf(s.log, "tenter page: %s %s: %v\n", r.Method, r.URL.Path, err)
	}
}

// show gives a page as its address asks.
func (s *Site) show(r Request, p *made, id string) Reply {
	k := s.shared()
	keep := p.Submit == nil // a page with a form of its own may hang on what was sent before
	at := r.URL.RequestURI()
	if keep {
		if page := k.Written(at); page != nil {
			return newReply(statusOK, htmlKind, page)
		}
	}
	v, err := p.Make(k, address.NewAsk(r.URL.EscapedPath(), id, r.URL.Query()))
	a := s.give(r, p, v, err)
	if keep && a.Status == statusOK {
		k.KeepWritten(at, a.Body)
	}
	return a
}

// accept does what a form asks.
func (s *Site) accept(r Request, p *made, id string) Reply {
	k := s.shared()
	if k.Change == nil {
		return s.fail(r, statusForbidden, "nothing can be recorded here")
	}
	v, err := p.Submit(k, address.NewAsk(r.URL.EscapedPath(), id, r.URL.Query()), r.Form)
	return s.give(r, p, v, err)
}

// give is what a page came to.
func (s *Site) give(r Request, p *made, v sheet.View, err error) Reply {
	var moved *sheet.Moved
	switch {
	case errors.As(err, &moved):
		a := newReply(statusMoved, textKind, nil)
		a.Header["Location"] = moved.To
		return a
	case err != nil:
		return s.failWith(r, err)
	}
	return s.write(r, statusOK, p, v)
}

// write gives a page, whole or not at all.
func (s *Site) write(r Request, status int, p *made, v sheet.View) Reply {
	b := v.Base()
	b.Assets, b.Token = s.assets, s.token
	if b.Status != 0 {
		status = b.Status
	}
	var out bytes.Buffer
	t, err := p.template()
	if err == nil {
		err = sheet.Write(&out, t, v)
	}
	if err != nil {
		s.note(r, err)
		return newReply(statusBroken, textKind, []byte("the page could not be written\n"))
	}
	return newReply(status, htmlKind, out.Bytes())
}

// failWith shows an error as a page: what was asked wrongly is told, what went
// wrong here only in the log.
func (s *Site) failWith(r Request, err error) Reply {
	var f *fault.Fault
	if !errors.As(err, &f) {
		s.note(r, err)
		return s.fail(r, statusBroken, broken)
	}
	switch f.Kind {
	case fault.NotFound:
		return s.failed404(r)
	case fault.WrongCall, fault.OutsideRange, fault.BadData:
		what := f.What
		if f.Expected != "" {
			what += "; expected: " + f.Expected
		}
		return s.fail(r, statusWrong, what)
	case fault.Busy:
		return s.fail(r, statusBusy, f.What)
	}
	s.note(r, err)
	return s.fail(r, statusBroken, broken)
}

// failed404 offers what lies nearest to the address.
func (s *Site) failed404(r Request) Reply {
	ask := address.NewAsk(r.URL.EscapedPath(), "", r.URL.Query())
	return s.write(r, statusNotFound, s.failed, fail.NotFound(s.shared(), ask))
}

func (s *Site) fail(r Request, status int, what string) Reply {
	ask := address.NewAsk(r.URL.EscapedPath(), "", nil)
	return s.write(r, status, s.failed, fail.Because(s.shared(), ask, status, statusWords[status], what))
}

// file gives one of the site's files.
func (s *Site) file(r Request, name string) Reply {
	f, ok := s.files[name]
	if !ok {
		return s.failed404(r)
	}
	a := newReply(statusOK, f.kind, f.data)
	a.Header["ETag"] = `"` + f.etag + `"`
	if r.URL.Query().Get("v") == f.etag {
		a.Header["Cache-Control"] = "private, max-age=31536000, immutable"
	}
	if strings.Contains(r.Held, f.etag) {
		a.Status, a.Body = statusUnchanged, nil
	}
	return a
}
