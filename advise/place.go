package advise

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"tenter/advise/cut"
	"tenter/advise/plain"
	"tenter/advise/rules"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// Place is somewhere in a piece that is joined or finished in a way of its own.
type Place struct {
	Words []string // one of which is in the name of the seam or edge
	Skip  bool     // no seam is chosen for it
	Ways  []Way
	Cite
}

// Way is how it is done there, where its conditions hold.
type Way struct {
	Of        string // seam or edge
	When      *rules.Rule
	Preferred []string // ids, the best first
	Closed    bool     // its ends lie inside a band, a collar or a lining
	Say       string
}

// Sewn is a seam or an edge at its places in a piece.
type Sewn struct {
	Places []string `json:"places"`
	Kind   string   `json:"kind"` // seam or edge
	ID     string   `json:"id"`
	Name   string   `json:"name"`
	Layers int      `json:"layers"`                    // that lie under the needle
	MM     float64  `json:"under_needle_mm,omitempty"` // how thick they are together; 0 not known
	Say    string   `json:"say"`
}

// Under tells what lies under the needle: how many layers, and how thick.
func (s Sewn) Under(in units.System) string {
	out := "layers under the needle: " + strconv.Itoa(s.Layers)
	if s.MM > 0 {
		out += ", " + fibres.Quantity(s.MM, "mm", in)
	}
	return out
}

// places reads places.toml. Its conditions are in the words of rules, so that the facts
// must be known already.
func (l *loader) places(doc *plain.Doc) {
	ids := l.a.ids()
	for _, t := range doc.Tables("place") {
		p := Place{Words: t.Strings("words"), Skip: l.flag(t, "skip"), Cite: l.cite(t)}
		for _, x := range t.Tables("way") {
			w := Way{Of: l.word(x, "of", seamKinds), Preferred: x.Strings("take"), Closed: l.flag(x, "closed"), Say: x.String("say"), When: l.a.schema.ReadConditions(x)}
			for _, id := range w.Preferred {
				if !slices.Contains(ids[w.Of], id) {
					x.Fault("take", &fault.Fault{Kind: fault.BadData, Names: w.Of, What: fmt.Sprintf("no %s has the id %q", w.Of, id), Expected: "ids of what is taken", Mend: fault.DidYouMean(id, ids[w.Of], "")})
				}
			}
			p.Ways = append(p.Ways, w)
		}
		l.a.Places = append(l.a.Places, p)
	}
}

// sewnAt says how each seam and edge of the piece is sewn: by its place, else as the
// lists of seams and edges say first. Places that are sewn alike stand together.
func (a *Adviser) sewnAt(m MakeUp, c *rules.Case, seams, edges []Choice) []Sewn {
	out := []Sewn{}
	_, joins := a.Drafted(m.Piece)
	for _, j := range joins {
		s, ok := a.sewnHere(m, c, j, seams, edges)
		if !ok {
			continue
		}
		if i := slices.IndexFunc(out, func(x Sewn) bool { return x.ID == s.ID && x.Say == s.Say }); i >= 0 {
			out[i].Places = append(out[i].Places, j.Name)
			continue
		}
		s.Places = []string{j.Name}
		s.Layers, s.MM = a.underNeedleOf(m, s)
		out = append(out, s)
	}
	return out
}

// sewnHere is the way of one seam or edge.
func (a *Adviser) sewnHere(m MakeUp, c *rules.Case, j cut.Join, seams, edges []Choice) (Sewn, bool) {
	at := slices.IndexFunc(a.Places, func(p Place) bool {
		return slices.ContainsFunc(p.Words, func(w string) bool { return strings.Contains(j.Name, w) })
	})
	if at >= 0 {
		if a.Places[at].Skip {
			return Sewn{}, false
		}
		for i := range a.Places[at].Ways {
			if s, ok := a.wayOf(m, c, &a.Places[at].Ways[i]); ok {
				return s, true
			}
		}
	}
	kind, list := "edge", edges
	if j.Kind == cut.Seam {
		kind, list = "seam", seams
	}
	first, ok := FirstChoice(list)
	if !ok {
		return Sewn{}, false
	}
	return Sewn{Kind: kind, ID: first.ID, Name: first.Name, Say: cmp.Or(first.Why, first.Say)}, true
}

// wayOf takes the first of a way's seams that nothing speaks against.
func (a *Adviser) wayOf(m MakeUp, c *rules.Case, w *Way) (Sewn, bool) {
	if !mostly(w.When, c) {
		return Sewn{}, false
	}
	for _, id := range w.Preferred {
		s, _ := a.Seam(w.Of, id)
		if s == nil {
			continue
		}
		x := candidate{Choice{ID: s.ID, Name: s.Name, Say: s.Say}, withSeam(m, s)}
		if w.Closed || !a.score(x, w.Of).Refused() {
			return Sewn{Kind: w.Of, ID: s.ID, Name: s.Name, Say: w.Say}, true
		}
	}
	return Sewn{}, false
}

// withSeam is a make-up with that seam or edge alone.
func withSeam(m MakeUp, s *Seam) MakeUp {
	m.Seam, m.Edge = nil, nil
	if s.Kind == "seam" {
		m.Seam = s
	} else {
		m.Edge = s
	}
	return m
}

// maxUnderNeedle is the most that a needle goes through, in mm (common practice).
const maxUnderNeedle = 10

// underNeedleOf is how many layers lie under the needle there, and how thick they are
// together.
func (a *Adviser) underNeedleOf(m MakeUp, x Sewn) (layers int, mm float64) {
	s, _ := a.Seam(x.Kind, x.ID)
	if s == nil {
		return 0, 0
	}
	c := a.caseOf(withSeam(m, s))
	col := c.Column(a.place("make-up." + x.Kind + "-thickness"))
	if len(col.Num) == 0 {
		return s.Layers, 0
	}
	if mm = estimateOf(col.Num, "mm", nil, "", nil).Typical; mm > maxUnderNeedle {
		mm = 0 // a deep pile is sheared off the allowances
	}
	return s.Layers, math.Round(10*mm) / 10
}
