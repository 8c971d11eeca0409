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

// The whole report is written as it is printed, and finds the line and the spread that an
// invented set was made with. The open set itself (Feng and others 2022) states no licence
// and is not kept here.
func TestReportOverAnInventedSet(t *testing.T) {
	file := filepath.Join(t.TempDir(), "calibration.csv")
	var out bytes.Buffer
	require.NoError(t, run(inventedSet(t), inventedTen(t), reference, file, &out))
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
	require.InDelta(t, 1.3, value["scale of c = scale · W^exponent"], 1e-3)
	require.InDelta(t, 0.08, value["exponent of c = scale · W^exponent"], 1e-3)
	require.InDelta(t, 0.2, value["root mean square residual"], 1e-3)
	require.InDelta(t, 1.21, value["warp over weft, 50 %"], 1e-3)
	share := 0.0
	for _, b := range []string{"fluid", "soft", "moderate", "firm", "crisp", "rigid"} {
		share += value["share of the band "+b]
	}
	require.InDelta(t, 100, share, 1e-3)
}

// inventedSet writes forty invented cloths: c = 1.3 W^0.08, at each mass one a fifth (in ln)
// above the line and one below, the warp 1.21 times as long as the weft.
func inventedSet(t *testing.T) string {
	t.Helper()
	text := "areal_mass_gsm,bending_length_warp_cm,bending_length_weft_cm,bending_length_bias_cm\n"
	for i := range 40 {
		mass := 30 * math.Pow(1.16, float64(i/2))
		c := 1.3 * math.Pow(mass, 0.08) * math.Exp(0.2*float64(1-2*(i%2)))
		text += fmt.Sprintf("%.3f,%.5f,%.5f,%.5f\n", mass, c*1.1, c/1.1, c)
	}
	file := filepath.Join(t.TempDir(), "set.csv")
	require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
	return file
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
