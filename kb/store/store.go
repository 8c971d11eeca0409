// Package store keeps what this user knows: notes, favourites, swatches, what
// was measured on them, how make-ups did in wear, and settings. It is one
// SQLite file; every change is logged with what it replaced and can be undone.
//
// Several processes may use one store at once: writers wait for each other.
// All errors are faults that say what, where, what was expected and how to
// mend it. The package reads no environment and prints nothing.
package store

import (
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"os"
	"path/filepath"
	"time"

	_ "modernc.org/sqlite" // the driver

	"tenter/fibres/fault"
)

// applicationID marks a file as a tenter store, so that an emptied or foreign
// database is told apart from one: the letters "tntr".
const applicationID = 0x746e7472

// Store is an open store. It may be used from several goroutines.
type Store struct {
	Now func() time.Time // the clock; time.Now unless replaced

	db       *sql.DB
	path     string
	readOnly bool
	borrowed string   // the copy that stands for the file; "" = the file itself
	notices  []string // what the user is to know of the opening
}

// Open opens the store at path, making it and its folder when missing. A store
// of an older version is copied aside and brought up to this one.
func Open(path string) (*Store, error) {
	path, err := place(path)
	if err != nil {
		return nil, err
	}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		if err := create(path, len(migrations)); err != nil {
			return nil, err
		}
	}
	return openExisting(path)
}

// OpenIfExists opens the store at path; a missing store is not an error. Where
// it cannot be written it is opened for reading.
func OpenIfExists(path string) (*Store, bool, error) {
	path, err := place(path)
	if err != nil {
		return nil, false, err
	}
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		return nil, false, nil
	}
	s, err := openExisting(path)
	return s, err == nil, err
}

// Close closes the store.
func (s *Store) Close() error {
	if s.borrowed != "" {
		defer discard(s.borrowed)
	}
	if err := s.db.Close(); err != nil {
		return s.explain(err)
	}
	return nil
}

// Where returns the path of the file.
func (s *Store) Where() string { return s.path }

// Notices is what the user is to know of the opening: names that were given anew, a
// layout that could not be brought up to date.
func (s *Store) Notices() []string { return s.notices }

// ReadOnly tells whether the store can only be read here.
func (s *Store) ReadOnly() bool { return s.readOnly }

// place makes a path absolute, so that a change of folder moves nothing.
func place(path string) (string, error) {
	if path == "" {
		return "", &fault.Fault{Kind: fault.WrongCall, What: "no file is named for the store", Expected: "the path of a file"}
	}
	abs, err := filepath.Abs(path)
	if err != nil {
		return "", &fault.Fault{Kind: fault.WrongCall, Where: path, What: "no such place for the store", Err: err}
	}
	// What a link names is the store: to replace the link would leave two of them.
	named, err := filepath.EvalSymlinks(abs)
	if err == nil {
		return named, nil
	}
	if st, e := os.Lstat(abs); e == nil && st.Mode()&fs.ModeSymlink != 0 {
		return "", &fault.Fault{Kind: fault.BadData, Where: abs, What: "this is a link to a file that is not there", Expected: "a store, or a link to one", Mend: "mend the link, or remove it; nothing was changed", Err: err}
	}
	return abs, nil
}

// dsn names a file to the driver. mode=rw never makes a file: an empty one
// would pass for an empty store.
func dsn(path, options string) string {
	return "file:" + (&url.URL{Path: filepath.ToSlash(path)}).EscapedPath() + "?" + options
}

const (
	forWriting = "mode=rw&_busy_timeout=5000&_journal_mode=WAL&_synchronous=NORMAL&_foreign_keys=on&_txlock=immediate&_dqs=0&_defensive=1"
	forReading = "mode=ro&_busy_timeout=5000&_foreign_keys=on&_dqs=0&_defensive=1"
	unchanging = forReading + "&immutable=1"
)

