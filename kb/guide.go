package kb

import (
	"fmt"
	"slices"
	"strings"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/prose"
	"tenter/kb/record"
)

// Guide leads through one measurement step by step. It holds only what was typed,
// so that it can be kept and taken up again: see [Guide.Kept].
type Guide struct {
	Kind    string     `json:"kind"`
	At      int        `json:"at"`      // the step that is asked now
	Answers [][]string `json:"answers"` // of each step
}

// guideStep is one question of a guide. A step that is not many takes one answer.
type guideStep struct {
	ask     string
	empty   string // what an empty answer stands for; "" goes on without one
	many    bool
	must    bool // an empty answer is refused while there is none
	example string
}

// guideSteps are the questions of each kind.
func guideSteps(kind string) []guideStep {
	strip := func(ask, example string) []guideStep {
		var out []guideStep
		for _, d := range []string{"warp", "weft"} {
			for _, f := range []string{"right side up", "wrong side up"} {
				out = append(out, guideStep{ask: fmt.Sprintf("%s of a %s strip, %s", ask, d, f), many: true, example: example})
			}
		}
		return out
	}
	switch kind {
	case "mass":
		return []guideStep{{ask: "Size of the piece you weigh", empty: "10x10cm", example: "10x10cm"}, {ask: "What one piece weighs, in grams", many: true, must: true, example: "1.52"}}
	case "thickness":
		return []guideStep{{ask: "Layers in the pile", empty: "10", example: "10"}, {ask: "Height of the pile, in millimetres", many: true, must: true, example: "4.5"}}
	case "droop":
		return strip("Overhang", "3.4cm, or 1 3/8in")
	case "loop":
		return append([]guideStep{{ask: "Strip between the jaws of the clamp, in centimetres", empty: "10", example: "10"}}, strip("Height of the loop", "3.4cm")...)
	case "wash":
		return []guideStep{{ask: "How you washed and dried it", empty: "as the piece will be", example: "machine 40 C, line dried"}, {ask: "Which wash this was", empty: "1", example: "1"},
			{ask: "Between the marks along the warp: before, then after", many: true, example: "25 to 24.2"}, {ask: "Between the marks along the weft: before, then after", many: true, example: "25 to 24.6"}}
	case "stretch":
		return []guideStep{{ask: "10 cm across the grain, pulled gently, came to", many: true, must: true, example: "11.2"}}
	case "fray":
		return []guideStep{{ask: "Threads that ten rubs loosened, first one direction, then the other", many: true, must: true, example: "3"}}
	case "press":
		return []guideStep{{ask: "Hottest that left no mark", must: true, example: "2 dots, or 150 C"}, {ask: "Coolest that left a mark, if you went so far", example: "3 dots"}}
	case "width":
		return []guideStep{{ask: "From selvedge to selvedge, in centimetres", many: true, must: true, example: "140"}}
	case "drape":
		return []guideStep{{ask: "Tin and circle of cloth, across, in centimetres", empty: "18:30", example: "18:30"}, {ask: "The shadow's paper and the whole circle's, weighed in grams", many: true, must: true, example: "4.1:5.6"},
			{ask: "Folds round the hem", many: true, example: "6"}}
	case "bleed":
		return []guideStep{{ask: "None, low, medium or high", must: true, example: "low"}}
	}
	if p, ok := gradedBy(kind); ok {
		words := fibres.Properties[p].Scale
		ask := prose.Or(words)
		return []guideStep{{ask: prose.Upper(ask), must: true, example: words[len(words)/2]}}
	}
	return nil
}

// NewGuide begins a guide for a kind of measurement.
func NewGuide(kind string) (*Guide, error) {
	if guideSteps(kind) == nil {
		return nil, &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q is nothing that is measured", short(kind)), Expected: "one of " + strings.Join(record.Kinds, ", "), Mend: fault.DidYouMean(kind, record.Kinds, "")}
	}
	return &Guide{Kind: kind}, nil
}

// Sound reports whether a kept guide can be taken up again.
func (g *Guide) Sound() bool {
	return g.At >= 0 && g.At <= len(guideSteps(g.Kind)) && len(g.Answers) <= len(guideSteps(g.Kind))
}

// Done reports whether every step was passed.
func (g *Guide) Done() bool { return g.At >= len(guideSteps(g.Kind)) }

// Count is how many readings were typed.
func (g *Guide) Count() int {
	n := 0
	for _, a := range g.Answers {
		n += len(a)
	}
	return n
}

// Prompt is what is asked now.
func (g *Guide) Prompt() string {
	if g.Done() {
		return ""
	}
	s := guideSteps(g.Kind)[g.At]
	say := s.ask
	switch n := len(g.answers(g.At)); {
	case s.many && n > 0:
		say += fmt.Sprintf(" (reading %d; Enter goes on)", n+1)
	case s.empty != "":
		say += " (Enter: " + s.empty + ")"
	case s.must:
		say += " (such as " + s.example + ")"
	default:
		say += " (such as " + s.example + "; Enter goes on)"
	}
	return say
}

