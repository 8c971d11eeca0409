package brief

import (
	"fmt"
	"slices"
	"strings"

	"tenter/advise"
	"tenter/advise/cut"
	"tenter/advise/rules"
	"tenter/fibres"
	"tenter/fibres/prose"
	"tenter/fibres/units"
)

// How many cloths and linings an answer without a cloth names.
const (
	maxShells  = 5
	maxLinings = 3
)

// Choose says which cloths to look for where none is named.
func (t Teller) Choose(m advise.MakeUp, ans advise.AdviseAnswer) Brief {
	b := &Brief{Head: t.lookFor(m)}
	t.finish(b, m, m.Lining != nil)
	t.shells(b, m, ans.Cloths)
	t.linings(b, m, ans)
	t.refuse(b, m)
	if len(ans.Cloths) > 0 {
		b.add(Next, `name your cloth: add --shell `+quoted(ans.Cloths[0].Name)+`. Own swatches only: --own`)
	}
	b.Held = len(ans.Cloths) + len(ans.Linings) + len(ans.Interfacings) + len(ans.Seams) + len(ans.Edges)
	return t.done(b)
}

// linings names some linings for the shell that they were judged under: another may want
// others.
func (t Teller) linings(b *Brief, m advise.MakeUp, ans advise.AdviseAnswer) {
	list := ans.Linings[:min(maxLinings, len(ans.Linings))]
	if !lined(m) || len(list) == 0 {
		return
	}
	var line strings.Builder
	if len(ans.Cloths) > 0 {
		line.WriteString("with " + ans.Cloths[0].Name + ", ")
	}
	taken, ok := ans.TakenLining()
	if list[0].ID != taken.ID {
		line.WriteString(list[0].Name)
		list = list[1:]
		if ok {
			line.WriteString("; else ")
		}
	}
	if ok {
		var names []string
		for _, c := range list {
			names = append(names, c.Name)
		}
		line.WriteString(prose.Or(names) + ": " + advise.InTen(taken.Share) + " would do")
	}
	b.add(Lining, line.String())
}

// lookFor says what a piece asks of its cloth before all else.
func (t Teller) lookFor(m advise.MakeUp) string {
	ds := m.Piece.Demands
	if len(ds) == 0 {
		return prose.Upper(m.Piece.Name) + ": most cloths would do."
	}
	say, first := m.Piece.Asks, 0
	if say == "" {
		say = ds[0].Say
	} else { // that is of the whole piece, and how it falls is what a hand can try
		first = max(0, slices.IndexFunc(ds, func(d advise.Demand) bool { return d.Fact == "make-up.stand-off" }))
	}
	words, ok := demandWords[ds[first].Fact]
	if !ok {
		return say
	}
	return say + " " + prose.Upper(fmt.Sprintf(words, t.want(needOf(&ds[first])))) + "."
}

// needOf is a demand as answers tell it.
func needOf(d *advise.Demand) advise.Need {
	n := advise.Need{Ideal: [2]float64{d.Ideal.Low, d.Ideal.High}, Limit: [2]float64{d.Limit.Low, d.Limit.High}, Unit: d.Unit}
	if d.Words[0] != "" {
		n.Words = []string{d.Words[0], d.Words[1]}
	}
	return n
}

// shells is the table of cloths, with the figures that decide.
func (t Teller) shells(b *Brief, m advise.MakeUp, cloths []advise.Candidate) {
	p := Part{Label: Shell, Columns: []string{"", "edge out", "weight", "would do"}}
	for _, c := range cloths {
		if len(p.Rows) == maxShells || c.Verdict == advise.Unsuited {
			break
		}
		k := t.Adviser.Cat.Cloths[c.ID]
		if k == nil { // one of the maker's own swatches
			p.Rows = append(p.Rows, []string{c.Name, "", "", shareWords(c)})
			continue
		}
		s := &fibres.Subject{Cloth: k}
		mm := m
		mm.Shell = s
		out := ""
		if f, ok := t.Adviser.FiguresOf(mm)["make-up.stand-off"]; ok {
			out = t.span(f.Low, f.High, "cm")
		}
		mass := t.Adviser.Cat.Estimate(*s, fibres.Mass)
		p.Rows = append(p.Rows, []string{c.Name, out, t.span(mass.Low, mass.High, "g/m2"), shareWords(c)})
	}
	if len(p.Rows) > 0 {
		b.Parts = append(b.Parts, p)
	}
}

func shareWords(c advise.Candidate) string {
	if c.Unjudged {
		return "not judged"
	}
	return advise.InTen(c.Share)
}

