package entry

import (
	"tenter/fibres"
	"tenter/page/sheet"
)

func hometest(v *View, id string) bool {
	t, ok := fibres.Tests[id]
	if !ok {
		return false
	}
	v.Name, v.Say, v.Caution, v.Test = t.Name, t.How, t.Caution, &t
	for p := range fibres.NumProperties {
		if fibres.Properties[p].Test == id {
			v.row("Settles", fibres.Properties[p].Name)
		}
	}
	if t.Kind != "" {
		v.Next = []Next{{v.To("/swatches"), "Do it on a swatch of yours"}}
	}
	v.Cite = sheet.Cited{Basis: string(fibres.Practice)}
	return true
}
