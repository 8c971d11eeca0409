package main

import (
	"fmt"
	"math"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/shrink"
	"tenter/fibres/units"
	"tenter/fibres/yarn"
)

var pressKind = reckonKind{
	name: "press", use: "press [\"BLEND\"] [--layer CLOTH …] [--fuse INTERFACING]", short: "how hot a blend, a stack or a fusible in it may be pressed",
	long: `The hottest sole plate that a blend or a stack takes, in degrees and in the iron's
dots, and whether to steam. A blend is pressed as its tenderest fibre; less than 8 %
of elastane lowers the cautious figure alone. --fuse takes an interfacing's name or a range of heat and says
whether it can be fused into the stack.`,
	example: `  tenter reckon press "65% polyester 35% cotton"
  tenter reckon press "97% cotton 3% elastane" --fuse "130-150C"
  tenter reckon press --layer wool-flannel --layer silk-taffeta`,
	args: cobra.MaximumNArgs(1),
	flags: func(f *pflag.FlagSet) {
		f.StringArray("layer", nil, "a cloth of the stack, by name; may be repeated")
		f.String("fuse", "", "a fusible interfacing by name, or the heat it asks for: 130-150C")
	},
	run: runPress,
}

// pressed gathers the blend and the cloths of a stack, and what they are like under
// heat.
func (q *given) pressed(args []string) (layers []fibres.Subject, traits []yarn.Trait) {
	adv, err := q.a.adv()
	if err != nil {
		q.bad("given", err)
		return
	}
	if len(args) == 1 {
		blend := fibres.Subject{Name: args[0]}
		for _, p := range q.parseBlend(args[0]) {
			share := 100 * float64(p.share)
			blend.Content = append(blend.Content, fibres.Part{Fibre: p.fibre, Share: fibres.Estimate{Low: share, Typical: share, High: share, Unit: "%", Basis: fibres.Measured}})
			traits = append(traits, adv.TraitsOfFibre(p.fibre, float64(p.share))...)
		}
		layers = append(layers, blend)
	}
	for _, name := range q.list("layer") {
		s, err := q.a.subject(name)
		if err != nil {
			q.bad("layer", err)
			continue
		}
		layers = append(layers, *s)
		traits = append(traits, adv.TraitsOf(s)...)
	}
	if len(layers) == 0 && len(q.found) == 0 {
		q.refuse("layer", "nothing is named to be pressed", `a blend such as "65% polyester 35% cotton", or --layer with a cloth`, "")
	}
	return
}

// fuseHeat reads what a fusible asks for.
func (q *given) fuseHeat() (units.Range[units.Temperature], []string) {
	t := q.text("fuse")
	if r, err := units.ParseTemperatureRange(t); err == nil {
		return r, nil
	}
	adv, err := q.a.adv()
	if err == nil {
		var x *advise.Interfacing
		if x, err = adv.Interfacing(t); err == nil {
			if x.HeatHigh == 0 {
				q.refuse("fuse", x.Name+" is sewn in, not fused", "a fusible interfacing, or a range of heat such as 130-150C", "`tenter list interfacings` shows them")
				return units.Range[units.Temperature]{}, nil
			}
			return units.Range[units.Temperature]{Low: units.Temperature(x.HeatLow), High: units.Temperature(x.HeatHigh)}, x.Sources
		}
	}
	q.bad("fuse", err)
	return units.Range[units.Temperature]{}, nil
}

func runPress(q *given, args []string) (*reckoned, error) {
	layers, traits := q.pressed(args)
	var heat units.Range[units.Temperature]
	var sources []string
	if q.has("fuse") {
		heat, sources = q.fuseHeat()
	}
	if len(q.found) > 0 {
		return nil, q.found.OrNil()
	}
	adv, err := q.a.adv()
	if err != nil {
		return nil, err
	}
	e := adv.Cat.Heat(layers...)
	e.Chain = nil
	l := e.Limit()
	r := &reckoned{Method: "the least limit of all parts; a trace of an elastic fibre lowers the cautious end alone", Valid: "one fibre or layer or more", Accuracy: "on the safe side; an iron's thermostat swings by 10 to 20 degrees Celsius, 18 to 36 Fahrenheit",
		Source: "common practice; dots after two public explanations of the care signs (read)", Sources: append(sources, e.Sources...)}
	if e.Known() && !l.Iron {
		e.Words = []string{"do not iron", "do not iron", "do not iron"}
	}
	r.add(figure{Name: "hottest sole plate", Estimate: e})
	if d, ok := l.Dots(); ok && l.Iron {
		g := exactly("iron's dots", float64(d), "dots", d.String())
		word := d.String()
		if d == 0 {
			word = "below one dot: no setting is cool enough"
		}
		g.exact, g.Words = false, []string{word, word, word}
		r.add(g)
	}
	steam, how, err := yarn.SteamFor(l, traits...)
	if err != nil {
		return nil, err
	}
	r.note("Steam: %s. %s", steam, strings.Join(how, " "))
	if q.has("fuse") {
		fz, err := yarn.FuseInto(l, heat)
		if err != nil {
			return nil, err
		}
		if fz.Possible {
			r.add(derived("fuse at", float64(fz.At.Low), (float64(fz.At.Low)+float64(fz.At.High))/2, float64(fz.At.High), "C", "the fusible's heat, held to the stack's limit"))
		}
		r.note("%s", fz.Say)
	}
	r.note("It rests on: %s.", e.Because)
	r.note("Iron and steam burn: a scrap first, hands clear, children away.")
	return r, nil
}

