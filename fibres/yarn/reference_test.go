package yarn

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/units"
	"tenter/internal/testkit"
)

func num(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
	require.NoError(t, err)
	return v
}

// TestCountsAgainstGNUUnits: every yarn count, sett and tenacity of the file, as
// GNU Units 2.22 printed it to nine figures; tolerance half of the ninth.
func TestCountsAgainstGNUUnits(t *testing.T) {
	n := 0
	for _, r := range testkit.Rows(t, "units_reference.csv") {
		input, expected := r["input"], num(t, r["expected"])
		unit := func(s string) string { s, _, _ = strings.Cut(s, " ("); return s }
		switch r["category"] {
		case "yarn count":
			n++
			t.Run(r["row"], func(t *testing.T) {
				text := input + " " + unit(r["input_unit"])
				if strings.Contains(r["input_unit"], "2-ply") {
					text = "Ne " + input + "/2"
				}
				c, err := ParseCount(text)
				require.NoError(t, err)
				to, err := ParseCountSystem(unit(r["output_unit"]))
				require.NoError(t, err)
				got, err := ConvertCount(c, to)
				require.NoError(t, err)
				require.InEpsilon(t, expected, got.Single, 5e-9)
			})
		case "thread count":
			n++
			v := Sett(num(t, input))
			if r["input_unit"] == "per in" {
				v *= ThreadsPerInch
			}
			if r["output_unit"] == "per in" {
				v /= ThreadsPerInch
			}
			require.InEpsilon(t, expected, float64(v), 5e-9, r["row"])
		case "tenacity":
			unit := map[string]Tenacity{"gf/den": GramForcePerDenier, "gf/tex": GramForcePerTex, "cN/tex": CentinewtonPerTex}
			n++
			from, to := unit[r["input_unit"]], unit[r["output_unit"]]
			require.InEpsilon(t, expected, float64(Tenacity(num(t, input))*from/to), 5e-9, r["row"])
		}
	}
	require.Equal(t, 30+2+3, n)
}

// TestRunningMassAgainstGNUUnits: cloth sold by the running length, GNU Units 2.22.
func TestRunningMassAgainstGNUUnits(t *testing.T) {
	const ozPerYard = 28.349523125 / 0.9144 // grams per metre
	// 300 g per running metre at 150 cm: 200 g/m².
	w, err := ArealMassFromRunningMass(300, 150)
	require.NoError(t, err)
	require.InDelta(t, 200, float64(w), 1e-9)
	// 12 oz per running yard at 60 in: 7.2 oz/yd².
	w, err = ArealMassFromRunningMass(12*ozPerYard, 60*units.Inch)
	require.NoError(t, err)
	require.InDelta(t, 7.2, float64(w/units.OuncePerSquareYard), 1e-9)
	// 2.5 yd to the pound at 45 in: 173.597427 g/m².
	w, err = ArealMassFromRunningMass(453.59237/2.5/0.9144, 45*units.Inch)
	require.NoError(t, err)
	require.InEpsilon(t, 173.597427, float64(w), 5e-9)
	// W. H. Dooley, Textiles, 1914, lawn: 1.25 to 2.25 oz a yard, 36 to 40 in wide,
	// which is 38 to 76 g/m² when the lightest is the widest.
	w, err = ArealMassFromRunningMass(1.25*ozPerYard, 40*units.Inch)
	require.NoError(t, err)
	require.InDelta(t, 38, float64(w), 0.5)
	w, err = ArealMassFromRunningMass(2.25*ozPerYard, 36*units.Inch)
	require.NoError(t, err)
	require.InDelta(t, 76, float64(w), 0.5)
}

// TestWeighedSamples: a garment laboratory's note on weighing cloth (read).
func TestWeighedSamples(t *testing.T) {
	w, err := ArealMassFromSample(1.85, 100)
	require.NoError(t, err)
	require.InDelta(t, 185, float64(w), 1e-9, "1.85 g for a disc of 100 cm²")
	require.InDelta(t, 185/33.91, float64(w/units.OuncePerSquareYard), 0.001, "the note divides by 33.91")
	w, err = ArealMassFromSample((3.33+3.26+3.16+3.32)/4, 144)
	require.NoError(t, err)
	require.InDelta(t, 226.9, float64(w), 0.05, "four squares of 12 cm")
	// A disc of 113 mm is 100.29 cm²: grams times 99.71.
	w, err = ArealMassFromSample(1, 100.29)
	require.NoError(t, err)
	require.InDelta(t, 99.71, float64(w), 0.005)
}

// poplin is the worked cloth: 52.4 ends and 28.3 picks per cm of 14.76 tex, crimp
// 8 and 4 %. Own arithmetic from the textbook formulas (from memory).
var poplin = [2]Threads{{52.4, 14.76, 0.08}, {28.3, 14.76, 0.04}}

