package cut

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// Shape is a parametric piece: how it is drawn, and the measures it is drawn
// from.
type Shape struct {
	ID, Name   string
	Synonyms   []string
	Draws      string // a word of [Drawings]
	Parameters []Parameter
	Say        string
}

// Parameter is one measure of a shape. Lengths are in cm, angles in degrees.
type Parameter struct {
	ID, Kind  string // kind: length, angle, number, count
	Default   float64
	Low, High float64
	Say       string
}

// The kinds of parameter.
const (
	KindLength = "length"
	KindAngle  = "angle"
	KindNumber = "number"
	KindCount  = "count"
)

// Draft is a shape drawn out.
type Draft struct {
	Parts []Part
	Joins []Join
	Says  []string // what the geometry shows that the maker should know
}

// Join is a seam, hem or edge of a draft with its length, summed over all parts
// that it runs along.
type Join struct {
	Name   string  `json:"name"`
	Kind   Role    `json:"kind"`
	Length float64 `json:"length_cm"`
	Radius float64 `json:"radius_cm,omitempty"` // of its tightest curve
}

// throughAll are words of seams that are sewn once through all layers, or in the
// shell alone.
var throughAll = []string{"neck", "waist", "gathered", "edge", "casing", "quilting", "pocket", "strap", "tie", "tape", "handle", "heading", "facing", "bone", "closing hem"}

// assembles reports whether the join puts one layer together, so that a lining has
// it again: side seams do, a neck seam joins the layers.
func (j Join) assembles() bool {
	return j.Kind == Seam && !slices.ContainsFunc(throughAll, func(w string) bool { return strings.Contains(j.Name, w) })
}

// measures are the values a shape is drawn from.
type measures map[string]float64

// drawing draws a shape from its measures; needs lists them.
type drawing struct {
	needs []string
	draw  func(m measures) (Draft, error)
}

// drawings are the shapes that can be drawn.
var drawings = map[string]drawing{
	"rectangle":      {[]string{"width", "height", "parts"}, drawRectangle},
	"triangle":       {[]string{"width", "depth", "dip"}, drawTriangle},
	"hooded-wrap":    {[]string{"width", "depth", "dip", "face", "hood-depth", "neck", "crown", "nape"}, drawHoodedWrap},
	"circle":         {[]string{"angle", "length", "girth", "parts"}, drawCircle},
	"cape":           {[]string{"angle", "length", "girth", "parts", "facing"}, drawCape},
	"circle-skirt":   {[]string{"angle", "length", "girth", "parts", "band", "lap"}, drawCircleSkirt},
	"hood":           {[]string{"face", "depth", "neck", "crown", "nape", "neckline"}, drawHood},
	"hood-with-band": {[]string{"face", "depth", "neck", "crown", "nape", "band", "neckline"}, drawHoodWithBand},
	"loop":           {[]string{"around", "height", "bias"}, drawLoop},
	"strip":          {[]string{"length", "width", "point"}, drawStrip},
	"banner":         {[]string{"width", "drop", "point", "swallowtail", "casing"}, drawBanner},
	"gathered":       {[]string{"width", "fullness", "drop", "parts"}, drawGathered},
	"pouch":          {[]string{"width", "height", "heading"}, drawPouch},
	"ruffle":         {[]string{"edge", "fullness", "width", "strip"}, drawRuffle},
	"round-ruffle":   {[]string{"edge", "inner", "width"}, drawRoundRuffle},
	"gored":          {[]string{"top", "hem", "length", "parts", "band", "lap"}, drawGored},
}

// Drawings lists what a shape's draws may say.
func Drawings() []string { return slices.Sorted(maps.Keys(drawings)) }

// Needs lists the parameters that a drawing is made from; nil for one that there
// is not.
func Needs(draws string) []string { return drawings[draws].needs }

