package page

import (
	"bytes"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"testing"

	"github.com/stretchr/testify/require"
)

// upload sends a file to a form.
func upload(t *testing.T, s *Site, h http.Handler, at, do string, file []byte) *http.Response {
	t.Helper()
	var body bytes.Buffer
	m := multipart.NewWriter(&body)
	require.NoError(t, m.WriteField("token", s.token))
	require.NoError(t, m.WriteField("do", do))
	w, err := m.CreateFormFile("file", "copy.json")
	require.NoError(t, err)
	_, err = w.Write(file)
	require.NoError(t, err)
	require.NoError(t, m.Close())
	r := httptest.NewRequest(http.MethodPost, at, &body)
	r.Header.Set("Content-Type", m.FormDataContentType())
	return sent(h, r)
}

// A copy is saved on one site, taken in on another, and a clash is shown with both
// sides before anything is changed.
func TestRecordsMoveAsOneFile(t *testing.T) {
	desk, _ := ownSite(t)
	dh := desk.Handler(here)
	other, _ := ownSite(t)
	oh := other.Handler(here)
	post(desk, dh, "/swatches/add", "name", `<b onclick="x">gold</b>`, "sold_as", "sateen", "colour", "amber", "lightness", "mid")
	require.Contains(t, read(t, dh, "/records").Says(), "No copy was taken yet")
	page := moved(t, dh, post(desk, dh, "/records", "do", "copy"))
	require.NotNil(t, page.One("a[href=/records/copy]"))
	res := get(dh, "/records/copy")
	require.Contains(t, res.Header.Get("Content-Disposition"), "attachment")
	file, err := io.ReadAll(res.Body)
	require.NoError(t, err)

	page = moved(t, oh, upload(t, other, oh, "/records", "look", file))
	require.Contains(t, page.One(".lead").Says(), "1 thing is new")
	require.Empty(t, read(t, oh, "/swatches").All("tbody tr"), "only looked at")
	at := page.One("form[method=post]").Attr["action"]
	page = moved(t, oh, post(other, oh, at, "do", "merge"))
	require.Contains(t, page.Says(), "1 added")
	require.Len(t, read(t, oh, "/swatches").All("tbody tr"), 1)

	// Each side changes it; the same copy again is a clash.
	swatch := "/swatch/" + "%3Cb%20onclick=%22x%22%3Egold%3C%2Fb%3E"
	moved(t, oh, post(other, oh, swatch+"/edit", "do", "edit", "name", `<b onclick="x">gold</b>`, "sold_as", "sateen", "colour", "ochre", "lightness", "mid"))
	page = moved(t, oh, upload(t, other, oh, "/records", "look", file))
	require.Contains(t, page.Says(), "0 clashes", "the copy did not change since: the edit here is newer")

	// A copy that this side never had, with another colour: both are shown, and what is chosen is done.
	strange := bytes.ReplaceAll(file, []byte(`"copies"`), []byte(`"unknown"`))
	strange = bytes.ReplaceAll(strange, []byte("amber"), []byte("<i>straw</i>"))
	page = moved(t, oh, upload(t, other, oh, "/records", "look", strange))
	require.Contains(t, page.One("fieldset").Says(), "Here: colour ochre")
	require.Contains(t, page.One("fieldset").Says(), "There: colour <i>straw</i>", "markup is words")
	key := page.All("fieldset input")[1].Attr["value"]
	at = page.One("form[method=post]").Attr["action"]
	page = moved(t, oh, post(other, oh, at, "do", "merge", "clash-0", key))
	require.Contains(t, page.Says(), "1 taken from there")
	require.Contains(t, read(t, oh, swatch).Says(), "<i>straw</i>")
}
