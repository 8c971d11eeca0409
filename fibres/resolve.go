package fibres

import (
	"fmt"
	"math"
	"strings"

	"tenter/fibres/hang"
	"tenter/fibres/units"
)

// Estimate resolves one property of a subject along the chain measured,
// published, memory and practice for the cloth, derived, unknown; the first
// that answers is used, and the chain is kept.
func (c *Catalogue) Estimate(s Subject, p Property) Estimate {
	e := c.resolve(s, p)
	e.Sources = appendNew([]string{}, e.Sources...)
	return e
}

// chain gathers rungs.
type chain []Rung

func (ch *chain) add(asked, found string, used bool) {
	*ch = append(*ch, Rung{Asked: asked, Found: found, Used: used})
}

// settle ends the chain with what answers, and hands the answer its chain.
func (c *chain) settle(asked, found string, e Estimate) Estimate {
	c.add(asked, found, true)
	e.Chain = *c
	return e
}

func (c *Catalogue) resolve(s Subject, p Property) Estimate {
	var ch chain
	if e, ok := s.Known[p]; ok {
		asked, found := "your own measurement", e.Say()
		switch e.Basis {
		case Measured:
		case Derived:
			asked, found = "your own drape test", found+" ("+e.Because+")"
		default:
			asked = "your own hand"
		}
		return ch.settle(asked, found, e)
	}
	if e, ok := c.fromKnown(s, p); ok {
		return ch.settle("your own measurement", e.Say()+" ("+e.Because+")", e)
	}
	if len(s.May) > 0 {
		return s.pooled(p, func(subject Subject) Estimate { return c.resolve(subject, p) })
	}
	ch.add("your own measurement", "none", false)
	if s.Content != nil && s.Cloth != nil {
		s = s.labelled()
	}
	if s.Cloth == nil {
		e := c.nameless(s, p, &ch)
		e.Chain = ch
		return e
	}
	if bends(p) { // what is measured of a name is a sample of it, never the name
		e := c.derive(s, p, &ch)
		return ch.settle("derived", e.Say()+", "+e.Because, e)
	}
	return c.resolveNamed(s, p, ch)
}

// resolveNamed resolves a property of a cloth that nobody has measured: what is
// recorded for its name, unless that is of other fibres or of another time, else
// what it can be derived from.
func (c *Catalogue) resolveNamed(s Subject, p Property, ch chain) Estimate {
	rows := c.rows("cloth", s.Cloth.ID, p)
	if len(rows) > 0 && s.other && Properties[p].OfFibre {
		ch.add(rows[0].Rests()+" for the cloth", "is of other fibres than the label of yours", false)
		rows = nil
	}
	if p == Width && c.outdated(s.Cloth, rows) {
		if e := c.derive(s, p, &ch); e.Known() {
			for _, r := range rows {
				ch.add(r.Rests()+" for the cloth", c.found(r)+", on the narrow looms of its time", false)
			}
			e.Differ = rows
			return ch.settle("derived", e.Say()+", "+e.Because, e)
		}
	}
	if len(rows) > 0 {
		return c.recorded(s, p, rows, ch)
	}
	ch.add("published or practice for the cloth", "none", false)
	e := c.derive(s, p, &ch)
	if e.Known() {
		e = c.narrowByMass(s, p, e)
		ch.add("derived", e.Say()+", "+e.Because, true)
		e = c.applyLessons(s, p, e, &ch)
	} else {
		ch.add("derived", "nothing to derive it from", false)
	}
	e.Chain = ch
	return e
}

// recorded answers from the rows of a cloth: the best of them, with those that differ.
func (c *Catalogue) recorded(s Subject, p Property, rows []Estimate, ch chain) Estimate {
	e := rows[0]
	for _, r := range rows {
		ch.add(r.Rests()+" for the cloth", c.found(r), r.Sources[0] == e.Sources[0])
	}
	for _, r := range rows[1:] {
		if r.Low != e.Low || r.Typical != e.Typical || r.High != e.High {
			e.Differ = append(e.Differ, r)
		}
	}
	if e.Because == "" {
		e.Because = "recorded for " + s.Cloth.Name
	}
	e = c.narrowByMass(s, p, e)
	e = c.applyLessons(s, p, e, &ch)
	e.Chain = ch
	return e
}

