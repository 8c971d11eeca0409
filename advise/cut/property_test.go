package cut

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sort"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/units"
)

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
		require.True(t, low.X > -2*near && high.X < l.width+2*near && low.Y > -2*near && high.Y < l.length+2*near, "off the cloth: %v %v", low, high)
		if b.fold {
			require.InDelta(t, 0, at.x, near)
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
			require.InDelta(t, math.Round(at.y/l.repeatY)*l.repeatY, at.y, 2*near, "the figure along")
		}
		if l.repeatX > 0 && !b.fold {
			require.InDelta(t, math.Round(at.x/l.repeatX)*l.repeatX, at.x, 2*near, "the figure across")
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
	require.LessOrEqual(t, l.bound, l.length+near, "no layout is under the lower bound")
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

func TestTrianglesLieHeadToTail(t *testing.T) {
	flag := outlined("flag", 20, triangleOutline(20, 24, 0))
	parts := drawParts([]Part{flag}, allowances{1, 1, 1})
	any, err := lay(parts, Layer{}, 150, 0, 0, fullEffort)
	require.NoError(t, err)
	nap, err := lay(parts, Layer{OneWay: true}, 150, 0, 0, fullEffort)
	require.NoError(t, err)
	require.InDelta(t, 2*26.4, any.length, 1, "two rows, their points between each other")
	require.Greater(t, nap.length, any.length+5, "all one way they leave gaps")
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

// TestCutLineShrunkAgain: the cut line of any part, shrunk as its cloth shrinks,
// stands its allowance outside the finished outline and is as wide and long as
// that with the allowances.
func TestCutLineShrunkAgain(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for range 60 {
		for _, p := range anyParts(r, 3) {
			p.Grain = ""
			across, along := 0.08*r.Float64(), 0.12*r.Float64()
			s := drawParts([]Part{p}, allowances{1.2, 1.2, 1.2})[0]
			w := s.ways(Layer{OneWay: true}, math.Inf(1), across, along)[0]
			require.InDelta(t, float64(p.Width)+2.4, w.w*(1-across), 1e-6)
			require.InDelta(t, float64(p.Height)+2.4, w.h*(1-along), 1e-6)
			if p.Outline == nil || s.rough {
				continue
			}
			seam, _ := p.Outline.Polygon()
			for _, q := range w.pts {
				back := Point{q.X*(1-across) - 1.2, q.Y*(1-along) - 1.2}
				d := math.Inf(1)
				for i := range seam {
					d = math.Min(d, fromLine(back, seam[i], seam[(i+1)%len(seam)]))
				}
				require.Greater(t, d, 1.2-0.02, "never less than the allowance")
				require.Less(t, d, 1.2*2+0.01, "sharp corners are trimmed")
			}
		}
	}
}

func TestPlanIsInOrderAndRepeatable(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 9))
	for range 5 {
		parts := anyParts(r, 1+r.IntN(4))
		l := Layer{Name: "shell", Cloth: "cotton", Warp: fibres.Figure(fibres.ShrinkWarp, 1, 4, 9, fibres.Practice, "", "practice"), Weft: fibres.Figure(fibres.ShrinkWeft, 0, 2, 5, fibres.Practice, "", "practice"),
			Width: fibres.Figure(fibres.Width, 110, 150, 160, fibres.Practice, "", "practice")}
		j := Job{Parts: parts, Layers: []Layer{l}, Allowance: 1}
		a, err := Plan(j)
		require.NoError(t, err)
		b, err := Plan(j)
		require.NoError(t, err)
		require.Equal(t, a, b, "the same in every run")
		x := a.Layers[0]
		e := x.Buy.Length
		require.True(t, e.Low <= e.Typical && e.Typical <= e.High, "%v", e)
		require.GreaterOrEqual(t, e.Typical, x.Buy.Bound-near)
		if x.Washed != nil {
			e := x.Washed.Length
			require.True(t, e.Low <= e.Typical && e.Typical <= e.High, "%v", e)
		}
		for _, p := range x.Pieces {
			for k := range 2 {
				require.True(t, p.Finished[k] < p.Washed[k] && p.Washed[k] <= p.Low[k] && p.Low[k] <= p.Cut[k] && p.Cut[k] <= p.High[k], "%+v", p)
			}
		}
	}
}

