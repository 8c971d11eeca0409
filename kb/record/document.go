package record

import (
	"encoding/json"
	"fmt"
	"time"

	"tenter/fibres/fault"
)

// Document is all that a user recorded, as one JSON document: the file that moves
// from one place to another. Its swatches are written as `tenter swatch export`
// writes them, so that any import of swatches reads it.
type Document struct {
	Version    int                        `json:"version"`
	Layout     int                        `json:"layout,omitempty"` // of this document
	Swatches   []SwatchJSON               `json:"swatches"`
	Notes      []NoteJSON                 `json:"notes,omitempty"`
	Favourites []FavouriteJSON            `json:"favourites,omitempty"`
	Wears      []WearJSON                 `json:"wears,omitempty"`
	Settings   map[string]json.RawMessage `json:"settings,omitempty"`
	Copies     []CopyMark                 `json:"copies,omitempty"` // that its writer knows, the last is this one
	Log        json.RawMessage            `json:"log,omitempty"`    // of a keeper in memory: what can be undone; none in a copy
}

// CopyMark is a copy of records that was written or taken in.
type CopyMark struct {
	ID   string            `json:"id"`
	At   time.Time         `json:"at"`             // by the clock of whoever keeps the mark
	Held map[string]string `json:"held,omitempty"` // what the copy said of each thing, as a digest
}

// ReadDocument reads a document. One of a newer layout is refused whole.
func ReadDocument(b []byte) (Document, error) {
	var d Document
	if err := json.Unmarshal(b, &d); err != nil || d.Version == 0 {
		return d, &fault.Fault{Kind: fault.BadData, What: "the records are no JSON of this program", Expected: "a file that an export wrote", Err: err}
	}
	if d.Layout > Layout {
		return d, &fault.Fault{Kind: fault.BadData, What: fmt.Sprintf("the records were written by a newer tenter (layout %d)", d.Layout), Expected: fmt.Sprintf("layout %d or older", Layout), Mend: "use the newer tenter; nothing was changed"}
	}
	return d, nil
}

// Swatch is the swatch that the JSON holds, checked.
func (j SwatchJSON) Swatch() (Swatch, error) {
	var found fault.List
	at := func(where, s string) time.Time {
		t, err := ReadTime(where, s)
		found.Add(err)
		return t
	}
	w := Swatch{ID: j.ID, Name: j.Name, SoldAs: j.SoldAs, Content: j.Content, WidthCM: j.WidthCM, LengthCM: j.LengthCM, Colour: j.Colour, Lightness: j.Lightness,
		Price: j.Price, KeptWhere: j.KeptWhere, PicturePath: j.PicturePath, Bought: at("bought", j.Bought), Notes: j.Notes, Created: at("created", j.Created), Changed: at("changed", j.Changed)}
	for _, f := range w.Tidy() {
		found.Add(f)
	}
	return w, found.OrNil()
}

// Measurement is the measurement that the JSON holds, checked.
func (j MeasurementJSON) Measurement() (Measurement, error) {
	var found fault.List
	at := func(where, s string) time.Time {
		t, err := ReadTime(where, s)
		found.Add(err)
		return t
	}
	m := Measurement{ID: j.ID, Kind: j.Kind, Taken: at("taken", j.Taken), Readings: j.Readings, Note: j.Note, Removed: at("removed", j.Removed)}
	_, err := m.Tidy()
	found.Add(err)
	return m, found.OrNil()
}

// Layout is the layout of documents that is written today. A document of a newer
// one is refused, not read in part.
const Layout = 1

// SwatchJSON is a swatch as JSON holds it.
type SwatchJSON struct {
	ID           int64             `json:"id,omitempty"`
	Name         string            `json:"name"`
	SoldAs       string            `json:"sold_as,omitempty"`
	Content      []Part            `json:"content,omitempty"`
	WidthCM      float64           `json:"width_cm,omitempty"`
	LengthCM     *float64          `json:"length_cm,omitempty"`
	Colour       string            `json:"colour,omitempty"`
	Lightness    string            `json:"lightness,omitempty"`
	Price        string            `json:"price,omitempty"`
	KeptWhere    string            `json:"kept_where,omitempty"`
	PicturePath  string            `json:"picture_path,omitempty"`
	Bought       string            `json:"bought,omitempty"`
	Notes        string            `json:"notes,omitempty"`
	Created      string            `json:"created,omitempty"`
	Changed      string            `json:"changed,omitempty"`
	Measurements []MeasurementJSON `json:"measurements,omitempty"`
}

// MeasurementJSON is a measurement as JSON holds it.
type MeasurementJSON struct {
	ID       int64     `json:"id,omitempty"`
	Kind     string    `json:"kind"`
	Taken    string    `json:"taken,omitempty"`
	Readings []Reading `json:"readings"`
	Note     string    `json:"note,omitempty"`
	Removed  string    `json:"removed,omitempty"`
}

// NoteJSON is a note as JSON holds it.
type NoteJSON struct {
	ID      int64  `json:"id"`
	Kind    string `json:"kind"`
	Subject string `json:"subject"`
	Text    string `json:"text"`
	Created string `json:"created"`
	Changed string `json:"changed"`
}

// FavouriteJSON is a favourite as JSON holds it.
type FavouriteJSON struct {
	Kind    string `json:"kind"`
	Subject string `json:"subject"`
	Created string `json:"created"`
}

// WearJSON is a verdict as JSON holds it.
type WearJSON struct {
	ID      int64           `json:"id"`
	MakeUp  json.RawMessage `json:"make_up"`
	Verdict string          `json:"verdict"`
	Said    string          `json:"said,omitempty"`
	At      string          `json:"at"`
}

// SwatchOf writes a swatch as JSON holds it, with its measurements, and
// without what only its keeper knows: numbers, times of change.
func SwatchOf(w Swatch, ms []Measurement) SwatchJSON {
	out := SwatchJSON{Name: w.Name, SoldAs: w.SoldAs, Content: w.Content, WidthCM: w.WidthCM, LengthCM: w.LengthCM, Colour: w.Colour, Lightness: w.Lightness, Price: w.Price,
		KeptWhere: w.KeptWhere, PicturePath: w.PicturePath, Bought: DayText(w.Bought), Notes: w.Notes}
	for _, m := range ms {
		out.Measurements = append(out.Measurements, MeasurementOf(m))
	}
	return out
}

// MeasurementOf writes a measurement as JSON holds it.
func MeasurementOf(m Measurement) MeasurementJSON {
	return MeasurementJSON{Kind: m.Kind, Taken: Stamp(m.Taken), Readings: m.Readings, Note: m.Note}
}

// DayText writes a day as a day, and a moment as a moment; "" where none is known.
func DayText(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	if t = t.UTC(); t.Equal(t.Truncate(24 * time.Hour)) {
		return t.Format(time.DateOnly)
	}
	return t.Format(time.RFC3339)
}

// Stamp writes a moment; "" where there is none.
func Stamp(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.UTC().Format(time.RFC3339)
}

// ReadTime reads what [Stamp] or [DayText] wrote; zero where nothing is written.
func ReadTime(where, s string) (time.Time, error) {
	if s == "" {
		return time.Time{}, nil
	}
	t, err := time.Parse(time.RFC3339, s)
	if err != nil {
		t, err = time.Parse(time.DateOnly, s)
	}
	if err != nil {
		return t, wrong(where, "“"+s+"” is no time", "a day, such as 2026-11-25, or a moment, such as 2026-11-25T10:00:00Z")
	}
	return t.UTC(), nil
}
