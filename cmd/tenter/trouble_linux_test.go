package main

import (
	"bytes"
	"fmt"
	"image/png"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// refused runs the program where it cannot do its work, and gives what it said and its code.
func (h household) refused(c *exec.Cmd) (said string, code int) {
	h.t.Helper()
	var heard strings.Builder
	if c.Stdout == nil {
		c.Stdout = &heard
	}
	c.Stderr = &heard
	var exit *exec.ExitError
	require.ErrorAs(h.t, c.Run(), &exit, "%v: %s", c.Args, &heard)
	return heard.String(), exit.ExitCode()
}

func TestAnAnswerThatIsNotWrittenIsNoSuccess(t *testing.T) {
	h := household{t, t.TempDir()}
	for _, args := range [][]string{{"list", "cloths"}, {"check", "denim", "--piece", "cowl"}, {"check", "denim", "--piece", "cowl", "--json"}} {
		full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
		require.NoError(t, err)
		defer full.Close()
		c := h.command(args...)
		c.Stdout = full
		said, code := h.refused(c)
		assert.Equal(t, exitOther, code, args)
		assert.Contains(t, strings.Join(strings.Fields(said), " "), "could not be written whole", args)
	}
}

// No command says that it did what a full disk kept it from, nor sends anyone to a flag
// that there is not; what was recorded before is all there.
func TestFullDiskUnderEveryCommandThatWrites(t *testing.T) {
	small := t.TempDir()
	if err := syscall.Mount("tmpfs", small, "tmpfs", 0, "size=1m"); err != nil {
		t.Skipf("no small disk can be mounted here: %v", err)
	}
	t.Cleanup(func() { require.NoError(t, syscall.Unmount(small, syscall.MNT_DETACH)) })
	h := household{t, t.TempDir()}
	at := func(name string) string { return filepath.Join(small, name) }
	h.run("swatch", "add", "red", "--store", at("tenter.db"), "--new-store")
	var list strings.Builder
	list.WriteString("name,notes\n")
	for i := range 20_000 {
		fmt.Fprintf(&list, "remnant %d,from the attic\n", i)
	}
	rows := filepath.Join(h.dir, "rows.csv")
	require.NoError(t, os.WriteFile(rows, []byte(list.String()), 0o600))

	full := func(args ...string) {
		said, code := h.refused(h.command(args...))
		assert.Equal(t, exitOther, code, "%v: %s", args, said)
		assert.Contains(t, strings.Join(strings.Fields(said), " "), "the disk is full", args)
		assert.NotContains(t, said, "--out", args)
	}
	full("swatch", "import", rows, "--store", at("tenter.db"))
	require.Error(t, os.WriteFile(at("filler"), make([]byte, 2<<20), 0o600)) // takes all there is
	full("swatch", "add", "blue", "--store", at("tenter.db"))
	full("note", "add", "denim", "wears shiny", "--store", at("tenter.db"))
	full("undo", "--store", at("tenter.db"))
	full("swatch", "add", "blue", "--store", at("another.db"), "--new-store")
	full("card", "cowl", "--shell", "denim", "--out", at("card.html"))
	h.run("swatch", "add", "elsewhere")
	full("swatch", "export", at("out.csv"))
	full("store", "backup", at("copy.db"))

	require.NoError(t, os.Remove(at("filler")))
	assert.Equal(t, "red\n", h.run("swatch", "list", "--store", at("tenter.db")))
	assert.Contains(t, h.run("store", "check", "--store", at("tenter.db")), "sound")
	for _, left := range []string{"card.html", "out.csv", "copy.db"} {
		assert.NoFileExists(t, at(left))
	}
}

// A list that is still being read when it is interrupted changes nothing.
func TestInterruptedImport(t *testing.T) {
	h := household{t, t.TempDir()}
	h.run("swatch", "add", "red")
	list := filepath.Join(h.dir, "list.csv")
	require.NoError(t, syscall.Mkfifo(list, 0o600))
	c := h.command("swatch", "import", list)
	require.NoError(t, c.Start())
	in, err := os.OpenFile(list, os.O_WRONLY, 0) // once the program reads it
	require.NoError(t, err)
	defer in.Close()
	_, err = io.WriteString(in, "name\nblue\ngreen\n")
	require.NoError(t, err)
	require.NoError(t, c.Process.Signal(os.Interrupt))
	require.Error(t, c.Wait())
	assert.Equal(t, "red\n", h.run("swatch", "list"))
	assert.Contains(t, h.run("store", "check"), "sound")
}

// A long computation ends at once when it is interrupted, and leaves no half picture: the
// first look, or none.
func TestInterruptedDrape(t *testing.T) {
	h := household{t, t.TempDir()}
	picture := filepath.Join(h.dir, "cloak.png")
	c := h.command("drape", "hooded-cloak", "--shell", "wool-flannel", "--output", picture)
	c.Env = append(c.Env, "XDG_CACHE_HOME="+h.dir) // nothing was computed before
	said, err := c.StderrPipe()
	require.NoError(t, err)
	require.NoError(t, c.Start())
	_, err = io.ReadFull(said, make([]byte, 1)) // it tells how far it is
	require.NoError(t, err)
	require.NoError(t, c.Process.Signal(os.Interrupt))
	_, err = io.ReadAll(said)
	require.NoError(t, err)
	var exit *exec.ExitError
	require.ErrorAs(t, c.Wait(), &exit)
	assert.Equal(t, exitStopped, exit.ExitCode())
	left, err := filepath.Glob(filepath.Join(h.dir, "cloak*"))
	require.NoError(t, err)
	for _, name := range left {
		assert.Equal(t, picture, name)
		b, err := os.ReadFile(name)
		require.NoError(t, err)
		_, err = png.Decode(bytes.NewReader(b))
		assert.NoError(t, err)
	}
}
