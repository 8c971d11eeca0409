package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"tenter/fibres/fault"
	"tenter/fibres/prose"
	"tenter/fibres/units"
)

// Exit codes.
const (
	exitOK        = 0
	exitOther     = 1
	exitWrongCall = 2
	exitBadData   = 3
	exitStopped   = 130
)

// exitCodes is the one table of them: help, manual pages and docs/commands.md tell it.
var exitCodes = []struct {
	code int
	when string
}{
	{exitOK, `any answer, also "unsuited"`},
	{exitOther, "other failures: a file that cannot be written, another process that holds it"},
	{exitWrongCall, "a wrong call: an unknown name, flag or figure"},
	{exitBadData, "bad data: a slip in a list or house file, records that are damaged"},
	{exitStopped, "stopped with Ctrl-C"},
}

// exitStatus ends every long help.
const exitStatus = `

EXIT STATUS
  0 any answer, also "unsuited"; 1 other failures; 2 a wrong call; 3 bad data`

// report prints an error, the only place that does, and gives the exit code.
func (a *app) report(err error) int {
	if err == nil {
		return exitOK
	}
	found := fault.All(callFault(err))
	if a.json {
		f := found[0]
		type jsonFault struct {
			What     string `json:"what"`
			Where    string `json:"where"`
			Expected string `json:"expected"`
			Mend     string `json:"mend"`
		}
		asJSON := func(f *fault.Fault) jsonFault { return jsonFault{f.What, f.Where, f.Expected, f.Mend} }
		out := struct {
			Version int         `json:"version"`
			Error   jsonFault   `json:"error"`
			More    []jsonFault `json:"more,omitempty"`
		}{Version: 1, Error: asJSON(f)}
		for _, m := range found[1:] {
			out.More = append(out.More, asJSON(m))
		}
		e := json.NewEncoder(a.err)
		e.SetEscapeHTML(false)
		_ = e.Encode(out)
	} else {
		for i, f := range found {
			if i == maxFaults {
				fmt.Fprintf(a.err, "and %d more\n", len(found)-maxFaults)
				break
			}
			for _, l := range a.faultLines(f) {
				fmt.Fprintln(a.err, l)
			}
		}
	}
	code := exitOK
	for _, f := range found {
		code = max(code, codeOf(f.Kind))
	}
	return code
}

// maxFaults is how many faults are printed; the rest are counted.
const maxFaults = 20

// The length of an error as it is printed.
const (
	maxFaultLines = 3
	maxFaultWords = 45
)

// faultLines says a fault: where and what, then the way out. What was expected is
// said too where there is room for it, or where no way out is known.
func (a *app) faultLines(f *fault.Fault) []string {
	what := units.Prose(f.What, a.system)
	if f.Where != "" {
		what = f.Where + ": " + what
	}
	first := wrap(clean(what), a.width(), 2)
	way := func(texts ...string) []string {
		var out []string
		for _, t := range texts {
			switch t = strings.TrimSpace(t); {
			case t == "":
			case strings.HasPrefix(t, "example: "): // to be copied: no full stop behind it
				out = append(out, prose.Upper(t))
			case strings.HasPrefix(t, "tenter ") || strings.HasPrefix(t, "--") && len(strings.Fields(t)) <= 2:
				out = append(out, "Try: "+t)
			default:
				out = append(out, ended(prose.Upper(t)))
			}
		}
		if out == nil {
			return first
		}
		return append(first[:len(first):len(first)], wrap("  "+clean(strings.Join(out, " ")), a.width(), 2)...)
	}
	if f.Mend == "" && f.Expected == "" {
		return first
	}
	expected := ""
	if f.Expected != "" && (f.Mend == "" || !sameCommand(f.Expected, f.Mend)) {
		expected = "expected " + f.Expected
	}
	expected, mend := units.Prose(expected, a.system), units.Prose(f.Mend, a.system)
	both := way(expected, mend)
	if f.Mend == "" || len(both) <= maxFaultLines && len(strings.Fields(strings.Join(both, " "))) <= maxFaultWords && !strings.HasPrefix(f.Mend, "did you mean") {
		return both
	}
	return way(mend)
}

