package fibres

import (
	"fmt"
	"math"
	"slices"

	"tenter/fibres/yarn"
)

// What 251 measured cloths of no name say of a cloth of which only the mass is
// known (feng-2022; fitted by fibres/gen): overall bending length
// c = 1.27 W^0.0748 cm, 10 to 90 % of cloths within ×0.70 to ×1.39, median
// ×1.03. Mass explains 4 % of the variance: the exponent is kept only because
// it costs nothing.
const (
	predictScale    = 1.270
	predictExponent = 0.0748
	predictLow      = 0.70
	predictMedian   = 1.03
	predictHigh     = 1.39

	// predictMass stands for a mass that is not known; the exponent makes it
	// matter little.
	predictMass = 150
)

// How far knowledge of another kind may be out, as standard deviations in ln c.
// fibres/gen prints what each rests on.
const (
	// nameSD is how far cloths sold under one name lie apart where nothing says
	// more: between the 0.11 of men's suiting (recalled spreads of rigidity and
	// mass) and the 0.27 of the denims that were measured, raw and washed. Two
	// names are few: mark it practice.
	nameSD = 0.17

	// adjectiveSD is how loosely the trade uses its adjectives: what is left of
	// the scatter of six named cloths of one laboratory about the middle of their
	// band when nameSD and the width of a band are taken off.
	adjectiveSD = 0.11

	// bandSD is a place unknown within a band a quarter wide: 0.28/√12.
	bandSD = 0.08

	// structureSD is how far the adjective of a cloth lies from that of its
	// structure over the cloths that have both.
	structureSD = 0.28

	// laboratorySD is how far one laboratory's figures lie from those of all: the
	// ten cloths of wang-2011 read 1.48 times those of feng-2022 at their mass.
	laboratorySD = 0.28

	// weavePower is the power of a weave's firmness that bending length follows at
	// one yarn and sett (practice). That plain is stiffer than twill is published
	// (worsted-rigidity-2009); by how much is not, so the shift is as uncertain as
	// it is large.
	weavePower = 0.1
)

// evidence is what one kind of knowledge says of where the cloths of a name
// lie, in ln cm: their middle, how far that may be out, and how the cloths
// spread below and above it where it says so.
type evidence struct {
	mean, sd  float64
	low, high float64
	what      string
	sources   []string
}

// PredictBendingLength estimates the overall bending length of a cloth that
// nobody has measured for the user, from the published samples of the name,
// the hand that the trade gives it, its weave, its treatments and its mass.
//
//	middle = Σ mᵢ/σᵢ² / Σ 1/σᵢ²     over the pieces of evidence, in ln c
//	width² = spread² + σ² + d²      each side; σ of the best piece, d what they differ by
//
// Given: the cloth, with what is known of its mass; without, the sources of
// measurements to leave out, for calibration.
//
// The measured cloths of any name take part in the middle with their whole
// spread; they widen nothing, since they are no evidence of this cloth. Where
// they are all there is, the result is their interval.
//
// Accuracy: 80 % is claimed; see docs/mechanics.md for what was found.
func (c *Catalogue) PredictBendingLength(s Subject, without ...string) Estimate {
	var ch chain
	return c.predictBending(s, &ch, without)
}

func (c *Catalogue) predictBending(s Subject, ch *chain, without []string) Estimate {
	prior := c.anyName(s, ch)
	var own []evidence
	if s.Cloth != nil {
		own = c.samples(s.Cloth, ch, without)
	}
	if e, ok := c.handEvidence(s, ch); ok {
		own = append(own, e)
	}
	return combine(prior, own)
}

