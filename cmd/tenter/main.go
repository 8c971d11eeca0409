// Command tenter is a local knowledge base of how cloth behaves, with rules
// and cloth mechanics on top, for people who draft and sew.
package main

import (
	"os"
	"slices"

	"github.com/spf13/cobra"
)

func main() {
	// One short run makes some 10 MB of garbage and ends: collecting it costs a
	// quarter of the time. The limit is there for the page, which goes on.
	alone = true
	collectAt(-1)
	limitMemory(256 << 20)
	os.Exit(run(os.Args[1:]))
}

// run is the whole program as a function, so that tests can call it.
func run(args []string) int {
	a := newApp(os.Stdout, os.Stderr)
	if len(args) > 1 && !slices.Contains(args, "--help") {
		// Nearly every command with a word behind it asks the reference: it is read
		// while the commands are put together.
		go func() { _ = a.reference() }()
	}
	root := newRoot(a, args...)
	root.SetArgs(args)
	err := root.Execute()
	a.close()
	a.sayBroken()
	if err == nil {
		a.sayUnused()
	}
	if unwritten := a.unwritten(); unwritten != nil {
		err = unwritten
	}
	// A flag that is not understood stops the reading before --json is seen.
	a.json = a.json || err != nil && slices.Contains(args, "--json")
	return a.report(err)
}

// tellsInUnits are the commands whose sentences are told in the units asked for: those
// that print what the reference says. The others print what the user wrote, or figures
// that have their units.
var tellsInUnits = map[string]bool{"advise": true, "check": true, "pair": true, "cut": true, "show": true, "source": true, "compare": true, "list": true, "rule": true, "test": true, "search": true, "learn": true, "drape": true}

// groups of commands in the help.
const (
	groupAsk    = "ask"
	groupRecord = "record"
	groupCare   = "care"
)

func newRoot(a *app, args ...string) *cobra.Command {
	root := &cobra.Command{
		Use:   "tenter",
		Short: "how cloth behaves, and what to do with it",
		Long: `tenter says, before you buy or cut, how a cloth will hang in the piece you mean
to make, which lining, seams and interfacing go with it, how far it shrinks, and
in what order to work. A cloth's name is a whole population of cloths, so the
answer is a share of them, with reasons, and the home test that ends the doubt.`,
		Example: `  tenter advise half-circle-cape
  tenter check wool-flannel --piece half-circle-cape --finish bagged-lining --lining viscose-twill
  tenter show "cotton sateen"`,
		SilenceUsage:  true,
		SilenceErrors: true,
		Version:       version(),
		RunE:          func(cmd *cobra.Command, _ []string) error { a.welcome(); return nil },
		Args:          cobra.NoArgs,
	}
	root.SetOut(a.out)
	root.SetErr(a.err)
	root.AddGroup(&cobra.Group{ID: groupAsk, Title: "Ask:"}, &cobra.Group{ID: groupRecord, Title: "Record:"}, &cobra.Group{ID: groupCare, Title: "Look after:"})
	f := root.PersistentFlags()
	f.BoolVar(&a.json, "json", false, "answer as JSON")
	f.StringVar(&a.unitsFlag, "units", "metric", "units of the answer: metric, imperial or both")
	f.BoolVar(&a.noColour, "no-color", false, "no colour, also on a terminal")
	f.BoolVar(&a.newStore, "new-store", false, "make the store that --store names")
	f.StringVar(&a.storeFlag, "store", "", "the file of your records, or demo for those of `tenter demo`")
	f.BoolVar(&a.noLearn, "no-learn", false, "let your swatches and verdicts move no answer about other cloths")
	root.SetFlagErrorFunc(flagFault)
	root.SetHelpFunc(a.printHelp)
	root.PersistentPreRunE = func(c *cobra.Command, _ []string) error {
		for c.HasParent() && c.Parent().HasParent() {
			c = c.Parent()
		}
		a.prose = tellsInUnits[c.Name()]
		return a.begin()
	}
	for _, c := range commands(a, args...) {
		countedWords(c)
		root.AddCommand(c)
	}
	root.SetGlobalNormalizationFunc(americanToo)
	a.tree = func() *cobra.Command { return newRoot(a) }
	if len(args) == 0 || !oneCommand(args[0]) {
		completionInOurWords(root)
	}
	root.SetHelpCommandGroupID(groupCare)
	root.SetCompletionCommandGroupID(groupCare)
	return root
}
