package main

import (
	"sort"
	"strings"

	"tenter/advise"
	"tenter/advise/rules"
	"tenter/fibres"
)

// tally counts, attribute by attribute, how far the things of one kind are
// known.
type tally struct {
	kind string
	list []*covered
}

// What is known of an attribute of one thing.
const (
	isUnknown = iota
	isDerived
	isRecorded
)

func (t *tally) count(attribute, id string, known int) {
	var c *covered
	for _, x := range t.list {
		if x.Attribute == attribute {
			c = x
		}
	}
	if c == nil {
		c = &covered{Kind: t.kind, Attribute: attribute}
		t.list = append(t.list, c)
	}
	c.Of++
	switch known {
	case isRecorded:
		c.Recorded++
	case isDerived:
		c.Derived++
	default:
		c.Unknown++
		c.lacking = append(c.lacking, id)
	}
}

func (t *tally) has(attribute, id string, recorded bool) {
	if recorded {
		t.count(attribute, id, isRecorded)
	} else {
		t.count(attribute, id, isUnknown)
	}
}

// knowledgeOf counts what is known and what is lacking.
func knowledgeOf(adv *advise.Adviser) knows {
	out := knows{Version: advise.Version, Counts: map[string]int{}, ByBasis: map[string]int{"published": 0, "memory": 0, "practice": 0, "derived": 0},
		OfCloths: map[string]int{"published": 0, "memory": 0, "practice": 0}, Figures: map[string]int{},
		RulesByBasis: map[string]int{"published": 0, "memory": 0, "practice": 0}, RulesByEffect: map[string]int{}, Oldest: []oldFact{}, Gaps: []gap{}}
	for _, k := range kinds {
		out.Counts[k.name] = len(k.list(adv))
	}
	perSource := map[string]*sourced{}
	for id, s := range adv.Cat.Sources {
		perSource[id] = &sourced{ID: id, Title: s.Title, Year: s.Year, Read: s.Read}
	}
	recorded := out.countFacts(adv.Cat.Facts(), perSource)
	out.countRules(adv.Rules, perSource)
	for _, id := range sortedKeys(perSource) {
		if s := perSource[id]; s.Facts+s.Rules > 0 {
			out.BySource = append(out.BySource, *s)
		}
	}
	sort.SliceStable(out.BySource, func(i, j int) bool {
		return out.BySource[i].Facts+out.BySource[i].Rules > out.BySource[j].Facts+out.BySource[j].Rules
	})

	for _, c := range adv.Cat.ClothList() { // what it is, how its right side is told, what it is for
		out.OfCloths[string(c.Basis)]++
	}
	cloths, derived := clothTally(adv)
	out.ByBasis["derived"] = derived
	out.cover(append([]*tally{cloths}, partTallies(adv, recorded)...))
	return out
}

// countFacts counts the recorded facts by their basis and source, and tells what is
// recorded: of/id/property.
func (out *knows) countFacts(facts []fibres.FactRow, perSource map[string]*sourced) map[string]bool {
	out.Facts = len(facts)
	recorded := map[string]bool{}
	var old []oldFact
	for _, f := range facts {
		out.ByBasis[f.CountsAs()]++
		if f.Of == "cloth" {
			out.OfCloths[f.CountsAs()]++
			given := f.Given.Figures()
			out.Figures[string(f.Basis)] += given
			out.Figures["practice"] += 3 - given
		}
		recorded[f.Of+"/"+f.ID+"/"+f.Property] = true
		if strings.HasPrefix(f.Property, "moisture eu-") { // hair has one allowance combed and another carded
			recorded[f.Of+"/"+f.ID+"/moisture eu"] = true
		}
		if s := perSource[f.Source]; s != nil {
			s.Facts++
			if s.Year != "" {
				old = append(old, oldFact{s.Year, f.Of, f.ID, f.Property, f.Say, f.Source})
			}
		}
	}
	out.Oldest = byYear(old)
	return recorded
}

// countRules counts the rules by their basis, effect and source.
func (out *knows) countRules(list []*rules.Rule, perSource map[string]*sourced) {
	for _, r := range list {
		out.RulesByBasis[r.Basis]++
		out.RulesByEffect[r.Effect.String()]++
		for _, id := range r.Sources {
			if s := perSource[id]; s != nil {
				s.Rules++
			}
		}
	}
}

