package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"sort"
	"strings"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"tenter/advise"
	"tenter/advise/rules"
	"tenter/data"
	"tenter/fibres/fault"
	"tenter/fibres/prose"
)

// houseName is the file that `rule add` and `rule silence` write to.
const houseName = "house.toml"

// housePath is that file.
func housePath() (string, error) {
	d := configDir()
	if d == "" {
		return "", &fault.Fault{Kind: fault.Internal, What: "there is no home folder to keep house rules in", Expected: "HOME or XDG_CONFIG_HOME to name a folder", Mend: "set XDG_CONFIG_HOME to a folder that can be written"}
	}
	return filepath.Join(d, houseName), nil
}

// houseTemplate is a rule of one's own, with every key and what it is. Nothing of it
// holds until the signs before its lines are taken away.
const houseTemplate = `
## A rule of your own. tenter rule check FILE tries it as it stands. To let it speak,
## take the single signs from its lines and change what stands in quotes.
##
## when.FACT = "WORDS": all of them must hold. "tenter rule facts" lists the facts.
## The words: X, not X, X or Y, at least X, at most X, over X, under X, X to Y,
## known, unknown. X is a word of the fact's scale, a number with its unit
## ("80 g/m2"), or another fact ("under shell.mass").
## effect: forbids, against, for, caution, do.
## fires: cases in which the rule must speak, each a make-up in words parted by commas:
## a piece, a finish, "shell CLOTH", "lining CLOTH". quiet: cases in which it must not.
## The check tries both and says which of them fails.
#
# [[rule]]
# id       = "%s"
# when.shell.fibre = "cotton"
# when.shell.mass  = "over 200 g/m2"
# effect   = "caution"
# say      = "One sentence: what to do."
# because  = "One sentence that a maker would accept as a reason."
# basis    = "practice"
# sources  = ["own"]
# fires    = ["shell denim"]
# quiet    = ["shell silk-chiffon"]
## replaces = "id-of-a-rule"              # to stand in another's place
## step = { move = "clip-curves", after = "join-layers" }    # with effect = "do"
`

func newRuleAdd(a *app) *cobra.Command {
	return &cobra.Command{
		Use:     "add ID",
		Aliases: []string{"new"},
		Short:   "begin a rule of your own, from a template",
		Long: `Writes a commented block for a rule of your own into house.toml in your config
folder, and opens $VISUAL or $EDITOR on it where this is a terminal. Nothing holds
until you take the signs away; "rule check" tells what it would change.` + exitStatus,
		Example: "  tenter rule add cellar-bolt-is-washed",
		Args:    cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			id := args[0]
			if !kebabID(id) {
				return &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q is not written as an id", id), Expected: "lower-case words joined by hyphens, such as cellar-bolt-is-washed"}
			}
			if adv, err := a.adv(); err == nil { // a broken house file is opened to be mended
				for _, r := range adv.Rules {
					if r.ID == id {
						return &fault.Fault{Kind: fault.WrongCall, What: "there is a rule " + id + " already, in " + r.Place, Expected: "an id of its own", Mend: "to stand in its place, take another id and write replaces = \"" + id + "\""}
					}
				}
			}
			path, err := housePath()
			if err != nil {
				return err
			}
			line, err := appendHouse(path, fmt.Sprintf(houseTemplate, id))
			if err != nil {
				return err
			}
			if a.json {
				return a.writeJSON(struct {
					Version int    `json:"version"`
					File    string `json:"file"`
					Line    int    `json:"line"`
				}{advise.Version, path, line})
			}
			fmt.Fprintf(a.out, "a template stands from line %d of\n  %s\n", line, clean(shortPath(path)))
			edited, err := openEditor(c, path)
			if err != nil {
				return err
			}
			if edited {
				return a.checkHouse(path)
			}
			fmt.Fprintln(a.out, "Edit it, then let `tenter rule check` tell what it would change.")
			return nil
		},
	}
}

func kebabID(id string) bool {
	for i := range len(id) {
		c := id[i]
		if !(c >= 'a' && c <= 'z' || i > 0 && c >= '0' && c <= '9' || c == '-' && i > 0 && i < len(id)-1 && id[i-1] != '-') {
			return false
		}
	}
	return id != ""
}

// appendHouse adds text at the end of a house file, whole or not at all, and gives
// the line on which it begins.
func appendHouse(path, text string) (int, error) {
	old, err := os.ReadFile(path)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return 0, unwritable(path, err)
	}
	if len(old) > 0 && !bytes.HasSuffix(old, []byte("\n")) {
		old = append(old, '\n')
	}
	if len(old) == 0 {
		text = strings.TrimPrefix(text, "\n")
	}
	line := bytes.Count(old, []byte("\n")) + 1
	return line, writeHouse(path, append(old, text...))
}