// anyName is what the measured cloths of any name say of a cloth of this mass,
// weave and treatment.
func (c *Catalogue) anyName(s Subject, ch *chain) evidence {
	g, src := float64(predictMass), []string{"feng-2022"}
	if m := c.Estimate(s, Mass); m.Known() {
		g = m.Typical
		src = appendNew(src, m.Sources...)
	}
	low, high := math.Log(predictMedian/predictLow)/z90, math.Log(predictHigh/predictMedian)/z90
	e := evidence{mean: math.Log(predictScale * math.Pow(g, predictExponent) * predictMedian), low: low, high: high,
		what: "251 measured cloths of any name", sources: src}
	ch.add("bending lengths of measured cloths of that mass, whatever their name", e.say(), true)
	e.sd = (low + high) / 2
	if s.Cloth == nil {
		return e
	}
	shift, wide := 0.0, 0.0
	if f, why, ok := c.weaveShift(s.Cloth.Structure); ok {
		shift, wide = f, f
		ch.add("its weave at one yarn and sett", why, true)
		e.sources = appendNew(e.sources, "worsted-rigidity-2009", "practice")
	}
	for _, t := range s.Cloth.Treatments {
		for _, f := range c.effectsOf("treatment", t.ID) {
			if f.property == "bending-length" && f.low > 0 {
				shift += math.Log(f.typical)
				wide = math.Hypot(wide, math.Log(f.high/f.low)/(2*z90))
				e.what += ", changed by being " + t.Name
				e.sources = appendNew(e.sources, f.Source)
				ch.add("being "+t.Name, fmt.Sprintf("×%s – %s – %s", Round(f.low), Round(f.typical), Round(f.high)), true)
			}
		}
	}
	e.mean += shift
	e.low, e.high, e.sd = math.Hypot(e.low, wide), math.Hypot(e.high, wide), math.Hypot(e.sd, wide)
	return e
}

// weaveShift is ln of what the weave does to bending length, against the middle
// of plain and 2/2 twill, which stands for the unknown weaves of the measured
// cloths: the firmness of the crossings and the shortness of the floats, each
// over plain weave's.
func (c *Catalogue) weaveShift(st *Structure) (shift float64, why string, ok bool) {
	ease, ok := c.weaveEase[st.Weave]
	if !ok {
		return 0, "", false
	}
	shift = weavePower * (ease.ln - c.weaveEase["twill-2-2"].ln/2)
	return shift, fmt.Sprintf("%s: crossings %s as firm as plain weave's, longest float %d: ×%.2f", st.Name, Round(ease.firmness), ease.float, math.Exp(shift)), true
}

// weaveEase is how a weave binds, against plain weave.
type weaveEase struct {
	firmness float64 // of its crossings, over plain weave's
	float    int     // longest, on either face
	ln       float64 // mean of ln firmness and ln of the shortness of floats; plain 0
}

// easeOf counts a lift plan; ok is false where it cannot be read.
func easeOf(plan string) (e weaveEase, ok bool) {
	w, err := yarn.ParseLiftPlan(plan)
	if err != nil {
		return e, false
	}
	f := w.Floats()
	e.firmness = w.CrossingFirmness() / 2
	e.float = max(f.WarpFace, f.WarpBack, f.WeftFace, f.WeftBack)
	e.ln = (math.Log(e.firmness) + math.Log(2/float64(e.float+1))) / 2
	return e, true
}

// samples are the published measurements of cloths of the name. Each is one
// cloth of one laboratory: it says where the name lies only as well as one
// cloth can.
func (c *Catalogue) samples(k *Cloth, ch *chain, without []string) []evidence {
	var out []evidence
	for _, m := range c.Measurements(k) {
		if slices.Contains(without, m.Sources[0]) {
			continue
		}
		e := evidence{mean: math.Log(m.Typical), sd: math.Hypot(nameSD, laboratorySD), what: "measured on a cloth of the name", sources: m.Sources}
		if m.Low > 0 {
			e.low, e.high = math.Log(m.Typical/m.Low)/z90, math.Log(m.High/m.Typical)/z90
		}
		ch.add(m.Rests()+" for a cloth of the name", c.found(m), true)
		out = append(out, e)
	}
	if len(out) == 0 {
		ch.add("published for the cloth", "none", false)
	}
	return out
}

