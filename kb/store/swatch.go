package store

import (
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"strings"

	"tenter/fibres/fault"
	"tenter/kb/record"
)

// The columns of a swatch in the order of values.
var swatchColumns = []string{"name", "name_key", "sold_as", "content", "width_cm", "length_cm", "colour", "lightness", "price", "kept_where", "picture_path", "bought", "notes", "created", "changed"}

// values are the columns of a tidied swatch.
func values(w *record.Swatch, created, changed int64) ([]any, error) {
	content := "[]"
	if len(w.Content) > 0 {
		b, err := json.Marshal(w.Content)
		if err != nil {
			return nil, err
		}
		content = string(b)
	}
	var width, length, bought any
	if w.WidthCM > 0 {
		width = w.WidthCM
	}
	if w.LengthCM != nil {
		length = *w.LengthCM
	}
	if !w.Bought.IsZero() {
		bought = w.Bought.Unix()
	}
	return []any{w.Name, record.NameKey(w.Name), w.SoldAs, content, width, length, w.Colour, w.Lightness, w.Price, w.KeptWhere, w.PicturePath, bought, w.Notes, created, changed}, nil
}

func rowOf(w *record.Swatch, created, changed int64) (row, error) {
	vals, err := values(w, created, changed)
	if err != nil {
		return nil, err
	}
	r := row{}
	for i, c := range swatchColumns {
		r[c] = vals[i]
	}
	return r, nil
}

const swatchFields = "id, name, sold_as, content, width_cm, length_cm, colour, lightness, price, kept_where, picture_path, bought, notes, created, changed"

// scanner is a row.
type scanner interface{ Scan(...any) error }

func scanSwatch(r scanner) (record.Swatch, error) {
	var w record.Swatch
	var content string
	var width, length sql.NullFloat64
	var bought sql.NullInt64
	var created, changed int64
	if err := r.Scan(&w.ID, &w.Name, &w.SoldAs, &content, &width, &length, &w.Colour, &w.Lightness, &w.Price, &w.KeptWhere, &w.PicturePath, &bought, &w.Notes, &created, &changed); err != nil {
		return w, err
	}
	if content != "[]" {
		if err := json.Unmarshal([]byte(content), &w.Content); err != nil {
			return w, err
		}
	}
	w.WidthCM = width.Float64
	if length.Valid {
		w.LengthCM = &length.Float64
	}
	if bought.Valid {
		w.Bought = record.Moment(bought.Int64)
	}
	w.Created, w.Changed = record.Moment(created), record.Moment(changed)
	return w, nil
}

// AddSwatch records a swatch and returns it as it is kept.
func (s *Store) AddSwatch(w record.Swatch) (record.Swatch, error) {
	if err := w.Tidy().OrNil(); err != nil {
		return record.Swatch{}, err
	}
	err := s.change(func(t *tx) (string, error) {
		if err := t.free(w.Name, 0); err != nil {
			return "", err
		}
		r, err := rowOf(&w, t.now, t.now)
		if err != nil {
			return "", err
		}
		w.ID, err = t.insert("swatch", r)
		w.Created, w.Changed = record.Moment(t.now), record.Moment(t.now)
		return fmt.Sprintf("swatch %q added", w.Name), err
	})
	if err != nil {
		return record.Swatch{}, err
	}
	return w, nil
}

// free refuses a name that another swatch has.
func (t *tx) free(name string, but int64) error {
	var other string
	err := t.QueryRow("select name from swatch where name_key = ? and id <> ?", record.NameKey(name), but).Scan(&other)
	if errors.Is(err, sql.ErrNoRows) {
		return nil
	}
	if err != nil {
		return err
	}
	return record.NameTaken(other)
}

// Swatch finds a swatch by its name, capitals or not.
func (s *Store) Swatch(name string) (record.Swatch, error) {
	w, err := scanSwatch(s.db.QueryRow("select "+swatchFields+" from swatch where name_key = ?", record.NameKey(name)))
	if errors.Is(err, sql.ErrNoRows) {
		f := notFound(fmt.Sprintf("there is no swatch %q", strings.TrimSpace(name)))
		names, e := s.SwatchNames()
		if e != nil {
			return record.Swatch{}, e
		}
		f.Mend = fault.DidYouMean(name, names, "")
		return record.Swatch{}, f
	}
	return w, s.explain(err)
}

// SwatchByID finds a swatch by its number.
func (s *Store) SwatchByID(id int64) (record.Swatch, error) {
	w, err := scanSwatch(s.db.QueryRow("select "+swatchFields+" from swatch where id = ?", id))
	if errors.Is(err, sql.ErrNoRows) {
		return record.Swatch{}, record.NoSwatch(id)
	}
	return w, s.explain(err)
}

// SwatchNames lists the names of all swatches in order.
func (s *Store) SwatchNames() ([]string, error) { return s.SwatchesBeginning("", -1) }

