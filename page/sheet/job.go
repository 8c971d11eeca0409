package sheet

import (
	"fmt"
	"strings"

	"tenter/advise"
	"tenter/advise/cut"
	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// The keys of an address that say how it is cut; each is called as the flag of
// the command. A measure of the piece's shape has its own name behind KeySet.
const (
	KeyWidth, KeyLiningWidth  = "width", "lining-width"
	KeyPrice, KeyLiningPrice  = "price", "lining-price"
	KeyAllowance, KeySelvedge = "allowance", "selvedge"
	KeyPrewashed, KeyFold     = "prewashed", "fold"
	KeyOneWay, KeyJoin        = "one-way", "join"
	KeyLayer                  = "layer" // further layers, parted by |: "underlining=cotton lawn | second lining=silk habotai"
	KeySet                    = "set-"
	yes                       = "yes"
)

// Plan works out the cut sizes and what to buy for the make-up of the address.
// A piece and a shell are required.
func (a Ask) Plan(k *Site, m advise.MakeUp) (cut.Answer, FieldErrors, error) {
	return a.plan(k, m, false)
}

// ToBuy is [Ask.Plan] where no more is asked than what to buy of each cloth: the
// same figures in half the time.
func (a Ask) ToBuy(k *Site, m advise.MakeUp) (cut.Answer, FieldErrors, error) {
	return a.plan(k, m, true)
}

func (a Ask) plan(k *Site, m advise.MakeUp, buyOnly bool) (cut.Answer, FieldErrors, error) {
	var t FieldErrors
	if m.Piece == nil || m.Shell == nil {
		return cut.Answer{}, nil, &fault.Fault{Kind: fault.WrongCall, What: "there is nothing to cut", Expected: "a piece and a cloth"}
	}
	job := k.Adv.CutJob(m)
	job.Units, job.BuyOnly = a.Units, buyOnly
	if a.Get(KeyAllowance) != "" {
		job.Allowance, job.Hem, job.Edge = a.length(KeyAllowance, &t, units.Range[units.Length]{High: 50}, job.Allowance), nil, nil
	}
	a.parts(k, m.Piece, &job, &t)
	for i := range job.Layers {
		switch l := &job.Layers[i]; l.Name {
		case "shell":
			a.lay(l, KeyWidth, KeyPrice, &t)
		case "lining":
			a.lay(l, KeyLiningWidth, KeyLiningPrice, &t)
		default:
			if m.HasInner(l.Name) {
				l.Prewashed, l.Folded, l.Join, l.OneWay = a.Get(KeyPrewashed) == yes, a.Get(KeyFold) == yes, a.Get(KeyJoin) == yes, l.OneWay || a.Get(KeyOneWay) == yes
			}
		}
	}
	type planned struct {
		ans cut.Answer
		err error
	}
	done := Remember(k, fmt.Sprintf("plan %t %s", buyOnly, a.planKey()), func() planned {
		ans, err := cut.Plan(job)
		return planned{ans, err}
	})
	ans, err := done.ans, done.err
	if err != nil {
		return ans, t, err
	}
	ans.MakeUp = advise.Said(m)
	return ans, t, nil
}

// maxLayers is how many further layers an address may ask for.
const maxLayers = 6

// inner adds the further layers of the address to the make-up.
func (a Ask) inner(k *Site, m *advise.MakeUp, t *FieldErrors) {
	for i, text := range strings.Split(a.Get(KeyLayer), "|") {
		if text = strings.TrimSpace(text); text == "" || i >= maxLayers {
			continue
		}
		wish, err := cut.ParseLayer(text)
		if err != nil {
			t.Add(KeyLayer, text, err)
			continue
		}
		cloth, err := k.Base.Subject(wish.Cloth)
		if err == nil {
			err = m.AddInner(wish, cloth)
		}
		if err != nil {
			t.Add(KeyLayer, text, err)
		}
	}
}

// lay puts what the address says to one layer.
func (a Ask) lay(l *cut.Layer, width, cost string, t *FieldErrors) {
	l.Prewashed, l.Folded, l.Join = a.Get(KeyPrewashed) == yes, a.Get(KeyFold) == yes, a.Get(KeyJoin) == yes
	l.OneWay = l.OneWay || a.Get(KeyOneWay) == yes
	l.Selvedge = a.length(KeySelvedge, t, units.Range[units.Length]{High: 20}, 0)
	if w := a.length(width, t, units.Range[units.Length]{Low: 5, High: 1500}, 0); w > 0 {
		l.SetWidth(units.Range[units.Length]{Low: w, High: w})
	}
	if said := a.Get(cost); said != "" {
		if p, err := ParsePrice(said, a.Units); err != nil {
			t.Add(cost, said, err)
		} else {
			l.Price = &p
		}
	}
}

// planKey is all of the address that a plan hangs on.
func (a Ask) planKey() string {
	var b strings.Builder
	b.WriteString(a.Units.String())
	for _, key := range sortedKeys(a.Query) {
		if strings.HasPrefix(key, KeySet) || contains(questionKeys, key) || contains(cutKeys, key) {
			b.WriteString("&" + key + "=" + a.Get(key))
		}
	}
	return b.String()
}

var cutKeys = []string{KeyWidth, KeyLiningWidth, KeyPrice, KeyLiningPrice, KeyAllowance, KeySelvedge, KeyPrewashed, KeyFold, KeyOneWay, KeyJoin, KeyLayer}

// parts draws the piece by the measures that are said; without any it stays as it
// is usually drawn.
func (a Ask) parts(k *Site, p *advise.Piece, job *cut.Job, t *FieldErrors) {
	s := k.Shape(p)
	if s == nil {
		return
	}
	d, err := s.Draw(a.measures(s))
	for _, f := range fault.All(err) {
		t.Add(KeySet+f.Where, "", f)
	}
	if err == nil {
		job.Parts, job.Joins = d.Parts, d.Joins
		job.Notes = append(job.Notes, d.Says...)
	}
}

// measures are those of a shape that the address says.
func (a Ask) measures(s *cut.Shape) map[string]string {
	set := map[string]string{}
	for _, x := range s.Parameters {
		if v := a.Get(KeySet + x.ID); v != "" {
			if x.Kind == cut.KindLength && bare(v) && a.Units == units.Imperial {
				v += "in"
			}
			set[x.ID] = v
		}
	}
	return set
}

// Measures are those of a piece that the address says.
func (a Ask) Measures(k *Site, p *advise.Piece) map[string]string {
	s := k.Shape(p)
	if s == nil {
		return nil
	}
	return a.measures(s)
}

// length reads a length of the address; what cannot be read, or lies outside
// the limits, is told and leaves the one that is usual.
func (a Ask) length(key string, t *FieldErrors, limits units.Range[units.Length], usual units.Length) units.Length {
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
