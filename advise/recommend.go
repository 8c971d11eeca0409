package advise

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"tenter/fibres"
	"tenter/fibres/memo"
	"tenter/fibres/prose"
)

// The groups of a list: what is recommended, what will do, what speaks against it.
const (
	Recommended = "recommended"
	WillDo      = "will do"
	NotFor      = "against"
)

// twinsAt, twinsOf: of cloths that are near-identical, one fibre and one weave, at
// most so many stand among any so many in a row.
const (
	twinsAt = 2
	twinsOf = 6
)

// place is why a candidate stands where it does in a list: its group, then how much
// speaks for it.
type place struct {
	judged  *judged
	subject *fibres.Subject
	group   string
	score   float64
	meant   string // the purpose that it is meant for
	picked  bool   // makers usually take it
	stock   *Stock
}

// What speaks for a candidate, against a whole share of 1: that makers take it for
// this, and how commonly shops have it; how well it fits counts half, that it suits
// goes before what only will do, and ease and price settle what is left. Chosen over a
// coarse grid on the worked-on choices of the panel.
const (
	meantCounts  = 1.0
	besidePicks  = 0.35 // of what its description says, where it is known what makers take
	suitsCounts  = 0.6
	commonCounts = 0.2
	fitCounts    = 0.5
	easeCounts   = 0.05
	priceCounts  = 0.05
	wishCounts   = 0.15
	likedCounts  = 0.04
)

// unknownStock stands for a cloth of which nobody says how shops have it: it is
// hardly met.
var unknownStock = Stock{Common: 0, Price: 1, Ease: 2}

// taste is what makers take for a layer: the picks, and what cloths for it are said to
// be used for.
type taste struct {
	picks    map[string]float64
	purposes []string
}

// groups are the groups of a list, best last.
var listGroups = []string{NotFor, WillDo, Recommended}

// recommend orders judged make-ups as a maker would be told of them.
func (a *Adviser) recommend(js []*judged, who func(*judged) *fibres.Subject, like taste) {
	list := make([]place, len(js))
	for i, j := range js {
		list[i] = a.placeOf(j, who(j), like)
	}
	slices.SortStableFunc(list, func(x, y place) int {
		return cmp.Or(slices.Index(listGroups, y.group)-slices.Index(listGroups, x.group), cmp.Compare(y.score, x.score))
	})
	for i, p := range apart(list) {
		js[i] = p.judged
		js[i].group, js[i].why = p.group, p.why()
	}
}

// placeOf works out where a candidate belongs: what suits is recommended where makers
// take it too, or where nobody says what they take.
func (a *Adviser) placeOf(j *judged, s *fibres.Subject, like taste) place {
	p := place{judged: j, subject: s, group: groupOf(j)}
	stock := &unknownStock
	meant := 0.0
	if s != nil && s.Cloth != nil {
		if p.stock = a.StockOf(s.Cloth.ID); p.stock != nil {
			stock = p.stock
		}
		p.meant, meant = a.meantFor(s.Cloth, p.stock, like.purposes)
		if like.picks != nil {
			sure := like.picks[s.Cloth.ID]
			p.picked = sure > 0
			meant = math.Max(sure, besidePicks*meant)
			if !p.picked && p.group == Recommended {
				p.group = WillDo
			}
		}
	}
	p.score = meantCounts*meant + commonCounts*of(stock.Common, CommonScale) + fitCounts*j.share + easeCounts*of(stock.Ease, EaseScale) -
		priceCounts*of(stock.Price, PriceScale) + wishCounts*a.preferred(j.make, s, stock) + likedCounts*j.liked
	if j.verdict == Suits {
		p.score += suitsCounts
	}
	return p
}

// of is a level as a part of the whole of its scale.
func of(level int, scale fibres.Scale) float64 { return float64(level) / float64(len(scale)-1) }

// preferred is how far a cloth is what the wishes put first, in steps.
func (a *Adviser) preferred(m MakeUp, s *fibres.Subject, stock *Stock) float64 {
	var v float64
	for _, w := range m.Wishes {
		for _, way := range w.Prefer {
			v += a.prefers(way, s, stock)
		}
	}
	return v
}

