package fibres

import (
	"io/fs"
	"math"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"

	"tenter/data"
	"tenter/internal/testkit"
)

// catalogue is the built-in one, loaded once for all tests.
var catalogue = testkit.Loaded(func() (*Catalogue, error) { return Load(data.FS) })

func figureOf(t *testing.T, row map[string]string, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(row[column], 64)
	require.NoError(t, err, "%s of %v", column, row)
	return v
}

// calibration is what `go run ./fibres/gen` found, by the name of the figure.
func calibration(t *testing.T) map[string][2]float64 {
	t.Helper()
	out := map[string][2]float64{}
	for _, r := range testkit.Rows(t, "calibration.csv") {
		out[r["figure"]] = [2]float64{figureOf(t, r, "value"), figureOf(t, r, "n")}
	}
	return out
}

// Every constant of the predictor is what the program fitted. Source of the figures:
// testdata/reference/calibration.csv, computed over 251 cloths (Feng and others 2022)
// and the named rows. Tolerance: the digits of the constant.
func TestConstantsAreThoseFitted(t *testing.T) {
	fitted := calibration(t)
	for _, x := range []struct {
		name   string
		is     float64
		within float64
	}{
		{"scale of c = scale · W^exponent", predictScale, 0.0005},
		{"exponent of c = scale · W^exponent", predictExponent, 0.00005},
		{"quantile of c over the line, 10 %", predictLow, 0.005},
		{"quantile of c over the line, 50 %", predictMedian, 0.005},
		{"quantile of c over the line, 90 %", predictHigh, 0.005},
		{"warp over overall, from the median of warp over weft", warpPart, 0.001},
		{"the same from the 5 and 95 % of warp over weft", directionSD, 0.0005},
		{"bias bending length: a third of it", biasSD, 0.003},
		{"cloths of one name: middle of suiting and denim", nameSD, 0.005},
		{"what adjectives leave over", adjectiveSD, 0.005},
		{"a place unknown within a band", bandSD, 0.005},
		{"adjective of a cloth against its structure's, standard deviation", structureSD, 0.01},
		{"one laboratory: standard deviation of ln c", laboratorySD, 0.005},
	} {
		f, ok := fitted[x.name]
		require.True(t, ok, "no figure %q", x.name)
		require.InDelta(t, f[0], x.is, x.within, x.name)
	}
	for i, w := range HandScale {
		require.InDelta(t, []float64{8.0, 31.5, 33.5, 20.3, 6.0, 0.8}[i], fitted["share of the band "+w][0], 0.5, w)
	}
}

// Of the 251 cloths about 80 % lie in the interval from mass alone, also when each is
// predicted from the others only. Source: calibration.csv.
func TestCoverageOverTheUnnamedSet(t *testing.T) {
	fitted := calibration(t)
	for _, name := range []string{"cloths within 0.70 to 1.39 times 1.270 W^0.0748", "leave one out by mass: cloths within 10 to 90 %"} {
		f := fitted[name]
		require.Equal(t, 251.0, f[1], name)
		require.GreaterOrEqual(t, f[0]/f[1], 0.78, name)
		require.LessOrEqual(t, f[0]/f[1], 0.83, name)
	}
	// and the interval is the one that a cloth of that mass gets
	e := catalogue(t).Estimate(Subject{Known: map[Property]Estimate{Mass: Figure(Mass, 120, 120, 120, Measured, "")}}, BendingLength)
	mid := 1.270 * math.Pow(120, 0.0748)
	require.InDelta(t, mid*0.70, e.Low, 0.01)
	require.InDelta(t, mid*1.03, e.Typical, 0.01)
	require.InDelta(t, mid*1.39, e.High, 0.01)
	require.Equal(t, Derived, e.Basis)
}

// everyMeasurement are the sources of bending lengths in the catalogue and in the named rows.
var everyMeasurement = []string{"wang-2011", "denim-enzyme-2014", "denim-cellulose-2016", "stiffness-report-2020", "kawabata-1980"}

