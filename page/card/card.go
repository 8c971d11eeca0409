// Package card writes one sheet for the table: what is made of what, what to
// look for and how much to buy in the shop, what to do before cutting, and the
// order of work with boxes to tick. A card is one HTML file that needs nothing
// else, made to be printed.
package card

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"reflect"
	"regexp"
	"slices"
	"sort"
	"strings"
	"sync"
	"unicode/utf8"

	"tenter/advise"
	"tenter/advise/cut"
	"tenter/draw"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/prose"
	"tenter/fibres/units"
)

// The kinds of card: a third of a page for the purse, and the whole job.
const (
	Shopping = "shopping"
	Job      = "job"
)

// The papers.
const (
	A4     = "a4"
	Letter = "letter"
)

// Options say which card is wanted.
type Options struct {
	Kind  string // Shopping or Job; "" is Job
	Paper string // A4 or Letter; "" is A4
	Units units.System
	// Reasons prints a second sheet: reasons, every caution, sources.
	Reasons bool
	// What the layout was asked beyond the cloth's own nap, for its picture.
	OneWay, AnyWay            bool
	RepeatAlong, RepeatAcross units.Length
}

// Line is a word and what there is to say of it.
type Line struct{ What, Say string }

// Sourced is a sentence with its reason and the numbers of its sources.
type Sourced struct{ Say, Because, Marks string }

// BuyRow is how much of a cloth to buy.
type BuyRow struct{ Layer, Cloth, Width, Likely, Unlucky, Cost string }

// CutTable is the sizes to cut from one layer.
type CutTable struct {
	Layer, Cloth string
	Unwashed     bool // the sizes for unwashed cloth are shown too
	Rows         []CutRow
}

// CutRow is one part.
type CutRow struct {
	Part, Count, Finished, Washed, Unwashed string
	name                                    string // of the part alone
}

// onBias is said behind the name of a part.
const onBias = " (on the bias)"

// Step is one step of the work.
type Step struct {
	N                int
	ID, Say, Because string
	Notes            []string
	May              string // how far it may move
	Press            bool   // stop and press here
	Cautions         []Sourced
}

// Figure is a picture with its caption and its equivalent in words.
type Figure struct {
	SVG           template.HTML
	Caption, Text string
}

// Source is one line of the small print.
type Source struct {
	N   int
	Say string
}

// Card is everything a card says.
type Card struct {
	Kind, Paper              string
	Units                    units.System
	Title                    string
	Verdict, Headline, Fall  string
	MakeUp                   []Line
	Reasons                  []Sourced
	Settle                   []Line
	Look                     []Look
	Refuse                   []string
	Buy                      []BuyRow
	Notions                  []Line // interfacing, thread, needle
	Prewash                  []Line
	Cut                      []CutTable
	CutSay, Gap              string
	Machine                  []Line // seam, edge, needle, pressing
	Order                    []Step
	Cautions                 []Sourced
	Notes                    []string
	FallPicture, EdgePicture *Figure
	Worn                     *Worn // small, beside the title of a job; nil: there is no picture
	Layouts                  []Figure
	Sources                  []Source
	UsesPractice             bool
	PressingShort            string
	Tight                    int // how small a second sheet is printed, from 0
	Front                    Front
	Reasoned                 bool // a second sheet is printed
	// Way leads on from the card where it stands on a site; paper does not show it.
	Way []Way
}

// Way is a link to a page of the site, or the place where the card itself stands.
type Way struct {
	Word, To string
	Chosen   string
	Now      bool
}

// writer gathers a card.
type writer struct {
	a     *advise.Adviser
	m     advise.MakeUp
	ans   advise.AdviseAnswer
	plan  cut.Answer
	card  *Card
	n     map[string]int // source to its number
	topic map[string]string
	laid  []draw.LayoutView // the plans, one of those that lie alike
	opts  Options
}

