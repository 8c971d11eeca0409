package sheet

import (
	"slices"

	"tenter/advise"
	"tenter/advise/brief"
	"tenter/advise/rules"
	"tenter/fibres/prose"
	"tenter/page/address"
	"tenter/page/card"
	"tenter/page/words"
)

// Result is the first screen of a judged make-up: the picture of its fall, the
// verdict, the one or two reasons, what to mind, and where to go on.
type Result struct {
	Title    string
	Answer   string // yes, with a reservation, perhaps, no
	Verdict  string
	Share    float64
	Unjudged bool
	Brief    brief.Brief
	Picture  *Drawing
	Changed  *Changed
	WaysOut  []WayOut
	Next     []Go
	Keep     *Keep // nil where nothing can be recorded
}

// Keep is what may be kept on the shortlist: the cloth of a question, or several cloths
// in its place, with commas between.
type Keep struct{ For, Cloths string }

// Changed is what a swap changed, with the way back.
type Changed struct {
	From    string
	Changes []string
	Back    string
}

// WayOut is one change after which the make-up would do, one click away.
type WayOut struct{ Change, Name, Share, To string }

// Go is where to go on; the main one stands out.
type Go struct {
	Word, To string
	Main     bool
}

// maxWaysOut is how many ways out a "no" offers.
const maxWaysOut = 3

// NewResult puts a judged make-up on its first screen.
func (s *Sheet) NewResult(m advise.MakeUp, ans *advise.CheckAnswer, b brief.Brief) *Result {
	b.Parts = slices.Clone(b.Parts)
	for i := range b.Parts {
		b.Parts[i].Lines = words.Notes(b.Parts[i].Lines)
		if b.Parts[i].Label == brief.Mind {
			b.Parts[i].Lines = s.firstMinded(b.Parts[i].Lines)
		}
	}
	r := &Result{Title: prose.Upper(m.Piece.Name) + " of " + m.Shell.Label(), Verdict: ans.Verdict, Share: ans.Share, Unjudged: ans.Unjudged, Brief: b, Answer: answerWord(ans, b)}
	r.Picture = s.firstPicture(m, ans.Fall)
	if s.Change != nil && s.Get(address.KeyShell) != "" {
		r.Keep = &Keep{For: s.Question()}
	}
	if ans.Verdict != advise.Suits || ans.Unjudged {
		r.WaysOut = s.waysOut(m, ans)
	}
	return r
}

// maxMinded is how many lines to mind stand on a first screen; whatever may hurt
// somebody stands there besides.
const maxMinded = 2

// firstMinded are those lines. The others stand one level down, among the reasons.
func (s *Sheet) firstMinded(lines []string) []string {
	var out []string
	for _, l := range lines {
		hurts := slices.ContainsFunc(s.Adv.Rules, func(r *rules.Rule) bool { return r.Say == l && r.Harm >= 5 })
		if hurts || len(out) < maxMinded {
			out = append(out, l)
		}
	}
	return out
}

// answerWord is the verdict as one answers a question.
func answerWord(ans *advise.CheckAnswer, b brief.Brief) string {
	switch {
	case ans.Unjudged:
		return "Not judged"
	case ans.Verdict == advise.Suits && len(b.Lines(brief.But)) > 0:
		return "Yes, with a reservation"
	case ans.Verdict == advise.Suits:
		return "Yes"
	case ans.Verdict == advise.Borderline:
		return "Perhaps"
	}
	return "No"
}

// firstPicture is the largest picture of a make-up: the piece as it is worn where
// there is a picture of it, else its edge from the side.
func (s *Sheet) firstPicture(m advise.MakeUp, f *advise.Fall) *Drawing {
	if d := s.Worn(s.Ask, m, f); d != nil {
		return d
	}
	d := s.drawFall(s.Ask, m, f)
	if d != nil {
		d.Caption += card.NotWorn(s.Adv, m, f)
	}
	return d
}

// waysOut are the first of each sort of change, then the seconds, each as a link to
// this page with that one thing changed. One is always left: to look for another
// cloth.
func (s *Sheet) waysOut(m advise.MakeUp, ans *advise.CheckAnswer) []WayOut {
	var out []WayOut
	for round := 0; round < maxWaysOut && len(out) < maxWaysOut; round++ {
		seen := map[string]int{}
		for _, w := range ans.Instead {
			if seen[w.Change]++; seen[w.Change] == round+1 && len(out) < maxWaysOut {
				out = append(out, WayOut{Change: changeWords[w.Change], Name: w.Name, Share: advise.InTen(w.Share), To: s.With(changed(w)...)})
			}
		}
	}
	if len(out) < maxWaysOut {
		out = append(out, WayOut{Change: "Look for", Name: "another cloth", To: s.To("/make", append(s.Kept(), address.KeyStep, address.StageCloth)...)})
	}
	if len(out) < maxWaysOut {
		out = append(out, WayOut{Change: "Make", Name: "another piece of it", To: s.To("/make", append(s.Kept(), address.KeyStep, address.StagePiece)...)})
	}
	if len(out) < maxWaysOut && m.Finish != nil {
		out = append(out, WayOut{Change: "Make it up", Name: "in another way", To: s.To("/make", append(s.Kept(), address.KeyStep, address.StageFinish)...)})
	}
	return out
}

var changeWords = map[string]string{"lining": "Line it with", "cloth": "Take", "finish": "Make it up as", "piece": "Make of it a"}

// changed are the keys of the address that one way out changes. What was said of
// the cloth in hand is not true of another.
func changed(w advise.Instead) []string {
	switch w.Change {
	case "lining":
		return append([]string{address.KeyLining, w.To}, forgetLining...)
	case "cloth":
		return append([]string{address.KeyShell, w.To}, forgetShell...)
	case "finish":
		return []string{address.KeyFinish, w.To}
	}
	return []string{address.KeyPiece, w.To}
}

// forgetShell and forgetLining take away what was said of one real cloth.
var (
	forgetShell  = []string{address.KeyMass, "", address.KeyBending, "", address.KeyDrop, "", address.KeyFeels, "", address.KeyColour, ""}
	forgetLining = []string{address.KeyLiningMass, "", address.KeyLiningBending, "", address.KeyLiningDrop, "", address.KeyLiningFeels, "", address.KeyLiningColour, ""}
)
