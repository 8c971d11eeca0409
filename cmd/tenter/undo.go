package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"tenter/advise"
	"tenter/fibres/fault"
	"tenter/kb"
	"tenter/kb/record"
	"tenter/kb/store"
)

// inCare puts a command among those that look after the records.
func inCare(make func(*app) *cobra.Command) func(*app) *cobra.Command {
	return func(a *app) *cobra.Command {
		c := make(a)
		c.GroupID = groupCare
		return c
	}
}

// addUndo adds undo where people look for it first, without listing it there.
func addUndo(a *app, c *cobra.Command) {
	for _, x := range []*cobra.Command{newUndo(a), newRedo(a), newHistory(a)} {
		x.Hidden = true
		c.AddCommand(x)
	}
}

func newUndo(a *app) *cobra.Command {
	var dry bool
	c := &cobra.Command{
		Use:   "undo",
		Short: "take back the last change to your records",
		Long: `Takes back the last change to your notes, marks, swatches or settings and says
which it was. Called again, it takes back the one before. --dry-run says what it
would take back; tenter redo makes it again; tenter history lists the changes.` + exitStatus,
		Example: "  tenter undo --dry-run\n  tenter undo",
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			s, err := a.changed()
			if err != nil {
				return err
			}
			if dry {
				return a.wouldUndo(s)
			}
			u, err := s.TakeBack()
			if err != nil {
				return err
			}
			writeUndone(record.AddUndone(keptUndone(), u))
			if a.json {
				return a.writeJSON(struct {
					Version int    `json:"version"`
					Undone  string `json:"undone"`
				}{advise.Version, u.What})
			}
			a.para("", "taken back: "+kb.ChangeText(u.What), 2)
			if u.Steps != nil && undonePath() != "" {
				fmt.Fprintln(a.out, "Make it again: tenter redo")
			}
			return nil
		},
	}
	c.Flags().BoolVarP(&dry, "dry-run", "n", false, "say what would be taken back, and change nothing")
	return c
}

// changed is the store with changes in it.
func (a *app) changed() (*store.Store, error) {
	s, err := a.store()
	if err == nil && s == nil {
		err = record.NothingToUndo("")
	}
	return s, err
}

func (a *app) wouldUndo(s *store.Store) error {
	list, err := s.History(1)
	if err != nil {
		return err
	}
	if len(list) == 0 {
		return record.NothingToUndo("")
	}
	if a.json {
		return a.writeJSON(struct {
			Version int    `json:"version"`
			Would   string `json:"would_undo"`
		}{advise.Version, list[0].What})
	}
	a.para("", "tenter undo would take back: "+changeText(list[0]), 2)
	return nil
}

// changeText is a change with its time: "swatch \"gold\" added (28 Nov 2026, 14:05)".
func changeText(c record.Change) string {
	return kb.ChangeText(c.What) + " (" + c.At.Local().Format("2 Jan 2006, 15:04") + ")"
}

func newRedo(a *app) *cobra.Command {
	return &cobra.Command{
		Use:     "redo",
		Short:   "make the change again that undo took back",
		Long:    "Makes the change again that tenter undo took back last. Called again, it makes the one before again. After any other change there is nothing to redo." + exitStatus,
		Example: "  tenter redo",
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			all := keptUndone()
			if len(all) == 0 {
				return &fault.Fault{Kind: fault.NotFound, What: "there is nothing to make again", Expected: "a change that tenter undo took back", Mend: "tenter history lists the changes"}
			}
			s, err := a.changed()
			if err != nil {
				return err
			}
			u := all[len(all)-1]
			if err := s.Redo(u); err != nil {
				return err
			}
			writeUndone(all[:len(all)-1])
			if a.json {
				return a.writeJSON(struct {
					Version int    `json:"version"`
					Redone  string `json:"redone"`
				}{advise.Version, u.What})
			}
			a.para("", "made again: "+kb.ChangeText(u.What), 2)
			return nil
		},
	}
}

func newHistory(a *app) *cobra.Command {
	var limit int
	c := &cobra.Command{
		Use:     "history",
		Short:   "the last changes to your records, newest first",
		Long:    "Lists the last changes to your records, the newest first: the order in which tenter undo takes them back." + exitStatus,
		Example: "  tenter history --limit 5",
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			s, err := a.store()
			if err != nil {
				return err
			}
			list := []record.Change{}
			if s != nil {
				if list, err = s.History(limit); err != nil {
					return err
				}
			}
			if a.json {
				type change struct {
					At   time.Time `json:"at"`
					What string    `json:"what"`
				}
				out := []change{}
				for _, c := range list {
					out = append(out, change(c))
				}
				return a.writeJSON(struct {
					Version int      `json:"version"`
					Changes []change `json:"changes"`
				}{advise.Version, out})
			}
			if len(list) == 0 {
				fmt.Fprintln(a.out, "Nothing has been changed yet.")
				return nil
			}
			var rows [][]string
			for _, c := range list {
				rows = append(rows, []string{c.At.Local().Format("2 Jan 15:04"), kb.ChangeText(c.What)})
			}
			a.tabulate(0, rows)
			fmt.Fprintln(a.out, "Take back the first: tenter undo")
			return nil
		},
	}
	c.Flags().IntVar(&limit, "limit", 10, "how many changes; 0 is all")
	return c
}

// undonePath is the file that holds what was taken back last, beside the log; "" where
// there is no home.
func undonePath() string {
	if d := stateDir(); d != "" {
		return filepath.Join(d, "undone.json")
	}
	return ""
}

// undoneFile is what was taken back of one store, the last at the end.
type undoneFile struct {
	Store string          `json:"store"`
	Back  []record.Undone `json:"back"`
}

// keptUndone reads what was taken back of the store in use.
func keptUndone() []record.Undone {
	var f undoneFile
	b, err := os.ReadFile(undonePath())
	if err != nil || json.Unmarshal(b, &f) != nil || f.Store != storePath() {
		return nil
	}
	return f.Back
}

// writeUndone writes what can be made again. It is a help, and its loss no failure.
func writeUndone(all []record.Undone) {
	p := undonePath()
	if p == "" {
		return
	}
	b, err := json.Marshal(undoneFile{storePath(), all})
	if err == nil && os.MkdirAll(filepath.Dir(p), 0o700) == nil {
		_ = os.WriteFile(p, b, 0o600)
	}
}
