package search

// Fold splits a text into the words that the index knows: lower case, accents
// off, one spelling for the UK and the US.
func Fold(s string) []string { return tokens(s, 0) }

// Stem takes the endings off a folded word, as the index does.
func Stem(w string) string { return stem(w) }

// What an index needs to write down the same words that are asked for.

// Stems takes the endings off folded words.
func Stems(words []string) []string { return stems(words) }

// Key is what two names have in common that count as the same: "broad cloths" and
// "broadcloth".
func Key(words []string) string { return key(words) }

// Joined runs words together.
func Joined(words []string) string { return joined(words) }

// Edges lists the beginnings of a word, up to most runes long.
func Edges(w string, limit int) []string { return edges(w, limit) }

// Cut returns the first n runes.
func Cut(s string, n int) string { return cut(s, n) }

// Edits is how many slips a word may hold and still be guessed.
func Edits(w string) int { return edits(w) }

// LongestLead is how many runes of the beginning of a name are looked at.
const LongestLead = 20

// Unique drops empty and repeated words and keeps the order.
func Unique(words []string) []string {
	seen := make(map[string]bool, len(words))
	out := make([]string, 0, len(words))
	for _, w := range words {
		if w != "" && !seen[w] {
			seen[w] = true
			out = append(out, w)
		}
	}
	return out
}

// Tier is how strongly an entry answers a query, the whole part of a score.
type Tier int

// The tiers that a caller may tell apart.
const (
	Partly  Tier = tierSome  // some of the words
	Guessed Tier = tierNear  // the spelling had to be guessed
	Also    Tier = tierAlso  // every word, some by what they stand for
	Text    Tier = tierText  // every word, some in the text
	Words   Tier = tierWords // every word in the names
	Lead    Tier = tierLead  // the beginning of a name
	Other   Tier = tierOther // another name, or the name itself above it
)

// Tier tells how strongly the hit answers the query.
func (h Hit) Tier() Tier { return Tier(h.Score) }
