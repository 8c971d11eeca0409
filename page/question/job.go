package question

import (
	"fmt"
	"strings"

	"tenter/advise"
	"tenter/advise/cut"
	"tenter/fibres/fault"
	"tenter/fibres/units"
	"tenter/page/address"
	"tenter/page/sheet"
)

// Plan works out the cut sizes and what to buy for the make-up of the address.
// A piece and a shell are required.
func Plan(k *sheet.Site, a address.Ask, m advise.MakeUp) (cut.Answer, FieldErrors, error) {
	return plan(k, a, m, false)
}

// PlanInWidths is [Plan] with the lengths in the widths that cloth is commonly sold in.
func PlanInWidths(k *sheet.Site, a address.Ask, m advise.MakeUp) (cut.Answer, FieldErrors, error) {
	return plan(k, a, m, true)
}

func plan(k *sheet.Site, a address.Ask, m advise.MakeUp, widths bool) (cut.Answer, FieldErrors, error) {
	var t FieldErrors
	if m.Piece == nil || m.Shell == nil {
		return cut.Answer{}, nil, &fault.Fault{Kind: fault.WrongCall, What: "there is nothing to cut", Expected: "a piece and a cloth"}
	}
	job := k.Adv.CutJob(m)
	job.Units, job.CommonWidths = a.Units, widths
	if a.Get(address.KeyAllowance) != "" {
		job.Allowance, job.Hem, job.Edge = length(a, address.KeyAllowance, &t, units.Range[units.Length]{High: 50}, job.Allowance), nil, nil
	}
	parts(k, a, m.Piece, &job, &t)
	for i := range job.Layers {
		switch l := &job.Layers[i]; l.Name {
		case "shell":
			lay(a, l, address.KeyWidth, address.KeyPrice, &t)
		case "lining":
			lay(a, l, address.KeyLiningWidth, address.KeyLiningPrice, &t)
		default:
			if m.HasInner(l.Name) {
				l.Prewashed, l.Folded, l.Join, l.OneWay = a.Get(address.KeyPrewashed) == address.Yes, a.Get(address.KeyFold) == address.Yes, a.Get(address.KeyJoin) == address.Yes, l.OneWay || a.Get(address.KeyOneWay) == address.Yes
			}
		}
	}
	type planned struct {
		ans cut.Answer
		err error
	}
	done := sheet.Remember(k, fmt.Sprintf("plan %t %s", widths, a.Question()), func() planned {
		ans, err := cut.Plan(job)
		return planned{ans, err}
	})
	ans, err := done.ans, done.err
	if err != nil {
		return ans, t, err
	}
	ans.MakeUp = advise.IDsOf(m)
	return ans, t, nil
}

// maxLayers is how many further layers an address may ask for.
const maxLayers = 6

// inner adds the further layers of the address to the make-up.
func inner(k *sheet.Site, a address.Ask, m *advise.MakeUp, t *FieldErrors) {
	for i, text := range strings.Split(a.Get(address.KeyLayer), "|") {
		if text = strings.TrimSpace(text); text == "" || i >= maxLayers {
			continue
		}
		wish, err := cut.ParseLayer(text)
		if err != nil {
			t.Add(address.KeyLayer, text, err)
			continue
		}
		cloth, err := k.Base.Subject(wish.Cloth)
		if err == nil {
			err = m.AddInner(wish, cloth)
		}
		if err != nil {
			t.Add(address.KeyLayer, text, err)
		}
	}
}

// lay puts what the address says to one layer.
func lay(a address.Ask, l *cut.Layer, width, cost string, t *FieldErrors) {
	l.Prewashed, l.Folded, l.Join = a.Get(address.KeyPrewashed) == address.Yes, a.Get(address.KeyFold) == address.Yes, a.Get(address.KeyJoin) == address.Yes
	l.OneWay = l.OneWay || a.Get(address.KeyOneWay) == address.Yes
	l.Selvedge = length(a, address.KeySelvedge, t, units.Range[units.Length]{High: 20}, 0)
	if w := length(a, width, t, units.Range[units.Length]{Low: 5, High: 1500}, 0); w > 0 {
		l.SetWidth(units.Range[units.Length]{Low: w, High: w})
	}
	if typed := a.Get(cost); typed != "" {
		if p, err := address.ParsePrice(typed, a.Units); err != nil {
			t.Add(cost, typed, err)
		} else {
			l.Price = &p
		}
	}
}

// parts draws the piece by the measures that are said; without any it stays as it
// is usually drawn.
func parts(k *sheet.Site, a address.Ask, p *advise.Piece, job *cut.Job, t *FieldErrors) {
	s := k.Shape(p)
	if s == nil {
		return
	}
	d, err := s.Draw(measures(a, s))
	for _, f := range fault.All(err) {
		t.Add(address.KeySet+f.Where, "", f)
	}
	if err == nil {
		job.Parts, job.Joins = d.Parts, d.Joins
		job.Notes = append(job.Notes, d.Says...)
	}
}

// measures are those of a shape that the address says.
func measures(a address.Ask, s *cut.Shape) map[string]string {
	set := map[string]string{}
	for _, x := range s.Parameters {
		if v := a.Get(address.KeySet + x.ID); v != "" {
			if x.Kind == cut.KindLength && address.Bare(v) && a.Units == units.Imperial {
				v += "in"
			}
			set[x.ID] = v
		}
	}
	return set
}

// Measures are those of a piece that the address says.
func Measures(k *sheet.Site, a address.Ask, p *advise.Piece) map[string]string {
	s := k.Shape(p)
	if s == nil {
		return nil
	}
	return measures(a, s)
}

// length reads a length of the address; what cannot be read, or lies outside
// the limits, is told and leaves the one that is usual.
func length(a address.Ask, key string, t *FieldErrors, limits units.Range[units.Length], usual units.Length) units.Length {
	v := a.Get(key)
	if v == "" {
		return usual
	}
	unit := units.Length(1)
	if a.Units == units.Imperial {
		unit = 2.54
	}
	l, err := units.ParseLengthIn(v, unit)
	if err == nil && !limits.Holds(l) {
		err = &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("%s is out of bounds", v), Expected: limits.In(a.Units)}
	}
	if err != nil {
		if t.At(key) == nil {
			t.Add(key, v, err)
		}
		return usual
	}
	return l
}
