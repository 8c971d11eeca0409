package memory

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"tenter/kb/record"
)

// Measurements lists what was measured on a swatch, oldest first; an empty kind is
// every kind.
func (m *Memory) Measurements(swatch int64, kind string, removedToo bool) ([]record.Measurement, error) {
	return m.measured(func(x record.Measurement) bool {
		return x.SwatchID == swatch && (kind == "" || x.Kind == kind) && (removedToo || x.Removed.IsZero())
	}), nil
}

func (m *Memory) measured(pass func(record.Measurement) bool) []record.Measurement {
	m.mu.RLock()
	defer m.mu.RUnlock()
	out := m.measurements.sorted(pass, byTaken)
	for i := range out {
		out[i] = out[i].Clone()
	}
	return out
}

// MeasurementsOf gives what counts of the measurements of several swatches, oldest
// first; no ids means all swatches.
func (m *Memory) MeasurementsOf(ids ...int64) (map[int64][]record.Measurement, error) {
	out := map[int64][]record.Measurement{}
	for _, x := range m.measured(func(x record.Measurement) bool {
		return x.Removed.IsZero() && (len(ids) == 0 || slices.Contains(ids, x.SwatchID))
	}) {
		out[x.SwatchID] = append(out[x.SwatchID], x)
	}
	return out, nil
}

// Measured lists the swatches on which one of the kinds was measured, those
// measured last first, with what was measured of those kinds, oldest first.
func (m *Memory) Measured(kinds []string, limit int) ([]record.Swatch, map[int64][]record.Measurement, error) {
	by := map[int64][]record.Measurement{}
	for _, x := range m.measured(func(x record.Measurement) bool { return x.Removed.IsZero() && slices.Contains(kinds, x.Kind) }) {
		by[x.SwatchID] = append(by[x.SwatchID], x)
	}
	m.mu.RLock()
	defer m.mu.RUnlock()
	last := func(w record.Swatch) time.Time { return by[w.ID][len(by[w.ID])-1].Taken }
	ws := m.swatches.sorted(func(w record.Swatch) bool { return len(by[w.ID]) > 0 }, func(a, b record.Swatch) int {
		return cmp.Or(last(b).Compare(last(a)), cmp.Compare(b.ID, a.ID))
	})
	if limit > 0 && len(ws) > limit {
		for _, w := range ws[limit:] {
			delete(by, w.ID)
		}
		ws = ws[:limit]
	}
	return clones(ws), by, nil
}

// AddMeasurement records what was measured on a swatch.
func (m *Memory) AddMeasurement(x record.Measurement) (record.Measurement, error) {
	return m.FinishMeasurement(x, "")
}

// FinishMeasurement records what was measured and drops the setting that held the
// readings until now, in one change.
func (m *Memory) FinishMeasurement(x record.Measurement, key string) (record.Measurement, error) {
	if _, err := x.Tidy(); err != nil {
		return record.Measurement{}, err
	}
	err := m.change(func(s *step) (string, error) {
		w, there := s.swatches.rows[x.SwatchID]
		if !there {
			return "", record.NoSwatch(x.SwatchID)
		}
		if id, there := s.setting(key); there {
			drop(s, &s.settings, id)
		}
		x = s.measure(x)
		return fmt.Sprintf("%s of swatch %q measured", x.Kind, w.Name), nil
	})
	if err != nil {
		return record.Measurement{}, err
	}
	return x.Clone(), nil
}

// measure puts a new measurement in its place.
func (s *step) measure(x record.Measurement) record.Measurement {
	x.ID, x.Removed = s.measurements.next(), time.Time{}
	if x.Taken.IsZero() {
		x.Taken = s.now
	}
	x.Taken = record.Moment(x.Taken.Unix())
	put(s, &s.measurements, x.ID, x)
	return x
}

// RemoveMeasurement marks a measurement as removed; its figures are kept.
func (m *Memory) RemoveMeasurement(id int64) error {
	return m.change(func(s *step) (string, error) {
		x, there := s.measurements.rows[id]
		if !there || !x.Removed.IsZero() {
			return "", record.NoMeasurement(id)
		}
		x.Removed = s.now
		put(s, &s.measurements, id, x)
		return fmt.Sprintf("%s of swatch %q removed", x.Kind, s.swatches.rows[x.SwatchID].Name), nil
	})
}
