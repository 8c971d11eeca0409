package store

import (
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
)

// noon is the time of all tests that do not say otherwise.
var noon = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)

// fresh opens a new store whose clock goes on by a second at each look.
func fresh(t testing.TB) *Store {
	t.Helper()
	return opened(t, filepath.Join(t.TempDir(), "own", "store.db"))
}

func opened(t testing.TB, path string) *Store {
	t.Helper()
	s, err := Open(path)
	require.NoError(t, err)
	t.Cleanup(func() { _ = s.Close() })
	now := noon
	s.Now = func() time.Time { now = now.Add(time.Second); return now }
	return s
}

// dump writes every row of every table.
func dump(t testing.TB, db *sql.DB) string {
	t.Helper()
	var b strings.Builder
	names := []string{"change"}
	for n := range digested {
		names = append(names, n)
	}
	sort.Strings(names)
	for _, n := range names {
		rows, err := db.Query("select * from " + n + " order by id")
		require.NoError(t, err)
		cols, err := rows.Columns()
		require.NoError(t, err)
		for rows.Next() {
			vals, to := make([]any, len(cols)), make([]any, len(cols))
			for i := range vals {
				to[i] = &vals[i]
			}
			require.NoError(t, rows.Scan(to...))
			fmt.Fprintf(&b, "%s", n)
			for i, c := range cols {
				fmt.Fprintf(&b, " %s=%T:%q", c, vals[i], fmt.Sprint(vals[i]))
			}
			b.WriteByte('\n')
		}
		require.NoError(t, rows.Err())
		rows.Close()
	}
	return b.String()
}

// isFault checks the kind of an error and that it says these words.
func isFault(t testing.TB, err error, kind fault.Kind, words ...string) {
	t.Helper()
	require.Error(t, err)
	var f *fault.Fault
	require.True(t, errors.As(err, &f), "a fault, not %T: %v", err, err)
	require.Equal(t, kind, f.Kind, err.Error())
	for _, w := range words {
		require.Contains(t, err.Error(), w)
	}
}

func TestSettingsOfTheConnection(t *testing.T) {
	// A misspelt key of a data source name is ignored in silence.
	s := fresh(t)
	for pragma, want := range map[string]string{"journal_mode": "wal", "foreign_keys": "1", "synchronous": "1", "busy_timeout": "5000",
		"application_id": fmt.Sprint(applicationID), "user_version": fmt.Sprint(len(migrations))} {
		var got string
		require.NoError(t, s.db.QueryRow("pragma "+pragma).Scan(&got))
		require.Equal(t, want, got, pragma)
	}
	_, err := s.db.Exec(`insert into note (kind, subject, text, created, changed) values ("kind", 'a', 'b', 1, 1)`)
	require.Error(t, err, "double quotes are no text")
	_, err = s.db.Exec(`insert into note (kind, subject, text, created, changed) values ('kind', 'a', 'b', 'soon', 1)`)
	require.Error(t, err, "digested are strict")
}

func TestOpenMakesFolderAndStore(t *testing.T) {
	for _, odd := range []string{"plain", "a b", "what?", "100%", "hash#", "ünï", "a&mode=ro"} {
		p := filepath.Join(t.TempDir(), "deep", odd, "store.db")
		s, err := Open(p)
		require.NoError(t, err, odd)
		require.Equal(t, p, s.Where())
		_, err = s.AddNote("cloth", "x", "y")
		require.NoError(t, err)
		require.NoError(t, s.Close())
		es, err := os.ReadDir(filepath.Dir(p))
		require.NoError(t, err)
		require.Len(t, es, 1, "one file and nothing left beside it")
		s = opened(t, p)
		notes, err := s.Notes("", "")
		require.NoError(t, err)
		require.Len(t, notes, 1, odd)
	}
	_, err := Open("")
	isFault(t, err, fault.WrongCall, "no file is named")
}

