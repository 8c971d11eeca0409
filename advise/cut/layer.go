package cut

import (
	"fmt"
	"strconv"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/shrink"
	"tenter/fibres/units"
)

// Layer is one layer of cloth that parts are cut from.
type Layer struct {
	Name, Cloth  string // "shell", and what the cloth is called
	Warp, Weft   fibres.Estimate
	Width        fibres.Estimate // as sold, cm
	WidthGiven   bool            // the user said it: no cloth is narrower
	Old          string          // the width that an old book gives, in words
	Selvedge     units.Length    // not used, on each side
	Prewashed    bool            // it has had its first wash
	Folded       bool            // laid selvedge to selvedge
	OneWay       bool            // nap or figure: no part is turned end for end
	CrossGrain   bool            // parts may be laid a quarter turn
	Repeat       units.Length    // of the figure along the cloth, to be matched; 0 is none
	RepeatAcross units.Length    // of stripes across it

	// warp and weft hold the shrinkage of each member of the population in per
	// cent, for the gap; nil where it is not known.
	warp, weft []float64
	care       treatment
}

// usualWidth is taken where no cloth is named whose width is known.
var usualWidth = fibres.Figure(fibres.Width, 110, 140, 150, fibres.Practice, "the widths cloth is commonly sold in")

// NewLayer makes a layer of a cloth with what is known of its shrinkage in the
// first wash and of the widths it is sold in.
func NewLayer(cat *fibres.Catalogue, name string, s fibres.Subject, salt fibres.Salt) Layer {
	l := Layer{Name: name, Cloth: s.Label(), Warp: cat.Estimate(s, fibres.ShrinkWarp), Weft: cat.Estimate(s, fibres.ShrinkWeft), Width: cat.Estimate(s, fibres.Width)}
	if old, ok := oldWidth(cat, s, l.Width); ok {
		today := *s.Cloth
		today.ID = "" // no row of its own: what follows from its structure
		l.Old, l.Width = old, cat.Estimate(fibres.Subject{Cloth: &today}, fibres.Width)
	}
	if !l.Width.Known() {
		l.Width = usualWidth
	}
	l.care = treatmentOf(cat, s)
	nap := cat.Estimate(s, fibres.Nap)
	l.OneWay = nap.Known() && nap.Typical >= 0.5
	sample := cat.Sample(s, salt)
	l.warp, l.weft = sample.Values[fibres.ShrinkWarp], sample.Values[fibres.ShrinkWeft]
	return l
}

// narrowLooms is the year before which a recorded width is that of looms no
// longer in use.
const narrowLooms = 1950

// oldWidth tells, of a cloth still sold, whether its recorded width is from an
// old book, and in words what the book says.
func oldWidth(cat *fibres.Catalogue, s fibres.Subject, e fibres.Estimate) (string, bool) {
	if s.Cloth == nil || s.Cloth.Era == "historical" || e.Basis != fibres.Published || len(e.Sources) == 0 {
		return "", false
	}
	src := cat.Sources[e.Sources[0]]
	if src == nil {
		return "", false
	}
	year, err := strconv.Atoi(src.Year[:min(4, len(src.Year))])
	if err != nil || year >= narrowLooms {
		return "", false
	}
	w := units.Range[units.Length]{Low: units.Length(e.Low), High: units.Length(e.High)}
	return fmt.Sprintf("%s in %d", w.In(units.Metric), year), true
}

// SetWidth says how wide the cloth is.
func (l *Layer) SetWidth(w units.Range[units.Length]) {
	l.Width = fibres.Figure(fibres.Width, float64(w.Low), float64(w.Low+w.High)/2, float64(w.High), fibres.Measured, "the width you gave")
	l.WidthGiven, l.Old = w.Single(), ""
}

// SetShrink says what the cloth loses in its first wash.
func (l *Layer) SetShrink(warp, weft units.Range[units.Fraction]) error {
	var found fault.List
	for _, r := range []units.Range[units.Fraction]{warp, weft} {
		if _, err := shrink.CutFromFinished(1, r.High); err != nil {
			found.Add(err)
		}
	}
	if err := found.OrNil(); err != nil {
		return err
	}
	set := func(p fibres.Property, r units.Range[units.Fraction]) (fibres.Estimate, []float64) {
		lo, hi := float64(r.Low)*100, float64(r.High)*100
		e := fibres.Figure(p, lo, (lo+hi)/2, hi, fibres.Measured, "the shrinkage you gave")
		if lo == hi {
			return e, []float64{lo}
		}
		out := make([]float64, fibres.N)
		for i := range out {
			out[i] = lo + (hi-lo)*(float64(i)+0.5)/fibres.N
		}
		return e, out
	}
	l.Warp, l.warp = set(fibres.ShrinkWarp, warp)
	l.Weft, l.weft = set(fibres.ShrinkWeft, weft)
	return nil
}