// prefers is how far a cloth goes one way of a preference, in steps.
func (a *Adviser) prefers(way string, s *fibres.Subject, stock *Stock) float64 {
	use, used := strings.CutPrefix(way, usedForWay)
	made, ofFibre := strings.CutPrefix(way, madeOfWay)
	switch {
	case way == "ease":
		return float64(min(stock.Ease, 3))
	case way == "price":
		return -float64(stock.Price)
	case way == "common":
		return float64(stock.Common)
	case s != nil && ofFibre && madeOf(s.Made(), made) >= 50:
		return wholeCounts
	case s == nil || s.Cloth == nil:
		return a.steps(way, s)
	case way == "era" && len(s.Cloth.Content) > 0 && !madeFibre(s.Cloth):
		return wholeCounts
	case used && slices.ContainsFunc(slices.Concat(stock.BoughtFor, s.Cloth.UsedFor), func(u string) bool { return usedFor(u, use) }):
		return wholeCounts
	}
	return a.steps(way, s)
}

// madeOf is the share in per cent of what a cloth is made of that is of the fibres or
// families, which "or" parts.
func madeOf(content []fibres.Part, made string) float64 {
	list, share := strings.Split(made, " or "), 0.0
	for _, p := range content {
		if slices.Contains(list, p.Fibre.ID) || slices.Contains(list, p.Fibre.Family) {
			share += p.Share.Typical
		}
	}
	return share
}

// wholeCounts is how many steps a cloth is before another that is of its day, of the fibre
// or meant for the use that is wished, where the other is not, and doublings how many steps
// a figure makes that is twice another. Own judgement.
const wholeCounts, doublings = 3, 1.0

// muchOf and littleOf are the levels from which on a cloth has enough of a property, or
// little enough: beyond them other things decide.
const muchOf, littleOf = 2, 1

// steps is how far a cloth goes the way of a preference: by levels, or by doublings of a
// figure; nothing where its property is not known.
func (a *Adviser) steps(prefer string, s *fibres.Subject) float64 {
	p, sign := steered(prefer)
	if s == nil || sign == 0 {
		return 0
	}
	switch e := a.Cat.Estimate(*s, p); {
	case !e.Known():
		return 0
	case fibres.Properties[p].Scale != nil && sign > 0:
		return math.Min(e.Typical, muchOf)
	case fibres.Properties[p].Scale != nil:
		return -math.Max(e.Typical, littleOf)
	default:
		return sign * doublings * math.Log2(math.Max(e.Typical, 0.01))
	}
}

// madeFibre reports whether a cloth holds a fibre that was made first after 1920.
func madeFibre(k *fibres.Cloth) bool {
	return slices.ContainsFunc(k.Content, func(p fibres.Part) bool {
		return p.Share.Typical >= 10 && (p.Fibre.Family == "synthetic" || p.Fibre.Family == "ester")
	})
}

// meantFor is the first of the purposes that a cloth is meant for, "" where it is none,
// and how surely it is, from 0 to 1: the first purposes are the narrowest; what shops
// sell it for, or its own name, tells more than a list of what it has been used for.
func (a *Adviser) meantFor(k *fibres.Cloth, s *Stock, purposes []string) (string, float64) {
	sold := []string{k.Name}
	if s != nil {
		sold = slices.Concat(sold, s.BoughtFor)
	}
	best, most := "", 0.0
	for i, p := range purposes {
		sure := math.Max(leastSure, 1-widerBy*float64(i))
		names := func(u string) bool { return usedFor(u, p) }
		switch {
		case slices.ContainsFunc(sold, names):
		case slices.ContainsFunc(k.UsedFor, names):
			sure *= usedCounts
		default:
			continue
		}
		if sure > most {
			best, most = p, sure
		}
	}
	return best, most
}

const (
	// usedCounts is how much a use counts that the description of a cloth names, against
	// one that shops sell it for.
	usedCounts = 0.8
	// widerBy is how much less each wider purpose counts than the one before, and
	// leastSure the least that one counts. Own judgement, all three.
	widerBy, leastSure = 0.15, 0.3
)

// usedFor reports whether words of use name a purpose, in one number or many.
func usedFor(use, purpose string) bool {
	return strings.Contains(inOne(use), inOne(purpose))
}

// inOne are words in one number with a blank on both sides. A ranking asks for the same
// few thousand again and again.
func inOne(words string) string {
	return singulars.Get(words, func() string { return " " + prose.Singular(words) + " " })
}

var singulars memo.Cache[string, string]

// apart keeps near-identical cloths from standing close together: one that would be
// the third of its kind among [twinsOf] waits until it is not.
func apart(list []place) []place {
	out := make([]place, 0, len(list))
	rest := slices.Clone(list)
	for len(rest) > 0 {
		at := 0
		for i := range rest {
			if rest[i].group != rest[0].group {
				break // what will do never waits behind what does not
			}
			if !crowded(out, rest[i]) {
				at = i
				break
			}
		}
		out = append(out, rest[at])
		rest = slices.Delete(rest, at, at+1)
	}
	return out
}

