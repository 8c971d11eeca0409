package sheet

import (
	"net/url"
	"slices"
	"strings"

	"tenter/advise"
	"tenter/fibres/units"
)

// The stages of a maker's way, in order.
const (
	StagePiece  = "piece"
	StageFinish = "finish"
	StageCloth  = "cloth"
	StageLining = "lining"
	StageWork   = "work"
	StageCut    = "cut"
	StageCard   = "card"
)

// KeyStep asks for a stage that was passed already, or for the work without a
// lining named.
const KeyStep = "step"

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
		names[StagePiece] = m.Piece.Name
	}
	if m.Finish != nil {
		names[StageFinish] = m.Finish.Name
	}
	if m.Shell != nil {
		names[StageCloth] = m.Shell.Label()
	}
	if m.Lining != nil {
		names[StageLining] = m.Lining.Label()
	}
	made := m.Piece != nil && m.Finish != nil
	add(StagePiece, "Piece", names[StagePiece], true, "/make", KeyStep, StagePiece)
	add(StageFinish, "Finish", names[StageFinish], m.Piece != nil, "/make", KeyStep, StageFinish)
	add(StageCloth, "Cloth", names[StageCloth], made, "/make", KeyStep, StageCloth)
	if m.Finish == nil || m.Finish.Lined {
		add(StageLining, "Lining", names[StageLining], made && m.Shell != nil, "/make", KeyStep, StageLining)
	}
	add(StageWork, "Work", "", made && m.Shell != nil, "/make", KeyStep, StageWork)
	add(StageCut, "Cut", "", m.Piece != nil && m.Shell != nil, "/cut")
	add(StageCard, "Card", "", made && m.Shell != nil, "/card")
	return out
}

// Kept is what the address says of the make-up and of its cutting, as pairs of key
// and value for a link: no filter, no step.
func (a Ask) Kept() []string {
	var out []string
	for _, key := range sortedKeys(a.Query) {
		if strings.HasPrefix(key, KeySet) || slices.Contains(questionKeys, key) || slices.Contains(cutKeys, key) {
			out = append(out, key, a.Query.Get(key))
		}
	}
	return out
}

// Question is what the address says of the make-up, as the query of a link, in the
// units it was said in.
func (a Ask) Question() string {
	q := url.Values{}
	if a.Units != units.Metric {
		q.Set(keyUnits, a.Units.String())
	}
	kept := a.Kept()
	for i := 0; i+1 < len(kept); i += 2 {
		q.Set(kept[i], kept[i+1])
	}
	return q.Encode()
}
