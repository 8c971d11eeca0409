// Package cloth is the page of a cloth: its properties as ranges on a common
// scale, why each figure is what it is, and sliders to put a doubt to the test.
package cloth

import (
	"embed"
	"html/template"
	"net/url"
	"strings"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/units"
	"tenter/page/address"
	"tenter/page/picture"
	"tenter/page/question"
	"tenter/page/sheet"
	"tenter/page/words"
)

//go:embed cloth.tmpl
var files embed.FS

// Page lies at /cloth/ID.
var Page = sheet.Page{Pattern: "/cloth/{id}", Files: files, Template: "cloth.tmpl", Make: build}

// View is one cloth.
type View struct {
	sheet.Sheet
	Cloth       *fibres.Cloth
	Subject     *fibres.Subject
	FieldErrors question.FieldErrors
	Narrowed    bool
	Content     []Part
	Structure   sheet.Link
	Treats      []sheet.Link
	Weave       template.HTML
	Props       []sheet.Prop
	Ways        []sheet.Prop // bending length along the grain, across it and on the bias
	Also        []sheet.Group
	Own         []sheet.Link // swatches sold under the name
	Needle      string
	Doubt       Doubt
	Makes       []Make
	Chosen      string // the way to choose a piece for it
}

// Part is a fibre of the cloth.
type Part struct {
	Fibre sheet.Link
	Share string
	Cite  sheet.Cited
}

// Doubt is the cloth put to a piece, narrowed by what the user says of theirs.
type Doubt struct {
	Pieces, Finishes []sheet.OptionGroup
	Mass, Bending    Slider
	Result           *sheet.Result // nil where no piece is named
	Headline         string        // of it, to be said aloud
	Picture          template.HTML
	Words            string
	Hand             string // how it bends, where it is judged for nothing
}

// Slider is a figure that may be said: from, to and what is said now, in the
// units shown.
type Slider struct {
	Key, Name, Unit       string
	From, To, Step, Start string
	Value                 string // "" where nothing is said
}

// Make is a piece that the cloth would do for.
type Make struct {
	sheet.Link
	advise.Candidate
}

func build(k *sheet.Site, a address.Ask) (sheet.View, error) {
	c := k.Adv.Cat.Cloths[a.ID]
	if c == nil {
		s, err := k.Subject(a.ID)
		if err != nil {
			return nil, err
		}
		if s.Cloth == nil || s.Swatch {
			return nil, sheet.Nothing("cloth", a.ID)
		}
		a.Path = "/cloth/" + s.Cloth.ID
		return nil, &sheet.Moved{To: a.With()}
	}
	v := &View{Sheet: sheet.NewSheet(k, a, "/list", c.Name), Cloth: c}
	v.Query.Set(address.KeyShell, c.ID)
	m, wrong := question.MakeUp(k, v.Ask)
	v.Query.Del(address.KeyShell)
	v.Subject, v.FieldErrors, v.Narrowed = m.Shell, wrong, len(m.Shell.Known) > 0
	v.doubt(m)
	if a.Part != "" {
		return v, nil
	}
	v.describe()
	v.Props, v.Ways = v.PropsOf(v.Subject)
	v.Own = k.OwnOf(c.ID)
	if n := k.Adv.NeedleFor(*v.Subject); n != nil {
		v.Needle = n.Say
	}
	v.Also = k.SeeAlso("cloth", c.ID, "made of", "structure", "treatment")
	v.Makes, v.Chosen = v.makes(), v.To("/make", append(v.Kept(), address.KeyShell, c.ID, address.KeyStep, address.StagePiece)...)
	return v, nil
}

func (v *View) describe() {
	c := v.Cloth
	for _, p := range c.Content {
		if p.Share.High < 1 {
			continue
		}
		l, _ := v.Link("fibre", p.Fibre.ID)
		x := Part{Fibre: l, Cite: v.CiteEstimate(p.Share)}
		if p.Share.Low != 100 {
			x.Share = v.Quantities(p.Share.Low, p.Share.High, "%")
		}
		v.Content = append(v.Content, x)
	}
	v.Structure, _ = v.Link("structure", c.Structure.ID)
	for _, t := range c.Treatments {
		l, _ := v.Link("treatment", t.ID)
		v.Treats = append(v.Treats, l)
	}
	if plan := v.Adv.Cat.Weaves[c.Structure.Weave]; plan != "" {
		v.Weave = picture.Weave(plan, "Weave of "+c.Structure.Name+": a filled square is the warp on top")
	}
}

