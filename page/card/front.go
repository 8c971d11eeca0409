package card

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"tenter/advise"
	"tenter/advise/cut"
	"tenter/fibres"
	"tenter/fibres/units"
)

// Front is the page of a job card that lies on the table: large figures, what to
// buy and cut, the plans, the work in ticks, and the cautions that matter most. The
// rest of the card is for the screen, and for a second sheet.
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

// FrontCut is a part as it is cut, and from which layers. N is its number on the
// plans; 0 is what no plan shows.
type FrontCut struct {
	N                int
	Part, Size, From string
}

// Tick is one step of the work.
type Tick struct {
	N   int
	Say string
}

// How much goes on the front of a card.
const (
	maxMind    = 3  // cautions, and those of a person hurt beyond them
	maxPersons = 5  // cautions in all
	maxTicks   = 24 // steps; more go to the second sheet
)

// front gathers the front of a job card from what the card holds.
func (w *writer) front() error {
	c := w.card
	if g := w.plan.Gap; g != nil && g.MM.Typical > g.Limit {
		c.Front.Pull = fmt.Sprintf("Unwashed they part %s over %s. Over %s shows.", fibres.Quantity(g.MM.Typical, "mm", c.Units), fibres.Quantity(g.EdgeCM, "cm", c.Units), fibres.Quantity(g.Limit, "mm", c.Units))
	}
	w.settings()
	w.frontCuts()
	w.mind()
	c.Front.Foot = []string{"Stand the iron on its heel. Keep hands and children from steam. Unplug it.", "Cut away from yourself. Close the cutter each time you lay it down.", "Keep pins out of your mouth. Count them back."}
	for i, s := range c.Order {
		if i == maxTicks {
			break
		}
		c.Front.Ticks = append(c.Front.Ticks, Tick{s.N, units.Prose(s.Say, c.Units)})
	}
	return w.fit()
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
		add("needle", fibres.Round(n.FirstNM))
		add("US size", fibres.Round(cut.NeedleUS(n.FirstNM)))
		stitch := span(n.StitchMM[0], n.StitchMM[1]) + " mm"
		if c.Units == units.Imperial {
			perInch := func(mm float64) float64 {
				return math.Round(units.StitchesPerInch(units.Length(mm) * units.Millimetre))
			}
			stitch = span(perInch(n.StitchMM[1]), perInch(n.StitchMM[0])) + " to 1 in"
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
	tenths := func(v float64) string { return strconv.FormatFloat(float64(int(v*10+0.5))/10, 'f', -1, 64) }
	if tenths(low) == tenths(high) {
		return tenths(low)
	}
	return tenths(low) + "–" + tenths(high)
}

// frontCuts are the cut sizes, one row for layers that are cut alike, and the strip
// of a binding.
func (w *writer) frontCuts() {
	c := w.card
	number := map[string]int{}
	for _, t := range c.Cut {
		for _, r := range t.Rows {
			part, size := r.Part+" × "+r.Count, r.Washed
			i := slices.IndexFunc(c.Front.Cut, func(x FrontCut) bool { return x.Part == part && x.Size == size })
			if i >= 0 {
				c.Front.Cut[i].From += ", " + t.Layer
				continue
			}
			if number[r.name] == 0 {
				number[r.name] = len(number) + 1
			}
			c.Front.Cut = append(c.Front.Cut, FrontCut{number[r.name], part, size, t.Layer})
		}
	}
	if b := w.plan.Binding; b != nil {
		square := units.Length(b.Square).Tape(c.Units)
		c.Front.Cut = append(c.Front.Cut, FrontCut{0, "binding, on the bias", units.TapeBy(units.Length(b.Width/10), units.Length(b.Length), c.Units), fmt.Sprintf("%s square, %d strips", square, b.Strips)})
	}
}

// numbered are the parts in the order of their numbers.
func (f Front) numbered() (out []string) {
	for _, t := range f.Cut {
		if t.N > len(out) {
			name, _, _ := strings.Cut(t.Part, " × ")
			out = append(out, strings.TrimSuffix(name, onBias))
		}
	}
	return out
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
	printed := map[string]bool{}
	for _, r := range list {
		if len(c.Front.Mind) >= maxPersons || len(c.Front.Mind) >= maxMind && r.Harm < 5 {
			break
		}
		if r.Matter != "" && printed[r.Matter] || slices.Contains(c.Front.Mind, r.Say) {
			continue
		}
		printed[r.Matter] = true
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