var shrinkKind = reckonKind{
	name: "shrink", use: "shrink --before L --after L | --finished L --shrink % | …", short: "shrinkage from marks, size to cut, one wash to many",
	long: `From the marks on a swatch to per cent; from a finished size to the size to cut (cut =
finished / (1 − s)) and back; from the first wash to many; and what a pre-wash leaves
to come. Shrinkage is the loss over the length before; a cloth that grew has less than
zero.`,
	example: `  tenter reckon shrink --before 25cm --after 23.9cm
  tenter reckon shrink --finished 76cm --shrink 5%
  tenter reckon shrink --finished 30in --shrink "3 to 6 %" --units imperial
  tenter reckon shrink --first 4% --limit 7% --washes 5
  tenter reckon shrink --whole 8% --done 5%`,
	args: cobra.NoArgs,
	flags: func(f *pflag.FlagSet) {
		f.String("before", "", "between the marks before washing")
		f.String("after", "", "between the same marks after")
		f.String("finished", "", "length wanted when all is shrunk: gives the length to cut")
		f.String("cut", "", "length that is cut: gives what is left of it")
		f.String("shrink", "", "shrinkage still to come, one figure or a range: 5%")
		f.String("first", "", "shrinkage in the first wash, for many washes")
		f.String("limit", "", "what many washes come to in all")
		f.String("after-washes", "", "shrinkage in all after --washes, to find the limit")
		f.String("washes", "", "how many washes")
		f.String("whole", "", "whole shrinkage of the cloth as bought")
		f.String("done", "", "the part already taken out, of the length as bought")
		f.String("then", "", "a second treatment after --shrink, on what the first left")
	},
	run: runShrink,
}

func runShrink(q *given, _ []string) (*reckoned, error) {
	r := &reckoned{Valid: "shrinkage −20 % (grown) to 60 %", Accuracy: "exact arithmetic; 1 mm on marks 25 cm apart is 0.4 points", Source: "W. H. Dooley, Textiles, 1914 (read) for the definition; arithmetic",
		Sources: []string{"dooley-1914"}}
	pc := func(name string, f units.Fraction, because string) {
		r.add(exactly(name, 100*float64(f), "%", because))
	}
	switch {
	case q.has("first"):
		return q.manyWashes(r, pc)
	case q.has("whole"):
		return q.stillToCome(r, pc)
	}
	s, has := q.fractionRange("shrink"), q.has("shrink")
	if q.has("before") || q.has("after") {
		marks, err := q.marks(r)
		if err != nil {
			return nil, err
		}
		if !has {
			s, has = marks, true
		}
	}
	if q.has("then") {
		return q.oneAfterTheOther(r, s, pc)
	}
	if err := q.sizesShrunk(r, s, has); err != nil {
		return nil, err
	}
	if len(r.figures) == 0 && len(q.found) == 0 {
		return nil, &fault.Fault{Kind: fault.WrongCall, What: "nothing is given to work it out from", Expected: "--before and --after, --finished and --shrink, --first and --washes, or --whole and --done", Mend: "`tenter reckon shrink --help` shows each"}
	}
	return r, q.found.OrNil()
}

// stillToCome is what a pre-wash leaves of the whole shrinkage.
func (q *given) stillToCome(r *reckoned, pc func(string, units.Fraction, string)) (*reckoned, error) {
	q.need("done", "what was already taken out", "5%")
	whole, done := q.fraction("whole"), q.fraction("done")
	if len(q.found) > 0 {
		return nil, q.found.OrNil()
	}
	left, err := shrink.LeftAfter(whole, done)
	if err != nil {
		return nil, err
	}
	r.Method = "left = 1 − (1 − whole) / (1 − done)"
	pc("still to come", left, "of the length it has now")
	return r, nil
}

