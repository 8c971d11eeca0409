package store

import (
	"database/sql"
	"errors"
	"fmt"

	"tenter/kb/record"
)

// AddNote records a note.
func (s *Store) AddNote(kind, subject, words string) (record.Note, error) {
	var n record.Note
	kind, subject, err := record.About(kind, subject)
	if err != nil {
		return n, err
	}
	words, err = record.NoteText(words)
	if err != nil {
		return n, err
	}
	err = s.change(func(t *tx) (string, error) {
		id, err := t.insert("note", row{"kind": kind, "subject": subject, "text": words, "created": t.now, "changed": t.now})
		n = record.Note{ID: id, Kind: kind, Subject: subject, Text: words, Created: record.Moment(t.now), Changed: record.Moment(t.now)}
		return fmt.Sprintf("note on %s %s added", kind, subject), err
	})
	if err != nil {
		return record.Note{}, err
	}
	return n, nil
}

// Notes lists notes, oldest first; empty words match anything.
func (s *Store) Notes(kind, subject string) ([]record.Note, error) {
	rows, err := s.db.Query(`select id, kind, subject, text, created, changed from note
		where (?1 = '' or kind = ?1) and (?2 = '' or subject = ?2) order by created, id`, kind, subject)
	if err != nil {
		return nil, s.explain(err)
	}
	defer rows.Close()
	var out []record.Note
	for rows.Next() {
		var n record.Note
		var created, changed int64
		if err := rows.Scan(&n.ID, &n.Kind, &n.Subject, &n.Text, &created, &changed); err != nil {
			return nil, s.explain(err)
		}
		n.Created, n.Changed = record.Moment(created), record.Moment(changed)
		out = append(out, n)
	}
	return out, s.explain(rows.Err())
}

// EditNote replaces the text of a note.
func (s *Store) EditNote(id int64, words string) error {
	words, err := record.NoteText(words)
	if err != nil {
		return err
	}
	return s.change(func(t *tx) (string, error) {
		var old string
		err := t.QueryRow("select text from note where id = ?", id).Scan(&old)
		if errors.Is(err, sql.ErrNoRows) {
			return "", record.NoNote(id)
		}
		if err != nil || old == words {
			return "", err
		}
		_, err = t.update("note", id, row{"text": words, "changed": t.now})
		return fmt.Sprintf("note %d edited", id), err
	})
}

// RemoveNote removes a note.
func (s *Store) RemoveNote(id int64) error {
	return s.change(func(t *tx) (string, error) {
		there, err := t.remove("note", id)
		if err == nil && !there {
			err = record.NoNote(id)
		}
		return fmt.Sprintf("note %d removed", id), err
	})
}

// Favourite marks a thing; marking it twice changes nothing.
func (s *Store) Favourite(kind, subject string) error {
	kind, subject, err := record.About(kind, subject)
	if err != nil {
		return err
	}
	return s.change(func(t *tx) (string, error) {
		there, err := t.ids("select id from favourite where kind = ? and subject = ?", kind, subject)
		if err != nil || len(there) > 0 {
			return "", err
		}
		_, err = t.insert("favourite", row{"kind": kind, "subject": subject, "created": t.now})
		return fmt.Sprintf("%s %s made a favourite", kind, subject), err
	})
}

// Unfavourite takes the mark away.
func (s *Store) Unfavourite(kind, subject string) error {
	return s.change(func(t *tx) (string, error) {
		there, err := t.ids("select id from favourite where kind = ? and subject = ?", kind, subject)
		if err != nil {
			return "", err
		}
		if len(there) == 0 {
			return "", record.NoFavourite(kind, subject)
		}
		_, err = t.remove("favourite", there[0])
		return fmt.Sprintf("%s %s no longer a favourite", kind, subject), err
	})
}

// Favourites lists the marks, oldest first.
func (s *Store) Favourites() ([]record.Favourite, error) {
	rows, err := s.db.Query("select kind, subject, created from favourite order by created, id")
	if err != nil {
		return nil, s.explain(err)
	}
	defer rows.Close()
	var out []record.Favourite
	for rows.Next() {
		var f record.Favourite
		var created int64
		if err := rows.Scan(&f.Kind, &f.Subject, &created); err != nil {
			return nil, s.explain(err)
		}
		f.Created = record.Moment(created)
		out = append(out, f)
	}
	return out, s.explain(rows.Err())
}