// outdated reports whether all that is recorded of a cloth that is still sold
// stands in old books: looms have grown wider since.
func (c *Catalogue) outdated(k *Cloth, rows []Estimate) bool {
	for _, r := range rows {
		if c.staleness(r) == 0 {
			return false
		}
	}
	return len(rows) > 0 && k.Era == ""
}

func (c *Catalogue) found(e Estimate) string {
	out := e.Say()
	if src := c.Sources[e.Sources[0]]; src != nil {
		out += " [" + src.ID
		if src.Year != "" {
			out += ", " + src.Year
		}
		out += "]"
	}
	if e.Locator != "" {
		out += ", " + e.Locator
	}
	return out
}

// nameless answers for a cloth of which the user gave figures but no name: a
// cloth that was weighed has at least the bending length that any cloth may
// have.
func (c *Catalogue) nameless(s Subject, p Property, ch *chain) Estimate {
	if Properties[p].OfFibre && len(s.Content) > 0 {
		s.Cloth = &Cloth{Name: s.Label(), Content: s.Content, Structure: &Structure{Name: "unknown structure"}}
		if e := c.derive(s, p, ch); e.Known() {
			ch.add("derived", e.Say()+", "+e.Because, true)
			return e
		}
		return unknown(p, "its fibres do not tell")
	}
	_, weighed := s.Known[Mass]
	_, felt := s.Known[Hand]
	if !weighed && !felt {
		return unknown(p, "no cloth is named and nothing was measured")
	}
	switch {
	case bends(p):
		return c.bending(s, p, ch)
	case p == Hand:
		return handOf(c.Estimate(s, BendingLength))
	}
	return unknown(p, "no cloth is named")
}

func bends(p Property) bool { return p >= BendingLength && p <= BendingLengthBias }

// bending predicts the overall bending length or that of one direction.
func (c *Catalogue) bending(s Subject, p Property, ch *chain) Estimate {
	if p == BendingLength {
		e := c.predictBending(s, ch, nil)
		if s.Cloth != nil {
			e.Differ = c.Measurements(s.Cloth)
		}
		return c.applyLessons(s, p, e, ch)
	}
	o := c.Estimate(s, BendingLength)
	ln, sd, why := c.direction(s.Cloth, p)
	return spread(o, math.Exp(ln), sd, why+"; "+o.Because)
}

// rows returns the fact rows of a thing for a property, best first. Bending
// lengths are no such rows: see [Catalogue.Measurements].
func (c *Catalogue) rows(of, id string, p Property) []Estimate {
	if bends(p) {
		return nil
	}
	return c.facts.of(ref{of, id, Properties[p].row()})
}

// Shrink gives the shrinkage of a cloth by a method other than the first wash
// ("steam", "dry-clean", "later-wash"), with whether any row gives it.
func (c *Catalogue) Shrink(s Subject, direction, method string) (Estimate, bool) {
	if len(s.May) > 0 {
		e := s.pooled(ShrinkWarp, func(subject Subject) Estimate {
			e, known := c.Shrink(subject, direction, method)
			if !known {
				return unknown(ShrinkWarp, "no row")
			}
			return e
		})
		return e, e.Known()
	}
	if s.Cloth == nil {
		return unknown(ShrinkWarp, "no cloth is named"), false
	}
	s = s.labelled()
	key := "shrink " + direction + " " + method
	if r := c.facts.of(ref{"cloth", s.Cloth.ID, key}); len(r) > 0 && !s.other {
		return r[0], true
	}
	if method == "later-wash" {
		return c.laterWash(s, direction)
	}
	if r := c.facts.of(ref{"structure", s.Cloth.Structure.ID, key}); len(r) > 0 {
		e := r[0]
		e = e.derived("from its structure, " + s.Cloth.Structure.Name)
		return e, true
	}
	e, ok := c.weighted(s.Cloth, key, PropertyInfo{Unit: "%"})
	return e, ok
}

