package entry

import (
	"strings"

	"tenter/page/picture"
)

func structure(v *View, id string) bool {
	s := v.Adv.Cat.Structures[id]
	if s == nil {
		return false
	}
	v.Name, v.Also, v.Say = s.Name, s.Synonyms, s.Definition
	v.row("Class", s.Class)
	if plan := v.Adv.Cat.Weaves[s.Weave]; plan != "" {
		v.Picture = picture.Weave(plan, "Point paper of "+s.Name+": a filled square is the warp on top")
		v.Caption = "On point paper: a filled square is the warp on top. One repeat is outlined."
		v.row("Lift plan", strings.ReplaceAll(plan, ";", " / ")+" (bottom pick first, 1 is warp up)")
	}
	v.facts("structure", id)
	v.Cite, v.Locator = v.Sheet.Cite(string(s.Basis), []string{s.Source}), s.Locator
	return true
}

func treatment(v *View, id string) bool {
	t := v.Adv.Cat.Treatments[id]
	if t == nil {
		return false
	}
	v.Name, v.Also, v.Say = t.Name, t.Synonyms, t.Definition
	v.facts("treatment", id)
	v.Cite, v.Locator = v.Sheet.Cite(string(t.Basis), []string{t.Source}), t.Locator
	return true
}
