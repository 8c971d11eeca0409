package data_test

import (
	"io/fs"
	"regexp"
	"slices"
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

// fillers are words that say nothing of what a sentence is about.
var fillers = strings.Fields("a an the of to in on at is are be it its and or for with as by from that this which but not so than then if when you your one more most very any all no do into only up out over under them they their has have")

// content are the words that carry a sentence, without their endings.
func content(text string) (out []string) {
	for _, w := range wordList(text) {
		if slices.Contains(fillers, w) {
			continue
		}
		for _, end := range []string{"ing", "ed", "es", "s", "ly"} {
			if cut := strings.TrimSuffix(w, end); cut != w && len(cut) >= 3 {
				w = cut
				break
			}
		}
		out = append(out, w)
	}
	return out
}

// inOrder counts the words of a that stand in b in the same order.
func inOrder(a, b []string) int {
	longest := make([]int, len(b)+1)
	for _, x := range a {
		before := 0
		for j, y := range b {
			was := longest[j+1]
			if x == y {
				longest[j+1] = before + 1
			} else {
				longest[j+1] = max(longest[j+1], longest[j])
			}
			before = was
		}
	}
	return longest[len(b)]
}

// paraphrased names the passage that a text follows word by word: seven in ten of its
// telling words, five or more, in the order of the source.
func paraphrased(text string, passages map[string][]string) string {
	w := content(text)
	for place, p := range passages {
		if n := inOrder(w, p); n >= 5 && 10*n >= 7*len(w) {
			return place
		}
	}
	return ""
}

func tellingPassages(t *testing.T) map[string][]string {
	t.Helper()
	out := map[string][]string{}
	for _, p := range testkit.Rows(t, "passages.csv") {
		out[p["source"]+", "+p["place"]] = content(p["text"])
	}
	return out
}

// No text follows a passage so closely that only its small words are changed. What names a
// thing by four telling words or fewer is a definition, and is let pass.
func TestNoSentenceIsParaphrasedClosely(t *testing.T) {
	from := tellingPassages(t)
	b := readBook(t)
	for _, s := range b.sheets {
		for i, r := range s.rows {
			for _, column := range []string{"note", "say", "definition", "meaning", "trap"} {
				require.Empty(t, paraphrased(r[column], from), "data/%s:%d, %s: %s", s.Path, i+2, column, r[column])
			}
		}
	}
	files, err := fs.Glob(data.FS, "rules/*.toml")
	require.NoError(t, err)
	told := regexp.MustCompile(`(?m)^(?:say|because)\s*=\s*"((?:[^"\\]|\\.)*)"`)
	for _, f := range files {
		text, err := fs.ReadFile(data.FS, f)
		require.NoError(t, err)
		for _, m := range told.FindAllStringSubmatch(string(text), -1) {
			require.Empty(t, paraphrased(m[1], from), "data/%s: %s", f, m[1])
		}
	}
}

// A close paraphrase is found, and a fact in words of one's own is not.
func TestACloseParaphraseIsFound(t *testing.T) {
	from := tellingPassages(t)
	require.NotEmpty(t, paraphrased("Slip-stitch the hem with a fine needle, picking up one thread outside.", from))
	require.NotEmpty(t, paraphrased("Plain, loose, even-threaded wool cloth for flags.", from))
	require.Empty(t, paraphrased("Slip-stitch it: catch a single yarn of the outer cloth each time.", from))
}