func TestMassOfTheWorkedExample(t *testing.T) {
	w, err := ArealMassFromSett(poplin[0], poplin[1])
	require.NoError(t, err)
	require.InDelta(t, 126.97, float64(w), 0.005)
}

func TestCoverOfTheWorkedExample(t *testing.T) {
	k1, err := CoverFactor(poplin[0])
	require.NoError(t, err)
	require.InDelta(t, 21.043, k1, 0.002)
	k2, err := CoverFactor(poplin[1])
	require.NoError(t, err)
	require.InDelta(t, 11.365, k2, 0.002)
	kc, err := ClothCover(k1, k2)
	require.NoError(t, err)
	require.InDelta(t, 23.867, kc, 0.002)
}

// TestShowThroughOfKnownCloths: setts and counts as commonly woven (common
// practice, from memory); what the trade says of them lies within the range, and
// for these, which are plain cases, is the middle of it.
func TestShowThroughOfKnownCloths(t *testing.T) {
	for _, c := range []struct {
		name       string
		warp, weft Threads
		want       ShowThrough
	}{
		{"denim, 27 × 18 per cm of 84 and 98 tex", Threads{27, 84, 0.1}, Threads{18, 98, 0.05}, ShowNone},
		{"poplin", poplin[0], poplin[1], ShowLow},
		{"voile, 24 × 22 per cm of Ne 60", Threads{24, 9.84, 0.05}, Threads{22, 9.84, 0.05}, ShowHigh},
		{"organdie, 33 × 30 per cm of Ne 80", Threads{33, 7.38, 0.05}, Threads{30, 7.38, 0.05}, ShowHigh},
	} {
		t.Run(c.name, func(t *testing.T) {
			k1, err := CoverFactor(c.warp)
			require.NoError(t, err)
			k2, err := CoverFactor(c.weft)
			require.NoError(t, err)
			kc, err := ClothCover(k1, k2)
			require.NoError(t, err)
			open, err := OpenShareFromCover(kc)
			require.NoError(t, err)
			low, typical, high, err := ShowThroughFromOpenShare(open)
			require.NoError(t, err)
			require.Equal(t, c.want, typical, "open %v", open)
			require.LessOrEqual(t, low, typical)
			require.GreaterOrEqual(t, high, typical)
		})
	}
}

// allowance is Regulation (EU) No 1007/2011, Annex IX (read).
var allowance = map[string]units.Fraction{
	"wool_combed": 0.1825, "wool_carded": 0.17, "silk": 0.11, "cotton": 0.085, "linen": 0.12, "viscose": 0.13, "acrylic": 0.02,
	"nylon_staple": 0.0625, "nylon_filament": 0.0575, "polyester": 0.015, "elastane": 0.015,
}

// density is Morton and Hearle, Physical Properties of Textile Fibres, 4th ed.,
// table 5.1, at 65 % r.h. (read).
var density = map[string]float64{"polyester": 1.39, "cotton": 1.52, "wool": 1.31, "acrylic": 1.19}

// dots: acrylic, nylon, acetate, wool, silk, viscose, polyester, cotton and linen
// as an explanation of care signs has them (read); the rest common practice.
var dots = map[string]Dots{
	"acrylic": 1, "nylon": 1, "acetate": 1, "wool": 2, "silk": 2, "viscose": 2, "polyester": 2, "cotton": 3, "linen": 3,
	"elastane": 1, "metallic": 1, "polypropylene": 0,
}

var (
	sharePattern = regexp.MustCompile(`([a-z_]+) ([\d.]+)`)
	densePattern = regexp.MustCompile(`([a-z]+) ([\d.]+) \(d ([\d.]+)\)`)
	lawPattern   = regexp.MustCompile(`([\d.]+); [a-z ]+ ([\d.]+); [a-z ]+ ([\d.]+); a ([\d.]+), ([\d.]+), ([\d.]+); b ([\d.]+), ([\d.]+), ([\d.]+)`)
)

