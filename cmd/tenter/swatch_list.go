package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/units"
	"tenter/kb"
	"tenter/kb/record"
)

// swatchOrders are the words of --by.
var swatchOrders = map[string]record.SwatchOrder{"name": record.ByName, "created": record.ByCreated, "changed": record.ByChanged}

func newSwatchList(a *app) *cobra.Command {
	var w swatchFilter
	var limit, offset int
	c := &cobra.Command{
		Use:   "list [WORDS…]",
		Short: "your swatches, all or those that hold the words",
		Long: `Lists your swatches with what was measured: all, or those whose name, ticket,
colour, place or notes hold every word, and that pass the flags.` + exitStatus,
		Example: `  tenter swatch list
  tenter swatch list blue --min-length 1.5m
  tenter swatch list --fibre wool --measured droop --by changed`,
		Args: cobra.ArbitraryArgs,
		RunE: func(_ *cobra.Command, args []string) error {
			b, err := a.recordsKB()
			if err != nil {
				return err
			}
			f, found := w.filter(b)
			f.Words = strings.Join(args, " ")
			if limit < 0 || offset < 0 {
				found.Add(&fault.Fault{Kind: fault.OutsideRange, Where: "--limit", What: "it is negative", Expected: "a number; 0 lists all"})
			}
			if err := found.OrNil(); err != nil {
				return err
			}
			return a.listSwatches(f, limit, offset)
		},
	}
	f := c.Flags()
	f.StringVar(&w.soldAs, "sold-as", "", "only those sold under this name")
	f.StringVar(&w.fibre, "fibre", "", "only those whose label has this fibre")
	f.StringVar(&w.lightness, "lightness", "", "only white, light, mid or dark ones")
	f.StringVar(&w.kept, "kept", "", "only those that lie there")
	f.StringVar(&w.minLength, "min-length", "", "only those of which at least so much is left: 1.5m")
	f.StringVar(&w.minWidth, "min-width", "", "only those at least so wide: 140cm")
	f.StringSliceVar(&w.measured, "measured", nil, "only those on which this was measured: droop, mass …")
	f.StringVar(&w.by, "by", "name", "the order: name, created or changed")
	f.IntVar(&limit, "limit", 40, "most swatches; 0 is all")
	f.IntVar(&offset, "offset", 0, "how many to pass over")
	_ = c.RegisterFlagCompletionFunc("measured", a.complete(func(*advise.Adviser) []string { return record.Kinds }))
	return c
}

// swatchFilter are the flags that narrow a list of swatches, as they were typed.
type swatchFilter struct {
	soldAs, fibre, lightness, kept, minLength, minWidth, by string
	measured                                                []string
}

// filter reads the flags; every slip in them is found.
func (w swatchFilter) filter(b *kb.Base) (record.SwatchFilter, fault.List) {
	f := record.SwatchFilter{SoldAs: w.soldAs, Lightness: w.lightness, KeptWhere: w.kept, Measured: w.measured}
	var found fault.List
	bad := func(flag string, err error) { found = append(found, atFlag(flag, err)...) }
	var err error
	if k, ok := b.SoldAs(w.soldAs); ok && w.soldAs != "" {
		f.SoldAs = k.ID
	}
	if w.fibre != "" {
		if f.Fibre, err = b.Cat.FibreNames.Find(w.fibre); err != nil {
			bad("fibre", err)
		}
	}
	if w.lightness != "" && !slices.Contains(record.Lightnesses, w.lightness) {
		bad("lightness", &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q does not say how light it is", w.lightness), Expected: strings.Join(record.Lightnesses, ", "), Mend: fault.DidYouMean(w.lightness, record.Lightnesses, "")})
	}
	for _, x := range []struct {
		flag, text string
		to         *float64
	}{{"min-length", w.minLength, &f.MinLength}, {"min-width", w.minWidth, &f.MinWidth}} {
		if x.text != "" {
			l, err := units.ParseLengthIn(x.text, units.Centimetre)
			bad(x.flag, err)
			*x.to = float64(l)
		}
	}
	for _, k := range w.measured {
		if !slices.Contains(record.Kinds, k) {
			bad("measured", &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q is nothing that is measured", k), Expected: strings.Join(record.Kinds, ", "), Mend: fault.DidYouMean(k, record.Kinds, "")})
		}
	}
	order, ok := swatchOrders[w.by]
	if !ok {
		bad("by", &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("nothing is ordered by %q", w.by), Expected: "name, created or changed"})
	}
	f.Order = order
	return f, found
}

func (a *app) listSwatches(f record.SwatchFilter, limit, offset int) error {
	b, err := a.recordsKB()
	if err != nil {
		return err
	}
	list, total, err := b.Listed(f, limit, offset)
	if err != nil {
		return err
	}
	if a.json {
		out := struct {
			Version  int           `json:"version"`
			Total    int           `json:"total"`
			Swatches []shownSwatch `json:"swatches"`
		}{advise.Version, total, []shownSwatch{}}
		for _, s := range list {
			out.Swatches = append(out.Swatches, swatchShown(s))
		}
		return a.writeJSON(out)
	}
	if len(list) == 0 {
		if b.Records == nil {
			fmt.Fprintln(a.out, "there is no swatch; `tenter swatch add NAME` records one")
		} else {
			fmt.Fprintln(a.out, "no swatch fits")
		}
		return nil
	}
	var rows [][]string
	for _, s := range list {
		rows = append(rows, []string{s.Name, a.swatchInShort(b, s)})
	}
	a.tabulate(0, rows)
	if total > len(list) {
		fmt.Fprintf(a.out, "\n%d of %d; --limit and --offset show others\n", len(list), total)
	}
	return nil
}

// swatchInShort is a swatch in one line: cloth, colour, what was measured, what is left.
func (a *app) swatchInShort(b *kb.Base, s kb.Swatch) string {
	var say []string
	put := func(t string) {
		if t != "" {
			say = append(say, t)
		}
	}
	put(s.SoldAs)
	put(s.Colour)
	if e, ok := s.Evidence.Known()[fibres.Mass]; ok {
		put(a.quantity(e.Typical, "g/m2"))
	}
	if e := b.Cat.Estimate(*s.Subject, fibres.BendingLength); e.Basis == fibres.Measured {
		put(words(b.Cat.Estimate(*s.Subject, fibres.Hand)))
	}
	if s.WidthCM > 0 {
		put(a.length(s.WidthCM) + " wide")
	}
	if s.LengthCM != nil && *s.LengthCM > 0 {
		put(units.Length(*s.LengthCM).In(a.system) + " left")
	} else if s.LengthCM != nil {
		put("used up")
	}
	put(s.KeptWhere)
	return strings.Join(say, ", ")
}
