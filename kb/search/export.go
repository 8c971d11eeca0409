package search

// Fold splits a text into the words that the index knows: lower case, accents
// off, one spelling for the UK and the US.
func Fold(s string) []string { return tokens(s, 0) }

// Stem takes the endings off a folded word, as the index does.
func Stem(w string) string { return stem(w) }

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
