package main

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"tenter/advise"
	"tenter/advise/rules"
	"tenter/fibres"
)

// ref names a thing of the knowledge by its kind and id.
type ref struct{ kind, id string }

// web is which thing points at which: a term at what it explains, a cloth at
// what it is taken for, a rule at what its conditions name. Read backwards it
// tells each thing who speaks of it.
type web struct {
	out, in map[ref][]ref
	byID    map[string][]ref // an id may be of a cloth and of its structure
	rules   map[string]*rules.Rule
	cat     *fibres.Catalogue
}

// webOf builds the web; nothing keeps it, as one is wanted for one answer.
func webOf(adv *advise.Adviser) *web {
	w := &web{out: map[ref][]ref{}, in: map[ref][]ref{}, byID: map[string][]ref{}, rules: map[string]*rules.Rule{}, cat: adv.Cat}
	known := func(kind string, ids ...string) {
		for _, id := range ids {
			w.byID[id] = append(w.byID[id], ref{kind, id})
		}
	}
	for _, c := range adv.Cat.ClothList() {
		known("cloth", c.ID)
	}
	for _, t := range things(adv) {
		if t.kind != "rule" && t.kind != "source" { // nobody points at these by id alone
			known(t.kind, t.id)
		}
	}
	for _, c := range adv.Cat.ClothList() {
		for _, x := range c.ConfusedWith {
			w.join(ref{"cloth", c.ID}, ref{"cloth", x})
		}
	}
	for _, id := range sortedKeys(adv.Cat.Terms) {
		for _, x := range adv.Cat.Terms[id].SeeAlso {
			for _, to := range w.byID[x] {
				w.join(ref{"term", id}, to)
			}
		}
	}
	for _, r := range adv.Rules {
		w.rules[r.ID] = r
		for _, to := range w.named(r) {
			w.join(ref{"rule", r.ID}, to)
		}
	}
	return w
}

func (w *web) join(from, to ref) {
	if from == to || slices.Contains(w.out[from], to) {
		return
	}
	w.out[from] = append(w.out[from], to)
	w.in[to] = append(w.in[to], from)
}

// kindsOfFact says of which kinds the words of a condition on a fact are ids,
// by the last part of the fact's name.
var kindsOfFact = map[string][]string{"cloth": {"cloth"}, "structure": {"structure"}, "fibre": {"fibre"}, "treatment": {"treatment"},
	"piece": {"piece"}, "finish": {"finish"}, "seam": {"seam"}, "edge": {"edge"}, "interfacing": {"interfacing"}}

// named lists the things that the conditions of a rule name.
func (w *web) named(r *rules.Rule) []ref {
	var out []ref
	for _, c := range r.Parts.When {
		last := c.Fact[strings.LastIndex(c.Fact, ".")+1:]
		words := strings.TrimPrefix(strings.Trim(c.Words, `"`), "not ")
		for _, word := range strings.Split(words, " or ") {
			for _, to := range w.byID[strings.TrimSpace(word)] {
				if slices.Contains(kindsOfFact[last], to.kind) && !slices.Contains(out, to) {
					out = append(out, to)
				}
			}
		}
	}
	return out
}

// related is what points at a thing and what it points at, by kind.
type related map[string][]string

// of gathers both directions of a thing.
func (w *web) of(kind, id string) related {
	out := related{}
	for _, list := range [][]ref{w.out[ref{kind, id}], w.in[ref{kind, id}]} {
		for _, r := range list {
			if !slices.Contains(out[r.kind], r.id) {
				out[r.kind] = append(out[r.kind], r.id)
			}
		}
	}
	for _, same := range w.byID[id] { // the cloth velveteen and the structure velveteen
		if same.kind != kind && !slices.Contains(out[same.kind], id) {
			out[same.kind] = append(out[same.kind], id)
		}
	}
	for k := range out {
		sort.Strings(out[k])
	}
	return out
}

