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

// strata are N points of a Latin hypercube for one layer and property: every
// marginal is evenly stratified, and the order is fixed, so that answers are
// reproducible. Kept is the order alone; the points are the same for all.
type strata struct{ order [N]uint8 }

// even are the points in rising order, as parts of one and as standard normal
// scores.
var even = sync.OnceValue(func() *struct{ u, z [N]float64 } {
	var p struct{ u, z [N]float64 }
	for i := range N {
		p.u[i] = (float64(i) + 0.5) / N
		p.z[i] = normalQuantile(p.u[i])
	}
	return &p
})

// score is the standard normal score of member i.
func (s *strata) score(i int) float64 { return even().z[s.order[i]] }

// part is the score as a part of one.
func (s *strata) part(i int) float64 { return even().u[s.order[i]] }

// layers are the strata of each layer, made when the layer is first drawn.
var layers [salts]struct {
	once sync.Once
	of   [NumProperties]strata
}

func points(salt Salt) *[NumProperties]strata {
	l := &layers[salt]
	l.once.Do(func() {
		for k := range NumProperties {
			order := &l.of[k].order
			for i := range order {
				order[i] = uint8(i)
			}
			r := rand.New(rand.NewPCG(uint64(salt)+17, uint64(k)+1))
			r.Shuffle(N, func(i, j int) { order[i], order[j] = order[j], order[i] })
		}
	})
	return &l.of
}

// Sample draws the population of a subject. The overall bending length, its
// directions, mass and thickness are drawn jointly; graded properties follow
// the levels' weights; what is unknown stays nil.
func (c *Catalogue) Sample(s Subject, salt Salt) *Sample {
	if len(s.May) > 0 {
		return c.pool(s, salt)
	}
	out := &Sample{}
	pts := points(salt)
	for p := range NumProperties {
		if p == BendingLengthWarp || p == BendingLengthWeft || p == BendingLengthBias || p == Hand || p == Thickness {
			continue
		}
		out.From[p] = c.Estimate(s, p)
		out.draw(p, &pts[p])
	}
	c.drawDirections(out, s, pts)
	c.drawThickness(out, s, pts)
	c.drawHand(out, s, pts)
	c.correlate(out, pts)
	return out
}

// drawDirections draws the bending lengths of warp, weft and bias: they scatter round
// the overall figure of the same member.
func (c *Catalogue) drawDirections(out *Sample, s Subject, pts *[NumProperties]strata) {
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
			z := pts[BendingLengthWarp].score(i)
			if d.p == BendingLengthWeft { // what one direction gains the other loses
				sign = -1
			}
			if d.p == BendingLengthBias {
				z = pts[BendingLengthBias].score(i)
			}
			v[i] = at(c0, i) * factor * math.Exp(sign*z*d.sd)
		}
		out.Values[d.p] = v
	}
}

// drawThickness draws the thickness, which follows the mass of the same member.
func (c *Catalogue) drawThickness(out *Sample, s Subject, pts *[NumProperties]strata) {
	out.From[Thickness] = c.Estimate(s, Thickness)
	if t := out.From[Thickness]; t.Known() && t.Basis == Derived && out.Values[Mass] != nil && t.Low > 0 {
		m := out.From[Mass]
		rest := math.Sqrt(math.Max(0, sdOf(t)*sdOf(t)-sdOf(m)*sdOf(m)))
		v := make([]float64, N)
		for i := range v {
			v[i] = t.Typical * at(out.Values[Mass], i) / m.Typical * math.Exp(rest*pts[Thickness].score(i))
		}
		out.Values[Thickness] = v
	} else {
		out.draw(Thickness, &pts[Thickness])
	}
}

// drawHand draws the hand, the band of bending length unless the user said it.
func (c *Catalogue) drawHand(out *Sample, s Subject, pts *[NumProperties]strata) {
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
			v[i] = math.Round(e.linear(pts.part(i)))
		} else {
			v[i] = e.quantileZ(pts.score(i))
		}
	}
	if lo, hi := Properties[p].Low, Properties[p].High; e.Words == nil && hi > lo {
		for i := range v {
			v[i] = math.Max(lo, math.Min(hi, v[i]))
		}
	}
	o.Values[p] = v
}

// followers are the graded properties that go with mass.
var followers = Having(func(i *PropertyInfo) bool { return i.Follows != 0 && i.Scale != nil })

// correlate re-draws the properties that go with mass inside a population, so
// that its heavy members are the opaque ones.
func (c *Catalogue) correlate(o *Sample, pts *[NumProperties]strata) {
	m := o.From[Mass]
	if len(o.Values[Mass]) != N {
		return
	}
	for _, p := range followers {
		e, r := o.From[p], Properties[p].Follows
		if len(o.Values[p]) != N || e.Words == nil {
			continue
		}
		for i := range N {
			z := r*m.z(o.Values[Mass][i]) + math.Sqrt(1-r*r)*pts[p].score(i)
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