// writeHouse replaces a house file in one go.
func writeHouse(path string, whole []byte) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return unwritable(path, err)
	}
	f, err := os.CreateTemp(filepath.Dir(path), ".house-*")
	if err != nil {
		return unwritable(path, err)
	}
	defer os.Remove(f.Name()) // gone already when all went well
	_, err = f.Write(whole)
	if err == nil {
		err = f.Chmod(0o644)
	}
	if err == nil {
		err = f.Sync()
	}
	if e := f.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return unwritable(path, err)
	}
	return nil
}

func unwritable(path string, err error) error {
	return &fault.Fault{Kind: fault.Internal, Where: path, What: "the house file cannot be written: " + plainCause(err), Mend: "nothing was changed", Err: err}
}

// openEditor opens the user's editor where there is one and this is a terminal.
func openEditor(c *cobra.Command, path string) (bool, error) {
	in, ok := c.InOrStdin().(*os.File)
	if !ok || !term.IsTerminal(int(in.Fd())) || !term.IsTerminal(int(os.Stdout.Fd())) {
		return false, nil
	}
	words := strings.Fields(os.Getenv("VISUAL"))
	if len(words) == 0 {
		words = strings.Fields(os.Getenv("EDITOR"))
	}
	if len(words) == 0 {
		return false, nil
	}
	cmd := exec.Command(words[0], append(words[1:], path)...)
	cmd.Stdin, cmd.Stdout, cmd.Stderr = os.Stdin, os.Stdout, os.Stderr
	if err := cmd.Run(); err != nil {
		return false, &fault.Fault{Kind: fault.Internal, Where: "$EDITOR", What: "the editor ended with an error: " + plainCause(err), Mend: "edit the file by hand", Err: err}
	}
	return true, nil
}

func newRuleCheck(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "check [FILE]",
		Short: "is a house file sound, and what would it change",
		Long: `Checks a file of house rules, pieces and silences: every slip with its line and
column. Where it is sound it tells which answers it would change, over all cloths,
for each piece in a single layer, bagged with a lining, and in every way of making
up that the file names. The file need not lie in the config folder yet. Without a file it
checks house.toml there, the file that "rule add" writes to.` + exitStatus,
		Example: "  tenter rule check\n  tenter rule check draft.toml",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return a.checkHouse(args[0])
			}
			path, err := housePath()
			if err != nil {
				return err
			}
			if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
				return &fault.Fault{Kind: fault.NotFound, What: "there are no rules of your own yet", Expected: "the name of a file", Mend: "tenter rule add my-rule"}
			}
			return a.checkHouse(path)
		},
	}
}

// checkedHouse is the answer of `rule check`.
type checkedHouse struct {
	Version  int                 `json:"version"`
	File     string              `json:"file"`
	Rules    []string            `json:"rules"`    // of the file
	Replaced []string            `json:"replaced"` // rules that it stands in the place of
	Silenced []string            `json:"silenced"`
	Pieces   []string            `json:"pieces"`
	Changes  []advise.Difference `json:"changes"`
	Notes    []string            `json:"notes,omitempty"`
}

// unsigned takes the single signs from the lines of a file in which nothing holds yet:
// a template is tried as it stands.
func unsigned(raw []byte) ([]byte, bool) {
	lines := strings.Split(string(raw), "\n")
	block := false
	for _, l := range lines {
		if t := strings.TrimSpace(l); t != "" && !strings.HasPrefix(t, "#") {
			return raw, false
		}
		block = block || strings.HasPrefix(l, "# [[")
	}
	if !block {
		return raw, false
	}
	for i, l := range lines {
		lines[i] = strings.TrimPrefix(l, "# ")
	}
	return []byte(strings.Join(lines, "\n")), true
}

// checkHouse checks a file beside the other house files.
func (a *app) checkHouse(path string) error {
	raw, err := os.ReadFile(path)
	if err != nil {
		return &fault.Fault{Kind: fault.NotFound, Where: path, What: "the file cannot be read: " + plainCause(err), Expected: "a file of house rules, TOML", Err: err}
	}
	all, unreadable := houseFiles()
	if err := unreadable.OrNil(); err != nil {
		return err
	}
	raw, asIfSet := unsigned(raw)
	name := shortPath(path)
	abs, err := filepath.Abs(path)
	if err != nil {
		abs = path
	}
	others := slices.DeleteFunc(slices.Clone(all), func(h advise.House) bool { return h.Name == shortPath(abs) })
	was, err := advise.Load(data.FS, others...)
	if err != nil {
		return &fault.Fault{Kind: fault.BadData, What: "another house file is broken, so that this one cannot be tried", Mend: "mend it first: " + strings.Split(err.Error(), "\n")[0], Err: err}
	}
	is, err := advise.Load(data.FS, append(slices.Clone(others), advise.House{Name: name, Data: raw})...)
	if err != nil {
		return err
	}
	out := a.houseCompared(was, is, path, name, asIfSet)
	if a.json {
		return a.writeJSON(out)
	}
	a.printHouse(out)
	return nil
}

