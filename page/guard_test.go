package page

import (
	"context"
	"errors"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
	"tenter/internal/testkit"
	"tenter/page/address"
	"tenter/page/sheet"
)

// What may not pass is refused with its own status, before any page is made.
func TestGuardRefuses(t *testing.T) {
	s := newSite(t)
	h := s.Handler(here)
	for _, x := range []struct {
		name, method, host, from, at string
		header                       map[string]string
		form                         url.Values
		want                         int
	}{
		{name: "a reader", want: 200},
		{name: "a reader by the name", host: "localhost:8000", want: 200},
		{name: "a reader over IPv6", host: "[::1]:8000", from: "[::1]:5000", want: 200},
		{name: "another name that was made to point here", host: "rebound.example:8000", want: 421},
		{name: "our name at another port", host: "127.0.0.1:9", want: 421},
		{name: "no name", host: "-", want: 421},
		{name: "another machine", from: "192.168.1.9:5000", want: 403},
		{name: "a picture tag of another site", header: map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "no-cors", "Sec-Fetch-Dest": "image"}, want: 403},
		{name: "a frame of another port", header: map[string]string{"Sec-Fetch-Site": "same-site", "Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "iframe"}, want: 403},
		{name: "a link on another site", header: map[string]string{"Sec-Fetch-Site": "cross-site", "Sec-Fetch-Mode": "navigate", "Sec-Fetch-Dest": "document"}, want: 200},
		{name: "an address too long", at: "/search?q=" + strings.Repeat("a", maxAddress), want: 414},
		{name: "another method", method: http.MethodDelete, want: 405},
		{name: "a method that asks for ways in", method: http.MethodOptions, header: map[string]string{"Origin": "http://evil.example"}, want: 405},
		{name: "a form of another site", method: http.MethodPost, header: map[string]string{"Origin": "http://evil.example", "Sec-Fetch-Site": "cross-site"}, form: url.Values{"token": {s.token}}, want: 403},
		{name: "a form of another port", method: http.MethodPost, header: map[string]string{"Origin": "http://127.0.0.1:9", "Sec-Fetch-Site": "same-site"}, form: url.Values{"token": {s.token}}, want: 403},
		{name: "a form from nowhere", method: http.MethodPost, form: url.Values{"token": {s.token}}, want: 403},
		{name: "a form of an origin that hides itself", method: http.MethodPost, header: map[string]string{"Origin": "null"}, form: url.Values{"token": {s.token}}, want: 403},
		{name: "our form without its token", method: http.MethodPost, header: map[string]string{"Origin": "http://127.0.0.1:8000", "Sec-Fetch-Site": "same-origin"}, form: url.Values{"a": {"b"}}, want: 403},
		{name: "our form with another token", method: http.MethodPost, header: map[string]string{"Origin": "http://127.0.0.1:8000"}, form: url.Values{"token": {"guess"}}, want: 403},
		{name: "the token in the address", method: http.MethodPost, at: "/?token=" + s.token, header: map[string]string{"Origin": "http://127.0.0.1:8000"}, form: url.Values{"a": {"b"}}, want: 403},
		{name: "our form, where nothing takes one", method: http.MethodPost, header: map[string]string{"Origin": "http://127.0.0.1:8000", "Sec-Fetch-Site": "same-origin"}, form: url.Values{"token": {s.token}}, want: 405},
	} {
		t.Run(x.name, func(t *testing.T) {
			if x.method == "" {
				x.method = http.MethodGet
			}
			if x.at == "" {
				x.at = "/"
			}
			r := httptest.NewRequest(x.method, x.at, strings.NewReader(x.form.Encode()))
			if x.form != nil {
				r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
			}
			r.Host, r.RemoteAddr = "127.0.0.1:8000", "127.0.0.1:5000"
			if x.host != "" {
				r.Host = strings.TrimPrefix(x.host, "-")
			}
			if x.from != "" {
				r.RemoteAddr = x.from
			}
			for k, v := range x.header {
				r.Header.Set(k, v)
			}
			w := httptest.NewRecorder()
			h.ServeHTTP(w, r)
			res := w.Result()
			require.Equal(t, x.want, res.StatusCode)
			require.Equal(t, policy+"'none'", res.Header.Get("Content-Security-Policy"))
			require.Equal(t, "nosniff", res.Header.Get("X-Content-Type-Options"))
			require.Equal(t, "DENY", res.Header.Get("X-Frame-Options"))
			require.NotEmpty(t, res.Header.Get("Referrer-Policy"))
			require.Empty(t, res.Header.Get("Access-Control-Allow-Origin"))
			if x.want >= 400 {
				sound(t, x.name, res, x.want)
			}
		})
	}
}

// The policy lets nothing run or load that is not the site's own file.
func TestPolicyAllowsNothingInline(t *testing.T) {
	require.Contains(t, policy, "default-src 'self'")
	for _, bad := range []string{"unsafe", "data:", "*", "http"} {
		require.NotContains(t, policy, bad)
	}
}

// No page holds the token but in a form that is sent, and no link holds it.
func TestTokenStaysOutOfAddresses(t *testing.T) {
	s := newSite(t)
	h := s.Handler(here)
	for _, at := range flow {
		b, err := io.ReadAll(get(h, at).Body)
		require.NoError(t, err)
		for _, part := range strings.Split(string(b), s.token)[1:] {
			require.True(t, strings.HasPrefix(part, `">`), "%s holds the token outside a field", at)
		}
	}
}

// A body that is too large is cut off.
func TestBodyIsLimited(t *testing.T) {
	s := newSite(t)
	h := s.Handler(here)
	r := httptest.NewRequest(http.MethodPost, "/", io.MultiReader(strings.NewReader("token="+s.token+"&a="), strings.NewReader(strings.Repeat("a", maxBody))))
	r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	r.Header.Set("Origin", "http://127.0.0.1:8000")
	r.Host, r.RemoteAddr = "127.0.0.1:8000", "127.0.0.1:5000"
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	require.Equal(t, http.StatusForbidden, w.Code, "the form could not be read, so it has no token")
}

// A page that breaks says so, and what broke goes to the log only.
func TestOurOwnErrorsAreNotShown(t *testing.T) {
	var log strings.Builder
	s := newSite(t)
	s.log = &log
	at := Request{Method: http.MethodGet, URL: &url.URL{Path: "/x"}}
	s.pages = append(s.pages, newMade(sheet.Page{Pattern: "/x", Make: func(*sheet.Site, address.Ask) (sheet.View, error) { panic("secret of the workroom") }}))
	got := s.Answer(at)
	require.Equal(t, http.StatusInternalServerError, got.Status)
	require.NotContains(t, string(got.Body), "secret")
	require.Contains(t, log.String(), "secret of the workroom")
	log.Reset()
	got = s.failWith(at, errors.New("no such table: swatch"))
	require.Equal(t, http.StatusInternalServerError, got.Status)
	require.NotContains(t, string(got.Body), "table")
	require.Contains(t, log.String(), "no such table")
}

func TestFaultsHaveTheirStatus(t *testing.T) {
	s := newSite(t)
	s.log = io.Discard
	for kind, want := range map[fault.Kind]int{fault.WrongCall: 400, fault.OutsideRange: 400, fault.NotFound: 404, fault.Busy: 503, fault.Internal: 500} {
		got := s.failWith(Request{Method: http.MethodGet, URL: &url.URL{Path: "/x"}}, &fault.Fault{Kind: kind, What: "x"})
		require.Equal(t, want, got.Status, kind)
	}
}

func TestOnlyLoopbackIsListenedOn(t *testing.T) {
	for _, addr := range []string{"0.0.0.0:0", ":0", "192.168.1.1:0", "example.org:80", "[::]:0", "nonsense"} {
		_, err := Listen(addr)
		require.Error(t, err, addr)
	}
	l, err := Listen("127.0.0.1:0")
	require.NoError(t, err)
	defer l.Close()
	_, err = Listen(l.Addr().String())
	var f *fault.Fault
	require.ErrorAs(t, err, &f)
	require.Equal(t, fault.Busy, f.Kind)
}

// The second page finds the first; one that died is not found.
func TestSecondFindsTheFirst(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "state")
	one, two := newSite(t), newSite(t)
	l, first, done, err := one.Start(dir, "127.0.0.1:0")
	require.NoError(t, err)
	require.Empty(t, first)
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- one.Serve(ctx, l) }()
	at := "http://" + l.Addr().String()

	l2, first, done2, err := two.Start(dir, "127.0.0.1:0")
	require.NoError(t, err)
	require.Nil(t, l2)
	require.Equal(t, at, first)
	done2()
	_, ok := readNote(dir, noteName)
	require.True(t, ok, "the second must not take the first's note away")

	stop()
	require.NoError(t, <-ended)
	_, err = net.DialTimeout("tcp", l.Addr().String(), time.Second)
	require.Error(t, err, "it still listens after the stop")
	// the note is still there: a page that was killed leaves it
	l3, first, done3, err := two.Start(dir, "127.0.0.1:0")
	require.NoError(t, err)
	require.Empty(t, first)
	require.NotNil(t, l3)
	done() // the old one's note is gone, and the new one's must stay
	_, ok = readNote(dir, noteName)
	require.True(t, ok)
	done3()
	_, ok = readNote(dir, noteName)
	require.False(t, ok)
	require.NoError(t, l3.Close())
}

