package units

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
)

func TestLengthInMakersTerms(t *testing.T) {
	for _, c := range []struct {
		l                Length
		metric, imperial string
	}{
		{0, "0 mm", "0 in"},
		{0.035, "0.35 mm", "0.014 in"},
		{0.12, "1.2 mm", "0.047 in"},
		{0.6, "6 mm", "1/4 in"},
		{1.2, "1.2 cm", "1/2 in"},
		{1.5875, "1.6 cm", "5/8 in"},
		{3.5, "3.5 cm", "1 3/8 in"},
		{7, "7 cm", "2 3/4 in"},
		{9.97, "10 cm", "3 7/8 in"},
		{12.5, "13 cm", "4 7/8 in"},
		{76, "76 cm", "29 7/8 in"},
		{113.03, "113 cm", "44 1/2 in"},
		{250, "250 cm", "98 3/8 in"},
		{304.8, "305 cm", "3 yd 12 in"},
		{365.76, "366 cm", "4 yd"},
		{1200, "12.0 m", "13 yd 4 in"},
	} {
		t.Run(c.metric, func(t *testing.T) {
			require.Equal(t, c.metric, c.l.In(Metric))
			require.Equal(t, c.imperial, c.l.In(Imperial))
			require.Equal(t, c.metric+" ("+c.imperial+")", c.l.In(Both))
		})
	}
}

func TestMillimetresAndCentimetres(t *testing.T) {
	require.Equal(t, "12 mm", Length(1.2).Millimetres())
	require.Equal(t, "0.35 mm", Length(0.035).Millimetres())
	require.Equal(t, "3.2 mm", Length(0.3175).Millimetres())
	require.Equal(t, "105.3 cm", Length(105.263).Centimetres())
	require.Equal(t, "100 cm", Length(100.04).Centimetres())
}

func TestOtherQuantitiesInMakersTerms(t *testing.T) {
	require.Equal(t, "150 g/m2", ArealMass(150).In(Metric))
	require.Equal(t, "4.4 oz/yd2", ArealMass(150).In(Imperial))
	require.Equal(t, "150 g/m2 (4.4 oz/yd2)", ArealMass(150).In(Both))
	require.Equal(t, "8.7 g/m2", ArealMass(8.68).In(Metric))
	require.Equal(t, "150 °C", Temperature(149.6).In(Metric))
	require.Equal(t, "302 °F", Temperature(150).In(Imperial))
	require.Equal(t, "41.5°", Angle(41.5).In(Both), "said once, for both systems")
	require.Equal(t, "45°", Angle(45).In(Metric))
	require.Equal(t, "5 %", Fraction(0.05).In(Metric))
	require.Equal(t, "0.8 %", Fraction(0.0075).In(Metric))
	require.Equal(t, "18 %", Fraction(0.1825).In(Metric))
	require.Equal(t, "11.8 µN·m", Rigidity(11.76798).In(Metric))
}

func TestRangesInMakersTerms(t *testing.T) {
	require.Equal(t, "120 to 150 g/m2", FormatRange(ArealMass(120), 150, Metric))
	require.Equal(t, "120 to 150 g/m2 (3.5 to 4.4 oz/yd2)", FormatRange(ArealMass(120), 150, Both))
	require.Equal(t, "0.5 to 3 cm", FormatRange(Length(0.5), 3, Metric), "one unit for both ends")
	require.Equal(t, "1/4 to 1 1/8 in", FormatRange(Length(0.5), 3, Imperial))
	require.Equal(t, "36 to 197 in", FormatRange(Length(91.44), 500, Imperial))
	require.Equal(t, "40 to 43°", FormatRange(Angle(40), 43, Metric))
	require.Equal(t, "150 g/m2", FormatRange(ArealMass(149.9), 150.1, Metric), "a range that rounds to one figure is said once")
	require.Equal(t, "not known", FormatRange(Length(math.NaN()), 3, Metric))
	require.Equal(t, "120 g/m2 to 150 g/m2", Range[ArealMass]{120, 150}.String())
}

func TestWithin(t *testing.T) {
	limits := Range[Angle]{0, 45}
	require.NoError(t, Within("the droop", 45, limits))
	require.NoError(t, Within("the droop", 0, limits))
	for _, a := range []Angle{60, -1, Angle(math.NaN()), Angle(math.Inf(1))} {
		err := Within("the droop", a, limits)
		require.Error(t, err)
		require.Equal(t, fault.OutsideRange, fault.All(err)[0].Kind)
	}
	require.EqualError(t, Within("the droop", 60, limits), "the droop is too large: 60°\n  expected: from 0° to 45°")
	require.EqualError(t, Within("the droop", Angle(math.NaN()), limits), "the droop is not a number\n  expected: from 0° to 45°")
}

func TestSystemWords(t *testing.T) {
	for _, s := range []System{Metric, Imperial, Both} {
		got, err := ParseSystem(s.String())
		require.NoError(t, err)
		require.Equal(t, s, got)
	}
	_, err := ParseSystem("imperal")
	require.ErrorContains(t, err, `did you mean "imperial"?`)
}
