package page

import (
	"crypto/rand"
	"crypto/subtle"
	"encoding/hex"
)

// policy is the content security policy: everything from here, nothing inline.
// What may hold a page in a frame follows.
const policy = "default-src 'self'; base-uri 'none'; form-action 'self'; object-src 'none'; frame-ancestors "

// manners are what every answer tells the browser: what may run, load, frame and
// keep it.
func (s *Site) manners() map[string]string {
	out := map[string]string{
		"Content-Security-Policy":      policy + "'none'",
		"X-Frame-Options":              "DENY",
		"X-Content-Type-Options":       "nosniff",
		"Referrer-Policy":              "same-origin",
		"Cross-Origin-Opener-Policy":   "same-origin",
		"Cross-Origin-Resource-Policy": "same-origin",
		"Permissions-Policy":           "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
		"Cache-Control":                "private, no-cache",
	}
	if s.phone {
		out["Content-Security-Policy"], out["X-Frame-Options"] = policy+"'self'", "SAMEORIGIN"
	}
	return out
}

// newToken is a word that nobody can guess.
func newToken() string {
	var b [16]byte
	_, _ = rand.Read(b[:]) // never fails, see crypto/rand
	return hex.EncodeToString(b[:])
}

func sameToken(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }
