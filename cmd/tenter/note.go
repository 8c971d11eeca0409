package main

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/prose"
	"tenter/kb/record"
	"tenter/kb/store"
)

func newNote(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:     "note",
		GroupID: groupRecord,
		Short:   "write down what you found out about a cloth, piece, seam …",
		Long: `Keeps your own notes on cloths, pieces, finishes, seams or anything else that has
a name. They show in show and are found by search. Every change can be undone
with "tenter undo".` + exitStatus,
		Example: `  tenter note add "cotton sateen" "the red bolt of the cellar sheds colour"
  tenter note list`,
		Args: onlyCommands,
		RunE: func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(newNoteAdd(a), newNoteList(a), newNoteEdit(a), newNoteRemove(a))
	addUndo(a, c)
	return c
}

func newNoteAdd(a *app) *cobra.Command {
	var kind string
	c := &cobra.Command{
		Use:   "add NAME TEXT…",
		Short: "write a note on a thing",
		Long: `Writes a note on a cloth, piece, finish, seam or any other thing. A dash for the
text reads it from standard input. --kind tells which, where several things have
the name.` + exitStatus,
		Example: `  tenter note add "cotton sateen" "the red bolt of the cellar sheds colour"
  tenter note add cowl "cut it a hand longer for the third witch"`,
		Args:              cobra.MinimumNArgs(2),
		ValidArgsFunction: firstWord(a.completeThing()),
		RunE: func(c *cobra.Command, args []string) error {
			name, rest := args[0], args[1:]
			for i := min(len(args)-1, maxNameWords); i > 1; i-- { // as many words as are a name: "cotton lawn"
				if _, err := a.named(strings.Join(args[:i], " "), kind); err == nil {
					name, rest = strings.Join(args[:i], " "), args[i:]
					break
				}
			}
			text, err := noteText(c, rest)
			if err != nil {
				return err
			}
			n, err := a.named(name, kind)
			if err != nil {
				return err
			}
			s, err := a.makeStore()
			if err != nil {
				return err
			}
			note, err := s.AddNote(n.kind, n.id, text)
			if err != nil {
				return err
			}
			return a.sayNote(note, fmt.Sprintf("note %d on %s %s; `tenter undo` takes it back", note.ID, n.kind, n.id))
		},
	}
	c.Flags().StringVar(&kind, "kind", "", "cloth, piece, seam …, where the name has several")
	_ = c.RegisterFlagCompletionFunc("kind", a.complete(func(*advise.Adviser) []string { return searchKinds }))
	return c
}

// maxNameWords is how many words of a name are taken without quotes: no cloth or thing
// has more.
const maxNameWords = 9

func newNoteList(a *app) *cobra.Command {
	return &cobra.Command{
		Use:               "list [NAME]",
		Short:             "all notes, or those on one thing",
		Long:              "Lists your notes with their numbers, oldest first: all of them, or those on one thing." + exitStatus,
		Example:           "  tenter note list\n  tenter note list cowl",
		Args:              cobra.MaximumNArgs(1),
		ValidArgsFunction: a.completeThing(),
		RunE: func(_ *cobra.Command, args []string) error {
			var about []namedThing
			if len(args) == 1 {
				var err error
				if about, err = a.allNamed(args[0]); err != nil {
					return err
				}
			}
			return a.listNotes(about)
		},
	}
}

func newNoteEdit(a *app) *cobra.Command {
	return &cobra.Command{
		Use:     "edit NUMBER TEXT…",
		Short:   "put another text in a note's place",
		Long:    "Replaces the text of a note. `tenter note list` shows the numbers; a dash reads the text from standard input." + exitStatus,
		Example: `  tenter note edit 1 "the red bolt sheds colour until the third wash"`,
		Args:    cobra.MinimumNArgs(2),
		RunE: func(c *cobra.Command, args []string) error {
			text, err := noteText(c, args[1:])
			if err != nil {
				return err
			}
			s, note, err := a.noteNumber(args[0])
			if err != nil {
				return err
			}
			if err := s.EditNote(note.ID, text); err != nil {
				return err
			}
			note.Text = text
			return a.sayNote(note, fmt.Sprintf("note %d is changed; `tenter undo` takes it back", note.ID))
		},
	}
}

func newNoteRemove(a *app) *cobra.Command {
	return &cobra.Command{
		Use:     "remove NUMBER",
		Short:   "remove a note",
		Long:    "Removes a note. `tenter note list` shows the numbers; `tenter undo` brings it back." + exitStatus,
		Example: "  tenter note remove 1",
		Args:    cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			s, note, err := a.noteNumber(args[0])
			if err != nil {
				return err
			}
			if err := s.RemoveNote(note.ID); err != nil {
				return err
			}
			return a.sayNote(note, fmt.Sprintf("note %d on %s %s is removed; `tenter undo` brings it back", note.ID, note.Kind, note.Subject))
		},
	}
}

// shownNote is a note in an answer.
type shownNote struct {
	ID      int64  `json:"id"`
	Kind    string `json:"kind"`
	Subject string `json:"subject"`
	Text    string `json:"text"`
	Created string `json:"created,omitempty"`
	Changed string `json:"changed,omitempty"`
}

func noteShown(n record.Note) shownNote {
	return shownNote{n.ID, n.Kind, n.Subject, n.Text, day(n.Created), day(n.Changed)}
}

// day is a time as it is told: the day of the user's calendar.
func day(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Local().Format(time.DateOnly)
}

func (a *app) sayNote(n record.Note, say string) error {
	if a.json {
		return a.writeJSON(struct {
			Version int       `json:"version"`
			Note    shownNote `json:"note"`
		}{advise.Version, noteShown(n)})
	}
	a.para("", say, 2)
	return nil
}

func (a *app) listNotes(about []namedThing) error {
	list := []shownNote{}
	s, err := a.store()
	if err != nil {
		return err
	}
	if s != nil {
		notes, err := s.Notes("", "")
		if err != nil {
			return err
		}
		for _, n := range notes {
			if about == nil || slices.ContainsFunc(about, func(t namedThing) bool { return t.kind == n.Kind && t.id == n.Subject }) {
				list = append(list, noteShown(n))
			}
		}
	}
	if a.json {
		return a.writeJSON(struct {
			Version int         `json:"version"`
			Notes   []shownNote `json:"notes"`
		}{advise.Version, list})
	}
	if len(list) == 0 {
		fmt.Fprintln(a.out, "there is no note; `tenter note add NAME TEXT` writes one")
		return nil
	}
	var rows [][]string
	for _, n := range list {
		rows = append(rows, []string{strconv.FormatInt(n.ID, 10), n.Kind + " " + n.Subject, n.Text + " (" + n.Changed + ")"})
	}
	a.tabulate(0, rows)
	return nil
}

// maxNote is how long a note may be, in characters.
const maxNote = 10_000

// noteText puts the words of a call together, or reads them.
func noteText(c *cobra.Command, words []string) (string, error) {
	text := strings.Join(words, " ")
	if text == "-" {
		b, err := io.ReadAll(io.LimitReader(c.InOrStdin(), 4*maxNote+1))
		if err != nil {
			return "", &fault.Fault{Kind: fault.Internal, Where: "standard input", What: "it cannot be read: " + plainCause(err), Err: err}
		}
		text = string(b)
	}
	text = strings.TrimSpace(clean(strings.ToValidUTF8(text, "")))
	switch n := utf8.RuneCountInString(text); {
	case n == 0:
		return "", &fault.Fault{Kind: fault.WrongCall, What: "the note is empty", Expected: "a text", Mend: "tenter note add NAME \"what you found out\""}
	case n > maxNote:
		return "", &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("the note has %d characters", n), Expected: fmt.Sprintf("at most %d", maxNote), Mend: "make several notes of it"}
	}
	return text, nil
}

// noteNumber finds a note by its number.
func (a *app) noteNumber(text string) (*store.Store, record.Note, error) {
	id, err := strconv.ParseInt(text, 10, 64)
	if err != nil || id < 1 {
		return nil, record.Note{}, &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q is not the number of a note", text), Expected: "a number from `tenter note list`"}
	}
	s, err := a.store()
	if err != nil {
		return nil, record.Note{}, err
	}
	if s != nil {
		notes, err := s.Notes("", "")
		if err != nil {
			return nil, record.Note{}, err
		}
		for _, n := range notes {
			if n.ID == id {
				return s, n, nil
			}
		}
	}
	return nil, record.Note{}, &fault.Fault{Kind: fault.NotFound, What: fmt.Sprintf("there is no note %d", id), Expected: "a number from `tenter note list`"}
}

