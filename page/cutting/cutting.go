// Package cutting is cut sizes and what to buy: each part with its shrinkage,
// how the parts lie on the cloth, the length to buy, the thread.
package cutting

import (
	"embed"
	"fmt"
	"slices"
	"strings"

	"tenter/advise"
	"tenter/advise/brief"
	"tenter/advise/cut"
	"tenter/fibres"
	"tenter/fibres/units"
	"tenter/page/address"
	"tenter/page/question"
	"tenter/page/sheet"
	"tenter/page/words"
)

//go:embed cutting.tmpl
var files embed.FS

// Page lies at /cut.
var Page = sheet.Page{Pattern: "/cut", Files: files, Template: "cutting.tmpl", Make: build}

// View is the cutting of one make-up.
type View struct {
	sheet.Sheet
	Made        advise.MakeUp
	FieldErrors question.FieldErrors
	Missing     bool
	Marks       []sheet.Mark
	Form        Form
	First       *First // the first screen; nil where nothing could be laid out
	Layers      []Layer
	Gap         string
	Curves      []string
	Thread      string
	Binding     string
	Round       string // the area and the perimeter of all parts
	Seams       []Seam
	Notes       []string
	Cost        string // of all the cloth
	Whole       []Next
}

// Next is where to go on with it.
type Next struct{ Path, Word string }

// First is the first screen: how the shell is laid, what to buy, what to do before.
type First struct {
	Picture *sheet.Drawing
	Rows    []brief.Part
	Care    []string // the cautions that found no room there
}

// Form is what can be said of the cutting.
type Form struct {
	Measures                  []Measure
	Width, LiningWidth        string
	Price, LiningPrice        string
	ShellCosts, LiningCosts   string // as recorded of the swatch
	Allowance, Layer          string
	Prewashed, Fold           bool
	OneWay, Join, HasLining   bool
	ShellUsual, LiningUsual   string
	Pieces, Finishes          []sheet.OptionGroup
	Cloths                    []sheet.Link
	Shell, Lining, PieceNamed string
}

// Measure is one measure of the piece's shape.
type Measure struct{ Key, Name, Say, Usual, Value string }

// Layer is one cloth to cut from.
type Layer struct {
	Name, Cloth      string
	Of               sheet.Link
	Buy, Safe, Width string
	Cost             string
	Loses            string
	Care             string
	Cautions         []string
	Unwashed         bool   // sizes for the cloth as bought are shown beside those after it was treated
	First            string // what is done to it first: "washed", "steamed"
	Parts            []Part
	Allowances       string
	Picture          *sheet.Drawing
	Widths           []string
	InWidths         string // where the lengths in other widths are had
	Waste            string
}

// Part is one part of the piece.
type Part struct{ Name, Count, Finished, Cut, Washed, How string }

// Seam is the thread of one seam.
type Seam struct {
	Name, Length, Bobbin string
	Wind                 bool
}

func build(k *sheet.Site, a address.Ask) (sheet.View, error) {
	v := &View{Sheet: sheet.NewSheet(k, a, "/make", "Cut and buy")}
	v.Made, v.FieldErrors = question.MakeUp(k, a)
	m := v.Made
	v.Missing = m.Piece == nil || m.Shell == nil
	v.form()
	if v.Missing {
		return v, nil
	}
	v.Title = "Cut and buy: " + m.Piece.Name
	v.Marks = v.Trail(m, address.StageCut)
	plan := question.Plan
	if a.Get(address.KeyWidths) == address.Yes {
		plan = question.PlanInWidths
	}
	ans, wrong, err := plan(k, a, m)
	v.FieldErrors = append(v.FieldErrors, wrong...)
	if err != nil {
		if len(v.FieldErrors) == 0 {
			v.FieldErrors.Add("cut", "", err)
		}
		return v, nil
	}
	for i, l := range ans.Layers {
		v.Layers = append(v.Layers, v.layer(i, l))
	}
	v.Cost = ans.CostIn(v.Units)
	v.first(ans)
	v.goOn()
	if g := ans.Gap; g != nil {
		t := ans.Layers[0].Treatment
		v.Gap = fmt.Sprintf("Cut alike and joined un%s, shell and lining part by about %s over the %s edge of the %s %s (%s). %s", t.First(), v.Quantity(g.MM.Typical, "mm"),
			v.Quantity(g.EdgeCM, "cm"), g.Edge, t.In(), v.Quantities(g.MM.Low, g.MM.High, "mm"), g.Say)
	}
	for _, p := range ans.Parts {
		for _, e := range p.Edges {
			if e.Clips > 0 {
				what := "notches, for it curves outwards"
				if e.Inward {
					what = "clips, for it curves inwards"
				}
				v.Curves = append(v.Curves, fmt.Sprintf("%s, %s: %s, radius %s, about %d %s", p.Name, e.Name, v.Quantity(e.Length, "cm"), cut.RadiusIn(units.Length(e.Radius), v.Units), e.Clips, what))
			}
		}
	}
	if ans.Thread != nil {
		v.Thread = ans.Thread.In(v.Units)
		for _, s := range ans.Thread.Seams {
			v.Seams = append(v.Seams, Seam{s.Name, v.Quantity(s.Length, "cm"), v.Quantity(s.Under*100, "cm"), s.Wind})
		}
	}
	if b := ans.Binding; b != nil {
		v.Binding = b.In(v.Units)
	}
	v.Round = ans.Whole(v.Units)
	v.Notes = words.Notes(ans.Notes)
	return v, nil
}

