package cut

import (
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/units"
	"tenter/internal/testkit"
)

func TestCutSizeOfTheWorkedExample(t *testing.T) {
	// Arithmetic, common practice: 100 cm finished at 5 % is cut 105.26 cm (0.005).
	part := Part{Name: "sash", Count: 1, Width: 100, Height: 240}
	for _, x := range []struct{ allowance, width, height float64 }{
		{0, 105.263, 252.632},   // 100 / 0.95, 240 / 0.95
		{1.2, 107.789, 255.158}, // the allowances come first, for they are cloth: (100 + 2·1.2) / 0.95
	} {
		p := drawParts([]Part{part}, allowances{x.allowance, x.allowance, x.allowance})[0]
		got := cutSize(p, false, 0.05, 0.05)
		require.InDelta(t, x.width, got[0], 0.001)
		require.InDelta(t, x.height, got[1], 0.001)
	}
}

// TestThreadAgainstWorkedProblems recomputes every worked problem and ratio of the
// table, each with its source and tolerance in the row.
func TestThreadAgainstWorkedProblems(t *testing.T) {
	kinds := map[string]int{}
	for _, r := range testkit.Rows(t, "thread.csv") {
		t.Run(r["case"], func(t *testing.T) {
			num := func(key string) float64 {
				v, err := strconv.ParseFloat(r[key], 64)
				require.NoError(t, err, key)
				return v
			}
			var got float64
			switch kinds[r["unit"]]++; r["unit"] {
			case "in/in":
				v, err := ThreadFromGeometry(Stitch(r["stitch"]), units.Length(num("thickness_in"))*units.Inch, units.Inch/units.Length(num("per_inch")))
				require.NoError(t, err)
				got = v
			case "ratio":
				v, needle, err := ThreadFromRatio(Stitch(r["stitch"]))
				require.NoError(t, err)
				require.True(t, needle > 0 && needle <= 1)
				got = v
			case "cm", "yd of in":
				in := units.Centimetre
				out := units.Centimetre
				if r["unit"] == "yd of in" {
					in, out = units.Inch, units.Yard
				}
				l := func(key string) units.Length { return units.Length(num(key)) * in }
				v, err := ThreadFromUnpicking(l("seam"), l("unpicked"), l("needle"), l("under"), units.Fraction(num("waste_pct")/100))
				require.NoError(t, err)
				got = float64(v / out)
			default:
				t.Fatal(r["unit"])
			}
			require.InEpsilon(t, num("answer"), got, num("tolerance"))
		})
	}
	require.Len(t, kinds, 4)
}

func TestBobbinFromTex(t *testing.T) {
	// The definition of tex, grams per kilometre: 1 g of 20 tex is 50 m.
	l, err := ThreadOnBobbin(1, 20)
	require.NoError(t, err)
	require.InDelta(t, 50, float64(l/units.Metre), 1e-9)
}

// TestCirclesAgainstClosedForms holds drawn circles against the formulas of the
// circle: radius, hem, area, box.
func TestCirclesAgainstClosedForms(t *testing.T) {
	for _, angle := range []float64{45, 90, 180, 270, 360, 720} {
		phi := angle * math.Pi / 180
		r, err := NeckRadius(44, units.Angle(angle))
		require.NoError(t, err)
		require.InDelta(t, 44/phi, float64(r), 1e-12)
		hem, err := HemFromCircle(r, 60, units.Angle(angle))
		require.NoError(t, err)
		require.InDelta(t, 44+60*phi, float64(hem), 1e-9)

		n := math.Ceil(angle / 180)
		d, err := drawCircle(measures{"angle": angle, "length": 60, "girth": 44, "parts": n})
		require.NoError(t, err)
		o := *d.Parts[0].Outline
		R := float64(r) + 60
		require.InDelta(t, phi/n*(R*R-float64(r*r))/2, o.Area(), 1e-6, "area of the part of a ring")
		require.InDelta(t, float64(hem)/n, along(o, "hem"), 1e-9)
		require.InDelta(t, 44/n, along(o, "neck"), 1e-9)
		require.InDelta(t, 120, along(o, "straight edge"), 1e-9)
		w, err := ClothForCircle(r, 60, units.Angle(angle/n))
		require.NoError(t, err)
		switch a := phi / n; {
		case a < math.Pi/2:
			require.InDelta(t, R*math.Sin(a), float64(w), 1e-9)
		case a <= math.Pi:
			require.InDelta(t, R, float64(w), 1e-9)
		}
		require.InDelta(t, float64(w), float64(d.Parts[0].Width), 1e-9)
		// The polygon that is laid out stands for the arc to a tenth of a millimetre.
		pts, _ := o.Polygon()
		require.InDelta(t, o.Area(), area(pts), 0.02*o.Perimeter())
	}
	w, err := ClothForCircle(0, 100, 270)
	require.NoError(t, err)
	require.InDelta(t, 200, float64(w), 1e-9, "three quarters of a circle are as wide as all of it")
}

// TestHoodAgainstClosedForm: the seam over the head is a slanted line, an upright
// one, a quarter circle and a level one.
func TestHoodAgainstClosedForm(t *testing.T) {
	for _, h := range []struct{ face, depth, neck, crown, nape float64 }{{38, 30, 26, 14, 8}, {36, 26, 26, 12, 0}, {40, 30, 20, 0, 10}, {30, 20, 20, 20, 10}} {
		o, err := hoodOutline(h.face, h.depth, h.neck, h.crown, h.nape)
		require.NoError(t, err)
		require.NoError(t, o.Check())
		seam := math.Hypot(h.depth-h.neck, h.nape) + (h.face - h.crown - h.nape) + math.Pi/2*h.crown + (h.depth - h.crown)
		require.InDelta(t, seam, along(o, "centre seam"), 1e-9)
		area := h.face*h.depth - (1-math.Pi/4)*h.crown*h.crown - (h.depth-h.neck)*h.nape/2
		require.InDelta(t, area, o.Area(), 1e-9)
		require.InDelta(t, h.face, along(o, "face edge"), 1e-9)
		require.InDelta(t, h.neck, along(o, "neck"), 1e-9)
	}
}

func TestClipsKeepThePublishedSpacing(t *testing.T) {
	// A school textbook on apparel, 2012, and a curriculum sheet: clips and notches
	// 1/4 to 1/2 in (6 to 13 mm) apart by how sharp the curve is (both read).
	last := units.Length(0)
	for _, r := range []units.Length{1, 3, 5, 10, 20, 40, 60} {
		n, apart, err := ClipsOnCurve(50, r)
		require.NoError(t, err)
		require.True(t, apart >= 0.6-1e-9 && apart <= 1.3+1e-9, "%v", apart)
		require.GreaterOrEqual(t, apart, last, "the gentler, the wider")
		require.LessOrEqual(t, 50/float64(n+1), float64(apart)+1e-9, "never further apart")
		last = apart
	}
	n, _, err := ClipsOnCurve(300, 100)
	require.NoError(t, err)
	require.Zero(t, n, "a hem of a wide circle lies flat")
}

func TestBindingWidthCountsTheFolds(t *testing.T) {
	// Two folds in and one in half: four widths; folded in half first: six.
	w, err := BindingWidth(1, 0, SingleBinding)
	require.NoError(t, err)
	require.InDelta(t, 4, float64(w), 1e-12)
	w, err = BindingWidth(1, 0.2, DoubleBinding)
	require.NoError(t, err)
	require.InDelta(t, 6.2, float64(w), 1e-12)
}