// Measures are the values the shape is drawn from: lengths in cm, angles in
// degrees, each as set or else at its default.
func (s Shape) Measures(set map[string]string) (map[string]float64, error) {
	var found fault.List
	m := measures{}
	var names []string
	for _, p := range s.Parameters {
		m[p.ID] = p.Default
		names = append(names, p.ID)
	}
	for _, id := range slices.Sorted(maps.Keys(set)) {
		i := slices.Index(names, id)
		if i < 0 {
			found = append(found, &fault.Fault{Kind: fault.NotFound, Where: id, What: s.Name + " has no such measure", Expected: strings.Join(names, ", "), Mend: fault.DidYouMean(id, names, "")})
			continue
		}
		v, err := s.Parameters[i].parse(set[id])
		if err != nil {
			for _, f := range fault.All(err) {
				found = append(found, f.At(id))
			}
			continue
		}
		m[id] = v
	}
	if err := found.OrNil(); err != nil {
		return nil, err
	}
	return m, nil
}

// Draw draws the shape, each parameter at the value set or else at its default.
// A value is written as a maker does: 90cm, 35in, 180 deg, 2.5.
func (s Shape) Draw(set map[string]string) (Draft, error) {
	d, ok := drawings[s.Draws]
	if !ok {
		return Draft{}, &fault.Fault{Kind: fault.Internal, What: fmt.Sprintf("nothing draws %q", s.Draws)}
	}
	m, err := s.Measures(set)
	if err != nil {
		return Draft{}, err
	}
	out, err := d.draw(m)
	if err != nil {
		return out, err
	}
	for i := range out.Parts {
		if err := out.Parts[i].Check(); err != nil {
			return out, err
		}
	}
	return out, nil
}

func (p Parameter) parse(s string) (float64, error) {
	var v float64
	switch p.Kind {
	case KindLength:
		l, err := units.ParseLength(s)
		if err != nil {
			return 0, err
		}
		v = float64(l)
	case KindAngle:
		a, err := ParseTurn(s)
		if err != nil {
			return 0, err
		}
		v = a
	default:
		q, err := units.Parse(s)
		if err != nil {
			return 0, err
		}
		if q.Kind != units.Number {
			return 0, &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q is %s", s, q.Kind), Expected: "a plain number"}
		}
		v = q.Value
	}
	if p.Kind == KindCount && v != math.Trunc(v) {
		return 0, &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%s is not a whole number", s), Expected: "a count"}
	}
	if !(v >= p.Low && v <= p.High) {
		return 0, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("%s is outside what can be drawn", s), Expected: p.words(p.Low) + " to " + p.words(p.High)}
	}
	return v, nil
}

// ParseTurn reads an angle in degrees, "180 deg" or "90°", of up to two turns.
func ParseTurn(s string) (float64, error) {
	q, err := units.Parse(s)
	if err != nil {
		return 0, err
	}
	if q.Kind != units.OfAngle && q.Kind != units.Number || !(q.Value >= 0 && q.Value <= 720) {
		return 0, &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q is no part of a circle", s), Expected: "0 to 720 degrees, as 180 deg", Mend: "180 deg is half a circle"}
	}
	return q.Value, nil
}

func (p Parameter) words(v float64) string {
	switch p.Kind {
	case KindLength:
		return units.Length(v).Centimetres()
	case KindAngle:
		return units.Angle(v).String()
	}
	return fmt.Sprintf("%g", v)
}

// cannot is the fault of measures that do not go together.
func cannot(where, what, expected, mend string) error {
	return &fault.Fault{Kind: fault.WrongCall, Where: where, What: what, Expected: expected, Mend: mend}
}

func cm(v float64) string { return units.Length(v).Centimetres() }

// outlined makes a part of an outline.
func outlined(name string, count int, o Outline) Part {
	low, high := o.Box()
	o = o.Move(Point{-low.X, -low.Y})
	return Part{Name: name, Count: count, Width: units.Length(high.X - low.X), Height: units.Length(high.Y - low.Y), Outline: &o}
}