// marks is the shrinkage between marks on a swatch, each read to a millimetre.
func (q *given) marks(r *reckoned) (s units.Range[units.Fraction], err error) {
	q.need("before", "between the marks before", "25cm")
	q.need("after", "between the marks after", "23.9cm")
	b, a := q.length("before"), q.length("after")
	if len(q.found) > 0 {
		return s, q.found.OrNil()
	}
	v, err := shrink.FromMarks(b, a)
	if err != nil {
		return s, err
	}
	e := units.Fraction(0.1 / float64(b)) // a millimetre misread
	f := derived("shrinkage", 100*float64(v-e), 100*float64(v), 100*float64(v+e), "%", "from the marks, each read to a millimetre")
	f.Basis = fibres.Measured
	r.add(f)
	r.Method = "s = (before − after) / before"
	return units.Range[units.Fraction]{Low: v - e, High: v + e}, nil
}

// oneAfterTheOther is what two treatments come to.
func (q *given) oneAfterTheOther(r *reckoned, s units.Range[units.Fraction], pc func(string, units.Fraction, string)) (*reckoned, error) {
	q.need("shrink", "the first treatment's shrinkage", "5%")
	two := q.fraction("then")
	if len(q.found) > 0 {
		return nil, q.found.OrNil()
	}
	v, err := shrink.Compose(s.Low, two)
	if err != nil {
		return nil, err
	}
	r.Method = "s = 1 − (1 − s₁)(1 − s₂)"
	pc("both together", v, "one after the other")
	return r, nil
}

// sizesShrunk goes from finished sizes to cut ones and back.
func (q *given) sizesShrunk(r *reckoned, s units.Range[units.Fraction], known bool) error {
	for _, x := range []struct {
		flag, name, method string
		of                 func(units.Length, units.Fraction) (units.Length, error)
	}{
		{"finished", "cut", "cut = finished / (1 − s)", shrink.CutFromFinished},
		{"cut", "finished", "finished = cut (1 − s)", shrink.FinishedFromCut},
	} {
		if !q.has(x.flag) {
			continue
		}
		if !known {
			q.refuse("shrink", "the shrinkage is not given", "per cent still to come, or --before and --after of a swatch", "--shrink 5%")
			return q.found.OrNil()
		}
		l := q.length(x.flag)
		if len(q.found) > 0 {
			return q.found.OrNil()
		}
		var v [3]float64
		for i, f := range []units.Fraction{s.Low, (s.Low + s.High) / 2, s.High} {
			got, err := x.of(l, f)
			if err != nil {
				return err
			}
			v[i] = float64(got)
		}
		r.add(derived(x.name, math.Min(v[0], v[2]), v[1], math.Max(v[0], v[2]), "cm", fmt.Sprintf("%s along one direction", x.method)))
		if r.Method != "" {
			r.Method += "; "
		}
		r.Method += x.method
	}
	return nil
}

// manyWashes goes from the first wash to many, or from many to the limit.
func (q *given) manyWashes(r *reckoned, pc func(string, units.Fraction, string)) (*reckoned, error) {
	q.need("washes", "how many washes", "5")
	n := q.number("washes")
	if n != math.Trunc(n) {
		q.refuse("washes", q.text("washes")+" is not a whole number", "a whole number of washes", "")
	}
	first := q.fraction("first")
	if !q.has("limit") && !q.has("after-washes") {
		q.refuse("limit", "neither the limit nor the shrinkage after the washes is given", "what many washes come to in all", "--limit 7%")
	}
	limit, after := q.fraction("limit"), q.fraction("after-washes")
	if len(q.found) > 0 {
		return nil, q.found.OrNil()
	}
	r.Valid = "cloth that relaxes; not wool that felts, which has no limit"
	r.Accuracy = "that washes come near a limit is published; that each takes an equal part of the rest is our reading, up to 2 points out"
	r.Source, r.Sources = "an abstract on how cotton goods shrink in washing (read) for the limit; the form derived", []string{"cotton-shrinkage-abstract"}
	if q.has("after-washes") {
		l, err := shrink.LimitFromWashes(first, after, int(n))
		if err != nil {
			return nil, err
		}
		r.Method = "after/first = 1 + r + … + r^(n−1), limit = first / (1 − r)"
		pc("limit of many washes", l, "of the length as bought")
		return r, nil
	}
	s, err := shrink.Progressive(first, limit, int(n))
	if err != nil {
		return nil, err
	}
	r.Method = "s(n) = limit [1 − (1 − first/limit)^n]"
	v := 100 * float64(s)
	r.add(derived(fmt.Sprintf("after %d washes", int(n)), v, v, v, "%", "of the length as bought"))
	return r, nil
}
