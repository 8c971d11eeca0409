package making

import (
	"html/template"
	"strings"

	"tenter/page/address"
	"tenter/page/sheet"
)

// PieceGroup is the pieces of one family. It is folded up, unless it is asked for or
// holds what is looked for.
type PieceGroup struct {
	Title string
	Few   string // the first of them, to tell the family by
	Open  bool
	Some  []PieceCard
}

// PieceCard is a piece, drawn.
type PieceCard struct {
	sheet.Link
	Picture template.HTML
	Choose  string
	Chosen  bool
}

// keyFamily opens a family of pieces.
const keyFamily = "family"

// fewNames is how many names tell a family.
const fewNames = 3

// pieces lists the pieces by family: those whose name or family holds the words that
// are looked for.
func (v *View) pieces() {
	v.Find = v.Get(keyFind)
	at := map[string]int{}
	for _, p := range v.Adv.Pieces {
		if !named(v.Find, p.Name, p.Group) {
			continue
		}
		i, ok := at[p.Group]
		if !ok {
			i = len(v.Groups)
			at[p.Group] = i
			v.Groups = append(v.Groups, PieceGroup{Title: p.Group, Open: v.Find != "" || v.Get(keyFamily) == p.Group})
		}
		g := &v.Groups[i]
		l, _ := v.Link("piece", p.ID)
		c := PieceCard{l, v.PieceSVG(p, ""), v.With(address.KeyPiece, p.ID, address.KeyStep, "", keyFind, "", keyFamily, ""), v.Made.Piece == p}
		g.Open = g.Open || c.Chosen
		g.Some = append(g.Some, c)
		v.NPieces++
	}
	for i := range v.Groups {
		g := &v.Groups[i]
		var names []string
		for _, c := range g.Some[:min(len(g.Some), fewNames)] {
			names = append(names, c.Name)
		}
		g.Few = strings.Join(names, ", ")
		if len(g.Some) > fewNames {
			g.Few += " …"
		}
	}
}
