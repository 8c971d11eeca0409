package draw

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// Options are what every drawing is told.
type Options struct {
	// Prefix begins every id in the picture. Two pictures on one page need two
	// prefixes.
	Prefix string
	Units  units.System
}

// Picture is one drawing.
type Picture struct {
	Title string
	Desc  string // one or two sentences: what is seen
	Text  string // the same as the picture says, in words and figures
	svg   string
}

// String is the whole svg element.
func (p Picture) String() string { return p.svg }

// pt is a place on the drawing, in its own units, y downwards.
type pt struct{ x, y float64 }

// canvas gathers the elements of a drawing and how far they reach, so that the
// view box is drawn round all of them at the end.
type canvas struct {
	b        strings.Builder
	defs     strings.Builder
	prefix   string
	low      pt
	high     pt
	unsound  bool
	links    bool
	patterns map[string]bool
	pad      float64
}

func newCanvas(o Options) *canvas {
	return &canvas{prefix: cleanID(o.Prefix), low: pt{math.Inf(1), math.Inf(1)}, high: pt{math.Inf(-1), math.Inf(-1)}, patterns: map[string]bool{}, pad: 6}
}

// reach widens the view to hold a place with r round it.
func (c *canvas) reach(x, y, r float64) {
	if math.IsNaN(x+y+r) || math.IsInf(x+y+r, 0) {
		c.unsound = true
		return
	}
	c.low = pt{math.Min(c.low.x, x-r), math.Min(c.low.y, y-r)}
	c.high = pt{math.Max(c.high.x, x+r), math.Max(c.high.y, y+r)}
}

// num writes a coordinate with two decimals at most.
func (c *canvas) num(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		c.unsound = true
		return "0"
	}
	s := strconv.FormatFloat(v, 'f', 2, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" || s == "" {
		return "0"
	}
	return s
}

// look is how a shape is drawn: presentation attributes that a style sheet may
// overrule by the class.
type look struct {
	class  string
	fill   string // "" is none
	shade  float64
	stroke float64
	dash   string
}

func (c *canvas) attrs(l look) string {
	var b strings.Builder
	if l.class != "" {
		fmt.Fprintf(&b, ` class="%s"`, l.class)
	}
	fill := l.fill
	if fill == "" {
		fill = "none"
	}
	fmt.Fprintf(&b, ` fill="%s"`, fill)
	if l.shade > 0 {
		fmt.Fprintf(&b, ` fill-opacity="%s"`, c.num(l.shade))
	}
	if l.stroke > 0 {
		fmt.Fprintf(&b, ` stroke="currentColor" stroke-width="%s"`, c.num(l.stroke))
		if l.dash != "" {
			fmt.Fprintf(&b, ` stroke-dasharray="%s" stroke-linecap="butt"`, l.dash)
		}
	}
	return b.String()
}

func (c *canvas) line(l look, x1, y1, x2, y2 float64) {
	c.reach(x1, y1, l.stroke/2)
	c.reach(x2, y2, l.stroke/2)
	fmt.Fprintf(&c.b, "<line%s x1=\"%s\" y1=\"%s\" x2=\"%s\" y2=\"%s\"/>\n", c.attrs(l), c.num(x1), c.num(y1), c.num(x2), c.num(y2))
}

func (c *canvas) rect(l look, x, y, w, h, round float64) {
	c.reach(x, y, l.stroke/2)
	c.reach(x+w, y+h, l.stroke/2)
	r := ""
	if round > 0 {
		r = ` rx="` + c.num(round) + `"`
	}
	fmt.Fprintf(&c.b, "<rect%s x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\"%s/>\n", c.attrs(l), c.num(x), c.num(y), c.num(math.Max(0, w)), c.num(math.Max(0, h)), r)
}

func (c *canvas) circle(l look, x, y, r float64) {
	c.reach(x, y, r+l.stroke/2)
	fmt.Fprintf(&c.b, "<circle%s cx=\"%s\" cy=\"%s\" r=\"%s\"/>\n", c.attrs(l), c.num(x), c.num(y), c.num(r))
}

