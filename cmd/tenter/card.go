package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"

	"github.com/spf13/cobra"

	"tenter/fibres/fault"
	"tenter/fibres/units"
	"tenter/page/card"
)

func newCard(a *app) *cobra.Command {
	var q cutQuestion
	var opts card.Options
	var out string
	var force bool
	c := &cobra.Command{
		Use:     "card PIECE --shell CLOTH [--finish FINISH] [--lining CLOTH] --out FILE",
		GroupID: groupAsk,
		Short:   "one sheet to print: what to buy, cut and do",
		Long: `Writes a card as one HTML file that needs nothing else. A job card is one sheet for
the table: what to buy, cut sizes, a plan, needle and heat in large figures, the order
of work to tick off and the cautions of this make-up. Reasons, every caution and the
sources stay on the screen; --reasons prints them as a second sheet. A shopping card is
a third of a sheet. Open it in a browser to read it, or print it there.

The measures of the piece and the cloth are given as in ` + "`tenter cut`" + `.` + exitStatus,
		Example: `  tenter card --piece half-circle-cape --finish bagged-lining --shell wool-flannel --lining viscose-twill --out cape.html
  tenter card --piece cowl --finish single-layer-bound-edge --shell double-gauze --kind shopping --out shop.html`,
		Args:              cobra.MaximumNArgs(1),
		ValidArgsFunction: a.complete(pieceIDs),
		RunE: func(_ *cobra.Command, args []string) error {
			if err := q.namePiece(args); err != nil {
				return err
			}
			return a.writeCard(&q, opts, out, force)
		},
	}
	q.flags(a, c, true)
	f := c.Flags()
	f.StringVar(&out, "out", "", "the file to write; - is standard output")
	f.StringVar(&opts.Kind, "kind", card.Job, "shopping (a third of a sheet) or job")
	f.StringVar(&opts.Paper, "paper", card.A4, "a4 or letter")
	f.BoolVar(&opts.Reasons, "reasons", false, "print a second sheet: reasons, every caution, sources")
	f.BoolVar(&force, "force", false, "replace a file that is there")
	q.layingFlags(f)
	for flag, words := range map[string][]string{"kind": {card.Job, card.Shopping}, "paper": {card.A4, card.Letter}} {
		_ = c.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp))
	}
	return c
}

// writeCard writes a card to a file or to standard output.
func (a *app) writeCard(q *cutQuestion, opts card.Options, out string, force bool) error {
	if out == "" {
		return &fault.Fault{Kind: fault.WrongCall, Where: "--out", What: "it is not said where the card goes", Expected: "a file, or - for standard output", Mend: "--out card.html"}
	}
	if out == "-" && a.json {
		return &fault.Fault{Kind: fault.WrongCall, Where: "--out", What: "the card and the JSON would both go to standard output", Expected: "a file, or no --json"}
	}
	html, err := q.card(a, opts)
	if err != nil {
		return err
	}
	if out == "-" {
		_, err := a.out.Write(html)
		return err
	}
	if err := writeNew(out, html, force); err != nil {
		return err
	}
	if a.json {
		return a.writeJSON(struct {
			Version int    `json:"version"`
			File    string `json:"file"`
			Kind    string `json:"kind"`
			Paper   string `json:"paper"`
			Bytes   int    `json:"bytes"`
		}{1, out, opts.Kind, opts.Paper, len(html)})
	}
	a.para("", fmt.Sprintf("Wrote the %s card to %s. Open it in a browser to read or print it.", opts.Kind, out), 2)
	return nil
}

// card makes the card of the question.
func (q *cutQuestion) card(a *app, opts card.Options) ([]byte, error) {
	adv, err := a.adv()
	if err != nil {
		return nil, err
	}
	q.stitch = "301"
	m, err := q.makeUp(a, "")
	var found fault.List
	found.Add(err)
	m = adv.WithUsualFinish(m)
	for flag, missing := range map[string]bool{"--piece": m.Piece == nil && q.piece == "", "--finish": m.Finish == nil && q.finish == "" && m.Piece != nil, "--shell": q.shell == ""} {
		if missing {
			found = append(found, &fault.Fault{Kind: fault.WrongCall, Where: flag, What: "it is not named", Expected: "a card is for one piece, finish and shell", Mend: "`tenter advise` helps to choose"})
		}
	}
	found.Sort()
	if err := found.OrNil(); err != nil {
		return nil, err
	}
	var taken []string
	if m.FinishTaken {
		q.finish = m.Finish.ID
		taken = append(taken, "No finish was named: the card is for "+m.Finish.Name+", the usual one.")
	}
	if m.Finish.Lined && q.lining == "" {
		ans, err := adv.Advise(m, 1)
		if err != nil {
			return nil, err
		}
		if c, ok := ans.TakenLining(); ok {
			q.lining = c.ID
			taken = append(taken, "No lining was named: the card is for "+c.Name+", the best of those known.")
			if m, err = q.makeUp(a, ""); err != nil {
				return nil, err
			}
		}
	}
	plan, err := q.plan(a, "")
	if err != nil {
		return nil, err
	}
	opts.Units, opts.OneWay, opts.AnyWay = a.system, q.oneWay, q.anyWay
	for text, to := range map[string]*units.Length{q.repeat: &opts.RepeatAlong, q.repeatAcross: &opts.RepeatAcross} {
		if l, err := units.ParseLength(text); err == nil { // plan has told of one that is no length
			*to = l
		}
	}
	c, err := card.New(adv, m, plan, opts)
	if err != nil {
		return nil, err
	}
	c.Notes = append(taken, c.Notes...)
	var b bytes.Buffer
	err = c.Write(&b)
	return b.Bytes(), err
}

// writeNew writes a file whole or not at all: beside its place first, then
// renamed. A file that is there is left alone unless it may be replaced.
func writeNew(path string, data []byte, replace bool) error {
	cannot := func(err error) error {
		if errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT) {
			return &fault.Fault{Kind: fault.Internal, Where: path, What: "the disk is full", Mend: "make room, then do it again; nothing was written", Err: err}
		}
		return &fault.Fault{Kind: fault.WrongCall, Where: path, What: "the file cannot be written: " + plainCause(err), Expected: "a folder that is there and may be written to", Err: err}
	}
	there := &fault.Fault{Kind: fault.WrongCall, Where: path, What: "there is a file already", Expected: "a name that is free", Mend: "choose another name, or replace it with --force"}
	switch s, err := os.Lstat(path); {
	case err == nil && s.IsDir():
		return &fault.Fault{Kind: fault.WrongCall, Where: path, What: "it is a folder", Expected: "the name of a file", Mend: "name a file in it"}
	case err == nil && !replace:
		return there
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return cannot(err)
	}
	f, err := os.CreateTemp(filepath.Dir(path), ".card-*")
	if err != nil {
		return cannot(err)
	}
	defer os.Remove(f.Name()) // gone already when all went well
	_, err = f.Write(data)
	if err == nil {
		err = f.Chmod(0o644)
	}
	if err == nil {
		err = f.Sync()
	}
	if e := f.Close(); err == nil {
		err = e
	}
	if err != nil {
		return cannot(err)
	}
	if replace {
		err = os.Rename(f.Name(), path)
	} else if err = os.Link(f.Name(), path); err != nil && !errors.Is(err, fs.ErrExist) {
		err = os.Rename(f.Name(), path) // a file system without links
	}
	if errors.Is(err, fs.ErrExist) { // made by another in the meantime
		return there
	}
	if err != nil {
		return cannot(err)
	}
	return nil
}
