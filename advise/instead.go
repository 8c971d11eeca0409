package advise

import (
	"cmp"
	"math"
	"slices"
	"sort"

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

// How many ways out of each sort an answer offers, and how much better than the
// make-up itself a way out must be to be one.
const (
	maxWaysOut = 3
	betterBy   = 0.15
)

// Instead lists the ways out of a make-up that does not suit: another lining
// where the shell alone would do, else the nearest cloths that would; another
// finish; another piece for this cloth. The list is empty where the make-up suits.
func (a *Adviser) Instead(m MakeUp) []Instead {
	if m.Shell == nil || m.Piece == nil {
		return nil
	}
	verdict, share := a.Verdict(m)
	if verdict == Suits {
		return nil
	}
	var out []Instead
	if m.Lining != nil && m.Finish != nil && m.Finish.Lined {
		out = a.otherLinings(m, share)
	}
	if len(out) == 0 {
		out = a.nearestCloths(m, share)
	}
	out = append(out, a.otherFinishes(m, share)...)
	return append(out, a.otherPieces(m)...)
}

// otherLinings are the linings that would do, the best of each kind of cloth.
func (a *Adviser) otherLinings(m MakeUp, share float64) []Instead {
	return a.waysOut("lining", a.RankLinings(m, subjectsOf(a.LiningsFor(m))), share, func(*fibres.Cloth) float64 { return 0 })
}

// nearestCloths are the cloths that would do, those most like the shell first.
func (a *Adviser) nearestCloths(m MakeUp, share float64) []Instead {
	like := []*fibres.Cloth{m.Shell.Cloth}
	for _, w := range m.Shell.May {
		like = append(like, w.Cloth)
	}
	if like = slices.DeleteFunc(like, func(k *fibres.Cloth) bool { return k == nil }); len(like) == 0 {
		return nil
	}
	return a.waysOut("cloth", a.RankShells(m, subjectsOf(a.Shells())), share, func(c *fibres.Cloth) float64 {
		least := math.Inf(1)
		for _, k := range like {
			least = math.Min(least, a.unlike(k, c))
		}
		return least
	})
}

// waysOut picks from a ranking what suits and is better than the make-up itself, by
// how unlike it is to what is replaced, then by rank; of one fibre and
// structure it takes the first only.
func (a *Adviser) waysOut(change string, ranking []Ranked, share float64, unlike func(*fibres.Cloth) float64) []Instead {
	ranking = slices.DeleteFunc(ranking, func(r Ranked) bool {
		return r.Verdict != Suits || r.Share < share+betterBy || r.Subject.Cloth == nil
	})
	how := map[*fibres.Cloth]float64{}
	for _, r := range ranking {
		how[r.Subject.Cloth] = unlike(r.Subject.Cloth)
	}
	slices.SortStableFunc(ranking, func(x, y Ranked) int { return cmp.Compare(how[x.Subject.Cloth], how[y.Subject.Cloth]) })
	var out []Instead
	seen := map[string]bool{}
	for _, r := range ranking {
		kind := r.Subject.Cloth.Structure.ID + " " + mainFibre(r.Subject.Cloth)
		if seen[kind] {
			continue
		}
		seen[kind] = true
		out = append(out, Instead{Change: change, To: r.ID, Name: r.Name, Verdict: r.Verdict, Share: r.Share, Say: InTen(r.Share) + " would do"})
		if len(out) == maxWaysOut {
			break
		}
	}
	return out
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
		if v, s := a.Verdict(mm); v == Suits && s >= share+betterBy {
			out = append(out, Instead{Change: "finish", To: f.ID, Name: f.Name, Verdict: v, Share: s, Say: InTen(s) + " would do"})
		}
	}
	sort.SliceStable(out, func(i, k int) bool { return out[i].Share > out[k].Share })
	return out[:min(len(out), maxWaysOut)]
}

// otherPieces are the pieces that this cloth would do for, made up in the same way;
// those of the piece's own group first.
func (a *Adviser) otherPieces(m MakeUp) []Instead {
	var out []Instead
	like := map[string]bool{}
	for _, p := range a.RankPieces(m) {
		if p.Piece == m.Piece || p.Verdict != Suits || p.Piece.Wearer != m.Piece.Wearer {
			continue
		}
		like[p.ID] = p.Piece.Group == m.Piece.Group
		out = append(out, Instead{Change: "piece", To: p.ID, Name: p.Name, Verdict: p.Verdict, Share: p.Share, Say: InTen(p.Share) + " would do"})
	}
	sort.SliceStable(out, func(i, k int) bool { return like[out[i].To] && !like[out[k].To] })
	return out[:min(len(out), maxWaysOut)]
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
func (a *Adviser) RankPieces(m MakeUp) []RankedPiece {
	js := a.judgeEach(len(a.Pieces), func(i int) MakeUp {
		mm := m
		mm.Piece = a.Pieces[i]
		return mm
	})
	out := make([]RankedPiece, len(js))
	for i, j := range js {
		p := j.make.Piece
		out[i] = RankedPiece{ID: p.ID, Name: p.Name, Verdict: j.verdict, Share: j.share, Say: short(j), Piece: p}
	}
	return out
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
	mx, _ := a.sample(&fibres.Subject{Cloth: x}, fibres.ShellSalt).Typical(fibres.Mass)
	my, _ := a.sample(&fibres.Subject{Cloth: y}, fibres.ShellSalt).Typical(fibres.Mass)
	if mx > 0 && my > 0 {
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
