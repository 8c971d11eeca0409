package advise

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"tenter/fibres"
	"tenter/fibres/fault"
)

// Worn is what a maker found after wearing a make-up: the piece, the verdict,
// and the figures that the make-up had, by fact.
type Worn struct {
	ID      int64
	Piece   string // id
	Finding string // one of [Findings]
	Who     string // what was worn: "attic sateen"
	At      time.Time
	Figures map[string]Figures
}

// Figures are the figures of one fact of a make-up as it was judged.
type Figures struct {
	Low     float64 `json:"low"`
	Typical float64 `json:"typical"`
	High    float64 `json:"high"`
}

// Finding is one thing that can be said after wearing: which facts it speaks of,
// and whether there was too much of them (+1), too little (−1), or neither.
type Finding struct {
	ID, Name string
	facts    []string
	sign     int
}

var stiffness = []string{"make-up.stand-off", "make-up.bending-length", "make-up.hand"}

// Findings are all that can be said, in the order in which they are offered.
var Findings = []Finding{
	{"right", "just right", nil, 0},
	{"too-stiff", "too stiff after all", stiffness, +1},
	{"too-limp", "too limp after all", stiffness, -1},
	{"too-heavy", "too heavy", []string{"make-up.mass"}, +1},
	{"too-light", "too light", []string{"make-up.mass"}, -1},
	{"shows-through", "shows through", []string{"make-up.show-through"}, +1},
	{"too-thick", "too thick", []string{"make-up.thickness"}, +1},
	{"stretched", "stretched out of shape", []string{"shell.stretch"}, +1},
	{"frayed", "frayed", []string{"shell.fray"}, +1},
	{"creased", "creased", []string{"shell.crease"}, +1},
	{"parted", "shell and lining parted in the wash", []string{"make-up.shrink-gap"}, +1},
}

// ParseFinding reads a finding by its id or its words.
func ParseFinding(text string) (Finding, error) {
	k := fibres.FoldName(text)
	also := map[string]string{"good": "right", "fine": "right", "suits": "right", "as wanted": "right", "stiff": "too-stiff", "too crisp": "too-stiff", "limp": "too-limp",
		"too soft": "too-limp", "too floppy": "too-limp", "heavy": "too-heavy", "light": "too-light", "too sheer": "shows-through", "too thin": "shows-through", "see through": "shows-through",
		"thick": "too-thick", "bulky": "too-thick", "stretches": "stretched", "frays": "frayed", "creases": "creased", "shrank": "parted"}
	var ids []string
	for _, f := range Findings {
		if k == fibres.FoldName(f.ID) || k == fibres.FoldName(f.Name) || also[k] == f.ID {
			return f, nil
		}
		ids = append(ids, f.ID)
	}
	return Finding{}, &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q is not a verdict that moves anything", text), Expected: "one of " + strings.Join(ids, ", "),
		Mend: fault.DidYouMean(strings.ReplaceAll(k, " ", "-"), ids, "say the rest in words of your own")}
}

// FiguresOf are the figures of every fact that a verdict after wear may speak of,
// for a make-up as it is judged now.
func (a *Adviser) FiguresOf(m MakeUp) map[string]Figures {
	j := a.judge(m)
	out := map[string]Figures{}
	for i, f := range a.facts {
		if !moves(f.Name) {
			continue
		}
		if col := j.c.Column(i); len(col.Num) > 0 {
			e := estimateOf(col.Num, "", nil, "", nil)
			out[f.Name] = Figures{e.Low, e.Typical, e.High}
			if alone, ok := aloneFacts[f.Name]; ok { // as a piece asks it
				e = estimateOf(j.c.Column(a.place(alone)).Num, "", nil, "", nil)
				out[f.Name] = Figures{e.Low, e.Typical, e.High}
			}
		}
	}
	return out
}

func moves(fact string) bool {
	for _, f := range Findings {
		if slices.Contains(f.facts, fact) {
			return true
		}
	}
	return false
}

// Moved is how far verdicts after wear moved what a piece asks of one fact.
type Moved struct {
	IdealWas, LimitWas Bounds
	By                 []int64 // the verdicts
	Say                string
}

