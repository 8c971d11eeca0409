package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"tenter/advise"
	"tenter/fibres/fault"
)

func newFavourite(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:     "favourite",
		Aliases: []string{"favorite"},
		GroupID: groupRecord,
		Short:   "mark what you come back to",
		Long: `Marks cloths, pieces, seams or anything else that has a name. A mark shows as a
star in searches and in show. Without a word it lists the marks.` + exitStatus,
		Example: `  tenter favourite add "cotton sateen"
  tenter favourite add cowl
  tenter favourite list`,
		Args: onlyCommands,
		RunE: func(*cobra.Command, []string) error { return a.listFavourites("") },
	}
	c.AddCommand(newFavouriteAdd(a), newFavouriteRemove(a), newFavouriteList(a))
	addUndo(a, c)
	return c
}

// marked is a favourite in an answer.
type marked struct {
	Kind  string `json:"kind"`
	ID    string `json:"id"`
	Name  string `json:"name"`
	Since string `json:"since,omitempty"`
}

func newFavouriteAdd(a *app) *cobra.Command {
	var kind string
	c := &cobra.Command{
		Use:               "add NAME",
		Short:             "mark a thing",
		Long:              "Marks a thing; marking it twice changes nothing. --kind tells which, where several things have the name." + exitStatus,
		Example:           `  tenter favourite add "cotton sateen"`,
		Args:              cobra.ExactArgs(1),
		ValidArgsFunction: a.completeThing(),
		RunE:              func(_ *cobra.Command, args []string) error { return a.mark1(args[0], kind, true) },
	}
	c.Flags().StringVar(&kind, "kind", "", "cloth, piece, seam …, where the name has several")
	_ = c.RegisterFlagCompletionFunc("kind", a.complete(func(*advise.Adviser) []string { return searchKinds }))
	return c
}

func newFavouriteRemove(a *app) *cobra.Command {
	var kind string
	c := &cobra.Command{
		Use:               "remove NAME",
		Short:             "take a mark away",
		Long:              "Takes the mark from a thing. `tenter undo` puts it back." + exitStatus,
		Example:           `  tenter favourite remove denim`,
		Args:              cobra.ExactArgs(1),
		ValidArgsFunction: a.completeThing(),
		RunE:              func(_ *cobra.Command, args []string) error { return a.mark1(args[0], kind, false) },
	}
	c.Flags().StringVar(&kind, "kind", "", "cloth, piece, seam …, where the name has several")
	_ = c.RegisterFlagCompletionFunc("kind", a.complete(func(*advise.Adviser) []string { return searchKinds }))
	return c
}

func newFavouriteList(a *app) *cobra.Command {
	var kind string
	c := &cobra.Command{
		Use:     "list",
		Short:   "all marks",
		Long:    "Lists what is marked, oldest first: all, or one kind." + exitStatus,
		Example: "  tenter favourite list\n  tenter favourite list --kind cloth",
		Args:    cobra.NoArgs,
		RunE:    func(*cobra.Command, []string) error { return a.listFavourites(kind) },
	}
	c.Flags().StringVar(&kind, "kind", "", "only this kind: cloth, piece, seam …")
	_ = c.RegisterFlagCompletionFunc("kind", a.complete(func(*advise.Adviser) []string { return searchKinds }))
	return c
}

// mark1 marks a thing or takes the mark away.
func (a *app) mark1(name, kind string, on bool) error {
	n, err := a.named(name, kind)
	if err != nil {
		return err
	}
	is, err := a.favourites()
	if err != nil {
		return err
	}
	was := is[n.kind+"/"+n.id]
	if was != on {
		s, err := a.makeStore()
		if err != nil {
			return err
		}
		if on {
			err = s.Favourite(n.kind, n.id)
		} else {
			err = s.Unfavourite(n.kind, n.id)
		}
		if err != nil {
			return err
		}
	}
	if a.json {
		return a.writeJSON(struct {
			Version   int    `json:"version"`
			Favourite marked `json:"favourite"`
			Marked    bool   `json:"marked"`
			Changed   bool   `json:"changed"`
		}{advise.Version, marked{Kind: n.kind, ID: n.id, Name: n.name}, on, was != on})
	}
	label := n.kind + " " + n.id
	switch {
	case on && was:
		a.para("", label+" was marked already", 2)
	case on:
		a.para("", label+" is marked; `tenter undo` takes it back", 2)
	case was:
		a.para("", label+" is no longer marked; `tenter undo` puts it back", 2)
	default:
		a.para("", label+" was not marked", 2)
	}
	return nil
}

func (a *app) listFavourites(kind string) error {
	if err := knownKind(kind); err != nil {
		return err
	}
	list := []marked{}
	s, err := a.store()
	if err != nil {
		return err
	}
	if s != nil {
		favourites, err := s.Favourites()
		if err != nil {
			return err
		}
		for _, f := range favourites {
			if kind == "" || f.Kind == kind {
				list = append(list, marked{f.Kind, f.Subject, a.nameOf(f.Kind, f.Subject), day(f.Created)})
			}
		}
	}
	if a.json {
		return a.writeJSON(struct {
			Version    int      `json:"version"`
			Favourites []marked `json:"favourites"`
		}{advise.Version, list})
	}
	if len(list) == 0 {
		fmt.Fprintln(a.out, "nothing is marked; `tenter favourite add NAME` marks a thing")
		return nil
	}
	var rows [][]string
	for _, m := range list {
		rows = append(rows, []string{m.Kind, m.ID, strings.TrimSuffix(m.Name, ".")})
	}
	a.tabulate(0, rows)
	return nil
}

// favourites are the marks as kind/id.
func (a *app) favourites() (map[string]bool, error) {
	s, err := a.readRecords()
	if err != nil || s == nil {
		return nil, err
	}
	list, err := s.Favourites()
	if err != nil {
		return nil, err
	}
	out := map[string]bool{}
	for _, f := range list {
		out[f.Kind+"/"+f.Subject] = true
	}
	return out, nil
}

// knownKind refuses a word that is no kind of thing; none is fine.
func knownKind(kind string) error {
	if kind == "" || contains(searchKinds, kind) {
		return nil
	}
	return &fault.Fault{Kind: fault.WrongCall, Where: "--kind", What: fmt.Sprintf("there is no kind %q", kind),
		Expected: strings.Join(searchKinds, ", "), Mend: fault.DidYouMean(kind, searchKinds, "")}
}
