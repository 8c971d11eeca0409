package search_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/kb/search"
	"tenter/kb/search/searchtest"
)

var hostile = []string{
	"", " ", "\x00", "\x00\x01\x02\x1b", `"`, `""`, `"""`, `"a`, "(", "name:(", "[", "{a TO b}", "*", "?", "~", "^1e9", `\`, "+-", "a AND", "NOT", "felt~9", "/regex(/",
	"the", "the of and", "cloth", "fabric material", "'", "''", "’s", "-", "--", ";drop table", "<script>", "%00", "ﬀ", "İ", "\u202e", "\ufeff", "e\u0301", "\xff\xfe\xfd",
	strings.Repeat("a", 10000), strings.Repeat("a ", 5000), strings.Repeat(`"`, 10000), strings.Repeat("(", 10000), strings.Repeat("felt ", 2000), strings.Repeat("é", 9999), strings.Repeat("\u0301", 3000),
	strings.Repeat(`"wool felt" `, 800),
}

func inMemory(t *testing.T, own ...search.Doc) *search.Index {
	t.Helper()
	x, err := search.InMemory(search.Options{Docs: searchtest.Shelf, Own: search.List(own), Thesaurus: searchtest.Thesaurus})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, x.Close()) })
	return x
}

func TestHostileQueries(t *testing.T) {
	x := inMemory(t, search.Doc{Kind: "swatch", ID: "1", Name: "x"})
	for _, words := range hostile {
		for _, typing := range []bool{false, true} {
			hits, _, err := x.Search(search.Query{Words: words, Prefix: typing})
			require.NoError(t, err, "%.40q", words)
			require.LessOrEqual(t, len(hits), 20)
		}
	}
	hits, _, err := x.Search(search.Query{Words: "the of"})
	require.NoError(t, err)
	require.Empty(t, hits, "words that say nothing find nothing")
	for _, q := range []search.Query{{}, {Limit: -1}, {Words: "felt", Limit: 1 << 40}, {Words: "felt", MaxMass: -1}, {Words: "felt", Kinds: []string{"", "\x00"}}, {Words: "felt", Fibre: "\xff"}, {Words: "\x00", Kinds: []string{"cloth"}}} {
		_, _, err := x.Search(q)
		require.NoError(t, err, "%+v", q)
	}
}

func FuzzSearch(f *testing.F) {
	x, err := search.InMemory(search.Options{Docs: searchtest.Shelf, Thesaurus: searchtest.Thesaurus, Own: search.List([]search.Doc{{Kind: "swatch", ID: "1", Name: "grey felt"}})})
	require.NoError(f, err)
	f.Cleanup(func() { x.Close() })
	for _, h := range hostile {
		f.Add(h, false, 0.0)
	}
	f.Add("silk georgete", true, 60.0)
	f.Fuzz(func(t *testing.T, words string, typing bool, mass float64) {
		hits, facets, err := x.Search(search.Query{Words: words, Prefix: typing, MaxMass: mass})
		if err != nil {
			t.Fatal(err)
		}
		total := 0
		for _, n := range facets["kind"] {
			total += n
		}
		if total < len(hits) {
			t.Fatalf("%d hits, %d counted", len(hits), total)
		}
		for i, h := range hits {
			if h.Why == "" || h.ID == "" || (i > 0 && h.Score > hits[i-1].Score) {
				t.Fatalf("hit %d: %+v", i, h)
			}
		}
	})
}

// FuzzIndexed puts anything into an entry: it must be found by its own name.
func FuzzIndexed(f *testing.F) {
	for _, h := range hostile {
		f.Add(h, h)
	}
	f.Add("crêpe de chine", "soft")
	f.Fuzz(func(t *testing.T, name, text string) {
		x, err := search.InMemory(search.Options{Docs: func() []search.Doc {
			return []search.Doc{{Kind: "k", ID: "1", Name: name, Names: []string{text}, Text: text}}
		}})
		if err != nil {
			t.Fatal(err)
		}
		defer x.Close()
		hits, _, err := x.Search(search.Query{Words: name})
		if err != nil {
			t.Fatal(err)
		}
		if len(search.Fold(name)) > 0 && len(name) < 100 && len(hits) != 1 {
			t.Fatalf("%q is not found by its name", name)
		}
	})
}
