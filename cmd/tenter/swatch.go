package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/units"
	"tenter/kb"
	"tenter/kb/record"
)

func newSwatch(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:     "swatch",
		GroupID: groupRecord,
		Short:   "the cloths you own: record, measure, import, export",
		Long: `Keeps your own cloths with what you measured of them. A swatch works wherever a
cloth does: what was measured stands in the place of the name's ranges, with its
own error, and the rest follows the name it was sold under. Every change can be
undone with "tenter undo"; a measurement is never overwritten.` + exitStatus,
		Example: `  tenter swatch add "mayor's gold" --sold-as "cotton sateen" --width 140cm --length 2.5m
  tenter swatch measure "king's blue" droop warp 3.4cm 3.5cm weft 3.0cm 3.1cm
  tenter swatch list --measured droop`,
		Args: onlyCommands,
		RunE: func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(newSwatchAdd(a), newSwatchShow(a), newSwatchList(a), newSwatchEdit(a), newSwatchRename(a), newSwatchRemove(a), newSwatchMeasure(a), newSwatchImport(a), newSwatchExport(a))
	addUndo(a, c)
	return c
}

// swatchFlags are what can be said of a swatch, as flags.
type swatchFlags struct {
	soldAs, content, width, length, colour, lightness, price, kept, picture, bought, notes string
}

func (w *swatchFlags) flags(a *app, c *cobra.Command) {
	f := c.Flags()
	f.StringVar(&w.soldAs, "sold-as", "", "the name it was sold under: cotton-sateen")
	f.StringVar(&w.content, "content", "", "its label: \"60% cotton 40% linen\"")
	f.StringVar(&w.width, "width", "", "between the selvedges: 140cm, 44in")
	f.StringVar(&w.length, "length", "", "what is left of it: 2.5m, \"1 1/2 yd\", 0cm when used up")
	f.StringVar(&w.colour, "colour", "", "its colour, in words")
	f.StringVar(&w.lightness, "lightness", "", "how light the colour is: white, light, mid or dark")
	f.StringVar(&w.price, "price", "", "what it cost: \"12.50 per metre\", \"£8 a yard\", \"30 EUR for 2.5 m\"")
	f.StringVar(&w.kept, "kept", "", "where it lies: \"box 4\"")
	f.StringVar(&w.picture, "picture", "", "the path of a picture of it")
	f.StringVar(&w.bought, "bought", "", "the day it was bought: 2026-11-25")
	f.StringVar(&w.notes, "notes", "", "what else is to be remembered")
	_ = c.RegisterFlagCompletionFunc("sold-as", a.complete(func(x *advise.Adviser) []string { return x.Cat.ClothNames.IDs() }))
	_ = c.RegisterFlagCompletionFunc("lightness", a.complete(func(*advise.Adviser) []string { return fibres.LightnessScale }))
}

// atFlag are the faults of an error, each said of the flag.
func atFlag(flag string, err error) fault.List {
	var out fault.List
	for _, x := range fault.All(err) {
		f := *x
		f.Where = "--" + flag
		out = append(out, &f)
	}
	return out
}

// put writes the flags that were given into a swatch. An empty flag takes away what
// was known.
func (w *swatchFlags) put(a *app, b *kb.Base, f *pflag.FlagSet, s *record.Swatch) error {
	var found fault.List
	bad := func(flag string, err error) { found = append(found, atFlag(flag, err)...) }
	for _, t := range []struct {
		flag string
		from string
		to   *string
	}{{"colour", w.colour, &s.Colour}, {"lightness", w.lightness, &s.Lightness}, {"price", w.price, &s.Price}, {"kept", w.kept, &s.KeptWhere}, {"picture", w.picture, &s.PicturePath}, {"notes", w.notes, &s.Notes}} {
		if f.Changed(t.flag) {
			*t.to = t.from
		}
	}
	if f.Changed("sold-as") {
		s.SoldAs = ""
		if strings.TrimSpace(w.soldAs) != "" {
			id, err := b.Cat.ClothNames.Find(w.soldAs)
			if err != nil {
				bad("sold-as", err)
			}
			s.SoldAs = id
		}
	}
	if f.Changed("content") {
		s.Content = nil
		if strings.TrimSpace(w.content) != "" {
			parts, err := b.ParseContent(w.content)
			bad("content", err)
			s.Content = parts
		}
	}
	w.putSizes(f, s, bad)
	if f.Changed("bought") {
		t, err := parseDay("bought", w.bought)
		if err != nil {
			bad("bought", err)
		}
		s.Bought = t
	}
	return found.OrNil()
}

