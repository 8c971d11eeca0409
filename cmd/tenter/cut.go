package main

import (
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"tenter/advise"
	"tenter/advise/cut"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// cutQuestion gathers the flags of `cut` beyond those of every question.
type cutQuestion struct {
	question
	parts, sizes               []string
	width, liningWidth         string
	shrink, liningShrink       string
	allowance, selvedge        string
	prewashed, liningPrewashed bool
}

func newCut(a *app) *cobra.Command {
	var q cutQuestion
	c := &cobra.Command{
		Use:     "cut [PIECE] --shell CLOTH [--lining CLOTH] …",
		GroupID: groupAsk,
		Short:   "cut sizes with shrinkage, and how much to buy",
		Long: `From finished sizes to the cloth on the table: what each part is cut at so that
it is right after the first wash, how the parts lie in the cloth's width, the
length to buy for the likely and the unlucky case, and how far shell and lining
part along the longest edge.

The parts are those of the piece; --size gives them your own sizes, in their order
or by name, and --part gives parts of your own. The allowances are added first and
the shrinkage on top: cut = (finished + 2 allowances) / (1 - shrinkage).` + exitStatus,
		Example: `  tenter cut half-circle-cape --shell wool-flannel --lining viscose-twill --finish bagged-lining --width 150cm
  tenter cut wide-sash --shell cotton-lawn --size 240x45cm --allowance 10mm
  tenter cut --part "wrap 150cm x 75cm x1" --part "tie 40 x 6 in x2" --shell cotton-sateen`,
		Args:              cobra.MaximumNArgs(1),
		ValidArgsFunction: a.complete(func(x *advise.Adviser) []string { return x.PieceNames.IDs() }),
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				if q.piece != "" {
					return &fault.Fault{Kind: fault.WrongCall, Where: "--piece", What: "the piece is named twice", Expected: "one piece", Mend: "leave one of them out"}
				}
				q.piece = args[0]
			}
			ans, m, err := q.plan(a)
			if err != nil {
				return err
			}
			if a.json {
				return a.writeJSON(ans)
			}
			a.printCut(ans, m)
			return nil
		},
	}
	q.flags(a, c, true)
	f := c.Flags()
	f.StringArrayVar(&q.parts, "part", nil, `a part of your own, finished: "wrap 150cm x 75cm x1"; may be repeated`)
	f.StringArrayVar(&q.sizes, "size", nil, `finished size of the piece's parts, in their order or as "hood=30x38cm"; may be repeated`)
	f.StringVar(&q.width, "width", "", "how wide the cloth is: 140cm")
	f.StringVar(&q.liningWidth, "lining-width", "", "how wide the lining is")
	f.StringVar(&q.shrink, "shrink", "", "what the cloth loses in its first wash, warp,weft: 5%,2%")
	f.StringVar(&q.liningShrink, "lining-shrink", "", "what the lining loses, warp,weft")
	f.StringVar(&q.allowance, "allowance", "", "seam allowance on every edge; left out, that of the finish, else 12mm")
	f.StringVar(&q.selvedge, "selvedge", "", "selvedge not used on each side, of both cloths")
	f.BoolVar(&q.prewashed, "prewashed", false, "the cloth has had its first wash")
	f.BoolVar(&q.liningPrewashed, "lining-prewashed", false, "the lining has had its first wash; --prewashed says it of both")
	return c
}

