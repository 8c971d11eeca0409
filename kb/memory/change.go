package memory

import (
	"encoding/json"
	"errors"
	"maps"
	"slices"
	"strings"
	"time"

	"tenter/kb/record"
)

// change is one entry of the log: what was done, row by row.
type change struct {
	ID    int64     `json:"id"`
	At    time.Time `json:"at"`
	What  string    `json:"what"`
	Steps []row     `json:"steps"`
}

// row is a row before and after a change; nil where it is not there.
type row struct {
	Table  string `json:"table"`
	ID     int64  `json:"id"`
	Before any    `json:"before,omitempty"`
	After  any    `json:"after,omitempty"`
}

// rows is a table whatever it holds.
type rows interface {
	set(id int64, row any)
	read(b json.RawMessage) (any, error)
}

// set puts a row in its place; nil takes it away.
func (t *table[T]) set(id int64, row any) {
	if row == nil {
		delete(t.rows, id)
		return
	}
	t.rows[id] = row.(T)
	t.last = max(t.last, id)
}

// read reads a row that was written; nothing is nil.
func (t *table[T]) read(b json.RawMessage) (any, error) {
	if len(b) == 0 {
		return nil, nil
	}
	var r T
	err := json.Unmarshal(b, &r)
	return r, err
}

// tables are all tables by their names.
func (m *Memory) tables() map[string]rows {
	return map[string]rows{
		m.swatches.name: &m.swatches, m.measurements.name: &m.measurements, m.notes.name: &m.notes,
		m.favourites.name: &m.favourites, m.wears.name: &m.wears, m.settings.name: &m.settings,
	}
}

// step is one change on its way.
type step struct {
	*Memory
	now   time.Time
	steps []row
}

// put sets a row and notes what was there before.
func put[T any](s *step, t *table[T], id int64, r T) {
	p := row{Table: t.name, ID: id, After: r}
	if old, there := t.rows[id]; there {
		p.Before = old
	}
	t.rows[id] = r
	s.steps = append(s.steps, p)
}

// drop removes a row and notes what it was.
func drop[T any](s *step, t *table[T], id int64) {
	if old, there := t.rows[id]; there {
		delete(t.rows, id)
		s.steps = append(s.steps, row{Table: t.name, ID: id, Before: old})
	}
}

// change does something as one change: all of it or, where it fails, nothing.
func (m *Memory) change(do func(s *step) (what string, err error)) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	s := &step{Memory: m, now: record.Moment(m.Now().Unix())}
	what, err := do(s)
	if err != nil {
		m.back(s.steps)
		return err
	}
	if len(s.steps) > 0 {
		m.note(change{At: s.now, What: what, Steps: s.steps})
	}
	return nil
}

// note puts a change into the log.
func (m *Memory) note(c change) {
	c.ID = m.lastChange() + 1
	m.log = append(m.log, c)
	if len(m.log) > record.KeptChanges {
		m.log = slices.Delete(m.log, 0, len(m.log)-record.KeptChanges)
	}
}

func (m *Memory) lastChange() int64 {
	if len(m.log) == 0 {
		return 0
	}
	return m.log[len(m.log)-1].ID
}

// LastChange is the number of the last change that can be undone; 0 where there is none.
func (m *Memory) LastChange() (int64, error) {
	m.mu.RLock()
	defer m.mu.RUnlock()
	return m.lastChange(), nil
}

func (m *Memory) back(steps []row) {
	tables := m.tables()
	for _, p := range slices.Backward(steps) {
		tables[p.Table].set(p.ID, p.Before)
	}
	m.rename()
}

// rename finds the names anew after rows were taken back.
func (m *Memory) rename() {
	m.names = make(map[string]int64, len(m.swatches.rows))
	for id, w := range m.swatches.rows {
		m.names[record.NameKey(w.Name)] = id
	}
}

// Undo takes back the last change and says which it was.
func (m *Memory) Undo() (string, error) {
	u, err := m.TakeBack()
	return u.What, err
}

// TakeBack is [Memory.Undo] that also tells how the change is made again.
func (m *Memory) TakeBack() (record.Undone, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if len(m.log) == 0 {
		return record.Undone{}, record.NothingToUndo("")
	}
	last := m.log[len(m.log)-1]
	steps, err := json.Marshal(last.Steps)
	if err != nil {
		return record.Undone{}, err
	}
	m.log = m.log[:len(m.log)-1]
	m.back(last.Steps)
	return record.Undone{What: last.What, Steps: steps, ID: last.ID, Last: m.lastChange()}, nil
}