// putSizes puts how wide the cloth is and how much is left of it.
func (w *swatchFlags) putSizes(f *pflag.FlagSet, s *record.Swatch, bad func(string, error)) {
	length := func(flag, text string, most float64) (float64, bool) {
		l, err := units.ParseLengthIn(text, units.Centimetre)
		if err == nil && float64(l) > most {
			err = &fault.Fault{Kind: fault.OutsideRange, What: text + " is too much", Expected: fmt.Sprintf("at most %.0f cm", most)}
		}
		if err != nil {
			bad(flag, err)
		}
		return float64(l), err == nil
	}
	if f.Changed("width") {
		s.WidthCM = 0
		if w.width != "" {
			var ok bool
			if s.WidthCM, ok = length("width", w.width, 1000); ok && s.WidthCM == 0 {
				bad("width", &fault.Fault{Kind: fault.OutsideRange, What: "a width of zero", Expected: "a width over 0, or \"\" where it is not known"})
			}
		}
	}
	if f.Changed("length") {
		s.LengthCM = nil
		if w.length != "" {
			l, _ := length("length", w.length, 1e6)
			s.LengthCM = &l
		}
	}
}

// parseDay reads a day; an empty one is none.
func parseDay(flag, text string) (time.Time, error) {
	if text == "" {
		return time.Time{}, nil
	}
	t, err := time.Parse(time.DateOnly, text)
	if err != nil || t.Year() < 1700 || t.Year() > 2200 {
		return time.Time{}, &fault.Fault{Kind: fault.WrongCall, Where: "--" + flag, What: fmt.Sprintf("%q is not a date", text), Expected: "year-month-day, such as 2026-11-25"}
	}
	return t, nil
}

// storeFault puts the flag to a fault that names a column of the store.
func storeFault(err error) error {
	flags := map[string]string{"sold_as": "--sold-as", "content": "--content", "width_cm": "--width", "length_cm": "--length", "colour": "--colour", "lightness": "--lightness",
		"price": "--price", "kept_where": "--kept", "picture_path": "--picture", "notes": "--notes", "note": "--note"}
	var out fault.List
	for _, f := range fault.All(err) {
		g := *f
		if flag := flags[g.Where]; flag != "" {
			g.Where = flag
		}
		out = append(out, &g)
	}
	return out.OrNil()
}

// writing opens the base with a store that can be written.
func (a *app) writing() (*kb.Base, error) {
	if _, err := a.makeStore(); err != nil {
		return nil, err
	}
	return a.recordsKB()
}

func newSwatchAdd(a *app) *cobra.Command {
	var w swatchFlags
	c := &cobra.Command{
		Use:   "add NAME…",
		Short: "record a cloth that you own",
		Long: `Records a swatch under a name of your own, of several words if you like. Nothing
but the name is needed; "swatch edit" adds the rest later. The cloth it was sold
as gives it the ranges of that name until you measure it.` + exitStatus,
		Example: `  tenter swatch add "mayor's gold" --sold-as "cotton sateen" --width 140cm --length 2.5m --colour blue --kept "box 4"
  tenter swatch add cellar remnant --content "60% cotton 40% linen"`,
		Args: cobra.MinimumNArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			b, err := a.writing()
			if err != nil {
				return err
			}
			s := record.Swatch{Name: strings.Join(args, " ")}
			if err := w.put(a, b, c.Flags(), &s); err != nil {
				return err
			}
			kept, err := b.Records.AddSwatch(s)
			if err != nil {
				return storeFault(err)
			}
			say := fmt.Sprintf("swatch %q is recorded; `tenter undo` takes it back", kept.Name)
			if k := b.Hidden(b.SubjectOf(kept, kb.Evidence{})); k != nil {
				say += fmt.Sprintf(". There is a cloth of that name: from now on the name means your swatch, and `%s` the cloth", "cloth:"+k.ID)
			}
			return a.saySwatch(b, kept.Name, say)
		},
	}
	w.flags(a, c)
	return c
}

