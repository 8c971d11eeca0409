// Package compare lays cloths side by side: each property of all of them on one
// scale.
package compare

import (
	"embed"
	"html/template"
	"slices"

	"tenter/advise"
	"tenter/fibres"
	"tenter/page/address"
	"tenter/page/picture"
	"tenter/page/question"
	"tenter/page/sheet"
)

//go:embed compare.tmpl
var files embed.FS

// Page lies at /compare.
var Page = sheet.Page{Pattern: "/compare", Files: files, Template: "compare.tmpl", Make: build}

// Keys of the cloths in the address.
var keys = []string{"a", "b", "c", "d"}

// keyAll asks for every property of cloths that are judged for a piece.
const keyAll = "all"

// View is cloths side by side: for a make-up where the address names one, and
// property by property.
type View struct {
	sheet.Sheet
	For         string // what they are judged for
	Cards       []Card
	Marks       []sheet.Mark
	All         string      // the same with every property
	Keep        *sheet.Keep // all of them, to be kept on the shortlist
	FieldErrors question.FieldErrors
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

func build(k *sheet.Site, a address.Ask) (sheet.View, error) {
	v := &View{Sheet: sheet.NewSheet(k, a, "/make", "Side by side"), Cloths: k.Things("cloth")}
	subjects := v.named()
	v.judge(subjects)
	if len(subjects) < 2 {
		return v, nil
	}
	if len(v.Cards) > 0 && a.Get(keyAll) == "" {
		v.All = v.With(keyAll, address.Yes)
		return v, nil
	}
	v.rows(subjects)
	return v, nil
}

// named finds the cloths that the address names, in its fields or picked elsewhere.
func (v *View) named() []*fibres.Subject {
	var out []*fibres.Subject
	find := func(key, name string) {
		s, err := v.Subject(name)
		if err != nil {
			v.FieldErrors.Look(v.Site, key, name, err)
			return
		}
		out = append(out, s)
		c := Column{Link: v.LinkOf(s)}
		if s.Cloth != nil {
			c.Made = s.Cloth.Structure.Name
		}
		v.Columns = append(v.Columns, c)
	}
	labels := []string{"One cloth", "another", "a third", "a fourth"}
	for i, key := range keys {
		v.Fields = append(v.Fields, Field{key, labels[i], v.Get(key)})
		if name := v.Get(key); name != "" {
			find(key, name)
		}
	}
	for _, name := range v.Picks() {
		find(address.KeyPick, name)
	}
	return out
}

// rows compares them property by property.
func (v *View) rows(subjects []*fibres.Subject) {
	k, a := v.Site, v.Ask
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
}

// differ reports whether the cloths are told apart by a property.
func differ(cells []Cell) bool {
	return slices.ContainsFunc(cells, func(c Cell) bool { return c.Say != cells[0].Say })
}

// Card is one of the cloths, judged for the make-up.
type Card struct {
	advise.Candidate
	Of      sheet.Link
	Picture template.HTML
	Choose  string
	Reason  string
	Price   string
	Drop    string // the address without it
}

// judge judges each cloth for the make-up of the address, best first, all over the
// best in grey.
func (v *View) judge(subjects []*fibres.Subject) {
	m, _ := question.MakeUp(v.Site, v.Ask)
	if m.Piece == nil || len(subjects) == 0 {
		return
	}
	ofLining := v.Get(address.KeyOf) == address.KeyLining && m.Shell != nil && m.Finish != nil
	key := address.KeyShell
	var ranked []advise.Ranked
	if ofLining {
		key = address.KeyLining
		ranked = v.Adv.RankLinings(m, subjects)
		v.Marks = v.Trail(m, address.StageLining)
	} else {
		ranked = v.Adv.RankShells(m, subjects)
		v.Marks = v.Trail(m, address.StageCloth)
	}
	v.For = m.Piece.Name
	if m.Finish != nil {
		v.For += ", " + m.Finish.Name
	}
	if v.Change != nil && !ofLining && v.Get(address.KeyPick) != "" {
		v.Keep = &sheet.Keep{For: v.Question(), Cloths: v.Get(address.KeyPick)}
	}
	var best *picture.Hung
	for _, r := range ranked {
		c := v.card(m, r, key, best)
		if best == nil {
			best = c.hung
		}
		v.Cards = append(v.Cards, c.Card)
	}
}

type hungCard struct {
	Card
	hung *picture.Hung
}

func (v *View) card(m advise.MakeUp, r advise.Ranked, key string, best *picture.Hung) hungCard {
	if key == address.KeyLining {
		m.Lining = r.Subject
	} else {
		m.Shell = r.Subject
	}
	c := hungCard{Card: Card{Candidate: r.Candidate, Of: v.LinkOf(r.Subject), Drop: v.With(address.KeyPick, address.Toggled(v.Picks(), r.ID))}}
	c.Choose = v.To("/make", append(v.Kept(), key, r.ID)...)
	if p := r.Subject.Price; p != nil {
		c.Price = p.Say(v.Units)
	}
	ans, err := v.Adv.CheckAlone(m)
	if err != nil {
		return c
	}
	c.hung = v.Hang(m, ans.Fall)
	c.Picture = v.CardPicture(v.Ask, m, ans.Fall, best, "")
	_, c.Reason = v.Teller().Deciding(m, ans)
	return c
}
