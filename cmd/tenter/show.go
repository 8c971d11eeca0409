package main

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// shownCloth is the answer of `show` for a cloth.
type shownCloth struct {
	Version    int                        `json:"version"`
	Kind       string                     `json:"kind"`
	ID         string                     `json:"id"`
	Name       string                     `json:"name"`
	USName     string                     `json:"us_name,omitempty"`
	Synonyms   []string                   `json:"synonyms,omitempty"`
	Structure  string                     `json:"structure,omitempty"`
	Treatments []string                   `json:"treatments,omitempty"`
	Content    []shownPart                `json:"content,omitempty"`
	Say        string                     `json:"say,omitempty"`
	RightSide  string                     `json:"right_side,omitempty"`
	UsedFor    []string                   `json:"used_for,omitempty"`
	Confused   []string                   `json:"confused_with,omitempty"`
	Era        string                     `json:"era,omitempty"`
	Properties map[string]fibres.Estimate `json:"properties"`
	Shrink     map[string]fibres.Estimate `json:"shrink,omitempty"` // "later-wash warp" → per cent
	May        []shownMay                 `json:"may_be,omitempty"` // the cloths that a shop's name may mean
	Needle     string                     `json:"needle,omitempty"`
	SeeAlso    []string                   `json:"see_also,omitempty"`
	Related    related                    `json:"related,omitempty"`
	Old        map[string]string          `json:"old_sources,omitempty"` // property → year
	ownWords
}

type shownPart struct {
	Fibre string          `json:"fibre"`
	Share fibres.Estimate `json:"share"`
}

type shownMay struct {
	Cloth string  `json:"cloth"`
	Part  float64 `json:"part"` // of what is sold under the name, 0 to 1
}

func newShow(a *app) *cobra.Command {
	var mass, bending, why string
	c := &cobra.Command{
		Use:     "show NAME",
		GroupID: groupAsk,
		Short:   "everything that is known of a cloth, fibre, seam, piece, rule …",
		Long: `Prints every property of a cloth as low – typical – high, with its basis in one
word and its source: of cloths sold under the name a tenth lie below low and a
tenth above high. --why PROPERTY prints the chain that led to a figure.
Any other name (fibre, structure, treatment, piece, finish, seam, edge,
interfacing, rule, term, source) is shown with all that is known of it. Where a
cloth has the same name, put the kind in front: "structure satin".` + exitStatus,
		Example: `  tenter show "cotton sateen"
  tenter show "cotton sateen" --why bending-length
  tenter show wool
  tenter show "structure satin"`,
		Args:              cobra.MinimumNArgs(1),
		ValidArgsFunction: firstWord(a.completeThing()),
		RunE: func(_ *cobra.Command, args []string) error {
			return a.show(strings.Join(args, " "), mass, bending, why)
		},
	}
	f := c.Flags()
	f.StringVar(&mass, "mass", "", "what your cloth weighs: narrows the rest")
	f.StringVar(&bending, "bending-length", "", "its bending length by the ruler test")
	f.StringVar(&why, "why", "", "print the chain behind one property")
	a.allFlag(c)
	return c
}

func (a *app) show(name, mass, bending, why string) error {
	adv, err := a.adv()
	if err != nil {
		return err
	}
	if t := findOfKind(adv, name); t != nil && why == "" {
		return a.showThing(adv, t)
	}
	s, err := a.subject(name)
	if err != nil {
		if t := findThing(adv, name); t != nil && why == "" {
			return a.showThing(adv, t)
		}
		return err
	}
	if t := findExact(adv, name); t != nil && !s.Swatch && s.Cloth != nil && !answersTo(s.Cloth, name) && why == "" {
		return a.showThing(adv, t) // a beginning of a cloth's name is less than the very name of a fibre
	}
	if s, err = a.narrow(adv.Cat, s, "", known{mass: mass, bending: bending}); err != nil {
		return err
	}
	if why != "" {
		return a.showWhy(adv, s, why)
	}
	if s.Swatch && !a.json && mass == "" && bending == "" {
		return a.showSwatch(adv, s)
	}
	shown := describeCloth(adv, s, true)
	if shown.ownWords, err = a.own(shown.Kind, shown.ID); err != nil {
		return err
	}
	if a.json {
		return a.writeJSON(shown)
	}
	if a.all {
		a.printCloth(adv, s)
	} else {
		t, err := a.teller()
		if err != nil {
			return err
		}
		a.printBrief(t.Cloth(s))
	}
	a.printOwn(shown.ownWords)
	if also := namesakes(adv, name); len(also) > 0 {
		fmt.Fprintln(a.out)
		a.para("", fmt.Sprintf("%q is also the name of another thing: `tenter show \"%s\"`.", name, strings.Join(also, "\"`, `tenter show \"")), 2)
	}
	return nil
}

