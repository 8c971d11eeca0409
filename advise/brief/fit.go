package brief

import (
	"slices"
	"strings"
	"unicode/utf8"
)

// Budget is how long an answer may be, as it is printed at 80 columns.
type Budget struct{ Lines, Words int }

// The budgets of the answers.
var (
	BudgetCheck  = Budget{18, 150}
	BudgetAdvise = Budget{40, 350}
	BudgetPair   = Budget{14, 130}
	BudgetShow   = Budget{24, 200}
)

// The columns of an answer as it is printed: a label, what stands behind it, a step.
const (
	columns   = 80
	labelWide = 9
	stepWide  = 6
)

// fit leaves out the least of an answer until it is within its budget. What keeps
// somebody from harm, the verdict, the first reason and the settings stay.
func (b *Brief) fit(max Budget) {
	for b.Words() > max.Words || b.Height() > max.Lines {
		if !b.shorten() {
			return
		}
	}
}

// shorten leaves out one thing, the least first, and reports whether there was one.
func (b *Brief) shorten() bool {
	return b.drop(Mind, b.kept+1) || b.drop(Instead, 1) || b.drop(Why, 1) || b.drop(Mind, b.kept) ||
		b.dropSteps() || b.shortenStep() || b.dropDoubtful() || b.firstOnly(But) || b.firstOnly(Why) || b.drop(Say, 0)
}

// drop takes the last line from under a label that has more than so many.
func (b *Brief) drop(l Label, keep int) bool {
	for i := range b.Parts {
		p := &b.Parts[i]
		if p.Label != l || len(p.Lines) <= keep {
			continue
		}
		p.Lines = p.Lines[:len(p.Lines)-1]
		b.Held++
		if len(p.Lines) == 0 {
			b.Parts = append(b.Parts[:i], b.Parts[i+1:]...)
		}
		return true
	}
	return false
}

// shortenStep leaves the longest step of several sentences its first.
func (b *Brief) shortenStep() bool {
	at, longest := -1, 0
	for i, s := range b.Steps {
		if n := len(strings.Fields(s.Say)); n > longest && firstSentences(s.Say, 0) != s.Say {
			at, longest = i, n
		}
	}
	if at < 0 {
		return false
	}
	b.Steps[at].Say = firstSentences(b.Steps[at].Say, 0)
	return true
}

// dropSteps leaves out the order of work of what would not do anyway.
func (b *Brief) dropSteps() bool {
	if !b.against || b.Steps == nil {
		return false
	}
	b.Held += len(b.Steps)
	b.Steps = nil
	return true
}

// dropDoubtful leaves out the last step that only some cloths of the name need.
func (b *Brief) dropDoubtful() bool {
	for i := len(b.Steps) - 1; i >= 0; i-- {
		if s := b.Steps[i]; s.If && len(s.Mind) == 0 {
			b.Steps = slices.Delete(b.Steps, i, i+1)
			b.Held++
			return true
		}
	}
	return false
}

// firstOnly leaves the lines of a label their first sentences.
func (b *Brief) firstOnly(l Label) bool {
	lines, shorter := b.Lines(l), false
	for i, s := range lines {
		if f := firstSentences(s, 0); f != s {
			lines[i], shorter = f, true
		}
	}
	return shorter
}

// Words counts the words of the answer, as a budget counts them.
func (b Brief) Words() int {
	n := len(strings.Fields(b.Head))
	for _, p := range b.Parts {
		n++
		for _, l := range p.Lines {
			n += len(strings.Fields(l))
		}
		for _, row := range append(p.Rows, p.Columns) {
			n += len(strings.Fields(strings.Join(row, " ")))
		}
	}
	for _, s := range b.Steps {
		n += 1 + len(strings.Fields(s.Say+" "+strings.Join(s.Mind, " ")))
	}
	if len(b.Steps) > 0 {
		n += len(strings.Fields(OrderHeading))
	}
	return n + len(strings.Fields(b.More())) + 1
}

// OrderHeading stands above the order of work.
const OrderHeading = "Order of work"

// Height counts the lines of the answer as it is printed.
func (b Brief) Height() int {
	n := wrapped(b.Head, columns)
	if len(b.Parts) > 0 && b.Parts[0].Rows == nil {
		n++ // a blank line below the verdict
	}
	for _, p := range b.Parts {
		for _, l := range p.Lines {
			n += wrapped(l, columns-labelWide)
		}
		n += len(p.Rows)
		if p.Rows != nil && strings.Join(append([]string{string(p.Label)}, p.Columns...), "") != "" {
			n++
		}
	}
	for _, s := range b.Steps {
		n += wrapped(s.Say, columns-stepWide)
		for _, m := range s.Mind {
			n += wrapped(m, columns-stepWide-2)
		}
	}
	if len(b.Steps) > 0 {
		n += 3 // the heading, a blank line on both sides
	}
	if b.Held > 0 {
		n++
	}
	return n
}

// wrapped is how many lines a text takes in so many columns.
func wrapped(text string, wide int) int {
	lines, at := 1, 0
	for _, w := range strings.Fields(text) {
		k := utf8.RuneCountInString(w)
		switch {
		case at == 0:
			at = k
		case at+1+k > wide:
			lines, at = lines+1, k
		default:
			at += 1 + k
		}
	}
	return lines
}
