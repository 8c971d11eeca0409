package main

import (
	"fmt"
	"sort"
	"strings"

	"github.com/spf13/cobra"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/fault"
)

func newSource(a *app) *cobra.Command {
	return &cobra.Command{
		Use:     "source [ID]",
		GroupID: groupAsk,
		Short:   "what rests on a source",
		Long: `Prints a source, how much of it was read, and every fact, rule, piece, seam and
interfacing that rests on it. Without an ID it lists the sources.` + exitStatus,
		Example: "  tenter source dooley-1914\n  tenter source practice",
		Args:    cobra.MaximumNArgs(1),
		ValidArgsFunction: a.complete(func(x *advise.Adviser) []string {
			var ids []string
			for id := range x.Cat.Sources {
				ids = append(ids, id)
			}
			sort.Strings(ids)
			return ids
		}),
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return a.list("sources")
			}
			return a.source(args[0])
		},
	}
}

// restsOn is what rests on a source, by sort.
type restsOn struct {
	Version int                 `json:"version"`
	Kind    string              `json:"kind"`
	ID      string              `json:"id"`
	Title   string              `json:"title"`
	Author  string              `json:"author,omitempty"`
	Year    string              `json:"year,omitempty"`
	Sort    string              `json:"sort"`
	Licence string              `json:"licence,omitempty"`
	Read    bool                `json:"read"`
	Seen    string              `json:"seen,omitempty"`
	Note    string              `json:"note,omitempty"`
	Facts   []fibres.FactRow    `json:"facts"`
	Rules   []string            `json:"rules"`
	Things  map[string][]string `json:"things"`
}

// oursIn marks a fact whose figures are not all its source's.
func oursIn(f fibres.FactRow) string {
	if rests := f.Rests(); rests != string(f.Basis) {
		return " (" + rests + ")"
	}
	return ""
}

func (a *app) source(id string) error {
	adv, err := a.adv()
	if err != nil {
		return err
	}
	src := adv.Cat.Sources[id]
	if src == nil {
		var ids []string
		for k := range adv.Cat.Sources {
			ids = append(ids, k)
		}
		sort.Strings(ids)
		return &fault.Fault{Kind: fault.NotFound, What: fmt.Sprintf("no source has the id %q", id), Expected: "the id of a source", Mend: fault.DidYouMean(id, ids, "`tenter list sources` shows them")}
	}
	out := restsOn{Version: advise.Version, Kind: "source", ID: src.ID, Title: src.Title, Author: src.Author, Year: src.Year, Sort: src.Kind,
		Licence: src.Licence, Read: src.Read, Seen: src.Seen, Note: src.Note, Facts: adv.Cat.FactsFrom(id), Rules: []string{}, Things: adv.ThingsFrom(id)}
	for _, r := range adv.Rules {
		if contains(r.Sources, id) {
			out.Rules = append(out.Rules, r.ID)
		}
	}
	if a.json {
		return a.writeJSON(out)
	}
	a.para("", sourceLine(src), 2)
	if src.Note != "" {
		a.para("  ", src.Note, 2)
	}
	if len(out.Facts) > 0 {
		a.head(fmt.Sprintf("%d facts", len(out.Facts)))
		byProp := map[string][]string{}
		var props []string
		for _, f := range out.Facts {
			if byProp[f.Property] == nil {
				props = append(props, f.Property)
			}
			byProp[f.Property] = append(byProp[f.Property], f.ID+" "+f.Say+oursIn(f))
		}
		var rows [][]string
		for _, p := range props {
			rows = append(rows, []string{p, strings.Join(byProp[p], "; ")})
		}
		a.tabulate(2, rows)
	}
	if len(out.Rules) > 0 {
		a.head(fmt.Sprintf("%d rules", len(out.Rules)))
		a.para("  ", strings.Join(out.Rules, ", "), 2)
	}
	var ks []string
	for k := range out.Things {
		ks = append(ks, k)
	}
	sort.Strings(ks)
	for _, k := range ks {
		a.head(fmt.Sprintf("%d %s", len(out.Things[k]), k))
		a.para("  ", strings.Join(out.Things[k], ", "), 2)
	}
	return nil
}