// Of many that start at once, one serves.
func TestOfManyOneServes(t *testing.T) {
	dir := t.TempDir()
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	var wg sync.WaitGroup
	var mu sync.Mutex
	var served int
	for range 6 {
		s := newSite(t)
		wg.Go(func() {
			l, _, _, err := s.Start(dir, "127.0.0.1:0")
			if err == nil && l != nil {
				go func() { _ = s.Serve(ctx, l) }()
				mu.Lock()
				served++
				mu.Unlock()
			}
		})
	}
	wg.Wait()
	require.Equal(t, 1, served)
}

// A note that names another machine is not followed.
func TestForeignNotesAreNotFollowed(t *testing.T) {
	require.False(t, alive(note{Address: "http://192.168.1.1:80", ID: "x"}))
	require.False(t, alive(note{Address: "http://example.org:80", ID: "x"}))
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, noteName), []byte("{broken"), 0o600))
	_, ok := readNote(dir, noteName)
	require.False(t, ok)
}

// A lock that was left behind does not keep the page from starting.
func TestOldLocksFall(t *testing.T) {
	dir := t.TempDir()
	at := filepath.Join(dir, lockName)
	require.NoError(t, os.Mkdir(at, 0o700))
	old := time.Now().Add(-time.Hour)
	require.NoError(t, os.Chtimes(at, old, old))
	lock(dir)()
	_, err := os.Stat(at)
	require.ErrorIs(t, err, os.ErrNotExist)
}

