package cut

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
)

// scanner reads the small language of path data.
type scanner struct {
	s  string
	at int
}

func (c *scanner) blanks() {
	for c.at < len(c.s) && strings.IndexByte(" ,\t\n\r\f", c.s[c.at]) >= 0 {
		c.at++
	}
}

func (c *scanner) more() bool { c.blanks(); return c.at < len(c.s) }

// number reads one figure; a second point or a sign begins the next.
func (c *scanner) number() (float64, bool) {
	c.blanks()
	start, dot, exp := c.at, false, false
	for c.at < len(c.s) {
		b := c.s[c.at]
		switch {
		case b >= '0' && b <= '9':
		case (b == '+' || b == '-') && (c.at == start || c.s[c.at-1] == 'e' || c.s[c.at-1] == 'E'):
		case b == '.' && !dot && !exp:
			dot = true
		case (b == 'e' || b == 'E') && !exp && c.at > start:
			exp = true
		default:
			goto done
		}
		c.at++
	}
done:
	v, err := strconv.ParseFloat(c.s[start:c.at], 64)
	return v, err == nil && !math.IsInf(v, 0) && !math.IsNaN(v)
}

// flag reads one of the two flags of an arc, which may stand without blanks.
func (c *scanner) flag() (float64, bool) {
	c.blanks()
	if c.at < len(c.s) && (c.s[c.at] == '0' || c.s[c.at] == '1') {
		c.at++
		return float64(c.s[c.at-1] - '0'), true
	}
	return 0, false
}

// arcPoints is how many lines an arc is drawn with.
func arcPoints(r, angle float64) int {
	if !(r > arcStep) {
		return 4
	}
	n := math.Abs(angle) / (2 * math.Acos(1-arcStep/r))
	return int(math.Min(400, math.Max(4, math.Ceil(n))))
}

// path draws path data as rings of points in cm. Places are in the drawing's units
// until they are put on a ring.
type path struct {
	scanner
	m     matrix
	rings [][]Point
	ring  []Point
	open  bool // a ring does not come back to its beginning

	pen, start, ctrl Point
	cmd, last        byte // the command as it is written, and the one before in capitals
}

// pathPoints draws path data as rings of points in cm. open is true where the
// last ring does not come back to its beginning; wrong says what is not path
// data.
func pathPoints(data string, m matrix) (rings [][]Point, open bool, wrong string) {
	p := &path{scanner: scanner{s: data}, m: m}
	for total := 1; p.more(); total++ {
		if wrong = p.step(); wrong != "" {
			return p.rings, false, wrong
		}
		if p.open {
			return p.rings, true, ""
		}
		if total > 4*maxPoints || len(p.ring) > 40*maxPoints {
			return p.rings, false, "the path has too many points"
		}
	}
	p.end(false)
	return p.rings, p.open, ""
}

// pathCommand is a letter of the path language whose figures are places: how many
// it takes, and what it draws. The places are absolute when draw is called.
type pathCommand struct {
	points int
	draw   func(p *path, at []Point)
}

var pathCommands = map[byte]pathCommand{
	'M': {1, (*path).moveTo},
	'L': {1, func(p *path, at []Point) { p.lineTo(at[0]) }},
	'C': {3, func(p *path, at []Point) { p.cubic(at[0], at[1], at[2]) }},
	'S': {2, func(p *path, at []Point) { p.cubic(p.mirrored('C', 'S'), at[0], at[1]) }},
	'Q': {2, func(p *path, at []Point) { p.quadratic(at[0], at[1]) }},
	'T': {1, func(p *path, at []Point) { p.quadratic(p.mirrored('Q', 'T'), at[0]) }},
	'Z': {0, func(p *path, _ []Point) { p.close() }},
}

// step reads one command with its figures and draws it.
func (p *path) step() (wrong string) {
	if b := p.s[p.at]; b >= 'A' && b <= 'Z' || b >= 'a' && b <= 'z' {
		p.cmd = b
		p.at++
	} else if p.cmd == 0 || p.cmd == 'Z' || p.cmd == 'z' {
		return fmt.Sprintf("the path has %q where a command is wanted", clipped(p.s[p.at:]))
	}
	letter, base := p.cmd&^0x20, Point{}
	if p.cmd >= 'a' { // from the pen on
		base = p.pen
	}
	ok := false
	switch letter {
	case 'H', 'V', 'A': // a lone figure; flags that stand without blanks
		ok = p.lone(letter, base)
	default:
		c, known := pathCommands[letter]
		if !known {
			return fmt.Sprintf("%q is no path command", string(p.cmd))
		}
		var at []Point
		if at, ok = p.points(c.points, base); ok {
			c.draw(p, at)
		}
	}
	if !ok {
		return fmt.Sprintf("the path command %q lacks its figures", string(p.cmd))
	}
	p.last = letter
	return ""
}

// points reads n places.
func (p *path) points(n int, base Point) (at []Point, ok bool) {
	for range n {
		x, okX := p.number()
		if !okX {
			return nil, false
		}
		y, okY := p.number()
		if !okY {
			return nil, false
		}
		at = append(at, base.add(Point{x, y}))
	}
	return at, true
}

