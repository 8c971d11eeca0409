package cut

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// Grain says which way of a part runs along the warp.
type Grain string

// The ways a part may lie. AlongEither is for parts that may be cut across the
// grain as well as with it.
const (
	AlongHeight Grain = "height"
	AlongWidth  Grain = "width"
	AlongEither Grain = "either"
	OnBias      Grain = "bias" // the warp runs at 45° to it
)

// Part is one part of a piece at its finished size, seam line to seam line.
type Part struct {
	Name          string
	Count         int
	Width, Height units.Length
	Grain         Grain // "" is AlongHeight
	ShellOnly     bool  // a band, facing or pocket that a lining leaves out
	// Outline is the seam line, its box Width by Height; nil for a rectangle, and
	// for a part of which only the box is known.
	Outline *Outline
	// Same is set where all copies of a part that is not symmetrical are cut alike;
	// otherwise every second one is cut face down, as left and right fronts are.
	Same bool
}

// Drawn gives the part the outline of a plain word for its shape, filling its
// box: a triangle with its point below, a quarter circle, a rectangle. Of any
// other word only the box is known.
func (p Part) Drawn(word string) Part {
	w, h := float64(p.Width), float64(p.Height)
	switch {
	case !(w > 0 && h > 0):
	case word == "triangle":
		o := triangleOutline(w, h, 0)
		p.Outline = &o
	case word == "part-circle" && math.Abs(w-h) < 0.01*w:
		q := outlined(p.Name, p.Count, sectorOutline(0, w, math.Pi/2))
		p.Outline = q.Outline
	}
	return p
}

// outline is the seam line of the part: a rectangle where none is known.
func (p Part) outline() Outline {
	if p.Outline != nil {
		return *p.Outline
	}
	return rectangle(float64(p.Width), float64(p.Height))
}

// curved reports whether a side of the outline is an arc.
func (o Outline) curved() bool {
	return slices.ContainsFunc(o.Sides, func(s Side) bool { return s.Bulge != 0 })
}

// Resize gives the part another finished size. Its outline follows. One with arcs
// in it keeps its proportions: it cannot be stretched one way only.
func (p Part) Resize(width, height units.Length) (Part, error) {
	if p.Outline == nil || !(p.Width > 0 && p.Height > 0) {
		p.Width, p.Height = width, height
		return p, p.Check()
	}
	x, y := float64(width/p.Width), float64(height/p.Height)
	if p.Outline.curved() && math.Abs(x/y-1) > 0.005 {
		return p, &fault.Fault{Kind: fault.WrongCall, Where: p.Name, What: fmt.Sprintf("its curved edge cannot be stretched to %s by %s", width.Centimetres(), height.Centimetres()),
			Expected: fmt.Sprintf("a size in the proportions of %s by %s", p.Width.Centimetres(), p.Height.Centimetres()), Mend: "set the measures it is drawn from with --set"}
	}
	o := p.Outline.each(func(s Side) Side { s.To = Point{s.To.X * x, s.To.Y * y}; return s })
	p.Width, p.Height, p.Outline = width, height, &o
	return p, p.Check()
}

// limits of a part: a stage cloth is large, a tab is small.
const (
	minPart  units.Length = 0.2
	maxPart  units.Length = 5000
	maxCount              = 500
	maxParts              = 2000
)

