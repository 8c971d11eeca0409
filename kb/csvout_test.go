package kb

import (
	"bytes"
	"encoding/csv"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/kb/memory"
	"tenter/kb/record"
)

// What a maker opens in a spreadsheet: a row for each swatch, the figures in the units of their
// heading, nothing where nothing is known, and no formula.
func TestExportIsReadable(t *testing.T) {
	b := base(t)
	var out bytes.Buffer
	n, err := b.ExportCSV(&out)
	require.NoError(t, err)
	require.Zero(t, n)
	r := memory.New()
	b.Records = r
	length := 250.0
	w, err := r.AddSwatch(record.Swatch{Name: "=blue", SoldAs: "denim", WidthCM: 140.5, LengthCM: &length, Content: []record.Part{{Fibre: "cotton", Percent: 98}, {Fibre: "elastane", Percent: 2}}})
	require.NoError(t, err)
	for kind, words := range map[string][]string{"mass": {"3.4g", "3.42g"}, "droop": {"warp", "5cm", "weft", "4cm"}, "wash": {"warp", "25cm:24cm"}} {
		rs, err := ParseReadings(kind, words, ReadingOptions{})
		require.NoError(t, err)
		_, err = r.AddMeasurement(record.Measurement{SwatchID: w.ID, Kind: kind, Readings: rs})
		require.NoError(t, err)
	}
	_, err = r.AddSwatch(record.Swatch{Name: "found"})
	require.NoError(t, err)
	out.Reset()
	n, err = b.ExportCSV(&out)
	require.NoError(t, err)
	require.Equal(t, 2, n)
	rows, err := csv.NewReader(&out).ReadAll()
	require.NoError(t, err)
	by := map[string]string{}
	empty := map[string]string{}
	for i, h := range rows[0] {
		for _, row := range rows[1:] {
			if row[0] == "found" {
				empty[h] = row[i]
			} else {
				by[h] = row[i]
			}
		}
	}
	for h, want := range map[string]string{"name": "'=blue", "content": "98% cotton, 2% elastane", "width_cm": "140.5", "length_cm": "250", "mass_gsm": "341", "shrink_warp_pct": "4", "shrink_weft_pct": ""} {
		require.Equal(t, want, by[h], h)
	}
	require.Equal(t, "2.2", by["bending_length_cm"], "the overall figure of warp and weft, the root of 2.5 by 2, as exact as it is known")
	for h, v := range empty {
		if h != "name" {
			require.Empty(t, v, h)
		}
	}
	require.Equal(t, "0.1", number(0.1))
	require.Equal(t, "100000000", number(1e8), "no exponent that a spreadsheet rounds")
}