// lone reads and draws the commands whose figures are not places alone.
func (p *path) lone(letter byte, base Point) bool {
	if letter == 'A' {
		return p.arc(base)
	}
	v, ok := p.number()
	if !ok {
		return false
	}
	to := p.pen
	if letter == 'H' {
		to.X = base.X + v
	} else {
		to.Y = base.Y + v
	}
	p.lineTo(to)
	return true
}

// arc reads and draws an elliptical arc.
func (p *path) arc(base Point) bool {
	var radii [3]float64 // the third is how far the ellipse is turned
	var flags [2]float64
	var ok bool
	for i := range radii {
		if radii[i], ok = p.number(); !ok {
			return false
		}
	}
	for i := range flags {
		if flags[i], ok = p.flag(); !ok {
			return false
		}
	}
	at, ok := p.points(1, base)
	if !ok {
		return false
	}
	arcTo(p.pen, at[0], math.Abs(radii[0]), math.Abs(radii[1]), radii[2]*math.Pi/180, flags[0] == 1, flags[1] == 1, p.m.scale(), p.put)
	p.pen = at[0]
	return true
}

func (p *path) put(at Point) { p.ring = append(p.ring, p.m.of(at)) }

func (p *path) lineTo(to Point) {
	p.pen = to
	p.put(to)
}

// moveTo begins a ring; further places are lines.
func (p *path) moveTo(at []Point) {
	if p.end(false); p.open {
		return
	}
	p.start = at[0]
	p.lineTo(at[0])
	p.cmd = 'L' | p.cmd&0x20
}

// close ends a ring. What follows without an M begins where it did.
func (p *path) close() {
	if p.end(true); p.open {
		return
	}
	p.pen = p.start
	if p.more() && !strings.ContainsRune("MmZz", rune(p.s[p.at])) {
		p.put(p.pen)
	}
}

// end keeps the ring; it is open where it does not come back to its beginning.
func (p *path) end(closed bool) {
	if len(p.ring) > 1 {
		p.rings = append(p.rings, p.ring)
		p.open = !closed && p.ring[0].far(p.ring[len(p.ring)-1]) > closeBy
	}
	if !p.open {
		p.ring = nil
	}
}

// mirrored is the control place of a curve that goes on smoothly from one of the
// same kind; else the pen.
func (p *path) mirrored(kinds ...byte) Point {
	if slices.Contains(kinds, p.last) {
		return p.pen.mul(2).sub(p.ctrl)
	}
	return p.pen
}

func (p *path) cubic(p1, p2, p3 Point) {
	p0 := p.pen
	p.curve(func(t float64) Point {
		u := 1 - t
		return p0.mul(u * u * u).add(p1.mul(3 * u * u * t)).add(p2.mul(3 * u * t * t)).add(p3.mul(t * t * t))
	}, p0.far(p1)+p1.far(p2)+p2.far(p3))
	p.ctrl, p.pen = p2, p3
}

func (p *path) quadratic(p1, p2 Point) {
	p0 := p.pen
	p.curve(func(t float64) Point {
		u := 1 - t
		return p0.mul(u * u).add(p1.mul(2 * u * t)).add(p2.mul(t * t))
	}, p0.far(p1)+p1.far(p2))
	p.ctrl, p.pen = p1, p2
}

// curve draws a curve by so many lines that none is far off it; reach is the length
// of its control lines.
func (p *path) curve(at func(t float64) Point, reach float64) {
	n := int(math.Min(200, math.Max(8, math.Ceil(math.Sqrt(reach*p.m.scale()/arcStep)))))
	for i := 1; i <= n; i++ {
		p.put(at(float64(i) / float64(n)))
	}
}

// arcTo draws an elliptical arc as the format defines it.
func arcTo(from, to Point, rx, ry, turn float64, large, swept bool, scale float64, put func(Point)) {
	if rx == 0 || ry == 0 || from == to {
		put(to)
		return
	}
	d := from.sub(to).mul(0.5).turn(-turn)
	if l := d.X*d.X/(rx*rx) + d.Y*d.Y/(ry*ry); l > 1 {
		rx, ry = rx*math.Sqrt(l), ry*math.Sqrt(l)
	}
	k := (rx*rx*ry*ry - rx*rx*d.Y*d.Y - ry*ry*d.X*d.X) / (rx*rx*d.Y*d.Y + ry*ry*d.X*d.X)
	k = math.Sqrt(math.Max(0, k))
	if large == swept {
		k = -k
	}
	c := Point{k * rx * d.Y / ry, -k * ry * d.X / rx}
	mid := from.add(to).mul(0.5).add(c.turn(turn))
	a0 := math.Atan2((d.Y-c.Y)/ry, (d.X-c.X)/rx)
	a1 := math.Atan2((-d.Y-c.Y)/ry, (-d.X-c.X)/rx)
	s := a1 - a0
	if swept && s < 0 {
		s += 2 * math.Pi
	} else if !swept && s > 0 {
		s -= 2 * math.Pi
	}
	n := arcPoints(math.Max(rx, ry)*scale, s)
	for i := 1; i < n; i++ {
		a := a0 + s*float64(i)/float64(n)
		put(mid.add(Point{rx * math.Cos(a), ry * math.Sin(a)}.turn(turn)))
	}
	put(to)
}

// clipped shortens a text for a message.
func clipped(s string) string {
	if len(s) > 24 {
		return strings.ToValidUTF8(s[:24], "") + "…"
	}
	return s
}