// refuse says what to leave in the shop: what lies beyond the limits of the first
// demands.
func (t Teller) refuse(b *Brief, m advise.MakeUp) {
	var parts []string
	for i := range m.Piece.Demands {
		d := &m.Piece.Demands[i]
		n := needOf(d)
		if n.Words != nil || len(parts) == 2 {
			continue
		}
		what := map[string]string{"make-up.stand-off": "stands %s out", "make-up.mass": "weighs %s", "shell.mass": "weighs %s"}[d.Fact]
		if what == "" {
			continue
		}
		switch lo, hi := n.Limit[0], n.Limit[1]; {
		case n.Ideal[1] < hi:
			parts = append(parts, fmt.Sprintf(what, "over "+t.span(hi, hi, n.Unit)))
		case n.Ideal[0] > lo:
			parts = append(parts, fmt.Sprintf(what, "under "+t.span(lo, lo, n.Unit)))
		}
	}
	if len(parts) > 0 {
		b.add(Refuse, "a cloth that "+prose.Or(parts))
	}
}

// Work says how to make up the cloths that were named: the verdict, the settings, the
// order of work, and what to mind.
//
// plan is how much to buy and cut, or nil where that could not be worked out.
func (t Teller) Work(m advise.MakeUp, ans advise.AdviseAnswer, plan *cut.Answer) Brief {
	judged := *ans.Judged
	b := &Brief{Head: t.verdict(m, judged), against: judged.Verdict == advise.Unsuited}
	t.finish(b, m, m.Lining != nil)
	if judged.Verdict != advise.Suits {
		t.reasons(b, m, judged)
		t.waysOut(b, m, judged)
	} else if r := t.reservation(judged); r != nil {
		b.tell(But, t.reason(m, judged, *r, true), t.matters(*r)...)
	}
	t.notes(b, judged.Notes)
	t.buy(b, plan)
	t.settings(b, m, ans)
	t.steps(b, m, ans)
	t.mind(b, m, Pressing)
	t.test(b, m, judged)
	t.ask(b, m, judged)
	b.Held = max(0, len(ans.Seams)+len(ans.Edges)+len(ans.Interfacings)+len(ans.Working)+len(ans.Cautions)-len(b.Lines(Mind)))
	b.fit(BudgetAdvise)
	return t.done(b)
}

// finish says which finish was taken where none was named, and the next in use.
func (t Teller) finish(b *Brief, m advise.MakeUp, lined bool) {
	if !m.FinishTaken {
		return
	}
	text := m.Finish.Name + ", the usual one"
	if next := t.Adviser.NextFinish(m, lined); next != nil {
		text += "; or add --finish " + next.ID
	}
	b.add(Finish, text)
}

// buy says how much of each cloth to buy.
func (t Teller) buy(b *Brief, plan *cut.Answer) {
	if plan != nil {
		b.add(BuyIt, t.Buy(plan))
	}
}

// Buy is how much of each cloth to buy, in one line.
func (t Teller) Buy(plan *cut.Answer) string {
	var parts []string
	for _, l := range plan.Layers {
		buy := l.Buy
		if l.Layer == "interfacing" || !buy.Length.Known() {
			continue
		}
		parts = append(parts, l.Cloth+" "+units.Length(buy.Length.Typical).OffTheBolt(t.System)+", "+t.span(buy.Width, buy.Width, "cm")+" wide")
	}
	return strings.Join(parts, "; ")
}

// settings are what to buy, how to wash, sew and press, a line each.
func (t Teller) settings(b *Brief, m advise.MakeUp, ans advise.AdviseAnswer) {
	var wash []string
	for _, w := range ans.PreWash {
		wash = append(wash, w.Cloth+" "+washWords(w))
	}
	b.add(WashIt, strings.Join(wash, "; "))
	var sew []string
	if n := ans.Needle; n != nil {
		sew = append(sew, "needle "+fibres.Round(n.FirstNM)+point(ans.Needles), "stitch "+t.stitch(n.StitchMM))
	}
	if th := ans.Thread; th != nil {
		kind := "thread"
		if x, ok := advise.FirstChoice(ans.Threads); ok {
			kind = x.Name
		}
		sew = append(sew, kind+" "+figures(th.TexLow, th.TexHigh)+" tex")
		if th.Metres != nil {
			sew = append(sew, fibres.Round(th.Metres.Typical)+" m")
		}
	}
	b.add(Sew, strings.Join(sew, ", "))
	if p := ans.Pressing; p != nil {
		b.add(Press, pressWords(p))
	}
	var seams []string
	for _, list := range [][]advise.Choice{ans.Seams, ans.Edges} {
		if x, ok := advise.FirstChoice(list); ok {
			seams = append(seams, x.Name)
		}
	}
	if x, ok := advise.FirstChoice(ans.Interfacings); ok && x.ID == noInterfacing {
		seams = append(seams, "no interfacing")
	} else if ok {
		seams = append(seams, x.Name+" for interfacing")
	}
	b.add(Seams, strings.Join(seams, ", "))
}

