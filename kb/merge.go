package kb

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"tenter/kb/record"
)

// Merge is what a copy from another device would bring: nothing of one's own is
// overwritten unless it was changed there alone since both last had the same copy,
// or the user says so.
type Merge struct {
	Matters []Matter // in the order of the copy
	Same    int      // things that both have alike, or that only the own side changed

	copy record.Document
	rows []record.SwatchRow
}

// Matter is one thing on which the two sides differ.
type Matter struct {
	Key  string // names it: "swatch gold"
	Kind string // swatch, measurement, note, favourite, verdict, setting
	Name string
	What MatterKind
	// Own and Other are what the two sides say, in the same order of words; a
	// matter that is new has no Own.
	Own, Other []Line

	do func(Records) error // nil where it goes with the rows of the swatches
}

// Line is one word of a record with its value.
type Line struct{ Word, Value string }

// MatterKind says what a merge does with a matter.
type MatterKind int

// The kinds of matters.
const (
	New     MatterKind = iota // only there: it is added
	Changed                   // changed there alone since the last copy: it is taken over
	Clash                     // both may be right: the own side stays unless the user says otherwise
)

// Merged is what a merge did.
type Merged struct{ Added, Changed, Taken, Kept int }

// Clashes are the matters that the user decides.
func (m *Merge) Clashes() []Matter {
	return slices.DeleteFunc(slices.Clone(m.Matters), func(x Matter) bool { return x.What != Clash })
}

// Do merges: what is new or changed there alone, and of the clashes those that the
// user takes from the copy, by their keys. A clash that is not decided stays as it is
// here, and is asked again when the copy comes again. Every change can be undone.
func (m *Merge) Do(r Records, chosen map[string]bool, now time.Time) (Merged, error) {
	var out Merged
	if len(m.rows) > 0 {
		if _, err := r.ImportSwatches(m.rows, false); err != nil {
			return out, err
		}
	}
	decided := true
	for _, x := range m.Matters {
		taken := x.What == Clash && chosen[x.Key]
		if _, known := chosen[x.Key]; x.What == Clash && !known {
			decided = false
		}
		if x.What == Clash && !taken {
			out.Kept++
			continue
		}
		if x.do != nil {
			if err := x.do(r); err != nil {
				return out, err
			}
		}
		switch {
		case taken:
			out.Taken++
		case x.What == Changed:
			out.Changed++
		default:
			out.Added++
		}
	}
	n := len(m.copy.Copies)
	if n == 0 || !decided {
		return out, nil
	}
	return out, markCopy(r, m.copy.Copies[n-1].ID, m.copy, now)
}

// Compare finds what a copy would bring to the records.
func Compare(r Records, other record.Document) (*Merge, error) {
	own, err := DocumentOf(r)
	if err != nil {
		return nil, err
	}
	marks, err := Copies(r)
	if err != nil {
		return nil, err
	}
	c := comparison{m: &Merge{copy: other}, held: lastHeld(marks, other.Copies)}
	if err := c.swatches(own.Swatches, other.Swatches); err != nil {
		return nil, err
	}
	c.notes(own.Notes, other.Notes)
	c.favourites(own.Favourites, other.Favourites)
	if err := c.wears(own.Wears, other.Wears); err != nil {
		return nil, err
	}
	c.settings(own.Settings, other.Settings)
	return c.m, nil
}

// lastHeld is what the last copy said that both sides had; nil where they had none.
func lastHeld(own, other []record.CopyMark) map[string]string {
	for _, o := range slices.Backward(other) {
		for _, w := range slices.Backward(own) {
			if w.ID == o.ID && w.Held != nil {
				return w.Held
			}
		}
	}
	return nil
}

// comparison gathers what differs.
type comparison struct {
	m    *Merge
	held map[string]string // by the last copy that both had
}

func (c *comparison) add(x Matter) {
	x.Key = x.Kind + " " + x.Name
	for n := 2; slices.ContainsFunc(c.m.Matters, func(o Matter) bool { return o.Key == x.Key }); n++ {
		x.Key = fmt.Sprintf("%s %s (%d)", x.Kind, x.Name, n)
	}
	c.m.Matters = append(c.m.Matters, x)
}

// judge says what becomes of two that differ; false means that only the own one was
// changed, which stays.
func (c *comparison) judge(key, own, other string) (MatterKind, bool) {
	was, held := c.held[key]
	switch {
	case held && was == own:
		return Changed, true
	case held && was == other:
		c.m.Same++
		return 0, false
	}
	return Clash, true
}

