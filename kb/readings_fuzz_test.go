package kb

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/kb/record"
)

// Whatever is typed as readings is refused with a reason, or is kept by the store and makes
// figures that lie within what is sane.
func FuzzParseReadings(f *testing.F) {
	for _, x := range [][3]string{{"mass", "1.52g 1.49g 1.55g", "10x10cm"}, {"droop", "warp right 3.4cm 3.5cm wrong 3.6cm weft 3.0cm", ""}, {"wash", "warp 25cm:24.1cm weft 10in:9 1/2in", ""},
		{"thickness", "3mm", ""}, {"stretch", "10cm:13cm", ""}, {"fray", "4mm 0", ""}, {"show-through", "low", ""}, {"press", "150C", ""}, {"bleed", "none", ""}, {"loop", "heart 20cm:7cm", ""},
		{"droop", "10cm:30deg", ""}, {"mass", "", "0x0"}, {"wash", "25:0", ""}, {"mass", "1e400g", "36x36in"}} {
		f.Add(x[0], x[1], x[2])
	}
	f.Fuzz(func(t *testing.T, kind, words, square string) {
		rs, err := ParseReadings(kind, strings.Split(words, " "), ReadingOptions{Square: square})
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		require.Contains(t, record.Kinds, kind)
		for p, e := range EvidenceOf([]record.Measurement{{Kind: kind, Taken: monday, Readings: rs}}).Known() {
			require.True(t, e.Low <= e.Typical && e.Typical <= e.High, "%s of %q: %v", p, words, e)
			for _, v := range []float64{e.Low, e.Typical, e.High} {
				require.False(t, math.IsNaN(v) || math.IsInf(v, 0), "%s of %q: %v", p, words, e)
			}
		}
	})
}

// Whatever stands on a label is refused with a reason, or is at most a hundred per cent of known
// fibres and is read as the same when it is said again.
func FuzzParseContent(f *testing.F) {
	b := base(f)
	for _, s := range []string{"60% cotton 40% linen", "cotton", "100 % wool", "65/35 polyester/cotton", "silk 50, wool 50", "97% cotton 3% elastane", "120% cotton", "% %", "cotton cotton"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		parts, err := b.ParseContent(text)
		if err != nil {
			return
		}
		sum := 0.0
		for _, p := range parts {
			require.NotNil(t, b.Cat.Fibres[p.Fibre], p.Fibre)
			require.True(t, p.Percent >= 0, "%v", p)
			sum += p.Percent
		}
		require.LessOrEqual(t, sum, 100.5)
		again, err := b.ParseContent(SayContent(parts))
		require.NoError(t, err, SayContent(parts))
		require.Equal(t, len(parts), len(again))
	})
}
