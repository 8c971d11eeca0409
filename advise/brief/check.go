package brief

import (
	"fmt"
	"slices"
	"strings"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/prose"
)

// Check says the verdict on one make-up.
func (t Teller) Check(m advise.MakeUp, ans advise.CheckAnswer) Brief {
	b := &Brief{Head: t.verdict(m, ans)}
	t.reasons(b, m, ans)
	t.waysOut(b, m, ans)
	t.notes(b, ans.Notes)
	t.mind(b, m, Wash)
	t.test(b, m, ans)
	t.ask(b, m, ans)
	t.held(b, ans)
	b.fit(BudgetCheck)
	return t.done(b)
}

// Deciding is what decides a verdict, in a sentence for a card among others, and what it
// speaks for: the reservation of a make-up that suits, else what it has; what is wanted is
// the same for all. It is empty where nothing decides.
func (t Teller) Deciding(m advise.MakeUp, ans advise.CheckAnswer) (of Label, line string) {
	b := &Brief{}
	t.reasons(b, m, ans)
	done := t.done(b)
	for _, l := range []Label{But, Why} {
		if lines := done.Lines(l); len(lines) > 0 {
			has, _, _ := strings.Cut(lines[0], "; ")
			return l, strings.TrimSuffix(has, ".") + "."
		}
	}
	return "", ""
}

// verdict is the first line: the verdict in plain words, and how many cloths of the
// name would do.
func (t Teller) verdict(m advise.MakeUp, ans advise.CheckAnswer) string {
	word := prose.Upper(ans.Verdict)
	if ans.Verdict == advise.Suits && t.reservation(ans) != nil {
		word += ", with a reservation"
	}
	name := m.Shell.Label()
	switch {
	case ans.Unjudged:
		return "Not judged: nothing that " + prose.A(m.Piece.Name) + prose.Verb(m.Piece.Name, " needs", " need") + " is known of " + name + "."
	case m.Shell.Swatch && !m.Shell.Measured() && m.Shell.Cloth != nil:
		return fmt.Sprintf("%s: %s %s would do%s; your %s is not measured.", word, advise.InTen(ans.Share), several(m.Shell.Cloth.Name), t.with(m), name)
	case m.Shell.Swatch || m.Shell.Measured():
		whose := "this " + name
		if m.Shell.Swatch {
			whose = "your " + name
		}
		switch {
		case ans.Share > 0.95:
			return word + ": yes, " + whose + " would do" + t.with(m) + "."
		case ans.Share < 0.05:
			return word + ": no, " + whose + " would not do" + t.with(m) + "."
		}
		return fmt.Sprintf("%s: %s that %s would do%s.", word, strings.Replace(advise.InTen(ans.Share), " in 10", " chances in 10", 1), whose, t.with(m))
	}
	if ans.Verdict == advise.Unsuited && (ans.Share == 0 || forbidden(ans)) {
		return word + ": " + name + " would not do" + t.with(m) + "."
	}
	only := ""
	if ans.Verdict == advise.Unsuited {
		only = "only "
	}
	share := advise.InTen(ans.Share)
	if share == "nearly all" || share == "hardly any" || strings.HasPrefix(share, "fewer") {
		only = ""
	}
	return fmt.Sprintf("%s: %s%s %s would do%s.", word, only, share, several(name)+feeling(m.Shell), t.with(m))
}

// feeling says how the cloth feels, where only a hand was asked: "that feel soft".
func feeling(s *fibres.Subject) string {
	if felt := s.Felt(); felt != "" {
		return " that feel " + felt
	}
	return ""
}

// with says what the lining has to do with the verdict, or that there was none.
func (t Teller) with(m advise.MakeUp) string {
	switch {
	case m.Lining != nil && lined(m):
		return " with this lining"
	case m.Lining != nil && m.Finish != nil:
		return ". The lining is not counted: the finish \"" + m.Finish.Name + "\" has none"
	case m.Lining != nil && t.Page:
		return ". The lining is not counted: choose a finish to judge both"
	case m.Lining != nil:
		return ". The lining is not counted: add --finish to judge both"
	case m.Lining == nil && lined(m) && t.Page:
		return ". Shell only: name a lining to judge both"
	case m.Lining == nil && lined(m):
		return ". Shell only: add --lining CLOTH to judge both"
	}
	return ""
}

