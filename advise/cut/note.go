package cut

import (
	"fmt"
	"slices"
	"strings"

	"tenter/fibres/prose"
)

func (p *layerPlan) note(s string, args ...any) {
	p.notes = append(p.notes, note{layers: []string{p.layer.Name}, one: fmt.Sprintf(s, args...)})
}

// noteOf notes what may be true of several layers alike; {layer} stands for their names.
func (p *layerPlan) noteOf(one, several string) {
	p.notes = append(p.notes, note{[]string{p.layer.Name}, one, several})
}

// note is what a plan has to say of a layer: in words for one, and for several of which
// it is true.
type note struct {
	layers       []string
	one, several string
}

func (n note) String() string {
	if len(n.layers) > 1 && n.several != "" {
		return strings.ReplaceAll(n.several, "{layer}", prose.And(n.layers))
	}
	return strings.ReplaceAll(n.one, "{layer}", n.layers[0])
}

// merged says once what is noted of several layers.
func merged(notes []note) (out []string) {
	var each []note
	for _, n := range notes {
		if i := slices.IndexFunc(each, func(t note) bool { return t.one == n.one }); i >= 0 {
			each[i].layers = append(each[i].layers, n.layers...)
			continue
		}
		each = append(each, n)
	}
	for _, n := range each {
		out = append(out, n.String())
	}
	return out
}
