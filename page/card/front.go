package card

import (
	"fmt"
	"html/template"
	"slices"
	"strconv"
	"strings"

	"tenter/advise"
	"tenter/advise/cut"
	"tenter/fibres"
	"tenter/fibres/units"
)

// Front is the page of a job card that lies on the table: large figures, what to
// buy and cut, one plan, the work in ticks of a line, and the cautions that matter
// most. The rest of the card is for the screen, and for a second sheet.
type Front struct {
	Settings []Line // heat, needle, stitch, thread: large
	Cut      []FrontCut
	CutSay   string
	Pull     string // how far the layers part unwashed
	Plans    []Figure
	PlanMore string // where the other plans are
	Ticks    []Tick
	Mind     []string
	Foot     []string // what holds at every table
}

// FrontCut is a part as it is cut, and from which layers.
type FrontCut struct{ Part, Size, From string }

// Tick is one step of the work in a line.
type Tick struct {
	N   int
	Say string
}

// How much goes on the front of a card.
const (
	maxMind    = 3   // cautions, and those of a person hurt beyond them
	maxPersons = 5   // cautions in all
	maxTicks   = 24  // steps; more go to the second sheet
	tickRoom   = 104 // letters in a line
	planWide   = 690 // what plans side by side may take, in units of the drawing
)

// front gathers the front of a job card from what the card holds.
func (w *writer) front() {
	c := w.card
	c.Front.CutSay = c.CutSay
	if g := w.plan.Gap; g != nil && g.MM.Typical > g.Limit {
		c.Front.Pull = fmt.Sprintf("Unwashed they part %s over %s. Over %s shows.", fibres.Quantity(g.MM.Typical, "mm", c.Units), fibres.Quantity(g.EdgeCM, "cm", c.Units), fibres.Quantity(g.Limit, "mm", c.Units))
	}
	w.settings()
	w.frontCuts()
	w.frontPlans()
	for i, s := range c.Order {
		if i == maxTicks {
			break
		}
		c.Front.Ticks = append(c.Front.Ticks, Tick{s.N, oneLine(s.Say)})
	}
	w.mind()
	c.Front.Foot = []string{"Stand the iron on its heel. Keep hands and children from steam. Unplug it.", "Cut away from yourself. Close the cutter each time you lay it down.", "Keep pins out of your mouth. Count them back."}
}

// settings are heat, needle, stitch and thread.
func (w *writer) settings() {
	c, ans := w.card, w.ans
	add := func(what, say string) { c.Front.Settings = append(c.Front.Settings, Line{what, say}) }
	if p := ans.Pressing; p != nil && p.Limit.Known() && p.Limit.High > 0 {
		heat := fibres.Quantity(p.Limit.Typical, "C", c.Units)
		if p.Dots > 0 {
			heat += " " + strings.Repeat("•", p.Dots)
		}
		add("iron, at most", heat)
	}
	if n := ans.Needle; n != nil {
		add("needle", span(n.LowNM, n.HighNM))
		add("US size", span(cut.NeedleUS(n.LowNM), cut.NeedleUS(n.HighNM)))
		stitch := span(n.StitchMM[0], n.StitchMM[1]) + " mm"
		if c.Units == units.Imperial {
			stitch = span(units.StitchesPerInch(units.Length(n.StitchMM[1])*units.Millimetre), units.StitchesPerInch(units.Length(n.StitchMM[0])*units.Millimetre)) + " to 1 in"
		}
		add("stitch", stitch)
	}
	if t := w.plan.Thread; t != nil {
		metres := t.Total.Typical
		say := fibres.Round(metres) + " m"
		if c.Units == units.Imperial {
			say = fibres.Round(metres/0.9144) + " yd"
		}
		add("thread", say)
	}
}

// span writes a range of whole figures or halves, or one where its ends are the same.
func span(low, high float64) string {
	one := func(v float64) string { return strconv.FormatFloat(float64(int(v*10+0.5))/10, 'f', -1, 64) }
	if one(low) == one(high) {
		return one(low)
	}
	return one(low) + "–" + one(high)
}

