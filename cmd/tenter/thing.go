package main

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/yarn"
)

// thing is anything that is no cloth, as it is shown.
type thing struct {
	Version int         `json:"version"`
	Kind    string      `json:"kind"`
	ID      string      `json:"id"`
	Name    string      `json:"name"`
	Also    []string    `json:"also_called,omitempty"`
	Say     string      `json:"say,omitempty"`
	Fields  [][2]string `json:"fields,omitempty"`
	SeeAlso []string    `json:"see_also,omitempty"`
	Related related     `json:"related,omitempty"`
	Basis   string      `json:"basis,omitempty"`
	Sources []string    `json:"sources,omitempty"`
	Locator string      `json:"locator,omitempty"`
	ownWords
	show func(*app, *advise.Adviser) error
}

func (t *thing) field(label, text string) {
	if text != "" {
		t.Fields = append(t.Fields, [2]string{label, text})
	}
}

// answersTo reports whether a name is one of a cloth's own.
func answersTo(c *fibres.Cloth, name string) bool {
	k := fibres.FoldName(name)
	return slices.ContainsFunc(c.Names(), func(n string) bool { return fibres.FoldName(n) == k })
}

// findExact finds the thing, of any kind but cloth, that has the very name.
func findExact(adv *advise.Adviser, name string) *thing {
	for _, t := range things(adv) {
		if t.answers(name) {
			return t.make()
		}
	}
	return nil
}

// answers reports whether a name is the very id, name or synonym of a thing.
func (c candidate) answers(name string) bool {
	k := fibres.FoldName(name)
	return k != "" && (fibres.FoldName(c.id) == k || fibres.FoldName(c.name) == k || slices.ContainsFunc(c.also, func(n string) bool { return fibres.FoldName(n) == k }))
}

// findOfKind finds what is named with its kind in front, "structure leno", where the
// name alone is a cloth's too.
func findOfKind(adv *advise.Adviser, name string) *thing {
	kind, rest, ok := strings.Cut(strings.TrimSpace(name), " ")
	if !ok {
		return nil
	}
	for _, t := range things(adv) {
		if t.kind == strings.ToLower(kind) && t.answers(rest) {
			return t.make()
		}
	}
	return nil
}

// namesakes lists the things other than cloths that have the very name, as `tenter show` takes them.
func namesakes(adv *advise.Adviser, name string) []string {
	var out []string
	for _, t := range things(adv) {
		if t.kind != "rule" && t.kind != "source" && t.answers(name) {
			out = append(out, t.kind+" "+t.id)
		}
	}
	return out
}

// findThing finds a thing by its very name or by the only clear beginning.
func findThing(adv *advise.Adviser, name string) *thing {
	if t := findExact(adv, name); t != nil {
		return t
	}
	k := fibres.FoldName(name)
	var found []candidate
	for _, t := range things(adv) {
		if strings.HasPrefix(fibres.FoldName(t.id), k) || strings.HasPrefix(fibres.FoldName(t.name), k) {
			found = append(found, t)
		}
	}
	if len(found) == 1 && len(k) > 2 {
		return found[0].make()
	}
	return nil
}

// candidate is a thing that is only put together when it is shown.
type candidate struct {
	kind, id, name string
	also           []string
	make           func() *thing
}

