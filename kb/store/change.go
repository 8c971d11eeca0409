package store

import (
	"bytes"
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"sort"
	"strings"

	"tenter/fibres/fault"
	"tenter/kb/record"
)

// Every write goes through one transaction that also logs what it replaced, so
// that the last change can always be taken back.

// row is one row by its columns.
type row map[string]any

// step is one row that a change touched: Before is nil for a new row, After for
// a removed one. Many new rows at once are told by the first and last id.
type step struct {
	Table  string `json:"t"`
	ID     int64  `json:"id,omitempty"`
	Before row    `json:"before,omitempty"`
	After  row    `json:"after,omitempty"`
	From   int64  `json:"from,omitempty"`
	To     int64  `json:"to,omitempty"`
}

// tx is a transaction that remembers its steps.
type tx struct {
	*sql.Tx
	now   int64
	steps []step
}

// change runs f in one transaction and logs it under what it says. A change
// without steps leaves no trace.
func (s *Store) change(f func(t *tx) (what string, err error)) error {
	if s.readOnly {
		return &fault.Fault{Kind: fault.Internal, Where: s.path, What: "the store cannot be written here", Expected: "a file and a folder that you may write to",
			Mend: "change their permissions or name another file; nothing was changed"}
	}
	sqlTx, err := s.db.Begin()
	if err != nil {
		return s.explain(err)
	}
	t := &tx{Tx: sqlTx, now: s.Now().Unix()}
	what, err := f(t)
	if err == nil && len(t.steps) > 0 {
		err = t.log(what)
	}
	if err != nil {
		_ = t.Rollback()
		return s.explain(err)
	}
	return s.commit(t.Tx)
}

// commit ends a change and brings it from the write-ahead log into the file, so
// that no damage to the log can take it back, nor a loss of power. Where a reader
// holds the log that is left to the next change: the change itself is kept.
func (s *Store) commit(tx *sql.Tx) error {
	if err := tx.Commit(); err != nil {
		return s.explain(err)
	}
	_, _ = s.db.Exec("pragma wal_checkpoint(passive)")
	return nil
}

func (t *tx) log(what string) error {
	steps, err := json.Marshal(t.steps)
	if err != nil {
		return err
	}
	r, err := t.Exec("insert into change (at, what, steps) values (?, ?, ?)", t.now, what, string(steps))
	if err != nil {
		return err
	}
	id, err := r.LastInsertId()
	if err == nil && id%64 == 0 {
		_, err = t.Exec("delete from change where id <= ?", id-record.KeptChanges)
	}
	return err
}

// get reads a row, nil when there is none.
func (t *tx) get(table string, id int64) (row, error) {
	rows, err := t.Query("select * from "+table+" where id = ?", id)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	if !rows.Next() {
		return nil, rows.Err()
	}
	cols, err := rows.Columns()
	if err != nil {
		return nil, err
	}
	vals, to := make([]any, len(cols)), make([]any, len(cols))
	for i := range vals {
		to[i] = &vals[i]
	}
	if err := rows.Scan(to...); err != nil {
		return nil, err
	}
	r := row{}
	for i, c := range cols {
		r[c] = vals[i]
	}
	return r, rows.Close()
}

// insert adds a row and logs it.
func (t *tx) insert(table string, r row) (int64, error) {
	id, err := t.put(table, r)
	if err != nil {
		return 0, err
	}
	after, err := t.get(table, id)
	t.steps = append(t.steps, step{Table: table, ID: id, After: after})
	return id, err
}

func (t *tx) put(table string, r row) (int64, error) {
	cols, vals := r.split()
	res, err := t.Exec("insert into "+table+" ("+strings.Join(cols, ", ")+") values (?"+strings.Repeat(", ?", len(cols)-1)+")", vals...)
	if err != nil {
		return 0, err
	}
	id, err := res.LastInsertId()
	if err != nil {
		return 0, err
	}
	return id, seal(t, table, id, id)
}

// update changes columns of a row and logs it. It tells whether there is such a
// row; when nothing differs, nothing is logged.
func (t *tx) update(table string, id int64, r row) (bool, error) {
	before, err := t.get(table, id)
	if err != nil || before == nil {
		return false, err
	}
	if err := t.set(table, id, r); err != nil {
		return true, err
	}
	after, err := t.get(table, id)
	if err != nil {
		return true, err
	}
	if !same(before, after) {
		t.steps = append(t.steps, step{Table: table, ID: id, Before: before, After: after})
	}
	return true, nil
}

func (t *tx) set(table string, id int64, r row) error {
	cols, vals := r.split()
	if _, err := t.Exec("update "+table+" set "+strings.Join(cols, " = ?, ")+" = ? where id = ?", append(vals, id)...); err != nil {
		return err
	}
	return seal(t, table, id, id)
}

// remove deletes a row and logs it. It tells whether there was such a row.
func (t *tx) remove(table string, id int64) (bool, error) {
	before, err := t.get(table, id)
	if err != nil || before == nil {
		return false, err
	}
	if _, err := t.Exec("delete from "+table+" where id = ?", id); err != nil {
		return true, err
	}
	t.steps = append(t.steps, step{Table: table, ID: id, Before: before})
	return true, nil
}

