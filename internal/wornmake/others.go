package main

import (
	"fmt"
	"image/color"
	"math"

	"tenter/advise/worn"
	"tenter/draw"
	table "tenter/draw/worn"
	"tenter/fibres/drape"
)

// other is what a fall is computed with beside that of the table.
type other struct {
	label       string
	mass, shear float64
	seed        uint64
}

var compared = []other{
	{"as in the table", table.Mass, 0, 0},
	{"another start", table.Mass, 0, 11}, {"another start", table.Mass, 0, 23},
	{"80 g/m²", 80, 0, 0}, {"350 g/m²", 350, 0, 0},
	{"shear 60 N/m", table.Mass, 60, 0}, {"shear 5 N/m", table.Mass, 5, 0},
	{"80 g/m², shear 60", 80, 60, 0}, {"350 g/m², shear 5", 350, 5, 0},
}

// others prints, as rows of a Markdown table, how another start, mass and shear change a piece in cloth of
// 2.4 cm: the share of the cloth seen from the front that is seen in one picture alone, how far the hem is
// from the middle, and its folds.
func others(pieces []string) error {
	for _, id := range pieces {
		w, err := wear(id)
		if err != nil {
			return err
		}
		var first []bool
		for _, o := range compared {
			sheet, err := sheetOf(2.4, o.mass, o.shear)
			if err != nil {
				return err
			}
			r, err := fall(id, w, sheet, o.seed)
			if err != nil {
				return err
			}
			seen := silhouette(w, r)
			if first == nil {
				first = seen
			}
			fmt.Printf("| %s | %s | %.0f %% | %.0f cm | %d |\n", id, o.label, 100*alone(first, seen), 100*hemOut(w, r), w.Folds(r))
		}
	}
	return nil
}

// silhouette is where cloth is seen, in one frame for all falls of a piece.
func silhouette(w worn.Worn, r drape.Result) []bool {
	f := draw.Fallen{Result: r, Turn: w.Turn, Tilt: w.Tilt, Low: drape.Vec{-0.7, -0.7, 0}, High: drape.Vec{0.7, 0.7, 1.7}}
	for _, p := range w.Scene.Panels {
		f.Inside = append(f.Inside, p.Inside)
	}
	img := f.Shade(2*table.Wide, 2*table.Tall).Paint(color.RGBA{A: 255}, color.RGBA{A: 255})
	out := make([]bool, len(img.Pix)/4)
	for i := range out {
		out[i] = img.Pix[4*i+3] > 127
	}
	return out
}

// alone is the share of what is seen in either picture that is seen in one of them only.
func alone(a, b []bool) float64 {
	one, any := 0, 0
	for i := range a {
		if a[i] || b[i] {
			any++
		}
		if a[i] != b[i] {
			one++
		}
	}
	return float64(one) / float64(max(1, any))
}

// hemOut is how far the hem lies from its middle, in metres, on the average.
func hemOut(w worn.Worn, r drape.Result) float64 {
	var at []drape.Vec
	var middle drape.Vec
	for _, k := range w.Hem {
		if p, ok := r.Point(k); ok {
			at, middle = append(at, p), middle.Add(p)
		}
	}
	middle = middle.Mul(1 / float64(max(1, len(at))))
	sum := 0.0
	for _, p := range at {
		sum += math.Hypot(p[0]-middle[0], p[1]-middle[1])
	}
	return sum / float64(max(1, len(at)))
}
