// Package chart is the map: where cloths lie by what they weigh and how they
// bend.
package chart

import (
	"embed"
	"sort"

	"tenter/fibres"
	"tenter/page/address"
	"tenter/page/picture"
	"tenter/page/question"
	"tenter/page/sheet"
)

//go:embed chart.tmpl
var files embed.FS

// Page lies at /map.
var Page = sheet.Page{Pattern: "/map", Files: files, Template: "chart.tmpl", Make: build}

// View is the map with its filter, and the same as a list.
type View struct {
	sheet.Sheet
	Fibres, Sorts []sheet.Option
	Cloths        []sheet.Link
	Cloth         string
	Picture       *sheet.Drawing
	Spots         []sheet.Spot // those that pass the filter
	Own           []sheet.Spot // the user's swatches on which both were measured
	N, Unknown    int
	Filtered      bool
	FieldErrors   question.FieldErrors
}

// maxOwn is how many swatches the map bears.
const maxOwn = 300

// keyCloth is the cloth whose population is drawn as a box.
const keyCloth = "cloth"

func build(k *sheet.Site, a address.Ask) (sheet.View, error) {
	v := &View{Sheet: sheet.NewSheet(k, a, "/map", "The map of cloths"), Cloth: a.Get(keyCloth), Cloths: k.Things("cloth")}
	fibre, sorted := a.Get("fibre"), a.Get("sort")
	v.Filtered = fibre != "" || sorted != ""
	for _, l := range k.Things("fibre") {
		v.Fibres = append(v.Fibres, sheet.Option{Value: l.ID, Word: l.Name, Chosen: l.ID == fibre})
	}
	chosen := ""
	if v.Cloth != "" {
		s, err := k.Subject(v.Cloth)
		if err != nil {
			v.FieldErrors.Look(k, keyCloth, v.Cloth, err)
		} else if s.Cloth != nil {
			chosen = s.Cloth.ID
		}
	}
	groups := map[string]bool{}
	var spots []sheet.Spot
	for _, c := range k.Adv.Cat.ClothList() {
		groups[c.Group] = true
		l, _ := k.Link("cloth", c.ID)
		s := sheet.Spot{Link: l, Href: a.To(l.Path()), Mass: k.Adv.Cat.Estimate(fibres.Subject{Cloth: c}, fibres.Mass),
			Bending: k.Adv.Cat.Estimate(fibres.Subject{Cloth: c}, fibres.BendingLength), Chosen: c.ID == chosen}
		if !s.Mass.Known() || !s.Bending.Known() {
			v.Unknown++
			continue
		}
		s.Dim = (fibre != "" && !c.Has(fibre, 20)) || (sorted != "" && c.Group != sorted)
		spots = append(spots, s)
		if !s.Dim {
			v.Spots = append(v.Spots, s)
		}
	}
	v.N = len(v.Spots)
	for _, s := range k.OwnSubjects() {
		if len(v.Own) == maxOwn {
			break
		}
		x := sheet.Spot{Link: k.LinkOf(s), Mass: k.Adv.Cat.Estimate(*s, fibres.Mass), Bending: k.Adv.Cat.Estimate(*s, fibres.BendingLength), Swatch: true}
		if !picture.IsOwn(x.Mass) || !picture.IsOwn(x.Bending) {
			continue // a swatch of which nothing was measured lies where its name does
		}
		x.Href = a.To(x.Link.Path())
		v.Own = append(v.Own, x)
	}
	spots = append(spots, v.Own...)
	for g := range groups {
		v.Sorts = append(v.Sorts, sheet.Option{Value: g, Word: g, Chosen: g == sorted})
	}
	sort.Slice(v.Sorts, func(i, j int) bool { return v.Sorts[i].Word < v.Sorts[j].Word })
	v.Picture = sheet.DrawMap(a, spots)
	sort.SliceStable(v.Spots, func(i, j int) bool { return v.Spots[i].Bending.Typical < v.Spots[j].Bending.Typical })
	return v, nil
}