// New makes the card of a make-up: a piece, a finish and a shell are required.
// plan is its cut sizes and what to buy.
func New(a *advise.Adviser, m advise.MakeUp, plan cut.Answer, o Options) (*Card, error) {
	if o.Kind == "" {
		o.Kind = Job
	}
	if o.Paper == "" {
		o.Paper = A4
	}
	var found fault.List
	if o.Kind != Job && o.Kind != Shopping {
		found = append(found, &fault.Fault{Kind: fault.WrongCall, Where: "--kind", What: fmt.Sprintf("there is no %q card", o.Kind), Expected: "shopping or job"})
	}
	if o.Paper != A4 && o.Paper != Letter {
		found = append(found, &fault.Fault{Kind: fault.WrongCall, Where: "--paper", What: fmt.Sprintf("there is no paper %q", o.Paper), Expected: "a4 or letter"})
	}
	if m.Shell == nil {
		found = append(found, &fault.Fault{Kind: fault.WrongCall, Where: "--shell", What: "the cloth is not named", Expected: "--shell CLOTH", Mend: "`tenter advise` finds one"})
	}
	if err := found.OrNil(); err != nil {
		return nil, err
	}
	m = a.WithUsualFinish(m) // as the answer does
	ans, err := a.Advise(m, 6)
	if err != nil {
		return nil, err
	}
	if m.Lining == nil && m.Finish.Lined && ans.Judged != nil && ans.Judged.MakeUp.Lining != "" {
		// The answer took the best lining; the card is for that one.
		if c := a.Cat.Cloths[ans.Judged.MakeUp.Lining]; c != nil {
			m.Lining = &fibres.Subject{Cloth: c}
		}
	}
	w := &writer{a: a, m: m, ans: ans, plan: plan, n: map[string]int{}, topic: map[string]string{}, opts: o}
	for _, r := range a.Rules {
		w.topic[r.ID] = topicOf(r.Place)
	}
	w.card = &Card{Kind: o.Kind, Paper: o.Paper, Units: o.Units, Reasoned: o.Reasons}
	w.head()
	w.shop()
	w.buy()
	w.before()
	w.machine()
	w.order()
	if err := w.pictures(); err != nil {
		return nil, err
	}
	w.sources()
	if o.Kind == Job {
		if err := w.front(); err != nil {
			return nil, err
		}
	}
	return w.card, nil
}

// topicOf is the file of a rule without its folder and ending, "" for the user's
// own.
func topicOf(place string) string {
	file, _, _ := strings.Cut(place, ":")
	if !strings.Contains(file, "rules/") {
		return ""
	}
	file = file[strings.LastIndex(file, "/")+1:]
	return strings.TrimSuffix(file, ".toml")
}

func (w *writer) head() {
	c, m := w.card, w.m
	c.Title = prose.Upper(m.Piece.Name)
	line := func(what, say string) {
		if say != "" {
			c.MakeUp = append(c.MakeUp, Line{what, say})
		}
	}
	line("Piece", m.Piece.Name)
	line("Finish", m.Finish.Name)
	line("Shell", label(m.Shell))
	line("Lining", label(m.Lining))
	if m.Interfacing != nil {
		line("Interfacing", m.Interfacing.Name)
	}
	for _, x := range m.Inner {
		line(prose.Upper(x.Name), x.Of.Label())
	}
	j := w.ans.Judged
	c.Verdict = j.Verdict
	if j.Unjudged {
		c.Verdict = "not judged"
	}
	c.Headline = strings.TrimPrefix(j.Headline, c.Verdict+": ")
	if f := j.Fall; f != nil && f.Hand.Known() {
		c.Fall = fmt.Sprintf("%s in the hand", prose.Upper(words(f.Hand)))
		if f.StandOff.Known() {
			c.Fall += fmt.Sprintf("; the edge stands about %s out before it falls (%s)", fibres.Quantity(f.StandOff.Typical, "cm", c.Units), fibres.Quantities(f.StandOff.Low, f.StandOff.High, "cm", c.Units))
		}
		if f.FoldWidth.Known() {
			c.Fall += fmt.Sprintf("; folds roughly %s apart, give or take a factor of two", fibres.Quantity(f.FoldWidth.Typical, "cm", c.Units))
		}
		c.Fall += "."
		w.use(f.Bending.Sources...)
	}
	for _, d := range j.Demands {
		w.use(d.Sources...)
	}
	warned := map[string]bool{}
	for _, s := range j.Settle {
		say := prose.Upper(s.Say) + ". " + s.How
		if s.Caution != "" && !warned[s.Caution] {
			warned[s.Caution] = true
			say += " " + s.Caution
		}
		c.Settle = append(c.Settle, Line{s.Decides, say})
	}
	for _, r := range advise.OfRules(j.Reasons) {
		if r.Effect != "forbids" && r.Effect != "against" {
			continue
		}
		say := r.Say
		if !r.Firm {
			say = "Test yours (" + advise.InTen(r.Share) + "): " + say
		}
		c.Reasons = append(c.Reasons, Sourced{say, r.Because, w.marks(r.Basis, r.Sources)})
	}
	c.Notes = append(c.Notes, w.plan.Notes...)
}

