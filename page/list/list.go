// Package list is everything of one kind.
package list

import (
	"embed"
	"html/template"
	"slices"
	"sort"
	"strings"

	"tenter/fibres"
	"tenter/fibres/prose"
	"tenter/page/address"
	"tenter/page/picture"
	"tenter/page/sheet"
)

//go:embed list.tmpl index.tmpl
var files embed.FS

// Page lists one kind; Index lists the kinds.
var (
	Page  = sheet.Page{Pattern: "/list/{id}", Files: files, Template: "list.tmpl", Make: build}
	Index = sheet.Page{Pattern: "/list", Files: files, Template: "index.tmpl", Make: index}
)

// View is one kind of things.
type View struct {
	sheet.Sheet
	Kind   sheet.Kind
	N      int
	Groups []Group
}

// Group is part of a list under a heading.
type Group struct {
	Title string
	Items []Item
}

// Item is one thing with its picture, where its kind is drawn.
type Item struct {
	sheet.Link
	Picture template.HTML
}

// IndexView is all kinds.
type IndexView struct {
	sheet.Sheet
	Kinds []Count
}

// Count is a kind with how many there are.
type Count struct {
	sheet.Kind
	N int
}

func index(k *sheet.Site, a address.Ask) (sheet.View, error) {
	v := &IndexView{Sheet: sheet.NewSheet(k, a, "/list", "The reference")}
	for _, kd := range sheet.Kinds {
		v.Kinds = append(v.Kinds, Count{kd, len(k.Things(kd.One))})
	}
	return v, nil
}

func build(k *sheet.Site, a address.Ask) (sheet.View, error) {
	kd, ok := sheet.KindOf(a.ID)
	if !ok {
		return nil, sheet.Nothing("kind", a.ID)
	}
	if a.ID != kd.Many {
		return nil, &sheet.Moved{To: a.To("/list/" + kd.Many)}
	}
	v := &View{Sheet: sheet.NewSheet(k, a, "/list", prose.Upper(kd.Many)), Kind: kd}
	v.fill(kd.One)
	switch kd.One {
	case "cloth", "structure", "fibre", "term":
		sort.SliceStable(v.Groups, func(i, j int) bool { return v.Groups[i].Title < v.Groups[j].Title })
	}
	return v, nil
}

// put adds an item to the group of a title.
func (v *View) put(title string, i Item) {
	n := slices.IndexFunc(v.Groups, func(g Group) bool { return g.Title == title })
	if n < 0 {
		n = len(v.Groups)
		v.Groups = append(v.Groups, Group{Title: title})
	}
	v.Groups[n].Items = append(v.Groups[n].Items, i)
	v.N++
}

// fill lists the things of a kind, each in its group.
func (v *View) fill(kind string) {
	k := v.Site
	switch kind {
	case "piece":
		for _, p := range k.Adv.Pieces {
			l, _ := k.Link("piece", p.ID)
			v.put(p.Group, Item{l, v.PieceSVG(p, "")})
		}
	case "finish":
		for _, f := range k.Adv.Finishes {
			l, _ := k.Link("finish", f.ID)
			v.put("", Item{l, picture.Finish(f, "")})
		}
	case "cloth":
		for _, c := range k.Adv.Cat.ClothList() {
			l, _ := k.Link("cloth", c.ID)
			v.put(c.Group, Item{l, ""})
		}
	case "rule":
		for _, r := range k.Adv.Rules {
			l, _ := k.Link("rule", r.ID)
			v.put(r.Effect.String(), Item{l, ""})
		}
	default:
		for _, l := range k.Things(kind) {
			v.put(v.titleOf(l), Item{l, ""})
		}
	}
}

// titleOf is the group that a thing is listed in; "" where its kind has none.
func (v *View) titleOf(l sheet.Link) string {
	switch l.Kind {
	case "structure":
		return v.Adv.Cat.Structures[l.ID].Class
	case "fibre":
		return v.Adv.Cat.Fibres[l.ID].Family
	case "term":
		return strings.ToUpper(fibres.FoldName(l.Name)[:1])
	}
	return ""
}
