package cut_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/advise/cut"
	"tenter/data"
	"tenter/fibres/units"
)

// step is what lengths are rounded up to in a shop, in cm.
const step = 5.0

// drawnJob is a make-up of a piece and a finish at random, larger or smaller than
// the piece is drawn, of cloth that shrinks and is as wide as it happens to be.
func drawnJob(t *testing.T, adv *advise.Adviser, p *advise.Piece, r *rand.Rand) cut.Job {
	t.Helper()
	f := adv.Finishes[r.IntN(len(adv.Finishes))]
	words := p.ID + ", " + f.ID + ", shell " + []string{"cotton-poplin", "wool-flannel", "cotton-velvet", "linen-dress"}[r.IntN(4)]
	if f.Lined {
		words += ", lining " + []string{"viscose-twill", "silk-habotai"}[r.IntN(2)]
	}
	m, err := adv.ParseCase(words)
	require.NoError(t, err, words)
	job := adv.CutJob(m)
	size := units.Length([]float64{0.7, 1, 1.3}[r.IntN(3)])
	for i, x := range job.Parts {
		job.Parts[i], err = x.Resize(x.Width*size, x.Height*size)
		require.NoError(t, err, words)
	}
	for i := range job.Layers {
		l := &job.Layers[i]
		width := units.Length(110 + r.IntN(190))
		l.SetWidth(units.Range[units.Length]{Low: width, High: width})
		warp, weft := units.Fraction(0.12*r.Float64()), units.Fraction(0.08*r.Float64())
		require.NoError(t, l.SetShrink(units.Range[units.Fraction]{Low: warp, High: warp}, units.Range[units.Fraction]{Low: weft, High: weft}))
	}
	return job
}

// TestPlansOfAnyPiece holds what is true of every cutting plan whatever the piece,
// finish, size and shrinkage, on every ninth piece as it happens to be finished. Source of each: arithmetic of lengths and areas.
func TestPlansOfAnyPiece(t *testing.T) {
	adv, err := advise.Load(data.FS)
	require.NoError(t, err)
	r := rand.New(rand.NewPCG(2026, 11))
	every, planned := 9, 0 // each plan takes a second; the piece drawn decides the rest
	if testing.Short() {
		every = 16
	}
	for i, p := range adv.Pieces {
		job := drawnJob(t, adv, p, r)
		if i%every != 0 {
			continue
		}
		t.Run(p.ID, func(t *testing.T) {
			ans, err := cut.Plan(job)
			if err != nil {
				t.Skip("it does not go on the cloth: ", err)
			}
			planned++
			for k, l := range ans.Layers {
				sizesHold(t, l)
				if len(l.Pieces) > 0 {
					buyingHolds(t, l)
					layingHolds(t, job, job.Layers[k], units.Length(l.Buy.Usable))
				}
			}
		})
	}
	require.Greater(t, planned, len(adv.Pieces)/every/2)
}

// sizesHold: no part is cut smaller than it is finished, and what is cut and shrunk
// again is what it is finished at; inches and centimetres say the same size.
func sizesHold(t *testing.T, l cut.LayerAnswer) {
	t.Helper()
	for _, p := range l.Pieces {
		for k := range 2 {
			require.GreaterOrEqual(t, p.Cut[k], p.Finished[k], p.Name)
			imperial, err := units.ParseLength(units.Length(p.Cut[k]).In(units.Imperial))
			require.NoError(t, err)
			require.InDelta(t, p.Cut[k], float64(imperial), math.Max(2.54/16, p.Cut[k]*0.01)+0.01, "%s in inches", p.Name)
		}
		if p.Bias {
			continue // its width and height both run at 45° to the threads
		}
		across, along := l.Shrink.Weft.Typical/100, l.Shrink.Warp.Typical/100
		if p.Turned {
			across, along = along, across
		}
		require.InDelta(t, p.Washed[0], p.Cut[0]*(1-across), 1e-3, p.Name)
		require.InDelta(t, p.Washed[1], p.Cut[1]*(1-along), 1e-3, p.Name)
	}
}

// buyingHolds: there is cloth for the area of all parts and for the longest of them,
// none leaves the cloth, and yards are what the metres are.
func buyingHolds(t *testing.T, l cut.LayerAnswer) {
	t.Helper()
	b := l.Buy
	require.GreaterOrEqual(t, b.Waste, 0.0, "buying at least area over width")
	require.GreaterOrEqual(t, b.Length.Typical, b.Bound-0.02)
	width := b.Usable
	if b.Folded {
		width /= 2
	}
	for _, x := range b.Lie {
		require.GreaterOrEqual(t, b.Length.Typical, x.Along-0.02, "at least as long as the %s", x.Part)
		require.True(t, x.X >= -0.02 && x.X+x.Across <= width+0.02, "the %s leaves the cloth sideways: %+v on %v", x.Part, x, width)
		require.True(t, x.Y >= -0.02, "the %s leaves the cloth", x.Part)
	}
	for _, v := range []float64{b.Length.Low, b.Length.Typical, b.Length.High} {
		metric, imperial := float64(units.Length(v).Bought(units.Metric)), float64(units.Length(v).Bought(units.Imperial))
		require.True(t, metric >= v-1e-3 && metric < v+step, "%v to %v", v, metric)
		require.True(t, imperial >= v-1e-3 && imperial < v+float64(units.Yard)/8, "%v to %v", v, imperial)
	}
}

// layingHolds: more width, and leave to turn the parts, never need more cloth; twice
// the parts never more than twice the cloth and one part.
func layingHolds(t *testing.T, job cut.Job, l cut.Layer, usable units.Length) {
	t.Helper()
	base, err := cut.LengthOf(job, l, usable)
	if err != nil {
		return // joined from strips
	}
	for _, more := range []units.Length{1, 7, 30} {
		wider, err := cut.LengthOf(job, l, usable+more)
		require.NoError(t, err)
		require.LessOrEqual(t, wider, base+step, "on %v cm more of width", more)
	}
	free := l
	free.CrossGrain = true
	turned, err := cut.LengthOf(job, free, usable)
	require.NoError(t, err)
	require.LessOrEqual(t, turned, base+0.02, "parts may be turned")
	free = l
	free.OneWay = false
	turned, err = cut.LengthOf(job, free, usable)
	require.NoError(t, err)
	require.LessOrEqual(t, turned, base+0.02, "no nap")
	twice, longest := job, 0.0
	twice.Parts = slices.Clone(job.Parts)
	for i, p := range twice.Parts {
		twice.Parts[i].Count *= 2
		longest = math.Max(longest, math.Hypot(float64(p.Width), float64(p.Height)))
	}
	double, err := cut.LengthOf(twice, l, usable)
	require.NoError(t, err)
	require.LessOrEqual(t, double, 2*base+longest, "all parts twice")
}