// laterWash is what a cloth has lost after five washes: what the first takes,
// and as much more as its structure or else its fibres are known for. So a
// cloth that was shrunk before it was sold goes on from there.
func (c *Catalogue) laterWash(s Subject, direction string) (Estimate, bool) {
	p := ShrinkWarp
	if direction == "weft" {
		p = ShrinkWeft
	}
	first, five := "shrink "+direction+" wash", "shrink "+direction+" later-wash"
	var once, all Estimate
	who := "its structure, " + s.Cloth.Structure.Name
	if a, b := c.facts.of(ref{"structure", s.Cloth.Structure.ID, first}), c.facts.of(ref{"structure", s.Cloth.Structure.ID, five}); len(a) > 0 && len(b) > 0 && !allSet(s.Cloth) {
		once, all = a[0], b[0]
	} else {
		var known bool
		if all, known = c.weighted(s.Cloth, five, PropertyInfo{Unit: "%"}); !known {
			return unknown(p, "nobody tells how its fibres go on shrinking"), false
		}
		if once, known = c.weighted(s.Cloth, first, PropertyInfo{Unit: "%"}); !known {
			return unknown(p, "no fibre of it has a planning range"), false
		}
		who = strings.TrimPrefix(all.Because, "from ")
	}
	e := c.Estimate(s, p)
	if !e.Known() {
		return unknown(p, "its first wash is not known"), false
	}
	grow := func(v, once, all float64) float64 {
		if once <= 0 {
			return v + math.Max(0, all-once)
		}
		return v * math.Max(1, all/once)
	}
	out := Estimate{Low: grow(e.Low, once.Low, all.Low), Typical: grow(e.Typical, once.Typical, all.Typical), High: grow(e.High, once.High, all.High),
		Unit: "%", Basis: Derived, Sources: appendNew(append([]string{}, e.Sources...), all.Sources...),
		Because: "its first wash, and what " + who + " goes on to lose"}
	out.Typical = math.Max(out.Low, out.Typical)
	out.High = math.Max(out.Typical, out.High)
	return out, true
}

// fromKnown answers a property from what the user measured beside it: one
// direction of bending length from the overall one and back, the hand from the
// bending length.
func (c *Catalogue) fromKnown(s Subject, p Property) (Estimate, bool) {
	if len(s.Known) == 0 {
		return Estimate{}, false
	}
	overall, has := s.Known[BendingLength]
	warp, hasWarp := s.Known[BendingLengthWarp]
	weft, hasWeft := s.Known[BendingLengthWeft]
	if !has && hasWarp && hasWeft {
		overall, has = c.mean(warp, weft), true
	} else if !has && hasWarp {
		overall, has = spread(warp, 0.94, 0.11, "from the warp alone: overall is about 0.94 of it"), true
	} else if !has && hasWeft {
		overall, has = spread(weft, 1.07, 0.12, "from the weft alone"), true
	}
	if !has {
		return Estimate{}, false
	}
	switch p {
	case BendingLength:
		return overall, true
	case BendingLengthWarp:
		return spread(overall, warpPart, directionSD, "from the overall figure: the warp is about 7 % above it"), true
	case BendingLengthWeft:
		return spread(overall, 1/warpPart, directionSD, "from the overall figure: the weft is about 7 % below it"), true
	case BendingLengthBias:
		return spread(overall, 1, biasSD, "from the overall figure: the bias is about the mean of warp and weft"), true
	case Hand:
		return handOf(overall), true
	}
	return Estimate{}, false
}

func (c *Catalogue) mean(a, b Estimate) Estimate {
	overall := func(warp, weft float64) float64 {
		both, err := hang.Overall(units.Length(warp), units.Length(weft))
		if err != nil {
			return math.NaN() // a bending length of 0 is refused where it is recorded
		}
		return float64(both)
	}
	return Figure(BendingLength, overall(a.Low, b.Low), overall(a.Typical, b.Typical), overall(a.High, b.High), Measured, "geometric mean of your warp and weft")
}

