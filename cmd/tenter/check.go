package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/units"
)

func newCheck(a *app) *cobra.Command {
	var q question
	var why string
	c := &cobra.Command{
		Use:     "check CLOTH --piece PIECE [--finish FINISH] [--lining CLOTH] …",
		GroupID: groupAsk,
		Short:   "will this cloth do for that piece?",
		Long: `Judges a make-up: the whole population of the cloth is run through what the
piece asks, and the rules have their say. What you know of the cloth you hold
(--mass, --bending-length, --colour) narrows the answer. --why DEMAND walks in
numbers from the cloth's name to the verdict on one demand.` + exitStatus,
		Example: `  tenter check "cotton sateen" --piece hooded-wrap --finish bagged-lining --lining silk-taffeta
  tenter check "cotton sateen" --piece hooded-wrap --finish bagged-lining --lining silk-taffeta --why fall
  tenter check denim --piece half-circle-cape --finish bagged-lining
  tenter check viscose-twill --piece cowl --finish single-layer-bound-edge --mass 130gsm`,
		Args:              cobra.ExactArgs(1),
		ValidArgsFunction: a.completeCloth(),
		RunE: func(_ *cobra.Command, args []string) error {
			m, err := q.makeUp(a, args[0])
			if err != nil {
				return err
			}
			adv, err := a.adv()
			if err != nil {
				return err
			}
			if why != "" {
				return a.checkWhy(adv, m, why)
			}
			ans, err := adv.Check(m)
			if err != nil {
				return err
			}
			ans.Notes = append(ans.Notes, a.swatchNotes(m)...)
			if a.json {
				return a.writeJSON(ans)
			}
			if a.all {
				a.printCheck(ans)
				return nil
			}
			t, err := a.teller()
			if err != nil {
				return err
			}
			a.printBrief(t.Check(m, ans))
			return nil
		},
	}
	q.flags(a, c, false)
	a.allFlag(c)
	c.Flags().StringVar(&why, "why", "", "walk in numbers from the names to the verdict on a demand: fall, mass …")
	_ = c.RegisterFlagCompletionFunc("why", a.complete(demandIDs))
	return c
}

// printCheck tells a verdict: the verdict, what decided, what would settle it,
// then the work.
func (a *app) printCheck(ans advise.CheckAnswer) {
	a.printVerdict(ans)
	a.printReasons(ans, "do")
	for _, n := range ans.Notes {
		fmt.Fprintln(a.out)
		a.para("note: ", n, 6)
	}
}

func (a *app) printVerdict(ans advise.CheckAnswer) {
	word, rest, _ := strings.Cut(ans.Headline, ":")
	if a.colour() {
		fmt.Fprintln(a.out, strings.Join(wrap(clean(ans.Headline), a.width(), 2), "\n"))
		_ = word
		_ = rest
	} else {
		a.para("", ans.Headline, 2)
	}
	if f := ans.Fall; f != nil {
		a.para("  ", a.fallWords(f), 2)
	}
	if len(ans.Demands) > 0 {
		a.head("What the piece asks")
		var rows [][]string
		for _, d := range ans.Demands {
			have := "not known"
			if d.Known {
				have = a.demandWords(d)
			}
			rows = append(rows, []string{d.ID, tenths(d), have})
		}
		a.tabulate(2, rows)
	}
}

func tenths(d advise.Asked) string {
	if !d.Known {
		return "?"
	}
	return strings.TrimPrefix(advise.InTen(d.Share), "about ")
}

// fallWords is the hang in maker's measures.
func (a *app) fallWords(f *advise.Fall) string {
	s := "It is " + words(f.Hand) + " in the hand"
	if f.StandOff.Known() {
		s += fmt.Sprintf(": the edge stands off about %s before it falls (%s)", a.length(f.StandOff.Typical), a.lengths(f.StandOff.Low, f.StandOff.High))
	}
	if f.FoldWidth.Known() {
		s += fmt.Sprintf("; folds roughly %s apart", a.length(f.FoldWidth.Typical))
	}
	return s + "."
}

func words(e fibres.Estimate) string {
	if len(e.Words) != 3 {
		return e.Say()
	}
	if e.Words[0] == e.Words[2] {
		return e.Words[0]
	}
	return e.Words[0] + " to " + e.Words[2]
}

