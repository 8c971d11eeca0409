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
	"tenter/kb/record"
)

// swatchOrders are the words of --by.
var swatchOrders = map[string]record.SwatchOrder{"name": record.ByName, "created": record.ByCreated, "changed": record.ByChanged}

func newSwatchList(a *app) *cobra.Command {
	var soldAs, fibre, lightness, kept, minLength, minWidth, by string
	var measured []string
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
			f := record.SwatchFilter{Words: strings.Join(args, " "), KeptWhere: kept, Measured: measured}
			var found fault.List
			bad := func(flag string, err error) {
				for _, x := range fault.All(err) {
					g := *x
					g.Where = "--" + flag
					found = append(found, &g)
				}
			}
			b, err := a.recordsKB()
			if err != nil {
				return err
			}
			if soldAs != "" {
				f.SoldAs = soldAs
				if k, ok := b.SoldAs(soldAs); ok {
					f.SoldAs = k.ID
				}
			}
			if fibre != "" {
				if f.Fibre, err = b.Cat.FibreNames.Find(fibre); err != nil {
					bad("fibre", err)
				}
			}
			if lightness != "" {
				if !slices.Contains(record.Lightnesses, lightness) {
					bad("lightness", &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q does not say how light it is", lightness), Expected: strings.Join(record.Lightnesses, ", "), Mend: fault.DidYouMean(lightness, record.Lightnesses, "")})
				}
				f.Lightness = lightness
			}
			for _, x := range []struct {
				flag, text string
				to         *float64
			}{{"min-length", minLength, &f.MinLength}, {"min-width", minWidth, &f.MinWidth}} {
				if x.text != "" {
					l, err := units.ParseLengthIn(x.text, units.Centimetre)
					bad(x.flag, err)
					*x.to = float64(l)
				}
			}
			for _, k := range measured {
				if !slices.Contains(record.Kinds, k) {
					bad("measured", &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q is nothing that is measured", k), Expected: strings.Join(record.Kinds, ", "), Mend: fault.DidYouMean(k, record.Kinds, "")})
				}
			}
			order, ok := swatchOrders[by]
			if !ok {
				bad("by", &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("nothing is ordered by %q", by), Expected: "name, created or changed"})
			}
			f.Order = order
			if limit < 0 || offset < 0 {
				bad("limit", &fault.Fault{Kind: fault.OutsideRange, What: "it is negative", Expected: "a number; 0 lists all"})
			}
			if err := found.OrNil(); err != nil {
				return err
			}
			return a.listSwatches(f, limit, offset)
		},
	}
	f := c.Flags()
	f.StringVar(&soldAs, "sold-as", "", "only those sold under this name")
	f.StringVar(&fibre, "fibre", "", "only those whose label has this fibre")
	f.StringVar(&lightness, "lightness", "", "only white, light, mid or dark ones")
	f.StringVar(&kept, "kept", "", "only those that lie there")
	f.StringVar(&minLength, "min-length", "", "only those of which at least so much is left: 1.5m")
	f.StringVar(&minWidth, "min-width", "", "only those at least so wide: 140cm")
	f.StringSliceVar(&measured, "measured", nil, "only those on which this was measured: droop, mass …")
	f.StringVar(&by, "by", "name", "the order: name, created or changed")
	f.IntVar(&limit, "limit", 40, "most swatches; 0 is all")
	f.IntVar(&offset, "offset", 0, "how many to pass over")
	_ = c.RegisterFlagCompletionFunc("measured", a.complete(func(*advise.Adviser) []string { return record.Kinds }))
	return c
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
		rows = append(rows, []string{s.Name, strings.Join(say, ", ")})
	}
	a.tabulate(0, rows)
	if total > len(list) {
		fmt.Fprintf(a.out, "\n%d of %d; --limit and --offset show others\n", len(list), total)
	}
	return nil
}
