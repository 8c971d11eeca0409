package main

import (
	"bufio"
	"context"
	"io"
	"net/http"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/internal/testkit"
)

// servePage runs `tenter page` until the test ends and gives its first line.
func servePage(t *testing.T) (first string, stop func() error) {
	t.Helper()
	r, w := io.Pipe()
	a := newApp(w, io.Discard)
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() {
		err := a.page(ctx, "127.0.0.1:0", false)
		a.close()
		_ = w.Close()
		done <- err
	}()
	line, err := bufio.NewReader(r).ReadString('\n')
	require.NoError(t, err)
	stop = func() error { cancel(); return <-done }
	t.Cleanup(func() { cancel() })
	return strings.TrimSpace(line), stop
}

func home(t *testing.T) {
	t.Helper()
	for _, v := range []string{"HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME"} {
		t.Setenv(v, t.TempDir())
	}
	t.Setenv("XDG_CACHE_HOME", sharedCache())
}

// The first line is the address, the page is there with its search, a second
// command finds it, and it stops in peace.
func TestPageIsServedFoundAndStopped(t *testing.T) {
	home(t)
	at, stop := servePage(t)
	require.Regexp(t, `^http://127\.0\.0\.1:\d+$`, at)
	c := &http.Client{}
	for path, want := range map[string]string{"/": "How will it hang?", "/search?q=chiffon": "silk chiffon", "/search?q=hooded+wrap": "/piece/hooded-wrap", "/cloth/denim": "Denim"} {
		res, err := c.Get(at + path)
		require.NoError(t, err)
		b, err := io.ReadAll(res.Body)
		_ = res.Body.Close()
		require.NoError(t, err)
		require.Equal(t, http.StatusOK, res.StatusCode, path)
		require.Contains(t, string(b), want, path)
	}
	again, stopAgain := servePage(t)
	require.Equal(t, at, again, "the second is the first")
	require.NoError(t, stopAgain())
	c.CloseIdleConnections()
	require.NoError(t, stop())
	_, err := c.Get(at)
	require.Error(t, err, "it still answers")
	fresh, stopFresh := servePage(t)
	require.NotEqual(t, at, fresh)
	require.NoError(t, stopFresh())
}

// What another command records while the page runs is on the next page, and is
// found by the search.
func TestPageSeesWhatOtherCommandsRecord(t *testing.T) {
	home(t)
	at, stop := servePage(t)
	c := &http.Client{}
	has := func(path, want string) bool {
		res, err := c.Get(at + path)
		require.NoError(t, err)
		defer res.Body.Close()
		b, err := io.ReadAll(res.Body)
		require.NoError(t, err)
		require.Equal(t, http.StatusOK, res.StatusCode, path)
		return strings.Contains(string(b), want)
	}
	require.False(t, has("/search?q=gallery+remnant", "/swatch/gallery"))
	other := newApp(io.Discard, io.Discard)
	root := newRoot(other)
	root.SetArgs([]string{"swatch", "add", "gallery remnant", "--sold-as", "cotton-velvet", "--colour", "red"})
	require.NoError(t, root.Execute())
	other.close()
	testkit.Until(t, "the swatch is on the page", func() bool { return has("/swatches", "gallery remnant") })
	require.True(t, has("/search?q=gallery+remnant", "/swatch/gallery%20remnant"))
	c.CloseIdleConnections()
	require.NoError(t, stop())
}

// The first who looks for something does not wait for the index to be built.
func TestPageBuildsItsIndexBeforeItIsAsked(t *testing.T) {
	home(t)
	cache := t.TempDir()
	t.Setenv("XDG_CACHE_HOME", cache)
	_, stop := servePage(t)
	testkit.Until(t, "the index is there", func() bool {
		built, err := filepath.Glob(filepath.Join(cache, "tenter", "search-*", "manifest"))
		require.NoError(t, err)
		return len(built) == 1
	})
	require.NoError(t, stop())
}
