package cut_test

import (
	"fmt"
	"math"
	"os"
	"slices"
	"sort"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/advise"
	"tenter/advise/cut"
	"tenter/data"
	"tenter/fibres/units"
)

// step is what lengths are rounded up to in a shop, in cm.
const step = 5.0

// certain is how near a layout that follows from another comes to it, in cm.
const certain = 0.02

// slack is what rounding the outlines of an answer adds, in cm.
const slack = 0.12

// cutAlike are the finishes of which one is cut as the other: they leave the same
// allowances, are lined or not, and bound or not.
func cutAlike(f *advise.Finish) string {
	return fmt.Sprint(f.Lined, f.Allowance, f.Edge == "bound", f.Edge == "hemmed" || f.Edge == "rolled", f.StripWidth, f.StripLayers, f.Layers)
}

// trial is a job, and how its layers are laid.
type trial struct {
	name string
	job  cut.Job
}

// trials are all pieces in all finishes that differ in the cutting. Size, shrinkage,
// width, nap and the rest take turns, each with a period of its own, so that they
// come in every combination.
func trials(t *testing.T, adv *advise.Adviser) (out []trial) {
	t.Helper()
	var finishes []*advise.Finish
	seen := map[string]bool{}
	for _, f := range adv.Finishes {
		if k := cutAlike(f); !seen[k] {
			seen[k] = true
			finishes = append(finishes, f)
		}
	}
	n := 0
	turn := func(of ...float64) float64 { return of[n%len(of)] }
	for _, p := range adv.Pieces {
		for _, f := range finishes {
			n++
			words := p.ID + ", " + f.ID + ", shell " + []string{"cotton-poplin", "wool-flannel", "cotton-velvet", "linen-dress", "silk-habotai"}[n%5]
			if f.Lined {
				words += ", lining " + []string{"viscose-twill", "silk-habotai"}[n%2]
			}
			if n%4 == 0 {
				words += ", interfacing " + adv.Interfacings[n%len(adv.Interfacings)].ID
			}
			m, err := adv.ParseCase(words)
			require.NoError(t, err, words)
			job := adv.CutJob(m)
			size := units.Length(turn(0.7, 1, 1.3))
			for i, x := range job.Parts {
				job.Parts[i], err = x.Resize(x.Width*size, x.Height*size)
				require.NoError(t, err, words)
			}
			for i := range job.Layers {
				l := &job.Layers[i]
				width := units.Length(turn(140, 115, 150, 90, 200, 280, 167.5))
				l.SetWidth(units.Range[units.Length]{Low: width, High: width})
				one := func(v float64) units.Range[units.Fraction] {
					return units.Range[units.Fraction]{Low: units.Fraction(v), High: units.Fraction(v)}
				}
				require.NoError(t, l.SetShrink(one(turn(0, 0.03, 0.07, 0.12)), one(turn(0.02, 0, 0.05, 0.08, 0.01))))
				l.Selvedge = units.Length(turn(0, 0, 1))
				l.Prewashed, l.Folded = n%6 == 5, n%7 == 3
				l.OneWay, l.CrossGrain = l.OneWay || n%3 == 1, n%5 == 2
				if n%8 == 6 {
					l.Repeat = 16
				}
			}
			out = append(out, trial{fmt.Sprintf("%s %gx", words, size), job})
		}
	}
	return out
}

// TestPlansOfAnyPiece holds what is true of every cutting plan: of all pieces in all
// finishes, smaller and larger, of cloth that shrinks little and much. Source of
// each: arithmetic of lengths and areas.
func TestPlansOfAnyPiece(t *testing.T) {
	adv, err := advise.Load(data.FS)
	require.NoError(t, err)
	all := trials(t, adv)
	every, planned := 29, 0 // all of them take minutes: at night
	if n, err := strconv.Atoi(os.Getenv("TENTER_EVERY_PLAN")); err == nil {
		every = max(1, n)
	} else if testing.Short() {
		every = 61
	}
	for i := 0; i < len(all); i += every {
		x := all[i]
		t.Run(x.name, func(t *testing.T) {
			ans, err := cut.PlanQuickly(x.job)
			if err != nil { // it does not go on the cloth, or has nothing to bind
				require.Regexp(t, "cloth at least|no free edge or hem to bind", err.Error())
				return
			}
			planned++
			for k, l := range ans.Layers {
				if len(l.Pieces) == 0 {
					continue
				}
				h := held{t, l.Layer, x.job, x.job.Layers[k], l}
				h.sizes()
				h.buying(l.Buy, false)
				if l.Washed != nil {
					require.Equal(t, l.Buy.Length.Typical, l.Washed.Length.Typical, "washed first it takes as much")
					h.buying(*l.Washed, true)
				}
				if i/every%5 == 0 {
					h.laying()
				}
			}
		})
	}
	t.Logf("%d of %d plans", planned, len(all)/every)
	require.Greater(t, planned, len(all)/every/2)
}