// connect opens a database; the driver does nothing until it is pinged.
func connect(path, options string) (*sql.DB, error) {
	db, err := sql.Open("sqlite", dsn(path, options))
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1)
	if err := db.Ping(); err != nil {
		_ = db.Close()
		return nil, err
	}
	return db, nil
}

// openExisting opens a file that is there, after finding out what it is.
func openExisting(path string) (*Store, error) {
	st, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, explain(path, err)
	case st.IsDir():
		return nil, &fault.Fault{Kind: fault.WrongCall, Where: path, What: "this is a folder", Expected: "the file of a store"}
	case !st.Mode().IsRegular():
		return nil, &fault.Fault{Kind: fault.WrongCall, Where: path, What: "this is not an ordinary file", Expected: "the file of a store"}
	case st.Size() == 0:
		return nil, &fault.Fault{Kind: fault.BadData, Where: path, What: "the store is empty: 0 bytes, though a new store never is", Expected: "a store that holds your records", Mend: mendBroken(path)}
	}
	// The first look is for reading, so that a foreign database is left as it is.
	version, err := identify(path)
	if err != nil {
		return nil, err
	}
	s := &Store{Now: time.Now, path: path}
	if writable(path) {
		s.db, err = connect(path, forWriting)
		if c := code(err); err != nil && c != codeReadOnly && c != codeCannotOpen {
			return nil, explain(path, err)
		}
	}
	if s.db == nil {
		if s.db, err = connectReading(path); err != nil {
			return nil, explain(path, err)
		}
		s.readOnly = true
	}
	if version < len(migrations) {
		if err := s.update(version); err != nil {
			_ = s.Close()
			return nil, err
		}
	}
	return s, nil
}

// update brings an older store up to today's layout. Where it cannot be written, or
// there is no room for the copy that is taken first, it can still be read.
func (s *Store) update(from int) error {
	if s.readOnly {
		return s.borrow(from)
	}
	err := s.migrate(len(migrations))
	var f *fault.Fault
	if err == nil || errors.As(err, &f) && f.Kind == fault.Busy {
		return err
	}
	if s.borrow(from) != nil {
		return err
	}
	s.notices = append(s.notices, "the store has an older layout that could not be brought up to date, so that nothing can be recorded: "+err.Error())
	return nil
}

// connectReading opens for reading where nothing may be written beside the
// file. Without a write-ahead log beside it the file is all there is.
func connectReading(path string) (*sql.DB, error) {
	db, err := connect(path, forReading)
	if err == nil {
		var n int
		if err = db.QueryRow("select count(*) from sqlite_schema").Scan(&n); err == nil {
			return db, nil
		}
		_ = db.Close()
	}
	if st, e := os.Stat(path + "-wal"); e == nil && st.Size() > 0 {
		return nil, err
	}
	return connect(path, unchanging)
}

// identify tells which version of a store a file is, or why it is none.
func identify(path string) (int, error) {
	db, err := connectReading(path)
	if err != nil {
		return 0, explain(path, err)
	}
	defer db.Close()
	var app int64
	var version int
	err = db.QueryRow("pragma application_id").Scan(&app)
	if err == nil {
		err = db.QueryRow("pragma user_version").Scan(&version)
	}
	switch {
	case err != nil:
		return 0, explain(path, err)
	case app != applicationID:
		return 0, &fault.Fault{Kind: fault.BadData, Where: path, What: "this is a database of another program", Expected: "a store made by tenter", Mend: "name another file; this one was left as it is"}
	case version > len(migrations):
		return 0, &fault.Fault{Kind: fault.BadData, Where: path, What: fmt.Sprintf("the store was made by a newer tenter (layout %d)", version),
			Expected: fmt.Sprintf("layout %d or older", len(migrations)), Mend: "use the newer tenter, or restore a backup made before; nothing was changed"}
	case version < 1:
		return 0, &fault.Fault{Kind: fault.BadData, Where: path, What: "the store names no layout", Expected: fmt.Sprintf("layout 1 to %d", len(migrations)), Mend: mendBroken(path)}
	}
	return version, nil
}