// WithWorn returns an adviser whose pieces ask what the maker's own verdicts after
// wear make of it; the adviser itself is not changed.
//
//	limit ~ N(ln of its middle, the way from ideal to limit), in ln
//	a verdict against it: the limit is a seventh short of (or beyond) what was worn,
//	  as surely as the make-up's own figure was known
//
// A verdict that the limits allowed for moves nothing. One that they did not moves
// them by the usual mean by precision: a measured make-up by nearly all of the way,
// one of which only the name was known by about half.
func (a *Adviser) WithWorn(list []Worn) *Adviser {
	if len(list) == 0 {
		return a
	}
	b := a.fresh(a.Cat)
	b.Pieces = slices.Clone(a.Pieces)
	of := map[string][]Worn{}
	for _, w := range list {
		of[w.Piece] = append(of[w.Piece], w)
	}
	for i, p := range b.Pieces {
		if verdicts, worn := of[p.ID]; worn {
			q := *p
			q.Demands = slices.Clone(p.Demands)
			for k := range q.Demands {
				q.Demands[k].learn(verdicts)
			}
			b.Pieces[i] = &q
		}
	}
	return b
}

// WithCatalogue returns an adviser over another catalogue, as one that has learned
// from the user's swatches.
func (a *Adviser) WithCatalogue(cat *fibres.Catalogue) *Adviser {
	if cat == a.Cat {
		return a
	}
	return a.fresh(cat)
}

// fresh is the adviser with nothing kept from earlier questions.
func (a *Adviser) fresh(cat *fibres.Catalogue) *Adviser {
	b := *a
	b.Cat, b.samples, b.tables, b.cuts = cat, &samples{}, &tables{}, &cuts{}
	return &b
}

// How a verdict is weighed (practice).
const (
	wornMargin = 0.15 // how far beyond the limit what is found wrong must at least lie, in ln
	wornDoubt  = 0.1  // how well a wearer tells it, in ln
	leastRamp  = 0.15 // half the way from ideal to limit, at least, in ln
	freshRamp  = 0.5  // that of a limit which the piece did not have
	levelDoubt = 0.7  // the same for levels
)

// learn moves the bounds of a demand by the verdicts that speak of its fact.
func (d *Demand) learn(list []Worn) {
	low, high := &edge{}, &edge{upper: true}
	low.begin(d)
	high.begin(d)
	quotes := map[int64]string{}
	for _, w := range list {
		f, err := ParseFinding(w.Finding)
		v, known := w.Figures[d.Fact]
		if err != nil || !known || (f.sign != 0 && !slices.Contains(f.facts, d.Fact)) {
			continue
		}
		moved := false
		switch f.sign {
		case +1:
			moved = high.against(v)
		case -1:
			moved = low.against(v)
		default:
			moved = high.within(v)
			moved = low.within(v) || moved
		}
		if moved {
			quotes[w.ID] = fmt.Sprintf("%q after wearing %s", f.Name, w.Who)
			if !w.At.IsZero() {
				quotes[w.ID] += w.At.Format(" (2 Jan 2006)")
			}
		}
	}
	m := &Moved{IdealWas: d.Ideal, LimitWas: d.Limit}
	low.end(d)
	high.end(d)
	// The two ends never cross: the one that was moved further gives way.
	if d.Ideal.Low > d.Ideal.High {
		mid := (d.Ideal.Low + d.Ideal.High) / 2
		d.Ideal = Bounds{mid, mid}
	}
	d.Limit.Low, d.Limit.High = math.Min(d.Limit.Low, d.Ideal.Low), math.Max(d.Limit.High, d.Ideal.High)
	if d.Ideal == m.IdealWas && d.Limit == m.LimitWas {
		return
	}
	for id := range quotes {
		m.By = append(m.By, id)
	}
	slices.Sort(m.By)
	var why []string
	for _, id := range m.By {
		why = append(why, quotes[id])
	}
	m.Say = strings.Join(why, ", ")
	if d.graded {
		d.Words = [2]string{d.scale.Word(d.Ideal.Low), d.scale.Word(d.Ideal.High)}
	}
	d.Moved = m
}

// SayMoved tells what was moved, by what, and how to take it back.
func (d *Demand) SayMoved() string {
	m := d.Moved
	say := func(b Bounds) string {
		if d.graded {
			if lo, hi := d.scale.Word(b.Low), d.scale.Word(b.High); lo != hi {
				return lo + " to " + hi
			}
			return d.scale.Word(b.Low)
		}
		return fibres.Round(b.Low) + " to " + fibres.Round(b.High) + " " + d.Unit
	}
	var ids []string
	for _, id := range m.By {
		ids = append(ids, fmt.Sprintf("`tenter wear remove %d`", id))
	}
	out := fmt.Sprintf("What the piece asks of %s is your own, moved by %s: ideal %s (was %s)", d.ID, m.Say, say(d.Ideal), say(m.IdealWas))
	if d.Limit != d.Ideal || m.LimitWas != m.IdealWas {
		out += fmt.Sprintf(", limit %s (was %s)", say(d.Limit), say(m.LimitWas))
	}
	return out + ". " + strings.Join(ids, " or ") + " takes it back."
}

