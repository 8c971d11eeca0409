package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/kb"
	"tenter/kb/record"
)

// measuring gathers the flags of a measurement.
type measuring struct {
	o           kb.ReadingOptions
	note, taken string
	guided      bool
}

func newSwatchMeasure(a *app) *cobra.Command {
	var m measuring
	c := &cobra.Command{
		Use:   "measure NAME [KIND [READINGS…]]",
		Short: "record the readings of a home test",
		Long: `Records what was read in a home test, under the name by which "tenter test" lists it:
mass, droop, wash, fray, crease, flame … Each word is one reading, with its unit; words
such as warp, weft, right, wrong say what the next ones are of, and a pair
(25cm:24cm) is before and after. Fractions of an inch are quoted: "3 1/4in".

Without readings it asks for them step by step and shows after each what they
come to so far: an empty line goes on, "back" takes the last one away, "help"
tells how the test is done, "quit" leaves it for later and keeps what was typed.
"tenter test KIND" prints the instruction of a test on one page.` + exitStatus,
		Example: `  tenter swatch measure "king's blue" mass 1.52g 1.49g 1.55g --square 10x10cm
  tenter swatch measure "king's blue" droop warp right 3.4cm 3.5cm wrong 3.6cm weft 3.0cm 3.1cm
  tenter swatch measure "king's blue" wash warp 25cm:24.1cm weft 25cm:24.6cm --method "machine, 40 C"
  tenter swatch measure "king's blue" droop --guided`,
		Args:              cobra.MinimumNArgs(1),
		ValidArgsFunction: a.completeMeasure(),
		RunE: func(c *cobra.Command, args []string) error {
			b, err := a.recordsKB()
			if err != nil {
				return err
			}
			name, kind, readings := measureWords(args)
			s, err := b.Swatch(name)
			if err != nil {
				if k := wordBehindName(b, args); kind == "" && k != "" { // a name, and a kind that there is not
					_, err = kb.NewGuide(k)
				}
				return err
			}
			if f := c.Flags().Lookup("layers"); f.Changed && m.o.Layers < 1 {
				return &fault.Fault{Kind: fault.OutsideRange, Where: "--layers", What: fmt.Sprintf("a pile of %d layers", m.o.Layers), Expected: "1 to 1000"}
			}
			if _, err := parseDay("date", m.taken); err != nil {
				return err
			}
			if len(readings) > 0 {
				return a.measure(b, s, kind, readings, m)
			}
			return a.guide(c, b, s, kind, m)
		},
	}
	f := c.Flags()
	f.StringVar(&m.o.Square, "square", "", "size of what was weighed (else 10x10cm)")
	f.IntVar(&m.o.Layers, "layers", 0, "layers in the pile (else 10)")
	f.StringVar(&m.o.Method, "method", "", "how it was washed and dried")
	f.IntVar(&m.o.Cycle, "cycle", 0, "which wash this was (else the first)")
	f.IntVar(&m.o.Rubs, "rubs", 0, "rubs of the fray test (else 10)")
	f.StringVar(&m.o.Marked, "marked", "", "the coolest iron that left a mark: \"3 dots\"")
	f.StringVar(&m.o.Disc, "disc", "", "what the circle of a drape test lay on, across (else 18cm)")
	f.StringVar(&m.o.Circle, "circle", "", "the circle of cloth of a drape test, across (else 30cm)")
	f.StringVar(&m.note, "note", "", "what else is to be remembered of this measurement")
	f.StringVar(&m.taken, "date", "", "the day it was taken (else today)")
	f.BoolVar(&m.guided, "guided", false, "ask step by step, also where the input is no terminal")
	return c
}

// completeMeasure completes the name of a swatch, then the kind of measurement.
func (a *app) completeMeasure() func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
	return func(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
		switch len(args) {
		case 0:
			return a.swatchNames(typed), cobra.ShellCompDirectiveNoFileComp
		case 1:
			return slices.DeleteFunc(slices.Clone(record.Kinds), func(k string) bool { return !strings.HasPrefix(k, typed) }), cobra.ShellCompDirectiveNoFileComp
		}
		return nil, cobra.ShellCompDirectiveNoFileComp
	}
}

// measureWords parts the words of a call: a name may have several words, and ends
// where a kind stands.
func measureWords(args []string) (name, kind string, readings []string) {
	for i := 1; i < len(args); i++ {
		if slices.Contains(record.Kinds, args[i]) {
			return strings.Join(args[:i], " "), args[i], args[i+1:]
		}
	}
	return strings.Join(args, " "), "", nil
}

// wordBehindName is the first word behind the name of a swatch; "" where the words
// begin with none.
func wordBehindName(b *kb.Base, args []string) string {
	for i := len(args) - 1; i > 0 && b.Records != nil; i-- {
		if _, there, err := b.Records.FindSwatch(strings.Join(args[:i], " ")); err == nil && there {
			return args[i]
		}
	}
	return ""
}

