package main

import (
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/advise/brief"
	"tenter/data"
)

// budgetCut is how long the answer of cut may be; those of the others are in brief.
var budgetCut = brief.Budget{Lines: 28, Words: 230}

// hearers are the pieces that every cloth is asked for: a wrap, a coat, a child's.
var hearers = []string{"half-circle-cape", "coat", "child-nightwear"}

// Answers keep their budget as they are printed at 80 columns, whatever cloth or piece
// is asked for: every piece in advise and cut, every cloth in show and check. Only what
// keeps somebody from harm may take an answer beyond.
func TestPrintedAnswersKeepTheirBudget(t *testing.T) {
	atHome(t)
	adv, err := advise.Load(data.FS)
	require.NoError(t, err)
	pieces, cloths := 23, 37 // every so many: all of them take a quarter of an hour each
	switch os.Getenv("EVERY_ANSWER") {
	case "pieces":
		pieces = 1
	case "cloths":
		cloths = 1
	}
	asked, over, refused := map[string]int{}, map[string]int{}, 0
	ask := func(budget brief.Budget, args ...string) {
		t.Helper()
		out, errs, code := called(t, args...)
		if args[0] == "cut" && strings.Contains(errs, "selvedges") { // no cloth is that wide: it says so
			refused++
			return
		}
		require.Zero(t, code, "%v: %s", args, errs)
		asked[args[0]]++
		lines, words := printed(out)
		if lines <= budget.Lines && words <= budget.Words {
			return
		}
		over[args[0]]++
		safeLines, safeWords := ofSafety(adv, out)
		assert.LessOrEqual(t, lines-safeLines, budget.Lines, "%v:\n%s", args, out)
		assert.LessOrEqual(t, words-safeWords, budget.Words, "%v:\n%s", args, out)
	}
	for i, p := range adv.Pieces {
		if i%pieces != 0 {
			continue
		}
		c := adv.Shells()[i*61%len(adv.Shells())]
		ask(brief.BudgetAdvise, "advise", "--piece", p.ID, "--finish", "single-layer-hem")
		ask(brief.BudgetAdvise, "advise", "--piece", p.ID, "--finish", "bagged-lining", "--shell", c.ID, "--lining", "viscose-twill")
		ask(budgetCut, "cut", p.ID, "--shell", "wool-flannel", "--lining", "viscose-twill", "--finish", "bagged-lining", "--width", "150cm")
	}
	for i, c := range adv.Cat.ClothList() {
		if i%cloths != 0 {
			continue
		}
		ask(brief.BudgetShow, "show", c.ID)
		ask(brief.BudgetCheck, "check", c.ID, "--piece", hearers[i/cloths%len(hearers)], "--finish", "bagged-lining", "--lining", "viscose-twill")
		ask(brief.BudgetCheck, "check", c.ID, "--piece", adv.Pieces[i%len(adv.Pieces)].ID)
		if i%(4*cloths) == 0 {
			ask(brief.BudgetPair, "pair", c.ID, "--piece", "half-circle-cape", "--finish", "bagged-lining")
		}
	}
	assert.Less(t, refused, len(adv.Pieces)/10/pieces+2)
	t.Logf("asked %v, beyond the budget for safety's sake %v", asked, over)
}

// printed counts the lines and words of what was printed.
func printed(out string) (lines, words int) {
	return len(strings.Split(strings.TrimSpace(out), "\n")), len(strings.Fields(out))
}

// ofSafety counts the lines and words of an answer that keep somebody from harm.
func ofSafety(adv *advise.Adviser, out string) (lines, words int) {
	flat := strings.Join(strings.Fields(out), " ")
	for _, r := range adv.Rules {
		if r.Harm == 5 && strings.Contains(flat, r.Say) {
			words += len(strings.Fields(r.Say))
			lines += 1 + len(r.Say)/71
		}
	}
	return lines, words
}