// point is the point of the needle that is taken first, "" for one that nobody need ask
// for.
func point(needles []advise.Choice) string {
	if x, ok := advise.FirstChoice(needles); ok && x.ID != advise.StandardPoint {
		return " " + x.Name
	}
	return ""
}

// stitch is the length of a stitch; by the inch it is counted.
func (t Teller) stitch(mm [2]float64) string {
	metric := figures(mm[0], mm[1]) + " mm"
	long, short := advise.PerInch(mm[1]), advise.PerInch(mm[0])
	counted := figures(long, short) + " to the inch"
	return t.System.Shown(metric, counted)
}

func figures(low, high float64) string {
	if low == high {
		return fibres.Round(low)
	}
	return fibres.Round(low) + "–" + fibres.Round(high)
}

// washWords is how a cloth is shrunk before it is cut.
func washWords(w advise.PreWash) string {
	switch w.Method {
	case "test first":
		return "not known: wash a swatch first"
	case "leave":
		return "not at all, it is kept dry"
	case "steam":
		return "by steam only, flat"
	case "hand":
		return "by hand, cool, dried flat"
	}
	times := "once"
	if w.Times > 1 {
		times = "twice"
	}
	return w.Method + ", " + times
}

// dotWords are the settings of an iron by the dots of the care label.
var dotWords = []string{"below one dot (under 110 °C)", "one dot (110 °C)", "two dots (150 °C)", "three dots (200 °C)"}

// pressWords is how hot and how: "one dot (110 °C), no steam".
func pressWords(p *advise.Pressing) string {
	var out []string
	switch {
	case !p.Limit.Known():
		return "from the coolest setting up, on a scrap first"
	case p.Limit.High == 0:
		return "do not iron"
	case p.Dots >= 0 && p.Dots < len(dotWords):
		out = append(out, dotWords[p.Dots])
	}
	if p.Steam != "" {
		out = append(out, p.Steam)
	}
	return strings.Join(append(out, "on the wrong side"), ", ")
}

// guarded says under which step of the work a danger of the bench stands, by its matter.
var guarded = map[string]string{"blades": "cut", "pins": "sew-parts", "hot-iron": "press-seams", "flying-bits": "sew-parts", "melted-edge": "cut", "pile-dust": "cut"}

// specialFrom is how special to a make-up a danger of the bench must be to stand under
// its step; what is always so stands once at the foot of the card.
const specialFrom = 0.6

// steps are the order of work, a line each, with the danger of the bench under the
// step that it guards.
func (t Teller) steps(b *Brief, m advise.MakeUp, ans advise.AdviseAnswer) {
	at := map[string]int{}
	for _, s := range ans.Order {
		if s.Step == interfaceStep && m.Interfacing == nil && len(ans.Interfacings) > 0 && ans.Interfacings[0].ID == noInterfacing {
			continue // the settings say that none is needed
		}
		say := firstSentences(s.Say, maxStepWords)
		if s.Step == preWashStep && len(b.Lines(WashIt)) > 0 {
			say = "Wash as above, then measure again."
		}
		at[s.Step] = len(b.Steps)
		b.Steps = append(b.Steps, Step{Say: say, If: s.If})
	}
	for _, r := range t.Adviser.Rules {
		if r.Step != nil && r.Matter != "" && slices.ContainsFunc(ans.Order, func(s advise.OrderStep) bool { return inStep(s, r) }) {
			b.mark(r.Matter)
		}
	}
	for _, f := range t.Adviser.Firings(m) {
		r := f.Rule
		i, there := at[guarded[r.Matter]]
		if there && atBench(r) && len(f.Open) == 0 && f.Share >= heedFrom && specificity(r) >= specialFrom && !b.covered[r.Matter] {
			b.Steps[i].Mind = append(b.Steps[i].Mind, r.Say)
			b.mark(r.Matter)
		}
	}
}

// Steps and choices that answers know by their ids.
const (
	preWashStep   = "pre-wash"
	interfaceStep = "interface"
	noInterfacing = "none"
)

// inStep reports whether a step says what a rule says.
func inStep(s advise.OrderStep, r *rules.Rule) bool {
	return s.Say == r.Say || slices.Contains(s.Notes, r.Say)
}

// maxStepWords is how long a step is before its later sentences are left to the
// whole answer.
const maxStepWords = 16

// firstSentences are the whole sentences of a text that fit into so many words, the
// first one in any case.
func firstSentences(text string, words int) string {
	out, n := "", 0
	for _, s := range strings.SplitAfter(text, ". ") {
		n += len(strings.Fields(s))
		if out != "" && n > words {
			break
		}
		out += s
	}
	return strings.TrimSpace(out)
}