// measure records readings that were given as words.
func (a *app) measure(b *kb.Base, s kb.Swatch, kind string, words []string, m measuring) error {
	rs, err := kb.ParseReadings(kind, words, m.o)
	if err != nil {
		return err
	}
	if _, err := b.Records.AddMeasurement(m.of(s, kind, rs)); err != nil {
		return storeFault(err)
	}
	return a.sayMeasured(b, s, kind)
}

func (m measuring) of(s kb.Swatch, kind string, rs []record.Reading) record.Measurement {
	taken, _ := time.Parse(time.DateOnly, m.taken)
	return record.Measurement{SwatchID: s.ID, Kind: kind, Readings: rs, Note: m.note, Taken: taken}
}

// sayMeasured tells what the readings of a kind come to by now, and what that
// changes.
func (a *app) sayMeasured(b *kb.Base, was kb.Swatch, kind string) error {
	s, err := b.Swatch(was.Name)
	if err != nil {
		return err
	}
	if a.json {
		return a.writeJSON(struct {
			Version int         `json:"version"`
			Swatch  shownSwatch `json:"swatch"`
		}{advise.Version, swatchShown(s)})
	}
	a.para("", fmt.Sprintf("%s of %q is recorded; `tenter undo` takes it back", kind, s.Name), 2)
	noted := func(n string) bool { return slices.Contains(was.Evidence.Notes, n) }
	of := kb.Evidence{Notes: slices.DeleteFunc(slices.Clone(s.Evidence.Notes), noted)}
	if kind == "bleed" {
		of.Bleed = s.Evidence.Bleed
	}
	for _, f := range s.Evidence.Found {
		t := fibres.Tests[f.Test]
		if t.Kind == kind || kind == "loop" && t.Kind == "droop" {
			of.Found = append(of.Found, f)
		}
	}
	a.printFound(of)
	if kind == "drape" {
		a.sayDraped(b, s)
	}
	if k := s.Subject.Cloth; k != nil {
		var rows [][]string
		for _, p := range b.Places(s.Subject, k) {
			if t, _ := fibres.TestOfKind(kind); fibres.Properties[p.Property].Test == t.ID {
				rows = append(rows, []string{p.Of.In(a.system), placeText(p, k)})
			}
		}
		if len(rows) > 0 {
			fmt.Fprintln(a.out)
			a.para("", "Cloths sold as "+k.Name+" have "+rows[0][0]+". This one: "+rows[0][1]+".", 0)
		}
	}
	return nil
}

// sayDraped tells what a drape test makes of a swatch's stiffness.
func (a *app) sayDraped(b *kb.Base, s kb.Swatch) {
	if !s.Subject.Shear.Known() {
		return
	}
	c, g := b.Cat.Estimate(*s.Subject, fibres.BendingLength), s.Subject.Shear
	say := "Its bending length stands as the ruler told it"
	if c.Basis != fibres.Measured {
		say = "With it the bending length is held to be " + c.Say()
	}
	a.para("", fmt.Sprintf("%s, and its resistance to shear, which only pictures use, %.0f N/m (%.0f to %.0f).", say, g.Typical, g.Low, g.High), 0)
}

// guidedKey is the setting that holds the unfinished readings of a swatch.
func guidedKey(s kb.Swatch) string { return fmt.Sprintf("guided/%d", s.ID) }

// errLeft ends a guide that is left for later.
var errLeft = errors.New("left for later")

// guide asks for readings step by step. What was typed is kept after each line, so
// that nothing is lost however it is left.
func (a *app) guide(c *cobra.Command, b *kb.Base, s kb.Swatch, kind string, m measuring) error {
	in := c.InOrStdin()
	f, isFile := in.(*os.File)
	if !m.guided && !(isFile && term.IsTerminal(int(f.Fd()))) {
		return noReadings(kind)
	}
	lines := bufio.NewScanner(in)
	lines.Buffer(make([]byte, 0, 4096), 1<<20)
	g, err := a.takeUp(b, s, kind)
	if err != nil {
		return err
	}
	if g == nil {
		if kind == "" {
			if kind, err = a.askKind(lines, s); err != nil {
				return a.leave(err, s)
			}
		}
		if g, err = kb.NewGuide(kind); err != nil {
			return err
		}
	}
	t, _ := fibres.TestOfKind(g.Kind)
	a.para("", fmt.Sprintf("%s of %q. %s", g.Kind, s.Name, t.How), 0)
	if t.Caution != "" {
		a.para("", "Caution: "+t.Caution, 2)
	}
	fmt.Fprintln(a.out, "An empty line goes on; back, help, quit.")
	if finished, err := a.askReadings(lines, b, s, g); err != nil || !finished {
		return err
	}
	rs, err := g.Readings()
	if err != nil {
		return errors.Join(b.Records.RemoveSetting(guidedKey(s)), err)
	}
	if _, err := b.Records.FinishMeasurement(m.of(s, g.Kind, rs), guidedKey(s)); err != nil {
		return storeFault(err)
	}
	fmt.Fprintln(a.out)
	return a.sayMeasured(b, s, g.Kind)
}

