package store

import (
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"time"
)

//go:embed migration/*.sql
var migrationFiles embed.FS

// migrations are the steps from nothing to today's layout; the layout's version
// is how many were taken. A step that has been published is never changed.
var migrations = func() []string {
	names, err := fs.Glob(migrationFiles, "migration/*.sql")
	if err != nil {
		panic(err) // the pattern is a constant
	}
	sort.Strings(names)
	var out []string
	for _, n := range names {
		b, err := migrationFiles.ReadFile(n)
		if err != nil {
			panic(err) // embedded
		}
		out = append(out, string(b))
	}
	return out
}()

// behind is what a step does beyond its SQL, by the layout that it leads to. It gives
// what the user is to be told.
var behind = map[int]func(*sql.Tx) (notices []string, err error){
	layoutWithDigests: func(tx *sql.Tx) ([]string, error) {
		notices, err := rekey(tx)
		if err != nil {
			return nil, err
		}
		return notices, sealAll(tx)
	},
	layoutWithDigests + 1: func(tx *sql.Tx) ([]string, error) {
		_, err := tx.Exec("update swatch set " + setPlain)
		return nil, err
	},
}

const temporary = ".tenter-" // beginning of files being made

// create makes a new store. It is made beside and put in place whole, so that a
// file in place is never half made; if another process is first, theirs stays.
func create(path string, version int) error {
	dir := filepath.Dir(path)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return explain(path, err)
	}
	sweep(dir)
	tmp, err := reserve(dir)
	if err != nil {
		return explain(path, err)
	}
	defer discard(tmp)
	db, err := connect(tmp, forWriting)
	if err != nil {
		return explain(path, err)
	}
	tx, err := db.Begin()
	if err == nil {
		_, err = advance(tx, 0, version)
		if err == nil {
			err = tx.Commit()
		} else {
			_ = tx.Rollback()
		}
	}
	if e := db.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = syncFile(tmp)
	}
	if err != nil {
		return explain(path, err)
	}
	if err := os.Link(tmp, path); err != nil {
		if errors.Is(err, fs.ErrExist) {
			return nil
		}
		// Some file systems know no second name for a file.
		if _, e := os.Lstat(path); e == nil {
			return nil
		}
		if err := os.Rename(tmp, path); err != nil {
			return explain(path, err)
		}
	}
	syncDir(dir)
	return nil
}

// advance takes the migrations from one version to another, and gives what the user
// is to be told of them.
func advance(tx *sql.Tx, from, to int) (notices []string, err error) {
	for i, m := range migrations[from:to] {
		if _, err := tx.Exec(m); err != nil {
			return nil, err
		}
		if more := behind[from+i+1]; more != nil {
			added, err := more(tx)
			if err != nil {
				return nil, err
			}
			notices = append(notices, added...)
		}
	}
	if _, err := tx.Exec(fmt.Sprintf("pragma application_id=%d", applicationID)); err != nil {
		return nil, err
	}
	_, err = tx.Exec(fmt.Sprintf("pragma user_version=%d", to))
	return notices, err
}

// migrate brings an older store up to a version, after copying it aside. The
// copy is taken under the write lock, so that nothing comes between.
func (s *Store) migrate(to int) error {
	tx, err := s.db.Begin()
	if err != nil {
		return s.explain(err)
	}
	defer tx.Rollback()
	var from int
	if err := tx.QueryRow("pragma user_version").Scan(&from); err != nil {
		return s.explain(err)
	}
	if from >= to {
		return nil // another process was first
	}
	dir := backupDir(s.path)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return explain(dir, err)
	}
	copyName := unused(dir, fmt.Sprintf("%s-layout-%d-%s", base(s.path), from, stamp(s.Now())))
	if err := copyTo(s.path, copyName); err != nil {
		return err
	}
	notices, err := advance(tx, from, to)
	if err != nil {
		return s.explain(err)
	}
	if err := tx.Commit(); err != nil {
		return s.explain(err)
	}
	s.notices = append(s.notices, notices...)
	return nil
}

// borrow opens a copy of an older store, brought up to today's layout in the folder
// for temporary files, where the store itself cannot be: it can be read so. The copy
// goes when the store is closed.
func (s *Store) borrow(from int) error {
	tmp, err := reserve(os.TempDir())
	if err != nil {
		return explain(s.path, err)
	}
	s.borrowed = tmp
	if err := vacuumInto(s.path, tmp); err != nil {
		return err
	}
	db, err := connect(tmp, forWriting)
	if err != nil {
		return explain(s.path, err)
	}
	old := s.db
	s.db, s.readOnly = db, true
	if old != nil {
		_ = old.Close()
	}
	tx, err := db.Begin()
	if err != nil {
		return s.explain(err)
	}
	defer tx.Rollback()
	notices, err := advance(tx, from, len(migrations))
	if err == nil {
		err = tx.Commit()
	}
	s.notices = append(s.notices, notices...)
	return s.explain(err)
}

// stamp writes a time so that it may stand in a file name.
func stamp(t time.Time) string { return t.UTC().Format("20060102T150405Z") }

// base is the name of a file without its ending.
func base(path string) string {
	b := filepath.Base(path)
	return strings.TrimSuffix(b, filepath.Ext(b))
}

// unused is a path in dir that no file has yet.
func unused(dir, name string) string {
	p := filepath.Join(dir, name+".db")
	for i := 2; ; i++ {
		if _, err := os.Lstat(p); err != nil {
			return p
		}
		p = filepath.Join(dir, fmt.Sprintf("%s-%d.db", name, i))
	}
}

// reserve makes an empty file beside the store.
func reserve(dir string) (string, error) {
	f, err := os.CreateTemp(dir, temporary+"*")
	if err != nil {
		return "", err
	}
	return f.Name(), f.Close()
}

// discard removes a temporary database with what SQLite puts beside it.
func discard(tmp string) {
	for _, end := range []string{"", "-wal", "-shm", "-journal"} {
		_ = os.Remove(tmp + end)
	}
}

// sweep removes temporary files that killed processes left an hour ago.
func sweep(dir string) {
	es, err := os.ReadDir(dir)
	if err != nil {
		return
	}
	for _, e := range es {
		if st, err := e.Info(); err == nil && strings.HasPrefix(e.Name(), temporary) && time.Since(st.ModTime()) > time.Hour {
			_ = os.Remove(filepath.Join(dir, e.Name()))
		}
	}
}

func syncFile(p string) error {
	f, err := os.OpenFile(p, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		_ = f.Close()
		return err
	}
	return f.Close()
}

// syncDir brings a folder's list of names to the disk; some systems cannot.
func syncDir(p string) {
	if f, err := os.Open(p); err == nil {
		_ = f.Sync()
		_ = f.Close()
	}
}
