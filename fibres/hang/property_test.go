package hang

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/units"
)

// cloths yields invented cloths: mass 20 to 600 g/m², c 0.5 to 8 cm.
func cloths(n int) []Layer {
	rng := rand.New(rand.NewPCG(3, 4))
	out := make([]Layer, n)
	for i := range out {
		out[i] = Layer{units.ArealMass(20 + 580*rng.Float64()), units.Length(0.5 * math.Exp(rng.Float64()*math.Log(16)))}
	}
	return out
}

func TestStandOffRisesWithBendingLength(t *testing.T) {
	// From a flap that hangs plumb to one as stiff as a board, in steps of 0.1 %.
	before := units.Length(-1)
	for c := units.Length(0.01); c < 60; c *= 1.001 {
		s := StandOff(10, c)
		require.Greater(t, s, before, "c %v", c)
		require.LessOrEqual(t, s, units.Length(10))
		before = s
	}
}

func TestStandOffRisesAcrossTheSeam(t *testing.T) {
	// Where the table gives way to the series.
	at := fromY(seriesFrom)
	before := units.Length(0)
	for i := -1000; i <= 1000; i++ {
		s := StandOff(1, at*units.Length(1+1e-6*float64(i)))
		require.Greater(t, s, before)
		before = s
	}
}

func TestStandOffStripRisesWithBendingLength(t *testing.T) {
	for _, e := range []struct {
		strip          units.Length
		rigidity, mass float64
	}{{1.2, 3, 2}, {0.5, 8, 4}, {4.9, 27, 3}, {2, 0.6, 0.6}, {1, 1, 6}, {6, 4, 2}} {
		before := units.Length(-1)
		for c := units.Length(0.2); c < 8; c *= 1.01 {
			s := StandOffStrip(10, c, e.strip, e.rigidity, e.mass)
			require.Greater(t, s, before, "%+v c %v", e, c)
			before = s
		}
	}
}

func TestHeavierEdgeStandsOffLess(t *testing.T) {
	for c := units.Length(0.8); c < 6; c *= 1.3 {
		before := StandOff(10, c)
		for mass := 1.5; mass < 6; mass += 0.5 {
			s := StandOffStrip(10, c, 1.2, 1, mass)
			require.Less(t, s, before)
			before = s
		}
	}
}

// A free end is not loaded, so its stiffness hardly matters; its mass does.
// Source: own computation; the documents state both figures.
func TestEdgeStiffnessHardlyMatters(t *testing.T) {
	most := 0.0
	for lc := units.Length(0.5); lc < 20; lc *= 1.2 {
		plain := StandOff(lc, 1)
		stiff, err := Hang(stripped(lc, 1, lc/10, 4, 1), 0)
		require.NoError(t, err)
		heavy, err := Hang(stripped(lc, 1, lc/10, 1, 2), 0)
		require.NoError(t, err)
		require.Less(t, math.Abs(float64(stiff.StandOff/plain)-1), 1e-4)
		most = math.Max(most, 1-float64(heavy.StandOff/plain))
	}
	require.InDelta(t, 0.106, most, 0.003)
}

func TestStandOffKnowsNoUnits(t *testing.T) {
	for c := units.Length(0.1); c < 40; c *= 1.37 {
		one := float64(StandOff(10, c))
		for _, scale := range []units.Length{units.Inch, units.Millimetre, 1024} {
			require.InEpsilon(t, one*float64(scale), float64(StandOff(10*scale, c*scale)), 1e-12)
			require.InEpsilon(t, float64(StandOffStrip(10, c, 1, 3, 2)*scale), float64(StandOffStrip(10*scale, c*scale, scale, 3, 2)), 1e-12)
		}
	}
}