// houseCompared tells what a house file adds to the knowledge and takes from it.
func (a *app) houseCompared(was, is *advise.Adviser, path, name string, asIfSet bool) checkedHouse {
	out := checkedHouse{Version: advise.Version, File: path, Rules: []string{}, Replaced: []string{}, Silenced: []string{}, Pieces: []string{}}
	if asIfSet {
		out.Notes = append(out.Notes, "The block is tried as if the signs before its lines were taken away. Until you do so it says nothing.")
	}
	there := map[string]bool{}
	for _, r := range is.Rules {
		there[r.ID] = true
		if strings.HasPrefix(r.Place, name+":") {
			out.Rules = append(out.Rules, r.ID)
			if r.About() != "" {
				out.Notes = append(out.Notes, fmt.Sprintf("%s judges a %s, where one is named: it is not counted below.", r.ID, r.About()))
			}
			out.Notes = append(out.Notes, a.provedText(is, r)...)
		}
	}
	for _, r := range was.Rules {
		if !there[r.ID] && !slices.ContainsFunc(is.Silenced, func(s rules.Silence) bool { return s.ID == r.ID }) {
			out.Replaced = append(out.Replaced, r.ID)
		}
	}
	for _, s := range is.Silenced {
		if strings.HasPrefix(s.Place, name+":") {
			out.Silenced = append(out.Silenced, s.ID)
			if e := s.Rule.Effect; e == rules.Caution || e == rules.Forbids {
				out.Notes = append(out.Notes, fmt.Sprintf("%s will no longer be said: %s", s.ID, s.Rule.Say))
			}
		}
	}
	for _, p := range is.Pieces {
		if !slices.ContainsFunc(was.Pieces, func(q *advise.Piece) bool { return q.ID == p.ID && q.Name == p.Name && q.Say == p.Say }) {
			out.Pieces = append(out.Pieces, p.ID)
		}
	}
	out.Changes = was.Difference(is)
	if out.Changes == nil {
		out.Changes = []advise.Difference{}
	}
	return out
}

// provedText tells where a rule does not do what its own cases say.
func (a *app) provedText(adv *advise.Adviser, r *rules.Rule) []string {
	var out []string
	for _, c := range []struct {
		cases []string
		speak bool
	}{{r.Fires, true}, {r.Quiet, false}} {
		for _, text := range c.cases {
			share, open, err := adv.Speaks(r, text)
			switch {
			case err != nil:
				out = append(out, fmt.Sprintf("%s: the case %q is not understood: %s", r.ID, text, fault.All(err)[0].What))
			case c.speak && open:
				out = append(out, fmt.Sprintf("%s: the case %q leaves open what the rule asks.", r.ID, text))
			case c.speak && share <= 0.8:
				out = append(out, fmt.Sprintf("%s: it should speak for %q, and speaks for %s of it.", r.ID, text, percent(share)))
			case !c.speak && !open && share >= 0.2:
				out = append(out, fmt.Sprintf("%s: it should be silent for %q, and speaks for %s of it.", r.ID, text, percent(share)))
			}
		}
	}
	return out
}

func (a *app) printHouse(out checkedHouse) {
	a.para("", shortPath(out.File)+" is sound", 2)
	var rows [][]string
	for _, x := range []struct {
		label string
		ids   []string
	}{{"rules", out.Rules}, {"in the place of", out.Replaced}, {"silenced", out.Silenced}, {"pieces", out.Pieces}} {
		if len(x.ids) > 0 {
			rows = append(rows, []string{x.label, strings.Join(x.ids, ", ")})
		}
	}
	if len(rows) == 0 {
		a.para("  ", "It holds no rule, piece or silence yet: every line may still have its sign before it.", 2)
	}
	a.tabulate(2, rows)
	for _, n := range out.Notes {
		a.para("  note: ", n, 8)
	}
	if len(out.Rules)+len(out.Silenced)+len(out.Replaced) == 0 {
		return
	}
	a.head("What it would change")
	if len(out.Changes) == 0 {
		a.para("  ", "No answer about a cloth: no make-up of the ways tried meets it.", 2)
		return
	}
	a.printVerdictsMoved(out.Changes)
	type spoke struct{ ways, most, of int }
	speaks := map[string]spoke{}
	for _, d := range out.Changes {
		for id, n := range d.Fires {
			x := speaks[id]
			speaks[id] = spoke{x.ways + 1, max(x.most, n), max(x.of, d.Cloths)}
		}
	}
	for _, id := range sortedKeys(speaks) {
		x := speaks[id]
		a.para("  ", fmt.Sprintf("%s speaks in %s, for at most %d of %d cloths.", id, prose.Count(x.ways, "make-up"), x.most, x.of), 4)
	}
}

