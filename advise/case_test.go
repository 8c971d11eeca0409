package advise

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
)

// The words of a case name every part of a make-up, and a figure of a layer besides.
func TestACaseNamesAMakeUp(t *testing.T) {
	m := makeUp(t, " coat, bagged-lining ,, shell wool-melton, white shell, shell mass 300-400 g/m2, shell fray low, lining cupro-lining, dark lining, lining mass 80 g/m2,"+
		"interfacing hair-canvas-light, layer interlining=domette, seam plain-seam, edge machine-rolled-hem, wish warm, wish washable, wearer child, job warmth")
	require.Equal(t, "coat", m.Piece.ID)
	require.Equal(t, "bagged-lining", m.Finish.ID)
	require.Equal(t, []string{"wool-melton", "white"}, []string{m.Shell.Cloth.ID, m.Shell.Lightness})
	require.Equal(t, []string{"cupro-lining", "dark"}, []string{m.Lining.Cloth.ID, m.Lining.Lightness})
	mass := m.Shell.Known[fibres.Mass]
	require.Equal(t, []float64{300, 350, 400}, []float64{mass.Low, mass.Typical, mass.High})
	require.Equal(t, fibres.Measured, mass.Basis)
	require.Equal(t, "low", m.Shell.Known[fibres.Fray].Say())
	require.Equal(t, 80.0, m.Lining.Known[fibres.Mass].Typical)
	require.Equal(t, "hair-canvas-light", m.Interfacing.ID)
	require.Len(t, m.Inner, 1)
	require.Equal(t, "domette-interlining", m.Inner[0].Of.Cloth.ID)
	require.Equal(t, []string{"plain-seam", "machine-rolled-hem"}, []string{m.Seam.ID, m.Edge.ID})
	require.Equal(t, []string{"warm", "washable"}, m.wishIDs())
	require.Equal(t, "child", m.wearer())
	require.Equal(t, "warmth", m.job())
	ounces := makeUp(t, "shell mass 4 oz/yd2").Shell.Known[fibres.Mass]
	require.InDelta(t, 4*33.906, ounces.Typical, 0.01, "an ounce a square yard is 33.906 g/m²")
	require.Equal(t, MakeUp{}, makeUp(t, " , ,"))
}

// What a case cannot mean is told, with what was expected.
func TestCasesThatNameNothing(t *testing.T) {
	for words, want := range map[string]string{
		"coet":                      `"coet" is neither a piece nor a finish`,
		"shell wool-meltn":          `no cloth is called "wool-meltn"`,
		"shell mass 3 cm":           `"3 cm" is a length, not a weight of cloth`,
		"shell mass heavy":          `heavy`,
		"shell fray lots":           `"lots" is not on the scale of fray`,
		"layer interlining":         `interlining`,
		"layer interlining=domete":  `no cloth is called "domete"`,
		"interfacing none-such":     `no interfacing is called "none-such"`,
		"seam none-such":            `no seam is called "none-such"`,
		"edge none-such":            `no edge finish is called "none-such"`,
		"seam machine-rolled-hem":   `no seam is called "machine-rolled-hem"`,
		"wish none-such":            `none-such`,
		"job none-such":             `none-such`,
		"wearer cat":                `wearer is "cat"`,
		"white hat":                 `"white hat" is neither`,
		"white lining, lining none": `no cloth is called "none"`,
	} {
		_, err := adviser(t).ParseCase(words)
		require.ErrorContains(t, err, want, words)
	}
	_, err := adviser(t).ParseCase("coet")
	require.ErrorContains(t, err, `did you mean "coat"`)
}
