package main

import (
	"fmt"

	"tenter/fibres"
	"tenter/kb"
)

// swatchPlace is where a swatch lies among the cloths of one name.
type swatchPlace struct {
	Swatch string `json:"swatch"`
	shownPlace
	Typical string `json:"-"`
}

// comparedPlaces are the places of every swatch of a comparison among the cloths of
// every name in it; alone with other swatches, among those of the name it was sold
// under.
func comparedPlaces(b *kb.Base, list []*fibres.Subject) []swatchPlace {
	var out []swatchPlace
	for _, s := range list {
		if !s.Swatch {
			continue
		}
		var of []*fibres.Cloth
		for _, o := range list {
			if !o.Swatch && o.Cloth != nil {
				of = append(of, o.Cloth)
			}
		}
		if len(of) == 0 && s.Cloth != nil {
			of = append(of, s.Cloth)
		}
		for _, k := range of {
			for _, p := range placesOf(b, s, k) {
				out = append(out, swatchPlace{Swatch: s.Name, shownPlace: p})
			}
		}
	}
	return out
}

func (a *app) printPlaces(list []swatchPlace) {
	last := ""
	var rows [][]string
	flush := func() {
		a.tabulate(2, rows)
		rows = nil
	}
	for _, p := range list {
		if head := "Where " + p.Swatch + " lies among the cloths sold as " + p.Of; head != last {
			flush()
			a.head(clean(head))
			last = head
		}
		id, _ := fibres.PropertyByID(p.Property)
		rows = append(rows, []string{fibres.Properties[id].Name, fmt.Sprintf("%s; sold as that: %s. This one: %s.", a.estimate(p.Have), a.estimate(p.Name), p.Say)})
	}
	flush()
}
