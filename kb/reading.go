package kb

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/hang"
	"tenter/fibres/shrink"
	"tenter/fibres/units"
	"tenter/fibres/yarn"
	"tenter/kb/record"
)

// ReadingOptions say what holds for all readings of one measurement.
type ReadingOptions struct {
	Square string // size of what was weighed: "10x10cm"; "" is that
	Layers int    // of the pile; 0 is ten
	Method string // how it was washed
	Cycle  int    // which wash; 0 is the first
	Rubs   int    // 0 is ten
	Marked string // heat that left a mark
	Disc   string // what the circle of cloth lay on, across; "" is 18 cm
	Circle string // the circle of cloth, across; "" is 30 cm
}

// The words of a measurement, as they are kept.
var (
	directions = map[string]string{"warp": "warp", "lengthwise": "warp", "weft": "weft", "crosswise": "weft", "filling": "weft", "bias": "bias"}
	faces      = map[string]string{"right": "right", "face": "right", "wrong": "wrong", "back": "wrong"}
	loops      = map[string]string{"heart": "heart", "ring": "ring"}
)

// ParseReadings reads the readings of one kind as a maker writes them: each word
// is one reading, and words such as warp, weft, right, wrong, heart say what the
// following ones are of. A pair ("25cm:24cm") is before and after. A bare number
// is taken in the unit that the test is read in. The error holds every slip.
func ParseReadings(kind string, words []string, o ReadingOptions) ([]record.Reading, error) {
	p := &readingParser{kind: kind, o: o}
	read := map[string]func(string) (record.Reading, error){
		"mass": p.mass, "thickness": p.thickness, "droop": p.droop, "loop": p.loop, "wash": p.wash, "stretch": p.stretch,
		"fray": p.fray, "press": p.press, "bleed": p.level, "width": p.width, "drape": p.shadow,
	}[kind]
	if graded, ok := gradedBy(kind); ok {
		p.scale, read = fibres.Properties[graded].Scale, p.level
	}
	if read == nil {
		return nil, &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q is nothing that is measured", kind), Expected: "one of " + strings.Join(record.Kinds, ", "), Mend: fault.DidYouMean(kind, record.Kinds, "")}
	}
	var out []record.Reading
	var found fault.List
	for i := 0; i < len(words); i++ {
		w := strings.TrimSpace(words[i])
		k := strings.ToLower(w)
		switch {
		case w == "":
			continue
		case p.directed() && directions[k] != "":
			p.direction, p.face = directions[k], ""
			continue
		case (kind == "droop" || kind == "loop") && faces[k] != "":
			p.face = faces[k]
			continue
		case kind == "loop" && loops[k] != "":
			p.loopKind = loops[k]
			continue
		case kind == "drape" && (k == "folds" || k == "fold"):
			p.folds = true
			continue
		case kind == "press" && i+1 < len(words) && (strings.EqualFold(words[i+1], "dots") || strings.EqualFold(words[i+1], "dot")):
			w += " dots"
			i++
		}
		r, err := read(w)
		if err != nil {
			found.Add(err)
			continue
		}
		out = append(out, r)
	}
	if len(out) == 0 && len(found) == 0 {
		t, _ := fibres.TestOfKind(kind)
		found = append(found, &fault.Fault{Kind: fault.WrongCall, What: "there are no readings", Expected: "what was read in the test, one or more", Mend: "as in `tenter swatch measure NAME " + t.Enter + "`"})
	}
	return out, found.OrNil()
}

type readingParser struct {
	kind                      string
	o                         ReadingOptions
	direction, face, loopKind string
	scale                     fibres.Scale // of a test that is told by a word
	folds                     bool         // the next word of a drape test counts folds
}

// gradedBy is the property that a kind of measurement tells by a word of its scale.
func gradedBy(kind string) (fibres.Property, bool) {
	t, ok := fibres.TestOfKind(kind)
	if !ok || kind == "fray" || kind == "stretch" || kind == "wash" { // counted and measured
		return 0, false
	}
	for _, p := range t.Settles() {
		if fibres.Properties[p].Scale != nil && fibres.Properties[p].ID == kind {
			return p, true
		}
	}
	return 0, false
}

func (p *readingParser) directed() bool {
	return p.kind == "droop" || p.kind == "loop" || p.kind == "wash"
}

