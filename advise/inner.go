package advise

import (
	"math"
	"slices"

	"tenter/advise/cut"
	"tenter/advise/rules"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/hang"
	"tenter/fibres/units"
)

// Inner is a layer of a make-up beyond its shell, lining and interfacing: an underlining
// beside an interlining, a second lining.
type Inner struct {
	cut.LayerWish
	Of *fibres.Subject
}

// InnerIDs is such a layer in an answer.
type InnerIDs struct {
	Layer string `json:"layer"`
	Cloth string `json:"cloth"`
}

// underlining is what a layer is called that is mounted on the shell and worked as one
// with it.
const underlining = "underlining"

// AddInner puts a further layer to the make-up.
func (m *MakeUp) AddInner(w cut.LayerWish, of *fibres.Subject) error {
	taken := w.Name == "shell" || w.Name == "lining" || w.Name == "interfacing" || m.Interfacing != nil && m.Interfacing.Role == w.Name
	if taken || m.HasInner(w.Name) {
		return &fault.Fault{Kind: fault.WrongCall, What: "there is a layer \"" + w.Name + "\" already", Expected: "a name for each layer", Mend: `call it "second ` + w.Name + `"`}
	}
	m.Inner = append(m.Inner[:len(m.Inner):len(m.Inner)], Inner{w, of})
	return nil
}

// HasInner reports whether there is a further layer of that name.
func (m MakeUp) HasInner(name string) bool {
	return slices.ContainsFunc(m.Inner, func(x Inner) bool { return x.Name == name })
}

// mounted reports whether a layer is mounted on the shell.
func (m MakeUp) mounted() bool {
	return m.HasInner(underlining) || m.Interfacing != nil && m.Interfacing.Role == underlining
}

// subjects are the cloths of all layers.
func (m MakeUp) subjects() (out []*fibres.Subject) {
	for _, s := range []*fibres.Subject{m.Shell, m.Lining} {
		if s != nil {
			out = append(out, s)
		}
	}
	for _, x := range m.Inner {
		out = append(out, x.Of)
	}
	return out
}

// stackInner is the bending length with the further layers lying loose in the make-up:
// they add their rigidity and their mass.
func (a *Adviser) stackInner(m MakeUp, bend []float64, sh, li *fibres.Sample, ns, nl int) []float64 {
	if len(m.Inner) == 0 {
		return bend
	}
	mass := times(sh.Of(fibres.Mass), ns)
	if nl > 0 {
		mass = sum(mass, li.Of(fibres.Mass))
	}
	for _, x := range m.Inner {
		s := a.sample(x.Of, fibres.InterfacingSalt)
		l, d, at := s.Of(fibres.Mass), s.Of(fibres.BendingLength), mass
		bend = loose(at, bend, l, d)
		mass = sum(mass, l)
	}
	return bend
}

// composeInner adds what the further layers bring: mass, thickness, warmth, what they
// hide; and the tenderest of all layers decides the iron and the wash. An underlining is
// worked as one with the shell: the stronger of them takes the wear, the firmer the pull.
func (a *Adviser) composeInner(w *composite, m MakeUp) {
	for _, x := range m.Inner {
		v := a.sample(x.Of, fibres.InterfacingSalt)
		pair := func(p fibres.Property, have []float64, f func(x, y float64) float64) []float64 {
			y := v.Of(p)
			return each(func(i int) float64 { return f(value(have, i), value(y, i)) }, have, y)
		}
		w.mass, w.thick, w.warm = sum(w.mass, v.Of(fibres.Mass)), sum(w.thick, v.Of(fibres.Thickness)), sum(w.warm, v.Of(fibres.Warmth))
		w.press, w.wash = pair(fibres.PressingLimit, w.press, math.Min), pair(fibres.Wash, w.wash, math.Min)
		w.show, w.flame = pair(fibres.ShowThrough, w.show, through), pair(fibres.Flame, w.flame, math.Max)
		if x.Name == underlining {
			o := &w.outer
			o.bend = loose(o.mass, o.bend, v.Of(fibres.Mass), v.Of(fibres.BendingLength))
			o.mass, o.thick = sum(o.mass, v.Of(fibres.Mass)), sum(o.thick, v.Of(fibres.Thickness))
			w.wear, w.stretch = pair(fibres.Wear, w.wear, math.Max), pair(fibres.Stretch, w.stretch, math.Min)
			w.seam, w.edge = underNeedle(m.Seam, o.thick), underNeedle(m.Edge, o.thick)
		}
	}
}

// jobOfInner is the job of a further layer of a make-up: that of an underlining, which a
// lining may have too, or of an interlining; nil of any other. Under a shell that is boned
// and laced an underlining takes the pull.
func (a *Adviser) jobOfInner(m MakeUp, x Inner) *Job {
	job := x.Name
	if x.Name == underlining {
		job = "hold-shape"
		if p := m.Piece; p != nil && p.Group == "bodice" && slices.Contains(p.Features, "load") {
			job = "foundation"
		}
	}
	for _, j := range a.Jobs {
		if j.ID == job {
			return j
		}
	}
	return nil
}

// meetInner asks of each further layer what its job asks, as it would be asked of it in
// the lining's place.
func (a *Adviser) meetInner(j *judged, grave *faults, met *[fibres.N]float64) {
	for _, x := range j.make.Inner {
		job := a.jobOfInner(j.make, x)
		if job == nil {
			continue
		}
		m := j.make
		m.Inner, m.Lining, m.Job = nil, x.Of, job
		c := a.caseOf(m)
		for _, d := range pointers(job.Demands) {
			k := asked{demand: d}
			if !k.stands(c, nil, true) {
				continue
			}
			if col := c.Column(d.fact); col.State == rules.Known {
				k.known, k.column = true, col.Num
				k.meet(grave.of(d, met))
			}
			j.asked = append(j.asked, k)
		}
	}
}

// loose is the bending length of two layers that lie free upon each other.
func loose(mass, bend, mass2, bend2 []float64) []float64 {
	layer := func(m, c []float64, i int) hang.Layer {
		return hang.Layer{Mass: units.ArealMass(value(m, i)), BendingLength: units.Length(value(c, i))}
	}
	return each(func(i int) float64 {
		return float64(hang.StackFree(layer(mass, bend, i), layer(mass2, bend2, i)).BendingLength)
	}, mass, bend, mass2, bend2)
}

// sum is the sum of two columns.
func sum(x, y []float64) []float64 {
	return each(func(i int) float64 { return value(x, i) + value(y, i) }, x, y)
}
