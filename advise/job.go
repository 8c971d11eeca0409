package advise

import (
	"fmt"
	"math"
	"sync"

	"tenter/advise/cut"
	"tenter/fibres"
	"tenter/fibres/units"
)

// usualSeam is the allowance of a seam that nothing is said of (common practice).
const usualSeam units.Length = 1.2

// usualBinding is what a binding shows on each side where nothing is said of it
// (common practice).
const usualBinding units.Length = 0.8

// CutJob is what a make-up asks to be cut before anybody says more: its parts and
// seams, its allowances, a layer for each cloth, how it is sewn and bound. The
// caller lays the wishes of a flag or a form over it and hands it to [cut.Plan].
func (a *Adviser) CutJob(m MakeUp) cut.Job {
	job := cut.Job{Allowance: usualSeam}
	job.Parts, job.Joins = a.Drafted(m.Piece)
	if f := m.Finish; f != nil {
		job.Allowance = max(usualSeam, f.Allowance)
		if f.Allowance < usualSeam { // the finish says what its edges take
			job.Hem, job.Edge = &f.Allowance, &f.Allowance
		}
		if turned := f.turnedIn(); turned > job.Allowance {
			job.Hem, job.Edge = &turned, &turned
		}
		if f.Edge == "bound" {
			job.Binding = &cut.BindingWish{Shows: usualBinding}
		}
	}
	if m.Shell != nil {
		job.Layers = append(job.Layers, cut.NewLayer(a.Cat, "shell", *m.Shell, fibres.ShellSalt))
	}
	switch {
	case m.Lining == nil:
	case m.Finish == nil || m.Finish.Lined:
		job.Layers = append(job.Layers, cut.NewLayer(a.Cat, "lining", *m.Lining, fibres.LiningSalt))
	default:
		job.Notes = append(job.Notes, fmt.Sprintf("A %s has no lining: nothing is cut from %s.", m.Finish.Name, m.Lining.Label()))
	}
	if m.Interfacing != nil {
		if l := InterfacingLayer(m.Interfacing, job.Parts); len(l.Only) > 0 {
			job.Layers = append(job.Layers, l)
		}
	}
	for _, x := range m.Inner {
		job.Layers = append(job.Layers, x.Layer(a.Cat, *x.Of))
	}
	if m.Wished(dryCleaned) {
		job.Care = cut.DryCleaned
	}
	job.Sewing = a.sewing(m)
	return job
}

// turnedIn is how much cloth a hem takes: its strip, as often as the edge is folded in
// over what lies there already; 0 where the edge is no hem. Twice 20 mm are 40 mm.
func (f *Finish) turnedIn() units.Length {
	if f.Edge != "hemmed" && f.Edge != "rolled" {
		return 0
	}
	return f.StripWidth * units.Length(max(0, f.StripLayers-f.Layers))
}

// Drafted are the parts and seams of a piece: drawn by its shape where it has one.
func (a *Adviser) Drafted(p *Piece) ([]cut.Part, []cut.Join) {
	if p == nil {
		return nil, nil
	}
	if s, err := a.Shapes(); err == nil {
		if x := s.Of(p); x != nil {
			if d, err := x.Draw(nil); err == nil {
				return d.Parts, d.Joins
			}
		}
	}
	return p.CutParts(), p.CutJoins()
}

// drafts keeps the shapes that pieces are drawn by, read when first asked for.
type drafts struct {
	once sync.Once
	all  *Shapes
	err  error
}

// Shapes are the shapes that pieces are drawn by.
func (a *Adviser) Shapes() (*Shapes, error) {
	a.drafts.once.Do(func() { a.drafts.all, a.drafts.err = LoadShapes(a.files, a.Cat, a.PieceNames) })
	return a.drafts.all, a.drafts.err
}

// InterfacingLayer is the layer of an interfacing: bands, facings and collars of a
// plain one, all parts of an underlining or interlining. What is fused takes no
// allowance. Where none of the parts is cut from it, its Only is empty.
func InterfacingLayer(x *Interfacing, parts []cut.Part) cut.Layer {
	l := cut.Layer{Name: "interfacing", Cloth: x.Name, Width: cut.InterfacingWidth}
	if x.Attach != "sew" {
		l.Allowance = new(units.Length)
	}
	full := x.Role == "underlining" || x.Role == "interlining"
	if full {
		l.Name = x.Role
	}
	for _, p := range parts {
		if p.ShellOnly != full {
			l.Only = append(l.Only, p.Name)
		}
	}
	return l
}

// sewing is how the seams of a make-up are sewn: the stitches of seam and edge, the
// stitch length and thread for the mass of its layers, what the needle goes through
// in a seam of two edges, and how many layers are put together by themselves. The
// thread is not known where the mass is not.
func (a *Adviser) sewing(m MakeUp) cut.Sewing {
	s := cut.Sewing{Stitch: stitchOf(m.Seam), Edge: stitchOf(m.Edge), Apart: 1}
	mass, apart := 0.0, 0
	for _, x := range []*fibres.Subject{m.Shell, m.Lining} {
		if x == nil {
			continue
		}
		apart++
		if e := a.Cat.Estimate(*x, fibres.Mass); e.Known() {
			mass = math.Max(mass, e.Typical)
		}
		if e := a.Cat.Estimate(*x, fibres.Thickness); e.Known() {
			s.Thickness += units.Length(e.Typical) * units.Millimetre
		}
	}
	for _, x := range m.Inner {
		if e := a.Cat.Estimate(*x.Of, fibres.Thickness); x.Name == underlining && e.Known() { // it is sewn into the seams
			s.Thickness += units.Length(e.Typical) * units.Millimetre
		}
	}
	if apart < 2 {
		s.Thickness *= 2
	}
	if f := m.Finish; apart == 2 && (f == nil || f.Lined && f.Joined != "fused" && f.Joined != "quilted") {
		s.Apart = 2
	}
	if n := a.needleRow(mass); n != nil {
		s.Length, s.Tex = units.Length(n.StitchLow+n.StitchHigh)/2*units.Millimetre, (n.ThreadLow+n.ThreadHigh)/2
	}
	return s
}

// needleRow is the row of the needle table for the mass of the heaviest layer; nil
// where that is not known.
func (a *Adviser) needleRow(mass float64) *Needle {
	if mass <= 0 {
		return nil
	}
	for i := range a.Needles {
		if n := &a.Needles[i]; mass >= n.MassLow && mass < n.MassHigh {
			return n
		}
	}
	if n := len(a.Needles); n > 0 && mass >= a.Needles[n-1].MassLow {
		return &a.Needles[n-1]
	}
	return nil
}

// stitchOf is the stitch that a seam or edge is sewn with, of those whose thread
// can be worked out; a lockstitch where it is another or not said.
func stitchOf(s *Seam) cut.Stitch {
	if s != nil {
		for _, w := range stitchNumber().FindAllString(s.Stitch, -1) {
			if _, _, err := cut.ThreadFromRatio(cut.Stitch(w)); err == nil {
				return cut.Stitch(w)
			}
		}
	}
	return cut.Lockstitch
}
