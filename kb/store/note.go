package store

import (
	"database/sql"
	"errors"
	"fmt"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

const (
	longestName = 200     // runes of a name, kind or subject
	longestText = 100_000 // bytes of a text
)

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

// name checks a short text: one line, not empty.
func name(where, s string) (string, error) {
	s = strings.Join(strings.Fields(s), " ")
	switch {
	case s == "":
		return "", wrong(where, where+" is empty", "a word")
	case !utf8.ValidString(s) || strings.ContainsFunc(s, unicode.IsControl):
		return "", wrong(where, fmt.Sprintf("%s %q holds signs that cannot be shown", where, s), "letters, figures and blanks")
	case utf8.RuneCountInString(s) > longestName:
		return "", wrong(where, fmt.Sprintf("%s has %d letters", where, utf8.RuneCountInString(s)), fmt.Sprintf("at most %d", longestName))
	}
	return s, nil
}

// text checks a long text: any lines, perhaps empty.
func text(where, s string) (string, error) {
	s = strings.TrimSpace(strings.ReplaceAll(s, "\r\n", "\n"))
	switch {
	case !utf8.ValidString(s) || strings.ContainsFunc(s, func(r rune) bool { return unicode.IsControl(r) && r != '\n' && r != '\t' }):
		return "", wrong(where, where+" holds signs that cannot be shown", "letters, figures, blanks and line ends")
	case len(s) > longestText:
		return "", wrong(where, fmt.Sprintf("%s has %d bytes", where, len(s)), fmt.Sprintf("at most %d", longestText))
	}
	return s, nil
}

// about checks what a note or mark is about.
func about(kind, subject string) (string, string, error) {
	kind, err := name("kind", kind)
	if err != nil {
		return "", "", err
	}
	subject, err = name("subject", subject)
	return kind, subject, err
}

// AddNote records a note.
func (s *Store) AddNote(kind, subject, words string) (Note, error) {
	var n Note
	kind, subject, err := about(kind, subject)
	if err != nil {
		return n, err
	}
	words, err = noteText(words)
	if err != nil {
		return n, err
	}
	err = s.change(func(t *tx) (string, error) {
		id, err := t.insert("note", record{"kind": kind, "subject": subject, "text": words, "created": t.now, "changed": t.now})
		n = Note{ID: id, Kind: kind, Subject: subject, Text: words, Created: moment(t.now), Changed: moment(t.now)}
		return fmt.Sprintf("note on %s %s added", kind, subject), err
	})
	if err != nil {
		return Note{}, err
	}
	return n, nil
}

func noteText(words string) (string, error) {
	words, err := text("note", words)
	if err == nil && words == "" {
		return "", wrong("note", "the note is empty", "what you want to remember")
	}
	return words, err
}

// Notes lists notes, oldest first; empty words match anything.
func (s *Store) Notes(kind, subject string) ([]Note, error) {
	rows, err := s.db.Query(`select id, kind, subject, text, created, changed from note
		where (?1 = '' or kind = ?1) and (?2 = '' or subject = ?2) order by created, id`, kind, subject)
	if err != nil {
		return nil, s.explain(err)
	}
	defer rows.Close()
	var out []Note
	for rows.Next() {
		var n Note
		var created, changed int64
		if err := rows.Scan(&n.ID, &n.Kind, &n.Subject, &n.Text, &created, &changed); err != nil {
			return nil, s.explain(err)
		}
		n.Created, n.Changed = moment(created), moment(changed)
		out = append(out, n)
	}
	return out, s.explain(rows.Err())
}

// EditNote replaces the text of a note.
func (s *Store) EditNote(id int64, words string) error {
	words, err := noteText(words)
	if err != nil {
		return err
	}
	return s.change(func(t *tx) (string, error) {
		var old string
		err := t.QueryRow("select text from note where id = ?", id).Scan(&old)
		if errors.Is(err, sql.ErrNoRows) {
			return "", notFound(fmt.Sprintf("there is no note %d", id))
		}
		if err != nil || old == words {
			return "", err
		}
		_, err = t.update("note", id, record{"text": words, "changed": t.now})
		return fmt.Sprintf("note %d edited", id), err
	})
}

// RemoveNote removes a note.
func (s *Store) RemoveNote(id int64) error {
	return s.change(func(t *tx) (string, error) {
		there, err := t.remove("note", id)
		if err == nil && !there {
			err = notFound(fmt.Sprintf("there is no note %d", id))
		}
		return fmt.Sprintf("note %d removed", id), err
	})
}

// Favourite marks a thing; marking it twice changes nothing.
func (s *Store) Favourite(kind, subject string) error {
	kind, subject, err := about(kind, subject)
	if err != nil {
		return err
	}
	return s.change(func(t *tx) (string, error) {
		there, err := t.ids("select id from favourite where kind = ? and subject = ?", kind, subject)
		if err != nil || len(there) > 0 {
			return "", err
		}
		_, err = t.insert("favourite", record{"kind": kind, "subject": subject, "created": t.now})
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
			return "", notFound(fmt.Sprintf("%s %s is no favourite", kind, subject))
		}
		_, err = t.remove("favourite", there[0])
		return fmt.Sprintf("%s %s no longer a favourite", kind, subject), err
	})
}

// Favourites lists the marks, oldest first.
func (s *Store) Favourites() ([]Favourite, error) {
	rows, err := s.db.Query("select kind, subject, created from favourite order by created, id")
	if err != nil {
		return nil, s.explain(err)
	}
	defer rows.Close()
	var out []Favourite
	for rows.Next() {
		var f Favourite
		var created int64
		if err := rows.Scan(&f.Kind, &f.Subject, &created); err != nil {
			return nil, s.explain(err)
		}
		f.Created = moment(created)
		out = append(out, f)
	}
	return out, s.explain(rows.Err())
}
