//go:build !js

package page

import (
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"path"
	"strconv"
	"strings"
)

// The site is for one person at one machine. Other programs and other sites in
// the same browser can reach its port too, and this file keeps them out:
//
//   - it answers only to a loopback address, under a loopback name (a foreign
//     name that was made to point here is refused);
//   - what changes something must come from a page of this site, with the
//     token that its forms carry;
//   - pages of other sites can neither frame it nor load parts of it;
//   - a page runs no script but the one file of the site, whatever a name
//     may hold.

// The limits of a request.
const (
	maxBody    = 8 << 20 // an imported file
	maxAddress = 8 << 10
)

// guard stands before every page.
type guard struct {
	hosts map[string]bool
	site  *Site
}

// loopbackHosts are the names under which a listener on a port may be called.
func loopbackHosts(addr net.Addr) map[string]bool {
	out := map[string]bool{}
	_, port, err := net.SplitHostPort(addr.String())
	if err != nil {
		return out
	}
	for _, h := range []string{"127.0.0.1", "localhost", "::1"} {
		out[net.JoinHostPort(h, port)] = true
		if port == "80" {
			out[h] = true
		}
	}
	if host, _, _ := net.SplitHostPort(addr.String()); host != "" {
		out[net.JoinHostPort(host, port)] = true
	}
	return out
}

// Handler is the site behind its guard, as it is called at the address.
func (s *Site) Handler(addr net.Addr) http.Handler {
	return &guard{hosts: loopbackHosts(addr), site: s}
}

// ServeHTTP lets through what may pass.
func (g *guard) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	if status, what := g.refuse(r); status != 0 {
		send(w, g.site.finish(g.site.fail(Request{Method: r.Method, URL: r.URL}, status, what)))
		return
	}
	asked, large := carried(w, r)
	if large {
		send(w, g.site.finish(g.site.fail(Request{Method: r.Method, URL: r.URL}, statusTooLarge,
			fmt.Sprintf("the file is larger than %d MB; part the list and take it in piece by piece", maxBody>>20))))
		return
	}
	send(w, g.site.Answer(asked))
}

// carried reads a request off the wire, and tells whether its form is larger than is
// taken. A form that cannot be read is empty, so that it lacks its token.
func carried(w http.ResponseWriter, r *http.Request) (out Request, large bool) {
	out = Request{Method: r.Method, URL: r.URL, Held: r.Header.Get("If-None-Match"), Left: r.Context().Done()}
	if r.Method != http.MethodPost {
		return out, false
	}
	r.Body = http.MaxBytesReader(w, r.Body, maxBody)
	if err := r.ParseMultipartForm(maxBody); err != nil && !errors.Is(err, http.ErrNotMultipart) {
		var tooLarge *http.MaxBytesError
		return out, errors.As(err, &tooLarge)
	}
	out.Form.Fields = r.PostForm
	if r.MultipartForm == nil {
		return out, false
	}
	defer func() { _ = r.MultipartForm.RemoveAll() }()
	file, head, err := r.FormFile("file")
	if err != nil {
		return out, false
	}
	defer file.Close()
	if out.Form.File, err = io.ReadAll(file); err != nil {
		return Request{Method: r.Method, URL: r.URL}, false
	}
	out.Form.FileName = path.Base(strings.ReplaceAll(head.Filename, `\`, "/"))
	return out, false
}

// send puts an answer on the wire.
func send(w http.ResponseWriter, a Reply) {
	h := w.Header()
	for key, value := range a.Header {
		h.Set(key, value)
	}
	if a.Status != http.StatusNotModified {
		h.Set("Content-Length", strconv.Itoa(len(a.Body)))
	}
	w.WriteHeader(a.Status)
	_, _ = w.Write(a.Body)
}

// refuse says with which status, and why, a request may not pass.
func (g *guard) refuse(r *http.Request) (int, string) {
	if host, _, err := net.SplitHostPort(r.RemoteAddr); err != nil || !isLoopback(host) {
		return http.StatusForbidden, "this page is for the machine it runs on"
	}
	if !g.hosts[strings.ToLower(r.Host)] {
		return http.StatusMisdirectedRequest, "this page does not answer to that name"
	}
	if len(r.URL.String()) > maxAddress {
		return http.StatusRequestURITooLong, "the address is too long"
	}
	site, mode, dest := r.Header.Get("Sec-Fetch-Site"), r.Header.Get("Sec-Fetch-Mode"), r.Header.Get("Sec-Fetch-Dest")
	foreign := site == "cross-site" || site == "same-site" // another port is the same site, and no friend
	switch r.Method {
	case http.MethodGet, http.MethodHead:
		if foreign && (mode != "navigate" || dest != "document") {
			return http.StatusForbidden, "another site asked for a part of this page"
		}
	case http.MethodPost:
		if foreign || site == "none" {
			return http.StatusForbidden, "another site sent this form"
		}
		switch o := r.Header.Get("Origin"); {
		case o != "":
			if !g.hosts[strings.TrimPrefix(o, "http://")] || !strings.HasPrefix(o, "http://") {
				return http.StatusForbidden, "another site sent this form"
			}
		case site == "":
			return http.StatusForbidden, "the form does not say where it comes from"
		}
	default:
		return http.StatusMethodNotAllowed, "a page is read or sent, nothing else"
	}
	return 0, ""
}

func isLoopback(host string) bool {
	ip := net.ParseIP(host)
	return ip != nil && ip.IsLoopback()
}
