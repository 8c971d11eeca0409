package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"modernc.org/sqlite"

	"tenter/fibres/fault"
)

// Report is what Check found.
type Report struct {
	Path     string
	Version  int            // of the file's layout
	Bytes    int64          // size of the file
	Counts   map[string]int // rows of each table
	Problems []string       // empty when the store is sound
}

// backupDir is where copies are put that nobody asked for by name.
func backupDir(path string) string { return filepath.Join(filepath.Dir(path), "backup") }

// Backup writes a checked copy to a new file.
func (s *Store) Backup(to string) error {
	to, err := place(to)
	if err != nil {
		return err
	}
	return copyTo(s.path, to)
}

// copyTo copies a store to a new file: beside it, checked, brought to the disk,
// then put in place. Whatever fails, no half copy stays.
func copyTo(from, to string) error {
	taken := func() error {
		return &fault.Fault{Kind: fault.WrongCall, Where: to, What: "there is a file of that name already", Expected: "a new file", Mend: "name another file; nothing was overwritten"}
	}
	if _, err := os.Lstat(to); err == nil {
		return taken()
	}
	dir := filepath.Dir(to)
	if st, err := os.Stat(dir); err != nil || !st.IsDir() {
		return &fault.Fault{Kind: fault.WrongCall, Where: to, What: "the folder for the copy is not there", Expected: "a file in a folder that is there", Err: err}
	}
	sweep(dir)
	tmp, err := reserve(dir)
	if err != nil {
		return explain(to, err)
	}
	defer discard(tmp)
	if err := vacuumInto(from, tmp); err != nil {
		return err
	}
	problems, err := examine(tmp)
	if err != nil {
		return explain(from, err)
	}
	if len(problems) > 0 {
		return &fault.Fault{Kind: fault.BadData, Where: from, What: "the store is damaged: " + problems[0], Expected: "a sound store to copy", Mend: mendBroken(from)}
	}
	if err := syncFile(tmp); err != nil {
		return explain(to, err)
	}
	// A link never overwrites; where there are none, the file was not there a moment ago.
	if err := os.Link(tmp, to); err != nil {
		if errors.Is(err, fs.ErrExist) {
			return taken()
		}
		if err := os.Rename(tmp, to); err != nil {
			return explain(to, err)
		}
	}
	syncDir(dir)
	return nil
}

// vacuumInto writes the content of a store to an empty file.
func vacuumInto(from, tmp string) error {
	db, err := connectReading(from)
	if err != nil {
		return explain(from, err)
	}
	defer db.Close()
	if _, err := db.Exec("vacuum into ?", tmp); err != nil {
		if c := code(err); c == codeFull || c == codeInputError || c == codeCannotOpen || c == codeReadOnly {
			return explain(tmp, err)
		}
		return explain(from, err)
	}
	return nil
}

// examine lists what is wrong with a file: with its pages, then with its rows.
func examine(path string) ([]string, error) {
	db, err := connectReading(path)
	if err != nil {
		return nil, err
	}
	defer db.Close()
	return problemsOf(db)
}

// problemsOf lists what SQLite finds wrong, which it tells in rows, and the rows
// that do not hold what was written into them.
func problemsOf(db *sql.DB) ([]string, error) {
	found, err := lines(db, "pragma integrity_check")
	if c := code(err); c == codeCorrupt || c == codeNotADB {
		return append(found, "a part of the file cannot be read"), nil
	}
	if err != nil {
		return nil, err
	}
	rows, err := damagedRows(db)
	return append(found, rows...), err
}

// lines reads rows of text, leaving out "ok".
func lines(db *sql.DB, query string) ([]string, error) {
	rows, err := db.Query(query)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []string
	for rows.Next() {
		var l string
		if err := rows.Scan(&l); err != nil {
			return nil, err
		}
		if l != "ok" {
			out = append(out, l)
		}
	}
	return out, rows.Err()
}