// bad is a slip in one reading; the place is the reading itself.
func bad(word, what, expected, mend string) error {
	return &fault.Fault{Kind: fault.WrongCall, Where: short(word), What: what, Expected: expected, Mend: mend}
}

// short is a word as a place: not longer than a line holds.
func short(s string) string {
	s = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return ' '
		}
		return r
	}, s)
	if r := []rune(s); len(r) > 30 {
		return string(r[:30]) + "…"
	}
	return s
}

// atWord puts a reading's own words to a fault of the arithmetic.
func atWord(word string, err error) error {
	var out fault.List
	for _, f := range fault.All(err) {
		g := *f
		if g.Where != "" && !strings.HasPrefix(g.What, g.Where) {
			g.What = g.Where + ": " + g.What
		}
		g.Where = short(word)
		out = append(out, &g)
	}
	return out.OrNil()
}

// step is the last place of a figure as it was written: 0.1 for 4.5, a quarter for
// 3/4, 1 for 12.
func step(text string) float64 {
	if i := strings.LastIndexByte(text, '/'); i >= 0 {
		den := 0
		for _, c := range text[i+1:] {
			if c < '0' || c > '9' {
				break
			}
			den = den*10 + int(c-'0')
		}
		if den > 0 && den < 1000 {
			return 1 / float64(den)
		}
	}
	i := strings.IndexAny(text, ".,")
	n := 0
	if i >= 0 {
		for _, c := range text[i+1:] {
			if c < '0' || c > '9' {
				break
			}
			n++
		}
	}
	return math.Pow(10, -float64(min(n, 6)))
}

// pair parts before and after.
func pair(word string) (a, b string, ok bool) {
	for _, sep := range []string{":", "→", "->", ">", " to "} {
		if a, b, ok = strings.Cut(word, sep); ok {
			return strings.TrimSpace(a), strings.TrimSpace(b), true
		}
	}
	return word, "", false
}

// lengths2 reads two lengths of which one may leave its unit to the other; bare
// ones are centimetres.
func lengths2(a, b string) (units.Length, units.Length, error) {
	unit := func(s string) string {
		return strings.TrimLeft(strings.TrimSpace(s), "0123456789.,/½¼¾⅛⅜⅝⅞ ")
	}
	if ua, ub := unit(a), unit(b); ua == "" && ub != "" {
		a += ub
	} else if ub == "" && ua != "" {
		b += ua
	}
	x, err := units.ParseLengthIn(a, units.Centimetre)
	if err != nil {
		return 0, 0, err
	}
	y, err := units.ParseLengthIn(b, units.Centimetre)
	return x, y, err
}

// grams reads a weight; ok is false where it is none.
func grams(text string) (g, stepG float64, ok bool) {
	t := strings.ToLower(strings.TrimSpace(text))
	for _, u := range []struct {
		word string
		g    float64
	}{{"kg", 1000}, {"mg", 0.001}, {"ounces", 28.349523125}, {"ounce", 28.349523125}, {"oz", 28.349523125}, {"lb", 453.59237}, {"grammes", 1}, {"grams", 1}, {"gram", 1}, {"g", 1}} {
		n, has := strings.CutSuffix(t, u.word)
		if !has {
			continue
		}
		n = strings.TrimSpace(n)
		v, err := units.Parse(n)
		if err != nil || v.Kind != units.Number || !(v.Value > 0) {
			return 0, 0, false
		}
		return v.Value * u.g, step(n) * u.g, true
	}
	if v, err := units.Parse(t); err == nil && v.Kind == units.Number && v.Value > 0 {
		return v.Value, step(t), true
	}
	return 0, 0, false
}

// area reads "10x10cm" in square centimetres, with its shorter side.
func area(text string) (cm2, side float64, err error) {
	if text == "" {
		return 100, 10, nil
	}
	t := strings.NewReplacer("×", "x", " by ", "x", "X", "x").Replace(text)
	a, b, two := strings.Cut(t, "x")
	if !two {
		b = a
	}
	x, y, err := lengths2(a, b)
	if err == nil && !(x > 0 && y > 0 && x <= 1000 && y <= 1000) {
		err = &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("a piece of %s", short(text)), Expected: "sides over 0 and at most 10 m"}
	}
	if err != nil {
		f := *fault.All(err)[0]
		f.Where, f.Mend = "--square", "width by height, such as 10x10cm"
		return 0, 0, &f
	}
	return float64(x * y), float64(min(x, y)), nil
}