// sameCommand reports whether two texts name one command in backquotes.
func sameCommand(a, b string) bool {
	_, after, ok := strings.Cut(a, "`")
	command, _, closed := strings.Cut(after, "`")
	return ok && closed && strings.Contains(b, "`"+command+"`")
}

// ended puts a full stop behind a sentence that has no sign at its end.
func ended(s string) string {
	s = strings.TrimSpace(s)
	if s == "" || strings.ContainsRune(".?!:…", []rune(s)[len([]rune(s))-1]) {
		return s
	}
	return s + "."
}

func codeOf(k fault.Kind) int {
	switch k {
	case fault.WrongCall, fault.NotFound, fault.OutsideRange:
		return exitWrongCall
	case fault.BadData:
		return exitBadData
	case fault.Stopped:
		return exitStopped
	}
	return exitOther
}

// callFault turns cobra's own errors into faults of a wrong call.
func callFault(err error) error {
	var f *fault.Fault
	var l fault.List
	if errors.As(err, &f) || errors.As(err, &l) {
		return err
	}
	s := err.Error()
	if strings.HasPrefix(s, "unknown command") {
		word := s
		if i := strings.IndexByte(s, '"'); i >= 0 {
			if j := strings.IndexByte(s[i+1:], '"'); j >= 0 {
				word = s[i+1 : i+1+j]
			}
		}
		return &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("there is no command %q", word), Expected: "one of the commands in `tenter help`",
			Mend: fault.DidYouMean(word, commandNames(), "`tenter help` lists them"), Err: err}
	}
	return &fault.Fault{Kind: fault.Internal, What: s, Err: err}
}

// wanted are the words that a command may lack, as they are asked for.
var wanted = map[string]string{"CLOTH": "which cloth", "NAME": "of what name", "PIECE": "which piece", "FILE": "which file", "TEXT": "what text", "WORDS": "which words", "ID": "which one",
	"RULE": "which rule", "KIND": "which kind", "DIR": "which folder", "FOLDER": "which folder", "THING": "which thing", "SOURCE": "which source"}

// countedWords lets a command say which word is missing or too many, with an example of
// the call, in place of a count of arguments.
func countedWords(c *cobra.Command) {
	for _, below := range c.Commands() {
		countedWords(below)
	}
	count := c.Args
	if count == nil || c.Use == "" {
		return
	}
	c.Args = func(c *cobra.Command, args []string) error {
		err := count(c, args)
		if err == nil || !strings.Contains(err.Error(), "arg(s)") && !strings.HasPrefix(err.Error(), "unknown command") {
			return err
		}
		f := &fault.Fault{Kind: fault.WrongCall, Where: c.Name(), Expected: "a call such as " + exampleOf(c), Err: err}
		names := usePlaces(c.Use)
		if len(args) < len(names) && count(c, append(slices.Clone(args), make([]string, len(names)-len(args))...)) == nil {
			f.What = wantedWord(names[len(args)]) + "?"
			f.Expected, f.Mend = "", "example: "+exampleOf(c)
			return f
		}
		if len(args) > 0 && (c.HasParent() && c.Parent().HasParent() || !strings.HasPrefix(err.Error(), "unknown command")) {
			f.What, f.Mend = "there is a word too many: \""+args[len(args)-1]+"\"", "quote a name of several words, as \"cotton sateen\""
			return f
		}
		return err
	}
}

// usePlaces are the words in capitals of a command's use: what stands there in a call.
func usePlaces(use string) []string {
	var out []string
	for _, w := range strings.Fields(use)[1:] {
		if strings.HasPrefix(w, "-") || strings.HasPrefix(w, "[-") {
			break
		}
		w, _, _ = strings.Cut(w, "|")
		if w = strings.Trim(w, "[].…"); w != "" && w == strings.ToUpper(w) {
			out = append(out, w)
		}
	}
	return out
}

