package store

import (
	"database/sql"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
	"time"

	"tenter/fibres/fault"
)

// Part is one fibre of a swatch and its share.
type Part struct {
	Fibre   string  `json:"fibre"`
	Percent float64 `json:"percent"`
}

// Swatch is one real cloth that the user has. Empty and zero mean not known.
type Swatch struct {
	ID          int64
	Name        string   // unique, capitals or not
	SoldAs      string   // id of a cloth, or what the ticket said
	Content     []Part   // may add up to less than 100
	WidthCM     float64  // 0 = not known
	LengthCM    *float64 // what is left; nil = not known, 0 = used up
	Colour      string
	Lightness   string // dark, mid, light, white
	Price       string
	KeptWhere   string
	PicturePath string
	Bought      time.Time // zero = not known
	Notes       string
	Created     time.Time
	Changed     time.Time
}

// Lightnesses are the words for how light a colour is.
var Lightnesses = []string{"dark", "mid", "light", "white"}

// nameKey is what two names share that count as one.
func nameKey(name string) string { return strings.ToLower(strings.Join(strings.Fields(name), " ")) }

// tidy checks a swatch and puts it in its stored form. The faults name the
// column.
func (w *Swatch) tidy() fault.List {
	var found fault.List
	put := func(err error) { found.Add(err) }
	var err error
	w.Name, err = name("name", w.Name)
	put(err)
	for _, f := range []struct {
		column string
		to     *string
	}{{"sold_as", &w.SoldAs}, {"colour", &w.Colour}, {"price", &w.Price}, {"kept_where", &w.KeptWhere}, {"picture_path", &w.PicturePath}} {
		if strings.TrimSpace(*f.to) == "" {
			*f.to = ""
			continue
		}
		if f.column == "picture_path" { // a path may hold two blanks, and be long
			*f.to, err = text(f.column, *f.to)
		} else {
			*f.to, err = name(f.column, *f.to)
		}
		put(err)
	}
	w.Notes, err = text("notes", w.Notes)
	put(err)
	w.Lightness = strings.ToLower(strings.TrimSpace(w.Lightness))
	if w.Lightness != "" && !has(Lightnesses, w.Lightness) {
		put(&fault.Fault{Kind: fault.WrongCall, Where: "lightness", What: fmt.Sprintf("lightness %q is not known", w.Lightness), Expected: "one of " + strings.Join(Lightnesses, ", "),
			Mend: fault.DidYouMean(w.Lightness, Lightnesses, "")})
	}
	if !(w.WidthCM >= 0 && w.WidthCM <= 1000) {
		put(&fault.Fault{Kind: fault.OutsideRange, Where: "width_cm", What: fmt.Sprintf("a width of %v cm", w.WidthCM), Expected: "over 0 and at most 1000 cm"})
	}
	if w.LengthCM != nil && !(*w.LengthCM >= 0 && *w.LengthCM <= 1e6) {
		put(&fault.Fault{Kind: fault.OutsideRange, Where: "length_cm", What: fmt.Sprintf("a length of %v cm", *w.LengthCM), Expected: "0 to 1,000,000 cm"})
	}
	total := 0.0
	seen := map[string]bool{}
	for i := range w.Content {
		p := &w.Content[i]
		p.Fibre, err = name("content", p.Fibre)
		put(err)
		if seen[p.Fibre] {
			put(wrong("content", fmt.Sprintf("%s is named twice", p.Fibre), "each fibre once"))
		}
		seen[p.Fibre] = true
		if !(p.Percent >= 0 && p.Percent <= 100) {
			put(&fault.Fault{Kind: fault.OutsideRange, Where: "content", What: fmt.Sprintf("%v %% of %s", p.Percent, p.Fibre), Expected: "0 to 100 %"})
			continue
		}
		total += p.Percent
	}
	if total > 101 { // labels round
		put(&fault.Fault{Kind: fault.OutsideRange, Where: "content", What: fmt.Sprintf("the fibres add up to %v %%", math.Round(total*10)/10), Expected: "100 % at most"})
	}
	return found
}

func has(words []string, w string) bool {
	for _, x := range words {
		if x == w {
			return true
		}
	}
	return false
}

// The columns of a swatch in the order of values.
var swatchColumns = []string{"name", "name_key", "sold_as", "content", "width_cm", "length_cm", "colour", "lightness", "price", "kept_where", "picture_path", "bought", "notes", "created", "changed"}

// values are the columns of a tidied swatch.
func (w *Swatch) values(created, changed int64) ([]any, error) {
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
	return []any{w.Name, nameKey(w.Name), w.SoldAs, content, width, length, w.Colour, w.Lightness, w.Price, w.KeptWhere, w.PicturePath, bought, w.Notes, created, changed}, nil
}

func (w *Swatch) record(created, changed int64) (record, error) {
	vals, err := w.values(created, changed)
	if err != nil {
		return nil, err
	}
	r := record{}
	for i, c := range swatchColumns {
		r[c] = vals[i]
	}
	return r, nil
}

const swatchFields = "id, name, sold_as, content, width_cm, length_cm, colour, lightness, price, kept_where, picture_path, bought, notes, created, changed"

// scanner is a row.
type scanner interface{ Scan(...any) error }

func scanSwatch(r scanner) (Swatch, error) {
	var w Swatch
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
		w.Bought = moment(bought.Int64)
	}
	w.Created, w.Changed = moment(created), moment(changed)
	return w, nil
}

