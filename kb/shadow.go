package kb

import (
	"fmt"
	"maps"
	"math"
	"strings"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/hang"
	"tenter/fibres/units"
	"tenter/kb/record"
)

// Shadow is what the drape test of a swatch came to.
type Shadow struct {
	Coefficient fibres.Estimate // per cent
	Folds       float64         // counted round the hem; 0: were not
	scale       float64         // of the tester against the usual one of 18 cm
}

// The usual tester at home, and how far the two rounds may stray from its ratio.
const (
	usualDisc, usualCircle = 18.0, 30.0
	ratioStray             = 0.05
)

// What a reading of the shadow may be out by, in points: laid anew, one cloth differs by
// shadowSpread (three starts of the computing lie so far apart); the rim of the shadow and its
// cutting are out by shadowRead. Common practice.
const (
	shadowSpread = 3
	shadowRead   = 3
)

// shadow reads one word of the drape test: the paper of the shadow and that of the whole
// circle, weighed; the shadow's area; a drape coefficient; or, behind "folds", a count.
func (p *readingParser) shadow(w string) (record.Reading, error) {
	if p.folds {
		p.folds = false
		n, err := wholeNumber(w, 0, 40)
		if err != nil {
			return nil, err
		}
		return record.Reading{"folds": float64(n)}, nil
	}
	disc, circle, err := p.o.rounds()
	if err != nil {
		return nil, err
	}
	square := func(d float64) float64 { return math.Pi * d * d / 4 }
	r := record.Reading{"disc_cm": disc, "circle_cm": circle}
	part := 0.0 // of the circle, in shadow
	if a, b, two := pair(w); two {
		shadow, _, okA := grams(a)
		whole, _, okB := grams(b)
		if !okA || !okB || shadow > whole {
			return nil, bad(w, "these are no two weights of paper", "the shadow's paper and the whole circle's, such as 4.1g:5.6g", "")
		}
		part, r["shadow_g"], r["whole_g"] = shadow/whole, shadow, whole
	} else if area, ok := strings.CutSuffix(strings.ReplaceAll(w, "²", "2"), "cm2"); ok {
		v, err := units.Parse(area)
		if err != nil || v.Kind != units.Number {
			return nil, bad(w, "this is no area", "the shadow's area, such as 480cm2", "")
		}
		part, r["shadow_cm2"] = v.Value/square(circle), v.Value
	} else {
		f, err := units.ParseFraction(w)
		if err != nil {
			return nil, bad(w, "this is no reading of a shadow", "two weights of paper, 4.1g:5.6g, an area, 480cm2, or the drape coefficient, 52%", "")
		}
		r["drape_pct"] = 100 * float64(f)
		return r, nil
	}
	d, err := hang.DrapeCoefficientFromShadow(part*square(circle), square(disc), square(circle))
	if err != nil {
		return nil, atWord(w, err)
	}
	r["drape_pct"] = d
	return r, nil
}

// rounds are the disc and the circle across, in cm.
func (o ReadingOptions) rounds() (disc, circle float64, err error) {
	across := func(text string, usual float64) (float64, error) {
		if text == "" {
			return usual, nil
		}
		l, err := units.ParseLengthIn(text, units.Centimetre)
		return float64(l), err
	}
	if disc, err = across(o.Disc, usualDisc); err != nil {
		return 0, 0, atWord("--disc", err)
	}
	if circle, err = across(o.Circle, usualCircle); err != nil {
		return 0, 0, atWord("--circle", err)
	}
	want := usualCircle / usualDisc
	if !(disc >= 5 && disc <= 60) || math.Abs(circle/disc/want-1) > ratioStray {
		return 0, 0, &fault.Fault{Kind: fault.OutsideRange, Where: "--disc", What: fmt.Sprintf("a circle of %s cm over a disc of %s cm", fibres.Round(circle), fibres.Round(disc)),
			Expected: "a circle five thirds as wide as the disc: 30 cm over 18 cm, 20 cm over 12 cm", Mend: "cut the circle to the tin"}
	}
	return disc, circle, nil
}

