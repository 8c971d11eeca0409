package main

import (
	"fmt"
	"regexp"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// question gathers the flags that say what is to be made of what.
type question struct {
	piece, finish, shell, lining    string
	interfacing, seam, edge, wearer string
	mass, bending                   string
	liningMass, liningBending       string
	colour, liningColour            string
	wishes                          []string
}

// flags adds the question's flags to a command; shell says whether the cloth
// is a flag here and not a bare word.
func (q *question) flags(a *app, c *cobra.Command, shell bool) {
	f := c.Flags()
	f.SetNormalizeFunc(colourToo)
	f.StringVar(&q.piece, "piece", "", "what is to be made")
	f.StringVar(&q.finish, "finish", "", "how it is made up")
	if shell {
		f.StringVar(&q.shell, "shell", "", "the outer cloth")
	}
	f.StringVar(&q.lining, "lining", "", "the lining cloth")
	f.StringVar(&q.interfacing, "interfacing", "", "the interfacing")
	f.StringVar(&q.seam, "seam", "", "the seam")
	f.StringVar(&q.edge, "edge", "", "the edge finish")
	f.StringVar(&q.wearer, "wearer", "", "adult or child")
	f.StringVar(&q.mass, "mass", "", "what the cloth weighs: 150gsm, 4.5oz/yd2, 120-150gsm")
	f.StringVar(&q.bending, "bending-length", "", "its bending length by the ruler test: 2.1cm")
	f.StringVar(&q.liningMass, "lining-mass", "", "what the lining weighs")
	f.StringVar(&q.liningBending, "lining-bending-length", "", "the lining's bending length")
	f.StringVar(&q.colour, "colour", "", "how light the cloth is: white, light, mid or dark")
	f.StringVar(&q.liningColour, "lining-colour", "", "how light the lining is")
	f.StringSliceVar(&q.wishes, "wish", nil, "what you wish or know of it: washable,warm (tenter list wishes)")
	for name, list := range map[string]func(*advise.Adviser) []string{
		"wish":        func(x *advise.Adviser) []string { return x.WishNames.IDs() },
		"piece":       func(x *advise.Adviser) []string { return x.PieceNames.IDs() },
		"finish":      func(x *advise.Adviser) []string { return x.FinishNames.IDs() },
		"lining":      func(x *advise.Adviser) []string { return x.Cat.ClothNames.IDs() },
		"shell":       func(x *advise.Adviser) []string { return x.Cat.ClothNames.IDs() },
		"interfacing": func(x *advise.Adviser) []string { return x.InterfacingNames.IDs() },
		"seam":        func(x *advise.Adviser) []string { return x.SeamNames.IDs() },
		"edge":        func(x *advise.Adviser) []string { return x.EdgeNames.IDs() },
		"wearer":      func(*advise.Adviser) []string { return []string{"adult", "child"} },
		"colour":      func(*advise.Adviser) []string { return fibres.LightnessScale },
	} {
		if f.Lookup(name) != nil {
			_ = c.RegisterFlagCompletionFunc(name, a.withSwatches(name == "lining" || name == "shell", a.complete(list)))
		}
	}
}

// withSwatches completes the user's own cloths before what else there is.
func (a *app) withSwatches(swatches bool, f func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective)) func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	if !swatches {
		return f
	}
	return func(c *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		out, d := f(c, args, typed)
		return append(a.swatchNames(typed), out...), d
	}
}

// complete makes a completion of the ids that begin as the user typed.
func (a *app) complete(list func(*advise.Adviser) []string) func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return func(_ *cobra.Command, _ []string, typed string) ([]string, cobra.ShellCompDirective) {
		adv, err := a.adv()
		if err != nil {
			return nil, cobra.ShellCompDirectiveError
		}
		var out []string
		for _, id := range list(adv) {
			if strings.HasPrefix(id, strings.ToLower(typed)) {
				out = append(out, id)
			}
		}
		return out, cobra.ShellCompDirectiveNoFileComp
	}
}

// completeCloth completes a cloth as the bare word of a command.
func (a *app) completeCloth() func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return a.withSwatches(true, a.complete(func(x *advise.Adviser) []string { return x.Cat.ClothNames.IDs() }))
}

// makeUp turns the words of the question into the make-up that is judged.
// cloth is the bare word of the command, where it has one.
func (q *question) makeUp(a *app, cloth string) (advise.MakeUp, error) {
	var m advise.MakeUp
	var found fault.List
	adv, err := a.adv()
	if err != nil {
		return m, err
	}
	at := func(flag string, err error) {
		if err != nil {
			for _, f := range fault.All(err) {
				found = append(found, f.At(flag))
			}
		}
	}
	if cloth == "" {
		cloth = q.shell
	}
	if cloth != "" {
		where := "--shell"
		if q.shell == "" {
			where = ""
		}
		m.Shell, err = a.subject(cloth)
		at(where, err)
	}
	if q.lining != "" {
		m.Lining, err = a.subject(q.lining)
		at("--lining", err)
	}
	if q.piece != "" {
		m.Piece, err = adv.Piece(q.piece)
		at("--piece", err)
	}
	if q.finish != "" {
		m.Finish, err = adv.Finish(q.finish)
		at("--finish", err)
	}
	if q.interfacing != "" {
		m.Interfacing, err = adv.Interfacing(q.interfacing)
		at("--interfacing", err)
	}
	if q.seam != "" {
		m.Seam, err = adv.Seam("seam", q.seam)
		at("--seam", err)
	}
	if q.edge != "" {
		m.Edge, err = adv.Seam("edge", q.edge)
		at("--edge", err)
	}
	m.Wishes, err = adv.WishesOf(q.wishes...)
	at("--wish", err)
	switch q.wearer {
	case "", "adult", "child":
		m.Wearer = q.wearer
	default:
		found = append(found, &fault.Fault{Kind: fault.WrongCall, Where: "--wearer", What: "\"" + q.wearer + "\" is no wearer", Expected: "adult or child"})
	}
	m.Shell, err = narrow(adv.Cat, m.Shell, "", a.weight("--mass", q.mass), q.bending, q.colour)
	at("", err)
	m.Lining, err = narrow(adv.Cat, m.Lining, "lining-", a.weight("--lining-mass", q.liningMass), q.liningBending, q.liningColour)
	at("", err)
	return m, found.OrNil()
}

