package fibres

import (
	"encoding/json"
	"fmt"
	"math/bits"
	"slices"
	"strings"

	"tenter/fibres/table"
)

// Basis says what a value rests on. The order is the order of trust.
type Basis string

// The bases, best first.
const (
	Measured  Basis = "measured"  // the user's own measurement
	Published Basis = "published" // a source that was read
	Memory    Basis = "memory"    // a named publication, not read here
	Practice  Basis = "practice"  // common practice, no source
	Derived   Basis = "derived"   // computed here from other values
	Unknown   Basis = "unknown"   // nothing is known
)

// rank orders bases for sorting, best first.
func (b Basis) rank() int {
	for i, x := range []Basis{Measured, Published, Memory, Practice, Derived} {
		if x == b {
			return i
		}
	}
	return 5
}

// Bases are the words a data file may use.
var Bases = []string{string(Published), string(Memory), string(Practice)}

// Given says which of the three figures of a row its source gives; the others are
// ours. A source that calls a cloth soft gives the word, not a band round it.
type Given uint8

// What a source may give.
const (
	GivesLow Given = 1 << iota
	GivesTypical
	GivesHigh
	GivesWord // a name or an adjective alone: all three figures are ours

	GivesAll = GivesLow | GivesTypical | GivesHigh
)

// givenWords are the words of the column given, in the order of the bits.
var givenWords = []string{"low", "typical", "high", "word"}

// givenOf reads a cell of the column given: "low; high", "word".
func givenOf(text string) (Given, bool) {
	var g Given
	for _, w := range table.List(text) {
		i := slices.Index(givenWords, w)
		if i < 0 {
			return 0, false
		}
		g |= 1 << i
	}
	return g, g&GivesWord == 0 || g == GivesWord
}

// words lists what is given, in the order low, typical, high.
func (g Given) words() []string {
	out := []string{}
	for i, w := range givenWords {
		if g&(1<<i) != 0 {
			out = append(out, w)
		}
	}
	return out
}

// Figures counts the figures that the source gives, 0 to 3.
func (g Given) Figures() int { return bits.OnesCount8(uint8(g & GivesAll)) }

// MarshalJSON writes the list of what the source gives: ["low","high"].
func (g Given) MarshalJSON() ([]byte, error) { return json.Marshal(g.words()) }

// UnmarshalJSON reads the list back.
func (g *Given) UnmarshalJSON(b []byte) error {
	var words []string
	if err := json.Unmarshal(b, &words); err != nil {
		return err
	}
	got, ok := givenOf(strings.Join(words, "; "))
	if !ok {
		return fmt.Errorf("a source gives some of %s, not %q", strings.Join(givenWords, ", "), words)
	}
	*g = got
	return nil
}

// Stated is the basis of what a row's source says at all: where it gives only a word,
// that of the word. It orders the rows of one fact; it never vouches for a figure.
func (e Estimate) Stated() Basis {
	if e.Word != "" {
		return e.Word
	}
	return e.Basis
}

// Rests says what an estimate rests on: "published"; "published; low and high ours";
// "published word, figures ours".
func (e Estimate) Rests() string {
	if e.Word != "" {
		return string(e.Word) + " word, figures ours"
	}
	if e.Given == 0 || e.Given == GivesAll || e.Basis != Published && e.Basis != Memory {
		return string(e.Basis)
	}
	ours := (GivesAll &^ e.Given).words()
	return string(e.Basis) + "; " + strings.Join(ours, " and ") + " ours"
}

// derived is the estimate as worked out from rows: what their sources gave no longer
// vouches for its figures.
func (e Estimate) derived(because string) Estimate {
	e.Because, e.Basis, e.Word, e.Given = because, Derived, "", 0
	return e
}
