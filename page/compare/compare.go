// Package compare lays cloths side by side: each property of all of them on one
// scale.
package compare

import (
	"embed"
	"slices"

	"tenter/fibres"
	"tenter/page/sheet"
)

//go:embed compare.tmpl
var files embed.FS

// Page lies at /compare.
var Page = sheet.Page{Pattern: "/compare", Files: files, Template: "compare.tmpl", Make: build}

// Keys of the cloths in the address.
var keys = []string{"a", "b", "c", "d"}

// View is up to four cloths side by side.
type View struct {
	sheet.Sheet
	FieldErrors sheet.FieldErrors
	Fields      []Field
	Cloths      []sheet.Link
	Columns     []Column
	Rows        []Row
}

// Field is one cloth as it was named.
type Field struct{ Key, Label, Value string }

// Column is one cloth.
type Column struct {
	sheet.Link
	Made string
}

// Row is one property of all of them.
type Row struct {
	ID, Name string
	Picture  *sheet.Drawing
	Cells    []Cell
}

// Cell is what is known of one.
type Cell struct {
	Of    string
	Say   string
	Basis fibres.Basis
	Rests string
}

func build(k *sheet.Site, a sheet.Ask) (sheet.View, error) {
	v := &View{Sheet: sheet.NewSheet(k, a, "/list", "Side by side"), Cloths: k.Things("cloth")}
	var subjects []*fibres.Subject
	labels := []string{"One cloth", "another", "a third", "a fourth"}
	for i, key := range keys {
		v.Fields = append(v.Fields, Field{key, labels[i], a.Get(key)})
		if a.Get(key) == "" {
			continue
		}
		s, err := k.Subject(a.Get(key))
		if err != nil {
			v.FieldErrors.Look(k, key, a.Get(key), err)
			continue
		}
		subjects = append(subjects, s)
		c := Column{Link: k.LinkOf(s)}
		if s.Cloth != nil {
			c.Made = s.Cloth.Structure.Name
		}
		v.Columns = append(v.Columns, c)
	}
	if len(subjects) < 2 {
		return v, nil
	}
	for p := range fibres.NumProperties {
		switch p {
		case fibres.BendingLengthWarp, fibres.BendingLengthWeft, fibres.BendingLengthBias:
			continue
		}
		row := Row{ID: fibres.Properties[p].ID, Name: fibres.Properties[p].Name}
		for _, s := range subjects {
			e := k.Adv.Cat.Estimate(*s, p)
			row.Cells = append(row.Cells, Cell{s.Label(), v.Estimate(e), e.Basis, e.Rests()})
		}
		if differ(row.Cells) { // what is alike needs no picture
			row.Picture = k.DrawPopulation(a, p, subjects)
		}
		v.Rows = append(v.Rows, row)
	}
	return v, nil
}

// differ reports whether the cloths are told apart by a property.
func differ(cells []Cell) bool {
	return slices.ContainsFunc(cells, func(c Cell) bool { return c.Say != cells[0].Say })
}
