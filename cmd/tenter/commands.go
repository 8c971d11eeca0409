package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"tenter/fibres/fault"
)

// command is one command of the program by its name.
type command struct {
	name string
	make func(*app) *cobra.Command
}

// everyName lists the commands in the order of the help.
var everyName = []command{{"advise", newAdvise}, {"check", newCheck}, {"pair", newPair}, {"cut", newCut}, {"drape", newDrape}, {"card", newCard}, {"reckon", newReckon}, {"show", newShow}, {"compare", newCompare},
	{"search", newSearch}, {"page", newPage}, {"list", newList}, {"source", newSource}, {"rule", newRule}, {"swatch", newSwatch}, {"test", newTest}, {"wear", newWear}, {"learn", newLearn},
	{"demo", newDemo}, {"note", newNote}, {"favourite", newFavourite}, {"store", newStore}, {"undo", inCare(newUndo)}, {"redo", inCare(newRedo)}, {"history", inCare(newHistory)}, {"man", newMan}}

// commands makes every command of the program, or the one alone that the first
// word names: to put all of them together takes longer than many an answer.
func commands(a *app, args ...string) []*cobra.Command {
	var out []*cobra.Command
	for _, c := range everyName {
		if len(args) > 0 && args[0] == c.name {
			return []*cobra.Command{c.make(a)}
		}
	}
	for _, c := range everyName {
		out = append(out, c.make(a))
	}
	return out
}

// oneCommand reports whether a word names a command of ours.
func oneCommand(word string) bool {
	return slices.ContainsFunc(everyName, func(c command) bool { return c.name == word })
}

// commandNames are offered when a command is misspelt.
func commandNames() []string {
	out := []string{"help", "completion"}
	for _, c := range everyName {
		out = append(out, c.name)
	}
	return out
}

// onlyCommands refuses bare words after a command that only has commands of its
// own, and suggests the near one.
func onlyCommands(c *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	var names []string
	for _, s := range c.Commands() {
		names = append(names, s.Name())
	}
	return &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("there is no command %q", c.Name()+" "+args[0]), Expected: "one of " + strings.Join(names, ", "),
		Mend: fault.DidYouMean(args[0], names, "`"+c.CommandPath()+" --help` tells what each does")}
}
