package advise

import (
	"cmp"
	"math"
	"slices"
	"sort"
	"strings"

	"tenter/fibres"
)

// Instead is one change to a make-up after which it would do.
type Instead struct {
	Change  string  `json:"change"` // lining, cloth, finish or piece
	To      string  `json:"to"`
	Name    string  `json:"-"`
	Verdict string  `json:"verdict"`
	Share   float64 `json:"share"`
	Say     string  `json:"say"`
}

// How many ways out of each sort an answer offers, how much better than the make-up
// itself a way out must be to be one, the least share of one, and from what cost on it has
// the fault that it is to be the way out of: who is told to take another is not told of one
// that hardly does, or fails in the same way (own judgement).
const (
	maxWaysOut = 3
	betterBy   = 0.15
	wayOutFrom = 0.6
	sameFault  = 0.2
)

// failing is what a make-up that does not suit comes to, and the matter that decides so.
type failing struct {
	share  float64
	matter string
}

// failingOf is what an answer says of its make-up.
func failingOf(ans CheckAnswer) failing {
	f := failing{share: ans.Share}
	if len(ans.Reservations) > 0 {
		f.matter = ans.Reservations[0].Matter
	}
	return f
}

// isWayOut reports whether what has this verdict and share is a way out of a make-up whose
// share was less.
func isWayOut(verdict string, share, was float64) bool {
	return verdict == Suits && share >= max(wayOutFrom, was+betterBy)
}

// instead lists the ways out of a make-up that does not suit: another lining where the
// shell alone would do, else the nearest cloths that would; another finish; another piece
// for this cloth.
func (a *Adviser) instead(m MakeUp, was failing) []Instead {
	var out []Instead
	if m.Lining != nil && m.Finish != nil && m.Finish.Lined {
		out = a.otherLinings(m, was)
	}
	if len(out) == 0 {
		out = a.nearestCloths(m, was)
	}
	out = append(out, a.otherFinishes(m, was.share)...)
	return append(out, a.otherPieces(m)...)
}

// failsSo reports whether a make-up has the fault on this matter too.
func (a *Adviser) failsSo(m MakeUp, matter string) bool {
	return matter != "" && slices.ContainsFunc(a.reasons(a.judge(m)), func(r Reason) bool { return r.Matter == matter && r.Cost >= sameFault })
}

// otherLinings are the linings that would do, the best of each kind of cloth.
func (a *Adviser) otherLinings(m MakeUp, was failing) []Instead {
	w := waysOut{change: "lining", share: was.share, fails: func(s *fibres.Subject) bool { m.Lining = s; return a.failsSo(m, was.matter) }}
	w.take(a.RankLinings(m, subjectsOf(a.LiningsFor(m))))
	return w.found
}

// nearestCloths are the cloths that would do, those most like the shell first, and what
// makers take for the piece a step nearer; of those that are alike in how they differ, the
// best. They are judged in that order, until there are enough of them.
func (a *Adviser) nearestCloths(m MakeUp, was failing) []Instead {
	like := []*fibres.Cloth{m.Shell.Cloth}
	for _, w := range m.Shell.May {
		like = append(like, w.Cloth)
	}
	if like = slices.DeleteFunc(like, func(k *fibres.Cloth) bool { return k == nil }); len(like) == 0 {
		return nil
	}
	how, far := map[*fibres.Cloth]float64{}, make([]float64, len(like))
	shells := slices.DeleteFunc(slices.Clone(a.Shells()), func(c *fibres.Cloth) bool { return !a.grants(m.Wishes, c) })
	taken := a.layerPicks(m, "shell")
	for _, c := range shells {
		for i, k := range like {
			far[i] = a.unlike(k, c)
		}
		how[c] = slices.Min(far) - taken[c.ID]
	}
	slices.SortStableFunc(shells, func(x, y *fibres.Cloth) int { return cmp.Compare(how[x], how[y]) })
	w := waysOut{change: "cloth", share: was.share, fails: func(s *fibres.Subject) bool { m.Shell = s; return a.failsSo(m, was.matter) }}
	for len(shells) > 0 && len(w.found) < maxWaysOut {
		n := 1
		for n < len(shells) && how[shells[n]] == how[shells[0]] {
			n++
		}
		w.take(a.RankShells(m, subjectsOf(shells[:n])))
		shells = shells[n:]
	}
	return w.found
}

// grants reports whether a cloth is of the use and of the fibres that wishes put first: no
// work cloth is a way out for the evening.
func (a *Adviser) grants(wishes []*Wish, k *fibres.Cloth) bool {
	stock := cmp.Or(a.StockOf(k.ID), &unknownStock)
	for _, w := range wishes {
		for _, way := range w.Prefer {
			asks := strings.HasPrefix(way, usedForWay) || strings.HasPrefix(way, madeOfWay)
			if asks && a.prefers(way, &fibres.Subject{Cloth: k}, stock) == 0 {
				return false
			}
		}
	}
	return true
}

// waysOut are the cloths of a ranking that suit, are better than the make-up itself and
// have not its fault; of one fibre and structure the first only.
type waysOut struct {
	change string
	share  float64                      // of the make-up itself
	fails  func(s *fibres.Subject) bool // as the make-up does
	found  []Instead
	kinds  []string // of those found
}

