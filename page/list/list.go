// Package list is everything of one kind.
package list

import (
	"embed"
	"html/template"
	"sort"
	"strings"

	"tenter/fibres"
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

func index(k *sheet.Site, a sheet.Ask) (sheet.View, error) {
	v := &IndexView{Sheet: sheet.NewSheet(k, a, "/list", "The reference")}
	for _, kd := range sheet.Kinds {
		v.Kinds = append(v.Kinds, Count{kd, len(k.Things(kd.One))})
	}
	return v, nil
}

func build(k *sheet.Site, a sheet.Ask) (sheet.View, error) {
	kd, ok := sheet.KindOf(a.ID)
	if !ok {
		return nil, sheet.Nothing("kind", a.ID)
	}
	if a.ID != kd.Many {
		return nil, &sheet.Moved{To: a.To("/list/" + kd.Many)}
	}
	v := &View{Sheet: sheet.NewSheet(k, a, "/list", sheet.Upper(kd.Many)), Kind: kd}
	at := map[string]int{}
	put := func(title string, i Item) {
		n, there := at[title]
		if !there {
			n = len(v.Groups)
			at[title] = n
			v.Groups = append(v.Groups, Group{Title: title})
		}
		v.Groups[n].Items = append(v.Groups[n].Items, i)
		v.N++
	}
	switch kd.One {
	case "piece":
		for _, p := range k.Adv.Pieces {
			l, _ := k.Link("piece", p.ID)
			put(p.Group, Item{l, v.PieceSVG(p, "")})
		}
	case "finish":
		for _, f := range k.Adv.Finishes {
			l, _ := k.Link("finish", f.ID)
			put("", Item{l, sheet.FinishSVG(f, "")})
		}
	case "cloth":
		for _, c := range k.Adv.Cat.ClothList() {
			l, _ := k.Link("cloth", c.ID)
			put(c.Group, Item{l, ""})
		}
	case "structure":
		for _, l := range k.Things("structure") {
			put(k.Adv.Cat.Structures[l.ID].Class, Item{l, ""})
		}
	case "fibre":
		for _, l := range k.Things("fibre") {
			put(k.Adv.Cat.Fibres[l.ID].Family, Item{sheet.Link{Kind: l.Kind, ID: l.ID, Name: l.Name}, ""})
		}
	case "rule":
		for _, r := range k.Adv.Rules {
			l, _ := k.Link("rule", r.ID)
			put(r.Effect.String(), Item{l, ""})
		}
	case "term":
		for _, l := range k.Things("term") {
			put(strings.ToUpper(fibres.FoldName(l.Name)[:1]), Item{l, ""})
		}
	default:
		for _, l := range k.Things(kd.One) {
			put("", Item{l, ""})
		}
	}
	switch kd.One {
	case "cloth", "structure", "fibre", "term":
		sort.SliceStable(v.Groups, func(i, j int) bool { return v.Groups[i].Title < v.Groups[j].Title })
	}
	return v, nil
}
