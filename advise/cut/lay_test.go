package cut

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sort"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// Parts that may be turned, across the grain or end for end, never take more than the
// same parts that may not.
func TestTurningIsNeverWorse(t *testing.T) {
	for _, x := range []struct {
		part  Part
		width float64
		want  float64
	}{
		{Part{Name: "a", Count: 6, Width: 80, Height: 120}, 125, 480},
		{Part{Name: "b", Count: 3, Width: 70, Height: 110}, 115, 210},
		{Part{Name: "c", Count: 1, Width: 30, Height: 120}, 140, 30},
	} {
		parts := drawParts([]Part{x.part}, allowances{})
		out, err := lay(parts, Layer{CrossGrain: true}, x.width, 0, 0, fullEffort)
		require.NoError(t, err)
		require.InDelta(t, x.want, out.length, 1e-6, "%s, by hand: all of them turned", x.part.Name)
	}
	r := rand.New(rand.NewPCG(8, 80))
	for range 24 {
		parts := drawParts(anyParts(r, 1+r.IntN(6)), allowances{1, 1, 1})
		width, across, along := 120+60*r.Float64(), 0.05*r.Float64(), 0.08*r.Float64()
		long := func(l Layer) float64 {
			out, err := lay(parts, l, width, across, along, Little)
			if err != nil {
				return math.Inf(1)
			}
			return out.length
		}
		oneWay, anyWay := long(Layer{OneWay: true}), long(Layer{})
		require.LessOrEqual(t, anyWay, oneWay+2*tolerance, "end for end")
		require.LessOrEqual(t, long(Layer{CrossGrain: true, OneWay: true}), oneWay+2*tolerance, "across the grain, all one way")
		require.LessOrEqual(t, long(Layer{CrossGrain: true}), anyWay+2*tolerance, "across the grain")
	}
}

// anyParts are random parts of every kind of outline.
func anyParts(r *rand.Rand, n int) []Part {
	f := func(lo, hi float64) float64 { return math.Round(10*(lo+(hi-lo)*r.Float64())) / 10 }
	var out []Part
	for i := range n {
		var p Part
		switch r.IntN(7) {
		case 0, 1, 2:
			p = Part{Width: units.Length(f(5, 70)), Height: units.Length(f(5, 120))}
		case 3:
			p = outlined("", 1, triangleOutline(f(30, 60), f(20, 90), f(0, 8)))
		case 4:
			p = outlined("", 1, sectorOutline(f(0, 15), f(20, 55), f(0.5, 3)))
		case 5:
			o, err := hoodOutline(f(30, 45), f(24, 34), f(15, 24), f(5, 15), f(2, 10))
			if err != nil {
				panic(err)
			}
			p = outlined("", 1, o)
		case 6: // a star of any number of points: hollows between them
			var pts []Point
			k := 3 + r.IntN(6)
			for c := range 2 * k {
				d := f(15, 30)
				if c%2 == 1 {
					d = f(8, 15)
				}
				pts = append(pts, Point{d, 0}.turn(float64(c)*math.Pi/float64(k)))
			}
			p = outlined("", 1, fromPoints(pts))
		}
		p.Name, p.Count = fmt.Sprint("part ", i), 1+r.IntN(3)
		p.Grain = []Grain{"", "", "", AlongWidth, AlongEither, OnBias}[r.IntN(6)]
		p.Same = r.IntN(4) == 0
		out = append(out, p)
	}
	return out
}

// inside are the stretches of the line x = at (upright) or y = at (level) that lie
// in a polygon.
func inside(pts []Point, at float64, upright bool) (out [][2]float64) {
	var cuts []float64
	for i, a := range pts {
		b := pts[(i+1)%len(pts)]
		if !upright {
			a, b = Point{a.Y, a.X}, Point{b.Y, b.X}
		}
		if (a.X <= at) != (b.X <= at) {
			cuts = append(cuts, a.Y+(b.Y-a.Y)*(at-a.X)/(b.X-a.X))
		}
	}
	sort.Float64s(cuts)
	for i := 0; i+1 < len(cuts); i += 2 {
		out = append(out, [2]float64{cuts[i], cuts[i+1]})
	}
	return out
}

