package rules

import (
	"slices"

	"tenter/fibres/fault"
)

// opposed finds two rules of one matter that can speak of one case and cannot both be done: one is
// for a seam, an edge, an interfacing or an act that the other is against or forbids, or one drops
// the step that the other adds or moves, or they move it past one another. A pair passes where its
// conditions surely exclude each other; the scratch case is written over.
func opposed(s *Schema, rules []*Rule, scratch *Case) fault.List {
	var found fault.List
	ofMatter := map[string][]*Rule{}
	for _, later := range rules {
		if later.Matter == "" {
			continue
		}
		for _, earlier := range ofMatter[later.Matter] {
			what := s.opposes(later, earlier)
			if what == "" || !s.together(earlier, later, scratch) {
				continue
			}
			found = append(found, &fault.Fault{Kind: fault.BadData, Where: later.Place,
				What:     what + " that " + earlier.Place + opposite(earlier, later) + ", and both can speak of one case of " + later.Matter,
				Expected: "rules of one matter that can both be done",
				Mend:     `add replaces = "` + earlier.ID + `", or narrow one of them until they part`})
		}
		ofMatter[later.Matter] = append(ofMatter[later.Matter], later)
	}
	return found
}

// opposes phrases what r does that cannot be done with what other does, or is "".
func (s *Schema) opposes(r, other *Rule) string {
	stops := func(r *Rule) bool { return r.Effect == Forbids || r.Effect == Against }
	if r.Parts.About == other.Parts.About && (r.Effect == For && stops(other) || stops(r) && other.Effect == For) {
		return says(r) + " " + s.object(r)
	}
	if r.Step == nil || other.Step == nil {
		return ""
	}
	a, b := r.Step, other.Step
	switch {
	case a.Drop != "" && slices.Contains([]string{b.Add, b.Move}, a.Drop):
		return "drops the step " + a.Drop
	case b.Drop != "" && a.Add == b.Drop:
		return "adds the step " + a.Add
	case b.Drop != "" && a.Move == b.Drop:
		return "moves the step " + a.Move
	case a.Move != "" && a.Move == b.Move && (a.After != "" && a.After == b.Before || a.Before != "" && a.Before == b.After):
		return "moves the step " + a.Move
	}
	return ""
}

// opposite phrases what earlier does with what later speaks of.
func opposite(earlier, later *Rule) string {
	if later.Parts.About == earlier.Parts.About && (earlier.Effect <= For && later.Effect <= For) {
		return " " + says(earlier)
	}
	switch e := earlier.Step; {
	case e.Drop != "":
		return " drops"
	case e.Add != "":
		return " adds"
	}
	return " moves the other way"
}

// together says that nothing proves that two rules cannot speak of one case.
func (s *Schema) together(a, b *Rule, scratch *Case) bool {
	both := &Rule{Parts: Parts{
		Written: slices.Concat(a.Parts.Written, b.Parts.Written),
		When:    slices.Concat(a.Parts.When, b.Parts.When),
		Lines:   slices.Concat(a.Parts.Lines, b.Parts.Lines),
	}}
	return s.neverFires(both, scratch) == nil
}