// printVerdictsMoved prints the make-ups in which cloths change verdict, those of the
// most cloths first.
func (a *app) printVerdictsMoved(changes []advise.Difference) {
	var rows [][]string
	moved := 0
	list := slices.Clone(changes)
	sort.SliceStable(list, func(i, j int) bool { return len(list[i].Verdict) > len(list[j].Verdict) })
	for _, d := range list {
		n := len(d.Verdict)
		if n == 0 {
			continue
		}
		if moved++; moved > maxChanges {
			continue
		}
		var ids []string
		for _, v := range d.Verdict[:min(n, 3)] {
			ids = append(ids, v.Cloth+" from "+v.Was+" to "+v.Is)
		}
		if n > 3 {
			ids = append(ids, "…")
		}
		as := ""
		if d.Layer == "lining" {
			as = " as lining"
		}
		rows = append(rows, []string{d.Piece + ", " + d.Finish, fmt.Sprintf("%d of %d cloths change verdict%s: %s", n, d.Cloths, as, strings.Join(ids, ", "))})
	}
	a.tabulate(2, rows)
	if moved > maxChanges {
		fmt.Fprintf(a.out, "  … and %d more make-ups; --json tells all\n", moved-maxChanges)
	}
	if moved == 0 {
		a.para("  ", "No verdict changes: only what is said.", 2)
	}
}

// maxChanges is how many changed make-ups are told.
const maxChanges = 8

func newRuleSilence(a *app) *cobra.Command {
	var because string
	c := &cobra.Command{
		Use:   "silence ID --because REASON",
		Short: "take a rule away, with your reason",
		Long: `Writes into house.toml in your config folder that a rule is not to speak, and why.
"rule show" goes on telling of it; "rule speak" gives it back.` + exitStatus,
		Example:           `  tenter rule silence lining-frays-clip-after-joining --because "we overlock every lining first"`,
		Args:              cobra.ExactArgs(1),
		ValidArgsFunction: firstWord(a.complete(ruleIDs)),
		RunE: func(_ *cobra.Command, args []string) error {
			if strings.TrimSpace(because) == "" {
				return &fault.Fault{Kind: fault.WrongCall, Where: "--because", What: "no reason is given", Expected: "why it is to be silent, for whoever reads it in a year"}
			}
			if strings.ContainsAny(because, "\n\r") || clean(because) != because || len(because) > 500 {
				return &fault.Fault{Kind: fault.WrongCall, Where: "--because", What: "the reason is no plain line", Expected: "one line of at most 500 letters"}
			}
			adv, err := a.wholeHouse()
			if err != nil {
				return err
			}
			var r *rules.Rule
			for _, x := range adv.Rules {
				if x.ID == args[0] {
					r = x
				}
			}
			for _, s := range adv.Silenced {
				if s.ID == args[0] {
					return &fault.Fault{Kind: fault.WrongCall, What: "the rule is silent already: " + s.Because, Where: s.Place, Expected: "a rule that speaks", Mend: "`tenter rule speak " + s.ID + "` gives it back"}
				}
			}
			if r == nil {
				return &fault.Fault{Kind: fault.NotFound, What: fmt.Sprintf("no rule has the id %q", args[0]), Expected: "the id of a rule", Mend: fault.DidYouMean(args[0], ruleIDs(adv), "`tenter rule list` shows them")}
			}
			path, err := housePath()
			if err != nil {
				return err
			}
			if _, err := appendHouse(path, fmt.Sprintf("\n[[silence]]\nid      = %q\nbecause = %s\n", r.ID, tomlText(because))); err != nil {
				return err
			}
			if a.json {
				return a.writeJSON(struct {
					Version  int    `json:"version"`
					Silenced string `json:"silenced"`
					Because  string `json:"because"`
					File     string `json:"file"`
				}{advise.Version, r.ID, because, path})
			}
			a.para("", fmt.Sprintf("%s is silent from now on; `tenter rule speak %s` gives it back. No longer said: %s", r.ID, r.ID, r.Say), 2)
			if r.Effect == rules.Caution || r.Effect == rules.Forbids {
				a.para("", "It was a warning: make sure that what it warned of is seen to.", 2)
			}
			return nil
		},
	}
	c.Flags().StringVar(&because, "because", "", "why it is to be silent")
	return c
}

