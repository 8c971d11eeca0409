package main

import (
	"encoding/csv"
	"fmt"
	"html"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"tenter/fibres/hang"
	"tenter/fibres/units"
)

// record is one row of a reference file, by column.
type record map[string]string

func (r record) num(column string) float64 {
	x, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		return math.NaN()
	}
	return x
}

func records(folder, name string) ([]record, error) {
	f, err := os.Open(filepath.Join(folder, name))
	if err != nil {
		return nil, err
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	var out []record
	for _, line := range all[1:] {
		r := record{}
		for i, v := range line {
			r[all[0][i]] = v
		}
		out = append(out, r)
	}
	return out, nil
}

// mark is one cloth: what was measured, what was predicted, and how far the
// prediction said it might be out.
type mark struct {
	name                 string
	measured             float64
	low, predicted, high float64
	kind                 int // which prediction, an index into a panel's kinds
}

// panel is one square of prediction against measurement.
type panel struct {
	title, unit string
	from, to    float64
	log         bool
	ticks       []float64
	kinds       []string
	marks       []mark
}

// sheet is a rectangle of cloth that was laid over a disc.
type sheet struct {
	disc, short, long units.Length
	ratio             float64
}

var (
	sheetShape = regexp.MustCompile(`^disc (\d+); rectangle (\d+)x(\d+)$`)
	sheetName  = regexp.MustCompile(`^(\w+) (A3|A2|A2 folded once)$`)
	sheetCloth = []string{"wool", "denim", "cotton", "polyester"}
)

// panels reads the measured cloths and predicts each from something else that
// was measured on it.
func panels(folder string) ([]panel, error) {
	cloths, err := records(folder, "measured_fabrics.csv")
	if err != nil {
		return nil, err
	}
	sample, err := records(folder, "open_bending_sample.csv")
	if err != nil {
		return nil, err
	}
	length := panel{title: "Bending length", unit: "cm", from: 1, to: 6, log: true, ticks: []float64{1, 1.5, 2, 3, 4, 6},
		kinds: []string{"from mass alone, 8 in 10", "large sheet from small sheet", "folded once, from one layer"}}
	rigid := panel{title: "Rigidity on the bias", unit: "µN·m", from: 0.2, to: 200, log: true, ticks: []float64{0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200},
		kinds: []string{"from warp and weft, 2 in 3"}}
	drape := panel{title: "Drape coefficient of a sheet", unit: "%", from: 0, to: 70, ticks: []float64{0, 10, 20, 30, 40, 50, 60, 70},
		kinds: []string{"", "large sheet from small sheet", "folded once, from one layer"}}

	sheets := map[string]map[string]sheet{}
	for _, r := range cloths {
		warp, weft := r.num("bending_length_warp_cm"), r.num("bending_length_weft_cm")
		if math.IsNaN(weft) {
			weft = warp // its source gives one figure, of a direction it does not name
		}
		if i, err := hang.WithoutReading(units.ArealMass(r.num("areal_mass_gsm"))); err == nil && warp > 0 && r["basis"] == "published" {
			length.marks = append(length.marks, mark{r["fabric"], math.Sqrt(warp * weft), float64(i.Low), float64(i.Typical), float64(i.High), 0})
		}
		shape, name := sheetShape.FindStringSubmatch(r["dc_support_and_specimen_cm"]), sheetName.FindStringSubmatch(r["fabric"])
		if shape == nil || name == nil {
			continue
		}
		var side [3]float64
		for i := range side {
			side[i], _ = strconv.ParseFloat(shape[i+1], 64)
		}
		if sheets[name[1]] == nil {
			sheets[name[1]] = map[string]sheet{}
		}
		sheets[name[1]][name[2]] = sheet{units.Length(side[0]), units.Length(side[1]), units.Length(side[2]), r.num("drape_coefficient_pct")}
	}
	read := func(s sheet) (units.Length, error) {
		return hang.BendingLengthFromRectangle(s.ratio, s.disc, s.short, s.long)
	}
	for _, name := range sheetCloth {
		small, large, folded := sheets[name]["A3"], sheets[name]["A2"], sheets[name]["A2 folded once"]
		var c [3]units.Length
		for i, s := range []sheet{small, large, folded} {
			if c[i], err = read(s); err != nil {
				return nil, fmt.Errorf("%s: %w", name, err)
			}
		}
		one := hang.Layer{Mass: 1, BendingLength: c[0]}
		low, typical, high := hang.Stack(hang.Edge, one, one)
		two := [3]units.Length{low.BendingLength, typical.BendingLength, high.BendingLength}
		at := func(s sheet, c units.Length) float64 { return hang.RectangleOverDisc(c, s.disc, s.short, s.long) }
		length.marks = append(length.marks,
			mark{name, float64(c[1]), float64(c[0]), float64(c[0]), float64(c[0]), 1},
			mark{name, float64(c[2]), float64(two[0]), float64(two[1]), float64(two[2]), 2})
		p := at(large, c[0])
		drape.marks = append(drape.marks,
			mark{name, large.ratio, p, p, p, 1},
			mark{name, folded.ratio, at(folded, two[0]), at(folded, two[1]), at(folded, two[2]), 2})
	}
	for _, r := range sample {
		mass := units.ArealMass(r.num("areal_mass_gsm"))
		c, err := hang.OffGrain(units.Length(r.num("bending_length_warp_cm")), units.Length(r.num("bending_length_weft_cm")), 0, 45)
		if err != nil {
			return nil, err
		}
		g := float64(hang.RigidityFromBendingLength(c, mass))
		f := math.Pow(hang.OffGrainFactor, 3)
		rigid.marks = append(rigid.marks, mark{"", r.num("bending_bias_uNm"), g / f, g, g * f, 0})
	}
	return []panel{length, rigid, drape}, nil
}

// tally says how good the predictions of one kind were.
func (p panel) tally(kind int) string {
	n, inside, bars, sum := 0, 0, 0, 0.0
	for _, m := range p.marks {
		if m.kind != kind {
			continue
		}
		n++
		if m.low < m.high {
			bars++
		}
		if m.low <= m.measured && m.measured <= m.high {
			inside++
		}
		d := m.predicted - m.measured
		if p.log {
			d = math.Log(m.predicted / m.measured)
		}
		sum += d * d
	}
	rms := math.Sqrt(sum / float64(n))
	how := fmt.Sprintf("out by %.1f points", rms)
	if p.log {
		how = fmt.Sprintf("out by × %.2f", math.Exp(rms))
	}
	if bars == 0 {
		return fmt.Sprintf("n %d, %s", n, how)
	}
	return fmt.Sprintf("n %d, %d inside, %s", n, inside, how)
}

// The picture's measures, in its own units.
const (
	side   = 270.0 // of a panel
	gap    = 78.0
	left   = 60.0
	top    = 58.0
	foot   = 118.0
	ink    = "#26231f"
	faint  = "#d9d4cb"
	paper  = "#fffdf8"
	smallT = `font-size="11"`
)

var colours = []string{"#7a7368", "#1f5f7a", "#b4552d"}

func plot(ps []panel) string {
	var b strings.Builder
	width := left + float64(len(ps))*(side+gap) - gap + 96
	height := top + side + foot
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.0f %.0f" font-family="Georgia, serif" font-size="13" fill="%s" role="img" aria-label="Predicted against measured bending length, rigidity and drape coefficient">`+"\n", width, height, ink)
	fmt.Fprintf(&b, `<rect width="%.0f" height="%.0f" fill="%s"/>`+"\n", width, height, paper)
	for i, p := range ps {
		p.draw(&b, left+float64(i)*(side+gap), top)
	}
	b.WriteString("</svg>\n")
	return b.String()
}

func (p panel) draw(b *strings.Builder, x0, y0 float64) {
	place := func(v float64) float64 {
		if p.log {
			return side * math.Log(v/p.from) / math.Log(p.to/p.from)
		}
		return side * (v - p.from) / (p.to - p.from)
	}
	inside := func(v float64) float64 { return math.Max(p.from, math.Min(p.to, v)) }
	x := func(v float64) float64 { return x0 + place(inside(v)) }
	y := func(v float64) float64 { return y0 + side - place(inside(v)) }
	fmt.Fprintf(b, `<text x="%.1f" y="%.1f" font-size="16">%s, %s</text>`+"\n", x0, y0-18, html.EscapeString(p.title), p.unit)
	for _, t := range p.ticks {
		fmt.Fprintf(b, `<path d="M%.1f %.1fV%.1fM%.1f %.1fH%.1f" stroke="%s" fill="none"/>`, x(t), y0, y0+side, x0, y(t), x0+side, faint)
		fmt.Fprintf(b, `<text x="%.1f" y="%.1f" text-anchor="middle" %s>%g</text>`, x(t), y0+side+15, smallT, t)
		fmt.Fprintf(b, `<text x="%.1f" y="%.1f" text-anchor="end" %s>%g</text>`+"\n", x0-6, y(t)+4, smallT, t)
	}
	fmt.Fprintf(b, `<path d="M%.1f %.1fL%.1f %.1f" stroke="%s" stroke-dasharray="4 3"/>`+"\n", x0, y0+side, x0+side, y0, ink)
	fmt.Fprintf(b, `<text x="%.1f" y="%.1f" text-anchor="middle" %s>measured</text>`, x0+side/2, y0+side+32, smallT)
	fmt.Fprintf(b, `<text transform="translate(%.1f %.1f) rotate(-90)" text-anchor="middle" %s>predicted</text>`+"\n", x0-34, y0+side/2, smallT)
	for _, m := range p.marks {
		colour := colours[m.kind]
		if m.high > m.low {
			fmt.Fprintf(b, `<path d="M%.1f %.1fV%.1f" stroke="%s" stroke-width="1.4" opacity="0.55"/>`, x(m.measured), y(m.low), y(m.high), colour)
		}
		title := strings.TrimSpace(fmt.Sprintf("%s measured %.3g, predicted %.3g", m.name, m.measured, m.predicted))
		fmt.Fprintf(b, `<circle cx="%.1f" cy="%.1f" r="4" fill="%s" stroke="%s"><title>%s</title></circle>`+"\n", x(m.measured), y(m.predicted), colour, paper, html.EscapeString(title))
		if m.kind == 1 {
			fmt.Fprintf(b, `<text x="%.1f" y="%.1f" %s fill="%s">%s</text>`+"\n", x(m.measured)+7, y(m.predicted)+12, smallT, colour, m.name)
		}
	}
	row := 0.0
	for k, name := range p.kinds {
		if name == "" {
			continue
		}
		at := y0 + side + 54 + 19*row
		row++
		fmt.Fprintf(b, `<circle cx="%.1f" cy="%.1f" r="4" fill="%s"/><text x="%.1f" y="%.1f" %s>%s: %s</text>`+"\n", x0+4, at-4, colours[k], x0+14, at, smallT,
			html.EscapeString(name), html.EscapeString(p.tally(k)))
	}
}

// writePlot draws the picture from the reference rows.
func writePlot(folder, file string) error {
	ps, err := panels(folder)
	if err != nil {
		return err
	}
	for _, p := range ps {
		for k, name := range p.kinds {
			if name != "" {
				fmt.Printf("%s, %s: %s\n", p.title, name, p.tally(k))
			}
		}
	}
	return os.WriteFile(file, []byte(plot(ps)), 0o644)
}
