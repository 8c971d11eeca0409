package swatch

import (
	"fmt"
	"sort"
	"strconv"
	"strings"

	"tenter/fibres/fault"
	"tenter/fibres/prose"
	"tenter/fibres/units"
	"tenter/kb"
	"tenter/page/address"
	"tenter/page/sheet"
	"tenter/page/shelf"
	"tenter/page/words"
)

// ImportView is a list of swatches before it is kept: which column is which,
// what would be added, and what cannot be, with the reason.
type ImportView struct {
	sheet.Sheet
	FieldError string
	List       string // the id of the list on the shelf
	Name       string
	Read       int
	Sound      int
	Columns    []Column
	Rows       []Preview
	Refused    []Refused
	NRefused   int
	Notices    []string
	CanRecord  bool
}

// Column is one column of the list with what it is taken for.
type Column struct {
	Key, Theirs, How string
	Options          []sheet.Option
}

// Preview is a swatch that would be added.
type Preview struct {
	Line                                int
	Name, SoldAs, Width, Length, Colour string
	Measured                            int
}

// Refused is a row that cannot be taken.
type Refused struct {
	Line                   int
	Column, What, Expected string
}

const (
	keyList   = "list"
	keyMap    = "map-"
	maxShown  = 20
	maxFaults = 60
)

func importing(k *sheet.Site, a address.Ask) (sheet.View, error) {
	v := &ImportView{Sheet: sheet.NewSheet(k, a, place, "Take in a list"), List: a.Get(keyList), CanRecord: k.Change != nil}
	if v.List == "" {
		return v, nil
	}
	l, ok := k.Shelf.Get(v.List)
	if !ok {
		v.FieldError, v.List, v.Status = "The list is no longer at hand: read it in again.", "", 404
		return v, nil
	}
	v.Name = l.Name
	im, err := v.read(l)
	if err != nil {
		f := fault.All(err)[0]
		v.FieldError, v.List, v.Status = prose.Upper(f.What)+".", "", 422
		if expected := plain(f.Expected); expected != "" {
			v.FieldError += " Expected: " + strings.TrimSuffix(expected, ".") + "."
		}
		return v, nil
	}
	v.show(im)
	return v, nil
}

// read reads the list with the columns as the address maps them.
func (v *ImportView) read(l shelf.Shelved) (*kb.Import, error) {
	o := kb.ImportOptions{Name: l.Name, Imperial: v.Units == units.Imperial}
	im, err := v.Site.Base.ReadSwatches(l.Data, o)
	if err != nil {
		return nil, err
	}
	chosen := map[string]string{}
	for i, c := range im.Columns {
		switch ours := v.Get(keyMap + strconv.Itoa(i)); ours {
		case "":
		case "-":
			chosen[c.Theirs] = ""
		default:
			chosen[c.Theirs] = ours
		}
	}
	if len(chosen) == 0 {
		return im, nil
	}
	o.Map = chosen
	return v.Site.Base.ReadSwatches(l.Data, o)
}