func TestOpenIfExists(t *testing.T) {
	p := filepath.Join(t.TempDir(), "none", "store.db")
	s, there, err := OpenIfExists(p)
	require.NoError(t, err)
	require.False(t, there)
	require.Nil(t, s)
	_, err = os.Stat(filepath.Dir(p))
	require.ErrorIs(t, err, os.ErrNotExist, "looking makes nothing")
	opened(t, p)
	s, there, err = OpenIfExists(p)
	require.NoError(t, err)
	require.True(t, there)
	require.NoError(t, s.Close())
}

func TestRelativePathsStayWhereTheyWere(t *testing.T) {
	t.Chdir(t.TempDir())
	s, err := Open("store.db")
	require.NoError(t, err)
	defer s.Close()
	require.True(t, filepath.IsAbs(s.Where()))
}

func TestFilesThatAreNoStore(t *testing.T) {
	sound := filepath.Join(t.TempDir(), "sound.db") // of some sixty pages, made once
	s, err := Open(sound)
	require.NoError(t, err)
	for i := range 100 {
		_, err := s.AddNote("cloth", fmt.Sprint(i), strings.Repeat("words ", 400))
		require.NoError(t, err)
	}
	require.NoError(t, s.Close())
	whole := func(t *testing.T, p string) { require.NoError(t, os.WriteFile(p, []byte(content(t, sound)), 0o600)) }
	write := func(t *testing.T, p string, at int64, b []byte) {
		f, err := os.OpenFile(p, os.O_RDWR, 0)
		require.NoError(t, err)
		_, err = f.WriteAt(b, at)
		require.NoError(t, err)
		require.NoError(t, f.Close())
	}
	for _, c := range []struct {
		name  string
		make  func(t *testing.T, p string)
		words []string
		kind  fault.Kind
	}{
		{"text", func(t *testing.T, p string) {
			require.NoError(t, os.WriteFile(p, []byte(strings.Repeat("name,mass\n", 100)), 0o600))
		}, []string{"not a database"}, fault.BadData},
		{"empty", func(t *testing.T, p string) { require.NoError(t, os.WriteFile(p, nil, 0o600)) }, []string{"0 bytes"}, fault.BadData},
		{"truncated to nothing", func(t *testing.T, p string) { whole(t, p); require.NoError(t, os.Truncate(p, 0)) }, []string{"0 bytes"}, fault.BadData},
		{"cut to 50 bytes", func(t *testing.T, p string) { whole(t, p); require.NoError(t, os.Truncate(p, 50)) }, []string{"damaged"}, fault.BadData},
		{"cut in half", func(t *testing.T, p string) {
			whole(t, p)
			st, err := os.Stat(p)
			require.NoError(t, err)
			require.NoError(t, os.Truncate(p, st.Size()/2/4096*4096))
		}, []string{"damaged"}, fault.BadData},
		{"overwritten header", func(t *testing.T, p string) { whole(t, p); write(t, p, 0, []byte("not a database at all")) }, []string{"beginning is damaged"}, fault.BadData},
		{"damaged first page", func(t *testing.T, p string) { whole(t, p); write(t, p, 100, []byte(strings.Repeat("\xff", 40))) }, []string{"damaged"}, fault.BadData},
		{"folder", func(t *testing.T, p string) { require.NoError(t, os.Mkdir(p, 0o700)) }, []string{"folder"}, fault.WrongCall},
		{"another program's", func(t *testing.T, p string) {
			db, err := sql.Open("sqlite", "file:"+p)
			require.NoError(t, err)
			_, err = db.Exec("create table theirs (x); insert into theirs values (1)")
			require.NoError(t, err)
			require.NoError(t, db.Close())
		}, []string{"another program", "left as it is"}, fault.BadData},
		{"a newer version's", func(t *testing.T, p string) {
			whole(t, p)
			db, err := sql.Open("sqlite", "file:"+p)
			require.NoError(t, err)
			_, err = db.Exec("pragma user_version=99")
			require.NoError(t, err)
			require.NoError(t, db.Close())
		}, []string{"newer tenter", "layout 99", "nothing was changed"}, fault.BadData},
		{"of no version", func(t *testing.T, p string) {
			whole(t, p)
			db, err := sql.Open("sqlite", "file:"+p)
			require.NoError(t, err)
			_, err = db.Exec("pragma user_version=0")
			require.NoError(t, err)
			require.NoError(t, db.Close())
		}, []string{"no layout"}, fault.BadData},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := filepath.Join(t.TempDir(), "store.db")
			c.make(t, p)
			before := content(t, p)
			_, err := Open(p)
			isFault(t, err, c.kind, append(c.words, p)...)
			_, _, err = OpenIfExists(p)
			isFault(t, err, c.kind, c.words...)
			require.Equal(t, before, content(t, p), "the file is left as it was")
		})
	}
}