// Check reports what is wrong with the part, if anything.
func (p Part) Check() error {
	var found fault.List
	add := func(what, expected, mend string) {
		found = append(found, &fault.Fault{Kind: fault.WrongCall, Where: p.Name, What: what, Expected: expected, Mend: mend})
	}
	for _, x := range []struct {
		word string
		l    units.Length
	}{{"width", p.Width}, {"height", p.Height}} {
		if !(x.l >= minPart && x.l <= maxPart) {
			add(fmt.Sprintf("the %s is %s", x.word, x.l), fmt.Sprintf("%s to %s", minPart.Millimetres(), maxPart), "give the finished size, as 76cm or 30in")
		}
	}
	if p.Count < 1 || p.Count > maxCount {
		add(fmt.Sprintf("it is wanted %d times", p.Count), fmt.Sprintf("1 to %d", maxCount), "")
	}
	switch p.Grain {
	case "", AlongHeight, AlongWidth, AlongEither, OnBias:
	default:
		add(fmt.Sprintf("the grain is %q", string(p.Grain)), "height, width, either or bias", "")
	}
	if p.Outline != nil && len(found) == 0 {
		if err := p.Outline.Check(); err != nil {
			for _, f := range fault.All(err) {
				found = append(found, f.At(p.Name))
			}
		}
	}
	return found.OrNil()
}

// ParsePart reads a part as a maker writes it: a name, a width by a height with
// their units, and how many: "wrap 150cm x 75cm x1", "tie 80 x 8 cm x 2". The
// name may be left out, the count then and otherwise is 1.
func ParsePart(s string) (Part, error) {
	p := Part{Count: 1}
	wrong := func(what string) (Part, error) {
		return p, &fault.Fault{Kind: fault.WrongCall, What: what, Expected: `a name, width x height with units, and how many: "wrap 150cm x 75cm x1"`, Mend: `put it in quotation marks, as --part "tie 80cm x 8cm x2"`}
	}
	text := strings.TrimSpace(strings.NewReplacer("×", " x ", "*", " x ").Replace(s))
	i := strings.IndexFunc(text, func(r rune) bool { return r >= '0' && r <= '9' || r == '.' || r == '-' })
	if i < 0 {
		return wrong(fmt.Sprintf("%q has no sizes", s))
	}
	p.Name = strings.TrimSpace(strings.TrimRight(strings.TrimSpace(text[:i]), ":="))
	sizes := splitBy(text[i:])
	if len(sizes) < 2 || len(sizes) > 3 {
		return wrong(fmt.Sprintf("%q is not a width by a height", s))
	}
	if len(sizes) == 3 {
		n, rest := 0, ""
		if k, _ := fmt.Sscanf(sizes[2]+" ", "%d %s", &n, &rest); k != 1 || n < 0 {
			return wrong(fmt.Sprintf("%q is not a number of parts", sizes[2]))
		}
		p.Count = n
	}
	w, h, err := pairOfLengths(sizes[0], sizes[1])
	if err != nil {
		return p, err
	}
	p.Width, p.Height = w, h
	if p.Name == "" {
		p.Name = "part"
	}
	return p, p.Check()
}

// ParseSize reads a width by a height, "150x75cm", `60 x 30 in`, with an optional
// name of the part before it: "wrap=150x75cm".
func ParseSize(s string) (name string, width, height units.Length, err error) {
	p, err := ParsePart(s)
	if err != nil {
		return "", 0, 0, err
	}
	if p.Name == "part" && !strings.HasPrefix(strings.TrimSpace(s), "part") {
		p.Name = ""
	}
	return p.Name, p.Width, p.Height, nil
}

// splitBy parts a text at the letter x that stands between figures.
func splitBy(s string) []string {
	var out []string
	start := 0
	for i := 0; i < len(s); i++ {
		if s[i] != 'x' && s[i] != 'X' {
			continue
		}
		out = append(out, strings.TrimSpace(s[start:i]))
		start = i + 1
	}
	return append(out, strings.TrimSpace(s[start:]))
}

// pairOfLengths reads two lengths; a unit on the second alone serves both.
func pairOfLengths(a, b string) (units.Length, units.Length, error) {
	h, err := units.ParseLength(b)
	if err != nil {
		return 0, 0, err
	}
	if w, err := units.ParseLength(a); err == nil {
		return w, h, nil
	}
	unit := strings.TrimLeft(b, "0123456789.,/ ")
	w, err := units.ParseLength(a + " " + unit)
	return w, h, err
}
