// Package check is the whole answer to one question: will this cloth do for
// that piece, made up so?
package check

import (
	"embed"
	"strings"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/prose"
	"tenter/page/address"
	"tenter/page/question"
	"tenter/page/sheet"
)

//go:embed check.tmpl
var files embed.FS

// Page lies at /check.
var Page = sheet.Page{Pattern: "/check", Files: files, Template: "check.tmpl", Make: build}

// stepQuestion asks for the question as it stands, to change it: a form of seven hundred
// choices, which the answer does without.
const stepQuestion = "question"

// View is the question as a form, or its answer.
type View struct {
	sheet.Sheet
	Form        Form
	FieldErrors question.FieldErrors
	Answer      *advise.CheckAnswer
	Result      *sheet.Result
	Marks       []sheet.Mark
	Made        advise.MakeUp
	Pictures    []*sheet.Drawing
	Worn        string // the form after wear
	Words       string
	Reasons     []Reasons
	Missing     string // what is still to be said before anything is judged
}

// Form is the question with its choices.
type Form struct {
	Pieces, Finishes          []sheet.OptionGroup
	Cloths                    []sheet.Link
	Interfacings, Seams       []sheet.Option
	Edges, Wearers            []sheet.Option
	Colours, LiningColours    []sheet.Option
	Shell, Lining             string
	Mass, Bending             string
	LiningMass, LiningBending string
	More                      bool // something of the lesser fields is said
}

// Reasons are the rules of one sort that had their say.
type Reasons struct {
	Title  string
	Some   []advise.Reason
	Folded bool
}

func build(k *sheet.Site, a address.Ask) (sheet.View, error) {
	v := &View{Sheet: sheet.NewSheet(k, a, "/check", "Will it do?")}
	m, wrong := question.MakeUp(k, a)
	v.Made, v.FieldErrors = m, wrong
	asking := v.Get(address.KeyStep) == stepQuestion
	switch {
	case asking:
	case m.Piece == nil && m.Shell == nil:
		v.Missing = "Name a cloth and a piece."
	case m.Piece == nil:
		v.Missing = "Name the piece that is to be made of it."
	case m.Shell == nil:
		v.Missing = "Name the cloth."
	}
	if asking || v.Missing != "" {
		v.form()
		return v, nil
	}
	ans, err := k.Adv.Check(m)
	if err != nil {
		return nil, err
	}
	v.Answer = &ans
	v.Title = prose.Upper(m.Shell.Label()) + " for a " + m.Piece.Name
	v.Result = v.NewResult(m, &ans, v.Teller().Check(m, ans))
	v.Result.Title = v.Title
	v.Marks = v.Trail(m, "")
	v.Words = v.FallWords(ans.Fall)
	v.Pictures = v.DrawMakeUp(v.Ask, m, ans.Fall)
	v.Reasons = sorted(advise.OfRules(ans.Reasons))
	v.goOn(m, ans)
	return v, nil
}

// goOn says where to go on: to the test where the cloth in hand decides, to the work
// where it will do.
func (v *View) goOn(m advise.MakeUp, ans advise.CheckAnswer) {
	r, kept := v.Result, v.Kept()
	v.Worn = v.To("/worn", kept...)
	no := ans.Verdict == advise.Unsuited
	doubt := ans.Verdict == advise.Borderline && len(ans.Settle) > 0
	if doubt {
		r.Next = append(r.Next, sheet.Go{Word: "Settle it: test yours", To: v.To("/test/" + ans.Settle[0].Test), Main: true})
	}
	how, cut := "How to make it", "Cut and buy"
	if no {
		how, cut = "Make it all the same", "Cut it all the same"
	}
	if m.Finish != nil {
		r.Next = append(r.Next, sheet.Go{Word: how, To: v.To("/make", append(kept, address.KeyStep, address.StageWork)...), Main: !no && !doubt})
	} else {
		r.Next = append(r.Next, sheet.Go{Word: "Choose how it is made up", To: v.To("/make", append(kept, address.KeyStep, address.StageFinish)...), Main: !no && !doubt})
	}
	r.Next = append(r.Next, sheet.Go{Word: cut, To: v.To("/cut", kept...)})
}

func (v *View) form() {
	id := func(x string) string { return strings.ToLower(x) }
	f := &v.Form
	piece, finish := v.Get(address.KeyPiece), v.Get(address.KeyFinish)
	if v.Made.Piece != nil {
		piece = v.Made.Piece.ID
	}
	if v.Made.Finish != nil {
		finish = v.Made.Finish.ID
	}
	f.Pieces, f.Finishes, f.Cloths = v.PieceOptions(piece), v.FinishOptions(finish), v.Things("cloth")
	f.Interfacings = v.Options("interfacing", id(v.Get(address.KeyInterfacing)))
	f.Seams, f.Edges = v.Options("seam", id(v.Get(address.KeySeam))), v.Options("edge", id(v.Get(address.KeyEdge)))
	f.Wearers = sheet.WordOptions(v.Get(address.KeyWearer), "adult", "child")
	f.Colours = sheet.WordOptions(v.Get(address.KeyColour), fibres.LightnessScale...)
	f.LiningColours = sheet.WordOptions(v.Get(address.KeyLiningColour), fibres.LightnessScale...)
	f.Shell, f.Lining, f.Mass, f.Bending = v.Get(address.KeyShell), v.Get(address.KeyLining), v.Get(address.KeyMass), v.Get(address.KeyBending)
	f.LiningMass, f.LiningBending = v.Get(address.KeyLiningMass), v.Get(address.KeyLiningBending)
	for _, key := range []string{address.KeyMass, address.KeyBending, address.KeyColour, address.KeyLiningMass, address.KeyLiningBending, address.KeyLiningColour,
		address.KeyInterfacing, address.KeySeam, address.KeyEdge, address.KeyWearer} {
		f.More = f.More || v.Get(key) != ""
	}
}

// sorted parts the reasons into what speaks against, what to mind, what speaks
// for, and what it means for the work.
func sorted(list []advise.Reason) []Reasons {
	out := []Reasons{{Title: "Against"}, {Title: "Take care"}, {Title: "For"}, {Title: "In the work", Folded: true}}
	at := map[string]int{"forbids": 0, "against": 0, "caution": 1, "for": 2, "do": 3}
	for _, r := range advise.OfRules(list) {
		i := at[r.Effect]
		out[i].Some = append(out[i].Some, r)
	}
	kept := out[:0]
	for _, r := range out {
		if len(r.Some) > 0 {
			kept = append(kept, r)
		}
	}
	return kept
}