// edged is a rectangle of which is known what becomes of each edge.
func edged(name string, n int, w, h float64, g Grain, bottom, right, top, left Role) Part {
	o := rectangle(w, h)
	for i, r := range []Role{bottom, right, top, left} {
		o.Sides[i].Role = r
	}
	p := plainPart(name, n, w, h, g)
	p.Outline = &o
	return p
}

func plainPart(name string, n int, w, h float64, g Grain) Part {
	return Part{Name: name, Count: n, Width: units.Length(w), Height: units.Length(h), Grain: g}
}

func drawRectangle(m measures) (Draft, error) {
	n := int(m["parts"])
	w, h := m["width"], m["height"]
	return Draft{Parts: []Part{edged("part", n, w, h, "", FreeEdge, FreeEdge, FreeEdge, FreeEdge)}, Joins: []Join{{"edge", FreeEdge, float64(n) * 2 * (w + h), 0}}}, nil
}

// triangleOutline is a triangle with its long edge above and its point below;
// the long edge is hollowed by dip at its middle.
func triangleOutline(w, d, dip float64) Outline {
	return Outline{Sides: []Side{
		{Name: "left edge", Role: FreeEdge, To: Point{w / 2, 0}},
		{Name: "right edge", Role: FreeEdge, To: Point{w, d}},
		{Name: "shoulder edge", Role: FreeEdge, To: Point{0, d}, Bulge: -2 * dip / w},
	}}
}

func drawTriangle(m measures) (Draft, error) {
	w, d, dip := m["width"], m["depth"], m["dip"]
	if dip >= d {
		return Draft{}, cannot("dip", fmt.Sprintf("a hollow of %s reaches through a depth of %s", cm(dip), cm(d)), "a dip under "+cm(d), "a quarter of the depth is much")
	}
	o := triangleOutline(w, d, dip)
	j := Join{"edge", FreeEdge, o.Perimeter(), 0}
	if dip > 0 {
		j.Radius = o.radius(2)
	}
	return Draft{Parts: []Part{outlined("shawl", 1, o)}, Joins: []Join{j}}, nil
}

func drawHoodedWrap(m measures) (Draft, error) {
	d, err := drawTriangle(m)
	if err != nil {
		return d, err
	}
	d.Parts[0].Name = "wrap"
	h, err := hoodOutline(m["face"], m["hood-depth"], m["neck"], m["crown"], m["nape"])
	if err != nil {
		return d, err
	}
	wrap := *d.Parts[0].Outline
	shoulder := wrap.Length(2)
	d.Parts = append(d.Parts, outlined("hood", 2, h))
	neck := 2 * m["neck"]
	d.Joins = append(d.Joins, hoodJoins(h)...)
	d.Joins = append(d.Joins, Join{"neck seam", Seam, neck, d.Joins[0].Radius})
	d.Joins[0].Length -= neck // the hood takes that part of the edge
	if neck > shoulder {
		return d, cannot("neck", fmt.Sprintf("the hood's neck edge is %s, the shoulder edge of the wrap %s", cm(neck), cm(shoulder)),
			fmt.Sprintf("a neck edge of at most %s a side", cm(shoulder/2)), "make the hood's neck shorter or the wrap wider")
	}
	d.Says = append(d.Says, fmt.Sprintf("The hood's neck edge is %s and takes the middle of the shoulder edge (%s): mark %s either side of its middle.", cm(neck), cm(shoulder), cm(neck/2)))
	return d, nil
}

// sectorOutline is a part of a ring: from the inner to the outer radius, through
// an angle in radians, one straight edge upright on the left.
func sectorOutline(inner, outer, a float64) Outline {
	at := func(r, angle float64) Point { return Point{r * math.Sin(angle), r * math.Cos(angle)} }
	b := math.Tan(a / 4)
	s := []Side{{Name: "hem", Role: Hem, To: at(outer, 0), Bulge: b}, {Name: "straight edge", Role: Seam, To: at(inner, 0)}}
	if inner > 0 {
		s = append(s, Side{Name: "neck", Role: Seam, To: at(inner, a), Bulge: -b})
	}
	return Outline{Sides: append(s, Side{Name: "straight edge", Role: Seam, To: at(outer, a)})}
}

