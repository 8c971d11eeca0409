package sheet

import (
	"slices"

	"tenter/advise"
	"tenter/page/address"
)

// Mark is one stage of the trail.
type Mark struct {
	Stage, Word string
	Chosen      string // what was chosen, or ""
	To          string // the stage itself, with everything that was chosen; "" where it cannot be reached yet
	Now         bool
}

// Trail is the way from the piece to the card, for a make-up that has come to the
// stage now. Going back along it loses nothing.
func (s *Sheet) Trail(m advise.MakeUp, now string) []Mark {
	kept := s.Kept()
	var out []Mark
	add := func(stage, word, chosen string, reached bool, path string, pairs ...string) {
		x := Mark{Stage: stage, Word: word, Chosen: chosen, Now: stage == now}
		if reached && !x.Now {
			x.To = s.To(path, slices.Concat(kept, pairs)...)
		}
		out = append(out, x)
	}
	names := map[string]string{}
	if m.Piece != nil {
		names[address.StagePiece] = m.Piece.Name
	}
	if m.Finish != nil {
		names[address.StageFinish] = m.Finish.Name
	}
	if m.Shell != nil {
		names[address.StageCloth] = m.Shell.Label()
	}
	if m.Lining != nil {
		names[address.StageLining] = m.Lining.Label()
	}
	made := m.Piece != nil && m.Finish != nil
	add(address.StagePiece, "Piece", names[address.StagePiece], true, "/make", address.KeyStep, address.StagePiece)
	add(address.StageFinish, "Finish", names[address.StageFinish], m.Piece != nil, "/make", address.KeyStep, address.StageFinish)
	add(address.StageCloth, "Cloth", names[address.StageCloth], made, "/make", address.KeyStep, address.StageCloth)
	if m.Finish == nil || m.Finish.Lined {
		add(address.StageLining, "Lining", names[address.StageLining], made && m.Shell != nil, "/make", address.KeyStep, address.StageLining)
	}
	add(address.StageWork, "Work", "", made && m.Shell != nil, "/make", address.KeyStep, address.StageWork)
	add(address.StageCut, "Cut", "", m.Piece != nil && m.Shell != nil, "/cut")
	add(address.StageCard, "Card", "", made && m.Shell != nil, "/card")
	return out
}