// EditSwatch replaces what is recorded of the swatch of that ID, its name too.
// When it was created stays.
func (s *Store) EditSwatch(w record.Swatch) (record.Swatch, error) {
	if err := w.Tidy().OrNil(); err != nil {
		return record.Swatch{}, err
	}
	err := s.change(func(t *tx) (string, error) {
		old, err := scanSwatch(t.QueryRow("select "+swatchFields+" from swatch where id = ?", w.ID))
		if errors.Is(err, sql.ErrNoRows) {
			return "", record.NoSwatch(w.ID)
		}
		if err != nil {
			return "", err
		}
		if err := t.free(w.Name, w.ID); err != nil {
			return "", err
		}
		w.Created, w.Changed = old.Created, record.Moment(t.now)
		if w.Same(old) {
			w.Changed = old.Changed
			return "", nil
		}
		r, err := rowOf(&w, old.Created.Unix(), t.now)
		if err != nil {
			return "", err
		}
		_, err = t.update("swatch", w.ID, r)
		if old.Name != w.Name {
			return fmt.Sprintf("swatch %q renamed to %q", old.Name, w.Name), err
		}
		return fmt.Sprintf("swatch %q edited", w.Name), err
	})
	if err != nil {
		return record.Swatch{}, err
	}
	return w, nil
}

// RenameSwatch gives a swatch another name.
func (s *Store) RenameSwatch(id int64, to string) (record.Swatch, error) {
	w, err := s.SwatchByID(id)
	if err != nil {
		return record.Swatch{}, err
	}
	w.Name = to
	return s.EditSwatch(w)
}

// RemoveSwatch removes a swatch with everything measured on it. Undo brings
// all of it back.
func (s *Store) RemoveSwatch(id int64) error {
	return s.change(func(t *tx) (string, error) {
		var called string
		err := t.QueryRow("select name from swatch where id = ?", id).Scan(&called)
		if errors.Is(err, sql.ErrNoRows) {
			return "", record.NoSwatch(id)
		}
		if err != nil {
			return "", err
		}
		measured, err := t.ids("select id from measurement where swatch_id = ? order by id", id)
		if err != nil {
			return "", err
		}
		for _, m := range measured {
			if _, err := t.remove("measurement", m); err != nil {
				return "", err
			}
		}
		_, err = t.remove("swatch", id)
		return fmt.Sprintf("swatch %q removed", called), err
	})
}

// where writes a filter as conditions.
func where(f record.SwatchFilter) (string, []any) {
	conds, args := []string{"1"}, []any{}
	add := func(cond string, vs ...any) { conds, args = append(conds, cond), append(args, vs...) }
	for _, w := range strings.Fields(f.Words) {
		add(`instr(name_key || ' ' || lower(sold_as || ' ' || colour || ' ' || kept_where || ' ' || notes), ?) > 0`, strings.ToLower(w))
	}
	if f.SoldAs != "" {
		add("sold_as = ? collate nocase", f.SoldAs)
	}
	if f.Fibre != "" {
		add("exists (select 1 from json_each(content) where json_extract(value, '$.fibre') = ?)", f.Fibre)
	}
	if f.Lightness != "" {
		add("lightness = ?", f.Lightness)
	}
	if f.KeptWhere != "" {
		add("kept_where = ? collate nocase", f.KeptWhere)
	}
	if f.MinLength > 0 {
		add("length_cm >= ?", f.MinLength)
	}
	if f.MinWidth > 0 {
		add("width_cm >= ?", f.MinWidth)
	}
	for _, k := range f.Measured {
		add("exists (select 1 from measurement m where m.swatch_id = swatch.id and m.kind = ? and m.removed is null)", k)
	}
	return strings.Join(conds, " and "), args
}

// ListSwatches lists the swatches that pass the filter, and how many pass in
// all. A limit of 0 lists all.
func (s *Store) ListSwatches(f record.SwatchFilter, limit, offset int) ([]record.Swatch, int, error) {
	cond, args := where(f)
	var total int
	if err := s.db.QueryRow("select count(*) from swatch where "+cond, args...).Scan(&total); err != nil {
		return nil, 0, s.explain(err)
	}
	order := map[record.SwatchOrder]string{record.ByName: "name_key", record.ByCreated: "created desc, id desc", record.ByChanged: "changed desc, id desc"}[f.Order]
	if order == "" {
		order = "name_key"
	}
	if limit <= 0 {
		limit = -1
	}
	rows, err := s.db.Query("select "+swatchFields+" from swatch where "+cond+" order by "+order+" limit ? offset ?", append(args, limit, max(offset, 0))...)
	if err != nil {
		return nil, 0, s.explain(err)
	}
	defer rows.Close()
	var out []record.Swatch
	for rows.Next() {
		w, err := scanSwatch(rows)
		if err != nil {
			return nil, 0, s.explain(err)
		}
		out = append(out, w)
	}
	return out, total, s.explain(rows.Err())
}
