// Package swatch is the pages of the user's own cloths: the list, one swatch
// with what was measured on it, guided measuring, lists taken in with a look
// before, verdicts after wear, and the way back from each change.
package swatch

import (
	"embed"
	"errors"
	"fmt"
	"html/template"
	"net/url"
	"strconv"
	"strings"
	"time"

	"tenter/advise"
	"tenter/advise/brief"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/prose"
	"tenter/fibres/units"
	"tenter/kb"
	"tenter/kb/record"
	"tenter/page/address"
	"tenter/page/picture"
	"tenter/page/question"
	"tenter/page/sheet"
	"tenter/page/words"
)

//go:embed *.tmpl
var files embed.FS

// Pages lists the pages of the user's own records.
var Pages = []sheet.Page{
	{Pattern: "/swatches", Files: files, Template: "list.tmpl", Make: list, Submit: submitUndo},
	{Pattern: "/swatches/add", Files: files, Template: "edit.tmpl", Make: add, Submit: submitAdd},
	{Pattern: "/swatches/import", Files: files, Template: "import.tmpl", Make: importing, Submit: submitImport},
	{Pattern: "/swatch/{id}", Files: files, Template: "one.tmpl", Make: one, Submit: submitOne},
	{Pattern: "/swatch/{id}/edit", Files: files, Template: "edit.tmpl", Make: edit, Submit: submitEdit},
	{Pattern: "/swatch/{id}/measure", Files: files, Template: "measure.tmpl", Make: measure, Submit: submitMeasure},
	{Pattern: "/swatch/{id}/camera", Files: files, Template: "camera.tmpl", Make: camera},
	{Pattern: "/camera", Files: files, Template: "camera.tmpl", Make: camera},
	{Pattern: "/worn", Files: files, Template: "worn.tmpl", Make: worn, Submit: submitWorn},
}

const place = "/swatches"

// path is the page of a swatch.
func path(name string) string { return "/swatch/" + url.PathEscape(name) }

// ListView is the swatches, with the latest changes and the way back.
type ListView struct {
	sheet.Sheet
	Words, Kept string
	Fibres      []sheet.Option
	Rows        []Row
	N           int
	Next, Back  string
	Changes     []Change
	Again       string // the change that was taken back last, and can be made again
	Added       int    // how many a list brought in
	Narrowed    bool   // not all of them are asked for
	Rejected    string // where the refused rows are
	CanRecord   bool
}

// Row is one swatch of the list.
type Row struct {
	sheet.Link
	SoldAs, Left, Width, Colour, Where string
}

// Change is one change that can be taken back.
type Change struct{ At, What string }

const perPage = 100

func list(k *sheet.Site, a address.Ask) (sheet.View, error) {
	v := &ListView{Sheet: sheet.NewSheet(k, a, place, "Your swatches"), Words: a.Get("q"), Kept: a.Get("kept"), CanRecord: k.Change != nil}
	v.Added, _ = strconv.Atoi(a.Get("added")) // what is no number says nothing
	v.Narrowed = v.Words != "" || v.Kept != "" || a.Get("fibre") != ""
	for _, l := range k.Things("fibre") {
		v.Fibres = append(v.Fibres, sheet.Option{Value: l.ID, Word: l.Name, Chosen: l.ID == a.Get("fibre")})
	}
	if id := a.Get("rejected"); id != "" {
		if l, ok := k.Shelf.Get(id); ok && len(l.Rejected) > 0 {
			v.Rejected = "/swatches/rejected/" + url.PathEscape(id)
		}
	}
	if k.Base.Records == nil {
		return v, nil
	}
	from := 0
	if n, err := strconv.Atoi(a.Get("from")); err == nil && n > 0 {
		from = n
	}
	ws, n, err := k.Base.Swatches(record.SwatchFilter{Words: v.Words, KeptWhere: v.Kept, Fibre: a.Get("fibre")}, perPage, from)
	if err != nil {
		return nil, err
	}
	v.N = n
	for _, w := range ws {
		v.Rows = append(v.Rows, v.row(w))
	}
	if from+perPage < n {
		v.Next = v.With("from", strconv.Itoa(from+perPage))
	}
	if from > 0 {
		v.Back = v.With("from", strconv.Itoa(max(0, from-perPage)))
	}
	changes, err := k.Base.Records.History(5)
	if err != nil {
		return nil, err
	}
	for _, c := range changes {
		v.Changes = append(v.Changes, Change{c.At.Local().Format("2 Jan 2006, 15:04"), kb.ChangeText(c.What)})
	}
	last, err := k.Base.Records.LastChange()
	if u, ok := k.Back.Last(); ok && k.Change != nil && u.Last == last {
		v.Again = kb.ChangeText(u.What)
	}
	return v, err
}