func newSwatchEdit(a *app) *cobra.Command {
	var w swatchFlags
	c := &cobra.Command{
		Use:   "edit NAME…",
		Short: "change what is recorded of a swatch",
		Long: `Changes what the flags name and leaves the rest. An empty flag (--colour "") takes
away what was known. Measurements are not edited: a new one stands beside them.` + exitStatus,
		Example:           `  tenter swatch edit "king's blue" --length 1.2m --kept "box 5"`,
		Args:              cobra.MinimumNArgs(1),
		ValidArgsFunction: a.completeSwatch(),
		RunE: func(c *cobra.Command, args []string) error {
			b, err := a.recordsKB()
			if err != nil {
				return err
			}
			s, err := b.Swatch(strings.Join(args, " "))
			if err != nil {
				return err
			}
			if c.Flags().NFlag() == 0 {
				return &fault.Fault{Kind: fault.WrongCall, What: "nothing is to be changed", Expected: "one of the flags of `tenter swatch edit --help`"}
			}
			if err := w.put(a, b, c.Flags(), &s.Swatch); err != nil {
				return err
			}
			kept, err := b.Records.EditSwatch(s.Swatch)
			if err != nil {
				return storeFault(err)
			}
			return a.saySwatch(b, kept.Name, fmt.Sprintf("swatch %q is changed; `tenter undo` takes it back", kept.Name))
		},
	}
	w.flags(a, c)
	return c
}

func newSwatchRename(a *app) *cobra.Command {
	return &cobra.Command{
		Use:               "rename NAME NEW-NAME",
		Short:             "give a swatch another name",
		Long:              "Gives a swatch another name; names of several words are quoted. What was measured stays with it." + exitStatus,
		Example:           `  tenter swatch rename "king's blue" "blue of the third act"`,
		Args:              cobra.ExactArgs(2),
		ValidArgsFunction: firstWord(a.completeSwatch()),
		RunE: func(_ *cobra.Command, args []string) error {
			b, err := a.recordsKB()
			if err != nil {
				return err
			}
			s, err := b.Swatch(args[0])
			if err != nil {
				return err
			}
			s.Swatch.Name = args[1]
			kept, err := b.Records.EditSwatch(s.Swatch)
			if err != nil {
				return storeFault(err)
			}
			return a.saySwatch(b, kept.Name, fmt.Sprintf("swatch %q is now %q; `tenter undo` takes it back", s.Name, kept.Name))
		},
	}
}

func newSwatchRemove(a *app) *cobra.Command {
	var measurement int64
	c := &cobra.Command{
		Use:   "remove NAME…",
		Short: "remove a swatch, or one of its measurements",
		Long: `Removes a swatch with everything measured on it, or with --measurement only the
one of that number, which "swatch show" tells. "tenter undo" brings it back.` + exitStatus,
		Example: `  tenter swatch remove "attic remnant"
  tenter swatch remove "king's blue" --measurement 3`,
		Args:              cobra.MinimumNArgs(1),
		ValidArgsFunction: a.completeSwatch(),
		RunE: func(c *cobra.Command, args []string) error {
			b, err := a.recordsKB()
			if err != nil {
				return err
			}
			s, err := b.Swatch(strings.Join(args, " "))
			if err != nil {
				return err
			}
			if c.Flags().Changed("measurement") {
				for _, m := range s.Measurements {
					if m.ID == measurement {
						if err := b.Records.RemoveMeasurement(m.ID); err != nil {
							return err
						}
						return a.saySwatch(b, s.Name, fmt.Sprintf("the %s of %s no longer counts; `tenter undo` brings it back", m.Kind, day(m.Taken)))
					}
				}
				return &fault.Fault{Kind: fault.NotFound, Where: "--measurement", What: fmt.Sprintf("swatch %q has no measurement %d", s.Name, measurement), Expected: "a number from `tenter swatch show`"}
			}
			if err := b.Records.RemoveSwatch(s.ID); err != nil {
				return err
			}
			say := fmt.Sprintf("swatch %q is removed", s.Name)
			if n := len(s.Measurements); n == 1 {
				say += " with a measurement"
			} else if n > 1 {
				say += fmt.Sprintf(" with %d measurements", n)
			}
			if a.json {
				return a.writeJSON(struct {
					Version int    `json:"version"`
					Removed string `json:"removed"`
				}{advise.Version, s.Name})
			}
			a.para("", say+"; `tenter undo` brings it back", 2)
			return nil
		},
	}
	c.Flags().Int64Var(&measurement, "measurement", 0, "only the measurement of this number")
	return c
}