// ids reads a list of ids.
func (t *tx) ids(query string, args ...any) ([]int64, error) {
	rows, err := t.Query(query, args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var out []int64
	for rows.Next() {
		var id int64
		if err := rows.Scan(&id); err != nil {
			return nil, err
		}
		out = append(out, id)
	}
	return out, rows.Err()
}

// split gives the columns in order, quoted, and their values.
func (r row) split() ([]string, []any) {
	if name, ok := r["name"].(string); ok && r["name_key"] != nil { // the log may hold a key of layout 2
		r["name_key"] = record.NameKey(name)
	}
	var cols []string
	for c := range r {
		cols = append(cols, c)
	}
	sort.Strings(cols)
	vals := make([]any, len(cols))
	for i, c := range cols {
		vals[i] = r[c]
		cols[i] = `"` + strings.ReplaceAll(c, `"`, `""`) + `"`
	}
	return cols, vals
}

func same(a, b row) bool {
	if len(a) != len(b) {
		return false
	}
	for c, v := range a {
		if w, ok := b[c]; !ok || v != w {
			return false
		}
	}
	return true
}

// UnmarshalJSON reads whole numbers back as such, not as fractions.
func (r *row) UnmarshalJSON(b []byte) error {
	d := json.NewDecoder(bytes.NewReader(b))
	d.UseNumber()
	m := map[string]any{}
	if err := d.Decode(&m); err != nil {
		return err
	}
	for c, v := range m {
		if n, ok := v.(json.Number); ok {
			if i, err := n.Int64(); err == nil {
				m[c] = i
			} else if f, err := n.Float64(); err == nil {
				m[c] = f
			} else {
				return err
			}
		}
	}
	*r = m
	return nil
}

// Undo takes back the last change and says which it was. Called again it takes
// back the one before.
func (s *Store) Undo() (string, error) {
	u, err := s.TakeBack()
	return u.What, err
}

// TakeBack is [Store.Undo] that also tells how the change is made again.
func (s *Store) TakeBack() (record.Undone, error) {
	var none record.Undone
	if s.readOnly {
		return none, s.change(nil)
	}
	sqlTx, err := s.db.Begin()
	if err != nil {
		return none, s.explain(err)
	}
	defer sqlTx.Rollback()
	t := &tx{Tx: sqlTx}
	var id int64
	var what, raw string
	err = t.QueryRow("select id, what, steps from change order by id desc limit 1").Scan(&id, &what, &raw)
	if errors.Is(err, sql.ErrNoRows) {
		return none, record.NothingToUndo(s.path)
	}
	if err != nil {
		return none, s.explain(err)
	}
	var steps []step
	if err := json.Unmarshal([]byte(raw), &steps); err != nil {
		return none, s.broken(err)
	}
	u := record.Undone{What: what, ID: id}
	if u.Steps, err = t.filled(steps); err != nil {
		return none, s.broken(err)
	}
	for i := len(steps) - 1; i >= 0; i-- {
		if err := t.back(steps[i]); err != nil {
			return none, s.broken(err)
		}
	}
	if _, err := t.Exec("delete from change where id = ?", id); err != nil {
		return none, s.explain(err)
	}
	err = t.QueryRow("select coalesce(max(id), 0) from change").Scan(&u.Last)
	if err != nil {
		return none, s.explain(err)
	}
	return u, s.commit(t.Tx)
}

// broken is the error of a log that does not fit the records.
func (s *Store) broken(err error) error {
	if c := code(err); c != 0 && c != codeError && c != codeConstraint {
		return s.explain(err)
	}
	return &fault.Fault{Kind: fault.BadData, Where: s.path, What: "the last change cannot be undone: the log does not fit the records",
		Expected: "a log written by tenter alone", Mend: mendBroken(s.path) + "; nothing was changed", Err: err}
}

// back takes back one step.
func (t *tx) back(p step) error {
	if digested[p.Table] == "" { // the log names only tables of records
		return fmt.Errorf("the log names a table %q", p.Table)
	}
	switch {
	case p.From > 0:
		_, err := t.Exec("delete from "+p.Table+" where id between ? and ?", p.From, p.To)
		return err
	case p.Before == nil:
		_, err := t.Exec("delete from "+p.Table+" where id = ?", p.ID)
		return err
	case p.After == nil:
		_, err := t.put(p.Table, p.Before)
		return err
	default:
		return t.set(p.Table, p.ID, p.Before)
	}
}

// History lists the changes that can be undone, the last first.
func (s *Store) History(limit int) ([]record.Change, error) {
	if limit <= 0 {
		limit = record.KeptChanges
	}
	rows, err := s.db.Query("select at, what from change order by id desc limit ?", limit)
	if err != nil {
		return nil, s.explain(err)
	}
	defer rows.Close()
	var out []record.Change
	for rows.Next() {
		var at int64
		var c record.Change
		if err := rows.Scan(&at, &c.What); err != nil {
			return nil, s.explain(err)
		}
		c.At = record.Moment(at)
		out = append(out, c)
	}
	return out, s.explain(rows.Err())
}