// spread scales an estimate by a factor that itself varies by sd (in ln).
func spread(e Estimate, factor, sd float64, because string) Estimate {
	lo, hi := 0.0, 0.0
	if e.Low > 0 {
		lo = math.Log(e.Typical/e.Low) / z90
		hi = math.Log(e.High/e.Typical) / z90
	}
	t := e.Typical * factor
	e.Low, e.High = t*math.Exp(-z90*math.Hypot(lo, sd)), t*math.Exp(z90*math.Hypot(hi, sd))
	e.Typical, e.Chain, e.Differ = t, nil, nil
	return e.derived(because)
}

// Directions of bending length over 251 measured cloths (feng-2022): warp over
// weft has median 1.14 and 5 to 95 % of 0.74 to 1.62, so each direction stands
// off the geometric mean by a factor of 1.14^½ with sd 0.12 in ln; the bias
// strip is near the geometric mean with sd 0.157.
const (
	warpPart    = 1.0677
	directionSD = 0.119
	biasSD      = 0.157
)

// handOf names the hand of a bending length.
func handOf(c Estimate) Estimate {
	e := Figure(Hand, bandOf(c.Low), bandOf(c.Typical), bandOf(c.High), Derived, "the band that the bending length lies in", c.Sources...)
	if c.Basis == Measured {
		e.Basis = Measured
	}
	return e
}

// HandEdges are the bending lengths in cm that part the bands of hand, from
// quantiles of 251 measured cloths (feng-2022; computed here). The outer edges
// are the 5th and 99.5th percentile by eye, since the bands are open there.
var HandEdges = []float64{0.8, 1.25, 1.75, 2.25, 2.75, 3.5, 5}

func bandOf(cm float64) float64 {
	for i := len(HandEdges) - 2; i > 0; i-- {
		if cm >= HandEdges[i] {
			return float64(i)
		}
	}
	return 0
}

// derive works a property out from structure, fibres and treatments.
func (c *Catalogue) derive(s Subject, p Property, ch *chain) Estimate {
	k := s.Cloth
	switch Properties[p].Derive {
	case FromStructure:
		return c.changed(k, p, c.fromStructure(s, p, ch))
	case FromFibres:
		return c.byMass(s, p, c.changed(k, p, c.fromFibres(k, p)))
	case FromTenderest:
		return c.least(k, p)
	case FromShrinkage:
		return c.changed(k, p, c.shrinkDerived(k, p, ch))
	case FromBulk:
		return c.thickness(s)
	case FromThickness:
		return c.changed(k, p, c.warmth(s))
	case FromQuickest:
		return c.changed(k, p, c.flame(s))
	case FromWater:
		return c.changed(k, p, c.drying(s))
	case FromSpring:
		return c.spring(k, c.changed(k, p, c.fromFibres(k, p)))
	case FromBendingLength:
		return handOf(c.Estimate(s, BendingLength))
	case FromHand:
		return c.bending(s, p, ch)
	}
	return unknown(p, "nobody has recorded it")
}

func (c *Catalogue) fromStructure(s Subject, p Property, ch *chain) Estimate {
	k := s.Cloth
	rows := c.rows("structure", k.Structure.ID, p)
	var e Estimate
	switch {
	case len(rows) > 0:
		e = rows[0]
		ch.add(e.Rests()+" for its structure, "+k.Structure.Name, c.found(e), true)
		e = e.derived("from its structure, " + k.Structure.Name)
	case p == ShowThrough:
		e = c.showFromMass(s)
	default:
		return unknown(p, "neither the cloth nor its structure has a grade for it")
	}
	switch p {
	case Wind:
		if show := c.Estimate(s, ShowThrough); e.Typical >= 2 && show.Known() && show.Typical >= 2 {
			e = shift(p, e, -1, "and what is half seen through lets air through")
			e.Low = math.Max(e.Low, 1) // a close weave has no holes, however fine
		}
	case Stretch:
		for _, part := range k.Content {
			if (part.Fibre.ID == "elastane" || part.Fibre.ID == "rubber") && part.Share.Typical >= 1.5 && e.Typical < 3 {
				e = shift(p, e, 1, "and elastane adds to it")
			}
		}
	case Slip:
		if w, ok := c.weighted(k, "slip", Properties[Slip]); ok && w.Typical > e.Typical {
			e = Figure(p, math.Max(e.Low, w.Low), w.Typical, math.Max(e.High, w.High), Derived, e.Because+", and its fibre is slippery", append(e.Sources, w.Sources...)...)
		}
	}
	return e
}

