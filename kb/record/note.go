package record

import (
	"fmt"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
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

// Name checks a short text: one line, not empty. An accent is made one letter with
// what it stands on, so that what looks alike is kept alike.
func Name(where, s string) (string, error) {
	s = norm.NFC.String(strings.Join(strings.Fields(s), " "))
	switch {
	case s == "":
		return "", wrong(where, where+" is empty", "a word")
	case !utf8.ValidString(s) || strings.ContainsFunc(s, unicode.IsControl):
		return "", wrong(where, fmt.Sprintf("%s %q holds signs that cannot be shown", where, s), "letters, figures and blanks")
	case strings.ContainsFunc(s, unseen):
		i := strings.IndexFunc(s, unseen)
		r, _ := utf8.DecodeRuneInString(s[i:])
		return "", wrong(where, fmt.Sprintf("%s %q holds a sign that is not seen (U+%04X): two that look alike would be two", where, s, r), "letters, figures and blanks")
	case utf8.RuneCountInString(s) > longestName:
		return "", wrong(where, fmt.Sprintf("%s has %d letters", where, utf8.RuneCountInString(s)), fmt.Sprintf("at most %d", longestName))
	}
	return s, nil
}

// unseen reports signs that take no room: of no width, of direction, variation
// selectors and the like. Joiners are seen in the letters that they join.
func unseen(r rune) bool {
	return r != '\u200c' && r != '\u200d' && (unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Variation_Selector, r) || r == '\u034f' || r == '\u2028' || r == '\u2029')
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
