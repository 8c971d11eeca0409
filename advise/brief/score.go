package brief

import (
	"cmp"
	"slices"

	"tenter/advise"
	"tenter/advise/rules"
)

// Moment is how far the work has come that an answer is for.
type Moment int

// The moments, in the order of the work.
const (
	Buy Moment = iota
	Wash
	Cutting
	Sewing
	Pressing
	Wearing
)

// moments says when the advice of a topic is needed; a topic is the file that a rule
// stands in. Advice that is not listed is needed when the cloth is bought.
var moments = map[string]Moment{
	"prewash": Wash, "cutting": Cutting, "marking": Cutting, "bias": Cutting, "nap": Cutting,
	"seam": Sewing, "edge": Sewing, "needle": Sewing, "thread": Sewing, "topstitch": Sewing, "order": Sewing, "interfacing": Sewing, "fray": Sewing, "reversible": Sewing,
	"fitting": Sewing, "pressing": Pressing, "care": Wearing, "wearing": Wearing,
}

// The score from which a line is worth its place, and the shares from which it
// is heeded at all: of advice, and of what may hurt somebody.
const (
	speakFrom  = 1.0
	heedFrom   = 0.3
	safetyFrom = 0.1
)

// hurts is the harm of what may hurt a person.
const hurts = 5

// bench is the topic of the dangers of cutting, pressing and cleaning: they are
// told under the step that they guard, or once at the foot of the card.
const bench = "bench"

// atBench reports whether a rule is of a danger of the bench.
func atBench(r *rules.Rule) bool {
	return advise.Topic(r) == bench || r.Harm >= hurts && guarded[r.Matter] != ""
}

// note is a rule that speaks on a make-up, weighed.
type note struct {
	rule   *rules.Rule
	share  float64
	open   bool // it waits for a fact that only the maker knows
	safety bool // harm to the wearer or by fire: said whatever its score
	score  float64
}

// weigh scores the rules that speak: harm times how special the advice is to this
// make-up times how surely it holds, once for each matter, the highest first. What
// the answer says elsewhere (said, by matter) is worth nothing, and what is needed
// after the moment waits for the answer that is for it.
func weigh(a *advise.Adviser, firings []rules.Firing, until Moment, said map[string]bool) []note {
	var list []note
	for _, f := range firings {
		topic := advise.Topic(f.Rule)
		if atBench(f.Rule) {
			continue
		}
		n := note{rule: f.Rule, share: f.Share, open: len(f.Open) > 0}
		n.safety = f.Rule.Harm >= hurts && f.Share >= safetyFrom
		certain := f.Share
		if n.open {
			certain /= 2
		}
		n.score = float64(max(1, f.Rule.Harm)) * specificity(f.Rule) * certain
		if moments[topic] > until && !n.safety || said[f.Rule.Matter] {
			n.score = 0
		}
		if n.safety || n.score >= speakFrom && f.Share >= heedFrom {
			list = append(list, n)
		}
	}
	slices.SortStableFunc(list, func(x, y note) int {
		if x.safety != y.safety {
			return map[bool]int{true: -1, false: 1}[x.safety]
		}
		return cmp.Compare(y.score, x.score)
	})
	return onePerMatter(list)
}

// onePerMatter keeps the first note of each matter.
func onePerMatter(list []note) []note {
	seen := map[string]bool{}
	return slices.DeleteFunc(list, func(n note) bool {
		m := n.rule.Matter
		if m == "" {
			return false
		}
		defer func() { seen[m] = true }()
		return seen[m]
	})
}

// specificity is 1 less the part of the usual make-ups in which a rule speaks. A rule
// that was never counted (a house rule) is judged by how many conditions on cloth,
// lining and piece it has.
func specificity(r *rules.Rule) float64 {
	if rate, ok := baseRates[r.ID]; ok {
		return 1 - rate
	}
	return []float64{0, 0.5, 0.8, 1}[min(3, len(r.Facts()))]
}
