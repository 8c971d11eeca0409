package kb

import (
	"testing"

	"github.com/stretchr/testify/require"

	"tenter/kb/memory"
	"tenter/kb/record"
	"tenter/kb/search"
)

// The search is told of each thing of the catalogue once, by all its names.
func TestEverythingIsDescribedOnce(t *testing.T) {
	cat := base(t).Cat
	by := map[string]map[string]search.Doc{}
	for _, d := range Docs(cat) {
		if by[d.Kind] == nil {
			by[d.Kind] = map[string]search.Doc{}
		}
		require.NotContains(t, by[d.Kind], d.ID)
		require.NotEmpty(t, d.Name, "%s %s", d.Kind, d.ID)
		by[d.Kind][d.ID] = d
	}
	for kind, n := range map[string]int{"cloth": len(cat.Cloths), "fibre": len(cat.Fibres), "structure": len(cat.Structures), "treatment": len(cat.Treatments), "term": len(cat.Terms), "source": len(cat.Sources)} {
		require.Len(t, by[kind], n, kind)
	}
	lawn := by["cloth"]["cotton-lawn"]
	require.Equal(t, []string{"cotton"}, lawn.Fibres)
	require.Contains(t, lawn.Words, gradeWord("fibre cotton"))
	require.InDelta(t, 80, lawn.Mass, 30, "g/m², as lawn is sold")
	for id, c := range cat.Cloths {
		for _, p := range c.Content {
			if p.Share.Typical >= 1 {
				require.Contains(t, by["cloth"][id].Fibres, p.Fibre.ID, id)
			} else {
				require.NotContains(t, by["cloth"][id].Fibres, p.Fibre.ID, id)
			}
		}
	}
	require.Contains(t, by["fibre"]["wool"].Text, "felts")
	require.Contains(t, by["fibre"]["cotton"].Text, "does not felt")
	require.Equal(t, "one. two", text("one.", "", " two ", "Burning: "), "sentences are joined, empty ones and labels left out")
}

// Of a swatch that was weighed twice the search knows the last weight.
func TestOwnThingsAreDescribed(t *testing.T) {
	r := memory.New()
	w, err := r.AddSwatch(record.Swatch{Name: "king's blue", Colour: "blue"})
	require.NoError(t, err)
	for _, g := range []float64{150, 180} {
		_, err = r.AddMeasurement(record.Measurement{SwatchID: w.ID, Kind: "mass", Readings: []record.Reading{{record.ReadingMass: g}, {record.ReadingMass: g + 2}}})
		require.NoError(t, err)
	}
	_, err = r.AddNote("cloth", "denim", "smells")
	require.NoError(t, err)
	docs, err := OwnDocs(r)
	require.NoError(t, err)
	require.Len(t, docs, 2)
	require.Equal(t, []string{"swatch", "note"}, []string{docs[0].Kind, docs[1].Kind})
	require.InDelta(t, 181, docs[0].Mass, 1e-9)
	require.Equal(t, "smells", docs[1].Text)
}
