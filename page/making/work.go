package making

import (
	"html/template"
	"math"
	"slices"
	"strings"

	"tenter/advise"
	"tenter/advise/brief"
	"tenter/fibres"
	"tenter/page/address"
	"tenter/page/picture"
	"tenter/page/question"
	"tenter/page/sheet"
	"tenter/page/words"
)

// Work is what to do with the make-up in hand.
type Work struct {
	advise.AdviseAnswer
	Result       *sheet.Result
	Settings     []brief.Part // what to buy, wash, sew, press
	Steps        []brief.Step
	Pictures     []*sheet.Drawing
	Swaps        []SwapCard
	Interfacings []Pick
	Seams, Edges []Pick
	Gap, GapIn   string // how far the first cleaning parts the two; what it is
	Whole, Worn  string // the whole answer with its reasons; the form after wear
}

// SwapCard is another lining with what it would change.
type SwapCard struct {
	advise.Paired
	Of      sheet.Link
	Picture template.HTML
	Choose  string
	Changes []string
}

// Pick is a seam, edge or interfacing that may be chosen.
type Pick struct {
	advise.Choice
	Of     sheet.Link
	Choose string
	Chosen bool
}

const maxPicks = 6

func (v *View) work() error {
	ans, err := v.Adv.Advise(v.Made, maxPicks)
	if err != nil {
		return err
	}
	w := &Work{AdviseAnswer: ans}
	v.Work = w
	m := v.Made
	if m.Lining == nil && ans.Judged != nil && ans.Judged.MakeUp.Lining != "" { // the one that advise took
		if m.Lining, err = v.Subject(ans.Judged.MakeUp.Lining); err != nil {
			return err
		}
	}
	w.Result = v.NewResult(m, ans.Judged, v.Teller().Check(m, *ans.Judged))
	w.Pictures = v.DrawMakeUp(v.Ask, m, ans.Judged.Fall)
	w.Whole, w.Worn = v.To("/check", v.Kept()...), v.To("/worn", v.Kept()...)
	v.settings(m, ans)
	v.goOn(m)
	v.changed(m, *ans.Judged)
	w.Interfacings = v.picks("interfacing", address.KeyInterfacing, ans.Interfacings)
	w.Seams, w.Edges = v.picks("seam", address.KeySeam, ans.Seams), v.picks("edge", address.KeyEdge, ans.Edges)
	if m.Finish.Lined {
		return v.swaps(m, *ans.Judged)
	}
	return nil
}

// settings are the lines and the steps that a maker works by, as the card has them.
func (v *View) settings(m advise.MakeUp, ans advise.AdviseAnswer) {
	plan, _, err := question.Plan(v.Site, v.Ask, m)
	planned := &plan
	if err != nil {
		planned = nil // what to buy is told on its own page, and why it cannot be
	}
	b := v.Teller().Work(m, ans, planned)
	for _, l := range []brief.Label{brief.BuyIt, brief.WashIt, brief.Sew, brief.Press, brief.Seams} {
		if lines := b.Lines(l); len(lines) > 0 {
			v.Work.Settings = append(v.Work.Settings, brief.Part{Label: l, Lines: lines})
		}
	}
	v.Work.Steps = b.Steps
}

// goOn says where to go on, what helps most first.
func (v *View) goOn(m advise.MakeUp) {
	r, kept := v.Work.Result, v.Kept()
	no := r.Verdict == advise.Unsuited
	if m.Finish.Lined && v.Made.Lining == nil && !no {
		r.Next = append(r.Next, sheet.Go{Word: "Choose a lining", To: v.To("/make", append(kept, address.KeyStep, address.StageLining)...), Main: true})
	}
	word := "Cut and buy"
	if no {
		word = "Cut it all the same"
	}
	r.Next = append(r.Next, sheet.Go{Word: word, To: v.To("/cut", kept...), Main: !no}, sheet.Go{Word: "Job card", To: v.To("/card", kept...)})
	if v.Get(address.KeyWas) != "" { // what a swap changed wants the room
		r.Keep = nil
		return
	}
	r.Next = append(r.Next, sheet.Go{Word: "Shopping card", To: v.To("/card", append(kept, "kind", "shopping")...)})
}

