package swatch

import (
	"strings"
	"time"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/kb"
	"tenter/kb/record"
	"tenter/page/address"
	"tenter/page/sheet"
)

// MeasureView leads through one home test. What was typed so far is in the
// address, so that back takes a reading back and nothing is lost by reloading.
type MeasureView struct {
	sheet.Sheet
	Name       string
	Kind       string
	Kinds      []Test
	Test       fibres.HomeTest
	Prompt     string
	Lines      string
	Typed      []string
	SoFar      string
	Done       bool
	FieldError string
	GoOn       string // the address that goes on to the next step
	TakeBack   string // the address without the last reading
	Action     string
	Camera     string // reads the next reading off a photograph; "" where it cannot
}

const keyLine, keyKind = "line", "kind"

// replay types the lines again into a new guide. Each line ends with a bar.
func replay(kind, lines string) (*kb.Guide, []string, error) {
	g, err := kb.NewGuide(kind)
	if err != nil {
		return nil, nil, err
	}
	var typed []string
	parts := strings.Split(lines, "|")
	for _, l := range parts[:len(parts)-1] {
		if err := g.Put(l); err != nil {
			return nil, nil, err
		}
		typed = append(typed, l)
	}
	return g, typed, nil
}

// back is the lines without the last reading and the empty lines behind it.
func back(typed []string) string {
	for len(typed) > 0 && typed[len(typed)-1] == "" {
		typed = typed[:len(typed)-1]
	}
	if len(typed) > 0 {
		typed = typed[:len(typed)-1]
	}
	out := ""
	for _, l := range typed {
		out += l + "|"
	}
	return out
}

func measure(k *sheet.Site, a address.Ask) (sheet.View, error) {
	s, err := find(k, a)
	if err != nil {
		return nil, err
	}
	v := &MeasureView{Sheet: sheet.NewSheet(k, a, place, "Measure "+s.Name), Name: s.Name, Kind: a.Get(keyKind), Action: path(s.Name) + "/measure"}
	if v.Kind == "" {
		for _, kind := range record.Kinds {
			t, _ := fibres.TestOfKind(kind)
			if t.Name == "" {
				t.Name = kind
			}
			v.Kinds = append(v.Kinds, Test{Kind: kind, Name: t.Name, Path: v.With(keyKind, kind)})
		}
		return v, nil
	}
	g, typed, err := replay(v.Kind, a.Get(address.KeyLines))
	if err != nil {
		return nil, err
	}
	if line, given := a.Query[keyLine]; given { // a reading was typed: it moves into the lines
		words := strings.ReplaceAll(line[0], "|", " ")
		if err := g.Put(words); err != nil {
			f := fault.All(err)[0]
			v.FieldError = f.What
			if f.Expected != "" {
				v.FieldError += "; expected: " + f.Expected
			}
			v.Status = 422
			if g, typed, err = replay(v.Kind, a.Get(address.KeyLines)); err != nil {
				return nil, err
			}
		} else {
			return nil, &sheet.Moved{To: v.With(keyLine, "", address.KeyLines, a.Get(address.KeyLines)+words+"|")}
		}
	}
	v.Test, _ = fibres.TestOfKind(v.Kind)
	v.Lines, v.Done, v.Prompt = a.Get(address.KeyLines), g.Done(), prompt(g)
	for _, l := range typed {
		if l != "" {
			v.Typed = append(v.Typed, l)
		}
	}
	if rs, err := g.Readings(); err == nil && len(rs) > 0 {
		v.SoFar = found(a, kb.EvidenceOf([]record.Measurement{{Kind: v.Kind, Taken: time.Now(), Readings: rs}}))
	}
	if v.Kind == "droop" && !v.Done {
		v.Camera = v.To(path(s.Name)+"/camera", address.KeyLines, v.Lines)
	}
	if empty, err := goesOn(v.Kind, v.Lines); err == nil && empty {
		v.GoOn = v.With(keyLine, "", address.KeyLines, v.Lines+"|")
	}
	if len(typed) > 0 {
		v.TakeBack = v.With(keyLine, "", address.KeyLines, back(typed))
	}
	return v, nil
}

// prompt is what is asked, without what the key Enter does in a terminal.
func prompt(g *kb.Guide) string {
	p := g.Prompt()
	p = strings.ReplaceAll(p, "; Enter goes on", "")
	p = strings.ReplaceAll(p, "Enter goes on", "")
	return strings.TrimSpace(strings.ReplaceAll(strings.ReplaceAll(p, "Enter: ", "else "), "()", ""))
}

// goesOn reports whether an empty line is an answer to what is asked now.
func goesOn(kind, lines string) (bool, error) {
	g, _, err := replay(kind, lines)
	if err != nil || g.Done() {
		return false, err
	}
	return g.Put("") == nil, nil
}

func submitMeasure(k *sheet.Site, a address.Ask, f sheet.Form) (sheet.View, error) {
	s, err := find(k, a)
	if err != nil {
		return nil, err
	}
	g, _, err := replay(f.Get(keyKind), f.Get(address.KeyLines))
	if err != nil {
		return nil, err
	}
	rs, err := g.Readings()
	if err != nil {
		return nil, err
	}
	if len(rs) == 0 {
		return nil, &fault.Fault{Kind: fault.WrongCall, What: "no reading was typed"}
	}
	err = k.Change(func(b *kb.Base) error {
		_, err := b.Records.AddMeasurement(record.Measurement{SwatchID: s.ID, Kind: g.Kind, Readings: rs, Note: f.Get("note")})
		return err
	})
	if err != nil {
		return nil, err
	}
	return nil, &sheet.Moved{To: a.To(path(s.Name))}
}
