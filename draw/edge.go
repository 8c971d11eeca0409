package draw

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"tenter/fibres/fault"
	"tenter/fibres/prose"
	"tenter/fibres/units"
)

// Sheet is one layer of an edge that is cut through. A thickness of 0 is not
// known.
type Sheet struct {
	Name string
	MM   float64
}

// EdgeView is an edge cut through from the front, the cloth's right side up and
// its edge to the right.
type EdgeView struct {
	Name  string
	Kind  string // enclosed, bound, hemmed, rolled, faced, raw, overcast
	Shell Sheet
	// Lining, Interfacing and Binding may be nil; a binding not named is of the
	// shell, and so is the facing of a faced edge.
	Lining, Interfacing, Binding *Sheet
	Mounted                      bool // the lining is worked as one with the shell
	AllowanceMM                  float64
	StripMM                      float64 // width of hem, binding or facing, or of the band that stitches cover
	Topstitch                    bool
}

// edgeKinds says in words what is seen.
var edgeKinds = map[string]string{
	"enclosed": "The layers are seamed along the edge and turned, their allowances inside.",
	"bound":    "A strip of binding is folded round the cut edge.",
	"hemmed":   "The edge is turned up twice and stitched.",
	"rolled":   "The edge is rolled up into a narrow roll and stitched.",
	"faced":    "A facing is seamed along the edge and turned to the inside.",
	"raw":      "The edge is cut and left.",
	"overcast": "Thread is laid over the cut edge.",
}

// assumedMM is drawn where a thickness is not known.
const assumedMM = 0.5

// slice is a drawing of layers, in mm, y downwards from the right side.
type slice struct {
	c     *canvas
	k     float64 // units of the drawing to the mm along the cloth
	thick float64 // times that, through the cloth
	air   float64 // mm of air between layers, as drawn
	wide  float64
	sys   units.System
	left  []note
	right []note
}

// note is a word with the place it points at.
type note struct {
	at   pt
	text string
}

// spine is the middle line of a layer.
type spine struct {
	p   []pt
	dir float64 // 1 runs to the right
}

func from(x, y, dir float64) *spine { return &spine{p: []pt{{x, y}}, dir: dir} }

func (s *spine) to(x float64) *spine {
	last := s.p[len(s.p)-1]
	s.p = append(s.p, pt{x, last.y})
	return s
}

// turn goes round half a circle to a line dy further down (or up).
func (s *spine) turn(dy float64) *spine {
	last := s.p[len(s.p)-1]
	r := dy / 2
	for i := 1; i <= 14; i++ {
		a := math.Pi * float64(i) / 14
		s.p = append(s.p, pt{last.x + s.dir*math.Abs(r)*math.Sin(a), last.y + r - r*math.Cos(a)})
	}
	s.dir = -s.dir
	return s
}

// ribbon draws a layer of thickness t along a spine, moved off it to the right of
// its way by off.
func (s *slice) ribbon(sp *spine, t, off float64, class, fill string) {
	n := len(sp.p)
	var a, b []pt
	for i, p := range sp.p {
		u := sp.p[max(0, i-1)]
		w := sp.p[min(n-1, i+1)]
		l := math.Hypot(w.x-u.x, w.y-u.y)
		if l == 0 {
			continue
		}
		nx, ny := -(w.y-u.y)/l, (w.x-u.x)/l
		a = append(a, pt{(p.x + nx*(off+t/2)) * s.k, (p.y + ny*(off+t/2)) * s.k})
		b = append(b, pt{(p.x + nx*(off-t/2)) * s.k, (p.y + ny*(off-t/2)) * s.k})
	}
	for i := len(b) - 1; i >= 0; i-- {
		a = append(a, b[i])
	}
	sh := 0.0
	if fill == "currentColor" {
		sh = 0.3
	}
	s.c.path(look{class: class, fill: fill, shade: sh, stroke: 1}, a, true)
}

