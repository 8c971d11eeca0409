package store

import (
	"bufio"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"
	"modernc.org/sqlite"

	"tenter/internal/testkit"
	"tenter/kb/record"
)

// The test's own program plays the other process: it is told what to do and
// where by its environment.
const (
	childDoes = "TENTER_STORE_TEST_DOES"
	childPath = "TENTER_STORE_TEST_PATH"
	childDies = "TENTER_STORE_TEST_DIES" // at which row
)

func TestMain(m *testing.M) {
	if does := os.Getenv(childDoes); does != "" {
		if n, err := strconv.Atoi(os.Getenv(childDies)); err == nil {
			dieAtRow(n)
		}
		if err := play(does, os.Getenv(childPath)); err != nil {
			fmt.Println("error:", err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// play is what the other process does.
func play(does, path string) error {
	switch does {
	case "readonly":
		return playReadOnly(path)
	case "create":
		s, err := Open(path)
		if err != nil {
			return err
		}
		return s.Close()
	}
	s, err := Open(path)
	if err != nil {
		return err
	}
	defer s.Close()
	switch does {
	case "hold": // until killed, or until the test that asked for it has ended
		tx, err := s.db.Begin()
		if err != nil {
			return err
		}
		fmt.Println("held")
		_, _ = io.Copy(io.Discard, os.Stdin)
		return tx.Rollback()
	case "add": // 300 notes
		for i := range 300 {
			if _, err := s.AddNote("cloth", fmt.Sprint(os.Getpid()), fmt.Sprint(i)); err != nil {
				return err
			}
		}
	case "edit": // one note after the other, without a gap, until killed
		for {
			notes, err := s.Notes("cloth", "count")
			if err != nil {
				return err
			}
			n, err := s.AddNote("cloth", "count", fmt.Sprint(len(notes)))
			if err != nil {
				return err
			}
			fmt.Printf("added:%d\n", len(notes))
			if err := s.EditNote(n.ID, fmt.Sprintf("%d!", len(notes))); err != nil {
				return err
			}
			fmt.Printf("edited:%d\n", len(notes))
			if len(notes)%7 == 6 {
				if _, err := s.Undo(); err != nil {
					return err
				}
				fmt.Printf("undone:%d\n", len(notes))
			}
		}
	case "import": // lists of 700, each taken back, until killed
		for {
			list := rows(700)
			for i := range list {
				list[i].Measured = []record.Measurement{{Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 100.0}}}}
			}
			if _, err := s.ImportSwatches(list, false); err != nil {
				return err
			}
			fmt.Println("imported")
			if _, err := s.Undo(); err != nil {
				return err
			}
			fmt.Println("undone")
		}
	case "backup":
		for i := 0; ; i++ {
			if err := s.Backup(filepath.Join(filepath.Dir(path), fmt.Sprintf("copy-%d-%d.db", os.Getpid(), i))); err != nil {
				return err
			}
			fmt.Println("copied")
		}
	case "restore":
		for {
			if _, err := s.Restore(filepath.Join(filepath.Dir(path), "good.db")); err != nil {
				return err
			}
			fmt.Println("restored")
		}
	}
	return nil
}

// dieAtRow kills this process when it is about to change its n-th row, or to
// commit: no other place of the work is as sure.
func dieAtRow(n int) {
	var left atomic.Int64
	left.Store(int64(n))
	step := func() {
		if left.Add(-1) == 0 {
			if p, err := os.FindProcess(os.Getpid()); err == nil {
				_ = p.Kill()
			}
			select {}
		}
	}
	sqlite.RegisterConnectionHook(func(c sqlite.ExecQuerierContext, _ string) error {
		h := c.(sqlite.HookRegisterer)
		h.RegisterPreUpdateHook(func(sqlite.SQLitePreUpdateData) { step() })
		h.RegisterCommitHook(func() int32 { step(); return 0 })
		return nil
	})
}

func command(does, path string) *exec.Cmd {
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), childDoes+"="+does, childPath+"="+path)
	return c
}

// hold starts another process and waits until it holds the store.
func hold(t *testing.T, path string) *exec.Cmd {
	t.Helper()
	c := command("hold", path)
	in, err := c.StdinPipe()
	require.NoError(t, err)
	out, err := c.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, c.Start())
	t.Cleanup(func() { _ = in.Close(); _ = c.Process.Kill(); _ = c.Wait() })
	line, err := bufio.NewReader(out).ReadString('\n')
	require.NoError(t, err, "the other process ended before it was at work")
	require.Equal(t, "held\n", line)
	return c
}