func crowded(out []place, p place) bool {
	n, kind := 0, twin(p.subject)
	for i := len(out) - 1; i >= max(0, len(out)-twinsOf+1); i-- {
		if kind != "" && twin(out[i].subject) == kind {
			n++
		}
	}
	return n >= twinsAt
}

// twin is what makes two cloths near-identical: their main fibre and their weave.
func twin(s *fibres.Subject) string {
	if s == nil || s.Cloth == nil || len(s.Cloth.Content) == 0 {
		return ""
	}
	return s.Cloth.Content[0].Fibre.ID + " " + s.Cloth.Structure.ID
}

// why is what speaks for a candidate, in a phrase.
func (p place) why() string {
	var say []string
	switch {
	case p.picked:
		say = append(say, "usual for it")
	case p.meant != "":
		say = append(say, "meant for it ("+p.meant+")")
	}
	if p.stock != nil {
		if p.stock.Common >= 3 {
			say = append(say, CommonScale[p.stock.Common]+" in the shops")
		}
		if p.stock.Ease >= 3 {
			say = append(say, EaseScale[p.stock.Ease]+" to sew")
		}
		if p.stock.Price == 0 {
			say = append(say, "low in price")
		}
	}
	if len(say) == 0 {
		say = append(say, "it does what the piece asks")
	}
	return strings.Join(say, ", ")
}

// groupOf is the group of a list that a judged make-up belongs to.
func groupOf(j *judged) string {
	switch j.verdict {
	case Suits:
		return Recommended
	case Borderline:
		return WillDo
	}
	return NotFor
}

// inGroup is the group of the list that it stands in, or would.
func (j *judged) inGroup() string {
	if j.group != "" {
		return j.group
	}
	return groupOf(j)
}

// shellTaste and liningTaste are what makers take for the layers of a make-up.
func (a *Adviser) shellTaste(m MakeUp) taste {
	return taste{a.layerPicks(m, "shell"), purposesOf(m)}
}

func (a *Adviser) liningTaste(m MakeUp) taste {
	return taste{a.layerPicks(m, "lining"), liningPurposes(m)}
}

// purposesOf are what cloths for a piece are said to be used for.
func purposesOf(m MakeUp) []string {
	if m.Piece == nil {
		return nil
	}
	if len(m.Piece.Purpose) > 0 {
		return m.Piece.Purpose
	}
	return append([]string{m.Piece.Name}, m.Piece.Group)
}

// liningPurposes are what a cloth is used for that does the lining's work in the
// make-up: a window, a bag and a boned bodice have linings of their own.
func liningPurposes(m MakeUp) []string {
	if m.Piece == nil {
		return []string{"lining"}
	}
	switch {
	case m.Piece.Group == "hanging":
		return []string{"curtain lining", "blind"}
	case m.Piece.Group == "bag":
		return []string{"bag lining", "pocketing", "bag"}
	case m.Piece.ID == "boned-bodice" || m.Piece.Of == "boned-bodice":
		return []string{"corset", "boned bodice", "stay", "corset strength layer", "bodice foundation", "boned lining"}
	case m.Wished("reversible"), m.Job != nil && m.Job.ID == "second-face":
		return purposesOf(m)
	case m.Piece.ID == "rain-jacket" || m.Piece.ID == "raincoat" || m.Piece.ID == "rain-cape":
		return []string{"rainwear lining", "sports lining", "lining of rainwear", "jacket lining", "lining"}
	}
	return []string{"jacket lining", "skirt lining", "coat lining", "lining", "bias lining", "lining of light cloth", "light lining", "lining of knit"}
}

// FirstChoice is what stands first in a list, where it is recommended: what is taken where
// nobody names another. ok is false where nothing is.
func FirstChoice(list []Choice) (c Choice, ok bool) {
	if len(list) == 0 || list[0].Effect != "for" {
		return Choice{}, false
	}
	return list[0], true
}

// choiceOrder is how choices stand: what is recommended first.
var choiceOrder = []string{"for", WillDo, NotFor, "forbids"}

// bestFirst puts choices in the order of their effects; where nothing is recommended,
// the first of what will do is.
func bestFirst(list []Choice) []Choice {
	slices.SortStableFunc(list, func(x, y Choice) int {
		return slices.Index(choiceOrder, x.Effect) - slices.Index(choiceOrder, y.Effect)
	})
	if len(list) > 0 && list[0].Effect == WillDo && !list[0].other {
		list[0].Effect = "for"
	}
	return list
}
