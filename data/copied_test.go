package data_test

import (
	"io/fs"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/data"
	"tenter/internal/testkit"
)

// longestRun is how many words in a row may stand in a source as well as here: names
// and turns of the trade run to five, a copied sentence to more.
const longestRun = 5

var wordsOf = regexp.MustCompile(`[a-z]+`)

// spelt brings both Englishes to one spelling, so that a copy is not hidden by it.
var spelt = strings.NewReplacer("colour", "color", "fibre", "fiber", "woollen", "woolen", "lustre", "luster", "grey", "gray")

func wordList(text string) []string {
	return wordsOf.FindAllString(spelt.Replace(strings.ToLower(strings.ReplaceAll(text, "'", ""))), -1)
}

// runs are all stretches of so many words in a text.
func runs(text string, n int) []string {
	w := wordList(text)
	var out []string
	for i := 0; i+n <= len(w); i++ {
		out = append(out, strings.Join(w[i:i+n], " "))
	}
	return out
}

// copied lists the runs that a text shares with the passages.
func copied(text string, passages map[string]string) (out []string) {
	for _, r := range runs(text, longestRun+1) {
		if where, ok := passages[r]; ok {
			out = append(out, r+" ("+where+")")
		}
	}
	return out
}

func passages(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{}
	rows := testkit.Rows(t, "passages.csv")
	require.Greater(t, len(rows), 40)
	for _, p := range rows {
		for _, r := range runs(p["text"], longestRun+1) {
			out[r] = p["source"] + ", " + p["place"]
		}
	}
	return out
}

// Facts were taken, never sentences: no text of the data stands in the passages that
// most of them were read from. Source: testdata/reference/passages.csv, copied from three
// books in the public domain.
func TestNoSentenceIsCopied(t *testing.T) {
	from := passages(t)
	b := readBook(t)
	seen := 0
	for _, s := range b.sheets {
		for i, r := range s.rows {
			for column, text := range r {
				if strings.Contains(text, " ") {
					seen++
					require.Empty(t, copied(text, from), "data/%s:%d, %s", s.Path, i+2, column)
				}
			}
		}
	}
	var files []string
	for _, pattern := range []string{"*.toml", "rules/*.toml"} {
		found, err := fs.Glob(data.FS, pattern)
		require.NoError(t, err)
		files = append(files, found...)
	}
	quoted := regexp.MustCompile(`"((?:[^"\\]|\\.)*)"`)
	for _, f := range files {
		text, err := fs.ReadFile(data.FS, f)
		require.NoError(t, err)
		for i, line := range strings.Split(string(text), "\n") {
			for _, m := range quoted.FindAllStringSubmatch(line, -1) {
				seen++
				require.Empty(t, copied(m[1], from), "data/%s:%d", f, i+1)
			}
		}
	}
	require.Greater(t, seen, 5000)
}

// A sentence that is copied is found, also in the other spelling and in part.
func TestACopiedSentenceIsFound(t *testing.T) {
	from := passages(t)
	for _, text := range []string{
		"Linen wrinkles and musses much more readily than good cotton.",
		"It leaves a ridge on the wrong side, so it is no seam for underwear worn next the body.",
		"The fibres of the warp and weft become entangled.",
	} {
		require.NotEmpty(t, copied(text, from), text)
	}
	require.Empty(t, copied("Linen creases sooner than cotton does.", from))
}
