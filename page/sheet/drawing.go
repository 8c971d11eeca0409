package sheet

import (
	"html/template"

	"tenter/advise"
	"tenter/advise/cut"
	"tenter/draw"
	"tenter/fibres"
	"tenter/fibres/hang"
	"tenter/fibres/prose"
	"tenter/fibres/units"
	"tenter/page/address"
	"tenter/page/card"
	"tenter/page/picture"
	"tenter/page/words"
)

// Drawing is a picture to scale, with what it shows in words for who cannot see
// it.
type Drawing struct {
	SVG           template.HTML
	Caption, Text string
	Wide          bool // it is much wider than high, and may be moved sideways on a phone
}

func drawn(p draw.Picture, err error, caption string) *Drawing {
	if err != nil {
		return nil // what cannot be drawn is told in words elsewhere
	}
	return &Drawing{SVG: template.HTML(p.String()), Caption: caption, Text: p.Text} // draw escapes every word it takes
}

// drawFall draws how the edge of a make-up falls, from the side; nil where its piece
// judges no flap or nothing is known of its stiffness.
func (k *Site) drawFall(a address.Ask, m advise.MakeUp, f *advise.Fall) *Drawing {
	v, ok := card.FallOf(k.Adv, m, f)
	if !ok {
		return nil
	}
	p, err := draw.Fall(draw.Options{Prefix: "fall", Units: a.Units}, v)
	return drawn(p, err, "The edge from the side, to scale.")
}

// DrawMakeUp draws a make-up from the side, the folds round its hem and its edge cut through: as
// many of them as its piece, finish and cloth allow.
func (k *Site) DrawMakeUp(a address.Ask, m advise.MakeUp, f *advise.Fall) []*Drawing {
	var out []*Drawing
	add := func(d *Drawing) {
		if d != nil {
			out = append(out, d)
		}
	}
	if k.Worn(a, m, f) != nil { // which is the first picture then
		add(k.drawFall(a, m, f))
	}
	if v, ok := foldsOf(m, f); ok {
		p, err := draw.Folds(draw.Options{Prefix: "folds", Units: a.Units}, v)
		add(drawn(p, err, "The hem from above. One cloth may lie in half or twice as many, and cloths of the name differ besides."))
	}
	if v, ok := card.EdgeOf(k.Adv, m, false); ok {
		p, err := draw.Edge(draw.Options{Prefix: "edge", Units: a.Units}, v)
		d := drawn(p, err, "The edge, cut through.")
		if d != nil {
			d.Wide = true
		}
		add(d)
	}
	return out
}

// foldsOf is the hem of a piece that hangs free, seen from above.
func foldsOf(m advise.MakeUp, f *advise.Fall) (v draw.FoldsView, ok bool) {
	if f == nil || !f.FoldWidth.Known() || m.Piece == nil || m.Shell == nil {
		return v, false
	}
	for _, s := range m.Piece.CutJoins() {
		if s.Kind == cut.Hem {
			v.Hem += units.Length(s.Length)
		}
	}
	if v.Hem <= 0 {
		return v, false
	}
	// The make-up's own range holds the cloth's doubt, and the model's is wider.
	low, _, _ := hang.FoldWidth(units.Length(f.Bending.Low), m.Piece.Hang)
	_, typical, _ := hang.FoldWidth(units.Length(f.Bending.Typical), m.Piece.Hang)
	_, _, high := hang.FoldWidth(units.Length(f.Bending.High), m.Piece.Hang)
	v.Name, v.Width[0], v.Width[1], v.Width[2] = m.Piece.Name+" of "+m.Shell.Label(), low, typical, high
	v.Flat = m.Piece.Support == "rod" || m.Piece.Support == "frame"
	for _, x := range m.Piece.Features {
		v.Open = v.Open || x == "closure"
	}
	return v, true
}

// DrawLayout draws how the parts of a layer lie on its cloth.
func DrawLayout(a address.Ask, id string, l cut.LayerAnswer, b cut.Buy, oneWay bool) *Drawing {
	v := draw.LayoutOf(l.Layer+", "+l.Cloth, b)
	if v.Length <= 0 {
		return nil
	}
	v.OneWay = oneWay
	p, err := draw.Layout(draw.Options{Prefix: id, Units: a.Units}, v)
	return drawn(p, err, prose.Upper(l.Layer)+": "+l.Cloth+", "+words.In(a.Units).Quantity(b.Width, "cm")+" wide.")
}

// Spot is a cloth on the map: where its typical member lies, and how far its
// population reaches.
type Spot struct {
	Link
	Href                string
	Mass, Bending       fibres.Estimate
	Dim, Chosen, Swatch bool
}

// namesOnMap is up to how many spots each bears its name.
const namesOnMap = 28

// DrawMap draws where cloths lie by mass and bending length. A list beside it
// must hold the same links.
func DrawMap(a address.Ask, spots []Spot) *Drawing {
	shown := 0
	for _, s := range spots {
		if !s.Dim {
			shown++
		}
	}
	v := draw.MapView{Beside: true}
	for _, s := range spots {
		p := draw.MapPoint{Name: s.Name, Href: s.Href, MassGSM: s.Mass.Typical, BendingCM: s.Bending.Typical, Own: s.Swatch, Pale: s.Dim && !s.Chosen,
			Mark: s.Chosen || !s.Dim && shown <= namesOnMap}
		if s.Chosen {
			p.Mass, p.Bending = [2]float64{s.Mass.Low, s.Mass.High}, [2]float64{s.Bending.Low, s.Bending.High}
		}
		v.Points = append(v.Points, p)
	}
	p, err := draw.Map(draw.Options{Prefix: "map", Units: a.Units}, v)
	return drawn(p, err, "")
}

// DrawPopulation draws where several subjects lie for one property; nil where
// nothing is known of any.
func (k *Site) DrawPopulation(a address.Ask, p fibres.Property, of []*fibres.Subject) *Drawing {
	v := draw.PopulationView{Property: p}
	for _, s := range of {
		if e := k.Adv.Cat.Estimate(*s, p); e.Known() {
			v.Rows = append(v.Rows, draw.PopulationRow{Name: s.Label(), Have: e, Own: picture.IsOwn(e)})
		}
	}
	if len(v.Rows) == 0 {
		return nil
	}
	pic, err := draw.Population(draw.Options{Prefix: "p-" + fibres.Properties[p].ID, Units: a.Units}, v)
	return drawn(pic, err, "")
}

// DrawPiece draws a piece by the outlines of its shape; nil where only the boxes
// of its parts are known.
func (k *Site) DrawPiece(a address.Ask, p *advise.Piece) *Drawing {
	if k.Shape(p) == nil {
		return nil
	}
	pic, err := draw.Piece(draw.Options{Prefix: "piece", Units: a.Units}, draw.PieceView{Name: p.Name, Parts: k.Parts(p)})
	return drawn(pic, err, "Its parts at one scale, with their true outlines.")
}

// Shape is the shape a piece is drawn by, or nil where only the boxes of its
// parts are known.
func (k *Site) Shape(p *advise.Piece) *cut.Shape {
	s, err := k.Adv.Shapes()
	if err != nil {
		return nil
	}
	return s.Of(p)
}

// Parts are the parts of a piece as it is drawn, with their outlines where they
// are known.
func (k *Site) Parts(p *advise.Piece) []cut.Part {
	parts, _ := k.Adv.Drafted(p)
	return parts
}