// Measurements are the overall bending lengths recorded for a cloth, one for
// each source, as the source gives them: of one cloth or a few, and not the
// range of what is sold under the name.
func (c *Catalogue) Measurements(k *Cloth) []Estimate {
	at := func(direction string) []Estimate { return c.facts.of(ref{"cloth", k.ID, "bend " + direction}) }
	out := slices.Clone(at("overall"))
	for _, w := range at("warp") {
		for _, f := range at("weft") {
			if w.Sources[0] == f.Sources[0] {
				e := w
				e.Low, e.Typical, e.High = math.Sqrt(w.Low*f.Low), math.Sqrt(w.Typical*f.Typical), math.Sqrt(w.High*f.High)
				e.Because = "geometric mean of warp and weft"
				out = append(out, e)
			}
		}
	}
	for i := range out {
		if out[i].Because == "" {
			out[i].Because = "measured on a cloth of the name"
		}
	}
	return out
}

// handEvidence is the user's own word for the hand, else the cloth's adjective,
// else its structure's (then its treatments count too: the cloth's own name
// already includes them).
func (c *Catalogue) handEvidence(s Subject, ch *chain) (evidence, bool) {
	if h, ok := s.Known[Hand]; ok {
		return c.bandEvidence(h, adjectiveSD, "you call it "+h.Say(), ch), true
	}
	k := s.Cloth
	if k == nil {
		return evidence{}, false
	}
	if r := c.rows("cloth", k.ID, Hand); len(r) > 0 {
		h := r[0]
		for _, x := range r[1:] { // sources that differ widen the band
			h.Low, h.High = math.Min(h.Low, x.Low), math.Max(h.High, x.High)
			h.Sources = appendNew(append([]string{}, h.Sources...), x.Sources...)
		}
		word, given := h.Word, h.Given
		h = Figure(Hand, h.Low, math.Max(h.Low, math.Min(h.High, h.Typical)), h.High, h.Basis, h.Because, h.Sources...)
		h.Word, h.Given = word, given
		return c.bandEvidence(h, adjectiveSD, "the trade calls it "+h.Say(), ch), true
	}
	r := c.rows("structure", k.Structure.ID, Hand)
	if len(r) == 0 {
		return evidence{}, false
	}
	h := r[0]
	e := c.bandEvidence(h, structureSD, "the trade calls its structure, "+k.Structure.Name+", "+h.Say(), ch)
	e.low, e.high = 0, 0 // the range of a structure is the doubt that structureSD already holds
	for _, t := range k.Treatments {
		for _, f := range c.effectsOf("treatment", t.ID) {
			if f.property == "bending-length" && f.low > 0 {
				e.mean += math.Log(f.typical)
				e.sd = math.Hypot(e.sd, math.Log(f.high/f.low)/(2*z90))
			}
		}
	}
	return e, true
}

// bandEvidence turns bands of hand into bending length: each band stands for
// its middle, and low, typical and high of the adjective for the cloths of the
// name.
func (c *Catalogue) bandEvidence(h Estimate, sd float64, what string, ch *chain) evidence {
	middle := func(level float64) float64 { return math.Log(HandEdges[int(level)]*HandEdges[int(level)+1]) / 2 }
	e := evidence{mean: middle(h.Typical), sd: math.Hypot(sd, bandSD), what: what, sources: h.Sources}
	e.low, e.high = (e.mean-middle(h.Low))/z90, (middle(h.High)-e.mean)/z90
	source := ""
	if len(h.Sources) > 0 {
		source = " [" + h.Sources[0] + ": " + h.Rests() + "]"
	}
	ch.add("hand: "+what+source, e.say()+", our band for the word", true)
	return e
}