// first gathers what decides: the layout of the shell, what to buy of each cloth and
// what it costs, what is done to it before, and what to mind.
func (v *View) first(ans cut.Answer) {
	f := &First{}
	row := func(label brief.Label, lines ...string) {
		if len(lines) > 0 {
			f.Rows = append(f.Rows, brief.Part{Label: label, Lines: lines})
		}
	}
	var buy, before, mind []string
	for _, l := range v.Layers {
		if f.Picture == nil && l.Picture != nil {
			f.Picture = l.Picture
		}
		if len(l.Parts) == 0 {
			continue
		}
		say := l.Buy + " of " + l.Cloth + ", " + l.Width + " wide"
		if l.Cost != "" {
			say += ": " + l.Cost
		}
		buy = append(buy, say+".")
		if care, _, _ := strings.Cut(l.Care, ". "); care != "" && !slices.Contains(before, care) { // how it is pressed stands with its sizes
			before = append(before, strings.TrimSuffix(care, ".")+".")
		}
		if len(l.Cautions) > 0 { // the first of a layer is the one that may hurt
			mind = append(mind, l.Cautions[0])
			f.Care = append(f.Care, l.Cautions[1:]...)
		}
	}
	if v.Cost != "" {
		buy = append(buy, "All the cloth costs "+v.Cost+".")
	}
	row(brief.BuyIt, buy...)
	row("First", before...)
	if g := ans.Gap; g != nil {
		t := ans.Layers[0].Treatment
		row(brief.But, fmt.Sprintf("Joined un%s, the two part by about %s over %s.", t.First(), v.Quantity(g.MM.Typical, "mm"), v.Quantity(g.EdgeCM, "cm")))
	}
	row(brief.Mind, mind...)
	v.First = f
}

// goOn leads to the cards and back to the work.
func (v *View) goOn() {
	if v.Made.Finish == nil {
		return
	}
	kept := v.Kept()
	v.Whole = []Next{{v.To("/card", kept...), "Job card"}, {v.To("/card", append(kept, "kind", "shopping")...), "Shopping card"},
		{v.To("/make", append(kept, address.KeyStep, address.StageWork)...), "The order of work"}}
}

func (v *View) form() {
	f, m := &v.Form, v.Made
	f.Width, f.LiningWidth, f.Allowance = v.Get(address.KeyWidth), v.Get(address.KeyLiningWidth), v.Get(address.KeyAllowance)
	f.Layer = v.Get(address.KeyLayer)
	f.Price, f.LiningPrice = v.Get(address.KeyPrice), v.Get(address.KeyLiningPrice)
	f.Prewashed, f.Fold = v.Get(address.KeyPrewashed) != "", v.Get(address.KeyFold) != ""
	f.OneWay, f.Join, f.HasLining = v.Get(address.KeyOneWay) != "", v.Get(address.KeyJoin) != "", m.Lining != nil
	if v.Missing {
		piece, finish := "", ""
		if m.Piece != nil {
			piece = m.Piece.ID
		}
		if m.Finish != nil {
			finish = m.Finish.ID
		}
		f.Pieces, f.Finishes, f.Cloths = v.PieceOptions(piece), v.FinishOptions(finish), v.Things("cloth")
		f.Shell, f.Lining = v.Get(address.KeyShell), v.Get(address.KeyLining)
		return
	}
	usual := func(s *fibres.Subject) string {
		if e := v.Adv.Cat.Estimate(*s, fibres.Width); e.Known() {
			return v.Quantity(e.Typical, "cm")
		}
		return ""
	}
	costs := func(s *fibres.Subject) string {
		if s.Price == nil {
			return ""
		}
		return s.Price.Say(v.Units)
	}
	f.ShellUsual, f.ShellCosts = usual(m.Shell), costs(m.Shell)
	if m.Lining != nil {
		f.LiningUsual, f.LiningCosts = usual(m.Lining), costs(m.Lining)
	}
	if s := v.Shape(m.Piece); s != nil {
		for _, x := range s.Parameters {
			key := address.KeySet + x.ID
			out := Measure{Key: key, Name: strings.ReplaceAll(x.ID, "-", " "), Say: x.Say, Value: v.Get(key)}
			switch x.Kind {
			case cut.KindLength:
				out.Usual = v.Length(units.Length(x.Default))
			case cut.KindAngle:
				out.Usual = fibres.Round(x.Default) + "°"
			default:
				out.Usual = fibres.Round(x.Default)
			}
			f.Measures = append(f.Measures, out)
		}
	}
}

