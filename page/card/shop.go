package card

import (
	"fmt"
	"math"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/hang"
	"tenter/fibres/prose"
	"tenter/fibres/units"
)

// scanSteps is how many figures of a property are tried over what a cloth is
// sold with.
const scanSteps = 33

// window is which figures of one property let a make-up suit, as far as the
// property is tried: from and to are the ends of what was tried where open.
type window struct {
	from, to         float64
	openLow, openTop bool
	none             bool
	// refuse are the figures beyond which it is unsuited; 0 where nothing is.
	refuseUnder, refuseOver float64
}

// windowOf tries a layer's property over what it is sold with, a little beyond
// each end, and finds where the make-up suits. lining says which layer is meant.
func windowOf(a *advise.Adviser, m advise.MakeUp, p fibres.Property, lining bool) (window, bool) {
	s := m.Shell
	if lining {
		s = m.Lining
	}
	var w window
	if s == nil {
		return w, false
	}
	e := a.Cat.Estimate(*s, p)
	if !e.Known() || e.Low <= 0 {
		return w, false
	}
	info := fibres.Properties[p]
	low, high := math.Max(info.Low, e.Low*0.7), math.Min(info.High, e.High*1.45)
	at := make([]float64, scanSteps)
	for i := range at {
		at[i] = low * math.Pow(high/low, float64(i)/(scanSteps-1))
	}
	verdicts := make([]string, scanSteps)
	return windowIn(at, func(i int) string {
		if verdicts[i] == "" {
			one, x := m, s.With(a.Cat, p, at[i], at[i])
			if lining {
				one.Lining = &x
			} else {
				one.Shell = &x
			}
			verdicts[i], _ = a.Verdict(one)
		}
		return verdicts[i]
	}), true
}

// windowIn is the window of figures in order, by the verdict on each: from the first
// that suits to the last, and what is refused below and above. What lies between the two
// is not asked.
func windowIn(at []float64, verdict func(i int) string) (w window) {
	first, last := 0, len(at)-1
	for first < len(at) && verdict(first) != advise.Suits {
		first++
	}
	if first == len(at) {
		w.none = true
		return w
	}
	for verdict(last) != advise.Suits {
		last--
	}
	w.from, w.to = at[first], at[last]
	w.openLow, w.openTop = first == 0, last == len(at)-1
	for i := first - 1; i >= 0 && w.refuseUnder == 0; i-- {
		if verdict(i) == advise.Unsuited {
			w.refuseUnder = at[i]
		}
	}
	for i := last + 1; i < len(at) && w.refuseOver == 0; i++ {
		if verdict(i) == advise.Unsuited {
			w.refuseOver = at[i]
		}
	}
	return w
}

// Look is one thing to look for in the shop.
type Look struct{ What, Want string }

// overhang is how much hangs free over the hand in the shop: a round length at
// which a cloth of the bending length drops by about three quarters of it, where
// the eye tells cloths apart best.
func overhang(c float64, sys units.System) units.Length {
	lengths := []units.Length{4, 5, 6, 8, 10, 12, 15, 20}
	if sys == units.Imperial {
		lengths = []units.Length{1.5 * units.Inch, 2 * units.Inch, 3 * units.Inch, 4 * units.Inch, 5 * units.Inch, 6 * units.Inch, 8 * units.Inch}
	}
	best, miss := lengths[0], math.Inf(1)
	for _, l := range lengths {
		if d, ok := dropOf(l, c); ok {
			if m := math.Abs(d/float64(l) - 0.75); m < miss {
				best, miss = l, m
			}
		}
	}
	return best
}

// dropOf is how far the end of a free strip drops, of a cloth of a bending
// length.
func dropOf(long units.Length, c float64) (float64, bool) {
	h, err := hang.Hang(hang.Flap{Segments: []hang.Segment{{Length: long, Rigidity: hang.RigidityFromBendingLength(units.Length(c), anyMass), Mass: anyMass}}}, 0)
	return float64(h.Drop), err == nil
}