// path draws lines from point to point, closed or open.
func (c *canvas) path(l look, points []pt, closed bool) {
	if len(points) == 0 {
		return
	}
	fmt.Fprintf(&c.b, "<path%s d=\"", c.attrs(l))
	for _, p := range points {
		c.reach(p.x, p.y, l.stroke/2)
	}
	for i, p := range thinned(points) {
		switch i {
		case 0:
			c.b.WriteByte('M')
		case 1:
			c.b.WriteByte('L')
		default:
			c.b.WriteByte(' ')
		}
		c.b.WriteString(c.num(p.x) + " " + c.num(p.y))
	}
	if closed {
		c.b.WriteByte('Z')
	}
	c.b.WriteString("\"/>\n")
}

// unseen is how far a line may lie beside a point that it leaves out, in the units of the
// picture, which are pixels: no eye sees a twentieth of one.
const unseen = 0.05

// thinned leaves out the points of a line that lie on the line between those that stay
// (Douglas and Peucker 1973, from memory).
func thinned(points []pt) []pt {
	if len(points) < 3 {
		return points
	}
	first, last := points[0], points[len(points)-1]
	along := pt{last.x - first.x, last.y - first.y}
	long := math.Hypot(along.x, along.y)
	at, far := 0, unseen
	for i, p := range points[1 : len(points)-1] {
		off := math.Hypot(p.x-first.x, p.y-first.y)
		if long > 0 {
			t := min(1, max(0, ((p.x-first.x)*along.x+(p.y-first.y)*along.y)/(long*long)))
			off = math.Hypot(p.x-first.x-t*along.x, p.y-first.y-t*along.y)
		}
		if off > far {
			at, far = i+1, off
		}
	}
	if at == 0 {
		return []pt{first, last}
	}
	head := thinned(points[:at+1])
	return append(head[:len(head)-1:len(head)-1], thinned(points[at:])...)
}

// The sizes of lettering.
const (
	sizeText  = 13.0
	sizeSmall = 11.0
	sizeLeast = 10.7 // 8 points, the least that is read at arm's length
)

// text letters one line. anchor is start, middle or end; y is the base line.
func (c *canvas) text(x, y float64, anchor string, size float64, soft bool, s string) {
	s = units.Raised(clean(s))
	if s == "" {
		return
	}
	w := textWidth(s, size)
	left := x
	switch anchor {
	case "middle":
		left = x - w/2
	case "end":
		left = x - w
	}
	c.reach(left, y-size*0.95, 0)
	c.reach(left+w, y+size*0.3, 0)
	class := "tn-text"
	if soft {
		class = "tn-text tn-soft"
	}
	a := ""
	if anchor != "start" && anchor != "" {
		a = ` text-anchor="` + anchor + `"`
	}
	fmt.Fprintf(&c.b, "<text class=\"%s\" fill=\"currentColor\" x=\"%s\" y=\"%s\"%s font-size=\"%s\">%s</text>\n", class, c.num(x), c.num(y), a, c.num(size), escape(s))
}

// lines letters several lines below each other and returns the y after the last.
func (c *canvas) lines(x, y float64, anchor string, size float64, soft bool, lines []string) float64 {
	for _, l := range lines {
		c.text(x, y, anchor, size, soft, l)
		y += size * 1.3
	}
	return y
}

// open begins a group, with attributes already escaped; shut ends it.
func (c *canvas) open(attrs string) { fmt.Fprintf(&c.b, "<g%s>\n", attrs) }
func (c *canvas) shut()             { c.b.WriteString("</g>\n") }

