package fibres

import "slices"

// toyRow is one recorded fact of the toy catalogue.
type toyRow struct {
	of, id, prop       string
	low, typical, high float64
}

// toy is an invented catalogue, small enough that its answers are worked out by hand: one
// cloth, "stuff", of three parts down and two parts straw, joined as "mat".
func toy(rows ...toyRow) (*Catalogue, *Cloth) {
	c := newCatalogue(1)
	c.Sources["practice"] = &Source{ID: "practice", Title: "practice"}
	down, straw := &Fibre{ID: "down", Name: "down", Family: "protein"}, &Fibre{ID: "straw", Name: "straw", Family: "cellulose"}
	c.Fibres["down"], c.Fibres["straw"] = down, straw
	k := &Cloth{ID: "stuff", Name: "stuff", Structure: &Structure{ID: "mat", Name: "mat", Class: "woven"},
		Content: []Part{{down, percent(60)}, {straw, percent(40)}}}
	c.Cloths[k.ID], c.clothOrder = k, []*Cloth{k}
	for _, r := range rows {
		at := ref{r.of, r.id, r.prop}
		e := Estimate{Low: r.low, Typical: r.typical, High: r.high, Basis: Practice, Sources: []string{"practice"}}
		if p, ok := PropertyByID(r.prop); ok {
			e = Figure(p, r.low, r.typical, r.high, Practice, "", "practice")
		}
		c.facts = append(c.facts, factRows{at, []Estimate{e}})
	}
	slices.SortFunc(c.facts, func(a, b factRows) int { return a.At.compare(b.At) })
	return c, k
}

func percent(v float64) Estimate {
	return Estimate{Low: v, Typical: v, High: v, Unit: "%", Basis: Practice, Sources: []string{"practice"}}
}

func ends(e Estimate) []float64 { return []float64{e.Low, e.Typical, e.High} }