// ofCloth gathers what speaks of a cloth: of its name, or of its structure,
// its treatments or a fibre that it holds at least a fifth of. A rule that names
// one of these but can never hold for the cloth, as shell or as lining, is left out.
func (w *web) ofCloth(c *fibres.Cloth) related {
	out := w.of("cloth", c.ID)
	out["rule"] = slices.DeleteFunc(out["rule"], func(id string) bool { return !w.mayHold(id, c) })
	add := func(kind, id string) { // what names the cloth itself stays in front
		var more []string
		for _, r := range w.in[ref{kind, id}] {
			if r.kind == "rule" && !slices.Contains(out["rule"], r.id) && w.mayHold(r.id, c) {
				more = append(more, r.id)
			}
		}
		sort.Strings(more)
		if len(more) > 0 {
			out["rule"] = append(out["rule"], more...)
		}
	}
	add("structure", c.Structure.ID)
	for _, t := range c.Treatments {
		add("treatment", t.ID)
	}
	for _, p := range c.Content {
		if p.Share.Typical >= 20 {
			add("fibre", p.Fibre.ID)
		}
	}
	return out
}

// mayHold tells whether some layer that a rule speaks of can be the cloth, by what the
// cloth is: its name, group, structure, treatments and fibres.
func (w *web) mayHold(rule string, c *fibres.Cloth) bool {
	r := w.rules[rule]
	if r == nil {
		return false
	}
	for _, layer := range []string{"shell.", "lining."} {
		named, holds := false, true
		for _, cond := range r.Parts.When {
			fact, ok := strings.CutPrefix(cond.Fact, layer)
			if !ok {
				continue
			}
			if fact == "nap" { // most rules on raised cloth name its fibres, which smooth cloth has too
				words := strings.Replace(strings.Trim(cond.Words, `"`), "at least one-way", "one-way or pile", 1)
				holds = holds && (strings.HasPrefix(words, "not ") || slices.ContainsFunc(w.naps(c), func(n string) bool {
					return slices.Contains(strings.Split(words, " or "), n)
				}))
				continue
			}
			is := identity(c, fact)
			if is == nil {
				continue
			}
			words, not := strings.CutPrefix(strings.Trim(cond.Words, `"`), "not ")
			found := slices.ContainsFunc(strings.Split(words, " or "), func(x string) bool { return slices.Contains(is, strings.TrimSpace(x)) })
			named = named || !not
			holds = holds && found != not
		}
		if named && holds {
			return true
		}
	}
	return false
}

// naps are the words for the nap that a cloth may have.
func (w *web) naps(c *fibres.Cloth) []string {
	e := w.cat.Estimate(fibres.Subject{Cloth: c}, fibres.Nap)
	if !e.Known() {
		return fibres.NapScale
	}
	return fibres.NapScale[int(e.Low) : int(e.High)+1]
}

// identity is what a cloth is by a fact that needs no measuring; nil for other facts.
func identity(c *fibres.Cloth, fact string) []string {
	out := []string{""}
	switch fact {
	case "cloth":
		out = []string{c.ID}
	case "structure":
		out = []string{c.Structure.ID}
	case "class":
		out = []string{c.Structure.Class}
	case "group":
		out = []string{c.Group}
	case "treatment":
		for _, t := range c.Treatments {
			out = append(out, t.ID)
		}
	case "fibre", "family":
		for _, p := range c.Content {
			if p.Share.Typical < 20 && (p.Fibre.ID != "elastane" || p.Share.Typical == 0) {
				continue
			}
			out = append(out, map[string]string{"fibre": p.Fibre.ID, "family": p.Fibre.Family}[fact])
		}
	default:
		return nil
	}
	return out
}

// relatedShown is how many of one kind are printed; --json has all.
const relatedShown = 12

// rows prints what is related, a line for each kind.
func (r related) rows() [][]string {
	var out [][]string
	for _, k := range []string{"term", "cloth", "fibre", "structure", "treatment", "piece", "finish", "seam", "edge", "interfacing", "rule"} {
		list := r[k]
		if len(list) == 0 {
			continue
		}
		label := map[bool]string{true: "see also " + k, false: "see also " + k + "s"}[len(list) == 1]
		if k == "rule" {
			label = "rules that name it"
		}
		text := strings.Join(list[:min(relatedShown, len(list))], ", ")
		if more := len(list) - relatedShown; more > 0 {
			text += fmt.Sprintf(" … and %d more", more)
		}
		out = append(out, []string{label, text})
	}
	return out
}
