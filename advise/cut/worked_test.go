package cut

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/units"
)

// worked is a worked example of somebody else's: what comes out, and how near it
// must come for the rounding of the source.
type worked struct {
	source, what string
	got          func() (float64, error)
	want, within float64
}

const (
	in = units.Inch
	yd = units.Yard
)

// TestWorkedExamples recomputes examples that were read; the source stands beside
// each.
func TestWorkedExamples(t *testing.T) {
	curtain := func(f func(Drops) float64, track units.Length, full float64, sides, cloth, drop, turn, repeat units.Length) func() (float64, error) {
		return func() (float64, error) {
			d, err := DropsForCurtain(track, full, sides, cloth, drop, turn, repeat)
			return f(d), err
		}
	}
	widths := func(d Drops) float64 { return float64(d.Widths) }
	yards := func(d Drops) float64 { return float64(d.Shop / yd) }
	radius := func(girth units.Length, angle units.Angle, unit units.Length) func() (float64, error) {
		return func() (float64, error) { r, err := NeckRadius(girth, angle); return float64(r / unit), err }
	}
	areal := func(grams float64, per, width units.Length) func() (float64, error) {
		return func() (float64, error) {
			m, err := ArealFromRunning(grams/float64(per/units.Metre), width)
			return float64(m), err
		}
	}
	bias := func(side, width units.Length) func() (float64, error) {
		return func() (float64, error) { l, err := BiasWithoutLoss(side, width); return float64(l / in), err }
	}
	// The first of two parts, of an edge that is gathered.
	gathered := func(edge units.Length, fullness float64) func() (float64, error) {
		return func() (float64, error) {
			d, err := drawGathered(measures{"parts": 2, "width": float64(edge), "fullness": fullness, "drop": 50})
			return float64(d.Parts[0].Width / in), err
		}
	}
	panels := func(n int, length, width units.Length) func() (float64, error) {
		return func() (float64, error) {
			l, err := lay(drawParts([]Part{{Name: "panel", Count: n, Width: width, Height: length}}, allowances{}), Layer{}, float64(width), 0, 0, Little)
			return l.length / float64(yd), err
		}
	}
	whole := func(unit units.Length) func(Drops) float64 {
		return func(d Drops) float64 { return float64(d.Whole / unit) }
	}
	const ( // all of them read
		howTo     = "a how-to article on cloth for curtains, steps 2 to 7"
		measured  = "a curtain workroom's page on measuring, with and without a repeat"
		tulle     = "an article on reckoning curtains, example"
		tracks    = "an instruction sheet of a maker of curtain tracks, steps 1 to 3"
		letter    = "a curtain workroom's letter of August 2011, on repeats"
		drapery   = "a drapery maker's journal, on repeats (read)"
		figure    = "an article on cloth with a figure for curtains, step 1"
		running   = "an article on the weight of a running yard, steps 1 to 5"
		knitting  = "a practical guide to knitting, conversion formulae"
		piping    = "a question answered on strips for piping"
		asked     = "a question answered on bias tape"
		binding   = "a sewing teacher's article on bias, steps 1 and 2"
		quilting  = "a quilting teacher's answer on bias, example"
		circles   = "an article on part-circle skirts, examples"
		pattern   = "a pattern cutter's lesson on circle skirts, examples"
		student   = "a pattern-cutting student's journal of a gathered skirt, steps 1 and 2"
		gored     = "an article on a plain skirt of straight panels, example"
		pleated   = "an article on pleated drapes, steps 2 to 5"
		panes     = "an article on curtains of two panels, steps 1 to 4"
		ruffle    = "an article on a ruffle round a bed, the strip"
		skirted   = "a sewing teacher's answer on a skirt for a bed, steps 1 to 5"
		workroom  = "a curtain workroom's formulas with examples"
		trade     = "mathematics in trades, a homemaker's curtains, steps 2 to 4"
		tabled    = "a page on circle skirts, its table"
		fractions = "a page on parts of circles for skirts, example"
		piped     = "a sewing teacher's notes on a piped bias edge, step 2"
		placemat  = "a sewing teacher's article on bias, the binding of place mats"
		squares   = "a mathematics teacher's answer on squares cut of cloth"
		conover   = "Conover 1922, A complete course in dressmaking, vol. 5, p. 63"
		sums      = "arithmetic of lengths and areas" // no source
	)
	for _, x := range []worked{
		{howTo, "84 in at 2.5 and 15 in of sides on 54 in", curtain(widths, 84*in, 2.5, 15*in, 54*in, 78*in, 10*in, 0), 5, 0},
		{howTo, "five of 88 in", curtain(yards, 84*in, 2.5, 15*in, 54*in, 78*in, 10*in, 0), 12.22, 0.005},
		{measured, "63 in threefold on 54 in", curtain(widths, 63*in, 3, 0, 54*in, 114*in, 0, 0), 4, 0},
		{measured, "four of 114 in, told as 12.6", curtain(yards, 63*in, 3, 0, 54*in, 114*in, 0, 0), 12.6, 0.07},
		{measured, "114 in in repeats of 11 in", curtain(whole(11*in), 63*in, 3, 0, 54*in, 114*in, 0, 11*in), 11, 1e-9},
		{tulle, "a drop of 2.5 m with 10 and 15 cm", curtain(func(d Drops) float64 { return float64(d.Cut) }, 300, 2, 0, 300, 250, 25, 0), 275, 1e-9},
		{tulle, "a track of 3 m twofold takes 6 m", curtain(widths, 300, 2, 0, 300, 250, 25, 0), 2, 0},
		{tracks, "200 cm twofold and 40 cm on 140 cm", curtain(widths, 200, 2, 40, 140, 210, 30, 0), 4, 0},
		{tracks, "213 cm less 3 cm and 30 cm", curtain(func(d Drops) float64 { return float64(d.Cut) }, 200, 2, 40, 140, 210, 30, 0), 240, 1e-9},
		{tracks, "four of 240 cm", curtain(func(d Drops) float64 { return float64(d.Length) }, 200, 2, 40, 140, 210, 30, 0), 960, 1e-9},
		{tracks, "240 cm in repeats of 37 cm", curtain(whole(1), 200, 2, 40, 140, 210, 30, 37), 259, 1e-9},
		{letter, "100 in and 16 in of hems", curtain(func(d Drops) float64 { return float64(d.Cut / in) }, 100*in, 2, 0, 54*in, 100*in, 16*in, 25*in), 116, 1e-9},
		{letter, "116 in in repeats of 25 in", curtain(whole(in), 100*in, 2, 0, 54*in, 100*in, 16*in, 25*in), 125, 1e-9},
		{drapery, "118 in in repeats of 13 in", curtain(whole(13*in), 100*in, 2, 0, 54*in, 118*in, 0, 13*in), 10, 1e-9},
		{figure, "70 in twofold on 54 in", curtain(widths, 70*in, 2, 0, 54*in, 90*in, 0, 26*in), 3, 0},
		{running, "7 oz to the yard, 68 in wide", areal(7*28.3495, yd, 68*in), 125.65, 0.01},
		{knitting, "5 oz to the square yard, told as 170 g/m²: a running yard 36 in wide", areal(5*28.35, yd, yd), 170, 0.6},
		{piping, "a square of 20 in in strips of 2 in", bias(20*in, 2*in), 200, 1e-9},
		{piping, "250 in of 2 in ask for 22.36 in", bias(22.36*in, 2*in), 250, 0.05},
		{asked, "a square of 12 in in strips of 2 in", bias(12*in, 2*in), 72, 1e-9},
		{binding, "a square of 36 in in strips of 2 in", bias(36*in, 2*in), 1296 / 2, 1e-9},
		{quilting, "100 in of 3 1/2 in ask for 18.71 in", bias(18.71*in, 3.5*in), 100, 0.05},
		{circles, "full circle, 26 in", radius(26*in, 360, in), 4.13, 0.01},
		{circles, "half circle, 26 in, told as 8.2", radius(26*in, 180, in), 8.2, 0.08},
		{circles, "third of a circle, 26 in", radius(26*in, 120, in), 12.4, 0.02},
		{circles, "quarter circle, 26 in", radius(26*in, 90, in), 16.56, 0.01},
		{pattern, "full circle, 110 cm, with π as 3.14", radius(110, 360, units.Centimetre), 17.52, 0.015},
		{pattern, "full circle, 44 in", radius(44*in, 360, in), 7, 0.005},
		{pattern, "half circle, 110 cm and half of 4 cm of seams", radius(112, 180, units.Centimetre), 35.67, 0.02},
		{student, "26 in at 2.5, the front of two panels", gathered(26*in, 2.5), 32.5, 1e-9},
		{gored, "two panels of 49 in, told as 2.72 yd", panels(2, 49*in, 45*in), 2.72, 0.005},
		{gored, "three panels of 49 in", panels(3, 49*in, 45*in), 4.08, 0.005},
		{pleated, "65 in at 2.25 on 54 in", curtain(widths, 65*in, 2.25, 0, 54*in, 80*in, 16*in, 0), 3, 0},
		{pleated, "80 in and 16 in", curtain(func(d Drops) float64 { return float64(d.Cut / in) }, 65*in, 2.25, 0, 54*in, 80*in, 16*in, 0), 96, 1e-9},
		{pleated, "three of 96 in", curtain(yards, 65*in, 2.25, 0, 54*in, 80*in, 16*in, 0), 8, 1e-9},
		{panes, "a panel of 36 in twofold on 45 in", curtain(widths, 36*in, 2, 0, 45*in, 60*in, 22*in, 0), 2, 0},
		{panes, "60 in with 10 and 12 in", curtain(func(d Drops) float64 { return float64(d.Cut / in) }, 36*in, 2, 0, 45*in, 60*in, 22*in, 0), 82, 1e-9},
		{ruffle, "220 in at 2.5", func() (float64, error) {
			d, err := drawGathered(measures{"parts": 1, "width": float64(220 * in), "fullness": 2.5, "drop": 48})
			return float64(d.Parts[0].Width / in), err
		}, 550, 1e-9},
		{skirted, "220 in threefold on 54 in, told as 12 1/4, a quarter not being sold", curtain(widths, 220*in, 3, 0, 54*in, 20*in, 3*in, 0), 13, 0},
		{skirted, "20 in with 2 1/2 and 1/2 in", curtain(func(d Drops) float64 { return float64(d.Cut / in) }, 220*in, 3, 0, 54*in, 20*in, 3*in, 0), 23, 1e-9},
		{workroom, "125 in, overlap and returns of 16 in, at 2.5 on 48 in", curtain(widths, 141*in, 2.5, 0, 48*in, 90*in, 16*in, 24*in), 8, 0},
		{workroom, "90 in and 16 in", curtain(func(d Drops) float64 { return float64(d.Cut / in) }, 141*in, 2.5, 0, 48*in, 90*in, 16*in, 24*in), 106, 1e-9},
		{workroom, "106 in in repeats of 24 in", curtain(whole(in), 141*in, 2.5, 0, 48*in, 90*in, 16*in, 24*in), 120, 1e-9},
		{workroom, "eight of 120 in", curtain(func(d Drops) float64 { return float64(d.Shop / in) }, 141*in, 2.5, 0, 48*in, 90*in, 16*in, 24*in), 960, 1e-9},
		{trade, "half of 72 in threefold and 3 in on 54 in", curtain(widths, 36*in, 3, 3*in, 54*in, 48*in, 10*in, 0), 3, 0},
		{tabled, "full circle, 70 cm", radius(70, 360, units.Centimetre), 11.14, 0.005},
		{tabled, "full circle, 70 cm, and 60 cm long", func() (float64, error) { r, err := NeckRadius(70, 360); return float64(r + 60), err }, 71.14, 0.005},
		{fractions, "full circle, 28 in", radius(28*in, 360, in), 4.46, 0.005},
		{fractions, "three quarters of a circle, 70 cm", radius(70, 270, units.Centimetre), 14.85, 0.005},
		{piped, "46 in on the bias ask for 32.53 in of cloth", func() (float64, error) { l, err := LongestBias(32.53*in, 0.1); return float64(l/in) + 0.1/2.54, err }, 46, 0.01},
		{placemat, "half an inch of binding is cut 2 in wide", func() (float64, error) { w, err := BindingWidth(0.5*in, 0, SingleBinding); return float64(w / in), err }, 2, 1e-9},
		{squares, "225 of 4 in on 30 in: 33 rows of seven", func() (float64, error) {
			l, err := lay(drawParts([]Part{{Name: "square", Count: 225, Width: 4 * in, Height: 4 * in}}, allowances{}), Layer{}, float64(30*in), 0, 0, Little)
			return l.length / float64(in), err
		}, 132, 1e-6},
		{conover, "two and a half widths of 36 in to a waist of 28 in, joined 44 in on the half: 30 in to be taken up", func() (float64, error) {
			d, err := drawGathered(measures{"parts": 2, "width": float64(28 * in), "fullness": 88.0 / 28, "drop": 90})
			return float64(d.Parts[0].Width/in) - 14, err
		}, 30, 1e-9},
		// 2π·r = 88 cm at r = 14 cm with π as 22/7; a half circle takes twice the radius, a
		// quarter four times. A square of 12 in holds 144 sq in, 72 in of 2 in; of 18 in, 162 in.
		{sums, "full circle, 88 cm", radius(88, 360, units.Centimetre), 14, 0.01},
		{sums, "half circle, 88 cm", radius(88, 180, units.Centimetre), 28, 0.02},
		{sums, "quarter circle, 88 cm", radius(88, 90, units.Centimetre), 56, 0.04},
		{sums, "third of a circle, 44 in", radius(44*in, 120, in), 21, 0.02},
		{sums, "a square of 18 in in strips of 2 in", bias(18*in, 2*in), 162, 1e-9},
	} {
		t.Run(x.source+": "+x.what, func(t *testing.T) {
			got, err := x.got()
			require.NoError(t, err)
			require.InDelta(t, x.want, got, x.within)
		})
	}
}
