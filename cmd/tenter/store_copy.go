package main

import (
	"encoding/json"
	"fmt"
	"os"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"tenter/advise"
	"tenter/fibres/fault"
	"tenter/fibres/prose"
	"tenter/kb"
	"tenter/kb/record"
)

func newStoreExport(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "export FILE",
		Short: "a copy of your records as one file, for the phone or another machine",
		Long: `Writes swatches, measurements, notes, marks and verdicts to one file of JSON. On the
phone, Records takes it in. A file that is there is not written over.` + exitStatus,
		Example: "  tenter store export wardrobe.json",
		Args:    cobra.ExactArgs(1),
		RunE:    func(_ *cobra.Command, args []string) error { return a.exportStore(args[0]) },
	}
}

func (a *app) exportStore(to string) error {
	b, err := a.recordsKB()
	if err != nil {
		return err
	}
	if b.Records == nil {
		return &fault.Fault{Kind: fault.NotFound, What: "there is nothing to write: nothing has been recorded", Mend: "`tenter swatch add NAME` records a swatch"}
	}
	if !missing(to) {
		return &fault.Fault{Kind: fault.WrongCall, Where: to, What: "the file is there already", Expected: "the name of a new file", Mend: "name another file; nothing was written"}
	}
	d, err := kb.NewCopy(b.Records, time.Now())
	if err != nil {
		return err
	}
	out, err := json.MarshalIndent(d, "", " ")
	if err != nil {
		return err
	}
	if err := writeNew(to, append(out, '\n'), false); err != nil {
		return err
	}
	if a.json {
		return a.writeJSON(struct {
			Version  int    `json:"version"`
			Written  string `json:"written"`
			Swatches int    `json:"swatches"`
			Notes    int    `json:"notes"`
		}{advise.Version, to, len(d.Swatches), len(d.Notes)})
	}
	a.para("", fmt.Sprintf("%s, %s and %s written to %s", prose.Count(len(d.Swatches), "swatch"), prose.Count(len(d.Notes), "note"), prose.Count(len(d.Favourites), "mark"), to), 2)
	return nil
}

func newStoreImport(a *app) *cobra.Command {
	var dry, keep bool
	var picked []string
	c := &cobra.Command{
		Use:   "import FILE",
		Short: "take in a copy from the phone or another machine",
		Long: `Reads a file that store export or the phone wrote, and adds what is new in it. What
was changed there alone since both last had the same copy is taken over. Where both
changed, or one removed, both sides are shown and yours stays, unless --take names
it; with --keep it is not asked again. Each change can be undone.` + exitStatus,
		Example: `  tenter store import phone.json --dry-run
  tenter store import phone.json --take all`,
		Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error { return a.importStore(args[0], dry, keep, picked) },
	}
	c.Flags().BoolVarP(&dry, "dry-run", "n", false, "only show what would be done")
	c.Flags().BoolVar(&keep, "keep", false, "of the other clashes keep your side for good")
	c.Flags().StringArrayVar(&picked, "take", nil, "of a clash take the other side: its name as shown, or all")
	return c
}

// mergeAnswer is what a copy brings, or brought.
type mergeAnswer struct {
	Version int          `json:"version"`
	Same    int          `json:"same"`
	Matters []mergeEntry `json:"matters"`
	Done    *mergeDone   `json:"done,omitempty"` // nil where it was only shown
}

type mergeEntry struct {
	Key   string            `json:"key"`
	What  string            `json:"what"` // new, changed there, clash
	Own   map[string]string `json:"own,omitempty"`
	Other map[string]string `json:"other,omitempty"`
}

type mergeDone struct {
	Added   int `json:"added"`
	Changed int `json:"changed"`
	Taken   int `json:"taken"`
	Kept    int `json:"kept"`
}

var mergeWords = map[kb.MatterKind]string{kb.New: "new", kb.Changed: "changed there", kb.Clash: "clash"}

func (a *app) importStore(from string, dry, keep bool, picked []string) error {
	file, err := os.ReadFile(from)
	if err != nil {
		return &fault.Fault{Kind: fault.WrongCall, Where: from, What: "the file cannot be read", Expected: "a file that store export or the phone wrote", Err: err}
	}
	d, err := record.ReadDocument(file)
	if err != nil {
		return fault.All(err)[0].At(from)
	}
	s, err := a.makeStore()
	if err != nil {
		return err
	}
	m, err := kb.Compare(s, d)
	if err != nil {
		return err
	}
	chosen, err := chosenOf(m, keep, picked)
	if err != nil {
		return err
	}
	out := mergeAnswer{Version: advise.Version, Same: m.Same, Matters: []mergeEntry{}}
	for _, x := range m.Matters {
		out.Matters = append(out.Matters, mergeEntry{x.Key, mergeWords[x.What], linesOf(x.Own), linesOf(x.Other)})
	}
	if !dry {
		done, err := m.Do(s, chosen, time.Now())
		if err != nil {
			return err
		}
		out.Done = &mergeDone{done.Added, done.Changed, done.Taken, done.Kept}
	}
	if a.json {
		return a.writeJSON(out)
	}
	a.printMerge(m, out)
	return nil
}

// chosenOf says of the clashes that are decided whether the other side is taken.
func chosenOf(m *kb.Merge, keep bool, picked []string) (map[string]bool, error) {
	out := map[string]bool{}
	var keys []string
	for _, x := range m.Clashes() {
		keys = append(keys, x.Key)
		if keep {
			out[x.Key] = false
		}
	}
	for _, t := range picked {
		if t == "all" {
			for _, k := range keys {
				out[k] = true
			}
			continue
		}
		found := false
		for _, k := range keys {
			if strings.EqualFold(k, t) {
				out[k], found = true, true
			}
		}
		if !found {
			return nil, &fault.Fault{Kind: fault.WrongCall, Where: "--take", What: fmt.Sprintf("nothing clashes under %q", t), Expected: "one of the clashes, or all", Mend: fault.DidYouMean(t, keys, "--dry-run shows them")}
		}
	}
	return out, nil
}

func linesOf(lines []kb.Line) map[string]string {
	out := map[string]string{}
	for _, l := range lines {
		if l.Value != "" {
			out[l.Word] = l.Value
		}
	}
	return out
}

func (a *app) printMerge(m *kb.Merge, out mergeAnswer) {
	for _, x := range m.Matters {
		a.para(mergeWords[x.What]+": ", x.Key, 2)
		if x.What == kb.New {
			continue
		}
		for i := range max(len(x.Own), len(x.Other)) {
			if i < len(x.Own) {
				a.para("  here: ", x.Own[i].Word+" "+x.Own[i].Value, 4)
			}
			if i < len(x.Other) {
				a.para("  there: ", x.Other[i].Word+" "+x.Other[i].Value, 4)
			}
		}
	}
	if d := out.Done; d != nil {
		a.para("", fmt.Sprintf("%d added, %d changed as there, %d clashes taken from there, %d left as here; %d were alike", d.Added, d.Changed, d.Taken, d.Kept, out.Same), 2)
		if d.Kept > 0 {
			a.para("Next ", `to take the other side of a clash: tenter store import FILE --take "`+m.Clashes()[0].Key+`"`, 2)
		}
		return
	}
	a.para("", fmt.Sprintf("nothing was changed; %d are alike", out.Same), 2)
}
