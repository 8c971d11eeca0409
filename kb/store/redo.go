package store

import (
	"database/sql"
	"encoding/json"
	"errors"

	"tenter/fibres/fault"
	"tenter/kb/record"
)

// keptRows is how many rows added at once are kept to be added again; a longer list is
// imported again from its file.
const keptRows = 1000

// filled is the steps with the rows in them that were added many at once; nil where
// these are too many.
func (t *tx) filled(steps []step) (json.RawMessage, error) {
	var out []step
	for _, p := range steps {
		if p.From == 0 {
			out = append(out, p)
			continue
		}
		ids, err := t.ids("select id from "+p.Table+" where id between ? and ? order by id limit ?", p.From, p.To, keptRows+1-len(out))
		if err != nil {
			return nil, err
		}
		if len(out)+len(ids) > keptRows {
			return nil, nil
		}
		for _, id := range ids {
			r, err := t.get(p.Table, id)
			if err != nil {
				return nil, err
			}
			out = append(out, step{Table: p.Table, ID: id, After: r})
		}
	}
	return json.Marshal(out)
}

// LastChange is the number of the last change that can be undone; 0 where there is none.
func (s *Store) LastChange() (int64, error) {
	var id int64
	err := s.db.QueryRow("select id from change order by id desc limit 1").Scan(&id)
	if errors.Is(err, sql.ErrNoRows) {
		return 0, nil
	}
	return id, s.explain(err)
}

// Redo makes a change again that was taken back. It is refused when something else has
// been changed since.
func (s *Store) Redo(u record.Undone) error {
	last, err := s.LastChange()
	if err != nil {
		return err
	}
	if last != u.Last {
		return record.ChangedSince()
	}
	var steps []step
	if err := json.Unmarshal(u.Steps, &steps); err != nil || len(steps) == 0 {
		return record.TooLarge(u)
	}
	err = s.change(func(t *tx) (string, error) {
		for _, p := range steps {
			if err := t.again(p); err != nil {
				return "", err
			}
		}
		t.steps = steps
		return u.What, nil
	})
	var f *fault.Fault
	if err != nil && !errors.As(err, &f) {
		return s.broken(err)
	}
	return err
}

// again makes one step again.
func (t *tx) again(p step) error {
	if digested[p.Table] == "" {
		return errors.New("the step names a table " + p.Table)
	}
	switch {
	case p.After == nil:
		_, err := t.Exec("delete from "+p.Table+" where id = ?", p.ID)
		return err
	case p.Before == nil:
		_, err := t.put(p.Table, p.After)
		return err
	default:
		return t.set(p.Table, p.ID, p.After)
	}
}