// held is a layer of an answer beside the job that it answers.
type held struct {
	t     *testing.T
	name  string
	job   cut.Job
	layer cut.Layer
	ans   cut.LayerAnswer
}

// loses is what the layer loses across and along; nothing once it is washed.
func (h held) loses() (across, along float64) {
	if h.layer.Prewashed {
		return 0, 0
	}
	return h.ans.Shrink.Weft.Typical / 100, h.ans.Shrink.Warp.Typical / 100
}

// sizes: no part is cut smaller than it is finished, what is cut and shrunk again is
// what it is finished at with its allowances, and inches say the same size.
func (h held) sizes() {
	t := h.t
	for _, p := range h.ans.Pieces {
		most := max(p.Allowance, p.Hem, p.Edge) / 10
		for k := range 2 {
			require.GreaterOrEqual(t, p.Cut[k], p.Finished[k], "%s: %s", h.name, p.Name)
			require.GreaterOrEqual(t, p.Washed[k], p.Finished[k], "%s: %s", h.name, p.Name)
			require.LessOrEqual(t, p.Washed[k], p.Finished[k]*1.4143+6*most+0.01, "%s: %s has no more than its allowances", h.name, p.Name)
			inches, err := units.ParseLength(units.Length(p.Cut[k]).Tape(units.Imperial))
			require.NoError(t, err)
			cm, err := units.ParseLength(units.Length(p.Cut[k]).Tape(units.Metric))
			require.NoError(t, err)
			require.InDelta(t, p.Cut[k], float64(cm), 0.05+1e-6, "%s: %s", h.name, p.Name)
			require.InDelta(t, p.Cut[k], float64(inches), 2.54/16+1e-6, "%s: %s in inches", h.name, p.Name)
		}
		across, along := h.loses()
		if p.Turned {
			across, along = along, across
		}
		if p.Bias { // both run at 45° to the threads
			k := math.Sqrt((1/(1-across)/(1-across) + 1/(1-along)/(1-along)) / 2)
			across, along = 1-1/k, 1-1/k
		}
		require.InDelta(t, p.Washed[0], p.Cut[0]*(1-across), 1e-3, "%s: %s", h.name, p.Name)
		require.InDelta(t, p.Washed[1], p.Cut[1]*(1-along), 1e-3, "%s: %s", h.name, p.Name)
	}
}

// corners are the cut line of a part where it lies.
func corners(x cut.Lie) (out []cut.Point) {
	for _, p := range x.Outline {
		out = append(out, cut.Point{X: p[0], Y: p[1]})
	}
	if out == nil {
		out = []cut.Point{{X: x.X, Y: x.Y}, {X: x.X + x.Across, Y: x.Y}, {X: x.X + x.Across, Y: x.Y + x.Along}, {X: x.X, Y: x.Y + x.Along}}
	}
	return out
}

