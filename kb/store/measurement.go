package store

import (
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"time"

	"tenter/fibres/fault"
)

// Kinds are what can be measured on a swatch at home.
var Kinds = []string{"mass", "thickness", "droop", "wash", "stretch", "fray", "show-through", "press", "bleed", "loop"}

// Reading is one reading: figures and words by name, as "overhang_cm": 7.5,
// "face": "right". A figure's name ends in its unit.
type Reading map[string]any

// ReadingMass is the name of a mass in the readings of kind mass; the search
// and the lists look for it.
const ReadingMass = "mass_gsm"

// Measurement is what was read on one swatch at one time. It is never
// overwritten: a later one stands beside it.
type Measurement struct {
	ID       int64
	SwatchID int64
	Kind     string
	Taken    time.Time // zero = now
	Readings []Reading
	Note     string
	Removed  time.Time // zero = it counts
}

// Mean is the mean of a figure over the readings that give it.
func (m Measurement) Mean(figure string) (float64, bool) {
	sum, n := 0.0, 0
	for _, r := range m.Readings {
		if v, ok := r[figure].(float64); ok {
			sum, n = sum+v, n+1
		}
	}
	if n == 0 {
		return 0, false
	}
	return sum / float64(n), true
}

// tidy checks a measurement and returns its readings as they are kept.
func (m *Measurement) tidy() (string, error) {
	var found fault.List
	var err error
	m.Kind = strings.TrimSpace(m.Kind)
	if !has(Kinds, m.Kind) {
		found.Add(&fault.Fault{Kind: fault.WrongCall, Where: "kind", What: fmt.Sprintf("%q is nothing that is measured", m.Kind), Expected: "one of " + strings.Join(Kinds, ", "),
			Mend: fault.DidYouMean(m.Kind, Kinds, "")})
	}
	if m.Note, err = text("note", m.Note); err != nil {
		found.Add(err)
	}
	if len(m.Readings) == 0 {
		found.Add(wrong("readings", "there are no readings", "one reading or more"))
	}
	for i, r := range m.Readings {
		where := fmt.Sprintf("reading %d", i+1)
		if len(r) == 0 {
			found.Add(wrong(where, "the reading is empty", "a figure"))
		}
		for k, v := range r {
			if f, ok := v.(float64); ok && (math.IsNaN(f) || math.IsInf(f, 0)) {
				found.Add(wrong(where, fmt.Sprintf("%s is no number", k), "a figure"))
			}
		}
	}
	if err := found.OrNil(); err != nil {
		return "", err
	}
	b, err := json.Marshal(m.Readings)
	if err != nil || len(b) > longestText {
		return "", &fault.Fault{Kind: fault.WrongCall, Where: "readings", What: "the readings cannot be kept", Expected: "figures and short words", Err: err}
	}
	m.Readings = nil // as they come back: every figure a float64
	return string(b), json.Unmarshal(b, &m.Readings)
}

// AddMeasurement records what was measured on a swatch.
func (s *Store) AddMeasurement(m Measurement) (Measurement, error) {
	readings, err := m.tidy()
	if err != nil {
		return Measurement{}, err
	}
	err = s.change(func(t *tx) (string, error) {
		var called string
		err := t.QueryRow("select name from swatch where id = ?", m.SwatchID).Scan(&called)
		if errors.Is(err, sql.ErrNoRows) {
			return "", noSwatch(m.SwatchID)
		}
		if err != nil {
			return "", err
		}
		taken := t.now
		if !m.Taken.IsZero() {
			taken = m.Taken.Unix()
		}
		m.Taken, m.Removed = moment(taken), time.Time{}
		m.ID, err = t.insert("measurement", record{"swatch_id": m.SwatchID, "kind": m.Kind, "taken_at": taken, "readings": readings, "note": m.Note})
		return fmt.Sprintf("%s of swatch %q measured", m.Kind, called), err
	})
	if err != nil {
		return Measurement{}, err
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
			return "", notFound(fmt.Sprintf("there is no measurement of number %d", id))
		}
		if err != nil {
			return "", err
		}
		_, err = t.update("measurement", id, record{"removed": t.now})
		return fmt.Sprintf("%s of swatch %q removed", kind, called), err
	})
}

const measurementFields = "id, swatch_id, kind, taken_at, readings, note, removed"

// Measurements lists what was measured on a swatch, oldest first; an empty kind
// is every kind. Removed ones are listed only when asked for.
func (s *Store) Measurements(swatchID int64, kind string, removedToo bool) ([]Measurement, error) {
	return s.measurements("select "+measurementFields+` from measurement
		where swatch_id = ?1 and (?2 = '' or kind = ?2) and (?3 or removed is null) order by taken_at, id`, swatchID, kind, removedToo)
}

func (s *Store) measurements(query string, args ...any) ([]Measurement, error) {
	rows, err := s.db.Query(query, args...)
	if err != nil {
		return nil, s.explain(err)
	}
	defer rows.Close()
	var out []Measurement
	for rows.Next() {
		var m Measurement
		var taken int64
		var readings string
		var removed sql.NullInt64
		if err := rows.Scan(&m.ID, &m.SwatchID, &m.Kind, &taken, &readings, &m.Note, &removed); err != nil {
			return nil, s.explain(err)
		}
		if err := json.Unmarshal([]byte(readings), &m.Readings); err != nil {
			return nil, s.explain(err)
		}
		m.Taken = moment(taken)
		if removed.Valid {
			m.Removed = moment(removed.Int64)
		}
		out = append(out, m)
	}
	return out, s.explain(rows.Err())
}

// Latest gives for each swatch the latest measurement of each kind that counts;
// no ids means all swatches.
func (s *Store) Latest(ids ...int64) (map[int64]map[string]Measurement, error) {
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
	out := map[int64]map[string]Measurement{}
	for _, m := range ms {
		if out[m.SwatchID] == nil {
			out[m.SwatchID] = map[string]Measurement{}
		}
		out[m.SwatchID][m.Kind] = m
	}
	return out, nil
}
