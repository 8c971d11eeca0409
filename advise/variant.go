package advise

import (
	"fmt"
	"slices"

	"tenter/advise/plain"
	"tenter/fibres/fault"
)

// variants reads the pieces that are made as another piece is, and differ from it in
// what they say: a rain cape is a half-circle cape that must keep water out. A
// variant has parts, seams and demands of the other unless it says its own; a demand
// of the same id stands in the place of the other's, and drop leaves some out.
func (l *loader) variants(doc *plain.Doc, seen map[string]bool) {
	for _, t := range doc.Tables("variant") {
		t.Need("of", "the id of the piece that it varies")
		i := slices.IndexFunc(l.a.Pieces, func(p *Piece) bool { return p.ID == t.String("of") })
		if i < 0 {
			t.Fault("of", &fault.Fault{Kind: fault.BadData, What: fmt.Sprintf("no piece before it has the id %q", t.String("of")), Expected: "a piece that stands before its variants",
				Mend: fault.DidYouMean(t.String("of"), l.a.PieceNames.IDs(), "")})
			t.Leaves()
			continue
		}
		p := *l.a.Pieces[i]
		p.Of = p.ID
		p.ID, p.Name, p.Synonyms, p.Say = l.named(t, l.a.PieceNames, seen)
		l.piece(t, &p)
		p.Demands = varied(p.Demands, t.Strings("drop"), l.pieceDemands(t))
		p.Cite = l.cite(t)
		l.a.Pieces = append(l.a.Pieces, &p)
	}
}

// varied are the demands of a piece with some left out and others in their place.
func varied(of []Demand, drop []string, own []Demand) []Demand {
	var out []Demand
	for _, d := range of {
		if !slices.Contains(drop, d.ID) && !slices.ContainsFunc(own, func(x Demand) bool { return x.ID == d.ID }) {
			out = append(out, d)
		}
	}
	return append(out, own...)
}
