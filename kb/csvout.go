package kb

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"slices"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/kb/record"
)

// exportColumns are the columns of our own CSV, in order. The figures before
// measurements are for the reader: an import takes the measurements.
var exportColumns = []string{"name", "sold_as", "content", "width_cm", "length_cm", "colour", "lightness", "price", "kept_where", "picture_path", "bought", "notes",
	"mass_gsm", "bending_length_cm", "shrink_warp_pct", "shrink_weft_pct", "measurements"}

// all reads every swatch with what counts of its measurements.
func (b *Base) all() ([]record.Swatch, map[int64][]record.Measurement, error) {
	if b.Records == nil {
		return nil, nil, nil
	}
	ws, _, err := b.Records.ListSwatches(record.SwatchFilter{}, 0, 0)
	if err != nil {
		return nil, nil, err
	}
	by, err := b.Records.MeasurementsOf()
	return ws, by, err
}

// label writes the content of a swatch so that it reads back as the same.
func (b *Base) label(parts []record.Part) (string, error) {
	if len(parts) == 0 {
		return "", nil
	}
	say := SayContent(parts)
	back, err := b.ParseContent(say)
	same := err == nil && len(back) == len(parts)
	for i := 0; same && i < len(parts); i++ {
		same = back[i] == parts[i]
	}
	if same {
		return say, nil
	}
	j, err := json.Marshal(parts)
	return string(j), err
}

// ExportCSV writes every swatch as CSV that imports again without loss. What a
// spreadsheet would take for a formula gets an apostrophe before it.
func (b *Base) ExportCSV(w io.Writer) (int, error) {
	ws, by, err := b.all()
	if err != nil {
		return 0, err
	}
	out := csv.NewWriter(w)
	if err := out.Write(exportColumns); err != nil {
		return 0, unwritten(err)
	}
	for _, s := range ws {
		label, err := b.label(s.Content)
		if err != nil {
			return 0, err
		}
		row := []string{s.Name, s.SoldAs, label, "", "", s.Colour, s.Lightness, s.Price, s.KeptWhere, s.PicturePath, record.DayText(s.Bought), s.Notes, "", "", "", "", ""}
		if s.WidthCM > 0 {
			row[3] = number(s.WidthCM)
		}
		if s.LengthCM != nil {
			row[4] = number(*s.LengthCM)
		}
		if ms := by[s.ID]; len(ms) > 0 {
			known := EvidenceOf(ms).Known()
			for i, p := range []fibres.Property{fibres.Mass, fibres.BendingLength, fibres.ShrinkWarp, fibres.ShrinkWeft} {
				if e, ok := known[p]; ok {
					row[12+i] = fibres.Round(e.Typical)
				}
			}
			list := make([]record.MeasurementJSON, len(ms))
			for i, m := range ms {
				list[i] = record.MeasurementOf(m)
			}
			j, err := json.Marshal(list)
			if err != nil {
				return 0, err
			}
			row[16] = string(j)
		}
		for i := range row {
			row[i] = neutral(row[i])
		}
		if err := out.Write(row); err != nil {
			return 0, unwritten(err)
		}
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return 0, unwritten(err)
	}
	return len(ws), nil
}

func unwritten(err error) error {
	return &fault.Fault{Kind: fault.Internal, What: "the file cannot be written: " + err.Error(), Err: err}
}

// ExportJSON writes every swatch as JSON that imports again without loss.
func (b *Base) ExportJSON(w io.Writer) (int, error) {
	ws, by, err := b.all()
	if err != nil {
		return 0, err
	}
	list := make([]record.SwatchJSON, 0, len(ws))
	for _, s := range ws {
		list = append(list, record.SwatchOf(s, by[s.ID]))
	}
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	if err := e.Encode(record.Document{Version: 1, Swatches: list}); err != nil {
		return 0, unwritten(err)
	}
	return len(ws), nil
}

// object is one swatch of a JSON list: its cells by column, and where it stands.
type object struct {
	begin, end int64
	cells      map[string]string
}

