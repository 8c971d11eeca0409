package data_test

import (
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/internal/testkit"
)

// Rows of a data set are kept only where terms that were read allow it. Of a set that
// states none, the catalogue holds no figure and the reference folder only what was
// worked out from it.
func TestNoRowOfASetWithoutALicence(t *testing.T) {
	b := readBook(t)
	surname := map[string]string{} // of the first author: source
	for _, s := range b.sheets["sources"].rows {
		if s["kind"] != "data" {
			continue
		}
		require.NotEmpty(t, s["licence"], s["id"])
		if strings.HasPrefix(s["licence"], "no licence stated") {
			surname[strings.FieldsFunc(s["author"], func(r rune) bool { return r == ';' || r == ' ' })[0]] = s["id"]
		}
	}
	require.Len(t, surname, 3, "sets without a licence: %v", surname)
	for name, sheet := range b.sheets {
		for _, r := range sheet.rows {
			for author, id := range surname {
				require.NotEqual(t, id, r["source_id"], "%s: a row of %s", name, author)
			}
		}
	}
	files, err := filepath.Glob("../testdata/reference/*.csv")
	require.NoError(t, err)
	derived := 0
	for _, f := range files {
		for _, r := range testkit.Rows(t, filepath.Base(f)) {
			for author, id := range surname {
				if !strings.Contains(r["source"], author) && r["source_id"] != id {
					continue
				}
				derived++
				worked := r["basis"] == "derived" || strings.Contains(r["source"], "computed here") || strings.Contains(r["source"], "counted here")
				require.True(t, worked, "%s keeps a row of %s: %v", f, author, r)
			}
		}
	}
	require.Greater(t, derived, 40)
}
