package brief

import (
	"fmt"
	"strings"

	"tenter/advise"
	"tenter/fibres"
	"tenter/fibres/prose"
)

// How many rows a list has before the rest is left to --all.
const (
	maxPairs  = 6
	maxRanked = 8
	maxPieces = 5
)

// pullShows is from what pull in millimetres on the two layers are seen to part
// (common practice: 3 mm on an edge is what pressing does not ease in).
const pullShows = 3

// Pairs ranks linings or pairs in a table: how many would do, and how far the first
// wash parts them.
func (t Teller) Pairs(m advise.MakeUp, ans advise.PairAnswer) Brief {
	b := &Brief{Head: fmt.Sprintf("%d pairs judged, best first. Pull: how far the first wash parts the two.", ans.Judged)}
	named := m.Shell != nil
	if named {
		b.Head = fmt.Sprintf("%d linings judged, best first. Pull: how far the first wash parts the two.", ans.Judged)
	}
	p := Part{Columns: []string{"", "would do", "pull"}}
	apart := len(ans.Pairs) > 0
	for _, x := range ans.Pairs[:min(maxPairs, len(ans.Pairs))] {
		name := t.name(x.Lining)
		if !named {
			name = t.name(x.Shell) + " + " + name
		}
		pull := "not known"
		if x.Gap.Known() {
			pull = t.span(x.Gap.Low, x.Gap.High, "mm")
		}
		apart = apart && x.Gap.Known() && x.Gap.Typical > pullShows
		p.Rows = append(p.Rows, []string{name, advise.InTen(x.Share), pull})
	}
	if len(p.Rows) > 0 {
		b.Parts = append(b.Parts, p)
	}
	t.notes(b, ans.Notes)
	if apart {
		b.add(Mind, "All of them shrink apart: wash both cloths before you cut.")
	}
	if named && len(ans.Pairs) > 1 {
		b.add(Next, "name one after the shell to see why: "+quoted(ans.Pairs[0].Lining))
	}
	b.Held = max(0, ans.Judged-len(p.Rows))
	b.fit(BudgetPair)
	return t.done(b)
}

// name is the name of a cloth or swatch by its id.
func (t Teller) name(id string) string {
	if c := t.Adviser.Cat.Cloths[id]; c != nil {
		return c.Name
	}
	return id
}

// Several ranks the cloths that were named for one piece.
func (t Teller) Several(m advise.MakeUp, ranked []advise.Ranked) Brief {
	b := &Brief{Head: "For " + prose.A(m.Piece.Name) + ", best first:"}
	p := Part{Columns: []string{"", "", "", ""}}
	for _, r := range ranked[:min(maxRanked, len(ranked))] {
		p.Rows = append(p.Rows, []string{r.Name, r.Verdict, strings.TrimPrefix(shareWords(r.Candidate), "about "), t.deciding(m, r)})
	}
	b.Parts = append(b.Parts, p)
	if best := ranked[0]; best.Verdict == advise.Suits {
		b.add(Next, "tenter check "+quoted(best.ID)+" --piece "+m.Piece.ID+" says why")
	}
	b.Held = len(ranked) - len(p.Rows)
	return t.done(b)
}

// deciding is the figure that decides a candidate of a list, with what it fails.
func (t Teller) deciding(m advise.MakeUp, r advise.Ranked) string {
	_, says, failed := strings.Cut(r.Say, "; ")
	m.Shell = r.Subject
	out := ""
	if f, ok := t.Adviser.FiguresOf(m)["make-up.stand-off"]; ok {
		out = "edge " + t.span(f.Low, f.High, "cm") + " out"
	}
	if failed {
		return strings.TrimSuffix(says+": "+out, ": ")
	}
	return out
}

// Pieces says what could be made of a cloth.
func (t Teller) Pieces(s *fibres.Subject, ranked []advise.RankedPiece) Brief {
	n := 0
	for _, r := range ranked {
		if r.Verdict == advise.Suits {
			n++
		}
	}
	b := &Brief{Head: fmt.Sprintf("%s would do for %d of %d pieces.", prose.Upper(s.Label()), n, len(ranked))}
	yes := Part{Label: "Yes", Columns: []string{"", "", ""}}
	no := Part{Label: "No", Columns: []string{"", "", ""}}
	for _, r := range ranked[:min(maxPieces, len(ranked))] {
		if r.Verdict == advise.Suits {
			yes.Rows = append(yes.Rows, []string{r.Name, advise.InTen(r.Share), ""})
		}
	}
	for i := len(ranked) - 1; i >= 0 && len(no.Rows) < maxPieces; i-- {
		r := ranked[i]
		if r.Verdict == advise.Unsuited {
			_, why, _ := strings.Cut(r.Say, "; ")
			no.Rows = append(no.Rows, []string{r.Name, advise.InTen(r.Share), why})
		}
	}
	for _, p := range []Part{yes, no} {
		if len(p.Rows) > 0 {
			b.Parts = append(b.Parts, p)
		}
	}
	if len(yes.Rows) > 0 {
		b.add(Next, "tenter check "+quoted(s.Label())+" --piece "+ranked[0].ID)
	}
	b.Held = len(ranked) - len(yes.Rows) - len(no.Rows)
	return t.done(b)
}
