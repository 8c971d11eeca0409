package brief

import (
	"cmp"
	"fmt"
	"math"
	"slices"
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
	named, what := m.Shell != nil, "pairs"
	if named {
		what = "linings"
	}
	// The list puts what is usual first; the few that are told stand by how many would do.
	few := slices.Clone(ans.Pairs[:min(maxPairs, len(ans.Pairs))])
	slices.SortStableFunc(few, func(x, y advise.Paired) int { return cmp.Compare(math.Round(y.Share*10), math.Round(x.Share*10)) })
	which := "usual ones, best first"
	if !slices.ContainsFunc(few, func(x advise.Paired) bool { return x.Verdict == advise.Suits }) {
		which = "none quite suits; the nearest first"
	}
	b := &Brief{Head: fmt.Sprintf("%d %s judged: %s. Pull: how far the first wash parts the two.", ans.Judged, what, which)}
	t.finish(b, m, true)
	p := Part{Columns: []string{"", "would do", "pull"}}
	apart := len(few) > 0
	for _, x := range few {
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
		b.add(Next, "name one after the shell to see why: "+quoted(few[0].Lining))
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
	if failed && r.Verdict != advise.Suits { // of what suits the figure is enough
		return strings.TrimSuffix(says+": "+out, ": ")
	}
	return out
}

// fitting are the pieces that a cloth suits: first those it is bought and used for, then
// by the share, in tenths.
func (t Teller) fitting(s *fibres.Subject, ranked []advise.RankedPiece) []advise.RankedPiece {
	var uses []string
	if s.Cloth != nil {
		uses = s.Cloth.UsedFor
		if k := t.Adviser.StockOf(s.Cloth.ID); k != nil {
			uses = append(slices.Clone(k.BoughtFor), uses...)
		}
	}
	place := func(r advise.RankedPiece) int { // of the first use that names the piece
		for i, u := range uses {
			if usedFor(u, append([]string{r.Name}, r.Piece.Synonyms...)) {
				return i
			}
		}
		return len(uses)
	}
	out := slices.DeleteFunc(slices.Clone(ranked), func(r advise.RankedPiece) bool { return r.Verdict != advise.Suits })
	slices.SortStableFunc(out, func(a, b advise.RankedPiece) int {
		return cmp.Or(cmp.Compare(place(a), place(b)), cmp.Compare(math.Round(10*b.Share), math.Round(10*a.Share)))
	})
	return apart(out, place, len(uses))
}

// apart puts one piece of each use before the next of one: no list of five skirts.
func apart(list []advise.RankedPiece, place func(advise.RankedPiece) int, none int) []advise.RankedPiece {
	seen := map[int]bool{}
	var first, rest []advise.RankedPiece
	for _, r := range list {
		if p := place(r); p < none && !seen[p] {
			seen[p] = true
			first = append(first, r)
		} else {
			rest = append(rest, r)
		}
	}
	return append(first, rest...)
}

// usedFor tells whether a use in words, such as "summer dresses", names a piece by the
// last word of one of its names.
func usedFor(use string, names []string) bool {
	last := func(words string) string {
		one := prose.Singular(words)
		return one[strings.LastIndexByte(one, ' ')+1:]
	}
	u := last(use)
	if u == "" || u == "lining" { // a part of something, and not what a cloth is made into
		return false
	}
	return slices.ContainsFunc(names, func(n string) bool { return last(n) == u })
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
	best := t.fitting(s, ranked)
	for _, r := range best[:min(maxPieces, len(best))] {
		yes.Rows = append(yes.Rows, []string{r.Name, advise.InTen(r.Share), ""})
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
		b.add(Next, "tenter check "+quoted(s.Label())+" --piece "+best[0].ID)
	}
	b.Held = len(ranked) - len(yes.Rows) - len(no.Rows)
	return t.done(b)
}
