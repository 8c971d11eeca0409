package store

import (
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"tenter/kb/record"
)

// AddWear records how a make-up did.
func (s *Store) AddWear(w record.Wear) (record.Wear, error) {
	if err := w.Tidy(); err != nil {
		return record.Wear{}, err
	}
	err := s.change(func(t *tx) (string, error) {
		at := t.now
		if !w.At.IsZero() {
			at = w.At.Unix()
		}
		w.At = record.Moment(at)
		var err error
		w.ID, err = t.insert("wear", row{"make_up": string(w.MakeUp), "verdict": w.Verdict, "said": w.Said, "at": at})
		return fmt.Sprintf("verdict %q after wear recorded", w.Verdict), err
	})
	if err != nil {
		return record.Wear{}, err
	}
	return w, nil
}

// Wears lists how make-ups did, newest first; a limit of 0 lists all.
func (s *Store) Wears(limit int) ([]record.Wear, error) {
	if limit <= 0 {
		limit = -1
	}
	rows, err := s.db.Query("select id, make_up, verdict, said, at from wear order by at desc, id desc limit ?", limit)
	if err != nil {
		return nil, s.explain(err)
	}
	defer rows.Close()
	var out []record.Wear
	for rows.Next() {
		var w record.Wear
		var makeUp string
		var at int64
		if err := rows.Scan(&w.ID, &makeUp, &w.Verdict, &w.Said, &at); err != nil {
			return nil, s.explain(err)
		}
		w.MakeUp, w.At = json.RawMessage(makeUp), record.Moment(at)
		out = append(out, w)
	}
	return out, s.explain(rows.Err())
}

// RemoveWear removes a verdict.
func (s *Store) RemoveWear(id int64) error {
	return s.change(func(t *tx) (string, error) {
		there, err := t.remove("wear", id)
		if err == nil && !there {
			err = record.NoWear(id)
		}
		return fmt.Sprintf("verdict %d removed", id), err
	})
}

// SetSetting keeps a value under a key, as JSON: "mapping/market stall" may hold
// the columns of that stall's lists.
func (s *Store) SetSetting(key string, value any) error {
	key, err := record.Name("key", key)
	if err != nil {
		return err
	}
	kept, err := record.SettingValue(key, value)
	if err != nil {
		return err
	}
	return s.change(func(t *tx) (string, error) {
		there, err := t.ids("select id from setting where key = ?", key)
		if err != nil {
			return "", err
		}
		if len(there) == 0 {
			_, err = t.insert("setting", row{"key": key, "value": kept})
			return fmt.Sprintf("setting %q made", key), err
		}
		_, err = t.update("setting", there[0], row{"value": kept})
		return fmt.Sprintf("setting %q changed", key), err
	})
}

// Setting reads the value of a key into a pointer; it tells whether there is one.
func (s *Store) Setting(key string, to any) (bool, error) {
	var raw string
	err := s.db.QueryRow("select value from setting where key = ?", strings.Join(strings.Fields(key), " ")).Scan(&raw)
	if errors.Is(err, sql.ErrNoRows) {
		return false, nil
	}
	if err != nil {
		return false, s.explain(err)
	}
	if err := record.ReadSetting(key, raw, to); err != nil {
		return false, err
	}
	return true, nil
}

// Settings lists the keys that begin so, in order.
func (s *Store) Settings(beginning string) ([]string, error) {
	rows, err := s.db.Query("select key from setting where substr(key, 1, length(?1)) = ?1 order by key", beginning)
	if err != nil {
		return nil, s.explain(err)
	}
	defer rows.Close()
	var out []string
	for rows.Next() {
		var k string
		if err := rows.Scan(&k); err != nil {
			return nil, s.explain(err)
		}
		out = append(out, k)
	}
	return out, s.explain(rows.Err())
}

// RemoveSetting removes a key.
func (s *Store) RemoveSetting(key string) error {
	return s.change(func(t *tx) (string, error) {
		there, err := t.ids("select id from setting where key = ?", strings.Join(strings.Fields(key), " "))
		if err != nil {
			return "", err
		}
		if len(there) == 0 {
			return "", record.NoSetting(key)
		}
		_, err = t.remove("setting", there[0])
		return fmt.Sprintf("setting %q removed", key), err
	})
}