// What is being answered when the page is stopped is still answered.
func TestStopLetsTheLastAnswerFinish(t *testing.T) {
	l, err := Listen("127.0.0.1:0")
	require.NoError(t, err)
	began, finish := make(chan bool), make(chan bool)
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	slow := http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		began <- true
		<-finish
		_, _ = io.WriteString(w, "whole")
	})
	go func() { ended <- serve(ctx, l, slow) }()
	got := make(chan string, 1)
	go func() {
		res, err := http.Get("http://" + l.Addr().String())
		if err != nil {
			got <- err.Error()
			return
		}
		defer res.Body.Close()
		b, _ := io.ReadAll(res.Body)
		got <- string(b)
	}()
	<-began
	stop()
	testkit.Until(t, "it listens no longer", func() bool {
		c, err := net.Dial("tcp", l.Addr().String())
		if err == nil {
			_ = c.Close()
		}
		return err != nil
	})
	finish <- true
	require.Equal(t, "whole", <-got)
	require.NoError(t, <-ended)
}

// More connections than there are places wait for a free one.
func TestConnectionsAreLimited(t *testing.T) {
	raw, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	l := newLimited(raw, 2)
	defer l.Close()
	taken := make(chan net.Conn, 8)
	go func() {
		for {
			c, err := l.Accept()
			if err != nil {
				return
			}
			taken <- c
		}
	}()
	for range 4 {
		c, err := net.Dial("tcp", raw.Addr().String())
		require.NoError(t, err)
		defer c.Close()
	}
	first := <-taken
	<-taken
	require.Len(t, l.free, 2, "no place is left for a third")
	require.Empty(t, taken, "a third connection was let in")
	require.NoError(t, first.Close())
	_ = first.Close() // twice gives one place back
	<-taken
	require.Len(t, l.free, 2, "no place is left: it was given back once")
	require.Empty(t, taken, "a place was given back twice")
}
