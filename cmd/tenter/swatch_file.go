package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"tenter/advise"
	"tenter/fibres/fault"
	"tenter/fibres/prose"
	"tenter/fibres/units"
	"tenter/kb"
)

func newSwatchImport(a *app) *cobra.Command {
	var dry, skipBad, forget bool
	var maps []string
	c := &cobra.Command{
		Use:   "import FILE",
		Short: "take in a list of swatches: CSV as people keep it, or JSON",
		Long: `Reads a list of swatches: CSV with commas, semicolons or tabs, or JSON as export
writes it. The columns are guessed by their names and shown; --map "their=ours"
says it, and is remembered for lists of the same header. Units may stand in the
header or in the cell; fractions and decimal commas are read. A dash reads
standard input.

One bad row refuses the whole list and nothing is changed; --skip-bad takes the
sound ones and writes the others to FILE.rejected.csv, each with its reason.
--dry-run tells what would be done and changes nothing.` + exitStatus,
		Example: `  tenter swatch import stall.csv --dry-run
  tenter swatch import stall.csv --map "Ref=name" --map "Roll=width_in" --skip-bad`,
		Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			name, data, err := readInput(c, args[0])
			if err != nil {
				return err
			}
			return a.importSwatches(name, data, maps, dry, skipBad, forget)
		},
	}
	f := c.Flags()
	f.BoolVarP(&dry, "dry-run", "n", false, "tell what would be done and change nothing")
	f.BoolVar(&skipBad, "skip-bad", false, "take the sound rows and write the others to a file")
	f.StringArrayVar(&maps, "map", nil, "their column is ours: \"Ref=name\"; \"Ref=-\" leaves it out")
	f.BoolVar(&forget, "guess", false, "guess the columns anew, whatever was said of such a list before")
	return c
}

// readInput reads a file, or standard input for a dash.
func readInput(c *cobra.Command, name string) (string, []byte, error) {
	var r io.Reader
	if name == "-" {
		name, r = "standard input", c.InOrStdin()
	} else {
		f, err := os.Open(name)
		if err != nil {
			kind := fault.Internal
			if missing(name) {
				kind = fault.NotFound
			}
			return "", nil, &fault.Fault{Kind: kind, Where: name, What: "the file cannot be read: " + plainCause(err), Expected: "a list of swatches, CSV or JSON", Err: err}
		}
		defer f.Close()
		r = f
	}
	data, err := kb.ReadList(name, r)
	return name, data, err
}

// parseMaps reads the flags of --map.
func parseMaps(list []string) (map[string]string, error) {
	out := map[string]string{}
	var found fault.List
	for _, m := range list {
		i := strings.LastIndexByte(m, '=')
		if i < 1 {
			found = append(found, &fault.Fault{Kind: fault.WrongCall, Where: "--map", What: fmt.Sprintf("%q is no pair", m), Expected: "their column, an equals sign, ours: \"Ref=name\"", Mend: "ours are " + strings.Join(kb.Columns, ", ")})
			continue
		}
		out[strings.TrimSpace(m[:i])] = strings.TrimSpace(m[i+1:])
	}
	return out, found.OrNil()
}

// importAnswer is what became of a list.
type importAnswer struct {
	Version  int               `json:"version"`
	DryRun   bool              `json:"dry_run,omitempty"`
	Read     int               `json:"read"`
	Added    int               `json:"added"`
	Rejected []rejectedRow     `json:"rejected"`
	Notices  []noticeRow       `json:"notices"`
	Columns  map[string]string `json:"columns"`
	Left     map[string]string `json:"columns_left_out,omitempty"`
	File     string            `json:"rejected_file,omitempty"`
}

type rejectedRow struct {
	Line     int    `json:"line"`
	Column   string `json:"column"`
	What     string `json:"what"`
	Expected string `json:"expected"`
	Mend     string `json:"mend,omitempty"`
	Where    string `json:"where"`
}

type noticeRow struct {
	Line int    `json:"line,omitempty"`
	What string `json:"what"`
}

