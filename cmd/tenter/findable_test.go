package main

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/kb/search"
)

// Whoever types the very name of a thing sees it among the first three, no kind
// asked for; things of the same name and rules, whose names are sentences, do
// not count.
func TestNamesStandOnTop(t *testing.T) {
	if testing.Short() {
		t.Skip("looks for every name there is")
	}
	x := searched(t)
	asked := 0
	for _, d := range x.docs {
		if d.Kind == "rule" {
			continue
		}
		asked++
		ans, err := x.ask(search.Query{Words: d.Name, Limit: 12, NoFacets: true})
		require.NoError(t, err)
		before, found := 0, false
		for _, h := range ans.Hits {
			if h.Kind == d.Kind && h.ID == d.ID {
				found = true
				break
			}
			if fibres.FoldName(h.Name) != fibres.FoldName(d.Name) {
				before++
			}
		}
		if !found || before >= 3 {
			var got []string
			for _, h := range ans.Hits[:min(5, len(ans.Hits))] {
				got = append(got, h.Kind+"/"+h.ID)
			}
			t.Errorf("%s %s: %q finds %v", d.Kind, d.ID, d.Name, got)
		}
	}
	require.Greater(t, asked, 900)
}