// TestBlends works through every row of the file of worked blends. Derived rows
// print 3 decimals, half of the last is allowed; the law's own examples are cut to
// 0.01 points.
func TestBlends(t *testing.T) {
	seen := map[string]int{}
	for _, r := range testkit.Rows(t, "blends.csv") {
		kind, _, _ := strings.Cut(r["kind"], " (")
		seen[kind]++
		t.Run(r["row"], func(t *testing.T) {
			input := r["input"]
			var want []float64
			for s := range strings.SplitSeq(r["expected"], ";") {
				if v, err := strconv.ParseFloat(strings.TrimSpace(s), 64); err == nil {
					want = append(want, v)
				}
			}
			equal := func(got []units.Fraction, tolerance float64) {
				require.Len(t, got, len(want))
				sum := units.Fraction(0)
				for i := range got {
					require.InDelta(t, want[i], float64(got[i])*100, tolerance)
					sum += got[i]
				}
				require.InDelta(t, 1, float64(sum), 1e-12)
			}
			var parts []Part
			var shares []units.Fraction
			var names []string
			for _, m := range sharePattern.FindAllStringSubmatch(input, -1) {
				names = append(names, m[1])
				shares = append(shares, units.Fraction(num(t, m[2])/100))
				parts = append(parts, Part{Share: shares[len(shares)-1], Allowance: allowance[m[1]]})
			}
			known := func() {
				require.NotEmpty(t, names)
				for _, n := range names {
					require.Contains(t, allowance, n)
				}
			}
			switch kind {
			case "dry to allowance":
				if m := lawPattern.FindStringSubmatch(input); m != nil {
					parts = nil
					for i := 1; i <= 3; i++ {
						parts = append(parts, Part{units.Fraction(num(t, m[i]) / 100), units.Fraction(num(t, m[i+3]) / 100), units.Fraction(num(t, m[i+6]) / 100)})
					}
					got, err := AllowanceSharesFromDry(parts)
					require.NoError(t, err)
					equal(got, 0.01)
					return
				}
				known()
				got, err := AllowanceSharesFromDry(parts)
				require.NoError(t, err)
				equal(got, 0.00051)
				for i := range parts {
					parts[i].Share = got[i]
				}
				back, err := DrySharesFromAllowance(parts)
				require.NoError(t, err)
				for i := range back {
					require.InDelta(t, float64(shares[i]), float64(back[i]), 1e-9, "there and back")
				}
			case "label to dry":
				known()
				got, err := DrySharesFromAllowance(parts)
				require.NoError(t, err)
				equal(got, 0.00051)
			case "density of blend":
				var d []Dense
				for _, m := range densePattern.FindAllStringSubmatch(input, -1) {
					d = append(d, Dense{units.Fraction(num(t, m[2]) / 100), num(t, m[3])})
				}
				require.Len(t, d, 2)
				got, err := BlendDensity(d)
				require.NoError(t, err)
				require.InDelta(t, want[0], got, 0.000051)
				require.Greater(t, got, min(d[0].Density, d[1].Density))
				require.Less(t, got, max(d[0].Density, d[1].Density))
			case "volume share":
				var d []Dense
				for i, n := range names {
					require.Contains(t, density, n)
					d = append(d, Dense{shares[i], density[n]})
				}
				got, err := VolumeShares(d)
				require.NoError(t, err)
				equal(got, 0.00051)
			case "pressing limit":
				var p []Pressed
				for i, n := range names {
					require.Contains(t, dots, n)
					p = append(p, Pressed{shares[i], dotted(dots[n])})
				}
				got, err := PressingLimit(p)
				require.NoError(t, err)
				if r["expected"] == "do not iron" {
					require.Equal(t, "do not iron", got.String())
					return
				}
				require.True(t, got.Iron)
				require.InDelta(t, want[0], float64(got.Celsius), 0)
			case "label tolerance":
				label, test, _ := strings.Cut(input, "; test")
				split := func(s string) (out []units.Fraction) {
					for _, m := range sharePattern.FindAllStringSubmatch(s, -1) {
						out = append(out, units.Fraction(num(t, m[2])/100))
					}
					return out
				}
				ok, _, err := WithinLabelTolerance(split(label), split(test))
				require.NoError(t, err)
				require.Equal(t, r["expected"] == "yes", ok)
			default:
				t.Fatalf("no check for %q", kind)
			}
		})
	}
	total := 0
	for _, n := range seen {
		total += n
	}
	require.Equal(t, 32, total)
}

// dotted is the limit that a number of dots stands for.
func dotted(d Dots) Limit { return Limit{Known: true, Iron: d > 0, Celsius: dotLimits[d]} }

// TestDotsInBothScales: 1, 2, 3 dots are 110, 150, 200 °C in two explanations of
// care signs (read), and 230, 302, 392 °F by GNU Units 2.22.
func TestDotsInBothScales(t *testing.T) {
	for d, f := range map[Dots]string{1: "230 °F", 2: "302 °F", 3: "392 °F"} {
		l := dotted(d)
		require.Equal(t, f, l.Celsius.In(units.Imperial))
		back, ok := l.Dots()
		require.True(t, ok)
		require.Equal(t, d, back)
	}
}

