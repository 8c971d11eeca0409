package kb

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/kb/record"
)

func base(t testing.TB) *Base {
	t.Helper()
	return &Base{Cat: catalogue(t)}
}

var monday = time.Date(2026, 11, 2, 10, 0, 0, 0, time.UTC)

// read parses readings and puts them into a measurement as the store gives it back.
func read(t testing.TB, kind, words string, o ReadingOptions) record.Measurement {
	t.Helper()
	rs, err := ParseReadings(kind, strings.Fields(words), o)
	require.NoError(t, err, "%s %s", kind, words)
	return record.Measurement{Kind: kind, Taken: monday, Readings: rs}
}

func figureOf(t testing.TB, ms []record.Measurement, p fibres.Property) fibres.Estimate {
	t.Helper()
	e, ok := EvidenceOf(ms).Known()[p]
	require.True(t, ok, "%s is not known from %v", p, ms)
	return e
}

// TestHomeTestArithmetic holds each home test's sum against a worked example.
func TestHomeTestArithmetic(t *testing.T) {
	for _, c := range []struct {
		// source: where the example is from, as in testdata/reference
		source, kind, words string
		o                   ReadingOptions
		p                   fibres.Property
		want, within        float64
	}{
		{"a garment laboratory's note on weighing cloth (read): 100 cm² of 1.44 g is 144 g/m²", "mass", "1.44g", ReadingOptions{}, fibres.Mass, 144, 1e-9},
		{"the same, an ounce on a square yard is 33.906 g/m² (GNU Units)", "mass", "1oz", ReadingOptions{Square: "36x36in"}, fibres.Mass, 33.9057, 0.001},
		{"W. H. Dooley, Textiles, 1914 (read): 20 in that come out as 19 in have lost 5 %", "wash", "warp 20in:19in", ReadingOptions{}, fibres.ShrinkWarp, 5, 1e-9},
		{"standard test of stiffness (from memory): half the overhang at 41.5°", "droop", "warp 4cm weft 4cm", ReadingOptions{}, fibres.BendingLength, 2, 1e-6},
		{"exact elastica (testdata/reference/peirce_vs_exact.csv): at 30° c/L is 0.5879188", "droop", "10cm:30deg", ReadingOptions{}, fibres.BendingLength, 5.879188, 1e-4},
		{"ten layers of 4.5 mm: common practice", "thickness", "4.5mm", ReadingOptions{}, fibres.Thickness, 0.45, 1e-9},
		{"one layer by calipers", "thickness", "0.45mm", ReadingOptions{Layers: 1}, fibres.Thickness, 0.45, 1e-9},
	} {
		e := figureOf(t, []record.Measurement{read(t, c.kind, c.words, c.o)}, c.p)
		require.InDelta(t, c.want, e.Typical, c.within, c.source)
		require.Equal(t, fibres.Measured, e.Basis)
		require.Less(t, e.Low, e.Typical)
		require.Greater(t, e.High, e.Typical)
		require.Contains(t, e.Because, "2 Nov 2026")
	}
}

func TestGradesOfHomeTests(t *testing.T) {
	for _, c := range []struct {
		kind, words string
		o           ReadingOptions
		p           fibres.Property
		want        string
	}{
		{"stretch", "10cm:10.3cm", ReadingOptions{}, fibres.Stretch, "none"},
		{"stretch", "10cm:11cm", ReadingOptions{}, fibres.Stretch, "low"},
		{"stretch", "4in:5in", ReadingOptions{}, fibres.Stretch, "medium"},
		{"stretch", "60%", ReadingOptions{}, fibres.Stretch, "high"},
		{"fray", "0", ReadingOptions{}, fibres.Fray, "none"},
		{"fray", "0 1", ReadingOptions{}, fibres.Fray, "low"},
		{"fray", "3 1", ReadingOptions{}, fibres.Fray, "medium"},
		{"fray", "3", ReadingOptions{Rubs: 5}, fibres.Fray, "high"},
		{"fray", "high", ReadingOptions{}, fibres.Fray, "high"},
		{"show-through", "opaque", ReadingOptions{}, fibres.ShowThrough, "none"},
		{"show-through", "medium", ReadingOptions{}, fibres.ShowThrough, "medium"},
	} {
		e := figureOf(t, []record.Measurement{read(t, c.kind, c.words, c.o)}, c.p)
		require.Equal(t, c.want, e.Words[1], "%s %s", c.kind, c.words)
	}
	e := figureOf(t, []record.Measurement{read(t, "press", "2 dots", ReadingOptions{}), read(t, "press", "180C", ReadingOptions{})}, fibres.PressingLimit)
	require.Equal(t, 150.0, e.Typical, "the lesser of two tests")
	require.Equal(t, "medium", EvidenceOf([]record.Measurement{read(t, "bleed", "high", ReadingOptions{}), read(t, "bleed", "medium", ReadingOptions{})}).Bleed, "the last test of the dye counts")
}

