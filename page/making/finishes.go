package making

import (
	"html/template"
	"slices"

	"tenter/page/address"
	"tenter/page/picture"
	"tenter/page/sheet"
)

// FinishCard is a finish, drawn.
type FinishCard struct {
	sheet.Link
	Lined   bool
	Picture template.HTML
	Choose  string
	Chosen  bool
	Usual   bool   // for the piece
	Unfit   string // why it does not go with the piece; "" where it does
}

// finishes ranks the finishes for the piece: the usual ones first, then what can be
// done besides, and apart from them what does not go with it.
func (v *View) finishes() {
	usual := v.Adv.UsualFinishes(v.Made.Piece)
	place := func(id string) int {
		if i := slices.Index(usual, id); i >= 0 {
			return i
		}
		return len(usual)
	}
	for _, f := range v.Adv.Finishes {
		l, _ := v.Link("finish", f.ID)
		c := FinishCard{Link: l, Lined: f.Lined, Picture: picture.Finish(f, ""), Choose: v.With(address.KeyFinish, f.ID, address.KeyStep, ""),
			Chosen: v.Made.Finish == f, Usual: place(f.ID) < len(usual)}
		if u := v.Adv.UnfitFor(v.Made.Piece, f); u != nil {
			c.Unfit = u.Say
			v.Unfit = append(v.Unfit, c)
		} else {
			v.Finishes = append(v.Finishes, c)
		}
	}
	slices.SortStableFunc(v.Finishes, func(x, y FinishCard) int { return place(x.ID) - place(y.ID) })
}
