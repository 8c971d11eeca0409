package store

import (
	"database/sql"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
)

func TestBackupAndRestore(t *testing.T) {
	s := fresh(t)
	_, err := s.AddNote("cloth", "a", "kept")
	require.NoError(t, err)
	to := filepath.Join(t.TempDir(), "my copy.db")
	require.NoError(t, s.Backup(to))
	saved := dump(t, s.db)

	_, err = s.AddSwatch(blue())
	require.NoError(t, err)
	later := dump(t, s.db)
	other, err := Open(s.Where()) // another window, open all the while
	require.NoError(t, err)
	defer other.Close()

	aside, err := s.Restore(to)
	require.NoError(t, err)
	require.Equal(t, saved, dump(t, s.db))
	require.Equal(t, saved, dump(t, other.db), "the other window sees it too")
	_, err = other.AddNote("cloth", "b", "goes on")
	require.NoError(t, err)

	require.FileExists(t, aside)
	again, err := s.Restore(aside)
	require.NoError(t, err)
	require.Equal(t, later, dump(t, s.db), "what was replaced can be had back")
	require.NotEqual(t, aside, again)
	r, err := s.Check()
	require.NoError(t, err)
	require.Empty(t, r.Problems)
	var mode string
	require.NoError(t, s.db.QueryRow("pragma journal_mode").Scan(&mode))
	require.Equal(t, "wal", mode)
}

func TestBackupThatIsRefused(t *testing.T) {
	s := fresh(t)
	there := filepath.Join(t.TempDir(), "there")
	require.NoError(t, os.WriteFile(there, []byte("mine"), 0o600))
	for name, to := range map[string]string{"a file that is there": there, "a folder": t.TempDir(), "the store itself": s.Where()} {
		isFault(t, s.Backup(to), fault.WrongCall, "already", "nothing was overwritten")
		_ = name
	}
	require.Equal(t, "mine", content(t, there))
	isFault(t, s.Backup(filepath.Join(t.TempDir(), "no", "such")), fault.WrongCall, "folder for the copy")
	isFault(t, s.Backup(""), fault.WrongCall)
}

func TestRestoreThatIsRefused(t *testing.T) {
	s := fresh(t)
	_, err := s.AddNote("cloth", "a", "kept")
	require.NoError(t, err)
	before := dump(t, s.db)
	dir := t.TempDir()
	put := func(name, text string) string {
		p := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(p, []byte(text), 0o600))
		return p
	}
	foreign := filepath.Join(dir, "foreign.db")
	db, err := sql.Open("sqlite", "file:"+foreign)
	require.NoError(t, err)
	_, err = db.Exec("create table x (y)")
	require.NoError(t, err)
	require.NoError(t, db.Close())
	half := filepath.Join(dir, "half.db")
	big := fresh(t)
	_, err = big.ImportSwatches(rows(500), false)
	require.NoError(t, err)
	require.NoError(t, big.Backup(half))
	require.NoError(t, os.Truncate(half, 8192))

	for _, c := range []struct {
		name, from, says string
		kind             fault.Kind
	}{
		{"missing", filepath.Join(dir, "none"), "no such backup", fault.NotFound},
		{"empty", put("empty", ""), "empty", fault.BadData},
		{"text", put("text", strings.Repeat("hello ", 200)), "not a database", fault.BadData},
		{"foreign", foreign, "another program", fault.BadData},
		{"half", half, "damaged", fault.BadData},
		{"folder", dir, "not a file", fault.BadData},
		{"itself", s.Where(), "the store itself", fault.WrongCall},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := s.Restore(c.from)
			isFault(t, err, c.kind, c.says)
			require.Equal(t, before, dump(t, s.db))
		})
	}
	left, err := filepath.Glob(filepath.Join(filepath.Dir(s.Where()), temporary+"*"))
	require.NoError(t, err)
	require.Empty(t, left)
}

