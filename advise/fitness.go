package advise

import (
	"fmt"
	"slices"
	"strings"

	"tenter/advise/plain"
	"tenter/fibres/fault"
)

// Usual is the finishes most used for the pieces of a group, or for the pieces that are
// named since they are made otherwise than the others of theirs; the commonest first.
type Usual struct {
	Group    string // "" where pieces are named
	Pieces   []string
	Finishes []string
	Cite
}

// Unfit says of a finish which pieces it does not go with, by their shape alone: cloth is
// judged by rules. A piece that everything named here holds of does not take the finish.
type Unfit struct {
	Finish              string // "lined" is every finish with a lining
	Group, NotGroup     []string
	Support, NotSupport []string
	Shape               []string
	Wearer              string
	Features, Without   []string // it has one of those, none of these
	Say                 string
	Cite
}

// everyLined stands for all finishes with a lining.
const everyLined = "lined"

// UsualFinishes are the finishes most used for a piece, the commonest first.
func (a *Adviser) UsualFinishes(p *Piece) []string {
	var ofGroup []string
	for _, u := range a.Usual {
		if slices.Contains(u.Pieces, p.ID) {
			return u.Finishes
		}
		if u.Group == p.Group {
			ofGroup = u.Finishes
		}
	}
	return ofGroup
}

// WithUsualFinish is the make-up with a finish: its own, else the piece's usual one that
// goes with its shape, a lined one where a lining is named. Where the piece has none, the
// make-up comes back as it was.
func (a *Adviser) WithUsualFinish(m MakeUp) MakeUp {
	return a.withFinish(m, m.Lining != nil)
}

// WithUsualLinedFinish is [Adviser.WithUsualFinish] where a lining is yet to be chosen.
func (a *Adviser) WithUsualLinedFinish(m MakeUp) MakeUp {
	return a.withFinish(m, true)
}

func (a *Adviser) withFinish(m MakeUp, lined bool) MakeUp {
	if m.Finish == nil && m.Piece != nil {
		m.Finish = a.NextFinish(m, lined)
		m.FinishTaken = m.Finish != nil
	}
	return m
}

// NextFinish is the commonest finish of the piece that the make-up could have, other than
// its own, with a lining where it must be; nil where there is none.
func (a *Adviser) NextFinish(m MakeUp, lined bool) *Finish {
	for _, id := range a.UsualFinishes(m.Piece) {
		f, err := a.Finish(id)
		if err == nil && f != m.Finish && a.UnfitFor(m.Piece, f) == nil && (!lined || f.Lined) {
			return f
		}
	}
	return nil
}

// UnfitFor says why a finish does not go with a piece, or nil where it does.
func (a *Adviser) UnfitFor(p *Piece, f *Finish) *Unfit {
	for i := range a.Unfit {
		if u := &a.Unfit[i]; (u.Finish == f.ID || u.Finish == everyLined && f.Lined) && u.holds(p) {
			return u
		}
	}
	return nil
}

func (u *Unfit) holds(p *Piece) bool {
	one := func(list []string, x string) bool { return len(list) == 0 || slices.Contains(list, x) }
	some := func(list []string) bool {
		return slices.ContainsFunc(list, func(x string) bool { return slices.Contains(p.Features, x) })
	}
	return one(u.Group, p.Group) && !slices.Contains(u.NotGroup, p.Group) && one(u.Support, p.Support) && !slices.Contains(u.NotSupport, p.Support) &&
		one(u.Shape, p.Shape) && (u.Wearer == "" || u.Wearer == p.Wearer) && (len(u.Features) == 0 || some(u.Features)) && !some(u.Without)
}

// fitness reads which finishes are usual for which pieces, and which do not go with
// them.
func (l *loader) fitness(doc *plain.Doc) {
	ids, pieces := l.a.FinishNames.IDs(), l.a.PieceNames.IDs()
	for _, t := range doc.Tables("usual") {
		u := Usual{Finishes: l.words(t, "finishes", ids), Cite: l.cite(t)}
		if key := "piece"; t.Has(key) {
			u.Pieces = t.Strings(key)
			for _, p := range u.Pieces {
				if !slices.Contains(pieces, p) {
					t.Fault(key, &fault.Fault{Kind: fault.BadData, Names: "piece", What: fmt.Sprintf("there is no piece %q", p), Expected: "ids of pieces", Mend: fault.DidYouMean(p, pieces, "")})
				}
				l.usualOnce(t, key, p, func(x Usual) bool { return slices.Contains(x.Pieces, p) })
			}
		} else {
			u.Group = l.word(t, "group", groups)
			l.usualOnce(t, "group", u.Group, func(x Usual) bool { return x.Group == u.Group })
		}
		l.a.Usual = append(l.a.Usual, u)
	}
	for _, t := range doc.Tables("unfit") {
		u := Unfit{Finish: l.word(t, "finish", append([]string{everyLined}, ids...)),
			Group: l.words(t, "group", groups), NotGroup: l.words(t, "not-group", groups),
			Support: l.words(t, "support", supports), NotSupport: l.words(t, "not-support", supports),
			Shape: l.words(t, "shape", shapes), Features: l.words(t, "features", features), Without: l.words(t, "without", features),
			Say: t.String("say"), Cite: l.cite(t)}
		if t.Has("wearer") {
			u.Wearer = l.word(t, "wearer", wearers)
		}
		t.Need("say", "why the finish does not go with such a piece")
		l.a.Unfit = append(l.a.Unfit, u)
	}
}

// usualOnce notes where the usual finishes of a group or piece stand in a block before.
func (l *loader) usualOnce(t *plain.Table, key, id string, same func(Usual) bool) {
	if slices.ContainsFunc(l.a.Usual, same) {
		t.Fault(key, &fault.Fault{Kind: fault.BadData, What: fmt.Sprintf("the usual finishes of the %s %q are there twice", key, id), Expected: "each once"})
	}
}

// words reads texts that must all be of the list.
func (l *loader) words(t *plain.Table, key string, list []string) []string {
	out := t.Strings(key)
	for _, s := range out {
		if !slices.Contains(list, s) {
			t.Fault(key, &fault.Fault{Kind: fault.BadData, What: fmt.Sprintf("%s has %q", key, s), Expected: strings.Join(list, ", "), Mend: fault.DidYouMean(s, list, "")})
		}
	}
	return out
}