func (g *Guide) answers(i int) []string {
	if i < len(g.Answers) {
		return g.Answers[i]
	}
	return nil
}

// Put takes a line: a reading; nothing, which goes on to the next step; "back",
// which takes the last reading away. A reading that cannot be is refused and leaves
// the guide as it was.
func (g *Guide) Put(line string) error {
	if g.Done() {
		return nil
	}
	s := guideSteps(g.Kind)[g.At]
	t := strings.Join(strings.Fields(line), " ")
	switch strings.ToLower(t) {
	case "back", "b":
		g.back()
		return nil
	case "", "next":
		if t == "" && s.empty != "" && len(g.answers(g.At)) == 0 {
			return g.take(s.empty)
		}
		if s.must && len(g.answers(g.At)) == 0 {
			return &fault.Fault{Kind: fault.WrongCall, What: "nothing was typed", Expected: "such as " + s.example, Mend: "quit leaves it for later"}
		}
		g.At++
		return nil
	}
	return g.take(t)
}

func (g *Guide) take(t string) error {
	was, at := g.clone(), g.At
	for len(g.Answers) <= g.At {
		g.Answers = append(g.Answers, nil)
	}
	g.Answers[g.At] = append(g.Answers[g.At], t)
	s := guideSteps(g.Kind)[g.At]
	if !s.many {
		g.At++
	}
	if _, err := g.read(true); err != nil {
		g.Answers, g.At = was, at
		return err
	}
	return nil
}

func (g *Guide) clone() [][]string {
	out := make([][]string, len(g.Answers))
	for i := range out {
		out[i] = append([]string(nil), g.Answers[i]...)
	}
	return out
}

// back takes the last reading away, and goes back to its step.
func (g *Guide) back() {
	for i := min(g.At, len(g.Answers)-1); i >= 0; i-- {
		if n := len(g.Answers[i]); n > 0 {
			g.Answers[i] = g.Answers[i][:n-1]
			g.At = i
			return
		}
	}
	g.At = 0
}

// Readings are what was typed as a measurement holds it.
func (g *Guide) Readings() ([]record.Reading, error) { return g.read(false) }

// read turns the answers into readings. A try does not mind that there are none
// yet.
func (g *Guide) read(try bool) ([]record.Reading, error) {
	words, o, err := g.typed()
	if err != nil || len(words) == 0 && try {
		return nil, err
	}
	return ParseReadings(g.Kind, words, o)
}

// first is the first answer to a question, "" where there is none.
func (g *Guide) first(i int) string {
	if a := g.answers(i); len(a) > 0 {
		return a[0]
	}
	return ""
}

// number is the whole number that a question was answered with, 0 where it was not.
func (g *Guide) number(i, high int) (int, error) {
	t := g.first(i)
	if t == "" {
		return 0, nil
	}
	return wholeNumber(t, 1, high)
}

// directed writes answers from one question on as words with their directions.
func (g *Guide) directed(from int, before ...string) (words []string) {
	for i, d := range before {
		if a := g.answers(from + i); len(a) > 0 {
			words = append(append(words, strings.Fields(d)...), a...)
		}
	}
	return words
}

// typed are the answers as a user would type them behind the kind of a test.
func (g *Guide) typed() (words []string, o ReadingOptions, err error) {
	switch g.Kind {
	case "mass":
		o.Square = g.first(0)
		_, _, err = area(o.Square)
		words = g.answers(1)
	case "thickness":
		o.Layers, err = g.number(0, 1000)
		words = g.answers(1)
	case "droop":
		words = g.directed(0, "warp right", "warp wrong", "weft right", "weft wrong")
	case "loop":
		strip := g.first(0) + ":"
		for _, w := range g.directed(1, "warp right", "warp wrong", "weft right", "weft wrong") {
			if !slices.Contains([]string{"warp", "weft", "right", "wrong"}, w) {
				w = strip + w
			}
			words = append(words, w)
		}
	case "wash":
		o.Method = g.first(0)
		o.Cycle, err = g.number(1, 100)
		words = g.directed(2, "warp", "weft")
	case "stretch":
		for _, w := range g.answers(0) {
			if _, _, two := pair(w); !two && !strings.Contains(w, "%") {
				w = "10cm:" + w
			}
			words = append(words, w)
		}
	case "drape":
		o.Disc, o.Circle, _ = pair(g.first(0))
		_, _, err = o.rounds()
		words = slices.Clone(g.answers(1))
		for _, n := range g.answers(2) {
			words = append(words, "folds", n)
		}
	case "press":
		words = g.directed(0, "")
		words = words[:min(1, len(words))]
		o.Marked = g.first(1)
	default:
		words = g.answers(0)
	}
	return words, o, err
}

func wholeNumber(t string, low, high int) (int, error) {
	n := 0
	for _, c := range t {
		if c < '0' || c > '9' || n > high {
			n = -1
			break
		}
		n = 10*n + int(c-'0')
	}
	if n < low || n > high {
		return 0, &fault.Fault{Kind: fault.WrongCall, Where: short(t), What: "this is not one of the numbers", Expected: fmt.Sprintf("%d to %d", low, high)}
	}
	return n, nil
}
