package kb

import (
	"encoding/json"
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/kb/memory"
	"tenter/kb/record"
)

// A copy holds all that is recorded but the marks of copies, of which each side keeps the last
// eight.
func TestACopyIsAllThatIsRecorded(t *testing.T) {
	r := memory.New()
	w, err := r.AddSwatch(record.Swatch{Name: "king's blue"})
	require.NoError(t, err)
	_, err = r.AddMeasurement(record.Measurement{SwatchID: w.ID, Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 150.0}}})
	require.NoError(t, err)
	_, err = r.AddNote("cloth", "denim", "smells")
	require.NoError(t, err)
	require.NoError(t, r.Favourite("cloth", "denim"))
	_, err = r.AddWear(record.Wear{MakeUp: json.RawMessage(`{"cloth":"denim"}`), Verdict: "good"})
	require.NoError(t, err)
	require.NoError(t, r.SetSetting("units", "metric"))

	noon := time.Date(2026, 11, 28, 12, 0, 0, 0, time.UTC)
	var d record.Document
	for i := range maxCopies + 2 {
		d, err = NewCopy(r, noon.Add(time.Duration(i)*time.Hour))
		require.NoError(t, err)
	}
	require.Len(t, d.Swatches, 1)
	require.Len(t, d.Swatches[0].Measurements, 1)
	require.Len(t, d.Notes, 1)
	require.Len(t, d.Favourites, 1)
	require.Len(t, d.Wears, 1)
	require.Equal(t, map[string]json.RawMessage{"units": json.RawMessage(`"metric"`)}, d.Settings, "the marks are no setting of the copy")
	marks, err := Copies(r)
	require.NoError(t, err)
	require.Len(t, marks, maxCopies)
	require.Equal(t, noon.Add(9*time.Hour), marks[maxCopies-1].At, "the latest is last")
	require.Len(t, marks[0].Held, 5, "one digest for each thing")
	require.Nil(t, d.Copies[0].Held, "who reads a copy has what it held")
}

// Whatever is said of a thing changes its digest; whose copy it is, and when, does not.
func TestDigestsTellStatesApart(t *testing.T) {
	of := func(change func(*record.SwatchJSON)) string {
		w := record.SwatchJSON{Name: "king's blue", SoldAs: "denim", Colour: "blue", Measurements: []record.MeasurementJSON{{Kind: "mass", Taken: "2026-11-25", Readings: []record.Reading{{record.ReadingMass: 150.0}}}}}
		change(&w)
		return digests(record.Document{Swatches: []record.SwatchJSON{w}})[swatchKey(w.Name)]
	}
	plain := of(func(*record.SwatchJSON) {})
	for i, change := range []func(*record.SwatchJSON){
		func(w *record.SwatchJSON) { w.Colour = "red" },
		func(w *record.SwatchJSON) { w.SoldAs, w.Colour = w.Colour, w.SoldAs },
		func(w *record.SwatchJSON) { w.WidthCM = 140 },
		func(w *record.SwatchJSON) { w.Content = []record.Part{{Fibre: "cotton", Percent: 100}} },
	} {
		require.NotEqual(t, plain, of(change), fmt.Sprint(i))
	}
	require.Equal(t, plain, of(func(w *record.SwatchJSON) { w.ID = 7 }))
	require.Equal(t, plain, of(func(w *record.SwatchJSON) { w.Measurements = nil }), "measurements are never changed: they are merged by themselves")
	require.Equal(t, swatchKey("King's  Blue"), swatchKey("king's blue"), "a name is one name in capitals or not")
	require.NotEqual(t, digest(Line{"ab", "c"}), digest(Line{"a", "bc"}))
}
