package cut

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The commands of the path language are read off a table; the reader that stood here
// before it was written out letter by letter. Both draw the same of random paths.
func TestPathCommandsDrawAsTheirTwin(t *testing.T) {
	r := rand.New(rand.NewPCG(1999, 7))
	closed := 0
	for range 20_000 {
		data := anyPath(r)
		m := matrix{0.1 + r.Float64(), 0, 0, 0.1 + r.Float64(), r.Float64(), 0}
		rings, open, wrong := pathPoints(data, m)
		wantRings, wantOpen, wantWrong := pathTwin(data, m)
		require.Equal(t, wantWrong, wrong, data)
		require.Equal(t, wantOpen, open, data)
		require.Equal(t, wantRings, rings, data)
		if wrong == "" && !open && len(rings) > 0 {
			closed++
		}
	}
	require.Greater(t, closed, 2000)
}

// anyPath is path data at random, now and then with a slip.
func anyPath(r *rand.Rand) string {
	figures := map[byte]int{'M': 2, 'L': 2, 'H': 1, 'V': 1, 'C': 6, 'S': 4, 'Q': 4, 'T': 2, 'A': 7, 'Z': 0}
	letters := []byte("LHVCSQTAZM")
	var b strings.Builder
	put := func(l byte) {
		if r.IntN(2) == 0 {
			l |= 0x20
		}
		b.WriteByte(l)
		for i := range figures[l&^0x20] {
			if l&^0x20 == 'A' && (i == 3 || i == 4) {
				b.WriteString([]string{"0", "1", " 1 "}[r.IntN(3)])
				continue
			}
			b.WriteString(" " + strconv.FormatFloat(math.Round(100*(r.Float64()*20-6))/10, 'f', -1, 64))
		}
	}
	put('M')
	for range 1 + r.IntN(6) {
		put(letters[r.IntN(len(letters))])
	}
	if r.IntN(3) > 0 {
		b.WriteString("Z")
	}
	s := b.String()
	if r.IntN(12) == 0 {
		i := r.IntN(len(s))
		s = s[:i] + string("x!9 -.e"[r.IntN(7)]) + s[i:]
	}
	return s
}