func (v *ListView) row(w record.Swatch) Row {
	r := Row{Link: sheet.Link{Kind: "swatch", ID: w.Name, Name: w.Name}, SoldAs: w.SoldAs, Colour: w.Colour, Where: w.KeptWhere}
	if k, ok := v.Site.Base.SoldAs(w.SoldAs); ok {
		r.SoldAs = k.Name
	}
	if w.LengthCM != nil {
		r.Left = v.Length(units.Length(*w.LengthCM))
	}
	if w.WidthCM > 0 {
		r.Width = v.Length(units.Length(w.WidthCM))
	}
	return r
}

// submitUndo takes the last change back, or makes the one again that was taken back.
func submitUndo(k *sheet.Site, a address.Ask, f sheet.Form) (sheet.View, error) {
	var do func(*kb.Base) error
	switch f.Get("do") {
	case "undo":
		do = func(b *kb.Base) error {
			u, err := b.Records.TakeBack()
			if err == nil {
				k.Back.Add(u)
			}
			return err
		}
	case "redo":
		do = func(b *kb.Base) error {
			u, ok := k.Back.Last()
			if !ok {
				return nil
			}
			k.Back.Drop() // a change that was refused once is refused again
			return b.Records.Redo(u)
		}
	default:
		return nil, &fault.Fault{Kind: fault.WrongCall, What: "nothing is asked"}
	}
	if err := k.Change(do); err != nil && !sheet.IsNotFound(err) {
		return nil, err
	}
	return nil, &sheet.Moved{To: a.To(place)}
}

// OneView is one swatch.
type OneView struct {
	sheet.Sheet
	Swatch       kb.Swatch
	SoldAs       sheet.Link
	Ticket       string
	Near         []sheet.Link // cloths that may be meant by a name that is not known
	Content      string
	Left, Width  string
	Bought       string
	Props, Ways  []sheet.Prop
	Among        []string
	Measurements []Measured
	Pieces       []sheet.OptionGroup
	Finishes     []sheet.OptionGroup
	Hidden       *fibres.Cloth // the cloth of the same name
	Tests        []Test
	Picture      template.HTML
	Facts        []brief.Part // what decides: how it bends, what it weighs, what is left
}

// PriceNote tells why the price cannot be reckoned with, if so.
func (v *OneView) PriceNote() string { return kb.PriceNote(v.Swatch.Price) }

// Measured is one measurement as it was taken.
type Measured struct {
	ID         int64
	Kind, At   string
	Say, Note  string
	NReadings  int
	MeasureURL string
}

// Test is a home test that can be done on it.
type Test struct {
	Kind, Name, Path string
	Done             bool
}

// find gets a swatch by the name in the path.
func find(k *sheet.Site, a address.Ask) (kb.Swatch, error) {
	if k.Base.Records == nil {
		return kb.Swatch{}, sheet.Nothing("swatch", a.ID)
	}
	s, err := k.Base.Swatch(a.ID)
	if err != nil {
		if sheet.IsNotFound(err) {
			return s, sheet.Nothing("swatch", a.ID)
		}
		return s, err
	}
	return s, nil
}