// buying: every part lies on the cloth that is bought, at the size it is cut at, with
// its nap, on no other; there is cloth for the area of all; yards are what the metres are.
func (h held) buying(b cut.Buy, washed bool) {
	t := h.t
	across, along := h.loses()
	width, length := b.Usable, b.Length.Typical
	require.InDelta(t, h.layer.Width.Typical, b.Width, 1e-6, h.name)
	own, repeat := h.layer.Width.Typical-2*float64(h.layer.Selvedge), float64(h.layer.Repeat)
	if washed { // it lies on what the wash has left, and so does the figure
		length *= 1 - along
		own *= 1 - across
		repeat *= 1 - along
		across, along = 0, 0
	}
	require.InDelta(t, own, width, 1e-6, "%s: between the selvedges", h.name)
	if b.Folded {
		width /= 2
	}
	end, area := 0.0, 0.0
	turns, copies := map[string]map[int]bool{}, map[string]int{}
	var shapes [][]cut.Point
	for _, x := range b.Lie {
		pts := corners(x)
		shapes = append(shapes, pts)
		low, high := box(pts)
		require.True(t, low.X >= -slack && high.X <= width+slack && low.Y >= -slack && high.Y <= length+slack, "%s: the %s leaves the cloth of %v × %v: %+v", h.name, x.Part, width, length, x)
		end = math.Max(end, x.Y+x.Along)
		n := 1
		if b.Folded && !x.OnFold {
			n = 2
		}
		copies[x.Part] += n
		area += float64(n) * areaOf(pts)
		if x.OnFold {
			area += areaOf(pts)
		}
		if turns[x.Part] == nil {
			turns[x.Part] = map[int]bool{}
		}
		turns[x.Part][x.Turn%360] = true
		if repeat > 0 {
			require.InDelta(t, 0, math.Remainder(x.Y, repeat), 2e-3, "%s: the %s is off the figure", h.name, x.Part)
		}
		h.size(x, washed)
	}
	require.InDelta(t, length, end, 0.01, "%s: what is bought is as long as the layout", h.name)
	whole := b.Usable * length
	require.LessOrEqual(t, whole*(1-b.Waste), area+0.01*whole+1, "%s: the waste", h.name)
	if !b.Folded { // through both layers a part may be cut once more than it is needed
		require.InDelta(t, whole*(1-b.Waste), area, 0.01*whole+1, "%s: the waste", h.name)
	}
	finished := 0.0
	for _, p := range h.job.Parts {
		mine := slices.ContainsFunc(h.ans.Pieces, func(x cut.PieceAnswer) bool { return x.Name == p.Name })
		if got := copies[p.Name]; mine && !joinedFrom(h, p) {
			require.True(t, got == p.Count || b.Folded && got == p.Count+1, "%s: %d of %d %s are laid", h.name, got, p.Count, p.Name)
			finished += cut.GeometryOf(p).Area * float64(p.Count)
		}
		if t := turns[p.Name]; h.layer.OneWay {
			for q := range t {
				require.False(h.t, t[(q+180)%360], "%s: the %s lies both ways of the nap", h.name, p.Name)
				require.Less(h.t, (q-upright(p)+360)%360, 180, "%s: the %s lies against the nap", h.name, p.Name)
			}
		}
	}
	require.GreaterOrEqual(t, whole*1.001, finished/(1-across)/(1-along), "%s: area over width", h.name)
	require.GreaterOrEqual(t, length, b.Bound*length/b.Length.Typical-0.02, "%s: the lower bound", h.name)
	apart(t, h.name, shapes, width, length)
	e := b.Length
	require.True(t, e.Low <= e.Typical && e.Typical <= e.High, "%s: %v", h.name, e)
	for _, v := range []float64{e.Low, e.Typical, e.High} {
		metric, imperial := float64(units.Length(v).Bought(units.Metric)), float64(units.Length(v).Bought(units.Imperial))
		require.True(t, metric >= v-1e-3 && metric < v+step, "%v to %v", v, metric)
		require.True(t, imperial >= v-1e-3 && imperial < v+float64(units.Yard)/8, "%v to %v", v, imperial)
	}
}

// size: a part lies at the size that the answer tells to cut it at.
func (h held) size(x cut.Lie, washed bool) {
	if x.OnFold {
		return // half of it
	}
	for _, p := range h.ans.Pieces {
		want := p.Cut
		if washed {
			want = p.Washed
		}
		if p.Turned || p.Bias {
			want[0], want[1] = want[1], want[0]
		}
		if p.Name == x.Part && (p.Bias || math.Abs(want[0]-x.Across)+math.Abs(want[1]-x.Along) < 0.01) {
			return
		}
	}
	if washed { // it may lie another way than on the cloth as it is bought
		for _, p := range h.ans.Pieces {
			lo, hi := min(p.Washed[0], p.Washed[1]), max(p.Washed[0], p.Washed[1])
			if p.Name == x.Part && math.Abs(lo-min(x.Across, x.Along))+math.Abs(hi-max(x.Across, x.Along)) < 0.01 {
				return
			}
		}
	}
	require.Fail(h.t, "it lies at another size than it is cut at", "%s: %+v, %+v", h.name, x, h.ans.Pieces)
}

// joinedFrom reports whether a part is too wide for the cloth and cut in strips.
func joinedFrom(h held, p cut.Part) bool {
	return slices.ContainsFunc(h.ans.Pieces, func(x cut.PieceAnswer) bool {
		return x.Name == p.Name && math.Abs(x.Finished[0]-float64(p.Width)) > 0.01
	})
}

