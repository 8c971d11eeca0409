package page

import (
	"crypto/rand"
	"crypto/subtle"
	"encoding/hex"
	"net"
	"net/http"
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

// policy is the content security policy: everything from here, nothing inline.
const policy = "default-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'; object-src 'none'"

// The limits of a request.
const (
	maxBody    = 8 << 20 // an imported file
	maxAddress = 8 << 10
)

// guard stands before every page.
type guard struct {
	hosts map[string]bool
	token string
	next  http.Handler
	fail  func(w http.ResponseWriter, r *http.Request, status int, what string)
}

// newToken is a word that nobody can guess.
func newToken() string {
	var b [16]byte
	_, _ = rand.Read(b[:]) // never fails, see crypto/rand
	return hex.EncodeToString(b[:])
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

// ServeHTTP lets through what may pass.
func (g *guard) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("X-Frame-Options", "DENY")
	h.Set("Referrer-Policy", "same-origin")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Permissions-Policy", "camera=(), geolocation=(), microphone=(), payment=(), usb=()")
	h.Set("Cache-Control", "private, no-cache")
	if status, what := g.refuse(r); status != 0 {
		g.fail(w, r, status, what)
		return
	}
	if r.Method == http.MethodPost {
		r.Body = http.MaxBytesReader(w, r.Body, maxBody)
		if !g.hasToken(r) {
			g.fail(w, r, http.StatusForbidden, "the form is not one of this page, or the page was started anew since it was opened")
			return
		}
	}
	g.next.ServeHTTP(w, r)
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

// hasToken reports whether a form carries the token of this run.
func (g *guard) hasToken(r *http.Request) bool {
	got := r.PostFormValue("token") // never of the address
	return subtle.ConstantTimeCompare([]byte(got), []byte(g.token)) == 1
}

func isLoopback(host string) bool {
	ip := net.ParseIP(host)
	return ip != nil && ip.IsLoopback()
}
