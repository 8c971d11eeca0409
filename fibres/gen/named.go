package main

import (
	"maps"
	"math"
	"slices"

	"tenter/fibres"
)

// row is a measured cloth that has a name, or at least a use.
type row struct {
	fabric, cloth, source, basis string
	mass, c, rigidity            float64 // 0 is not given
}

func readNamed(file string) ([]row, error) {
	rows, err := table(file)
	if err != nil {
		return nil, err
	}
	var out []row
	for i, r := range rows {
		x := row{fabric: r["fabric"], cloth: r["cloth"], source: r["source_id"], basis: r["basis"]}
		for _, f := range []struct {
			to  *float64
			col string
		}{{&x.mass, "areal_mass_gsm"}, {&x.c, "bending_length_cm"}, {&x.rigidity, "flexural_rigidity_uNm"}} {
			if r[f.col] == "" {
				continue
			}
			if *f.to, err = number(file, i, r, f.col); err != nil {
				return nil, err
			}
		}
		out = append(out, x)
	}
	return out, nil
}

// subject is the row as a user would ask of it: its name, and what it weighs.
func (x row) subject(cat *fibres.Catalogue) fibres.Subject {
	s := fibres.Subject{Cloth: cat.Cloths[x.cloth]}
	if x.mass > 0 {
		s = s.With(cat, fibres.Mass, x.mass, x.mass)
	}
	return s
}

const (
	wang  = "wang-2011"
	named = "testdata/reference/named_bending_lengths.csv and the ten cloths of wang-2011, which are not copied; computed here, go run ./fibres/gen"
	own   = "the catalogue; computed here, go run ./fibres/gen"
)

// middle is ln of the middle of a band of hand.
func middle(level float64) float64 {
	return math.Log(fibres.HandEdges[int(level)]*fibres.HandEdges[int(level)+1]) / 2
}

// fitNamed estimates the doubts that the predictor gives its evidence, and how
// often the prediction holds.
func fitNamed(r *report, cat *fibres.Catalogue, rows []row, unnamed line) {
	// Cloths of one name. Men's suiting: log10 spreads of rigidity and of mass, as
	// recalled (kawabata-1980): c = (B/W)^(1/3).
	suiting := math.Hypot(0.127, 0.059) * math.Ln10 / 3
	r.add("Kawabata 1980, from memory; computed here, go run ./fibres/gen", "cloths of one name: suiting, standard deviation of ln c", suiting, "ln", 214)
	denims := map[string][]float64{}
	for _, x := range rows {
		if x.cloth == "denim" {
			c := x.c
			if c == 0 { // rigidity only: at the mass of the name
				c = math.Cbrt(x.rigidity / (0.00980665 * cat.Estimate(fibres.Subject{Cloth: cat.Cloths["denim"]}, fibres.Mass).Typical))
			}
			key := x.source
			if x.fabric == "indigo cotton denim, before wash" {
				key += " raw"
			}
			denims[key] = append(denims[key], math.Log(c))
		}
	}
	var each []float64
	for _, v := range denims {
		m := 0.0
		for _, x := range v {
			m += x / float64(len(v))
		}
		each = append(each, m)
	}
	_, denim := moments(each)
	r.add(named, "denims of three laboratories, raw and washed, standard deviation of ln c", denim, "ln", len(each))

	// One laboratory against another, at the same mass.
	var off []float64
	for _, x := range rows {
		if x.source == wang {
			off = append(off, math.Log(x.c)-unnamed.at(x.mass))
		}
	}
	mean, sd := moments(off)
	r.add(named, "ten cloths of Wang and others over the line of the open set", math.Exp(mean), "1", len(off))
	r.add(named, "standard error of the ratio of the two laboratories", sd/math.Sqrt(float64(len(off))), "ln", len(off))
	laboratory := math.Abs(mean) / math.Sqrt2
	r.add(named, "one laboratory: standard deviation of ln c", laboratory, "ln", 2)
	denim = math.Sqrt(math.Max(0, denim*denim-laboratory*laboratory))
	r.add(named, "cloths of one name: denim, less what laboratories differ by", denim, "ln", len(each))
	name := math.Sqrt(suiting * denim)
	r.add(named, "cloths of one name: middle of suiting and denim", name, "ln", 2)

	adjectives(r, cat, rows, name)
	structures(r, cat)
	weaves(r, cat)
	coverage(r, cat, rows)
}

// adjectives compares named cloths with the band that the trade's adjective
// names, within one laboratory and over all.
func adjectives(r *report, cat *fibres.Catalogue, rows []row, name float64) {
	var within, all, hand, measured []float64
	for _, x := range rows {
		if x.cloth == "" || x.c == 0 {
			continue
		}
		h := cat.Estimate(fibres.Subject{Cloth: cat.Cloths[x.cloth]}, fibres.Hand)
		e := math.Log(x.c) - middle(h.Typical)
		if x.source == wang {
			within = append(within, e)
		}
		all = append(all, e)
		hand, measured = append(hand, middle(h.Typical)), append(measured, math.Log(x.c))
	}
	mean, sd := moments(within)
	r.add(named, "measured over the middle of the adjective's band, one laboratory", math.Exp(mean), "1", len(within))
	r.add(named, "scatter of measured over adjective, one laboratory", sd, "ln", len(within))
	bandWidth := 0.28 / math.Sqrt(12)
	r.add(own, "a place unknown within a band", bandWidth, "ln", len(fibres.HandScale))
	r.add(named, "what adjectives leave over", math.Sqrt(math.Max(0, sd*sd-name*name-bandWidth*bandWidth)), "ln", len(within))
	r.add(named, "measured against adjective, all rows, root mean square", rms(all), "ln", len(all))
	mh, _ := moments(hand)
	mm, _ := moments(measured)
	var xx, xy float64
	for i := range hand {
		xx += (hand[i] - mh) * (hand[i] - mh)
		xy += (hand[i] - mh) * (measured[i] - mm)
	}
	slope := xy / xx
	var left []float64
	for i := range hand {
		left = append(left, measured[i]-mm-slope*(hand[i]-mh))
	}
	r.add(named, "slope of measured on adjective, in ln", slope, "1", len(all))
	r.add(named, "standard error of that slope", rms(left)*math.Sqrt(float64(len(left))/float64(len(left)-2))/math.Sqrt(xx), "1", len(all))
}

