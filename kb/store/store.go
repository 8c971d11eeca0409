// Package store keeps what this user knows: notes, favourites, swatches, what
// was measured on them, how make-ups wore, and settings. It is one SQLite
// file; every change can be undone.
package store

import (
	"database/sql"
	"errors"
	"time"
)

// Store is an open store.
type Store struct {
	Now func() time.Time // the clock; time.Now unless replaced

	db   *sql.DB
	path string
}

// Note is something the user wrote about a thing.
type Note struct {
	ID      int64
	Kind    string // what it is about: cloth, piece, swatch …
	Subject string // its id
	Text    string
	Created time.Time
	Changed time.Time
}

// Favourite is a thing the user marked.
type Favourite struct {
	Kind, Subject string
	Created       time.Time
}

// Report is what Check found.
type Report struct {
	Path     string
	Version  int            // of the file's layout
	Bytes    int64          // size of the file
	Counts   map[string]int // rows of each table
	Problems []string       // empty when the store is sound
}

// Open opens the store at path, making it and its folder when missing.
func Open(path string) (*Store, error) { return nil, errors.ErrUnsupported }

// OpenIfExists opens the store at path; a missing store is not an error.
func OpenIfExists(path string) (*Store, bool, error) { return nil, false, errors.ErrUnsupported }

// Close closes the store.
func (s *Store) Close() error { return errors.ErrUnsupported }

// AddNote records a note.
func (s *Store) AddNote(kind, subject, text string) (Note, error) {
	return Note{}, errors.ErrUnsupported
}

// Notes lists notes, oldest first; empty words match anything.
func (s *Store) Notes(kind, subject string) ([]Note, error) { return nil, errors.ErrUnsupported }

// EditNote replaces the text of a note.
func (s *Store) EditNote(id int64, text string) error { return errors.ErrUnsupported }

// RemoveNote removes a note.
func (s *Store) RemoveNote(id int64) error { return errors.ErrUnsupported }

// Favourite marks a thing; marking it twice changes nothing.
func (s *Store) Favourite(kind, subject string) error { return errors.ErrUnsupported }

// Unfavourite takes the mark away.
func (s *Store) Unfavourite(kind, subject string) error { return errors.ErrUnsupported }

// Favourites lists the marks, oldest first.
func (s *Store) Favourites() ([]Favourite, error) { return nil, errors.ErrUnsupported }

// Undo takes back the last change and says which it was.
func (s *Store) Undo() (string, error) { return "", errors.ErrUnsupported }

// Backup writes a checked copy to a new file.
func (s *Store) Backup(to string) error { return errors.ErrUnsupported }

// Restore replaces what the store holds by a backup; the replaced state is
// kept in the file it names.
func (s *Store) Restore(from string) (aside string, err error) { return "", errors.ErrUnsupported }

// Check examines the whole file.
func (s *Store) Check() (Report, error) { return Report{}, errors.ErrUnsupported }

// Where returns the path of the file.
func (s *Store) Where() string { return s.path }
