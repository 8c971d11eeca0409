package fibres

import (
	"math"
	"math/rand/v2"
	"sync"
)

// N is the size of the sample that a population is carried through the
// mechanics as.
const N = 256

// Sample is a population of cloths sold under one name: for each property
// either nothing (unknown), one value that all share, or one for each of the N
// members. Member i of one property belongs to member i of the others.
type Sample struct {
	Values [NumProperties][]float64
	From   [NumProperties]Estimate
}

// Salt parts the samples of several layers in one make-up, so that a stiff
// member of the shell meets every kind of lining.
type Salt int

// The layers of a make-up.
const (
	ShellSalt Salt = iota
	LiningSalt
	InterfacingSalt
	salts
)

// strata are N points of a Latin hypercube for each layer and property, as
// standard normal scores and as parts of one: every marginal is evenly
// stratified, and the order is fixed, so that answers are reproducible.
type strata struct{ u, z [N]float64 }

var points = sync.OnceValue(func() *[salts][NumProperties]strata {
	var p [salts][NumProperties]strata
	base := strata{}
	for i := range N {
		base.u[i] = (float64(i) + 0.5) / N
		base.z[i] = normalQuantile(base.u[i])
	}
	for s := range salts {
		for k := range NumProperties {
			r := rand.New(rand.NewPCG(uint64(s)+17, uint64(k)+1))
			for i, j := range r.Perm(N) {
				p[s][k].u[i], p[s][k].z[i] = base.u[j], base.z[j]
			}
		}
	}
	return &p
})

// Sample draws the population of a subject. The overall bending length, its
// directions, mass and thickness are drawn jointly; graded properties follow
// the levels' weights; what is unknown stays nil.
func (c *Catalogue) Sample(s Subject, salt Salt) *Sample {
	out := &Sample{}
	pts := &points()[salt]
	for p := range NumProperties {
		if p == BendingLengthWarp || p == BendingLengthWeft || p == BendingLengthBias || p == Hand || p == Thickness {
			continue
		}
		out.From[p] = c.Estimate(s, p)
		out.draw(p, &pts[p])
	}
	// Directions scatter round the overall figure of the same member.
	for _, d := range []struct {
		p      Property
		factor float64
		sd     float64
	}{{BendingLengthWarp, warpPart, directionSD}, {BendingLengthWeft, 1 / warpPart, directionSD}, {BendingLengthBias, 1, biasSD}} {
		out.From[d.p] = c.Estimate(s, d.p)
		if own := out.From[d.p]; own.Known() && own.Basis != Derived {
			out.draw(d.p, &pts[d.p])
			continue
		}
		c0 := out.Values[BendingLength]
		if c0 == nil {
			continue
		}
		factor := d.factor
		if own, o := out.From[d.p], out.From[BendingLength]; own.Known() && own.Basis == Derived && o.Typical > 0 {
			factor = own.Typical / o.Typical
		}
		v := make([]float64, N)
		for i := range v {
			sign := 1.0
			z := pts[BendingLengthWarp].z[i]
			if d.p == BendingLengthWeft { // what one direction gains the other loses
				sign = -1
			}
			if d.p == BendingLengthBias {
				z = pts[BendingLengthBias].z[i]
			}
			v[i] = at(c0, i) * factor * math.Exp(sign*z*d.sd)
		}
		out.Values[d.p] = v
	}
	// Thickness follows the mass of the same member.
	out.From[Thickness] = c.Estimate(s, Thickness)
	if t := out.From[Thickness]; t.Known() && t.Basis == Derived && out.Values[Mass] != nil && t.Low > 0 {
		m := out.From[Mass]
		rest := math.Sqrt(math.Max(0, sdOf(t)*sdOf(t)-sdOf(m)*sdOf(m)))
		v := make([]float64, N)
		for i := range v {
			v[i] = t.Typical * at(out.Values[Mass], i) / m.Typical * math.Exp(rest*pts[Thickness].z[i])
		}
		out.Values[Thickness] = v
	} else {
		out.draw(Thickness, &pts[Thickness])
	}
	out.From[Hand] = c.Estimate(s, Hand)
	if _, said := s.Known[Hand]; said {
		out.draw(Hand, &pts[Hand])
	} else if b := out.Values[BendingLength]; b != nil {
		v := make([]float64, len(b))
		for i := range v {
			v[i] = bandOf(b[i])
		}
		out.Values[Hand] = v
	}
	c.correlate(out, pts)
	return out
}

// draw fills one property from its estimate.
func (o *Sample) draw(p Property, pts *strata) {
	e := o.From[p]
	switch {
	case !e.Known():
		return
	case e.Low == e.High:
		o.Values[p] = []float64{e.Typical}
		return
	}
	v := make([]float64, N)
	for i := range v {
		if e.Words != nil {
			v[i] = math.Round(e.linear(pts.u[i]))
		} else {
			v[i] = e.quantileZ(pts.z[i])
		}
	}
	if lo, hi := Properties[p].Low, Properties[p].High; e.Words == nil && hi > lo {
		for i := range v {
			v[i] = math.Max(lo, math.Min(hi, v[i]))
		}
	}
	o.Values[p] = v
}

// correlate re-draws the properties that go with mass inside a population, so
// that its heavy members are the opaque ones.
func (c *Catalogue) correlate(o *Sample, pts *[NumProperties]strata) {
	m := o.From[Mass]
	if len(o.Values[Mass]) != N {
		return
	}
	for _, p := range []Property{ShowThrough} {
		e, r := o.From[p], massCorrelation(p)
		if len(o.Values[p]) != N {
			continue
		}
		for i := range N {
			z := r*m.z(o.Values[Mass][i]) + math.Sqrt(1-r*r)*pts[p].z[i]
			o.Values[p][i] = math.Round(e.linear(normalCDF(z)))
		}
	}
}

// at reads member i of a column that may hold one shared value.
func at(v []float64, i int) float64 {
	if len(v) == 1 {
		return v[0]
	}
	return v[i]
}

// At returns the value of a property for member i; ok is false where nothing
// is known.
func (o *Sample) At(p Property, i int) (v float64, ok bool) {
	if o.Values[p] == nil {
		return 0, false
	}
	return at(o.Values[p], i), true
}
