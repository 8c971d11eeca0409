package kb_test

import (
	"fmt"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/kb"
	"tenter/kb/record"
	"tenter/kb/search"
	"tenter/kb/store"
)

// Among thousands of records in which the beginning of a word stands but not the word,
// those that hold it are found, however late they were recorded: in any form, any
// spelling, run together or parted, with an apostrophe, with an accent.
func TestAWordAmongThousandsThatBeginSo(t *testing.T) {
	s, err := store.Open(filepath.Join(t.TempDir(), "store.db"))
	require.NoError(t, err)
	defer s.Close()
	var rows []record.SwatchRow
	add := func(w record.Swatch) {
		rows = append(rows, record.SwatchRow{Line: len(rows) + 1, Swatch: w})
	}
	for i := range 2500 {
		add(record.Swatch{Name: fmt.Sprintf("remnant %04d", i), Notes: "broadcast hoptoad colorado organizational velvetx o'nearly"})
	}
	for i, notes := range []string{"a remnane of it", "two Remnanes", "hopping", "hops", "the color", "organized", "organising", "O'Near's own", "velvets", "crêpe remnanes"} {
		add(record.Swatch{Name: fmt.Sprintf("zz %d", i), Notes: notes})
	}
	for _, name := range []string{"broad cloths", "broadcloth two", "zebra-remnane"} {
		add(record.Swatch{Name: name})
	}
	_, err = s.ImportSwatches(rows, false)
	require.NoError(t, err)
	_, err = s.AddNote("cloth", "velvet", "a hoptoa")
	require.NoError(t, err)
	own, err := kb.Own(s)
	require.NoError(t, err)
	x, err := search.InMemory(search.Options{Own: own})
	require.NoError(t, err)
	for asked, want := range map[string][]string{
		"remnane":    {"zz 0", "zz 1", "zz 9", "zebra-remnane"},
		"hop":        {"zz 2", "zz 3"},
		"hopped":     {"zz 2", "zz 3"},
		"colour":     {"zz 4"},
		"organise":   {"zz 5", "zz 6"},
		"onear":      {"zz 7"},
		"velvet":     {"zz 8"},
		"broadcloth": {"broad cloths", "broadcloth two"},
	} {
		hits, _, err := x.Search(search.Query{Words: asked, Kinds: []string{"swatch"}})
		require.NoError(t, err)
		var names []string
		for _, h := range hits {
			names = append(names, h.Name)
		}
		require.ElementsMatch(t, want, names, asked)
	}
	hits, _, err := x.Search(search.Query{Words: "hoptoa"})
	require.NoError(t, err)
	require.Len(t, hits, 1, "what a note holds is no slip: no hoptoad is guessed at")
}
