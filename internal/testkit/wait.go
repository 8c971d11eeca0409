package testkit

import (
	"context"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// No test depends on the clock: it waits for an event, and only the time limit
// of the whole run (go test -timeout) ends a wait for one that never comes.

// pause lies between two looks at something that gives no sign of its own. What
// a test finds does not depend on it.
const pause = 2 * time.Millisecond

// grace is left of the time of the run to say what was waited for in vain.
const grace = 10 * time.Second

// Context ends with the test, or shortly before the time of the whole run does.
func Context(t testing.TB) context.Context {
	t.Helper()
	if r, ok := t.(interface{ Deadline() (time.Time, bool) }); ok {
		if end, limited := r.Deadline(); limited {
			ctx, stop := context.WithDeadline(t.Context(), end.Add(-grace))
			t.Cleanup(stop)
			return ctx
		}
	}
	return t.Context()
}

// Until waits until something has come about.
func Until(t testing.TB, what string, comeAbout func() bool) {
	t.Helper()
	for ctx := Context(t); !comeAbout(); time.Sleep(pause) {
		require.NoError(t, ctx.Err(), "waited in vain: %s", what)
	}
}

// KillAfterWriting starts a program and kills it as soon as it has written so many
// bytes: in the midst of its work, whatever the machine's speed. Where the system does
// not count what a process writes, the growth of the files below a folder stands for
// it. It tells whether the program ended by itself before.
func KillAfterWriting(t testing.TB, c *exec.Cmd, dir string, bytes int64) (ended bool) {
	t.Helper()
	before := BytesBelow(dir)
	require.NoError(t, c.Start())
	end := make(chan error, 1)
	go func() { end <- c.Wait() }()
	for written(c.Process.Pid, dir, before) < bytes {
		select {
		case <-end:
			return true
		default:
			time.Sleep(pause / 20)
		}
	}
	_ = c.Process.Kill()
	return <-end == nil
}

// written is how many bytes a process has written.
func written(pid int, dir string, before int64) int64 {
	io, err := os.ReadFile(fmt.Sprintf("/proc/%d/io", pid))
	if err != nil {
		return BytesBelow(dir) - before
	}
	for line := range strings.Lines(string(io)) {
		if n, ok := strings.CutPrefix(line, "wchar: "); ok {
			v, _ := strconv.ParseInt(strings.TrimSpace(n), 10, 64)
			return v
		}
	}
	return BytesBelow(dir) - before
}

// BytesBelow adds up the files below a folder; those that vanish meanwhile
// count for nothing.
func BytesBelow(dir string) (sum int64) {
	_ = filepath.WalkDir(dir, func(_ string, e fs.DirEntry, err error) error {
		if err == nil && e.Type().IsRegular() {
			if st, err := e.Info(); err == nil {
				sum += st.Size()
			}
		}
		return nil
	})
	return sum
}