// Doubling mass and rigidity of every segment changes no shape; so does scaling
// every length with c.
func TestScaling(t *testing.T) {
	for _, l := range cloths(50) {
		f := Flap{Clamp: 20, Segments: []Segment{
			{8, l.Rigidity(), l.Mass}, {2, l.Rigidity() * 4, l.Mass * 2},
		}}
		a, err := Hang(f, 5)
		require.NoError(t, err)
		twice := Flap{Clamp: 20}
		for _, s := range f.Segments {
			twice.Segments = append(twice.Segments, Segment{s.Length, s.Rigidity * 2, s.Mass * 2})
		}
		b, err := Hang(twice, 5)
		require.NoError(t, err)
		require.InDelta(t, 2, b.RootMoment/a.RootMoment, 1e-9)
		big := Flap{Clamp: 20}
		for _, s := range f.Segments {
			big.Segments = append(big.Segments, Segment{s.Length * 3, s.Rigidity * 27, s.Mass})
		}
		c, err := Hang(big, 5)
		require.NoError(t, err)
		for i := range a.Points {
			for _, d := range []struct {
				p     Point
				scale float64
			}{{b.Points[i], 1}, {c.Points[i], 3}} {
				require.InDelta(t, float64(a.Points[i].Out), float64(d.p.Out)/d.scale, 1e-9)
				require.InDelta(t, float64(a.Points[i].Down), float64(d.p.Down)/d.scale, 1e-9)
				require.InDelta(t, float64(a.Points[i].Angle), float64(d.p.Angle), 1e-7)
			}
		}
	}
}

func TestChordAngleAndDropRiseWithLength(t *testing.T) {
	for _, clamp := range []units.Angle{0, 15, 45, 80} {
		var chord units.Angle
		drop := units.Length(0)
		for lc := units.Length(0.05); lc < 30; lc *= 1.1 {
			f := uniform(lc, 1)
			f.Clamp = clamp
			fall, err := Hang(f, 0)
			require.NoError(t, err)
			require.Greater(t, fall.ChordAngle, chord)
			require.Greater(t, fall.Drop/lc, drop)
			require.GreaterOrEqual(t, fall.EndAngle, fall.ChordAngle)
			chord, drop = fall.ChordAngle, fall.Drop/lc
		}
	}
}

func TestDroopReadsBack(t *testing.T) {
	for lc := units.Length(0.3); lc < 9; lc *= 1.05 {
		fall, err := Hang(uniform(lc, 1), 0)
		require.NoError(t, err)
		if fall.ChordAngle < 89 && fall.ChordAngle > 0.1 {
			c, err := BendingLengthFromElastica(lc, fall.ChordAngle)
			require.NoError(t, err)
			require.InEpsilon(t, 1, float64(c), 1e-6)
		}
		c, err := BendingLengthFromDrop(lc, fall.Drop)
		require.NoError(t, err)
		require.InEpsilon(t, 1, float64(c), 1e-6)
	}
}

func TestFreeStackKeepsOneCloth(t *testing.T) {
	for _, l := range cloths(50) {
		for n := 1; n <= 6; n++ {
			many := make([]Layer, n)
			for i := range many {
				many[i] = l
			}
			s := StackFree(many...)
			require.InEpsilon(t, float64(l.BendingLength), float64(s.BendingLength), 1e-12)
			require.InEpsilon(t, float64(l.Mass)*float64(n), float64(s.Mass), 1e-12)
			_, bonded := StackJoined(1, many...)
			require.InEpsilon(t, math.Pow(float64(n), 2.0/3), float64(bonded.BendingLength/l.BendingLength), 1e-9)
		}
	}
}

func TestStackLiesBetweenItsLayers(t *testing.T) {
	all := cloths(200)
	for i := 0; i+2 < len(all); i++ {
		layers := all[i : i+3]
		low, high := layers[0].BendingLength, layers[0].BendingLength
		for _, l := range layers {
			low, high = min(low, l.BendingLength), max(high, l.BendingLength)
		}
		s := StackFree(layers...)
		require.GreaterOrEqual(t, float64(s.BendingLength), float64(low)*(1-1e-12))
		require.LessOrEqual(t, float64(s.BendingLength), float64(high)*(1+1e-12))
		require.InEpsilon(t, float64(s.BendingLength), float64(StackFree(layers[2], layers[0], layers[1]).BendingLength), 1e-12, "order does not matter")
	}
}

