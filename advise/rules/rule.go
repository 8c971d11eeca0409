package rules

import (
	"tenter/fibres/fault"
	"tenter/fibres/prose"
)

// Effect is what a rule does when it speaks.
type Effect int

// The effects, from the strongest to the mildest.
const (
	Forbids Effect = iota // it will not work, or it hurts
	Against               // a poor choice
	For                   // a good choice
	Caution               // take care
	Do                    // a step of the work
)

var effectWords = []string{"forbids", "against", "for", "caution", "do"}

// String is the word that stands in a rule.
func (e Effect) String() string {
	if e < 0 || int(e) >= len(effectWords) {
		return "unknown effect"
	}
	return effectWords[e]
}

// MarshalText writes the word, also for JSON.
func (e Effect) MarshalText() ([]byte, error) { return []byte(e.String()), nil }

// UnmarshalText reads the word.
func (e *Effect) UnmarshalText(b []byte) error {
	for i, w := range effectWords {
		if w == string(b) {
			*e = Effect(i)
			return nil
		}
	}
	return &fault.Fault{Kind: fault.BadData, What: `effect is "` + string(b) + `"`, Expected: prose.Or(effectWords),
		Mend: fault.DidYouMean(string(b), effectWords, "")}
}

// HarmWords say what each harm from 1 to 5 spoils.
var HarmWords = [6]string{"not said", "time or money", "it looks wrong", "the piece fails or loses its shape", "the cloth is ruined past mending", "a person is hurt"}

// Step is what a rule does to the order of work: it adds a step, moves one,
// drops one, or says one anew. One of the first four is set.
type Step struct {
	Add   string `json:"add,omitempty"`
	Move  string `json:"move,omitempty"`
	Drop  string `json:"drop,omitempty"`
	Say   string `json:"say,omitempty"`
	After string `json:"after,omitempty"`
	// Before is the step that the added or moved one must precede.
	Before string `json:"before,omitempty"`
}

// Rule is one piece of advice.
type Rule struct {
	ID       string
	Place    string // file:line:column of its block
	House    bool   // the user's own
	Effect   Effect
	Matter   string // what it is about, by id; "" where a house rule does not say
	Harm     int    // what is spoiled if it is ignored, 1 to 5, see [HarmWords]; 0 where a house rule does not say
	Say      string
	Because  string
	Basis    string
	Sources  []string
	Step     *Step
	Replaces string
	Fires    []string // cases in which it must speak
	Quiet    []string // cases in which it must not

	Parts Parts // what the conditions came to; made by [Load]
}

// Parts is what the conditions of a rule came to. It is exported so that loaded
// rules can be compiled in as literals; nobody else need look at it.
type Parts struct {
	Conds   []Cond // the cheapest first
	Written []Cond // in the order of when
	When    []When
	Lines   []int    // the line of each
	About   string   // seam, edge, interfacing or ""
	Facts   []int    // the facts the conditions name, in the order of their places, each once
	Names   []string // their names
}

// When is one condition as it was written.
type When struct {
	Fact  string // "lining.fray"
	Words string // "at least medium"
	Place string // of the words
}

// String writes the condition as one line.
func (w When) String() string { return w.Fact + " = " + w.Words }

// Bare leaves out how and where the conditions are written, for conditions that are asked
// and never told: compiled in, that is most of them.
func (r *Rule) Bare() *Rule {
	if r != nil {
		r.Place, r.Parts.Written, r.Parts.When, r.Parts.Lines = "", nil, nil, nil
	}
	return r
}

// When lists the conditions as they were written, in that order.
func (r *Rule) When() []When { return r.Parts.When }

// About says which candidates the rule judges: "seam", "edge" or
// "interfacing", whichever its conditions name first; "" when it judges the
// make-up as a whole.
func (r *Rule) About() string { return r.Parts.About }

// Facts lists the places of the facts that the conditions name, in order.
func (r *Rule) Facts() []int { return r.Parts.Facts }
