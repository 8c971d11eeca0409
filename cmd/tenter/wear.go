package main

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"tenter/advise"
	"tenter/fibres/fault"
	"tenter/kb/record"
	"tenter/page/knowledge"
)

func newWear(a *app) *cobra.Command {
	c := &cobra.Command{
		Use:     "wear",
		GroupID: groupRecord,
		Short:   "how a make-up did in wear; it moves what the piece asks",
		Long: `Keeps your verdicts after wearing a make-up. Where one goes against what the piece
asks, it moves those limits for you: by most of the way where the cloth was
measured, by little where only its name was known. check says so in its notes, and
removing the verdict takes it back.` + exitStatus,
		Example: `  tenter wear add "king's blue" --piece half-circle-cape --verdict "too stiff after all"
  tenter wear list`,
		Args: onlyCommands,
		RunE: func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	c.AddCommand(newWearAdd(a), newWearList(a), newWearRemove(a))
	addUndo(a, c)
	return c
}

func newWearAdd(a *app) *cobra.Command {
	var q question
	var verdict, said, date string
	c := &cobra.Command{
		Use:   "add CLOTH --piece PIECE --verdict WORDS",
		Short: "record a verdict after wear",
		Long:  wearVerdicts() + exitStatus,
		Example: `  tenter wear add "king's blue" --piece half-circle-cape --verdict "too stiff after all" --said "it stood off like a bell"
  tenter wear add cotton-lawn --piece wide-sash --finish single-layer-hem --verdict "just right"`,
		Args:              cobra.ExactArgs(1),
		ValidArgsFunction: firstWord(a.completeCloth()),
		RunE: func(_ *cobra.Command, args []string) error {
			f, err := advise.ParseFinding(verdict)
			if verdict == "" {
				err = &fault.Fault{Kind: fault.WrongCall, What: "no verdict is given", Expected: "what you found: \"too stiff after all\", \"just right\" …", Mend: "`tenter wear add --help` lists them"}
			}
			if err != nil {
				return fault.All(err)[0].At("--verdict")
			}
			at, err := parseDay("date", date)
			if err != nil {
				return err
			}
			kept, raw, err := a.wornMakeUp(&q, args[0])
			if err != nil {
				return err
			}
			s, err := a.makeStore()
			if err != nil {
				return err
			}
			w, err := s.AddWear(record.Wear{MakeUp: raw, Verdict: f.ID, Said: said, At: at})
			if err != nil {
				return storeFault(err)
			}
			return a.sayWear(w, kept, f)
		},
	}
	q.flags(a, c, false)
	c.Flags().StringVar(&verdict, "verdict", "", "what you found")
	c.Flags().StringVar(&said, "said", "", "in words of your own")
	c.Flags().StringVar(&date, "date", "", "the day of the verdict (else today)")
	_ = c.RegisterFlagCompletionFunc("verdict", a.complete(func(*advise.Adviser) []string {
		var out []string
		for _, f := range advise.Findings {
			out = append(out, f.ID)
		}
		return out
	}))
	return c
}

// wornMakeUp reads what was worn.
func (a *app) wornMakeUp(q *question, cloth string) (kept knowledge.WornMakeUp, raw []byte, err error) {
	m, err := q.makeUp(a, cloth)
	if err != nil {
		return kept, nil, err
	}
	if m.Piece == nil {
		return kept, nil, &fault.Fault{Kind: fault.WrongCall, Where: "--piece", What: "no piece is named", Expected: "what was made of the cloth", Mend: "`tenter list pieces` shows them"}
	}
	adv, err := a.adv()
	if err != nil {
		return kept, nil, err
	}
	return wornOf(adv, m)
}

// wornOf is a make-up that was worn with its figures, as it is kept.
func wornOf(adv *advise.Adviser, m advise.MakeUp) (kept knowledge.WornMakeUp, raw []byte, err error) {
	ans, err := adv.Check(m)
	if err != nil {
		return kept, nil, err
	}
	kept = knowledge.WornMakeUp{MakeUpIDs: ans.MakeUp, Figures: adv.FiguresOf(m)}
	raw, err = json.Marshal(kept)
	return kept, raw, err
}

// wearVerdicts tells the verdicts that move something.
func wearVerdicts() string {
	var out []string
	for _, f := range advise.Findings {
		out = append(out, fmt.Sprintf("  %-14s %s", f.ID, f.Name))
	}
	return "Records a verdict with the make-up and the figures that it had. The verdicts:\n\n" + strings.Join(out, "\n")
}

// sayWear tells what a new verdict moves.
func (a *app) sayWear(w record.Wear, kept knowledge.WornMakeUp, f advise.Finding) error {
	a.adviser, a.base = nil, nil // judged anew, with the verdict
	adv, err := a.adv()
	if err != nil {
		return err
	}
	var moved []string
	if p, err := adv.Piece(kept.Piece); err == nil {
		for i := range p.Demands {
			if d := &p.Demands[i]; d.Moved != nil {
				for _, id := range d.Moved.By {
					if id == w.ID {
						moved = append(moved, d.SayMoved())
					}
				}
			}
		}
	}
	if a.json {
		return a.writeJSON(struct {
			Version int       `json:"version"`
			Wear    shownWear `json:"wear"`
			Moved   []string  `json:"moved"`
		}{advise.Version, wearShown(w), append([]string{}, moved...)})
	}
	a.para("", fmt.Sprintf("verdict %d is recorded: %s, %s; `tenter wear remove %d` takes it back", w.ID, wornText(kept), f.Name, w.ID), 2)
	switch {
	case len(moved) > 0:
		for _, m := range moved {
			a.para("  ", m, 2)
		}
	default:
		a.para("  ", "Nothing changes: the piece asks nothing of that, its limits already allowed for this, or learning is off.", 2)
	}
	return nil
}

// wornText is a make-up in words.
func wornText(m knowledge.WornMakeUp) string {
	out := m.Piece + " of " + m.Cloth
	if m.Lining != "" {
		out += " lined with " + m.Lining
	}
	if m.Finish != "" {
		out += ", " + m.Finish
	}
	return out
}

// shownWear is a verdict in an answer.
type shownWear struct {
	ID      int64                `json:"id"`
	MakeUp  knowledge.WornMakeUp `json:"make_up"`
	Verdict string               `json:"verdict"`
	Said    string               `json:"said,omitempty"`
	At      string               `json:"at"`
}

func wearShown(w record.Wear) shownWear {
	out := shownWear{ID: w.ID, Verdict: w.Verdict, Said: w.Said, At: day(w.At)}
	_ = json.Unmarshal(w.MakeUp, &out.MakeUp) // what cannot be read is shown empty
	return out
}

func newWearList(a *app) *cobra.Command {
	return &cobra.Command{
		Use:     "list",
		Short:   "all verdicts after wear",
		Long:    "Lists your verdicts after wear with their numbers, newest first." + exitStatus,
		Example: "  tenter wear list",
		Args:    cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error {
			s, err := a.store()
			if err != nil {
				return err
			}
			list := []shownWear{}
			if s != nil {
				ws, err := s.Wears(0)
				if err != nil {
					return err
				}
				for _, w := range ws {
					list = append(list, wearShown(w))
				}
			}
			if a.json {
				return a.writeJSON(struct {
					Version int         `json:"version"`
					Wears   []shownWear `json:"wears"`
				}{advise.Version, list})
			}
			if len(list) == 0 {
				fmt.Fprintln(a.out, "there is no verdict; `tenter wear add CLOTH --piece PIECE --verdict …` records one")
				return nil
			}
			var rows [][]string
			for _, w := range list {
				say := w.Verdict + ": " + wornText(w.MakeUp)
				if w.Said != "" {
					say += ". " + w.Said
				}
				rows = append(rows, []string{strconv.FormatInt(w.ID, 10), w.At, say})
			}
			a.tabulate(0, rows)
			return nil
		},
	}
}

func newWearRemove(a *app) *cobra.Command {
	return &cobra.Command{
		Use:     "remove NUMBER",
		Short:   "take a verdict back, with what it moved",
		Long:    "Removes a verdict after wear; what it moved goes back. \"tenter undo\" brings it back." + exitStatus,
		Example: "  tenter wear remove 1",
		Args:    cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			id, err := strconv.ParseInt(args[0], 10, 64)
			if err != nil || id < 1 {
				return &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q is not the number of a verdict", args[0]), Expected: "a number from `tenter wear list`"}
			}
			s, err := a.store()
			if err != nil {
				return err
			}
			gone := &fault.Fault{Kind: fault.NotFound, What: fmt.Sprintf("there is no verdict %d", id), Expected: "a number from `tenter wear list`"}
			if s == nil {
				return gone
			}
			if err := s.RemoveWear(id); err != nil {
				for _, f := range fault.All(err) {
					if f.Kind == fault.NotFound {
						return gone
					}
				}
				return err
			}
			if a.json {
				return a.writeJSON(struct {
					Version int   `json:"version"`
					Removed int64 `json:"removed"`
				}{advise.Version, id})
			}
			a.para("", fmt.Sprintf("verdict %d is removed, with what it moved; `tenter undo` brings it back", id), 2)
			return nil
		},
	}
}
