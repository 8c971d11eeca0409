// Command wornmake computes pieces worn in cloths of five bending lengths: the table of pictures that
// is built into the program, and the contact sheets of the documents, which are drawn from it.
//
//	go run tenter/internal/wornmake table draw/worn/table.bin [PIECE…]   some ten minutes of two cores
//	go run tenter/internal/wornmake sheets docs/worn                     seconds, from the built-in table
//	go run tenter/internal/wornmake others PIECE…                        a minute a piece: what mass, shear and another start change
package main

import (
	"context"
	"errors"
	"fmt"
	"image/color"
	"math"
	"os"
	"path/filepath"
	"time"

	"tenter/advise"
	"tenter/advise/worn"
	"tenter/data"
	"tenter/draw"
	table "tenter/draw/worn"
	"tenter/fibres/drape"
	"tenter/fibres/units"
)

// pieces are those in the table.
var pieces = []string{"half-circle-cape", "hooded-cloak", "hooded-wrap", "triangular-shawl", "full-circle-skirt", "half-circle-skirt", "gored-skirt", "bias-skirt",
	"rectangular-wrap", "hood-two-part", "gathered-skirt", "curtain", "table-cover", "wide-sash"}

// coarser is how many times the cells of `tenter drape` those of the table are: its pictures are
// small. A full circle needs its cells for its folds, and a hood for its seam.
func coarser(id string) float64 {
	switch id {
	case "hooded-cloak", "hood-two-part":
		return 1
	case "full-circle-skirt":
		return 1.1
	case "hooded-wrap":
		return 1.25
	}
	return 1.5
}

func main() {
	err := errors.New("wornmake table FILE [PIECE…] | wornmake sheets FOLDER | wornmake others PIECE…")
	if len(os.Args) > 2 {
		switch os.Args[1] {
		case "table":
			err = makeTable(os.Args[2], os.Args[3:])
		case "sheets":
			err = sheets(os.Args[2])
		case "others":
			err = others(os.Args[2:])
		}
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}

// makeTable computes the pieces named, or all, and puts them in the file; what else it holds stays.
func makeTable(file string, only []string) error {
	if len(only) == 0 {
		only = pieces
	}
	for _, id := range only {
		w, err := wear(id)
		if err != nil {
			return err
		}
		entries, frames, err := Compute(id, w, table.Classes)
		if err != nil {
			return err
		}
		if err := replace(file, id, entries, frames); err != nil {
			return err
		}
	}
	return nil
}

// wear lays a piece out in its usual measures.
func wear(id string) (worn.Worn, error) {
	adv, err := advise.Load(data.FS)
	if err != nil {
		return worn.Worn{}, err
	}
	shapes, err := adv.Shapes()
	if err != nil {
		return worn.Worn{}, err
	}
	return worn.Wear(id, shapes.ByID, nil, worn.Adult, "")
}

// replace puts the entries of a piece in the place of those that the file has.
func replace(file, id string, entries []table.Entry, frames [][][]byte) error {
	b, err := os.ReadFile(file)
	if err != nil {
		return err
	}
	x, err := table.Read(b)
	if err != nil {
		return err
	}
	for _, e := range x.Entries {
		if e.Piece == id {
			continue
		}
		p, err := x.Unpack(e)
		if err != nil {
			return err
		}
		var packed [][]byte
		for _, s := range p.Sides {
			f, err := s.Pack()
			if err != nil {
				return err
			}
			packed = append(packed, f)
		}
		entries, frames = append(entries, e), append(frames, packed)
	}
	if b, err = table.Write(entries, frames); err != nil {
		return err
	}
	return os.WriteFile(file, b, 0o644)
}

// sheetOf is a sheet of a bending length in cm, a mass in g/m² and a shear in N/m, 0 for the usual.
func sheetOf(c, mass, shear float64) (drape.Sheet, error) {
	half := math.Sqrt(1.14)
	return drape.NewSheet(units.ArealMass(mass), units.Length(c*half), units.Length(c/half), 0, shear)
}

// fall lets a sheet fall in the cells of the table, from the given start.
func fall(id string, w worn.Worn, sheet drape.Sheet, seed uint64) (drape.Result, error) {
	o := w.Options()
	o.First = seed
	o.Cell = w.CellFor(sheet, o.Cell*coarser(id))
	p, err := drape.Prepare(w.Scene, o)
	if err != nil {
		return drape.Result{}, err
	}
	rs, err := p.Fall(context.Background(), sheet, drape.Watch{})
	if err != nil {
		return drape.Result{}, err
	}
	return rs[0], nil
}

// Compute lets a piece fall in cloth of each bending length and packs it from all sides, in one frame.
func Compute(id string, w worn.Worn, classes []float64) (entries []table.Entry, frames [][][]byte, err error) {
	var falls []drape.Result
	low, high := w.Low, w.High
	for _, c := range classes {
		sheet, err := sheetOf(c, table.Mass, 0)
		if err != nil {
			return nil, nil, err
		}
		start := time.Now()
		r, err := fall(id, w, sheet, 0)
		if err != nil {
			return nil, nil, err
		}
		e := table.Entry{Piece: id, Bending: c, Folds: w.Folds(r), Crossings: r.Crossings, Residual: math.Round(r.Residual*10) / 10, Seconds: math.Round(time.Since(start).Seconds()*10) / 10, Why: w.Misleads(sheet, r)}
		fmt.Fprintf(os.Stderr, "%s c %.1f: %d nodes, %d steps, crossings %d, residual %.3g, folds %d, %.1f s %s\n", id, c, len(r.At), r.Iterations, r.Crossings, r.Residual, e.Folds, e.Seconds, e.Why)
		entries, falls = append(entries, e), append(falls, r)
		if e.Why != "" {
			continue
		}
		l, h := draw.Box(r)
		for k := range 3 {
			low[k], high[k] = math.Min(low[k], l[k]), math.Max(high[k], h[k])
		}
	}
	for i, r := range falls {
		f := draw.Fallen{Result: r, Body: w.Form(), Tilt: w.Tilt, Low: low, High: high}
		for _, p := range w.Scene.Panels {
			f.Inside = append(f.Inside, p.Inside)
		}
		var packed [][]byte
		for turn := range table.Turns {
			if entries[i].Why != "" {
				break
			}
			f.Turn = w.Turn + 360/table.Turns*float64(turn)
			b, err := f.Shade(table.Wide, table.Tall).Pack()
			if err != nil {
				return nil, nil, err
			}
			packed = append(packed, b)
			entries[i].PerMetre = math.Round(f.PerMetre(table.Wide, table.Tall))
		}
		frames = append(frames, packed)
	}
	return entries, frames, nil
}

// sheets draws a row for each piece in the table: five cloths from one side, and the third from behind.
func sheets(folder string) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	face, back := color.RGBA{0x8e, 0x3b, 0x46, 255}, color.RGBA{0xd8, 0xb8, 0x71, 255}
	for _, id := range pieces {
		s := draw.WornSheet{Title: id, Caption: "A computed fall, no photograph."}
		for _, c := range table.Classes {
			p, ok := table.Find(id, c)
			shown := draw.NewShading(table.Wide, table.Tall)
			label := fmt.Sprintf("c %.1f cm", c)
			switch {
			case ok:
				shown = p.Sides[0]
				s.PerMetre = p.PerMetre
			default:
				label += ": not shown"
			}
			s.Frames = append(s.Frames, draw.WornFrame{Picture: shown.Paint(face, back), Label: label})
		}
		b, err := s.PNG()
		if err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(folder, id+".png"), b, 0o644); err != nil {
			return err
		}
	}
	return nil
}