// things lists what can be shown besides cloths; fibres first, since their
// names begin many others.
func things(adv *advise.Adviser) []candidate {
	var out []candidate
	add := func(kind, id, name string, also []string, f func() *thing) {
		out = append(out, candidate{kind, id, name, also, f})
	}
	for _, id := range sortedKeys(adv.Cat.Fibres) {
		f := adv.Cat.Fibres[id]
		add("fibre", id, f.Name, append(slices.Clip(f.Synonyms), f.USName), func() *thing { return fibreThing(adv, f) })
	}
	for _, id := range sortedKeys(adv.Cat.Structures) {
		s := adv.Cat.Structures[id]
		add("structure", id, s.Name, s.Synonyms, func() *thing { return structureThing(adv, s) })
	}
	for _, id := range sortedKeys(adv.Cat.Treatments) {
		t := adv.Cat.Treatments[id]
		add("treatment", id, t.Name, t.Synonyms, func() *thing { return treatmentThing(adv, t) })
	}
	for _, p := range adv.Pieces {
		add("piece", p.ID, p.Name, p.Synonyms, func() *thing { return pieceThing(p) })
	}
	for _, f := range adv.Finishes {
		add("finish", f.ID, f.Name, f.Synonyms, func() *thing { return finishThing(f) })
	}
	for _, s := range adv.Seams {
		add(s.Kind, s.ID, s.Name, s.Synonyms, func() *thing { return seamThing(adv, s) })
	}
	for _, x := range adv.Interfacings {
		add("interfacing", x.ID, x.Name, x.Synonyms, func() *thing { return interfacingThing(adv, x) })
	}
	for _, r := range adv.Rules {
		add("rule", r.ID, r.ID, nil, func() *thing {
			return &thing{Kind: "rule", ID: r.ID, Name: r.ID, show: func(a *app, adv *advise.Adviser) error { return a.printRule(adv, r) }}
		})
	}
	for _, id := range sortedKeys(adv.Cat.Terms) {
		t := adv.Cat.Terms[id]
		add("term", id, t.Name, nil, func() *thing { return termThing(t) })
	}
	for _, id := range sortedKeys(adv.Cat.Sources) {
		add("source", id, adv.Cat.Sources[id].Title, nil, func() *thing {
			return &thing{Kind: "source", ID: id, Name: adv.Cat.Sources[id].Title, show: func(a *app, _ *advise.Adviser) error { return a.source(id) }}
		})
	}
	return out
}