func (p *readingParser) mass(w string) (record.Reading, error) {
	if g, st, ok := grams(w); ok && (p.o.Square != "" || !strings.Contains(strings.ToLower(w), "oz")) {
		cm2, side, err := area(p.o.Square)
		if err != nil {
			return nil, err
		}
		m, err := yarn.ArealMassFromSample(g, cm2)
		if err != nil {
			return nil, atWord(w, fmt.Errorf("%w", err))
		}
		return record.Reading{record.ReadingMass: float64(m), "grams": g, "area_cm2": cm2, "side_cm": side, "step_g": st}, nil
	}
	m, err := units.ParseArealMass(w)
	if err == nil {
		err = units.Within("the mass", m, units.ArealMassLimits)
	}
	if err != nil {
		f := *fault.All(err)[0]
		f.Expected = "grams of the piece, such as 1.52g, with the size of the piece, or the mass per area, such as 150gsm"
		return nil, atWord(w, &f)
	}
	return record.Reading{record.ReadingMass: float64(m)}, nil
}

func (p *readingParser) thickness(w string) (record.Reading, error) {
	layers := p.o.Layers
	if layers == 0 {
		layers = 10
	}
	if layers < 1 || layers > 1000 {
		return nil, &fault.Fault{Kind: fault.OutsideRange, Where: "--layers", What: fmt.Sprintf("a pile of %d layers", layers), Expected: "1 to 1000"}
	}
	l, err := units.ParseLengthIn(w, units.Millimetre)
	if err != nil {
		return nil, atWord(w, err)
	}
	pile := float64(l) * 10
	mm := pile / float64(layers)
	info := fibres.Properties[fibres.Thickness]
	if !(mm >= info.Low && mm <= info.High) {
		return nil, &fault.Fault{Kind: fault.OutsideRange, Where: short(w), What: fmt.Sprintf("a layer would be %s mm thick", fibres.Round(mm)), Expected: "0.02 to 40 mm", Mend: fmt.Sprintf("the height of %d layers is asked; --layers says how many there were", layers)}
	}
	mmStep := step(w)
	if !strings.Contains(w, "mm") && strings.Contains(w, "cm") {
		mmStep *= 10
	}
	return record.Reading{"thickness_mm": mm, "pile_mm": pile, "layers": float64(layers), "step_mm": mmStep}, nil
}

func (p *readingParser) strip(r record.Reading) record.Reading {
	if p.direction != "" {
		r["direction"] = p.direction
	}
	if p.face != "" {
		r["face"] = p.face
	}
	return r
}

func (p *readingParser) droop(w string) (record.Reading, error) {
	a, b, two := pair(w)
	if !two {
		l, err := units.ParseLengthIn(a, units.Centimetre)
		if err == nil && float64(l) > 100 {
			err = &fault.Fault{Kind: fault.OutsideRange, What: "an overhang of " + l.String(), Expected: "at most 1 m", Mend: "a bare number is taken as centimetres"}
		}
		if err != nil {
			return nil, atWord(w, err)
		}
		return p.tried(w, p.strip(record.Reading{"overhang_cm": float64(l)}))
	}
	if strings.ContainsAny(b, "°d") {
		l, err := units.ParseLengthIn(a, units.Centimetre)
		if err != nil {
			return nil, atWord(w, err)
		}
		d, err := units.ParseAngle(b)
		if err != nil {
			return nil, atWord(w, err)
		}
		return p.tried(w, p.strip(record.Reading{"overhang_cm": float64(l), "droop_deg": float64(d)}))
	}
	l, d, err := lengths2(a, b)
	if err != nil {
		return nil, atWord(w, err)
	}
	return p.tried(w, p.strip(record.Reading{"overhang_cm": float64(l), "drop_cm": float64(d)}))
}

func (p *readingParser) loop(w string) (record.Reading, error) {
	a, b, two := pair(w)
	if !two {
		return nil, bad(w, "a loop is two figures", "strip and height, such as 10cm:3.4cm", "")
	}
	l, h, err := lengths2(a, b)
	if err != nil {
		return nil, atWord(w, err)
	}
	kind := p.loopKind
	if kind == "" {
		kind = "heart"
	}
	return p.tried(w, p.strip(record.Reading{"loop": kind, "strip_cm": float64(l), "height_cm": float64(h)}))
}

