package card

import (
	"fmt"
	"html/template"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"

	"tenter/draw"
)

// The heights of a printed front in mm, found by printing cards in a wide sans serif,
// with a little air: the page is what the margins leave of the paper, less 8 mm.
var (
	pageHigh = map[string]float64{A4: 266, Letter: 257}
	lineRoom = map[string]float64{A4: 106, Letter: 118} // letters in a line of a step
)

const (
	headHigh  = 32.0 // title, make-up, verdict, settings
	lineHigh  = 4.3  // a line of text
	rowHigh   = 4.9  // a row of a table, of one line
	smallHigh = 3.6
	wordHigh  = 7.5 // the word above a section, with its air
	footHigh  = 8.0
	mmOfUnit  = 25.4 / 96

	halfRoom = 54  // small letters in half a line
	planWide = 726 // what plans side by side may take with a gap behind each, in units of the drawing
)

// planHighs are how high the cloths of the plans are drawn, the first that lets all
// go on one page.
var planHighs = []float64{300, 250, 200, 150, 110}

// fit draws the plans and shortens steps until the front goes on one page: all plans
// where there is room for them, as large as may be; then the longest steps give up what
// comes after their first sentence, but not the washing, nor a word that somebody may be
// hurt. The screen keeps the whole.
func (w *writer) fit() error {
	f := &w.card.Front
	for i, t := range f.Ticks { // the washing goes on one line
		if float64(letters(t.Say)) > lineRoom[w.card.Paper]*0.92 {
			f.Ticks[i].Say = strings.Replace(t.Say, ", as you will the piece", "", 1)
		}
	}
	for limit := len(w.laid); limit > 0; limit-- { // fewer plans, before a word is left out
		for _, high := range planHighs {
			if err := w.frontPlans(high, limit); err != nil {
				return err
			}
			if w.over() <= 0 && (len(f.Plans) == limit || limit == 1) {
				return nil
			}
		}
	}
	var order []int
	for i, t := range f.Ticks {
		first := firstSentence(t.Say)
		if w.card.Order[i].ID != "pre-wash" && t.Say != first && !warns().MatchString(t.Say[len(first):]) {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(x, y int) int { return letters(f.Ticks[y].Say) - letters(f.Ticks[x].Say) })
	for _, i := range order {
		if w.over() <= 0 {
			break
		}
		f.Ticks[i].Say = firstSentence(f.Ticks[i].Say)
	}
	return nil
}

// warns finds what is said of hands and harm.
var warns = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(?i)finger|hand|burn|blade|needle|steam|hurt|pin\b`) })

// over is by how many mm the front is too tall for its paper.
func (w *writer) over() float64 {
	c := w.card
	f := c.Front
	lines := func(s string, room float64) float64 { return math.Ceil(float64(letters(s)) / room) }
	rows := func(cells [][2]string, room float64) (mm float64) { // tables stand side by side, in half the width
		for _, r := range cells {
			mm += rowHigh + lineHigh*(max(1, lines(r[0], room), lines(r[1], room))-1)
		}
		return mm
	}
	var buy, cut [][2]string
	for _, b := range c.Buy {
		buy = append(buy, [2]string{b.Layer + ": " + b.Cloth + " " + b.Cost})
	}
	for _, t := range f.Cut {
		cut = append(cut, [2]string{t.Part, t.From})
	}
	sum := headHigh + footHigh + wordHigh + wordHigh + rowHigh + math.Max(rows(buy, 24)+smallHigh, rows(cut, 22)+smallHigh*lines(f.CutSay+f.Pull, halfRoom))
	made := ""
	for _, l := range c.MakeUp[1:] {
		made += l.What + "; " + l.Say
	}
	room := 0.9 * lineRoom[c.Paper]
	if c.Worn != nil { // the picture takes a tenth of the width
		room *= 0.9
	}
	sum += lineHigh * (lines(made, room) + lines(c.Verdict+c.Headline, room) - 2)
	plans, wide := 0.0, 0.0
	for _, p := range f.Plans {
		plans = math.Max(plans, size(p.SVG, "height")*mmOfUnit+smallHigh*lines(p.Caption, 45))
		wide += p.wide()
	}
	mind := 0.0
	if len(f.Mind) > 0 {
		room := lineRoom[c.Paper] * 0.9
		if beside := planWide - wide; beside > 230 {
			room = beside / 7.5
		}
		mind = wordHigh
		for _, m := range f.Mind {
			mind += lineHigh * lines(m, room)
		}
		if planWide-wide > 230 { // it stands beside the plan
			plans, mind = math.Max(plans, mind), 0
		}
	}
	sum += wordHigh + plans + mind
	if f.PlanMore != "" {
		sum += smallHigh
	}
	tick, room := 4.45, lineRoom[c.Paper]*0.92
	if c.Dense() {
		tick, room = 4.05, lineRoom[c.Paper]
	}
	for _, t := range f.Ticks {
		sum += tick + smallHigh*(lines(t.Say, room)-1)
	}
	return sum - pageHigh[c.Paper]
}

// Dense reports whether there are so many steps that they are printed smaller.
func (c *Card) Dense() bool { return len(c.Front.Ticks) > 15 }

// frontPlans draws the plans that go side by side, so high and so many at most.
func (w *writer) frontPlans(high float64, limit int) error {
	c, room := w.card, float64(planWide)
	c.Front.Plans, c.Front.PlanMore = nil, ""
	for i, v := range w.laid {
		v.High, v.Numbered, v.Unlisted = high, c.Front.numbered(), true
		p, err := draw.Layout(draw.Options{Prefix: fmt.Sprintf("front-layout-%d", i), Units: c.Units}, v)
		if err != nil {
			return err
		}
		plan := Figure{template.HTML(p.String()), c.Layouts[i].Caption, p.Text}
		if room -= plan.wide(); i > 0 && (room < 0 || i >= limit) {
			c.Front.PlanMore = "Other plans: on the screen."
			if c.Reasoned {
				c.Front.PlanMore = "The other plans are on the second sheet."
			}
			return nil
		}
		c.Front.Plans = append(c.Front.Plans, plan)
	}
	return nil
}

// wide is how much of a line a plan takes, in units of the drawing: its drawing or its
// caption, and the gap to the next.
func (f Figure) wide() float64 {
	const ofLetter, gap = 5.3, 24
	return math.Max(size(f.SVG, "width"), ofLetter*float64(letters(f.Caption))) + gap
}

// size is the width or height of a drawing, in its units.
func size(svg template.HTML, side string) float64 {
	_, rest, _ := strings.Cut(string(svg), " "+side+`="`)
	n, _, _ := strings.Cut(rest, `"`)
	v, _ := strconv.ParseFloat(n, 64)
	return v
}

// firstSentence is what of a step says what to do.
func firstSentence(s string) string {
	if i := strings.Index(s, ". "); i > 0 {
		return s[:i+1]
	}
	return s
}

func letters(s string) int { return utf8.RuneCountInString(s) }
