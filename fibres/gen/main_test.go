package main

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

const reference = "../../testdata/reference"

// The fit over the copied sample, every tenth cloth of the open set (Feng and others 2022),
// lies near that over all 251; the whole report is written as it is printed.
func TestReportOverTheSample(t *testing.T) {
	file := filepath.Join(t.TempDir(), "calibration.csv")
	var out bytes.Buffer
	require.NoError(t, run(filepath.Join(reference, "open_bending_sample.csv"), inventedTen(t), reference, file, &out))
	f, err := os.Open(file)
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Equal(t, []string{"source", "figure", "value", "unit", "n"}, rows[0])
	value := map[string]float64{}
	for _, r := range rows[1:] {
		v, err := strconv.ParseFloat(r[2], 64)
		require.NoError(t, err)
		require.NotContains(t, value, r[1], "a figure stands once")
		value[r[1]] = v
		require.Contains(t, out.String(), r[1])
	}
	require.InDelta(t, 0.275, value["root mean square residual"], 0.06)
	require.InDelta(t, 1.14, value["warp over weft, 50 %"], 0.1)
	share := 0.0
	for _, b := range []string{"fluid", "soft", "moderate", "firm", "crisp", "rigid"} {
		share += value["share of the band "+b]
	}
	require.InDelta(t, 100, share, 1e-3)
}

// inventedTen writes ten invented cloths in the form of the named ones, which are not
// copied here.
func inventedTen(t *testing.T) string {
	t.Helper()
	text := "source,fabric,cloth,fibre,structure,areal_mass_gsm,bending_length_cm,flexural_rigidity_uNm,basis,source_id,note\n"
	for i, cloth := range []string{"denim", "ponte", "rib-knit", "sweatshirt-fleece", "swim-knit", "cotton-interlock", "", "", "", ""} {
		text += fmt.Sprintf("invented,cloth %d,%s,,,%d,%.2f,,published,wang-2011,\n", i, cloth, 150+15*i, 1.8+0.15*float64(i%5))
	}
	file := filepath.Join(t.TempDir(), "ten.csv")
	require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
	return file
}

// A line is found again from points on it, and each left-out point then lies on it.
func TestFitFindsTheLine(t *testing.T) {
	var cloths []cloth
	for i := range 40 {
		m := 30 * math.Pow(1.08, float64(i))
		c := 1.5 * math.Pow(m, 0.1)
		cloths = append(cloths, cloth{m, c * 1.1, c / 1.1, c})
	}
	l := fit(cloths)
	require.InDelta(t, math.Log(1.5), l.a, 1e-9)
	require.InDelta(t, 0.1, l.b, 1e-9)
	require.InDelta(t, 0, rms(residuals(l, cloths)), 1e-9)
}

func TestQuantiles(t *testing.T) {
	v := []float64{0, 1, 2, 3, 4}
	require.InDelta(t, 2, quantile(v, 0.5), 1e-12)
	require.InDelta(t, 0.4, quantile(v, 0.1), 1e-12)
	require.InDelta(t, 4, quantile(v, 1), 1e-12)
	mean, sd := moments(v)
	require.InDelta(t, 2, mean, 1e-12)
	require.InDelta(t, math.Sqrt(2.5), sd, 1e-12)
}

func TestBadSetsAreRefused(t *testing.T) {
	var out bytes.Buffer
	require.ErrorContains(t, run("set.csv", "", reference, "", &out), "-ten")
	require.ErrorContains(t, run("", "x", reference, "", &out), "-set")
	require.Error(t, run(filepath.Join(t.TempDir(), "none.csv"), "x", reference, "", &out))
	bad := filepath.Join(t.TempDir(), "bad.csv")
	require.NoError(t, os.WriteFile(bad, []byte("areal_mass_gsm,bending_length_warp_cm,bending_length_weft_cm,bending_length_bias_cm\n120,2,0,2\n"), 0o644))
	require.ErrorContains(t, run(bad, "x", reference, "", &out), `row 2: bending_length_weft_cm is "0"`)
	require.Empty(t, out.String())
}
