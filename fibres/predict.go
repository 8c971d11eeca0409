package fibres

import (
	"fmt"
	"math"
)

// What 251 measured cloths say of a cloth of which only the mass is known
// (feng-2022, computed here): overall bending length c = 1.27 W^0.0748 cm, 10 to
// 90 % of cloths within ×0.70 to ×1.39, median ×1.03. Mass explains 4 % of the
// variance: the exponent is kept only because it costs nothing.
const (
	predictScale    = 1.270
	predictExponent = 0.0748
	predictLow      = 0.70
	predictMedian   = 1.03
	predictHigh     = 1.39
)

// anyNameWiden widens the spread of all measured cloths once the trade names a
// hand: a cloth of which something is known is no random draw from them, so
// they pull its estimate only weakly (practice).
const anyNameWiden = 2

// adjectiveSD is how far, in ln, the bending length of a cloth may lie outside
// the band that its trade adjective names (practice: adjectives are used
// loosely; about a quarter of a band).
const adjectiveSD = 0.10

// evidence is a bending length that one kind of knowledge suggests, in ln cm.
type evidence struct {
	mean, low, high float64 // low and high: standard deviations on each side
	what            string
	sources         []string
}

// predictBending estimates the bending length of an unmeasured cloth: the
// band of its hand (the cloth's own or its structure's) and the wide interval
// of all measured cloths, combined by precision, never narrower than the
// narrowest single piece of evidence.
func (c *Catalogue) predictBending(s Subject, ch *chain) Estimate {
	m := c.Estimate(s, Mass)
	g, src := 150.0, []string{"feng-2022"}
	if m.Known() {
		g = m.Typical
		src = appendNew(src, m.Sources...)
	}
	mid := predictScale * math.Pow(g, predictExponent)
	ev := []evidence{{mean: math.Log(mid * predictMedian), low: math.Log(predictMedian/predictLow) / z90,
		high: math.Log(predictHigh/predictMedian) / z90, what: "251 measured cloths of any name", sources: src}}
	ch.add("bending lengths of measured cloths of that mass, whatever their name",
		fmt.Sprintf("%.1f – %.1f – %.1f cm", mid*predictLow, mid*predictMedian, mid*predictHigh), true)
	if h, who, treat := c.handEvidence(s.Cloth); h.Known() {
		e := bandEvidence(h)
		e.what = fmt.Sprintf("the trade calls %s %s", who, h.Say())
		e.sources = h.Sources
		if treat {
			e = c.treatedEvidence(s.Cloth, e)
		}
		ev[0].low, ev[0].high = ev[0].low*anyNameWiden, ev[0].high*anyNameWiden
		ev = append(ev, e)
		ch.add("the hand the trade gives "+who, fmt.Sprintf("%s [%s]: %.1f – %.1f – %.1f cm", h.Say(), h.Sources[0],
			math.Exp(e.mean-z90*e.low), math.Exp(e.mean), math.Exp(e.mean+z90*e.high)), true)
	}
	return combine(ev)
}

// handEvidence is the cloth's own adjective, else its structure's (then
// treatments still count: the cloth's own name already includes them).
func (c *Catalogue) handEvidence(k *Cloth) (e Estimate, who string, treat bool) {
	if r := c.rows("cloth", k.ID, Hand); len(r) > 0 {
		e = r[0]
		for _, x := range r[1:] { // sources that differ widen the band
			e.Low, e.High = math.Min(e.Low, x.Low), math.Max(e.High, x.High)
			e.Sources = appendNew(append([]string{}, e.Sources...), x.Sources...)
		}
		e = Figure(Hand, e.Low, math.Max(e.Low, math.Min(e.High, e.Typical)), e.High, e.Basis, e.Because, e.Sources...)
		return e, "it", false
	}
	if r := c.rows("structure", k.Structure.ID, Hand); len(r) > 0 {
		return r[0], "its structure, " + k.Structure.Name + ",", true
	}
	return Estimate{Basis: Unknown}, "", false
}

func bandEvidence(h Estimate) evidence {
	lo, hi := HandEdges[int(h.Low)], HandEdges[int(h.High)+1]
	t := int(h.Typical)
	mean := math.Log(HandEdges[t]*HandEdges[t+1]) / 2
	return evidence{mean: mean,
		low:  math.Hypot(math.Max(0, mean-math.Log(lo))/z90, adjectiveSD),
		high: math.Hypot(math.Max(0, math.Log(hi)-mean)/z90, adjectiveSD)}
}

func (c *Catalogue) treatedEvidence(k *Cloth, e evidence) evidence {
	for _, t := range k.Treatments {
		for _, f := range c.effects[t.ID] {
			if f.property == "bending-length" && f.low > 0 {
				e.mean += math.Log(f.typical)
				sd := math.Log(f.high/f.low) / (2 * z90)
				e.low, e.high = math.Hypot(e.low, sd), math.Hypot(e.high, sd)
				e.what += ", changed by being " + t.Name
				e.sources = appendNew(e.sources, f.Source)
			}
		}
	}
	return e
}

// combine joins pieces of evidence by precision. The result keeps the width of
// the narrowest piece, since they are not independent, and adds what they
// disagree by.
func combine(ev []evidence) Estimate {
	var num, den float64
	narrow := ev[0]
	because := ""
	var src []string
	for i, e := range ev {
		sd := (e.low + e.high) / 2
		num, den = num+e.mean/(sd*sd), den+1/(sd*sd)
		if sd < (narrow.low+narrow.high)/2 {
			narrow = e
		}
		if i > 0 {
			because = e.what + "; " + because
		} else {
			because = e.what
		}
		src = appendNew(src, e.sources...)
	}
	mean := num / den
	off := math.Abs(mean - narrow.mean)
	lo, hi := math.Hypot(narrow.low, off/2), math.Hypot(narrow.high, off/2)
	return Figure(BendingLength, math.Exp(mean-z90*lo), math.Exp(mean), math.Exp(mean+z90*hi), Derived, because, src...)
}