// had reports whether the last copy that both had held a thing.
func (c *comparison) had(key string) bool {
	_, held := c.held[key]
	return held
}

func (c *comparison) swatches(own, other []record.SwatchJSON) error {
	by := map[string]*record.SwatchJSON{}
	for i := range own {
		by[record.NameKey(own[i].Name)] = &own[i]
	}
	gone := c.gone(own, other)
	for i := range other {
		o := &other[i]
		w, err := o.Swatch()
		if err != nil {
			return fmt.Errorf("swatch %q: %w", o.Name, err)
		}
		was := by[record.NameKey(w.Name)]
		if was == nil {
			was = c.renamed(o, gone)
		}
		if was == nil {
			if err := c.newSwatch(w, o); err != nil {
				return err
			}
			continue
		}
		delete(by, record.NameKey(was.Name))
		if err := c.bothSwatch(was, w, o); err != nil {
			return err
		}
	}
	for _, name := range slices.Sorted(maps.Keys(by)) { // only here
		w := by[name]
		if c.had(swatchKey(w.Name)) {
			id := w.ID
			c.removedThere("swatch", w.Name, spoken(swatchLines(*w)), func(r Records) error { return r.RemoveSwatch(id) })
		}
	}
	return nil
}

// gone are the own swatches that both sides had and of which the copy has no more the name.
func (c *comparison) gone(own, other []record.SwatchJSON) (out []*record.SwatchJSON) {
	there := map[string]bool{}
	for _, x := range other {
		there[record.NameKey(x.Name)] = true
	}
	for i := range own {
		if w := &own[i]; !there[record.NameKey(w.Name)] && c.had(swatchKey(w.Name)) {
			out = append(out, w)
		}
	}
	return out
}

// renamed finds among those gone the swatch that a new one of the copy is under another
// name: but for the name they are alike, or share what was measured. Nil where there is
// none, or more than one.
func (c *comparison) renamed(o *record.SwatchJSON, gone []*record.SwatchJSON) *record.SwatchJSON {
	if c.had(swatchKey(o.Name)) {
		return nil
	}
	var found *record.SwatchJSON
	for _, w := range gone {
		if !sameCloth(w, o) {
			continue
		}
		if found != nil {
			return nil
		}
		found = w
	}
	return found
}

// sameCloth tells whether two swatches differ in their names alone, or share a measurement.
func sameCloth(a, b *record.SwatchJSON) bool {
	keys := map[string]bool{}
	for _, m := range a.Measurements {
		keys[measuredKey(m)] = true
	}
	if slices.ContainsFunc(b.Measurements, func(m record.MeasurementJSON) bool { return keys[measuredKey(m)] }) {
		return true
	}
	ours, _ := differing(swatchLines(*a)[1:], swatchLines(*b)[1:]) // the first line is the name
	return len(ours) == 0
}

// newSwatch is a swatch that only the copy has, with what counts of its measurements.
func (c *comparison) newSwatch(w record.Swatch, o *record.SwatchJSON) error {
	row := record.SwatchRow{Line: len(c.m.rows) + 1, Swatch: w}
	row.Swatch.ID = 0
	for _, j := range o.Measurements {
		m, err := j.Measurement()
		if err != nil {
			return fmt.Errorf("swatch %q: %w", o.Name, err)
		}
		if m.Removed.IsZero() {
			m.ID = 0
			row.Measured = append(row.Measured, m)
		}
	}
	x := Matter{Kind: "swatch", Name: w.Name, What: New, Other: spoken(swatchLines(*o))}
	switch was, held := c.held[swatchKey(w.Name)]; {
	case held && was == digest(swatchLines(*o)...): // removed here, and nothing happened to it there
		c.m.Same++
		return nil
	case held:
		x.What, x.Own = Clash, []Line{{"removed", "here, since the last copy"}}
		x.do = func(r Records) error { _, err := r.ImportSwatches([]record.SwatchRow{row}, false); return err }
	default:
		c.m.rows = append(c.m.rows, row)
	}
	c.add(x)
	return nil
}

// bothSwatch is a swatch that both have.
func (c *comparison) bothSwatch(was *record.SwatchJSON, w record.Swatch, o *record.SwatchJSON) error {
	mine, yours := swatchLines(*was), swatchLines(*o)
	ours, theirs := differing(mine, yours)
	if len(ours) == 0 {
		c.m.Same++
	} else if what, differs := c.judge(swatchKey(was.Name), digest(mine...), digest(yours...)); differs {
		w.ID = was.ID
		c.add(Matter{Kind: "swatch", Name: was.Name, What: what, Own: ours, Other: theirs, do: func(r Records) error { _, err := r.EditSwatch(w); return err }})
	}
	return c.measured(was, o)
}