func (w *writer) buy() {
	c := w.card
	for _, l := range w.plan.Layers {
		b := l.Buy
		if len(l.Pieces) == 0 {
			continue
		}
		if l.Washed != nil && !l.Prewashed { // washed first, as the work below does it
			b = *l.Washed
		}
		c.Buy = append(c.Buy, BuyRow{Layer: l.Layer, Cloth: l.Cloth, Width: fibres.Quantity(b.Width, "cm", c.Units),
			Likely: c.cloth(b.Length.Typical), Unlucky: c.cloth(b.Length.High), Cost: b.CostIn(c.Units)})
	}
	if x := w.m.Interfacing; x != nil {
		c.Notions = append(c.Notions, Line{"interfacing", x.Name + ". " + x.Say})
	} else if x, ok := advise.FirstChoice(w.ans.Interfacings); ok {
		c.Notions = append(c.Notions, Line{"interfacing", x.Name + ", if the edge wants one. " + x.Say})
	}
	switch t := w.plan.Thread; {
	case t != nil && t.Say != "":
		say := t.In(c.Units)
		if x := w.ans.Thread; x != nil {
			say = fmt.Sprintf("%.0f–%.0f tex. %s", x.TexLow, x.TexHigh, say)
		}
		c.Notions = append(c.Notions, Line{"thread", say})
		w.use(t.Total.Sources...)
	case w.ans.Thread != nil:
		c.Notions = append(c.Notions, Line{"thread", w.ans.Thread.Say})
		w.use(w.ans.Thread.Sources...)
	}
}

// cloth writes a length of cloth to buy, rounded up as it is cut in a shop.
func (c *Card) cloth(cm float64) string { return units.Length(cm).OffTheBolt(c.Units) }

// size writes a width by a height to the millimetre, or the eighth of an inch.
func (c *Card) size(s [2]float64) string {
	return units.TapeBy(units.Length(s[0]), units.Length(s[1]), c.Units)
}

func (w *writer) before() {
	c := w.card
	for _, p := range w.ans.PreWash {
		say := p.Say
		for _, l := range w.plan.Layers {
			if l.Layer != p.Layer {
				continue
			}
			if l.Prewashed {
				say = "It has had its first wash."
			}
			if len(l.Care.Cautions) > 0 && p.Method != "steam" && p.Method != "leave" { // they are about washing
				say += " " + strings.Join(l.Care.Cautions, " ")
			}
		}
		c.Prewash = append(c.Prewash, Line{p.Layer, p.Cloth + ": " + say})
		for _, e := range p.Shrink {
			w.use(e.Sources...)
		}
	}
	for _, l := range w.plan.Layers {
		t := CutTable{Layer: l.Layer, Cloth: l.Cloth, Unwashed: !l.Prewashed && l.Shrink.Warp.Known() && l.Shrink.Weft.Known()}
		for _, p := range l.Pieces {
			row := CutRow{Part: p.Name, name: p.Name, Count: fmt.Sprint(p.Count), Finished: c.size(p.Finished), Washed: c.size(p.Washed), Unwashed: c.size(p.Cut)}
			if p.Bias {
				row.Part += onBias
			}
			t.Rows = append(t.Rows, row)
		}
		if len(t.Rows) > 0 && c.CutSay == "" {
			c.CutSay = "Allowances are in: " + l.Allowances(c.Units) + "."
			c.Front.CutSay = c.CutSay
		}
		if t.Unwashed {
			c.CutSay += fmt.Sprintf(" Unwashed, the %s loses %s along and %s across.", l.Layer, percent(l.Shrink.Warp), percent(l.Shrink.Weft))
		}
		c.Cut = append(c.Cut, t)
	}
	if g := w.plan.Gap; g != nil {
		c.Gap = fmt.Sprintf("Joined unwashed, shell and lining part by about %s over the %s edge of the %s; over %s shows. %s",
			fibres.Quantity(g.MM.Typical, "mm", c.Units), fibres.Quantity(g.EdgeCM, "cm", c.Units), g.Edge, fibres.Quantity(g.Limit, "mm", c.Units), g.Say)
	}
}

