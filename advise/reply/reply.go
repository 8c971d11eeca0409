// Package reply says what stands before the list that a search found: the advice of the
// rule that answers the question, and what works it out for the piece and the cloth that
// the words name.
package reply

import (
	"slices"
	"strings"

	"tenter/advise"
	"tenter/advise/rules"
	"tenter/fibres"
)

// Found is a thing that the search found, and by what.
type Found struct{ Kind, ID, Why string }

// Reply is what answers a question in words.
type Reply struct {
	Rule  *rules.Rule     // whose advice answers it; nil where none does
	Piece *advise.Piece   // that the words name beside other words; nil where they name none
	Cloth *fibres.Subject // that they name in full; nil where they name none, or nothing else
}

// nearTop is how many of what was found are looked at for the rule that answers a
// question.
const nearTop = 8

// maxNameWords is how many words of a question are taken for the name of a cloth.
const maxNameWords = 5

// To answers words of which the search found so much, the best first; asks says that they
// ask how or why, or tell of what goes wrong. A rule for other pieces, or for another
// cloth, than the words name is passed over.
func To(adv *advise.Adviser, words string, found []Found, asks bool) Reply {
	pieces, cloth := piecesNamed(adv, words), clothNamed(adv.Cat, words)
	r := Reply{Rule: ruleFor(adv, pieces, cloth, found, asks)}
	if _, err := adv.Piece(words); err != nil && len(pieces) > 0 {
		r.Piece = pieces[0]
	}
	if adv.Cat.FindWhole(words) == nil && (r.Piece != nil || len(pieces) == 0) {
		r.Cloth = cloth
	}
	return r
}

// ruleFor is the rule that stands on top; where the words ask, the first near the top
// that none of the words was left out for.
func ruleFor(adv *advise.Adviser, pieces []*advise.Piece, cloth *fibres.Subject, found []Found, asks bool) *rules.Rule {
	near := 1
	if asks {
		near = nearTop
	}
	for i, f := range found[:min(near, len(found))] {
		if f.Kind != "rule" || i > 0 && strings.Contains(f.Why, "without ") {
			continue
		}
		if r := adv.RuleByID(f.ID); r != nil && !forOtherPieces(adv, r, pieces) && (cloth == nil || adv.MayHold(r, cloth)) {
			return r
		}
	}
	return nil
}

// piecesNamed are the pieces that the words name, the longest name first, and of one
// length a name before a synonym.
func piecesNamed(adv *advise.Adviser, words string) []*advise.Piece {
	said := " " + fibres.FoldName(words) + " "
	type named struct {
		piece   *advise.Piece
		letters int
		synonym bool
	}
	var found []named
	for _, p := range adv.Pieces {
		for i, name := range append([]string{p.ID, p.Name}, p.Synonyms...) {
			if name = fibres.FoldName(name); strings.Contains(said, " "+name+" ") {
				found = append(found, named{p, len(name), i > 1})
			}
		}
	}
	slices.SortStableFunc(found, func(x, y named) int {
		if x.letters != y.letters || x.synonym == y.synonym {
			return y.letters - x.letters
		}
		if x.synonym {
			return 1
		}
		return -1
	})
	var out []*advise.Piece
	for _, f := range found {
		if !slices.Contains(out, f.piece) {
			out = append(out, f.piece)
		}
	}
	return out
}

// clothNamed is the cloth that the words name in full, the longest name first; nil where
// there is none.
func clothNamed(cat *fibres.Catalogue, words string) *fibres.Subject {
	w := strings.Fields(words)
	for n := min(maxNameWords, len(w)); n > 0; n-- {
		for i := range len(w) - n + 1 {
			if s := cat.FindWhole(strings.Join(w[i:i+n], " ")); s != nil {
				return s
			}
		}
	}
	return nil
}

// forOtherPieces reports whether a rule can hold for none of the pieces.
func forOtherPieces(adv *advise.Adviser, r *rules.Rule, pieces []*advise.Piece) bool {
	return len(pieces) > 0 && !slices.ContainsFunc(pieces, func(p *advise.Piece) bool { return adv.MayHoldFor(r, p) })
}

// ClothID is how the cloth of the reply is named in a call or an address.
func (r Reply) ClothID() string {
	if r.Cloth == nil {
		return ""
	}
	if r.Cloth.Cloth != nil {
		return r.Cloth.Cloth.ID
	}
	return strings.ReplaceAll(fibres.FoldName(r.Cloth.Label()), " ", "-")
}
