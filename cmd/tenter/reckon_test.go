package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// runReckon runs `tenter reckon …` and returns what it printed.
func runReckon(t *testing.T, args ...string) (string, error) {
	t.Helper()
	for _, v := range []string{"XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME", "XDG_STATE_HOME"} {
		t.Setenv(v, t.TempDir())
	}
	t.Setenv("NO_COLOR", "1")
	var out, errs bytes.Buffer
	a := newApp(&out, &errs)
	root := newRoot(a)
	root.SetArgs(append([]string{"reckon"}, args...))
	err := root.Execute()
	a.close()
	return out.String(), err
}

// answered is the answer of `reckon --json`, its figures by name.
type answered struct {
	Version  int               `json:"version"`
	Kind     string            `json:"kind"`
	Inputs   map[string]string `json:"inputs"`
	Answer   json.RawMessage   `json:"answer"`
	Method   string            `json:"method"`
	Valid    string            `json:"valid"`
	Accuracy string            `json:"accuracy"`
	Source   string            `json:"source"`
	Sources  []string          `json:"sources"`
	Notes    []string          `json:"notes"`

	figures map[string]figure
	first   figure
}

func reckonJSON(t *testing.T, args ...string) answered {
	t.Helper()
	out, err := runReckon(t, append(args, "--json")...)
	require.NoError(t, err, "%v", args)
	var a answered
	require.NoError(t, json.Unmarshal([]byte(out), &a))
	var list []figure
	if json.Unmarshal(a.Answer, &list) != nil {
		list = make([]figure, 1)
		require.NoError(t, json.Unmarshal(a.Answer, &list[0]))
	}
	require.NotEmpty(t, list)
	a.figures = map[string]figure{}
	for _, f := range list {
		require.NotContains(t, a.figures, f.Name)
		a.figures[f.Name] = f
	}
	a.first = list[0]
	return a
}

// Every example of every kind runs, says its method, range, error and source, and names
// sources that there are.
func TestReckonExamplesRun(t *testing.T) {
	var out, errs bytes.Buffer
	a := newApp(&out, &errs)
	adv, err := a.adv()
	require.NoError(t, err)
	ran := 0
	for _, k := range reckonKinds() {
		require.NotEmpty(t, k.short, k.name)
		require.Equal(t, k.name, strings.Fields(k.use)[0])
		for _, line := range strings.Split(k.example, "\n") {
			args, ok := commandLine("$ " + strings.TrimSpace(line))
			require.True(t, ok, line)
			require.Equal(t, []string{"reckon", k.name}, args[:2], line)
			got := reckonJSON(t, args[1:]...)
			require.Equal(t, k.name, got.Kind)
			require.Equal(t, 1, got.Version)
			for _, s := range []string{got.Method, got.Valid, got.Accuracy, got.Source} {
				require.NotEmpty(t, s, line)
			}
			require.NotEmpty(t, got.Inputs, line)
			require.NotEmpty(t, got.Sources, line)
			for _, id := range got.Sources {
				require.Contains(t, adv.Cat.Sources, id, line)
			}
			for name, f := range got.figures {
				require.LessOrEqual(t, f.Low, f.Typical, "%s: %s", line, name)
				require.LessOrEqual(t, f.Typical, f.High, "%s: %s", line, name)
				require.Contains(t, []string{"measured", "derived"}, string(f.Basis), "%s: %s", line, name)
				require.NotEmpty(t, f.Because, "%s: %s", line, name)
			}
			text, err := runReckon(t, args[1:]...)
			require.NoError(t, err)
			for _, l := range strings.Split(text, "\n") {
				require.LessOrEqual(t, len([]rune(l)), 80, l)
			}
			ran++
		}
	}
	require.Greater(t, ran, 25)
}