func lined(m advise.MakeUp) bool { return m.Finish != nil && m.Finish.Lined }

// forbidden reports whether a rule forbids the make-up outright.
func forbidden(ans advise.CheckAnswer) bool {
	return slices.ContainsFunc(ans.Reasons, func(r advise.Reason) bool { return r.Firm && r.Effect == "forbids" })
}

// reservation is the gravest of what a make-up that suits suffers from, or nil.
func (t Teller) reservation(ans advise.CheckAnswer) *advise.Reason {
	for i, r := range ans.Reservations {
		if r.Cost >= reservedFrom && len(r.Open) == 0 {
			return &ans.Reservations[i]
		}
	}
	return nil
}

// reservedFrom is the part of the cloths that a reason takes before a make-up that
// suits is said to suit with a reservation.
const reservedFrom = 0.1

// reasons says what decides: what costs most cloths of the name, or what is nearest
// its limit where all is well.
func (t Teller) reasons(b *Brief, m advise.MakeUp, ans advise.CheckAnswer) {
	if ans.Verdict == advise.Suits {
		r := t.reservation(ans)
		if d := deciding(m, ans.Demands); d != nil && (r == nil || r.Demand != d.ID) {
			b.add(Why, t.demand(m, *d, false))
		}
		if r != nil {
			b.tell(But, t.reason(m, ans, *r, true), t.matters(*r)...)
		}
		return
	}
	alone, freed := t.shellAlone(m, ans)
	said := map[string]bool{} // what the reasons are about
	for i, r := range ans.Reasons {
		if len(b.Lines(Why)) == limits[Why] || len(r.Open) > 0 || r.Cost < reservedFrom/2 && i > 0 {
			break
		}
		if r.Matter != "" && said[r.Matter] {
			continue
		}
		said[r.Matter] = true
		say := t.reason(m, ans, r, !freed)
		if freed && i == 0 {
			say = "The lining spoils it: " + prose.Lower(say) + " " + prose.Upper(m.Shell.Label()) + " alone: " + advise.InTen(alone) + "."
		}
		b.tell(Why, say, t.matters(r)...)
	}
}

// matters are what a reason is about, as rules and answers name it.
func (t Teller) matters(r advise.Reason) []string {
	for _, x := range t.Adviser.Rules {
		if r.Rule != "" && x.ID == r.Rule {
			return []string{x.Matter}
		}
	}
	return nil
}

// deciding is the demand that speaks for a make-up that suits: what the piece asks
// before all else, then what it asks of its hang and weight; the first met where those
// are not known. What is missed speaks for nothing, and that a cloth hides what is
// behind it is no reason to make a thing of it.
func deciding(m advise.MakeUp, demands []advise.Asked) *advise.Asked {
	speaks := func(d advise.Asked) bool {
		_, p, _ := strings.Cut(d.Fact, ".")
		hides := p == "show-through" && d.Need.Limit[0] == 0
		return d.Known && d.Share >= speaksFrom && !hides
	}
	first := true
	for _, asked := range m.Piece.Demands {
		i := slices.IndexFunc(demands, func(d advise.Asked) bool { return d.Fact == asked.Fact && speaks(d) })
		if _, figure := demandWords[asked.Fact]; i < 0 || !first && !figure {
			first = first && i < 0 && strings.HasSuffix(asked.Fact, ".show-through")
			continue
		}
		return &demands[i]
	}
	if i := slices.IndexFunc(demands, speaks); i >= 0 {
		return &demands[i]
	}
	return nil
}

// speaksFrom is the part of the cloths that must meet a demand before it speaks for them.
const speaksFrom = 0.75

// shellAlone is the share of the shell without its lining, and whether it is the
// lining that spoils the make-up.
func (t Teller) shellAlone(m advise.MakeUp, ans advise.CheckAnswer) (share float64, freed bool) {
	if m.Lining == nil || !lined(m) {
		return 0, false
	}
	m.Lining = nil
	v, share := t.Adviser.Verdict(m)
	return share, v == advise.Suits && share > ans.Share+0.15
}

