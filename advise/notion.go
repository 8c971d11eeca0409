package advise

import (
	"fmt"
	"slices"

	"tenter/advise/plain"
	"tenter/advise/rules"
	"tenter/fibres/fault"
	"tenter/fibres/prose"
)

// Notion is what a piece is sewn with: a needle by its point, a thread, or the strip
// that binds an edge.
type Notion struct {
	ID, Kind, Name string
	Synonyms       []string
	Say            string
	Cases          []NotionCase
	Cite
}

// NotionCase is what speaks for or against a notion, where its conditions hold or the
// rule that it names speaks; without either it always holds.
type NotionCase struct {
	Effect string // one of [choiceOrder]
	Rule   string // the rule that says it, by id
	When   *rules.Rule
	Say    string
}

// StandardPoint is the needle that nobody need ask for, by id.
const StandardPoint = "standard-point"

// notionKinds are the kinds of notion.
var notionKinds = []string{"needle", "thread", "binding"}

// notions reads notions.toml. Its conditions are in the words of rules, so that the
// facts must be known already.
func (l *loader) notions(doc *plain.Doc) {
	seen := map[string]bool{}
	for _, t := range doc.Tables("notion") {
		n := Notion{ID: t.String("id"), Kind: l.word(t, "kind", notionKinds), Name: t.String("name"), Synonyms: t.Strings("synonyms"), Say: t.String("say"), Cite: l.cite(t)}
		t.Need("id", "lower-case words joined by hyphens")
		t.Need("name", "what it is called")
		if seen[n.ID] {
			t.Fault("id", &fault.Fault{Kind: fault.BadData, What: fmt.Sprintf("id %q is there twice", n.ID), Expected: "each id once", Mend: "rename one of them"})
		}
		seen[n.ID] = true
		for _, x := range t.Tables("case") {
			k := NotionCase{Effect: l.word(x, "effect", caseEffects), Rule: x.String("rule"), Say: x.String("say"), When: l.a.schema.ReadConditions(x)}
			if k.Effect == caseEffects[1] {
				k.Effect = WillDo
			}
			n.Cases = append(n.Cases, k)
		}
		l.a.Notions = append(l.a.Notions, n)
	}
}

// caseEffects are the effects of a case as they are written.
var caseEffects = []string{"for", "will-do", NotFor, "forbids"}

// notionsOf are the notions of a kind for a make-up whose facts are in the case, best
// first; one of which no case speaks is left out.
func (a *Adviser) notionsOf(c *rules.Case, kind string) []Choice {
	out := []Choice{}
	for i := range a.Notions {
		if n := &a.Notions[i]; n.Kind == kind {
			if x, spoken := a.choiceOf(n, c); spoken {
				out = append(out, x)
			}
		}
	}
	return bestFirst(out)
}

// choiceOf judges one notion: what warns goes before what recommends, and that before
// what lets pass.
func (a *Adviser) choiceOf(n *Notion, c *rules.Case) (out Choice, spoken bool) {
	out = Choice{ID: n.ID, Name: n.Name, Say: n.Say}
	best := -1
	for _, k := range n.Cases {
		rank := slices.Index(caseRank, k.Effect)
		say, holds := a.caseSays(&k, c)
		if !holds || rank <= best {
			continue
		}
		best = rank
		out.Effect = k.Effect
		if say != "" {
			out.Say = say
		}
	}
	return out, best >= 0
}

// caseRank is which case of a notion outweighs which, the mildest first.
var caseRank = []string{WillDo, "for", NotFor, "forbids"}

// caseSays reports whether a case holds for most members, and what it says.
func (a *Adviser) caseSays(k *NotionCase, c *rules.Case) (say string, holds bool) {
	r, say := k.When, k.Say
	if k.Rule != "" {
		if r = a.RuleByID(k.Rule); r == nil {
			return "", false // a house file took it away
		}
		say = r.Because
	}
	return say, mostly(r, c)
}

// RuleByID is the rule of that id, or nil.
func (a *Adviser) RuleByID(id string) *rules.Rule {
	i := slices.IndexFunc(a.Rules, func(r *rules.Rule) bool { return r.ID == id })
	if i < 0 {
		return nil
	}
	return a.Rules[i]
}

// saidByNotion reports whether the list of notions says already what a rule does.
func (a *Adviser) saidByNotion(r *rules.Rule) bool {
	return slices.ContainsFunc(a.Notions, func(n Notion) bool {
		return slices.ContainsFunc(n.Cases, func(k NotionCase) bool { return k.Rule == r.ID })
	})
}

// bound reports whether a binding is called for: the finish or the seam and edge that
// the user names have one, or those that are recommended.
func (a *Adviser) bound(m MakeUp, out *AdviseAnswer) bool {
	if m.Finish.Edge == "bound" || m.Seam != nil && m.Seam.Binds || m.Edge != nil && m.Edge.Binds {
		return true
	}
	return slices.ContainsFunc(slices.Concat(out.Seams, out.Edges), func(x Choice) bool {
		if x.Effect != "for" {
			return false
		}
		return slices.ContainsFunc(a.Seams, func(s *Seam) bool { return s.ID == x.ID && s.Binds })
	})
}

// firstOf is the name of what stands first in a list, with what goes behind it.
func firstOf(list []Choice, otherwise string) string {
	if x, ok := FirstChoice(list); ok {
		return prose.Upper(x.Name)
	}
	return otherwise
}
