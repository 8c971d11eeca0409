package main

import (
	"bufio"
	"cmp"
	"errors"
	"fmt"
	"os"
	"sort"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/kb/store"
)

func newStore(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:     "store",
		GroupID: groupCare,
		Short:   "look after your own records: where, check, backup, export",
		Long: `Looks after the file that holds your notes, marks and swatches, and counts what
the built-in knowledge holds and lacks.` + exitStatus,
		Example: `  tenter store where
  tenter store check --knowledge
  tenter store backup`,
		Args: onlyCommands,
		RunE: func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(newStoreWhere(a), newStoreCheck(a), newStoreBackup(a), newStoreRestore(a), newUndo(a), newRedo(a), newHistory(a), newStoreExport(a), newStoreImport(a))
	return c
}

func newStoreWhere(a *app) *cobra.Command {
	return &cobra.Command{
		Use:     "where",
		Short:   "in which files everything is kept",
		Long:    "Prints where your records, your house rules and the search index are kept. None of them need exist." + exitStatus,
		Example: "  tenter store where",
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			type place struct {
				What  string `json:"what"`
				Path  string `json:"path"`
				There bool   `json:"there"`
			}
			var list []place
			for _, p := range []place{{What: "records", Path: storePath()}, {What: "house rules", Path: configDir()}, {What: "search index", Path: cacheDir()}, {What: "log", Path: stateDir()}} {
				if p.Path != "" {
					p.There = !missing(p.Path)
				}
				list = append(list, p)
			}
			if a.json {
				return a.writeJSON(struct {
					Version int     `json:"version"`
					Places  []place `json:"places"`
				}{advise.Version, list})
			}
			for _, p := range list {
				switch {
				case p.Path == "":
					fmt.Fprintln(a.out, p.What+": nowhere, as there is no home folder")
				case !p.There:
					fmt.Fprintln(a.out, p.What+", not made yet:")
				default:
					fmt.Fprintln(a.out, p.What+":")
				}
				a.path(p.Path)
			}
			return nil
		},
	}
}

// path prints a path on a line of its own: unbroken, to be copied.
func (a *app) path(p string) {
	if p != "" {
		fmt.Fprintln(a.out, "  "+clean(p))
	}
}

func newStoreCheck(a *app) *cobra.Command {
	var about bool
	c := &cobra.Command{
		Use:   "check",
		Short: "is the store sound; what does the knowledge hold and lack",
		Long: `Examines the whole file of your records. With --knowledge it counts the built-in
facts and rules instead: by kind, basis and source, how many cloths have each
property, which facts are the oldest, and what is lacking.` + exitStatus,
		Example: "  tenter store check\n  tenter store check --knowledge",
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			if about {
				return a.knowledge()
			}
			return a.checkStore()
		},
	}
	c.Flags().BoolVar(&about, "knowledge", false, "count what is known and what is lacking")
	return c
}

func (a *app) checkStore() error {
	s, err := a.store()
	if err != nil {
		return err
	}
	type report struct {
		Version  int            `json:"version"`
		Path     string         `json:"path"`
		There    bool           `json:"there"`
		Layout   int            `json:"layout,omitempty"`
		Bytes    int64          `json:"bytes,omitempty"`
		Counts   map[string]int `json:"counts"`
		Problems []string       `json:"problems"`
	}
	out := report{Version: advise.Version, Path: storePath(), Counts: map[string]int{}, Problems: []string{}}
	if s != nil {
		r, err := s.Check()
		if err != nil {
			return err
		}
		out.There, out.Path, out.Layout, out.Bytes = true, r.Path, r.Version, r.Bytes
		if r.Counts != nil {
			out.Counts = r.Counts
		}
		out.Problems = append(out.Problems, r.Problems...)
	}
	if a.json {
		if err := a.writeJSON(out); err != nil {
			return err
		}
	} else if s == nil {
		fmt.Fprintln(a.out, "there is no store yet: nothing has been recorded")
	} else if len(out.Problems) == 0 {
		fmt.Fprintln(a.out, "the store is sound: "+clean(shortPath(out.Path)))
		var rows [][]string
		for _, t := range sortedKeys(out.Counts) {
			rows = append(rows, []string{t, strconv.Itoa(out.Counts[t])})
		}
		a.tabulate(2, rows)
	}
	var found fault.List
	for _, p := range out.Problems {
		found = append(found, &fault.Fault{Kind: fault.BadData, Where: shortPath(out.Path), What: p, Mend: "`tenter store restore FILE` brings a backup back"})
	}
	return found.OrNil()
}

