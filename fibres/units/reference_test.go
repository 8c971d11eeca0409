package units

import (
	"encoding/csv"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func referenceRows(t *testing.T) [][]string {
	t.Helper()
	f, err := os.Open("../../testdata/reference/units_reference.csv")
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	return rows[1:]
}

// TestAgainstGNUUnits checks each length, mass, rigidity, temperature and
// thickness of the file against GNU Units 2.22, which printed nine figures; the
// tolerance is half of the ninth.
func TestAgainstGNUUnits(t *testing.T) {
	category := map[string]Kind{
		"areal mass": OfArealMass, "length": OfLength, "bending": OfRigidity, "temperature": OfTemperature, "thickness": OfLength,
	}
	checked := map[string]int{}
	for _, r := range referenceRows(t) {
		row, cat, input, from, want, to := r[1], r[2], r[3], r[4], r[5], r[6]
		kind, ok := category[cat]
		if !ok || strings.Contains(from, " at ") { // counts, and mass per running metre, are checked in package yarn
			continue
		}
		from, _, _ = strings.Cut(from, " (")
		to, _, _ = strings.Cut(to, " (")
		t.Run(row, func(t *testing.T) {
			q, err := Parse(input + " " + from)
			require.NoError(t, err)
			require.Equal(t, kind, q.Kind)
			got, err := q.In(to)
			require.NoError(t, err)
			expected, err := strconv.ParseFloat(want, 64)
			require.NoError(t, err)
			require.InEpsilon(t, expected, got, 5e-9)
		})
		checked[cat]++
	}
	require.Equal(t, map[string]int{"areal mass": 24, "length": 16, "bending": 7, "temperature": 8, "thickness": 1}, checked)
}

func TestConstantsAgainstGNUUnits(t *testing.T) {
	// GNU Units 2.22, nine figures.
	require.InEpsilon(t, 33.9057475, float64(OuncePerSquareYard), 5e-9)
	require.InEpsilon(t, 4.33993568, float64(MommeWeight), 5e-9)
	require.InEpsilon(t, 0.83612736, float64(Yard*Yard)/1e4, 5e-9)
	require.InEpsilon(t, 0.0980665, float64(MilligramCm), 1e-12)
	require.InEpsilon(t, 1000*float64(MilligramCm), float64(GramForceCm2PerCm), 1e-12)
}

// TestStitchesToTheInch: stitches to the inch and the length of one, GNU Units 2.22.
func TestStitchesToTheInch(t *testing.T) {
	n := 0
	for _, r := range referenceRows(t) {
		if r[2] != "stitch length" {
			continue
		}
		n++
		expected, err := strconv.ParseFloat(r[5], 64)
		require.NoError(t, err)
		if r[6] == "mm" {
			l, ok := StitchFromCount(r[3] + " " + r[4])
			require.True(t, ok, r[3])
			require.InEpsilon(t, expected, float64(l/Millimetre), 5e-9, r[1])
			continue
		}
		v, err := strconv.ParseFloat(r[3], 64)
		require.NoError(t, err)
		require.InEpsilon(t, expected, StitchesPerInch(Length(v)*Millimetre), 5e-9, r[1])
	}
	require.Equal(t, 6, n)
	for text, mm := range map[string]float64{"10spi": 2.54, "12 per inch": 25.4 / 12, "8 stitches to the inch": 3.175, "4/cm": 2.5, "10 / in": 2.54} {
		l, ok := StitchFromCount(text)
		require.True(t, ok, text)
		require.InDelta(t, mm, float64(l/Millimetre), 1e-9, text)
	}
	for _, text := range []string{"", "2.5mm", "0 spi", "-3 spi", "spi", "10 in", "10 g/cm"} {
		_, ok := StitchFromCount(text)
		require.False(t, ok, text)
	}
}