func sortedKeys[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

func cited(t *thing, c fibres.Cite) *thing {
	t.Version, t.Basis, t.Sources, t.Locator = advise.Version, string(c.Basis), []string{c.Source}, c.Locator
	return t
}

func citedAll(t *thing, c advise.Cite) *thing {
	t.Version, t.Basis, t.Sources = advise.Version, c.Basis, c.Sources
	return t
}

// facts puts the recorded facts of a thing into its fields.
func facts(adv *advise.Adviser, t *thing, of string) {
	rows := adv.Cat.FactsOf(of, t.ID)
	named := map[string]int{}
	for _, f := range rows {
		named[f.Name()+f.Source]++
	}
	for _, f := range rows {
		say := f.Say
		if named[f.Name()+f.Source] > 1 && f.Locator != "" { // one source, two figures: which of them is which
			say += " (" + f.Locator + ")"
		}
		t.field(f.Name(), say+" "+cite(f.Rests(), []string{f.Source}))
	}
}

// cloths names the cloths that satisfy a test.
func cloths(adv *advise.Adviser, is func(*fibres.Cloth) bool) string {
	var out []string
	for _, c := range adv.Cat.ClothList() {
		if is(c) {
			out = append(out, c.ID)
		}
	}
	return strings.Join(out, ", ")
}

func fibreThing(adv *advise.Adviser, f *fibres.Fibre) *thing {
	t := &thing{Kind: "fibre", ID: f.ID, Name: f.Name, Also: f.Synonyms}
	t.field("US name", f.USName)
	t.field("family", f.Family)
	if f.Felts >= 0 {
		t.field("felts", fibres.FeltsScale[f.Felts])
	}
	t.field("burning", f.Burn)
	t.field("hurt by", f.Hurts)
	t.field("caution", f.Caution)
	facts(adv, t, "fibre")
	t.field("cloths", cloths(adv, func(c *fibres.Cloth) bool { return c.Has(f.ID, 50) }))
	return cited(t, f.Cite)
}

func structureThing(adv *advise.Adviser, s *fibres.Structure) *thing {
	t := &thing{Kind: "structure", ID: s.ID, Name: s.Name, Also: s.Synonyms, Say: s.Definition}
	t.field("class", s.Class)
	if plan := adv.Cat.Weaves[s.Weave]; plan != "" {
		t.field("lift plan", plan+" (bottom pick first, 1 is warp up)")
		if w, err := yarn.ParseLiftPlan(plan); err == nil {
			t.field("longest float", fmt.Sprintf("%d threads on the face (computed)", w.Floats().LongestFace()))
			t.field("crossing firmness", fmt.Sprintf("%s of the plain weave's 2 (computed)", fibres.Round(w.CrossingFirmness())))
		}
	}
	facts(adv, t, "structure")
	t.field("cloths", cloths(adv, func(c *fibres.Cloth) bool { return c.Structure == s }))
	return cited(t, s.Cite)
}

func treatmentThing(adv *advise.Adviser, x *fibres.Treatment) *thing {
	t := &thing{Kind: "treatment", ID: x.ID, Name: x.Name, Also: x.Synonyms, Say: x.Definition}
	facts(adv, t, "treatment")
	t.field("cloths", cloths(adv, func(c *fibres.Cloth) bool { return slices.Contains(c.Treatments, x) }))
	return cited(t, x.Cite)
}

func pieceThing(p *advise.Piece) *thing {
	t := &thing{Kind: "piece", ID: p.ID, Name: p.Name, Also: p.Synonyms, Say: p.Say}
	t.field("cut", p.Shape+", carried by "+p.Support)
	t.field("hangs", p.Hang.String())
	t.field("has", strings.Join(p.Features, ", "))
	t.field("faces seen", fmt.Sprint(p.Faces))
	if p.Wearer != "none" {
		t.field("worn by", p.Wearer)
	}
	t.field("washed", p.Wash)
	for _, d := range p.Demands {
		t.field("asks "+d.ID, demandText(d)+". "+d.Say+" "+cite(d.Basis, d.Sources))
	}
	for _, x := range p.Parts {
		t.field("part", fmt.Sprintf("%d × %s, %s by %s, %s", x.Count, x.Name, x.Width, x.Height, x.Shape))
	}
	for _, s := range p.Seams {
		t.field("seam", fmt.Sprintf("%s, %s", s.Name, s.Length))
	}
	return citedAll(t, p.Cite)
}

// demandText is a demand's ideal and limit in words.
func demandText(d advise.Demand) string {
	if d.Words[0] != "" {
		if d.Words[0] == d.Words[1] {
			return d.Fact + " " + d.Words[0]
		}
		return d.Fact + " " + d.Words[0] + " to " + d.Words[1]
	}
	return fmt.Sprintf("%s %s to %s %s (at the limit %s to %s)", d.Fact, fibres.Round(d.Ideal.Low), fibres.Round(d.Ideal.High), d.Unit, fibres.Round(d.Limit.Low), fibres.Round(d.Limit.High))
}

func finishThing(f *advise.Finish) *thing {
	t := &thing{Kind: "finish", ID: f.ID, Name: f.Name, Also: f.Synonyms, Say: f.Say}
	joined := map[string]string{"none": "", "free": ", hung loose together", "edge": ", joined along the edge", "fused": ", fused all over", "quilted": ", quilted"}[f.Joined]
	t.field("layers", fmt.Sprintf("%d%s; edge %s", f.Layers, joined, f.Edge))
	t.field("reversible", map[bool]string{true: "yes", false: "no"}[f.Reversible])
	if f.Allowance > 0 {
		t.field("allowance", fmt.Sprintf("%.0f mm", float64(f.Allowance)*10))
	}
	for _, d := range f.Demands {
		t.field("asks "+d.ID, demandText(d)+". "+d.Say)
	}
	for i, s := range f.Steps {
		t.field(fmt.Sprintf("step %d", i+1), s.Say)
	}
	return citedAll(t, f.Cite)
}

func seamThing(adv *advise.Adviser, s *advise.Seam) *thing {
	t := &thing{Kind: s.Kind, ID: s.ID, Name: s.Name, Also: s.Synonyms, Say: s.Say}
	if s.FrayHeld >= 0 {
		t.field("holds fray", "up to "+fibres.FrayScale[s.FrayHeld])
	}
	yes := map[bool]string{true: "yes", false: "no"}
	t.field("on sheers", yes[s.Sheer])
	if s.Curve >= 0 {
		t.field("on curves", advise.CurveScale[s.Curve])
	}
	t.field("reversible", yes[s.Reversible])
	t.field("layers", fmt.Sprint(s.Layers))
	if s.MassHigh > 0 {
		t.field("for cloth of", fmt.Sprintf("%.0f to %.0f g/m2", s.MassLow, s.MassHigh))
	}
	if s.AllowanceHigh > 0 {
		t.field("allowance", fmt.Sprintf("%.0f to %.0f mm", float64(s.AllowanceLow)*10, float64(s.AllowanceHigh)*10))
	}
	t.field("stitch", s.StitchWords())
	return citedAll(t, s.Cite)
}

func interfacingThing(adv *advise.Adviser, x *advise.Interfacing) *thing {
	t := &thing{Kind: "interfacing", ID: x.ID, Name: x.Name, Also: x.Synonyms, Say: x.Say}
	t.field("made as", x.Structure+", "+map[string]string{"fuse": "fused", "sew": "sewn in", "either": "fused or sewn in"}[x.Attach]+"; "+x.Role)
	if x.MassHigh > 0 {
		t.field("mass", fmt.Sprintf("%.0f to %.0f g/m2", x.MassLow, x.MassHigh))
	}
	if x.ShellMassHigh > 0 {
		t.field("for shells of", fmt.Sprintf("%.0f to %.0f g/m2", x.ShellMassLow, x.ShellMassHigh))
	}
	if x.HeatHigh > 0 {
		t.field("fused at", fmt.Sprintf("%.0f to %.0f °C, on a scrap first; iron and steam burn", x.HeatLow, x.HeatHigh))
	}
	if x.Hand >= 0 {
		t.field("hand", fibres.HandScale[x.Hand])
	}
	if x.Wash >= 0 {
		t.field("hottest wash", fibres.WashScale[x.Wash])
	}
	return citedAll(t, x.Cite)
}

func termThing(x *fibres.Term) *thing {
	t := &thing{Kind: "term", ID: x.ID, Name: x.Name, Say: x.Meaning, SeeAlso: x.SeeAlso}
	if x.Region != "both" {
		t.field("used in", "the "+x.Region)
	}
	t.field("trap", x.Trap)
	return cited(t, x.Cite)
}

// printThing prints a thing that is no cloth.
func (a *app) printThing(adv *advise.Adviser, t *thing) error {
	if t.show != nil {
		return t.show(a, adv)
	}
	t.Related = webOf(adv).of(t.Kind, t.ID)
	if a.json {
		return a.writeJSON(t)
	}
	a.para("", t.Name+" ("+t.Kind+" "+t.ID+")", 2)
	if t.Say != "" {
		a.para("  ", t.Say, 2)
	}
	var rows [][]string
	if len(t.Also) > 0 {
		rows = append(rows, []string{"also called", strings.Join(t.Also, ", ")})
	}
	for _, f := range t.Fields {
		rows = append(rows, []string{f[0], f[1]})
	}
	rows = append(rows, t.Related.rows()...)
	basis := strings.Trim(cite(t.Basis, t.Sources), "[]")
	if t.Locator != "" {
		basis += ", " + t.Locator
	}
	rows = append(rows, []string{"basis", basis})
	a.tabulate(2, rows)
	return nil
}