// drawCircle draws part of a circle or ring: girth is the length of its inner
// edge, length the straight edge.
func drawCircle(m measures) (Draft, error) {
	angle, n := m["angle"]*math.Pi/180, int(m["parts"])
	r, err := NeckRadius(units.Length(m["girth"]), units.Angle(m["angle"]))
	if m["girth"] == 0 {
		r, err = 0, nil
	}
	if err != nil {
		return Draft{}, err
	}
	if each := m["angle"] / float64(n); each > 270 {
		return Draft{}, cannot("parts", fmt.Sprintf("one part of %.0f° cannot be laid out flat with its seam", each), "at least 2 parts", "cut it in two halves")
	}
	inner, outer := float64(r), float64(r)+m["length"]
	o := sectorOutline(inner, outer, angle/float64(n))
	d := Draft{Parts: []Part{outlined("part", n, o)}}
	seams := float64(n) * m["length"]
	if m["angle"] < 360 {
		seams -= m["length"]
		d.Joins = append(d.Joins, Join{"front edge", FreeEdge, 2 * m["length"], 0})
	}
	if seams > 0 {
		d.Joins = append(d.Joins, Join{"joining seams", Seam, seams, 0})
	}
	d.Joins = append(d.Joins, Join{"hem", Hem, outer * angle, outer})
	if inner > 0 {
		d.Joins = append(d.Joins, Join{"neck seam", Seam, inner * angle, inner})
	}
	return d, nil
}

func drawCape(m measures) (Draft, error) {
	d, err := drawCircle(m)
	if err != nil {
		return d, err
	}
	d.Parts[0].Name = "cape"
	if f := m["facing"]; f > 0 && m["girth"] > 0 {
		r := m["girth"] / (m["angle"] * math.Pi / 180)
		p := outlined("neck facing", d.Parts[0].Count, sectorOutline(r, r+f, m["angle"]*math.Pi/180/float64(d.Parts[0].Count)))
		p.ShellOnly = true
		d.Parts = append(d.Parts, p)
	}
	return d, nil
}

func drawCircleSkirt(m measures) (Draft, error) {
	d, err := drawCircle(m)
	if err != nil {
		return d, err
	}
	d.Parts[0].Name = "panel"
	for i, j := range d.Joins {
		if j.Name == "neck seam" {
			d.Joins[i].Name = "waist seam"
		}
		if j.Name == "front edge" { // a skirt is closed all round
			d.Joins[i] = Join{"closing seam", Seam, m["length"], 0}
		}
	}
	band(&d, m)
	return d, nil
}

// band adds a waistband, folded double, that laps by lap.
func band(d *Draft, m measures) {
	if m["band"] <= 0 {
		return
	}
	girth := m["girth"]
	if girth == 0 {
		girth = m["top"]
	}
	p := plainPart("waistband", 1, girth+m["lap"], 2*m["band"], AlongWidth)
	p.ShellOnly = true
	d.Parts = append(d.Parts, p)
}