// measured joins what was measured on a swatch that both have.
func (c *comparison) measured(was, o *record.SwatchJSON) error {
	have := map[string]record.MeasurementJSON{}
	for _, m := range was.Measurements {
		have[measuredKey(m)] = m
	}
	for _, j := range o.Measurements {
		m, err := j.Measurement()
		if err != nil {
			return fmt.Errorf("swatch %q: %w", o.Name, err)
		}
		mine, both := have[measuredKey(j)]
		name := was.Name + ", " + m.Kind
		switch {
		case !both && j.Removed == "":
			m.ID, m.SwatchID = 0, was.ID
			c.add(Matter{Kind: "measurement", Name: name, What: New, Other: measuredLines(j), do: func(r Records) error { _, err := r.AddMeasurement(m); return err }})
		case both && j.Removed != "" && mine.Removed == "":
			c.add(Matter{Kind: "measurement", Name: name, What: Clash, Own: measuredLines(mine), Other: []Line{{"removed", "there"}},
				do: func(r Records) error { return r.RemoveMeasurement(mine.ID) }})
		case both:
			c.m.Same++
		}
	}
	return nil
}

// measuredKey is what two measurements share that are one.
func measuredKey(m record.MeasurementJSON) string {
	b, err := json.Marshal(m.Readings)
	if err != nil {
		return ""
	}
	return m.Kind + m.Taken + string(b)
}

func measuredLines(m record.MeasurementJSON) []Line {
	b, err := json.Marshal(m.Readings)
	if err != nil {
		return nil
	}
	return []Line{{"taken", m.Taken}, {"readings", strings.NewReplacer(`"`, "", "{", "", "}", "", "[", "", "]", "", "_", " ", ":", " ", ",", ", ").Replace(string(b))}, {"note", m.Note}}
}

func swatchLines(j record.SwatchJSON) []Line {
	content := []string{}
	for _, p := range j.Content {
		content = append(content, strconv.FormatFloat(p.Percent, 'f', -1, 64)+" % "+p.Fibre)
	}
	length := ""
	if j.LengthCM != nil {
		length = strconv.FormatFloat(*j.LengthCM, 'f', -1, 64) + " cm"
	}
	width := ""
	if j.WidthCM > 0 {
		width = strconv.FormatFloat(j.WidthCM, 'f', -1, 64) + " cm"
	}
	return []Line{{"name", j.Name}, {"sold as", j.SoldAs}, {"made of", strings.Join(content, ", ")}, {"width", width}, {"left", length}, {"colour", j.Colour}, {"lightness", j.Lightness},
		{"price", j.Price}, {"kept in", j.KeptWhere}, {"picture", j.PicturePath}, {"bought", j.Bought}, {"notes", j.Notes}}
}

// differing are the lines on which two differ; one that says nothing says "–".
func differing(own, other []Line) (ours, theirs []Line) {
	for i := range own {
		if own[i].Value != other[i].Value {
			ours, theirs = append(ours, dashed(own[i])), append(theirs, dashed(other[i]))
		}
	}
	return ours, theirs
}

// spoken are the lines that say something.
func spoken(lines []Line) []Line {
	return slices.DeleteFunc(lines, func(l Line) bool { return l.Value == "" })
}

func dashed(l Line) Line {
	if l.Value == "" {
		l.Value = "–"
	}
	return l
}

// notes pairs notes on one thing: those of the same words are one, and where each
// side has another, it is one that was edited, or two.
func (c *comparison) notes(own, other []record.NoteJSON) {
	left := slices.Clone(own)
	var fresh []record.NoteJSON
	for _, o := range other {
		i := slices.IndexFunc(left, func(w record.NoteJSON) bool { return w.Kind == o.Kind && w.Subject == o.Subject && w.Text == o.Text })
		if i < 0 {
			fresh = append(fresh, o)
			continue
		}
		left = slices.Delete(left, i, i+1)
		c.m.Same++
	}
	for _, o := range fresh {
		if c.had(noteKey(o)) { // edited or removed here, and nothing happened to it there
			c.m.Same++
			continue
		}
		x := Matter{Kind: "note", Name: o.Subject, What: New, Other: []Line{{"says", o.Text}}, do: func(r Records) error { _, err := r.AddNote(o.Kind, o.Subject, o.Text); return err }}
		on := func(n record.NoteJSON) bool { return notesOn(n) == notesOn(o) }
		i := slices.IndexFunc(left, func(n record.NoteJSON) bool { return on(n) && c.had(noteKey(n)) })
		if i >= 0 { // edited there alone
			x.What = Changed
		} else if i = slices.IndexFunc(left, on); i >= 0 && c.hadBeginning(notesOn(o)) { // edited here and there
			x.What = Clash
		}
		if x.What != New {
			was := left[i]
			left = slices.Delete(left, i, i+1)
			x.Own, x.do = []Line{{"says", was.Text}}, func(r Records) error { return r.EditNote(was.ID, o.Text) }
		}
		c.add(x)
	}
	for _, w := range left {
		if c.had(noteKey(w)) {
			c.removedThere("note", w.Subject, []Line{{"says", w.Text}}, func(r Records) error { return r.RemoveNote(w.ID) })
		}
	}
}