func (a *app) importSwatches(name string, data []byte, maps []string, dry, skipBad, forget bool) error {
	said, err := parseMaps(maps)
	if err != nil {
		return err
	}
	open := a.writing
	if dry {
		open = a.recordsKB
	}
	b, err := open()
	if err != nil {
		return err
	}
	key := kb.HeaderKey(data)
	columns := map[string]string{}
	if key != "" && b.Records != nil && !forget {
		if _, err := b.Records.Setting(key, &columns); err != nil {
			return err
		}
	}
	remembered := len(columns)
	overlay(columns, said)
	im, err := b.ReadSwatches(data, kb.ImportOptions{Name: filepath.Base(name), Map: columns, Imperial: a.system == units.Imperial})
	if err != nil {
		return err
	}
	mapping := im.Mapping()
	if !dry && key != "" && len(said) > 0 && (len(im.Refused) == 0 || skipBad) {
		// Before the import, so that undoing takes the swatches back and not this.
		if err := b.Records.SetSetting(key, mapping); err != nil {
			return err
		}
	}
	done, err := b.Keep(im, skipBad, dry)
	if err != nil {
		return err
	}
	out, found := answerOfImport(im, done, dry)
	if len(done.Refused) > 0 && skipBad && !dry {
		if out.File, err = writeRejects(name, im.Rejects(done.Refused)); err != nil {
			return err
		}
	}
	if a.json {
		if err := a.writeJSON(out); err != nil {
			return err
		}
	} else {
		a.printImport(im, out, remembered, skipBad)
	}
	if len(found) > 0 && !skipBad {
		return found.OrNil()
	}
	if done.Added == 0 {
		return &fault.Fault{Kind: fault.BadData, Where: name, What: "no swatch was taken from the list", Expected: "a sound row or more", Mend: "mend what was said above; nothing was changed"}
	}
	return nil
}

// overlay puts the columns that were said over those remembered, whatever the case of
// their letters.
func overlay(remembered, said map[string]string) {
	for theirs, ours := range said {
		for k := range remembered {
			if strings.EqualFold(k, theirs) {
				delete(remembered, k)
			}
		}
		remembered[theirs] = ours
	}
}

// answerOfImport is what an import tells, and the faults of the rows it refused.
func answerOfImport(im *kb.Import, done kb.Kept, dry bool) (importAnswer, fault.List) {
	out := importAnswer{Version: advise.Version, DryRun: dry, Read: done.Read, Added: done.Added, Rejected: []rejectedRow{}, Notices: []noticeRow{}, Columns: map[string]string{}, Left: map[string]string{}}
	for _, c := range im.Columns {
		if c.Ours == "" {
			out.Left[c.Theirs] = c.How
			continue
		}
		out.Columns[c.Theirs] = c.Ours
		if c.Unit != "" {
			out.Columns[c.Theirs] += "_" + c.Unit
		}
	}
	for _, n := range im.Notices {
		out.Notices = append(out.Notices, noticeRow{n.Line, n.What})
	}
	var found fault.List
	for _, r := range done.Refused {
		out.Rejected = append(out.Rejected, rejectedRow{r.Line, r.Column, r.Fault.What, r.Fault.Expected, r.Fault.Mend, r.Fault.Where})
		found = append(found, r.Fault)
	}
	return out, found
}

