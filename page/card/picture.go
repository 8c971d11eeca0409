package card

import (
	"bytes"
	"encoding/base64"
	"html/template"
	"image/color"
	"image/png"

	"tenter/advise"
	"tenter/draw"
	"tenter/draw/worn"
	"tenter/fibres"
	"tenter/fibres/hang"
	"tenter/fibres/units"
)

// anyMass stands in where the mass is not known: the shape of a fall depends on
// the bending length alone.
const anyMass = 150

// FallOf is the view of how a make-up falls; ok is false where its piece judges
// no flap or nothing is known of its stiffness.
func FallOf(a *advise.Adviser, m advise.MakeUp, f *advise.Fall) (v draw.FallView, ok bool) {
	if f == nil || !f.Bending.Known() || m.Piece == nil || m.Shell == nil {
		return v, false
	}
	v.Name, v.Hold = m.Shell.Label(), draw.HoldFor(m.Piece.Support)
	if m.Lining != nil && m.Finish != nil && m.Finish.Lined {
		v.Name += " lined with " + m.Lining.Label()
	}
	v.Flaps, ok = flapsOf(a, m, f)
	return v, ok
}

func flapsOf(a *advise.Adviser, m advise.MakeUp, f *advise.Fall) (out [3]hang.Flap, ok bool) {
	mass := units.ArealMass(anyMass)
	if f.Mass.Known() {
		mass = units.ArealMass(f.Mass.Typical)
	}
	for i, c := range []float64{f.Bending.Low, f.Bending.Typical, f.Bending.High} {
		if out[i], ok = a.FlapOf(m, units.Length(c), mass); !ok {
			return out, false
		}
	}
	return out, true
}

// Worn is the piece as it is worn, in the typical cloth.
type Worn struct {
	Picture template.URL // the picture itself, for a card needs nothing else
	Say     string
}

// The colours of a card's picture: a printer may have no others.
var wornFace, wornBack = color.RGBA{150, 150, 150, 255}, color.RGBA{205, 205, 205, 255}

// wornOf is the picture of a piece worn that was computed beforehand; nil where there is none.
func wornOf(m advise.MakeUp, f *advise.Fall) (*Worn, error) {
	if m.Piece == nil || f == nil || !f.Bending.Known() {
		return nil, nil
	}
	front, ok := worn.FindSide(m.Piece.ID, f.Bending.Typical, 0)
	if !ok {
		return nil, nil
	}
	var b bytes.Buffer
	if err := png.Encode(&b, front.Paint(wornFace, wornBack)); err != nil {
		return nil, err
	}
	return &Worn{template.URL("data:image/png;base64," + base64.StdEncoding.EncodeToString(b.Bytes())), m.Piece.Name + " in the typical cloth, a computed fall"}, nil
}

// NotWorn says why a piece is shown by its edge alone; empty of one that nobody would look for worn.
func NotWorn(a *advise.Adviser, m advise.MakeUp, f *advise.Fall) string {
	if m.Piece == nil || f == nil {
		return ""
	}
	why := a.PictureOf(m.Piece.ID).NotShown
	if why == "" && f.Bending.Known() {
		why = worn.Withheld(m.Piece.ID, f.Bending.Typical)
	}
	if why == "" {
		return ""
	}
	return " Not shown worn: " + why + "."
}

// EdgeOf is the view of a make-up's edge cut through; ok is false where no finish
// or shell is named.
func EdgeOf(a *advise.Adviser, m advise.MakeUp, topstitched bool) (v draw.EdgeView, ok bool) {
	f := m.Finish
	if f == nil || m.Shell == nil {
		return v, false
	}
	v = draw.EdgeView{Name: "a " + f.Name, Kind: f.Edge, AllowanceMM: 10 * float64(f.Allowance), StripMM: 10 * float64(f.StripWidth), Topstitch: topstitched,
		Mounted: f.Joined == "edge" || f.Joined == "quilted" || f.Joined == "fused"}
	sheet := func(s *fibres.Subject) *draw.Sheet {
		out := &draw.Sheet{Name: s.Label()}
		if e := a.Cat.Estimate(*s, fibres.Thickness); e.Known() {
			out.MM = e.Typical
		}
		return out
	}
	v.Shell = *sheet(m.Shell)
	switch {
	case f.Lined && m.Lining != nil:
		v.Lining = sheet(m.Lining)
	case !f.Lined && f.Layers > 1 && f.Edge != "enclosed": // doubled
		v.Lining = sheet(m.Shell)
	}
	if m.Interfacing != nil {
		v.Interfacing = &draw.Sheet{Name: m.Interfacing.Name}
	}
	return v, true
}