// partTallies are the tallies of fibres and structures, of treatments, and of what advice is made of.
func partTallies(adv *advise.Adviser, recorded map[string]bool) []*tally {
	var tallies []*tally
	for _, k := range []struct {
		kind       string
		ids        []string
		attributes []string
	}{
		{"fibre", sortedKeys(adv.Cat.Fibres), []string{"density", "moisture eu", "moisture us", "dots", "pressing-limit", "elongation", "recovery 5"}},
		{"structure", sortedKeys(adv.Cat.Structures), []string{"bulk", "fray", "stretch", "hand"}},
	} {
		t := &tally{kind: k.kind}
		for _, id := range k.ids {
			for _, at := range k.attributes {
				t.has(at, id, recorded[k.kind+"/"+id+"/"+at])
			}
		}
		tallies = append(tallies, t)
	}
	treatments := &tally{kind: "treatment"}
	effect := map[string]bool{}
	for _, f := range adv.Cat.Facts() {
		if f.Of == "treatment" {
			effect[f.ID] = true
		}
	}
	for _, id := range sortedKeys(adv.Cat.Treatments) {
		treatments.has("any effect", id, effect[id])
	}
	return append(tallies, treatments, pieceTally(adv), seamTally(adv), interfacingTally(adv))
}

// cover lists how far everything is known, and the gaps, the widest first.
func (out *knows) cover(tallies []*tally) {
	for _, t := range tallies {
		for _, c := range t.list {
			out.Coverage = append(out.Coverage, *c)
			if c.Unknown > 0 {
				out.Gaps = append(out.Gaps, gap{c.Kind, c.Attribute, c.Of, c.Unknown, c.lacking})
			}
		}
	}
	sort.SliceStable(out.Gaps, func(i, j int) bool {
		a, b := out.Gaps[i], out.Gaps[j]
		return a.Lacking*b.Of > b.Lacking*a.Of
	})
}

// clothTally counts the properties of cloths, and how many of them are derived.
func clothTally(adv *advise.Adviser) (*tally, int) {
	t := &tally{kind: "cloth"}
	derived := 0
	for _, c := range adv.Cat.ClothList() {
		s := fibres.Subject{Cloth: c}
		for p := range fibres.NumProperties {
			known := isRecorded
			switch e := adv.Cat.Estimate(s, p); {
			case !e.Known():
				known = isUnknown
			case e.Basis == fibres.Derived:
				known = isDerived
				derived++
			}
			t.count(p.String(), c.ID, known)
		}
		t.has("content", c.ID, len(c.Content) > 0)
		t.has("right side", c.ID, c.RightSide != "")
		t.has("used for", c.ID, len(c.UsedFor) > 0)
		t.has("confused with", c.ID, len(c.ConfusedWith) > 0)
		for _, d := range []string{"warp", "weft"} {
			known := isUnknown
			if e, ok := adv.Cat.Shrink(s, d, "later-wash"); ok {
				known = isDerived
				if e.Basis != fibres.Derived {
					known = isRecorded
				}
			}
			t.count("shrink-"+d+" later", c.ID, known)
		}
		if adv.NeedleFor(s) != nil {
			t.count("needle", c.ID, isDerived)
		} else {
			t.count("needle", c.ID, isUnknown)
		}
	}
	return t, derived
}

// pieceTally counts which pieces ask for what.
func pieceTally(adv *advise.Adviser) *tally {
	t := &tally{kind: "piece"}
	for _, p := range adv.Pieces {
		t.has("demands", p.ID, len(p.Demands) > 0)
		t.has("parts", p.ID, len(p.Parts) > 0)
		t.has("seam lengths", p.ID, len(p.Seams) > 0)
		t.has("hang", p.ID, p.Hang > 0)
	}
	return t
}

func seamTally(adv *advise.Adviser) *tally {
	t := &tally{kind: "seam"}
	for _, s := range adv.Seams {
		t.has("fray held", s.ID, s.FrayHeld >= 0)
		t.has("curve", s.ID, s.Curve >= 0)
		t.has("mass", s.ID, s.MassHigh > 0)
		t.has("allowance", s.ID, s.AllowanceHigh > 0)
		t.has("stitch", s.ID, s.Stitch != "")
	}
	return t
}

func interfacingTally(adv *advise.Adviser) *tally {
	t := &tally{kind: "interfacing"}
	for _, x := range adv.Interfacings {
		t.has("mass", x.ID, x.MassHigh > 0)
		t.has("shell mass", x.ID, x.ShellMassHigh > 0)
		t.has("hand", x.ID, x.Hand >= 0)
		t.has("wash", x.ID, x.Wash >= 0)
		if x.Attach != "sew" {
			t.has("heat", x.ID, x.HeatHigh > 0)
		}
	}
	return t
}