func newStoreBackup(a *app) *cobra.Command {
	return &cobra.Command{
		Use:     "backup [FILE]",
		Short:   "write a checked copy of your records",
		Long:    "Writes a checked copy of your records to a new file; without a name, to one named for the day in this folder. An existing file is never written over." + exitStatus,
		Example: "  tenter store backup wardrobe.db",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			s, err := a.store()
			if err != nil {
				return err
			}
			if s == nil {
				return &fault.Fault{Kind: fault.NotFound, What: "there is no store yet: nothing has been recorded", Expected: "a store to copy", Mend: "`tenter store where` tells where it would be"}
			}
			to := "tenter-" + time.Now().Format(time.DateOnly) + ".db"
			if len(args) == 1 {
				to = args[0]
			}
			if !missing(to) {
				return &fault.Fault{Kind: fault.WrongCall, Where: to, What: "the file is there already", Expected: "the name of a new file", Mend: "name another file; nothing was written"}
			}
			if err := s.Backup(to); err != nil {
				return err
			}
			if a.json {
				return a.writeJSON(struct {
					Version int    `json:"version"`
					Backup  string `json:"backup"`
				}{advise.Version, to})
			}
			fmt.Fprintln(a.out, "copied to "+clean(to))
			return nil
		},
	}
}

func newStoreRestore(a *app) *cobra.Command {
	var yes bool
	c := &cobra.Command{
		Use:   "restore FILE",
		Short: "put a backup in the place of your records",
		Long: `Replaces your records by those of a backup. What is replaced is kept in a file
that the answer names. It asks first; --yes answers for you.` + exitStatus,
		Example: "  tenter store restore wardrobe.db --yes",
		Args:    cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			from := args[0]
			if missing(from) {
				return &fault.Fault{Kind: fault.NotFound, Where: from, What: "there is no such file", Expected: "a file that `tenter store backup` wrote"}
			}
			path := storePath()
			if path == "" {
				return noHome()
			}
			if err := store.CheckBackup(path, from); err != nil {
				return err
			}
			if !yes {
				held, err := a.held()
				if err != nil {
					return err
				}
				if err := a.confirm(c, "this replaces "+held+" by what "+from+" holds"); err != nil {
					return err
				}
			}
			a.close() // what is replaced must not be open
			aside, err := store.RestoreOver(path, from, time.Now())
			if err != nil {
				return err
			}
			if a.json {
				return a.writeJSON(struct {
					Version  int    `json:"version"`
					Restored string `json:"restored"`
					Aside    string `json:"aside"`
				}{advise.Version, from, aside})
			}
			fmt.Fprintln(a.out, "restored from "+clean(from))
			if aside != "" {
				fmt.Fprintln(a.out, "what was there before is kept in")
				a.path(aside)
			}
			return nil
		},
	}
	c.Flags().BoolVar(&yes, "yes", false, "do it without asking")
	return c
}

// held says what the store holds now; a broken one must be replaceable too.
func (a *app) held() (string, error) {
	s, err := a.store()
	var f *fault.Fault
	switch {
	case errors.As(err, &f) && f.Kind == fault.BadData:
		return "a store that cannot be read", nil
	case err != nil:
		return "", err
	case s == nil:
		return "an empty store", nil
	}
	r, err := s.Check()
	return heldText(r.Counts), err
}

// heldText is "3 notes, 2 favourites", or "an empty store".
func heldText(counts map[string]int) string {
	many := map[string]string{"swatch": "swatches", "wear": "records of wear"}
	singular := map[string]string{"wear": "record of wear"}
	var out []string
	for _, t := range sortedKeys(counts) {
		switch n := counts[t]; {
		case n == 1:
			out = append(out, "1 "+cmp.Or(singular[t], t))
		case n > 1:
			out = append(out, strconv.Itoa(n)+" "+cmp.Or(many[t], t+"s"))
		}
	}
	if len(out) == 0 {
		return "an empty store"
	}
	return strings.Join(out, ", ")
}

// confirm asks on a terminal; elsewhere --yes must be given.
func (a *app) confirm(c *cobra.Command, what string) error {
	refused := &fault.Fault{Kind: fault.WrongCall, Where: "--yes", What: what, Expected: "--yes, to do it without asking", Mend: "nothing was changed"}
	in, ok := c.InOrStdin().(*os.File)
	if !ok || !term.IsTerminal(int(in.Fd())) {
		return refused
	}
	fmt.Fprint(a.err, clean(what)+". Type yes to do it: ")
	line, _ := bufio.NewReader(in).ReadString('\n')
	if strings.TrimSpace(strings.ToLower(line)) != "yes" {
		return refused
	}
	return nil
}

// covered is how far one attribute of a kind is known.
type covered struct {
	Kind      string   `json:"kind"`
	Attribute string   `json:"attribute"`
	Of        int      `json:"of"`
	Recorded  int      `json:"recorded"`
	Derived   int      `json:"derived"`
	Unknown   int      `json:"unknown"`
	lacking   []string // ids
}

// gap is what is lacking.
type gap struct {
	Kind      string   `json:"kind"`
	Attribute string   `json:"attribute"`
	Of        int      `json:"of"`
	Lacking   int      `json:"lacking"`
	IDs       []string `json:"ids"`
}

// sourced is how many facts and rules rest on a source.
type sourced struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Year  string `json:"year,omitempty"`
	Read  bool   `json:"read"`
	Facts int    `json:"facts"`
	Rules int    `json:"rules"`
}