// showSwatch shows one of the user's own cloths.
func (a *app) showSwatch(adv *advise.Adviser, s *fibres.Subject) error {
	b, err := a.kb()
	if err != nil {
		return err
	}
	w, err := b.Swatch(s.Name)
	if err != nil {
		return err
	}
	a.printSwatch(adv, b, w)
	return nil
}

// ownWords is what the user recorded of a thing.
type ownWords struct {
	Favourite bool        `json:"favourite,omitempty"`
	Notes     []shownNote `json:"notes,omitempty"`
}

// own finds the user's mark and notes on a thing.
func (a *app) own(kind, id string) (ownWords, error) {
	var out ownWords
	s, err := a.readRecords()
	if err != nil || s == nil {
		return out, err
	}
	is, err := a.favourites()
	if err != nil {
		return out, err
	}
	out.Favourite = is[kind+"/"+id]
	notes, err := s.Notes(kind, id)
	for _, n := range notes {
		out.Notes = append(out.Notes, noteShown(n))
	}
	return out, err
}

func (a *app) printOwn(o ownWords) {
	if o.Favourite {
		fmt.Fprintln(a.out, "\n* one of your favourites")
	}
	if len(o.Notes) == 0 {
		return
	}
	a.head("Your notes")
	var rows [][]string
	for _, n := range o.Notes {
		rows = append(rows, []string{strconv.FormatInt(n.ID, 10), n.Text + " (" + n.Changed + ")"})
	}
	a.tabulate(2, rows)
}

// showThing shows a thing that is no cloth, with what the user recorded of it.
func (a *app) showThing(adv *advise.Adviser, t *thing) error {
	var err error
	if t.ownWords, err = a.own(t.Kind, t.ID); err != nil {
		return err
	}
	if err := a.printThing(adv, t); err != nil || a.json {
		return err
	}
	a.printOwn(t.ownWords)
	return nil
}

// describeCloth gathers what is known of a cloth.
func describeCloth(adv *advise.Adviser, s *fibres.Subject, chain bool) shownCloth {
	out := shownCloth{Version: advise.Version, Kind: "cloth", Name: s.Label(), Properties: map[string]fibres.Estimate{}}
	if s.Swatch {
		out.Kind, out.ID = "swatch", s.Name
	}
	if len(s.May) > 0 {
		out.Kind, out.ID, out.Say = "shop name", s.Name, s.MayBe()
		for _, m := range s.May {
			out.May = append(out.May, shownMay{m.Cloth.ID, m.Part})
		}
	}
	if k := s.Cloth; k != nil {
		if !s.Swatch {
			out.ID = k.ID
		}
		out.USName, out.Synonyms, out.Structure, out.Say, out.RightSide = k.USName, k.Synonyms, k.Structure.ID, k.Describe, k.RightSide
		out.UsedFor, out.Confused, out.Era = k.UsedFor, k.ConfusedWith, k.Era
		for _, t := range k.Treatments {
			out.Treatments = append(out.Treatments, t.ID)
		}
		for _, p := range k.Content {
			out.Content = append(out.Content, shownPart{p.Fibre.ID, p.Share})
		}
	}
	for p := range fibres.NumProperties {
		e := adv.Cat.Estimate(*s, p)
		if !chain {
			e.Chain = nil
		}
		out.Properties[fibres.Properties[p].ID] = e
	}
	if n := adv.NeedleFor(*s); n != nil {
		out.Needle = n.Say
	}
	out.Shrink = otherShrinkingOf(adv, s, chain)
	if k := s.Cloth; k != nil && chain {
		out.Related = webOf(adv).ofCloth(k)
		out.SeeAlso = append(append([]string{}, out.Related["cloth"]...), out.Related["term"]...)
		for p := range fibres.NumProperties {
			if year, old := adv.Cat.Dated(p, out.Properties[fibres.Properties[p].ID]); old {
				if out.Old == nil {
					out.Old = map[string]string{}
				}
				out.Old[fibres.Properties[p].ID] = year
			}
		}
	}
	return out
}

// otherShrinkingOf is what steam, dry cleaning and later washes take, by method and
// direction; nil where nothing is known.
func otherShrinkingOf(adv *advise.Adviser, s *fibres.Subject, chain bool) map[string]fibres.Estimate {
	var out map[string]fibres.Estimate
	for _, m := range otherShrinking {
		for _, d := range []string{"warp", "weft"} {
			e, ok := adv.Cat.Shrink(*s, d, m.id)
			if !ok {
				continue
			}
			if !chain {
				e.Chain = nil
			}
			if out == nil {
				out = map[string]fibres.Estimate{}
			}
			out[m.id+" "+d] = e
		}
	}
	return out
}