// leftOut predicts the named rows without their own measurement and counts those inside.
func leftOut(t *testing.T, c *Catalogue, all bool) (inside, n int) {
	t.Helper()
	for _, r := range testkit.Rows(t, "named_bending_lengths.csv") {
		if r["cloth"] == "" || r["bending_length_cm"] == "" {
			continue
		}
		k := c.Cloths[r["cloth"]]
		require.NotNil(t, k, r["cloth"])
		s := Subject{Cloth: k}
		if r["areal_mass_gsm"] != "" {
			g := figureOf(t, r, "areal_mass_gsm")
			s = s.With(c, Mass, g, g)
		}
		without := []string{r["source_id"]}
		if all {
			without = everyMeasurement
		}
		e := c.PredictBendingLength(s, without...)
		v := figureOf(t, r, "bending_length_cm")
		n++
		if v >= e.Low && v <= e.High {
			inside++
		}
		t.Logf("%-40s measured %.2f, predicted %s", r["fabric"], v, e.Say())
	}
	return inside, n
}

// Leave one source out over the named rows: about 80 % lie in 10 to 90 %. Twelve rows of
// nine cloths are few: 9 of 12 is what chance gives a true 80 % as readily as 10. Six of
// them are copied and predicted here; the others, of wang-2011, stand in calibration.csv
// as counts. Source: testdata/reference/named_bending_lengths.csv (suiting from memory).
func TestCoverageOverTheNamedRows(t *testing.T) {
	c := catalogue(t)
	for _, all := range []bool{false, true} {
		inside, n := leftOut(t, c, all)
		require.Equal(t, 6, n)
		t.Logf("%d of %d, every measurement left out: %v", inside, n, all)
		require.GreaterOrEqual(t, inside, 4)
	}
	fitted := calibration(t)
	for _, name := range []string{"named rows, own source left out: within 10 to 90 %", "named rows, every measurement left out: within 10 to 90 %"} {
		require.Equal(t, 12.0, fitted[name][1], name)
		require.GreaterOrEqual(t, fitted[name][0], 8.0, name)
		require.LessOrEqual(t, fitted[name][0], 11.0, "%s: intervals that hold all are too wide", name)
	}
}

// A name is a population: nothing is known of it as a point, in any direction.
func TestNoPointForAName(t *testing.T) {
	c := catalogue(t)
	least := math.Exp(2 * z90 * math.Hypot(nameSD, adjectiveSD)) // the narrowest that the evidence bears
	for _, k := range c.ClothList() {
		for _, p := range []Property{BendingLength, BendingLengthWarp, BendingLengthWeft, BendingLengthBias} {
			e := c.Estimate(Subject{Cloth: k}, p)
			require.True(t, e.Known(), "%s %s", k.ID, p)
			require.Greater(t, e.High/e.Low, least, "%s %s: %s", k.ID, p, e.Say())
			require.Less(t, e.High/e.Low, 5.0, "%s %s: %s says nothing", k.ID, p, e.Say())
			require.Equal(t, Derived, e.Basis, "%s %s", k.ID, p)
			require.NotEmpty(t, e.Sources)
		}
	}
}

// A measured sample is one cloth of the name: it moves the middle, shows as a source that
// differs, and narrows nothing beyond the doubt of the best evidence.
func TestMeasuredSamplesMoveTheMiddle(t *testing.T) {
	c := catalogue(t)
	for _, id := range []string{"denim"} {
		s := Subject{Cloth: c.Cloths[id]}
		with, without := c.Estimate(s, BendingLength), c.PredictBendingLength(s, everyMeasurement...)
		m := c.Measurements(s.Cloth)
		require.NotEmpty(t, m, id)
		toward := 0.0
		for _, x := range m {
			toward += math.Log(x.Typical/without.Typical) / float64(len(m))
		}
		moved := math.Log(with.Typical / without.Typical)
		require.Greater(t, moved*toward, 0.0, "%s moves towards its samples", id)
		require.Less(t, math.Abs(moved), math.Abs(toward), "%s does not jump to them", id)
		require.GreaterOrEqual(t, with.High/with.Low, without.High/without.Low-1e-9, "%s: one sample narrows no name", id)
		require.Len(t, with.Differ, len(m), id)
		for _, x := range with.Differ {
			require.Contains(t, with.Sources, x.Sources[0], id)
			require.Contains(t, []Basis{Published, Memory}, x.Basis)
		}
	}
}