// oldFact is a fact with the year of its source.
type oldFact struct {
	Year     string `json:"year"`
	Of       string `json:"of"`
	ID       string `json:"id"`
	Property string `json:"property"`
	Say      string `json:"say"`
	Source   string `json:"source"`
}

// knows is what the built-in knowledge holds. facts are the recorded ones;
// by_basis also counts, as derived, the properties of cloths that are worked
// out from them.
type knows struct {
	Version       int            `json:"version"`
	Counts        map[string]int `json:"counts"`
	Facts         int            `json:"facts"`
	ByBasis       map[string]int `json:"by_basis"`             // a fact counts as published where its source gives every figure of it
	OfCloths      map[string]int `json:"cloth_facts_by_basis"` // with what each cloth is, beside its figures and grades
	Figures       map[string]int `json:"cloth_figures_by_basis"`
	RulesByBasis  map[string]int `json:"rules_by_basis"`
	RulesByEffect map[string]int `json:"rules_by_effect"`
	Coverage      []covered      `json:"coverage"`
	BySource      []sourced      `json:"by_source"`
	Oldest        []oldFact      `json:"oldest_facts"`
	Gaps          []gap          `json:"gaps"`
}

func sum(m map[string]int) (n int) {
	for _, v := range m {
		n += v
	}
	return n
}

// wholePercent says a share in whole per cent, cut off: 39.9 % is not 40 %.
func wholePercent(part, of int) string { return fmt.Sprintf("%d %%", part*100/max(1, of)) }

// maxOldest is how many of the oldest facts are told.
const maxOldest = 12

func (a *app) knowledge() error {
	adv, err := a.adv()
	if err != nil {
		return err
	}
	out := knowledgeOf(adv.WithCatalogue(adv.Cat.Unlearned())) // what is built in, not what the user measured
	if a.json {
		return a.writeJSON(out)
	}
	a.printKnowledge(out)
	return nil
}

// byYear orders facts by the years of their sources, the oldest first.
func byYear(list []oldFact) []oldFact {
	sort.SliceStable(list, func(i, j int) bool { return list[i].Year < list[j].Year })
	return list[:min(len(list), maxOldest)]
}

// allBases are the keys facts are counted under, in the order they are told.
var allBases = []string{"published", fibres.PublishedPart, fibres.PublishedWord, "memory", "practice"}

func (a *app) printKnowledge(k knows) {
	say := func(m map[string]int, keys ...string) string {
		var out []string
		for _, x := range keys {
			if n, ok := m[x]; ok {
				out = append(out, strconv.Itoa(n)+" "+x)
			}
		}
		return strings.Join(out, ", ")
	}
	var names []string
	for _, x := range kinds {
		names = append(names, x.name)
	}
	a.tabulate(0, [][]string{
		{"held", say(k.Counts, names...)},
		{"facts", strconv.Itoa(k.Facts) + " recorded: " + say(k.ByBasis, allBases...) + "; from them " + say(k.ByBasis, "derived")},
		{"of cloths", fmt.Sprintf("%d: %s; %s published", sum(k.OfCloths), say(k.OfCloths, allBases...), wholePercent(k.OfCloths["published"], sum(k.OfCloths)))},
		{"figures", fmt.Sprintf("%d of cloths, low, typical and high: %s; %s published", sum(k.Figures), say(k.Figures, allBases...), wholePercent(k.Figures["published"], sum(k.Figures)))},
		{"rules", say(k.RulesByBasis, "published", "memory", "practice") + "; " + say(k.RulesByEffect, "forbids", "against", "for", "caution", "do")},
	})
	a.head("How far each kind is known: recorded, derived, not known")
	var rows [][]string
	for _, c := range k.Coverage {
		rows = append(rows, []string{c.Kind, c.Attribute, fmt.Sprintf("%d, %d, %d of %d", c.Recorded, c.Derived, c.Unknown, c.Of)})
	}
	a.tabulate(2, rows)
	a.head("Most used sources")
	rows = nil
	for _, s := range k.BySource[:min(len(k.BySource), 12)] {
		rows = append(rows, []string{s.ID, fmt.Sprintf("%d facts, %d rules", s.Facts, s.Rules)})
	}
	a.tabulate(2, rows)
	a.head("Oldest facts")
	rows = nil
	for _, f := range k.Oldest {
		rows = append(rows, []string{f.Year, f.Of + " " + f.ID + ": " + f.Property + " " + f.Say + " [" + f.Source + "]"})
	}
	a.tabulate(2, rows)
	a.head("Gaps")
	rows = nil
	for _, g := range k.Gaps {
		const most = 6
		ids := strings.Join(g.IDs[:min(len(g.IDs), most)], ", ")
		if len(g.IDs) > most {
			ids += " …"
		}
		rows = append(rows, []string{g.Kind, g.Attribute, fmt.Sprintf("%d of %d: %s", g.Lacking, g.Of, ids)})
	}
	if len(rows) == 0 {
		fmt.Fprintln(a.out, "  none")
	}
	a.tabulate(2, rows)
}
