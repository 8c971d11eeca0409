package store

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/kb/record"
)

// A page holds the store open while other commands record; then the machine is cut
// off and the log that is left is damaged. What was acknowledged is in the file.
func TestAcknowledgedRecordsSurviveADamagedLog(t *testing.T) {
	dir := t.TempDir()
	at := filepath.Join(dir, "tenter.db")
	page, err := Open(at)
	require.NoError(t, err)
	t.Cleanup(func() { _ = page.Close() })
	want := []string{"a", "b", "c", "d", "e"}
	for _, n := range want {
		s, err := Open(at)
		require.NoError(t, err)
		_, err = s.AddSwatch(record.Swatch{Name: n})
		require.NoError(t, err)
		require.NoError(t, s.Close())
	}
	_, err = page.Undo()
	require.NoError(t, err)
	want = want[:4]
	for damaged := range 8 { // wherever the bit is
		left := filepath.Join(t.TempDir(), "tenter.db")
		for _, end := range []string{"", "-wal"} {
			raw, err := os.ReadFile(at + end)
			require.NoError(t, err)
			if end != "" && len(raw) > 0 {
				raw[len(raw)*damaged/8] ^= 1
			}
			require.NoError(t, os.WriteFile(left+end, raw, 0o600))
		}
		s, err := Open(left)
		require.NoError(t, err)
		names, err := s.SwatchNames()
		require.NoError(t, err)
		require.Equal(t, want, names)
		require.NoError(t, s.Close())
	}
}

func TestStoreBehindALinkIsOneStore(t *testing.T) {
	dir := t.TempDir()
	real, link := filepath.Join(dir, "real.db"), filepath.Join(dir, "link.db")
	s, err := Open(real)
	require.NoError(t, err)
	_, err = s.AddSwatch(record.Swatch{Name: "old"})
	require.NoError(t, err)
	backup := filepath.Join(dir, "copy.db")
	require.NoError(t, s.Backup(backup))
	_, err = s.AddSwatch(record.Swatch{Name: "new"})
	require.NoError(t, err)
	require.NoError(t, s.Close())
	require.NoError(t, os.Symlink(real, link))

	require.NoError(t, os.WriteFile(real, []byte(strings.Repeat("x", 5000)), 0o600)) // so that the file is put in its place
	_, err = RestoreOver(link, backup, time.Now())
	require.NoError(t, err)
	st, err := os.Lstat(link)
	require.NoError(t, err)
	require.NotZero(t, st.Mode()&os.ModeSymlink, "the link is still one")
	s, err = Open(real)
	require.NoError(t, err)
	names, err := s.SwatchNames()
	require.NoError(t, err)
	require.Equal(t, []string{"old"}, names)
	require.NoError(t, s.Close())

	dangling := filepath.Join(dir, "dangling.db")
	require.NoError(t, os.Symlink(filepath.Join(dir, "nowhere.db"), dangling))
	_, err = Open(dangling)
	require.ErrorContains(t, err, "link to a file that is not there")
	_, _, err = OpenIfExists(dangling)
	require.ErrorContains(t, err, "link to a file that is not there")
	_, err = os.Stat(filepath.Join(dir, "nowhere.db"))
	require.ErrorIs(t, err, os.ErrNotExist)
}

func TestRestoreOfWhatIsNoBackup(t *testing.T) {
	dir := t.TempDir()
	letter := filepath.Join(dir, "letter.txt")
	require.NoError(t, os.WriteFile(letter, []byte(strings.Repeat("Dear aunt, ", 200)), 0o600))
	_, err := RestoreOver(filepath.Join(dir, "tenter.db"), letter, time.Now())
	require.ErrorContains(t, err, "this is not a backup")
	require.NotContains(t, err.Error(), "move the file away", "it is somebody's letter")
}

func TestNameOfAFileThatIsTooLong(t *testing.T) {
	_, _, err := OpenIfExists(filepath.Join(t.TempDir(), strings.Repeat("n", 300)))
	require.ErrorContains(t, err, "the name of the file is too long")
	require.Less(t, len(err.Error()), 400)
}
