// Package making is the way of a maker through one piece: pick the piece and
// its finish, see which cloths suit with their fall side by side, narrow them,
// pick the shell, see the linings ranked, and get the work in order. One
// address holds the whole of it.
package making

import (
	"embed"

	"tenter/advise"
	"tenter/page/sheet"
)

//go:embed making.tmpl pick.tmpl work.tmpl
var files embed.FS

// Page lies at /make.
var Page = sheet.Page{Pattern: "/make", Files: files, Template: "*.tmpl", Make: build}

// The stages of the way.
const (
	pickPiece  = "piece"
	pickFinish = "finish"
	pickCloth  = "cloth"
	pickLining = "lining"
	doWork     = "work"
)

// keyStep asks for a stage although the one before it is open: the work without
// a lining named.
const keyStep = "step"

// View is the stage that the address has come to, and the trail behind it.
type View struct {
	sheet.Sheet
	Stage       string
	Trail       []Mark
	FieldErrors sheet.FieldErrors
	Made        advise.MakeUp

	Groups   []PieceGroup
	Finishes []FinishCard
	Choice   Choice
	Linings  []LiningCard
	Skip     string // the work without a lining named
	Work     *Work
}

// Mark is one choice of the trail.
type Mark struct {
	Stage, Word string
	Chosen      string     // what was chosen, or ""
	Of          sheet.Link // its page
	Change      string     // the address without it
	Now         bool
}

func build(k *sheet.Site, a sheet.Ask) (sheet.View, error) {
	v := &View{Sheet: sheet.NewSheet(k, a, "/make", "Make")}
	v.Made, v.FieldErrors = a.MakeUp(k)
	v.Stage = v.stage()
	v.trail()
	var err error
	switch v.Stage {
	case pickPiece:
		v.Title = "What will you make?"
		v.pieces()
	case pickFinish:
		v.Title = "How is the " + v.Made.Piece.Name + " made up?"
		v.finishes()
	case pickCloth:
		v.Title = "Cloths for a " + v.Made.Piece.Name
		v.cloths()
	case pickLining:
		v.Title = "Linings for the " + v.Made.Piece.Name
		err = v.linings()
	default:
		v.Title = sheet.Upper(v.Made.Piece.Name) + " of " + v.Made.Shell.Label()
		err = v.work()
	}
	return v, err
}

// stage is the first choice that is still open.
func (v *View) stage() string {
	m := v.Made
	switch {
	case m.Piece == nil:
		return pickPiece
	case m.Finish == nil:
		return pickFinish
	case m.Shell == nil:
		return pickCloth
	case m.Finish.Lined && m.Lining == nil && v.Get(keyStep) != doWork:
		return pickLining
	}
	return doWork
}

func (v *View) trail() {
	add := func(stage, word string, l sheet.Link, chosen string, keys ...string) {
		m := Mark{Stage: stage, Word: word, Chosen: chosen, Of: l, Now: v.Stage == stage}
		if chosen != "" {
			var drop []string
			for _, key := range append(keys, keyStep) {
				drop = append(drop, key, "")
			}
			m.Change = v.With(drop...)
		}
		v.Trail = append(v.Trail, m)
	}
	m := v.Made
	var l sheet.Link
	name := ""
	if m.Piece != nil {
		l, _ = v.Link("piece", m.Piece.ID)
		name = m.Piece.Name
	}
	add(pickPiece, "Piece", l, name, sheet.KeyPiece)
	l, name = sheet.Link{}, ""
	if m.Finish != nil {
		l, _ = v.Link("finish", m.Finish.ID)
		name = m.Finish.Name
	}
	add(pickFinish, "Finish", l, name, sheet.KeyFinish)
	l, name = sheet.Link{}, ""
	if m.Shell != nil {
		l = v.LinkOf(m.Shell)
		name = m.Shell.Label()
	}
	add(pickCloth, "Cloth", l, name, sheet.KeyShell)
	if m.Finish == nil || m.Finish.Lined {
		l, name = sheet.Link{}, ""
		if m.Lining != nil {
			l = v.LinkOf(m.Lining)
			name = m.Lining.Label()
		}
		add(pickLining, "Lining", l, name, sheet.KeyLining, sheet.KeyLiningMass, sheet.KeyLiningBending, sheet.KeyLiningColour)
	}
	add(doWork, "Work", sheet.Link{}, "")
}
