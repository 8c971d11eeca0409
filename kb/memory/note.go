package memory

import (
	"fmt"
	"slices"
	"strings"

	"tenter/kb/record"
)

// Notes lists notes, oldest first; empty words match anything.
func (m *Memory) Notes(kind, subject string) ([]record.Note, error) {
	m.mu.RLock()
	defer m.mu.RUnlock()
	return m.notes.sorted(func(n record.Note) bool {
		return (kind == "" || n.Kind == kind) && (subject == "" || n.Subject == subject)
	}, func(a, b record.Note) int { return a.Created.Compare(b.Created) }), nil
}

// AddNote records a note.
func (m *Memory) AddNote(kind, subject, words string) (record.Note, error) {
	kind, subject, err := record.About(kind, subject)
	if err != nil {
		return record.Note{}, err
	}
	if words, err = record.NoteText(words); err != nil {
		return record.Note{}, err
	}
	var n record.Note
	err = m.change(func(s *step) (string, error) {
		n = record.Note{ID: s.notes.next(), Kind: kind, Subject: subject, Text: words, Created: s.now, Changed: s.now}
		put(s, &s.notes, n.ID, n)
		return fmt.Sprintf("note on %s %s added", kind, subject), nil
	})
	return n, err
}

// EditNote replaces the text of a note.
func (m *Memory) EditNote(id int64, words string) error {
	words, err := record.NoteText(words)
	if err != nil {
		return err
	}
	return m.change(func(s *step) (string, error) {
		n, there := s.notes.rows[id]
		if !there {
			return "", record.NoNote(id)
		}
		if n.Text != words {
			n.Text, n.Changed = words, s.now
			put(s, &s.notes, id, n)
		}
		return fmt.Sprintf("note %d edited", id), nil
	})
}

// RemoveNote removes a note.
func (m *Memory) RemoveNote(id int64) error {
	return m.change(func(s *step) (string, error) {
		if _, there := s.notes.rows[id]; !there {
			return "", record.NoNote(id)
		}
		drop(s, &s.notes, id)
		return fmt.Sprintf("note %d removed", id), nil
	})
}

// mark is the number of a mark, if there is one.
func (m *Memory) mark(kind, subject string) (int64, bool) {
	for id, f := range m.favourites.rows {
		if f.Kind == kind && f.Subject == subject {
			return id, true
		}
	}
	return 0, false
}

// Favourite marks a thing; marking it twice changes nothing.
func (m *Memory) Favourite(kind, subject string) error {
	kind, subject, err := record.About(kind, subject)
	if err != nil {
		return err
	}
	return m.change(func(s *step) (string, error) {
		if _, there := s.mark(kind, subject); !there {
			put(s, &s.favourites, s.favourites.next(), record.Favourite{Kind: kind, Subject: subject, Created: s.now})
		}
		return fmt.Sprintf("%s %s made a favourite", kind, subject), nil
	})
}

// Unfavourite takes the mark away.
func (m *Memory) Unfavourite(kind, subject string) error {
	return m.change(func(s *step) (string, error) {
		id, there := s.mark(kind, subject)
		if !there {
			return "", record.NoFavourite(kind, subject)
		}
		drop(s, &s.favourites, id)
		return fmt.Sprintf("%s %s no longer a favourite", kind, subject), nil
	})
}

// Favourites lists the marks, oldest first.
func (m *Memory) Favourites() ([]record.Favourite, error) {
	m.mu.RLock()
	defer m.mu.RUnlock()
	return m.favourites.sorted(nil, func(a, b record.Favourite) int { return a.Created.Compare(b.Created) }), nil
}

// Wears lists how make-ups did, newest first; a limit of 0 lists all.
func (m *Memory) Wears(limit int) ([]record.Wear, error) {
	m.mu.RLock()
	defer m.mu.RUnlock()
	out := m.wears.sorted(nil, func(a, b record.Wear) int { return a.At.Compare(b.At) })
	slices.Reverse(out)
	if limit > 0 && len(out) > limit {
		out = out[:limit]
	}
	for i := range out {
		out[i].MakeUp = slices.Clone(out[i].MakeUp)
	}
	return out, nil
}

// AddWear records how a make-up did.
func (m *Memory) AddWear(w record.Wear) (record.Wear, error) {
	if err := w.Tidy(); err != nil {
		return record.Wear{}, err
	}
	err := m.change(func(s *step) (string, error) {
		if w.At.IsZero() {
			w.At = s.now
		}
		w.ID, w.At = s.wears.next(), record.Moment(w.At.Unix())
		put(s, &s.wears, w.ID, w)
		return fmt.Sprintf("verdict %q after wear recorded", w.Verdict), nil
	})
	if err != nil {
		return record.Wear{}, err
	}
	w.MakeUp = slices.Clone(w.MakeUp)
	return w, nil
}

// RemoveWear removes a verdict.
func (m *Memory) RemoveWear(id int64) error {
	return m.change(func(s *step) (string, error) {
		if _, there := s.wears.rows[id]; !there {
			return "", record.NoWear(id)
		}
		drop(s, &s.wears, id)
		return fmt.Sprintf("verdict %d removed", id), nil
	})
}

// setting is the number of a setting, if there is one.
func (m *Memory) setting(key string) (int64, bool) {
	key = strings.Join(strings.Fields(key), " ")
	for id, s := range m.settings.rows {
		if s.Key == key {
			return id, true
		}
	}
	return 0, false
}

// Setting reads the value of a key into a pointer; it tells whether there is one.
func (m *Memory) Setting(key string, to any) (bool, error) {
	m.mu.RLock()
	defer m.mu.RUnlock()
	id, there := m.setting(key)
	if !there {
		return false, nil
	}
	err := record.ReadSetting(key, m.settings.rows[id].Value, to)
	return err == nil, err
}

// SetSetting keeps a value under a key, as JSON.
func (m *Memory) SetSetting(key string, value any) error {
	key, err := record.Name("key", key)
	if err != nil {
		return err
	}
	kept, err := record.SettingValue(key, value)
	if err != nil {
		return err
	}
	return m.change(func(s *step) (string, error) {
		id, there := s.setting(key)
		if !there {
			put(s, &s.settings, s.settings.next(), setting{key, kept})
			return fmt.Sprintf("setting %q made", key), nil
		}
		if s.settings.rows[id].Value != kept {
			put(s, &s.settings, id, setting{key, kept})
		}
		return fmt.Sprintf("setting %q changed", key), nil
	})
}

// Settings lists the keys that begin so, in order.
func (m *Memory) Settings(beginning string) ([]string, error) {
	m.mu.RLock()
	defer m.mu.RUnlock()
	var out []string
	for _, s := range m.settings.rows {
		if strings.HasPrefix(s.Key, beginning) {
			out = append(out, s.Key)
		}
	}
	slices.Sort(out)
	return out, nil
}

// RemoveSetting removes a key.
func (m *Memory) RemoveSetting(key string) error {
	return m.change(func(s *step) (string, error) {
		id, there := s.setting(key)
		if !there {
			return "", record.NoSetting(key)
		}
		drop(s, &s.settings, id)
		return fmt.Sprintf("setting %q removed", key), nil
	})
}