// reason says a demand that is missed by what the cloth has and the piece wants, and
// a rule in its own words.
func (t Teller) reason(m advise.MakeUp, ans advise.CheckAnswer, r advise.Reason, missed bool) string {
	for _, d := range ans.Demands {
		if r.Demand != "" && d.ID == r.Demand && d.Known {
			return t.demand(m, d, missed)
		}
	}
	return strings.TrimSpace(r.Say + " " + r.Because)
}

// notes are what was noticed of the maker's own cloths and verdicts, before any advice.
func (t Teller) notes(b *Brief, notes []string) {
	for _, n := range notes {
		if strings.HasPrefix(n, "No lining is named") { // the verdict says so
			continue
		}
		b.safe++
		b.kept++
		b.add(Mind, n)
	}
}

// demandWords are how a figure of the make-up is said of it.
var demandWords = map[string]string{
	"make-up.stand-off":      "the edge stands %s out before it falls",
	"make-up.mass":           "it weighs %s",
	"make-up.bending-length": "it bends at %s by the ruler",
	"make-up.thickness":      "it is %s thick",
	"make-up.fold-width":     "its folds lie %s apart",
	"make-up.shrink-gap":     "the first wash parts shell and lining by %s",
	"shell.mass":             "the shell weighs %s",
	"shell.bending-length":   "the shell bends at %s by the ruler",
	"shell.thickness":        "the shell is %s thick",
	"lining.mass":            "the lining weighs %s",
	"lining.thickness":       "the lining is %s thick",
	"lining.stiffness-ratio": "the lining is %s times as stiff as the shell",
	"lining.rigidity-ratio":  "the lining is %s times as rigid as the shell",
	"lining.mass-ratio":      "the lining weighs %s times as much as the shell",
}

// demand says one demand: what the make-up has, and what is wanted of it. What has no
// figure that a hand could measure is said in the words of the demand.
func (t Teller) demand(m advise.MakeUp, d advise.Asked, missed bool) string {
	words, ok := demandWords[d.Fact]
	switch {
	case !ok && d.Need.Words == nil:
		return d.Say
	case !ok:
		say := strings.TrimSuffix(d.Say, ".") + ". "
		if levels, ok := t.levels(m, d); ok {
			return say + levels
		}
		return say + prose.Upper(t.factName(d.Fact)) + ": " + t.have(d.Have, d.Need.Unit) + "; wants " + t.want(d.Need) + "."
	}
	wants := prose.A(m.Piece.Name) + prose.Verb(m.Piece.Name, " wants ", " want ")
	if strings.HasPrefix(d.Fact, "lining.") {
		wants = "it wants "
	}
	say := fmt.Sprintf(words, t.have(d.Have, d.Need.Unit)) + "; " + wants + t.want(d.Need) + "."
	if missed && d.Missing != "" {
		return prose.Upper(d.Missing) + ": " + say
	}
	return prose.Upper(say)
}

// factName is the name of a fact as it is said: "fray of the lining".
func (t Teller) factName(fact string) string {
	of, p, _ := strings.Cut(fact, ".")
	p = strings.ReplaceAll(p, "-", " ")
	if of == "lining" {
		return p + " of the lining"
	}
	return p
}

// waysOut says what would do instead, the change of the lining first.
func (t Teller) waysOut(b *Brief, m advise.MakeUp, ans advise.CheckAnswer) {
	by := map[string][]string{}
	for _, w := range ans.Instead {
		if w.Change == "cloth" && m.Shell.Cloth != nil && w.Name == m.Shell.Cloth.Name {
			continue // another of the same name is no other cloth
		}
		by[w.Change] = append(by[w.Change], w.Name+", "+strings.TrimPrefix(advise.InTen(w.Share), "about "))
	}
	if l := by["lining"]; l != nil {
		b.add(Change, "the lining: "+strings.Join(l, "; ")+".")
	}
	or := ""
	if l := by["cloth"]; l != nil {
		b.add(Instead, prose.Upper(strings.Join(l, "; "))+".")
		or = "or "
	}
	switch {
	case by["finish"] != nil:
		b.add(Instead, prose.Upper(or+"finish it otherwise: "+by["finish"][0]+"."))
	case by["piece"] != nil:
		piece, share, _ := strings.Cut(by["piece"][0], ", ")
		b.add(Instead, prose.Upper(or+"make "+prose.A(piece)+" of it: "+share+"."))
	}
}

