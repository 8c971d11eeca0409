package units

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
)

func TestParseLength(t *testing.T) {
	for _, c := range []struct {
		text string
		cm   float64
	}{
		{"76cm", 76}, {"76 cm", 76}, {"76 CM", 76}, {" 76 centimetres ", 76}, {"76 centimeters", 76},
		{"7.6 dm", 76}, {"760mm", 76}, {"0.76m", 76}, {".76 m", 76}, {"1 m 20 cm", 120}, {"350 um", 0.035}, {"350 µm", 0.035},
		{"30in", 76.2}, {"30 inches", 76.2}, {"30″", 76.2}, {"30''", 76.2}, {"30 in.", 76.2},
		{"5/8in", 1.5875}, {"5 / 8 in", 1.5875}, {"⅝ in", 1.5875}, {"5⁄8 in", 1.5875},
		{`44 1/2"`, 113.03}, {"44 1/2 in", 113.03}, {"44-1/2in", 113.03}, {"44½ in", 113.03}, {"44.5in", 113.03}, {"44½”", 113.03},
		{"2 yd", 182.88}, {"2 1/4 yards", 205.74}, {"1yd 9in", 114.3}, {"3 ft 2 in", 96.52}, {"3ft. 2in.", 96.52}, {"6 ft", 182.88},
		{`5' 3"`, 160.02}, {`5'3"`, 160.02}, {"5’ 3”", 160.02}, {`5' 3 1/2"`, 161.29}, {"1 yd 1 ft 1 in", 124.46},
		{"7,5 cm", 7.5}, {"0,125 m", 12.5}, {"3·5 cm", 3.5}, {"0 cm", 0}, {"10 mil", 0.0254}, {"10 thou", 0.0254},
		{"7.5\u00a0cm", 7.5},
	} {
		t.Run(c.text, func(t *testing.T) {
			got, err := ParseLength(c.text)
			require.NoError(t, err)
			require.InDelta(t, c.cm, float64(got), 1e-9)
		})
	}
}

func TestMillimetresParseExactly(t *testing.T) {
	got, err := ParseLength("12 mm")
	require.NoError(t, err)
	require.Equal(t, Length(1.2), got, "12/10, not 12 × 0.1")
}

func TestBareNumberTakesTheUnitGiven(t *testing.T) {
	for _, c := range []struct {
		bare Length
		cm   float64
	}{{Centimetre, 12}, {Millimetre, 1.2}, {Metre, 1200}, {Inch, 30.48}, {Yard, 1097.28}} {
		got, err := ParseLengthIn("12", c.bare)
		require.NoError(t, err)
		require.InDelta(t, c.cm, float64(got), 1e-9)
		got, err = ParseLengthIn("3 in", c.bare)
		require.NoError(t, err)
		require.InDelta(t, 7.62, float64(got), 1e-9, "a named unit stands")
	}
	_, err := ParseLengthIn("12", 0)
	require.ErrorContains(t, err, "has no unit")
	_, err = ParseLengthIn("12", Length(math.NaN()))
	require.Error(t, err)
}

func TestParseArealMass(t *testing.T) {
	for _, c := range []struct {
		text string
		gsm  float64
	}{
		{"150gsm", 150}, {"150 GSM", 150}, {"150 g/m2", 150}, {"150g/m²", 150}, {"150 g/m^2", 150}, {"150 g / m2", 150},
		{"150 g per m2", 150}, {"150 grams per square metre", 150}, {"150 g/sq m", 150}, {"150 g/sqm", 150}, {"0.15 kg/m2", 150}, {"15 mg/cm2", 150},
		{"4.5oz/yd2", 152.5758636}, {"4.5 oz", 152.5758636}, {"4.5 oz.", 152.5758636}, {"4 1/2 oz per sq yd", 152.5758636}, {"4.5 ounces per square yard", 152.5758636},
		{"12 momme", 52.0792281},
	} {
		t.Run(c.text, func(t *testing.T) {
			got, err := ParseArealMass(c.text)
			require.NoError(t, err)
			require.InDelta(t, c.gsm, float64(got), 1e-6)
		})
	}
}

func TestParseRanges(t *testing.T) {
	for _, c := range []struct {
		text      string
		low, high ArealMass
	}{
		{"120-150gsm", 120, 150}, {"120 - 150 gsm", 120, 150}, {"120 to 150 g/m2", 120, 150}, {"120–150 gsm", 120, 150},
		{"120—150 gsm", 120, 150}, {"120to150gsm", 120, 150}, {"120 gsm to 150 gsm", 120, 150}, {"120 gsm to 150", 120, 150},
		{"120..150 gsm", 120, 150}, {"120…150 gsm", 120, 150}, {"120,5-150 gsm", 120.5, 150}, {"150 gsm", 150, 150},
	} {
		t.Run(c.text, func(t *testing.T) {
			got, err := ParseArealMassRange(c.text)
			require.NoError(t, err)
			require.Equal(t, Range[ArealMass]{c.low, c.high}, got)
		})
	}
}