// saySwatch answers a change of a swatch.
func (a *app) saySwatch(b *kb.Base, name, say string) error {
	if a.json {
		s, err := b.Swatch(name)
		if err != nil {
			return err
		}
		return a.writeJSON(struct {
			Version int         `json:"version"`
			Swatch  shownSwatch `json:"swatch"`
		}{advise.Version, swatchShown(s)})
	}
	a.para("", say, 2)
	return nil
}

// shownSwatch is a swatch in an answer. The figures of what was measured stand
// beside it by their units.
type shownSwatch struct {
	record.SwatchJSON
	Cloth       string                     `json:"cloth,omitempty"` // the id that it was sold as, where the ticket names one
	MassGSM     *float64                   `json:"mass_gsm,omitempty"`
	BendingCM   *float64                   `json:"bending_length_cm,omitempty"`
	ShrinkWarp  *float64                   `json:"shrink_warp_pct,omitempty"`
	ShrinkWeft  *float64                   `json:"shrink_weft_pct,omitempty"`
	Measured    map[string]fibres.Estimate `json:"measured,omitempty"`
	Bleed       string                     `json:"bleed,omitempty"`
	Created     string                     `json:"created,omitempty"`
	Changed     string                     `json:"changed,omitempty"`
	Numbers     []int64                    `json:"measurement_numbers,omitempty"` // of the measurements, in their order
	ReadingNote []string                   `json:"reading_notes,omitempty"`
}

func swatchShown(s kb.Swatch) shownSwatch {
	out := shownSwatch{SwatchJSON: record.SwatchOf(s.Swatch, s.Measurements), Bleed: s.Evidence.Bleed, Created: day(s.Created), Changed: day(s.Changed), ReadingNote: s.Evidence.Notes}
	if s.Subject != nil && s.Subject.Cloth != nil {
		out.Cloth = s.Subject.Cloth.ID
	}
	known := s.Evidence.Known()
	for p, e := range known {
		if out.Measured == nil {
			out.Measured = map[string]fibres.Estimate{}
		}
		out.Measured[fibres.Properties[p].ID] = e
	}
	for _, f := range []struct {
		p  fibres.Property
		to **float64
	}{{fibres.Mass, &out.MassGSM}, {fibres.BendingLength, &out.BendingCM}, {fibres.ShrinkWarp, &out.ShrinkWarp}, {fibres.ShrinkWeft, &out.ShrinkWeft}} {
		if e, ok := known[f.p]; ok {
			v := e.Typical
			*f.to = &v
		}
	}
	for _, m := range s.Measurements {
		out.Numbers = append(out.Numbers, m.ID)
	}
	return out
}

func newSwatchShow(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "show NAME…",
		Short: "a swatch with all its measurements and what follows from them",
		Long: `Prints what is recorded of a swatch, every measurement with its number, what the
readings say with their spread, where it lies among the cloths sold under its
name, and which home test would tell most.` + exitStatus,
		Example:           `  tenter swatch show "king's blue"`,
		Args:              cobra.MinimumNArgs(1),
		ValidArgsFunction: a.completeSwatch(),
		RunE: func(_ *cobra.Command, args []string) error {
			b, err := a.recordsKB()
			if err != nil {
				return err
			}
			s, err := b.Swatch(strings.Join(args, " "))
			if err != nil {
				return err
			}
			adv, err := a.adv()
			if err != nil {
				return err
			}
			if a.json {
				return a.swatchJSON(adv, b, s)
			}
			a.printSwatch(adv, b, s)
			return nil
		},
	}
}

