package advise

import (
	"fmt"
	"math"
	"slices"

	"tenter/advise/plain"
	"tenter/advise/rules"
	"tenter/fibres/fault"
)

// Pick is what makers usually take for a layer or a way of working, where its
// conditions hold: the cloths that a pattern would name, the seams of such a cloth.
// It orders what suits; it makes nothing suit.
type Pick struct {
	Of    string // one of [picked]
	When  *rules.Rule
	First []string // ids that come to mind first
	Also  []string // ids that are as right, and less usual
	Over  bool     // it is so particular that other picks count little beside it
	Say   string
	Cite
}

// picked are what picks are of.
var picked = []string{"shell", "lining", "interfacing", "seam", "edge"}

// How much a pick counts that comes to mind second, and one beside a pick that goes
// over it. Own judgement.
const (
	alsoCounts  = 0.75
	underCounts = 0.4
)

// picks reads picks.toml. Its conditions are in the words of rules, so that the facts
// must be known already.
func (l *loader) picks(doc *plain.Doc) {
	ids := l.a.ids()
	ids["shell"], ids["lining"] = ids["cloth"], ids["cloth"]
	for _, t := range doc.Tables("pick") {
		p := Pick{Of: l.word(t, "of", picked), First: t.Strings("first"), Also: t.Strings("also"), Say: t.String("say")}
		p.Over = l.flag(t, "over")
		p.When = l.a.schema.ReadConditions(t).Bare()
		p.Cite = l.cite(t)
		seen := map[string]bool{}
		for i, id := range slices.Concat(p.First, p.Also) {
			key := "first"
			if i >= len(p.First) {
				key = "also"
			}
			if known := slices.Contains(ids[p.Of], id) || id == noSupport && slices.Contains([]string{"interfacing", "lining"}, p.Of); !known {
				t.Fault(key, &fault.Fault{Kind: fault.BadData, Names: p.Of, What: fmt.Sprintf("no %s has the id %q", p.Of, id), Expected: "ids of what is picked", Mend: fault.DidYouMean(id, ids[p.Of], "")})
			}
			if seen[id] {
				t.Fault(key, &fault.Fault{Kind: fault.BadData, What: fmt.Sprintf("%q is there twice", id), Expected: "each id once", Mend: "leave one of them out"})
			}
			seen[id] = true
		}
		l.a.Picks = append(l.a.Picks, p)
	}
}

// picksFor are how surely makers take each candidate for a part of a make-up whose
// facts are in the case, from 0 to 1, by id; nil where nobody says.
func (a *Adviser) picksFor(c *rules.Case, of string) map[string]float64 {
	var out map[string]float64
	over := 0.0 // how surely one that goes over the others holds
	for _, wantOver := range []bool{true, false} {
		under := 1 - (1-underCounts)*over
		for i := range a.Picks {
			p := &a.Picks[i]
			if p.Of != of || p.Over != wantOver {
				continue
			}
			sure := held(p.When, c)
			if sure < may {
				continue
			}
			if wantOver {
				over = math.Max(over, sure)
			} else {
				sure *= under
			}
			if out == nil {
				out = map[string]float64{}
			}
			for _, id := range p.First {
				out[id] = math.Max(out[id], sure)
			}
			for _, id := range p.Also {
				out[id] = math.Max(out[id], sure*alsoCounts)
			}
		}
	}
	return out
}

// pickSays is why makers take each candidate that comes to mind first, by id, as the first pick that holds for
// most members and gives a reason has it; one that goes over the others before them.
func (a *Adviser) pickSays(c *rules.Case, of string) map[string]string {
	out := map[string]string{}
	for _, wantOver := range []bool{true, false} {
		for i := range a.Picks {
			p := &a.Picks[i]
			if p.Of != of || p.Over != wantOver || p.Say == "" || !mostly(p.When, c) {
				continue
			}
			for _, id := range p.First {
				if out[id] == "" {
					out[id] = p.Say
				}
			}
		}
	}
	return out
}

// held is the share of the members for which conditions hold: 1 where there are none, 0
// while one of them is open.
func held(when *rules.Rule, c *rules.Case) float64 {
	if when == nil {
		return 1
	}
	f := when.Fire(c)
	if len(f.Open) > 0 {
		return 0
	}
	return f.Share
}

// mostly reports whether conditions hold for most members.
func mostly(when *rules.Rule, c *rules.Case) bool { return held(when, c) >= 0.5 }

// layerPicks are the picks for a layer that is not chosen yet.
func (a *Adviser) layerPicks(m MakeUp, of string) map[string]float64 {
	if of == "shell" {
		m.Shell = nil
	}
	m.Lining = nil
	c := a.caseOf(m)
	if j := a.jobOfLining(m, c); of == "lining" && j != nil {
		c.SetWord(a.jobFact, j.ID)
	}
	return a.picksFor(c, of)
}
