package entry

import (
	"slices"

	"tenter/page/sheet"
	"tenter/page/words"
)

// A source that very much rests on shows only the first of each property,
// unless one is asked for.
const (
	maxFacts = 24
	keyShow  = "show"
)

func source(v *View, id string) bool {
	s := v.Adv.Cat.Sources[id]
	if s == nil {
		return false
	}
	v.Name = s.Title
	if s.Author != "none" {
		v.row("Author", s.Author)
	}
	v.row("Year", s.Year)
	v.row("Sort", s.Kind)
	v.row("Licence", s.Licence)
	if s.Kind != "practice" {
		v.row("Read here", yesNo(s.Read))
	}
	v.row("Seen", s.Seen)
	v.row("Note", s.Note)
	v.row("Id", s.ID)
	at := map[string]int{}
	for _, f := range v.FactsFrom(id) {
		n, ok := at[f.Property]
		if !ok {
			n = len(v.Rests)
			at[f.Property] = n
			v.Rests = append(v.Rests, Rest{Title: words.FactWords(f.Property)})
		}
		l, _ := v.Link(f.Of, f.ID)
		v.Rests[n].Facts = append(v.Rests[n].Facts, RestFact{l, v.InUnits(f.Say)})
		v.Rests[n].N++
	}
	for i := range v.Rests {
		if r := &v.Rests[i]; r.N > maxFacts {
			r.More, r.Open = v.With(keyShow, r.Title), v.Get(keyShow) == r.Title
			if !r.Open {
				r.Facts = r.Facts[:maxFacts/3]
			}
		}
	}
	var rules []sheet.Link
	for _, r := range v.Adv.Rules {
		if slices.Contains(r.Sources, id) {
			l, _ := v.Link("rule", r.ID)
			rules = append(rules, l)
		}
	}
	v.rest("rules", rules)
	things := v.Adv.ThingsFrom(id)
	for _, kd := range sheet.Kinds {
		var links []sheet.Link
		for _, id := range things[kd.Many] {
			if l, ok := v.Link(kd.One, id); ok {
				links = append(links, l)
			}
		}
		v.rest(kd.Many, links)
	}
	return true
}

func (v *View) rest(title string, links []sheet.Link) {
	if len(links) > 0 {
		v.Rests = append(v.Rests, Rest{Title: title, Links: links, N: len(links)})
	}
}
