package record

import (
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

// Name checks a short text: one line, not empty.
func Name(where, s string) (string, error) {
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

// Text checks a long text: any lines, perhaps empty.
func Text(where, s string) (string, error) {
	s = strings.TrimSpace(strings.ReplaceAll(s, "\r\n", "\n"))
	switch {
	case !utf8.ValidString(s) || strings.ContainsFunc(s, func(r rune) bool { return unicode.IsControl(r) && r != '\n' && r != '\t' }):
		return "", wrong(where, where+" holds signs that cannot be shown", "letters, figures, blanks and line ends")
	case len(s) > longestText:
		return "", wrong(where, fmt.Sprintf("%s has %d bytes", where, len(s)), fmt.Sprintf("at most %d", longestText))
	}
	return s, nil
}

// About checks what a note or mark is about.
func About(kind, subject string) (string, string, error) {
	kind, err := Name("kind", kind)
	if err != nil {
		return "", "", err
	}
	subject, err = Name("subject", subject)
	return kind, subject, err
}

// NoteText checks the text of a note.
func NoteText(words string) (string, error) {
	words, err := Text("note", words)
	if err == nil && words == "" {
		return "", wrong("note", "the note is empty", "what you want to remember")
	}
	return words, err
}
