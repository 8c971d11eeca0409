package kb

import (
	"crypto/rand"
	"encoding/hex"
	"encoding/json"
	"hash/fnv"
	"io"
	"strconv"
	"time"

	"tenter/kb/record"
)

// A copy is all of the user's records as one document: the file that moves between
// a desktop and a phone. Each side keeps the marks of the copies that it wrote or
// took in, so that the next merge knows what has been changed since on which side.

// settingCopies is the setting that holds the marks, oldest first.
const settingCopies = "copies"

const maxCopies = 8

// Copies are the marks of the copies that were written or taken in.
func Copies(r Records) ([]record.CopyMark, error) {
	var marks []record.CopyMark
	_, err := r.Setting(settingCopies, &marks)
	return marks, err
}

// NewCopy notes a copy down as written now and gives it; [DocumentOf] is that copy
// until something is recorded.
func NewCopy(r Records, now time.Time) (record.Document, error) {
	d, err := DocumentOf(r)
	if err != nil {
		return d, err
	}
	var b [8]byte
	_, _ = rand.Read(b[:]) // never fails, see crypto/rand
	if err := markCopy(r, hex.EncodeToString(b[:]), d, now); err != nil {
		return d, err
	}
	d.Copies, err = bareCopies(r)
	return d, err
}

// bareCopies are the marks without what the copies held: who reads a document has
// what its copies held, or never had them.
func bareCopies(r Records) ([]record.CopyMark, error) {
	marks, err := Copies(r)
	for i := range marks {
		marks[i].Held = nil
	}
	return marks, err
}

// markCopy notes down that a copy was written or taken in now, and what it said.
func markCopy(r Records, id string, d record.Document, now time.Time) error {
	marks, err := Copies(r)
	if err != nil {
		return err
	}
	marks = append(marks, record.CopyMark{ID: id, At: record.Moment(now.Unix()), Held: digests(d)})
	return r.SetSetting(settingCopies, marks[max(0, len(marks)-maxCopies):])
}

// digests are what a document says of each thing, by its key.
func digests(d record.Document) map[string]string {
	out := map[string]string{}
	for _, w := range d.Swatches {
		out[swatchKey(w.Name)] = digest(swatchLines(w)...)
	}
	for _, n := range d.Notes {
		out[noteKey(n)] = ""
	}
	for _, f := range d.Favourites {
		out[markKey(f)] = ""
	}
	for _, w := range d.Wears {
		out[wearKey(w)] = ""
	}
	for key, v := range d.Settings {
		out[settingKey(key)] = digest(Line{"is", string(v)})
	}
	return out
}

func swatchKey(name string) string          { return "swatch " + record.NameKey(name) }
func noteKey(n record.NoteJSON) string      { return notesOn(n) + digest(Line{"says", n.Text}) }
func notesOn(n record.NoteJSON) string      { return "note " + n.Kind + " " + n.Subject + " " }
func markKey(f record.FavouriteJSON) string { return "mark " + f.Kind + " " + f.Subject }
func settingKey(key string) string          { return "setting " + key }
func wearKey(w record.WearJSON) string {
	return "verdict " + digest(Line{w.At, w.Verdict}, Line{"of", string(w.MakeUp)})
}

// digest tells one state of a thing from another.
func digest(lines ...Line) string {
	h := fnv.New64a()
	for _, l := range lines {
		_, _ = io.WriteString(h, l.Word+"\x00"+l.Value+"\x00")
	}
	return strconv.FormatUint(h.Sum64(), 36)
}

// DocumentOf is all that is recorded, as one document.
func DocumentOf(r Records) (record.Document, error) {
	d := record.Document{Version: 1, Layout: record.Layout, Swatches: []record.SwatchJSON{}, Settings: map[string]json.RawMessage{}}
	swatches, _, err := r.ListSwatches(record.SwatchFilter{}, 0, 0)
	if err != nil {
		return d, err
	}
	for _, w := range swatches {
		j := record.SwatchOf(w, nil)
		j.ID, j.Created, j.Changed = w.ID, record.Stamp(w.Created), record.Stamp(w.Changed)
		measured, err := r.Measurements(w.ID, "", true)
		if err != nil {
			return d, err
		}
		for _, m := range measured {
			k := record.MeasurementOf(m)
			k.ID, k.Removed = m.ID, record.Stamp(m.Removed)
			j.Measurements = append(j.Measurements, k)
		}
		d.Swatches = append(d.Swatches, j)
	}
	if err := addWords(&d, r); err != nil {
		return d, err
	}
	keys, err := r.Settings("")
	if err != nil {
		return d, err
	}
	for _, key := range keys {
		var v json.RawMessage
		if _, err := r.Setting(key, &v); err != nil {
			return d, err
		}
		if key != settingCopies {
			d.Settings[key] = v
		}
	}
	d.Copies, err = bareCopies(r)
	return d, err
}

// addWords adds what the user wrote and marked.
func addWords(d *record.Document, r Records) error {
	notes, err := r.Notes("", "")
	if err != nil {
		return err
	}
	for _, n := range notes {
		d.Notes = append(d.Notes, record.NoteJSON{ID: n.ID, Kind: n.Kind, Subject: n.Subject, Text: n.Text, Created: record.Stamp(n.Created), Changed: record.Stamp(n.Changed)})
	}
	marked, err := r.Favourites()
	if err != nil {
		return err
	}
	for _, f := range marked {
		d.Favourites = append(d.Favourites, record.FavouriteJSON{Kind: f.Kind, Subject: f.Subject, Created: record.Stamp(f.Created)})
	}
	wears, err := r.Wears(0)
	if err != nil {
		return err
	}
	for _, w := range wears {
		d.Wears = append(d.Wears, record.WearJSON{ID: w.ID, MakeUp: w.MakeUp, Verdict: w.Verdict, Said: w.Said, At: record.Stamp(w.At)})
	}
	return nil
}

// SinceCopy counts what was recorded or changed since the last copy, and tells when
// that was; zero where there is none.
func SinceCopy(r Records) (n int, last time.Time, err error) {
	d, err := DocumentOf(r)
	if err != nil {
		return 0, last, err
	}
	if len(d.Copies) > 0 {
		last = d.Copies[len(d.Copies)-1].At
	}
	count := func(stamp string) {
		if t, err := record.ReadTime("", stamp); err == nil && t.After(last) {
			n++
		}
	}
	for _, w := range d.Swatches {
		count(w.Changed)
		for _, m := range w.Measurements {
			count(m.Taken)
		}
	}
	for _, x := range d.Notes {
		count(x.Changed)
	}
	for _, x := range d.Favourites {
		count(x.Created)
	}
	for _, x := range d.Wears {
		count(x.At)
	}
	bolts, err := Shortlist(r)
	for _, b := range bolts {
		if b.At.After(last) {
			n++
		}
	}
	return n, last, err
}