// frontCuts are the cut sizes, one row for layers that are cut alike.
func (w *writer) frontCuts() {
	c := w.card
	for _, t := range c.Cut {
		for _, r := range t.Rows {
			size := r.Washed
			i := slices.IndexFunc(c.Front.Cut, func(x FrontCut) bool { return x.Part == r.Part+" × "+r.Count && x.Size == size })
			if i >= 0 {
				c.Front.Cut[i].From += " and " + t.Layer
				continue
			}
			c.Front.Cut = append(c.Front.Cut, FrontCut{r.Part + " × " + r.Count, size, t.Layer})
		}
	}
}

// frontPlans takes the plans that stand side by side at their full size, so that
// their words can be read.
func (w *writer) frontPlans() {
	c, room := w.card, planWide
	for i, p := range c.Layouts {
		wide := width(p.SVG)
		if i > 0 && wide > room {
			c.Front.PlanMore = "The other plans are on the second sheet."
			break
		}
		room -= wide
		// The drawing letters very small parts in 9 units, 6.75 points.
		p.SVG = template.HTML(strings.ReplaceAll(strings.ReplaceAll(string(p.SVG), `font-size="9"`, `font-size="10.7"`), `"layout-`, `"front-layout-`))
		p.SVG = template.HTML(strings.NewReplacer("#layout-", "#front-layout-", " layout-", " front-layout-").Replace(string(p.SVG)))
		c.Front.Plans = append(c.Front.Plans, p)
	}
}

// width is how wide a drawing is, in its units.
func width(svg template.HTML) int {
	_, rest, _ := strings.Cut(string(svg), `width="`)
	n, _, _ := strings.Cut(rest, `"`)
	v, _ := strconv.ParseFloat(n, 64)
	return int(v)
}

// oneLine is the first sentence of a step, as much of it as goes in a line.
func oneLine(s string) string {
	if i := strings.Index(s, ". "); i > 0 {
		s = s[:i+1]
	}
	if len([]rune(s)) <= tickRoom {
		return s
	}
	for _, part := range []string{"; ", ": "} { // leave out what comes after
		if i := strings.Index(s, part); i > 20 && len([]rune(s[:i])) < tickRoom {
			return s[:i] + "."
		}
	}
	return s // it takes two lines, rather than lose a word
}

// mind chooses the cautions of this make-up: the gravest harm first, among equals
// what is surest and then what the fewest make-ups hear of, each matter once. Those
// of a person hurt are never left out for want of room.
func (w *writer) mind() {
	c := w.card
	var list []advise.Reason
	for _, r := range w.ans.Judged.Reasons {
		if (r.Effect == "caution" || r.Effect == "against" && r.Firm) && len(r.Open) == 0 && r.Share >= 0.5 && !general(r) {
			list = append(list, r)
		}
	}
	slices.SortStableFunc(list, func(x, y advise.Reason) int {
		switch {
		case x.Harm != y.Harm:
			return y.Harm - x.Harm
		case x.Share != y.Share:
			return int(1000 * (y.Share - x.Share))
		}
		return 0
	})
	said := map[string]bool{}
	for _, r := range list {
		if len(c.Front.Mind) >= maxPersons || len(c.Front.Mind) >= maxMind && r.Harm < 5 {
			break
		}
		if r.Matter != "" && said[r.Matter] || slices.Contains(c.Front.Mind, r.Say) {
			continue
		}
		said[r.Matter] = true
		c.Front.Mind = append(c.Front.Mind, r.Say)
	}
}

// general reports whether a caution holds at every table, so that the foot of the
// card says it.
func general(r advise.Reason) bool {
	for _, id := range []string{"hot-iron-and-steam-burn", "pins-kept-from-lips-and-floor", "rotary-cutter-guarded"} {
		if r.Rule == id {
			return true
		}
	}
	return false
}