// Worked figures, each with its source and tolerance.
func TestReckonWorkedFigures(t *testing.T) {
	for _, x := range []struct {
		source string
		args   []string
		figure string
		want   float64
		within float64
	}{
		{"standard test, L/2 (teaching pages)", []string{"droop", "--overhang", "7cm"}, "bending length", 3.5, 1e-3},
		{"own exact elastica: chord 30° gives 0.58792 L", []string{"droop", "--overhang", "10cm", "--droop", "30"}, "bending length", 5.8792, 1e-3},
		{"own exact elastica: drop of half the overhang gives 0.58231 L", []string{"droop", "--overhang", "10cm", "--drop", "5cm"}, "bending length", 5.8231, 1e-3},
		{"own exact elastica: L = 2c drops 0.64063 L", []string{"hang", "--length", "10cm", "--bending-length", "5cm"}, "drops", 6.40631, 1e-4},
		{"own exact elastica: L = 4c reaches 0.209201 L", []string{"hang", "--length", "10cm", "--bending-length", "2.5cm"}, "stands off", 2.09201, 1e-4},
		{"formula: loose layers 200 g/m² 2.5 cm + 70 g/m² 1.5 cm", []string{"stack", "--layer", "200gsm 2.5cm", "--layer", "70gsm 1.5cm"}, "bending length, lying loose", 2.318, 1e-3},
		{"definition: 150 g/m², c 2 cm is 11.76798 µN·m", []string{"droop", "--overhang", "4cm", "--mass", "150gsm"}, "rigidity", 11.76798, 1e-4},
		{"formula: c 2 cm, H 100 cm, 19 cm", []string{"fold", "--bending-length", "2cm", "--hang", "100cm"}, "about how wide a fold is", 18.85, 0.05},
		{"arithmetic: 1 / (0.5/2.6^1.5 + 0.5/1.7^1.5) is 2.8999 = c^1.5", []string{"grain", "--warp", "2.6cm", "--weft", "1.7cm"}, "bending length, so far off the warp", 2.0335, 1e-3},
		{"definition: a measured bias comes back at 45°", []string{"grain", "--warp", "2.6cm", "--weft", "1.7cm", "--bias", "2.3cm", "--angle", "45"}, "bending length, so far off the warp", 2.3, 1e-9},
		{"definition: shadow = specimen is 100", []string{"drape", "--shadow", "706.9", "--disc", "254.5", "--specimen", "706.9"}, "drape coefficient", 100, 1e-9},
		{"worked example of the geometry: 126.97 g/m²", []string{"mass", "--ends", "52.4/cm", "--picks", "28.3/cm", "--warp", "14.76 tex", "--weft", "14.76 tex", "--warp-crimp", "8%", "--weft-crimp", "4%"}, "mass per area", 126.97, 0.01},
		{"worked example of the cover: 23.867", []string{"cover", "--ends", "52.4/cm", "--picks", "28.3/cm", "--warp", "14.76 tex", "--weft", "14.76 tex"}, "cover of the cloth", 23.867, 0.005},
		{"GNU Units 2.22: Ne 30 = Nm 50.8009", []string{"yarn", "Ne 30"}, "metric count", 50.8009, 1e-4},
		{"GNU Units 2.22: 150 den = 166.6667 dtex", []string{"yarn", "150 den", "--to", "dtex"}, "decitex", 166.6667, 1e-4},
		{"GNU Units 2.22: 10 stitches to the inch", []string{"convert", "10 spi"}, "length of a stitch", 2.54, 1e-9},
		{"GNU Units 2.22: 2.5 mm is 10.16 to the inch", []string{"convert", "2.5mm", "spi"}, "stitches", 10.16, 1e-9},
		{"worked problem: 0.01 in, 10 to the inch, gives 2.2", []string{"thread", "--seam", "100cm", "--thickness", "0.01in", "--stitch-length", "10 spi", "--waste", "0%"}, "thread in all", 2.2, 1e-6},
		{"GNU Units 2.22: 1 oz/yd2", []string{"convert", "1oz/yd2", "g/m2"}, "1oz/yd2", 33.905747, 1e-6},
		{"GNU Units 2.22: 1 gf.cm2/cm", []string{"convert", "1 gf.cm2/cm", "uN.m"}, "1 gf.cm2/cm", 98.0665, 1e-6},
		{"own arithmetic: 65/35 label to dry 66.502", []string{"blend", "65% polyester 35% cotton"}, "polyester, of the dry mass", 66.502, 1e-3},
		{"own arithmetic: 65/35 dry to label 63.468", []string{"blend", "65/35 polyester/cotton", "--shares", "dry"}, "polyester, with agreed moisture", 63.468, 1e-3},
		{"own arithmetic: harmonic density 1.4329", []string{"blend", "65% polyester 35% cotton"}, "density of the fibre", 1.4329, 1e-4},
		{"Art. 20(3): 60 against 57.4 differs by 2.6", []string{"blend", "60% cotton 40% linen", "--tested", "57.4% cotton 42.6% linen"}, "greatest difference", 2.6, 1e-9},
		{"practice: a trace of elastane leaves cotton its three dots, and lowers the cautious end alone", []string{"press", "97% cotton 3% elastane"}, "hottest sole plate", 200, 1e-9},
		{"practice: 65/35 polyester and cotton take two", []string{"press", "65% polyester 35% cotton"}, "hottest sole plate", 150, 1e-9},
		{"arithmetic: 25 to 23.9 cm is 4.4 %", []string{"shrink", "--before", "25cm", "--after", "23.9cm"}, "shrinkage", 4.4, 1e-9},
		{"arithmetic: 76 cm at 5 % is cut 80 cm", []string{"shrink", "--finished", "76cm", "--shrink", "5%"}, "cut", 80, 1e-9},
		{"arithmetic: 8 % whole, 5 % done", []string{"shrink", "--whole", "8%", "--done", "5%"}, "still to come", 100 * (1 - 0.92/0.95), 1e-9},
		{"table of averages (from memory): 2.5 times 4.1 m and 15 %", []string{"thread", "--seam", "410cm"}, "thread in all", 11.7875, 1e-6},
		{"teaching articles: 2 + 2 T S, 1.2 mm at 2.5 mm", []string{"thread", "--seam", "100cm", "--thickness", "1.2mm", "--stitch-length", "2.5mm", "--waste", "0%"}, "thread in all", 2.96, 1e-6},
		{"worked examples: unpicked 10 cm gave 25 cm", []string{"thread", "--seam", "410cm", "--unpicked", "10cm", "--needle", "13cm", "--under", "12cm"}, "thread in all", 11.7875, 1e-6},
		{"geometry: 8 rows of √2 (50 − 1.2)", []string{"bias", "--square", "50cm", "--width", "4cm", "--continuous"}, "strip", 8 * math.Sqrt2 * 48.8, 1e-6},
		{"the folds counted: 6 · 8 + 1 mm", []string{"bias", "--shows", "8mm", "--thickness", "1mm", "--double"}, "width to cut", 4.9, 1e-9},
		{"length of an arc", []string{"circle", "--girth", "70cm", "--length", "60cm"}, "radius of the inner edge", 70 / (2 * math.Pi), 1e-9},
		{"length of an arc", []string{"circle", "--girth", "70cm", "--length", "60cm", "--angle", "180°"}, "hem", 70 + 60*math.Pi, 1e-6},
		{"one part in a width that holds it: finished and two allowances", []string{"buy", "--part", "panel 100cm x 60cm x1", "--width", "140cm"}, "length to buy", 62.4, 1e-6},
	} {
		t.Run(strings.Join(x.args, " "), func(t *testing.T) {
			got, ok := reckonJSON(t, x.args...).figures[x.figure]
			require.True(t, ok, "no figure %q", x.figure)
			require.InDelta(t, x.want, got.Typical, x.within, x.source)
		})
	}
}

