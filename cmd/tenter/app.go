package main

import (
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"sync"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"tenter/advise"
	"tenter/data"
	"tenter/fibres/fault"
	"tenter/fibres/units"
	"tenter/kb/store"
)

// app holds what one run of the program needs. Everything is opened when it is
// first asked for.
type app struct {
	all bool // tell everything that an answer holds

	out, err  io.Writer
	json      bool
	unitsFlag string
	noColour  bool
	storeFlag string
	newStore  bool
	noLearn   bool

	system units.System
	prose  bool // the measures of sentences are told in the system's units
	// reference is what is known before the user's records have their say, read once.
	reference func() reference

	tree func() *cobra.Command // all commands, for what tells of them

	adviser     *advise.Adviser
	base        *baseHandle
	records     *store.Store
	namesakes   map[string]bool // cloths of which was said that a swatch has their name
	unused      error           // why the user's records moved nothing in this run
	progressing bool            // a line tells how far a long work is
	broken      fault.List      // what is wrong with the house files that were left out
}

func newApp(out, err io.Writer) *app {
	return &app{out: &watched{Writer: out}, err: err, reference: sync.OnceValue(readReference)}
}

// watched keeps the first error of writing: an answer that does not arrive is no success.
type watched struct {
	io.Writer
	err error
}

func (w *watched) Write(b []byte) (int, error) {
	n, err := w.Writer.Write(b)
	if w.err == nil {
		w.err = err
	}
	return n, err
}

// unwritten is the fault of an answer that was not written whole, nil where it was.
func (a *app) unwritten() error {
	w, ok := a.out.(*watched)
	if !ok || w.err == nil {
		return nil
	}
	return &fault.Fault{Kind: fault.Internal, Where: "the answer", What: "it could not be written whole: " + plainCause(w.err), Mend: "make room where it goes, then ask again", Err: w.err}
}

// terminal is what the answer is read on, if it is a terminal.
func (a *app) terminal() (*os.File, bool) {
	w, ok := a.out.(*watched)
	if !ok {
		return nil, false
	}
	f, ok := w.Writer.(*os.File)
	return f, ok && term.IsTerminal(int(f.Fd()))
}

// reference is the built-in data with the house files that are sound.
type reference struct {
	adviser *advise.Adviser
	house   []advise.House
	broken  fault.List // what is wrong with the house files that were left out
	err     error      // there is no adviser
}

// readReference reads the built-in data with the user's house files. A file with a
// slip is left out as a whole, since half of its rules may mean something else, and
// the others are read without it.
func readReference() reference {
	house, broken := houseFiles()
	adv, err := advise.Load(data.FS, house...)
	if err == nil || len(house) == 0 {
		return reference{adv, house, broken, err}
	}
	var sound []advise.House
	if adv, err = advise.Load(data.FS); err != nil {
		return reference{err: err}
	}
	// One file may name what another brings: they are tried until none more is sound.
	left := house
	for {
		var refused []advise.House
		var faults fault.List
		for _, h := range left {
			with, err := advise.Load(data.FS, append(slices.Clone(sound), h)...)
			if err != nil {
				refused = append(refused, h)
				faults.Add(err)
				continue
			}
			adv, sound = with, append(sound, h)
		}
		if len(refused) == 0 || len(refused) == len(left) {
			return reference{adv, sound, append(broken, faults...), nil}
		}
		left = refused
	}
}

// begin reads the flags that every command shares.
func (a *app) begin() error {
	s, err := units.ParseSystem(a.unitsFlag)
	if err != nil {
		f := fault.All(err)[0]
		f.Where = "--units"
		return f
	}
	a.system = s
	storeNamed = a.storeFlag
	return nil
}

// adv loads the knowledge: the built-in data with the user's house files, moved by
// what was measured of their own swatches and by their verdicts after wear.
func (a *app) adv() (*advise.Adviser, error) {
	if a.adviser != nil {
		return a.adviser, nil
	}
	adv, err := a.withoutLessons()
	if err != nil {
		return nil, err
	}
	a.adviser = adv
	if learned, err := a.learned(adv); err != nil {
		a.unused = err // the reference answers without records that cannot be read
	} else {
		a.adviser = learned
	}
	return a.adviser, nil
}

