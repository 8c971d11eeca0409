package advise

import (
	"math"
	"math/bits"

	"tenter/advise/rules"
	"tenter/fibres"
)

// leaves is what an objection of each harm leaves of a member it holds for; a rule
// that does not say its harm counts as "looks wrong". From "the piece fails" on, an
// objection that holds for [firm] of the members keeps the share under [SuitsFrom]
// whatever else is well: (1 − firm) + firm · leaves < SuitsFrom (TestGraveObjection).
// A ban leaves nothing, whatever its harm. Common practice: one reservation
// of looks still suits, one grave one is borderline, two are unsuited; that of harm 3 is
// fitted together with the shares that part the verdicts.
var leaves = [6]float64{0: 0.75, 1: 0.88, 2: 0.75, 3: 0.37, 4: 0.25, 5: 0}

// The harms that the code speaks of, see [rules.HarmWords].
const (
	looksWrong = 2
	pieceFails = 3
	ruined     = 4
)

// unknownLeaves is what is left of every member by a demand that would fail the
// piece and of which nothing is known: it may do, but nobody can say that it suits.
const unknownLeaves = 0.5

// floor is what a demand leaves of a member that lies beyond its limit: nothing where
// the piece fails without it; what a grave objection leaves where the demand does not
// say its harm: such a piece can be worn, or mended.
func (d *Demand) floor() float64 {
	switch {
	case d.Harm == 0:
		return leaves[pieceFails]
	case d.Harm >= pieceFails:
		return 0
	}
	return leaves[d.Harm]
}

// objection is what speaks against some of the members.
type objection struct {
	matter int           // of several on one matter the worst counts alone
	leaves float64       // of a member that it holds for
	asked  bool          // a demand that is known asks of the same matter, and has weighed the members already
	holds  rules.Members // nil for all
}

// weigh is the share of a population that is left when met is how far each member
// meets its worst demand, and objections speak against some of them. Of each
// matter the worst objection counts. One on a matter that a demand has weighed too
// only bounds the member from above, so that no fault counts twice, and so does what
// only looks wrong or takes time: the gravest of several reservations decides, and
// many of them are still reservations. Grave ones on other matters take their part.
func weigh(met *[fibres.N]float64, objections []objection) float64 {
	var rest, bound [fibres.N]float64
	fill(&rest)
	fill(&bound)
	for at := range objections {
		first := &objections[at]
		if seenBefore(objections[:at], first.matter) {
			continue
		}
		var left [fibres.N]float64
		fill(&left)
		asked := false
		for k := at; k < len(objections); k++ {
			if o := &objections[k]; o.matter == first.matter {
				asked = asked || o.asked
				o.lower(&left)
			}
		}
		for i, l := range left {
			if asked || l >= leaves[looksWrong] {
				bound[i] = math.Min(bound[i], l)
			} else {
				rest[i] *= l
			}
		}
	}
	var sum float64
	for i, m := range met {
		sum += math.Min(m*rest[i], bound[i])
	}
	return sum / fibres.N
}

func seenBefore(list []objection, matter int) bool {
	for i := range list {
		if list[i].matter == matter {
			return true
		}
	}
	return false
}

// lower takes each member that the objection holds for down to what it leaves.
func (o *objection) lower(left *[fibres.N]float64) {
	if o.holds == nil {
		for i := range left {
			left[i] = math.Min(left[i], o.leaves)
		}
		return
	}
	for w, word := range o.holds {
		for ; word != 0; word &= word - 1 {
			i := 64*w + bits.TrailingZeros64(word)
			left[i] = math.Min(left[i], o.leaves)
		}
	}
}

// verdictAt is the verdict of a share.
func verdictAt(share float64) string {
	switch {
	case share >= SuitsFrom:
		return Suits
	case share >= BorderlineFrom:
		return Borderline
	}
	return Unsuited
}
