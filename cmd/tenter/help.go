package main

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// printHelp tells what a command does: examples first, the exit status last,
// no line longer than the width.
func (a *app) printHelp(c *cobra.Command, _ []string) {
	long, status, hasStatus := strings.Cut(c.Long, exitStatus)
	if !hasStatus {
		status = ""
	}
	a.para("", c.CommandPath()+": "+c.Short, 2)
	if c.HasExample() {
		a.head("EXAMPLES")
		for _, e := range strings.Split(c.Example, "\n") {
			a.command(strings.TrimSpace(e))
		}
	}
	a.head("USAGE")
	use := c.UseLine()
	if c.HasAvailableSubCommands() {
		use = c.CommandPath() + " COMMAND"
	}
	a.para("  ", strings.TrimSuffix(use, " [flags]"), 6)
	if long = strings.TrimSpace(long); long != "" {
		fmt.Fprintln(a.out)
		a.paragraphs(long)
	}
	a.printCommands(c)
	a.jobsText(c)
	a.printFlags("FLAGS", c.LocalFlags())
	a.printFlags("FLAGS OF EVERY COMMAND", c.InheritedFlags())
	if hasStatus {
		fmt.Fprintln(a.out, strings.TrimPrefix(exitStatus, "\n")+status)
	}
}

// command prints a call so that it can be copied: a long one goes on after a
// backslash.
func (a *app) command(call string) {
	lines := []string{"  "}
	for i, w := range callWords(call) {
		last := &lines[len(lines)-1]
		if i > 0 && utf8.RuneCountInString(*last+" "+w) > a.width()-2 {
			*last += ` \`
			lines = append(lines, "      "+w)
			continue
		}
		if i > 0 {
			*last += " "
		}
		*last += w
	}
	for _, l := range lines {
		fmt.Fprintln(a.out, l)
	}
}

// callWords parts a call at its blanks, but not within quotes, and keeps a flag
// with its value.
func callWords(call string) []string {
	var out []string
	var word strings.Builder
	quote := rune(0)
	for _, r := range call + " " {
		switch {
		case quote == 0 && (r == '"' || r == '\''):
			quote = r
		case r == quote:
			quote = 0
		case quote == 0 && r == ' ':
			w := word.String()
			word.Reset()
			if n := len(out); n > 0 && strings.HasPrefix(out[n-1], "--") && !strings.Contains(out[n-1], " ") && !strings.HasPrefix(w, "-") {
				out[n-1] += " " + w
			} else if w != "" {
				out = append(out, w)
			}
			continue
		}
		word.WriteRune(r)
	}
	return out
}

// paragraphs prints text to the width; a paragraph with indented lines stays as
// it is.
func (a *app) paragraphs(text string) {
	for i, p := range strings.Split(text, "\n\n") {
		if i > 0 {
			fmt.Fprintln(a.out)
		}
		if strings.Contains("\n"+p, "\n ") || strings.Contains("\n"+p, "\n\t") {
			for _, l := range strings.Split(strings.Trim(p, "\n"), "\n") {
				fmt.Fprintln(a.out, strings.ReplaceAll(l, "\t", "  "))
			}
			continue
		}
		a.para("", p, 0)
	}
}

// printCommands lists the commands below one, in their groups.
func (a *app) printCommands(c *cobra.Command) {
	list := func(title, group string) {
		var rows [][]string
		for _, s := range c.Commands() {
			if s.GroupID == group && (s.IsAvailableCommand() || s.Name() == "help") {
				rows = append(rows, []string{s.Name(), s.Short})
			}
		}
		if len(rows) > 0 {
			a.head(title)
			a.tabulate(2, rows)
		}
	}
	for _, g := range c.Groups() {
		list(strings.ToUpper(strings.TrimSuffix(g.Title, ":")), g.ID)
	}
	list("COMMANDS", "")
}

func (a *app) printFlags(title string, flags *pflag.FlagSet) {
	var rows [][]string
	flags.VisitAll(func(f *pflag.Flag) {
		if f.Hidden {
			return
		}
		name, usage := flagWords(f)
		rows = append(rows, []string{name, usage})
	})
	if len(rows) > 0 {
		a.head(title)
		a.tabulate(2, rows)
	}
}

// flagWords are a flag as it is written, and what it does.
func flagWords(f *pflag.Flag) (name, usage string) {
	kind, usage := pflag.UnquoteUsage(f)
	name = "--" + f.Name
	if f.Shorthand != "" {
		name = "-" + f.Shorthand + ", " + name
	}
	switch kind {
	case "":
	case "int", "float":
		name += " NUMBER"
	case "strings", "stringArray":
		name += " WORD…"
	default:
		name += " WORD"
	}
	if f.DefValue != "" && f.DefValue != "false" && f.DefValue != "0" && f.DefValue != "[]" {
		usage += " (else " + f.DefValue + ")"
	}
	return name, usage
}

// completionInOurWords says what the completion of a shell is for, and how it is got.
func completionInOurWords(root *cobra.Command) {
	root.InitDefaultCompletionCmd()
	c, _, err := root.Find([]string{"completion"})
	if err != nil || c == root {
		return
	}
	c.Short = "let the shell finish words: commands, cloths, pieces, your swatches"
	c.Long = "Prints a script that lets the shell finish what you begin to type after tenter: commands, flags, cloths, pieces, your own swatches. Name your shell." + exitStatus
	c.Example = "  tenter completion bash"
	kept := map[string]string{
		"bash":       "~/.local/share/bash-completion/completions/tenter",
		"zsh":        "a folder of $fpath, as _tenter",
		"fish":       "~/.config/fish/completions/tenter.fish",
		"powershell": "the file that $PROFILE names",
	}
	for _, s := range c.Commands() {
		s.Short = "completion for " + s.Name()
		s.Long = "Prints the completion script for " + s.Name() + ". Keep it in " + kept[s.Name()] + ", then open a new shell." + exitStatus
		s.Example = "  tenter completion " + s.Name()
		if f := s.Flags().Lookup("no-descriptions"); f != nil {
			f.Usage = "offer the words alone, without what they mean"
		}
	}
}
