package main

import "github.com/spf13/cobra"

// commands lists every command of the program.
func commands(a *app) []*cobra.Command {
	return []*cobra.Command{
		newAdvise(a), newCheck(a), newPair(a), newCut(a), newShow(a), newCompare(a), newList(a), newSource(a), newRule(a),
	}
}

// commandNames are offered when a command is misspelt.
var commandNames = []string{"advise", "check", "pair", "cut", "search", "show", "compare", "list", "source", "rule", "note", "favourite", "store", "help", "completion"}