// writeRejects writes the refused rows beside the list, under a name that is free.
func writeRejects(name string, rows []byte) (string, error) {
	base, ext := name, ".csv"
	if name == "standard input" {
		base = "swatches"
	}
	if e := filepath.Ext(base); e != "" {
		base = strings.TrimSuffix(base, e)
		if strings.EqualFold(e, ".json") {
			ext = ".json"
		}
	}
	for n := 1; ; n++ {
		to := base + ".rejected" + ext
		if n > 1 {
			to = base + ".rejected-" + strconv.Itoa(n) + ext
		}
		f, err := os.OpenFile(to, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
		if os.IsExist(err) && n < 1000 {
			continue
		}
		if err == nil {
			_, err = f.Write(rows)
			if e := f.Close(); err == nil {
				err = e
			}
		}
		if err != nil {
			return "", &fault.Fault{Kind: fault.Internal, Where: to, What: "the refused rows cannot be written: " + plainCause(err), Mend: "the sound rows were taken in; `tenter undo` takes them back", Err: err}
		}
		return to, nil
	}
}

func (a *app) printImport(im *kb.Import, out importAnswer, remembered int, skipBad bool) {
	var rows [][]string
	for _, c := range im.Columns {
		to := c.Ours
		if c.Unit != "" {
			to += ", bare figures in " + c.Unit
		}
		how := c.How
		if how == "said" && remembered > 0 {
			how = "said, and remembered"
		}
		if c.Ours == "" {
			to, how = "not taken", c.How
		}
		rows = append(rows, []string{c.Theirs, to + " (" + how + ")"})
	}
	fmt.Fprintln(a.out, "Columns")
	a.tabulate(2, rows)
	if len(out.Notices) > 0 {
		a.head("Worth knowing")
		const most = 10
		for i, n := range out.Notices {
			if i == most {
				fmt.Fprintf(a.out, "  and %d more; --json tells all\n", len(out.Notices)-most)
				break
			}
			say := n.What
			if n.Line > 0 {
				say = fmt.Sprintf("line %d: %s", n.Line, say)
			}
			a.para("  ", say, 4)
		}
	}
	bad := map[int]bool{}
	for _, r := range out.Rejected {
		bad[r.Line] = true
	}
	fmt.Fprintln(a.out)
	a.para("", importInShort(out, len(bad), skipBad), 2)
	if out.File != "" {
		fmt.Fprintln(a.out, "the refused rows, each with its reason: "+clean(out.File))
	}
	if skipBad && len(out.Rejected) > 0 {
		a.printRejected(out.Rejected)
	}
}

// importInShort tells in one sentence what became of the rows of a list.
func importInShort(out importAnswer, bad int, skipBad bool) string {
	say := prose.Count(out.Read, "row") + " read; "
	switch {
	case bad > 0 && !skipBad:
		say += prose.Count(bad, "row") + " refused, so nothing was changed. Mend what stands below, or take the others with --skip-bad"
	case out.DryRun:
		say += fmt.Sprintf("%d would be recorded", out.Added)
		if bad > 0 {
			say += fmt.Sprintf(", %d refused", bad)
		}
		say += "; nothing was changed"
	default:
		say += fmt.Sprintf("%d recorded", out.Added)
		if bad > 0 {
			say += fmt.Sprintf(", %d refused", bad)
		}
		if out.Added > 0 {
			say += "; `tenter undo` takes them back"
		}
	}
	return say
}

// printRejected prints each refused row with its reason.
func (a *app) printRejected(rows []rejectedRow) {
	var found fault.List
	for _, r := range rows {
		found = append(found, &fault.Fault{Kind: fault.BadData, Where: r.Where, What: r.What, Expected: r.Expected, Mend: r.Mend})
	}
	fmt.Fprintln(a.out)
	for _, line := range strings.Split(clean(found.Error()), "\n") {
		for _, l := range wrap(line, a.width(), 4) {
			fmt.Fprintln(a.out, l)
		}
	}
}

func newSwatchExport(a *app) *cobra.Command {
	var format string
	c := &cobra.Command{
		Use:   "export [FILE]",
		Short: "write all swatches as CSV or JSON that import again without loss",
		Long: `Writes every swatch with its measurements to a new file, or to standard output
without a name or for a dash. The format follows the name (.json, else CSV). A
text that a spreadsheet would take for a formula gets an apostrophe before it,
which import takes away again. An existing file is not written over.` + exitStatus,
		Example: `  tenter swatch export wardrobe.csv
  tenter swatch export - --format json`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			to := "-"
			if len(args) == 1 {
				to = args[0]
			}
			return a.exportSwatches(to, format)
		},
	}
	c.Flags().StringVar(&format, "format", "", "csv or json (else by the name of the file)")
	_ = c.RegisterFlagCompletionFunc("format", a.complete(func(*advise.Adviser) []string { return []string{"csv", "json"} }))
	return c
}

func (a *app) exportSwatches(to, format string) error {
	switch format {
	case "":
		format = "csv"
		if strings.EqualFold(filepath.Ext(to), ".json") || to == "-" && a.json {
			format = "json"
		}
	case "csv", "json":
	default:
		return &fault.Fault{Kind: fault.WrongCall, Where: "--format", What: fmt.Sprintf("%q is no format", format), Expected: "csv or json"}
	}
	b, err := a.recordsKB()
	if err != nil {
		return err
	}
	if b.Records == nil {
		return &fault.Fault{Kind: fault.NotFound, What: "there is no swatch to write: nothing has been recorded", Mend: "`tenter swatch add NAME` records one"}
	}
	if to != "-" && !missing(to) {
		return &fault.Fault{Kind: fault.WrongCall, Where: to, What: "the file is there already", Expected: "the name of a new file", Mend: "name another file; nothing was written"}
	}
	var file bytes.Buffer // whole before it is written, so that a failure leaves no half file
	write := b.ExportCSV
	if format == "json" {
		write = b.ExportJSON
	}
	n, err := write(&file)
	if err != nil {
		return err
	}
	if to == "-" {
		_, err := a.out.Write(file.Bytes())
		return err
	}
	if err := writeNew(to, file.Bytes(), false); err != nil {
		return err
	}
	if a.json {
		return a.writeJSON(struct {
			Version int    `json:"version"`
			Written string `json:"written"`
			Count   int    `json:"count"`
		}{advise.Version, to, n})
	}
	fmt.Fprintf(a.out, "%d swatches written to %s\n", n, clean(to))
	return nil
}
