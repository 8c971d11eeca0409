package advise

import (
	"slices"
	"sort"
)

// ThingsFrom lists the ids of the things that rest on a source, by kind.
func (a *Adviser) ThingsFrom(source string) map[string][]string {
	out := map[string][]string{}
	add := func(kind, id string, sources ...string) {
		if slices.Contains(sources, source) {
			out[kind] = append(out[kind], id)
		}
	}
	for _, p := range a.Pieces {
		add("pieces", p.ID, p.Sources...)
		for _, d := range p.Demands {
			add("demands", p.ID+" "+d.ID, d.Sources...)
		}
	}
	for _, f := range a.Finishes {
		add("finishes", f.ID, f.Sources...)
	}
	for _, s := range a.Seams {
		add(s.Kind+"s", s.ID, s.Sources...)
	}
	for _, x := range a.Interfacings {
		add("interfacings", x.ID, x.Sources...)
	}
	for id, x := range a.Cat.Fibres {
		add("fibres", id, x.Source)
	}
	for id, x := range a.Cat.Structures {
		add("structures", id, x.Source)
	}
	for id, x := range a.Cat.Treatments {
		add("treatments", id, x.Source)
	}
	for id, x := range a.Cat.Cloths {
		add("cloths", id, x.Source)
	}
	for id, x := range a.Cat.Terms {
		add("terms", id, x.Source)
	}
	for k := range out {
		sort.Strings(out[k])
	}
	return out
}