func TestBiasStripComesNearAreaOverWidth(t *testing.T) {
	for _, a := range []units.Length{20, 35.5, 50, 90, 120} {
		for _, w := range []units.Length{2, 3.3, 4, 6} {
			for _, continuous := range []bool{false, true} {
				b, err := BiasFromSquare(a, w, 0, continuous)
				require.NoError(t, err)
				require.LessOrEqual(t, float64(b.Length), float64(a*a/w)+1e-9, "never more cloth than there is")
				require.Greater(t, float64(b.Length), float64(a*a/w)*(1-3*float64(w/a)), "near it for narrow strips")
				less, err := BiasFromSquare(a, w, 0.6, continuous)
				require.NoError(t, err)
				require.Less(t, less.Length, b.Length, "joins take cloth")
				require.GreaterOrEqual(t, b.Joins, b.Strips-1)
			}
		}
	}
}

func TestSquareForBiasIsTheSmallest(t *testing.T) {
	for _, want := range []units.Length{50, 380, 900, 2500} {
		for _, w := range []units.Length{2, 4, 5.5} {
			for _, continuous := range []bool{false, true} {
				a, err := SquareForBias(want, w, 0.6, continuous)
				require.NoError(t, err)
				b, err := BiasFromSquare(a, w, 0.6, continuous)
				require.NoError(t, err)
				require.GreaterOrEqual(t, b.Length, want)
				for s := a - 0.5; s > 1; s -= 0.5 {
					b, err := BiasFromSquare(s, w, 0.6, continuous)
					require.True(t, err != nil || b.Length < want, "%v would have done", s)
				}
			}
		}
	}
}

func TestBoundCurveTakesTheStretch(t *testing.T) {
	for _, b := range []units.Length{0.5, 0.8, 2} {
		for _, e := range []units.Fraction{0.05, 0.12, 0.3} {
			r, err := CurveForBinding(b, e, false)
			require.NoError(t, err)
			require.InDelta(t, float64(1+e), float64(r/(r-b)), 1e-9, "the fold against the stitched line")
			r, err = CurveForBinding(b, e, true)
			require.NoError(t, err)
			require.InDelta(t, float64(1+e), float64((r+b)/r), 1e-9, "the stitched line against the fold")
		}
	}
}

func TestThreadPlanNeverRunsOutInASeamOneBobbinWouldDo(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	for range 200 {
		var joins []Join
		sum := 0.0
		for i := range 1 + r.IntN(12) {
			l := 20 + 3000*r.Float64()
			sum += l
			joins = append(joins, Join{Name: fmt.Sprint("seam ", i), Kind: Seam, Length: l})
		}
		p, err := PlanThread(joins, Sewing{Stitch: Lockstitch, Length: 0.25, Thickness: 0.05, Tex: 20 + 60*r.Float64()})
		require.NoError(t, err)
		left, bobbins := 0.0, 0
		for _, s := range p.Seams {
			if s.Wind {
				left = p.Holds.Low
				bobbins++
			}
			for s.Under > left+1e-6 {
				require.Greater(t, s.Under, p.Holds.Low, "only a seam longer than a bobbin runs out")
				left += p.Holds.Low
				bobbins++
			}
			left -= s.Under
		}
		require.Equal(t, bobbins, p.Bobbins)
		require.InDelta(t, (2+2*0.05/0.25)*1.15*sum/100, p.Needle+p.Under, 1e-6)
	}
}