// tomlText writes a text as a basic string of TOML.
func tomlText(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\t", `\t`).Replace(s) + `"`
}

func ruleIDs(x *advise.Adviser) []string {
	var ids []string
	for _, r := range x.Rules {
		ids = append(ids, r.ID)
	}
	return ids
}

// wholeHouse is the knowledge with every house file: what writes into one of them
// does not do so while a slip keeps it from being read.
func (a *app) wholeHouse() (*advise.Adviser, error) {
	adv, err := a.adv()
	if err == nil && len(a.broken) > 0 {
		err, a.broken = a.broken, nil
	}
	return adv, err
}

func newRuleSpeak(a *app) *cobra.Command {
	return &cobra.Command{
		Use:     "speak ID",
		Short:   "give a silenced rule back",
		Long:    "Takes the block that silences a rule out of house.toml, so that it speaks again." + exitStatus,
		Example: "  tenter rule speak lining-frays-clip-after-joining",
		Args:    cobra.ExactArgs(1),
		ValidArgsFunction: firstWord(a.complete(func(x *advise.Adviser) []string {
			var ids []string
			for _, s := range x.Silenced {
				ids = append(ids, s.ID)
			}
			return ids
		})),
		RunE: func(_ *cobra.Command, args []string) error {
			adv, err := a.wholeHouse()
			if err != nil {
				return err
			}
			i := slices.IndexFunc(adv.Silenced, func(s rules.Silence) bool { return s.ID == args[0] })
			if i < 0 {
				var ids []string
				for _, s := range adv.Silenced {
					ids = append(ids, s.ID)
				}
				return &fault.Fault{Kind: fault.NotFound, What: fmt.Sprintf("no rule %q is silenced", args[0]), Expected: "the id of a silenced rule", Mend: fault.DidYouMean(args[0], ids, "`tenter rule list --silenced` shows them")}
			}
			s := adv.Silenced[i]
			path, err := housePath()
			if err != nil {
				return err
			}
			file, rest, _ := strings.Cut(s.Place, ":")
			if file != shortPath(path) {
				return &fault.Fault{Kind: fault.WrongCall, Where: s.Place, What: "it is silenced in a file that you wrote by hand", Expected: "house.toml", Mend: "take the block out there"}
			}
			raw, err := os.ReadFile(path)
			if err != nil {
				return unwritable(path, err)
			}
			line := 0
			_, _ = fmt.Sscanf(rest, "%d", &line)
			if err := writeHouse(path, withoutBlock(raw, line)); err != nil {
				return err
			}
			if a.json {
				return a.writeJSON(struct {
					Version int    `json:"version"`
					Speaks  string `json:"speaks"`
				}{advise.Version, s.ID})
			}
			a.para("", s.ID+" speaks again", 2)
			return nil
		},
	}
}

// withoutBlock takes a block out of a file of TOML: the line on which it begins, and
// those after it until another block or a comment begins.
func withoutBlock(raw []byte, line int) []byte {
	lines := bytes.SplitAfter(raw, []byte("\n"))
	var out []byte
	for i := 0; i < len(lines); i++ {
		if i+1 != line {
			out = append(out, lines[i]...)
			continue
		}
		for i++; i < len(lines); i++ {
			t := bytes.TrimSpace(lines[i])
			if len(t) == 0 {
				continue // the blank lines behind it go too
			}
			if t[0] == '[' || t[0] == '#' {
				break
			}
		}
		i--
	}
	return append(bytes.TrimRight(out, "\n"), '\n')
}

// printSilenced shows a rule that was taken away.
func (a *app) printSilenced(adv *advise.Adviser, s rules.Silence) error {
	if a.json {
		return a.writeJSON(struct {
			Version  int    `json:"version"`
			Kind     string `json:"kind"`
			Silenced string `json:"silenced_because"`
			At       string `json:"silenced_at"`
			shownRule
		}{advise.Version, "rule", s.Because, s.Place, ruleShown(s.Rule)})
	}
	a.para("", fmt.Sprintf("silenced in %s: %s (`tenter rule speak %s` gives it back)", s.Place, s.Because, s.ID), 2)
	return a.printRule(adv, s.Rule)
}
