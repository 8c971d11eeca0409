// Package fall lets a make-up fall: in which cloths of its names, on what, and as it is
// seen from which sides. The command and the page share it.
package fall

import (
	"context"
	"fmt"
	"image/color"
	"math"

	"tenter/advise"
	"tenter/advise/worn"
	"tenter/draw"
	"tenter/fibres"
	"tenter/fibres/drape"
	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// Cloth is one cloth that the names of a make-up may mean, all its layers together.
type Cloth struct {
	Label   string
	Bending float64     // cm
	Mass    float64     // g/m²
	Sheet   drape.Sheet // all layers as one
}

// anisotropy is how many times as long the bending length is along the warp as along
// the weft: the median of 251 measured cloths.
const anisotropy = 1.14

// Cloths are the limp end, the typical cloth and the stiff end of a make-up; one where all was
// measured, or only the typical is asked for. Shear is 0 where it was not measured.
func Cloths(a *advise.Adviser, m advise.MakeUp, shear float64, typical bool) ([]Cloth, error) {
	f := a.FallOf(m)
	if f == nil || !(f.Bending.Typical > 0 && f.Mass.Typical > 0) {
		return nil, &fault.Fault{Kind: fault.NotFound, Where: "--shell", What: "its bending length or its mass is not known", Expected: "both",
			Mend: "`tenter test ruler-droop` tells how to measure; --bending-length and --mass take what you found"}
	}
	if shear == 0 && m.Lining == nil && m.Shell.Shear.Known() {
		shear = m.Shell.Shear.Typical
	}
	out := []Cloth{{Label: "limp end", Bending: f.Bending.Low}, {Label: "typical", Bending: f.Bending.Typical}, {Label: "stiff end", Bending: f.Bending.High}}
	switch {
	case ruled(a, m):
		out = out[1:2]
		out[0].Label = "as measured"
	case typical:
		out = out[1:2]
	}
	for i := range out {
		c := &out[i]
		c.Mass = f.Mass.Typical
		var err error
		if c.Sheet, err = sheet(c.Mass, c.Bending, shear); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// sheet is cloth of a mass in g/m² and an overall bending length in cm.
func sheet(mass, bending, shear float64) (drape.Sheet, error) {
	half := math.Sqrt(anisotropy)
	return drape.NewSheet(units.ArealMass(mass), units.Length(bending*half), units.Length(bending/half), 0, shear)
}

// ruled reports whether the bending length of every layer was measured.
func ruled(a *advise.Adviser, m advise.MakeUp) bool {
	for _, s := range []*fibres.Subject{m.Shell, m.Lining} {
		if s != nil && a.Cat.Estimate(*s, fibres.BendingLength).Basis != fibres.Measured {
			return false
		}
	}
	return true
}

// Scene lays a piece out in its measures on whom it is made for, its edge as stiff as the finish
// makes it. On is empty for the usual place.
func Scene(a *advise.Adviser, m advise.MakeUp, id string, set map[string]string, on string) (worn.Worn, error) {
	shapes, err := a.Shapes()
	if err != nil {
		return worn.Worn{}, err
	}
	figure := worn.Adult
	if m.Wearer == "child" {
		figure = worn.Child
	}
	picture := shapes.PictureOf(id)
	if why := picture.NotShown; why != "" {
		return worn.Worn{}, worn.NotShown(id, why)
	}
	w, err := worn.Wear(id, shapes.ByID, set, figure, on)
	if err != nil {
		return w, err
	}
	if doubt := picture.Doubt; doubt != "" {
		w.Says = append(w.Says, doubt)
	}
	width, rigidity, mass := a.EdgeStrip(m)
	w.Stiffen(float64(width)/100, rigidity, mass)
	return w, nil
}

// Seen is how a fall is to be drawn, in no colours yet.
func Seen(w worn.Worn, r drape.Result) draw.Fallen {
	f := draw.Fallen{Result: r, Body: w.Form(), Turn: w.Turn, Tilt: w.Tilt, Low: w.Low, High: w.High}
	low, high := draw.Box(r)
	for k := range 3 {
		f.Low[k], f.High[k] = math.Min(f.Low[k], low[k]), math.Max(f.High[k], high[k])
	}
	for _, p := range w.Scene.Panels {
		f.Inside = append(f.Inside, p.Inside)
	}
	return f
}

// Turned is a make-up's typical cloth as it hangs in its own measures, seen from so many
// sides.
type Turned struct {
	Sides []draw.Shading
	Folds int
}

// coarser is how many times the cells of the finest mesh those of a picture for a page are.
const coarser = 1.25

// Turn computes the typical cloth of a make-up and looks at it from all sides.
func Turn(ctx context.Context, a *advise.Adviser, m advise.MakeUp, set map[string]string, sides, wide, tall int) (Turned, error) {
	w, err := Scene(a, m, m.Piece.ID, set, "")
	if err != nil {
		return Turned{}, err
	}
	r, why, err := typical(ctx, a, m, w)
	if err != nil {
		return Turned{}, err
	}
	if why != "" {
		return Turned{}, &fault.Fault{Kind: fault.OutsideRange, Where: m.Piece.Name, What: "not shown: " + why, Expected: "a fall that does not mislead"}
	}
	out := Turned{Folds: w.Folds(r)}
	seen, first := Seen(w, r), w.Turn
	for i := range sides {
		seen.Turn = first + 360/float64(sides)*float64(i)
		out.Sides = append(out.Sides, seen.Shade(wide, tall))
	}
	return out, nil
}

// typical lets the typical cloth of a make-up fall, and says why it is not to be shown; empty where it may be.
func typical(ctx context.Context, a *advise.Adviser, m advise.MakeUp, w worn.Worn) (drape.Result, string, error) {
	cloths, err := Cloths(a, m, 0, true)
	if err != nil {
		return drape.Result{}, "", err
	}
	o, sheet := w.Options(), cloths[0].Sheet
	o.Cell = w.CellFor(sheet, o.Cell*coarser)
	r, err := fallen(ctx, w, o, sheet)
	if err != nil {
		return r, "", err
	}
	why, again := w.Misleads(sheet, r), w.Again(sheet, o.Cell)
	if why == "" || again == 0 {
		return r, why, nil
	}
	o.Cell = again
	r, err = fallen(ctx, w, o, sheet)
	return r, w.Misleads(sheet, r), err
}

// fallen lets a sheet fall in cells of the given width.
func fallen(ctx context.Context, w worn.Worn, o drape.Options, sheet drape.Sheet) (drape.Result, error) {
	p, err := drape.Prepare(w.Scene, o)
	if err != nil {
		return drape.Result{}, err
	}
	rs, err := p.Fall(ctx, sheet, drape.Watch{})
	if err != nil {
		return drape.Result{}, err
	}
	return rs[0], nil
}

// Paints are the colours of the outer and of the inner side of a make-up, as its cloths are said to be;
// one that has no lining shows the wrong side of its shell.
func Paints(m advise.MakeUp) (face, back color.RGBA) {
	of := func(s *fibres.Subject, otherwise color.RGBA) color.RGBA {
		if s == nil {
			return otherwise
		}
		return draw.Paint(s.Colour, s.Lightness, otherwise)
	}
	face = of(m.Shell, draw.UsualFace)
	if m.Shell != nil && m.Lining == nil {
		return face, draw.Mixed(face, color.RGBA{0xc0, 0xc0, 0xc0, 255}, 0.3)
	}
	return face, of(m.Lining, draw.UsualLining)
}

// Hex writes a colour as #rrggbb, without its sign.
func Hex(c color.RGBA) string { return fmt.Sprintf("%02x%02x%02x", c.R, c.G, c.B) }

// Unhex reads what Hex wrote.
func Unhex(s string) (c color.RGBA, ok bool) {
	n, err := fmt.Sscanf(s, "%02x%02x%02x", &c.R, &c.G, &c.B)
	c.A = 255
	return c, err == nil && n == 3 && len(s) == 6
}
