package main

import (
	"fmt"
	"strings"

	"tenter/advise/cut"
	"tenter/fibres"
	"tenter/fibres/prose"
	"tenter/fibres/units"
)

// printCut tells cut sizes and what to buy, and all there is to say of them.
func (a *app) printCut(ans cut.Answer, layout bool) {
	for i, l := range ans.Layers {
		if i > 0 {
			fmt.Fprintln(a.out)
		}
		if len(l.Pieces) == 0 {
			a.para("", fmt.Sprintf("%s, %s: no part is cut from it.", prose.Upper(l.Layer), l.Cloth), 2)
			continue
		}
		a.printLayer(l)
		if layout {
			a.printLayout(l.Buy.Lie)
		}
	}
	if c := ans.CostIn(a.system); c != "" {
		fmt.Fprintln(a.out)
		a.para("", "All the cloth costs "+c+".", 2)
	}
	if ans.Gap != nil {
		a.printGap(*ans.Gap, ans.Layers[0].Treatment)
	}
	if s := ans.Whole(a.system); s != "" {
		fmt.Fprintln(a.out)
		a.para("", s, 2)
	}
	a.printCurves(ans.Parts)
	if b := ans.Binding; b != nil {
		a.head("Bias binding")
		a.para("  ", b.In(a.system), 2)
	}
	if ans.Thread != nil {
		a.printThread(*ans.Thread)
	}
	for _, n := range ans.Notes {
		fmt.Fprintln(a.out)
		a.para("note: ", n, 6)
	}
}

// printLayer tells of one cloth what to buy, what to do to it, and its cut sizes.
func (a *app) printLayer(l cut.LayerAnswer) {
	a.para("", fmt.Sprintf("%s, %s: buy %s.", prose.Upper(l.Layer), l.Cloth, a.buyWords(l.Buy)), 2)
	if c := l.Buy.CostIn(a.system); c != "" {
		a.para("  ", "It costs "+c+".", 2)
	}
	if !l.Prewashed && l.Shrink.Warp.Known() && l.Shrink.Weft.Known() {
		a.para("  ", fmt.Sprintf("It loses %s along and %s across %s.", percentWords(l.Shrink.Warp), percentWords(l.Shrink.Weft), l.Treatment.In()), 2)
	}
	if s := l.Buy.Near(a.system); s != "" {
		a.para("  ", prose.Upper(s), 2)
	}
	a.para("  ", l.Care.Say, 2)
	a.printSizes(l)
	if l.Washed != nil {
		first := l.Treatment.First()
		a.para("  ", prose.Upper(first)+" first and cut at the pre-"+first+" sizes, it takes as much.", 2)
	}
	for _, c := range l.Care.Cautions {
		a.para("  caution: ", c, 11)
	}
	if len(l.Widths) > 0 {
		var rows [][]string
		for _, w := range l.Widths {
			say := w.Say
			if w.Fits {
				say = fmt.Sprintf("%s, %.0f %% of it waste", a.tape(w.Length), w.Waste*100)
			}
			rows = append(rows, []string{a.length(w.Width) + " wide", say})
		}
		a.tabulate(4, rows)
	}
}

// printSizes is the table of cut sizes.
func (a *app) printSizes(l cut.LayerAnswer) {
	rows := [][]string{{"part", "", "finished", "cut as bought", "cut pre-" + l.Treatment.First()}}
	if l.Prewashed || !l.Shrink.Warp.Known() {
		rows[0][3], rows[0] = "cut", rows[0][:4]
	}
	var lie []string
	for _, p := range l.Pieces {
		switch {
		case p.Bias:
			lie = append(lie, p.Name+" on the bias")
		case p.Turned:
			lie = append(lie, p.Name+" with its width along the cloth")
		}
		row := []string{p.Name, fmt.Sprintf("× %d", p.Count), a.size(p.Finished), a.size(p.Cut), a.size(p.Washed)}
		rows = append(rows, row[:len(rows[0])])
	}
	a.tabulate(2, rows)
	a.para("  ", "Width × height. Allowances are in: "+l.Allowances(a.system)+".", 2)
	if len(lie) > 0 {
		a.para("  ", "Laid "+strings.Join(lie, ", ")+".", 2)
	}
}

