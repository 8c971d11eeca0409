package store

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"
	"syscall"

	"modernc.org/sqlite"

	"tenter/fibres/fault"
)

// Codes of SQLite that a user can do something about.
const (
	codeError      = 1 // a statement that does not fit the tables
	codeBusy       = 5
	codeLocked     = 6
	codeReadOnly   = 8
	codeInputError = 10
	codeCorrupt    = 11
	codeFull       = 13
	codeCannotOpen = 14
	codeConstraint = 19
	codeNotADB     = 26
)

// code is the primary code of a SQLite error, 0 for any other.
func code(err error) int {
	var e *sqlite.Error
	if errors.As(err, &e) {
		return e.Code() & 0xff
	}
	return 0
}

func (s *Store) explain(err error) error { return explain(s.path, err) }

// explain turns an error of the file into one that says what to do.
func explain(path string, err error) error {
	if err == nil {
		return nil
	}
	var already *fault.Fault
	var list fault.List
	if errors.As(err, &already) || errors.As(err, &list) {
		return err
	}
	f := &fault.Fault{Where: path, Err: err}
	c := code(err)
	switch {
	case c == codeBusy || c == codeLocked:
		f.Kind = fault.Busy
		f.What = "the store is in use by " + holder(path)
		f.Expected = "its turn within 5 seconds"
		f.Mend = "wait until that is done, then do it again; nothing was changed"
	case c == codeReadOnly || errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EROFS):
		f.Kind = fault.Internal
		f.What = "the store cannot be written here"
		f.Expected = "a file and a folder that you may write to"
		f.Mend = "change their permissions or name another file; nothing was changed"
	case c == codeFull || noRoom(err) || c == codeInputError && fullBeside(path):
		f.Kind = fault.Internal
		f.What = "the disk is full"
		f.Mend = "make room, then do it again; nothing was changed"
	case c == codeNotADB:
		f.Kind = fault.BadData
		f.What = "this is not a store: it is not a database, or its beginning is damaged"
		f.Expected = "a store made by tenter"
		f.Mend = mendBroken(path)
	case c == codeCorrupt:
		f.Kind = fault.BadData
		f.What = "the store is damaged"
		f.Expected = "a whole file"
		f.Mend = mendBroken(path)
	case errors.Is(err, syscall.ENAMETOOLONG):
		f.Kind = fault.WrongCall
		f.Where = path[:min(len(path), 60)] + "…"
		f.What = "the name of the file is too long"
		f.Expected = "a path whose every part has at most 255 letters"
	case c == codeCannotOpen || errors.Is(err, fs.ErrNotExist):
		f.Kind = fault.Internal
		f.What = "the store cannot be opened"
		f.Expected = "a file in a folder that you may read"
	case c == codeInputError:
		f.Kind = fault.Internal
		f.What = "the disk gave an error"
		f.Mend = "check the disk, then make a backup at once"
	default:
		f.Kind = fault.Internal
		f.What = "the store refused: " + err.Error()
	}
	return f
}

func noRoom(err error) bool {
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT)
}

// fullBeside tells whether there is no room for a file beside another: SQLite calls it
// an error of the disk where it cannot make the files that go with a store.
func fullBeside(path string) bool {
	f, err := os.CreateTemp(filepath.Dir(path), temporary)
	if err != nil {
		return noRoom(err)
	}
	defer os.Remove(f.Name())
	_, err = f.Write(make([]byte, 64<<10))
	return noRoom(errors.Join(err, f.Close()))
}

// mendBroken says what to do about a file that does not open.
func mendBroken(path string) string {
	if b := newestBackup(path); b != "" {
		return fmt.Sprintf("restore the backup %s; the broken file is kept aside", b)
	}
	return "restore a backup, or move the file away to begin a new store"
}

// newestBackup is the backup that tenter made last, "" when there is none.
func newestBackup(path string) string {
	es, err := os.ReadDir(backupDir(path))
	if err != nil {
		return ""
	}
	type file struct {
		path string
		at   int64
	}
	var fs []file
	for _, e := range es {
		if st, err := e.Info(); err == nil && st.Mode().IsRegular() && strings.HasSuffix(e.Name(), ".db") {
			fs = append(fs, file{filepath.Join(backupDir(path), e.Name()), st.ModTime().UnixNano()})
		}
	}
	if len(fs) == 0 {
		return ""
	}
	sort.Slice(fs, func(i, j int) bool { return fs[i].at > fs[j].at })
	return fs[0].path
}

func notFound(what string) *fault.Fault {
	return &fault.Fault{Kind: fault.NotFound, What: what}
}
