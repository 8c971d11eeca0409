package knowledge

import (
	"fmt"
	"slices"
	"strings"

	"tenter/advise"
	"tenter/advise/rules"
	"tenter/fibres"
	"tenter/kb"
	"tenter/kb/search"
)

// Docs describes everything that can be found: the catalogue's things, and what
// advice is made of.
func Docs(adv *advise.Adviser) []search.Doc {
	out := kb.Docs(adv.Cat.Unlearned()) // the index is of the reference, not of the user
	for i := range out {                // what shops say of a cloth
		if s := adv.StockOf(out[i].ID); out[i].Kind == "cloth" && s != nil {
			out[i].Words = append(append(out[i].Words, kb.OrderedGrades("price", advise.PriceScale, s.Price)...), kb.OrderedGrades("ease", advise.EaseScale, s.Ease)...)
			out[i].Rank = s.Common
		}
	}
	for _, p := range adv.Pieces {
		out = append(out, docOf("piece", p.ID, p.Name, p.Synonyms, pieceWords(p)...))
	}
	for _, f := range adv.Finishes {
		out = append(out, docOf("finish", f.ID, f.Name, f.Synonyms, finishWords(f)...))
	}
	for _, s := range adv.Seams {
		out = append(out, docOf(s.Kind, s.ID, s.Name, s.Synonyms, seamWords(s)...))
	}
	for _, x := range adv.Interfacings {
		d := docOf("interfacing", x.ID, x.Name, x.Synonyms, interfacingWords(x)...)
		if x.Role == "interfacing" && x.Structure != "net" { // others are of use for less
			d.Rank = 1
		}
		if x.Hand >= 0 {
			d.Words = kb.OrderedGrades("hand", fibres.HandScale, x.Hand)
		}
		out = append(out, d)
	}
	for _, r := range adv.Rules {
		d := docOf("rule", r.ID, r.Say, nil, ruleWords(adv, r)...)
		d.Words = topicWords(TopicOf(r))
		d.Rank = -len(r.When()) // what holds for more cloths comes first
		out = append(out, d)
	}
	return out
}

// topicWords are the made-up words of a rule's topic: washing is part of two.
func topicWords(topic string) []string {
	out := []string{kb.GradeWord("topic " + topic)}
	if topic == "care" || topic == "prewash" {
		out = append(out, kb.GradeWord("topic washing"))
	}
	return out
}

// docOf is a thing as it is found, with the sentences that are not empty.
func docOf(kind, id, name string, names []string, parts ...string) search.Doc {
	var text []string
	for _, p := range parts {
		if p = strings.TrimSpace(p); p != "" {
			text = append(text, strings.TrimSuffix(p, "."))
		}
	}
	return search.Doc{Kind: kind, ID: id, Name: name, Names: names, Text: strings.Join(text, ". ")}
}

func pieceWords(p *advise.Piece) []string {
	parts := []string{p.Say, p.Group, p.Shape, "carried by " + p.Support, strings.Join(p.Features, ", ")}
	if p.Wearer == "child" {
		parts = append(parts, "for a child")
	}
	if p.Stage {
		parts = append(parts, "for the stage")
	}
	for _, d := range p.Demands {
		parts = append(parts, d.Say)
	}
	return parts
}

func finishWords(f *advise.Finish) []string {
	parts := []string{f.Say, f.Edge + " edge"}
	if f.Lined {
		parts = append(parts, "lined")
	}
	if f.Reversible {
		parts = append(parts, "reversible, both sides show")
	}
	for _, s := range f.Steps {
		parts = append(parts, s.Say, s.Because)
	}
	return parts
}

func ruleWords(adv *advise.Adviser, r *rules.Rule) []string {
	parts := []string{r.Because, r.Effect.String(), strings.Replace(TopicOf(r), "prewash", "pre-wash, prewash, wash before cutting", 1)}
	for _, w := range r.When() {
		parts = append(parts, w.String(), strings.Join(namesAsked(adv, w), ", "))
	}
	return parts
}

// namesAsked lists the names of what a rule's condition asks for: who looks for jersey finds
// the rules on knits.
func namesAsked(adv *advise.Adviser, w rules.When) []string {
	if strings.HasPrefix(w.Words, "not ") {
		return nil
	}
	var out []string
	names := func(name string, more []string) { out = append(append(out, name), more...) }
	last := w.Fact[strings.LastIndex(w.Fact, ".")+1:]
	for _, word := range strings.Split(w.Words, " or ") {
		switch last {
		case "class":
			if word == "woven" { // nearly everything is
				continue
			}
			for _, s := range ofClass(adv, word) {
				names(s.Name, s.Synonyms)
			}
		case "nap":
			for _, s := range ofClass(adv, word) { // pile
				names(s.Name, s.Synonyms)
			}
		case "structure":
			if s := adv.Cat.Structures[word]; s != nil {
				names(s.Name, s.Synonyms)
			}
		case "fibre":
			if f := adv.Cat.Fibres[word]; f != nil {
				names(f.Name, filledNames(f.USName, f.Synonyms))
			}
		case "cloth":
			if c := adv.Cat.Cloths[word]; c != nil {
				names(c.Name, filledNames(c.USName, c.Synonyms))
			}
		}
	}
	return out
}

// ofClass are the structures of a class, by their ids.
func ofClass(adv *advise.Adviser, class string) (out []*fibres.Structure) {
	for _, s := range adv.Cat.Structures {
		if s.Class == class {
			out = append(out, s)
		}
	}
	slices.SortFunc(out, func(x, y *fibres.Structure) int { return strings.Compare(x.ID, y.ID) })
	return out
}

func filledNames(first string, more []string) []string {
	if first == "" {
		return more
	}
	return append([]string{first}, more...)
}

// seamWords says for which cloth a seam or edge is.
func seamWords(s *advise.Seam) []string {
	parts := []string{s.Say}
	if s.FrayHeld >= 0 {
		parts = append(parts, []string{"for cloth that does not fray", "for cloth that frays little", "for cloth that frays, stops fraying", "for cloth that frays badly, stops fraying"}[s.FrayHeld])
	}
	if s.Sheer {
		parts = append(parts, "for sheer and transparent cloth: chiffon, organza, georgette, voile")
	}
	if s.Reversible {
		parts = append(parts, "looks well on both sides, reversible, no wrong side")
	}
	if s.Curve >= 0 {
		parts = append(parts, []string{"not for curves", "for gentle curves", "for curves"}[s.Curve])
	}
	if s.MassHigh > 0 {
		parts = append(parts, bands(s.MassLow, s.MassHigh))
	}
	return append(parts, fmt.Sprintf("stitch %s", s.Stitch))
}

func interfacingWords(x *advise.Interfacing) []string {
	parts := []string{x.Say, x.Structure, map[string]string{"fuse": "fusible, ironed on", "sew": "sewn in", "either": "fused or sewn in"}[x.Attach], x.Role}
	if x.ShellMassHigh > 0 {
		parts = append(parts, bands(x.ShellMassLow, x.ShellMassHigh))
	}
	return parts
}

// bands says a range of mass in the usual words.
func bands(low, high float64) string {
	switch {
	case high <= 120:
		return "for light, fine cloth"
	case low >= 180:
		return "for heavy, thick cloth"
	case low >= 60 && high <= 350:
		return "for cloth of medium weight"
	}
	return ""
}