// shownPlace is where a swatch lies among the cloths of a name.
type shownPlace struct {
	Of       string          `json:"of"`
	Property string          `json:"property"`
	Have     fibres.Estimate `json:"have"`
	Name     fibres.Estimate `json:"name"`
	Part     float64         `json:"part_below"`
	Say      string          `json:"say"`
}

// placesOf are the places of a subject among the cloths of a name, in words.
func placesOf(b *kb.Base, s *fibres.Subject, k *fibres.Cloth) []shownPlace {
	out := []shownPlace{}
	for _, p := range b.Places(s, k) {
		have := p.Have
		have.Chain = nil
		out = append(out, shownPlace{k.ID, fibres.Properties[p.Property].ID, have, p.Of, p.Part, placeText(p, k)})
	}
	return out
}

// placeText says where a swatch lies: "heavier than about 7 in 10 sold as denim".
func placeText(p kb.Place, k *fibres.Cloth) string {
	more := fibres.Properties[p.Property].Compared
	word, part := more[0], p.Part
	if part < 0.5 {
		word, part = more[1], 1-part
	}
	switch {
	case part < 0.6:
		return "in the middle of what is sold as " + k.Name
	case part > 0.995:
		return word + " than nearly all sold as " + k.Name
	}
	return word + " than " + advise.InTen(part) + " sold as " + k.Name
}

func (a *app) swatchJSON(adv *advise.Adviser, b *kb.Base, s kb.Swatch) error {
	out := struct {
		Version    int                        `json:"version"`
		Kind       string                     `json:"kind"`
		Swatch     shownSwatch                `json:"swatch"`
		Properties map[string]fibres.Estimate `json:"properties"`
		Places     []shownPlace               `json:"places"`
		Settle     []string                   `json:"settle"`
		ownWords
	}{Version: advise.Version, Kind: "swatch", Swatch: swatchShown(s), Properties: map[string]fibres.Estimate{}, Places: []shownPlace{}, Settle: []string{}}
	for p := range fibres.NumProperties {
		out.Properties[fibres.Properties[p].ID] = adv.Cat.Estimate(*s.Subject, p)
	}
	if k := s.Subject.Cloth; k != nil {
		out.Places = placesOf(b, s.Subject, k)
	}
	for _, t := range unmeasured(s) {
		out.Settle = append(out.Settle, t.ID)
	}
	var err error
	if out.ownWords, err = a.own("swatch", s.Name); err != nil {
		return err
	}
	return a.writeJSON(out)
}

// unmeasured are the home tests that would tell most of a swatch: how it hangs, what
// it weighs, how it washes.
func unmeasured(s kb.Swatch) []fibres.HomeTest {
	known := s.Evidence.Known()
	var out []fibres.HomeTest
	for _, p := range []fibres.Property{fibres.BendingLength, fibres.Mass, fibres.ShrinkWarp} {
		if _, ok := known[p]; !ok {
			out = append(out, fibres.Tests[fibres.Properties[p].Test])
		}
	}
	return out
}

func (a *app) printSwatch(adv *advise.Adviser, b *kb.Base, s kb.Swatch) {
	a.para("", s.Name+" (swatch)", 2)
	a.tabulate(2, a.recordedOf(s))
	a.printMeasured(s)
	a.head("Properties: low – typical – high")
	var rows [][]string
	for p := range fibres.NumProperties {
		e := adv.Cat.Estimate(*s.Subject, p)
		for i, say := range a.estimates(e) {
			if i == 0 {
				rows = append(rows, []string{fibres.Properties[p].Name, say, string(e.Basis)})
			} else {
				rows = append(rows, []string{"", say, ""})
			}
		}
	}
	a.tabulate(2, rows)
	a.printPlacesOf(b, s)
	if tests := unmeasured(s); len(tests) > 0 {
		a.head("What would tell more")
		for _, t := range tests {
			a.para("  ", fmt.Sprintf("%s: `tenter test %s` prints how; `tenter swatch measure NAME %s` records it", t.Name, t.Kind, t.Kind), 4)
		}
	}
	if own, err := a.own("swatch", s.Name); err == nil {
		a.printOwn(own)
	}
}

