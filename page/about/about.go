// Package about says what the figures rest on, and counts them.
package about

import (
	"embed"

	"tenter/page/address"
	"tenter/page/sheet"
	"tenter/page/words"
)

//go:embed about.tmpl
var files embed.FS

// Page lies at /about.
var Page = sheet.Page{Pattern: "/about", Files: files, Template: "about.tmpl", Make: build}

// View is the counts.
type View struct {
	sheet.Sheet
	Facts, Rules []Tally
	NFacts       int
	NRules       int
	Things       []Count
	Read, Unread int // sources
}

// Tally is how many rest on one basis.
type Tally struct {
	words.BasisWord
	N int
}

// Count is how many there are of a kind.
type Count struct {
	sheet.Kind
	N int
}

func build(k *sheet.Site, a address.Ask) (sheet.View, error) {
	v := &View{Sheet: sheet.NewSheet(k, a, "/about", "Where the figures come from")}
	facts, rules := map[string]int{}, map[string]int{}
	for _, s := range k.Adv.Cat.Sources {
		for _, f := range k.FactsFrom(s.ID) {
			facts[f.CountsAs()]++
			v.NFacts++
		}
		switch {
		case s.Read:
			v.Read++
		case s.Kind != "practice":
			v.Unread++
		}
	}
	for _, r := range k.Adv.Rules {
		rules[r.Basis]++
		v.NRules++
	}
	for _, b := range words.Bases {
		if n := facts[b.Basis]; n > 0 {
			v.Facts = append(v.Facts, Tally{b, n})
		}
		if n := rules[b.Basis]; n > 0 {
			v.Rules = append(v.Rules, Tally{b, n})
		}
	}
	for _, kd := range sheet.Kinds {
		v.Things = append(v.Things, Count{kd, len(k.Things(kd.One))})
	}
	return v, nil
}