// shadow pools the drape tests of one swatch.
func (e *Evidence) shadow(ms []record.Measurement) {
	var v, folds []float64
	scale := 0.0
	for _, m := range ms {
		for _, r := range m.Readings {
			if n, ok := figure(r, "folds"); ok {
				folds = append(folds, n)
			}
			if d, ok := figure(r, "drape_pct"); ok && d >= 0 && d <= 100 {
				v = append(v, d)
				disc, has := figure(r, "disc_cm")
				if !has {
					disc = usualDisc
				}
				scale += disc / usualDisc
			}
		}
	}
	if len(v) == 0 {
		if len(folds) > 0 {
			e.Notes = append(e.Notes, "Folds alone tell little: a cloth laid anew shows one or two more or fewer. Weigh or measure the shadow as well.")
		}
		return
	}
	mean, half, _ := fibres.Pool(v, shadowSpread, shadowRead)
	s := &Shadow{scale: scale / float64(len(v))}
	s.Coefficient = fibres.Estimate{Low: math.Max(0, mean-half), Typical: mean, High: math.Min(100, mean+half), Unit: "%", Basis: fibres.Measured, Sources: []string{}, Because: because(len(v), "drape test", ms)}
	say := fmt.Sprintf("The drape coefficient is %.0f %% (%.0f to %.0f)", mean, s.Coefficient.Low, s.Coefficient.High)
	for _, n := range folds {
		s.Folds += n / float64(len(folds))
	}
	if s.Folds > 0 {
		say += fmt.Sprintf(", with %s folds; they are kept, and move nothing, for two more or fewer rest as well", fibres.Round(s.Folds))
	}
	e.Shadow, e.Notes = s, append(e.Notes, say+".")
}

// narrow puts what a drape test tells into a subject: it moves the bending length, where no
// ruler told that better, and the resistance to shear in pictures.
func (b *Base) narrow(s *fibres.Subject, w *Shadow) {
	before := *s
	c, m := b.Cat.Estimate(before, fibres.BendingLength), b.Cat.Estimate(before, fibres.Mass)
	ruled := c.Known() && c.Basis == fibres.Measured
	mass := units.ArealMass(m.Typical)
	if !m.Known() {
		mass = 150 // shear alone hangs on it, and little
	}
	held := hang.Range{Low: c.Low, Typical: c.Typical, High: c.High}
	if !c.Known() {
		any, err := hang.WithoutReading(mass)
		if err != nil {
			return
		}
		held = hang.Range{Low: float64(any.Low), Typical: float64(any.Typical), High: float64(any.High)}
	}
	// The same shape comes of a tester so many times as large with every length so many times as long.
	scaled := hang.Range{Low: held.Low / w.scale, Typical: held.Typical / w.scale, High: held.High / w.scale}
	heavier := units.ArealMass(float64(mass) * w.scale)
	half := (w.Coefficient.High - w.Coefficient.Low) / 2 / 1.2816
	bend, shear, err := hang.StiffnessFromDrape(w.Coefficient.Typical, half, heavier, scaled, hang.UsualShear)
	if err != nil {
		return
	}
	because := fmt.Sprintf("a drape coefficient of %.0f %% and what was held before, by a model that was 13 points off over ten cloths", w.Coefficient.Typical)
	s.Shear = fibres.Estimate{Low: shear.Low, Typical: shear.Typical, High: shear.High, Unit: "N/m", Basis: fibres.Derived, Sources: []string{}, Because: because}
	if ruled {
		return
	}
	known := maps.Clone(s.Known)
	if known == nil {
		known = map[fibres.Property]fibres.Estimate{}
	}
	known[fibres.BendingLength] = fibres.Figure(fibres.BendingLength, bend.Low*w.scale, bend.Typical*w.scale, bend.High*w.scale, fibres.Derived, because)
	s.Known = known
}
