// Package written runs what is written of a record together, so that a keeper of
// records can pass over those that do not hold the beginning of a word.
package written

import "strings"

// Run is the letters and figures of texts, in lower case, a blank after each text:
// what does not hold the beginning of a word does not hold the word. It is empty
// where any text has a sign outside ASCII, which may be folded to a letter.
func Run(texts ...string) string {
	n := 0
	for _, s := range texts {
		n += len(s) + 1
	}
	b := make([]byte, 0, n)
	for _, s := range texts {
		for i := 0; i < len(s); i++ {
			switch c := s[i]; {
			case c >= 'A' && c <= 'Z':
				b = append(b, c+'a'-'A')
			case c >= 'a' && c <= 'z', c >= '0' && c <= '9':
				b = append(b, c)
			case c >= 0x80:
				return ""
			}
		}
		b = append(b, ' ')
	}
	return string(b)
}

// Needs are what records must hold: what is written of them, one of the pieces of a
// word (small letters and figures of ASCII, whatever sign stands inside), for so many
// of the words.
type Needs struct {
	Words   [][]string
	AtLeast int // of Words
	// Whole narrows them where pieces stand in many records that hold none of the words:
	// of each word one of the patterns must fit a text in small letters, with a blank on
	// both sides and without apostrophes, unless the run of letters begins with one of Begins.
	Whole  [][]string
	Begins []string
	Few    int // any so many will do; 0 = all
}

// Ends is the pattern, as globs are written, of a text in which a word begins with a piece
// and goes on as an ending of English does, or not at all.
func Ends(piece string) string {
	never, last := noEnding, piece[len(piece)-1:]
	if last == "e" {
		last = "d" // "file" is the stem of "filed"
	}
	never = strings.ReplaceAll(never, last, "") // "hop" is the stem of "hopping"
	return "*" + piece + "[^" + never + "]*"
}

// noEnding are the letters and figures with which no ending begins that a stemmer takes off.
const noEnding = "bcdghjkpqrtuvwxz0123456789"
