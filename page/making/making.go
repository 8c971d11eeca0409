// Package making is the way of a maker through one piece: pick the piece and
// its finish, see which cloths suit with their fall side by side, narrow them,
// pick the shell, see the linings ranked, and get the work in order. One
// address holds the whole of it.
package making

import (
	"embed"
	"slices"

	"tenter/advise"
	"tenter/fibres/prose"
	"tenter/page/address"
	"tenter/page/question"
	"tenter/page/sheet"
)

//go:embed *.tmpl
var files embed.FS

// Page lies at /make.
var Page = sheet.Page{Pattern: "/make", Files: files, Template: "*.tmpl", Make: build}

// View is the stage that the address has come to, and the trail behind it.
type View struct {
	sheet.Sheet
	Stage       string
	Marks       []sheet.Mark
	FieldErrors question.FieldErrors
	Made        advise.MakeUp

	Find     string // what is looked for among the pieces
	Groups   []PieceGroup
	NPieces  int
	Finishes []FinishCard
	Unfit    []FinishCard // what does not go with the piece
	Choice   Choice
	Work     *Work
}

func build(k *sheet.Site, a address.Ask) (sheet.View, error) {
	v := &View{Sheet: sheet.NewSheet(k, a, "/make", "Make")}
	v.Made, v.FieldErrors = question.MakeUp(k, a)
	v.Stage = v.stage()
	v.Marks = v.Trail(v.Made, v.Stage)
	var err error
	switch v.Stage {
	case address.StagePiece:
		v.Title = "What will you make?"
		v.pieces()
	case address.StageFinish:
		v.Title = "How is the " + v.Made.Piece.Name + " made up?"
		v.finishes()
	case address.StageCloth:
		v.Title = "Cloths for a " + v.Made.Piece.Name
		v.choose(shellLayer)
	case address.StageLining:
		v.Title = "Linings for the " + v.Made.Piece.Name
		v.choose(liningLayer)
	default:
		v.Title = prose.Upper(v.Made.Piece.Name) + " of " + v.Made.Shell.Label()
		err = v.work()
	}
	return v, err
}

// stages are those of this page, in order.
var stages = []string{address.StagePiece, address.StageFinish, address.StageCloth, address.StageLining, address.StageWork}

// stage is the one that the address asks for, as far as what comes before it is
// chosen; else the first choice that is still open.
func (v *View) stage() string {
	open := v.open()
	asked := v.Get(address.KeyStep)
	switch {
	case asked == address.StageLining && v.Made.Finish != nil && !v.Made.Finish.Lined:
		return open
	case asked == address.StageWork && open == address.StageLining:
		return asked
	case slices.Contains(stages, asked) && slices.Index(stages, asked) <= slices.Index(stages, open):
		return asked
	}
	return open
}

// open is the first choice that is not made.
func (v *View) open() string {
	m := v.Made
	switch {
	case m.Piece == nil:
		return address.StagePiece
	case m.Finish == nil:
		return address.StageFinish
	case m.Shell == nil:
		return address.StageCloth
	case m.Finish.Lined && m.Lining == nil:
		return address.StageLining
	}
	return address.StageWork
}