// The same strip reads the same in centimetres and inches.
func TestReckonKnowsNoUnits(t *testing.T) {
	cm := reckonJSON(t, "droop", "--overhang", "7.62cm", "--mass", "4oz/yd2")
	in := reckonJSON(t, "droop", "--overhang", "3in", "--mass", "135.623gsm")
	for name, f := range cm.figures {
		require.InEpsilon(t, f.Typical+1e-9, in.figures[name].Typical+1e-9, 1e-5, name)
	}
	text, err := runReckon(t, "droop", "--overhang", "3in", "--units", "imperial")
	require.NoError(t, err)
	require.Contains(t, text, "1 1/2 in")
}

// Outside the range of its formula a kind gives no figure but says what the range is.
func TestReckonOutsideItsRange(t *testing.T) {
	for _, args := range []string{
		"droop --overhang 7cm --droop 95", "droop --overhang 7cm --droop 0.01", "droop --overhang 7cm --drop 7cm", "droop", "droop --overhang 7cm --direction sideways",
		"loop --strip 10cm --height 6cm", "loop --strip 10cm --height 1.2cm", "loop --shape pear --strip 10cm --height 2cm",
		"hang --length 0 --bending-length 2cm", "hang --length 10cm --bending-length 90cm", "hang --length 10cm --bending-length 2cm --clamp 120", "hang --length 10cm --bending-length 2cm --strip 12cm",
		"stack --layer 200gsm", "fold --bending-length 2cm --hang 0cm", "drape --shadow 200 --disc 254 --specimen 707", "drape --coefficient 120 --plate 18cm --sheet 30x42cm",
		"mass --weight 900g --size 10x10cm", "mass --weight 1.5 --size 10x10cm", "mass --ends 52 --picks 28/cm --warp Ne40 --weft Ne40", "yarn Zz3", "yarn Ne0", "yarn Ne30 --to cubits",
		"cover --ends 400/cm --picks 28/cm --warp Ne40 --weft Ne40", "press --layer cotton-lawn --fuse 500-600C", "press", "shrink --before 25cm --after 2cm", "shrink --finished 76cm --shrink 90%",
		"shrink --first 8% --limit 5% --washes 3", "shrink --first 4% --limit 7% --washes 2.5", "shrink", "convert 12", "convert 12cm g/m2", "convert 12 flurb",
		"thread", "thread --seam 0cm", "thread --seam 400cm --stitch 999", "thread --seam 400cm --thickness 2mm", "thread --seam 400cm --yarn thick", "bias --width 4cm", "bias --square 2cm --width 9cm",
		"bias --shows 40cm", "circle --girth 70cm --length 60cm --angle 900", "circle --girth 70cm --length 60cm --parts 0", "buy --width 140cm", "buy --part nothing --width 140cm",
	} {
		t.Run(args, func(t *testing.T) {
			out, err := runReckon(t, strings.Fields(args)...)
			require.Error(t, err)
			require.Empty(t, out)
			require.Contains(t, err.Error(), "expected: ", "it says what would have been right")
			require.NotContains(t, err.Error(), "NaN")
		})
	}
}