func row(level float64, c *Catalogue, prior evidence) Estimate {
	var ch chain
	h := Figure(Hand, level, level, level, Practice, "", "practice")
	return combine(prior, []evidence{c.bandEvidence(h, adjectiveSD, "", &ch)})
}

// A stiffer word gives a longer bending length, and any word a width of its own: nothing
// is narrower than the evidence it rests on.
func TestWordsOrderTheEstimate(t *testing.T) {
	c := catalogue(t)
	var ch chain
	prior := c.anyName(Subject{}, &ch)
	last := 0.0
	for level := range HandScale {
		e := row(float64(level), c, prior)
		require.Greater(t, e.Typical, last, HandScale[level])
		last = e.Typical
		require.GreaterOrEqual(t, math.Log(e.High/e.Typical)/z90+1e-9, math.Hypot(nameSD, math.Hypot(adjectiveSD, bandSD)))
	}
	require.Greater(t, row(0, c, prior).Typical, HandEdges[0], "a fluid word is no promise of the limpest cloth")
	require.Less(t, row(5, c, prior).Typical, HandEdges[6], "nor a rigid one of a board")
}

// Two pieces of evidence that disagree widen, however sure each is.
func TestDisagreementWidens(t *testing.T) {
	var ch chain
	prior := catalogue(t).anyName(Subject{}, &ch)
	one := evidence{mean: 0.5, sd: 0.15}
	near, far := combine(prior, []evidence{one, {mean: 0.5, sd: 0.15}}), combine(prior, []evidence{one, {mean: 1.2, sd: 0.15}})
	alone := combine(prior, []evidence{one})
	require.Greater(t, far.High/far.Low, near.High/near.Low)
	require.GreaterOrEqual(t, near.High/near.Low, alone.High/alone.Low-1e-9, "agreement of pieces that are not independent narrows nothing")
}

// A weave shifts bending length as the trade ranks it: plain over twill over satin, by
// little. Source: plain stiffer than twill, worsted-rigidity-2009 (read); the rest practice.
func TestWeaveShift(t *testing.T) {
	c := catalogue(t)
	shift := func(weave string) float64 {
		s, _, ok := c.weaveShift(&Structure{Weave: weave})
		require.True(t, ok, weave)
		return s
	}
	order := []string{"plain", "twill-2-1", "twill-2-2", "satin-5", "satin-8"}
	for i := 1; i < len(order); i++ {
		require.Less(t, shift(order[i]), shift(order[i-1]), "%s against %s", order[i], order[i-1])
	}
	require.InDelta(t, shift("satin-5"), shift("sateen-5"), 1e-12, "the face does not matter")
	require.InDelta(t, 0, shift("plain")+shift("twill-2-2"), 1e-12, "the measured cloths stand between plain and twill")
	require.Less(t, math.Abs(shift("satin-8")), 0.12)
	_, _, ok := c.weaveShift(&Structure{})
	require.False(t, ok, "what has no lift plan is not shifted")
}

// What a treatment does to a cloth of its kind shifts the cloths of any name that it is
// compared with, so that a stiffened cloth is not drawn towards limp ones.
func TestTreatmentsShiftTheCloths(t *testing.T) {
	c := catalogue(t)
	var ch chain
	for id, stiffer := range map[string]bool{"starched": true, "waxed": true, "brushed": false, "stone-washed": false} {
		k := &Cloth{ID: "none", Name: "none", Structure: c.Structures["plain"]}
		plain := c.anyName(Subject{Cloth: k}, &ch)
		k.Treatments = []*Treatment{c.Treatments[id]}
		require.NotNil(t, k.Treatments[0], id)
		treated := c.anyName(Subject{Cloth: k}, &ch)
		require.Equal(t, stiffer, treated.mean > plain.mean, id)
		require.Greater(t, treated.sd, plain.sd, "%s: by how much is not known well", id)
	}
}

