package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/prose"
	"tenter/fibres/units"
)

func newCheck(a *app) *cobra.Command {
	var q question
	var why string
	c := &cobra.Command{
		Use:     "check CLOTH... [--piece PIECE] [--finish FINISH] [--lining CLOTH] …",
		GroupID: groupAsk,
		Short:   "will this cloth do for that piece?",
		Long: `Says whether the cloth suits the piece, why, and what to change. With several
cloths it ranks them; without a piece it says what could be made of the cloth. The
piece may be the last word: "tenter check denim cowl".
What you know of yours (--mass, --hand, --overhang, --colour) narrows the answer. A
cloth without a name is said by fibre, weave and weight: "linen crepe 180 g".` + exitStatus,
		Example: `  tenter check wool-flannel --piece half-circle-cape --finish bagged-lining --lining viscose-twill
  tenter check denim --piece cowl --hand soft
  tenter check denim wool-challis "cotton lawn" --piece triangular-shawl
  tenter check "cotton sateen"
  tenter check viscose-twill --piece cowl --finish single-layer-bound-edge --why fall`,
		Args:              cobra.MinimumNArgs(1),
		ValidArgsFunction: a.completeCloth(),
		RunE: func(_ *cobra.Command, args []string) error {
			return a.check(&q, a.cloths(q.pieceAtEnd(a, args, 1)), why)
		},
	}
	q.flags(a, c, false)
	a.allFlag(c)
	c.Flags().StringVar(&why, "why", "", "show the sum behind the verdict on one demand: fall, mass …")
	_ = c.RegisterFlagCompletionFunc("why", a.complete(demandIDs))
	return c
}

// pieceAtEnd takes the last words of a command for the piece where none is named yet and
// no cloth is called so, and gives back the words that are left, so many for cloths at
// least.
func (q *question) pieceAtEnd(a *app, words []string, cloths int) []string {
	if q.piece != "" {
		return words
	}
	adv, err := a.withoutLessons()
	if err != nil {
		return words
	}
	b, err := a.kb()
	if err != nil {
		return words
	}
	cloth := func(words []string) *fibres.Subject {
		s, _ := b.Subject(strings.Join(words, " "))
		return s
	}
	if cloth(words) != nil {
		return words
	}
	for i := cloths; i < len(words); i++ { // the longest name first: "hooded wrap" before "wrap"
		name := strings.Join(words[i:], " ")
		// What is a cloth of the catalogue too, as blanket is, is the piece where cloths come
		// without one to nothing.
		p, err := adv.Piece(name)
		if err != nil {
			continue
		}
		if s := cloth(words[i:]); s == nil || !s.Swatch && cloths > 0 && p.ID == strings.ReplaceAll(name, " ", "-") {
			q.piece = name
			return words[:i]
		}
	}
	return words
}

// tooManyCloths says that bare words name more cloths than a command takes.
func tooManyCloths(names []string, expected, mend string) error {
	return &fault.Fault{Kind: fault.WrongCall, What: "these are " + prose.Count(len(names), "cloth") + ": " + prose.And(names), Expected: expected, Mend: mend}
}

// cloths are the cloths that bare words name: all of them one where they can be, else of
// neighbours as many as are a name together, "denim wool challis" is two.
func (a *app) cloths(words []string) []string {
	if len(words) < 2 {
		return words
	}
	b, err := a.kb()
	if err != nil {
		return words
	}
	// first is how many words at the beginning are one cloth together, of those that will do.
	first := func(words []string, will func(*fibres.Subject) bool) int {
		for n := len(words); n > 1; n-- {
			if s, err := b.Subject(strings.Join(words[:n], " ")); err == nil && will(s) {
				return n
			}
		}
		return 1
	}
	whatever := func(*fibres.Subject) bool { return true }
	if len(words) == first(words, whatever) {
		return []string{strings.Join(words, " ")}
	}
	var out []string
	for len(words) > 0 {
		n := first(words, func(s *fibres.Subject) bool { return !s.IsDescribed() })
		if _, err := b.Subject(words[0]); err != nil && n == 1 {
			n = first(words, whatever)
		}
		out, words = append(out, strings.Join(words[:n], " ")), words[n:]
	}
	return out
}