// hatch gives the fill of a named pattern, defined once in the drawing.
func (c *canvas) hatch(kind string) string {
	id := c.prefix + "-" + kind
	if !c.patterns[kind] {
		c.patterns[kind] = true
		const p = `<pattern id="%s" width="%d" height="%d" patternUnits="userSpaceOnUse"%s>%s</pattern>` + "\n"
		const s = ` fill="none" stroke="currentColor" stroke-width="`
		switch kind {
		case "diagonal":
			fmt.Fprintf(&c.defs, p, id, 5, 5, ` patternTransform="rotate(45)"`, `<path d="M0 0V5"`+s+`1.6"/>`)
		case "dots":
			fmt.Fprintf(&c.defs, p, id, 5, 5, "", `<circle cx="1.5" cy="1.5" r="0.9" fill="currentColor"/><circle cx="4" cy="4" r="0.9" fill="currentColor"/>`)
		case "cross":
			fmt.Fprintf(&c.defs, p, id, 4, 4, ` patternTransform="rotate(45)"`, `<path d="M0 0V4M0 0H4"`+s+`1.2"/>`)
		case "upright":
			fmt.Fprintf(&c.defs, p, id, 4, 4, "", `<path d="M1 0V4"`+s+`0.9"/>`)
		}
	}
	return "url(#" + id + ")"
}

// finish closes the drawing. text is the equivalent in words.
func (c *canvas) finish(title, desc, text string) (Picture, error) {
	title, desc, text = clean(title), clean(desc), clean(text)
	if c.unsound || c.low.x > c.high.x {
		return Picture{}, &fault.Fault{Kind: fault.OutsideRange, What: "a figure of the picture \"" + title + "\" is not a number that can be drawn", Expected: "lengths above zero"}
	}
	p := c.pad
	x, y, w, h := math.Floor(c.low.x-p), math.Floor(c.low.y-p), 0.0, 0.0
	w, h = math.Ceil(c.high.x+p)-x, math.Ceil(c.high.y+p)-y
	role := "img" // its parts are one image, but for links, which must be reached
	if c.links {
		role = "group"
	}
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" class="tn-pic" width="%s" height="%s" viewBox="%s %s %s %s" role="%s" aria-labelledby="%s-title %s-desc" stroke-linejoin="round" stroke-linecap="round" font-family="sans-serif" font-size="13">`+"\n",
		c.num(w), c.num(h), c.num(x), c.num(y), c.num(w), c.num(h), role, c.prefix, c.prefix)
	fmt.Fprintf(&b, "<title id=\"%s-title\">%s</title>\n<desc id=\"%s-desc\">%s</desc>\n", c.prefix, escape(title), c.prefix, escape(desc))
	if c.defs.Len() > 0 {
		b.WriteString("<defs>\n" + c.defs.String() + "</defs>\n")
	}
	b.WriteString(c.b.String())
	b.WriteString("</svg>")
	return Picture{Title: title, Desc: desc, Text: text, svg: b.String()}, nil
}

// cleanID makes an id of a prefix: letters, figures, hyphens.
func cleanID(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r >= 'a' && r <= 'z', r >= 'A' && r <= 'Z', r >= '0' && r <= '9', r == '-', r == '_':
			return r
		}
		return '-'
	}, s)
	if s == "" || !(s[0] >= 'a' && s[0] <= 'z' || s[0] >= 'A' && s[0] <= 'Z') {
		s = "pic" + s
	}
	return s
}

// clean drops what XML cannot hold and what would steer the text round it:
// control characters, marks of direction, invalid bytes.
func clean(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r == '\n' || r == '\t' || r == '\r' || r == '\u2028' || r == '\u2029':
			return ' '
		case r == utf8.RuneError, unicode.IsControl(r), unicode.Is(unicode.Cf, r), r == 0xFFFE, r == 0xFFFF:
			return -1
		}
		return r
	}, s)
	return strings.Join(strings.Fields(s), " ")
}

var escaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;", "'", "&#39;")

func escape(s string) string { return escaper.Replace(s) }

