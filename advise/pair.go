package advise

import (
	"fmt"
	"slices"

	"tenter/fibres"
	"tenter/fibres/fault"
)

// Pair judges shells with linings, best first: all shells or the one named,
// all linings or the one named. limit is the most pairs told; 0 is all.
func (a *Adviser) Pair(m MakeUp, reversible bool, limit int) (PairAnswer, error) {
	if m.Piece == nil || m.Finish == nil {
		return PairAnswer{}, &fault.Fault{Kind: fault.WrongCall, What: "a pair is judged for a piece and a finish", Expected: "--piece and --finish", Mend: "tenter pair cotton-sateen --piece hooded-wrap --finish bagged-lining"}
	}
	if !m.Finish.Lined {
		return PairAnswer{}, &fault.Fault{Kind: fault.WrongCall, Where: "--finish", What: m.Finish.Name + " has no lining", Expected: "a lined finish", Mend: "`tenter list finishes` shows which are lined"}
	}
	if reversible && !m.Finish.Reversible {
		return PairAnswer{}, &fault.Fault{Kind: fault.WrongCall, Where: "--reversible", What: m.Finish.Name + " is not reversible", Expected: "a finish that may be worn either face out", Mend: "leave --reversible out, or choose bagged-lining"}
	}
	shells := []*fibres.Subject{m.Shell}
	if m.Shell == nil {
		shells = subjectsOf(a.Shells())
	}
	linings := []*fibres.Subject{m.Lining}
	if m.Lining == nil {
		list := a.Linings()
		if reversible { // either face is the outside, so any shell cloth may be the second
			for _, c := range a.Shells() {
				if !slices.Contains(list, c) {
					list = append(list, c)
				}
			}
		}
		linings = subjectsOf(list)
	}
	out := PairAnswer{Version: Version, MakeUp: said(m), Wishes: wishesSaid(m), Pairs: []Paired{}, Notes: mayBe(m)}
	var pairs []MakeUp
	for _, s := range shells {
		for _, l := range linings {
			if s.Cloth != nil && s.Cloth == l.Cloth && len(shells)*len(linings) > 1 {
				continue
			}
			mm := m
			mm.Shell, mm.Lining = s, l
			pairs = append(pairs, mm)
		}
	}
	js := a.judgeEach(len(pairs), func(i int) MakeUp { return pairs[i] })
	out.Judged = len(js)
	for _, j := range js {
		if limit > 0 && len(out.Pairs) == limit {
			break
		}
		full := a.judge(j.make)
		because, src := a.because(full, a.place("make-up.shrink-gap"))
		p := Paired{Shell: said(j.make).Cloth, Lining: said(j.make).Lining, Verdict: j.verdict, Share: j.share, Unjudged: j.unjudged(),
			Gap: estimateOf(full.composite.gap, "mm", nil, because, src), GapIn: "wash", Say: short(full), Short: short(full), Reasons: []Reason{}}
		said := "cut unwashed, the first wash parts"
		if full.composite.dry {
			p.GapIn, said = "dry-clean", "cut unsteamed, the first dry-cleaning parts"
		}
		if p.Gap.Known() {
			p.Say += fmt.Sprintf("; %s them by about %s mm over the longest edge", said, fibres.Round(p.Gap.Typical))
		}
		for _, r := range a.reasons(full) {
			if r.Effect != "do" && len(p.Reasons) < 5 {
				p.Reasons = append(p.Reasons, r)
			}
		}
		out.Pairs = append(out.Pairs, p)
	}
	return out, nil
}
