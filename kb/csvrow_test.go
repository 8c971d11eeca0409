package kb

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/kb/record"
)

// Bare figures tell their unit where they can only be meant one way.
func TestUnitOfBareFigures(t *testing.T) {
	for _, c := range []struct {
		kind      string
		mid, most float64
		imperial  bool
		want      string
	}{
		{"width", 140, 160, false, "cm"}, {"width", 75, 75, false, "cm"}, {"width", 74, 200, false, ""}, {"width", 44, 60, false, "in"}, {"width", 44, 73, false, ""},
		{"width", 1.4, 1.6, false, "m"}, {"width", 1.4, 5.1, false, ""}, {"width", 140, 160, true, "in"},
		{"length", 2, 40, false, "m"}, {"length", 2, 41, false, ""}, {"length", 40, 300, false, "cm"}, {"length", 2, 3, true, "yd"},
		{"mass", 150, 400, false, "gsm"}, {"mass", 30, 30, false, "gsm"}, {"mass", 5, 20, false, "oz"}, {"mass", 5, 21, false, ""}, {"mass", 5, 21, true, "oz"},
		{"thickness", 0.4, 40, false, "mm"}, {"thickness", 0.4, 41, false, ""}, {"bending_length_warp", 2, 12, false, "cm"}, {"bending_length", 2, 13, false, ""},
	} {
		require.Equal(t, c.want, unitFrom(c.kind, c.mid, c.most, c.imperial), "%+v", c)
	}
}

// refusal is why a cell is refused, "" where it is not.
func refusal(t *testing.T, header, cell string) string {
	t.Helper()
	im := imported(t, base(t), "name,"+header+"\nblue,\""+cell+"\"\n", ImportOptions{})
	if len(im.Refused) == 0 {
		return ""
	}
	return im.Refused[0].Fault.What
}

func TestFiguresOfARowHaveBounds(t *testing.T) {
	for _, c := range []struct{ header, good, bad, what string }{
		{"width_cm", "1000", "1000.1", "a width of"}, {"width_cm", "1", "0", "a width of 0 cm"}, {"length_m", "0", "-2", `"-2" is negative`},
		{"thickness_mm", "40", "40.1", "a thickness of"}, {"bending_length_cm", "0.3", "0.29", "a bending length of"}, {"bending_length_cm", "12", "12.1", "a bending length of"},
		{"shrink_warp_pct", "60", "60.5", "a shrinkage of"}, {"shrink_warp_pct", "-20", "-20.5", "a shrinkage of"}, {"fray", "sheer", "woolly", `"woolly" is no grade`},
		{"stretch", "12%", "a bit", "neither a grade nor a percentage"}, {"bought", "31/12/2025", "31/13/2025", "is no date"}, {"bought", "1700", "1699", "is no date"},
	} {
		require.Empty(t, refusal(t, c.header, c.good), "%s %s", c.header, c.good)
		require.Contains(t, refusal(t, c.header, c.bad), c.what, "%s %s", c.header, c.bad)
	}
}

// A reading of a list is that of the home test: half the overhang is the bending length, a
// thickness of a centimetre is ten millimetres, growth is negative.
func TestReadingsOfARow(t *testing.T) {
	row := one(t, "name,bending_length_warp_mm,thickness_cm,shrink_pct,stretch,fray,show through\nblue,21,0.1,-2,medium,low,opaque\n")
	by := map[string][]record.Reading{}
	for _, m := range row.Measured {
		by[m.Kind] = append(by[m.Kind], m.Readings...)
	}
	require.InDelta(t, 4.2, by["droop"][0]["overhang_cm"], 1e-9)
	require.Equal(t, "warp", by["droop"][0]["direction"])
	require.InDelta(t, 1.0, by["thickness"][0]["thickness_mm"], 1e-9)
	require.Len(t, by["wash"], 2, "one figure is of both directions")
	require.InDelta(t, -2, by["wash"][1]["shrink_pct"], 1e-9)
	require.InDelta(t, 18, by["stretch"][0]["stretch_pct"], 1e-9)
	require.Equal(t, "low", by["fray"][0]["level"])
	require.Equal(t, "none", by["show-through"][0]["level"])
}

// A bare share of a length under 0.3 is taken as per cent, and said.
func TestSmallShrinkagesAreNoticed(t *testing.T) {
	said := func(cell string) bool {
		for _, n := range imported(t, base(t), "name,shrink_warp\nblue,"+cell+"\n", ImportOptions{}).Notices {
			if strings.Contains(n.What, "are taken as per cent") {
				return true
			}
		}
		return false
	}
	require.True(t, said("0.04"))
	require.False(t, said("0.3"))
	require.False(t, said("0"))
}

func TestPlainNumbers(t *testing.T) {
	for s, want := range map[string]float64{"12": 12, "1.5": 1.5, "1,5": 1.5, "-3": -3, "1e2": 100, strings.Repeat("1", 40): 1111111111111111111111111111111111111111} {
		v, ok := plainNumber(s)
		require.True(t, ok, s)
		require.InEpsilon(t, want, v, 1e-12, s)
	}
	for _, s := range []string{"", "12cm", "1,2,3", "1e999", "nan", "0x10", strings.Repeat("1", 41)} {
		v, ok := plainNumber(s)
		require.False(t, ok && !math.IsNaN(v), s)
	}
}

// What a spreadsheet would take for a formula is written harmless, and read back as it was.
func TestFormulasAreNeutral(t *testing.T) {
	for s, want := range map[string]string{"=1+1": "'=1+1", "-dark": "'-dark", "@a": "'@a", "+3": "'+3", "'=x": "''=x", "blue": "blue", "": "", "'tis": "'tis"} {
		require.Equal(t, want, neutral(s))
		require.Equal(t, s, unneutral(neutral(s)))
	}
	for s, unknown := range map[string]bool{"n/a": true, "N/A.": true, "unknown": true, "-": true, "none": false, "0": false} {
		require.Equal(t, unknown, notKnown(s), s)
	}
}

// A shrinkage is read as per cent with its mark and without; cloth that grew has a minus
// sign of either kind.
func TestShrinkagesOfARow(t *testing.T) {
	for cell, want := range map[string]float64{"4%": 4, "4 %": 4, "4": 4, "2.5%": 2.5, "-3%": -3, "−3 %": -3, "0": 0, "0.04": 0.04} {
		row := one(t, "name,shrink_warp\nblue,"+cell+"\n")
		require.Len(t, row.Measured, 1, cell)
		require.InDelta(t, want, row.Measured[0].Readings[0]["shrink_pct"], 1e-9, cell)
	}
}

// The unit of bare figures is told by the middle of the column, not by an odd one in it.
func TestTheMiddleOfAColumnTellsItsUnit(t *testing.T) {
	for column, want := range map[string]string{"90 115 150": "cm", "44 45 60": "in", "44 140 150": "cm", "44 45 140": ""} {
		im := imported(t, base(t), "name,width\na,"+strings.ReplaceAll(column, " ", "\nb,")+"\n", ImportOptions{})
		require.Equal(t, want, im.Columns[1].Unit, column)
	}
}