func TestReadingsTogether(t *testing.T) {
	ms := []record.Measurement{read(t, "droop", "warp right 3.4cm 3.5cm wrong 3.6cm weft 3.0cm 3.1cm", ReadingOptions{})}
	known := EvidenceOf(ms).Known()
	require.InDelta(t, 1.75, known[fibres.BendingLengthWarp].Typical, 0.05)
	require.InDelta(t, 1.525, known[fibres.BendingLengthWeft].Typical, 0.05)
	require.InDelta(t, 1.63, known[fibres.BendingLength].Typical, 0.05, "the whole lies between warp and weft")

	more := append(ms, read(t, "loop", "heart warp 10cm:3.2cm", ReadingOptions{}))
	require.Equal(t, 4, func() int {
		for _, f := range EvidenceOf(more).Found {
			if f.Property == fibres.BendingLengthWarp {
				return f.Count
			}
		}
		return 0
	}(), "loops are judged with the droops")

	warp := EvidenceOf([]record.Measurement{read(t, "droop", "warp 3.4cm", ReadingOptions{})})
	require.NotContains(t, warp.Known(), fibres.BendingLength)
	require.Contains(t, strings.Join(warp.Notes, " "), "Only the warp was measured")
	bias := EvidenceOf([]record.Measurement{read(t, "droop", "bias 3.4cm", ReadingOptions{})})
	require.Contains(t, bias.Known(), fibres.BendingLengthBias)

	more = []record.Measurement{read(t, "mass", "1.5g 1.52g", ReadingOptions{})}
	two := figureOf(t, more, fibres.Mass)
	more = append(more, read(t, "mass", "1.51g 1.49g 1.5g 1.52g", ReadingOptions{}))
	six := figureOf(t, more, fibres.Mass)
	require.Less(t, six.High/six.Low, two.High/two.Low, "more readings say more")
	removed := more[1]
	removed.Removed = monday
	require.Equal(t, two.Typical, figureOf(t, []record.Measurement{more[0], removed}, fibres.Mass).Typical, "a removed measurement does not count")
}

func TestOfWashingTheLastCycleCounts(t *testing.T) {
	ms := []record.Measurement{
		read(t, "wash", "warp 25cm:24cm weft 25cm:24.5cm", ReadingOptions{Cycle: 1, Method: "machine 40 C"}),
		read(t, "wash", "warp 25cm:23.5cm", ReadingOptions{Cycle: 3, Method: "machine 40 C"}),
	}
	require.InDelta(t, 6, figureOf(t, ms, fibres.ShrinkWarp).Typical, 1e-9)
	require.InDelta(t, 2, figureOf(t, ms, fibres.ShrinkWeft).Typical, 1e-9)
	require.Contains(t, figureOf(t, ms, fibres.ShrinkWarp).Because, "after 3 washes")
	require.Contains(t, strings.Join(EvidenceOf(ms).Notes, " "), "machine 40 C")
	grown := []record.Measurement{read(t, "wash", "weft 25cm:25.5cm", ReadingOptions{})}
	require.InDelta(t, -2, figureOf(t, grown, fibres.ShrinkWeft).Typical, 1e-9)
}

func TestTheErrorIsThatOfTheTools(t *testing.T) {
	width := func(words string, o ReadingOptions) float64 {
		e := figureOf(t, []record.Measurement{read(t, "mass", words, o)}, fibres.Mass)
		return e.High / e.Low
	}
	require.Greater(t, width("2g", ReadingOptions{}), 1.4, "a scale of whole grams tells little of 100 cm²")
	require.Less(t, width("1.52g", ReadingOptions{}), 1.09)
	require.Less(t, width("38g", ReadingOptions{Square: "50x50cm"}), width("2g", ReadingOptions{}))
	require.Contains(t, strings.Join(EvidenceOf([]record.Measurement{read(t, "mass", "2g", ReadingOptions{})}).Notes, " "), "weigh a larger piece")
}

