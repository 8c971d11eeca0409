package memory

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"tenter/kb/record"
)

// FindSwatch finds a swatch by its name, capitals or not; that there is none is no
// error.
func (m *Memory) FindSwatch(name string) (record.Swatch, bool, error) {
	m.mu.RLock()
	defer m.mu.RUnlock()
	id, there := m.names[record.NameKey(name)]
	return m.swatches.rows[id].Clone(), there, nil
}

// SwatchesBeginning lists the names that begin so, at most limit of them; a
// negative limit lists all.
func (m *Memory) SwatchesBeginning(with string, limit int) ([]string, error) {
	m.mu.RLock()
	defer m.mu.RUnlock()
	with = record.NameKey(with)
	var out []string
	for _, w := range m.swatches.sorted(func(w record.Swatch) bool { return strings.HasPrefix(record.NameKey(w.Name), with) }, byName) {
		if limit >= 0 && len(out) == limit {
			break
		}
		out = append(out, w.Name)
	}
	return out, nil
}

func byName(a, b record.Swatch) int {
	return cmp.Compare(record.NameKey(a.Name), record.NameKey(b.Name))
}

// ListSwatches lists the swatches that pass the filter, and how many pass in all;
// a limit of 0 lists all.
func (m *Memory) ListSwatches(f record.SwatchFilter, limit, offset int) ([]record.Swatch, int, error) {
	m.mu.RLock()
	defer m.mu.RUnlock()
	taken := map[int64][]string{} // kinds measured, by swatch
	if len(f.Measured) > 0 {
		for _, x := range m.measurements.rows {
			if x.Removed.IsZero() {
				taken[x.SwatchID] = append(taken[x.SwatchID], x.Kind)
			}
		}
	}
	order := byName
	switch f.Order {
	case record.ByCreated:
		order = func(a, b record.Swatch) int { return cmp.Or(b.Created.Compare(a.Created), cmp.Compare(b.ID, a.ID)) }
	case record.ByChanged:
		order = func(a, b record.Swatch) int { return cmp.Or(b.Changed.Compare(a.Changed), cmp.Compare(b.ID, a.ID)) }
	}
	all := m.swatches.sorted(func(w record.Swatch) bool {
		return f.Passes(w, func(kind string) bool { return slices.Contains(taken[w.ID], kind) })
	}, order)
	total := len(all)
	all = all[min(max(offset, 0), total):]
	if limit > 0 {
		all = all[:min(limit, len(all))]
	}
	return clones(all), total, nil
}

func clones(ws []record.Swatch) []record.Swatch {
	var out []record.Swatch
	for _, w := range ws {
		out = append(out, w.Clone())
	}
	return out
}

// AddSwatch records a swatch and returns it as it is kept.
func (m *Memory) AddSwatch(w record.Swatch) (record.Swatch, error) {
	w = w.Clone()
	if err := w.Tidy().OrNil(); err != nil {
		return record.Swatch{}, err
	}
	err := m.change(func(s *step) (string, error) {
		if err := s.free(w.Name, 0); err != nil {
			return "", err
		}
		s.add(&w)
		return fmt.Sprintf("swatch %q added", w.Name), nil
	})
	if err != nil {
		return record.Swatch{}, err
	}
	return w.Clone(), nil
}

// add puts a new swatch in its place.
func (s *step) add(w *record.Swatch) {
	w.ID, w.Created, w.Changed = s.swatches.next(), s.now, s.now
	put(s, &s.swatches, w.ID, *w)
	s.names[record.NameKey(w.Name)] = w.ID
}

// free refuses a name that another swatch has.
func (s *step) free(name string, but int64) error {
	if id, taken := s.names[record.NameKey(name)]; taken && id != but {
		return record.NameTaken(s.swatches.rows[id].Name)
	}
	return nil
}

// EditSwatch replaces what is recorded of the swatch of that ID, its name too.
func (m *Memory) EditSwatch(w record.Swatch) (record.Swatch, error) {
	w = w.Clone()
	if err := w.Tidy().OrNil(); err != nil {
		return record.Swatch{}, err
	}
	err := m.change(func(s *step) (string, error) {
		old, there := s.swatches.rows[w.ID]
		if !there {
			return "", record.NoSwatch(w.ID)
		}
		if err := s.free(w.Name, w.ID); err != nil {
			return "", err
		}
		w.Created, w.Changed = old.Created, s.now
		if w.Same(old) {
			w.Changed = old.Changed
			return "", nil
		}
		delete(s.names, record.NameKey(old.Name))
		s.names[record.NameKey(w.Name)] = w.ID
		put(s, &s.swatches, w.ID, w)
		if old.Name != w.Name {
			return fmt.Sprintf("swatch %q renamed to %q", old.Name, w.Name), nil
		}
		return fmt.Sprintf("swatch %q edited", w.Name), nil
	})
	if err != nil {
		return record.Swatch{}, err
	}
	return w.Clone(), nil
}

// RemoveSwatch removes a swatch with everything measured on it.
func (m *Memory) RemoveSwatch(id int64) error {
	return m.change(func(s *step) (string, error) {
		w, there := s.swatches.rows[id]
		if !there {
			return "", record.NoSwatch(id)
		}
		for _, x := range s.measurements.sorted(func(x record.Measurement) bool { return x.SwatchID == id }, nil) {
			drop(s, &s.measurements, x.ID)
		}
		drop(s, &s.swatches, id)
		delete(s.names, record.NameKey(w.Name))
		return fmt.Sprintf("swatch %q removed", w.Name), nil
	})
}

// ImportSwatches adds many swatches in one change: all, or with skipBad all that
// are sound.
func (m *Memory) ImportSwatches(rows []record.SwatchRow, skipBad bool) (record.Imported, error) {
	sound, done := record.CheckRows(rows)
	err := m.change(func(s *step) (string, error) {
		free := done.RejectTaken(sound, s.taken(sound))
		if len(done.Rejected) > 0 && !skipBad {
			return "", done.Err()
		}
		for _, r := range free {
			w := r.Swatch.Clone()
			s.add(&w)
			r.Swatch.ID, r.Swatch.Created, r.Swatch.Changed = w.ID, w.Created, w.Changed
			for _, x := range r.Measured {
				x.SwatchID = w.ID
				s.measure(x.Clone())
			}
		}
		done.Added = len(free)
		return fmt.Sprintf("%d swatches imported", len(free)), nil
	})
	return done, err
}

// CheckSwatches finds what ImportSwatches would find, and changes nothing.
func (m *Memory) CheckSwatches(rows []record.SwatchRow) (record.Imported, error) {
	sound, done := record.CheckRows(rows)
	m.mu.RLock()
	defer m.mu.RUnlock()
	done.Added = len(done.RejectTaken(sound, m.taken(sound)))
	return done, nil
}

// taken are the names of rows that are taken, by their keys.
func (m *Memory) taken(rows []record.CheckedRow) map[string]string {
	out := map[string]string{}
	for _, r := range rows {
		k := record.NameKey(r.Swatch.Name)
		if id, there := m.names[k]; there {
			out[k] = m.swatches.rows[id].Name
		}
	}
	return out
}
