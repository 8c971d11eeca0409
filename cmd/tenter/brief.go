package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"tenter/advise/brief"
)

// labelWidth is the column in which what a label says begins.
const labelWidth = 9

// allFlag adds --all, which tells everything that an answer holds.
func (a *app) allFlag(c *cobra.Command) {
	c.Flags().BoolVar(&a.all, "all", false, "tell everything, with sources")
}

// teller says answers in a maker's words.
func (a *app) teller() (brief.Teller, error) {
	adv, err := a.adv()
	return brief.Teller{Adviser: adv, System: a.system}, err
}

// printBrief prints an answer in a few lines: the verdict, then its parts under
// their labels, and the order of work.
func (a *app) printBrief(b brief.Brief) {
	a.para("", b.Head, 2)
	if len(b.Parts) > 0 && b.Parts[0].Rows == nil {
		fmt.Fprintln(a.out)
	}
	worked := len(b.Steps) == 0
	for _, p := range b.Parts {
		if !worked && isAfterWork(p.Label) {
			a.printSteps(b.Steps)
			worked = true
		}
		a.printPart(p)
	}
	if !worked {
		a.printSteps(b.Steps)
	}
	if more := b.More(); more != "" {
		a.labelled("More", more)
	}
}

// isAfterWork reports whether a part stands below the order of work.
func isAfterWork(l brief.Label) bool {
	return l == brief.Mind || l == brief.Test || l == brief.Say || l == brief.Next
}

// labelled prints a text behind its label, in the column of all such texts.
func (a *app) labelled(label, text string) {
	for i, l := range wrap(a.converted(clean(text)), a.width()-labelWidth, 0) {
		if i > 0 {
			label = ""
		}
		fmt.Fprintln(a.out, pad(label, labelWidth)+l)
	}
}

// printPart prints what stands under one label.
func (a *app) printPart(p brief.Part) {
	label := string(p.Label)
	if p.Rows != nil {
		rows := indented(p.Rows)
		if head := append([]string{label}, p.Columns[1:]...); strings.Join(head, "") != "" {
			rows = append([][]string{head}, rows...)
		}
		a.tabulate(0, rows)
		return
	}
	for _, l := range p.Lines {
		a.labelled(label, l)
		label = ""
	}
}

// indented sets the rows of a table in by two columns under their heading.
func indented(rows [][]string) [][]string {
	out := make([][]string, len(rows))
	for i, r := range rows {
		out[i] = append([]string{"  " + r[0]}, r[1:]...)
	}
	return out
}

// printSteps prints the order of work.
func (a *app) printSteps(steps []brief.Step) {
	a.head(brief.OrderHeading)
	for i, s := range steps {
		a.para(fmt.Sprintf("%4d  ", i+1), s.Say, 6)
		for _, m := range s.Mind {
			a.para("        ", m, 8)
		}
	}
	fmt.Fprintln(a.out)
}
