package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"tenter/advise"
	"tenter/fibres/fault"
)

func newMan(a *app) *cobra.Command {
	return &cobra.Command{
		Use:     "man [FOLDER]",
		GroupID: groupCare,
		Short:   "manual pages, of the same words as the help",
		Long: `Writes a manual page for each command into a folder, which is made if need be:
read one with man FOLDER/tenter-check.1. Without a folder it prints the first page.` + exitStatus,
		Example: "  tenter man man1",
		Args:    cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			root := a.tree()
			if len(args) == 0 {
				fmt.Fprint(a.out, manPage(root))
				return nil
			}
			var written []string
			for _, c := range documented(root) {
				a.jobsText(c)
				name := filepath.Join(args[0], manName(c)+".1")
				err := os.MkdirAll(args[0], 0o755)
				if err == nil {
					err = os.WriteFile(name, []byte(manPage(c)), 0o644)
				}
				if err != nil {
					return &fault.Fault{Kind: fault.Internal, Where: name, What: "the page cannot be written: " + plainCause(err), Mend: "name a folder that you may write to", Err: err}
				}
				written = append(written, name)
			}
			if a.json {
				return a.writeJSON(struct {
					Version int      `json:"version"`
					Pages   []string `json:"pages"`
				}{advise.Version, written})
			}
			fmt.Fprintf(a.out, "%d pages written\n", len(written))
			return nil
		},
	}
}

// documented are a command and all below it that are listed.
func documented(c *cobra.Command) []*cobra.Command {
	out := []*cobra.Command{c}
	for _, below := range c.Commands() {
		if below.IsAvailableCommand() {
			out = append(out, documented(below)...)
		}
	}
	return out
}

func manName(c *cobra.Command) string { return strings.ReplaceAll(c.CommandPath(), " ", "-") }

// manPage is the page of one command in the language of man. It names no date: the
// same program writes the same page on every day.
func manPage(c *cobra.Command) string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line(`.TH "%s" 1 "" "tenter %s" "tenter"`, strings.ToUpper(manName(c)), strings.Fields(version())[0])
	line(".SH NAME\n%s \\- %s", roff(manName(c)), roff(c.Short))
	use := c.UseLine()
	if c.HasAvailableSubCommands() {
		use = c.CommandPath() + " COMMAND"
	}
	line(".SH SYNOPSIS\n%s", roff(strings.TrimSuffix(use, " [flags]")))
	long, _, _ := strings.Cut(c.Long, exitStatus) // the codes stand below, each with its line
	if long = strings.TrimSpace(long); long != "" {
		line(".SH DESCRIPTION")
		for i, p := range strings.Split(long, "\n\n") {
			if i > 0 {
				line(".PP")
			}
			verbatim := strings.Contains("\n"+p, "\n ")
			if verbatim {
				line(".nf")
			}
			line("%s", roff(strings.Trim(p, "\n")))
			if verbatim {
				line(".fi")
			}
		}
	}
	if c.HasExample() {
		line(".SH EXAMPLES\n.nf\n%s\n.fi", roff(c.Example))
	}
	manFlags(line, "OPTIONS", c.LocalFlags())
	manFlags(line, "OPTIONS OF EVERY COMMAND", c.InheritedFlags())
	if c.HasAvailableSubCommands() {
		line(".SH COMMANDS")
		for _, below := range c.Commands() {
			if below.IsAvailableCommand() {
				line(".TP\n.B %s\n%s", roff(below.CommandPath()), roff(below.Short))
			}
		}
	}
	line(".SH EXIT STATUS")
	for _, x := range exitCodes {
		line(".TP\n.B %d\n%s", x.code, roff(x.when))
	}
	return b.String()
}

func manFlags(line func(string, ...any), title string, flags *pflag.FlagSet) {
	first := true
	flags.VisitAll(func(f *pflag.Flag) {
		if f.Hidden {
			return
		}
		if first {
			line(".SH %s", title)
			first = false
		}
		name, usage := flagWords(f)
		line(".TP\n.B %s\n%s", roff(name), roff(usage))
	})
}

// roff escapes what man would take for its own signs.
func roff(text string) string {
	text = strings.NewReplacer(`\`, `\e`, "-", `\-`).Replace(text)
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		if strings.HasPrefix(l, ".") || strings.HasPrefix(l, "'") {
			lines[i] = `\&` + l
		}
	}
	return strings.Join(lines, "\n")
}