// doubt puts the cloth to the piece that the address names.
func (v *View) doubt(m advise.MakeUp) {
	d := &v.Doubt
	piece, finish := "", ""
	if m.Piece != nil {
		piece = m.Piece.ID
	}
	if m.Finish != nil {
		finish = m.Finish.ID
	}
	plain := fibres.Subject{Cloth: v.Cloth}
	d.Mass = v.slider(address.KeyMass, "mass", fibres.Mass, plain)
	d.Bending = v.slider(address.KeyBending, "droop", fibres.BendingLength, plain)
	if v.Part == "" {
		d.Pieces, d.Finishes = v.PieceOptions(piece), v.FinishOptions(finish)
	}
	bend := v.Adv.Cat.Estimate(*v.Subject, fibres.BendingLength)
	d.Picture = picture.Strip(v.Units, bend, "How 10 cm of it hang over the edge of a table")
	d.Words = "Ten centimetres of it over a table edge."
	d.Hand = words.Words(v.Adv.Cat.Estimate(*v.Subject, fibres.Hand))
	if m.Piece == nil {
		return
	}
	ans, err := v.Adv.Check(m)
	if err != nil {
		return // a shell and a piece are there
	}
	v.judged(m, ans)
}

// judged puts the cloth, judged for the piece, on the first screen; its ways out lead to
// the page of the question.
func (v *View) judged(m advise.MakeUp, ans advise.CheckAnswer) {
	d := &v.Doubt
	pairs := append(v.Kept(), address.KeyShell, v.Cloth.ID)
	q := url.Values{}
	for i := 0; i+1 < len(pairs); i += 2 {
		q.Set(pairs[i], pairs[i+1])
	}
	asked := v.Sheet
	asked.Ask = address.NewAsk("/check", "", q)
	asked.Units = v.Units
	d.Result, d.Headline = asked.NewResult(m, &ans, v.Teller().Check(m, ans)), ans.Headline
	d.Words = v.FallWords(ans.Fall)
	if p := v.CardPicture(v.Ask, m, ans.Fall, nil, "How the edge of a "+m.Piece.Name+" of it hangs"); p != "" {
		d.Picture = p
		if strings.Contains(string(p), address.WornPath) {
			d.Words += " Worn: a computed fall, no photograph."
		}
	}
	whole := sheet.Go{Word: "The whole answer", To: v.To("/check", pairs...), Main: true}
	d.Result.Next = []sheet.Go{whole}
	if m.Finish != nil {
		d.Result.Next = append(d.Result.Next, sheet.Go{Word: "How to make it", To: v.To("/make", append(pairs, address.KeyStep, address.StageWork)...)})
	}
}

// slider spans a property's population with a little room at both ends.
func (v *View) slider(key, name string, p fibres.Property, plain fibres.Subject) Slider {
	s := Slider{Key: key, Name: name, Value: v.Get(key)}
	e := v.Adv.Cat.Estimate(plain, p)
	if !e.Known() {
		return s
	}
	info := fibres.Properties[p]
	lo, hi := max(info.Low, e.Quantile(0.01)*0.9), min(info.High, e.Quantile(0.99)*1.1)
	f, step := 1.0, 1.0
	s.Unit = words.Pretty(info.Unit)
	switch {
	case p == fibres.Mass && v.Units == units.Imperial:
		f, step, s.Unit = 1/float64(units.OuncePerSquareYard), 0.1, "oz/yd²"
	case p == fibres.BendingLength && v.Units == units.Imperial:
		f, step, s.Unit = 1/2.54, 0.02, "in"
	case p == fibres.BendingLength:
		step = 0.05
	}
	round := func(x float64) string { return fibres.Round(float64(int(x*f/step+0.5)) * step) }
	s.From, s.To, s.Start, s.Step = round(lo), round(hi), round(e.Typical), strings.TrimRight(strings.TrimRight(formatStep(step), "0"), ".")
	return s
}

func formatStep(v float64) string {
	switch v {
	case 1:
		return "1"
	case 0.1:
		return "0.1"
	case 0.02:
		return "0.02"
	}
	return "0.05"
}

// makes lists the pieces that a single layer of the cloth would do for best.
func (v *View) makes() []Make {
	return sheet.Remember(v.Site, "makes "+v.Cloth.ID, func() []Make {
		var out []Make
		for _, c := range v.Adv.BestPieces(&fibres.Subject{Cloth: v.Cloth}, maxMakes) {
			l, _ := v.Link("piece", c.ID)
			out = append(out, Make{l, c})
		}
		return out
	})
}

// maxMakes is how many pieces a page shows.
const maxMakes = 10
