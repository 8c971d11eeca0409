package kb

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestHeadersOfPeople(t *testing.T) {
	for theirs, want := range map[string][2]string{
		"Width (cm)": {"width", "cm"}, "Width [in]": {"width", "in"}, "wide in inches": {"width", "in"}, "length in yards": {"length", "yd"},
		"Length left / m": {"length", "m"}, "metres": {"length", "m"}, "Yardage": {"length", "yd"}, "metrage": {"length", "m"}, "qty": {"length", ""},
		"Weight g/m2": {"mass", "gsm"}, "GSM": {"mass", "gsm"}, "oz": {"mass", "oz"}, "Weight (oz/yd2)": {"mass", "oz"}, "momme": {"mass", "momme"},
		"Shrinkage %": {"shrink", "pct"}, "warp shrinkage (%)": {"shrink_warp", "pct"}, "Price per yard": {"price", "yd"},
		"Colourway": {"colour", ""}, "SHELF": {"kept_where", ""}, "width_in": {"width", "in"}, "Shrink-Weft pct": {"shrink_weft", "pct"},
		"in": {"", ""}, "selvedge": {"", ""}, "Notes (mine)": {"", ""},
	} {
		ours, unit := guess(theirs)
		require.Equal(t, want[0], ours, theirs)
		if ours != "" {
			require.Equal(t, want[1], unit, theirs)
		}
	}
	base, unit := splitUnit("mass_oz")
	require.Equal(t, []string{"mass", "oz"}, []string{base, unit})
	base, unit = splitUnit("width_oz")
	require.Equal(t, []string{"width_oz", ""}, []string{base, unit}, "a width is not in ounces")
}

// What was said of the columns of a list is kept for the next list of the same header.
func TestMappingIsWhatWasSaid(t *testing.T) {
	im := imported(t, base(t), "what,how wide,box,secret,colour\nblue,44,4,x,blue\n", ImportOptions{Map: map[string]string{"What": "name", "how wide": "width_in", "secret": "-"}})
	require.Equal(t, map[string]string{"what": "name", "how wide": "width_in", "secret": "-"}, im.Mapping())
	require.InDelta(t, 111.76, im.Rows[0].Swatch.WidthCM, 1e-9)

	key := HeaderKey([]byte("What, How  Wide\nx,1\n"))
	require.Equal(t, "mapping/what,how wide", key)
	require.Equal(t, key, HeaderKey([]byte("what,how wide\ny,2\nz,3\n")), "rows do not matter")
	require.Len(t, HeaderKey([]byte(strings.Repeat("column,", 60)+"last\n")), len("mapping/")+150)
	require.Empty(t, HeaderKey([]byte(`[{"name":"a"}]`)), "JSON names its columns")

	_, err := base(t).ReadSwatches([]byte("what,how wide\nblue,44\n"), ImportOptions{Name: "l.csv", Map: map[string]string{"what": "nmae", "hue": "colour"}})
	require.ErrorContains(t, err, `there is no column "nmae"`)
	require.ErrorContains(t, err, `did you mean "name"?`)
	require.ErrorContains(t, err, `the list has no column "hue"`)
	_, err = base(t).ReadSwatches([]byte(" ,wide\nblue,44\n"), ImportOptions{Name: "l.csv"})
	require.ErrorContains(t, err, `--map "wide=name"`, "the first column that has a name")
}

// A column that is there twice is taken once, and the second is told.
func TestOfTwoColumnsOneCounts(t *testing.T) {
	im := imported(t, base(t), "name,width cm,wide cm,note,comment\nblue,140,90,a,b\n", ImportOptions{})
	require.Equal(t, 140.0, im.Rows[0].Swatch.WidthCM)
	require.Equal(t, `width is taken from "width cm" already`, im.Columns[2].How)
	require.Equal(t, "note: a\ncomment: b", im.Rows[0].Swatch.Notes, "notes are taken from several")
}