// showFromMass guesses show-through of a close cloth from its mass (practice:
// under about 70 g/m² a cloth is half sheer, over 170 it hides).
func (c *Catalogue) showFromMass(s Subject) Estimate {
	m := c.Estimate(s, Mass)
	if !m.Known() {
		return unknown(ShowThrough, "its mass is not known")
	}
	level := func(g float64) float64 {
		switch {
		case g < 55:
			return 3
		case g < 90:
			return 2
		case g < 150:
			return 1
		}
		return 0
	}
	return Figure(ShowThrough, level(m.High), level(m.Typical), level(m.Low), Derived, "guessed from its mass", append([]string{"practice"}, m.Sources...)...)
}

// shift moves a graded estimate by whole steps.
func shift(p Property, e Estimate, steps float64, why string) Estimate {
	out := Figure(p, e.Low+steps, e.Typical+steps, e.High+steps, Derived, e.Because, e.Sources...)
	if why != "" {
		out.Because += ", " + why
	}
	return out
}

// fromFibres is the mean of the fibres' rows.
func (c *Catalogue) fromFibres(k *Cloth, p Property) Estimate {
	if e, ok := c.weighted(k, Properties[p].row(), Properties[p]); ok {
		return e
	}
	return unknown(p, "too little is recorded of its fibres")
}

// changed applies what a cloth's structure and treatments do to a property.
func (c *Catalogue) changed(k *Cloth, p Property, e Estimate) Estimate {
	if !e.Known() {
		return e
	}
	e = c.changedBy(e, p, "structure", k.Structure.ID, k.Structure.Name)
	for _, t := range k.Treatments {
		e = c.changedBy(e, p, "treatment", t.ID, t.Name)
	}
	return e
}

// effectsOf lists what a structure or treatment does to the properties of its cloths.
func (c *Catalogue) effectsOf(of, id string) []effect { return c.effects[ref{of, id, "effects"}] }

// changedBy applies the effects of one structure or treatment: factors on a figure,
// steps on a grade.
func (c *Catalogue) changedBy(e Estimate, p Property, of, id, name string) Estimate {
	property := Properties[p].ID
	if bends(p) {
		property = Properties[BendingLength].ID
	}
	for _, f := range c.effectsOf(of, id) {
		if f.property != property {
			continue
		}
		why := e.Because + ", changed by being " + name
		src := append(append([]string{}, e.Sources...), f.Source)
		if Properties[p].Scale != nil {
			e = Figure(p, e.Low+f.low, e.Typical+f.typical, e.High+f.high, Derived, why, src...)
			continue
		}
		e.Low, e.Typical, e.High = e.Low*f.low, e.Typical*f.typical, e.High*f.high
		e.Sources = src
		e = e.derived(why)
	}
	return e
}

// weighted is the mean of a fibre property over the cloth's content.
func (c *Catalogue) weighted(k *Cloth, prop string, info PropertyInfo) (Estimate, bool) {
	var lo, ty, hi, sum float64
	var src, names []string
	for _, part := range k.Content {
		r := c.facts.of(ref{"fibre", part.Fibre.ID, prop})
		if len(r) == 0 || part.Share.Typical == 0 {
			continue
		}
		w := part.Share.Typical
		lo, ty, hi, sum = lo+w*r[0].Low, ty+w*r[0].Typical, hi+w*r[0].High, sum+w
		src = appendNew(src, r[0].Sources...)
		names = append(names, part.Fibre.Name)
	}
	if sum < 50 { // less than half of the cloth is known
		return Estimate{}, false
	}
	because := "from its fibre, " + strings.Join(names, " and ")
	lo, ty, hi = lo/sum, ty/sum, hi/sum
	if info.Scale != nil {
		p, _ := PropertyByID(info.ID)
		return Figure(p, lo, ty, hi, Derived, because, src...), true
	}
	return Estimate{Low: lo, Typical: ty, High: hi, Unit: info.Unit, Basis: Derived, Sources: src, Because: because}, true
}