// shop fills in what to look for and what to refuse.
func (w *writer) shop() {
	m, c := w.m, w.card
	refuse := func(s string) { c.Refuse = append(c.Refuse, s) }
	for _, lining := range []bool{false, true} {
		s, layer := m.Shell, "Shell"
		if lining {
			s, layer = m.Lining, "Lining"
			if s == nil || m.Finish == nil || !m.Finish.Lined {
				continue
			}
		}
		e := w.a.Cat.Estimate(*s, fibres.Mass)
		look := Look{What: layer + ", weight"}
		switch win, ok := windowOf(w.a, m, fibres.Mass, lining); {
		case !ok:
			look.Want = "Not known what it weighs: weigh a square of 10 cm; grams times 100 are g/m²."
		case e.Basis == fibres.Measured:
			look.Want = "Yours: " + e.In(c.Units) + "."
		case win.none:
			look.Want = fmt.Sprintf("Sold at %s (typical %s); weight alone does not settle it.", fibres.Quantities(e.Low, e.High, "g/m2", c.Units), fibres.Quantity(e.Typical, "g/m2", c.Units))
		default:
			lo, hi := roundTo(win.from, 5), roundTo(win.to, 5)
			switch {
			case win.openLow && win.openTop:
				look.Want = fmt.Sprintf("Any it is sold at, %s; typical %s.", fibres.Quantities(e.Low, e.High, "g/m2", c.Units), fibres.Quantity(e.Typical, "g/m2", c.Units))
			case win.openLow:
				look.Want = fmt.Sprintf("At most %s (typical %s).", fibres.Quantity(hi, "g/m2", c.Units), fibres.Quantity(e.Typical, "g/m2", c.Units))
			case win.openTop:
				look.Want = fmt.Sprintf("At least %s (typical %s).", fibres.Quantity(lo, "g/m2", c.Units), fibres.Quantity(e.Typical, "g/m2", c.Units))
			default:
				look.Want = fmt.Sprintf("%s (typical %s).", fibres.Quantities(lo, hi, "g/m2", c.Units), fibres.Quantity(e.Typical, "g/m2", c.Units))
			}
			if win.refuseUnder > 0 {
				refuse(fmt.Sprintf("%s lighter than %s.", layer, fibres.Quantity(roundTo(win.refuseUnder, 5), "g/m2", c.Units)))
			}
			if win.refuseOver > 0 {
				refuse(fmt.Sprintf("%s heavier than %s.", layer, fibres.Quantity(roundTo(win.refuseOver, 5), "g/m2", c.Units)))
			}
		}
		c.Look = append(c.Look, look)
		w.use(e.Sources...)
		if !lining {
			w.droop(refuse)
		}
	}
	for _, l := range w.plan.Layers {
		widest := 0.0
		for _, p := range l.Buy.Lie {
			widest = math.Max(widest, p.Across)
		}
		if l.Buy.Folded {
			widest *= 2
		}
		if need := widest + l.Buy.Width - l.Buy.Usable; need > 0.6*l.Buy.Width {
			refuse(fmt.Sprintf("%s narrower than %s: the widest part would not lie on it.", prose.Upper(l.Layer), fibres.Quantity(math.Ceil(need), "cm", c.Units)))
		}
	}
	refuse("Cloth finished or printed off square (a weft thread should meet the selvedge at a right angle), faded along its fold, or with a crease that a thumb does not smooth.")
}

// droop says how the shell should droop over the hand.
func (w *writer) droop(refuse func(string)) {
	e := w.a.Cat.Estimate(*w.m.Shell, fibres.BendingLength)
	if w.m.Piece.Flap <= 0 || !e.Known() {
		return
	}
	win, ok := windowOf(w.a, w.m, fibres.BendingLength, false)
	if !ok {
		return
	}
	long := overhang(win.edge(e.Typical), w.card.Units)
	want, ok := w.droopWanted(win, e, long)
	if !ok {
		return
	}
	w.card.Look = append(w.card.Look, Look{What: "Shell, droop over the hand", Want: want})
	w.use(e.Sources...)
	if win.none || e.Basis == fibres.Measured {
		return
	}
	if win.refuseOver > 0 {
		if d, ok := dropOf(long, win.refuseOver); ok {
			refuse(fmt.Sprintf("Shell that drops less than %s: it stands out too far.", w.dropped(d)))
		}
	}
	if win.refuseUnder > 0 {
		if d, ok := dropOf(long, win.refuseUnder); ok && w.dropped(d) != w.dropped(float64(long)) {
			refuse(fmt.Sprintf("Shell that drops more than %s: it is too limp.", w.dropped(d)))
		}
	}
}

// edge is the bending length that the eye has to tell.
func (win window) edge(typical float64) float64 {
	switch {
	case win.none || win.openLow && win.openTop:
		return typical
	case win.openLow:
		return win.to
	case win.openTop:
		return win.from
	}
	return math.Sqrt(win.from * win.to)
}

// dropped says a drop as the eye reads it off.
func (w *writer) dropped(l float64) string {
	if w.card.Units == units.Imperial {
		return fibres.Quantity(l, "cm", w.card.Units)
	}
	return fibres.Quantity(roundTo(l, 0.2), "cm", w.card.Units)
}

// droopWanted says how far the end of so much cloth should drop; false where no eye
// tells it.
func (w *writer) droopWanted(win window, e fibres.Estimate, long units.Length) (string, bool) {
	free := fibres.Quantity(float64(long), "cm", w.card.Units)
	how := fmt.Sprintf("Let %s of a straight edge hang free over the edge of your hand, held level: its end should drop ", free)
	most, ok1 := dropOf(long, win.from)
	least, ok2 := dropOf(long, win.to)
	switch {
	case e.Basis == fibres.Measured:
		return fmt.Sprintf("Yours: bending length %s, measured.", e.In(w.card.Units)), true
	case win.none:
		return "No droop alone makes it suit: read the verdict first.", true
	case !ok1 || !ok2:
		return "", false
	case win.openLow && win.openTop:
		d, ok := dropOf(long, e.Typical)
		return fmt.Sprintf("Any it is sold with does; the typical one drops %s of %s over the hand.", w.dropped(d), free), ok
	case win.openLow:
		return how + "at least " + w.dropped(least) + ".", true
	case win.openTop:
		return how + "at most " + w.dropped(most) + ".", true
	}
	return how + w.dropped(least) + " to " + w.dropped(most) + ".", true
}

// roundTo rounds to a step that a maker reads off.
func roundTo(v, step float64) float64 { return math.Round(v/step) * step }