func (s *slice) shell(sp *spine, t, off float64) {
	s.ribbon(sp, t, off, "tn-shell", s.c.hatch("diagonal"))
}
func (s *slice) lining(sp *spine, t, off float64) {
	s.ribbon(sp, t, off, "tn-lining", s.c.hatch("dots"))
}
func (s *slice) inter(sp *spine, t, off float64) {
	s.ribbon(sp, t, off, "tn-inter", s.c.hatch("cross"))
}
func (s *slice) bind(sp *spine, t, off float64) { s.ribbon(sp, t, off, "tn-bind", "currentColor") }

// stitch is a line of stitching seen end on: the thread through the layers from
// y1 to y2.
func (s *slice) stitch(x, y1, y2 float64) {
	l := look{class: "tn-thread", stroke: 2}
	x, y1, y2 = x*s.k, y1*s.k-2, y2*s.k+2
	s.c.line(l, x, y1, x, y2)
	s.c.line(l, x-4, y1, x+4, y1)
	s.c.line(l, x-4, y2, x+4, y2)
}

func (s *slice) sayLeft(y float64, text string) {
	s.left = append(s.left, note{pt{-s.wide * s.k, y * s.k}, text})
}

func (s *slice) sayRight(x, y float64, text string) {
	s.right = append(s.right, note{pt{x * s.k, y * s.k}, text})
}

// fan letters notes one below the other and leads a line from each to its place.
func (s *slice) fan(notes []note, x float64, anchor string) {
	sort.SliceStable(notes, func(i, k int) bool { return notes[i].at.y < notes[k].at.y })
	ys := apart(notes, 17)
	for i, n := range notes {
		tail := 4.0
		if anchor == "end" {
			tail = -4
		}
		s.c.path(thin, []pt{{x - tail, ys[i]}, {x - tail*4, ys[i]}, {n.at.x, n.at.y}}, false)
		s.c.circle(look{class: "tn-thin", fill: "currentColor"}, n.at.x, n.at.y, 1.8)
		s.c.text(x, ys[i]+4, anchor, sizeSmall, false, n.text)
	}
}

// apart is where to letter notes so that each stands beside its place and no two
// are nearer than d: those that crowd are spread round their middle.
func apart(notes []note, d float64) []float64 {
	type block struct {
		mid float64
		n   int
	}
	var bs []block
	for _, n := range notes {
		bs = append(bs, block{n.at.y, 1})
		for len(bs) > 1 {
			a, b := bs[len(bs)-2], bs[len(bs)-1]
			if b.mid-a.mid >= d*float64(a.n+b.n)/2 {
				break
			}
			bs = append(bs[:len(bs)-2], block{(a.mid*float64(a.n) + b.mid*float64(b.n)) / float64(a.n+b.n), a.n + b.n})
		}
	}
	var ys []float64
	for _, b := range bs {
		for i := range b.n {
			ys = append(ys, b.mid+(float64(i)-float64(b.n-1)/2)*d)
		}
	}
	return ys
}

// Edge draws an edge cut through, to scale. Where the cloth is so thin that its
// layers would run together, the thickness alone is drawn larger, and the
// picture says how much.
func Edge(o Options, v EdgeView) (Picture, error) {
	e, err := newEdge(o, v)
	if err != nil {
		return Picture{}, err
	}
	s := e.slice
	s.draw(e.view, e.strip, e.allowance)
	s.fan(s.left, -s.wide*s.k-30, "end")
	s.fan(s.right, 34, "start")
	e.measures()
	return s.c.finish("The edge of "+named(v.Name), "Cross-section of the edge. "+edgeKinds[v.Kind], e.text())
}

// edge is an edge being drawn: its view with every thickness filled in and drawn so
// many times as large, and its strip and allowance as wide as can be seen.
type edge struct {
	*slice
	view             EdgeView
	guessed          []string // sheets whose thickness is not known
	strip, allowance float64
}