func one(k *sheet.Site, a address.Ask) (sheet.View, error) {
	s, err := find(k, a)
	if err != nil {
		return nil, err
	}
	if s.Name != a.ID {
		return nil, &sheet.Moved{To: a.To(path(s.Name))}
	}
	v := &OneView{Sheet: sheet.NewSheet(k, a, place, s.Name), Swatch: s, Ticket: s.SoldAs, Content: kb.SayContent(s.Content)}
	if c := s.Subject.Cloth; c != nil {
		v.SoldAs, _ = k.Link("cloth", c.ID)
		for _, p := range k.Base.Places(s.Subject, c) {
			v.Among = append(v.Among, fibres.Properties[p.Property].Name+": "+v.Estimate(p.Have)+", "+placeWords(p, c))
		}
	}
	if v.SoldAs.ID == "" && v.Ticket != "" {
		v.Near = k.Near(v.Ticket, "cloth")
	}
	if s.LengthCM != nil {
		v.Left = v.Length(units.Length(*s.LengthCM))
	}
	if s.WidthCM > 0 {
		v.Width = v.Length(units.Length(s.WidthCM))
	}
	if !s.Bought.IsZero() {
		v.Bought = s.Bought.Format(time.DateOnly)
	}
	v.Props, v.Ways = v.PropsOf(s.Subject)
	done := map[string]bool{}
	for _, m := range s.Measurements {
		x := Measured{ID: m.ID, Kind: m.Kind, At: m.Taken.Local().Format("2 Jan 2006"), Note: m.Note, NReadings: len(m.Readings)}
		e := kb.EvidenceOf([]record.Measurement{m})
		e.Notes = nil // those of all that was measured stand below
		x.Say = v.found(e)
		v.Measurements = append(v.Measurements, x)
		done[m.Kind] = true
	}
	for _, kind := range record.Kinds {
		t, _ := fibres.TestOfKind(kind)
		name := t.Name
		if name == "" {
			name = kind
		}
		v.Tests = append(v.Tests, Test{kind, name, v.To(path(s.Name)+"/measure", "kind", kind), done[kind]})
	}
	v.Pieces, v.Finishes = k.PieceOptions(""), k.FinishOptions("")
	v.Hidden = k.Base.Hidden(s.Subject)
	v.first()
	return v, nil
}

// first puts on the first screen how the swatch hangs and what is known of it.
func (v *OneView) first() {
	known := func(label brief.Label, p fibres.Property, words func(fibres.Estimate) string) fibres.Estimate {
		e := v.Adv.Cat.Estimate(*v.Swatch.Subject, p)
		if !e.Known() {
			return e
		}
		from := "by its name: not measured yet"
		if picture.IsOwn(e) {
			from = "as you measured it"
		}
		v.Facts = append(v.Facts, brief.Part{Label: label, Lines: []string{words(e) + ", " + from + "."}})
		return e
	}
	middle := func(e fibres.Estimate) string {
		return v.Quantity(e.Typical, e.Unit) + " (" + v.Quantities(e.Low, e.High, e.Unit) + ")"
	}
	bend := known("Bends", fibres.BendingLength, middle)
	v.Picture = picture.Strip(v.Units, bend, "How 10 cm of it hang over the edge of a table")
	known("Hand", fibres.Hand, func(e fibres.Estimate) string { return prose.Upper(words.Words(e)) })
	known("Weighs", fibres.Mass, middle)
	if v.Left != "" || v.Width != "" {
		line := strings.TrimPrefix(v.Left+" left, "+v.Width+" wide.", " left, ")
		if v.Width == "" {
			line = v.Left + " left."
		}
		v.Facts = append(v.Facts, brief.Part{Label: "Have", Lines: []string{line}})
	}
}

// found tells what readings come to.
func (v *OneView) found(e kb.Evidence) string { return found(v.Ask, e) }

func found(a address.Ask, e kb.Evidence) string {
	var out []string
	for _, f := range e.Found {
		say := fibres.Properties[f.Property].Name + " "
		switch {
		case f.Words != nil:
			say += words.Words(f.Estimate)
		case f.Low == f.High:
			say += words.In(a.Units).Estimate(f.Estimate)
		default:
			say += words.In(a.Units).Quantity(f.Typical, f.Unit) + " (" + words.In(a.Units).Quantities(f.Low, f.High, f.Unit) + ")"
		}
		out = append(out, say)
	}
	if e.Bleed != "" {
		out = append(out, "bleeds: "+e.Bleed)
	}
	say := strings.Join(out, "; ")
	for _, note := range e.Notes {
		say = strings.TrimPrefix(say+". ", ". ") + strings.TrimSuffix(note, ".")
	}
	return say
}

