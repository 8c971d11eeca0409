package kb_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/kb"
	"tenter/kb/memory"
)

// What is kept on the shortlist is kept under a key; whoever takes it back reads what it was.
func TestChangesOfTheShortlistAreSaidInAMakersWords(t *testing.T) {
	m := memory.New()
	key := "shortlist/2026-11-29"
	require.NoError(t, m.SetSetting(key, map[string]string{"cloth": "wool-challis"}))
	require.NoError(t, m.SetSetting(key, map[string]string{"cloth": "brocade"}))
	require.NoError(t, m.RemoveSetting(key))
	require.NoError(t, m.SetSetting("learn", false))
	log, err := m.History(0)
	require.NoError(t, err)
	var said []string
	for _, c := range log {
		said = append(said, kb.ChangeText(c.What))
	}
	require.Equal(t, []string{"a cloth taken off the shortlist", "a cloth of the shortlist changed", "a cloth kept on the shortlist"}, said[1:])
	require.Equal(t, log[0].What, said[0], "another setting stays as it is")
}
