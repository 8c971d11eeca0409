package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"tenter/advise"
	"tenter/advise/cut"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/prose"
)

func newAdvise(a *app) *cobra.Command {
	var q question
	var limit int
	var own bool
	c := &cobra.Command{
		Use:     "advise PIECE [--finish FINISH] [--shell CLOTH] [--lining CLOTH]",
		GroupID: groupAsk,
		Short:   "which cloth, lining and seams, and in what order to work",
		Long: `For a piece and a finish: the cloths that suit, best first (unless --shell names
one; with --own among your swatches alone), the linings that go with the first of
them, interfacings, seams and edges, what to wash before cutting, how hot to
press, needle and thread, and the order of work. Where no finish is named, the
usual one of the piece is taken.` + exitStatus,
		Example: `  tenter advise half-circle-cape --finish bagged-lining
  tenter advise cowl --finish single-layer-bound-edge --shell double-gauze
  tenter advise circle-skirt --shell "viscose challis"`,
		Args:              cobra.MaximumNArgs(1),
		ValidArgsFunction: a.complete(pieceIDs),
		RunE: func(_ *cobra.Command, args []string) error {
			if err := q.namePiece(args); err != nil {
				return err
			}
			m, err := q.makeUp(a, "")
			if err != nil {
				return err
			}
			adv, err := a.adv()
			if err != nil {
				return err
			}
			m = adv.WithUsualFinish(m)
			var among []*fibres.Subject
			if own {
				if among, err = a.ownShells(m); err != nil {
					return err
				}
			}
			ans, err := adv.AdviseAmong(m, limit, among)
			if err != nil {
				return err
			}
			ans.Notes = append(ans.Notes, a.swatchNotes(m)...)
			if a.json {
				return a.writeJSON(ans)
			}
			if a.all {
				a.printAdvise(ans)
				return nil
			}
			return a.printAdviceBrief(m, ans)
		},
	}
	q.flags(a, c, true)
	q.jobFlag(a, c)
	a.allFlag(c)
	c.Flags().BoolVar(&own, "own", false, "choose the cloth among your swatches alone")
	c.Flags().IntVar(&limit, "limit", 6, "most candidates of a kind; 0 is all")
	return c
}

// ownShells are the user's swatches to choose a cloth among.
func (a *app) ownShells(m advise.MakeUp) ([]*fibres.Subject, error) {
	if m.Shell != nil {
		return nil, &fault.Fault{Kind: fault.WrongCall, Where: "--own", What: "the cloth is named already", Expected: "--own or --shell", Mend: "leave one of them out"}
	}
	b, err := a.kb()
	if err != nil {
		return nil, err
	}
	list, err := b.Subjects()
	if err != nil {
		return nil, err
	}
	var out []*fibres.Subject
	for _, s := range list { // of a swatch that no one said what it is, nothing is known
		if s.Cloth != nil || s.Measured() {
			out = append(out, s)
		}
	}
	if len(out) == 0 {
		return nil, &fault.Fault{Kind: fault.NotFound, Where: "--own", What: "you have no swatches that could be judged", Expected: "swatches that say what they were sold as, or were measured", Mend: "`tenter swatch add NAME --sold-as CLOTH` records one"}
	}
	return out, nil
}

// printAdviceBrief prints what to look for where no cloth is named, else how to make
// it up.
func (a *app) printAdviceBrief(m advise.MakeUp, ans advise.AdviseAnswer) error {
	t, err := a.teller()
	if err != nil {
		return err
	}
	if m.Shell == nil || ans.Judged == nil {
		a.printBrief(t.Choose(m, ans))
		return nil
	}
	job := t.Adviser.CutJob(m)
	job.Units = a.system
	var plan *cut.Answer
	if p, err := cut.Plan(job); err == nil { // a piece that has no parts is sewn all the same
		plan = &p
	}
	a.printBrief(t.Work(m, ans, plan))
	return nil
}

