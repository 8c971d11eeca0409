package sheet

import (
	"fmt"
	"strings"

	"tenter/advise"
	"tenter/advise/cut"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// The keys of an address that say how it is cut; each is called as the flag of
// the command. A measure of the piece's shape has its own name behind KeySet.
const (
	KeyWidth, KeyLiningWidth               = "width", "lining-width"
	KeyPrice, KeyLiningPrice               = "price", "lining-price"
	KeyAllowance, KeySelvedge              = "allowance", "selvedge"
	KeyPrewashed, KeyFold                  = "prewashed", "fold"
	KeyOneWay, KeyJoin                     = "one-way", "join"
	KeySet                                 = "set-"
	yes                                    = "yes"
	usualSeam                 units.Length = 1.2 // what a seam takes of which nothing is said (common practice)
)

// Plan works out the cut sizes and what to buy for the make-up of the address.
// A piece and a shell are required.
func (a Ask) Plan(k *Kit, m advise.MakeUp) (cut.Answer, Troubles, error) {
	var t Troubles
	if m.Piece == nil || m.Shell == nil {
		return cut.Answer{}, nil, &fault.Fault{Kind: fault.WrongCall, What: "there is nothing to cut", Expected: "a piece and a cloth"}
	}
	job := cut.Job{Allowance: usualSeam}
	if m.Finish != nil {
		job.Allowance = max(usualSeam, m.Finish.Allowance)
		if m.Finish.Allowance < usualSeam {
			job.Hem, job.Edge = &m.Finish.Allowance, &m.Finish.Allowance
		}
	}
	if a.Get(KeyAllowance) != "" {
		job.Allowance, job.Hem, job.Edge = a.length(KeyAllowance, &t, units.Range[units.Length]{High: 50}, job.Allowance), nil, nil
	}
	a.parts(k, m.Piece, &job, &t)
	layer := func(name string, s *fibres.Subject, salt fibres.Salt, width, cost string) {
		if s == nil {
			return
		}
		l := cut.NewLayer(k.Adv.Cat, name, *s, salt)
		l.Prewashed, l.Folded, l.Join = a.Get(KeyPrewashed) == yes, a.Get(KeyFold) == yes, a.Get(KeyJoin) == yes
		l.OneWay = l.OneWay || a.Get(KeyOneWay) == yes
		l.Selvedge = a.length(KeySelvedge, &t, units.Range[units.Length]{High: 20}, 0)
		if a.Get(width) != "" {
			if w := a.length(width, &t, units.Range[units.Length]{Low: 5, High: 1500}, 0); w > 0 {
				l.SetWidth(units.Range[units.Length]{Low: w, High: w})
			}
		}
		if said := a.Get(cost); said != "" {
			if p, err := ParsePrice(said, a.Units); err != nil {
				t.Add(cost, said, err)
			} else {
				l.Price = &p
			}
		}
		job.Layers = append(job.Layers, l)
	}
	layer("shell", m.Shell, fibres.ShellSalt, KeyWidth, KeyPrice)
	if m.Finish == nil || m.Finish.Lined {
		layer("lining", m.Lining, fibres.LiningSalt, KeyLiningWidth, KeyLiningPrice)
	}
	if x := m.Interfacing; x != nil {
		l := cut.Layer{Name: "interfacing", Cloth: x.Name, Width: cut.InterfacingWidth}
		if x.Attach != "sew" {
			l.Allowance = new(units.Length)
		}
		for _, p := range job.Parts {
			if p.ShellOnly {
				l.Only = append(l.Only, p.Name)
			}
		}
		if len(l.Only) > 0 {
			job.Layers = append(job.Layers, l)
		}
	}
	type planned struct {
		ans cut.Answer
		err error
	}
	done := Remember(k, "plan "+a.planKey(), func() planned {
		ans, err := cut.Plan(job)
		return planned{ans, err}
	})
	ans, err := done.ans, done.err
	if err != nil {
		return ans, t, err
	}
	ans.MakeUp = advise.Said(m)
	s := cut.Sewing{Stitch: "301"}
	s.Length, s.Tex, s.Thickness = k.Adv.SewingOf(m)
	if len(job.Joins) > 0 && s.Tex > 0 {
		if thread, err := cut.PlanThread(job.Joins, s); err == nil {
			ans.Thread = &thread
		}
	}
	return ans, t, nil
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

var cutKeys = []string{KeyWidth, KeyLiningWidth, KeyPrice, KeyLiningPrice, KeyAllowance, KeySelvedge, KeyPrewashed, KeyFold, KeyOneWay, KeyJoin}

// parts draws the piece by its shape and the measures that are said, or takes
// its parts as they are.
func (a Ask) parts(k *Kit, p *advise.Piece, job *cut.Job, t *Troubles) {
	if s := k.Shape(p); s != nil {
		set := map[string]string{}
		for _, x := range s.Parameters {
			if v := a.Get(KeySet + x.ID); v != "" {
				if x.Kind == cut.KindLength && bare(v) && a.Units == units.Imperial {
					v += "in"
				}
				set[x.ID] = v
			}
		}
		d, err := s.Draw(set)
		if err == nil {
			job.Parts, job.Joins = d.Parts, d.Joins
			return
		}
		for _, f := range fault.All(err) {
			t.Add(KeySet+f.Where, "", f)
		}
		if d, err = s.Draw(nil); err == nil {
			job.Parts, job.Joins = d.Parts, d.Joins
			return
		}
	}
	job.Parts, job.Joins = p.CutParts(), p.CutJoins()
}

// length reads a length of the address; what cannot be read, or lies outside
// the limits, is told and leaves the one that is usual.
func (a Ask) length(key string, t *Troubles, limits units.Range[units.Length], usual units.Length) units.Length {
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
