// Package home is the first page: what this is for, and the ways in.
package home

import (
	"embed"
	"math"

	"html/template"

	"tenter/fibres"
	"tenter/page/sheet"
)

//go:embed home.tmpl
var files embed.FS

// Page lies at the root.
var Page = sheet.Page{Pattern: "/{$}", Files: files, Template: "home.tmpl", Make: build}

// View is the first page.
type View struct {
	sheet.Sheet
	Hands []Hand
	Kinds []Count
}

// Hand is a band of hand with the strip that hangs so.
type Hand struct {
	Word, Range string
	Picture     template.HTML
}

// Count is a kind with how many there are.
type Count struct {
	sheet.Kind
	N int
}

func build(k *sheet.Site, a sheet.Ask) (sheet.View, error) {
	v := &View{Sheet: sheet.NewSheet(k, a, "", "How will it hang?")}
	for i, w := range fibres.HandScale {
		lo, hi := fibres.HandEdges[i], fibres.HandEdges[i+1]
		h := Hand{Word: w}
		switch i {
		case 0:
			h.Range = "under " + a.Quantity(hi, "cm")
		case len(fibres.HandScale) - 1:
			h.Range = a.Quantity(lo, "cm") + " and over"
		default:
			h.Range = a.Quantities(lo, hi, "cm")
		}
		e := fibres.Estimate{Low: lo, Typical: math.Sqrt(lo * hi), High: hi, Basis: fibres.Derived}
		h.Picture = k.StripSVG(a, e, "")
		v.Hands = append(v.Hands, h)
	}
	for _, kd := range sheet.Kinds {
		v.Kinds = append(v.Kinds, Count{kd, len(k.Things(kd.One))})
	}
	return v, nil
}