func newEdge(o Options, v EdgeView) (*edge, error) {
	if _, ok := edgeKinds[v.Kind]; !ok {
		return nil, &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("there is no picture of the edge %q", clean(v.Kind)), Expected: "enclosed, bound, hemmed, rolled, faced, raw or overcast"}
	}
	if !(v.AllowanceMM >= 0 && v.AllowanceMM <= 200) || !(v.StripMM >= 0 && v.StripMM <= 300) {
		return nil, &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("an allowance of %v mm with a strip of %v mm cannot be drawn", v.AllowanceMM, v.StripMM), Expected: "up to 200 and 300 mm"}
	}
	e := &edge{slice: &slice{c: newCanvas(o), sys: o.Units}, view: v}
	for _, p := range []**Sheet{&e.view.Lining, &e.view.Interfacing, &e.view.Binding} { // the caller's stay as they are
		if *p != nil {
			x := **p
			*p = &x
		}
	}
	e.strip, e.allowance = v.widths()
	return e, e.scale()
}

// sheets are the layers that there are.
func (v *EdgeView) sheets() []*Sheet {
	out := []*Sheet{&v.Shell}
	for _, p := range []*Sheet{v.Lining, v.Interfacing, v.Binding} {
		if p != nil {
			out = append(out, p)
		}
	}
	return out
}

// widths are how wide the strip and the allowance are drawn, so that both are seen.
func (v EdgeView) widths() (strip, allowance float64) {
	strip, allowance = v.StripMM, v.AllowanceMM
	switch v.Kind {
	case "enclosed":
		allowance = math.Max(allowance, 3)
	case "faced":
		strip, allowance = math.Max(strip, 15), math.Max(allowance, 3)
		allowance = math.Min(allowance, strip*0.6)
	case "bound":
		strip = math.Max(strip, 4)
	case "hemmed":
		strip = math.Max(strip, 6)
	case "rolled", "overcast":
		strip = math.Max(strip, 2)
	}
	return strip, allowance
}

// scale chooses how large the edge is drawn, and how many times its thickness is.
func (e *edge) scale() error {
	thinnest, sum := math.Inf(1), 0.0
	for _, p := range e.view.sheets() {
		if p.MM < 0 || math.IsNaN(p.MM) || p.MM > 50 {
			return &fault.Fault{Kind: fault.OutsideRange, What: fmt.Sprintf("%s is %v mm thick", named(p.Name), p.MM), Expected: "0 to 50 mm"}
		}
		if p.MM == 0 {
			p.MM = assumedMM
			e.guessed = append(e.guessed, named(p.Name))
		}
		thinnest = math.Min(thinnest, p.MM)
		sum += p.MM
	}
	s := e.slice
	s.wide = math.Max(math.Max(e.strip, e.allowance)*1.35+6, 16)
	if e.view.Lining != nil && !e.view.Mounted && e.view.Kind == "hemmed" {
		s.wide = e.strip + 26
	}
	s.wide = math.Max(s.wide, 4*sum)
	s.k = math.Min(26, 430/s.wide)
	s.thick = 1
	for s.thick < 8 && thinnest*s.k*s.thick < 5 {
		s.thick++
	}
	for _, p := range e.view.sheets() {
		p.MM *= s.thick
	}
	s.air = 1.5 / s.k
	return nil
}

// measures letters what is measured below the edge, the scale, and what is not to it.
func (e *edge) measures() {
	s := e.slice
	top, bottom := s.c.low.y, s.c.high.y
	s.c.text(-s.wide*s.k*0.5, top-8, "middle", sizeSmall, true, "right side of the cloth")
	y := bottom + 16
	dim := func(mmWide float64, words string) {
		s.c.across(-mmWide*s.k, 0, y)
		s.c.text(-mmWide*s.k-8, y+4, "end", sizeSmall, false, words+" "+mm(mmWide, s.sys))
		y += 20
	}
	switch e.view.Kind {
	case "enclosed":
		dim(e.allowance, "allowance")
	case "faced":
		dim(e.allowance, "allowance")
		dim(e.strip, "facing")
	case "bound":
		dim(e.strip, "binding")
	case "hemmed", "rolled":
		dim(e.strip, "hem")
	case "overcast":
		dim(e.strip, "stitches")
	}
	s.c.scaleBar(-s.wide*s.k, y+2, s.k*10, 90, s.sys)
	if s.thick > 1 {
		s.c.text(-s.wide*s.k+160, y+8, "start", sizeSmall, true, fmt.Sprintf("thickness drawn %.0f times as large", s.thick))
	}
	if len(e.guessed) > 0 {
		s.c.text(-s.wide*s.k, y+28, "start", sizeSmall, true, "thickness not known, drawn as "+mm(assumedMM, s.sys)+": "+strings.Join(e.guessed, ", "))
	}
}