// tried refuses a strip's reading that gives no bending length.
func (p *readingParser) tried(w string, r record.Reading) (record.Reading, error) {
	x, ok := stripReading(r)
	if !ok {
		return nil, bad(w, "this is no reading of a strip", "an overhang, such as 3.4cm", "")
	}
	c, err := x.BendingLength()
	if err != nil {
		return nil, atWord(w, err)
	}
	info := fibres.Properties[fibres.BendingLength]
	if !(float64(c) >= info.Low && float64(c) <= info.High) {
		return nil, &fault.Fault{Kind: fault.OutsideRange, Where: short(w), What: fmt.Sprintf("this would be a bending length of %s cm", fibres.Round(float64(c))), Expected: "0.3 to 12 cm", Mend: "the overhang is asked, twice the bending length; a bare number is centimetres"}
	}
	return r, nil
}

// stripReading is a kept reading as the mechanics take it.
func stripReading(r record.Reading) (hang.Reading, bool) {
	num := func(k string) (units.Length, bool) { v, ok := r[k].(float64); return units.Length(v), ok }
	var out hang.Reading
	switch r["direction"] {
	case "warp":
		out.Direction = hang.Warp
	case "weft":
		out.Direction = hang.Weft
	case "bias":
		out.Direction = hang.Bias
	}
	switch r["face"] {
	case "right":
		out.Face = hang.RightSide
	case "wrong":
		out.Face = hang.WrongSide
	}
	if l, ok := num("strip_cm"); ok {
		h, has := num("height_cm")
		out.Test = hang.HeartLoop
		if r["loop"] == "ring" {
			out.Test = hang.RingLoop
		}
		out.Length, out.Drop = l, h
		return out, has
	}
	l, ok := num("overhang_cm")
	if !ok {
		return out, false
	}
	out.Length = l
	if d, has := num("drop_cm"); has {
		out.Test, out.Drop = hang.RulerDrop, d
	} else if d, has := num("droop_deg"); has {
		out.Test, out.Droop = hang.RulerDroop, units.Angle(d)
	}
	return out, true
}

func (p *readingParser) wash(w string) (record.Reading, error) {
	dir := p.direction
	if dir == "" || dir == "bias" {
		return nil, bad(w, "it is not said along which threads", "warp or weft before the figures", "as in `wash warp 25cm:24cm weft 25cm:24.6cm`")
	}
	r := record.Reading{"direction": dir, "cycle": float64(max(1, p.o.Cycle))}
	if p.o.Method != "" {
		r["method"] = strings.Join(strings.Fields(p.o.Method), " ")
	}
	a, b, two := pair(w)
	if !two {
		grown := strings.HasPrefix(w, "-") || strings.HasPrefix(w, "−")
		f, err := units.ParseFraction(strings.TrimLeft(w, "-−"))
		if err != nil {
			return nil, bad(w, "this is neither before and after nor a percentage", "25cm:24cm, or 4%", "")
		}
		if grown {
			f = -f
		}
		if _, err := shrink.FinishedFromCut(100, f); err != nil {
			return nil, atWord(w, err)
		}
		r["shrink_pct"] = float64(f) * 100
		return r, nil
	}
	before, after, err := lengths2(a, b)
	if err != nil {
		return nil, atWord(w, err)
	}
	s, err := shrink.FromMarks(before, after)
	if err != nil {
		return nil, atWord(w, err)
	}
	r["before_cm"], r["after_cm"], r["shrink_pct"] = float64(before), float64(after), float64(s)*100
	return r, nil
}

func (p *readingParser) stretch(w string) (record.Reading, error) {
	a, b, two := pair(w)
	if !two {
		f, err := units.ParseFraction(w)
		if err != nil {
			return nil, bad(w, "this is neither from and to nor a percentage", "10cm:11cm, or 10%", "")
		}
		return record.Reading{"stretch_pct": float64(f) * 100}, nil
	}
	from, to, err := lengths2(a, b)
	if err != nil {
		return nil, atWord(w, err)
	}
	if !(from > 0 && to >= from && to <= 5*from) {
		return nil, &fault.Fault{Kind: fault.OutsideRange, Where: short(w), What: fmt.Sprintf("from %s to %s is no stretch", from, to), Expected: "the second length from once to five times the first"}
	}
	return record.Reading{"from_cm": float64(from), "to_cm": float64(to), "stretch_pct": (float64(to/from) - 1) * 100}, nil
}

