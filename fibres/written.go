package fibres

import (
	"encoding/base64"
	"encoding/binary"
	"math"
)

// What a name alone tells of each property is worked out when the data files are
// compiled in: a ranking that asks hundreds of names for their figures then reads
// them. How a figure came about is told by [Catalogue.Estimate] alone.

// How a figure is written down.
const (
	figureKnown = 1 << iota
	figureGraded
	figureDerived
)

// figure is what of a property was written down.
type figure struct {
	low, typical, high float64
	mark               byte
}

// estimate is the figure as an estimate, of which nobody reads more than its figures,
// whether it is known, derived and graded.
func (f figure) estimate() Estimate {
	e := Estimate{Low: f.low, Typical: f.typical, High: f.high, Basis: Unknown}
	if f.mark&figureKnown != 0 {
		e.Basis = Practice
	}
	if f.mark&figureDerived != 0 {
		e.Basis = Derived
	}
	if f.mark&figureGraded != 0 {
		e.Words = []string{}
	}
	return e
}

// readFigures reads what was written of all properties.
func readFigures(s string) (out [NumProperties]figure) {
	b, err := base64.RawStdEncoding.DecodeString(s)
	if err != nil {
		panic("the compiled figures: " + err.Error()) // a slip of ours, which a test would meet first
	}
	for p := range out {
		f := &out[p]
		f.mark, b = b[0], b[1:]
		if f.mark&figureKnown == 0 {
			continue
		}
		for _, v := range [...]*float64{&f.low, &f.typical, &f.high} {
			if f.mark&figureGraded != 0 {
				*v, b = float64(b[0]), b[1:]
			} else {
				*v, b = math.Float64frombits(binary.LittleEndian.Uint64(b)), b[8:]
			}
		}
	}
	return out
}

// figures are those of [Catalogue.Estimate], and little else of it.
func (o *Sample) figures(p Property) Estimate {
	if o.written != nil && o.cat.asWritten(p) {
		return o.written[p].estimate()
	}
	return o.cat.Estimate(o.subject, p)
}

// Typical is the typical figure of a property, as [Catalogue.Estimate] has it, but told
// without how it came about; false where it is not known.
func (o *Sample) Typical(p Property) (float64, bool) {
	e := o.figures(p)
	return e.Typical, e.Known()
}

// Spans are the least low and the most high end that any cloth of the catalogue has of
// each property; of one that is known of none, +Inf and -Inf.
func (c *Catalogue) Spans() (out [NumProperties][2]float64) {
	for p := range out {
		out[p] = [2]float64{math.Inf(1), math.Inf(-1)}
	}
	for _, cloth := range c.ClothList() {
		o := Sample{cat: c, subject: Subject{Cloth: cloth}}
		o.written = c.writtenOf(o.subject)
		for p := range NumProperties {
			if e := o.figures(p); e.Known() {
				out[p] = [2]float64{math.Min(out[p][0], e.Low), math.Max(out[p][1], e.High)}
			}
		}
	}
	return out
}

// writtenOf are the figures that were worked out beforehand; nil of a subject of which
// more is known than its name.
func (c *Catalogue) writtenOf(s Subject) *[NumProperties]figure {
	w, ok := c.written[s.Cloth]
	if !ok || len(s.Known) > 0 || s.Content != nil {
		return nil
	}
	f := readFigures(w)
	return &f
}

// asWritten reports whether what the user's swatches teach leaves a property of every
// name as it was: they move what they are about, and what is derived from that.
func (c *Catalogue) asWritten(p Property) bool {
	info := Properties[p]
	switch {
	case len(c.learned) == 0:
		return true
	case c.learned[p] != nil:
		return false
	}
	switch info.Derive {
	case FromFibres:
		return info.ByMass == [2]float64{}
	case FromStructure:
		return p != ShowThrough && p != Wind
	case FromTenderest, FromShrinkage:
		return true
	}
	return false
}
