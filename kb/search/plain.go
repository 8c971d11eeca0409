package search

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// letters are those that are no accented form of another, as they are typed where
// the keyboard has none of them.
var letters = strings.NewReplacer("ß", "ss", "ẞ", "SS", "æ", "ae", "Æ", "AE", "ǽ", "ae", "œ", "oe", "Œ", "OE", "ø", "o", "Ø", "O", "đ", "d", "Đ", "D", "ð", "d", "Ð", "D",
	"þ", "th", "Þ", "TH", "ł", "l", "Ł", "L", "ı", "i", "ħ", "h", "Ħ", "H", "ŧ", "t", "Ŧ", "T", "ŋ", "n", "Ŋ", "N", "ĸ", "q", "ſ", "s", "ə", "a")

// plain takes accents off and parts ligatures: "crêpe" and "crepe" are one word,
// whether the accent is a sign of its own or not.
func plain(s string) string {
	s = strings.Map(func(r rune) rune {
		if unicode.Is(unicode.Mn, r) {
			return -1
		}
		return r
	}, norm.NFKD.String(s))
	return letters.Replace(s)
}
