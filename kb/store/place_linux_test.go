package store

import (
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
)

// nobody is a user who owns nothing.
const nobody = 65534

// playReadOnly is what a process without any right to write sees.
func playReadOnly(path string) error {
	s, there, err := OpenIfExists(path)
	if err != nil || !there {
		return fmt.Errorf("open for reading: %v, %w", there, err)
	}
	notes, err := s.Notes("", "")
	if err != nil || len(notes) != 1 || notes[0].Text != "to be read" {
		return fmt.Errorf("read: %v, %w", notes, err)
	}
	if !s.ReadOnly() {
		return errors.New("the store does not know that it can only be read")
	}
	_, addErr := s.AddNote("cloth", "a", "b")
	_, undoErr := s.Undo()
	_, restoreErr := s.Restore(path)
	_, newErr := Open(filepath.Join(filepath.Dir(path), "new.db"))
	_, folderErr := Open(filepath.Join(filepath.Dir(path), "new", "new.db"))
	for what, err := range map[string]error{"add": addErr, "undo": undoErr, "restore": restoreErr, "new": newErr, "folder": folderErr} {
		var f *fault.Fault
		if !errors.As(err, &f) || !strings.Contains(f.What, "cannot be written") || f.Where == "" {
			return fmt.Errorf("%s gave %v", what, err)
		}
	}
	return s.Close()
}

func TestReadOnlyPlaces(t *testing.T) {
	if os.Getuid() != 0 {
		t.Skip("needs root to become a user without rights")
	}
	dir, err := os.MkdirTemp("", "store")
	require.NoError(t, err)
	t.Cleanup(func() { os.RemoveAll(dir) })
	require.NoError(t, os.Chmod(dir, 0o755))
	program := filepath.Join(dir, "program")
	b, err := os.ReadFile(os.Args[0])
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(program, b, 0o755))
	run := func(p string) {
		c := exec.Command(program)
		c.Dir = "/"
		c.Env = append(os.Environ(), childDoes+"=readonly", childPath+"="+p)
		c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
		out, err := c.CombinedOutput()
		require.NoError(t, err, string(out))
	}
	p := filepath.Join(dir, "own", "store.db")
	s := opened(t, p)
	_, err = s.AddNote("cloth", "a", "to be read")
	require.NoError(t, err)
	require.NoError(t, os.Chmod(filepath.Dir(p), 0o755))
	for _, end := range []string{"", "-wal", "-shm"} {
		require.NoError(t, os.Chmod(p+end, 0o644))
	}
	t.Run("while another has it open", func(t *testing.T) { run(p) })
	require.NoError(t, s.Close())
	t.Run("alone", func(t *testing.T) { run(p) })
}

func TestDiskFull(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=3m"); err != nil {
		t.Skipf("no small disk can be mounted here: %v", err)
	}
	t.Cleanup(func() { require.NoError(t, syscall.Unmount(dir, syscall.MNT_DETACH)) })
	p := filepath.Join(dir, "store.db")
	s := opened(t, p)
	_, err := s.AddNote("cloth", "a", "from before")
	require.NoError(t, err)
	before := dump(t, s.db)

	list := rows(20000)
	done, err := s.ImportSwatches(list, false)
	isFault(t, err, fault.Internal, "disk is full", "nothing was changed")
	require.Zero(t, done.Added)
	require.Equal(t, before, dump(t, s.db))

	filler := filepath.Join(dir, "filler")
	_ = os.WriteFile(filler, make([]byte, 4<<20), 0o600) // takes all there is
	to := filepath.Join(dir, "copy.db")
	require.Error(t, s.Backup(to))
	_, err = os.Stat(to)
	require.ErrorIs(t, err, os.ErrNotExist, "no half copy")
	left, err := filepath.Glob(filepath.Join(dir, temporary+"*"))
	require.NoError(t, err)
	require.Empty(t, left)
	_, err = Open(filepath.Join(dir, "another.db"))
	isFault(t, err, fault.Internal, "disk is full")

	require.NoError(t, os.Remove(filler))
	_, err = s.AddNote("cloth", "b", "room again")
	require.NoError(t, err)
	require.NoError(t, s.Close())
	s = opened(t, p)
	r, err := s.Check()
	require.NoError(t, err)
	require.Empty(t, r.Problems)
	require.Equal(t, 2, r.Counts["note"])
}
