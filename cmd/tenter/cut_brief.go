package main

import (
	"fmt"
	"slices"
	"strings"

	"tenter/advise/cut"
	"tenter/fibres"
	"tenter/fibres/prose"
)

// printCutBrief tells what a maker needs at the table: what to buy, what each part is
// cut at from washed cloth, what goes wrong, thread and binding.
func (a *app) printCutBrief(ans cut.Answer, widths bool) {
	var buy, mind []string
	for _, l := range ans.Layers {
		if len(l.Pieces) == 0 {
			mind = append(mind, "Nothing is cut from "+l.Cloth+".")
			continue
		}
		buy = append(buy, a.buyBriefly(l))
	}
	a.para("", "Buy "+prose.And(buy)+".", 4)
	if ans.CostIn(a.system) != "" {
		a.labelled("Cost", ans.CostIn(a.system))
	} else {
		for _, l := range ans.Layers {
			if c := l.Buy.CostIn(a.system); c != "" {
				a.labelled("Cost", l.Cloth+" "+c)
			}
		}
	}
	a.labelled("Wash", a.washBriefly(ans.Layers))
	a.tabulate(2, a.cutRows(ans.Layers))
	if widths {
		a.printWidths(ans.Layers)
	}
	a.labelledAll("But", a.reservations(ans))
	a.labelledAll("Mind", append(cautionsBriefly(ans.Layers), mind...))
	if b := ans.Binding; b != nil {
		a.labelled("Bind", b.In(a.system))
	}
	if t := ans.Thread; t != nil {
		a.labelled("Thread", t.In(a.system))
	}
	a.labelled("More", "unwashed sizes, other widths, care, layout, clips: --all")
}

// labelledAll prints texts under one label.
func (a *app) labelledAll(label string, texts []string) {
	for _, s := range texts {
		a.labelled(label, s)
		label = ""
	}
}

// buyBriefly says how much of a cloth to buy: "230 cm of wool flannel, 150 cm wide".
func (a *app) buyBriefly(l cut.LayerAnswer) string {
	b := l.Buy
	s := fmt.Sprintf("%s of %s, %s wide", a.tape(b.Length.Typical), l.Cloth, a.length(b.Width))
	if b.Folded {
		s += " and laid folded"
	}
	if safe := a.tape(b.Length.High); safe != a.tape(b.Length.Typical) {
		s += " (" + safe + " to be safe)"
	}
	return s
}

// cutAt is the size a part is cut at after what was done to its cloth first.
func cutAt(l cut.LayerAnswer, p cut.PieceAnswer) [2]float64 {
	if l.Prewashed || l.Washed != nil {
		return p.Washed
	}
	return p.Cut
}

// washBriefly says what is done to the cloths before they are cut, and which
// allowances the sizes have in them.
func (a *app) washBriefly(layers []cut.LayerAnswer) string {
	var first, asBought []string
	verb, each := "Wash", ""
	for _, l := range layers {
		if len(l.Pieces) == 0 {
			continue
		}
		if each == "" {
			each = l.Allowances(a.system)
		}
		switch {
		case l.Washed != nil:
			first = append(first, l.Layer)
			if l.Treatment != cut.Washed {
				verb = "Steam"
			}
		case !l.Prewashed:
			asBought = append(asBought, l.Layer)
		}
	}
	s := "Cut these."
	if len(first) > 0 {
		s = fmt.Sprintf("%s the %s first.", verb, prose.And(first))
	}
	if len(asBought) > 0 {
		s += fmt.Sprintf(" The %s is cut as bought.", prose.And(asBought))
	}
	return s + " Allowances are in: " + each + "."
}

// cutRows are the parts with their sizes; a part that several layers cut alike
// stands in one row.
func (a *app) cutRows(layers []cut.LayerAnswer) [][]string {
	rows := [][]string{{"part", "", "finished", "cut", ""}}
	for _, l := range layers {
		for _, p := range l.Pieces {
			how := l.Layer
			switch {
			case p.Bias:
				how += ", on the bias"
			case p.Turned:
				how += ", turned"
			}
			row := []string{p.Name, fmt.Sprintf("× %d", p.Count), a.size(p.Finished), a.size(cutAt(l, p)), how}
			if i := slices.IndexFunc(rows, func(x []string) bool { return slices.Equal(x[:4], row[:4]) }); i >= 0 {
				rows[i][4] += "; " + how
				continue
			}
			rows = append(rows, row)
		}
	}
	return rows
}

// printWidths tells what other widths would take, where they were asked for.
func (a *app) printWidths(layers []cut.LayerAnswer) {
	for _, l := range layers {
		var say []string
		for _, w := range l.Widths {
			s := w.Say
			if w.Fits {
				s = a.tape(w.Length)
			}
			say = append(say, a.length(w.Width)+" wide: "+s)
		}
		if len(say) > 0 {
			a.labelled("Widths", prose.Upper(l.Layer)+" "+strings.Join(say, "; ")+".")
		}
	}
}

// reservations say what speaks against the plan: how shell and lining part, a layout
// that may be too long, and what the plan had to change.
func (a *app) reservations(ans cut.Answer) (out []string) {
	if g := ans.Gap; g != nil && g.MM.Typical > g.Limit {
		verb := ans.Layers[0].Treatment.First()
		out = append(out, fmt.Sprintf("Un%s they part %s (%s) over %s. Over %s shows.", verb,
			a.length(g.MM.Typical/10), a.lengths(g.MM.Low/10, g.MM.High/10), a.length(g.EdgeCM), a.quantity(g.Limit, "mm")))
	}
	for _, l := range ans.Layers {
		if s := l.Buy.Near(a.system); s != "" && !l.Buy.Curved {
			out = append(out, prose.Upper(l.Layer)+": "+s)
		}
	}
	return append(out, ans.Notes...)
}

// cautionsBriefly are the cautions in a line each: what can hurt first.
func cautionsBriefly(layers []cut.LayerAnswer) (out []string) {
	for _, l := range layers {
		if l.Layer == "interfacing" {
			out = append(out, l.Care.Cautions...)
		}
	}
	again := map[string][]string{} // by what is said of a layer, but for its name
	var shown []string
	for _, l := range layers {
		if s := l.Care.Again("%s", fibres.Round(l.Care.LeftWarp.Typical)); s != "" && len(l.Pieces) > 0 {
			if again[s] == nil {
				shown = append(shown, s)
			}
			again[s] = append(again[s], l.Layer)
		}
	}
	for _, s := range shown {
		out = append(out, strings.Replace(s, "%s", prose.And(again[s]), 1))
	}
	for _, l := range layers {
		if l.Care.Felts != "" && !slices.Contains(out, l.Care.Felts) {
			out = append(out, l.Care.Felts)
		}
	}
	return out
}
