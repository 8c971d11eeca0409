package cut

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// TestOutlinesUseTheCloth measures how much of the cloth the parts of true shapes
// fill, against what their boxes would.
func TestOutlinesUseTheCloth(t *testing.T) {
	quarter := outlined("quarter", 4, sectorOutline(14, 80, 1.5707963267948966))
	gore, err := drawGored(measures{"parts": 6, "top": 74, "hem": 228, "length": 78})
	require.NoError(t, err)
	hood, err := drawHood(measures{"face": 38, "depth": 30, "neck": 26, "crown": 14, "nape": 8})
	require.NoError(t, err)
	half := outlined("half circle", 2, sectorOutline(0, 60, 3.141592653589793))
	for _, x := range []struct {
		name  string
		parts []Part
		least float64 // part of the cloth that is used, as measured, less some room
	}{
		{"twenty flags", []Part{outlined("flag", 20, triangleOutline(20, 24, 0))}, 0.80},
		{"four quarters of a skirt", []Part{quarter}, 0.70},
		{"six gores", gore.Parts, 0.65},
		{"a hood", hood.Parts, 0.40},
		{"two half circles", []Part{half}, 0.62},
		{"all of them", append(append(append([]Part{quarter, half}, gore.Parts...), hood.Parts...), outlined("flag", 6, triangleOutline(20, 24, 0))), 0.70},
	} {
		l, err := lay(drawParts(x.parts, allowances{1.2, 1.2, 1.2}), Layer{}, 150, 0, 0, fullEffort)
		require.NoError(t, err)
		boxes := 0.0
		for _, b := range l.blanks {
			boxes += b.ways[0].w * b.ways[0].h
		}
		t.Logf("%s: %.0f cm, at least %.0f, %.0f %% of the cloth used; their boxes alone would take %.0f cm", x.name, l.length, l.bound, (1-l.waste())*100, boxes/150)
		require.GreaterOrEqual(t, 1-l.waste(), x.least, x.name)
	}
}