// placeWords tells where a swatch lies among the cloths of its name.
func placeWords(p kb.Place, c *fibres.Cloth) string {
	word, part := "more than ", p.Part
	if part < 0.5 {
		word, part = "less than ", 1-part
	}
	switch {
	case part < 0.6:
		return "in the middle of what is sold as " + c.Name
	case part > 0.995:
		return word + "nearly all sold as " + c.Name
	}
	return word + advise.InTen(part) + " sold as " + c.Name
}

func submitOne(k *sheet.Site, a address.Ask, f sheet.Form) (sheet.View, error) {
	s, err := find(k, a)
	if err != nil {
		return nil, err
	}
	switch f.Get("do") {
	case "remove":
		if err := k.Change(func(b *kb.Base) error { return b.Records.RemoveSwatch(s.ID) }); err != nil {
			return nil, err
		}
		return nil, &sheet.Moved{To: a.To(place)}
	case "remove-measurement":
		id, err := strconv.ParseInt(f.Get("measurement"), 10, 64)
		for _, m := range s.Measurements {
			if err == nil && m.ID == id {
				if err := k.Change(func(b *kb.Base) error { return b.Records.RemoveMeasurement(id) }); err != nil {
					return nil, err
				}
				return nil, &sheet.Moved{To: a.To(path(s.Name))}
			}
		}
		return nil, &fault.Fault{Kind: fault.WrongCall, What: "the swatch has no such measurement"}
	}
	return nil, &fault.Fault{Kind: fault.WrongCall, What: "nothing is asked"}
}

// EditView is a swatch as a form.
type EditView struct {
	sheet.Sheet
	New         bool
	Was         string // the name before
	FieldErrors question.FieldErrors
	Field       map[string]string
	Cloths      []sheet.Link
	Light       []sheet.Option
	Action      string
}

// The fields of a swatch's form; each is called as its column.
var fields = []string{"name", "sold_as", "content", "width", "length", "colour", "lightness", "price", "kept_where", "bought", "notes"}

// called are the fields of which the form does not show the column's name.
var called = map[string]string{"name": "name of your own", "content": "its label", "length": "left of it", "lightness": "how light it is", "kept_where": "kept in"}

func (v *EditView) fill(k *sheet.Site) *EditView {
	v.Cloths = k.Things("cloth")
	v.Light = sheet.WordOptions(v.Field["lightness"], fibres.LightnessScale...)
	return v
}

func add(k *sheet.Site, a address.Ask) (sheet.View, error) {
	v := &EditView{Sheet: sheet.NewSheet(k, a, place, "A new swatch"), New: true, Field: map[string]string{"name": a.Get("name"), "sold_as": a.Get("sold_as")}, Action: "/swatches/add"}
	return v.fill(k), nil
}

func edit(k *sheet.Site, a address.Ask) (sheet.View, error) {
	s, err := find(k, a)
	if err != nil {
		return nil, err
	}
	v := &EditView{Sheet: sheet.NewSheet(k, a, place, s.Name), Was: s.Name, Action: path(s.Name) + "/edit", Field: map[string]string{
		"name": s.Name, "sold_as": s.SoldAs, "content": kb.SayContent(s.Content), "colour": s.Colour, "lightness": s.Lightness, "price": s.Price, "kept_where": s.KeptWhere, "notes": s.Notes}}
	if s.WidthCM > 0 {
		v.Field["width"] = v.Length(units.Length(s.WidthCM))
	}
	if s.LengthCM != nil {
		v.Field["length"] = v.Length(units.Length(*s.LengthCM))
	}
	if !s.Bought.IsZero() {
		v.Field["bought"] = s.Bought.Format(time.DateOnly)
	}
	return v.fill(k), nil
}