// hoodOutline is one side of a hood: the face edge upright on the left, the neck
// edge below, a quarter circle at the crown.
func hoodOutline(face, depth, neck, crown, nape float64) (Outline, error) {
	switch {
	case neck > depth:
		return Outline{}, cannot("neck", fmt.Sprintf("a neck edge of %s is longer than the hood is deep, %s", cm(neck), cm(depth)), "at most "+cm(depth)+" a side", "make the hood deeper")
	case crown > depth:
		return Outline{}, cannot("crown", fmt.Sprintf("a crown of radius %s does not go into a depth of %s", cm(crown), cm(depth)), "at most "+cm(depth), "")
	case crown+nape > face:
		return Outline{}, cannot("crown", fmt.Sprintf("crown %s and nape %s do not go into a face edge of %s", cm(crown), cm(nape), cm(face)), fmt.Sprintf("at most %s together", cm(face)), "")
	}
	s := []Side{{Name: "neck", Role: Seam, To: Point{neck, 0}}}
	corner := func(name string, p Point, bulge float64) {
		if from := s[len(s)-1].To; from.far(p) >= leastEdge {
			s = append(s, Side{Name: name, Role: Seam, To: p, Bulge: bulge})
		}
	}
	corner("centre seam", Point{depth, nape}, 0)
	corner("centre seam", Point{depth, face - crown}, 0)
	if crown > 0 {
		corner("centre seam", Point{depth - crown, face}, math.Tan(math.Pi/8))
	}
	corner("centre seam", Point{0, face}, 0)
	return Outline{Sides: append(s, Side{Name: "face edge", Role: FreeEdge, To: Point{}})}, nil
}

// along is the length of all sides of a name.
func along(o Outline, name string) float64 {
	sum := 0.0
	for i, s := range o.Sides {
		if s.Name == name {
			sum += o.Length(i)
		}
	}
	return sum
}

func tightest(o Outline, name string) float64 {
	r := math.Inf(1)
	for i, s := range o.Sides {
		if s.Name == name {
			r = math.Min(r, o.radius(i))
		}
	}
	if math.IsInf(r, 1) {
		return 0
	}
	return r
}

func hoodJoins(o Outline) []Join {
	return []Join{{"hood seam", Seam, along(o, "centre seam"), tightest(o, "centre seam")}, {"face edge", FreeEdge, 2 * along(o, "face edge"), 0}}
}

// neckline says how a hood's neck edge goes into the neckline it is sewn to.
func neckline(hood, line float64) string {
	if line <= 0 {
		return ""
	}
	d := hood - line
	switch {
	case math.Abs(d) < 0.5:
		return fmt.Sprintf("The hood's neck edge, %s, goes into the neckline of %s as it is.", cm(hood), cm(line))
	case d > 0:
		how := "ease it in"
		if d > 0.05*line {
			how = "pleat or gather it in, or make the hood's neck edge shorter"
		}
		return fmt.Sprintf("The hood's neck edge, %s, is %s longer than the neckline of %s: %s.", cm(hood), cm(d), cm(line), how)
	}
	return fmt.Sprintf("The hood's neck edge, %s, is %s shorter than the neckline of %s: set it back %s from each front edge, or make it longer.", cm(hood), cm(-d), cm(line), cm(-d/2))
}

func drawHood(m measures) (Draft, error) {
	o, err := hoodOutline(m["face"], m["depth"], m["neck"], m["crown"], m["nape"])
	if err != nil {
		return Draft{}, err
	}
	d := Draft{Parts: []Part{outlined("hood side", 2, o)}, Joins: append(hoodJoins(o), Join{"neck seam", Seam, 2 * m["neck"], 0})}
	if s := neckline(2*m["neck"], m["neckline"]); s != "" {
		d.Says = append(d.Says, s)
	}
	return d, nil
}

func drawHoodWithBand(m measures) (Draft, error) {
	o, err := hoodOutline(m["face"], m["depth"], m["neck"], m["crown"], m["nape"])
	if err != nil {
		return Draft{}, err
	}
	seam := along(o, "centre seam")
	neck := 2*m["neck"] + m["band"]
	d := Draft{Parts: []Part{outlined("hood side", 2, o), plainPart("band", 1, m["band"], seam, AlongHeight)},
		Joins: []Join{{"band seams", Seam, 2 * seam, tightest(o, "centre seam")}, {"face edge", FreeEdge, 2*m["face"] + m["band"], 0}, {"neck seam", Seam, neck, 0}}}
	if s := neckline(neck, m["neckline"]); s != "" {
		d.Says = append(d.Says, s)
	}
	return d, nil
}

