package store

import (
	"database/sql"
	"fmt"
	"strings"

	"tenter/fibres/fault"
)

// SwatchRow is one row of a list being imported.
type SwatchRow struct {
	Line     int // of the list, for the errors
	Swatch   Swatch
	Measured []Measurement // what the list says of it
}

// Rejection is a row that was not taken, with the reason.
type Rejection struct {
	Line   int
	Column string // ours: name, width_cm …
	Fault  *fault.Fault
}

// Imported is what became of a list.
type Imported struct {
	Read     int
	Added    int
	Rejected []Rejection
}

// rowsAtOnce is how many rows one statement inserts: a statement costs as much
// as the row it carries.
const rowsAtOnce = 50

// ImportSwatches adds many swatches in one transaction: all of them, or with
// skipBad all that are sound. Without skipBad any bad row refuses the whole
// list; the error then lists every bad row. One undo takes the import back.
func (s *Store) ImportSwatches(rows []SwatchRow, skipBad bool) (Imported, error) {
	done := Imported{Read: len(rows)}
	var good []*SwatchRow
	var readings [][]string // of each good row's measurements
	reject := func(r *SwatchRow, fs fault.List) {
		for _, f := range fs {
			f.Kind = fault.BadData // of a list, not of a call
			done.Rejected = append(done.Rejected, Rejection{Line: r.Line, Column: f.Where, Fault: f})
		}
	}
	seen := make(map[string]int, len(rows))
	for i := range rows {
		r := &rows[i]
		found := r.Swatch.tidy()
		kept := make([]string, len(r.Measured))
		for j := range r.Measured {
			var err error
			if kept[j], err = r.Measured[j].tidy(); err != nil {
				found.Add(err)
			}
		}
		if len(found) == 0 {
			k := nameKey(r.Swatch.Name)
			if first, there := seen[k]; there {
				found = append(found, wrong("name", fmt.Sprintf("%q is named in line %d too", r.Swatch.Name, first), "each name once"))
			} else {
				seen[k] = r.Line
			}
		}
		if len(found) > 0 {
			reject(r, found)
			continue
		}
		good, readings = append(good, r), append(readings, kept)
	}
	if len(done.Rejected) > 0 && !skipBad {
		// Names that are in the store already are worth knowing in the same go.
		if err := s.nameTaken(good, reject); err != nil {
			return done, err
		}
		return done, done.err()
	}
	err := s.change(func(t *tx) (string, error) {
		taken, err := t.taken(good)
		if err != nil {
			return "", err
		}
		if len(taken) > 0 {
			var free []*SwatchRow
			var freeReadings [][]string
			for i, r := range good {
				if other, is := taken[nameKey(r.Swatch.Name)]; is {
					reject(r, fault.List{wrong("name", fmt.Sprintf("there is a swatch %q already", other), "a name that no other swatch has, capitals or not")})
					continue
				}
				free, freeReadings = append(free, r), append(freeReadings, readings[i])
			}
			if !skipBad {
				return "", done.err()
			}
			good, readings = free, freeReadings
		}
		if len(good) == 0 {
			return "", nil
		}
		if err := t.fill(good, readings); err != nil {
			return "", err
		}
		done.Added = len(good)
		return fmt.Sprintf("%d swatches imported", len(good)), nil
	})
	if err != nil {
		done.Added = 0
	}
	return done, err
}

// err is every rejection as one error, placed by line.
func (d Imported) err() error {
	var l fault.List
	for _, r := range d.Rejected {
		f := *r.Fault
		f.Where = fmt.Sprintf("line %d: %s", r.Line, r.Column)
		l = append(l, &f)
	}
	if len(l) == 0 {
		return nil
	}
	return l
}

// nameTaken rejects the rows whose names are in the store.
func (s *Store) nameTaken(rows []*SwatchRow, reject func(*SwatchRow, fault.List)) error {
	sqlTx, err := s.db.Begin()
	if err != nil {
		return s.explain(err)
	}
	defer sqlTx.Rollback()
	t := &tx{Tx: sqlTx}
	taken, err := t.taken(rows)
	if err != nil {
		return s.explain(err)
	}
	for _, r := range rows {
		if other, is := taken[nameKey(r.Swatch.Name)]; is {
			reject(r, fault.List{wrong("name", fmt.Sprintf("there is a swatch %q already", other), "a name that no other swatch has, capitals or not")})
		}
	}
	return nil
}

