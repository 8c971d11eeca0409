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
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/kb/record"
)

// The test's own program plays the other process: it is told what to do and
// where by its environment.
const (
	childDoes = "TENTER_STORE_TEST_DOES"
	childPath = "TENTER_STORE_TEST_PATH"
)

func TestMain(m *testing.M) {
	if does := os.Getenv(childDoes); does != "" {
		if err := play(does, os.Getenv(childPath)); err != nil {
			fmt.Println(err)
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
	fmt.Println("ready")
	switch does {
	case "hold":
		tx, err := s.db.Begin()
		if err != nil {
			return err
		}
		fmt.Println("held")
		time.Sleep(time.Minute)
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
			if err := s.EditNote(n.ID, fmt.Sprintf("%d!", len(notes))); err != nil {
				return err
			}
			if len(notes)%7 == 6 {
				if _, err := s.Undo(); err != nil {
					return err
				}
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
			if _, err := s.Undo(); err != nil {
				return err
			}
		}
	case "backup":
		for i := 0; ; i++ {
			if err := s.Backup(filepath.Join(filepath.Dir(path), fmt.Sprintf("copy-%d-%d.db", os.Getpid(), i))); err != nil {
				return err
			}
		}
	case "restore":
		for {
			if _, err := s.Restore(filepath.Join(filepath.Dir(path), "good.db")); err != nil {
				return err
			}
		}
	}
	return nil
}

func command(does, path string) *exec.Cmd {
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), childDoes+"="+does, childPath+"="+path)
	return c
}

// begin starts another process and waits until it is at work.
func begin(t *testing.T, does, path string) *exec.Cmd {
	t.Helper()
	c := command(does, path)
	out, err := c.StdoutPipe()
	require.NoError(t, err)
	require.NoError(t, c.Start())
	t.Cleanup(func() { _ = c.Process.Kill(); _ = c.Wait() })
	want := "ready"
	if does == "hold" {
		want = "held"
	}
	sc := bufio.NewScanner(out)
	for sc.Scan() {
		if sc.Text() == want {
			go io.Copy(io.Discard, out)
			return c
		}
	}
	t.Fatalf("the other process ended before it was at work")
	return nil
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

func kills() int {
	if testing.Short() {
		return 10
	}
	return 200
}

// TestKilledAtAnyTime kills a process in the middle of what it does, again and
// again, and looks at the store each time.
func TestKilledAtAnyTime(t *testing.T) {
	for _, does := range []string{"edit", "import", "backup", "restore"} {
		t.Run(does, func(t *testing.T) {
			t.Parallel()
			r := rand.New(rand.NewPCG(7, uint64(len(does))))
			dir := t.TempDir()
			p := filepath.Join(dir, "store.db")
			s, err := Open(p)
			require.NoError(t, err)
			base := 0
			if does == "backup" || does == "restore" {
				_, err = s.ImportSwatches(rows(800), false)
				require.NoError(t, err)
				require.NoError(t, s.Backup(filepath.Join(dir, "good.db")))
				base = 800
			}
			require.NoError(t, s.Close())
			half := 0
			for range kills() / 4 {
				c := begin(t, does, p)
				time.Sleep(time.Duration(r.IntN(60_000)) * time.Microsecond)
				require.NoError(t, c.Process.Kill())
				require.Error(t, c.Wait(), "it was killed, it did not end")

				s, err := Open(p)
				require.NoError(t, err)
				report, err := s.Check()
				require.NoError(t, err)
				require.Empty(t, report.Problems)
				switch does {
				case "edit":
					notes, err := s.Notes("", "")
					require.NoError(t, err)
					for i, n := range notes {
						require.Equal(t, strconv.Itoa(i), strings.TrimSuffix(n.Text, "!"), "each change is there or not, in order")
					}
					half += len(notes)
				case "import":
					n := report.Counts["swatch"]
					require.True(t, n == 0 || n == 700, "%d of 700 rows", n)
					require.Equal(t, n, report.Counts["measurement"])
					if n == 700 {
						half++
						_, err := s.Undo()
						require.NoError(t, err)
					}
				default:
					require.Equal(t, base, report.Counts["swatch"])
				}
				require.NoError(t, s.Close())
				half += soundCopies(t, dir)
			}
			if !testing.Short() { // a few kills may all come before the first change
				require.Positive(t, half, "the kills came in the middle of the work")
			}
			files, err := filepath.Glob(filepath.Join(dir, temporary+"*"))
			require.NoError(t, err)
			t.Logf("%d unfinished files left", len(files))
		})
	}
}

// soundCopies opens every copy that has its final name, then removes it.
func soundCopies(t *testing.T, dir string) int {
	t.Helper()
	copies, err := filepath.Glob(filepath.Join(dir, "copy-*.db"))
	require.NoError(t, err)
	aside, err := filepath.Glob(filepath.Join(dir, "backup", "*.db"))
	require.NoError(t, err)
	for _, c := range append(copies, aside...) {
		problems, err := quickCheck(c)
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