// printLayout tells where each part lies.
func (a *app) printLayout(lie []cut.Lie) {
	rows := [][]string{{"part", "across", "along", "size on the cloth"}}
	for _, p := range lie {
		how := ""
		if p.Mirror {
			how = ", face down"
		}
		if p.OnFold {
			how += ", on the fold"
		}
		if p.Turn != 0 {
			how += fmt.Sprintf(", turned %d°", p.Turn)
		}
		rows = append(rows, []string{p.Part, a.at(p.X), a.at(p.Y), a.size([2]float64{p.Across, p.Along}) + how})
	}
	a.tabulate(4, rows)
}

// printGap tells how shell and lining part.
func (a *app) printGap(g cut.Gap, t cut.Treatment) {
	a.head("Shell against lining")
	a.para("  ", fmt.Sprintf("Cut alike and joined as bought, they part by about %s over the %s edge of the %s %s (%s). %s Over %s shows.",
		a.length(g.MM.Typical/10), a.length(g.EdgeCM), g.Edge, t.In(), a.lengths(g.MM.Low/10, g.MM.High/10), g.Say, a.quantity(g.Limit, "mm")), 2)
	if g.Washed.Known() {
		a.para("  ", fmt.Sprintf("Both washed once before cutting, five washes part them by about %s (%s).", a.length(g.Washed.Typical/10), a.lengths(g.Washed.Low/10, g.Washed.High/10)), 2)
	}
}

// printThread tells the thread seam by seam.
func (a *app) printThread(t cut.ThreadPlan) {
	a.head("Thread")
	a.para("  ", t.In(a.system), 2)
	var rows [][]string
	for _, s := range t.Seams {
		wind := ""
		if s.Wind {
			wind = "fill the bobbin first"
		}
		rows = append(rows, []string{s.Name, a.length(s.Length), a.length(s.Under*100) + " under, stitch " + string(s.Stitch), wind})
	}
	a.tabulate(2, rows)
}

// printCurves tells which edges are clipped or notched.
func (a *app) printCurves(parts []cut.Geometry) {
	var rows [][]string
	for _, p := range parts {
		for _, e := range p.Edges {
			if e.Clips == 0 {
				continue
			}
			what := "notches, for it curves outwards"
			if e.Inward {
				what = "clips, for it curves inwards"
			}
			rows = append(rows, []string{p.Name, e.Name, fmt.Sprintf("%s, radius %s: about %d %s", a.length(e.Length), cut.RadiusIn(units.Length(e.Radius), a.system), e.Clips, what)})
		}
	}
	if len(rows) > 0 {
		a.head("Curves")
		a.tabulate(2, rows)
	}
}

// buyWords says how much of a cloth to buy.
func (a *app) buyWords(b cut.Buy) string {
	s := fmt.Sprintf("%s of cloth %s wide", a.tape(b.Length.Typical), a.length(b.Width))
	if b.Folded {
		s += ", laid folded"
	}
	if safe := a.tape(b.Length.High); safe != a.tape(b.Length.Typical) {
		s += "; " + safe + " to be safe"
	}
	return s
}

// at prints a place on the cloth.
func (a *app) at(cm float64) string {
	if a.system == units.Imperial {
		return units.Length(cm).Tape(a.system)
	}
	return units.Length(cm).Centimetres()
}

// tape writes a length as it is measured off the bolt.
func (a *app) tape(cm float64) string { return units.Length(cm).OffTheBolt(a.system) }

// size prints width × height.
func (a *app) size(s [2]float64) string {
	return units.TapeBy(units.Length(s[0]), units.Length(s[1]), a.system)
}

func percentWords(e fibres.Estimate) string {
	if e.Low == e.High {
		return fibres.Round(e.Typical) + " %"
	}
	return fmt.Sprintf("%s %% (%s to %s)", fibres.Round(e.Typical), fibres.Round(e.Low), fibres.Round(e.High))
}