func (c *Catalogue) shrinkDerived(k *Cloth, p Property, ch *chain) Estimate {
	dir := "warp"
	if p == ShrinkWeft {
		dir = "weft"
	}
	if r := c.rows("structure", k.Structure.ID, p); len(r) > 0 && !allSet(k) {
		e := r[0]
		ch.add(e.Rests()+" for its structure, "+k.Structure.Name, c.found(e), true)
		e = e.derived("from its structure, " + k.Structure.Name)
		return e
	}
	if e, ok := c.weighted(k, "shrink "+dir+" wash", Properties[p]); ok {
		e.Unit = "%"
		return e
	}
	return unknown(p, "no fibre of it has a planning range")
}

// allSet reports whether the cloth is wholly of fibres that heat sets, whose
// shrinkage follows the fibre whatever the structure.
func allSet(k *Cloth) bool {
	if len(k.Content) == 0 {
		return false
	}
	for _, p := range k.Content {
		if p.Fibre.Family != "synthetic" && p.Share.Typical > 10 {
			return false
		}
	}
	return k.Structure.Class == "woven"
}

func (c *Catalogue) thickness(s Subject) Estimate {
	m := c.Estimate(s, Mass)
	rows := c.facts.of(ref{"structure", s.Cloth.Structure.ID, "bulk"})
	if !m.Known() || len(rows) == 0 {
		return unknown(Thickness, "its mass or the bulk of its structure is not known")
	}
	b := rows[0]
	t := m.Typical / b.Typical / 1000
	sd := math.Hypot(sdOf(m), sdOf(b))
	e := Figure(Thickness, t*math.Exp(-z90*sd), t, t*math.Exp(z90*sd), Derived,
		fmt.Sprintf("mass over the bulk of %s, %s g/cm3", s.Cloth.Structure.Name, Round(b.Typical)), appendNew(append([]string{}, m.Sources...), b.Sources...)...)
	return e
}

// byMass takes a step off a grade where the cloth is light, and adds one where it is
// heavy.
func (c *Catalogue) byMass(s Subject, p Property, e Estimate) Estimate {
	limit := Properties[p].ByMass
	m := c.Estimate(s, Mass)
	switch {
	case limit[1] == 0 || !e.Known() || !m.Known():
		return e
	case m.Typical < limit[0]:
		return shift(p, e, -1, "and it is light")
	case m.Typical > limit[1]:
		return shift(p, e, 1, "and it is heavy")
	}
	return e
}

// warmthEdges are the thicknesses in mm that part the levels of warmth. Cloth is
// mostly still air, which conducts some 0.04 W/mK, so that a millimetre is worth
// about 0.025 m2K/W, a quarter of a tog, whatever the fibre (from memory: the
// physics of clothing); where the levels part is practice: a shirt, a suit, a
// blanket.
var warmthEdges = []float64{0.4, 0.9, 2}

// warmth grades the still air that a cloth holds by its thickness.
func (c *Catalogue) warmth(s Subject) Estimate {
	t := c.Estimate(s, Thickness)
	if !t.Known() {
		return unknown(Warmth, "its thickness is not known")
	}
	level := func(mm float64) float64 { return levelAt(mm, warmthEdges) }
	return Figure(Warmth, level(t.Low), level(t.Typical), level(t.High), Derived, "the still air in its thickness, "+t.Say(), appendNew([]string{"practice"}, t.Sources...)...)
}

// levelAt is how many of the edges a figure reaches.
func levelAt(v float64, edges []float64) float64 {
	n := 0.0
	for _, edge := range edges {
		if v >= edge {
			n++
		}
	}
	return n
}

const (
	// flameShare is from which part in per cent a fibre carries the flame along
	// (practice): a melting fibre held up by one that burns burns with it.
	flameShare = 15
	// flaresBelow is the mass in g/m2 under which the air reaches every yarn of a
	// cloth and the flame runs over it (practice; laws on flammable clothing exempt
	// plain cloth from about 88 g/m2, which says that it does not flash, not that it
	// is safe).
	flaresBelow = 88
)