// Whatever figure of an example is put out of all measure, the answer is figures or a
// refusal, never what is not a number.
func TestReckonOfAnyFigure(t *testing.T) {
	figure := regexp.MustCompile(`^[0-9./ ]+`)
	asked := 0
	for _, k := range reckonKinds() {
		for _, line := range strings.Split(k.example, "\n") {
			args, ok := commandLine("$ " + strings.TrimSpace(line))
			require.True(t, ok, line)
			for i, word := range args[2:] {
				unit := figure.ReplaceAllString(word, "")
				if unit == word {
					continue
				}
				for _, extreme := range []string{"0", "-1", "0.0000001", "1e-300", "100000000", "1e300", "NaN", "Inf", "999999999999999999999"} {
					call := slices.Clone(args)
					call[i+2] = extreme + unit
					out, errs, code := called(t, call...)
					require.NotRegexp(t, `\b(NaN|Inf)\b`, out, call)
					require.Equal(t, code == 0, errs == "", call)
					asked++
				}
			}
		}
	}
	require.Greater(t, asked, 800)
}

// Readings in words: direction, face, and the three ways of reading.
func TestReckonReadings(t *testing.T) {
	got := reckonJSON(t, "droop", "--reading", "warp right 7.2cm", "--reading", "warp wrong 6.8cm", "--reading", "weft right 6cm")
	f, ok := got.figures["bending length, overall"]
	require.True(t, ok)
	require.InDelta(t, math.Sqrt(3.5*3), f.Typical, 1e-3)
	one := reckonJSON(t, "droop", "--reading", "warp 7cm")
	require.Contains(t, one.figures, "bending length, warp")
	require.InDelta(t, 0.937*3.5, one.figures["bending length, overall"].Typical, 1e-3, "one direction tells the overall figure less surely")
	require.Greater(t, ratio(one.figures["bending length, overall"]), ratio(one.figures["bending length, warp"]))
	bias := reckonJSON(t, "droop", "--reading", "bias 7cm at 41.5deg")
	require.NotContains(t, bias.figures, "hand", "the bias by itself is no hand")
	drop := reckonJSON(t, "droop", "--reading", "weft wrong 8cm drop 3.4cm")
	require.InDelta(t, reckonJSON(t, "droop", "--overhang", "8cm", "--drop", "3.4cm").first.Typical, drop.first.Typical, 1e-9)
	many := reckonJSON(t, "droop", "--overhang", "7cm,7cm,7cm,7cm")
	require.Less(t, ratio(many.first), ratio(reckonJSON(t, "droop", "--overhang", "7cm").first), "more readings narrow")
	found := false
	for _, n := range reckonJSON(t, "droop", "--overhang", "7cm").Notes {
		found = found || strings.Contains(n, "closed form") && strings.Contains(n, "1.9 %")
	}
	require.True(t, found, "how far the closed form is off is told")
}

