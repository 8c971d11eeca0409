package entry

import (
	"strings"

	"tenter/page/address"
)

func rule(v *View, id string) bool {
	for _, r := range v.Adv.Rules {
		if r.ID != id {
			continue
		}
		v.Name, v.Say = strings.ReplaceAll(r.ID, "-", " "), r.Say
		for _, w := range r.When() {
			v.When = append(v.When, w.String())
		}
		v.row("Effect", r.Effect.String())
		v.row("Because", v.InUnits(r.Because))
		if s := r.Step; s != nil {
			step := ""
			for _, p := range [][2]string{{"add", s.Add}, {"move", s.Move}, {"drop", s.Drop}, {"say anew", s.Say}, {"after", s.After}, {"before", s.Before}} {
				if p[1] != "" {
					step += " " + p[0] + " " + p[1]
				}
			}
			v.row("In the order of work", strings.TrimSpace(step))
		}
		v.row("Written in", r.Place)
		for i, list := range [][]string{r.Fires, r.Quiet} {
			for _, text := range list {
				c := Case{Text: text, Fires: i == 0}
				if m, err := v.Adv.ParseCase(text); err == nil && m.Piece != nil && m.Shell != nil && m.Shell.Cloth != nil {
					c.Path = v.To("/check", address.Pairs(m)...)
				}
				v.Cases = append(v.Cases, c)
			}
		}
		v.Cite = v.Sheet.Cite(r.Basis, r.Sources)
		return true
	}
	return false
}

func term(v *View, id string) bool {
	t := v.Adv.Cat.Terms[id]
	if t == nil {
		return false
	}
	v.Name, v.Say = t.Name, t.Meaning
	if t.Region != "both" {
		v.row("Used in", "the "+t.Region)
	}
	v.row("Beware", t.Trap)
	v.Cite, v.Locator = v.Sheet.Cite(string(t.Basis), []string{t.Source}), t.Locator
	return true
}
