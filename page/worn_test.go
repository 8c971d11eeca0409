package page

import (
	"bytes"
	"context"
	"image/png"
	"io"
	"net/http"
	"net/http/httptest"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/draw/worn"
)

// The work shows the piece worn, from a table: one side, and all in a row.
func TestPiecesAreShownWorn(t *testing.T) {
	s, _ := ownSite(t)
	h := s.Handler(here)
	page := read(t, h, "/make?piece=full-circle-skirt&finish=single-layer-hem&shell=cotton-poplin&step=work")
	require.NotEmpty(t, page.All(".seen .worn-row img"), "the first picture")
	require.Contains(t, page.One(".seen figcaption").Says(), "computed fall")
	turning := page.All(".turning img")
	require.Len(t, turning, 2)
	require.Contains(t, turning[0].Attr["src"], "side=all")
	require.Contains(t, turning[1].Attr["src"], "own=yes")
	require.Contains(t, page.One(".worn-row img").Attr["alt"], "computed")
	const red = "face=8e3b46"
	require.Contains(t, page.One(".worn-row img").Attr["src"], red)
	said := read(t, h, "/make?piece=full-circle-skirt&finish=single-layer-hem&shell=cotton-poplin&colour=light&step=work").One(".worn-row img").Attr["src"]
	require.NotContains(t, said, red, "a light cloth is drawn lighter")
	bytesOf := func(at string) []byte {
		b, err := io.ReadAll(get(h, at).Body)
		require.NoError(t, err)
		return b
	}
	require.NotEqual(t, bytesOf(page.One(".worn-row img").Attr["src"]), bytesOf(said))
	for side, wide := range map[string]int{"0": wornOne * worn.Wide, "all": wornRow * worn.Wide * worn.Turns} {
		res := get(h, "/fall.png?piece=full-circle-skirt&c=2&side="+side)
		require.Equal(t, http.StatusOK, res.StatusCode)
		require.Equal(t, "image/png", res.Header.Get("Content-Type"))
		img, err := png.Decode(res.Body)
		require.NoError(t, err)
		require.Equal(t, wide, img.Bounds().Dx())
	}
	for _, at := range []string{"/fall.png", "/fall.png?piece=tailored-jacket&c=2&side=0", "/fall.png?piece=full-circle-skirt&c=2&side=9", "/fall.png?piece=full-circle-skirt&c=x&side=0"} {
		require.Equal(t, http.StatusNotFound, get(h, at).StatusCode, at)
	}
}

// A make-up is computed in its own measures when its picture is asked for, and once; a phone computes none.
func TestWornInItsOwnMeasures(t *testing.T) {
	if testing.Short() {
		t.Skip("some seconds of computing")
	}
	s, _ := ownSite(t)
	h := s.Handler(here)
	row := func(at string) string {
		res := get(h, at)
		require.Equal(t, http.StatusOK, res.StatusCode, at)
		b, err := io.ReadAll(res.Body)
		require.NoError(t, err)
		img, err := png.Decode(bytes.NewReader(b))
		require.NoError(t, err)
		require.Equal(t, wornRow*worn.Wide*worn.Turns, img.Bounds().Dx())
		return string(b)
	}
	s.falls.limit = time.Hour // a busy machine is no failure
	const at = "/fall.png?own=yes&piece=wide-sash&finish=single-layer-hem&shell=cotton-poplin"
	usual := row(at)
	require.Equal(t, usual, row(at))
	require.Len(t, s.falls.by, 1, "asked for twice, computed once")
	require.NotEqual(t, usual, row(at+"&set-width=24cm"))
	require.Len(t, s.falls.by, 2)
	require.Equal(t, http.StatusNotFound, get(h, "/fall.png?own=yes&piece=tailored-jacket&shell=cotton-poplin").StatusCode)
	s.phone = true
	require.Equal(t, http.StatusNotFound, get(h, at).StatusCode)
}