func TestTurningAndMirroringKeepsAnOutline(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	for _, p := range anyParts(r, 60) {
		if p.Outline == nil {
			continue
		}
		o := *p.Outline
		require.NoError(t, o.Check(), p.Name)
		for _, x := range []Outline{o.Turn(30), o.Mirror(), o.Move(Point{5, -3}), o.Mirror().Mirror()} {
			require.InDelta(t, o.Area(), x.Area(), 1e-6)
			require.InDelta(t, o.Perimeter(), x.Perimeter(), 1e-6)
		}
		back := Outline{Sides: append([]Side(nil), o.Sides...)}
		for i, s := range back.Sides { // run the other way round
			s.To, s.Bulge = o.from(i), -o.Sides[i].Bulge
			back.Sides[len(back.Sides)-1-i] = s
		}
		require.Less(t, back.Area(), 0.0)
		require.InDelta(t, o.Area(), back.leftward().Area(), 1e-6)
		low, high := o.Box()
		pts, _ := o.Polygon()
		l2, h2 := bounds(pts)
		require.InDelta(t, low.X, l2.X, 2*arcStep)
		require.InDelta(t, high.Y, h2.Y, 2*arcStep)
	}
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

func TestTreatmentTakesTheShrinkageOfItsKind(t *testing.T) {
	est := func(lo, mid, hi float64) fibres.Estimate {
		return fibres.Figure(fibres.ShrinkWarp, lo, mid, hi, fibres.Practice, "", "practice")
	}
	wash := Layer{Name: "shell", Warp: est(2, 5, 9), Weft: est(1, 2, 4)}
	wash.care.steam = [2]fibres.Estimate{est(0.2, 0.5, 1), est(0.1, 0.3, 0.6)}
	l := wash
	l.Treat(Washed)
	require.Equal(t, wash.Warp, l.Warp)
	l.Treat(DryCleaned)
	require.InDelta(t, 0.5, l.Warp.Typical, 1e-12, "steam stands for dry-cleaning that nobody tells of")
	require.Len(t, l.warp, fibres.N)
	bare := Layer{Name: "shell", Warp: est(2, 5, 9)}
	bare.Treat(Steamed)
	require.False(t, bare.Warp.Known(), "unknown, not nought")
	measured := Layer{Name: "shell"}
	require.NoError(t, measured.SetShrink(units.Range[units.Fraction]{Low: 0.05, High: 0.05}, units.Range[units.Fraction]{Low: 0.02, High: 0.02}))
	measured.Treat(DryCleaned)
	require.InDelta(t, 5, measured.Warp.Typical, 1e-12, "what was measured stays")
}

func TestWidePartIsJoinedFromStrips(t *testing.T) {
	var l Layer
	l.Name, l.Cloth, l.Join = "shell", "cotton", true
	l.SetWidth(units.Range[units.Length]{Low: 140, High: 140})
	require.NoError(t, l.SetShrink(units.Range[units.Fraction]{}, units.Range[units.Fraction]{}))
	round := outlined("cloth", 1, Outline{Sides: []Side{{Name: "hem", To: Point{0, 0}, Bulge: 1}, {Name: "hem", To: Point{200, 0}, Bulge: 1}}})
	for _, p := range []Part{{Name: "cloth", Count: 2, Width: 200, Height: 180}, {Name: "cloth", Count: 2, Width: 180, Height: 200, Grain: AlongWidth}, round} {
		a, err := Plan(Job{Parts: []Part{p}, Layers: []Layer{l}, Allowance: 1})
		require.NoError(t, err)
		area := 0.0
		for _, x := range a.Layers[0].Pieces {
			require.LessOrEqual(t, math.Min(x.Cut[0], x.Cut[1]), 140.0)
			area += float64(x.Count) * x.Finished[0] * x.Finished[1]
		}
		require.GreaterOrEqual(t, area, 0.99*float64(p.Count)*GeometryOf(p).Area, "nothing of it is lost")
		l.Join = false
		_, err = Plan(Job{Parts: []Part{p}, Layers: []Layer{l}, Allowance: 1})
		require.ErrorContains(t, err, "cloth at least")
		l.Join = true
	}
}

func TestBindingPlanHasTheStripItSays(t *testing.T) {
	for _, edge := range []float64{30, 140, 400, 1200} {
		p, err := PlanBinding([]Join{{"edge", FreeEdge, edge, 0}, {"neck", FreeEdge, 0, 6}, {"seam", Seam, 90, 0}}, BindingWish{Shows: 0.8, Stretch: 0.1}, 0.1)
		require.NoError(t, err)
		require.InDelta(t, edge+10, p.Length, 1e-9, "edges, not seams, and 10 cm for the ends")
		require.Equal(t, p.Strips-1, p.Joins)
		require.LessOrEqual(t, p.Joins, max(2, int(math.Ceil(p.Length/60))))
		require.GreaterOrEqual(t, p.Square*p.Square, p.Length*p.Width/10, "no less cloth than there is strip")
		c, err := BiasFromSquare(units.Length(p.Continuous), units.Length(p.Width/10), 0.6, true)
		require.NoError(t, err)
		require.GreaterOrEqual(t, float64(c.Length), p.Length)
		require.InDelta(t, 6, p.Tightest, 1e-12)
		require.Contains(t, p.Say, "steam it into the curve first", "8 mm of firm binding wants a radius of 8.8 cm")
	}
}

func TestLongestBiasIsTheFirstStrip(t *testing.T) {
	for _, a := range []units.Length{20, 50, 90} {
		l, err := LongestBias(a, 4)
		require.NoError(t, err)
		require.InDelta(t, float64(a)*math.Sqrt2-4, float64(l), 1e-9)
		b, err := BiasFromSquare(a, 4, 0, false)
		require.NoError(t, err)
		require.GreaterOrEqual(t, b.Length, l)
	}
	_, err := LongestBias(4, 10)
	require.Error(t, err)
}
