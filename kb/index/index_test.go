package index

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/kb/search"
	"tenter/kb/search/searchtest"
)

// What is kept on the disk is tried with the generations: it costs ten times the
// time.
func TestWithoutACache(t *testing.T) {
	searchtest.Run(t, func(o search.Options) (*search.Index, error) { return Open(Place{}, o) })
}

func opened(t *testing.T, own ...search.Doc) *search.Index {
	t.Helper()
	x, err := Open(Place{}, search.Options{Docs: searchtest.Shelf, Own: search.List(own), Thesaurus: searchtest.Thesaurus})
	require.NoError(t, err)
	t.Cleanup(func() { require.NoError(t, x.Close()) })
	return x
}