// textWidth is about how wide a line of lettering is: on the wide side, since
// nobody knows which sans serif the reader has.
func textWidth(s string, size float64) float64 {
	w := 0.0
	for _, r := range s {
		switch {
		case unicode.Is(unicode.Mn, r):
		case r == ' ':
			w += 0.33
		case strings.ContainsRune("iljtfI.,:;'|!()[]-", r):
			w += 0.41
		case strings.ContainsRune("mwMW@%—…", r):
			w += 1.0
		case r >= 'A' && r <= 'Z':
			w += 0.76
		case r < 0x2000:
			w += 0.645
		default:
			w += 1.1
		}
	}
	return w * size
}

// shorten cuts a line to the width with an ellipsis.
func shorten(s string, size, width float64) string {
	s = clean(s)
	if textWidth(s, size) <= width {
		return s
	}
	r := []rune(s)
	for len(r) > 1 && textWidth(string(r)+"…", size) > width {
		r = r[:len(r)-1]
	}
	return strings.TrimRight(string(r), " ") + "…"
}

// fold breaks text into at most n lines of the width, the last one shortened.
func fold(s string, size, width float64, n int) []string {
	var out []string
	line := ""
	words := strings.Fields(clean(s))
	for i, w := range words {
		next := strings.TrimSpace(line + " " + w)
		if textWidth(next, size) <= width || line == "" {
			line = next
			continue
		}
		if len(out) == n-1 {
			line = strings.Join(append([]string{line}, words[i:]...), " ")
			break
		}
		out = append(out, shorten(line, size, width))
		line = w
	}
	if line != "" {
		out = append(out, shorten(line, size, width))
	}
	return out
}

// The looks that drawings share.
var (
	inkOn = func(w float64) look { return look{class: "tn-ink", stroke: w} }
	thin  = look{class: "tn-thin", stroke: 0.8}
	plumb = look{class: "tn-thin", stroke: 0.8, dash: "2 3"}
	shade = look{class: "tn-shade", fill: "currentColor", shade: 0.12}
)

// across draws a level dimension line from x1 to x2 with a slash at each end.
func (c *canvas) across(x1, x2, y float64) {
	c.line(thin, x1, y, x2, y)
	for _, x := range []float64{x1, x2} {
		c.line(inkOn(1.2), x-3, y+4, x+3, y-4)
	}
}

// upright draws an upright dimension line.
func (c *canvas) upright(x, y1, y2 float64) {
	c.line(thin, x, y1, x, y2)
	for _, y := range []float64{y1, y2} {
		c.line(inkOn(1.2), x-4, y+3, x+4, y-3)
	}
}

// scaleBar draws a bar of a round length and says it; perCM is the drawing's
// scale. It is about want units of the drawing long.
func (c *canvas) scaleBar(x, y, perCM, want float64, sys units.System) {
	steps := []float64{0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000}
	unit, word := 1.0, "cm"
	if sys == units.Imperial {
		steps = []float64{0.125, 0.25, 0.5, 1, 2, 4, 6, 12, 24, 36, 72, 180, 360}
		unit, word = float64(units.Inch), "in"
	}
	best := steps[0]
	for _, s := range steps {
		if s*unit*perCM <= want*1.2 {
			best = s
		}
	}
	w := best * unit * perCM
	label := strconv.FormatFloat(best, 'f', -1, 64) + " " + word
	switch {
	case word == "cm" && best < 1:
		label = strconv.FormatFloat(best*10, 'f', -1, 64) + " mm"
	case word == "in" && best < 1:
		label = units.Length(best * unit).In(units.Imperial)
	}
	half := w / 2
	c.rect(look{class: "tn-ink", fill: "currentColor", stroke: 0.8}, x, y, half, 4, 0)
	c.rect(look{class: "tn-ink", stroke: 0.8}, x+half, y, half, 4, 0)
	c.text(x+w+6, y+6, "start", sizeSmall, true, label)
}

// positive is the fault of the first figure that is not a length above zero.
func positive(what string, v ...float64) error {
	for _, x := range v {
		if !(x > 0) || math.IsInf(x, 0) {
			return &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("%s is %v", what, x), Expected: "a length above zero"}
		}
	}
	return nil
}