func (a *app) check(q *question, cloths []string, why string) error {
	m, err := q.makeUp(a, cloths[0])
	if err != nil {
		return err
	}
	adv, err := a.adv()
	if err != nil {
		return err
	}
	switch {
	case len(cloths) > 1:
		return a.checkSeveral(adv, m, cloths)
	case why != "":
		return a.checkWhy(adv, m, why)
	case m.Piece == nil:
		return a.checkPieces(adv, m)
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
}

// checkSeveral ranks the cloths that were named for one piece.
func (a *app) checkSeveral(adv *advise.Adviser, m advise.MakeUp, cloths []string) error {
	if m.Piece == nil {
		return &fault.Fault{Kind: fault.WrongCall, Where: "--piece", What: "several cloths are ranked for a piece", Expected: "what is to be made of them",
			Mend: "tenter check " + quoteWords(cloths) + " --piece cowl"}
	}
	list := []*fibres.Subject{m.Shell}
	var found fault.List
	for _, name := range cloths[1:] {
		s, err := a.subject(name)
		if err != nil {
			found = append(found, fault.All(err)...)
			continue
		}
		list = append(list, s)
	}
	if err := found.OrNil(); err != nil {
		return err
	}
	ranked := adv.RankShells(m, list)
	if a.json {
		type row struct {
			Cloth   string  `json:"cloth"`
			Verdict string  `json:"verdict"`
			Share   float64 `json:"share"`
			Say     string  `json:"say"`
		}
		rows := make([]row, len(ranked))
		for i, r := range ranked {
			rows[i] = row{r.ID, r.Verdict, r.Share, r.Say}
		}
		return a.writeJSON(struct {
			Version int   `json:"version"`
			Ranked  []row `json:"ranked"`
		}{advise.Version, rows})
	}
	t, err := a.teller()
	if err != nil {
		return err
	}
	a.printBrief(t.Several(m, ranked))
	return nil
}

// checkPieces says what could be made of a cloth.
func (a *app) checkPieces(adv *advise.Adviser, m advise.MakeUp) error {
	ranked := adv.RankPieces(m)
	if a.json {
		return a.writeJSON(struct {
			Version int                  `json:"version"`
			Cloth   string               `json:"cloth"`
			Pieces  []advise.RankedPiece `json:"pieces"`
		}{advise.Version, advise.IDsOf(m).Cloth, ranked})
	}
	if a.all {
		var rows [][]string
		for _, r := range ranked {
			rows = append(rows, []string{r.Verdict, r.ID, r.Say})
		}
		a.tabulate(0, rows)
		return nil
	}
	t, err := a.teller()
	if err != nil {
		return err
	}
	if m.Lining != nil {
		fmt.Fprintln(a.err, "The lining is not counted: add --piece and --finish to judge both.")
	}
	a.printBrief(t.Pieces(m.Shell, ranked))
	return nil
}

// quoteWords writes names so that they can be pasted into a command.
func quoteWords(names []string) string {
	out := make([]string, len(names))
	for i, n := range names {
		if out[i] = n; strings.ContainsRune(n, ' ') {
			out[i] = `"` + n + `"`
		}
	}
	return strings.Join(out, " ")
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
		s += fmt.Sprintf(": the edge stands about %s out before it falls (%s)", a.length(f.StandOff.Typical), a.lengths(f.StandOff.Low, f.StandOff.High))
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
	maxReasons  = 4
	maxCautions = 4
)

// printReasons tells the rules that speak for or against, then the cautions,
// but those of the effects left out.
func (a *app) printReasons(ans advise.CheckAnswer, without ...string) {
	var why, cautions [][]string
	for _, r := range advise.OfRules(ans.Reasons) {
		if contains(without, r.Effect) {
			continue
		}
		say := r.Say
		switch {
		case len(r.Open) > 0:
			say = openWords(r.Open) + ": " + say
		case !r.Firm:
			say = "Test yours (" + advise.InTen(r.Share) + "): " + say
		}
		say += " " + r.Because + " " + cite(r.Basis, r.Sources)
		if r.Effect == "caution" {
			cautions = append(cautions, []string{"-", say})
		} else {
			why = append(why, []string{r.Effect, say})
		}
	}
	a.atMost("Why", why, maxReasons)
	a.atMost("Cautions", cautions, maxCautions)
	if len(ans.Settle) > 0 {
		a.head("What would settle it")
		for _, s := range ans.Settle {
			t := s.Say + ". " + fibres.Tests[s.Test].In(a.system).How
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
	return "It depends on the colour (add " + strings.Join(flags, " and ") + ")"
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
