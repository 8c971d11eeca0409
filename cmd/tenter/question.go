package main

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"tenter/advise"
	"tenter/advise/cut"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/prose"
	"tenter/fibres/units"
)

// question gathers the flags that say what is to be made of what.
type question struct {
	piece, finish, shell, lining    string
	interfacing, seam, edge, wearer string
	of, liningOf                    known
	wishes, layers                  []string
	job                             string // of the lining
}

// known is what a maker says of a layer besides its name.
type known struct{ mass, bending, overhang, hand, colour string }

// flags adds what is known of a layer; prefix is "" or "lining-".
func (k *known) flags(f *pflag.FlagSet, prefix, whose, layer string) {
	f.StringVar(&k.mass, prefix+"mass", "", "what "+layer+" weighs: 150gsm, 4.5oz/yd2, 120g, 120-150gsm")
	f.StringVar(&k.hand, prefix+"hand", "", "how "+layer+" feels in the hand: limp, soft, firm, stiff, soft to firm")
	f.StringVar(&k.overhang, prefix+"overhang", "", whose+" overhang in the droop test: 3.4cm")
	f.StringVar(&k.bending, prefix+"bending-length", "", whose+" bending length, half that overhang: 1.7cm")
	f.StringVar(&k.colour, prefix+"colour", "", "how light "+layer+" is: white, light, mid or dark")
}

// first is the first flag that was given, without its prefix; "" where none was.
func (k known) first() string {
	for _, x := range [][2]string{{"mass", k.mass}, {"hand", k.hand}, {"overhang", k.overhang}, {"bending-length", k.bending}, {"colour", k.colour}} {
		if x[1] != "" {
			return x[0]
		}
	}
	return ""
}

// flags adds the question's flags to a command; shell says whether the cloth
// is a flag here and not a bare word.
func (q *question) flags(a *app, c *cobra.Command, shell bool) {
	f := c.Flags()
	f.StringVar(&q.piece, "piece", "", "what is to be made")
	f.StringVar(&q.finish, "finish", "", "how it is made up")
	if shell {
		f.StringVar(&q.shell, "shell", "", "the outer cloth")
	}
	f.StringVar(&q.lining, "lining", "", "the lining cloth")
	f.StringVar(&q.interfacing, "interfacing", "", "the interfacing")
	f.StringArrayVar(&q.layers, "layer", nil, `another layer: "underlining=cotton lawn", with "; parts=cape; width=150cm; shrink=3%,2%" behind it; may be repeated`)
	f.StringVar(&q.seam, "seam", "", "the seam")
	f.StringVar(&q.edge, "edge", "", "the edge finish")
	f.StringVar(&q.wearer, "wearer", "", "adult or child")
	q.of.flags(f, "", "its", "the cloth")
	q.liningOf.flags(f, "lining-", "the lining's", "the lining")
	f.StringSliceVar(&q.wishes, "wish", nil, "what you wish or know of it: washable,warm (tenter list wishes)")
	for name, list := range map[string]func(*advise.Adviser) []string{
		"wish":        func(x *advise.Adviser) []string { return x.WishNames.IDs() },
		"piece":       pieceIDs,
		"finish":      func(x *advise.Adviser) []string { return x.FinishNames.IDs() },
		"lining":      func(x *advise.Adviser) []string { return x.Cat.ClothNames.IDs() },
		"shell":       func(x *advise.Adviser) []string { return x.Cat.ClothNames.IDs() },
		"interfacing": func(x *advise.Adviser) []string { return x.InterfacingNames.IDs() },
		"seam":        func(x *advise.Adviser) []string { return x.SeamNames.IDs() },
		"edge":        func(x *advise.Adviser) []string { return x.EdgeNames.IDs() },
		"wearer":      func(*advise.Adviser) []string { return []string{"adult", "child"} },
		"colour":      func(*advise.Adviser) []string { return fibres.LightnessScale },
		"hand":        func(*advise.Adviser) []string { return fibres.HandScale },
	} {
		if f.Lookup(name) != nil {
			_ = c.RegisterFlagCompletionFunc(name, a.withSwatches(name == "lining" || name == "shell", a.complete(list)))
		}
	}
}

