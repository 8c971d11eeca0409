package page

import (
	"image/png"
	"net/http"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/draw/worn"
)

// The work shows the piece worn, from a table: one side, and all in a row.
func TestPiecesAreShownWorn(t *testing.T) {
	s, _ := ownSite(t)
	h := s.Handler(here)
	page := read(t, h, "/make?piece=full-circle-skirt&finish=single-layer-hem&shell=cotton-poplin&step=work")
	require.NotEmpty(t, page.All(".worn-row img"))
	require.Contains(t, page.One(".turning img").Attr["src"], "side=all")
	require.Contains(t, page.One(".worn-row img").Attr["alt"], "computed")
	for side, wide := range map[string]int{"0": worn.Wide, "all": worn.Wide * worn.Turns} {
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
