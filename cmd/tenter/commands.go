package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"tenter/fibres/fault"
)

// commands lists every command of the program.
func commands(a *app) []*cobra.Command {
	return []*cobra.Command{
		newAdvise(a), newCheck(a), newPair(a), newCut(a), newCard(a), newReckon(a), newShow(a), newCompare(a), newSearch(a), newPage(a), newList(a), newSource(a), newRule(a), newSwatch(a), newTest(a), newWear(a), newLearn(a), newDemo(a), newNote(a), newFavourite(a), newStore(a),
	}
}

// commandNames are offered when a command is misspelt.
var commandNames = []string{"advise", "check", "pair", "cut", "card", "reckon", "search", "page", "show", "compare", "list", "source", "rule", "swatch", "test", "wear", "learn", "demo", "note", "favourite", "store", "help", "completion"}

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