// edge is one end of what a demand asks, as it is learned: its middle between
// ideal and limit, in ln or in levels.
type edge struct {
	upper        bool // the upper end, not the lower
	graded       bool
	there        bool // the piece has such an end
	middle, half float64
	weight, sum  float64 // of the prior and the verdicts
	told         bool    // a verdict has been taken in
}

// of is this end of what a demand asks.
func (e *edge) of(d *Demand) (ideal, limit *float64) {
	if e.upper {
		return &d.Ideal.High, &d.Limit.High
	}
	return &d.Ideal.Low, &d.Limit.Low
}

// out is a way that leads out of this end: up from the upper, down from the lower.
func (e *edge) out(way float64) float64 {
	if e.upper {
		return way
	}
	return -way
}

func (e *edge) begin(d *Demand) {
	i, l := e.of(d)
	ideal, limit := *i, *l
	e.graded = d.graded
	if d.graded {
		e.there, e.middle, e.half = true, ideal+e.out(0.5), levelDoubt
	} else if ideal > 0 && limit > 0 {
		e.there = true
		e.middle = (math.Log(ideal) + math.Log(limit)) / 2
		e.half = math.Max(2*leastRamp, math.Abs(math.Log(limit/ideal)))
	} else if limit < ideal { // from zero up to the ideal
		e.there, e.middle, e.half = true, math.Log(ideal/2), math.Ln2
	}
	e.prior()
}

func (e *edge) prior() {
	if e.there {
		e.weight = 1 / (e.half * e.half)
		e.sum = e.middle * e.weight
	}
}

// at is the middle of a worn figure and its doubt.
func (e *edge) at(v Figures) (x, sd float64, ok bool) {
	const z90 = 1.2815515655446004
	if e.graded {
		return v.Typical, math.Hypot((v.High-v.Low)/(2*z90), wornDoubt), true
	}
	if !(v.Typical > 0) {
		return 0, 0, false
	}
	low, high := math.Max(v.Low, v.Typical/10), math.Max(v.High, v.Typical)
	return math.Log(v.Typical), math.Hypot(math.Log(high/low)/(2*z90), wornDoubt), true
}

func (e *edge) margin() float64 {
	if e.graded {
		return 0.5
	}
	return wornMargin
}

// against takes in that what was worn lay beyond this end.
func (e *edge) against(v Figures) bool {
	x, sd, ok := e.at(v)
	if !ok || (e.there && e.out(x-e.middle) > 0) { // the limits allowed for it
		return false
	}
	if !e.there {
		e.there, e.middle, e.half = true, x+e.out(2*freshRamp), freshRamp
		e.prior()
	}
	e.learn(x-e.out(e.margin()), sd)
	return true
}

// within takes in that what was worn was right.
func (e *edge) within(v Figures) bool {
	x, sd, ok := e.at(v)
	if !ok || !e.there || e.out(x-e.middle) <= 0 {
		return false
	}
	e.learn(x+e.out(e.margin()), sd)
	return true
}

func (e *edge) learn(x, sd float64) {
	w := 1 / (sd * sd)
	e.told = true
	e.weight += w
	e.sum += w * x
}

// end writes what was learned into the demand.
func (e *edge) end(d *Demand) {
	if !e.told {
		return
	}
	shift := e.sum/e.weight - e.middle
	ideal, limit := e.of(d)
	switch {
	case e.graded: // levels are whole
		step := math.Round(shift)
		top := float64(len(d.scale) - 1)
		*ideal = math.Max(0, math.Min(top, *ideal+step))
		*limit = math.Max(0, math.Min(top, *limit+step))
	case *ideal > 0 && *limit > 0:
		*ideal *= math.Exp(shift)
		*limit *= math.Exp(shift)
	default:
		m, ramp := e.middle+shift, e.out(leastRamp)
		*ideal, *limit = math.Exp(m-ramp), math.Exp(m+ramp)
	}
}
