package units

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

var fuzzSeeds = []string{
	"76cm", `44 1/2"`, "5/8in", "1yd 9in", `5' 3"`, "7,5 cm", "44-1/2in", "½", "120–150 gsm", "120 gsm to 150", "4.5 oz per sq yd",
	"12 momme", "150 °C", "302F", "5 per cent", "41.5°", "120 mg·cm", "0 cm to 3 cm", "1,250 m", "1/0", "-1", "1e9", "…", "1..2", "\xff", "9999999999999999999999 yd",
	"1 yd 2 ft 3 in", "0.0000001 um", "3 to 4 to 5", "''", "1/2/3 in",
}

// FuzzParse: nothing panics, and what parses is a figure that is finite, not
// negative, in order, and prints as something that parses to the same figure.
func FuzzParse(f *testing.F) {
	for _, s := range fuzzSeeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		low, high, err := ParseRange(s)
		if err != nil {
			require.Zero(t, low)
			require.NotEmpty(t, err.Error())
			return
		}
		require.Equal(t, low.Kind, high.Kind)
		require.LessOrEqual(t, low.Value, high.Value)
		for _, q := range []Quantity{low, high} {
			require.False(t, math.IsNaN(q.Value) || math.IsInf(q.Value, 0), "%v", q)
			if q.Value < 0 {
				require.Equal(t, OfTemperature, q.Kind, "only a Fahrenheit figure can be negative: %v", q)
				continue
			}
			again, err := Parse(q.String())
			require.NoError(t, err, "printed %q", q.String())
			require.Equal(t, q.Kind, again.Kind)
			require.InEpsilon(t, 1+q.Value, 1+again.Value, 1e-5)
			require.Equal(t, q.String(), again.String(), "printing is stable")
		}
	})
}

// FuzzParseTyped: the typed parsers keep their limits, and what they accept
// prints and parses back within the rounding of print.
func FuzzParseTyped(f *testing.F) {
	for _, s := range fuzzSeeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if r, err := ParseLengthRange(s, Centimetre); err == nil {
			require.True(t, LengthLimits.Holds(r.Low) && LengthLimits.Holds(r.High))
			back, err := ParseLengthRange(r.String(), 0)
			require.NoError(t, err, r.String())
			require.InEpsilon(t, 1+float64(r.High), 1+float64(back.High), 1e-5)
			for _, sys := range []System{Metric, Imperial} {
				said, err := ParseLengthRange(r.In(sys), 0)
				require.NoError(t, err, r.In(sys))
				// Half a millimetre or a sixteenth of an inch, and half of the
				// last figure of long lengths.
				require.InDelta(t, float64(r.High), float64(said.High), math.Max(0.51, 0.006*float64(r.High)), r.In(sys))
			}
		}
		if m, err := ParseArealMass(s); err == nil {
			require.True(t, ArealMassLimits.Holds(m))
			for _, sys := range []System{Metric, Imperial} {
				said, err := ParseArealMass(m.In(sys))
				require.NoError(t, err, m.In(sys))
				require.InDelta(t, float64(m), float64(said), 1.8, m.In(sys))
			}
		}
		if c, err := ParseTemperature(s); err == nil {
			require.True(t, TemperatureLimits.Holds(c))
			for _, sys := range []System{Metric, Imperial} {
				said, err := ParseTemperature(c.In(sys))
				require.NoError(t, err, c.In(sys))
				require.InDelta(t, float64(c), float64(said), 0.51)
			}
		}
		if p, err := ParseFraction(s); err == nil {
			require.True(t, FractionLimits.Holds(p))
			said, err := ParseFraction(p.String())
			require.NoError(t, err)
			require.InDelta(t, float64(p), float64(said), 1e-6)
		}
	})
}