func TestMixedNumbersAndRangesAreToldApart(t *testing.T) {
	for _, c := range []struct {
		text      string
		low, high float64 // inches
	}{
		{"44-1/2 in", 44.5, 44.5},
		{"44-45 in", 44, 45},
		{"1/4-1/2 in", 0.25, 0.5},
		{"1 1/2-2 in", 1.5, 2},
		{"1-1/2 - 2-1/2 in", 1.5, 2.5},
		{"0-1/2 in", 0, 0.5},
		{"44 to 45 1/2 in", 44, 45.5},
		{`44"-45"`, 44, 45},
	} {
		t.Run(c.text, func(t *testing.T) {
			got, err := ParseLengthRange(c.text, 0)
			require.NoError(t, err)
			require.InDelta(t, c.low*2.54, float64(got.Low), 1e-9)
			require.InDelta(t, c.high*2.54, float64(got.High), 1e-9)
		})
	}
}

func TestParseOtherKinds(t *testing.T) {
	temp, err := ParseTemperature("302F")
	require.NoError(t, err)
	require.InDelta(t, 150, float64(temp), 1e-9)
	for _, s := range []string{"150 C", "150°C", "150 ° C", "150 degC", "150 deg C", "150 degrees Celsius", "150 ºC", "150℃"} {
		temp, err = ParseTemperature(s)
		require.NoError(t, err, s)
		require.Equal(t, Temperature(150), temp, s)
	}
	temps, err := ParseTemperatureRange("130 to 150 C")
	require.NoError(t, err)
	require.Equal(t, Range[Temperature]{130, 150}, temps)

	for _, s := range []string{"5%", "5 %", "5 percent", "5 per cent", "5 pct"} {
		f, err := ParseFraction(s)
		require.NoError(t, err, s)
		require.Equal(t, Fraction(0.05), f, s)
	}
	_, err = ParseFraction("0.05")
	require.ErrorContains(t, err, "has no unit", "a half or half a per cent?")
	f, err := ParsePercent("5")
	require.NoError(t, err)
	require.Equal(t, Fraction(0.05), f)
	fs, err := ParsePercentRange("3-8")
	require.NoError(t, err)
	require.Equal(t, Range[Fraction]{0.03, 0.08}, fs)

	for _, s := range []string{"41.5", "41.5°", "41.5 deg", "41,5 degrees"} {
		a, err := ParseAngle(s)
		require.NoError(t, err, s)
		require.Equal(t, Angle(41.5), a, s)
	}
	q, err := Parse("120 mg·cm")
	require.NoError(t, err)
	require.InDelta(t, 11.76798, q.Value, 1e-9)
}

func TestParseTellsTheKind(t *testing.T) {
	for _, c := range []struct {
		text  string
		value float64
		kind  Kind
		unit  string
	}{
		{"80 g/m2", 80, OfArealMass, "g/m2"}, {"3 cm", 3, OfLength, "cm"}, {"12 mm", 1.2, OfLength, "cm"}, {"5 %", 5, OfPercent, "%"},
		{"150 C", 150, OfTemperature, "C"}, {"4", 4, Number, ""}, {"2.5", 2.5, Number, ""}, {"1/2", 0.5, Number, ""}, {"30°", 30, OfAngle, "deg"},
		{"12 uN.m", 12, OfRigidity, "uN.m"},
	} {
		t.Run(c.text, func(t *testing.T) {
			q, err := Parse(c.text)
			require.NoError(t, err)
			require.Equal(t, Quantity{c.value, c.kind}, q)
			require.Equal(t, c.unit, q.Kind.Unit())
		})
	}
	low, high, err := ParseRange("0 cm to 3 cm")
	require.NoError(t, err)
	require.Equal(t, Quantity{0, OfLength}, low)
	require.Equal(t, Quantity{3, OfLength}, high)
	low, high, err = ParseRange("1 to 2")
	require.NoError(t, err)
	require.Equal(t, Quantity{1, Number}, low)
	require.Equal(t, Quantity{2, Number}, high)
}

func TestQuantityInAnotherUnit(t *testing.T) {
	q, err := Parse("1.2 cm")
	require.NoError(t, err)
	mm, err := q.In("mm")
	require.NoError(t, err)
	require.InDelta(t, 12, mm, 1e-12)
	_, err = q.In("g/m2")
	require.ErrorContains(t, err, "is a length, not a weight of cloth")
	_, err = q.In("")
	require.ErrorContains(t, err, "is a length, not a plain number")
	_, err = q.In("furlong")
	require.ErrorContains(t, err, "unknown unit")
	n, err := Quantity{4, Number}.In("")
	require.NoError(t, err)
	require.Equal(t, 4.0, n)
}

