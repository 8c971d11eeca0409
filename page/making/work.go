package making

import (
	"math"
	"slices"

	"tenter/advise"
	"tenter/advise/brief"
	"tenter/fibres"
	"tenter/page/sheet"
)

// Work is what to do with the make-up in hand.
type Work struct {
	advise.AdviseAnswer
	Brief        brief.Brief // the verdict in a few lines
	Pictures     []*sheet.Drawing
	Words        string
	Whole        string // the whole answer with its reasons
	Cut          string // its sizes and what to buy
	Card, Purse  string // to be printed
	Worn         string // how it did in wear
	Swaps        []LiningCard
	Interfacings []Pick
	Seams, Edges []Pick
	Gap, GapIn   string // how far the first cleaning parts the two; what it is
}

// Pick is a seam, edge or interfacing that may be chosen.
type Pick struct {
	advise.Choice
	Of     sheet.Link
	Choose string
	Chosen bool
}

const mostPicks = 6

func (v *View) work() error {
	ans, err := v.Adv.Advise(v.Made, mostPicks)
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
	w.Brief = v.Teller().Check(m, *ans.Judged)
	w.Words = v.FallWords(ans.Judged.Fall)
	w.Pictures = v.DrawMakeUp(v.Ask, m, ans.Judged.Fall)
	var all []string
	for _, p := range v.Carry(keyStep, keyFibre, keySort, keyWash, keyWidth, keyCount, keyOwn) {
		all = append(all, p.Key, p.Value)
	}
	w.Whole, w.Cut, w.Worn = v.To("/check", all...), v.To("/cut", all...), v.To("/worn", all...)
	w.Card, w.Purse = v.To("/card", all...), v.To("/card", append(all, "kind", "shopping")...)
	w.Interfacings = v.picks("interfacing", sheet.KeyInterfacing, ans.Interfacings)
	w.Seams, w.Edges = v.picks("seam", sheet.KeySeam, ans.Seams), v.picks("edge", sheet.KeyEdge, ans.Edges)
	if m.Finish.Lined {
		return v.swaps(m, *ans.Judged)
	}
	return nil
}

// swaps offers other linings, each with what it would change.
func (v *View) swaps(m advise.MakeUp, now advise.CheckAnswer) error {
	list, err := v.pairs()
	if err != nil {
		return err
	}
	as := pairing{answer: now}
	if m.Lining != nil {
		if pair, err := v.Adv.Pair(m, false, 1); err == nil && len(pair.Pairs) == 1 && pair.Pairs[0].Gap.Known() {
			as.gap, as.gapIn = pair.Pairs[0].Gap, pair.Pairs[0].GapIn
			v.Work.Gap, v.Work.GapIn = v.Quantity(as.gap.Typical, "mm"), gapIn[as.gapIn]
		}
	}
	for _, p := range list {
		if m.Lining != nil && p.Lining == now.MakeUp.Lining {
			continue
		}
		if len(v.Work.Swaps) == 6 {
			break
		}
		c, err := v.lining(p, &as)
		if err != nil {
			return err
		}
		v.Work.Swaps = append(v.Work.Swaps, c)
	}
	return nil
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
	if d := sheet.Tenths(then.Share) - sheet.Tenths(now.Share); d != 0 {
		word := "more"
		if d < 0 {
			word = "fewer"
		}
		out = append(out, inWords(abs(d))+" in ten "+word+" would do")
	}
	if now.Fall != nil && then.Fall != nil && now.Fall.StandOff.Known() && then.Fall.StandOff.Known() {
		d := math.Round(10*(then.Fall.StandOff.Typical-now.Fall.StandOff.Typical)) / 10 // no edge is set finer than that
		switch {
		case d > 0:
			out = append(out, "stands "+v.Quantity(math.Abs(10*d), "mm")+" further out")
		case d < 0:
			out = append(out, "falls "+v.Quantity(math.Abs(10*d), "mm")+" closer")
		}
		if d := then.Fall.Mass.Typical - now.Fall.Mass.Typical; then.Fall.Mass.Known() && now.Fall.Mass.Known() && math.Abs(d) > 5 {
			word := " heavier"
			if d < 0 {
				word = " lighter"
			}
			out = append(out, v.Quantity(math.Abs(d), "g/m2")+word)
		}
	}
	if a, b := was.gap, becomes.gap; a.Known() && b.Known() && was.gapIn == becomes.gapIn && math.Abs(a.Typical-b.Typical) >= 1 {
		word := "more"
		if b.Typical < a.Typical {
			word = "less"
		}
		out = append(out, "parts "+v.Quantity(math.Round(math.Abs(b.Typical-a.Typical)), "mm")+" "+word+" in the first cleaning")
	}
	if len(out) == 0 {
		out = append(out, "changes nothing that can be reckoned")
	}
	return out
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