// withoutLessons is the reference without what own records teach: for names that needs no
// reading of the records.
func (a *app) withoutLessons() (*advise.Adviser, error) {
	r := a.reference()
	if r.err != nil {
		return nil, r.err
	}
	a.broken = r.broken
	return r.adviser, nil
}

// close lets go of what was opened.
func (a *app) close() {
	if a.records != nil {
		_ = a.records.Close()
		a.records = nil
	}
}

// version names the program, the data edition and the build.
func version() string {
	v := "0.1.0"
	if b, ok := debug.ReadBuildInfo(); ok {
		for _, s := range b.Settings {
			if s.Key == "vcs.revision" && len(s.Value) >= 8 {
				v += " (" + s.Value[:8] + ")"
			}
		}
	}
	return v
}

// dirs are the folders of the XDG base directory specification, 0.8: relative
// values are ignored. An empty result means that there is no home.
func xdg(variable, fallback string) string {
	if d := os.Getenv(variable); filepath.IsAbs(d) {
		return filepath.Join(d, "tenter")
	}
	home, err := os.UserHomeDir()
	if err != nil || home == "" {
		return ""
	}
	return filepath.Join(home, fallback, "tenter")
}

func dataDir() string   { return xdg("XDG_DATA_HOME", ".local/share") }
func configDir() string { return xdg("XDG_CONFIG_HOME", ".config") }
func cacheDir() string  { return xdg("XDG_CACHE_HOME", ".cache") }
func stateDir() string  { return xdg("XDG_STATE_HOME", ".local/state") }

// The store may be another than the user's own: that of --store goes before that
// of the variable. The word demo stands for the store that `tenter demo` makes.
const (
	storeVariable = "TENTER_STORE"
	demoStore     = "demo"
)

// storeNamed is the store that --store names in this run.
var storeNamed string

// storePath is where the user's own records are kept.
func storePath() string {
	v := storeNamed
	if v == "" {
		v = os.Getenv(storeVariable)
	}
	switch v {
	case "":
	case demoStore:
		return demoPath()
	default:
		return v
	}
	return ownPath()
}

// demoPath is where the invented records of the demonstration are kept.
func demoPath() string {
	if d := dataDir(); d != "" {
		return filepath.Join(d, "demo.db")
	}
	return ""
}

// ownPath is where the user's records are kept unless another store is named.
func ownPath() string {
	if d := dataDir(); d != "" {
		return filepath.Join(d, "tenter.db")
	}
	return ""
}

// houseFiles reads the user's own rules and pieces, if there are any, and tells
// which files cannot be read.
func houseFiles() (house []advise.House, unreadable fault.List) {
	dir := configDir()
	if dir == "" {
		return nil, nil
	}
	names, _ := filepath.Glob(filepath.Join(dir, "*.toml"))
	for _, n := range names {
		b, err := os.ReadFile(n)
		if err != nil {
			unreadable.Add(&fault.Fault{Kind: fault.BadData, Where: shortPath(n), What: "the house file cannot be read: " + plainCause(err), Expected: "a readable TOML file", Mend: "mend its permissions or move it away", Err: err})
			continue
		}
		house = append(house, advise.House{Name: shortPath(n), Data: b})
	}
	return house, unreadable
}

// shortPath writes a path below the home as ~/…
func shortPath(p string) string {
	if home, err := os.UserHomeDir(); err == nil && home != "" && strings.HasPrefix(p, home+string(filepath.Separator)) {
		return "~" + strings.TrimPrefix(p, home)
	}
	return p
}

// plainCause is the last part of a system error: "permission denied".
func plainCause(err error) string {
	s := err.Error()
	return s[strings.LastIndex(s, ": ")+1:]
}
