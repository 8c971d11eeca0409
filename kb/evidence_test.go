package kb

import (
	"math"
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

// Strips are pooled by their direction: of both, the overall bending length too; of one
// alone nothing is said of the other. The spread is that about the mean of each direction
// and face, in ln.
func TestStripsAreTakenTogether(t *testing.T) {
	found := func(words string) map[fibres.Property]Found {
		out := map[fibres.Property]Found{}
		for _, f := range EvidenceOf([]record.Measurement{read(t, "droop", words, ReadingOptions{})}).Found {
			out[f.Property] = f
		}
		return out
	}
	both := found("warp 4cm 4cm weft 3cm 3cm")
	require.Len(t, both, 3)
	require.InDelta(t, 2, both[fibres.BendingLengthWarp].Typical, 0.01, "half the overhang")
	require.InDelta(t, 1.5, both[fibres.BendingLengthWeft].Typical, 0.01)
	require.InDelta(t, math.Sqrt(3), both[fibres.BendingLength].Typical, 0.01, "the geometric mean of both")
	require.Equal(t, 4, both[fibres.BendingLength].Count)
	require.Zero(t, both[fibres.BendingLength].Spread, "readings of a direction agree, whatever lies between the directions")
	one := found("warp 4cm 4.4cm")
	require.Len(t, one, 1)
	require.InDelta(t, math.Log(1.1)/math.Sqrt2, one[fibres.BendingLengthWarp].Spread, 1e-6, "two readings scatter by their difference over √2")
	require.Zero(t, found("warp 4cm")[fibres.BendingLengthWarp].Spread, "one reading does not scatter")
	require.Contains(t, found("bias 4cm"), fibres.BendingLengthBias)
	require.Contains(t, found("4cm"), fibres.BendingLength)
}

// A count without its rubs is of the usual ten.
func TestThreadsOfSoManyRubs(t *testing.T) {
	grade := func(r record.Reading) float64 {
		return figureOf(t, []record.Measurement{{Kind: "fray", Taken: monday, Readings: []record.Reading{r}}}, fibres.Fray).Typical
	}
	require.Equal(t, 2.0, grade(record.Reading{"threads": 4.0}))
	require.Equal(t, 2.0, grade(record.Reading{"threads": 4.0, "rubs": 0.0}))
	require.Equal(t, 3.0, grade(record.Reading{"threads": 4.0, "rubs": 5.0}))
	require.Equal(t, 1.0, grade(record.Reading{"threads": 0.1, "rubs": 1.0}), "one in ten rubs")
}
