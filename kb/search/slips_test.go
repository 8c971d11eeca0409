package search

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestMisspellingIsFoundAndToldAsOne(t *testing.T) {
	x, err := Open(Options{Docs: func() []Doc {
		return []Doc{{Kind: "cloth", ID: "wool-gabardine", Name: "wool gabardine", Names: []string{"worsted gabardine"}, Slips: []string{"gaberdeen"}}}
	}})
	require.NoError(t, err)
	defer x.Close()
	for _, c := range []struct{ words, why string }{
		{"gaberdeen", `usual misspelling "gaberdeen"`},
		{"worsted gabardine", `synonym "worsted gabardine"`},
		{"gaberd", `beginning of usual misspelling "gaberdeen"`},
	} {
		t.Run(c.words, func(t *testing.T) {
			hits, _, err := x.Search(Query{Words: c.words})
			require.NoError(t, err)
			require.Len(t, hits, 1)
			require.Equal(t, c.why, hits[0].Why)
		})
	}
}