func drawLoop(m measures) (Draft, error) {
	grain := Grain("")
	if m["bias"] > 0 {
		grain = OnBias
	}
	return Draft{Parts: []Part{edged("cowl", 1, m["around"], m["height"], grain, FreeEdge, Seam, FreeEdge, Seam)},
		Joins: []Join{{"back seam", Seam, m["height"], 0}, {"edge", FreeEdge, 2 * m["around"], 0}}}, nil
}

func drawStrip(m measures) (Draft, error) {
	l, w, p := m["length"], m["width"], m["point"]
	if p == 0 {
		return Draft{Parts: []Part{edged("sash", 1, l, w, AlongWidth, FreeEdge, FreeEdge, FreeEdge, FreeEdge)}, Joins: []Join{{"edge", FreeEdge, 2 * (l + w), 0}}}, nil
	}
	if 2*p >= l {
		return Draft{}, cannot("point", fmt.Sprintf("two points of %s do not go into a length of %s", cm(p), cm(l)), "a point under "+cm(l/2), "")
	}
	var s []Side
	for _, q := range []Point{{p, 0}, {l - p, 0}, {l, w / 2}, {l - p, w}, {p, w}, {0, w / 2}} {
		s = append(s, Side{Name: "edge", Role: FreeEdge, To: q})
	}
	o := Outline{Sides: s}
	x := outlined("sash", 1, o)
	x.Grain = AlongWidth
	return Draft{Parts: []Part{x}, Joins: []Join{{"edge", FreeEdge, o.Perimeter(), 0}}}, nil
}

// drawBanner draws a banner with a straight foot, a point or a swallowtail, and
// the casing of its rod.
func drawBanner(m measures) (Draft, error) {
	w, h, f := m["width"], m["drop"], m["point"]-m["swallowtail"]
	switch {
	case m["point"] > 0 && m["swallowtail"] > 0:
		return Draft{}, cannot("swallowtail", "the foot cannot be a point and a swallowtail", "one of them", "set the other to 0 cm")
	case math.Abs(f) >= h:
		return Draft{}, cannot("point", fmt.Sprintf("a foot of %s does not go into a drop of %s", cm(math.Abs(f)), cm(h)), "under "+cm(h), "")
	}
	o := rectangle(w, h)
	o.Sides[0].Name, o.Sides[0].Role, o.Sides[2].Name = "foot", Hem, "head"
	o.Sides[1].Name, o.Sides[3].Name = "side", "side"
	o.Sides[1].Role, o.Sides[3].Role = FreeEdge, FreeEdge
	if f > 0 {
		o = Outline{Sides: []Side{{Name: "foot", Role: Hem, To: Point{w / 2, 0}}, {Name: "foot", Role: Hem, To: Point{w, f}}, {Name: "side", Role: FreeEdge, To: Point{w, h}}, {Name: "head", To: Point{0, h}}, {Name: "side", Role: FreeEdge, To: Point{0, f}}}}
	} else if f < 0 {
		o = Outline{Sides: []Side{{Name: "foot", Role: Hem, To: Point{w / 2, -f}}, {Name: "foot", Role: Hem, To: Point{w, 0}}, {Name: "side", Role: FreeEdge, To: Point{w, h}}, {Name: "head", To: Point{0, h}}, {Name: "side", Role: FreeEdge, To: Point{0, 0}}}}
	}
	d := Draft{Parts: []Part{outlined("banner", 1, o)}, Joins: []Join{{"side hems", FreeEdge, along(o, "side"), 0}, {"lower hem", Hem, along(o, "foot"), 0}}}
	if c := m["casing"]; c > 0 {
		p := plainPart("rod casing", 1, w, c, "")
		p.ShellOnly = true
		d.Parts = append(d.Parts, p)
		d.Joins = append(d.Joins, Join{"casing", Seam, w, 0})
	}
	return d, nil
}