// The shortlist, the example of the first page and the page of a cloth show the piece worn, each above or
// beside the edge.
func TestWornStandsWhereverAPieceIsJudged(t *testing.T) {
	s, _ := ownSite(t)
	h := s.Handler(here)
	for _, shell := range []string{"denim", "silk-habotai"} {
		moved(t, h, post(s, h, "/shortlist", "do", "add", "for", "piece=full-circle-skirt&finish=single-layer-hem&shell="+shell))
	}
	moved(t, h, post(s, h, "/shortlist", "do", "add", "for", "piece=tailored-jacket&shell=tweed"))
	list := read(t, h, "/shortlist")
	require.Len(t, list.All(".kept .whole svg"), 3)
	classes := map[string]bool{}
	for _, p := range list.All(".kept img.worn") {
		require.Contains(t, p.Attr["src"], "piece=full-circle-skirt")
		classes[p.Attr["src"]] = true
	}
	require.Len(t, classes, 2, "denim and habotai look alike")
	require.Contains(t, list.One("main").Says(), "computed fall")
	require.NotNil(t, list.One(".kept svg .behind"), "the best lies in grey behind the others")

	home := read(t, h, "/")
	require.Len(t, home.All(".example img.worn"), 3)
	require.Contains(t, home.One(".example").Says(), "no photographs")
	cloth := read(t, h, "/cloth/denim?piece=full-circle-skirt")
	require.NotNil(t, cloth.One(".seen img.worn"))
	require.Contains(t, cloth.One(".seen").Says(), "computed fall")
	bent := read(t, h, "/cloth/denim?piece=full-circle-skirt&bending-length=1.1")
	require.NotEqual(t, cloth.One(".seen img.worn").Attr["src"], bent.One(".seen img.worn").Attr["src"], "what yours bends at moves the picture")
	for _, at := range []string{"/cloth/denim", "/cloth/denim?piece=tailored-jacket"} {
		require.Nil(t, read(t, h, at).One(".seen img.worn"), at)
		require.NotContains(t, read(t, h, at).One(".seen").Says(), "computed fall", at)
	}
}

// Cloths that are chosen from or compared are shown worn, from one side and to one scale.
func TestClothsAreShownWorn(t *testing.T) {
	s, _ := ownSite(t)
	h := s.Handler(here)
	for _, at := range []string{"/make?piece=full-circle-skirt&finish=single-layer-hem", "/compare?piece=full-circle-skirt&finish=single-layer-hem&pick=cotton-poplin,silk-habotai,wool-flannel,denim"} {
		page := read(t, h, at)
		cards, pictures := page.All(".list .cards li"), page.All(".list .cards .worn")
		require.GreaterOrEqual(t, len(cards), 4, at)
		require.Len(t, pictures, len(cards), at)
		classes := map[string]bool{}
		for _, p := range pictures {
			require.Contains(t, p.Attr["src"], "side=0")
			classes[p.Attr["src"]] = true
		}
		require.Greater(t, len(classes), 1, "%s: cloths of different stiffness look different", at)
		require.Contains(t, page.One("main").Says(), "computed fall")
	}
	require.Empty(t, read(t, h, "/compare?piece=tailored-jacket&pick=denim,wool-flannel").All("img.worn"), "no picture is better than a wrong one")
}

// Who leaves the page stops what is computed for it, and nothing is kept of that.
func TestLeavingThePageStopsTheFall(t *testing.T) {
	s, _ := ownSite(t)
	h := s.Handler(here)
	s.falls.limit = time.Hour // it does not stop by itself
	ctx, leave := context.WithCancel(t.Context())
	leave()
	r := httptest.NewRequestWithContext(ctx, http.MethodGet, "/fall.png?own=yes&piece=wide-sash&finish=single-layer-hem&shell=cotton-poplin", nil)
	r.Host, r.RemoteAddr = "127.0.0.1:8000", "127.0.0.1:51000"
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	require.Equal(t, http.StatusNotFound, w.Code)
	require.Empty(t, s.falls.by)
}

// What a picture cannot show stands beside it: of a piece, of one end of a name, and of what is never shown worn.
func TestDoubtsStandBesideThePicture(t *testing.T) {
	s, _ := ownSite(t)
	h := s.Handler(here)
	caption := func(at string) string { return read(t, h, at).One(".seen figcaption").Says() }
	require.Contains(t, caption("/make?piece=bias-skirt&finish=single-layer-hem&shell=cotton-poplin&step=work"), "drops for days")
	require.Contains(t, caption("/make?piece=cowl&finish=single-layer-hem&shell=viscose-twill&step=work"), "Not shown worn: its folds lie on each other")
	require.Contains(t, caption("/make?piece=rectangular-wrap&finish=single-layer-hem&shell=cotton-poplin&bending-length=6cm&step=work"), "Not shown worn: it did not come to rest")
}
