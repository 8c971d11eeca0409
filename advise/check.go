package advise

import (
	"fmt"
	"slices"
	"sort"

	"tenter/fibres"
	"tenter/fibres/fault"
)

// IDsOf repeats a make-up by its ids.
func IDsOf(m MakeUp) MakeUpIDs {
	var s MakeUpIDs
	id := func(x *fibres.Subject) string {
		switch {
		case x == nil:
			return ""
		case x.Swatch:
			return x.Name
		case x.Cloth != nil:
			return x.Cloth.ID
		}
		return x.Name
	}
	s.Cloth, s.Lining, s.Wearer = id(m.Shell), id(m.Lining), m.Wearer
	if m.Piece != nil {
		s.Piece = m.Piece.ID
	}
	if m.Finish != nil {
		s.Finish = m.Finish.ID
	}
	if m.Job != nil {
		s.Job = m.Job.ID
	}
	if m.Interfacing != nil {
		s.Interfacing = m.Interfacing.ID
	}
	if m.Seam != nil {
		s.Seam = m.Seam.ID
	}
	if m.Edge != nil {
		s.Edge = m.Edge.ID
	}
	for _, x := range m.Inner {
		s.Layers = append(s.Layers, InnerIDs{x.Name, id(x.Of)})
	}
	return s
}

// Check judges one make-up: its demands, the rules that speak on it, what would
// settle the doubt, and the ways out. A shell and a piece are required.
func (a *Adviser) Check(m MakeUp) (CheckAnswer, error) {
	out, err := a.CheckAlone(m)
	if err == nil && out.Verdict != Suits {
		out.Instead = a.instead(m, failingOf(out))
	}
	return out, err
}

// CheckAlone is [Adviser.Check] without the ways out, for which every other cloth,
// finish and piece is judged too.
func (a *Adviser) CheckAlone(m MakeUp) (CheckAnswer, error) {
	if err := complete(m); err != nil {
		return CheckAnswer{}, err
	}
	if l := m.Lining; l != nil && kept(l) { // drawn while the shell is
		go a.sample(l, fibres.LiningSalt)
	}
	return a.say(a.judge(m)), nil
}

// complete refuses a make-up of which too little is named to judge it.
func complete(m MakeUp) error {
	if m.Shell == nil {
		return &fault.Fault{Kind: fault.WrongCall, What: "no cloth is named", Expected: "a cloth to judge", Mend: "tenter check denim --piece cowl"}
	}
	if m.Piece == nil {
		return &fault.Fault{Kind: fault.WrongCall, What: "no piece is named", Where: "--piece", Expected: "what is to be made of the cloth", Mend: "`tenter list pieces` shows them"}
	}
	return nil
}

// say puts what was judged into an answer.
func (a *Adviser) say(j *judged) CheckAnswer {
	out := CheckAnswer{Version: Version, MakeUp: IDsOf(j.make), Wishes: wishEchoes(j.make), Verdict: j.verdict, Share: j.share, Fits: j.fits, Unjudged: j.unjudged(), Headline: headline(j),
		Demands: []Asked{}, Settle: []Settle{}}
	for _, k := range j.asked {
		out.Demands = append(out.Demands, a.sayDemand(j, k))
	}
	sort.SliceStable(out.Demands, func(i, k int) bool { return out.Demands[i].Share < out.Demands[k].Share })
	out.Reasons = a.reasons(j)
	out.Reservations, out.NotJudged = reservations(out.Reasons), a.notJudged(j, out.Reasons)
	out.Fall = a.fall(j)
	out.Settle = a.settle(j, out)
	for _, d := range a.demandsOf(j.make, j.job) {
		if d.Moved != nil {
			out.Notes = append(out.Notes, d.SayMoved())
		}
	}
	m := j.make
	out.Notes = append(out.Notes, mayBe(m)...)
	if m.Finish != nil && m.Finish.Lined && m.Lining == nil {
		out.Notes = append(out.Notes, "No lining is named: the shell is judged by itself. Add --lining to judge both together.")
	}
	if m.Lining != nil && m.Finish != nil && !m.Finish.Lined {
		out.Notes = append(out.Notes, "A "+m.Finish.Name+" has no full lining: the lining named is judged for its care and colour, not for the fall.")
	}
	return out
}

// because says in a phrase how a fact came about, and from which sources.
func (a *Adviser) because(j *judged, fact int) (string, []string) {
	o := a.at.origin[fact]
	m := j.make
	var src []string
	phrase := ""
	for layer, s := range [2]*fibres.Subject{m.Shell, m.Lining} {
		if s == nil || o.layer != both && o.layer != layer {
			continue
		}
		for _, p := range o.from {
			e := a.Cat.Estimate(*s, p)
			phrase = e.Because
			for _, id := range e.Sources {
				if !slices.Contains(src, id) {
					src = append(src, id)
				}
			}
		}
	}
	if o.because != nil {
		phrase = o.because(m)
	}
	return phrase, src
}