func (v *View) layer(i int, l cut.LayerAnswer) Layer {
	out := Layer{Name: l.Layer, Cloth: l.Cloth, Care: l.Care.Say, Cautions: l.Care.Cautions}
	s := map[string]*fibres.Subject{"shell": v.Made.Shell, "lining": v.Made.Lining}[l.Layer]
	if x := v.Made.Interfacing; x != nil && l.Cloth == x.Name {
		out.Of, _ = v.Link("interfacing", x.ID)
	}
	oneWay := v.Form.OneWay
	if s != nil {
		if s.Cloth != nil {
			out.Of, _ = v.Link("cloth", s.Cloth.ID)
		}
		if e := v.Adv.Cat.Estimate(*s, fibres.Nap); e.Known() && e.Typical >= 0.5 {
			oneWay = true
		}
	}
	out.First = l.Treatment.First()
	b := l.Buy
	tape := func(cm float64) string { return units.Length(cm).OffTheBolt(v.Units) }
	out.Buy, out.Width = tape(b.Length.Typical), v.Quantity(b.Width, "cm")
	if safe := tape(b.Length.High); safe != out.Buy {
		out.Safe = safe
	}
	out.Cost = b.CostIn(v.Units)
	out.Waste = fmt.Sprintf("%.0f %% of the cloth lies in no part", b.Waste*100)
	if s := b.Near(v.Units); s != "" {
		out.Waste += "; " + strings.TrimSuffix(s, ".")
	}
	shown := b
	if l.Washed != nil {
		shown = *l.Washed
	}
	if !l.Prewashed && l.Shrink.Warp.Known() && l.Shrink.Weft.Known() {
		out.Loses = fmt.Sprintf("It loses %s along and %s across %s.", v.Quantities(l.Shrink.Warp.Low, l.Shrink.Warp.High, "%"), v.Quantities(l.Shrink.Weft.Low, l.Shrink.Weft.High, "%"), l.Treatment.In())
		out.Unwashed = true
	}
	out.Parts = v.parts(l.Pieces)
	if len(l.Pieces) > 0 {
		out.Allowances = l.Allowances(v.Units)
	}
	out.Picture = sheet.DrawLayout(v.Ask, fmt.Sprintf("layout-%d", i), l, shown, oneWay)
	if key := map[string]string{"shell": address.KeyWidth, "lining": address.KeyLiningWidth}[l.Layer]; key != "" && v.Get(key) == "" && len(l.Widths) == 0 {
		out.InWidths = v.To("/cut", append(v.Kept(), address.KeyWidths, address.Yes)...) + fmt.Sprintf("#l-%d", i)
	}
	for _, w := range l.Widths {
		say := w.Say
		if w.Fits {
			say = tape(w.Length)
		}
		out.Widths = append(out.Widths, v.Quantity(w.Width, "cm")+" wide: "+say)
	}
	return out
}

// parts are the rows of the parts that are cut from a layer.
func (v *View) parts(pieces []cut.PieceAnswer) (out []Part) {
	for _, p := range pieces {
		x := Part{Name: p.Name, Count: fmt.Sprint(p.Count), Finished: v.size(p.Finished), Cut: v.size(p.Cut), Washed: v.size(p.Washed)}
		switch {
		case p.Bias:
			x.How = "on the bias"
		case p.Turned:
			x.How = "its width along the cloth"
		}
		out = append(out, x)
	}
	return out
}

// size writes a width by a height.
func (v *View) size(s [2]float64) string {
	return units.TapeBy(units.Length(s[0]), units.Length(s[1]), v.Units)
}