func percent(e fibres.Estimate) string {
	return fibres.Quantities(e.Low, e.High, "%", units.Metric)
}

func (w *writer) machine() {
	c, ans := w.card, w.ans
	line := func(what, say string) {
		if say != "" {
			c.Machine = append(c.Machine, Line{what, say})
		}
	}
	pick := func(named *advise.Seam, list []advise.Choice) string {
		if named != nil {
			return named.Name + ". " + named.Say
		}
		if x, ok := advise.FirstChoice(list); ok {
			return x.Name + ". " + x.Say
		}
		return ""
	}
	line("seam", pick(w.m.Seam, ans.Seams))
	line("edge", pick(w.m.Edge, ans.Edges))
	if ans.Needle != nil {
		line("needle", ans.Needle.Say)
		w.use(ans.Needle.Sources...)
	}
	first := func(what string, list []advise.Choice) {
		if x, ok := advise.FirstChoice(list); ok {
			line(what, prose.Upper(x.Name)+". "+x.Say)
		}
	}
	first("thread", ans.Threads)
	if w.m.Finish.Edge == "bound" {
		first("binding", ans.Bindings)
	}
	if p := ans.Pressing; p != nil {
		line("pressing", p.Say)
		w.use(p.Limit.Sources...)
		if p.Limit.Known() && p.Limit.High > 0 {
			c.PressingShort = "at most " + fibres.Quantity(p.Limit.Typical, "C", c.Units)
		}
	}
}