// The user's own word counts as the trade's does.
func TestUsersWordForTheHand(t *testing.T) {
	c := catalogue(t)
	said := func(level float64) Estimate {
		return c.Estimate(Subject{Known: map[Property]Estimate{Hand: Figure(Hand, level, level, level, Measured, "")}}, BendingLength)
	}
	require.Greater(t, said(4).Typical, said(1).Typical)
	require.Less(t, said(1).High, 2.6)
	sample := c.Sample(Subject{Known: map[Property]Estimate{Hand: Figure(Hand, 1, 1, 1, Measured, "")}}, ShellSalt)
	require.Equal(t, []float64{1}, sample.Of(Hand), "a hand that was felt is not guessed again")
}

// withMeasured is the catalogue with invented measurements of bending length in the
// place of the recorded ones.
func withMeasured(t *testing.T, rows string) *Catalogue {
	t.Helper()
	files := fstest.MapFS{}
	names, err := fs.Glob(data.FS, "*.csv")
	require.NoError(t, err)
	for _, n := range names {
		b, err := fs.ReadFile(data.FS, n)
		require.NoError(t, err)
		if n == "bending_length.csv" {
			header, _, _ := strings.Cut(string(b), "\n")
			b = []byte(header + "\n" + rows)
		}
		files[n] = &fstest.MapFile{Data: b}
	}
	c, err := read(files)
	require.NoError(t, err)
	return c
}

// The directions of a name: the geometric mean of warp and weft is the overall figure, the
// warp above the weft unless a sample says otherwise.
func TestDirectionsOfAName(t *testing.T) {
	c := catalogue(t)
	for _, k := range c.ClothList() {
		s := Subject{Cloth: k}
		o, w, f := c.Estimate(s, BendingLength), c.Estimate(s, BendingLengthWarp), c.Estimate(s, BendingLengthWeft)
		require.InEpsilon(t, o.Typical, math.Sqrt(w.Typical*f.Typical), 0.002, k.ID)
		if len(c.Measurements(k)) == 0 {
			require.InDelta(t, warpPart, w.Typical/o.Typical, 1e-9, k.ID)
		}
	}
	c = withMeasured(t, "cloth,denim,warp,2.6,2.6,2.6,low; typical; high,published,denim-enzyme-2014,invented,\ncloth,denim,weft,3.1,3.1,3.1,low; typical; high,published,denim-enzyme-2014,invented,\n")
	denim := Subject{Cloth: c.Cloths["denim"]}
	require.Less(t, c.Estimate(denim, BendingLengthWarp).Typical, c.Estimate(denim, BendingLength).Typical*warpPart, "the sample was stiffer along the weft")
	one := c.Sample(denim, ShellSalt)
	for i := range N {
		o, _ := one.At(BendingLength, i)
		w, _ := one.At(BendingLengthWarp, i)
		f, _ := one.At(BendingLengthWeft, i)
		require.InEpsilon(t, o, math.Sqrt(w*f), 0.003, "member %d", i)
	}
}

// What goes with mass is narrowed by saying the mass, towards the right side: thicker and
// more opaque where heavier.
func TestMassNarrowsWhatGoesWithIt(t *testing.T) {
	c := catalogue(t)
	thicker, opaquer := 0, 0
	for _, k := range c.ClothList() {
		s := Subject{Cloth: k}
		m := c.Estimate(s, Mass)
		if !m.Known() || m.High/m.Low < 1.2 {
			continue
		}
		light, heavy := s.With(c, Mass, m.Low, m.Low), s.With(c, Mass, m.High, m.High)
		if was := c.Estimate(s, Thickness); was.Known() {
			a, b := c.Estimate(light, Thickness), c.Estimate(heavy, Thickness)
			require.Less(t, a.Typical, b.Typical, k.ID)
			require.LessOrEqual(t, b.High/b.Low, was.High/was.Low+1e-9, k.ID)
			thicker++
		}
		if was := c.Estimate(s, ShowThrough); was.Known() && was.Low < was.High {
			a, b := c.Estimate(light, ShowThrough), c.Estimate(heavy, ShowThrough)
			require.GreaterOrEqual(t, a.Typical, b.Typical, k.ID)
			require.LessOrEqual(t, b.High-b.Low, was.High-was.Low, k.ID)
			if a.Typical > b.Typical || a.High > b.High || a.Low > b.Low {
				opaquer++
			}
		}
	}
	require.Greater(t, thicker, 300)
	require.Greater(t, opaquer, 60)
}