func wantedWord(place string) string {
	if w, ok := wanted[strings.TrimRight(place, "S")]; ok {
		return w
	}
	if w, ok := wanted[place]; ok {
		return w
	}
	return "which " + strings.ReplaceAll(strings.ToLower(place), "-", " ")
}

// exampleOf is the shortest of a command's examples, one with the flags of the call
// before others.
func exampleOf(c *cobra.Command) string {
	out, most := "", -1
	for _, l := range strings.Split(c.Example, "\n") {
		if l = strings.TrimSpace(l); l == "" {
			continue
		}
		same := 0
		c.Flags().Visit(func(f *pflag.Flag) {
			if strings.Contains(l, "--"+f.Name) {
				same++
			}
		})
		if same > most || same == most && len(l) < len(out) {
			out, most = l, same
		}
	}
	return out
}

// elsewhere are flags that makers try and that stand elsewhere, with the way there.
var elsewhere = map[string]string{
	"size":   "measures belong to the cut: `tenter cut half-circle-cape --set length=80cm`. For a child write --wearer child",
	"length": "measures belong to the cut: `tenter cut half-circle-cape --set length=80cm`",
	"width":  "the width of the cloth belongs to the cut: `tenter cut half-circle-cape --shell denim --width 150cm`",
}

// ourNameOf are flags that makers try, by the name that they have here.
var ourNameOf = map[string]string{
	"weight": "mass", "gsm": "mass", "fabric": "shell", "cloth": "shell", "material": "shell",
	"garment": "piece", "pattern": "piece", "project": "piece", "stiffness": "hand", "feel": "hand",
	"shell": "shell", "piece": "piece",
}

// placeOf is the bare word of a call that takes the place of a flag.
var placeOf = map[string]string{"shell": "CLOTH", "piece": "PIECE"}

// badValue is the complaint about a value that is no number.
var badValue = regexp.MustCompile(`^invalid argument "(.*)" for "(?:-\w, )?(--[\w-]+)" flag`)

// flagFault turns a flag error into a fault that suggests the near flag.
func flagFault(cmd *cobra.Command, err error) error {
	s := err.Error()
	f := &fault.Fault{Kind: fault.WrongCall, What: s, Expected: "a flag of `" + cmd.CommandPath() + " --help`", Err: err}
	if name, ok := strings.CutPrefix(s, "flag needs an argument: "); ok {
		f.Where, f.What = name, "a value is missing"
		f.Expected, f.Mend = "", "example: "+exampleOf(cmd)
	}
	if m := badValue.FindStringSubmatch(s); m != nil {
		f.Where, f.What, f.Expected = m[2], "\""+m[1]+"\" is not a whole number", "a whole number such as 6"
	}
	if strings.HasPrefix(s, "unknown flag: ") {
		name := strings.TrimPrefix(s, "unknown flag: ")
		var all []string
		cmd.Flags().VisitAll(func(p *pflag.Flag) { all = append(all, "--"+p.Name) })
		f.Where, f.What = name, "there is no such flag"
		help := "`" + cmd.CommandPath() + " --help` lists them"
		tried := strings.TrimPrefix(name, "--")
		ours, there := ourNameOf[tried], elsewhere[tried]
		switch {
		case there != "":
			f.Expected, f.Mend = "", there
		case ours == "":
			f.Mend = fault.DidYouMean(name, all, help)
		case cmd.Flags().Lookup(ours) == nil && slices.Contains(usePlaces(cmd.Use), placeOf[ours]):
			f.Expected, f.Mend = "", "name it without a flag: "+exampleOf(cmd)
		case cmd.Flags().Lookup(ours) == nil:
			f.Expected, f.Mend = "", help
		default:
			f.Expected, f.Mend = "", "it is called --"+ours
		}
	}
	if rest, ok := strings.CutPrefix(s, "unknown shorthand flag: '"); ok && strings.IndexByte("0123456789.", rest[0]) >= 0 {
		_, figure, _ := strings.Cut(s, "' in ")
		f.Where, f.What, f.Expected = figure, "a figure with a minus sign reads like a flag", "two dashes before words that are no flags"
		f.Mend = cmd.CommandPath() + " … -- " + figure
	}
	return f
}