// removedThere is something that only the own side has and that the last copy held.
func (c *comparison) removedThere(kind, name string, own []Line, do func(Records) error) {
	c.add(Matter{Kind: kind, Name: name, What: Clash, Own: own, Other: []Line{{"removed", "there, since the last copy"}}, do: do})
}

func (c *comparison) hadBeginning(with string) bool {
	for key := range c.held {
		if strings.HasPrefix(key, with) {
			return true
		}
	}
	return false
}

func (c *comparison) favourites(own, other []record.FavouriteJSON) {
	for _, o := range other {
		if c.had(markKey(o)) || slices.ContainsFunc(own, func(w record.FavouriteJSON) bool { return markKey(w) == markKey(o) }) {
			c.m.Same++
			continue
		}
		c.add(Matter{Kind: "mark", Name: o.Kind + " " + o.Subject, What: New, do: func(r Records) error { return r.Favourite(o.Kind, o.Subject) }})
	}
	for _, w := range own { // a mark holds no words: to take it off loses nothing
		if c.had(markKey(w)) && !slices.ContainsFunc(other, func(o record.FavouriteJSON) bool { return markKey(w) == markKey(o) }) {
			c.add(Matter{Kind: "mark", Name: w.Kind + " " + w.Subject, What: Changed, Own: []Line{{"is", "marked"}}, Other: []Line{{"is", "not marked"}},
				do: func(r Records) error { return r.Unfavourite(w.Kind, w.Subject) }})
		}
	}
}

func (c *comparison) wears(own, other []record.WearJSON) error {
	for _, o := range other {
		at, err := record.ReadTime("verdict", o.At)
		if err != nil {
			return err
		}
		w := record.Wear{MakeUp: o.MakeUp, Verdict: o.Verdict, Said: o.Said, At: at}
		if err := w.Tidy(); err != nil {
			return err
		}
		if slices.ContainsFunc(own, func(x record.WearJSON) bool {
			return x.At == o.At && x.Verdict == o.Verdict && sameJSON(x.MakeUp, o.MakeUp)
		}) {
			c.m.Same++
			continue
		}
		c.add(Matter{Kind: "verdict", Name: o.Verdict, What: New, Other: []Line{{"said", o.Said}, {"at", o.At}}, do: func(r Records) error { _, err := r.AddWear(w); return err }})
	}
	for _, w := range own {
		if c.had(wearKey(w)) && !slices.ContainsFunc(other, func(o record.WearJSON) bool { return wearKey(w) == wearKey(o) }) {
			c.removedThere("verdict", w.Verdict, []Line{{"said", w.Said}, {"at", w.At}}, func(r Records) error { return r.RemoveWear(w.ID) })
		}
	}
	return nil
}

func (c *comparison) settings(own, other map[string]json.RawMessage) {
	for _, key := range slices.Sorted(maps.Keys(other)) {
		value := other[key]
		was, there := own[key]
		set := func(r Records) error { return r.SetSetting(key, value) }
		switch {
		case key == settingCopies:
		case there && sameJSON(was, value), !there && c.had(settingKey(key)):
			c.m.Same++
		case there:
			if what, differs := c.judge(settingKey(key), digest(Line{"is", string(was)}), digest(Line{"is", string(value)})); differs {
				c.add(Matter{Kind: "setting", Name: key, What: what, Own: []Line{{"is", string(was)}}, Other: []Line{{"is", string(value)}}, do: set})
			}
		default:
			c.add(Matter{Kind: "setting", Name: key, What: New, do: set})
		}
	}
}

func sameJSON(a, b []byte) bool {
	var x, y bytes.Buffer
	return json.Compact(&x, a) == nil && json.Compact(&y, b) == nil && bytes.Equal(x.Bytes(), y.Bytes())
}
