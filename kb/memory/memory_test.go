package memory_test

import (
	"encoding/json"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/kb"
	"tenter/kb/memory"
	"tenter/kb/record"
	"tenter/kb/recordstest"
)

func TestRecords(t *testing.T) {
	recordstest.Run(t, func(*testing.T) kb.Records { return memory.New() })
}

// filled has one of everything.
func filled(t *testing.T) *memory.Memory {
	t.Helper()
	m := memory.New()
	clock := time.Date(2026, 11, 28, 9, 0, 0, 0, time.UTC)
	m.Now = func() time.Time { clock = clock.Add(time.Minute); return clock }
	length := 250.0
	gone, err := m.AddSwatch(record.Swatch{Name: "gone"})
	require.NoError(t, err)
	require.NoError(t, m.RemoveSwatch(gone.ID))
	w, err := m.AddSwatch(record.Swatch{Name: "Attic Lawn", SoldAs: "cotton-lawn", Content: []record.Part{{Fibre: "cotton", Percent: 100}}, WidthCM: 140, LengthCM: &length, Lightness: "light", Bought: clock.Truncate(24 * time.Hour)})
	require.NoError(t, err)
	x, err := m.AddMeasurement(record.Measurement{SwatchID: w.ID, Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 71.5}}})
	require.NoError(t, err)
	require.NoError(t, m.RemoveMeasurement(x.ID))
	_, err = m.AddMeasurement(record.Measurement{SwatchID: w.ID, Kind: "droop", Readings: []record.Reading{{"overhang_cm": 7.5, "face": "right"}}, Note: "by the window"})
	require.NoError(t, err)
	_, err = m.AddNote("cloth", "cotton-lawn", "frays")
	require.NoError(t, err)
	require.NoError(t, m.Favourite("piece", "cowl"))
	_, err = m.AddWear(record.Wear{MakeUp: json.RawMessage(`{"piece":"cowl"}`), Verdict: "good"})
	require.NoError(t, err)
	require.NoError(t, m.SetSetting("learn", false))
	return m
}

func TestDocumentComesBackAsItWas(t *testing.T) {
	m := filled(t)
	raw, err := m.Write()
	require.NoError(t, err)
	back, err := memory.Read(raw)
	require.NoError(t, err)
	require.Equal(t, m.Document(), back.Document())
	w, there, err := back.FindSwatch("attic lawn")
	require.NoError(t, err)
	require.True(t, there)
	ms, err := back.Measurements(w.ID, "", true)
	require.NoError(t, err)
	require.Len(t, ms, 2, "the removed one is kept, as removed")
	require.False(t, ms[0].Removed.IsZero())
	next, err := back.AddSwatch(record.Swatch{Name: "next"})
	require.NoError(t, err)
	require.Greater(t, next.ID, w.ID, "numbers are not given twice")
}

func TestDocumentThatDoesNotFitIsRefused(t *testing.T) {
	for say, doc := range map[string]string{
		"no JSON":         `{`,
		"newer tenter":    `{"version":1,"layout":99,"swatches":[]}`,
		"a width of":      `{"version":1,"swatches":[{"name":"x","width_cm":90000}]}`,
		"already":         `{"version":1,"swatches":[{"name":"x"},{"name":"X"}]}`,
		"is no time":      `{"version":1,"swatches":[{"name":"x","created":"yesterday"}]}`,
		"make_up is no":   `{"version":1,"swatches":[],"wears":[{"id":1,"verdict":"good","at":"2026-01-01"}]}`,
		"nothing that is": `{"version":1,"swatches":[{"name":"x","measurements":[{"kind":"dance","readings":[{"x":1}]}]}]}`,
	} {
		_, err := memory.Read([]byte(doc))
		require.ErrorContains(t, err, say)
	}
}

// TestUndoAfterRestart: what was written and read again can be taken back step by step to
// the records of the beginning, each state as it was.
func TestUndoAfterRestart(t *testing.T) {
	m := filled(t)
	raw, err := m.Write()
	require.NoError(t, err)
	back, err := memory.Read(raw)
	require.NoError(t, err)
	for {
		want, err := m.History(0)
		require.NoError(t, err)
		got, err := back.History(0)
		require.NoError(t, err)
		require.Equal(t, want, got)
		require.Equal(t, m.Document(), back.Document())
		if len(want) == 0 {
			break
		}
		for _, r := range []*memory.Memory{m, back} {
			_, err := r.Undo()
			require.NoError(t, err)
		}
	}
	broken, err := memory.Read([]byte(`{"version":1,"swatches":[{"name":"gold"}],"log":{"changes":[{"id":1,"steps":[{"table":"nosuch","id":1}]}]}}`))
	require.NoError(t, err)
	_, err = broken.Undo()
	require.ErrorContains(t, err, "nothing to undo", "a log that does not fit is left out, the records stay")
	_, there, err := broken.FindSwatch("gold")
	require.NoError(t, err)
	require.True(t, there)

	twice, err := memory.Read([]byte(`{"version":1,"swatches":[],"favourites":[{"kind":"piece","subject":"cowl"},{"kind":"piece","subject":"cape"}],"log":{"favourites":[1,1],"changes":[]}}`))
	require.NoError(t, err)
	marks, err := twice.Favourites()
	require.NoError(t, err)
	require.Len(t, marks, 2, "a number given twice loses no record")
}
