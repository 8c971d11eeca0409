// Package memory keeps records in memory, for a browser and for tests: the same
// records, checks and undo as kb/store, read from and written to one JSON document.
package memory

import (
	"cmp"
	"encoding/json"
	"maps"
	"slices"
	"sync"
	"time"

	"tenter/fibres/fault"
	"tenter/kb/record"
)

// Memory is records in memory. It may be used from several goroutines.
type Memory struct {
	Now func() time.Time // the clock; time.Now unless replaced

	mu           sync.RWMutex
	swatches     table[record.Swatch]
	measurements table[record.Measurement]
	notes        table[record.Note]
	favourites   table[record.Favourite]
	wears        table[record.Wear]
	settings     table[setting]
	names        map[string]int64 // of swatches, by the key of the name
	log          []change
}

type setting struct{ Key, Value string }

// New is records of somebody who has recorded nothing.
func New() *Memory {
	m := &Memory{Now: time.Now, names: map[string]int64{}}
	m.swatches.init("swatch")
	m.measurements.init("measurement")
	m.notes.init("note")
	m.favourites.init("favourite")
	m.wears.init("wear")
	m.settings.init("setting")
	return m
}

// table is rows by their numbers. Rows are never changed in place: a change puts
// another in the place of the old one.
type table[T any] struct {
	name string
	rows map[int64]T
	last int64
}

func (t *table[T]) init(name string) { t.name, t.rows = name, map[int64]T{} }

// next is a number that no row has had, unless the last was taken back.
func (t *table[T]) next() int64 { t.last++; return t.last }

// sorted are the rows that pass, in order.
func (t *table[T]) sorted(pass func(T) bool, order func(a, b T) int) []T {
	var out []T
	for _, id := range slices.Sorted(maps.Keys(t.rows)) {
		if r := t.rows[id]; pass == nil || pass(r) {
			out = append(out, r)
		}
	}
	if order != nil {
		slices.SortStableFunc(out, order)
	}
	return out
}

// History lists the changes that can be undone, the last first.
func (m *Memory) History(limit int) ([]record.Change, error) {
	m.mu.RLock()
	defer m.mu.RUnlock()
	var out []record.Change
	for _, c := range slices.Backward(m.log) {
		if limit > 0 && len(out) == limit {
			break
		}
		out = append(out, record.Change{At: c.At, What: c.What})
	}
	return out, nil
}

// Document is all that is recorded, as one document.
func (m *Memory) Document() record.Document {
	m.mu.RLock()
	defer m.mu.RUnlock()
	d := record.Document{Version: 1, Layout: record.Layout, Swatches: []record.SwatchJSON{}, Settings: map[string]json.RawMessage{}}
	of := map[int64][]record.Measurement{}
	for _, x := range m.measurements.sorted(nil, byTaken) {
		of[x.SwatchID] = append(of[x.SwatchID], x)
	}
	for _, w := range m.swatches.sorted(nil, nil) {
		j := record.SwatchOf(w.Clone(), nil)
		j.ID, j.Created, j.Changed = w.ID, record.Stamp(w.Created), record.Stamp(w.Changed)
		for _, x := range of[w.ID] {
			k := record.MeasurementOf(x.Clone())
			k.ID, k.Removed = x.ID, record.Stamp(x.Removed)
			j.Measurements = append(j.Measurements, k)
		}
		d.Swatches = append(d.Swatches, j)
	}
	for _, n := range m.notes.sorted(nil, nil) {
		d.Notes = append(d.Notes, record.NoteJSON{ID: n.ID, Kind: n.Kind, Subject: n.Subject, Text: n.Text, Created: record.Stamp(n.Created), Changed: record.Stamp(n.Changed)})
	}
	for _, f := range m.favourites.sorted(nil, nil) {
		d.Favourites = append(d.Favourites, record.FavouriteJSON{Kind: f.Kind, Subject: f.Subject, Created: record.Stamp(f.Created)})
	}
	for _, w := range m.wears.sorted(nil, nil) {
		d.Wears = append(d.Wears, record.WearJSON{ID: w.ID, MakeUp: w.MakeUp, Verdict: w.Verdict, Said: w.Said, At: record.Stamp(w.At)})
	}
	for _, s := range m.settings.rows {
		d.Settings[s.Key] = json.RawMessage(s.Value)
	}
	return d
}

// Write gives all that is recorded as one JSON document, with the latest changes.
func (m *Memory) Write() ([]byte, error) {
	d := m.Document()
	var err error
	if d.Log, err = m.logged(); err != nil {
		return nil, err
	}
	return json.MarshalIndent(d, "", " ")
}

// Read is the records that a document holds, with the changes that can be undone where
// they came with it. A document that does not fit is refused whole.
func Read(document []byte) (*Memory, error) {
	d, err := record.ReadDocument(document)
	if err != nil {
		return nil, err
	}
	m := New()
	r := reader{m: m}
	for i := range d.Swatches {
		r.swatch(&d.Swatches[i])
	}
	for _, n := range d.Notes {
		r.note(n)
	}
	for _, f := range d.Favourites {
		at := r.time("favourite", f.Created)
		m.favourites.rows[m.favourites.next()] = record.Favourite{Kind: f.Kind, Subject: f.Subject, Created: at}
	}
	for _, w := range d.Wears {
		x := record.Wear{ID: number(&m.wears, w.ID), MakeUp: w.MakeUp, Verdict: w.Verdict, Said: w.Said, At: r.time("verdict", w.At)}
		r.found.Add(x.Tidy())
		m.wears.rows[x.ID] = x
	}
	for _, k := range slices.Sorted(maps.Keys(d.Settings)) { // by their keys, as readLog expects
		m.settings.rows[m.settings.next()] = setting{k, string(d.Settings[k])}
	}
	m.rename()
	m.readLog(d.Log)
	return m, r.found.OrNil()
}

// reader reads a document and gathers what is wrong with it.
type reader struct {
	m     *Memory
	found fault.List
}

func (r *reader) time(where, s string) time.Time {
	t, err := record.ReadTime(where, s)
	r.found.Add(err)
	return t
}

func (r *reader) swatch(j *record.SwatchJSON) {
	w, err := j.Swatch()
	r.found.Add(err)
	w.ID = number(&r.m.swatches, w.ID)
	if id, taken := r.m.names[record.NameKey(w.Name)]; taken {
		r.found.Add(record.NameTaken(r.m.swatches.rows[id].Name))
	}
	r.m.swatches.rows[w.ID] = w
	r.m.names[record.NameKey(w.Name)] = w.ID
	for _, k := range j.Measurements {
		x, err := k.Measurement()
		r.found.Add(err)
		x.ID, x.SwatchID = number(&r.m.measurements, x.ID), w.ID
		r.m.measurements.rows[x.ID] = x
	}
}

func (r *reader) note(n record.NoteJSON) {
	x := record.Note{ID: number(&r.m.notes, n.ID), Kind: n.Kind, Subject: n.Subject, Text: n.Text, Created: r.time("note", n.Created), Changed: r.time("note", n.Changed)}
	r.m.notes.rows[x.ID] = x
}

// number is the number that a row had, or another where it is taken or it had none.
func number[T any](t *table[T], id int64) int64 {
	if _, taken := t.rows[id]; id <= 0 || taken {
		return t.next()
	}
	t.last = max(t.last, id)
	return id
}

func byTaken(a, b record.Measurement) int {
	return cmp.Or(a.Taken.Compare(b.Taken), cmp.Compare(a.ID, b.ID))
}