func drawGathered(m measures) (Draft, error) {
	n := int(m["parts"])
	total := m["width"] * m["fullness"]
	return Draft{Parts: []Part{edged("panel", n, total/float64(n), m["drop"], "", Hem, Seam, Seam, Seam)},
		Joins: []Join{{"side seams", Seam, float64(max(0, n-1)) * m["drop"], 0}, {"gathered edge", Seam, total, 0}, {"hem", Hem, total, 0}},
		Says:  []string{fmt.Sprintf("%s of cloth are gathered into %s.", cm(total), cm(m["width"]))}}, nil
}

func drawPouch(m measures) (Draft, error) {
	w, h, head := m["width"], m["height"], m["heading"]
	return Draft{Parts: []Part{edged("pouch", 1, 2*w, h+head, "", Seam, Seam, Hem, Seam)},
		Joins: []Join{{"side and base seams", Seam, h + w, 0}, {"heading", Hem, 2 * w, 0}},
		Says:  []string{"It is cut in one and folded at one side, so that a nap runs one way on both faces."}}, nil
}

func drawRuffle(m measures) (Draft, error) {
	total := m["edge"] * m["fullness"]
	n := int(math.Ceil(total/m["strip"] - 1e-9))
	if n > maxCount {
		return Draft{}, cannot("strip", fmt.Sprintf("%d strips would be needed", n), fmt.Sprintf("at most %d", maxCount), "make the strips longer")
	}
	return Draft{Parts: []Part{edged("strip", n, total/float64(n), m["width"], AlongEither, Hem, Seam, Seam, Seam)},
		Joins: []Join{{"strip seams", Seam, float64(n-1) * m["width"], 0}, {"gathered edge", Seam, total, 0}, {"hem", Hem, total, 0}},
		Says:  []string{fmt.Sprintf("%s of strip are gathered into %s.", cm(total), cm(m["edge"]))}}, nil
}

// drawRoundRuffle draws rings cut open once, whose inner edge falls straight.
func drawRoundRuffle(m measures) (Draft, error) {
	r, w := m["inner"], m["width"]
	ring := 2 * math.Pi * r
	n := int(math.Ceil(m["edge"]/ring - 1e-9))
	if n > maxCount {
		return Draft{}, cannot("inner", fmt.Sprintf("%d rings would be needed", n), fmt.Sprintf("at most %d", maxCount), "make the inner radius larger")
	}
	o := Outline{Sides: []Side{{Name: "hem", Role: Hem, To: Point{0, 0}, Bulge: 1}, {Name: "hem", Role: Hem, To: Point{2 * (r + w), 0}, Bulge: 1}}}
	return Draft{Parts: []Part{outlined("ring", n, o)},
		Joins: []Join{{"ring seams", Seam, float64(n-1) * w, 0}, {"inner edge", Seam, float64(n) * ring, r}, {"hem", Hem, float64(n) * 2 * math.Pi * (r + w), r + w}},
		Says:  []string{fmt.Sprintf("Each ring gives %s of edge; cut it open once. The hem is %.1f times as long as the edge it is sewn by.", cm(ring), (r+w)/r)}}, nil
}

func drawGored(m measures) (Draft, error) {
	n := m["parts"]
	top, hem, l := m["top"]/n, m["hem"]/n, m["length"]
	if top > hem {
		return Draft{}, cannot("hem", "the gores are wider above than at the hem", "a hem over "+cm(m["top"]), "")
	}
	x := (hem - top) / 2
	o := Outline{Sides: []Side{{Name: "hem", Role: Hem, To: Point{hem, 0}}, {Name: "side", Role: Seam, To: Point{hem - x, l}}, {Name: "top", Role: Seam, To: Point{x, l}}, {Name: "side", Role: Seam, To: Point{0, 0}}}}
	d := Draft{Parts: []Part{outlined("gore", int(n), o)},
		Joins: []Join{{"gore seams", Seam, n * o.Length(1), 0}, {"hem", Hem, m["hem"], 0}, {"waist seam", Seam, m["top"], 0}}}
	band(&d, m)
	return d, nil
}