func TestProcessesMakeOneStore(t *testing.T) {
	rounds := 10
	if testing.Short() {
		rounds = 2
	}
	for range rounds {
		p := filepath.Join(t.TempDir(), "new", "store.db")
		var cs []*exec.Cmd
		for range 4 {
			c := command("create", p)
			require.NoError(t, c.Start())
			cs = append(cs, c)
		}
		for _, c := range cs {
			require.NoError(t, c.Wait())
		}
		s := opened(t, p)
		r, err := s.Check()
		require.NoError(t, err)
		require.Empty(t, r.Problems)
		require.NoError(t, s.Close())
		es, err := os.ReadDir(filepath.Dir(p))
		require.NoError(t, err)
		require.Len(t, es, 1, "nothing is left beside it")
	}
}

func TestTwoProcessesWriteAtOnce(t *testing.T) {
	p := filepath.Join(t.TempDir(), "store.db")
	s := opened(t, p)
	a, b := command("add", p), command("add", p)
	require.NoError(t, a.Start())
	require.NoError(t, b.Start())
	for i := range 100 {
		_, err := s.AddNote("cloth", "mine", fmt.Sprint(i))
		require.NoError(t, err)
	}
	require.NoError(t, a.Wait())
	require.NoError(t, b.Wait())
	for subject, want := range map[string]int{"mine": 100, fmt.Sprint(a.Process.Pid): 300, fmt.Sprint(b.Process.Pid): 300} {
		notes, err := s.Notes("cloth", subject)
		require.NoError(t, err)
		require.Len(t, notes, want, "none was lost")
		for i, n := range notes {
			require.Equal(t, fmt.Sprint(i), n.Text)
		}
	}
	h, err := s.History(0)
	require.NoError(t, err)
	require.Len(t, h, 700)
}

// killedAtRow starts another process that dies by its own hand when it is about
// to change its n-th row, or to commit. It returns what the process said before.
func killedAtRow(t *testing.T, does, path string, n int) []string {
	t.Helper()
	c := command(does, path)
	c.Env = append(c.Env, fmt.Sprintf("%s=%d", childDies, n))
	out, err := c.Output()
	require.Error(t, err, "it was killed, it did not end")
	require.NotContains(t, string(out), "error:")
	return strings.Fields(string(out))
}

// killedAfterWriting starts another process, kills it after it has written so
// many bytes, and returns what the process said before.
func killedAfterWriting(t *testing.T, does, path string, bytes int64) []string {
	t.Helper()
	c := command(does, path)
	var out strings.Builder
	c.Stdout = &out
	require.False(t, testkit.KillAfterWriting(t, c, filepath.Dir(path), bytes), "the other process ended by itself: %s", &out)
	return strings.Fields(out.String())
}

// kills is how often each work is killed.
func kills() int {
	if testing.Short() {
		return 3
	}
	return 12
}

// sound opens the store and demands that nothing in it is broken.
func sound(t *testing.T, path string) (*Store, Report) {
	t.Helper()
	s, err := Open(path)
	require.NoError(t, err)
	r, err := s.Check()
	require.NoError(t, err)
	require.Empty(t, r.Problems)
	return s, r
}