// pathTwin draws path data as rings of points in cm. open is true where the
// last ring does not come back to its beginning; wrong says what is not path
// data.
func pathTwin(data string, m matrix) (rings [][]Point, open bool, wrong string) {
	c := scanner{s: data}
	var cur, start, ctrl Point // in the drawing's units
	var ring []Point
	cmd, last := byte(0), byte(0)
	put := func(p Point) { ring = append(ring, m.of(p)) }
	end := func(closed bool) bool {
		if len(ring) > 1 {
			rings = append(rings, ring)
			if !closed && ring[0].far(ring[len(ring)-1]) > closeBy {
				return false
			}
		}
		ring = nil
		return true
	}
	curve := func(at func(t float64) Point, reach float64) {
		n := int(math.Min(200, math.Max(8, math.Ceil(math.Sqrt(reach*m.scale()/arcStep)))))
		for i := 1; i <= n; i++ {
			put(at(float64(i) / float64(n)))
		}
	}
	total := 0
	for c.more() {
		if b := c.s[c.at]; b >= 'A' && b <= 'Z' || b >= 'a' && b <= 'z' {
			cmd = b
			c.at++
		} else if cmd == 0 || cmd == 'Z' || cmd == 'z' {
			return rings, false, fmt.Sprintf("the path has %q where a command is wanted", clipped(c.s[c.at:]))
		}
		rel := cmd >= 'a'
		base := Point{}
		if rel {
			base = cur
		}
		var v [7]float64
		take := func(n int) bool {
			for i := range n {
				x, ok := c.number()
				if !ok {
					return false
				}
				v[i] = x
			}
			return true
		}
		ok := true
		upper := cmd &^ 0x20
		switch upper {
		case 'M':
			if ok = take(2); ok {
				if !end(false) {
					return rings, true, ""
				}
				cur = base.add(Point{v[0], v[1]})
				start = cur
				put(cur)
				cmd = 'L' | cmd&0x20 // further pairs are lines
			}
		case 'L':
			if ok = take(2); ok {
				cur = base.add(Point{v[0], v[1]})
				put(cur)
			}
		case 'H':
			if ok = take(1); ok {
				cur.X = base.X + v[0]
				put(cur)
			}
		case 'V':
			if ok = take(1); ok {
				cur.Y = base.Y + v[0]
				put(cur)
			}
		case 'C', 'S':
			n := 6
			if upper == 'S' {
				n = 4
			}
			if ok = take(n); ok {
				p0 := cur
				p1 := base.add(Point{v[0], v[1]})
				p2, p3 := base.add(Point{v[2], v[3]}), base.add(Point{v[4], v[5]})
				if upper == 'S' {
					p2, p3 = base.add(Point{v[0], v[1]}), base.add(Point{v[2], v[3]})
					p1 = cur
					if last == 'C' || last == 'S' {
						p1 = cur.mul(2).sub(ctrl)
					}
				}
				curve(func(t float64) Point {
					u := 1 - t
					return p0.mul(u * u * u).add(p1.mul(3 * u * u * t)).add(p2.mul(3 * u * t * t)).add(p3.mul(t * t * t))
				}, p0.far(p1)+p1.far(p2)+p2.far(p3))
				ctrl, cur = p2, p3
			}
		case 'Q', 'T':
			n := 4
			if upper == 'T' {
				n = 2
			}
			if ok = take(n); ok {
				p0 := cur
				p1, p2 := base.add(Point{v[0], v[1]}), base.add(Point{v[2], v[3]})
				if upper == 'T' {
					p2, p1 = p1, cur
					if last == 'Q' || last == 'T' {
						p1 = cur.mul(2).sub(ctrl)
					}
				}
				curve(func(t float64) Point {
					u := 1 - t
					return p0.mul(u * u).add(p1.mul(2 * u * t)).add(p2.mul(t * t))
				}, p0.far(p1)+p1.far(p2))
				ctrl, cur = p1, p2
			}
		case 'A':
			ok = take(3)
			var large, swept float64
			if ok {
				large, ok = c.flag()
			}
			if ok {
				swept, ok = c.flag()
			}
			rx, ry, turn := math.Abs(v[0]), math.Abs(v[1]), v[2]
			if ok && take(2) {
				to := base.add(Point{v[0], v[1]})
				arcTo(cur, to, rx, ry, turn*math.Pi/180, large == 1, swept == 1, m.scale(), put)
				cur = to
			} else {
				ok = false
			}
		case 'Z':
			if !end(true) {
				return rings, true, ""
			}
			cur = start
			if c.more() {
				// What follows without an M begins where this ring did.
				if b := c.s[c.at]; b != 'M' && b != 'm' && b != 'Z' && b != 'z' {
					put(cur)
				}
			}
		default:
			return rings, false, fmt.Sprintf("%q is no path command", string(cmd))
		}
		if !ok {
			return rings, false, fmt.Sprintf("the path command %q lacks its figures", string(cmd))
		}
		last = upper
		if total++; total > 4*maxPoints || len(ring) > 40*maxPoints {
			return rings, false, "the path has too many points"
		}
	}
	if !end(false) {
		return rings, true, ""
	}
	return rings, false, ""
}

// A figure too large for one is none, and neither are letters.
func TestFiguresOfAPath(t *testing.T) {
	for text, want := range map[string]float64{"12.5,3": 12.5, " -2e1": -20, "+.5": 0.5, "1.5.5": 1.5} {
		v, ok := (&scanner{s: text}).number()
		require.True(t, ok, text)
		require.Equal(t, want, v, text)
	}
	for _, text := range []string{"1e400", "x", "", "-"} {
		_, ok := (&scanner{s: text}).number()
		require.False(t, ok, text)
	}
}