func TestRefusals(t *testing.T) {
	length := func(s string) error { _, err := ParseLength(s); return err }
	mass := func(s string) error { _, err := ParseArealMass(s); return err }
	masses := func(s string) error { _, err := ParseArealMassRange(s); return err }
	temp := func(s string) error { _, err := ParseTemperature(s); return err }
	anything := func(s string) error { _, err := Parse(s); return err }
	ranges := func(s string) error { _, _, err := ParseRange(s); return err }
	for _, c := range []struct {
		text  string
		parse func(string) error
		kind  fault.Kind
		want  string // part of the message
	}{
		{"", length, fault.WrongCall, "nothing was written"},
		{"   ", length, fault.WrongCall, "nothing was written"},
		{"76", length, fault.WrongCall, `write "76 cm"`},
		{"abc", length, fault.WrongCall, "does not begin with a number"},
		{"cm", length, fault.WrongCall, "does not begin with a number"},
		{"-5cm", length, fault.WrongCall, "negative"},
		{"−5 cm", length, fault.WrongCall, "negative"},
		{"NaN cm", length, fault.WrongCall, "does not begin with a number"},
		{"Inf cm", length, fault.WrongCall, "does not begin with a number"},
		{"+Inf", anything, fault.WrongCall, "does not begin with a number"},
		{"1e3 cm", length, fault.WrongCall, "unknown unit"},
		{"0x10 cm", length, fault.WrongCall, "unknown unit"},
		{strings.Repeat("9", 400) + " cm", length, fault.WrongCall, "too large"},
		{strings.Repeat("9", 308) + " m", length, fault.WrongCall, "too large"},
		{"5 qm", length, fault.WrongCall, `did you mean "cm"`},
		{"150gsm", length, fault.WrongCall, "is a weight of cloth, not a length"},
		{"1m20", length, fault.WrongCall, "without a unit"},
		{"9in 1yd", length, fault.WrongCall, "out of order"},
		{"1 in 1 in", length, fault.WrongCall, "out of order"},
		{"1,250 m", length, fault.WrongCall, `"1250" or "1.250"`},
		{"1.250,5 m", length, fault.WrongCall, "more than one point or comma"},
		{"1/0 in", length, fault.WrongCall, "divides by zero"},
		{"O.5 cm", length, fault.WrongCall, "letter O"},
		{"12 O cm", length, fault.WrongCall, "a letter stands"},
		{"5cm wide", length, fault.WrongCall, `goes on after the figure: "wide"`},
		{"10-13mm", length, fault.WrongCall, "is a range"},
		{"10 -", length, fault.WrongCall, "no number after the dash"},
		{"501 m", length, fault.OutsideRange, "too large: 50100 cm"},
		{"3gsm", mass, fault.OutsideRange, "from 5 g/m2 to 2000 g/m2"},
		{"2001gsm", mass, fault.OutsideRange, "too large"},
		{"150", mass, fault.WrongCall, "150gsm"},
		{"12mm", mass, fault.WrongCall, "write momme"},
		{"150 g", mass, fault.WrongCall, "unknown unit"},
		{"1 g/m2 1 g/m2", mass, fault.WrongCall, "more than one figure"},
		{"150-120gsm", masses, fault.WrongCall, "runs downwards"},
		{"100-3000gsm", masses, fault.OutsideRange, "too large"},
		{"1-100gsm", masses, fault.OutsideRange, "too small"},
		{"10 to 20 to 30 gsm", masses, fault.WrongCall, "goes on after"},
		{"150", temp, fault.WrongCall, "has no unit"},
		{"301 C", temp, fault.OutsideRange, "too large"},
		{"3 cm to 4 C", ranges, fault.WrongCall, "runs from a length to a temperature"},
		{"3 to 4 cm", anything, fault.WrongCall, "is a range"},
		{"1cm1mm1um1cm1cm", anything, fault.WrongCall, "too many parts"},
		{"5 \xff", anything, fault.WrongCall, "not readable"},
	} {
		t.Run(c.text, func(t *testing.T) {
			err := c.parse(c.text)
			var f *fault.Fault
			require.True(t, errors.As(err, &f), "a fault, not %v", err)
			require.Equal(t, c.kind, f.Kind)
			require.Contains(t, err.Error(), c.want)
			require.NotEmpty(t, f.Expected, "every refusal says what would have been right")
		})
	}
}

func TestAbsurdTextIsQuotedShort(t *testing.T) {
	_, err := ParseLength("x" + strings.Repeat("yz\n", 5000))
	require.Less(t, len(err.Error()), 400)
	require.NotContains(t, strings.SplitN(err.Error(), "\n  expected", 2)[0], "\n")
}

func TestEveryKindNamesItselfAndItsUnitParses(t *testing.T) {
	for k := Number; k <= OfRigidity; k++ {
		require.NotEmpty(t, k.String())
		require.NotEmpty(t, k.Examples())
		q, err := Parse(Quantity{3, k}.String())
		require.NoError(t, err)
		require.Equal(t, Quantity{3, k}, q)
	}
	require.Equal(t, "an unknown quantity", Kind(99).String())
	require.Empty(t, Kind(-1).Unit())
	require.Empty(t, Kind(-1).Examples())
}

func TestExamplesOfEachKindParse(t *testing.T) {
	for k := OfLength; k <= OfRigidity; k++ {
		list := strings.NewReplacer("such as ", "", " or ", ", ").Replace(k.Examples())
		for _, e := range strings.Split(list, ", ") {
			q, err := Parse(e)
			require.NoError(t, err)
			require.Equal(t, k, q.Kind, e)
		}
	}
}