// recordedOf are the rows of what was written down of a swatch.
func (a *app) recordedOf(s kb.Swatch) (rows [][]string) {
	row := func(label, text string) {
		if text != "" {
			rows = append(rows, []string{label, text})
		}
	}
	sold := s.SoldAs
	if k := s.Subject.Cloth; k != nil {
		sold = k.Name + " (" + k.ID + ")"
	} else if sold != "" {
		sold += " (no cloth of the reference)"
	}
	row("sold as", sold)
	row("label", kb.SayContent(s.Content))
	if s.WidthCM > 0 {
		row("width", a.length(s.WidthCM))
	}
	if s.LengthCM != nil {
		left := "used up"
		if *s.LengthCM > 0 {
			left = units.Length(*s.LengthCM).In(a.system)
		}
		row("left", left)
	}
	colour := s.Colour
	if s.Lightness != "" {
		colour = strings.TrimSpace(colour + " (" + s.Lightness + ")")
	}
	row("colour", colour)
	row("price", s.Price)
	row("", kb.PriceNote(s.Price))
	row("kept", s.KeptWhere)
	row("picture", s.PicturePath)
	if !s.Bought.IsZero() {
		row("bought", s.Bought.UTC().Format(time.DateOnly))
	}
	row("notes", s.Notes)
	row("recorded", day(s.Created))
	return rows
}

// printMeasured prints the readings of a swatch and what they say.
func (a *app) printMeasured(s kb.Swatch) {
	if len(s.Measurements) == 0 {
		return
	}
	a.head("Measured")
	var rows [][]string
	for _, m := range s.Measurements {
		say := a.readingsText(m.Readings)
		if m.Note != "" {
			say += " (" + m.Note + ")"
		}
		rows = append(rows, []string{strconv.FormatInt(m.ID, 10), day(m.Taken), m.Kind, say})
	}
	a.tabulate(2, rows)
	a.head("What the readings say")
	a.printFound(s.Evidence)
}

// printPlacesOf prints where a swatch lies among the cloths sold under its name.
func (a *app) printPlacesOf(b *kb.Base, s kb.Swatch) {
	k := s.Subject.Cloth
	if k == nil {
		return
	}
	var rows [][]string
	for _, p := range placesOf(b, s.Subject, k) {
		id, _ := fibres.PropertyByID(p.Property)
		rows = append(rows, []string{fibres.Properties[id].Name, p.Say})
	}
	if len(rows) > 0 {
		a.head("Among the cloths sold as " + k.Name)
		a.tabulate(2, rows)
	}
}

// printFound tells what readings say: the figure with its error, and their spread.
func (a *app) printFound(e kb.Evidence) {
	var rows [][]string
	for _, f := range e.Found {
		rows = append(rows, []string{fibres.Properties[f.Property].Name, a.foundText(f)})
	}
	if e.Bleed != "" {
		rows = append(rows, []string{"bleeding", e.Bleed})
	}
	a.tabulate(2, rows)
	for _, n := range e.Notes {
		a.para("  note: ", units.Prose(n, a.system), 8)
	}
}

// foundText is "152 g/m2 (147 to 157), 3 readings, spread 2 %".
func (a *app) foundText(f kb.Found) string {
	var say string
	switch {
	case f.Words != nil:
		say = words(f.Estimate)
	case f.Low == f.High:
		say = a.estimate(f.Estimate)
	default:
		unit := f.Unit
		say = a.quantity(f.Typical, unit) + " (" + a.quantities(f.Low, f.High, unit) + ")"
	}
	n := "1 reading"
	if f.Count != 1 {
		n = fmt.Sprintf("%d readings", f.Count)
	}
	say += ", " + n
	if f.Spread > 0 && f.Words == nil {
		spread := fibres.Round(100*f.Spread) + " %"
		if f.Unit == "%" {
			spread = fibres.Round(f.Spread) + " points"
		}
		say += ", spread " + spread
	}
	return say
}