// say prints the range of the cloths that a piece of evidence claims.
func (e evidence) say() string {
	lo, hi := math.Hypot(e.low, e.sd), math.Hypot(e.high, e.sd)
	return fmt.Sprintf("%.1f – %.1f – %.1f cm", math.Exp(e.mean-z90*lo), math.Exp(e.mean), math.Exp(e.mean+z90*hi))
}

// combine joins the evidence of a cloth with what holds for any cloth. The
// middle is the mean by precision. The width takes the cloths' own spread, the
// doubt of the best single piece (the pieces are not independent, so that more
// of them narrow nothing) and what the pieces differ by.
func combine(prior evidence, own []evidence) Estimate {
	if len(own) == 0 {
		return Figure(BendingLength, math.Exp(prior.mean-z90*prior.low), math.Exp(prior.mean), math.Exp(prior.mean+z90*prior.high),
			Derived, prior.what+", and nothing that is known of this one", prior.sources...)
	}
	mean, weight := prior.mean/(prior.sd*prior.sd), 1/(prior.sd*prior.sd)
	var ownMean, ownWeight float64
	best, low, high := math.Inf(1), nameSD, nameSD
	because := ""
	var src []string
	for _, e := range own {
		w := 1 / (e.sd * e.sd)
		mean, weight = mean+w*e.mean, weight+w
		ownMean, ownWeight = ownMean+w*e.mean, ownWeight+w
		best = math.Min(best, e.sd)
		low, high = math.Max(low, e.low), math.Max(high, e.high)
		because += e.what + "; "
		src = appendNew(src, e.sources...)
	}
	mean, ownMean = mean/weight, ownMean/ownWeight
	differ := 0.0
	for _, e := range own {
		differ += (e.mean - ownMean) * (e.mean - ownMean) / (e.sd * e.sd * ownWeight)
	}
	doubt := best*best + differ
	lo, hi := math.Sqrt(low*low+doubt), math.Sqrt(high*high+doubt)
	return Figure(BendingLength, math.Exp(mean-z90*lo), math.Exp(mean), math.Exp(mean+z90*hi), Derived,
		because+prior.what, appendNew(src, prior.sources...)...)
}

// direction is how far a direction's bending length stands off the overall one,
// in ln, for a cloth: that of all measured cloths, taken half and half with
// that of a sample of the name where one was measured both ways.
func (c *Catalogue) direction(k *Cloth, p Property, without ...string) (ln, sd float64, why string) {
	ln, sd, why = math.Log(warpPart), directionSD, "warp is about 7 % above the overall bending length"
	switch p {
	case BendingLengthBias:
		return 0, biasSD, "the bias strip is about the mean of warp and weft"
	case BendingLengthWeft:
		ln, why = -ln, "weft is about 7 % below the overall bending length"
	}
	if k == nil {
		return ln, sd, why
	}
	key := map[Property]string{BendingLengthWarp: "bend warp", BendingLengthWeft: "bend weft"}[p]
	for _, row := range c.facts.of(ref{"cloth", k.ID, key}) {
		for _, m := range c.Measurements(k) {
			if m.Sources[0] == row.Sources[0] && m.Because == "geometric mean of warp and weft" && !slices.Contains(without, m.Sources[0]) {
				ln = (ln + math.Log(row.Typical/m.Typical)) / 2
				return ln, sd, fmt.Sprintf("×%.2f of the overall bending length, half from a sample of the name, half from all measured cloths", math.Exp(ln))
			}
		}
	}
	return ln, sd, why
}

// WeaveFirmness is the crossing firmness of a weave of the catalogue over that
// of plain weave, by its id; ok is false where there is no such weave.
func (c *Catalogue) WeaveFirmness(weave string) (firmness float64, ok bool) {
	e, ok := c.weaveEase[weave]
	return e.firmness, ok
}

// StructureHand is the hand that the trade gives a structure, by its id, if any.
func (c *Catalogue) StructureHand(structure string) (Estimate, bool) {
	r := c.rows("structure", structure, Hand)
	if len(r) == 0 {
		return Estimate{}, false
	}
	return r[0], true
}