// plan turns the words of the question into a job and works it out.
func (q *cutQuestion) plan(a *app) (cut.Answer, advise.MakeUp, error) {
	var ans cut.Answer
	m, err := q.makeUp(a, "")
	if err != nil {
		return ans, m, err
	}
	adv, err := a.adv()
	if err != nil {
		return ans, m, err
	}
	var found fault.List
	at := func(flag string, err error) {
		for _, f := range fault.All(err) {
			found = append(found, f.At(flag))
		}
	}
	if m.Shell == nil {
		found = append(found, &fault.Fault{Kind: fault.WrongCall, Where: "--shell", What: "the cloth is not named", Expected: "--shell CLOTH", Mend: "`tenter list cloths` shows them all"})
	}
	if m.Piece == nil && len(q.parts) == 0 {
		found = append(found, &fault.Fault{Kind: fault.WrongCall, What: "there is nothing to cut", Expected: "a piece, or --part with sizes", Mend: `tenter cut hooded-wrap …, or --part "wrap 150cm x 75cm x1"`})
	}
	job := cut.Job{Allowance: 1.2}
	if m.Finish != nil {
		job.Allowance = m.Finish.Allowance
	}
	if q.allowance != "" {
		l, err := units.ParseLength(q.allowance)
		at("--allowance", err)
		job.Allowance = l
	}
	if len(q.parts) == 0 && m.Piece != nil {
		job.Parts = m.Piece.CutParts()
	}
	for _, s := range q.parts {
		p, err := cut.ParsePart(s)
		at("--part", err)
		job.Parts = append(job.Parts, p)
	}
	at("--size", resize(job.Parts, q.sizes))
	var selvedge units.Length
	if q.selvedge != "" {
		selvedge, err = units.ParseLength(q.selvedge)
		at("--selvedge", err)
	}
	layer := func(name string, s *fibres.Subject, salt fibres.Salt, prefix, width, shrunk string, washed bool) {
		if s == nil {
			for flag, v := range map[string]string{"width": width, "shrink": shrunk} {
				if v != "" && name != "shell" {
					found = append(found, &fault.Fault{Kind: fault.WrongCall, Where: "--" + prefix + flag, What: "it is said of no cloth", Expected: "the cloth it belongs to", Mend: "name it with --" + name + ", or leave the flag out"})
				}
			}
			return
		}
		l := cut.NewLayer(adv.Cat, name, *s, salt)
		l.Prewashed, l.Selvedge = washed, selvedge
		if width != "" {
			r, err := units.ParseLengthRange(width, 0)
			if err == nil {
				err = units.Within(width, r.Low, units.Range[units.Length]{Low: 5, High: 1500})
			}
			if err == nil {
				err = units.Within(width, r.High, units.Range[units.Length]{Low: 5, High: 1500})
			}
			at("--"+prefix+"width", err)
			if err == nil {
				l.SetWidth(r)
			}
		}
		if shrunk != "" {
			one, two, both := strings.Cut(shrunk, ",")
			if !both {
				two = one
			}
			wp, err := units.ParsePercentRange(strings.TrimSpace(one))
			at("--"+prefix+"shrink", err)
			wf, err2 := units.ParsePercentRange(strings.TrimSpace(two))
			at("--"+prefix+"shrink", err2)
			if err == nil && err2 == nil {
				l.SetShrink(wp, wf)
			}
		}
		job.Layers = append(job.Layers, l)
	}
	layer("shell", m.Shell, fibres.ShellSalt, "", q.width, q.shrink, q.prewashed)
	layer("lining", m.Lining, fibres.LiningSalt, "lining-", q.liningWidth, q.liningShrink, q.prewashed || q.liningPrewashed)
	if err := found.OrNil(); err != nil {
		return ans, m, err
	}
	ans, err = cut.Plan(job)
	ans.MakeUp = advise.Said(m)
	return ans, m, err
}

// resize gives parts the sizes of the --size flags: those with a name go to the
// part of that name, the others to the parts in their order.
func resize(parts []cut.Part, sizes []string) error {
	next := 0
	for _, s := range sizes {
		name, w, h, err := cut.ParseSize(s)
		if err != nil {
			return err
		}
		i := next
		if name != "" {
			i = -1
			var names []string
			for k, p := range parts {
				names = append(names, p.Name)
				if fibres.FoldName(p.Name) == fibres.FoldName(name) {
					i = k
				}
			}
			if i < 0 {
				return &fault.Fault{Kind: fault.NotFound, What: fmt.Sprintf("the piece has no part %q", name), Expected: strings.Join(names, ", "), Mend: fault.DidYouMean(name, names, "")}
			}
		} else {
			next++
		}
		if i >= len(parts) {
			return &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("there are %d sizes for %d parts", len(sizes), len(parts)), Expected: "at most one size for each part", Mend: "leave one out, or give parts of your own with --part"}
		}
		parts[i].Width, parts[i].Height = w, h
		if err := parts[i].Check(); err != nil {
			return err
		}
	}
	return nil
}

