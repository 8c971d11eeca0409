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
	FieldErrors sheet.FieldErrors
	Made        advise.MakeUp

	Find     string // what is looked for among the pieces
	Groups   []PieceGroup
	NPieces  int
	Finishes []FinishCard
	Unfit    []FinishCard // what does not go with the piece
	Choice   Choice
	Work     *Work
}

func build(k *sheet.Site, a sheet.Ask) (sheet.View, error) {
	v := &View{Sheet: sheet.NewSheet(k, a, "/make", "Make")}
	v.Made, v.FieldErrors = a.MakeUp(k)
	v.Stage = v.stage()
	v.Marks = v.Trail(v.Made, v.Stage)
	var err error
	switch v.Stage {
	case sheet.StagePiece:
		v.Title = "What will you make?"
		v.pieces()
	case sheet.StageFinish:
		v.Title = "How is the " + v.Made.Piece.Name + " made up?"
		v.finishes()
	case sheet.StageCloth:
		v.Title = "Cloths for a " + v.Made.Piece.Name
		v.choose(shellLayer)
	case sheet.StageLining:
		v.Title = "Linings for the " + v.Made.Piece.Name
		v.choose(liningLayer)
	default:
		v.Title = prose.Upper(v.Made.Piece.Name) + " of " + v.Made.Shell.Label()
		err = v.work()
	}
	return v, err
}

// stages are those of this page, in order.
var stages = []string{sheet.StagePiece, sheet.StageFinish, sheet.StageCloth, sheet.StageLining, sheet.StageWork}

// stage is the one that the address asks for, as far as what comes before it is
// chosen; else the first choice that is still open.
func (v *View) stage() string {
	open := v.open()
	asked := v.Get(sheet.KeyStep)
	switch {
	case asked == sheet.StageLining && v.Made.Finish != nil && !v.Made.Finish.Lined:
		return open
	case asked == sheet.StageWork && open == sheet.StageLining:
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
		return sheet.StagePiece
	case m.Finish == nil:
		return sheet.StageFinish
	case m.Shell == nil:
		return sheet.StageCloth
	case m.Finish.Lined && m.Lining == nil:
		return sheet.StageLining
	}
	return sheet.StageWork
}