// TestKilledAtARow kills a process when it is about to change a row or to
// commit: all that it said was done is there, and nothing of what it was doing.
func TestKilledAtARow(t *testing.T) {
	t.Run("edit", func(t *testing.T) {
		t.Parallel()
		r := rand.New(rand.NewPCG(7, 1))
		p := filepath.Join(t.TempDir(), "store.db")
		var done []string // what the processes said, the one after the other
		for range kills() {
			done = append(done, killedAtRow(t, "edit", p, 1+r.IntN(120))...)
			s, _ := sound(t, p)
			notes, err := s.Notes("", "")
			require.NoError(t, err)
			edited := map[string]bool{}
			for _, d := range done {
				if what, n, _ := strings.Cut(d, ":"); what != "added" {
					edited[n] = what == "edited"
				}
			}
			require.Len(t, notes, added(done))
			for i, n := range notes {
				want := strconv.Itoa(i)
				if edited[want] {
					want += "!"
				}
				require.Equal(t, want, n.Text)
			}
			require.NoError(t, s.Close())
		}
		require.NotEmpty(t, done)
	})
	t.Run("import", func(t *testing.T) {
		t.Parallel()
		r := rand.New(rand.NewPCG(7, 2))
		p := filepath.Join(t.TempDir(), "store.db")
		seen := map[int]bool{}
		for range kills() {
			done := killedAtRow(t, "import", p, 1+r.IntN(3500)) // an import and its undo change some 2,800 rows
			want := 0
			if len(done) > 0 && done[len(done)-1] == "imported" {
				want = 700
			}
			s, report := sound(t, p)
			require.Equal(t, want, report.Counts["swatch"])
			require.Equal(t, want, report.Counts["measurement"])
			if want > 0 {
				_, err := s.Undo()
				require.NoError(t, err)
			}
			require.NoError(t, s.Close())
			seen[want] = true
		}
		require.Len(t, seen, 2, "some kills come in an import, some in its undo")
	})
}

// TestKilledWhileItWrites kills a process after so many bytes, wherever in its
// work that is: the store is sound, what was said to be done is there, and
// nothing is there by half.
func TestKilledWhileItWrites(t *testing.T) {
	for i, does := range []string{"edit", "import", "backup", "restore"} {
		t.Run(does, func(t *testing.T) {
			t.Parallel()
			r := rand.New(rand.NewPCG(7, uint64(i)))
			dir := t.TempDir()
			p := filepath.Join(dir, "store.db")
			s, err := Open(p)
			require.NoError(t, err)
			base, upTo := 0, int64(2<<20)
			if does == "backup" || does == "restore" {
				_, err = s.ImportSwatches(rows(800), false)
				require.NoError(t, err)
				require.NoError(t, s.Backup(filepath.Join(dir, "good.db")))
				base = 800
				st, err := os.Stat(filepath.Join(dir, "good.db"))
				require.NoError(t, err)
				upTo = 8 * st.Size()
			}
			require.NoError(t, s.Close())
			said := 0
			for n := range kills() {
				bytes := 1 + r.Int64N(upTo)
				if n == 0 {
					bytes = upTo
				}
				done := killedAfterWriting(t, does, p, bytes)
				said += len(done)
				s, report := sound(t, p)
				switch does {
				case "edit":
					notes, err := s.Notes("", "")
					require.NoError(t, err)
					for i, n := range notes {
						require.Equal(t, strconv.Itoa(i), strings.TrimSuffix(n.Text, "!"), "each change is there or not, in order")
					}
					require.GreaterOrEqual(t, len(notes), added(done), "what was said is there")
				case "import":
					n := report.Counts["swatch"]
					require.True(t, n == 0 || n == 700, "%d of 700 rows", n)
					require.Equal(t, n, report.Counts["measurement"])
					if n == 700 {
						_, err := s.Undo()
						require.NoError(t, err)
					}
				default:
					require.Equal(t, base, report.Counts["swatch"])
				}
				require.NoError(t, s.Close())
				if copies := soundCopies(t, dir); base > 0 {
					require.GreaterOrEqual(t, copies, len(done), "what was said to be copied is there")
				}
			}
			require.Positive(t, said, "some of the work was done before the kills")
		})
	}
}

// added is how many notes there were when the process said so for the last time.
func added(done []string) (n int) {
	for _, d := range done {
		if number, ok := strings.CutPrefix(d, "added:"); ok {
			if i, err := strconv.Atoi(number); err == nil {
				n = i + 1
			}
		}
	}
	return n
}

// soundCopies opens every copy that has its final name, then removes it.
func soundCopies(t *testing.T, dir string) int {
	t.Helper()
	copies, err := filepath.Glob(filepath.Join(dir, "copy-*.db"))
	require.NoError(t, err)
	aside, err := filepath.Glob(filepath.Join(dir, "backup", "*.db"))
	require.NoError(t, err)
	for _, c := range append(copies, aside...) {
		problems, err := examine(c)
		require.NoError(t, err)
		require.Empty(t, problems)
		v, err := identify(c)
		require.NoError(t, err)
		require.Equal(t, len(migrations), v)
		require.NoError(t, os.Remove(c))
		_ = os.Remove(c + "-wal")
		_ = os.Remove(c + "-shm")
	}
	return len(copies) + len(aside)
}
