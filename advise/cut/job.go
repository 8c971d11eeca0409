package cut

import (
	"fmt"
	"math"
	"slices"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/prose"
	"tenter/fibres/units"
)

// Job is what is to be cut, from which layers, and how it is sewn.
type Job struct {
	Parts     []Part
	Layers    []Layer
	Allowance units.Length   // of seams, and of all edges that nothing else is said of
	Hem       *units.Length  // of hems
	Edge      *units.Length  // of free edges: bound, rolled or left raw
	Joins     []Join         // the seams of the piece; nil takes the edges of its parts
	Care      Treatment      // what the piece goes through; "" is a wash, where its cloths stand one
	Widths    []units.Length // other widths to lay it out in
	// CommonWidths lays cloth of which no width is said out in those it is commonly sold in
	// as well, where no others are named.
	CommonWidths bool
	Sewing       Sewing       // how the seams are sewn; no thread is worked out without its Tex
	Binding      *BindingWish // nil is none
	Notes        []string     // what the maker of the job has to say of it
	Units        units.System // that its sentences are written in; figures of the answer are in cm

	effort effort // none is the usual one
}

// BindingWish is a bias binding that is wanted.
type BindingWish struct {
	Shows   units.Length // on each side of the edge
	Double  bool
	Edges   []string       // the names of the edges that are bound; empty is all
	Stretch units.Fraction // of a bias strip; 0 is what firm cloth does
}

// treat sets what the layers lose in what the piece goes through.
func (j *Job) treat() (notes []string) {
	as := j.Care
	if as == "" {
		as = Washed
		if i := slices.IndexFunc(j.Layers, Layer.NotWashed); i >= 0 {
			as = DryCleaned
			notes = append(notes, fmt.Sprintf("%s is not washed, so the piece is not either. The sizes allow for dry-cleaning and steam.", prose.Upper(j.Layers[i].Cloth)))
		}
	}
	j.Layers = slices.Clone(j.Layers)
	for i := range j.Layers {
		if l := &j.Layers[i]; l.Treatment == "" && l.Name != "interfacing" {
			l.Treat(as)
		}
	}
	return notes
}

// allowances are what is left outside the seam line on a layer, in cm.
func (j Job) allowances(l *Layer) allowances {
	a := float64(j.Allowance)
	if l != nil && l.Allowance != nil {
		a = float64(*l.Allowance)
		return allowances{a, a, a}
	}
	out := allowances{a, a, a}
	if j.Hem != nil {
		out.hem = float64(*j.Hem)
	}
	if j.Edge != nil {
		out.edge = float64(*j.Edge)
	}
	return out
}

func (j Job) layer(name string) *Layer {
	for i := range j.Layers {
		if j.Layers[i].Name == name {
			return &j.Layers[i]
		}
	}
	return nil
}

func (j Job) check() error {
	var found fault.List
	if len(j.Parts) == 0 {
		return &fault.Fault{Kind: fault.WrongCall, What: "there are no parts to cut", Expected: "a piece, or parts with their sizes", Mend: `name a piece, or give --part "wrap 150cm x 75cm x1"`}
	}
	n := 0
	for _, p := range j.Parts {
		found.Add(p.Check())
		n += p.Count
	}
	if n > maxParts {
		found.Add(&fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("there are %d parts", n), Expected: fmt.Sprintf("at most %d", maxParts), Mend: "plan them in lots"})
	}
	for _, a := range []*units.Length{&j.Allowance, j.Hem, j.Edge} {
		if a != nil {
			found.Add(allowanceFault(*a))
		}
	}
	return found.OrNil()
}

// joins are the seams of the job. Where nobody has said any, they are the edges of
// its parts by what is known of each, and guessed is true.
func (j Job) joins() (joins []Join, guessed bool) {
	if len(j.Joins) > 0 {
		return j.Joins, false
	}
	for _, p := range j.Parts {
		joins = append(joins, p.edges()...)
	}
	return joins, true
}

// edges are the hems, seams and free edges of all copies of a part. Where nothing
// is known of any of them, all are free edges.
func (p Part) edges() (out []Join) {
	o := p.outline()
	known := slices.ContainsFunc(o.Sides, func(s Side) bool { return s.Role != Seam && s.Role != "" })
	for i, s := range o.Sides {
		role, name := s.Role, p.Name+" edge"
		if !known {
			role = FreeEdge
		}
		switch role {
		case Fold:
			continue
		case Seam:
			name = p.Name + " seam"
		case Hem:
			name = p.Name + " hem"
		default:
			role = FreeEdge
		}
		k := slices.IndexFunc(out, func(x Join) bool { return x.Name == name })
		if k < 0 {
			k = len(out)
			out = append(out, Join{Name: name, Kind: role})
		}
		out[k].Length += o.Length(i) * float64(p.Count)
		if r := o.radius(i); !math.IsInf(r, 1) && (out[k].Radius == 0 || r < out[k].Radius) {
			out[k].Radius = r
		}
	}
	return out
}

// Loss is a layer by what it loses: the estimates and, for the gap, each member
// of the population, in per cent.
type Loss struct{ Warp, Weft []float64 }

// Loss is what the layer still loses; nothing is known of a nil column.
func (l Layer) Loss() Loss {
	if l.Prewashed {
		return Loss{[]float64{0}, []float64{0}}
	}
	return Loss{l.warp, l.weft}
}

// CareOf is what a piece of these layers goes through: a wash, unless one of them
// does not stand it.
func CareOf(layers ...Layer) Treatment {
	if slices.ContainsFunc(layers, Layer.NotWashed) {
		return DryCleaned
	}
	return Washed
}

// typical is the middle of an estimate in per cent as a part of one; 0 where it
// is not known.
func typical(e fibres.Estimate) float64 {
	if !e.Known() {
		return 0
	}
	return e.Typical / 100
}
