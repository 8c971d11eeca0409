// Package written runs what is written of a record together, so that a keeper of
// records can pass over those that do not hold the beginning of a word.
package written

import "strings"

// Run is the letters and figures of texts, in lower case, a blank after each text:
// what does not hold the beginning of a word does not hold the word. It is empty
// where any text has a sign outside ASCII, which may be folded to a letter.
func Run(texts ...string) string {
	var b strings.Builder
	n := 0
	for _, s := range texts {
		n += len(s) + 1
	}
	b.Grow(n)
	for _, s := range texts {
		for i := 0; i < len(s); i++ {
			switch c := s[i]; {
			case c >= 'A' && c <= 'Z':
				b.WriteByte(c + 'a' - 'A')
			case c >= 'a' && c <= 'z', c >= '0' && c <= '9':
				b.WriteByte(c)
			case c >= 0x80:
				return ""
			}
		}
		b.WriteByte(' ')
	}
	return b.String()
}