// sound checks a layout by lines laid across it at random, both ways: no point of
// the cloth is in two parts, and none is off the cloth. Parts keep grain and nap.
func sound(t *testing.T, l layout, layer Layer, parts []sized, r *rand.Rand) {
	t.Helper()
	var shapes [][]Point
	for i, b := range l.blanks {
		at := l.at[i]
		w := b.ways[at.way]
		var pts []Point
		for _, p := range w.pts {
			pts = append(pts, p.add(Point{at.x, at.y}))
		}
		shapes = append(shapes, pts)
		low, high := bounds(pts)
		require.True(t, low.X > -2*tolerance && high.X < l.width+2*tolerance && low.Y > -2*tolerance && high.Y < l.length+2*tolerance, "off the cloth: %v %v", low, high)
		if b.fold {
			require.InDelta(t, 0, at.x, tolerance)
		}
		// Grain and nap.
		p := parts[b.part]
		_, base := p.base()
		turn := (w.quarters - base) & 3
		straight := len(p.ways(Layer{OneWay: layer.OneWay, Name: "shell"}, l.width, 0, 0)) > 0
		if layer.OneWay {
			require.Less(t, turn, 2, "turned end for end")
		}
		if turn&1 == 1 && !layer.CrossGrain && p.Grain != AlongEither {
			require.True(t, straight, "it goes on the cloth")
			own := newWay(turned(must(p.base()), base, false), 0, false)
			require.Greater(t, own.w, l.width*0.8, "turned only where its own way does not go on")
		}
		if l.repeatY > 0 {
			require.InDelta(t, math.Round(at.y/l.repeatY)*l.repeatY, at.y, 2*tolerance, "the figure along")
		}
		if l.repeatX > 0 && !b.fold {
			require.InDelta(t, math.Round(at.x/l.repeatX)*l.repeatX, at.x, 2*tolerance, "the figure across")
		}
	}
	for range 120 {
		upright := r.IntN(2) == 0
		at := r.Float64() * l.width
		if !upright {
			at = r.Float64() * l.length
		}
		type stretch struct {
			from, to float64
			part     int
		}
		var all []stretch
		for i, s := range shapes {
			for _, x := range inside(s, at, upright) {
				all = append(all, stretch{x[0], x[1], i})
			}
		}
		sort.Slice(all, func(i, j int) bool { return all[i].from < all[j].from })
		end := math.Inf(-1)
		for _, x := range all {
			require.LessOrEqual(t, end, x.from+0.02, "parts overlap on the line at %v, upright %v", at, upright)
			end = math.Max(end, x.to)
		}
	}
	require.LessOrEqual(t, l.bound, l.length+tolerance, "no layout is under the lower bound")
	require.True(t, l.waste() >= 0 && l.waste() < 1)
}

func must(p []Point, _ int) []Point { return p }

func TestLayoutsAreSound(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 1921))
	folded, repeated := 0, 0
	rounds := 90
	if testing.Short() {
		rounds = 45
	}
	for i := range rounds {
		parts := drawParts(anyParts(r, 1+r.IntN(7)), allowances{1.2 * float64(r.IntN(2)), 3, 0.6})
		l := Layer{Name: "shell", OneWay: r.IntN(2) == 0, CrossGrain: r.IntN(3) == 0, Folded: r.IntN(3) == 0}
		if r.IntN(4) == 0 {
			l.Repeat = units.Length(5 + 20*r.Float64())
		}
		if r.IntN(5) == 0 {
			l.RepeatAcross = units.Length(2 + 10*r.Float64())
		}
		width := 130 + 170*r.Float64()
		out, err := lay(parts, l, width, 0.05*r.Float64(), 0.1*r.Float64(), 3000)
		if err != nil {
			require.NotEmpty(t, fault.All(err)[0].Expected)
			continue
		}
		t.Run(fmt.Sprint(i), func(t *testing.T) {
			sound(t, out, l, parts, r)
			for k, p := range parts {
				require.Equal(t, p.Count, out.copies(k, false)+out.copies(k, true), "%s", p.Name)
			}
		})
		if l.Folded {
			folded++
		}
		if l.Repeat > 0 {
			repeated++
		}
	}
	require.Greater(t, folded, rounds/15)
	require.Greater(t, repeated, rounds/15)
}