// AddSwatch records a swatch and returns it as it is kept.
func (s *Store) AddSwatch(w Swatch) (Swatch, error) {
	if err := w.tidy().OrNil(); err != nil {
		return Swatch{}, err
	}
	err := s.change(func(t *tx) (string, error) {
		if err := t.free(w.Name, 0); err != nil {
			return "", err
		}
		r, err := w.record(t.now, t.now)
		if err != nil {
			return "", err
		}
		w.ID, err = t.insert("swatch", r)
		w.Created, w.Changed = moment(t.now), moment(t.now)
		return fmt.Sprintf("swatch %q added", w.Name), err
	})
	if err != nil {
		return Swatch{}, err
	}
	return w, nil
}

// free refuses a name that another swatch has.
func (t *tx) free(name string, but int64) error {
	var other string
	err := t.QueryRow("select name from swatch where name_key = ? and id <> ?", nameKey(name), but).Scan(&other)
	if errors.Is(err, sql.ErrNoRows) {
		return nil
	}
	if err != nil {
		return err
	}
	return &fault.Fault{Kind: fault.WrongCall, Where: "name", What: fmt.Sprintf("there is a swatch %q already", other), Expected: "a name that no other swatch has, capitals or not"}
}

// Swatch finds a swatch by its name, capitals or not.
func (s *Store) Swatch(name string) (Swatch, error) {
	w, err := scanSwatch(s.db.QueryRow("select "+swatchFields+" from swatch where name_key = ?", nameKey(name)))
	if errors.Is(err, sql.ErrNoRows) {
		f := notFound(fmt.Sprintf("there is no swatch %q", strings.TrimSpace(name)))
		names, e := s.SwatchNames()
		if e != nil {
			return Swatch{}, e
		}
		f.Mend = fault.DidYouMean(name, names, "")
		return Swatch{}, f
	}
	return w, s.explain(err)
}

// SwatchByID finds a swatch by its number.
func (s *Store) SwatchByID(id int64) (Swatch, error) {
	w, err := scanSwatch(s.db.QueryRow("select "+swatchFields+" from swatch where id = ?", id))
	if errors.Is(err, sql.ErrNoRows) {
		return Swatch{}, noSwatch(id)
	}
	return w, s.explain(err)
}

func noSwatch(id int64) error { return notFound(fmt.Sprintf("there is no swatch of number %d", id)) }

// SwatchNames lists the names of all swatches in order.
func (s *Store) SwatchNames() ([]string, error) { return s.SwatchesBeginning("", -1) }

// EditSwatch replaces what is recorded of the swatch of that ID, its name too.
// When it was created stays.
func (s *Store) EditSwatch(w Swatch) (Swatch, error) {
	if err := w.tidy().OrNil(); err != nil {
		return Swatch{}, err
	}
	err := s.change(func(t *tx) (string, error) {
		old, err := scanSwatch(t.QueryRow("select "+swatchFields+" from swatch where id = ?", w.ID))
		if errors.Is(err, sql.ErrNoRows) {
			return "", noSwatch(w.ID)
		}
		if err != nil {
			return "", err
		}
		if err := t.free(w.Name, w.ID); err != nil {
			return "", err
		}
		w.Created, w.Changed = old.Created, moment(t.now)
		same, err := alike(&old, &w)
		if err != nil || same {
			w.Changed = old.Changed
			return "", err
		}
		r, err := w.record(old.Created.Unix(), t.now)
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
		return Swatch{}, err
	}
	return w, nil
}

// alike tells whether two swatches differ in nothing but when they were changed.
func alike(a, b *Swatch) (bool, error) {
	x, err := a.record(0, 0)
	if err != nil {
		return false, err
	}
	y, err := b.record(0, 0)
	return err == nil && same(x, y), err
}

// RenameSwatch gives a swatch another name.
func (s *Store) RenameSwatch(id int64, to string) (Swatch, error) {
	w, err := s.SwatchByID(id)
	if err != nil {
		return Swatch{}, err
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
			return "", noSwatch(id)
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

// SwatchFilter picks swatches; what is left empty is not asked.
type SwatchFilter struct {
	Words     string // each word is part of the name, ticket, colour, place or notes
	SoldAs    string // exactly, capitals or not
	Fibre     string // holds it
	Lightness string
	KeptWhere string   // exactly, capitals or not
	MinLength float64  // at least so much is left, cm
	MinWidth  float64  // at least so wide, cm
	Measured  []string // kinds of measurement that were all taken
	Order     SwatchOrder
}

// SwatchOrder is what a list is ordered by.
type SwatchOrder int

// The orders of a list of swatches.
const (
	ByName    SwatchOrder = iota
	ByCreated             // newest first
	ByChanged             // latest first
)

// where writes the filter as conditions.
func (f SwatchFilter) where() (string, []any) {
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
func (s *Store) ListSwatches(f SwatchFilter, limit, offset int) ([]Swatch, int, error) {
	where, args := f.where()
	var total int
	if err := s.db.QueryRow("select count(*) from swatch where "+where, args...).Scan(&total); err != nil {
		return nil, 0, s.explain(err)
	}
	order := map[SwatchOrder]string{ByName: "name_key", ByCreated: "created desc, id desc", ByChanged: "changed desc, id desc"}[f.Order]
	if order == "" {
		order = "name_key"
	}
	if limit <= 0 {
		limit = -1
	}
	rows, err := s.db.Query("select "+swatchFields+" from swatch where "+where+" order by "+order+" limit ? offset ?", append(args, limit, max(offset, 0))...)
	if err != nil {
		return nil, 0, s.explain(err)
	}
	defer rows.Close()
	var out []Swatch
	for rows.Next() {
		w, err := scanSwatch(rows)
		if err != nil {
			return nil, 0, s.explain(err)
		}
		out = append(out, w)
	}
	return out, total, s.explain(rows.Err())
}