func ratio(f figure) float64 { return f.High / f.Low }

// A named cloth in a stack brings its whole range.
func TestReckonStackOfNames(t *testing.T) {
	named := reckonJSON(t, "stack", "--layer", "cotton-sateen", "--layer", "silk-taffeta", "--joined", "edge")
	require.Contains(t, named.figures, "bending length, joined along the edge")
	require.NotContains(t, named.figures, "bending length, fused")
	require.Greater(t, ratio(named.figures["bending length, lying loose"]), 1.3)
	two := reckonJSON(t, "stack", "--layer", "150gsm 2cm", "--layer", "150gsm 2cm")
	require.InDelta(t, 2, two.figures["bending length, lying loose"].Typical, 1e-9, "two alike keep their bending length")
	require.InDelta(t, 2*math.Cbrt(4), two.figures["bending length, fused"].High, 1e-9, "a full bond: ×1.5874")
	last := 0.0
	for _, w := range []string{"hung together", "joined along the edge", "quilted", "fused"} {
		f := two.figures["bending length, "+w]
		require.Greater(t, f.Typical, last, w)
		last = f.Typical
	}
}

func TestReckonBlendsAsTheyAreWritten(t *testing.T) {
	want := reckonJSON(t, "blend", "65% polyester 35% cotton").first.Typical
	for _, s := range []string{"polyester 65, cotton 35", "65/35 polyester/cotton", "polyester 65% and cotton 35%", "65 polyester; 35 cotton"} {
		require.InDelta(t, want, reckonJSON(t, "blend", s).first.Typical, 1e-9, s)
	}
	for _, s := range []string{"65% polyester", "65% polyester 35% unobtainium", "polyester cotton", "90% polyester 30% cotton", ""} {
		_, err := runReckon(t, "blend", s)
		require.Error(t, err, s)
	}
	// 16 CFR 303.6 (read): the generic name is asked from 5 % of the mass.
	for blend, noted := range map[string]bool{"97% cotton 3% elastane": true, "95% cotton 5% elastane": false, "95.1% cotton 4.9% elastane": true, "65% polyester 35% cotton": false} {
		require.Equal(t, noted, strings.Contains(strings.Join(reckonJSON(t, "blend", blend).Notes, " "), "from 5 % of the mass"), blend)
	}
	fails := reckonJSON(t, "blend", "60% cotton 40% linen", "--tested", "56.9% cotton 43.1% linen")
	require.Equal(t, "no", fails.figures["within the tolerance of 3 points"].Words[0], fmt.Sprint(fails.figures))
	passes := reckonJSON(t, "blend", "60% cotton 40% linen", "--tested", "57.4% cotton 42.6% linen")
	require.Equal(t, "yes", passes.figures["within the tolerance of 3 points"].Words[0])
}
