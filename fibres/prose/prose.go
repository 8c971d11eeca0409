// Package prose is the grammar that every answer needs: capitals, plurals, counts,
// articles, and lists that end in "and" or "or".
package prose

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Upper makes a sentence begin with a capital.
func Upper(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if r == utf8.RuneError {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// Lower takes the capital from the beginning of a sentence that goes on behind
// other words. An abbreviation ("UV", "3-D") keeps its capitals.
func Lower(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if next, _ := utf8.DecodeRuneInString(s[n:]); r == utf8.RuneError || unicode.IsUpper(next) {
		return s
	}
	return string(unicode.ToLower(r)) + s[n:]
}

// And joins words as "a, b and c".
func And(words []string) string { return join(words, " and ") }

// Or joins words as "a, b or c".
func Or(words []string) string { return join(words, " or ") }

func join(words []string, last string) string {
	n := len(words)
	if n < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:n-1], ", ") + last + words[n-1]
}

// Plural is the noun for several: "cloths", "finishes", "poplins", "berries".
func Plural(noun string) string {
	for _, end := range []string{"s", "x", "z", "ch", "sh"} {
		if strings.HasSuffix(noun, end) {
			return noun + "es"
		}
	}
	if stem, ok := strings.CutSuffix(noun, "y"); ok && stem != "" && !strings.ContainsRune("aeiou", rune(stem[len(stem)-1])) {
		return stem + "ies"
	}
	return noun + "s"
}

// Singular puts each of the words in one number and small letters: "summer dresses" is
// "summer dress", to compare names with.
func Singular(words string) string {
	fields := strings.Fields(strings.ToLower(words))
	for i, w := range fields {
		if w = strings.TrimSuffix(w, "'s"); len(w) > 4 && strings.HasSuffix(w, "sses") {
			w = strings.TrimSuffix(w, "es")
		} else if len(w) > 3 && strings.HasSuffix(w, "s") && !strings.HasSuffix(w, "ss") {
			w = strings.TrimSuffix(w, "s")
		}
		if strings.HasSuffix(w, "ve") && len(w) > 4 { // scarves, loaves
			w = strings.TrimSuffix(w, "ve") + "f"
		}
		fields[i] = w
	}
	return strings.Join(fields, " ")
}

// Count is a number with its noun: "1 row", "3 rows".
func Count(n int, noun string) string {
	if n != 1 {
		noun = Plural(noun)
	}
	return strconv.Itoa(n) + " " + noun
}

// pairs are garments that are spoken of in the plural alone.
var pairs = []string{"trousers", "breeches", "leggings", "pyjamas", "dungarees", "shorts", "tights"}

// inPairs reports whether a piece is spoken of in the plural alone: "knee breeches".
func inPairs(noun string) bool {
	return slices.ContainsFunc(pairs, func(p string) bool { return strings.HasSuffix(noun, p) })
}

// Verb is the form of a verb that goes with a noun: "a cape wants", "pyjamas want".
func Verb(noun, one, many string) string {
	if inPairs(noun) {
		return many
	}
	return one
}

// A puts the indefinite article before a noun: "a cape", "an apron", "a uniform"; it
// leaves "pyjamas" as they are.
func A(noun string) string {
	if inPairs(noun) {
		return noun
	}
	if noun != "" && strings.ContainsRune("aeiou", rune(noun[0])) && !strings.HasPrefix(noun, "uni") {
		return "an " + noun
	}
	return "a " + noun
}
