package store

import (
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"tenter/kb/record"
)

// AddMeasurement records what was measured on a swatch.
func (s *Store) AddMeasurement(m record.Measurement) (record.Measurement, error) {
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
		taken := t.now
		if !m.Taken.IsZero() {
			taken = m.Taken.Unix()
		}
		m.Taken, m.Removed = record.Moment(taken), time.Time{}
		m.ID, err = t.insert("measurement", row{"swatch_id": m.SwatchID, "kind": m.Kind, "taken_at": taken, "readings": readings, "note": m.Note})
		return fmt.Sprintf("%s of swatch %q measured", m.Kind, called), err
	})
	if err != nil {
		return record.Measurement{}, err
	}
	return m, nil
}

// RemoveMeasurement marks a measurement as removed; its figures are kept.
func (s *Store) RemoveMeasurement(id int64) error {
	return s.change(func(t *tx) (string, error) {
		var kind, called string
		var removed sql.NullInt64
		err := t.QueryRow("select m.kind, w.name, m.removed from measurement m join swatch w on w.id = m.swatch_id where m.id = ?", id).Scan(&kind, &called, &removed)
		if errors.Is(err, sql.ErrNoRows) || (err == nil && removed.Valid) {
			return "", record.NoMeasurement(id)
		}
		if err != nil {
			return "", err
		}
		_, err = t.update("measurement", id, row{"removed": t.now})
		return fmt.Sprintf("%s of swatch %q removed", kind, called), err
	})
}

const measurementFields = "id, swatch_id, kind, taken_at, readings, note, removed"

// Measurements lists what was measured on a swatch, oldest first; an empty kind
// is every kind. Removed ones are listed only when asked for.
func (s *Store) Measurements(swatchID int64, kind string, removedToo bool) ([]record.Measurement, error) {
	return s.measurements("select "+measurementFields+` from measurement
		where swatch_id = ?1 and (?2 = '' or kind = ?2) and (?3 or removed is null) order by taken_at, id`, swatchID, kind, removedToo)
}

func (s *Store) measurements(query string, args ...any) ([]record.Measurement, error) {
	rows, err := s.db.Query(query, args...)
	if err != nil {
		return nil, s.explain(err)
	}
	defer rows.Close()
	var out []record.Measurement
	for rows.Next() {
		var m record.Measurement
		var taken int64
		var readings string
		var removed sql.NullInt64
		if err := rows.Scan(&m.ID, &m.SwatchID, &m.Kind, &taken, &readings, &m.Note, &removed); err != nil {
			return nil, s.explain(err)
		}
		if err := json.Unmarshal([]byte(readings), &m.Readings); err != nil {
			return nil, s.explain(err)
		}
		m.Taken = record.Moment(taken)
		if removed.Valid {
			m.Removed = record.Moment(removed.Int64)
		}
		out = append(out, m)
	}
	return out, s.explain(rows.Err())
}

// Latest gives for each swatch the latest measurement of each kind that counts;
// no ids means all swatches.
func (s *Store) Latest(ids ...int64) (map[int64]map[string]record.Measurement, error) {
	query := "select " + measurementFields + " from measurement where removed is null"
	var args []any
	if len(ids) > 0 {
		list, err := json.Marshal(ids)
		if err != nil {
			return nil, err
		}
		query += " and swatch_id in (select value from json_each(?))"
		args = append(args, string(list))
	}
	ms, err := s.measurements(query+" order by taken_at, id", args...)
	if err != nil {
		return nil, err
	}
	out := map[int64]map[string]record.Measurement{}
	for _, m := range ms {
		if out[m.SwatchID] == nil {
			out[m.SwatchID] = map[string]record.Measurement{}
		}
		out[m.SwatchID][m.Kind] = m
	}
	return out, nil
}