// text is the edge in words.
func (e *edge) text() string {
	v := e.view
	say := func(v float64) string { return mm(v, e.sys) }
	var layers []string
	for _, p := range []struct {
		what string
		s    *Sheet
	}{{"shell", &v.Shell}, {"interfacing", v.Interfacing}, {"lining", v.Lining}, {"binding", v.Binding}} {
		if p.s != nil {
			layers = append(layers, fmt.Sprintf("%s (%s)", p.what, say(p.s.MM/e.thick)))
		}
	}
	text := fmt.Sprintf("%s, the edge cut through. %s From the right side in: %s.", prose.Upper(named(v.Name)), edgeKinds[v.Kind], strings.Join(layers, ", "))
	switch v.Kind {
	case "enclosed":
		text += " The allowances inside are " + say(e.allowance) + " wide."
	case "bound":
		text += " The binding shows " + say(e.strip) + " on each side."
	case "hemmed", "rolled":
		text += " The hem is " + say(e.strip) + " wide."
	case "faced":
		text += " The facing is " + say(e.strip) + " wide, the allowances in it " + say(e.allowance) + "."
	case "overcast":
		text += " The stitches reach " + say(e.strip) + " into the cloth."
	}
	if v.Topstitch {
		text += " A line of topstitching holds the edge."
	}
	if len(e.guessed) > 0 {
		text += fmt.Sprintf(" How thick %s is, is not known; it is drawn %s thick.", strings.Join(e.guessed, " and "), say(assumedMM))
	}
	if e.thick > 1 {
		text += fmt.Sprintf(" The thickness is drawn %.0f times as large as the widths.", e.thick)
	}
	return text
}

// over is the y of the middle of a sheet laid below what ends at y, and where it
// ends itself.
func (s *slice) below(y, t float64) (mid, end float64) {
	if y > 0 {
		y += s.air
	}
	return y + t/2, y + t
}

func (s *slice) draw(v EdgeView, strip, allowance float64) {
	switch v.Kind {
	case "enclosed", "faced":
		s.turned(v, strip, allowance)
	case "bound":
		s.bound(v, strip)
	case "hemmed", "rolled":
		s.hemmed(v, strip)
	default:
		s.flat(v, strip)
	}
}

// turned is two layers seamed along the edge and turned through: a lining all
// over, or a facing as wide as the strip.
func (s *slice) turned(v EdgeView, strip, allowance float64) {
	under, lay, word, its := v.Lining, s.lining, "lining", "lining's"
	if v.Kind == "faced" || under == nil {
		under, lay, word, its = &v.Shell, s.shell, "second layer of the shell", "second layer's"
	}
	faced := v.Kind == "faced"
	if faced {
		word, its = "facing", "facing's"
	}
	tS, tU := v.Shell.MM, under.MM
	body, end := s.below(0, tS)
	interY := 0.0
	if v.Interfacing != nil {
		interY, end = s.below(end, v.Interfacing.MM)
	}
	fold, end := s.below(end, tS)
	foldU, end := s.below(end, tU)
	bodyU, end := s.below(end, tU)
	reach := math.Max((fold-body)/2+tS/2, (bodyU-foldU)/2+tU/2) // of the outer turn

	s.shell(from(-s.wide, body, 1).to(-reach).turn(fold-body).to(-allowance), tS, 0)
	if v.Interfacing != nil {
		start := -math.Min(s.wide, allowance*1.3+3)
		s.inter(from(start, interY, 1).to(-reach-0.3), v.Interfacing.MM, 0)
		s.sayLeft2(start, interY, "interfacing")
	}
	startU := -s.wide
	if faced {
		startU = -strip
	}
	lay(from(-allowance, foldU, 1).to(-reach-0.4).turn(bodyU-foldU).to(startU), tU, 0)
	s.sayLeft(body, "shell")
	if faced {
		s.sayLeft2(startU, bodyU, word)
		s.liningBehindFacing(v, strip, bodyU-tU/2, end)
	} else {
		s.sayLeft(bodyU, word)
	}
	// The seam goes through the two allowances where they turn.
	s.stitch(-reach-0.6, fold-tS/2, foldU+tU/2)
	s.sayRight(-reach-0.6, (fold+foldU)/2, "seam, turned to the edge")
	s.sayRight(-allowance*0.6, fold, "shell's allowance")
	s.sayRight(-allowance*0.75, foldU, its+" allowance")
	if v.Topstitch {
		x := -math.Max(allowance*0.5, reach+2)
		s.stitch(x, 0, end)
		s.sayRight(x, 0, "topstitching")
	}
	if faced {
		x := -math.Min(allowance*0.85, reach+2.5)
		s.stitch(x, fold-tS/2, bodyU+tU/2)
		s.sayRight(x, bodyU, "understitching holds the facing back")
	}
}

