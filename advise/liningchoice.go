package advise

import (
	"slices"

	"tenter/advise/rules"
	"tenter/fibres"
)

// beyond are what speaks against a make-up whatever its lining is: it is the shell that
// is wrong for the piece.
type beyond struct {
	demands []*Demand
	rules   []bool // by rule
}

// blamed is the part of the cloths that a demand must take under every lining, before it
// is held against none of them. Own judgement.
const blamed = 0.2

// linings names the linings of a make-up, best first, and takes the first of them where
// the maker names none.
func (a *Adviser) linings(m MakeUp, limit int, out *AdviseAnswer) MakeUp {
	if m.Lining != nil {
		out.Linings = candidates([]*judged{a.judge(m)}, limit, liningOf)
		return m
	}
	js := a.rankedLinings(m, out)
	out.Linings = candidates(js, limit, liningOf)
	if none, ok := a.noLining(m); ok {
		out.Linings = slices.Insert(out.Linings, 0, none)
	}
	if len(js) > 0 {
		m.Lining = js[0].make.Lining
		out.Notes = append(out.Notes, "The lining is taken to be "+m.Lining.Label()+"; name one with --lining.")
	}
	return m
}

// rankedLinings judges every lining for a make-up. Where none suits because the shell does
// not suit the piece, they are judged by what a lining can alter.
func (a *Adviser) rankedLinings(m MakeUp, out *AdviseAnswer) []*judged {
	job := a.jobToFill(m)
	pool := subjectsOf(a.liningsFor(m, job))
	if m.Shell != nil && !job.seen() { // a second face may be the same cloth in another colour
		pool = slices.DeleteFunc(pool, func(s *fibres.Subject) bool { return s.Cloth == m.Shell.Cloth })
	}
	js := a.judgeAll(m, pool, putLining)
	left := slices.ContainsFunc(js, func(j *judged) bool { return j.verdict == Suits })
	if len(js) > 0 && !left && m.Shell != nil {
		m.past = a.beyondLinings(js)
		js = a.judgeAll(m, pool, putLining)
		for _, j := range js {
			j.make.past = nil
		}
		out.Notes = append(out.Notes, "The "+m.Shell.Label()+" does not simply suit, whatever the lining is: the linings are judged by themselves.")
	}
	a.recommend(js, liningOf, a.liningTaste(m))
	return js
}

// beyondLinings are the demands that every one of the linings misses, and the rules that
// ask of no lining.
func (a *Adviser) beyondLinings(js []*judged) *beyond {
	least := map[*Demand]float64{}
	for _, j := range js {
		for _, k := range j.asked {
			if was, seen := least[k.demand]; !seen || k.cost < was {
				least[k.demand] = k.cost
			}
		}
	}
	b := &beyond{rules: make([]bool, len(a.Rules))}
	for d, cost := range least {
		if cost >= blamed {
			b.demands = append(b.demands, d)
		}
	}
	bare := a.hangsOnNoLining()
	for i, r := range a.Rules {
		b.rules[i] = (r.Effect == rules.Against || r.Effect == rules.Forbids) && within(r, bare)
	}
	return b
}

// hangsOnNoLining marks the facts that no lining has a part in.
func (a *Adviser) hangsOnNoLining() []bool {
	x := a.at
	out := make([]bool, len(a.facts))
	for i := range out {
		switch {
		case i >= x.layer[shell] && i < x.layer[lining]:
			out[i] = true
		case i >= x.layer[lining] && i < x.derived:
		default:
			out[i] = i != a.jobFact && (i < x.derived || i >= x.interfacing)
		}
	}
	return out
}

// within reports whether a rule asks of no facts but these.
func within(r *rules.Rule, facts []bool) bool {
	return !slices.ContainsFunc(r.Facts(), func(f int) bool { return !facts[f] })
}

// noLining is the answer that the make-up wants no lining, where makers take none.
func (a *Adviser) noLining(m MakeUp) (Candidate, bool) {
	if a.layerPicks(m, "lining")[noSupport] < alsoCounts {
		return Candidate{}, false
	}
	return Candidate{ID: noSupport, Name: "none needed", Verdict: Suits, Share: 1, Say: "such a cloth is seldom lined for this", Group: Recommended, Why: "usual for it"}, true
}

// TakenLining is the lining that an answer takes to be the make-up's; ok is false where
// it has none.
func (ans AdviseAnswer) TakenLining() (c Candidate, ok bool) {
	for _, c := range ans.Linings {
		if c.ID != noSupport {
			return c, true
		}
	}
	return Candidate{}, false
}