// upright is how a part is turned when its grain runs along the cloth.
func upright(p cut.Part) int {
	switch p.Grain {
	case cut.AlongWidth:
		return 90
	case cut.OnBias:
		return 45
	}
	return 0
}

// box is the least and the greatest corner.
func box(pts []cut.Point) (low, high cut.Point) {
	low, high = pts[0], pts[0]
	for _, p := range pts {
		low.X, low.Y = math.Min(low.X, p.X), math.Min(low.Y, p.Y)
		high.X, high.Y = math.Max(high.X, p.X), math.Max(high.Y, p.Y)
	}
	return low, high
}

// areaOf is the area in a polygon.
func areaOf(pts []cut.Point) (sum float64) {
	for i, p := range pts {
		q := pts[(i+1)%len(pts)]
		sum += (p.X*q.Y - q.X*p.Y) / 2
	}
	return math.Abs(sum)
}

// apart: on lines across the cloth and along it no point is in two parts.
func apart(t *testing.T, name string, shapes [][]cut.Point, width, length float64) {
	t.Helper()
	type stretch struct{ from, to float64 }
	for k := range 34 {
		upright, at := k%2 == 0, float64(k/2)+0.37
		if at *= length / 17; upright {
			at = (float64(k/2) + 0.37) * width / 17
		}
		var all []stretch
		for _, pts := range shapes {
			var cuts []float64
			for i, a := range pts {
				b := pts[(i+1)%len(pts)]
				if !upright {
					a, b = cut.Point{X: a.Y, Y: a.X}, cut.Point{X: b.Y, Y: b.X}
				}
				if (a.X <= at) != (b.X <= at) {
					cuts = append(cuts, a.Y+(b.Y-a.Y)*(at-a.X)/(b.X-a.X))
				}
			}
			sort.Float64s(cuts)
			for i := 0; i+1 < len(cuts); i += 2 {
				all = append(all, stretch{cuts[i], cuts[i+1]})
			}
		}
		sort.Slice(all, func(i, j int) bool { return all[i].from < all[j].from })
		for i := 1; i < len(all); i++ {
			require.LessOrEqual(t, all[i-1].to, all[i].from+4*slack, "%s: two parts on the line at %v, upright %v", name, at, upright)
			all[i].to = math.Max(all[i].to, all[i-1].to)
		}
	}
}

// laying: leave to turn the parts, across the grain or end for end, never needs more
// cloth, however little effort is spent; more width never more than a step more, twice
// the parts never more than twice the cloth and one part. What little effort does not
// find of these is asked of the usual one.
func (h held) laying() {
	usable := units.Length(h.ans.Buy.Usable)
	longest := 0.0
	for _, x := range h.ans.Buy.Lie {
		longest = math.Max(longest, x.Along)
	}
	twice, turned, anyWay := h.job, h.layer, h.layer
	twice.Parts = slices.Clone(h.job.Parts)
	for i := range twice.Parts {
		twice.Parts[i].Count *= 2
	}
	turned.CrossGrain, anyWay.OneWay = true, false
	if slices.ContainsFunc(h.ans.Pieces, func(p cut.PieceAnswer) bool { return p.Turned }) {
		h.layer.CrossGrain, anyWay.CrossGrain = true, true // else a part lies turned on a narrow cloth alone
	}
	for _, x := range []struct {
		what   string
		job    cut.Job
		layer  cut.Layer
		width  units.Length
		at, by float64 // at most so many times the length, and so much more
	}{
		{"1 cm more of width", h.job, h.layer, usable + 1, 1, step},
		{"7 cm more of width", h.job, h.layer, usable + 7, 1, step},
		{"30 cm more of width", h.job, h.layer, usable + 30, 1, step},
		{"parts may be turned", h.job, turned, usable, 1, certain},
		{"no nap", h.job, anyWay, usable, 1, certain},
		{"all parts twice", twice, h.layer, usable, 2, longest},
	} {
		for _, effort := range []int{cut.Little, cut.Usual} {
			base, err := cut.LengthOf(h.job, h.layer, usable, effort)
			if err != nil {
				return // joined from strips
			}
			got, err := cut.LengthOf(x.job, x.layer, x.width, effort)
			require.NoError(h.t, err)
			if most := x.at*base + x.by; x.by == certain || effort == cut.Usual || got <= most {
				require.LessOrEqual(h.t, got, most, "%s: %s", h.name, x.what)
				break
			}
		}
	}
}