// Mass hardly moves the bending length, and never narrows it: mass explains 4 % of it.
func TestMassHardlyMovesBendingLength(t *testing.T) {
	c := catalogue(t)
	require.Less(t, calibration(t)["part of the variance that mass explains"][0], 0.05)
	for _, k := range c.ClothList() {
		s := Subject{Cloth: k}
		m := c.Estimate(s, Mass)
		a, b := c.Estimate(s.With(c, Mass, m.Low, m.Low), BendingLength), c.Estimate(s.With(c, Mass, m.High, m.High), BendingLength)
		require.LessOrEqual(t, a.Typical, b.Typical+1e-9, k.ID)
		require.Less(t, b.Typical/a.Typical, 1.08, k.ID)
		require.InEpsilon(t, a.High/a.Low, b.High/b.Low, 1e-6, k.ID)
	}
}

// Heavy members of a population are its thick and opaque ones; its stiff ones are not the
// heavy ones.
func TestMembersKeepTheirCorrelation(t *testing.T) {
	c := catalogue(t)
	correlation := func(x, y []float64) float64 {
		var mx, my, xx, yy, xy float64
		for i := range x {
			mx, my = mx+x[i]/float64(len(x)), my+y[i]/float64(len(y))
		}
		for i := range x {
			xx, yy, xy = xx+(x[i]-mx)*(x[i]-mx), yy+(y[i]-my)*(y[i]-my), xy+(x[i]-mx)*(y[i]-my)
		}
		return xy / math.Sqrt(xx*yy)
	}
	seen := 0
	for _, k := range c.ClothList() {
		s := c.Sample(Subject{Cloth: k}, ShellSalt)
		m, b := s.Of(Mass), s.Of(BendingLength)
		if len(m) != N || len(b) != N {
			continue
		}
		seen++
		require.InDelta(t, 0, correlation(m, b), 0.2, k.ID)
		if v := s.Of(Thickness); len(v) == N && c.Estimate(Subject{Cloth: k}, Thickness).Basis == Derived {
			require.Greater(t, correlation(m, v), 0.3, k.ID)
		}
		if v := s.Of(ShowThrough); len(v) == N {
			if r := correlation(m, v); !math.IsNaN(r) {
				require.Less(t, r, -0.1, k.ID)
			}
		}
	}
	require.Greater(t, seen, 300)
}

// The figures of the calibration that rest on our own data are those of the data as they
// stand: else run `go run ./fibres/gen` anew.
func TestCalibrationIsOfTheDataAsTheyStand(t *testing.T) {
	c, fitted := catalogue(t), calibration(t)
	middle := func(level float64) float64 { return math.Log(HandEdges[int(level)]*HandEdges[int(level)+1]) / 2 }
	var sum, squares, n, width float64
	for _, k := range c.ClothList() {
		s := Subject{Cloth: k}
		e := c.PredictBendingLength(s)
		width += math.Log(e.High/e.Low) / math.Log(predictHigh/predictLow)
		h, st := c.rows("cloth", k.ID, Hand), c.rows("structure", k.Structure.ID, Hand)
		if len(h) == 0 || len(st) == 0 {
			continue
		}
		d := middle(h[0].Typical) - middle(st[0].Typical)
		sum, squares, n = sum+d, squares+d*d, n+1
	}
	sd := math.Sqrt((squares - sum*sum/n) / (n - 1))
	require.InDelta(t, structureSD, sd, 0.015)
	const name = "width of the prediction over that from mass alone, mean over the cloths"
	require.InDelta(t, fitted[name][0], width/float64(len(c.ClothList())), 0.02, name)
	require.Less(t, width/float64(len(c.ClothList())), 1.0, "knowing the name must be worth something")
}
