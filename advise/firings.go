package advise

import (
	"tenter/advise/rules"
	"tenter/fibres"
)

// Firings are the rules that speak on a make-up, or may: those that hold for some of
// its members, and those that wait only for what the maker can say.
func (a *Adviser) Firings(m MakeUp) []rules.Firing {
	c := a.caseOf(m)
	var out []rules.Firing
	for _, r := range a.Rules {
		if !judges(r, m) {
			continue
		}
		if f := r.Fire(c); f.Share > 0 && askable(f.Open) {
			out = append(out, f)
		}
	}
	return out
}

// told reports whether a rule is told of: it may hold, and waits for nothing that the
// user cannot simply say.
func told(f rules.Firing) bool { return f.Share >= may && askable(f.Open) }

// firmly reports whether a rule holds for nearly all, whatever is still open.
func firmly(f rules.Firing) bool { return f.Share >= firm && len(f.Open) == 0 }

// done reports whether what a rule says to do is done: it holds for half of the members,
// and nothing is open.
func done(f rules.Firing) bool { return f.Share >= 0.5 && len(f.Open) == 0 }

// MayHold says whether a rule may hold for a cloth: it is not known to fail for most of
// those that are called so, whatever is made of them.
func (a *Adviser) MayHold(r *rules.Rule, cloth *fibres.Subject) bool {
	if len(cloth.May) > 0 { // a shop's name for several
		part := 0.0
		for _, m := range cloth.May {
			if a.MayHold(r, &fibres.Subject{Cloth: m.Cloth}) {
				part += m.Part
			}
		}
		return part >= 0.5
	}
	return a.mayHold(r, MakeUp{Shell: cloth})
}

// MayHoldFor says whether a rule may hold for a piece, whatever it is made of.
func (a *Adviser) MayHoldFor(r *rules.Rule, p *Piece) bool { return a.mayHold(r, MakeUp{Piece: p}) }

func (a *Adviser) mayHold(r *rules.Rule, m MakeUp) bool {
	f := r.Fire(a.caseOf(m))
	return f.Share >= 0.5 || len(f.Open) > 0
}
