package main

import (
	_ "embed" // the invented wardrobe
	"encoding/json"
	"fmt"
	"os"

	"github.com/spf13/cobra"

	"tenter/advise"
	"tenter/fibres/fault"
	"tenter/kb"
	"tenter/kb/record"
)

//go:embed demo.json
var demoWardrobe []byte

func newDemo(a *app) *cobra.Command {
	var again bool
	c := &cobra.Command{
		Use:     "demo",
		GroupID: groupRecord,
		Short:   "an invented village-theatre wardrobe to try things on",
		Long: `Makes a store of its own with the invented wardrobe of a village theatre: swatches
that were measured, some of them half, a make-up that was worn, and notes. Your own
records are not touched. "--store demo" before or behind any command uses it, or
TENTER_STORE=demo for a whole session.` + exitStatus,
		Example: `  tenter demo
  tenter demo --again`,
		Args: cobra.NoArgs,
		RunE: func(*cobra.Command, []string) error { return a.demo(again) },
	}
	c.Flags().BoolVar(&again, "again", false, "make it anew, whatever was tried on it")
	return c
}

// demoFile is the wardrobe as it is written down.
type demoFile struct {
	Swatches json.RawMessage `json:"swatches"`
	Notes    []struct {
		Kind    string `json:"kind"`
		Subject string `json:"subject"`
		Text    string `json:"text"`
	} `json:"notes"`
	Favourites []struct {
		Kind    string `json:"kind"`
		Subject string `json:"subject"`
	} `json:"favourites"`
	Wears []demoWear `json:"wears"`
}

type demoWear struct {
	Cloth   string `json:"cloth"`
	Lining  string `json:"lining"`
	Piece   string `json:"piece"`
	Finish  string `json:"finish"`
	Verdict string `json:"verdict"`
	Said    string `json:"said"`
	At      string `json:"at"`
}

func (a *app) demo(again bool) error {
	path := demoPath()
	if path == "" {
		return &fault.Fault{Kind: fault.Internal, What: "there is no home folder to keep the demonstration in", Expected: "HOME or XDG_DATA_HOME to name a folder", Mend: "set XDG_DATA_HOME to a folder that can be written"}
	}
	if a.records != nil { // the user's own, opened for what was learned
		a.close()
	}
	a.adviser, a.base = nil, nil
	storeNamed = demoStore
	a.noLearn = true // the figures of the verdicts are those before any
	there := !missing(path)
	if there && again {
		for _, end := range []string{"", "-wal", "-shm"} {
			if err := os.Remove(path + end); err != nil && !os.IsNotExist(err) {
				return &fault.Fault{Kind: fault.Internal, Where: path, What: "the demonstration cannot be made anew: " + plainCause(err), Err: err}
			}
		}
		there = false
	}
	count := 0
	if !there {
		b, err := a.writing()
		if err != nil {
			return err
		}
		if count, err = a.fillDemo(b); err != nil {
			a.close()
			_ = os.Remove(path)
			return err
		}
	}
	if a.json {
		return a.writeJSON(struct {
			Version  int    `json:"version"`
			Store    string `json:"store"`
			Made     bool   `json:"made"`
			Swatches int    `json:"swatches"`
		}{advise.Version, path, !there, count})
	}
	if there {
		a.para("", "The demonstration is there already; --again makes it anew.", 2)
	} else {
		a.para("", fmt.Sprintf("The wardrobe of a village theatre, all of it invented, is laid out: %d swatches.", count), 2)
	}
	fmt.Fprintln(a.out, "It is kept apart from your own records: "+clean(shortPath(path)))
	fmt.Fprintln(a.out, "\nTry:")
	for _, say := range []string{
		"tenter --store demo swatch list",
		`tenter --store demo swatch show "king's blue"`,
		`tenter --store demo check "king's blue" --piece half-circle-cape --finish bagged-lining`,
		`tenter --store demo compare "king's blue" cotton-sateen`,
		"tenter --store demo learn",
	} {
		a.command(say)
	}
	a.para("", "TENTER_STORE=demo does so for a whole session. To be rid of it, remove the file.", 0)
	return nil
}

// fillDemo writes the wardrobe into the demonstration's store.
func (a *app) fillDemo(b *kb.Base) (int, error) {
	var f demoFile
	if err := json.Unmarshal(demoWardrobe, &f); err != nil {
		return 0, &fault.Fault{Kind: fault.Internal, What: "the wardrobe of the demonstration is broken", Err: err}
	}
	im, err := b.ReadSwatches(f.Swatches, kb.ImportOptions{Name: "demo.json"})
	if err != nil {
		return 0, err
	}
	done, err := b.Keep(im, false, false)
	if err != nil {
		return 0, err
	}
	if len(done.Refused) > 0 {
		return 0, done.Refused[0].Fault
	}
	for _, n := range f.Notes {
		if _, err := b.Records.AddNote(n.Kind, n.Subject, n.Text); err != nil {
			return 0, err
		}
	}
	for _, m := range f.Favourites {
		if err := b.Records.Favourite(m.Kind, m.Subject); err != nil {
			return 0, err
		}
	}
	adv, err := a.adv()
	if err != nil {
		return 0, err
	}
	for _, w := range f.Wears {
		if err := wearDemo(b, adv, w); err != nil {
			return 0, err
		}
	}
	return done.Added, nil
}

// wearDemo records one invented verdict after wear.
func wearDemo(b *kb.Base, adv *advise.Adviser, w demoWear) (err error) {
	var m advise.MakeUp
	if m.Shell, err = b.Subject(w.Cloth); err != nil {
		return err
	}
	if m.Piece, err = adv.Piece(w.Piece); err != nil {
		return err
	}
	if w.Finish != "" {
		if m.Finish, err = adv.Finish(w.Finish); err != nil {
			return err
		}
	}
	if w.Lining != "" {
		if m.Lining, err = b.Subject(w.Lining); err != nil {
			return err
		}
	}
	_, raw, err := wornOf(adv, m)
	if err != nil {
		return err
	}
	at, err := parseDay("at", w.At)
	if err != nil {
		return err
	}
	_, err = b.Records.AddWear(record.Wear{MakeUp: raw, Verdict: w.Verdict, Said: w.Said, At: at})
	return err
}
