package advise

import (
	"slices"
	"strings"

	"tenter/advise/rules"
	"tenter/fibres"
)

// Difference is what one piece, made up in one way, is told otherwise by another
// set of rules, over every cloth that is sold.
type Difference struct {
	Piece   string         `json:"piece"`
	Finish  string         `json:"finish"`
	Layer   string         `json:"layer"`   // whether the cloths were tried as shell or as lining
	Cloths  int            `json:"cloths"`  // judged
	Verdict []VerdictMoved `json:"verdict"` // cloths whose verdict changes
	Fires   map[string]int `json:"told"`    // of each rule that is new or gone: for how many cloths it speaks
}

// VerdictMoved is a cloth that is judged otherwise.
type VerdictMoved struct {
	Cloth string `json:"cloth"`
	Was   string `json:"was"`
	Is    string `json:"is"`
}

// Difference compares the answers of two advisers over all cloths: for each piece,
// in a single layer and bagged with a lining, and in every way of making up that a
// rule names which only one of them has. It lists those that differ. Both must know
// the same catalogue. Only such rules are asked, so that the rest costs nothing.
func (a *Adviser) Difference(b *Adviser) []Difference {
	gone, fresh := ruleDifference(a.Rules, b.Rules), ruleDifference(b.Rules, a.Rules)
	either := append(append([]*rules.Rule{}, gone...), fresh...)
	ways := map[string]bool{"single-layer-hem": true, "bagged-lining": true}
	for _, r := range either {
		for _, c := range r.Parts.Written {
			if c.Fact == b.place("finish") { // where it does not hold it does not speak
				for _, id := range c.V.Words {
					ways[id] = true
				}
			}
		}
	}
	var out []Difference
	var ofShell, ofLining []*rules.Rule
	for _, r := range either {
		lining, other := b.names(r)
		if lining {
			ofLining = append(ofLining, r)
		}
		if other || !lining {
			ofShell = append(ofShell, r)
		}
	}
	layers := []struct {
		name   string
		cloths []*fibres.Cloth
		rules  []*rules.Rule
	}{{"shell", a.Shells(), ofShell}, {"lining", a.Linings(), ofLining}}
	shell, lining := a.usual(a.Shells(), "wool-flannel"), a.usual(a.Linings(), "viscose-twill")
	for _, p := range b.Pieces {
		for _, f := range b.Finishes {
			if !ways[f.ID] {
				continue
			}
			for _, l := range layers {
				if l.name == "lining" && !f.Lined || !b.mayConcern(p, f, l.rules) {
					continue
				}
				d := Difference{Piece: p.ID, Finish: f.ID, Layer: l.name, Cloths: len(l.cloths), Verdict: []VerdictMoved{}, Fires: map[string]int{}}
				for _, k := range l.cloths {
					m := MakeUp{Piece: p, Finish: f, Shell: &fibres.Subject{Cloth: k}}
					if l.name == "lining" {
						m.Shell, m.Lining = shell, m.Shell
					} else if f.Lined {
						m.Lining = lining
					}
					d.compare(a, b, m, k, l.rules)
				}
				if len(d.Fires) > 0 { // without a rule that speaks no verdict changes
					out = append(out, d)
				}
			}
		}
	}
	return out
}

// names reports whether a rule asks something of a lining, and of the shell or the
// make-up.
func (a *Adviser) names(r *rules.Rule) (lining, other bool) {
	for _, f := range r.Facts() {
		name := a.facts[f].Name
		lining = lining || slices.Contains(a.liningFacts, f)
		other = other || strings.HasPrefix(name, "shell.") || strings.HasPrefix(name, "make-up.")
	}
	return lining, other
}

// usual is the cloth that stands for the layer which is not tried.
func (a *Adviser) usual(list []*fibres.Cloth, id string) *fibres.Subject {
	if k := a.Cat.Cloths[id]; k != nil || len(list) == 0 {
		return &fibres.Subject{Cloth: k}
	}
	return &fibres.Subject{Cloth: list[0]}
}

// compare compares one make-up. The rules of both are asked of the same case: the facts
// of the two are the same.
func (d *Difference) compare(a, b *Adviser, m MakeUp, k *fibres.Cloth, either []*rules.Rule) {
	c := b.caseOf(m)
	weighs := false // a rule speaks that may change the verdict
	for _, r := range either {
		if r.About() != "" {
			continue
		}
		if f := r.Fire(c); f.Share >= may && len(f.Open) == 0 {
			d.Fires[r.ID]++
			weighs = weighs || r.Effect == rules.Forbids || r.Effect == rules.Against
		}
	}
	if !weighs {
		return
	}
	if was, is := a.judge(m).verdict, b.judge(m).verdict; was != is {
		d.Verdict = append(d.Verdict, VerdictMoved{k.ID, was, is})
	}
}

// mayConcern reports whether any of the rules could speak of a piece and a finish,
// whatever the cloth.
func (a *Adviser) mayConcern(p *Piece, f *Finish, list []*rules.Rule) bool {
	c := a.schema.NewCase(1)
	lay(c, a.at.piece, pieceFacts, p)
	lay(c, a.at.finish, finishFacts, f)
	for _, r := range list {
		if r.About() != "" {
			continue
		}
		known := false // what is known of a cloth is not yet known here
		for _, k := range r.Parts.Conds {
			known = known || k.Op == rules.OpKnown
		}
		if known || r.Fire(c).Share > 0 {
			return true
		}
	}
	return false
}

// ruleDifference lists the rules of the first that the second has not: by id, and
// by what they say and ask.
func ruleDifference(x, y []*rules.Rule) []*rules.Rule {
	has := map[string]bool{}
	for _, r := range y {
		has[fingerprint(r)] = true
	}
	var out []*rules.Rule
	for _, r := range x {
		if !has[fingerprint(r)] {
			out = append(out, r)
		}
	}
	return out
}

func fingerprint(r *rules.Rule) string {
	s := r.ID + "\x00" + r.Effect.String() + "\x00" + r.Say + "\x00" + r.Because
	for _, w := range r.When() {
		s += "\x00" + w.String()
	}
	return s
}

// Speaks tells for which part of the population a rule speaks in a case written in
// words, as its fires and quiet lists hold them; open is that something the case
// leaves out would decide.
func (a *Adviser) Speaks(r *rules.Rule, text string) (share float64, open bool, err error) {
	m, err := a.ParseCase(text)
	if err != nil {
		return 0, false, err
	}
	if !judges(r, m) {
		return 0, true, nil
	}
	c := a.caseOf(m)
	f := r.Fire(c)
	return f.Share, len(f.Open) > 0, nil
}