// namedThing is anything that has a name, as notes and marks hold it.
type namedThing struct{ kind, id, name string }

// named finds the one thing that a name means; kind settles it where several
// have the name.
func (a *app) named(name, kind string) (namedThing, error) {
	if err := knownKind(kind); err != nil {
		return namedThing{}, err
	}
	list, err := a.allNamed(name)
	if err != nil {
		return namedThing{}, err
	}
	if kind != "" {
		var of []namedThing
		for _, t := range list {
			if t.kind == kind {
				of = append(of, t)
			}
		}
		if len(of) == 0 {
			return namedThing{}, &fault.Fault{Kind: fault.NotFound, Where: "--kind", What: fmt.Sprintf("no %s is called %q", kind, name), Expected: "one of " + thingsText(list), Mend: "`tenter list " + prose.Plural(kind) + "` shows what there is"}
		}
		list = of
	}
	if len(list) > 1 {
		return namedThing{}, &fault.Fault{Kind: fault.NotFound, What: fmt.Sprintf("%q fits %d things", name, len(list)), Expected: "one of " + thingsText(list), Mend: "name its id, or its kind with --kind"}
	}
	return list[0], nil
}

func thingsText(list []namedThing) string {
	var out []string
	for _, t := range list {
		out = append(out, t.kind+" "+t.id)
	}
	return strings.Join(out, ", ")
}

// allNamed finds everything that has the very name, best match first: an id
// before a name before another name; else the cloth or thing whose name begins
// so.
func (a *app) allNamed(name string) ([]namedThing, error) {
	adv, err := a.adv()
	if err != nil {
		return nil, err
	}
	k := fibres.FoldName(name)
	var byID, byName, byOther []namedThing
	see := func(t namedThing, others []string) {
		switch {
		case fibres.FoldName(t.id) == k:
			byID = append(byID, t)
		case fibres.FoldName(t.name) == k:
			byName = append(byName, t)
		case slices.ContainsFunc(others, func(n string) bool { return fibres.FoldName(n) == k }):
			byOther = append(byOther, t)
		}
	}
	for _, c := range adv.Cat.ClothList() {
		see(namedThing{"cloth", c.ID, c.Name}, c.Names())
	}
	for _, t := range things(adv) {
		see(namedThing{t.kind, t.id, t.name}, t.also)
	}
	own, err := a.store()
	if err != nil {
		return nil, err
	}
	if own != nil {
		w, there, err := own.FindSwatch(name)
		if err != nil {
			return nil, err
		}
		if there {
			byID = append(byID, namedThing{"swatch", w.Name, w.Name})
		}
	}
	for _, l := range [][]namedThing{byID, byName, byOther} {
		if len(l) > 0 {
			return l, nil
		}
	}
	s, err := a.subject(name)
	if err == nil {
		if s.Swatch {
			return []namedThing{{"swatch", s.Name, s.Name}}, nil
		}
		if len(s.May) > 0 {
			return nil, &fault.Fault{Kind: fault.NotFound, What: s.MayBe(), Expected: "the name of one thing", Mend: "name one of them in full"}
		}
		return []namedThing{{"cloth", s.Cloth.ID, s.Cloth.Name}}, nil
	}
	if t := findThing(adv, name); t != nil && t.ID != "" {
		return []namedThing{{t.Kind, t.ID, t.Name}}, nil
	}
	return nil, err
}

// nameOf is what a thing is called; its id where it is no longer there.
func (a *app) nameOf(kind, id string) string {
	adv, err := a.adv()
	if err != nil {
		return id
	}
	if kind == "cloth" {
		return adv.Cat.ClothNames.Label(id)
	}
	for _, t := range things(adv) {
		if t.kind == kind && t.id == id {
			return t.name
		}
	}
	return id
}

// completeThing completes the id of anything.
func (a *app) completeThing() func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return a.complete(func(x *advise.Adviser) []string {
		out := x.Cat.ClothNames.IDs()
		for _, t := range things(x) {
			if !slices.Contains(out, t.id) {
				out = append(out, t.id)
			}
		}
		slices.Sort(out)
		return out
	})
}

// firstWord completes the first bare word only.
func firstWord(f func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective)) func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return func(c *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		if len(args) > 0 {
			return nil, cobra.ShellCompDirectiveNoFileComp
		}
		return f(c, args, typed)
	}
}
