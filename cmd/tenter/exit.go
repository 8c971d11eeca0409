package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"tenter/fibres/fault"
)

// Exit codes.
const (
	exitOK        = 0
	exitOther     = 1
	exitWrongCall = 2
	exitBadData   = 3
)

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
		one := func(f *fault.Fault) jsonFault { return jsonFault{f.What, f.Where, f.Expected, f.Mend} }
		out := struct {
			Version int         `json:"version"`
			Error   jsonFault   `json:"error"`
			More    []jsonFault `json:"more,omitempty"`
		}{Version: 1, Error: one(f)}
		for _, m := range found[1:] {
			out.More = append(out.More, one(m))
		}
		e := json.NewEncoder(a.err)
		e.SetEscapeHTML(false)
		_ = e.Encode(out)
	} else {
		for _, line := range strings.Split(clean(found.Error()), "\n") {
			for _, l := range wrap(line, a.width(), 4) {
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

func codeOf(k fault.Kind) int {
	switch k {
	case fault.WrongCall, fault.NotFound, fault.OutsideRange:
		return exitWrongCall
	case fault.BadData:
		return exitBadData
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
			Mend: fault.DidYouMean(word, commandNames, "`tenter help` lists them"), Err: err}
	}
	if strings.Contains(s, "arg(s)") {
		return &fault.Fault{Kind: fault.WrongCall, What: bareWords(s), Expected: "the words that `--help` shows", Mend: "quote names of several words, as \"cotton sateen\"", Err: err}
	}
	return &fault.Fault{Kind: fault.Internal, What: s, Err: err}
}

// bareWords says cobra's count of arguments in plain words.
func bareWords(s string) string {
	return strings.NewReplacer("accepts", "the command takes", "requires", "the command takes", " arg(s)", " bare words", "only received", "there were", "received", "there were").Replace(s)
}

// flagFault turns a flag error into a fault that suggests the near flag.
func flagFault(cmd *cobra.Command, err error) error {
	s := err.Error()
	f := &fault.Fault{Kind: fault.WrongCall, What: s, Expected: "a flag of `" + cmd.CommandPath() + " --help`", Err: err}
	if strings.HasPrefix(s, "unknown flag: ") {
		name := strings.TrimPrefix(s, "unknown flag: ")
		var all []string
		cmd.Flags().VisitAll(func(p *pflag.Flag) { all = append(all, "--"+p.Name) })
		f.Where, f.What = name, "there is no such flag"
		f.Mend = fault.DidYouMean(name, all, "`"+cmd.CommandPath()+" --help` lists them")
	}
	if rest, ok := strings.CutPrefix(s, "unknown shorthand flag: '"); ok && strings.IndexByte("0123456789.", rest[0]) >= 0 {
		_, figure, _ := strings.Cut(s, "' in ")
		f.Where, f.What, f.Expected = figure, "a figure with a minus sign reads like a flag", "two dashes before words that are no flags"
		f.Mend = cmd.CommandPath() + " … -- " + figure
	}
	return f
}