// content is what a file holds, or that it is a folder.
func content(t *testing.T, p string) string {
	t.Helper()
	b, err := os.ReadFile(p)
	if err != nil {
		return "unreadable"
	}
	return string(b)
}

func TestDamageInTheMiddle(t *testing.T) {
	p := filepath.Join(t.TempDir(), "store.db")
	s, err := Open(p)
	require.NoError(t, err)
	for i := range 300 {
		_, err := s.AddNote("cloth", fmt.Sprint(i), strings.Repeat("words ", 200))
		require.NoError(t, err)
	}
	require.NoError(t, s.Close())
	st, err := os.Stat(p)
	require.NoError(t, err)
	f, err := os.OpenFile(p, os.O_RDWR, 0)
	require.NoError(t, err)
	for page := st.Size() / 4096 / 2; page < st.Size()/4096/2+4; page++ {
		_, err = f.WriteAt([]byte(strings.Repeat("\xff", 16)), page*4096)
		require.NoError(t, err)
	}
	require.NoError(t, f.Close())
	s = opened(t, p)
	r, err := s.Check()
	require.NoError(t, err)
	require.NotEmpty(t, r.Problems, "a check tells what opening does not see")
	to := filepath.Join(t.TempDir(), "copy.db")
	require.Error(t, s.Backup(to))
	_, err = os.Stat(to)
	require.ErrorIs(t, err, os.ErrNotExist, "a damaged store is not copied")
}

func TestCheckOfASoundStore(t *testing.T) {
	s := fresh(t)
	_, err := s.AddNote("cloth", "a", "b")
	require.NoError(t, err)
	r, err := s.Check()
	require.NoError(t, err)
	require.Empty(t, r.Problems)
	require.Equal(t, len(migrations), r.Version)
	require.Equal(t, map[string]int{"note": 1, "favourite": 0, "swatch": 0, "measurement": 0, "wear": 0, "setting": 0}, r.Counts)
	require.Equal(t, s.Where(), r.Path)
	require.Positive(t, r.Bytes)
}

func TestBusySaysWhoAndWaits(t *testing.T) {
	s := fresh(t)
	_, err := s.AddNote("cloth", "a", "b")
	require.NoError(t, err)
	holder := hold(t, s.Where())
	start := time.Now()
	_, err = s.AddNote("cloth", "c", "d")
	isFault(t, err, fault.Busy, s.Where(), "in use by", "nothing was changed")
	require.GreaterOrEqual(t, time.Since(start), 4*time.Second, "it waited for its turn")
	if f := (*fault.Fault)(nil); errors.As(err, &f) && procLocks() {
		require.Contains(t, f.What, fmt.Sprintf("process %d", holder.Process.Pid))
	}
	notes, err := s.Notes("", "")
	require.NoError(t, err, "reading goes on meanwhile")
	require.Len(t, notes, 1)
	require.NoError(t, holder.Process.Kill())
	_ = holder.Wait()
	_, err = s.AddNote("cloth", "c", "d")
	require.NoError(t, err, "free again")
}

func procLocks() bool {
	_, err := os.ReadFile("/proc/locks")
	return err == nil
}
