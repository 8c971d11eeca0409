package brief

import (
	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/prose"
)

// Cloth says what a cloth is in a few rows: weight, stiffness, shrinkage, fray, heat,
// wash, width, and what it is taken for.
func (t Teller) Cloth(s *fibres.Subject) Brief {
	b := &Brief{Head: prose.Upper(s.Label()) + "."}
	if s.Cloth != nil && s.Cloth.Describe != "" {
		b.Head = prose.Upper(s.Label()) + ": " + prose.Lower(s.Cloth.Describe)
	}
	if may := s.MayBe(); may != "" {
		b.Head = prose.Upper(may) + "; name one to narrow it."
	}
	p := Part{Columns: []string{"", ""}}
	row := func(label, text string) {
		if text != "" {
			p.Rows = append(p.Rows, []string{label, text})
		}
	}
	row("weighs", t.usually(s, fibres.Mass))
	row("bends", t.usually(s, fibres.BendingLength))
	along, across := t.Adviser.Cat.Estimate(*s, fibres.ShrinkWarp), t.Adviser.Cat.Estimate(*s, fibres.ShrinkWeft)
	if along.Known() && across.Known() {
		row("shrinks", t.span(along.Low, along.High, "%")+" along, "+t.span(across.Low, across.High, "%")+" across in the first wash")
	}
	for _, x := range []struct {
		label string
		p     fibres.Property
	}{{"hand", fibres.Hand}, {"frays", fibres.Fray}, {"shows through", fibres.ShowThrough}, {"stretches", fibres.Stretch}, {"creases", fibres.Crease}, {"washes", fibres.Wash}} {
		if e := t.Adviser.Cat.Estimate(*s, x.p); e.Known() {
			row(x.label, t.have(e, e.Unit))
		}
	}
	if e := t.Adviser.Cat.Estimate(*s, fibres.PressingLimit); e.Known() {
		row("irons at", ironWords(e))
	}
	if e := t.Adviser.Cat.Estimate(*s, fibres.Width); e.Known() {
		row("sold", t.span(e.Low, e.High, "cm")+" wide")
	}
	if c := s.Cloth; c != nil {
		row("right side", c.RightSide)
		var not []string
		for _, id := range c.ConfusedWith {
			not = append(not, t.name(id))
		}
		if len(not) > 0 {
			row("not the same as", prose.Or(not))
		}
	}
	b.Parts = append(b.Parts, p)
	b.add(Next, "one figure: tenter show "+quoted(s.Label())+" --why bending-length")
	b.Held = int(fibres.NumProperties)
	b.fit(BudgetShow)
	return t.done(b)
}

// usually is a figure as a range with the usual one, and how it is known where
// nobody measured or published it.
func (t Teller) usually(s *fibres.Subject, p fibres.Property) string {
	e := t.Adviser.Cat.Estimate(*s, p)
	if !e.Known() {
		return "not known: tenter test " + fibres.Tests[fibres.Properties[p].Test].Word()
	}
	out := t.span(e.Low, e.High, e.Unit)
	if e.Low != e.High {
		out += ", usually " + t.span(e.Typical, e.Typical, e.Unit)
	}
	switch e.Basis {
	case fibres.Derived:
		out += " (worked out, not measured)"
	case fibres.Measured:
		out += " (you measured it)"
	}
	return out
}

// ironWords is how hot a cloth may be ironed, by the dots of the care label.
func ironWords(e fibres.Estimate) string {
	if e.High == 0 {
		return "do not iron"
	}
	return dotWords[advise.Dots(e.Typical)]
}