// otherShrinking is what a cloth may lose besides the first wash.
var otherShrinking = []struct{ id, name string }{{"later-wash", "after five washes"}, {"steam", "in steam"}, {"dry-clean", "dry-cleaned"}}

func (a *app) printCloth(adv *advise.Adviser, s *fibres.Subject) {
	if may := s.MayBe(); may != "" {
		a.para("", may+"; name one to narrow it.", 2)
	}
	if s.Cloth != nil {
		a.printIdentity(adv, s)
	}
	a.printProperties(adv, s)
	a.printOtherShrinking(adv, s)
	if n := adv.NeedleFor(*s); n != nil {
		fmt.Fprintln(a.out)
		a.para("  needle  ", n.Say, 10)
	}
	if s.Cloth != nil {
		if rows := webOf(adv).ofCloth(s.Cloth).rows(); len(rows) > 0 {
			a.head("Related")
			a.tabulate(2, rows)
		}
	}
	fmt.Fprintln(a.out)
	a.para("", "--why PROPERTY shows how a figure came about; `tenter source ID` what a source says.", 0)
}

// printIdentity prints what a cloth is: names, fibres, structure, uses.
func (a *app) printIdentity(adv *advise.Adviser, s *fibres.Subject) {
	k, title := s.Cloth, s.Label()
	if k.USName != "" && k.USName != k.Name {
		title += " (US: " + k.USName + ")"
	}
	a.para("", title, 2)
	a.para("  ", k.Describe, 2)
	var rows [][]string
	row := func(label, text string) {
		if text != "" {
			rows = append(rows, []string{label, text})
		}
	}
	row("made of", a.madeOf(adv, k))
	structure := k.Structure.Name
	if len(k.Treatments) > 0 {
		var names []string
		for _, t := range k.Treatments {
			names = append(names, t.Name)
		}
		structure += "; " + strings.Join(names, ", ")
	}
	row("structure", structure)
	row("also called", strings.Join(k.Synonyms, ", "))
	row("right side", k.RightSide)
	row("used for", strings.Join(k.UsedFor, ", "))
	row("not to be confused with", strings.Join(k.ConfusedWith, ", "))
	row("era", k.Era)
	a.tabulate(2, rows)
}

// madeOf tells the fibres of a cloth with their sources, and where these differ.
func (a *app) madeOf(adv *advise.Adviser, k *fibres.Cloth) string {
	var parts []string
	for _, p := range k.Content {
		t := p.Fibre.Name
		if p.Share.Low != 100 {
			t = fmt.Sprintf("%s %s–%s %%", p.Fibre.Name, fibres.Round(p.Share.Low), fibres.Round(p.Share.High))
		}
		t += " " + cite(p.Share.Rests(), p.Share.Sources)
		for _, d := range p.Share.Differ {
			t += fmt.Sprintf(" (sources differ: %s, %s)", a.estimate(d), a.sourceYear(adv, d))
		}
		parts = append(parts, t)
	}
	return strings.Join(parts, "; ")
}

// printProperties prints each property with its basis and source.
func (a *app) printProperties(adv *advise.Adviser, s *fibres.Subject) {
	a.head("Properties: low – typical – high of cloths sold under the name")
	var rows [][]string
	anyOld := false
	for p := range fibres.NumProperties {
		e := adv.Cat.Estimate(*s, p)
		for i, say := range a.estimates(e) {
			if i > 0 {
				rows = append(rows, []string{"", say, "", ""})
				continue
			}
			from := sourcesBut(e)
			if year, old := adv.Cat.Dated(p, e); old {
				from, anyOld = from+", old: "+year, true
			}
			rows = append(rows, []string{fibres.Properties[p].Name, say, e.Rests(), from})
		}
		for _, d := range e.Differ {
			rows = append(rows, []string{"sources differ:", a.estimates(d)[0], d.Rests(), a.sourceYear(adv, d)})
		}
	}
	a.tabulate(2, rows)
	if anyOld {
		a.para("  ", "old: the source is of before 1960, and the cloth sold under the name has changed since.", 2)
	}
}

// printOtherShrinking prints what steam, dry cleaning and later washes take.
func (a *app) printOtherShrinking(adv *advise.Adviser, s *fibres.Subject) {
	var rows [][]string
	for _, m := range otherShrinking {
		for _, d := range []string{"warp", "weft"} {
			if e, ok := adv.Cat.Shrink(*s, d, m.id); ok {
				rows = append(rows, []string{m.name + ", " + d, e.Say(), e.Rests(), sourcesBut(e)})
			}
		}
	}
	if len(rows) > 0 {
		a.head("Besides the first wash it shrinks")
		a.tabulate(2, rows)
	}
}