var presses = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?i)\b(press|iron|steam)(ed|ing|s)?\b`) })

// where are the steps that a topic's cautions belong to, the first that the work
// has.
var where = map[string][]string{
	"prewash":     {"pre-wash"},
	"cutting":     {"cut"},
	"nap":         {"cut"},
	"bias":        {"cut"},
	"fray":        {"cut"},
	"marking":     {"mark"},
	"interfacing": {"interface", "interline"},
	"pressing":    {"press-seams", "final-press"},
	"needle":      {"sew-parts"},
	"thread":      {"sew-parts"},
	"seam":        {"sew-parts"},
	"lining":      {"join-layers"},
	"pairing":     {"pre-wash"},
	"edge":        {"bind-edge", "hem", "overlock-edge", "roll-edge", "join-layers"},
	"topstitch":   {"topstitch"},
	"fitting":     {"sew-parts"},
	"bench":       {"cut"},
}

func (w *writer) order() {
	c := w.card
	at := map[string]int{}
	for i, s := range w.ans.Order {
		at[s.Step] = i
	}
	for i, s := range w.ans.Order {
		step := Step{N: i + 1, ID: s.Step, Say: s.Say, Because: s.Because, Notes: s.Notes}
		if k, ok := at[s.Later]; ok && s.Later != "" && k > i {
			step.May = fmt.Sprintf("May wait until after step %d.", k+1)
		} else if s.Movable {
			step.May = "May be done earlier."
		}
		step.Press = strings.Contains(s.Step, "press") || presses().MatchString(s.Say)
		c.Order = append(c.Order, step)
	}
	// Cautions stand at the step they are about; the others after the work.
	for _, r := range w.ans.Judged.Reasons {
		if r.Effect != "caution" {
			continue
		}
		say := r.Say
		if len(r.Open) > 0 {
			say = "Where the colours are so: " + prose.Lower(say)
		}
		t := Sourced{say, r.Because, w.marks(r.Basis, r.Sources)}
		topic := w.topic[r.Rule]
		if topic == "bench" && presses().MatchString(r.Rule) {
			topic = "pressing"
		}
		placed := false
		for _, id := range where[topic] {
			if i, ok := at[id]; ok {
				c.Order[i].Cautions = append(c.Order[i].Cautions, t)
				placed = true
				break
			}
		}
		if !placed {
			c.Cautions = append(c.Cautions, t)
		}
	}
}

func (w *writer) pictures() error {
	c := w.card
	v, ok := FallOf(w.a, w.m, w.ans.Judged.Fall)
	if ok {
		if err := w.fallPicture(v); err != nil {
			return err
		}
	}
	if c.Kind != Job {
		return nil
	}
	var err error
	if c.Worn, err = wornOf(w.m, w.ans.Judged.Fall); err != nil {
		return err
	}
	topstitched := slices.ContainsFunc(c.Order, func(s Step) bool { return s.ID == "topstitch" })
	if v, ok := EdgeOf(w.a, w.m, topstitched); ok {
		p, err := draw.Edge(draw.Options{Prefix: "edge", Units: c.Units}, v)
		if err != nil {
			return err
		}
		c.EdgePicture = &Figure{template.HTML(p.String()), "The edge, cut through.", p.Text}
	}
	return w.layouts()
}

// fallPicture draws how the edge falls: small for the purse, to scale for the table.
func (w *writer) fallPicture(v draw.FallView) error {
	c, o := w.card, draw.Options{Prefix: "fall", Units: w.card.Units}
	p, caption, err := draw.Picture{}, "How the edge falls, from the side, to scale.", error(nil)
	if c.Kind == Shopping {
		caption = "The edge from the side, to scale."
		p, err = draw.Strip(o, draw.StripView{Name: w.m.Piece.Name, Items: []draw.StripItem{{Name: w.m.Shell.Label(), Say: advise.InTen(w.ans.Judged.Share) + " would do", Flaps: v.Flaps}}})
	} else {
		p, err = draw.Fall(o, v)
		caption += NotWorn(w.a, w.m, w.ans.Judged.Fall)
	}
	if err == nil {
		c.FallPicture = &Figure{template.HTML(p.String()), caption, p.Text}
	}
	return err
}

// layouts draws how the parts lie on each cloth, once where two lie alike.
func (w *writer) layouts() error {
	c := w.card
	var drawn []cut.Buy
	for i, l := range w.plan.Layers {
		b, first := l.Buy, ""
		if l.Washed != nil && !l.Prewashed {
			b, first = *l.Washed, ", "+l.Treatment.First()+" first"
		}
		v := draw.LayoutOf(l.Layer+", "+l.Cloth, b)
		if v.Length <= 0 {
			continue
		}
		if b.Usable > 0 && l.Buy.Usable > 0 { // the figure shrinks with its cloth
			v.RepeatAlong, v.RepeatAcross = float64(w.opts.RepeatAlong)*v.Length/l.Buy.Length.Typical, float64(w.opts.RepeatAcross)*b.Usable/l.Buy.Usable
		}
		v.OneWay = w.oneWay(l.Layer)
		if k := slices.IndexFunc(drawn, func(x cut.Buy) bool {
			return x.Width == b.Width && x.Usable == b.Usable && reflect.DeepEqual(x.Lie, b.Lie)
		}); k >= 0 {
			c.Layouts[k].Caption = strings.TrimSuffix(c.Layouts[k].Caption, ".") + "; the " + l.Layer + " lies alike."
			continue
		}
		drawn, w.laid = append(drawn, b), append(w.laid, v)
		p, err := draw.Layout(draw.Options{Prefix: fmt.Sprintf("layout-%d", i), Units: c.Units}, v)
		if err != nil {
			return err
		}
		caption := fmt.Sprintf("%s on %s, %s wide", prose.Upper(l.Layer), l.Cloth, fibres.Quantity(b.Width, "cm", c.Units))
		c.Layouts = append(c.Layouts, Figure{template.HTML(p.String()), caption + first + ".", p.Text})
	}
	return nil
}

// oneWay reports whether the parts of a layer lie one way: by the nap of its
// cloth, or because the user says so of the cloths.
func (w *writer) oneWay(layer string) bool {
	s := map[string]*fibres.Subject{"shell": w.m.Shell, "lining": w.m.Lining}[layer]
	for _, x := range w.m.Inner {
		if x.Name == layer {
			s = x.Of
		}
	}
	if s == nil {
		return false
	}
	e := w.a.Cat.Estimate(*s, fibres.Nap)
	return w.opts.OneWay || e.Known() && e.Typical >= 0.5 && !w.opts.AnyWay
}

// use enters sources into the small print.
func (w *writer) use(ids ...string) {
	for _, id := range ids {
		switch id {
		case "", "own":
		case "practice":
			w.card.UsesPractice = true
		default:
			if w.n[id] == 0 {
				w.n[id] = len(w.n) + 1
			}
		}
	}
}

// marks are the numbers of sources as they stand behind a sentence: "3, 4", "p"
// for common practice.
func (w *writer) marks(basis string, sources []string) string {
	var out []string
	for _, id := range sources {
		w.use(id)
		if n := w.n[id]; n > 0 {
			out = append(out, fmt.Sprint(n))
		} else if id == "practice" {
			out = append(out, "p")
		}
	}
	if basis == "practice" && len(out) == 0 {
		w.card.UsesPractice = true
		out = append(out, "p")
	}
	return strings.Join(out, ", ")
}

func (w *writer) sources() {
	ids := make([]string, 0, len(w.n))
	for id := range w.n {
		ids = append(ids, id)
	}
	sort.Slice(ids, func(i, k int) bool { return w.n[ids[i]] < w.n[ids[k]] })
	for _, id := range ids {
		say := id
		if s := w.a.Cat.Sources[id]; s != nil {
			say = s.Title
			if s.Author != "" {
				say = s.Author + ", " + say
			}
			if s.Year != "" {
				say += ", " + s.Year
			}
			if !s.Read {
				say += " (from memory, not read)"
			}
		}
		w.card.Sources = append(w.card.Sources, Source{w.n[id], say})
	}
}

//go:embed card.tmpl
var text string

var page = sync.OnceValue(func() *template.Template { return template.Must(template.New("card").Parse(text)) })

// Write writes the card as one HTML file.
func (c *Card) Write(w io.Writer) error {
	var b bytes.Buffer
	if err := page().Execute(&b, c); err != nil {
		return err
	}
	if c.Reasoned {
		if c.Tight = tightness(b.String()); c.Tight > 0 {
			b.Reset()
			if err := page().Execute(&b, c); err != nil {
				return err
			}
		}
	}
	_, err := io.WriteString(w, units.Raised(inProse(b.String(), c.Units)))
	return err
}

// worded is what of a page is no sentence: drawings, style and tags.
var worded = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?s)<svg.*?</svg>|<style.*?</style>|<[^>]*>`) })