func (p *readingParser) fray(w string) (record.Reading, error) {
	if l, ok := fibres.FrayScale.Level(strings.ToLower(w)); ok {
		return record.Reading{"level": fibres.FrayScale[l]}, nil
	}
	n, err := strconv.Atoi(w)
	rubs := p.o.Rubs
	if rubs == 0 {
		rubs = 10
	}
	if err != nil || n < 0 || n > 500 {
		return nil, bad(w, "this is neither a count of threads nor a grade", "threads that came away, 0 to 500, or none, low, medium, high", "")
	}
	if rubs < 1 || rubs > 1000 {
		return nil, &fault.Fault{Kind: fault.OutsideRange, Where: "--rubs", What: fmt.Sprintf("%d rubs", rubs), Expected: "1 to 1000"}
	}
	return record.Reading{"threads": float64(n), "rubs": float64(rubs)}, nil
}

// gradeScale is the scale of how a dye bleeds, which is no property of a cloth's name.
var gradeScale = fibres.ShowThroughScale

func (p *readingParser) level(w string) (record.Reading, error) {
	scale := p.scale
	if scale == nil {
		scale = gradeScale
	}
	k := strings.ToLower(w)
	if _, ok := scale.Level(k); !ok && slices.Equal(scale, gradeScale) {
		switch k {
		case "opaque", "no":
			k = "none"
		case "sheer", "strong":
			k = "high"
		}
	}
	if _, ok := scale.Level(k); !ok {
		return nil, bad(w, "this is no grade", strings.Join(scale, ", "), fault.DidYouMean(k, scale, ""))
	}
	return record.Reading{"level": k}, nil
}

// width reads what a tape shows from selvedge to selvedge.
func (p *readingParser) width(w string) (record.Reading, error) {
	l, err := units.ParseLengthIn(w, 1)
	if err != nil {
		return nil, atWord(w, err)
	}
	if info := fibres.Properties[fibres.Width]; float64(l) < info.Low || float64(l) > info.High {
		return nil, &fault.Fault{Kind: fault.OutsideRange, Where: short(w), What: "no cloth is so wide", Expected: fmt.Sprintf("%s to %s cm", fibres.Round(info.Low), fibres.Round(info.High))}
	}
	return record.Reading{"width_cm": float64(l)}, nil
}

// dotHeat is the sole plate that each dot of an iron stands for, in °C.
var dotHeat = []float64{0, 110, 150, 200}

// heat reads a sole plate: "150C", "2 dots".
func heat(w string) (c float64, err error) {
	t := strings.ToLower(strings.TrimSpace(w))
	if n, ok := strings.CutSuffix(strings.TrimSuffix(t, "s"), "dot"); ok {
		d, err := strconv.Atoi(strings.TrimSpace(n))
		if err != nil || d < 0 || d > 3 {
			return 0, bad(w, "an iron has no such dots", "0 to 3 dots", "")
		}
		return dotHeat[d], nil
	}
	v, err := units.ParseTemperature(t)
	if err != nil {
		return 0, atWord(w, err)
	}
	if v > 250 {
		return 0, &fault.Fault{Kind: fault.OutsideRange, Where: short(w), What: "no iron is so hot", Expected: "at most 250 C"}
	}
	return float64(v), nil
}

func (p *readingParser) press(w string) (record.Reading, error) {
	c, err := heat(w)
	if err != nil {
		return nil, err
	}
	r := record.Reading{"safe_c": c}
	if p.o.Marked != "" {
		m, err := heat(p.o.Marked)
		if err != nil {
			for _, f := range fault.All(err) {
				f.Where = "--marked"
			}
			return nil, err
		}
		if m <= c {
			return nil, &fault.Fault{Kind: fault.WrongCall, Where: "--marked", What: fmt.Sprintf("it was marked at %.0f °C, and safe at %.0f °C", m, c), Expected: "a heat above the safe one"}
		}
		r["marked_c"] = m
	}
	return r, nil
}