// Restore replaces what the store holds by a backup; what it held before is
// kept in the file it names. Other processes see the one or the other.
func (s *Store) Restore(from string) (aside string, err error) {
	if s.readOnly {
		return "", s.change(nil)
	}
	fresh, err := prepare(s.path, from)
	if err != nil {
		return "", err
	}
	defer discard(fresh)
	dir := backupDir(s.path)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", explain(dir, err)
	}
	aside = unused(dir, base(s.path)+"-replaced-"+stamp(s.Now()))
	if err := copyTo(s.path, aside); err != nil {
		return "", err
	}
	if err := s.fill(fresh); err != nil {
		_ = os.Remove(aside)
		return "", s.explain(err)
	}
	return aside, nil
}

// prepare copies a backup beside the store, checks it and brings it up to date.
func prepare(path, from string) (string, error) {
	from, err := place(from)
	if err != nil {
		return "", err
	}
	if err := CheckBackup(path, from); err != nil {
		return "", err
	}
	tmp, err := reserve(filepath.Dir(path))
	if err != nil {
		return "", explain(path, err)
	}
	if err := vacuumInto(from, tmp); err != nil {
		discard(tmp)
		return "", err
	}
	if err := upToDate(tmp); err != nil {
		discard(tmp)
		return "", explain(from, err)
	}
	return tmp, nil
}

// CheckBackup refuses what is no sound backup to put in the place of a store.
func CheckBackup(path, from string) error {
	if st, err := os.Stat(from); err != nil {
		return &fault.Fault{Kind: fault.NotFound, Where: from, What: "there is no such backup", Expected: "a file made by backing up", Err: err}
	} else if st.Size() == 0 || !st.Mode().IsRegular() {
		return &fault.Fault{Kind: fault.BadData, Where: from, What: "this is not a backup: it is empty or not a file", Expected: "a file made by backing up", Mend: "nothing was changed"}
	}
	if same, err := sameFile(from, path); err == nil && same {
		return &fault.Fault{Kind: fault.WrongCall, Where: from, What: "this is the store itself", Expected: "a backup of it"}
	}
	if _, err := identify(from); err != nil {
		var f *fault.Fault
		if errors.As(err, &f) && f.Kind == fault.BadData {
			f.Mend = "name a file that `tenter store backup` made; nothing was changed, and this one was left as it is"
			if code(f.Err) == codeNotADB {
				f.What, f.Expected = "this is not a backup: it is not a database, or its beginning is damaged", "a file made by backing up"
			}
		}
		return err
	}
	problems, err := examine(from) // the copy of a damaged one may look sound
	if err != nil {
		return explain(from, err)
	}
	if len(problems) > 0 {
		return &fault.Fault{Kind: fault.BadData, Where: from, What: "the backup is damaged: " + problems[0], Expected: "a sound backup", Mend: "try an older one; nothing was changed"}
	}
	return nil
}

// upToDate takes a file that nobody else has open to today's layout.
func upToDate(path string) error {
	db, err := connect(path, forWriting)
	if err != nil {
		return err
	}
	tx, err := db.Begin()
	if err == nil {
		var v int
		if err = tx.QueryRow("pragma user_version").Scan(&v); err == nil && v < len(migrations) {
			_, err = advance(tx, v, len(migrations))
		}
		if err == nil {
			err = tx.Commit()
		} else {
			_ = tx.Rollback()
		}
	}
	return errors.Join(err, db.Close())
}

func sameFile(a, b string) (bool, error) {
	x, err := os.Stat(a)
	if err != nil {
		return false, err
	}
	y, err := os.Stat(b)
	if err != nil {
		return false, err
	}
	return os.SameFile(x, y), nil
}

// fill copies every page of another database into the store, in one
// transaction: replacing the file under other processes would mix two
// write-ahead logs.
func (s *Store) fill(from string) error {
	ctx := context.Background()
	c, err := s.db.Conn(ctx)
	if err != nil {
		return err
	}
	defer c.Close()
	return c.Raw(func(driver any) error {
		r, ok := driver.(interface {
			NewRestore(string) (*sqlite.Backup, error)
		})
		if !ok {
			return errors.New("the driver cannot restore")
		}
		b, err := r.NewRestore(dsn(from, "mode=ro"))
		if err != nil {
			return err
		}
		deadline := time.Now().Add(5 * time.Second)
		for {
			more, err := b.Step(-1)
			if c := code(err); (c == codeBusy || c == codeLocked) && time.Now().Before(deadline) {
				time.Sleep(20 * time.Millisecond)
				continue
			}
			if err != nil {
				_ = b.Finish()
				return err
			}
			if !more {
				return b.Finish()
			}
		}
	})
}

