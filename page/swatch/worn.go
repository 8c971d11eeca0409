package swatch

import (
	"encoding/json"
	"strconv"
	"time"

	"tenter/advise"
	"tenter/fibres/fault"
	"tenter/kb"
	"tenter/kb/record"
	"tenter/page/address"
	"tenter/page/question"
	"tenter/page/sheet"
)

// WornView is the verdicts after wear, and the form for a new one.
type WornView struct {
	sheet.Sheet
	Made        advise.MakeUp
	FieldErrors question.FieldErrors
	Ready       bool // a piece and a cloth are named
	Findings    []sheet.Option
	Verdicts    []Verdict
	CanRecord   bool
}

// Verdict is one that was given.
type Verdict struct {
	ID                int64
	At, Of, Say, Said string
}

// kept is a make-up with its figures, as a verdict keeps it.
type kept struct {
	advise.MakeUpIDs
	Figures map[string]advise.Figures `json:"figures,omitempty"`
}

func worn(k *sheet.Site, a address.Ask) (sheet.View, error) {
	v := &WornView{Sheet: sheet.NewSheet(k, a, place, "How it did in wear"), CanRecord: k.Change != nil}
	v.Made, v.FieldErrors = question.MakeUp(k, a)
	v.Ready = v.Made.Piece != nil && v.Made.Shell != nil
	for _, f := range advise.Findings {
		v.Findings = append(v.Findings, sheet.Option{Value: f.ID, Word: f.Name})
	}
	if k.Base.Records == nil {
		return v, nil
	}
	list, err := k.Base.Records.Wears(200)
	if err != nil {
		return nil, err
	}
	for _, w := range list {
		var m kept
		_ = json.Unmarshal(w.MakeUp, &m) // what cannot be read is shown empty
		x := Verdict{ID: w.ID, At: w.At.Local().Format("2 Jan 2006"), Of: named(k, "piece", m.Piece) + " of " + named(k, "cloth", m.Cloth), Say: w.Verdict, Said: w.Said}
		if m.Lining != "" {
			x.Of += " lined with " + named(k, "cloth", m.Lining)
		}
		if f, err := advise.ParseFinding(w.Verdict); err == nil {
			x.Say = f.Name
		}
		v.Verdicts = append(v.Verdicts, x)
	}
	return v, nil
}

func submitWorn(k *sheet.Site, a address.Ask, f sheet.Form) (sheet.View, error) {
	switch f.Get("do") {
	case "add":
		finding, err := advise.ParseFinding(f.Get("verdict"))
		if err != nil {
			return nil, err
		}
		m, _ := question.MakeUp(k, a)
		ans, err := k.Adv.CheckAlone(m)
		if err != nil {
			return nil, err
		}
		raw, err := json.Marshal(kept{ans.MakeUp, k.Adv.FiguresOf(m)})
		if err != nil {
			return nil, err
		}
		err = k.Change(func(b *kb.Base) error {
			_, err := b.Records.AddWear(record.Wear{MakeUp: raw, Verdict: finding.ID, Said: f.Get("said"), At: time.Time{}})
			return err
		})
		if err != nil {
			return nil, err
		}
		return nil, &sheet.Moved{To: a.With()}
	case "remove":
		id, err := strconv.ParseInt(f.Get("number"), 10, 64)
		if err != nil {
			return nil, &fault.Fault{Kind: fault.WrongCall, What: "there is no such verdict"}
		}
		if err := k.Change(func(b *kb.Base) error { return b.Records.RemoveWear(id) }); err != nil {
			return nil, err
		}
		return nil, &sheet.Moved{To: a.With()}
	}
	return nil, &fault.Fault{Kind: fault.WrongCall, What: "nothing is asked"}
}

// named is what a thing is called, or its id where there is none any more.
func named(k *sheet.Site, kind, id string) string {
	if l, ok := k.Link(kind, id); ok {
		return l.Name
	}
	return id
}