// liningBehindFacing draws a lining that is sewn to the inner edge of a facing; the
// layers so far end at depth end.
func (s *slice) liningBehindFacing(v EdgeView, strip, facing, end float64) {
	if v.Lining == nil {
		return
	}
	mid, _ := s.below(end, v.Lining.MM)
	s.lining(from(-s.wide, mid, 1).to(-strip+math.Min(10, strip*0.4)), v.Lining.MM, 0)
	s.sayLeft(mid, "lining")
	s.stitch(-strip+math.Min(4, strip*0.2), facing, mid+v.Lining.MM/2)
}

// sayLeft2 points at a place that does not reach the left end.
func (s *slice) sayLeft2(x, y float64, text string) {
	s.left = append(s.left, note{pt{x * s.k, y * s.k}, text})
}

// bound is a raw edge in a folded strip.
func (s *slice) bound(v EdgeView, strip float64) {
	b := v.Shell
	if v.Binding != nil {
		b = *v.Binding
	}
	tB := b.MM
	raw := -tB - 2*s.air
	y := 0.0
	type flat struct {
		mid, t float64
		lay    func(*spine, float64, float64)
		word   string
	}
	var stack []flat
	add := func(sh *Sheet, lay func(*spine, float64, float64), word string) {
		if sh == nil {
			return
		}
		var mid float64
		mid, y = s.below(y, sh.MM)
		stack = append(stack, flat{mid, sh.MM, lay, word})
	}
	add(&v.Shell, s.shell, "shell")
	add(v.Interfacing, s.inter, "interfacing")
	add(v.Lining, s.lining, "lining")
	for _, f := range stack {
		start := -s.wide
		if f.word == "interfacing" {
			start = -math.Min(s.wide, strip*1.3+3)
		}
		f.lay(from(start, f.mid, 1).to(raw), f.t, 0)
		s.sayLeft2(start, f.mid, f.word)
	}
	inTop, inBottom := -s.air-tB/2, y+s.air+tB/2
	outTop, outBottom := inTop-tB-s.air, inBottom+tB+s.air
	tuck := strip * 0.3
	r := (tB + s.air) / 2
	// Round the edge: a quarter turn, straight down the cut edge, a quarter turn.
	h := (outBottom - outTop) / 2
	q := math.Min(h, tB*1.2+s.air)
	sp := from(-tuck, inTop, -1).to(-strip + r + tB/2).turn(-2 * r)
	for i := range 9 {
		a := math.Pi / 2 * float64(i) / 8
		sp.p = append(sp.p, pt{-tB/2 - q + q*math.Sin(a), outTop + q - q*math.Cos(a)})
	}
	for i := range 9 {
		a := math.Pi / 2 * float64(i) / 8
		sp.p = append(sp.p, pt{-tB/2 - q + q*math.Cos(a), outBottom - q + q*math.Sin(a)})
	}
	sp.dir = -1
	sp.to(-strip + r + tB/2).turn(-2 * r).to(-tuck)
	s.bind(sp, tB, 0)
	s.stitch(-strip*0.82, outTop-tB/2, outBottom+tB/2)
	s.sayRight(-strip*0.5, outTop, "binding")
	s.sayRight(-tuck-0.2, inBottom, "its own edge, turned under")
	s.sayRight(-strip*0.82, outBottom+tB/2, "stitching through all")
	s.sayRight(raw, y/2, "cut edge")
}