func TestFusedStackIsStifferThanFree(t *testing.T) {
	all := cloths(200)
	for i := 0; i+1 < len(all); i++ {
		free := StackFree(all[i], all[i+1])
		before := free.BendingLength
		for _, bond := range []float64{0.1, 0.3, 0.7, 1} {
			low, high := StackJoined(bond, all[i], all[i+1])
			require.Equal(t, free, low)
			require.Greater(t, high.BendingLength, before)
			require.Greater(t, high.Rigidity(), all[i].Rigidity()+all[i+1].Rigidity(), "more than the sum of the parts")
			before = high.BendingLength
		}
	}
}

func TestOffGrainLiesBetweenWarpAndWeft(t *testing.T) {
	all := cloths(60)
	for i := 0; i+1 < len(all); i++ {
		warp, weft := all[i].BendingLength, all[i+1].BendingLength
		for a := units.Angle(0); a <= 90; a += 5 {
			c, err := OffGrain(warp, weft, 0, a)
			require.NoError(t, err)
			require.GreaterOrEqual(t, float64(c), float64(min(warp, weft))*(1-1e-12))
			require.LessOrEqual(t, float64(c), float64(max(warp, weft))*(1+1e-12))
			turned, err := OffGrain(weft, warp, 0, 90-a)
			require.NoError(t, err)
			require.InEpsilon(t, float64(c), float64(turned), 1e-12)
		}
	}
}

func TestLoopHeightFallsWithStiffness(t *testing.T) {
	for _, kind := range []Loop{Heart, Ring, Pear} {
		before := units.Length(0)
		for lc := 0.5; lc <= 12; lc += 0.05 {
			h, err := LoopHeight(kind, 10, units.Length(10/lc))
			require.NoError(t, err)
			require.Greater(t, h, before)
			before = h
			if lc < 2.01 || lc > 11.99 {
				continue
			}
			c, err := BendingLengthFromLoop(kind, 10, h)
			require.NoError(t, err)
			require.InEpsilon(t, 10/lc, float64(c), 1e-6)
		}
	}
}

// Every angle and every length, from a stub of twenty bending lengths' stiffness
// to a curtain of fifty: the solver answers, and its answer balances.
func TestHangIsRobust(t *testing.T) {
	for clamp := units.Angle(-90); clamp <= 90; clamp += 7.5 {
		for lc := 0.05; lc <= 50; lc *= 1.21 {
			f := uniform(units.Length(lc), 1)
			f.Clamp = clamp
			fall, err := Hang(f, 41)
			require.NoError(t, err, "clamp %v L/c %v", clamp, lc)
			require.False(t, math.IsNaN(float64(fall.StandOff+fall.Drop)+fall.RootMoment))
			chord := math.Hypot(float64(fall.StandOff), float64(fall.Drop))
			require.LessOrEqual(t, chord, lc*(1+1e-9))
			require.GreaterOrEqual(t, float64(fall.StandOff), -1e-9)
			require.GreaterOrEqual(t, float64(fall.EndAngle), float64(clamp)-1e-9)
			require.LessOrEqual(t, float64(fall.EndAngle), 90+1e-9)
			// Balance of moments at the hold: w ∫ x ds, by the trapezium rule
			// over the points, which is good to a few per cent of a long flap's bend.
			n := len(fall.Points)
			require.Equal(t, 41, n)
			sum := 0.0
			for i := 1; i < n; i++ {
				sum += float64(fall.Points[i-1].Out+fall.Points[i].Out) / 2
			}
			w := 150e-3 * gravity
			want := w * sum * lc / float64(n-1) * 1e-4 * 1e6 // µN·m per m
			if lc < 8 {
				require.InEpsilon(t, 1, (fall.RootMoment+0.1)/(want+0.1), 0.01, "clamp %v L/c %v", clamp, lc)
			}
			require.InDelta(t, float64(fall.StandOff), float64(fall.Points[n-1].Out), 1e-9)
			require.InDelta(t, float64(fall.Drop), float64(fall.Points[n-1].Down), 1e-9)
			require.InDelta(t, float64(clamp), float64(fall.Points[0].Angle), 1e-6)
		}
	}
}

