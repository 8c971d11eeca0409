// Package fail is the page of an error: what was wrong, and where to go on.
package fail

import (
	"embed"
	"maps"
	"net/url"
	"path"
	"slices"
	"strings"

	"tenter/fibres"
	"tenter/fibres/prose"
	"tenter/page/address"
	"tenter/page/sheet"
)

//go:embed fail.tmpl
var files embed.FS

// Page is shown in place of the page that was asked for.
var Page = sheet.Page{Files: files, Template: "fail.tmpl"}

// View is an error as a page.
type View struct {
	sheet.Sheet
	Status int
	What   string
	Near   []sheet.Link
	Again  []Field // of a form that may be sent again
}

// Field is a field of a form, as it was typed.
type Field struct{ Name, Value string }

// NotFound says that there is no such page, and offers what lies nearest to its
// name.
func NotFound(k *sheet.Site, a address.Ask) *View {
	v := &View{Sheet: sheet.NewSheet(k, a, "", "Nothing is there"), Status: 404, What: "There is no page at this address."}
	at, err := url.PathUnescape(a.Path)
	if err != nil {
		return v
	}
	kind, name, two := strings.Cut(strings.Trim(at, "/"), "/")
	kd, known := sheet.KindOf(kind)
	if !known && two {
		return v
	}
	if !two {
		name = kind
	}
	name = strings.ReplaceAll(path.Base(name), "-", " ")
	if len(name) > 80 {
		return v
	}
	if two {
		v.What = "No " + kd.One + " is called “" + name + "”."
	}
	v.Near = k.Near(name, kd.One)
	if len(v.Near) == 0 {
		v.Near = k.Near(name, "")
	}
	if !two { // nobody said what sort of thing it is: only what is clearly meant is offered
		v.Near = slices.DeleteFunc(v.Near, func(l sheet.Link) bool { return !alike(name, l.Name) && !alike(name, l.ID) })
	}
	return v
}

// Because says why a page is not shown.
func Because(k *sheet.Site, a address.Ask, status int, title, what string) *View {
	return &View{Sheet: sheet.NewSheet(k, a, "", title), Status: status, What: prose.Upper(what) + "."}
}

// Unkept says why nothing of a form was kept, and holds what was typed.
func Unkept(k *sheet.Site, a address.Ask, status int, why string, f sheet.Form) *View {
	v := Because(k, a, status, "Not recorded", why+". Nothing was recorded, and what was recorded before is as it was. Make room on the phone, then send it again")
	for _, name := range slices.Sorted(maps.Keys(f.Fields)) {
		for _, value := range f.Fields[name] {
			if name != "token" { // of this page
				v.Again = append(v.Again, Field{name, value})
			}
		}
	}
	return v
}

// alike reports whether two names share a word, or begin with the same four letters.
func alike(a, b string) bool {
	a, b = fibres.FoldName(a), fibres.FoldName(b)
	for _, w := range strings.Fields(a) {
		if len(w) > 3 && slices.Contains(strings.Fields(b), w) {
			return true
		}
	}
	return len(a) > 3 && len(b) > 3 && a[:4] == b[:4]
}
