package advise

import "tenter/advise/rules"

// Firings are the rules that speak on a make-up, or may: those that hold for some of
// its members, and those that wait only for what the maker can say.
func (a *Adviser) Firings(m MakeUp) []rules.Firing {
	c, _ := a.build(m)
	var out []rules.Firing
	for _, r := range a.Rules {
		if !judges(r, m) {
			continue
		}
		if f := r.Fire(c); f.Share > 0 && (len(f.Open) == 0 || a.askable(f.Open)) {
			out = append(out, f)
		}
	}
	return out
}