// demandWords tells what a demand wants and what the make-up has.
func (a *app) demandWords(d advise.Asked) string {
	want, have := "", ""
	switch {
	case d.Need.Words != nil:
		want, have = d.Need.Words[0], words(d.Have)
		if d.Need.Words[1] != want {
			want += " to " + d.Need.Words[1]
		}
	default:
		lo, hi := d.Need.Ideal[0], d.Need.Ideal[1]
		switch {
		case lo <= d.Need.Limit[0]:
			want = "at most " + a.quantity(hi, d.Need.Unit)
		case hi >= d.Need.Limit[1]:
			want = "at least " + a.quantity(lo, d.Need.Unit)
		default:
			want = a.quantities(lo, hi, d.Need.Unit)
		}
		have = a.quantities(d.Have.Low, d.Have.High, d.Need.Unit)
	}
	return fmt.Sprintf("%s; wanted %s. %s", have, want, d.Say)
}

// The most reasons and cautions that a verdict prints: what decided, and what
// could hurt. All are in the JSON, and `tenter advise` tells the work.
const (
	mostReasons  = 4
	mostCautions = 4
)

// printReasons tells the rules that speak for or against, then the cautions,
// but those of the effects left out.
func (a *app) printReasons(ans advise.CheckAnswer, without ...string) {
	var why, cautions [][]string
	for _, r := range ans.Reasons {
		if contains(without, r.Effect) {
			continue
		}
		say := r.Say
		switch {
		case len(r.Open) > 0:
			say = openWords(r.Open) + ": " + say
		case !r.Firm:
			say = "May apply, test it (" + advise.InTen(r.Share) + "): " + say
		}
		say += " " + r.Because + " " + cite(r.Basis, r.Sources)
		if r.Effect == "caution" {
			cautions = append(cautions, []string{"-", say})
		} else {
			why = append(why, []string{r.Effect, say})
		}
	}
	a.atMost("Why", why, mostReasons)
	a.atMost("Cautions", cautions, mostCautions)
	if len(ans.Settle) > 0 {
		a.head("What would settle it")
		for _, s := range ans.Settle {
			t := s.Say + ". " + s.How
			if s.Caution != "" {
				t += " " + s.Caution
			}
			a.para("  ", t, 4)
		}
	}
}

// atMost prints the first rows under a heading, and how many more there are.
func (a *app) atMost(head string, rows [][]string, most int) {
	if len(rows) == 0 {
		return
	}
	a.head(head)
	if len(rows) > most {
		more := len(rows) - most
		rows = append(rows[:most:most], []string{"…", fmt.Sprintf("%d more with --json", more)})
	}
	a.tabulate(2, rows)
}

// openWords asks for what only the user can say, since a rule waits for it.
func openWords(open []string) string {
	var flags []string
	for _, o := range open {
		switch o {
		case "shell.lightness":
			flags = append(flags, "--colour")
		case "lining.lightness":
			flags = append(flags, "--lining-colour")
		default:
			flags = append(flags, o)
		}
	}
	return "It hangs on the colour (say " + strings.Join(flags, " and ") + ")"
}

func contains(list []string, x string) bool {
	for _, y := range list {
		if x == y {
			return true
		}
	}
	return false
}

// length prints centimetres in the units of the answer: a fall is always told in
// centimetres, however small.
func (a *app) length(cm float64) string {
	if a.system == units.Metric {
		return fibres.Round(cm) + " cm"
	}
	return units.Length(cm).In(a.system)
}

func (a *app) lengths(lo, hi float64) string {
	if a.system == units.Metric {
		if lo == hi {
			return fibres.Round(lo) + " cm"
		}
		return fibres.Round(lo) + " to " + fibres.Round(hi) + " cm"
	}
	return units.FormatRange(units.Length(lo), units.Length(hi), a.system)
}

// quantity prints a figure of one of the data's units in those of the answer.
func (a *app) quantity(v float64, unit string) string { return a.quantities(v, v, unit) }

func (a *app) quantities(lo, hi float64, unit string) string {
	switch unit {
	case "cm":
		return a.lengths(lo, hi)
	case "mm":
		if a.system != units.Metric {
			return a.lengths(lo/10, hi/10)
		}
	case "g/m2":
		return units.FormatRange(units.ArealMass(lo), units.ArealMass(hi), a.system)
	case "C":
		return units.FormatRange(units.Temperature(lo), units.Temperature(hi), a.system)
	}
	if lo == hi {
		return strings.TrimSpace(fibres.Round(lo) + " " + unit)
	}
	return strings.TrimSpace(fibres.Round(lo) + " to " + fibres.Round(hi) + " " + unit)
}