func TestRestoreOverABrokenStore(t *testing.T) {
	good := fresh(t)
	_, err := good.AddNote("cloth", "a", "kept")
	require.NoError(t, err)
	backup := filepath.Join(t.TempDir(), "good.db")
	require.NoError(t, good.Backup(backup))

	p := filepath.Join(t.TempDir(), "own", "store.db")
	aside, err := RestoreOver(p, backup, noon)
	require.NoError(t, err, "a missing store is made")
	require.Empty(t, aside)

	require.NoError(t, os.WriteFile(p, []byte(strings.Repeat("rubbish ", 900)), 0o600))
	require.NoError(t, os.WriteFile(p+"-wal", []byte("old log"), 0o600))
	_, err = Open(p)
	isFault(t, err, fault.BadData)
	aside, err = RestoreOver(p, backup, noon)
	require.NoError(t, err)
	require.Contains(t, content(t, filepath.Join(aside, "store.db")), "rubbish")
	require.Equal(t, "old log", content(t, filepath.Join(aside, "store.db-wal")), "the log goes with its file")
	s := opened(t, p)
	notes, err := s.Notes("", "")
	require.NoError(t, err)
	require.Len(t, notes, 1)

	_, err = s.AddNote("cloth", "b", "later")
	require.NoError(t, err)
	aside, err = RestoreOver(p, backup, noon)
	require.NoError(t, err, "a sound store is restored in place")
	require.FileExists(t, aside)
	notes, err = s.Notes("", "")
	require.NoError(t, err)
	require.Len(t, notes, 1)

	require.NoError(t, os.WriteFile(filepath.Join(filepath.Dir(p), "bad"), []byte("x"), 0o600))
	_, err = RestoreOver(p, filepath.Join(filepath.Dir(p), "bad"), noon)
	require.Error(t, err)
	_, err = s.Notes("", "")
	require.NoError(t, err)
}

func TestBrokenStoreNamesItsNewestBackup(t *testing.T) {
	p := filepath.Join(t.TempDir(), "store.db")
	require.NoError(t, os.Mkdir(backupDir(p), 0o700))
	s := opened(t, p)
	require.NoError(t, s.Backup(filepath.Join(backupDir(p), "one.db")))
	require.NoError(t, s.Close())
	require.NoError(t, os.Truncate(p, 0))
	_, err := Open(p)
	isFault(t, err, fault.BadData, "restore the backup", "one.db")
}

func TestMigrationFromLayoutOne(t *testing.T) {
	p := filepath.Join(t.TempDir(), "store.db")
	require.NoError(t, create(p, 1))
	db, err := sql.Open("sqlite", "file:"+p)
	require.NoError(t, err)
	script, err := os.ReadFile("testdata/layout1.sql")
	require.NoError(t, err)
	_, err = db.Exec(string(script))
	require.NoError(t, err)
	require.NoError(t, db.Close())

	s := opened(t, p)
	notes, err := s.Notes("", "")
	require.NoError(t, err)
	require.Len(t, notes, 2)
	require.Equal(t, "the red bolt sheds colour", notes[0].Text)
	favourites, err := s.Favourites()
	require.NoError(t, err)
	require.Len(t, favourites, 1)
	_, err = s.AddSwatch(blue())
	require.NoError(t, err, "what the later layout brings")
	r, err := s.Check()
	require.NoError(t, err)
	require.Empty(t, r.Problems)
	require.Equal(t, len(migrations), r.Version)
	_, err = s.Undo()
	require.NoError(t, err)
	what, err := s.Undo()
	require.NoError(t, err)
	require.Equal(t, "note on cloth cotton-sateen added", what, "changes made before can be undone after")

	copies, err := filepath.Glob(filepath.Join(backupDir(p), "store-layout-1-*.db"))
	require.NoError(t, err)
	require.Len(t, copies, 1, "a copy was made first")
	v, err := identify(copies[0])
	require.NoError(t, err)
	require.Equal(t, 1, v)

	aside, err := s.Restore(copies[0])
	require.NoError(t, err, "an older backup is brought up to date")
	require.FileExists(t, aside)
	notes, err = s.Notes("", "")
	require.NoError(t, err)
	require.Len(t, notes, 2)
}

func TestMigrationThatFailsChangesNothing(t *testing.T) {
	p := filepath.Join(t.TempDir(), "store.db")
	require.NoError(t, create(p, 1))
	db, err := sql.Open("sqlite", "file:"+p)
	require.NoError(t, err)
	_, err = db.Exec("create table wear (in_the_way)") // the migration makes two tables before this one
	require.NoError(t, err)
	require.NoError(t, db.Close())
	_, err = Open(p)
	require.Error(t, err)
	v, err := identify(p)
	require.NoError(t, err)
	require.Equal(t, 1, v)
	db, err = sql.Open("sqlite", "file:"+p)
	require.NoError(t, err)
	defer db.Close()
	var n int
	require.NoError(t, db.QueryRow("select count(*) from sqlite_schema where name in ('swatch', 'measurement')").Scan(&n))
	require.Zero(t, n)
}

func TestMigrationsGoOneByOne(t *testing.T) {
	require.Len(t, migrations, 4)
	var versions []string
	for v := 1; v <= len(migrations); v++ {
		p := filepath.Join(t.TempDir(), "store.db")
		require.NoError(t, create(p, v))
		s := opened(t, p)
		schema, err := lines(s.db, "select sql from sqlite_schema where sql is not null order by name")
		require.NoError(t, err)
		versions = append(versions, strings.Join(schema, "\n"))
	}
	for _, v := range versions {
		require.Equal(t, versions[len(versions)-1], v, "from any layout to the same")
	}
}