// inProse tells the measures that stand in the sentences of a page in a system's
// units: what is written of cloth is written in metric figures.
func inProse(page string, sys units.System) string {
	if sys != units.Imperial {
		return page
	}
	var out strings.Builder
	at := 0
	for _, m := range worded().FindAllStringIndex(page, -1) {
		out.WriteString(units.Prose(page[at:m[0]], sys) + page[m[0]:m[1]])
		at = m[1]
	}
	out.WriteString(page[at:])
	return out.String()
}

// unseen is what of a card is not printed as text.
var unseen = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?s)<svg.*?</svg>|<style.*?</style>|<details.*?</details>|<[^>]*>`)
})

// A job card goes on two pages: how much there is to say decides how small it is
// printed. The steps were found by printing cards of every finish in a wide sans
// serif; figureRoom is the room a picture takes, in letters of text.
const (
	figureRoom = 900
	roomOpen   = 11500
	roomPlain  = 13900
	roomTight  = 16300
)

// volume is how much room the text and the pictures of a card take, in letters.
func volume(html string) int {
	return utf8.RuneCountInString(unseen().ReplaceAllString(html, "")) + figureRoom*strings.Count(html, "<figure>")
}

func tightness(html string) int {
	switch v := volume(html); {
	case v <= roomOpen:
		return 0
	case v <= roomPlain:
		return 1
	case v <= roomTight:
		return 2
	}
	return 3
}

func label(s *fibres.Subject) string {
	if s == nil {
		return ""
	}
	return s.Label()
}

func words(e fibres.Estimate) string {
	if len(e.Words) != 3 {
		return e.Say()
	}
	if e.Words[0] == e.Words[2] {
		return e.Words[0]
	}
	return e.Words[0] + " to " + e.Words[2]
}