func isCloth(adv *advise.Adviser, name string) bool {
	_, err := adv.Cat.ClothNames.Find(name)
	return err == nil
}

func pieceIDs(x *advise.Adviser) []string { return x.PieceNames.IDs() }

// namePiece takes the bare word of a command for the piece.
func (q *question) namePiece(args []string) error {
	if len(args) == 0 {
		return nil
	}
	if q.piece != "" && q.piece != args[0] {
		return &fault.Fault{Kind: fault.WrongCall, Where: "--piece", What: "two pieces are named, " + args[0] + " and " + q.piece, Expected: "one", Mend: "leave one of them out"}
	}
	q.piece = args[0]
	return nil
}

// jobFlag adds what the lining is for.
func (q *question) jobFlag(a *app, c *cobra.Command) {
	c.Flags().StringVar(&q.job, "job", "", "what the lining is for")
	_ = c.RegisterFlagCompletionFunc("job", a.complete((*advise.Adviser).LiningJobIDs))
}

// jobsText names in the help of --job all the jobs that a lining may have: they are data,
// read only when the help is asked for.
func (a *app) jobsText(c *cobra.Command) {
	f := c.Flags().Lookup("job")
	if f == nil {
		return
	}
	if adv, err := a.adv(); err == nil {
		f.Usage = "what the lining is for: " + strings.Join(adv.LiningJobIDs(), ", ")
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

// giveJob gives the lining the job that was named.
func (q *question) giveJob(adv *advise.Adviser, m *advise.MakeUp, at func(string, error)) {
	if q.job == "" {
		return
	}
	var err error
	m.Job, err = adv.LiningJob(q.job)
	if err == nil && m.Finish != nil && !m.Finish.Lined {
		err = &fault.Fault{Kind: fault.WrongCall, What: m.Finish.Name + " has no lining", Expected: "a lined finish", Mend: "`tenter list finishes` shows which are lined"}
	}
	at("--job", err)
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
		if err != nil {
			if p, wrong := adv.Piece(cloth); wrong == nil {
				err = &fault.Fault{Kind: fault.NotFound, What: "\"" + cloth + "\" is a piece", Expected: "a cloth", Mend: "`tenter advise " + p.ID + "` says which cloths suit it"}
			}
		}
		at(where, err)
	}
	if q.lining != "" {
		m.Lining, err = a.subject(q.lining)
		at("--lining", err)
	}
	q.shape(adv, &m, at)
	for _, text := range q.layers {
		at("--layer", a.inner(&m, text))
	}
	q.giveJob(adv, &m, at)
	m.Wishes, err = adv.WishesOf(q.wishes...)
	at("--wish", err)
	switch q.wearer {
	case "", "adult", "child":
		m.Wearer = q.wearer
	default:
		found = append(found, &fault.Fault{Kind: fault.WrongCall, Where: "--wearer", What: "\"" + q.wearer + "\" is no wearer", Expected: "adult or child"})
	}
	m.Shell, err = a.narrow(adv.Cat, m.Shell, "", q.of)
	at("", err)
	m.Lining, err = a.narrow(adv.Cat, m.Lining, "lining-", q.liningOf)
	at("", err)
	return m, found.OrNil()
}

// shape looks up what is made and how: piece, finish, interfacing, seam, edge.
func (q *question) shape(adv *advise.Adviser, m *advise.MakeUp, at func(string, error)) {
	var err error
	if q.piece != "" {
		m.Piece, err = adv.Piece(q.piece)
		if err != nil && isCloth(adv, q.piece) {
			err = &fault.Fault{Kind: fault.NotFound, What: "\"" + q.piece + "\" is a cloth", Expected: "what is to be made of it", Mend: "`tenter check " + quoteWords([]string{q.piece}) + "` says what could be"}
		}
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
}

// inner reads a further layer into the make-up.
func (a *app) inner(m *advise.MakeUp, text string) error {
	w, err := cut.ParseLayer(text)
	if err != nil {
		return err
	}
	s, err := a.subject(w.Cloth)
	if err != nil {
		return err
	}
	return m.AddInner(w, s)
}

// narrow puts what the user says of a layer to its subject, and asks about what can
// hardly be.
func (a *app) narrow(cat *fibres.Catalogue, s *fibres.Subject, prefix string, k known) (*fibres.Subject, error) {
	if k == (known{}) {
		return s, nil
	}
	if s == nil {
		return nil, &fault.Fault{Kind: fault.WrongCall, Where: "--" + prefix + k.first(), What: "this belongs to a cloth, and none is named", Expected: "the cloth it belongs to",
			Mend: clothFlag(prefix)}
	}
	out := *s
	if k.mass != "" {
		r, err := units.ParseArealMassRange(a.weight("--"+prefix+"mass", k.mass))
		if err != nil {
			return s, fault.All(err)[0].At("--" + prefix + "mass")
		}
		a.doubt("--"+prefix+"mass "+k.mass, out.Label(), fibres.Mass, cat.Estimate(*s, fibres.Mass), float64(r.Low), float64(r.High), "")
		out = out.With(cat, fibres.Mass, float64(r.Low), float64(r.High))
	}
	if k.hand != "" {
		low, high, err := feltBands(k.hand)
		if err != nil {
			return s, fault.All(err)[0].At("--" + prefix + "hand")
		}
		out = out.Feeling(low, high)
	}
	c, err := k.bends()
	if err != nil {
		return s, fault.All(err)[0].At("--" + prefix + "bending-length")
	}
	if c.High > 0 {
		hint := ""
		if k.bending != "" {
			hint = "Is it the overhang? Then write --" + prefix + "overhang."
		}
		a.doubt("--"+prefix+"bending-length "+c.In(a.system), out.Label(), fibres.BendingLength, cat.Estimate(*s, fibres.BendingLength), float64(c.Low), float64(c.High), hint)
		out = out.With(cat, fibres.BendingLength, float64(c.Low), float64(c.High))
	}
	if k.colour != "" {
		if out.Lightness, err = lightness("--"+prefix+"colour", k.colour); err != nil {
			return s, err
		}
	}
	return &out, nil
}

// bends is the bending length that was said, or half of the overhang; nothing where
// neither was.
func (k known) bends() (units.Range[units.Length], error) {
	text, parts := k.bending, 1.0
	if text == "" {
		text, parts = k.overhang, 2
	}
	if text == "" {
		return units.Range[units.Length]{}, nil
	}
	if k.bending != "" && k.overhang != "" {
		return units.Range[units.Length]{}, &fault.Fault{Kind: fault.WrongCall, What: "the overhang is given too", Expected: "one of the two: a bending length is half the overhang", Mend: "leave one of them out"}
	}
	r, err := units.ParseLengthRange(text, 0)
	if err != nil {
		return r, err
	}
	r.Low, r.High = r.Low/units.Length(parts), r.High/units.Length(parts)
	if info := fibres.Properties[fibres.BendingLength]; float64(r.Low) < info.Low || float64(r.High) > info.High {
		return r, &fault.Fault{Kind: fault.OutsideRange, What: "no cloth has a bending length of " + r.In(units.Metric), Expected: "0.3 to 12 cm", Mend: "give half the overhang of the ruler test, or the overhang itself with --overhang"}
	}
	return r, nil
}

// feltBands reads how a cloth feels: a word of the scale of hand, a maker's own word,
// or two of them with "to" between.
func feltBands(text string) (low, high int, err error) {
	one := func(w string) (int, int, bool) {
		w = strings.ToLower(strings.TrimSpace(w))
		if r, ok := fibres.FeltWords[w]; ok {
			l, _ := fibres.HandScale.Level(r[0])
			h, _ := fibres.HandScale.Level(r[1])
			return l, h, true
		}
		l, ok := fibres.HandScale.Level(w)
		return l, l, ok
	}
	from, to, two := strings.Cut(strings.ReplaceAll(text, "-", " to "), " to ")
	l1, h1, ok := one(from)
	l2, h2, ok2 := l1, h1, true
	if two {
		l2, h2, ok2 = one(to)
	}
	if !ok || !ok2 {
		words := append(slices.Sorted(maps.Keys(fibres.FeltWords)), fibres.HandScale...)
		return 0, 0, &fault.Fault{Kind: fault.WrongCall, What: "\"" + text + "\" is no word for how a cloth feels", Expected: strings.Join(fibres.HandScale, ", ") + ", limp or stiff",
			Mend: fault.DidYouMean(text, words, "")}
	}
	return min(l1, l2), max(h1, h2), nil
}

// doubt asks about a figure that lies far outside of what is sold under the name.
func (a *app) doubt(said, of string, p fibres.Property, usual fibres.Estimate, low, high float64, hint string) {
	doubled := hint != "" && low > usual.High && low/2 <= usual.High // an overhang is twice the bending length
	if !usual.Known() || usual.Basis == fibres.Measured || !usual.Far(low, high) && !doubled {
		return
	}
	text := fibres.Doubted(said, of, p, a.quantities(usual.Low, usual.High, usual.Unit), hint)
	for _, l := range wrap(clean(text), a.width(), 2) {
		fmt.Fprintln(a.err, l)
	}
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

// gramsAtEnd finds such a weight behind the name of a cloth.
var gramsAtEnd = regexp.MustCompile(`[0-9.,]+ ?g$`)

// weight reads a bare weight in grams as grams a square metre, and says so.
func (a *app) weight(flag, mass string) string {
	if !bareGrams.MatchString(mass) {
		return mass
	}
	grams := strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(mass), "g")) + " g/m2"
	fmt.Fprintf(a.err, "%s %s is read as %s.\n", flag, mass, grams)
	return grams
}

// american are the words of flags that are spelled otherwise in the US. Every flag of
// every command is asked for by them.
var american = strings.NewReplacer("color", "colour", "fiber", "fibre")

// americanToo lets a flag be spelled the American way.
func americanToo(_ *pflag.FlagSet, name string) pflag.NormalizedName {
	if name == "no-color" {
		return pflag.NormalizedName(name)
	}
	return pflag.NormalizedName(american.Replace(name))
}

// lightnessOf is how light a colour mostly is, for those who name the colour (common
// practice).
var lightnessOf = map[string]string{
	"black": "dark", "navy": "dark", "brown": "dark", "charcoal": "dark", "burgundy": "dark", "purple": "dark", "maroon": "dark",
	"red": "mid", "blue": "mid", "green": "mid", "orange": "mid", "grey": "mid", "gray": "mid", "gold": "mid", "tan": "mid",
	"pink": "light", "cream": "light", "ivory": "light", "beige": "light", "yellow": "light", "pale": "light", "pastel": "light", "lilac": "light", "silver": "light",
}

// lightness reads how light a cloth is; of a colour it says what that mostly is.
func lightness(flag, text string) (string, error) {
	if _, ok := fibres.LightnessScale.Level(text); ok {
		return text, nil
	}
	f := &fault.Fault{Kind: fault.WrongCall, Where: flag, What: "\"" + text + "\" does not say how light it is", Expected: strings.Join(fibres.LightnessScale, ", "), Mend: fault.DidYouMean(text, fibres.LightnessScale, "")}
	for _, w := range strings.Fields(strings.ToLower(text)) {
		_, level := fibres.LightnessScale.Level(w)
		if is := lightnessOf[w]; is != "" || level {
			f.Mend = "most " + w + " cloth is " + is + ": write " + flag + " " + is
			if level { // "dark red"
				f.Mend = "write " + flag + " " + w
			}
			break
		}
	}
	return "", f
}

// subject finds a cloth or swatch by name.
func (a *app) subject(name string) (*fibres.Subject, error) {
	b, err := a.kb()
	if err != nil {
		return nil, err
	}
	s, err := b.Subject(name)
	if g := gramsAtEnd.FindString(name); err == nil && g != "" && !s.Swatch {
		a.weight(strings.TrimSpace(strings.TrimSuffix(name, g))+":", g)
	}
	if err == nil && !a.json {
		if k := b.Hidden(s); k != nil && !a.namesakes[k.ID] {
			if a.namesakes == nil {
				a.namesakes = map[string]bool{}
			}
			a.namesakes[k.ID] = true
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
	if err != nil {
		return nil
	}
	var out []string
	for _, l := range []struct {
		name string
		s    *fibres.Subject
	}{{"shell", m.Shell}, {"lining", m.Lining}} {
		if l.s.IsDescribed() {
			out = append(out, prose.Upper(l.s.Label())+" is no name in the list: judged by fibre, weave and weight alone.")
		}
		if l.s == nil || !l.s.Swatch || b.Records == nil {
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