// readJSON reads a list of swatches: {"swatches":[…]} or […], each an object whose
// keys are columns.
func (l *list) readJSON() error {
	d := json.NewDecoder(bytes.NewReader(l.data))
	d.UseNumber()
	if err := l.toSwatches(d); err != nil {
		return err
	}
	at := map[string]int{}
	var objects []object
	for d.More() {
		var raw json.RawMessage
		if err := d.Decode(&raw); err != nil {
			return l.noJSON(d.InputOffset(), "the file breaks off or is no JSON here")
		}
		o := object{begin: d.InputOffset() - int64(len(raw)), end: d.InputOffset(), cells: map[string]string{}}
		if err := l.cellsOf(&o, raw, at); err != nil {
			return err
		}
		objects = append(objects, o)
	}
	if _, err := d.Token(); err != nil {
		return l.noJSON(d.InputOffset(), "the file breaks off before its list ends")
	}
	l.rowsOf(objects, at)
	if l.header == nil {
		l.header = []string{"name"}
	}
	return nil
}

// noJSON is the error of a file that is not a list of swatches from there on.
func (l *list) noJSON(at int64, what string) error {
	return &fault.Fault{Kind: fault.BadData, Where: fmt.Sprintf("%s:%d:1", l.name, 1+bytes.Count(l.data[:min(int(at), len(l.data))], []byte{'\n'})), What: what,
		Expected: `{"swatches":[{"name":"…","width_cm":150}]}`}
}

// toSwatches reads up to the first swatch.
func (l *list) toSwatches(d *json.Decoder) error {
	t, err := d.Token()
	if err != nil {
		return l.noJSON(d.InputOffset(), "the file is no JSON")
	}
	if t == json.Delim('{') {
		for {
			t, err = d.Token()
			if err != nil || t == json.Delim('}') {
				return l.noJSON(d.InputOffset(), `the file has no list of "swatches"`)
			}
			if t == "swatches" {
				break
			}
			var skip json.RawMessage
			if err := d.Decode(&skip); err != nil {
				return l.noJSON(d.InputOffset(), "the file is no JSON")
			}
		}
		if t, err = d.Token(); err != nil {
			return l.noJSON(d.InputOffset(), "the file is no JSON")
		}
	}
	if t != json.Delim('[') {
		return l.noJSON(d.InputOffset(), "the swatches are no list")
	}
	return nil
}

// cellsOf reads the cells of one swatch; a key that is new becomes a column.
func (l *list) cellsOf(o *object, raw json.RawMessage, at map[string]int) error {
	var m map[string]json.RawMessage
	if json.Unmarshal(raw, &m) != nil {
		return l.noJSON(o.begin, "this is no swatch")
	}
	for _, k := range slices.Sorted(maps.Keys(m)) {
		if _, there := at[k]; !there {
			at[k] = len(l.header)
			l.header = append(l.header, k)
		}
		v := bytes.TrimSpace(m[k])
		var s string
		switch {
		case string(v) == "null":
		case len(v) > 0 && v[0] == '"':
			if json.Unmarshal(v, &s) != nil {
				return l.noJSON(o.begin, "this is no text: "+quoted(k))
			}
			o.cells[k] = neutral(s) // as a cell of CSV is
		default:
			o.cells[k] = string(v)
		}
	}
	return nil
}

// rowsOf makes rows of the swatches. Of two on one line the number only tells them
// apart.
func (l *list) rowsOf(objects []object, at map[string]int) {
	line, seen, last := 1, int64(0), 0
	for _, o := range objects {
		line = max(line+bytes.Count(l.data[seen:o.begin], []byte{'\n'}), last+1)
		seen, last = o.begin, line
		cells := make([]string, len(l.header))
		for k, v := range o.cells {
			cells[at[k]] = v
		}
		l.rows = append(l.rows, listRow{line, int(o.begin), int(o.end), cells})
	}
}

// rejectsJSON are the refused swatches as they stood, with the reason.
func (l *list) rejectsJSON(why map[int][]string) []byte {
	list := []map[string]any{}
	for i := range l.rows {
		r := &l.rows[i]
		if len(why[r.line]) == 0 {
			continue
		}
		m := map[string]any{}
		_ = json.Unmarshal(l.data[r.start:r.end], &m)
		m[rejectedColumn] = why[r.line]
		list = append(list, m)
	}
	j, _ := json.MarshalIndent(map[string]any{"version": 1, "swatches": list}, "", " ")
	return append(j, '\n')
}