func (v *ImportView) show(im *kb.Import) {
	refused := im.Resolve(nil)
	v.Read, v.Sound = im.Read, len(im.Rows)
	if b := v.Site.Base; b.Records != nil {
		if done, err := b.Keep(im, true, true); err == nil {
			refused, v.Sound = done.Refused, done.Added
		}
	}
	v.NRefused = len(refused)
	out := map[int]bool{} // lines that would not be taken
	for _, r := range refused {
		out[r.Line] = true
	}
	sort.SliceStable(refused, func(i, j int) bool { return refused[i].Line < refused[j].Line })
	for _, r := range refused[:min(len(refused), maxFaults)] {
		v.Refused = append(v.Refused, Refused{r.Line, r.Column, plain(r.Fault.What), plain(r.Fault.Expected)})
	}
	for _, n := range im.Notices {
		say := plain(n.What)
		if say == "" {
			continue
		}
		if n.Line > 0 {
			say = fmt.Sprintf("line %d: %s", n.Line, say)
		}
		v.Notices = append(v.Notices, say)
	}
	v.Notices = v.Notices[:min(len(v.Notices), maxFaults)]
	for i, c := range im.Columns {
		x := Column{Key: keyMap + strconv.Itoa(i), Theirs: c.Theirs, How: c.How}
		ours, _, _ := strings.Cut(c.Ours, " ")
		x.Options = append(x.Options, sheet.Option{Value: "-", Word: "left out", Chosen: c.Ours == ""})
		for _, w := range kb.Columns {
			x.Options = append(x.Options, sheet.Option{Value: w, Word: strings.ReplaceAll(w, "_", " "), Chosen: w == ours || strings.HasPrefix(ours, w+"_")})
		}
		v.Columns = append(v.Columns, x)
	}
	for _, r := range im.Rows {
		if out[r.Line] {
			continue
		}
		if len(v.Rows) == maxShown {
			break
		}
		p := Preview{Line: r.Line, Name: r.Swatch.Name, SoldAs: r.Swatch.SoldAs, Colour: r.Swatch.Colour, Measured: len(r.Measured)}
		if c, ok := v.Site.Base.SoldAs(r.Swatch.SoldAs); ok {
			p.SoldAs = c.Name
		}
		if r.Swatch.WidthCM > 0 {
			p.Width = v.Length(units.Length(r.Swatch.WidthCM))
		}
		if r.Swatch.LengthCM != nil {
			p.Length = v.Length(units.Length(*r.Swatch.LengthCM))
		}
		v.Rows = append(v.Rows, p)
	}
}

// plain is a sentence without advice to use a command or a flag of one, which a page
// has fields for.
func plain(s string) string { return strings.Join(words.Notes([]string{s}), " ") }

func submitImport(k *sheet.Site, a address.Ask, f sheet.Form) (sheet.View, error) {
	v := &ImportView{Sheet: sheet.NewSheet(k, a, place, "Take in a list"), CanRecord: true}
	switch f.Get("do") {
	case "read":
		data, name := f.File, f.FileName
		if len(data) == 0 {
			data, name = []byte(f.Lines("text")), "the list"
		}
		if len(strings.TrimSpace(string(data))) == 0 {
			v.FieldError, v.Status = "No list was sent: choose a file, or paste the rows.", 422
			if f.FileName != "" {
				v.FieldError = f.FileName + " is empty: it has no rows."
			}
			return v, nil
		}
		if name == "" {
			name = "the list"
		}
		return nil, &sheet.Moved{To: a.To("/swatches/import", keyList, k.Shelf.Put(name, data))}
	case "keep", "keep-sound":
		l, ok := k.Shelf.Get(a.Get(keyList))
		if !ok {
			v.FieldError, v.Status = "The list is no longer at hand: read it in again.", 404
			return v, nil
		}
		im, err := v.read(l)
		if err != nil {
			return nil, err
		}
		skip := f.Get("do") == "keep-sound"
		var done kb.Kept
		err = k.Change(func(b *kb.Base) (err error) {
			done, err = b.Keep(im, skip, false)
			return err
		})
		if err != nil {
			return nil, err
		}
		if len(done.Refused) > 0 && !skip {
			v.List, v.Name, v.Status = l.ID, l.Name, 422
			v.FieldError = "Nothing was kept: there are rows that cannot be taken."
			v.show(im)
			return v, nil
		}
		to := []string{"added", strconv.Itoa(done.Added)}
		if len(done.Refused) > 0 {
			k.Shelf.Reject(l.ID, im.Rejects(done.Refused))
			to = append(to, "rejected", l.ID)
		}
		return nil, &sheet.Moved{To: a.To(place, to...)}
	}
	return nil, &fault.Fault{Kind: fault.WrongCall, What: "nothing is asked"}
}