// structures compares the adjectives of cloths with those of their structures.
func structures(r *report, cat *fibres.Catalogue) {
	var off []float64
	var width, spread, mass []float64
	for _, k := range cat.ClothList() {
		s := fibres.Subject{Cloth: k}
		h := cat.Estimate(s, fibres.Hand)
		if st, ok := cat.StructureHand(k.Structure.ID); ok && h.Basis != fibres.Derived {
			off = append(off, middle(h.Typical)-middle(st.Typical))
		}
		e := cat.PredictBendingLength(s)
		m := cat.PredictBendingLength(nameless(cat, s))
		width = append(width, math.Log(e.High/e.Low)/math.Log(m.High/m.Low))
		spread = append(spread, math.Log(e.High/e.Low))
		mass = append(mass, math.Log(m.High/m.Low))
	}
	_, sd := moments(off)
	r.add(own, "adjective of a cloth against its structure's, standard deviation", sd, "ln", len(off))
	mean, _ := moments(width)
	r.add(own, "width of the prediction over that from mass alone, mean over the cloths", mean, "1", len(width))
	mean, _ = moments(spread)
	r.add(own, "width of the prediction, ln of high over low, mean", mean, "ln", len(spread))
	mean, _ = moments(mass)
	r.add(own, "width from mass alone, ln of high over low, mean", mean, "ln", len(mass))
}

// nameless is a cloth of the same mass of which nothing else is known.
func nameless(cat *fibres.Catalogue, s fibres.Subject) fibres.Subject {
	m := cat.Estimate(s, fibres.Mass)
	if !m.Known() {
		return fibres.Subject{}
	}
	return fibres.Subject{}.With(cat, fibres.Mass, m.Typical, m.Typical)
}

// weaves asks whether the trade's adjectives follow the firmness of the weave.
func weaves(r *report, cat *fibres.Catalogue) {
	var x, y []float64
	for _, k := range cat.ClothList() {
		f, ok := cat.WeaveFirmness(k.Structure.Weave)
		if !ok || len(k.Treatments) > 0 {
			continue
		}
		x, y = append(x, math.Log(f)), append(y, middle(cat.Estimate(fibres.Subject{Cloth: k}, fibres.Hand).Typical))
	}
	mx, _ := moments(x)
	my, _ := moments(y)
	var xx, xy float64
	for i := range x {
		xx += (x[i] - mx) * (x[i] - mx)
		xy += (x[i] - mx) * (y[i] - my)
	}
	r.add(own, "power of crossing firmness that adjectives follow over names", xy/xx, "1", len(x))
}

// coverage predicts each measured cloth without its own source, and counts.
func coverage(r *report, cat *fibres.Catalogue, rows []row) {
	for _, kind := range []struct {
		name string
		take func(row) bool
		drop func(row) []string
	}{
		{"named rows, own source left out", func(x row) bool { return x.cloth != "" && x.c > 0 }, func(x row) []string { return []string{x.source} }},
		{"named rows, every measurement left out", func(x row) bool { return x.cloth != "" && x.c > 0 }, everySource},
		{"rows without a name, from mass", func(x row) bool { return x.cloth == "" && x.c > 0 }, everySource},
		{"named rows of which only the rigidity is known", func(x row) bool { return x.cloth != "" && x.c == 0 }, everySource},
	} {
		n, inside, above := 0, 0, 0
		for _, x := range rows {
			if !kind.take(x) {
				continue
			}
			n++
			e := cat.PredictBendingLength(x.subject(cat), kind.drop(x)...)
			low, high, v := e.Low, e.High, x.c
			if v == 0 { // both ends at the mass of the name
				m := cat.Estimate(fibres.Subject{Cloth: cat.Cloths[x.cloth]}, fibres.Mass)
				v = math.Cbrt(x.rigidity / (0.00980665 * m.Typical))
			}
			switch {
			case v > high:
				above++
			case v >= low:
				inside++
			}
		}
		r.add(named, kind.name+": within 10 to 90 %", float64(inside), "rows", n)
		r.add(named, kind.name+": above", float64(above), "rows", n)
	}
	coverageBySource(r, cat, rows)
}

// coverageBySource predicts the named cloths of each source without it.
func coverageBySource(r *report, cat *fibres.Catalogue, rows []row) {
	inside, n := map[string]int{}, map[string]int{}
	for _, x := range rows {
		if x.cloth == "" || x.c == 0 {
			continue
		}
		e := cat.PredictBendingLength(x.subject(cat), x.source)
		n[x.source]++
		if x.c >= e.Low && x.c <= e.High {
			inside[x.source]++
		}
	}
	for _, s := range slices.Sorted(maps.Keys(n)) {
		r.add(named, "named rows of "+s+", left out: within 10 to 90 %", float64(inside[s]), "rows", n[s])
	}
}

func everySource(row) []string {
	return []string{wang, "denim-enzyme-2014", "denim-cellulose-2016", "stiffness-report-2020", "kawabata-1980"}
}