// TestWeaves: all weaves of the file, counted by a second program; crossing
// firmness is printed to 4 decimals.
func TestWeaves(t *testing.T) {
	n := 0
	for _, r := range testkit.Rows(t, "weaves.csv") {
		n++
		t.Run(r["weave"], func(t *testing.T) {
			w, err := ParseLiftPlan(r["lift_plan"])
			require.NoError(t, err)
			is := func(column string, got int) { require.Equal(t, r[column], strconv.Itoa(got), column) }
			is("repeat_ends", w.Ends())
			is("repeat_picks", w.Picks())
			warp, weft := w.Changes()
			is("warp_changes", warp)
			is("weft_changes", weft)
			f := w.Floats()
			is("warp_float_face", f.WarpFace)
			is("warp_float_back", f.WarpBack)
			is("weft_float_face", f.WeftFace)
			is("weft_float_back", f.WeftBack)
			require.InDelta(t, num(t, r["crossing_firmness"]), w.CrossingFirmness(), 0.000051)
		})
	}
	require.Equal(t, 15, n)
}

// TestFirmnessFollowsTheTrade: the order in which common weaves bind, from their
// lift plans; Matsudaira and Morino 2005 give 2 for plain weave (from memory).
func TestFirmnessFollowsTheTrade(t *testing.T) {
	firm := map[string]float64{}
	face := map[string]int{}
	for _, r := range testkit.Rows(t, "weaves.csv") {
		w, err := ParseLiftPlan(r["lift_plan"])
		require.NoError(t, err)
		firm[r["weave"]] = w.CrossingFirmness()
		face[r["weave"]] = w.Floats().LongestFace()
	}
	require.Equal(t, 2.0, firm["plain"])
	for _, steps := range [][]string{
		{"plain", "oxford_2_1", "twill_2_1", "twill_2_2", "satin_5", "satin_8"},
		{"plain", "warp_rib_2_2", "twill_2_1", "basket_2_2", "satin_5", "satin_8"},
		{"plain", "weft_rib_2_2", "twill_2_1", "twill_3_1", "satin_5", "satin_8"},
	} {
		for i := 1; i < len(steps); i++ {
			require.Greater(t, firm[steps[i-1]], firm[steps[i]], "%s binds closer than %s", steps[i-1], steps[i])
		}
	}
	for weave, float := range map[string]int{"plain": 1, "twill_2_1": 2, "twill_3_1": 3, "satin_5": 4, "satin_8": 7} {
		require.Equal(t, float, face[weave], weave)
	}
}

// Source: Regulation (EU) No 1007/2011, first worked example (read): 10.30 wool, 50.00 nylon and
// 39.70 cotton of the dry mass, with 17.00, 6.25 and 8.50 + 4.0 per cent agreed moisture and loss,
// weigh 109.8385 together; each share is its part of that sum (10.97, 48.37, 40.66).
func TestSumOfTheLawsExample(t *testing.T) {
	dry := []float64{10.30, 50.00, 39.70}
	moist := []float64{17.00, 6.25, 8.50 + 4.0}
	var parts []Part
	for i := range dry {
		parts = append(parts, Part{Share: units.Fraction(dry[i] / 100), Allowance: units.Fraction(moist[i] / 100)})
	}
	shares, err := AllowanceSharesFromDry(parts)
	require.NoError(t, err)
	for i, want := range []float64{10.97, 48.37, 40.66} {
		require.InDelta(t, want, float64(shares[i])*100, 0.01)
		require.InDelta(t, 109.8385, dry[i]*(1+moist[i]/100)/float64(shares[i]), 1e-9)
	}
}

// Both ways of writing a plied yarn are read: the trade writes worsted and knitting
// yarns with the ply first, cotton with it behind (ISO 2 and textbooks, from
// memory); the tex follow from the definitions. A stroke behind denier counts
// filaments.
func TestPliesInEitherOrder(t *testing.T) {
	for text, tex := range map[string]float64{
		"Nm 2/28": 2 * 1000.0 / 28, "Nm 28/2": 2 * 1000.0 / 28, "2/28 Nm": 2 * 1000.0 / 28,
		"Ne 2/20": 2 * 590.5412 / 20, "Ne 20/2": 2 * 590.5412 / 20, "Ne 60/2": 590.5412 / 30, "Ne 3/12": 3 * 590.5412 / 12,
		"NeW 2/32": 2 * 885.8119 / 32, "150/48 den": 150.0 / 9, "70/2 den": 140.0 / 9, "20x2 tex": 40, "R 40 tex/2": 40, "Nm 1/16": 62.5,
	} {
		c, err := ParseCount(text)
		require.NoError(t, err, text)
		d, err := LinearDensityFromCount(c)
		require.NoError(t, err, text)
		require.InEpsilon(t, tex, float64(d), 1e-5, text)
	}
	for _, text := range []string{"Nm 2.5/28.5", "20x80 tex", "Ne 0/20"} {
		_, err := ParseCount(text)
		require.Error(t, err, text)
	}
}
