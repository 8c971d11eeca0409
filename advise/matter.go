package advise

import "slices"

// Matter is what a piece of advice is about. Of several that speak on one matter,
// one is enough.
type Matter struct {
	ID, Name string
	About    string // one of [Abouts]
	Note     string
}

// Abouts are the words for what decides whether a make-up is any good, as answers
// say them; "work" is how it is done and decides nothing.
var Abouts = []string{"fall", "body", "weight", "show-through", "fray", "stretch", "crease", "slide", "bulk", "warmth", "wash", "shrink",
	"nap", "heat", "strength", "skin", "light", "water", "safety", "colour", "looks", "work"}

// matters reads matters.csv.
func (l *loader) matters() {
	seen := map[string]bool{}
	for _, r := range l.rows("matters.csv", "id", "name", "about", "note") {
		id, bad := r.Cell("id").ID()
		l.found.Add(bad)
		if seen[id] {
			l.found.Add(r.Cell("id").Fault("id \""+id+"\" is there twice", "each id once", "rename one of them"))
		}
		seen[id] = true
		_, _, bad = r.Cell("about").Word(Abouts)
		l.found.Add(bad)
		m := Matter{ID: id, Name: r.Cell("name").Text, About: r.Cell("about").Text, Note: r.Cell("note").Text}
		l.a.Matters = append(l.a.Matters, m)
	}
}

// about is the word for the matter of an id, or for a word itself; "" where there
// is none.
func (a *Adviser) about(id string) string {
	for i := range a.Matters {
		if a.Matters[i].ID == id {
			return a.Matters[i].About
		}
	}
	if slices.Contains(Abouts, id) {
		return id
	}
	return ""
}

// working is the word for what is only how the work is done.
const working = "work"

// demandMatters are what a demand is about that does not say it, by its id; an id
// that is such a word itself stands for it.
var demandMatters = map[string]string{"mass": "weight", "slip": "slide", "thickness": "bulk", "wear": "strength", "sunfast": "light", "wind": "warmth"}

// matterIDs lists the ids, for the reading of rules.
func (a *Adviser) matterIDs() []string {
	out := []string{}
	for _, m := range a.Matters {
		out = append(out, m.ID)
	}
	return out
}
