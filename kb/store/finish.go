package store

import (
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"tenter/kb/record"
)

// FinishMeasurement records what was measured and drops the setting that held
// the readings until now, in one change: undo brings back the unfinished ones.
func (s *Store) FinishMeasurement(m record.Measurement, setting string) (record.Measurement, error) {
	readings, err := m.Tidy()
	if err != nil {
		return record.Measurement{}, err
	}
	err = s.change(func(t *tx) (string, error) {
		var called string
		err := t.QueryRow("select name from swatch where id = ?", m.SwatchID).Scan(&called)
		if errors.Is(err, sql.ErrNoRows) {
			return "", record.NoSwatch(m.SwatchID)
		}
		if err != nil {
			return "", err
		}
		there, err := t.ids("select id from setting where key = ?", setting)
		if err != nil {
			return "", err
		}
		for _, id := range there {
			if _, err := t.remove("setting", id); err != nil {
				return "", err
			}
		}
		taken := t.now
		if !m.Taken.IsZero() {
			taken = m.Taken.Unix()
		}
		m.ID, err = t.insert("measurement", row{"swatch_id": m.SwatchID, "kind": m.Kind, "taken_at": taken, "readings": readings, "note": m.Note})
		m.Taken = record.Moment(taken)
		return fmt.Sprintf("%s of swatch %q measured", m.Kind, called), err
	})
	if err != nil {
		return record.Measurement{}, err
	}
	return m, nil
}

// Measured lists the swatches on which one of the kinds was measured, those
// measured last first, at most limit of them (0 is all), with what was measured
// of those kinds, oldest first.
func (s *Store) Measured(kinds []string, limit int) ([]record.Swatch, map[int64][]record.Measurement, error) {
	if limit <= 0 {
		limit = -1
	}
	list, err := json.Marshal(kinds)
	if err != nil {
		return nil, nil, err
	}
	// Of a full cupboard only the end is sorted: a swatch has few measurements.
	ids, err := s.int64s(`select swatch_id from (select swatch_id, taken_at from measurement where removed is null and kind in (select value from json_each(?1))
		order by taken_at desc, id desc limit ?2 * 4) group by swatch_id order by max(taken_at) desc, swatch_id desc limit ?2`, string(list), limit)
	if err != nil {
		return nil, nil, err
	}
	picked, err := json.Marshal(ids)
	if err != nil {
		return nil, nil, err
	}
	rows, err := s.db.Query("select "+swatchFields+" from swatch where id in (select value from json_each(?))", string(picked))
	if err != nil {
		return nil, nil, s.explain(err)
	}
	defer rows.Close()
	var out []record.Swatch
	for rows.Next() {
		w, err := scanSwatch(rows)
		if err != nil {
			return nil, nil, s.explain(err)
		}
		out = append(out, w)
	}
	if err := rows.Err(); err != nil {
		return nil, nil, s.explain(err)
	}
	if err := rows.Close(); err != nil {
		return nil, nil, s.explain(err)
	}
	at := make(map[int64]int, len(ids))
	for i, id := range ids {
		at[id] = i
	}
	slices.SortFunc(out, func(a, b record.Swatch) int { return at[a.ID] - at[b.ID] })
	ms, err := s.measurements("select "+measurementFields+" from measurement where removed is null and kind in (select value from json_each(?1)) and swatch_id in (select value from json_each(?2)) order by taken_at, id", string(list), string(picked))
	if err != nil {
		return nil, nil, err
	}
	by := map[int64][]record.Measurement{}
	for _, m := range ms {
		by[m.SwatchID] = append(by[m.SwatchID], m)
	}
	return out, by, nil
}

// FindSwatch finds a swatch by its name, capitals or not; that there is none is no
// error.
func (s *Store) FindSwatch(name string) (record.Swatch, bool, error) {
	w, err := scanSwatch(s.db.QueryRow("select "+swatchFields+" from swatch where name_key = ?", record.NameKey(name)))
	if errors.Is(err, sql.ErrNoRows) {
		return record.Swatch{}, false, nil
	}
	return w, err == nil, s.explain(err)
}

// SwatchesBeginning lists the names that begin so, capitals or not, at most limit
// of them; a negative number is no limit.
func (s *Store) SwatchesBeginning(with string, limit int) ([]string, error) {
	rows, err := s.db.Query("select name from swatch where substr(name_key, 1, length(?1)) = ?1 order by name_key limit ?2", record.NameKey(with), limit)
	if err != nil {
		return nil, s.explain(err)
	}
	defer rows.Close()
	var out []string
	for rows.Next() {
		var n string
		if err := rows.Scan(&n); err != nil {
			return nil, s.explain(err)
		}
		out = append(out, n)
	}
	return out, s.explain(rows.Err())
}

func (s *Store) int64s(query string, args ...any) ([]int64, error) {
	rows, err := s.db.Query(query, args...)
	if err != nil {
		return nil, s.explain(err)
	}
	defer rows.Close()
	out := []int64{}
	for rows.Next() {
		var n int64
		if err := rows.Scan(&n); err != nil {
			return nil, s.explain(err)
		}
		out = append(out, n)
	}
	return out, s.explain(rows.Err())
}

// MeasurementsOf gives what counts of the measurements of several swatches, oldest
// first; no ids means all swatches.
func (s *Store) MeasurementsOf(ids ...int64) (map[int64][]record.Measurement, error) {
	query, args := "select "+measurementFields+" from measurement where removed is null", []any{}
	if len(ids) > 0 {
		list, err := json.Marshal(ids)
		if err != nil {
			return nil, err
		}
		query, args = query+" and swatch_id in (select value from json_each(?))", append(args, string(list))
	}
	ms, err := s.measurements(query+" order by taken_at, id", args...)
	if err != nil {
		return nil, err
	}
	out := map[int64][]record.Measurement{}
	for _, m := range ms {
		out[m.SwatchID] = append(out[m.SwatchID], m)
	}
	return out, nil
}