// sourceYear names the sources of an estimate with their years.
func (a *app) sourceYear(adv *advise.Adviser, e fibres.Estimate) string {
	var out []string
	for _, s := range e.Sources {
		t := s
		if src := adv.Cat.Sources[s]; src != nil && src.Year != "" && !strings.Contains(s, src.Year) {
			t += " (" + src.Year + ")"
		}
		out = append(out, t)
	}
	return strings.Join(out, ", ")
}

// estimates prints an estimate's range; where both systems are asked for, one
// line for each, as there is no room for them side by side.
func (a *app) estimates(e fibres.Estimate) []string {
	if a.system != units.Both {
		return []string{a.estimate(e)}
	}
	both := *a
	both.system = units.Metric
	out := []string{both.estimate(e)}
	both.system = units.Imperial
	if s := both.estimate(e); s != out[0] {
		out = append(out, s)
	}
	return out
}

// estimate prints an estimate's range in the units of the answer.
func (a *app) estimate(e fibres.Estimate) string {
	if !e.Known() {
		return "not known"
	}
	if e.Words != nil || e.Unit == "%" {
		return e.Say()
	}
	if e.Unit == "C" && e.High == 0 {
		return "do not iron"
	}
	if e.Low == e.High {
		return a.quantity(e.Typical, e.Unit)
	}
	if a.system == units.Metric {
		unit := map[string]string{"g/m2": "g/m2", "C": "°C"}[e.Unit]
		if unit == "" {
			unit = e.Unit
		}
		return fibres.Round(e.Low) + " – " + fibres.Round(e.Typical) + " – " + fibres.Round(e.High) + " " + unit
	}
	low, typical, high := a.quantity(e.Low, e.Unit), a.quantity(e.Typical, e.Unit), a.quantity(e.High, e.Unit)
	return low + " – " + typical + " – " + high
}

// showWhy prints the chain behind a figure.
func (a *app) showWhy(adv *advise.Adviser, s *fibres.Subject, property string) error {
	p, ok := fibres.PropertyByID(property)
	if !ok {
		var ids []string
		for _, i := range fibres.Properties {
			ids = append(ids, i.ID)
		}
		return &fault.Fault{Kind: fault.WrongCall, Where: "--why", What: fmt.Sprintf("no property is called %q", property),
			Expected: strings.Join(ids, ", "), Mend: fault.DidYouMean(property, ids, "")}
	}
	e := adv.Cat.Estimate(*s, p)
	if a.json {
		return a.writeJSON(struct {
			Version  int             `json:"version"`
			Name     string          `json:"name"`
			Property string          `json:"property"`
			Estimate fibres.Estimate `json:"estimate"`
		}{advise.Version, s.Label(), property, e})
	}
	a.para("", fmt.Sprintf("%s, %s: %s (%s)", s.Label(), fibres.Properties[p].Name, a.estimate(e), e.Rests()), 2)
	var rows [][]string
	for _, r := range e.Chain {
		used := ""
		if r.Used {
			used = "used"
		}
		rows = append(rows, []string{used, r.Asked + ": " + r.Found})
	}
	a.tabulate(2, rows)
	if e.Note != "" {
		a.para("  note: ", e.Note, 8)
	}
	if len(e.Sources) > 0 {
		a.head("Sources")
		for _, id := range e.Sources {
			if src := adv.Cat.Sources[id]; src != nil {
				a.para("  ", sourceLine(src), 4)
			}
		}
	}
	if t := fibres.Tests[fibres.Properties[p].Test]; t.ID != "" && e.Basis != fibres.Measured {
		a.head("What would settle it")
		a.para("  ", t.Name+": "+t.How+" "+t.Caution, 4)
	}
	return nil
}

func sourceLine(s *fibres.Source) string {
	out := s.ID + ": " + s.Title
	if s.Author != "" && s.Author != "none" {
		out += ", " + s.Author
	}
	if s.Year != "" {
		out += ", " + s.Year
	}
	if s.Read {
		out += " (read: " + s.Seen + ")"
	} else if s.Kind != "practice" {
		out += " (not read here)"
	}
	return out
}

// sourcesBut lists the sources of an estimate, without repeating its basis.
func sourcesBut(e fibres.Estimate) string {
	var out []string
	for _, s := range e.Sources {
		if s != string(e.Basis) {
			out = append(out, s)
		}
	}
	return strings.Join(out, ", ")
}

// cite prints a basis with its sources in brackets: [published, watson-1907].
func cite(basis string, sources []string) string {
	out := basis
	for _, s := range sources {
		if s != basis {
			out += ", " + s
		}
	}
	return "[" + out + "]"
}
