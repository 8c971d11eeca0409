// Package copies is the page on which records move between a desktop and a phone:
// a copy to save, and one to take in, looked at before anything is changed.
package copies

import (
	"embed"
	"encoding/json"
	"fmt"
	"strconv"
	"time"

	"tenter/fibres/fault"
	"tenter/fibres/prose"
	"tenter/kb"
	"tenter/kb/record"
	"tenter/page/address"
	"tenter/page/sheet"
)

//go:embed copies.tmpl
var files embed.FS

const place = "/records"

// Page lies at /records.
var Page = sheet.Page{Pattern: place, Files: files, Template: "copies.tmpl", Make: build, Submit: submit}

// View is the state of the records, or a copy before it is taken in.
type View struct {
	sheet.Sheet
	FieldError string
	Swatches   int
	Since      int    // recorded since the last copy
	Last       string // when that was
	Copy       string // the address of a copy to save
	CanRecord  bool

	List    string // the id of the copy on the shelf
	Name    string
	New     []kb.Matter
	Changed []kb.Matter
	Clashes []kb.Matter
	Same    int
	Done    string
}

const keyList, keyCopy, keyDone = "list", "copy", "done"

func build(k *sheet.Site, a address.Ask) (sheet.View, error) {
	v := &View{Sheet: sheet.NewSheet(k, a, "/swatches", "Your records"), List: a.Get(keyList), CanRecord: k.Change != nil, Done: a.Get(keyDone)}
	if r := k.Base.Records; r != nil {
		var last time.Time
		var err error
		if v.Since, last, err = kb.SinceCopy(r); err != nil {
			return nil, err
		}
		if !last.IsZero() {
			v.Last = last.Local().Format("2 January 2006, 15:04")
		}
		if _, v.Swatches, err = r.ListSwatches(record.SwatchFilter{}, 1, 0); err != nil {
			return nil, err
		}
	}
	if a.Get(keyCopy) != "" {
		v.Copy = "/records/copy"
	}
	if v.List == "" {
		return v, nil
	}
	m, err := v.compare(k)
	if err != nil {
		f := fault.All(err)[0]
		v.FieldError, v.List, v.Status = prose.Upper(f.What)+".", "", 422
		return v, nil
	}
	v.show(m)
	return v, nil
}

// compare reads the copy on the shelf against the records.
func (v *View) compare(k *sheet.Site) (*kb.Merge, error) {
	l, ok := k.Shelf.Get(v.List)
	if !ok {
		return nil, &fault.Fault{Kind: fault.NotFound, What: "the copy is no longer at hand: choose the file again"}
	}
	v.Name = l.Name
	d, err := record.ReadDocument(l.Data)
	if err != nil {
		return nil, err
	}
	return kb.Compare(k.Base.Records, d)
}

func (v *View) show(m *kb.Merge) {
	v.Same = m.Same
	for _, x := range m.Matters {
		switch x.What {
		case kb.New:
			v.New = append(v.New, x)
		case kb.Changed:
			v.Changed = append(v.Changed, x)
		default:
			v.Clashes = append(v.Clashes, x)
		}
	}
}

func submit(k *sheet.Site, a address.Ask, f sheet.Form) (sheet.View, error) {
	v := &View{Sheet: sheet.NewSheet(k, a, "/swatches", "Your records"), List: a.Get(keyList), CanRecord: true}
	switch f.Get("do") {
	case "copy":
		err := k.Change(func(b *kb.Base) error { _, err := kb.NewCopy(b.Records, time.Now()); return err })
		if err != nil {
			return nil, err
		}
		return nil, &sheet.Moved{To: a.To(place, keyCopy, "yes")}
	case "look":
		if len(f.File) == 0 {
			v.FieldError, v.Status = "No file was chosen.", 422
			return v, nil
		}
		if k.Base.Records == nil { // what is compared wants something to be compared with
			if err := k.Change(func(*kb.Base) error { return nil }); err != nil {
				return nil, err
			}
		}
		return nil, &sheet.Moved{To: a.To(place, keyList, k.Shelf.Put(f.FileName, f.File))}
	case "merge":
		var done kb.Merged
		err := k.Change(func(b *kb.Base) error {
			m, err := v.compare(k)
			if err != nil {
				return err
			}
			take := map[string]bool{}
			for i, x := range m.Clashes() {
				take[x.Key] = f.Get("clash-"+strconv.Itoa(i)) == x.Key // of the very clash that was shown there
			}
			done, err = m.Do(b.Records, take, time.Now())
			return err
		})
		if err != nil {
			return nil, err
		}
		return nil, &sheet.Moved{To: a.To(place, keyDone, fmt.Sprintf("%d added, %d changed as there, %d taken from there, %d left as here", done.Added, done.Changed, done.Taken, done.Kept))}
	}
	return nil, &fault.Fault{Kind: fault.WrongCall, What: "nothing is asked"}
}

// Copy is all that is recorded, as the file that moves.
func Copy(k *sheet.Site) ([]byte, error) {
	if k.Base.Records == nil {
		return nil, &fault.Fault{Kind: fault.NotFound, What: "nothing has been recorded"}
	}
	d, err := kb.DocumentOf(k.Base.Records)
	if err != nil {
		return nil, err
	}
	return json.MarshalIndent(d, "", " ")
}
