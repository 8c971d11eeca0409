package making

import (
	"html/template"

	"tenter/page/sheet"
)

// PieceGroup is the pieces of one sort.
type PieceGroup struct {
	Title string
	Some  []PieceCard
}

// PieceCard is a piece, drawn.
type PieceCard struct {
	sheet.Link
	Picture template.HTML
	Choose  string
	Chosen  bool
}

func (v *View) pieces() {
	at := map[string]int{}
	for _, p := range v.Adv.Pieces {
		i, ok := at[p.Group]
		if !ok {
			i = len(v.Groups)
			at[p.Group] = i
			v.Groups = append(v.Groups, PieceGroup{Title: p.Group})
		}
		l, _ := v.Link("piece", p.ID)
		v.Groups[i].Some = append(v.Groups[i].Some, PieceCard{l, v.PieceSVG(p, ""), v.With(sheet.KeyPiece, p.ID, sheet.KeyStep, ""), v.Made.Piece == p})
	}
}
