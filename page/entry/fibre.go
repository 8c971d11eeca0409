package entry

import "tenter/fibres"

func fibre(v *View, id string) bool {
	f := v.Adv.Cat.Fibres[id]
	if f == nil {
		return false
	}
	v.Name, v.Also, v.Caution = f.Name, f.Synonyms, f.Caution
	v.row("Family", f.Family)
	v.row("US name", f.USName)
	if f.Felts >= 0 {
		v.row("Felts", fibres.FeltsScale[f.Felts])
	}
	v.row("Burning", f.Burn)
	v.row("Hurt by", f.Hurts)
	v.facts("fibre", id)
	v.Cite, v.Locator = v.Sheet.Cite(string(f.Basis), []string{f.Source}), f.Locator
	return true
}