func TestSlipsInReadings(t *testing.T) {
	for _, c := range []struct {
		kind, words, want string
		o                 ReadingOptions
	}{
		{"weight", "1g", `"weight" is nothing that is measured`, ReadingOptions{}},
		{"mass", "", "there are no readings", ReadingOptions{}},
		{"mass", "heavy", "heavy: ", ReadingOptions{}},
		{"mass", "900g", "too large", ReadingOptions{}},
		{"mass", "0.05oz", "too small", ReadingOptions{}},
		{"mass", "1g", "--square: ", ReadingOptions{Square: "ten"}},
		{"mass", "1g", "--square: ", ReadingOptions{Square: "0x10cm"}},
		{"thickness", "450mm", "a layer would be 45 mm thick", ReadingOptions{}},
		{"thickness", "4mm", "--layers: a pile of -1 layers", ReadingOptions{Layers: -1}},
		{"droop", "34", "this would be a bending length of 17 cm", ReadingOptions{}},
		{"droop", "0.2", "this would be a bending length of 0.1 cm", ReadingOptions{}},
		{"droop", "-3", "negative", ReadingOptions{}},
		{"droop", "7cm:6.99cm", "drop", ReadingOptions{}},
		{"droop", "7cm:120deg", "droop", ReadingOptions{}},
		{"loop", "10cm", "a loop is two figures", ReadingOptions{}},
		{"loop", "10cm:9cm", "height of the loop", ReadingOptions{}},
		{"wash", "25cm:24cm", "it is not said along which threads", ReadingOptions{}},
		{"wash", "bias 25cm:24cm", "it is not said along which threads", ReadingOptions{}},
		{"wash", "warp 25cm:2.4cm", "is not a shrinkage", ReadingOptions{}},
		{"wash", "warp 24", "neither before and after nor a percentage", ReadingOptions{}},
		{"wash", "warp 150%", "neither before and after nor a percentage", ReadingOptions{}},
		{"wash", "warp 80%", "the shrinkage is 80 %", ReadingOptions{}},
		{"stretch", "11cm:10cm", "is no stretch", ReadingOptions{}},
		{"fray", "many", "neither a count of threads nor a grade", ReadingOptions{}},
		{"fray", "-2", "neither a count of threads nor a grade", ReadingOptions{}},
		{"show-through", "lots", "this is no grade", ReadingOptions{}},
		{"press", "9 dots", "an iron has no such dots", ReadingOptions{}},
		{"press", "400C", "too large", ReadingOptions{}},
		{"press", "2 dots", "--marked: it was marked at 110 °C, and safe at 150 °C", ReadingOptions{Marked: "1 dot"}},
		{"bleed", "purple", "this is no grade", ReadingOptions{}},
	} {
		_, err := ParseReadings(c.kind, strings.Fields(c.words), c.o)
		require.ErrorContains(t, err, c.want, "%s %s", c.kind, c.words)
	}
	_, err := ParseReadings("droop", []string{"xx", "3.4cm", "yy"}, ReadingOptions{})
	require.ErrorContains(t, err, "xx: ")
	require.ErrorContains(t, err, "yy: ", "every slip is told at once")
}

func TestEveryHomeTestsExampleIsRead(t *testing.T) {
	for id, h := range fibres.Tests {
		if h.Kind == "" {
			continue
		}
		words := strings.Fields(strings.Split(strings.ReplaceAll(h.Enter, `"machine, 40 C"`, "machine"), " --")[0])
		require.Equal(t, h.Kind, words[0], id)
		_, err := ParseReadings(h.Kind, words[1:], ReadingOptions{})
		require.NoError(t, err, id)
	}
}