// changed tells what the swap that led here changed.
func (v *View) changed(m advise.MakeUp, now advise.CheckAnswer) {
	key, name, ok := strings.Cut(v.Get(address.KeyWas), ":")
	if !ok || key != address.KeyShell && key != address.KeyLining || name == v.Get(key) {
		return
	}
	s, err := v.Subject(name)
	if err != nil {
		return
	}
	was := m
	if key == address.KeyShell {
		was.Shell = s
	} else {
		was.Lining = s
	}
	ans, err := v.Adv.CheckAlone(was)
	if err != nil {
		return
	}
	v.Work.Result.Changed = &sheet.Changed{From: s.Label(), Changes: v.changes(v.pairingOf(was, ans), v.pairingOf(m, now)),
		Back: v.With(key, name, address.KeyWas, "")}
}

// pairingOf is a judged make-up with how far its two cloths part.
func (v *View) pairingOf(m advise.MakeUp, ans advise.CheckAnswer) pairing {
	p := pairing{answer: ans}
	if m.Lining == nil || m.Finish == nil || !m.Finish.Lined {
		return p
	}
	if pair, err := v.Adv.Pair(m, false, 1); err == nil && len(pair.Pairs) == 1 {
		p.gap, p.gapIn = pair.Pairs[0].Gap, pair.Pairs[0].GapIn
	}
	return p
}

// pairs ranks the best linings for the shell in hand.
func (v *View) pairs() ([]advise.Paired, error) {
	m := v.Made
	m.Lining = nil
	type result struct {
		pairs []advise.Paired
		err   error
	}
	key := "linings " + v.With(address.KeyLining, "", address.KeyLiningMass, "", address.KeyLiningBending, "", address.KeyLiningDrop, "", address.KeyLiningFeels, "", address.KeyLiningColour, "",
		address.KeyStep, "", address.KeyWas, "", "units", "") + v.Units.String()
	r := sheet.Remember(v.Site, key, func() result {
		ans, err := v.Adv.Pair(m, false, maxSwaps+1)
		return result{ans.Pairs, err}
	})
	return r.pairs, r.err
}

// maxSwaps is how many other linings are offered.
const maxSwaps = 6

// swaps offers other linings, each with what it would change.
func (v *View) swaps(m advise.MakeUp, now advise.CheckAnswer) error {
	list, err := v.pairs()
	if err != nil {
		return err
	}
	as := v.pairingOf(m, now)
	if as.gap.Known() {
		v.Work.Gap, v.Work.GapIn = v.Quantity(as.gap.Typical, "mm"), gapIn[as.gapIn]
	}
	behind := v.Hang(m, now.Fall)
	for _, p := range list {
		if m.Lining != nil && p.Lining == now.MakeUp.Lining {
			continue
		}
		if len(v.Work.Swaps) == maxSwaps {
			break
		}
		c, err := v.swap(m, p, as, behind)
		if err != nil {
			return err
		}
		v.Work.Swaps = append(v.Work.Swaps, c)
	}
	return nil
}

// swap draws another lining over the one in hand, and tells what it would change.
func (v *View) swap(m advise.MakeUp, p advise.Paired, now pairing, behind *picture.Hung) (SwapCard, error) {
	was := ""
	if v.Made.Lining != nil {
		was = address.KeyLining + ":" + v.Get(address.KeyLining)
	}
	c := SwapCard{Paired: p, Choose: v.With(address.KeyLining, p.Lining, address.KeyStep, "", address.KeyLiningMass, "", address.KeyLiningBending, "", address.KeyLiningDrop, "", address.KeyLiningFeels, "",
		address.KeyLiningColour, "", address.KeyWas, was)}
	c.Of, _ = v.Link("cloth", p.Lining)
	var err error
	if m.Lining, err = v.Subject(p.Lining); err != nil {
		return c, err
	}
	ans, err := v.Adv.CheckAlone(m)
	if err != nil {
		return c, err
	}
	c.Picture = v.CardPicture(v.Ask, m, ans.Fall, behind, "")
	c.Changes = v.changes(now, pairing{ans, p.Gap, p.GapIn})
	return c, nil
}