// hemmed is an edge turned up twice, wide or rolled narrow.
func (s *slice) hemmed(v EdgeView, strip float64) {
	type sheet struct {
		t, off float64
		lay    func(*spine, float64, float64)
		word   string
	}
	var mount []sheet
	total := 0.0
	add := func(sh *Sheet, lay func(*spine, float64, float64), word string) {
		if sh != nil {
			mount = append(mount, sheet{t: sh.MM, lay: lay, word: word})
			total += sh.MM
		}
	}
	add(&v.Shell, s.shell, "shell")
	add(v.Interfacing, s.inter, "interfacing")
	if v.Mounted {
		add(v.Lining, s.lining, "lining, mounted")
	}
	level := total + 2*s.air
	big := level // radius of the outer turn: it spans two levels
	y0 := total / 2
	inner := -strip + level/2 + total/2
	raw := -2*big - total/2
	if raw < inner+0.5 {
		raw = (inner + -big) / 2
	}
	path := func() *spine {
		return from(-s.wide, y0, 1).to(-big - total/2).turn(2 * level).to(inner).turn(-level).to(raw)
	}
	at := -total / 2
	for i := range mount {
		mount[i].off = at + mount[i].t/2
		at += mount[i].t
		m := mount[i]
		m.lay(path(), m.t, m.off)
		s.sayLeft(y0+m.off, m.word)
	}
	bottom := y0 + 2*level + total/2
	x := -strip * 0.86
	s.stitch(x, 0, bottom)
	s.sayRight(x, 0, "stitching")
	s.sayRight(raw, y0+level, "cut edge, turned in")
	s.sayRight(-big*0.3, y0+level*1.2, "fold of the hem")
	if v.Lining != nil && !v.Mounted {
		// A lining that hangs free ends above, in its own narrow hem.
		t := v.Lining.MM
		lev := t + s.air
		y := bottom + 4*s.air + t/2
		endX := -strip * 0.55
		sp := from(-s.wide, y, 1).to(endX - lev).turn(2 * lev).to(endX - 9 + lev/2).turn(-lev).to(endX - 2*lev - t)
		s.lining(sp, t, 0)
		s.stitch(endX-7.5, y-t/2, y+2*lev+t/2)
		s.sayLeft(y, "lining, hanging free")
		s.sayRight(endX-lev*0.3, y+lev, "lining's own hem")
	}
}

// flat is a cut edge, bare or with thread over it.
func (s *slice) flat(v EdgeView, strip float64) {
	y := 0.0
	add := func(sh *Sheet, lay func(*spine, float64, float64), word string) {
		if sh == nil {
			return
		}
		var mid float64
		mid, y = s.below(y, sh.MM)
		lay(from(-s.wide, mid, 1).to(0), sh.MM, 0)
		s.sayLeft(mid, word)
	}
	add(&v.Shell, s.shell, "shell")
	add(v.Interfacing, s.inter, "interfacing")
	add(v.Lining, s.lining, "lining")
	if v.Kind == "overcast" {
		pad := 3 / s.k
		s.c.rect(look{class: "tn-thread", stroke: 2}, -strip*s.k, (-pad)*s.k, (strip+pad)*s.k, (y+2*pad)*s.k, 3)
		s.sayRight(pad, y/2, "thread over the edge")
		return
	}
	// Ends of yarn at the cut.
	for i := range 4 {
		h := y * (float64(i) + 0.5) / 4
		s.c.line(inkOn(0.9), 0, h*s.k, (0.7+0.5*float64(i%2))*s.k, (h+0.12*float64(1-i%3))*s.k)
	}
	s.sayRight(-0.6, y/2, "cut edge")
	x := -math.Min(5, s.wide*0.3)
	s.stitch(x, 0, y)
	s.sayRight(x, y, "stay-stitching, "+mm(5, s.sys)+" in")
}
