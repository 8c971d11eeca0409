package kb

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/data"
	"tenter/kb/search"
)

// wardrobe is a small index: two linings, a seam, a rule, a term and a source
// that share words.
func wardrobe(t *testing.T) (*search.Index, *Thesaurus) {
	t.Helper()
	th, err := LoadThesaurus(data.FS)
	require.NoError(t, err)
	word := func(grades ...string) []string {
		var out []string
		for _, g := range grades {
			out = append(out, gradeWord(g))
		}
		return out
	}
	ix, err := search.InMemory(search.Options{Thesaurus: th.Means, Docs: func() []search.Doc {
		return []search.Doc{
			{Kind: "cloth", ID: "silk-pongee", Name: "silk pongee", Text: "lining of a coat", Fibres: []string{"silk"}, Mass: 60, Words: word("group lining", "fray at most none", "hand at most soft", "mass at most light")},
			{Kind: "cloth", ID: "twill-lining", Name: "twill lining", Text: "sleeves; frays, do not iron hot", Fibres: []string{"viscose"}, Mass: 95, Words: word("group lining", "mass at most light")},
			{Kind: "cloth", ID: "melton", Name: "melton", Names: []string{"bagged lining cloth"}, Text: "coat", Fibres: []string{"wool"}, Mass: 500},
			{Kind: "finish", ID: "bagged-lining", Name: "bagged lining", Text: "a coat lining turned through"},
			{Kind: "rule", ID: "wool-coat", Name: "Give a wool coat a lining that slides.", Text: "It does not fray at the cuff."},
			{Kind: "term", ID: "lining-term", Name: "lining", Text: "the inner layer"},
			{Kind: "source", ID: "coats-1907", Name: "The lining of a wool coat that does not fray", Text: "1907"},
		}
	}})
	require.NoError(t, err)
	t.Cleanup(func() { _ = ix.Close() })
	return ix, th
}

func TestAsk(t *testing.T) {
	ix, th := wardrobe(t)
	for _, c := range []struct {
		name  string
		q     search.Query
		first string
		why   string
	}{
		{"the very name stands first, whatever kind the wording asks for", search.Query{Words: "bagged lining"}, "finish/bagged-lining", "name"},
		{"what is sought stands before what holds all the words", search.Query{Words: "lining for a wool coat"}, "cloth/silk-pongee", "group lining, text"},
		{"not fraying is looked up, not read out of the text", search.Query{Words: "fabric that does not fray"}, "cloth/silk-pongee", `"not fray" taken as "fray at most none"`},
		{"a graded word means cloth", search.Query{Words: "floaty"}, "cloth/silk-pongee", `"floaty" taken as "hand at most soft and mass at most light"`},
		{"a kind that is filtered for is not put before itself", search.Query{Words: "lining", Kinds: []string{"source"}}, "source/coats-1907", "name"},
		{"a filter alone makes a list", search.Query{Fibre: "wool"}, "cloth/melton", "listed"},
		{"words that say nothing are tried as they stand", search.Query{Words: "does"}, "", ""},
		{"quotes are taken as they stand", search.Query{Words: `"does not fray"`}, "rule/wool-coat", "text"},
	} {
		t.Run(c.name, func(t *testing.T) {
			a, err := Ask(ix, th, c.q)
			require.NoError(t, err)
			if c.first == "" {
				return
			}
			require.NotEmpty(t, a.Hits)
			require.Equal(t, c.first, a.Hits[0].Kind+"/"+a.Hits[0].ID)
			require.Equal(t, c.why, a.Hits[0].Why)
		})
	}
}

func TestAskOrdersByScoreEachOnce(t *testing.T) {
	ix, th := wardrobe(t)
	for _, words := range []string{"lining", "lining for a wool coat", "fabric", "coat", "floaty lining", "how to line a coat", "wool that frays"} {
		for _, limit := range []int{1, 2, 100} {
			a, err := Ask(ix, th, search.Query{Words: words, Limit: limit})
			require.NoError(t, err)
			require.LessOrEqual(t, len(a.Hits), limit)
			seen := map[string]bool{}
			for i, h := range a.Hits {
				require.False(t, seen[h.Kind+h.ID], "%q: %s twice", words, h.ID)
				seen[h.Kind+h.ID] = true
				require.NotContains(t, h.Why, "atmost", "a made-up word is shown")
				if i > 0 {
					require.LessOrEqual(t, h.Score, a.Hits[i-1].Score, words)
				}
			}
		}
	}
}

func TestAskCountsWhatEitherWayFinds(t *testing.T) {
	ix, th := wardrobe(t)
	a, err := Ask(ix, th, search.Query{Words: "lining for a wool coat"})
	require.NoError(t, err)
	for _, h := range a.Hits {
		require.NotZero(t, a.Facets["kind"][h.Kind], "%s %s is shown, not counted", h.Kind, h.ID)
	}
	require.Equal(t, 1, a.Facets["kind"]["rule"])
}

// Nothing that may be typed makes it fail.
func FuzzAsk(f *testing.F) {
	th, err := LoadThesaurus(data.FS)
	require.NoError(f, err)
	ix, err := search.InMemory(search.Options{Thesaurus: th.Means, Docs: func() []search.Doc {
		return []search.Doc{{Kind: "cloth", ID: "silk-pongee", Name: "silk pongee", Text: "lining of a coat"}}
	}})
	require.NoError(f, err)
	f.Cleanup(func() { _ = ix.Close() })
	for _, s := range []string{"", "lining", "not not not", "does n't", "for", "lining for", "\"", "see through\x00", "crease-resistant-free", "é ü 丝绸", "-", "fabric fabric"} {
		f.Add(s, false)
	}
	f.Fuzz(func(t *testing.T, words string, prefix bool) {
		a, err := Ask(ix, th, search.Query{Words: words, Prefix: prefix})
		require.NoError(t, err)
		require.LessOrEqual(t, len(a.Hits), 1)
	})
}

// Words of what goes wrong are known in every form; denied ones are no trouble.
func TestWordsOfTrouble(t *testing.T) {
	for words, want := range map[string]bool{"hem ripples": true, "my lining puckers": true, "puckering seam": true, "cotton lawn": false, "not puckering": false, "stain resistant": false, "": false} {
		require.Equal(t, want, troubled(strings.Fields(words)), words)
	}
}