// read takes the fields of the form into a swatch, and tells what cannot be.
func (v *EditView) read(k *sheet.Site, f sheet.Form, w *record.Swatch) {
	v.Field = map[string]string{}
	for _, name := range fields {
		v.Field[name] = f.Get(name)
	}
	v.Field["notes"] = strings.TrimSpace(f.Lines("notes"))
	w.Name, w.Colour, w.Lightness, w.Price, w.KeptWhere, w.Notes = v.Field["name"], v.Field["colour"], v.Field["lightness"], v.Field["price"], v.Field["kept_where"], v.Field["notes"]
	w.SoldAs = v.Field["sold_as"]
	if w.SoldAs != "" {
		if c, ok := k.Base.SoldAs(w.SoldAs); ok {
			w.SoldAs = c.ID
		}
	}
	w.Content = nil
	if t := v.Field["content"]; t != "" {
		parts, err := k.Base.ParseContent(t)
		if err != nil {
			v.FieldErrors.Add("content", t, err)
		}
		w.Content = parts
	}
	length := func(name string) float64 {
		unit := units.Length(1)
		if v.Units == units.Imperial {
			unit = 2.54
		}
		l, err := units.ParseLengthIn(v.Field[name], unit)
		if err != nil {
			v.FieldErrors.Add(name, v.Field[name], err)
		}
		return float64(l)
	}
	w.WidthCM, w.LengthCM = 0, nil
	if v.Field["width"] != "" {
		w.WidthCM = length("width")
	}
	if v.Field["length"] != "" {
		l := length("length")
		w.LengthCM = &l
	}
	w.Bought = time.Time{}
	if t := v.Field["bought"]; t != "" {
		day, err := time.Parse(time.DateOnly, t)
		if err != nil {
			v.FieldErrors.Add("bought", t, &fault.Fault{Kind: fault.WrongCall, What: fmt.Sprintf("%q is not a date", t), Expected: "year-month-day, such as 2026-11-25"})
		}
		w.Bought = day
	}
}

// refused notes what the store would not take, column by column.
func (v *EditView) refused(err error) {
	columns := map[string]string{"width_cm": "width", "length_cm": "length"}
	for _, f := range fault.All(err) {
		key := f.Where
		if columns[key] != "" {
			key = columns[key]
		}
		if key == "" {
			key = "name"
		}
		v.FieldErrors.Add(key, v.Field[key], f)
	}
}

// ours reports whether an error is about what was typed and not about us.
func ours(err error) bool {
	var f *fault.Fault
	return errors.As(err, &f) && f.Kind != fault.Internal && f.Kind != fault.Busy
}

func submitAdd(k *sheet.Site, a address.Ask, f sheet.Form) (sheet.View, error) {
	v := &EditView{Sheet: sheet.NewSheet(k, a, place, "A new swatch"), New: true, Action: "/swatches/add"}
	var w record.Swatch
	return v.keep(k, a, f, w, kb.Records.AddSwatch)
}

func submitEdit(k *sheet.Site, a address.Ask, f sheet.Form) (sheet.View, error) {
	s, err := find(k, a)
	if err != nil {
		return nil, err
	}
	v := &EditView{Sheet: sheet.NewSheet(k, a, place, s.Name), Was: s.Name, Action: path(s.Name) + "/edit"}
	return v.keep(k, a, f, s.Swatch, kb.Records.EditSwatch)
}

// keep writes the fields of the form into a swatch and leads on to its page, or
// gives the form again with what could not be taken.
func (v *EditView) keep(k *sheet.Site, a address.Ask, f sheet.Form, w record.Swatch, do func(kb.Records, record.Swatch) (record.Swatch, error)) (sheet.View, error) {
	v.read(k, f, &w)
	if len(v.FieldErrors) == 0 {
		err := k.Change(func(b *kb.Base) (err error) {
			w, err = do(b.Records, w)
			return err
		})
		switch {
		case err == nil:
			return nil, &sheet.Moved{To: a.To(path(w.Name))}
		case !ours(err):
			return nil, err
		}
		v.refused(err)
	}
	for i := range v.FieldErrors {
		v.FieldErrors[i].Word = called[v.FieldErrors[i].Key]
	}
	v.Status = 422
	return v.fill(k), nil
}