// Redo makes a change again that was taken back. It is refused when something else has
// been changed since.
func (m *Memory) Redo(u record.Undone) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.lastChange() != u.Last {
		return record.ChangedSince()
	}
	steps, err := m.readSteps(u.Steps)
	if err != nil || len(steps) == 0 {
		return record.TooLarge(u)
	}
	tables := m.tables()
	for _, p := range steps {
		tables[p.Table].set(p.ID, p.After)
	}
	m.rename()
	m.note(change{At: record.Moment(m.Now().Unix()), What: u.What, Steps: steps})
	return nil
}

// rowJSON is a row as it was written, before its table is known.
type rowJSON struct {
	Table         string
	ID            int64
	Before, After json.RawMessage
}

// readSteps reads steps that were written.
func (m *Memory) readSteps(b json.RawMessage) ([]row, error) {
	var kept []rowJSON
	if err := json.Unmarshal(b, &kept); err != nil {
		return nil, err
	}
	tables := m.tables()
	var out []row
	for _, k := range kept {
		t, there := tables[k.Table]
		if !there {
			return nil, errTable
		}
		before, err := t.read(k.Before)
		if err != nil {
			return nil, err
		}
		after, err := t.read(k.After)
		if err != nil {
			return nil, err
		}
		out = append(out, row{k.Table, k.ID, before, after})
	}
	return out, nil
}

var errTable = errors.New("a step of a table that is not one")

// logJSON is the log as a document keeps it, with the numbers of rows that the document
// itself does not number: of marks in their order, of settings by their keys.
type logJSON struct {
	Favourites []int64           `json:"favourites,omitempty"`
	Settings   []int64           `json:"settings,omitempty"`
	Changes    []json.RawMessage `json:"changes"`
}

// maxLogged is how many bytes of changes a document keeps: the latest ones, as many as
// fit. A longer one takes longer to write at each change.
const maxLogged = 200_000

// logged is the log as it is written; nil where it is empty.
func (m *Memory) logged() (json.RawMessage, error) {
	m.mu.RLock()
	defer m.mu.RUnlock()
	var out logJSON
	size := 0
	for _, c := range slices.Backward(m.log) {
		b, err := json.Marshal(c)
		if size += len(b); err != nil || size > maxLogged {
			break
		}
		out.Changes = append(out.Changes, b)
	}
	if len(out.Changes) == 0 {
		return nil, nil
	}
	slices.Reverse(out.Changes)
	out.Favourites = slices.Sorted(maps.Keys(m.favourites.rows))
	out.Settings = slices.SortedFunc(maps.Keys(m.settings.rows), func(a, b int64) int {
		return strings.Compare(m.settings.rows[a].Key, m.settings.rows[b].Key)
	})
	return json.Marshal(out)
}

// readLog takes the log of a document. One that does not fit the records is left out:
// it is a help, and the records are whole without it.
func (m *Memory) readLog(b json.RawMessage) {
	var log logJSON
	if len(b) == 0 || json.Unmarshal(b, &log) != nil || !renumber(&m.favourites, log.Favourites) || !renumber(&m.settings, log.Settings) {
		return
	}
	for _, b := range log.Changes {
		var c struct {
			change
			Steps json.RawMessage `json:"steps"`
		}
		err := json.Unmarshal(b, &c)
		if err == nil {
			c.change.Steps, err = m.readSteps(c.Steps)
		}
		if err != nil {
			m.log = nil
			return
		}
		m.log = append(m.log, c.change)
	}
}

// renumber gives the rows of a table, in the order of their numbers, those that they had.
// Where these are not one for each row, it leaves the table as it is and says so.
func renumber[T any](t *table[T], ids []int64) bool {
	rows, last := make(map[int64]T, len(ids)), int64(0)
	for i, id := range slices.Sorted(maps.Keys(t.rows)) {
		if i < len(ids) {
			rows[ids[i]] = t.rows[id]
			last = max(last, ids[i])
		}
	}
	if len(ids) != len(t.rows) || len(rows) != len(ids) {
		return false
	}
	t.rows, t.last = rows, last
	return true
}