func TestGuide(t *testing.T) {
	for _, kind := range record.Kinds {
		g, err := NewGuide(kind)
		require.NoError(t, err, kind)
		require.NotEmpty(t, g.Prompt())
		require.False(t, g.Done())
	}
	_, err := NewGuide("colour")
	require.ErrorContains(t, err, "nothing that is measured")

	g, err := NewGuide("droop")
	require.NoError(t, err)
	put := func(lines ...string) {
		for _, l := range lines {
			require.NoError(t, g.Put(l), l)
		}
	}
	put("3.4", "1 3/8in")
	require.Error(t, g.Put("99"), "a reading that cannot be is refused")
	require.Equal(t, 2, g.Count())
	put("3.9", "back", "", "3.6", "", "3.0 cm")
	require.Contains(t, g.Prompt(), "weft strip, right side up (reading 2")
	kept := *g // kept and taken up again
	g = &kept
	require.True(t, g.Sound())
	put("", "")
	require.True(t, g.Done())
	rs, err := g.Readings()
	require.NoError(t, err)
	require.Len(t, rs, 4)
	require.InDelta(t, 3.4925, rs[1]["overhang_cm"], 1e-9)
	require.Equal(t, "wrong", rs[2]["face"])
	require.Equal(t, "weft", rs[3]["direction"])

	g, _ = NewGuide("mass")
	require.Error(t, g.Put("round"))
	put("20x20cm")
	require.Error(t, g.Put(""), "at least one weight")
	put("6.1", "6.2", "")
	rs, err = g.Readings()
	require.NoError(t, err)
	require.InDelta(t, 152.5, rs[0][record.ReadingMass], 1e-9)

	g, _ = NewGuide("wash")
	put("", "2", "25 to 24", "", "25 to 24.5", "")
	rs, err = g.Readings()
	require.NoError(t, err)
	require.Equal(t, 2.0, rs[0]["cycle"])
	require.Equal(t, "as the piece will be", rs[0]["method"])

	g, _ = NewGuide("press")
	put("2 dots", "")
	rs, err = g.Readings()
	require.NoError(t, err)
	require.Equal(t, 150.0, rs[0]["safe_c"])
	require.True(t, g.Done())

	g, _ = NewGuide("stretch")
	put("11.2", "back", "11", "")
	rs, err = g.Readings()
	require.NoError(t, err)
	require.Len(t, rs, 1)
	require.InDelta(t, 10, rs[0]["stretch_pct"], 1e-9)

	g, _ = NewGuide("droop")
	put("", "", "", "")
	require.True(t, g.Done())
	_, err = g.Readings()
	require.ErrorContains(t, err, "there are no readings")
	require.False(t, (&Guide{Kind: "mass", At: 9}).Sound())
	require.False(t, (&Guide{Kind: "gone"}).Sound() && (&Guide{Kind: "gone", At: 1}).Sound())
}

// A kitchen scale's figures in every unit it may show: 1 oz is 28.349523125 g and 1 lb
// 453.59237 g exactly (the international pound); the step is the last figure that is shown.
func TestWeightsInTheUnitsOfAScale(t *testing.T) {
	for _, x := range []struct {
		text    string
		g, step float64
	}{
		{"12g", 12, 1}, {"12.0 g", 12, 0.1}, {"1.44 grams", 1.44, 0.01}, {"3 grammes", 3, 1}, {"1 gram", 1, 1}, {"500mg", 0.5, 0.001}, {"0.5 kg", 500, 100},
		{"1oz", 28.349523125, 28.349523125}, {"2 ounces", 56.69904625, 28.349523125}, {"1 ounce", 28.349523125, 28.349523125}, {"2lb", 907.18474, 453.59237}, {"7", 7, 1},
	} {
		g, step, ok := grams(x.text)
		require.True(t, ok, x.text)
		require.InDelta(t, x.g, g, 1e-9, x.text)
		require.InDelta(t, x.step, step, 1e-9, x.text)
	}
	for _, bad := range []string{"", "g", "heavyg", "0g", "-1g", "0", "-2", "3cmg", "3cm", "10%g"} {
		_, _, ok := grams(bad)
		require.False(t, ok, bad)
	}
}

// The piece that was weighed: 10 by 10 cm unless it is said, square where one side is.
func TestTheAreaOfThePieceThatWasWeighed(t *testing.T) {
	for text, want := range map[string][2]float64{"": {100, 10}, "10x10cm": {100, 10}, "20x5cm": {100, 5}, "5cm": {25, 5}, "4in": {103.2256, 10.16}, "10 by 20cm": {200, 10}, "10×30 cm": {300, 10}, "1000x1000cm": {1e6, 1000}} {
		cm2, side, err := area(text)
		require.NoError(t, err, text)
		require.InDelta(t, want[0], cm2, 1e-6, text)
		require.InDelta(t, want[1], side, 1e-6, text)
	}
	for _, bad := range []string{"0x10cm", "10x0cm", "-1x10cm", "1001x10cm", "10x1001cm", "x", "ten"} {
		_, _, err := area(bad)
		require.ErrorContains(t, err, "--square", bad)
	}
}

// A mark lies above the safe heat; no iron is over 250 °C.
func TestHeatsOfAnIron(t *testing.T) {
	_, err := ParseReadings("press", []string{"150C"}, ReadingOptions{Marked: "150C"})
	require.ErrorContains(t, err, "it was marked at 150 °C, and safe at 150 °C")
	m := read(t, "press", "150C", ReadingOptions{Marked: "151C"})
	require.Equal(t, 151.0, m.Readings[0]["marked_c"])
	require.Equal(t, 250.0, read(t, "press", "250C", ReadingOptions{}).Readings[0]["safe_c"])
	_, err = ParseReadings("press", []string{"251C"}, ReadingOptions{})
	require.Error(t, err)
}
