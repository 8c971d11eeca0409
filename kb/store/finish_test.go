package store

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"tenter/fibres/fault"
	"tenter/kb/record"
)

func TestFinishMeasurementIsOneChange(t *testing.T) {
	s := fresh(t)
	w, err := s.AddSwatch(blue())
	require.NoError(t, err)
	require.NoError(t, s.SetSetting("guided/blue", []float64{1, 2}))
	before := dump(t, s.db)

	m, err := s.FinishMeasurement(record.Measurement{SwatchID: w.ID, Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 200.0}}}, "guided/blue")
	require.NoError(t, err)
	require.NotZero(t, m.ID)
	var held []float64
	there, err := s.Setting("guided/blue", &held)
	require.NoError(t, err)
	require.False(t, there)
	ms, err := s.Measurements(w.ID, "mass", false)
	require.NoError(t, err)
	require.Len(t, ms, 1)

	what, err := s.Undo()
	require.NoError(t, err)
	require.Equal(t, `mass of swatch "Blue for the king" measured`, what)
	require.Equal(t, before, dump(t, s.db), "undo brings the unfinished readings back")

	_, err = s.FinishMeasurement(record.Measurement{SwatchID: 99, Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 1.0}}}, "x")
	isFault(t, err, fault.NotFound)
	_, err = s.FinishMeasurement(record.Measurement{SwatchID: w.ID, Kind: "colour", Readings: []record.Reading{{"x": 1.0}}}, "guided/blue")
	require.Error(t, err)
	require.Equal(t, before, dump(t, s.db), "what is refused drops nothing")
}

func TestCheckSwatchesFindsWhatTheImportFinds(t *testing.T) {
	s := fresh(t)
	_, err := s.AddSwatch(record.Swatch{Name: "REMNANT 00003"})
	require.NoError(t, err)
	before := dump(t, s.db)
	make := func() []record.SwatchRow {
		list := rows(40)
		list[7].Swatch.WidthCM = -3
		list[9].Swatch.Name = "remnant 00008"
		list[11].Measured = []record.Measurement{{Kind: "weight", Readings: []record.Reading{{record.ReadingMass: 5.0}}}}
		return list
	}
	dry, err := s.CheckSwatches(make())
	require.NoError(t, err)
	require.Equal(t, before, dump(t, s.db), "nothing is changed")
	wet, err := s.ImportSwatches(make(), true)
	require.NoError(t, err)
	require.Equal(t, wet.Added, dry.Added)
	said := func(d record.Imported) (out []string) {
		for _, r := range d.Rejected {
			out = append(out, r.Column+" "+r.Fault.What)
		}
		return out
	}
	require.ElementsMatch(t, said(wet), said(dry))
}

func TestMeasuredListsTheLastMeasuredFirst(t *testing.T) {
	s := fresh(t)
	at := time.Date(2026, 11, 1, 12, 0, 0, 0, time.UTC)
	for i, n := range []string{"a", "b", "c", "d"} {
		w, err := s.AddSwatch(record.Swatch{Name: n})
		require.NoError(t, err)
		kind := []string{"mass", "fray", "droop", "mass"}[i]
		_, err = s.AddMeasurement(record.Measurement{SwatchID: w.ID, Kind: kind, Taken: at.AddDate(0, 0, i), Readings: []record.Reading{{record.ReadingMass: 100.0}}})
		require.NoError(t, err)
	}
	_, err := s.AddMeasurement(record.Measurement{SwatchID: 1, Kind: "mass", Taken: at.AddDate(0, 0, -1), Readings: []record.Reading{{record.ReadingMass: 90.0}}})
	require.NoError(t, err)
	ws, by, err := s.Measured([]string{"mass", "droop"}, 0)
	require.NoError(t, err)
	require.Len(t, ws, 3)
	require.Len(t, by, 3)
	require.Len(t, by[1], 2)
	require.InDelta(t, 90, by[1][0].Readings[0][record.ReadingMass], 1e-9, "oldest first")
	ws, by, err = s.Measured([]string{"mass", "droop"}, 2)
	require.NoError(t, err)
	require.Len(t, ws, 2)
	require.Contains(t, by, int64(4))
	require.Contains(t, by, int64(3))
	require.NotContains(t, by, int64(1))
	require.NoError(t, s.RemoveMeasurement(4))
	_, by, err = s.Measured([]string{"mass"}, 0)
	require.NoError(t, err)
	require.NotContains(t, by, int64(4))
}

func TestFindSwatch(t *testing.T) {
	s := fresh(t)
	for _, n := range []string{"Blue serge", "Blue  twill", "Red 100% wool"} {
		_, err := s.AddSwatch(record.Swatch{Name: n})
		require.NoError(t, err)
	}
	w, there, err := s.FindSwatch(" blue TWILL ")
	require.NoError(t, err)
	require.True(t, there)
	require.Equal(t, "Blue twill", w.Name)
	_, there, err = s.FindSwatch("blue")
	require.NoError(t, err)
	require.False(t, there)
	names, err := s.SwatchesBeginning("blu", 5)
	require.NoError(t, err)
	require.Equal(t, []string{"Blue serge", "Blue twill"}, names)
	names, err = s.SwatchesBeginning("red 100%", 5)
	require.NoError(t, err)
	require.Equal(t, []string{"Red 100% wool"}, names)
	names, err = s.SwatchesBeginning("re_", 5)
	require.NoError(t, err)
	require.Empty(t, names, "signs are taken as they stand")
}

func TestMeasurementsOf(t *testing.T) {
	s := fresh(t)
	for i, n := range []string{"a", "b", "c"} {
		w, err := s.AddSwatch(record.Swatch{Name: n})
		require.NoError(t, err)
		for range i {
			_, err = s.AddMeasurement(record.Measurement{SwatchID: w.ID, Kind: "mass", Readings: []record.Reading{{record.ReadingMass: 100.0}}})
			require.NoError(t, err)
		}
	}
	by, err := s.MeasurementsOf(1, 2)
	require.NoError(t, err)
	require.Len(t, by, 1)
	require.Len(t, by[2], 1)
	all, err := s.MeasurementsOf()
	require.NoError(t, err)
	require.Len(t, all[3], 2)
	require.NoError(t, s.RemoveMeasurement(1))
	all, err = s.MeasurementsOf()
	require.NoError(t, err)
	require.NotContains(t, all, int64(2))
}