func (a *app) printAdvise(ans advise.AdviseAnswer) {
	if ans.MakeUp.Cloth != "" && ans.Judged != nil {
		a.printVerdict(*ans.Judged)
		a.printReasons(*ans.Judged, "do", "caution")
	}
	a.candidates("Cloths, best first", ans.Cloths)
	a.candidates("Linings, best first", ans.Linings)
	a.choices("Interfacing", ans.Interfacings)
	a.choices("Seams", ans.Seams)
	a.choices("Edges", ans.Edges)
	a.places(ans.Places)
	a.choices("Bindings", ans.Bindings)
	a.choices("Needles", ans.Needles)
	a.choices("Threads", ans.Threads)
	a.printBench(ans)
	a.printOrder(ans.Order)
	a.working(ans.Working)
	if len(ans.Cautions) > 0 {
		a.head("Cautions")
		for _, c := range ans.Cautions {
			say := c.Say
			if len(c.Open) > 0 {
				say = openWords(c.Open) + ": " + say
			}
			a.para("  - ", say+" "+c.Because, 4)
		}
	}
	for _, n := range ans.Notes {
		fmt.Fprintln(a.out)
		a.para("note: ", n, 6)
	}
}

// printBench prints what is done before cutting, and the settings of machine and iron.
func (a *app) printBench(ans advise.AdviseAnswer) {
	if len(ans.PreWash) > 0 {
		a.head("Before cutting")
		var rows [][]string
		for _, p := range ans.PreWash {
			rows = append(rows, []string{p.Layer, clean(p.Cloth) + ": " + p.Say})
		}
		a.tabulate(2, rows)
	}
	if ans.Pressing != nil || ans.Needle != nil {
		a.head("At the machine and the board")
		var rows [][]string
		if ans.Pressing != nil {
			rows = append(rows, []string{"press", ans.Pressing.Say})
		}
		if ans.Needle != nil {
			rows = append(rows, []string{"needle", ans.Needle.Say})
		}
		if ans.Thread != nil {
			rows = append(rows, []string{"thread", ans.Thread.Say})
		}
		a.tabulate(2, rows)
	}
}

// printOrder prints the order of work, each step with its reason.
func (a *app) printOrder(order []advise.OrderStep) {
	if len(order) == 0 {
		return
	}
	a.head("Order of work")
	var rows [][]string
	for i, s := range order {
		t := strings.Join(append([]string{s.Say}, s.Notes...), " ")
		if s.Because != "" {
			t += " (" + strings.TrimSuffix(s.Because, ".") + ".)"
		}
		rows = append(rows, []string{strconv.Itoa(i + 1), t})
	}
	a.tabulate(2, rows)
}

func (a *app) candidates(head string, list []advise.Candidate) {
	if len(list) == 0 {
		return
	}
	a.head(head)
	var rows [][]string
	for _, c := range list {
		rows = append(rows, []string{c.Verdict, c.ID, c.Say})
	}
	a.tabulate(2, rows)
}

func (a *app) choices(head string, list []advise.Choice) {
	if len(list) == 0 {
		return
	}
	a.head(head)
	var rows [][]string
	for _, c := range list {
		say := c.Say
		if c.Why != "" {
			say += " " + c.Why
		}
		if c.Place != "" {
			say = prose.Upper(c.Place) + ". " + say
		}
		rows = append(rows, []string{c.Effect, c.ID, say})
	}
	a.tabulate(2, rows)
}

// places says where in the piece each seam and edge is sewn how.
func (a *app) places(list []advise.Sewn) {
	if len(list) == 0 {
		return
	}
	a.head("Seams and edges by place")
	var rows [][]string
	for _, s := range list {
		rows = append(rows, []string{strings.Join(s.Places, ", "), s.ID, s.Say + " " + prose.Upper(s.Under(a.system)) + "."})
	}
	a.tabulate(2, rows)
}

// maxOfTopic is how many pieces of advice of one topic are printed; all are in
// the JSON.
const maxOfTopic = 3

// working prints what to do outside the order of work, by topic.
func (a *app) working(list []advise.Working) {
	if len(list) == 0 {
		return
	}
	a.head("Working it")
	var rows [][]string
	n, more := map[string]int{}, 0
	for _, w := range list {
		if n[w.Topic]++; n[w.Topic] > maxOfTopic {
			more++
			continue
		}
		topic := w.Topic
		if n[w.Topic] > 1 {
			topic = ""
		}
		rows = append(rows, []string{topic, w.Say})
	}
	if more > 0 {
		rows = append(rows, []string{"…", fmt.Sprintf("%d more with --json", more)})
	}
	a.tabulate(2, rows)
}
