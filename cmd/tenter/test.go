package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/prose"
)

func newTest(a *app) *cobra.Command {
	return &cobra.Command{
		Use:     "test [KIND]",
		GroupID: groupRecord,
		Short:   "how a home test is done, on one page",
		Long: `Prints the instruction of a home test on one page: what is needed, the steps, a
figure, cautions, and what error to expect. Without a kind it lists them all.` + exitStatus,
		Example: `  tenter test
  tenter test droop`,
		Args: cobra.MaximumNArgs(1),
		ValidArgsFunction: a.complete(func(*advise.Adviser) []string {
			var out []string
			for _, id := range fibres.TestIDs() {
				out = append(out, fibres.Tests[id].Word())
			}
			return out
		}),
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return a.listTests()
			}
			t, err := findTest(args[0])
			if err != nil {
				return err
			}
			if a.json {
				return a.writeJSON(struct {
					Version int `json:"version"`
					shownTest
				}{advise.Version, testShown(t)})
			}
			a.printTest(t.In(a.system))
			return nil
		},
	}
}

func findTest(name string) (fibres.HomeTest, error) {
	k := fibres.FoldName(name)
	var names []string
	for _, id := range fibres.TestIDs() {
		t := fibres.Tests[id]
		if k == fibres.FoldName(id) || k == fibres.FoldName(t.Name) || k == fibres.FoldName(t.Kind) {
			return t, nil
		}
		names = append(names, t.Word())
	}
	return fibres.HomeTest{}, &fault.Fault{Kind: fault.NotFound, What: fmt.Sprintf("there is no home test %q", name), Expected: "the name of a home test", Mend: fault.DidYouMean(name, names, "`tenter test` lists them")}
}

// shownTest is a home test in an answer.
type shownTest struct {
	Kind    string   `json:"kind"`
	ID      string   `json:"id"`
	Name    string   `json:"name"`
	How     string   `json:"how"`
	Settles []string `json:"settles"`
	Needs   []string `json:"needs,omitempty"`
	Steps   []string `json:"steps,omitempty"`
	Figure  string   `json:"figure,omitempty"`
	Caution string   `json:"caution,omitempty"`
	Error   string   `json:"error,omitempty"`
	Enter   string   `json:"enter,omitempty"`
}

func testShown(t fibres.HomeTest) shownTest {
	out := shownTest{t.Word(), t.ID, t.Name, t.How, []string{}, t.Needs, t.Steps, t.Figure, t.Caution, t.Error, t.Enter}
	for _, p := range t.Settles() {
		out.Settles = append(out.Settles, fibres.Properties[p].ID)
	}
	return out
}

func (a *app) listTests() error {
	if a.json {
		out := struct {
			Version int         `json:"version"`
			Tests   []shownTest `json:"tests"`
		}{Version: advise.Version}
		for _, id := range fibres.TestIDs() {
			out.Tests = append(out.Tests, testShown(fibres.Tests[id]))
		}
		return a.writeJSON(out)
	}
	var rows [][]string
	for _, id := range fibres.TestIDs() {
		t := fibres.Tests[id]
		say := t.Name
		if s := testShown(t).Settles; len(s) > 0 {
			say += ": tells " + strings.Join(s, ", ")
		} else if t.Kind == "bleed" {
			say += ": tells whether its dye bleeds"
		}
		rows = append(rows, []string{t.Word(), say})
	}
	a.tabulate(0, rows)
	return nil
}

// printTest prints the page of a test. The figure is drawn and not wrapped.
func (a *app) printTest(t fibres.HomeTest) {
	a.para("", prose.Upper(t.Name), 0)
	fmt.Fprintln(a.out)
	a.para("", t.How, 0)
	if t.Caution != "" {
		fmt.Fprintln(a.out)
		a.para("", "CAUTION: "+t.Caution, 9)
	}
	if t.Figure != "" {
		fmt.Fprintln(a.out)
		for _, l := range strings.Split(t.Figure, "\n") {
			fmt.Fprintln(a.out, strings.TrimRight("  "+l, " "))
		}
	}
	if len(t.Needs) > 0 {
		a.head("What you need")
		for _, n := range t.Needs {
			a.para("  - ", n, 4)
		}
	}
	if len(t.Steps) > 0 {
		a.head("How")
		for i, s := range t.Steps {
			a.para("  "+strconv.Itoa(i+1)+". ", s, 5)
		}
	}
	if t.Error != "" {
		a.head("What error to expect")
		a.para("  ", t.Error, 2)
	}
	if t.Enter != "" {
		a.head("To record it")
		a.command("tenter swatch measure NAME " + t.Enter)
		a.command("tenter swatch measure NAME " + t.Kind)
	}
}
