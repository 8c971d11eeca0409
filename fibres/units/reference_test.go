package units

import (
	"encoding/csv"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestAgainstGNUUnits checks each length, mass, rigidity, temperature and
// thickness of the file against GNU Units 2.22, which printed nine figures; the
// tolerance is half of the ninth.
func TestAgainstGNUUnits(t *testing.T) {
	f, err := os.Open("../../testdata/reference/units_reference.csv")
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	category := map[string]Kind{
		"areal mass": OfArealMass, "length": OfLength, "bending": OfRigidity, "temperature": OfTemperature, "thickness": OfLength,
	}
	checked := map[string]int{}
	for _, r := range rows[1:] {
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
