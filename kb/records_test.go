package kb

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/kb/memory"
	"tenter/kb/record"
)

// Records that are kept elsewhere answer as those of memory do: what is not there is no
// error, and what is given out may be changed by whoever asked.
func TestRecordsAsAUserMeetsThem(t *testing.T) {
	var r Records = memory.New()
	_, there, err := r.FindSwatch("king's blue")
	require.NoError(t, err)
	require.False(t, there)
	w, err := r.AddSwatch(record.Swatch{Name: "King's  Blue"})
	require.NoError(t, err)
	got, there, err := r.FindSwatch("king's blue")
	require.NoError(t, err)
	require.True(t, there)
	got.Name = "changed"
	again, _, err := r.FindSwatch("KING'S BLUE")
	require.NoError(t, err)
	require.Equal(t, w.Name, again.Name)
	require.NoError(t, r.RemoveSwatch(w.ID))
	require.Error(t, r.RemoveSwatch(w.ID), "what is to be changed must be there")
	_, err = r.Undo()
	require.NoError(t, err)
	_, there, err = r.FindSwatch("king's blue")
	require.NoError(t, err)
	require.True(t, there, "undo brings it back")
	last, err := r.LastChange()
	require.NoError(t, err)
	require.Positive(t, last)
}