// Extreme hems: the solver must not tire of strong steps between segments.
func TestHangIsRobustAcrossSegments(t *testing.T) {
	for _, g := range []units.Rigidity{1e-3, 0.1, 10, 1e3, 1e6} {
		for _, w := range []units.ArealMass{0, 0.01, 1, 50} {
			for lc := units.Length(0.1); lc < 40; lc *= 2 {
				s := uniform(lc*0.9, 1).Segments[0]
				fall, err := Hang(Flap{Segments: []Segment{s, {lc * 0.1, s.Rigidity * g, s.Mass * w}}}, 7)
				require.NoError(t, err, "G × %v, W × %v, L/c %v", g, w, lc)
				require.Len(t, fall.Points, 7)
				require.Greater(t, fall.StandOff, units.Length(0))
				require.LessOrEqual(t, float64(fall.StandOff), float64(lc)*(1+1e-9))
			}
		}
	}
}

// An upright strip stands until L = 1.98635 c and leans beyond.
// Source: Greenhill 1881 (from memory): (L/c)³ = 7.837347.
func TestUprightStripBuckles(t *testing.T) {
	critical := math.Cbrt(7.837347)
	for _, c := range []struct {
		lc     float64
		stands bool
	}{{critical - 0.002, true}, {critical + 0.002, false}} {
		f := uniform(units.Length(c.lc), 1)
		f.Clamp = -90
		fall, err := Hang(f, 0)
		require.NoError(t, err)
		require.Equal(t, c.stands, math.Abs(float64(fall.StandOff)) < 1e-6, "L/c %v gives %v", c.lc, fall.StandOff)
	}
}

// What is held of stiffness after a drape test: narrower than before, on the side that was read, never
// out of order; a reading that says what was held leaves the middle; the coarser the reading the less.
func TestStiffnessFromDrape(t *testing.T) {
	before := Range{1.4, 2, 2.8}
	width := func(r Range) float64 { return math.Log(r.High / r.Low) }
	last := 0.0
	for dc := 0.0; dc <= 100; dc += 10 {
		c, g, err := StiffnessFromDrape(dc, 4, 150, before, UsualShear)
		require.NoError(t, err)
		require.Greater(t, c.Typical, last, "DC %v", dc)
		last = c.Typical
		require.True(t, c.sound() && g.sound(), "DC %v", dc)
	}
	c, g, err := StiffnessFromDrape(DrapeCoefficientSheet(2), 4, 150, before, UsualShear)
	require.NoError(t, err)
	require.InEpsilon(t, 2, c.Typical, 0.04)
	require.InEpsilon(t, UsualShear.Typical, g.Typical, 0.1)
	require.Less(t, width(c), 0.85*width(before))
	require.Less(t, width(g), 1.01*width(UsualShear))
	coarse, _, err := StiffnessFromDrape(DrapeCoefficientSheet(2), 40, 150, before, UsualShear)
	require.NoError(t, err)
	require.Greater(t, width(coarse), width(c))
	_, high, err := StiffnessFromDrape(85, 4, 150, Range{1.99, 2, 2.01}, UsualShear)
	require.NoError(t, err)
	_, low, err := StiffnessFromDrape(45, 4, 150, Range{1.99, 2, 2.01}, UsualShear)
	require.NoError(t, err)
	require.Greater(t, high.Typical, 1.2*low.Typical, "where the bending length is known, shear explains the rest")
	for _, bad := range []float64{-1, 101, math.NaN()} {
		_, _, err := StiffnessFromDrape(bad, 4, 150, before, UsualShear)
		require.Error(t, err)
	}
	_, _, err = StiffnessFromDrape(50, 4, 150, Range{2, 1, 3}, UsualShear)
	require.Error(t, err)
}
