// Package brief says an answer in the few lines that a maker needs: the verdict,
// the one or two reasons that decide, the way out, what to mind, the test that
// settles a doubt, and how much more there is to read. It chooses among what
// [advise] found; it judges nothing. Commands, pages and cards print what it chose.
//
//go:generate go test . -run TestBaseRates -update
package brief

import (
	"fmt"
	"slices"
	"strings"

	"tenter/fibres/units"
)

// Label says what a part of an answer is for.
type Label string

// The labels, in the one order that all answers have.
const (
	Finish  Label = "Finish"  // how it is made up, where nobody said
	Shell   Label = "Shell"   // cloths to choose among
	Lining  Label = "Lining"  // linings to choose among
	Refuse  Label = "Refuse"  // what to leave in the shop
	Why     Label = "Why"     // what decides: what the cloth has, and what the piece wants
	But     Label = "But"     // the reservation of a make-up that suits
	Change  Label = "Change"  // the one thing to change
	Instead Label = "Instead" // what would do in its place
	BuyIt   Label = "Buy"     // how much of each cloth
	WashIt  Label = "Wash"    // what to do with each cloth before cutting
	Sew     Label = "Sew"     // needle, stitch, thread
	Press   Label = "Press"   // how hot, and how
	Seams   Label = "Seams"   // the seam, the edge, the interfacing
	Mind    Label = "Mind"    // cautions of this make-up, then advice
	Test    Label = "Test"    // the home test that settles a doubt, and the command that records it
	Say     Label = "Say"     // a fact that only the maker knows
	Next    Label = "Next"    // the next question to ask
)

var labels = []Label{Finish, Shell, Lining, Refuse, Why, But, Change, Instead, BuyIt, WashIt, Sew, Press, Seams, Mind, Test, Say, Next}

// limits is how many entries stand under a label.
var limits = map[Label]int{Finish: 1, Lining: 1, Refuse: 1, BuyIt: 1, WashIt: 1, Sew: 1, Press: 1, Seams: 1, Why: 2, But: 1, Change: 2, Instead: 2, Mind: 4, Test: 1, Say: 1, Next: 1}

// Part is what stands under one label.
type Part struct {
	Label   Label      `json:"label"`
	Lines   []string   `json:"lines,omitempty"`
	Columns []string   `json:"columns,omitempty"` // of a table; the first column has no heading
	Rows    [][]string `json:"rows,omitempty"`
}

// Step is one step of the work, with what to mind while doing it.
type Step struct {
	Say  string   `json:"say"`
	If   bool     `json:"if,omitempty"` // only some cloths of the name need it
	Mind []string `json:"mind,omitempty"`
}

// Brief is an answer in a few lines.
type Brief struct {
	Head  string `json:"head"`
	Parts []Part `json:"parts"`
	Steps []Step `json:"steps,omitempty"` // the order of work
	Held  int    `json:"held"`            // notes that the whole answer has besides

	safe    int             // entries of Mind that stand outside its limit: safety of this make-up
	kept    int             // entries of Mind that are never left out
	against bool            // the make-up would not do
	covered map[string]bool // the matters that the answer speaks of
}

// tell puts a line of a rule or a demand under a label, unless the answer speaks of its
// matters already: of several voices on one matter the first is heard.
func (b *Brief) tell(l Label, text string, matters ...string) bool {
	for _, m := range matters {
		if m != "" && b.covered[m] {
			b.Held++
			return false
		}
	}
	before := len(b.Lines(l))
	b.add(l, text)
	if len(b.Lines(l)) == before {
		return false
	}
	b.mark(matters...)
	return true
}

// mark notes that the answer speaks of matters.
func (b *Brief) mark(matters ...string) {
	if b.covered == nil {
		b.covered = map[string]bool{}
	}
	for _, m := range matters {
		b.covered[m] = true
	}
}

// add puts a line under a label. Nothing is said twice in one answer.
func (b *Brief) add(l Label, text string) {
	text = strings.TrimSpace(text)
	if text == "" || b.says(text) {
		return
	}
	i := slices.IndexFunc(b.Parts, func(p Part) bool { return p.Label == l })
	if i < 0 {
		b.Parts = append(b.Parts, Part{Label: l})
		i = len(b.Parts) - 1
	}
	limit := limits[l]
	if l == Mind {
		limit += b.safe
	}
	if len(b.Parts[i].Lines) >= limit {
		b.Held++
		return
	}
	b.Parts[i].Lines = append(b.Parts[i].Lines, text)
}

// says reports whether a line stands in the answer already.
func (b *Brief) says(text string) bool {
	for _, p := range b.Parts {
		for _, l := range p.Lines {
			if strings.EqualFold(l, text) {
				return true
			}
		}
	}
	return strings.EqualFold(b.Head, text)
}

// done puts the parts in the order of the labels, and every measure of a sentence into
// the units asked for.
func (t Teller) done(b *Brief) Brief {
	slices.SortStableFunc(b.Parts, func(x, y Part) int { return slices.Index(labels, x.Label) - slices.Index(labels, y.Label) })
	in := func(texts []string) {
		for i := range texts {
			texts[i] = units.Prose(texts[i], t.System)
		}
	}
	b.Head = units.Prose(b.Head, t.System)
	for _, p := range b.Parts {
		in(p.Lines)
		for _, row := range p.Rows {
			in(row)
		}
	}
	for i := range b.Steps {
		b.Steps[i].Say = units.Prose(b.Steps[i].Say, t.System)
		in(b.Steps[i].Mind)
	}
	return *b
}

// Lines are the lines under a label.
func (b Brief) Lines(l Label) []string {
	for _, p := range b.Parts {
		if p.Label == l {
			return p.Lines
		}
	}
	return nil
}

// More says how much waits for whoever asks for everything; "" where nothing does.
func (b Brief) More() string {
	switch b.Held {
	case 0:
		return ""
	case 1:
		return "1 note, with figures and sources: --all"
	}
	return fmt.Sprintf("%d notes, with figures and sources: --all", b.Held)
}