func (a *Adviser) sayDemand(j *judged, k asked) Asked {
	d := k.demand
	f := a.facts[d.fact]
	out := Asked{ID: d.ID, Fact: d.Fact, Share: k.share, Known: k.known, Say: d.Say, Basis: d.Basis, Sources: d.Sources,
		Need: Need{Ideal: [2]float64{d.Ideal.Low, d.Ideal.High}, Limit: [2]float64{d.Limit.Low, d.Limit.High}, Unit: d.Unit}}
	if d.graded {
		out.Need.Words = []string{d.Words[0], d.Words[1]}
	}
	because, src := a.because(j, d.fact)
	if !k.known {
		out.Have = fibres.Estimate{Unit: d.Unit, Basis: fibres.Unknown, Sources: []string{}, Because: "not known of this cloth"}
		return out
	}
	out.Have = estimateOf(k.column, f.Unit, d.scale, because, src)
	if k.share < 1 {
		out.Missing = k.failing()
	}
	return out
}

// FallOf is how a make-up hangs, unjudged; nil where nothing is known of its stiffness. Piece
// and finish may be left out.
func (a *Adviser) FallOf(m MakeUp) *Fall {
	j := &judged{make: m}
	j.c, j.composite = a.build(m)
	return a.fall(j)
}

// fall is the hang of the make-up in maker's measures, or nil where its
// bending length is not known.
func (a *Adviser) fall(j *judged) *Fall {
	w := j.composite
	if w.bend == nil {
		return nil
	}
	because, src := a.because(j, a.place("make-up.bending-length"))
	f := &Fall{
		Bending: estimateOf(w.bend, "cm", nil, because, src),
		Hand:    estimateOf(w.hand(), "", fibres.HandScale, because, src),
		Mass:    estimateOf(w.mass, "g/m2", nil, "mass of all layers", src),
	}
	if stand := w.stand(); stand != nil {
		f.StandOff = estimateOf(stand, "cm", nil, because, src)
	}
	if fold := foldWidth(j.make.Piece, w.bend); fold != nil {
		f.FoldWidth = estimateOf(fold, "cm", nil, because+"; right within a factor of two", src)
	}
	return f
}

// testFor names the property whose home test settles a fact.
func (a *Adviser) testFor(fact int) (fibres.Property, bool) {
	if from := a.at.origin[fact].from; len(from) > 0 {
		return from[0], true
	}
	return 0, false
}

// tested reports whether a home test was made on a cloth: what it settles was measured.
func tested(s *fibres.Subject, test string) bool {
	if s == nil {
		return false
	}
	for p, e := range s.Known {
		if e.Basis == fibres.Measured && fibres.Properties[p].Test == test {
			return true
		}
	}
	return false
}

// settle lists the home tests that would narrow the answer, the one that
// decides most first: demands that part of the population fails, then rules
// that may apply.
func (a *Adviser) settle(j *judged, ans CheckAnswer) []Settle {
	out := []Settle{}
	seen := map[string]bool{}
	add := func(p fibres.Property, decides string) {
		t := fibres.Tests[fibres.Properties[p].Test]
		if tested(j.make.Shell, t.ID) && (j.make.Lining == nil || tested(j.make.Lining, t.ID)) {
			return // it has been measured
		}
		if t.ID == "" || seen[t.ID] {
			return
		}
		seen[t.ID] = true
		which := ""
		if j.make.Lining != nil {
			which = " on shell and lining"
		}
		out = append(out, Settle{Test: t.ID, Say: fmt.Sprintf("the %s test%s decides %s", t.Name, which, decides), How: t.How, Caution: t.Caution, Decides: decides})
	}
	type doubt struct {
		k asked
		v float64
	}
	var doubts []doubt
	for _, k := range j.asked {
		if !k.known || (k.share > 0.05 && k.share < 0.95) {
			doubts = append(doubts, doubt{k, k.share * (1 - k.share)})
		}
	}
	sort.SliceStable(doubts, func(i, k int) bool { return doubts[i].v > doubts[k].v })
	for _, d := range doubts {
		if p, ok := a.testFor(d.k.demand.fact); ok {
			add(p, d.k.demand.ID)
		}
	}
	for _, r := range ans.Reasons {
		if r.Firm || len(r.Open) > 0 || len(out) >= 4 {
			continue
		}
		for _, rule := range a.Rules {
			if rule.ID != r.Rule {
				continue
			}
			for _, f := range rule.Facts() {
				if p, ok := a.testFor(f); ok && len(j.c.Column(f).Num) > 1 {
					add(p, fibres.Properties[p].Name)
				}
			}
		}
	}
	return out
}
