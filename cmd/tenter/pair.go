package main

import (
	"fmt"
	"os"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"tenter/advise"
)

func newPair(a *app) *cobra.Command {
	var q question
	var limit int
	var reversible bool
	c := &cobra.Command{
		Use:     "pair [SHELL [LINING]] PIECE",
		GroupID: groupAsk,
		Short:   "which shell and lining go together",
		Long: `Judges shells with linings for a piece, best first: all of both, all linings for
one shell, or one pair. Without --finish it takes the usual lined one. The gap is how far the two part in
the first wash along the longest edge, or in dry-cleaning where one is not washed.` + exitStatus,
		Example: `  tenter pair "wool coating" coat
  tenter pair wool-flannel viscose-twill --piece half-circle-cape --finish bagged-lining --reversible
  tenter pair wool-coating --piece coat --finish dropped-in-lining --job warmth`,
		Args:              cobra.ArbitraryArgs,
		ValidArgsFunction: a.completeCloth(),
		RunE: func(_ *cobra.Command, args []string) error {
			shell := ""
			args = a.cloths(q.pieceAtEnd(a, args, 0))
			if len(args) > 2 {
				return tooManyCloths(args, "one shell and one lining", "tenter compare lays cloths side by side")
			}
			if len(args) > 0 {
				shell = args[0]
			}
			if len(args) > 1 {
				q.lining = args[1]
			}
			m, err := q.makeUp(a, shell)
			if err != nil {
				return err
			}
			adv, err := a.adv()
			if err != nil {
				return err
			}
			m = adv.WithUsualLinedFinish(m)
			// Thousands of pairs make more garbage than memory holds.
			collectAt(100)
			ans, err := adv.PairTelling(m, reversible, limit, a.progress("shells tried"))
			a.endProgress()
			if err != nil {
				return err
			}
			return a.tellPairs(adv, m, ans)
		},
	}
	q.flags(a, c, false)
	q.jobFlag(a, c)
	a.allFlag(c)
	c.Flags().IntVar(&limit, "limit", 10, "most pairs; 0 is all")
	c.Flags().BoolVar(&reversible, "reversible", false, "either face is worn out")
	return c
}

// tellPairs prints the pairs; where both cloths were named, the one make-up.
func (a *app) tellPairs(adv *advise.Adviser, m advise.MakeUp, ans advise.PairAnswer) error {
	if a.json {
		return a.writeJSON(ans)
	}
	if a.all {
		a.printPair(ans)
		return nil
	}
	t, err := a.teller()
	if err != nil {
		return err
	}
	if m.Shell != nil && m.Lining != nil {
		judged, err := adv.Check(m)
		if err != nil {
			return err
		}
		a.printBrief(t.Check(m, judged))
		return nil
	}
	a.printBrief(t.Pairs(m, ans))
	return nil
}

func (a *app) printPair(ans advise.PairAnswer) {
	if len(ans.Pairs) == 0 {
		fmt.Fprintln(a.out, "no pair was judged")
		return
	}
	group := ""
	for _, p := range ans.Pairs {
		if p.Group != "" && p.Group != group && len(ans.Pairs) > 1 {
			group = p.Group
			fmt.Fprintln(a.out, group+":")
		}
		fmt.Fprintln(a.out, a.markCell(p.Verdict, 10)+"  "+clean(p.Shell+" + "+p.Lining))
		a.para("            ", p.Say, 12)
	}
	for _, n := range ans.Notes {
		a.para("", n, 0)
	}
	if len(ans.Pairs) == 1 {
		a.printReasons(advise.CheckAnswer{Reasons: ans.Pairs[0].Reasons})
		return
	}
	fmt.Fprintf(a.out, "\nbest %d of %d pairs judged; name both to see the reasons\n", len(ans.Pairs), ans.Judged)
}

// progress tells on a terminal, beside the answer, how far a long work is; elsewhere
// it is nil.
func (a *app) progress(what string) func(done, of int) {
	f, ok := a.err.(*os.File)
	if a.json || !ok || !term.IsTerminal(int(f.Fd())) {
		return nil
	}
	return func(done, of int) {
		a.progressing = true
		fmt.Fprintf(a.err, "\r%d of %d %s", done, of, what)
	}
}

// endProgress clears the line of [app.progress].
func (a *app) endProgress() {
	if a.progressing {
		fmt.Fprint(a.err, "\r\x1b[K")
		a.progressing = false
	}
}
