package advise

import (
	"cmp"
	"fmt"
	"slices"

	"tenter/fibres"
	"tenter/fibres/fault"
)

// Pair judges shells with linings, best first: all shells or the one named,
// all linings or the one named. limit is the most pairs told; 0 is all.
func (a *Adviser) Pair(m MakeUp, reversible bool, limit int) (PairAnswer, error) {
	return a.PairTelling(m, reversible, limit, nil)
}

// PairTelling is [Adviser.Pair], which takes seconds where neither is named; tell is
// told how many of the shells have been tried. It may be nil.
func (a *Adviser) PairTelling(m MakeUp, reversible bool, limit int, tell func(done, of int)) (PairAnswer, error) {
	if m.Piece == nil || m.Finish == nil {
		return PairAnswer{}, &fault.Fault{Kind: fault.WrongCall, What: "a pair is judged for a piece", Expected: "what is to be made, and a lined finish where none is usual for it", Mend: "tenter pair \"wool flannel\" half-circle-cape"}
	}
	if !m.Finish.Lined {
		return PairAnswer{}, &fault.Fault{Kind: fault.WrongCall, Where: "--finish", What: m.Finish.Name + " has no lining", Expected: "a lined finish", Mend: "`tenter list finishes` shows which are lined"}
	}
	if reversible && !m.Finish.Reversible {
		return PairAnswer{}, &fault.Fault{Kind: fault.WrongCall, Where: "--reversible", What: m.Finish.Name + " is not reversible", Expected: "a finish that may be worn either face out", Mend: "leave --reversible out, or choose bagged-lining"}
	}
	out := PairAnswer{Version: Version, MakeUp: IDsOf(m), Wishes: wishEchoes(m), Pairs: []Paired{}, Notes: mayBe(m)}
	var best []*judged
	if m.Shell != nil || m.Lining != nil {
		pairs := a.pairsOf(m, reversible)
		out.Judged = len(pairs)
		best = a.recommendedPairs(m, pairs)
	} else {
		best, out.Judged = a.usualPairs(m, reversible, limit, tell)
	}
	if limit > 0 {
		best = best[:min(limit, len(best))]
	}
	for _, j := range best {
		full := a.judge(j.make) // the ranking keeps no reasons
		full.group, full.why = j.group, j.why
		out.Pairs = append(out.Pairs, a.paired(full))
	}
	return out, nil
}

var verdicts = []string{Suits, Borderline, Unsuited}

// shellsTried is how many shells are tried with linings for each pair that is asked for:
// some of the first have none that goes with them.
const shellsTried = 3

// usualPairs are the shells that a maker would be told of first, each with the lining
// that goes with it best, and how many pairs were judged for it; limit 0 is all shells.
func (a *Adviser) usualPairs(m MakeUp, reversible bool, limit int, tell func(done, of int)) (best []*judged, n int) {
	shells := a.judgeAll(m, subjectsOf(a.Shells()), putShell)
	a.recommend(shells, shellOf, a.shellTaste(m))
	if limit > 0 {
		shells = shells[:min(shellsTried*limit, len(shells))]
	}
	for i, s := range shells {
		mm := m
		mm.Shell = s.make.Shell
		pairs := a.pairsOf(mm, reversible)
		n += len(pairs)
		best = append(best, a.recommendedPairs(mm, pairs)[:min(1, len(pairs))]...)
		if tell != nil {
			tell(i+1, len(shells))
		}
	}
	slices.SortStableFunc(best, func(x, y *judged) int {
		return cmp.Compare(slices.Index(verdicts, x.verdict), slices.Index(verdicts, y.verdict))
	})
	return best, n
}

// recommendedPairs judges pairs of which one cloth is named, and orders them as a maker
// would be told of the other.
func (a *Adviser) recommendedPairs(m MakeUp, pairs []pair) []*judged {
	js := a.judgeEach(len(pairs), func(i int) MakeUp {
		mm := m
		mm.Shell, mm.Lining = pairs[i].shell, pairs[i].lining
		return mm
	})
	switch {
	case m.Lining == nil:
		a.recommend(js, liningOf, a.liningTaste(m))
	case m.Shell == nil:
		a.recommend(js, shellOf, a.shellTaste(m))
	}
	return js
}

// pair is a shell with a lining.
type pair struct{ shell, lining *fibres.Subject }

// pairsOf are the pairs to judge: of the named, or of all; where either face is worn
// out, any shell cloth may be the second.
func (a *Adviser) pairsOf(m MakeUp, reversible bool) []pair {
	shells := []*fibres.Subject{m.Shell}
	if m.Shell == nil {
		shells = subjectsOf(a.Shells())
	}
	linings := []*fibres.Subject{m.Lining}
	if m.Lining == nil {
		list := a.Linings()
		if m.Shell != nil {
			list = a.LiningsFor(m)
		}
		if reversible {
			for _, c := range a.Shells() {
				if !slices.Contains(list, c) {
					list = append(list, c)
				}
			}
		}
		linings = subjectsOf(list)
	}
	var out []pair
	for _, s := range shells {
		for _, l := range linings {
			if s.Cloth == nil || s.Cloth != l.Cloth || m.Shell != nil && m.Lining != nil {
				out = append(out, pair{s, l})
			}
		}
	}
	return out
}

// paired puts a judged pair into words.
func (a *Adviser) paired(full *judged) Paired {
	because, src := a.because(full, a.place("make-up.shrink-gap"))
	words := IDsOf(full.make)
	p := Paired{Shell: words.Cloth, Lining: words.Lining, Verdict: full.verdict, Share: full.share, Unjudged: full.unjudged(),
		Gap: estimateOf(full.composite.gap, "mm", nil, because, src), GapIn: "wash", Group: full.inGroup(), Why: full.why, Say: short(full), Short: short(full), Reasons: []Reason{}}
	parts := "cut unwashed, the first wash parts"
	if full.composite.dry {
		p.GapIn, parts = "dry-clean", "cut unsteamed, the first dry-cleaning parts"
	}
	if p.Gap.Known() {
		p.Say += fmt.Sprintf("; %s them by about %s mm over the longest edge", parts, fibres.Round(p.Gap.Typical))
	}
	for _, r := range a.reasons(full) {
		if r.Effect != "do" && len(p.Reasons) < 5 {
			p.Reasons = append(p.Reasons, r)
		}
	}
	return p
}
