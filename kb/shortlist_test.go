package kb

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/kb/memory"
)

func TestShortlist(t *testing.T) {
	r := memory.New()
	noon := time.Date(2026, 11, 28, 12, 0, 0, 0, time.UTC)
	for _, b := range []Bolt{{Query: "a", Name: "lawn", At: noon}, {Query: "b", Name: "voile", At: noon}, {Query: "c", Name: "batiste", At: noon}, {Query: "d", Name: "poplin", At: noon.Add(time.Minute)}} {
		require.NoError(t, PutBolt(r, b))
	}
	names := func() (out []string) {
		list, err := Shortlist(r)
		require.NoError(t, err)
		for _, b := range list {
			out = append(out, b.Name)
		}
		return out
	}
	require.Equal(t, []string{"poplin", "batiste", "voile", "lawn"}, names(), "the latest first, also of one second")
	list, err := Shortlist(r)
	require.NoError(t, err)
	require.NoError(t, PutBolt(r, Bolt{ID: list[2].ID, Query: "b", Name: "dearer voile", Price: "9/m", At: noon.Add(time.Hour)}))
	require.Equal(t, []string{"poplin", "batiste", "dearer voile", "lawn"}, names(), "a bolt with an ID takes the place of its own")
	require.NoError(t, RemoveBolt(r, list[1].ID))
	require.Equal(t, []string{"poplin", "dearer voile", "lawn"}, names())
	require.NoError(t, PutBolt(r, Bolt{Query: "e", Name: "again", At: noon}))
	require.Len(t, names(), 4, "a place that became free is taken by one")
}