// RestoreOver puts a backup in the place of a store that does not open; the
// broken files are kept in the folder it names. A store that opens is restored
// as [Store.Restore] does, a missing one is made from the backup.
func RestoreOver(path, from string, now time.Time) (aside string, err error) {
	path, err = place(path)
	if err != nil {
		return "", err
	}
	_, statErr := os.Lstat(path)
	if statErr == nil {
		s, err := openExisting(path)
		if err == nil {
			defer s.Close()
			s.Now = func() time.Time { return now }
			return s.Restore(from)
		}
		var f *fault.Fault
		if errors.As(err, &f) && f.Kind == fault.Busy {
			return "", err
		}
		if st, e := os.Stat(path); e == nil && st.IsDir() {
			return "", err
		}
	} else if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return "", explain(path, err)
	}
	fresh, err := prepare(path, from)
	if err != nil {
		return "", err
	}
	defer discard(fresh)
	if err := syncFile(fresh); err != nil {
		return "", explain(path, err)
	}
	if statErr == nil {
		if aside, err = folderAside(path, now); err != nil {
			return "", err
		}
	}
	if err := moveAside(path, aside); err != nil {
		return "", err
	}
	if err := os.Rename(fresh, path); err != nil {
		return aside, explain(path, err)
	}
	syncDir(filepath.Dir(path))
	return aside, nil
}

// folderAside makes a folder for the files of a broken store.
func folderAside(path string, now time.Time) (string, error) {
	dir := backupDir(path)
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return "", explain(dir, err)
	}
	aside := strings.TrimSuffix(unused(dir, base(path)+"-broken-"+stamp(now)), ".db")
	if err := os.Mkdir(aside, 0o700); err != nil {
		return "", explain(aside, err)
	}
	return aside, nil
}

// moveAside clears the place of a store; without a folder, what may lie there is no
// store's any more.
func moveAside(path, aside string) error {
	// The log first: it must never lie beside a file it does not belong to.
	for _, end := range []string{"-wal", "-shm", "-journal", ""} {
		if aside == "" {
			_ = os.Remove(path + end)
			continue
		}
		to := filepath.Join(aside, filepath.Base(path)+end)
		// The store itself gets a second name, where there is such a thing, so
		// that at no moment there is none: a new one would be made.
		if end == "" && os.Link(path, to) == nil {
			continue
		}
		if err := os.Rename(path+end, to); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return explain(path, err)
		}
	}
	return nil
}

// Check examines the whole file.
func (s *Store) Check() (Report, error) {
	r := Report{Path: s.path, Counts: map[string]int{}}
	if st, err := os.Stat(s.path); err == nil {
		r.Bytes = st.Size()
	}
	if err := s.db.QueryRow("pragma user_version").Scan(&r.Version); err != nil {
		return r, s.explain(err)
	}
	problems, err := problemsOf(s.db)
	if err != nil {
		return r, s.explain(err)
	}
	r.Problems = problems
	strays, err := lines(s.db, `select 'row ' || rowid || ' of ' || "table" || ' belongs to no ' || parent from pragma_foreign_key_check`)
	if err != nil && code(err) != codeCorrupt {
		return r, s.explain(err)
	}
	r.Problems = append(r.Problems, strays...)
	for t := range digested {
		var n int
		err := s.db.QueryRow("select count(*) from " + t).Scan(&n)
		switch c := code(err); {
		case c == codeCorrupt:
			r.Problems = append(r.Problems, fmt.Sprintf("the table %s cannot be read", t))
		case err != nil:
			return r, s.explain(err)
		default:
			r.Counts[t] = n
		}
	}
	return r, nil
}
