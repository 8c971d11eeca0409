package main

import (
	"encoding/json"
	"fmt"
	"os"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/term"

	"tenter/fibres/units"
)

// The rules of the terminal: answers on standard output, the verdict first;
// at most the width of the terminal and 80 columns in a pipe; colour only on a
// terminal and never the only sign; nothing that a name holds may steer the
// terminal.

// width is the number of columns to fill.
func (a *app) width() int {
	if f, ok := a.terminal(); ok {
		if w, _, err := term.GetSize(int(f.Fd())); err == nil && w >= 40 {
			return min(w, 100)
		}
	}
	if n, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && n >= 40 {
		return min(n, 100)
	}
	return 80
}

// colour reports whether marks may be coloured.
func (a *app) colour() bool {
	if a.noColour || os.Getenv("NO_COLOR") != "" || os.Getenv("TERM") == "dumb" {
		return false
	}
	_, ok := a.terminal()
	return ok
}

// mark colours a word by what it says; the word itself stays.
func (a *app) mark(word string) string {
	if !a.colour() {
		return word
	}
	code := map[string]string{"suits": "32", "for": "32", "borderline": "33", "against": "33", "caution": "33", "unsuited": "31", "forbids": "31"}[word]
	if code == "" {
		return word
	}
	return "\x1b[" + code + "m" + word + "\x1b[0m"
}

// head prints a heading.
func (a *app) head(s string) {
	if a.colour() {
		s = "\x1b[1m" + s + "\x1b[0m"
	}
	fmt.Fprintln(a.out, "\n"+s)
}

// clean drops control characters and invalid text, so that a name cannot steer
// the terminal. Line breaks stay.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		if r == '\n' {
			return r
		}
		if r == utf8.RuneError || unicode.IsControl(r) || unicode.Is(unicode.Cf, r) {
			return -1
		}
		return r
	}, s)
}

// para prints text wrapped to the width: the first line behind first, the rest
// behind as many spaces as rest.
func (a *app) para(first, text string, rest int) {
	for _, l := range wrap(clean(first)+a.converted(clean(text)), a.width(), rest) {
		fmt.Fprintln(a.out, l)
	}
}

// converted is a sentence with its measures in the units asked for.
func (a *app) converted(text string) string {
	if !a.prose {
		return text
	}
	return units.Prose(text, a.system)
}

// wrap breaks text at spaces; lines after the first begin with indent spaces.
// Runs of spaces at the start of the text are kept.
func wrap(text string, width, indent int) []string {
	lead := text[:len(text)-len(strings.TrimLeft(text, " "))]
	var words []string
	for _, w := range strings.Fields(text) {
		words = append(words, parted(w, max(10, width-max(indent, len(lead))))...)
	}
	var lines []string
	line := lead
	empty := true
	for _, w := range words {
		if !empty && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(w) > width {
			lines = append(lines, line)
			line, empty = strings.Repeat(" ", indent), true
		}
		if !empty {
			line += " "
		}
		line, empty = line+w, false
	}
	return append(lines, line)
}

// parted breaks a word that no line can hold, such as a long address, where its
// signs allow.
func parted(word string, most int) []string {
	var out []string
	for r := []rune(word); ; {
		if len(r) <= most {
			return append(out, string(r))
		}
		at := most
		for i := most; i > most/2; i-- {
			if strings.ContainsRune("/-_.,&?=", r[i-1]) {
				at = i
				break
			}
		}
		out, r = append(out, string(r[:at])), r[at:]
	}
}

// pad fills s to n columns.
func pad(s string, n int) string {
	if k := utf8.RuneCountInString(s); k < n {
		return s + strings.Repeat(" ", n-k)
	}
	return s
}

// tabulate prints rows in columns two spaces apart, the last column wrapped.
// Every column but the last is as wide as its widest cell, yet leaves half the
// width to the last: a longer cell stands on a line of its own.
func (a *app) tabulate(indent int, rows [][]string) {
	most := a.width()/2 - indent
	var wide []int
	for _, r := range rows {
		for i, c := range r {
			if i == len(wide) {
				wide = append(wide, 0)
			}
			if n := utf8.RuneCountInString(a.converted(c)); i < len(r)-1 && n <= most {
				wide[i] = max(wide[i], n)
			}
		}
	}
	for _, r := range rows {
		line, at := strings.Repeat(" ", indent), indent
		for i, c := range r {
			c = a.converted(clean(c))
			if i < len(r)-1 {
				at += wide[i] + 2
				if utf8.RuneCountInString(c) > wide[i] {
					for _, l := range wrap(line+a.mark(c), a.width(), indent+2) {
						fmt.Fprintln(a.out, strings.TrimRight(l, " "))
					}
					line = strings.Repeat(" ", at)
					continue
				}
				line += a.markCell(c, wide[i]) + "  "
				continue
			}
			if longestWord(c) > a.width()-at { // no room beside the other columns
				fmt.Fprintln(a.out, strings.TrimRight(line, " "))
				line, at = strings.Repeat(" ", indent+4), indent+4
			}
			for k, l := range wrap(c, a.width()-at, 0) {
				if k > 0 {
					line = strings.Repeat(" ", at)
				}
				fmt.Fprintln(a.out, strings.TrimRight(line+l, " "))
			}
		}
	}
}

// longestWord is the length of a text's longest word, an address apart.
func longestWord(s string) int {
	n := 0
	for _, w := range strings.Fields(s) {
		n = max(n, min(utf8.RuneCountInString(w), 30))
	}
	return n
}

// markCell pads a cell, then colours it if it is a verdict.
func (a *app) markCell(c string, n int) string {
	p := pad(c, n)
	if m := a.mark(c); m != c {
		return m + p[len(c):]
	}
	return p
}

// writeJSON prints an answer as indented JSON.
func (a *app) writeJSON(v any) error {
	e := json.NewEncoder(a.out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// welcome is what `tenter` alone says.
func (a *app) welcome() {
	fmt.Fprint(a.out, `tenter says how a cloth will hang, what goes with it, and how to work it.
Everything is on this machine; nothing is sent anywhere.

  tenter advise half-circle-cape
  tenter check double gauze cowl
  tenter search "lining for a wool coat"

tenter help lists all commands.
`)
}