func TestPartTurnedFaceDownInPairs(t *testing.T) {
	o, err := hoodOutline(38, 30, 26, 14, 8)
	require.NoError(t, err)
	hood := outlined("hood", 4, o)
	for _, same := range []bool{false, true} {
		hood.Same = same
		out, err := lay(drawParts([]Part{hood}, allowances{1, 1, 1}), Layer{}, 150, 0, 0, 2000)
		require.NoError(t, err)
		down := 0
		for i, b := range out.blanks {
			if b.ways[out.at[i].way].mirror {
				down++
			}
		}
		if same {
			require.Zero(t, down)
		} else {
			require.Equal(t, 2, down, "left and right sides")
		}
	}
}

func TestHalfOnTheFold(t *testing.T) {
	// One even part of 100 cm lies half on the fold of a cloth 120 cm wide.
	back := Part{Name: "back", Count: 1, Width: 100, Height: 70}
	parts := drawParts([]Part{back}, allowances{1, 1, 1})
	out, err := lay(parts, Layer{Folded: true}, 120, 0, 0, 1000)
	require.NoError(t, err)
	require.Len(t, out.blanks, 1)
	require.True(t, out.blanks[0].fold)
	require.InDelta(t, 51, out.blanks[0].ways[0].w, 1e-9, "half of 102")
	require.InDelta(t, 72, out.length, 1e-9)
	// An uneven one is cut through both layers, and one copy is spare.
	o, err := hoodOutline(38, 30, 26, 14, 8)
	require.NoError(t, err)
	out, err = lay(drawParts([]Part{outlined("hood", 1, o)}, allowances{1, 1, 1}), Layer{Folded: true}, 120, 0, 0, 1000)
	require.NoError(t, err)
	require.Equal(t, []int{0}, out.spare)
}

// A pair may lie on the fold one after the other or be cut through both layers, an odd part
// on the fold or through both with one to spare: whichever is shorter. By hand on 60 cm of
// folded cloth: two of 49 × 50 on the fold, 24.5 wide, end to end, a third below them 47
// long, beside them a strip of 144 × 15, turned: 147. Through both layers the pair leaves no room
// for the strip.
func TestFoldIsUsedWhereThatIsShorter(t *testing.T) {
	parts := drawParts([]Part{{Name: "side", Count: 2, Width: 49, Height: 50}, {Name: "strip", Count: 1, Width: 144, Height: 15}, {Name: "pocket", Count: 1, Width: 33, Height: 47}}, allowances{})
	out, err := lay(parts, Layer{Folded: true}, 120, 0, 0, 1000)
	require.NoError(t, err)
	require.InDelta(t, 147, out.length, 0.01)
	// Two 59 wide and 10 long, one of each: 20 on the fold of 60 cm, or 10 through both layers
	// with one of each to spare.
	band := []Part{{Name: "a", Count: 1, Width: 29, Height: 100}, {Name: "b", Count: 1, Width: 30, Height: 100}}
	out, err = lay(drawParts(band, allowances{}), Layer{Folded: true}, 120, 0, 0, 1000)
	require.NoError(t, err)
	require.InDelta(t, 100, out.length, 0.01)
	require.NotEmpty(t, out.spare)
}

func TestThinningKeepsTheShape(t *testing.T) {
	o := sectorOutline(14, 110, math.Pi/2)
	pts, _ := o.Polygon()
	few := thin(pts, 0.05)
	require.Less(t, len(few), len(pts)*2/3)
	for _, p := range pts {
		d := math.Inf(1)
		for i := range few {
			d = math.Min(d, fromLine(p, few[i], few[(i+1)%len(few)]))
		}
		require.LessOrEqual(t, d, 0.051)
	}
}