// flame grades how a cloth burns once alight: as the quickest of its fibres, and
// quicker where that one burns and the cloth is light or raised.
func (c *Catalogue) flame(s Subject) Estimate {
	k := s.Cloth
	out := unknown(Flame, "no fibre of it has a grade")
	for _, part := range k.Content {
		r := c.rows("fibre", part.Fibre.ID, Flame)
		if part.Share.Typical < flameShare || len(r) == 0 {
			continue
		}
		if !out.Known() || r[0].Typical > out.Typical {
			out = Figure(Flame, r[0].Low, r[0].Typical, r[0].High, Derived, "the quickest of its fibres, "+part.Fibre.Name, r[0].Sources...)
		}
	}
	if !out.Known() || out.Typical < 2 {
		return out
	}
	if m := c.Estimate(s, Mass); m.Known() && m.Typical < flaresBelow {
		return shift(Flame, out, 1, "and it is light")
	}
	if n := c.Estimate(s, Nap); n.Known() && n.Typical >= 1 {
		return shift(Flame, out, 1, "and its surface is raised")
	}
	return out
}

// dryingEdges are the g/m2 of water, held when wrung, that part what dries quickly, by
// the next morning and more slowly (practice: a polyester blouse, a cotton shirt, denim).
var dryingEdges = []float64{45, 120}

// drying grades how fast a cloth dries by the water it holds when wrung: its mass
// times what its fibres hold back.
func (c *Catalogue) drying(s Subject) Estimate {
	held, ok := c.weighted(s.Cloth, "retention", PropertyInfo{Unit: "%"})
	m := c.Estimate(s, Mass)
	if !ok || !m.Known() {
		return unknown(Drying, "its mass or the water that its fibres hold is not known")
	}
	water := func(mass float64) float64 { return mass * held.Typical / 100 }
	level := func(mass float64) float64 { return float64(len(dryingEdges)) - levelAt(water(mass), dryingEdges) }
	return Figure(Drying, level(m.High), level(m.Typical), level(m.Low), Derived,
		fmt.Sprintf("some %.0f g/m2 of water when wrung, %.0f %% of its mass", water(m.Typical), held.Typical), appendNew(appendNew([]string{"practice"}, held.Sources...), m.Sources...)...)
}

// springyFrom is the share of elastane in per cent from which on it draws a cloth back
// (practice).
const springyFrom = 2

// spring adds to what the fibres say of a stretch what a little elastane does to it.
func (c *Catalogue) spring(k *Cloth, e Estimate) Estimate {
	if k.Has("elastane", springyFrom) {
		return shift(Spring, e, 1, "and its elastane draws it back")
	}
	return e
}

func sdOf(e Estimate) float64 {
	if e.Low <= 0 {
		return 0
	}
	return math.Log(e.High/e.Low) / (2 * z90)
}

func appendNew(list []string, more ...string) []string {
	for _, m := range more {
		if !contains(list, m) {
			list = append(list, m)
		}
	}
	return list
}

// narrowByMass shifts and narrows a property that goes with mass, where the
// user has said what their cloth weighs.
func (c *Catalogue) narrowByMass(s Subject, p Property, e Estimate) Estimate {
	r := Properties[p].Follows
	known, ok := s.Known[Mass]
	if r == 0 || !ok || !e.Known() || p != ShowThrough && e.Basis == Derived || strings.Contains(e.Because, "its mass") {
		return e // what was derived was derived from this very mass
	}
	was := c.Unlearned().Estimate(Subject{Cloth: s.Cloth}, Mass) // what the name says, whatever the user owns
	if !was.Known() {
		return e
	}
	zl, zt, zh := r*was.z(known.Low), r*was.z(known.Typical), r*was.z(known.High)
	if zl > zh {
		zl, zh = zh, zl
	}
	rest := z90 * math.Sqrt(1-r*r)
	at := func(z float64) float64 {
		if e.Words != nil {
			return math.Max(e.Low, math.Min(e.High, e.linear(normalCDF(z))))
		}
		return math.Max(e.Low, math.Min(e.High, e.quantileZ(z)))
	}
	out := Figure(p, at(zl-rest), at(zt), at(zh+rest), e.Basis, e.Because+", at the mass you gave", e.Sources...)
	out.Differ, out.Locator, out.Note, out.Word, out.Given = e.Differ, e.Locator, e.Note, e.Word, e.Given
	return out
}