// printCut tells cut sizes and what to buy.
func (a *app) printCut(ans cut.Answer, m advise.MakeUp) {
	for i, l := range ans.Layers {
		if i > 0 {
			fmt.Fprintln(a.out)
		}
		say := a.buyWords(l.Buy)
		a.para("", fmt.Sprintf("%s, %s: buy %s", capital(l.Layer), l.Cloth, say), 2)
		if l.Prewashed {
			a.para("  ", "It has had its first wash; nothing is added for shrinking.", 2)
		} else if l.Shrink.Warp.Known() && l.Shrink.Weft.Known() {
			a.para("  ", fmt.Sprintf("It loses %s along and %s across in the first wash.", percentWords(l.Shrink.Warp), percentWords(l.Shrink.Weft)), 2)
		}
		rows := [][]string{{"part", "", "finished", "cut unwashed", "pre-washed", "width × height"}}
		for _, p := range l.Pieces {
			turned := ""
			if p.Turned {
				turned = "laid turned"
			}
			rows = append(rows, []string{p.Name, fmt.Sprintf("× %d", p.Count), a.size(p.Finished), a.size(p.Cut), a.size(p.Washed), turned})
		}
		a.tabulate(2, rows)
		if w := l.Washed; w != nil {
			a.para("  ", "Or wash it first and cut at the pre-washed sizes: buy "+a.buyWords(*w), 2)
		}
	}
	if g := ans.Gap; g != nil {
		a.head("Shell against lining")
		a.para("  ", fmt.Sprintf("Cut alike and joined unwashed, they part by about %s over the %s edge of the %s in the first wash (%s). %s About %s mm is let pass.",
			units.Length(g.MM.Typical/10).Millimetres(), a.length(g.EdgeCM), g.Edge, units.FormatRange(units.Length(g.MM.Low/10), units.Length(g.MM.High/10), a.system), g.Say, fibres.Round(g.Limit)), 2)
	}
	for _, n := range ans.Notes {
		fmt.Fprintln(a.out)
		a.para("note: ", n, 6)
	}
}

func (a *app) buyWords(b cut.Buy) string {
	s := fmt.Sprintf("%s of cloth %s wide", a.tape(b.Length.Typical), a.length(b.Width))
	if b.Length.High > b.Length.Typical+1 {
		s += ", " + a.tape(b.Length.High) + " if unlucky"
	}
	return s + "."
}

// tape rounds a length up to what is measured off the bolt: 5 cm, or an eighth
// of a yard.
func (a *app) tape(cm float64) string {
	if a.system == units.Imperial {
		yard := float64(units.Yard)
		return units.Length(math.Ceil(cm/yard*8-1e-6) / 8 * yard).In(a.system)
	}
	return units.Length(math.Ceil(cm/5-1e-6) * 5).In(a.system)
}

// size prints width × height.
func (a *app) size(s [2]float64) string {
	if a.system == units.Imperial {
		return units.Length(s[0]).In(a.system) + " × " + units.Length(s[1]).In(a.system)
	}
	w, h := units.Length(s[0]).Centimetres(), units.Length(s[1]).Centimetres()
	return strings.TrimSuffix(w, " cm") + " × " + h
}

func percentWords(e fibres.Estimate) string {
	if e.Low == e.High {
		return fibres.Round(e.Typical) + " %"
	}
	return fmt.Sprintf("%s %% (%s to %s)", fibres.Round(e.Typical), fibres.Round(e.Low), fibres.Round(e.High))
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