// readingsText are readings as they were taken, in the units of the answer.
func (a *app) readingsText(list []record.Reading) string {
	var out []string
	last := ""
	for _, r := range list {
		var where []string
		for _, k := range []string{"loop", "direction", "face"} {
			if w, ok := r[k].(string); ok {
				where = append(where, w)
			}
		}
		say := a.readingText(r)
		if w := strings.Join(where, " "); w != last {
			if w != "" {
				say = w + " " + say
			}
			last = w
		}
		out = append(out, say)
	}
	const most = 12
	if len(out) > most {
		out = append(out[:most], fmt.Sprintf("and %d more", len(list)-most))
	}
	return strings.Join(out, ", ")
}

func (a *app) readingText(r record.Reading) string {
	num := func(k string) (float64, bool) { v, ok := r[k].(float64); return v, ok }
	if say := a.lengthsRead(r); say != "" {
		return say
	}
	if g, ok := num("grams"); ok {
		area, _ := num("area_cm2")
		if a.system == units.Imperial {
			return fmt.Sprintf("%s oz on %s in2", digits(g/units.Ounce, 2), digits(area/(2.54*2.54), 3))
		}
		return fmt.Sprintf("%s g on %s cm2", written(g), written(area))
	}
	if m, ok := num(record.ReadingMass); ok {
		return a.quantity(m, "g/m2")
	}
	if p, ok := num("pile_mm"); ok {
		n, _ := num("layers")
		return fmt.Sprintf("%s for %.0f layers", a.quantity(p, "mm"), n)
	}
	if t, ok := num("thickness_mm"); ok {
		return a.quantity(t, "mm")
	}
	if s, ok := num("shrink_pct"); ok {
		return fibres.Round(s) + " %" + cycleText(r)
	}
	if s, ok := num("stretch_pct"); ok {
		return fibres.Round(s) + " %"
	}
	if t, ok := num("threads"); ok {
		rubs, _ := num("rubs")
		return fmt.Sprintf("%.0f threads in %.0f rubs", t, rubs)
	}
	if c, ok := num("safe_c"); ok {
		say := "safe at " + a.quantity(c, "C")
		if m, ok := num("marked_c"); ok {
			say += ", marked at " + a.quantity(m, "C")
		}
		return say
	}
	if w, ok := r["level"].(string); ok {
		return w
	}
	var parts []string
	for _, k := range sortedKeys(r) {
		parts = append(parts, fmt.Sprintf("%s %v", k, r[k]))
	}
	return strings.Join(parts, " ")
}

// lengthsRead writes a reading of the ruler as it was read, to the last place.
func (a *app) lengthsRead(r record.Reading) string {
	num := func(k string) (float64, bool) { v, ok := r[k].(float64); return v, ok }
	cm := func(v float64) string {
		if a.system == units.Metric {
			return written(v) + " cm"
		}
		return units.Length(v).In(a.system)
	}
	if l, ok := num("overhang_cm"); ok {
		if d, ok := num("drop_cm"); ok {
			return cm(l) + " drops " + cm(d)
		}
		if d, ok := num("droop_deg"); ok {
			return cm(l) + " at " + fibres.Round(d) + "°"
		}
		return cm(l)
	}
	if l, ok := num("strip_cm"); ok {
		h, _ := num("height_cm")
		return cm(l) + " hangs " + cm(h)
	}
	if b, ok := num("before_cm"); ok {
		after, _ := num("after_cm")
		return cm(b) + " to " + cm(after) + cycleText(r)
	}
	if f, ok := num("from_cm"); ok {
		to, _ := num("to_cm")
		return cm(f) + " to " + cm(to)
	}
	return ""
}

// written is a figure as it was read: up to three places behind the point.
func written(v float64) string { return strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64) }

func cycleText(r record.Reading) string {
	if c, ok := r["cycle"].(float64); ok && c > 1 {
		return fmt.Sprintf(" (wash %.0f)", c)
	}
	return ""
}

// completeSwatch completes the name of a swatch.
func (a *app) completeSwatch() func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return func(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		return a.swatchNames(typed), cobra.ShellCompDirectiveNoFileComp
	}
}

// swatchNames are the names of swatches that begin so; none where there is no store.
func (a *app) swatchNames(beginning string) []string {
	s, err := a.store()
	if err != nil || s == nil {
		return nil
	}
	names, err := s.SwatchesBeginning(beginning, 100)
	if err != nil {
		return nil
	}
	return names
}
