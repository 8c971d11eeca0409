package shrink

import (
	"encoding/csv"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres/units"
)

// shrinkage reads the rows of the copied table: source, basis, cloth, treatment,
// direction, low, high, kind.
func shrinkage(t *testing.T) [][]string {
	t.Helper()
	f, err := os.Open("../../testdata/reference/shrinkage.csv")
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	return rows[1:]
}

func TestShrinkageIsLossOverOriginal(t *testing.T) {
	// W. H. Dooley, Textiles, 1914, testing: mark 12 by 20 in, soak, dry, measure;
	// loss over original length. The readings after are ours, the rule is his.
	s, err := FromMarks(20*units.Inch, 19*units.Inch)
	require.NoError(t, err)
	require.InDelta(t, 0.05, float64(s), 1e-12, "1 in of 20")
	s, err = FromMarks(12*units.Inch, 11.7*units.Inch)
	require.NoError(t, err)
	require.InDelta(t, 0.025, float64(s), 1e-12, "0.3 in of 12")
	s, err = FromMarks(25, 25.5)
	require.NoError(t, err)
	require.InDelta(t, -0.02, float64(s), 1e-12, "grown")
}

func TestCutSizeOfTheWorkedExample(t *testing.T) {
	// Arithmetic, common practice: 100 cm finished at 5 % is cut 105.26 cm (0.005).
	cut, err := CutFromFinished(100, 0.05)
	require.NoError(t, err)
	require.InDelta(t, 105.26, float64(cut), 0.005)
}

// TestPublishedAndPlanningShrinkages carries each figure of the table there and
// back: a metre marked, shrunk by it, measured, and cut so as to come out right.
func TestPublishedAndPlanningShrinkages(t *testing.T) {
	n := 0
	for _, r := range shrinkage(t) {
		for _, cell := range []string{r[5], r[6]} {
			if cell == "" {
				continue
			}
			pct, err := strconv.ParseFloat(cell, 64)
			require.NoError(t, err)
			n++
			t.Run(r[2]+" "+cell, func(t *testing.T) {
				s, err := FromMarks(100, units.Length(100-pct))
				require.NoError(t, err)
				require.InDelta(t, pct/100, float64(s), 1e-12)
				cut, err := CutFromFinished(100, s)
				require.NoError(t, err)
				left, err := FinishedFromCut(cut, s)
				require.NoError(t, err)
				require.InDelta(t, 100, float64(left), 1e-9)
				require.InDelta(t, 10000/(100-pct), float64(cut), 1e-9)
			})
		}
	}
	require.Equal(t, 47, n, "every figure of the table")
}

func TestSteamTakesTooLittleOutOfThickCotton(t *testing.T) {
	// Journal of Home Economics of Japan 24(8), 1973, 716 (abstract read): ironing
	// with steam took under 1 % from thick cottons, a soak and the iron under 2 %.
	// An abstract on cotton goods (read): the warp may lose 10 % in the wash. What
	// is left after steam is nearly all of it.
	left, err := LeftAfter(0.10, 0.01)
	require.NoError(t, err)
	require.InDelta(t, 0.0909, float64(left), 0.0001)
	require.Greater(t, float64(left), 0.09)
	left, err = LeftAfter(0.10, 0.02)
	require.NoError(t, err)
	require.InDelta(t, 0.0816, float64(left), 0.0001)
}

func TestCrimpIsMoreThanSwelling(t *testing.T) {
	// The abstract on cotton goods (read): yarn alone loses 2 %, the warp 10 % or
	// more; the rest is the change of crimp.
	crimp, err := LeftAfter(0.10, 0.02)
	require.NoError(t, err)
	back, err := Compose(0.02, crimp)
	require.NoError(t, err)
	require.InDelta(t, 0.10, float64(back), 1e-12)
	require.Greater(t, float64(crimp), 4*0.02)
}
