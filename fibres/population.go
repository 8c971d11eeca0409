package fibres

import (
	"math"
	"math/rand/v2"
	"slices"
	"sync"

	"tenter/fibres/memo"
)

// N is the size of the sample that a population is carried through the
// mechanics as.
const N = 256

// Sample is a population of cloths sold under one name: for each property
// either nothing (unknown), one value that all share, or one for each of the N
// members. Member i of one property belongs to member i of the others. A
// property is drawn when it is first asked for, since few questions ask for many.
// A sample may be asked from many goroutines.
type Sample struct {
	cat     *Catalogue
	subject Subject
	salt    Salt
	points  *[NumProperties]strata
	may     []*Sample // of a name that may mean several cloths, a sample of each
	whose   [N]uint8  // which of them each member is
	drawn   [NumProperties]struct {
		once   sync.Once
		values []float64
	}
	mass, bending Estimate // what others follow, there once these two are drawn
	written       *[NumProperties]figure
}

// Of gives the values of a property, which nobody may change: none where it is not
// known, one that all members share, or one for each.
func (o *Sample) Of(p Property) []float64 {
	d := &o.drawn[p]
	d.once.Do(func() { d.values = o.draw(p) })
	return d.values
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

// layers are the strata of each layer, made when the layer is first drawn, and where in
// its range a member lies of each graded property that goes with mass.
var layers [salts]struct {
	once    sync.Once
	of      [NumProperties]strata
	follows [NumProperties]struct {
		once  sync.Once
		parts [N]float64
	}
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

// following are the parts of one at which a graded property lies that goes with mass:
// the same for every cloth, since a member's place in the range of masses is.
func following(p Property, salt Salt) *[N]float64 {
	f, of := &layers[salt].follows[p], points(salt)
	f.once.Do(func() {
		for i := range f.parts {
			f.parts[i] = follows(p, of[Mass].score(i), of[p].score(i))
		}
	})
	return &f.parts
}

// follows is the part of one at which a property lies that goes with mass, for the
// standard normal score of the mass and its own.
func follows(p Property, mass, own float64) float64 {
	r := Properties[p].Follows
	return normalCDF(r*mass + math.Sqrt(1-r*r)*own)
}

// Sample is the population of a subject. The overall bending length, its
// directions, mass and thickness are drawn jointly; graded properties follow
// the levels' weights; what is unknown stays nil.
func (c *Catalogue) Sample(s Subject, salt Salt) *Sample {
	o := &Sample{cat: c, subject: s, salt: salt, points: points(salt)}
	o.written = c.writtenOf(s)
	if len(s.May) > 0 {
		o.may, o.whose = c.pool(s, salt)
	}
	return o
}

// draw works out the values of a property.
func (o *Sample) draw(p Property) []float64 {
	if o.may != nil {
		return o.pooled(p)
	}
	switch p {
	case BendingLengthWarp, BendingLengthWeft, BendingLengthBias:
		return o.direction(p)
	case Thickness:
		return o.thickness()
	case Hand:
		return o.hand()
	}
	e := o.figures(p)
	switch p {
	case Mass:
		o.mass = e
	case BendingLength:
		o.bending = e
	}
	if followsMass(p) && e.Words != nil && e.Low != e.High && len(o.Of(Mass)) == N {
		return o.follow(p, e)
	}
	return o.spread(p, e)
}

// direction draws the bending length of warp, weft or bias: they scatter round the
// overall figure of the same member.
func (o *Sample) direction(p Property) []float64 {
	own := o.figures(p)
	if own.Known() && own.Basis != Derived {
		return o.spread(p, own)
	}
	overall := o.Of(BendingLength)
	if overall == nil {
		return nil
	}
	factor, sd, sign, of := warpPart, directionSD, 1.0, BendingLengthWarp
	switch p {
	case BendingLengthWeft: // what one direction gains the other loses
		factor, sign = 1/warpPart, -1
	case BendingLengthBias:
		factor, sd, of = 1, biasSD, BendingLengthBias
	}
	if own.Known() && o.bending.Typical > 0 {
		factor = own.Typical / o.bending.Typical
	}
	v := make([]float64, N)
	for i := range v {
		v[i] = at(overall, i) * factor * math.Exp(sign*o.points[of].score(i)*sd)
	}
	return v
}

// thickness follows the mass of the same member.
func (o *Sample) thickness() []float64 {
	t, mass := o.figures(Thickness), o.Of(Mass)
	if !t.Known() || t.Basis != Derived || mass == nil || !(t.Low > 0) {
		return o.spread(Thickness, t)
	}
	rest := math.Sqrt(math.Max(0, sdOf(t)*sdOf(t)-sdOf(o.mass)*sdOf(o.mass)))
	v := make([]float64, N)
	for i := range v {
		v[i] = t.Typical * at(mass, i) / o.mass.Typical * math.Exp(rest*o.points[Thickness].score(i))
	}
	return v
}

// hand is the band of bending length unless the user said it.
func (o *Sample) hand() []float64 {
	if _, known := o.subject.Known[Hand]; known {
		return o.spread(Hand, o.figures(Hand))
	}
	b := o.Of(BendingLength)
	if b == nil {
		return nil
	}
	v := make([]float64, len(b))
	for i := range v {
		v[i] = bandOf(b[i])
	}
	return v
}

// spread draws one property from its estimate alone.
func (o *Sample) spread(p Property, e Estimate) []float64 {
	switch {
	case !e.Known():
		return nil
	case e.Low == e.High:
		return []float64{e.Typical}
	}
	order := &o.points[p].order
	if e.Words != nil {
		return o.levels(p, &e, false, func() []float64 {
			v, parts := make([]float64, N), &even().u
			for i, at := range order {
				v[i] = math.Round(e.linear(parts[at]))
			}
			return v
		})
	}
	v := make([]float64, N)
	scores, at := &even().z, e.quantiles()
	lo, hi := Properties[p].Low, Properties[p].High
	for i, k := range order {
		v[i] = at.z(scores[k])
		if hi > lo {
			v[i] = max(lo, min(hi, v[i]))
		}
	}
	return v
}

// followsMass reports whether a graded property goes with mass.
func followsMass(p Property) bool { return Properties[p].Follows != 0 && Properties[p].Scale != nil }

// graded is what the values of a graded property hang on.
type graded struct {
	salt               Salt
	p                  Property
	follows            bool // mass
	low, typical, high float64
}

// alike are the values of graded properties, which are the same for hundreds of cloths.
var alike memo.Cache[graded, []float64]

func (o *Sample) levels(p Property, e *Estimate, follows bool, draw func() []float64) []float64 {
	return alike.Get(graded{o.salt, p, follows, e.Low, e.Typical, e.High}, draw)
}

// follow draws a graded property that goes with mass, so that the heavy members of
// a population are the opaque ones.
func (o *Sample) follow(p Property, e Estimate) []float64 {
	mass, parts := o.Of(Mass), following(p, o.salt)
	lo, hi := Properties[Mass].Low, Properties[Mass].High
	held := func(m float64) bool { return m <= lo || m >= hi } // to what cloth can weigh: not where its score lies
	draw := func() []float64 {
		v := make([]float64, N)
		for i := range v {
			part := parts[i]
			if held(mass[i]) {
				part = follows(p, o.mass.z(mass[i]), o.points[p].score(i))
			}
			v[i] = math.Round(e.linear(part))
		}
		return v
	}
	if slices.ContainsFunc(mass, held) {
		return draw()
	}
	return o.levels(p, &e, true, draw)
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
	values := o.Of(p)
	if values == nil {
		return 0, false
	}
	return at(values, i), true
}