// narrow puts what the user says of a layer to its subject.
func narrow(cat *fibres.Catalogue, s *fibres.Subject, prefix, mass, bending, colour string) (*fibres.Subject, error) {
	if mass == "" && bending == "" && colour == "" {
		return s, nil
	}
	if s == nil {
		return nil, &fault.Fault{Kind: fault.WrongCall, Where: "--" + prefix + firstFlag(mass, bending), What: "this belongs to a cloth, and none is named", Expected: "the cloth it belongs to",
			Mend: clothFlag(prefix)}
	}
	out := *s
	var found fault.List
	if mass != "" {
		r, err := units.ParseArealMassRange(mass)
		if err != nil {
			return s, fault.All(err)[0].At("--" + prefix + "mass")
		}
		out = out.With(cat, fibres.Mass, float64(r.Low), float64(r.High))
	}
	if bending != "" {
		r, err := units.ParseLengthRange(bending, 0)
		info := fibres.Properties[fibres.BendingLength]
		if err == nil && (float64(r.Low) < info.Low || float64(r.High) > info.High) {
			err = &fault.Fault{Kind: fault.OutsideRange, What: "no cloth has a bending length of " + bending, Expected: "0.3 to 12 cm", Mend: "give half the overhang of the ruler test, in cm"}
		}
		if err != nil {
			return s, fault.All(err)[0].At("--" + prefix + "bending-length")
		}
		out = out.With(cat, fibres.BendingLength, float64(r.Low), float64(r.High))
	}
	if colour != "" {
		if _, ok := fibres.LightnessScale.Level(colour); !ok {
			return s, &fault.Fault{Kind: fault.WrongCall, Where: "--" + prefix + "colour", What: "\"" + colour + "\" does not say how light it is", Expected: strings.Join(fibres.LightnessScale, ", "),
				Mend: fault.DidYouMean(colour, fibres.LightnessScale, "")}
		}
		out.Lightness = colour
	}
	return &out, found.OrNil()
}

// clothFlag says how the cloth is named that a flag belongs to.
func clothFlag(prefix string) string {
	if prefix == "lining-" {
		return "add --lining CLOTH, or leave the flag out"
	}
	return "name the cloth, in advise and cut with --shell CLOTH, or leave the flag out"
}

// bareGrams is a weight as shops write it, "120g": grams of a square metre.
var bareGrams = regexp.MustCompile(`^[0-9.,]+(\s*-\s*[0-9.,]+)?\s*g$`)

// weight reads a bare weight in grams as grams a square metre, and says so.
func (a *app) weight(flag, mass string) string {
	if !bareGrams.MatchString(mass) {
		return mass
	}
	fmt.Fprintf(a.err, "%s %s is read as %s/m2.\n", flag, mass, mass)
	return mass + "/m2"
}

// colourToo lets a flag be spelled the American way.
func colourToo(_ *pflag.FlagSet, name string) pflag.NormalizedName {
	if name == "no-color" {
		return pflag.NormalizedName(name)
	}
	return pflag.NormalizedName(strings.ReplaceAll(name, "color", "colour"))
}

func firstFlag(mass, bending string) string {
	switch {
	case mass != "":
		return "mass"
	case bending != "":
		return "bending-length"
	}
	return "colour"
}

// subject finds a cloth or swatch by name.
func (a *app) subject(name string) (*fibres.Subject, error) {
	b, err := a.kb()
	if err != nil {
		return nil, err
	}
	s, err := b.Subject(name)
	if err == nil && !a.json {
		if k := b.Hidden(s); k != nil && !a.told[k.ID] {
			if a.told == nil {
				a.told = map[string]bool{}
			}
			a.told[k.ID] = true
			for _, l := range wrap(fmt.Sprintf("note: %q is your swatch of that name; cloth:%s is the cloth", s.Name, k.ID), a.width(), 6) {
				fmt.Fprintln(a.err, clean(l))
			}
		}
	}
	return s, err
}

// swatchNotes are what an answer should say of the swatches in a make-up that no
// figure holds: dye that bled, a name that is a cloth's too.
func (a *app) swatchNotes(m advise.MakeUp) []string {
	b, err := a.kb()
	if err != nil || b.Records == nil {
		return nil
	}
	var out []string
	for _, l := range []struct {
		name string
		s    *fibres.Subject
	}{{"shell", m.Shell}, {"lining", m.Lining}} {
		if l.s == nil || !l.s.Swatch {
			continue
		}
		if k := b.Hidden(l.s); k != nil && a.json {
			out = append(out, fmt.Sprintf("%q is your swatch of that name; cloth:%s is the cloth.", l.s.Name, k.ID))
		}
		w, err := b.Swatch(l.s.Name)
		if err != nil {
			continue
		}
		if g := w.Evidence.Bleed; g == "medium" || g == "high" {
			out = append(out, fmt.Sprintf("The dye of the %s, %s, bled in your test (%s): wash it by itself until the water stays clear, before it meets a lighter cloth.", l.name, l.s.Name, g))
		}
	}
	return out
}
