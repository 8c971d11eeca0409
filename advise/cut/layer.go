package cut

import (
	"math/bits"
	"strconv"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/price"
	"tenter/fibres/shrink"
	"tenter/fibres/units"
)

// Layer is one layer of cloth that parts are cut from.
type Layer struct {
	Name, Cloth  string // "shell", and what the cloth is called
	Warp, Weft   fibres.Estimate
	Width        fibres.Estimate // as sold, cm
	WidthGiven   bool            // the user said it: no cloth is narrower
	Old          OldWidth        // the width that an old book gives; its year is 0 where none does
	Selvedge     units.Length    // not used, on each side
	Treatment    Treatment       // what the piece goes through; "" is washed
	Prewashed    bool            // it has had its first wash
	Folded       bool            // laid selvedge to selvedge
	OneWay       bool            // nap or figure: no part is turned end for end
	CrossGrain   bool            // parts may be laid a quarter turn
	Repeat       units.Length    // of the figure along the cloth, to be matched; 0 is none
	RepeatAcross units.Length    // of stripes across it
	Price        *price.Price    // nil is not known

	sys       units.System  // that its sentences are written in
	Join      bool          // parts wider than the cloth may be joined from strips
	Only      []string      // the parts cut from it; empty is all, of a lining all but the shell's own
	Allowance *units.Length // on every edge, where it is another than the job's

	// warp and weft hold the shrinkage of each member of the population in per
	// cent, for the gap; nil where it is not known.
	warp, weft []float64
	care       treatment

	fold foldWish // of cloth laid folded
}

// usualWidth is taken where no cloth is named whose width is known.
var usualWidth = fibres.Figure(fibres.Width, 110, 140, 150, fibres.Practice, "the widths cloth is commonly sold in")

// InterfacingWidth is how wide interfacings are sold.
var InterfacingWidth = fibres.Figure(fibres.Width, 80, 90, 150, fibres.Practice, "the widths interfacing is commonly sold in", "practice")

// NewLayer makes a layer of a cloth with what is known of its shrinkage in the
// first wash and of the widths it is sold in.
func NewLayer(cat *fibres.Catalogue, name string, s fibres.Subject, salt fibres.Salt) Layer {
	return NewSampledLayer(cat, name, s, cat.Sample(s, salt))
}

// NewSampledLayer is [NewLayer] for a cloth whose population is drawn already.
func NewSampledLayer(cat *fibres.Catalogue, name string, s fibres.Subject, sample *fibres.Sample) Layer {
	l := Layer{Name: name, Cloth: s.Label(), Price: s.Price, Warp: cat.Estimate(s, fibres.ShrinkWarp), Weft: cat.Estimate(s, fibres.ShrinkWeft), Width: cat.Estimate(s, fibres.Width)}
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
	l.warp, l.weft = sample.Of(fibres.ShrinkWarp), sample.Of(fibres.ShrinkWeft)
	return l
}

// narrowLooms is the year before which a recorded width is that of looms no
// longer in use.
const narrowLooms = 1950

// OldWidth is a width of looms no longer in use, and the year of the book that gives it.
type OldWidth struct {
	Year  int
	Width units.Range[units.Length]
}

// oldWidth is the recorded width of a cloth that is still sold, where it is from an
// old book.
func oldWidth(cat *fibres.Catalogue, s fibres.Subject, e fibres.Estimate) (OldWidth, bool) {
	if s.Cloth == nil || s.Cloth.Era == "historical" || e.Basis != fibres.Published || len(e.Sources) == 0 {
		return OldWidth{}, false
	}
	src := cat.Sources[e.Sources[0]]
	if src == nil {
		return OldWidth{}, false
	}
	year, err := strconv.Atoi(src.Year[:min(4, len(src.Year))])
	if err != nil || year >= narrowLooms {
		return OldWidth{}, false
	}
	w := units.Range[units.Length]{Low: units.Length(e.Low), High: units.Length(e.High)}
	return OldWidth{year, w}, true
}

// Treatment is what a finished piece goes through when it is cleaned.
type Treatment string

// The treatments.
const (
	Washed     Treatment = "wash"
	DryCleaned Treatment = "dry-clean"
	Steamed    Treatment = "steam"
)

// NotWashed reports whether the cloth stands no wash at all.
func (l Layer) NotWashed() bool {
	w := l.care.wash
	return w.Known() && fibres.WashScale.Word(w.Typical) == "dry-clean"
}

// In says when a cloth shrinks: "in the first wash".
func (t Treatment) In() string {
	switch t {
	case DryCleaned:
		return "in dry-cleaning"
	case Steamed:
		return "under steam"
	}
	return "in the first wash"
}

// First is what is done to a cloth before it is cut: "washed".
func (t Treatment) First() string {
	if t == DryCleaned || t == Steamed {
		return "steamed"
	}
	return "washed"
}

// Treat reckons with what a treatment other than washing takes out of the cloth;
// what was measured stays. Dry-cleaning ends in steam: where nobody tells of the
// one, the other stands for it.
func (l *Layer) Treat(as Treatment) {
	l.Treatment = as
	if as == Washed {
		return
	}
	const _ = uint8(fibres.N - 1) // eight bits hold a member's number
	for i, x := range []struct {
		e      *fibres.Estimate
		sample *[]float64
	}{{&l.Warp, &l.warp}, {&l.Weft, &l.weft}} {
		if x.e.Basis == fibres.Measured {
			continue
		}
		to := l.care.clean[i]
		if as == Steamed || !to.Known() {
			to = l.care.steam[i]
		}
		*x.e, *x.sample = to, nil
		if !to.Known() {
			*x.e = fibres.Estimate{Unit: "%", Basis: fibres.Unknown, Sources: []string{}, Because: "nobody tells how it shrinks without a wash"}
			continue
		}
		for k := range fibres.N {
			// In order for the shell, with its bits turned round for other layers: so
			// that they do not shrink in step (a Hammersley set).
			n := k
			if l.Name != "shell" {
				n = int(bits.Reverse8(uint8(k)))
			}
			u := (float64(n) + 0.5) / fibres.N
			*x.sample = append(*x.sample, to.Quantile(u))
		}
	}
}

// SetWidth says how wide the cloth is.
func (l *Layer) SetWidth(w units.Range[units.Length]) {
	l.Width = fibres.Figure(fibres.Width, float64(w.Low), float64(w.Low+w.High)/2, float64(w.High), fibres.Measured, "the width you gave")
	l.WidthGiven, l.Old = w.Single(), OldWidth{}
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