// taken finds the names that the store has already, by their keys.
func (t *tx) taken(rows []*SwatchRow) (map[string]string, error) {
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
		k := nameKey(r.Swatch.Name)
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
func (t *tx) fill(rows []*SwatchRow, readings [][]string) error {
	var firstSwatch, firstMeasured int64
	if err := t.QueryRow("select coalesce(max(id), 0) + 1 from swatch").Scan(&firstSwatch); err != nil {
		return err
	}
	if err := t.QueryRow("select coalesce(max(id), 0) + 1 from measurement").Scan(&firstMeasured); err != nil {
		return err
	}
	swatches := bulk{tx: t, table: "swatch", columns: append([]string{"id"}, swatchColumns...)}
	measured := bulk{tx: t, table: "measurement", columns: []string{"id", "swatch_id", "kind", "taken_at", "readings", "note", "removed"}}
	nextMeasured := firstMeasured
	for i, r := range rows {
		w := &r.Swatch
		w.ID, w.Created, w.Changed = firstSwatch+int64(i), moment(t.now), moment(t.now)
		vals, err := w.values(t.now, t.now)
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
	for i, r := range rows {
		for j := range r.Measured {
			m := &r.Measured[j]
			taken := t.now
			if !m.Taken.IsZero() {
				taken = m.Taken.Unix()
			}
			m.ID, m.SwatchID, m.Taken = nextMeasured, r.Swatch.ID, moment(taken)
			if err := measured.add(m.ID, m.SwatchID, m.Kind, taken, readings[i][j], m.Note, nil); err != nil {
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

// bulk inserts rows, several at a time.
type bulk struct {
	tx      *tx
	table   string
	columns []string
	full    *sql.Stmt
	args    []any
}

func (b *bulk) add(vals ...any) error {
	b.args = append(b.args, vals...)
	if len(b.args) < rowsAtOnce*len(b.columns) {
		return nil
	}
	if b.full == nil {
		var err error
		if b.full, err = b.tx.Prepare(b.statement(rowsAtOnce)); err != nil {
			return err
		}
	}
	_, err := b.full.Exec(b.args...)
	b.args = b.args[:0]
	return err
}

func (b *bulk) statement(rows int) string {
	one := "(?" + strings.Repeat(",?", len(b.columns)-1) + ")"
	return "insert into " + b.table + " (" + strings.Join(b.columns, ",") + ") values " + one + strings.Repeat(","+one, rows-1)
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

// Entry is one own record as the search takes it: a kind, an id, names, text,
// fibres and a mass. Its fields are those of the search's own type, so that one
// converts to the other.
type Entry struct {
	Kind   string
	ID     string
	Name   string
	Names  []string
	Slips  []string
	Text   string
	Fibres []string
	Mass   float64
	Words  []string
}

// SwatchEntries describes every swatch to the search. The id is the name.
func (s *Store) SwatchEntries() ([]Entry, error) {
	swatches, _, err := s.ListSwatches(SwatchFilter{}, 0, 0)
	if err != nil {
		return nil, err
	}
	masses, err := s.masses()
	if err != nil {
		return nil, err
	}
	out := make([]Entry, 0, len(swatches))
	for _, w := range swatches {
		e := Entry{Kind: "swatch", ID: w.Name, Name: w.Name, Mass: masses[w.ID]}
		var parts []string
		for _, p := range []string{strings.ReplaceAll(w.SoldAs, "-", " "), w.Colour, w.Lightness, w.KeptWhere, w.Notes} {
			if p != "" {
				parts = append(parts, p)
			}
		}
		e.Text = strings.Join(parts, ". ")
		for _, p := range w.Content {
			e.Fibres = append(e.Fibres, p.Fibre)
		}
		out = append(out, e)
	}
	return out, nil
}

// masses are the latest measured masses of the swatches that have one.
func (s *Store) masses() (map[int64]float64, error) {
	ms, err := s.measurements("select " + measurementFields + " from measurement where kind = 'mass' and removed is null order by taken_at, id")
	if err != nil {
		return nil, err
	}
	out := map[int64]float64{}
	for _, m := range ms {
		if v, ok := m.Mean(ReadingMass); ok {
			out[m.SwatchID] = v
		}
	}
	return out, nil
}

// NoteEntries describes every note to the search. The id is its number.
func (s *Store) NoteEntries() ([]Entry, error) {
	notes, err := s.Notes("", "")
	if err != nil {
		return nil, err
	}
	out := make([]Entry, 0, len(notes))
	for _, n := range notes {
		out = append(out, Entry{Kind: "note", ID: fmt.Sprint(n.ID), Name: "note on " + n.Subject, Text: n.Text})
	}
	return out, nil
}
