package kb_test

import (
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/kb"
	"tenter/kb/record"
	"tenter/kb/search"
	"tenter/kb/store"
)

// What is left in the store is found as what is read from it whole: by names, with
// odd signs, with slips, by some of the words, under filters.
func TestKeptRecordsAreFoundAsReadOnes(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 11))
	pick := func(of ...string) string { return of[r.IntN(len(of))] }
	s, err := store.Open(filepath.Join(t.TempDir(), "s.db"))
	require.NoError(t, err)
	defer s.Close()
	var rows []record.SwatchRow
	for i := range 300 {
		w := record.Swatch{Name: fmt.Sprintf("%s %s %d", pick("King's", "widow-grey", "Crêpe", "tee-shirt", "O'Neil’s", "remnant", "broad-cloth"), pick("blue", "lining", "velveteen", "georgette"), i),
			SoldAs: pick("denim", "wool-serge", "cotton-sateen", "silk-georgette", ""), Colour: pick("red", "grey", "teal", "café"), KeptWhere: pick("box 4", "under the stage", ""), Notes: pick("", "two holes", "smells of sheep; don't wash", "for the prompter")}
		if r.IntN(3) == 0 {
			w.Content = []record.Part{{Fibre: pick("wool", "silk"), Percent: 100}}
		}
		row := record.SwatchRow{Line: i + 1, Swatch: w}
		if r.IntN(2) == 0 {
			row.Measured = []record.Measurement{{Kind: "mass", Readings: []record.Reading{{record.ReadingMass: float64(60 + r.IntN(300))}}}}
		}
		rows = append(rows, row)
	}
	_, err = s.ImportSwatches(rows, false)
	require.NoError(t, err)
	_, err = s.AddNote("cloth", "wool-serge", "the prompter's velveteen wears shiny")
	require.NoError(t, err)

	kept, err := kb.Own(s)
	require.NoError(t, err)
	var all []record.Entry
	for e, err := range s.SwatchEntries(search.Needs{}, true) {
		require.NoError(t, err)
		all = append(all, e)
	}
	require.Len(t, all, len(rows))
	var notes []*search.Doc
	for d, err := range kept.Holding(&search.Query{Kinds: []string{"note"}}, search.Needs{}) {
		require.NoError(t, err)
		notes = append(notes, d)
	}
	require.Equal(t, []*search.Doc{{Kind: "note", ID: "1", Name: "note on wool-serge", Text: "the prompter's velveteen wears shiny"}}, notes)
	docs, err := kb.OwnDocs(s)
	require.NoError(t, err)
	require.Len(t, docs, len(all)+1)
	finder := func(own search.Own) *search.Index {
		x, err := search.InMemory(search.Options{Own: own, Thesaurus: map[string][]string{"jersey": {"tee shirt"}, "thick wool": {"serge"}}})
		require.NoError(t, err)
		return x
	}
	inStore, read := finder(kept), finder(search.List(docs))

	asked := []string{"kings blue", "king's", "o'neil", "oneil georgette", "teeshirt", "broadcloth", "crepe georgette", "café", "jersey red", "thick wool", "prompter", "velveten", "gorgette teal", "georgtete", "remannt velveteen",
		"sheep", "dont wash", `"box 4"`, "red purple stage", "widow zebra", "silk", "xq", "42", "widow-grey lining 42", "lead piping"}
	for _, q := range asked {
		for _, query := range []search.Query{{Words: q, Limit: 100}, {Words: q, Limit: 5, Prefix: true}, {Words: q, Limit: 100, Fibre: "silk"}, {Words: q, Limit: 100, MinMass: 100, MaxMass: 200}, {Words: q, Kinds: []string{"note"}}} {
			want, wantFacets, err := read.Search(query)
			require.NoError(t, err)
			got, gotFacets, err := inStore.Search(query)
			require.NoError(t, err)
			require.Equal(t, saidOf(want), saidOf(got), "%+v", query)
			require.Equal(t, wantFacets, gotFacets, "%+v", query)
		}
	}
	found, _, err := inStore.Search(search.Query{Words: "velveten prompter", Limit: 20})
	require.NoError(t, err)
	require.NotEmpty(t, found)
	require.Contains(t, found[0].Why, "spelling near")
}

func saidOf(hits []search.Hit) string {
	var out []string
	for _, h := range hits {
		out = append(out, fmt.Sprintf("%s/%s %v %s", h.Kind, h.ID, h.Score, h.Why))
	}
	return strings.Join(out, "\n")
}

// TestOfManyTheNamedComeFirst: where more records hold a word than are counted, those
// that are called by it are among them, however late they were recorded, and the count
// says that there are more.
func TestOfManyTheNamedComeFirst(t *testing.T) {
	s, err := store.Open(filepath.Join(t.TempDir(), "store.db"))
	require.NoError(t, err)
	defer s.Close()
	var rows []record.SwatchRow
	for i := range 1500 {
		rows = append(rows, record.SwatchRow{Line: i + 1, Swatch: record.Swatch{Name: fmt.Sprintf("remnant %04d", i), Notes: "from the attic"}})
	}
	for i, name := range []string{"attic velvet", "crêpe of the attic"} {
		rows = append(rows, record.SwatchRow{Line: 1501 + i, Swatch: record.Swatch{Name: name}})
	}
	_, err = s.ImportSwatches(rows, false)
	require.NoError(t, err)
	own, err := kb.Own(s)
	require.NoError(t, err)
	x, err := search.InMemory(search.Options{Own: own})
	require.NoError(t, err)
	hits, facets, err := x.Search(search.Query{Words: "attic", Limit: 3})
	require.NoError(t, err)
	require.Equal(t, []string{"attic velvet", "crêpe of the attic"}, []string{hits[0].Name, hits[1].Name})
	require.Equal(t, 1000, facets["kind"]["swatch"])
	require.Equal(t, 1000, facets[search.Over]["swatch"])
	_, facets, err = x.Search(search.Query{Words: "velvet"})
	require.NoError(t, err)
	require.Empty(t, facets[search.Over], "one is not over one")

	// Many notes hide no swatch.
	for i := range 1001 {
		_, err := s.AddNote("cloth", "velvet", fmt.Sprintf("seen in the attic, %d", i))
		require.NoError(t, err)
	}
	own, err = kb.Own(s)
	require.NoError(t, err)
	x, err = search.InMemory(search.Options{Own: own})
	require.NoError(t, err)
	_, facets, err = x.Search(search.Query{Words: "attic", Limit: 3})
	require.NoError(t, err)
	require.Equal(t, map[string]int{"note": 1000, "swatch": 1000}, facets["kind"])
	require.Equal(t, map[string]int{"note": 1000, "swatch": 1000}, facets[search.Over])
}
