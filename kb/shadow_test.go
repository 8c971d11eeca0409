package kb

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/kb/record"
)

// Source: definition of the test (a teaching page, read): shadow less disc over circle less disc. A
// paper shadow of 420 cm² of a circle of 706.86 cm² over a disc of 254.47 cm² is 36.6 %.
func TestShadowOfACircle(t *testing.T) {
	for _, words := range []string{"420cm2", "420cm²", "4.20g:7.0686g", "36.6%"} {
		m := read(t, "drape", words, ReadingOptions{})
		d, ok := m.Readings[0]["drape_pct"].(float64)
		require.True(t, ok)
		require.InDelta(t, 36.6, d, 0.03, words)
	}
	m := read(t, "drape", "186.7cm2", ReadingOptions{Disc: "12cm", Circle: "20cm"})
	require.InDelta(t, 36.6, m.Readings[0]["drape_pct"], 0.03, "a smaller tin")
	for _, bad := range []struct {
		words []string
		o     ReadingOptions
		says  string
	}{
		{[]string{"5.6g:4.1g"}, ReadingOptions{}, "no two weights"},
		{[]string{"200cm2"}, ReadingOptions{}, "shadow"}, // less than the disc's
		{[]string{"120%"}, ReadingOptions{}, "no reading of a shadow"},
		{[]string{"4:6"}, ReadingOptions{Disc: "10cm", Circle: "30cm"}, "five thirds"},
		{[]string{"folds", "x"}, ReadingOptions{}, "not one of the numbers"},
	} {
		_, err := ParseReadings("drape", bad.words, bad.o)
		require.ErrorContains(t, err, bad.says, "%v", bad.words)
	}
}

// A drape test narrows what is held of a name's bending length, to the side that it tells of; a ruler goes
// before it; and own swatches teach nothing by it.
func TestDrapeTestNarrowsTheName(t *testing.T) {
	b := base(t)
	w := record.Swatch{SoldAs: "cotton-sateen"}
	width := func(e fibres.Estimate) float64 { return math.Log(e.High / e.Low) }
	name := b.Cat.Estimate(*b.SubjectOf(w, Evidence{}), fibres.BendingLength)
	at := func(words string) fibres.Estimate {
		return b.Cat.Estimate(*b.SubjectOf(w, EvidenceOf([]record.Measurement{read(t, "drape", words, ReadingOptions{})})), fibres.BendingLength)
	}
	limp, stiff := at("25% 27% folds 8"), at("75% 78% folds 5")
	require.Less(t, limp.Typical, name.Typical)
	require.Greater(t, stiff.Typical, name.Typical)
	require.Less(t, width(limp), width(name))
	require.Less(t, width(stiff), width(name))
	require.Equal(t, fibres.Derived, limp.Basis, "read off by a model, not measured")
	require.Contains(t, limp.Because, "13 points off")

	ruled := []record.Measurement{read(t, "droop", "warp 4cm 4cm weft 4cm 4cm", ReadingOptions{}), read(t, "drape", "90%", ReadingOptions{})}
	s := b.SubjectOf(w, EvidenceOf(ruled))
	e := b.Cat.Estimate(*s, fibres.BendingLength)
	require.InDelta(t, 2, e.Typical, 0.01)
	require.Equal(t, fibres.Measured, e.Basis)
	require.Greater(t, s.Shear.Typical, 22.0, "at 2 cm the usual shear gives 65 %: it must be firmer")
	require.Less(t, s.Shear.Typical, 60.0, "and not by much, for the model is off as well")
	less := b.SubjectOf(w, EvidenceOf([]record.Measurement{ruled[0], read(t, "drape", "40%", ReadingOptions{})}))
	require.Less(t, less.Shear.Typical, 18.0)
}

func TestFoldsAreKeptAndMoveNothing(t *testing.T) {
	with := EvidenceOf([]record.Measurement{read(t, "drape", "50% folds 6 folds 8", ReadingOptions{})})
	require.InDelta(t, 7, with.Shadow.Folds, 1e-9)
	require.Contains(t, with.Notes[0], "7 folds")
	alone := EvidenceOf([]record.Measurement{read(t, "drape", "folds 6", ReadingOptions{})})
	require.Nil(t, alone.Shadow)
	require.Contains(t, alone.Notes[0], "tell little")
}

func TestAnAreaOfAShadowIsANumber(t *testing.T) {
	for _, bad := range []string{"4mcm2", "xcm2", "cm2", "10%cm2"} {
		_, err := ParseReadings("drape", []string{bad}, ReadingOptions{})
		require.ErrorContains(t, err, "this is no area", bad)
	}
	_, err := ParseReadings("drape", []string{"5.6g:5.6g"}, ReadingOptions{})
	require.NoError(t, err, "a cloth that does not fall at all casts the whole circle")
}
