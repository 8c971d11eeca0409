package store

import (
	"database/sql"
	"database/sql/driver"
	"fmt"
	"slices"
	"strings"

	"tenter/kb/record"
	"tenter/kb/written"
)

// rowsAtOnce is how many rows one statement inserts: a statement costs as much
// as the row it carries.
const rowsAtOnce = 50

// ImportSwatches adds many swatches in one transaction: all of them, or with
// skipBad all that are sound. Without skipBad any bad row refuses the whole
// list; the error then lists every bad row. One undo takes the import back.
func (s *Store) ImportSwatches(rows []record.SwatchRow, skipBad bool) (record.Imported, error) {
	sound, done := record.CheckRows(rows)
	if len(done.Rejected) > 0 && !skipBad {
		// Names that are in the store already are worth knowing in the same go.
		taken, err := s.namesTaken(sound)
		if err != nil {
			return done, err
		}
		done.RejectTaken(sound, taken)
		return done, done.Err()
	}
	err := s.change(func(t *tx) (string, error) {
		taken, err := t.taken(sound)
		if err != nil {
			return "", err
		}
		free := done.RejectTaken(sound, taken)
		if len(free) < len(sound) && !skipBad {
			return "", done.Err()
		}
		if len(free) == 0 {
			return "", nil
		}
		if err := t.fill(free); err != nil {
			return "", err
		}
		done.Added = len(free)
		return fmt.Sprintf("%d swatches imported", len(free)), nil
	})
	if err != nil {
		done.Added = 0
	}
	return done, err
}

// CheckSwatches finds what [Store.ImportSwatches] would find, and changes
// nothing: each row that would be refused, with the reason.
func (s *Store) CheckSwatches(rows []record.SwatchRow) (record.Imported, error) {
	sound, done := record.CheckRows(rows)
	taken, err := s.namesTaken(sound)
	if err != nil {
		return done, err
	}
	done.Added = len(done.RejectTaken(sound, taken))
	return done, nil
}

// namesTaken finds the names of rows that the store has already, by their keys.
func (s *Store) namesTaken(rows []record.CheckedRow) (map[string]string, error) {
	sqlTx, err := s.db.Begin()
	if err != nil {
		return nil, s.explain(err)
	}
	defer sqlTx.Rollback()
	t := &tx{Tx: sqlTx}
	taken, err := t.taken(rows)
	return taken, s.explain(err)
}

// taken finds the names that the store has already, by their keys.
func (t *tx) taken(rows []record.CheckedRow) (map[string]string, error) {
	out := map[string]string{}
	var any bool
	if err := t.QueryRow("select exists (select 1 from swatch)").Scan(&any); err != nil || !any {
		return out, err
	}
	q, err := t.Prepare("select name from swatch where name_key = ?")
	if err != nil {
		return nil, err
	}
	defer q.Close()
	for _, r := range rows {
		k := record.NameKey(r.Swatch.Name)
		var name string
		switch err := q.QueryRow(k).Scan(&name); err {
		case nil:
			out[k] = name
		case sql.ErrNoRows:
		default:
			return nil, err
		}
	}
	return out, nil
}

// fill inserts the rows with numbers given here, so that the log can tell them
// by the first and last.
func (t *tx) fill(rows []record.CheckedRow) error {
	var firstSwatch, firstMeasured int64
	if err := t.QueryRow("select coalesce(max(id), 0) + 1 from swatch").Scan(&firstSwatch); err != nil {
		return err
	}
	if err := t.QueryRow("select coalesce(max(id), 0) + 1 from measurement").Scan(&firstMeasured); err != nil {
		return err
	}
	swatches, measured := bulkOf(t, "swatch"), bulkOf(t, "measurement")
	nextMeasured := firstMeasured
	for i, r := range rows {
		w := &r.Swatch
		w.ID, w.Created, w.Changed = firstSwatch+int64(i), record.Moment(t.now), record.Moment(t.now)
		vals, err := values(w, t.now, t.now)
		if err != nil {
			return err
		}
		if err := swatches.add(append([]any{w.ID}, vals...)...); err != nil {
			return err
		}
	}
	if err := swatches.close(); err != nil {
		return err
	}
	for _, r := range rows {
		for j := range r.Measured {
			m := &r.Measured[j]
			taken := t.now
			if !m.Taken.IsZero() {
				taken = m.Taken.Unix()
			}
			m.ID, m.SwatchID, m.Taken = nextMeasured, r.Swatch.ID, record.Moment(taken)
			if err := measured.add(m.ID, m.SwatchID, m.Kind, taken, r.Readings[j], m.Note, nil); err != nil {
				return err
			}
			nextMeasured++
		}
	}
	if err := measured.close(); err != nil {
		return err
	}
	t.steps = append(t.steps, step{Table: "swatch", From: firstSwatch, To: firstSwatch + int64(len(rows)) - 1})
	if nextMeasured > firstMeasured {
		t.steps = append(t.steps, step{Table: "measurement", From: firstMeasured, To: nextMeasured - 1})
	}
	return nil
}

// bulk inserts rows, several at a time, with what [seal] would write beside them: to go
// through them again costs a third of the whole.
type bulk struct {
	tx      *tx
	table   string
	given   int   // columns that add is given
	read    []int // of these, those that the search reads
	columns []string
	full    *sql.Stmt
	args    []any
}

// bulkOf inserts rows of which every column that the digest covers is given, in its order.
func bulkOf(t *tx, table string) *bulk {
	b := &bulk{tx: t, table: table, columns: strings.Split(digested[table], ", ")}
	b.given = len(b.columns)
	b.columns = append(b.columns, "digest")
	if table == "swatch" {
		for _, c := range strings.Split(searched, ", ") {
			b.read = append(b.read, slices.Index(b.columns, c))
		}
		b.columns = append(b.columns, "plain")
	}
	return b
}

func (b *bulk) add(vals ...any) error {
	kept := make([]driver.Value, b.given)
	for i := range kept {
		kept[i] = vals[i]
		if f, ok := vals[i].(float64); ok {
			kept[i] = f + 0 // SQLite keeps no negative zero
		}
	}
	digest, err := rowDigest(kept)
	if err != nil {
		return err
	}
	b.args = append(append(b.args, vals...), digest)
	if len(b.read) > 0 {
		texts := make([]string, len(b.read))
		for i, at := range b.read {
			texts[i], _ = vals[at].(string)
		}
		b.args = append(b.args, written.Run(texts...))
	}
	if len(b.args) < rowsAtOnce*len(b.columns) {
		return nil
	}
	if b.full == nil {
		if b.full, err = b.tx.Prepare(b.statement(rowsAtOnce)); err != nil {
			return err
		}
	}
	_, err = b.full.Exec(b.args...)
	b.args = b.args[:0]
	return err
}

func (b *bulk) statement(rows int) string {
	row := "(?" + strings.Repeat(",?", len(b.columns)-1) + ")"
	return "insert into " + b.table + " (" + strings.Join(b.columns, ",") + ") values " + row + strings.Repeat(","+row, rows-1)
}

// close inserts what is left.
func (b *bulk) close() error {
	if b.full != nil {
		defer b.full.Close()
	}
	if len(b.args) == 0 {
		return nil
	}
	_, err := b.tx.Exec(b.statement(len(b.args)/len(b.columns)), b.args...)
	return err
}
