package index

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tenter/kb/search"
	"tenter/kb/search/searchtest"
)

// Sets that are joined hold what bleve finds by its own way, one by one, in an index of
// several parts as in one of a single part.
func TestSetsAreWhatBleveFinds(t *testing.T) {
	for _, entries := range []int{300, oneBatch + 700} {
		t.Run(fmt.Sprint(entries), func(t *testing.T) {
			docs, _ := searchtest.Invented(entries)
			ix, err := inMemory(docs)
			require.NoError(t, err)
			ref := &reference{ix: ix, entries: entries, spellings: newSpellings()}
			t.Cleanup(func() { require.NoError(t, ref.Close()) })
			now, err := ref.read()
			require.NoError(t, err)
			defer now.Close()
			if parts := len(now.Segments()); entries > oneBatch {
				require.Greater(t, parts, 1)
			}
			found := 0
			for i := range 16 {
				for _, q := range questions(docs, i) {
					bleves, err := now.searched(filtered(&q, ref.way(q.Ask, q.Ways[0])))
					require.NoError(t, err)
					ours, err := now.set(filtered(&q, ref.way(q.Ask, q.Ways[0])))
					require.NoError(t, err)
					want, got := bleves.ToArray(), ours.ToArray()
					require.Equal(t, want, got, "%v of %q, %+v, without %v", q.Ways, q.Ask.Words, *q.Query, q.Hidden)
					found += len(got)
				}
			}
			assert.Greater(t, found, 8*entries, "most questions found something")
		})
	}
}

// questions are of every way and filter, of words that stand together in an entry.
func questions(docs []search.Doc, i int) (qs []search.Question) {
	d := docs[i*37%len(docs)]
	text := search.Fold(d.Text)
	at := i % (len(text) - 3)
	words := text[at : at+1+i%3]
	misspelt := append([]string{words[0] + "x"}, words[1:]...)
	filters := []search.Query{{}, {Kinds: []string{d.Kind}}, {MinMass: 100, MaxMass: 200}}
	if len(d.Fibres) > 0 {
		filters = append(filters, search.Query{Fibre: d.Fibres[0]})
	}
	for _, way := range []search.Way{{How: search.Listed}, {How: search.Named}, {How: search.Written}, {How: search.Replaced},
		{How: search.Guess}, {How: search.Some, AtLeast: 1}, {How: search.Some, AtLeast: min(2, len(words))}, {How: search.SomeNear, AtLeast: min(2, len(words))}} {
		ask := &search.Ask{Words: words}
		if way.How == search.Guess || way.How == search.SomeNear {
			ask = &search.Ask{Words: misspelt, Doubtful: make([]bool, len(words))}
			ask.Doubtful[0] = true
		}
		if way.How == search.Written && i%2 == 0 {
			ask.Phrases, ask.PhraseStems = [][]string{words}, [][]string{search.Stems(words)}
		}
		ask.Stems, ask.Key, ask.Lead = search.Stems(ask.Words), search.Key(ask.Words), search.Joined(ask.Words)
		q := search.Question{Ask: ask, Ways: []search.Way{way}, Query: &filters[i%len(filters)]}
		if i%4 == 0 {
			q.Hidden = []string{search.Address(d.Kind, d.ID)}
		}
		qs = append(qs, q)
	}
	return qs
}