func (v *View) picks(kind, key string, list []advise.Choice) []Pick {
	var out []Pick
	seen := false
	for _, c := range list {
		l, _ := v.Link(kind, c.ID)
		p := Pick{Choice: c, Of: l, Choose: v.With(key, c.ID), Chosen: v.Get(key) == c.ID}
		if p.Chosen {
			p.Choose, seen = v.With(key, ""), true
		}
		out = append(out, p)
	}
	if id := v.Get(key); id != "" && !seen {
		if l, ok := v.Link(kind, id); ok {
			out = append(out, Pick{Choice: advise.Choice{ID: l.ID, Name: l.Name, Effect: "chosen", Say: l.Say}, Of: l, Choose: v.With(key, ""), Chosen: true})
		}
	}
	return out
}

// pairing is a make-up with how its shell and lining go together.
type pairing struct {
	answer advise.CheckAnswer
	gap    fibres.Estimate // how far the first cleaning parts the two
	gapIn  string          // what that is
}

// gapIn says what parts two layers so far, by the word of the answer.
var gapIn = map[string]string{"wash": "cut unwashed, the first wash", "dry-clean": "cut unsteamed, the first dry-cleaning"}

// changes tells in words what another make-up does that this one does not.
func (v *View) changes(was, becomes pairing) []string {
	var out []string
	now, then := was.answer, becomes.answer
	if now.Verdict != then.Verdict {
		out = append(out, now.Verdict+" becomes "+then.Verdict)
	}
	if d := words.Tenths(then.Share) - words.Tenths(now.Share); d != 0 {
		out = append(out, inWords(abs(d))+" in ten "+moreOrLess(d > 0, "more", "fewer")+" would do")
	}
	out = append(out, v.fallChanges(now.Fall, then.Fall)...)
	if a, b := was.gap, becomes.gap; a.Known() && b.Known() && was.gapIn == becomes.gapIn && math.Abs(a.Typical-b.Typical) >= 1 {
		out = append(out, "parts "+v.Quantity(math.Round(math.Abs(b.Typical-a.Typical)), "mm")+" "+moreOrLess(b.Typical > a.Typical, "more", "less")+" in the first cleaning")
	}
	if len(out) == 0 {
		out = append(out, "changes nothing that can be worked out")
	}
	return out
}

// fallChanges tells how much closer or further out another make-up falls, and what
// more or less it weighs.
func (v *View) fallChanges(now, then *advise.Fall) []string {
	var out []string
	if now == nil || then == nil || !now.StandOff.Known() || !then.StandOff.Known() {
		return nil
	}
	d := math.Round(10 * (then.StandOff.Typical - now.StandOff.Typical)) // no edge is set finer than a millimetre
	switch {
	case d > 1: // one is not seen
		out = append(out, "stands "+v.Quantity(d, "mm")+" further out")
	case d < -1:
		out = append(out, "falls "+v.Quantity(-d, "mm")+" closer")
	}
	if d := then.Mass.Typical - now.Mass.Typical; then.Mass.Known() && now.Mass.Known() && math.Abs(d) > 5 {
		out = append(out, v.Quantity(math.Abs(d), "g/m2")+" "+moreOrLess(d > 0, "heavier", "lighter"))
	}
	return out
}

func moreOrLess(more bool, yes, no string) string {
	if more {
		return yes
	}
	return no
}

func abs(n int) int { return max(n, -n) }

func inWords(n int) string {
	words := []string{"none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"}
	return words[min(max(n, 0), 10)]
}

// Picks is a list of things to choose from, with its heading.
type Picks struct {
	Title, ID string
	Some      []Alike
}

// Alike are the things of which the same is said.
type Alike struct {
	Effect, Say string
	Of          []Pick
}

// Notions are needles, threads or bindings under a heading: none can be chosen, since
// nothing else hangs on them.
type Notions struct {
	Title, ID string
	Some      []advise.Choice
}

// NotionList puts a heading over notions.
func (v *View) NotionList(title, id string, some []advise.Choice) Notions {
	return Notions{title, id, some}
}

// PickList puts a heading over picks, and what is said of several once.
func (v *View) PickList(title, id string, some []Pick) Picks {
	out := Picks{Title: title, ID: id}
	for _, p := range some {
		i := slices.IndexFunc(out.Some, func(a Alike) bool { return a.Effect == p.Effect && a.Say == p.Say })
		if i < 0 {
			i = len(out.Some)
			out.Some = append(out.Some, Alike{Effect: p.Effect, Say: p.Say})
		}
		out.Some[i].Of = append(out.Some[i].Of, p)
	}
	return out
}
