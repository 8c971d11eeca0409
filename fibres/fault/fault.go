// Package fault is the one shape of an error that a person reads: what is
// wrong, where, what was expected, and how to mend it.
package fault

import (
	"errors"
	"fmt"
	"sort"
	"strings"
)

// Kind says what sort of failure a [Fault] is; the command turns it into an
// exit code.
type Kind int

// The kinds of failure.
const (
	WrongCall    Kind = iota // the words of the call do not fit: exit 2
	BadData                  // a file or record is not as it should be: exit 3
	NotFound                 // nothing has that name: exit 2
	OutsideRange             // a figure is outside what holds: exit 2
	Busy                     // another process holds it: exit 1
	Internal                 // our own mistake: exit 1
	Stopped                  // the user stopped it: exit 130
)

// Fault is one finding. Only What is required. Where is file:line:column (all
// counted from 1, columns in characters), the flag, or the value itself.
type Fault struct {
	Kind     Kind
	What     string
	Where    string
	Expected string
	Mend     string
	Names    string // of what kind is the thing that is named and is not there, see [List.Roots]; never printed
	again    int    // how many more places name it
	Err      error  // the cause, for errors.Is; never printed
}

// Error prints the finding as three lines at most:
//
//	where: what
//	  expected: …
//	  mend: …
func (f *Fault) Error() string {
	var b strings.Builder
	if f.Where != "" {
		b.WriteString(f.Where + ": ")
	}
	b.WriteString(f.What)
	if f.Expected != "" {
		b.WriteString("\n  expected: " + f.Expected)
	}
	mend := f.Mend
	if f.again > 0 {
		mend = strings.TrimPrefix(fmt.Sprintf("%s; %d more places name it", mend, f.again), "; ")
	}
	if mend != "" {
		b.WriteString("\n  mend: " + mend)
	}
	return b.String()
}

// Unwrap gives the cause.
func (f *Fault) Unwrap() error { return f.Err }

// At returns the fault with its place set, if it has none yet.
func (f *Fault) At(where string) *Fault {
	if f.Where == "" {
		f.Where = where
	}
	return f
}

// List is every finding of one pass, so that a file is mended in one go.
type List []*Fault

// maxShown is how many findings are printed; the rest are counted.
const maxShown = 20

// Error prints up to 20 findings in the order of their places, then a count.
func (l List) Error() string {
	var b strings.Builder
	for i, f := range l {
		if i == maxShown {
			fmt.Fprintf(&b, "\nand %d more", len(l)-maxShown)
			break
		}
		if i > 0 {
			b.WriteByte('\n')
		}
		b.WriteString(f.Error())
	}
	return b.String()
}

// Roots leaves what must be mended: files holds in which file the things of a kind stand.
// That a thing is not there is told once, however many places name it, and not at all
// while its file has findings of its own, since they may be why.
func (l List) Roots(files map[string]string) List {
	broken := map[string]bool{}
	for _, f := range l {
		file, _, _ := strings.Cut(f.Where, ":")
		broken[file] = true
	}
	l.Sort()
	var out List
	first := map[string]*Fault{}
	for _, f := range l {
		switch {
		case f.Names == "":
		case broken[files[f.Names]]:
			continue
		case first[f.named(files)] != nil:
			first[f.named(files)].again += 1 + f.again
			continue
		default:
			first[f.named(files)] = f
		}
		out = append(out, f)
	}
	return out
}

// named is the thing that is not there: the last word in quotation marks, and its file.
func (f *Fault) named(files map[string]string) string {
	words := strings.Split(f.What, `"`)
	return files[f.Names] + " " + words[max(0, len(words)-2)]
}

// Unwrap lets errors.Is and errors.As look at each finding.
func (l List) Unwrap() []error {
	out := make([]error, len(l))
	for i, f := range l {
		out[i] = f
	}
	return out
}

// Sort puts the findings in the order of their files, lines and columns.
func (l List) Sort() {
	sort.SliceStable(l, func(i, j int) bool { return less(l[i].Where, l[j].Where) })
}

// OrNil returns the list as an error, or nil when it is empty.
func (l List) OrNil() error {
	if len(l) == 0 {
		return nil
	}
	l.Sort()
	return l
}

// Add appends the findings inside err: a Fault, a List, or any other error as
// an internal fault.
func (l *List) Add(err error) {
	if err == nil {
		return
	}
	*l = append(*l, All(err)...)
}

// All returns the findings inside err, in order.
func All(err error) List {
	if f, ok := err.(*Fault); err == nil || ok && f == nil {
		return nil // a nil *Fault handed on as an error is no finding either
	}
	var l List
	if errors.As(err, &l) {
		return l
	}
	var f *Fault
	if errors.As(err, &f) {
		return List{f}
	}
	return List{{Kind: Internal, What: err.Error(), Err: err}}
}

// less compares two places, numbers by value, so that line 9 stands before 10.
func less(a, b string) bool {
	as, bs := strings.Split(a, ":"), strings.Split(b, ":")
	for i := 0; i < len(as) && i < len(bs); i++ {
		if as[i] == bs[i] {
			continue
		}
		if len(as[i]) != len(bs[i]) && numeric(as[i]) && numeric(bs[i]) {
			return len(as[i]) < len(bs[i])
		}
		return as[i] < bs[i]
	}
	return len(as) < len(bs)
}

func numeric(s string) bool {
	for _, r := range s {
		if r < '0' || r > '9' {
			return false
		}
	}
	return s != ""
}