// noReadings is told where nobody can be asked.
func noReadings(kind string) error {
	t, _ := fibres.TestOfKind(kind)
	mend := "--guided asks step by step, also of a file"
	if t.ID != "" {
		mend = "as in `tenter swatch measure NAME " + t.Enter + "`; " + mend
	}
	return &fault.Fault{Kind: fault.WrongCall, What: "there are no readings", Expected: "a kind of measurement and what was read", Mend: mend}
}

// askReadings asks until the guide has all it needs, or the user leaves. Each answer is
// kept, so that the measuring can be taken up again.
func (a *app) askReadings(lines *bufio.Scanner, b *kb.Base, s kb.Swatch, g *kb.Guide) (finished bool, err error) {
	t, _ := fibres.TestOfKind(g.Kind)
	for !g.Done() {
		line, err := a.askLine(lines, g.Prompt())
		if err != nil {
			return false, a.leave(err, s)
		}
		switch strings.ToLower(strings.TrimSpace(line)) {
		case "quit", "q":
			return false, a.leave(errLeft, s)
		case "help", "?":
			a.printTest(t)
			continue
		}
		before := g.Count()
		if err := g.Put(line); err != nil {
			for _, line := range strings.Split(err.Error(), "\n") {
				a.para("  ", line, 6)
			}
			continue
		}
		if err := b.Records.SetSetting(guidedKey(s), g); err != nil {
			return false, err
		}
		if g.Count() != before {
			a.running(g, s)
		}
	}
	return true, nil
}

// takeUp finds the readings that were left; nil where there are none of this kind.
func (a *app) takeUp(b *kb.Base, s kb.Swatch, kind string) (*kb.Guide, error) {
	var g kb.Guide
	there, err := b.Records.Setting(guidedKey(s), &g)
	if err != nil || !there || !g.Sound() || g.Count() == 0 {
		return nil, nil // a setting of an older tenter is begun anew
	}
	if kind != "" && g.Kind != kind {
		return nil, &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("a %s of %q was left unfinished", g.Kind, s.Name), Expected: "that to be finished first",
			Mend: fmt.Sprintf("`tenter swatch measure %s %s` goes on with it; `tenter undo` takes its last reading back", shellName(s.Name), g.Kind)}
	}
	a.para("", fmt.Sprintf("Going on with the %s that was left, %d typed.", g.Kind, g.Count()), 2)
	return &g, nil
}

// shellName writes a name so that it can be copied into a command.
func shellName(s string) string {
	switch {
	case strings.ContainsAny(s, "\"$`\\!"):
		return "'" + strings.ReplaceAll(s, "'", `'\''`) + "'"
	case strings.ContainsAny(s, " '*?&|;<>()[]{}#~") || s == "":
		return `"` + s + `"`
	}
	return s
}

// askKind asks what is to be measured, the most telling test first.
func (a *app) askKind(lines *bufio.Scanner, s kb.Swatch) (string, error) {
	first := "droop"
	if tests := unmeasured(s); len(tests) > 0 {
		first = tests[0].Kind
	}
	for {
		line, err := a.askLine(lines, "What was measured: "+strings.Join(record.Kinds, ", ")+" (Enter: "+first+")")
		if err != nil {
			return "", err
		}
		switch k := strings.ToLower(strings.TrimSpace(line)); {
		case k == "":
			return first, nil
		case k == "quit" || k == "q":
			return "", errLeft
		case slices.Contains(record.Kinds, k):
			return k, nil
		default:
			fmt.Fprintln(a.out, "  "+fault.DidYouMean(k, record.Kinds, "one of those, or quit"))
		}
	}
}

// askLine prints a question and reads a line.
func (a *app) askLine(lines *bufio.Scanner, question string) (string, error) {
	for _, l := range wrap(clean(question)+":", a.width()-1, 2) {
		fmt.Fprintln(a.out, l)
	}
	fmt.Fprint(a.out, "> ")
	if !lines.Scan() {
		fmt.Fprintln(a.out)
		if err := lines.Err(); err != nil {
			return "", err
		}
		return "", io.EOF
	}
	if _, ok := a.terminal(); !ok {
		fmt.Fprintln(a.out, clean(lines.Text())) // nobody saw it typed
	}
	return lines.Text(), nil
}

// leave ends a guide before its end.
func (a *app) leave(err error, s kb.Swatch) error {
	if !errors.Is(err, errLeft) && !errors.Is(err, io.EOF) {
		return &fault.Fault{Kind: fault.Internal, Where: "standard input", What: "it cannot be read: " + plainCause(err), Err: err}
	}
	a.para("", fmt.Sprintf("Left for later: what was typed is kept, and `tenter swatch measure %s` goes on with it.", shellName(s.Name)), 2)
	return nil
}

// running tells what the readings come to so far.
func (a *app) running(g *kb.Guide, s kb.Swatch) {
	rs, err := g.Readings()
	if err != nil || len(rs) == 0 {
		return
	}
	e := kb.EvidenceOf([]record.Measurement{{Kind: g.Kind, Taken: time.Now(), Readings: rs}})
	for _, f := range e.Found {
		a.para("  ", fibres.Properties[f.Property].Name+" so far: "+a.foundText(f), 4)
	}
}
