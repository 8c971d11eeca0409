package kb

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/fibres"
	"tenter/kb/record"
)

// level is the grade that readings of a kind give, as low, typical and high.
func level(t *testing.T, kind, words string, o ReadingOptions, p fibres.Property) [3]string {
	t.Helper()
	e := figureOf(t, []record.Measurement{read(t, kind, words, o)}, p)
	s := fibres.Properties[p].Scale
	return [3]string{s[int(e.Low)], s[int(e.Typical)], s[int(e.High)]}
}

// Grades of counts are those of the home tests (common practice), and one count out either way.
func TestCountsBecomeGrades(t *testing.T) {
	for words, want := range map[string][3]string{"0": {"none", "none", "low"}, "1": {"none", "low", "medium"}, "2": {"low", "medium", "medium"}, "4": {"medium", "medium", "high"}, "5": {"medium", "high", "high"}, "1 5": {"medium", "high", "high"}} {
		require.Equal(t, want, level(t, "fray", words, ReadingOptions{}, fibres.Fray), "%s threads of ten rubs", words)
	}
	require.Equal(t, "low", level(t, "fray", "2", ReadingOptions{Rubs: 20}, fibres.Fray)[1], "twice the rubs, twice the threads")
	for words, want := range map[string][3]string{"10cm:10.5cm": {"none", "none", "low"}, "10cm:11cm": {"low", "low", "medium"}, "10cm:12.5cm": {"medium", "medium", "high"}, "10cm:13cm": {"high", "high", "high"}} {
		require.Equal(t, want, level(t, "stretch", words, ReadingOptions{}, fibres.Stretch), words)
	}
	fray := EvidenceOf([]record.Measurement{read(t, "fray", "1 3", ReadingOptions{})}).Found[0]
	require.Equal(t, 2, fray.Count, "both directions were counted, though the worse is the grade")
}

func TestWordsBecomeGrades(t *testing.T) {
	ms := []record.Measurement{read(t, "show-through", "low", ReadingOptions{}), read(t, "show-through", "high", ReadingOptions{}), read(t, "show-through", "medium", ReadingOptions{})}
	e := figureOf(t, ms, fibres.ShowThrough)
	require.Equal(t, [3]float64{1, 2, 3}, [3]float64{e.Low, e.Typical, e.High}, "the least, the middle one, the most")
	fray := figureOf(t, []record.Measurement{{Kind: "fray", Taken: monday, Readings: []record.Reading{{"level": "medium"}}}}, fibres.Fray)
	require.Equal(t, 2.0, fray.Typical, "a grade in words serves where nothing was counted")
}

func TestWhatReadingsAreOutBy(t *testing.T) {
	wide := func(kind, words string, o ReadingOptions, p fibres.Property) float64 {
		e := figureOf(t, []record.Measurement{read(t, kind, words, o)}, p)
		return e.High / e.Low
	}
	calipers, ruler := wide("thickness", "4.52mm", ReadingOptions{}, fibres.Thickness), wide("thickness", "5mm", ReadingOptions{}, fibres.Thickness)
	require.Less(t, calipers, ruler, "what is read to a hundredth says more than what is read to a whole")
	require.Less(t, wide("thickness", "45mm", ReadingOptions{Layers: 100}, fibres.Thickness), ruler, "a higher pile says more")
	require.Less(t, wide("width", "140 140.5 141", ReadingOptions{}, fibres.Width), 1.05)
	e := figureOf(t, []record.Measurement{read(t, "wash", "warp 25cm:24cm", ReadingOptions{})}, fibres.ShrinkWarp)
	near := figureOf(t, []record.Measurement{read(t, "wash", "warp 5cm:4.8cm", ReadingOptions{})}, fibres.ShrinkWarp)
	require.Less(t, e.High-e.Low, near.High-near.Low, "marks further apart say more")
}

// Readings that cannot be of one cloth are told, those that can are not.
func TestReadingsApartAreTold(t *testing.T) {
	notes := func(ms ...record.Measurement) string { return strings.Join(EvidenceOf(ms).Notes, " ") }
	require.Contains(t, notes(read(t, "mass", "1.50g 2.50g", ReadingOptions{})), "The readings of mass lie")
	require.NotContains(t, notes(read(t, "mass", "1.50g 1.60g", ReadingOptions{})), "lie")
	require.Contains(t, notes(read(t, "width", "140 160", ReadingOptions{})), "The readings of width lie")
	require.NotContains(t, notes(read(t, "width", "140 142", ReadingOptions{})), "lie")
	require.Contains(t, notes(read(t, "thickness", "4.5mm 9mm", ReadingOptions{})), "The readings of thickness lie")
	far := notes(read(t, "droop", "warp 3cm 6cm weft 3cm 6cm", ReadingOptions{}))
	require.Contains(t, far, "warp lie")
	require.NotContains(t, far, "bending length lie", "told of each direction, not again of both")
	require.Contains(t, notes(read(t, "droop", "weft 3.4cm", ReadingOptions{})), "Only the weft was measured")
	require.Contains(t, notes(read(t, "droop", "3.4cm", ReadingOptions{}), read(t, "droop", "warp 3.4cm", ReadingOptions{})), "Strips without a direction are left out")
	require.Contains(t, notes(read(t, "wash", "warp 25cm:24cm", ReadingOptions{Method: "hand, cold"}), read(t, "wash", "weft 25cm:24cm", ReadingOptions{Method: "boiled"})), "Washed in several ways, and taken together: boiled; hand, cold.")
}

func TestWhyNamesTestAndDays(t *testing.T) {
	later := read(t, "mass", "1.51g", ReadingOptions{})
	later.Taken = monday.AddDate(0, 0, 7)
	require.Equal(t, "your weighing of 2 Nov 2026 to 9 Nov 2026, 3 readings", figureOf(t, []record.Measurement{later, read(t, "mass", "1.5g 1.52g", ReadingOptions{})}, fibres.Mass).Because)
	require.Equal(t, "your weighing of 9 Nov 2026, 1 reading", figureOf(t, []record.Measurement{later}, fibres.Mass).Because)
}

// Kept readings that are damaged are left out, and what is left still answers.
func TestDamagedReadingsAreLeftOut(t *testing.T) {
	e := EvidenceOf([]record.Measurement{{Kind: "mass", Taken: monday, Readings: []record.Reading{{record.ReadingMass: -1.0}, {record.ReadingMass: "150"}, {record.ReadingMass: 150.0}}}})
	require.Len(t, e.Found, 1)
	require.Equal(t, 1, e.Found[0].Count)
	require.Nil(t, EvidenceOf([]record.Measurement{{Kind: "width", Taken: monday, Readings: []record.Reading{{"width_cm": 0.0}}}}).Known())
	require.Empty(t, EvidenceOf([]record.Measurement{{Kind: "press", Taken: monday}, {Kind: "stretch", Taken: monday}}).Found)
	droop := EvidenceOf([]record.Measurement{{Kind: "droop", Taken: monday, Readings: []record.Reading{{"overhang_cm": -2.0}}}})
	require.Empty(t, droop.Found)
	require.Contains(t, strings.Join(droop.Notes, " "), "gives no bending length and is left out")
}

// One wash is the first, and not counted; of more it is told how many.
func TestWashesAreCountedFromTwo(t *testing.T) {
	because := func(cycle int) string {
		return figureOf(t, []record.Measurement{read(t, "wash", "warp 25cm:24cm", ReadingOptions{Cycle: cycle})}, fibres.ShrinkWarp).Because
	}
	require.NotContains(t, because(1), "washes")
	require.Contains(t, because(2), ", after 2 washes")
}