func (w *waysOut) take(ranking []Ranked) {
	for _, r := range ranking {
		if len(w.found) == maxWaysOut {
			return
		}
		if !isWayOut(r.Verdict, r.Share, w.share) || r.Subject.Cloth == nil {
			continue
		}
		kind := r.Subject.Cloth.Structure.ID + " " + mainFibre(r.Subject.Cloth)
		if !slices.Contains(w.kinds, kind) && !w.fails(r.Subject) {
			w.kinds = append(w.kinds, kind)
			w.found = append(w.found, Instead{Change: w.change, To: r.ID, Name: r.Name, Verdict: r.Verdict, Share: r.Share, Say: InTen(r.Share) + " would do"})
		}
	}
}

// otherFinishes are the finishes of the same cloths that would do.
func (a *Adviser) otherFinishes(m MakeUp, share float64) []Instead {
	if m.Finish == nil {
		return nil
	}
	var out []Instead
	for _, f := range a.Finishes {
		if f == m.Finish || f.Lined && m.Lining == nil {
			continue
		}
		mm := m
		mm.Finish = f
		if !f.Lined {
			mm.Lining = nil
		}
		if v, s := a.Verdict(mm); isWayOut(v, s, share) {
			out = append(out, Instead{Change: "finish", To: f.ID, Name: f.Name, Verdict: v, Share: s, Say: InTen(s) + " would do"})
		}
	}
	sort.SliceStable(out, func(i, k int) bool { return out[i].Share > out[k].Share })
	return out[:min(len(out), maxWaysOut)]
}

// otherPieces are the pieces that this cloth would do for, made up in the same way;
// those of the piece's own group first, and the others judged only where those are few.
func (a *Adviser) otherPieces(m MakeUp) []Instead {
	var out []Instead
	for _, own := range []bool{true, false} {
		if len(out) == maxWaysOut {
			break
		}
		of := slices.DeleteFunc(slices.Clone(a.Pieces), func(p *Piece) bool {
			return p == m.Piece || p.Wearer != m.Piece.Wearer || (p.Group == m.Piece.Group) != own
		})
		for _, p := range a.rankPieces(m, of) {
			if isWayOut(p.Verdict, p.Share, 0) && len(out) < maxWaysOut {
				out = append(out, Instead{Change: "piece", To: p.ID, Name: p.Name, Verdict: p.Verdict, Share: p.Share, Say: InTen(p.Share) + " would do"})
			}
		}
	}
	return out
}

// RankedPiece is what could be made of a cloth.
type RankedPiece struct {
	ID      string  `json:"piece"`
	Name    string  `json:"name"`
	Verdict string  `json:"verdict"`
	Share   float64 `json:"share"`
	Say     string  `json:"say"`
	Piece   *Piece  `json:"-"`
}

// RankPieces judges what could be made of a cloth, in the finish of the make-up if it
// has one, best first.
func (a *Adviser) RankPieces(m MakeUp) []RankedPiece { return a.rankPieces(m, a.Pieces) }

func (a *Adviser) rankPieces(m MakeUp, pieces []*Piece) []RankedPiece {
	js := a.judgeEach(len(pieces), func(i int) MakeUp {
		mm := m
		mm.Piece = pieces[i]
		return mm
	})
	out := make([]RankedPiece, len(js))
	for i, j := range js {
		p := j.make.Piece
		out[i] = RankedPiece{ID: p.ID, Name: p.Name, Verdict: j.verdict, Share: j.share, Say: short(j), Piece: p}
	}
	return out
}

// BestPieces are the n pieces that a cloth suits with the highest shares, best first; of
// those alike the one told first. It gives what judging every piece would, and spends
// little on those that cannot be among them.
func (a *Adviser) BestPieces(s *fibres.Subject, n int) []Candidate {
	var best []Candidate
	for _, p := range a.Pieces {
		least := SuitsFrom
		if len(best) == n {
			least = best[n-1].Share
		}
		j := a.judgeFrom(MakeUp{Piece: p, Shell: s}, least)
		if j.verdict != Suits || len(best) == n && j.share <= best[n-1].Share {
			continue
		}
		at := sort.Search(len(best), func(i int) bool { return best[i].Share < j.share })
		best = slices.Insert(best, at, Candidate{ID: p.ID, Name: p.Name, Verdict: j.verdict, Share: j.share})
		best = best[:min(len(best), n)]
	}
	return best
}

// unlike is how far one cloth is from another as a maker would look for a
// substitute: structure, fibre, group, then weight.
func (a *Adviser) unlike(x, y *fibres.Cloth) float64 {
	d := 0.0
	if x.Structure != y.Structure {
		d++
		if x.Structure.Class != y.Structure.Class {
			d += 2
		}
	}
	if mainFibre(x) != mainFibre(y) {
		d++
	}
	if x.Group != y.Group {
		d++
	}
	mx, known := a.sample(&fibres.Subject{Cloth: x}, fibres.ShellSalt).Typical(fibres.Mass)
	my, both := a.sample(&fibres.Subject{Cloth: y}, fibres.ShellSalt).Typical(fibres.Mass)
	if known && both {
		d += math.Abs(math.Log(mx / my))
	}
	return d
}

// mainFibre is the fibre that most of a cloth is made of.
func mainFibre(c *fibres.Cloth) string {
	main, most := "", 0.0
	for _, p := range c.Content {
		if p.Share.Typical > most {
			main, most = p.Fibre.ID, p.Share.Typical
		}
	}
	return main
}