// mind lists what matters for this make-up: what may hurt somebody, all of it, then
// as much advice as there is room for.
func (t Teller) mind(b *Brief, m advise.MakeUp, until Moment) {
	notes := weigh(t.Adviser, t.Adviser.Firings(m), until, b.covered)
	room := limits[Mind]
	notes = slices.DeleteFunc(notes, func(n note) bool { return n.open && !n.safety || judgedAlready(n) })
	for _, n := range notes {
		if n.safety {
			b.safe++
			b.kept++
			room = max(1, room-1)
		}
	}
	b.safe += room - limits[Mind]
	for _, n := range notes {
		if !b.tell(Mind, n.rule.Say, n.rule.Matter) && n.safety {
			b.kept--
		}
	}
}

// judgedAlready reports whether a note is one of those that the verdict and its
// reasons tell of: what speaks for or against the make-up.
func judgedAlready(n note) bool {
	e := n.rule.Effect.String()
	return e == "for" || e == "against" || e == "forbids"
}

// test says which home test settles the doubt, and the command that records it.
func (t Teller) test(b *Brief, m advise.MakeUp, ans advise.CheckAnswer) {
	if len(ans.Settle) == 0 || t.Page {
		return
	}
	b.add(Test, t.settling(m, ans, ans.Settle[0]))
}

// settling says a home test by the name under which it is done and recorded, and what
// records it.
func (t Teller) settling(m advise.MakeUp, ans advise.CheckAnswer, s advise.Settle) string {
	test := fibres.Tests[s.Test]
	say := "tenter test " + test.Word()
	both := m.Lining != nil && lined(m)
	if both && slices.ContainsFunc(ans.Demands, func(d advise.Asked) bool {
		return d.ID == s.Decides && strings.HasPrefix(d.Fact, "lining.") && !strings.HasSuffix(d.Fact, "-ratio") && !strings.HasSuffix(d.Fact, "-lack")
	}) {
		return say + " on the lining, then: tenter swatch measure NAME " + test.Word() + " …"
	}
	flag := map[string]string{"droop": "overhang", "mass": "mass"}[test.Kind]
	switch {
	case m.Shell.Swatch:
		return say + ", then: tenter swatch measure " + quoted(m.Shell.Name) + " " + test.Word() + " …"
	case flag != "" && both:
		return say + " on both, then add --" + flag + " and --lining-" + flag + "."
	case flag != "":
		return say + ", then add --" + flag + " with your figure."
	case both:
		say += " on both cloths"
	}
	return say + ", then: tenter swatch measure NAME " + test.Word() + " …"
}

func quoted(name string) string {
	if strings.ContainsRune(name, ' ') {
		return `"` + name + `"`
	}
	return name
}

// flagOf is the flag that says an open fact.
var flagOf = map[string]string{"shell.lightness": "--colour", "lining.lightness": "--lining-colour"}

// ask gathers all that waits for what only the maker knows into one question.
func (t Teller) ask(b *Brief, m advise.MakeUp, ans advise.CheckAnswer) {
	var flags []string
	for _, r := range ans.Reasons {
		for _, o := range r.Open {
			if f := flagOf[o]; f != "" && (m.Lining != nil || o != "lining.lightness") && !slices.Contains(flags, f) {
				flags = append(flags, f)
			}
		}
	}
	if len(flags) > 0 && !t.Page {
		slices.Sort(flags)
		b.add(Say, "Dark or pale? Add "+prose.And(flags)+".")
	}
}

// held counts what the whole answer tells besides.
func (t Teller) held(b *Brief, ans advise.CheckAnswer) {
	n := len(ans.Demands) + len(advise.OfRules(ans.Reasons)) + len(ans.Settle)
	for _, p := range b.Parts {
		n -= len(p.Lines)
	}
	b.Held = max(0, n)
}
