package rules

import (
	"math"
	"math/bits"
	"slices"
)

// Op is what a condition asks of its fact.
type Op uint8

// What conditions ask.
const (
	OpKnown   Op = iota // that it is known
	OpUnknown           // that it is not
	OpWords             // that it is, or contains, one of the words
	OpLevels            // that it is one of the levels (or flags)
	OpSpan              // that the number lies in one of the spans
	OpFact              // that it stands in a relation to another fact
)

// Relation is how a fact stands to another.
type Relation uint8

// The relations between two facts.
const (
	Same Relation = iota
	Under
	AtMost
	AtLeast
	Over
)

// Cond is one condition, typed and ready to be compared. Not turns OpWords,
// OpSpan and OpFact about.
type Cond struct {
	Fact int
	Op   Op
	Not  bool
	V    Val
}

// Val is what the fact is compared with; Op says which parts count.
type Val struct {
	Words    []string
	Levels   uint64 // bit i stands for the scale's word i; the last word's bit goes on to the top
	Span     Span
	More     []Span // further spans, for "2 or 4"
	Relation Relation
	Other    int     // the fact it is compared with
	Factor   float64 // by which that one is multiplied first
}

// Span is a range with both ends in it. An end that "over" or "under" leaves out
// is moved to the next number that can be written.
type Span struct{ Lo, Hi float64 }

func (s Span) holds(x float64) bool { return x >= s.Lo && x <= s.Hi }

// Firing is what a rule says of a case.
type Firing struct {
	Rule *Rule
	// Share is the part of the population for which every condition holds that
	// can be decided.
	Share float64
	// Open names the facts that are not known and would decide; while there are
	// any, the rule does not speak firmly.
	Open []string
}

// Firm says that the rule speaks and nothing unknown could silence it.
func (f Firing) Firm() bool { return f.Share > 0 && len(f.Open) == 0 }

// answer is what one condition says where all members agree.
type answer uint8

const (
	no answer = iota
	yes
	open   // a fact it needs is not known
	varies // it differs from member to member
)

// Fire judges the case. A condition on an unknown fact leaves the answer open,
// one that is surely false silences the rule whatever else is unknown.
func (r *Rule) Fire(c *Case) Firing {
	var opens, mixed uint64
	for i := range r.Parts.Conds {
		switch r.Parts.Conds[i].decide(c) {
		case no:
			return Firing{Rule: r}
		case open:
			opens |= 1 << i
		case varies:
			mixed |= 1 << i
		}
	}
	share := 1.0
	if mixed != 0 {
		n := r.count(c, mixed)
		if n == 0 {
			return Firing{Rule: r}
		}
		share = float64(n) / float64(c.N)
	}
	f := Firing{Rule: r, Share: share}
	if opens != 0 {
		f.Open = r.unknown(c, opens)
	}
	return f
}

// Members is a set of the members of a case, a bit for each.
type Members []uint64

// NewMembers is room for the members of a case.
func (c *Case) NewMembers() Members { return make(Members, (c.N+63)/64) }

// Has says whether a member is in the set.
func (m Members) Has(i int) bool { return m[i>>6]>>(i&63)&1 == 1 }

// fill puts the first n members into the set, and no other.
func (m Members) fill(n int) {
	for i := range m {
		m[i] = ^uint64(0) >> (64 - min(64, n-64*i))
	}
}

// Hold is [Rule.Fire], and puts the members for which every condition that can be
// decided holds into the set.
func (r *Rule) Hold(c *Case, members Members) Firing {
	f := r.Fire(c)
	if f.Share == 0 {
		clear(members)
		return f
	}
	members.fill(c.N)
	if f.Share == 1 {
		return f
	}
	for i := range r.Parts.Conds {
		k := &r.Parts.Conds[i]
		if k.decide(c) != varies {
			continue
		}
		for w := range members {
			members[w] &= k.marks(c, 64*w, min(64*w+64, c.N))
		}
	}
	return f
}

// Held is how one condition of a rule fares.
type Held struct {
	When  When
	Share float64 // the part of the population for which it holds; 1 when Open
	Open  bool    // a fact it needs is not known
}

// Held says of each condition, in the order written, how it fares in the case:
// why a rule speaks, or does not.
func (r *Rule) Held(c *Case) []Held {
	out := make([]Held, len(r.Parts.Written))
	for i := range r.Parts.Written {
		out[i].When = r.Parts.When[i]
		switch k := &r.Parts.Written[i]; k.decide(c) {
		case yes:
			out[i].Share = 1
		case open:
			out[i].Share, out[i].Open = 1, true
		case varies:
			out[i].Share = float64(k.tally(c)) / float64(c.N)
		}
	}
	return out
}

// decide answers a condition without looking at the members one by one.
func (k *Cond) decide(c *Case) answer {
	col := c.Column(k.Fact)
	switch {
	case k.Op == OpKnown:
		return is(col.State == Known)
	case k.Op == OpUnknown:
		return is(col.State == Unknown)
	case col.State == Absent:
		return no
	case k.Op == OpFact && c.Column(k.V.Other).State == Absent:
		return no
	case col.State == Unknown:
		return open
	}
	switch k.Op {
	case OpWords:
		return is(meet(col.Words, k.V.Words) != k.Not)
	case OpLevels:
		if len(col.Num) != 1 {
			return varies
		}
		return is(k.V.Levels>>level(col.Num[0])&1 == 1)
	case OpSpan:
		if len(col.Num) != 1 {
			return varies
		}
		return is(k.within(col.Num[0]))
	}
	other := c.Column(k.V.Other)
	if other.State == Unknown {
		return open
	}
	if col.Num == nil {
		return is(meet(col.Words, other.Words) != k.Not)
	}
	if len(col.Num) != 1 || len(other.Num) != 1 {
		return varies
	}
	return is(k.relates(col.Num[0], other.Num[0]))
}

func is(b bool) answer {
	if b {
		return yes
	}
	return no
}

// meet says whether the two lists have a word in common.
func meet(a, b []string) bool {
	for _, x := range a {
		if slices.Contains(b, x) {
			return true
		}
	}
	return false
}

// level turns a place on a scale into the number of its bit. A place off the
// scale counts as its nearest end.
func level(x float64) uint { return uint(min(max(x, 0), 63)) }

func (k *Cond) within(x float64) bool {
	in := k.V.Span.holds(x)
	for _, s := range k.V.More {
		in = in || s.holds(x)
	}
	return in != k.Not
}

func (k *Cond) relates(x, y float64) bool {
	y *= k.V.Factor
	var holds bool
	switch k.V.Relation {
	case Same:
		holds = x == y
	case Under:
		holds = x < y
	case AtMost:
		holds = x <= y
	case AtLeast:
		holds = x >= y
	case Over:
		holds = x > y
	}
	return holds != k.Not
}

// count gives the number of members for which every condition of the mask
// holds.
func (r *Rule) count(c *Case, mask uint64) int {
	if mask&(mask-1) == 0 {
		return r.Parts.Conds[bits.TrailingZeros64(mask)].tally(c)
	}
	n := 0
	for first := 0; first < c.N; first += 64 {
		last := min(first+64, c.N)
		m := ^uint64(0)
		for left := mask; left != 0 && m != 0; left &= left - 1 {
			m &= r.Parts.Conds[bits.TrailingZeros64(left)].marks(c, first, last)
		}
		n += bits.OnesCount64(m)
	}
	return n
}

// The loops below run over every member of every cloth. They are written so that no
// branch depends on a member's value, and marks are shifted in from the top
// because a shift by a constant is cheap.

// bit is 1 for true. The compiler makes one instruction of it.
func bit(b bool) uint64 {
	if b {
		return 1
	}
	return 0
}

// run says whether the condition asks for one range of its own fact's values,
// and gives it: most do, those on levels among them.
func (k *Cond) run() (Span, bool) {
	switch {
	case k.Op == OpSpan && k.V.More == nil:
		return k.V.Span, true
	case k.Op == OpLevels:
		lo, n := bits.TrailingZeros64(k.V.Levels), bits.OnesCount64(k.V.Levels)
		if n == 0 || k.V.Levels>>lo != ^uint64(0)>>(64-n) {
			break
		}
		s := Span{float64(lo), float64(lo + n - 1)}
		if lo == 0 {
			s.Lo = lowest
		}
		if lo+n == 64 {
			s.Hi = highest
		}
		return s, true
	}
	return Span{}, false
}

// tally counts the members for which the condition holds.
func (k *Cond) tally(c *Case) int {
	s, ok := k.run()
	if !ok {
		n := 0
		for first := 0; first < c.N; first += 64 {
			n += bits.OnesCount64(k.marks(c, first, min(first+64, c.N)))
		}
		return n
	}
	num := c.Column(k.Fact).Num
	lo, hi := s.Lo, s.Hi
	var n uint64
	switch {
	case hi == highest:
		for _, x := range num {
			n += bit(x >= lo)
		}
	case lo == lowest:
		for _, x := range num {
			n += bit(x <= hi)
		}
	default:
		for _, x := range num {
			n += bit(x >= lo) & bit(x <= hi)
		}
	}
	if k.Not {
		return len(num) - int(n)
	}
	return int(n)
}

// marks sets a bit for each of up to 64 members for which the condition holds,
// the lowest for the first.
func (k *Cond) marks(c *Case, first, last int) uint64 {
	num := c.Column(k.Fact).Num
	if k.Op == OpFact {
		return k.compare(num, c.Column(k.V.Other).Num, first, last)
	}
	num = num[first:last]
	none := 64 - len(num)
	var m uint64
	s, ok := k.run()
	if !ok {
		for _, x := range num {
			m = m>>1 | bit(k.one(x))<<63
		}
		return m >> none
	}
	lo, hi := s.Lo, s.Hi
	switch {
	case hi == highest:
		for _, x := range num {
			m = m>>1 | bit(x >= lo)<<63
		}
	case lo == lowest:
		for _, x := range num {
			m = m>>1 | bit(x <= hi)<<63
		}
	default:
		for _, x := range num {
			m = m>>1 | bit(x >= lo)&bit(x <= hi)<<63
		}
	}
	if k.Not {
		m = ^m
	}
	return m >> none
}

// one judges a single value of a level or number.
func (k *Cond) one(x float64) bool {
	if k.Op == OpLevels {
		return k.V.Levels>>level(x)&1 == 1
	}
	return k.within(x)
}

// compare marks the members for which the two facts stand in the relation.
func (k *Cond) compare(num, other []float64, first, last int) uint64 {
	// A fact that is the same for all members is spread over a block of them, so
	// that one loop serves all.
	var xs, ys [64]float64
	n := last - first
	x, y := xs[:n], ys[:n]
	if len(num) == 1 {
		fill(x, num[0])
	} else {
		x = num[first:last]
	}
	if len(other) == 1 {
		fill(y, other[0]*k.V.Factor)
	} else if y = other[first:last]; k.V.Factor != 1 {
		for i, v := range y {
			ys[i] = v * k.V.Factor
		}
		y = ys[:n]
	}
	relation, not := k.V.Relation, k.Not
	if relation == Over || relation == AtLeast { // the other way about
		x, y = y, x
	}
	y = y[:len(x)]
	var m uint64
	switch relation {
	case Same:
		for i, v := range x {
			m = m>>1 | bit(v == y[i])<<63
		}
	case Under, Over:
		for i, v := range x {
			m = m>>1 | bit(v < y[i])<<63
		}
	default:
		for i, v := range x {
			m = m>>1 | bit(v <= y[i])<<63
		}
	}
	if not {
		m = ^m
	}
	return m >> (64 - n)
}

func fill(v []float64, x float64) {
	for i := range v {
		v[i] = x
	}
}

// unknown names the facts that leave the conditions of the mask open.
func (r *Rule) unknown(c *Case, mask uint64) []string {
	var out []string
	for ; mask != 0; mask &= mask - 1 {
		k := &r.Parts.Conds[bits.TrailingZeros64(mask)]
		if c.Column(k.Fact).State == Unknown {
			out = r.name(out, k.Fact)
		}
		if k.Op == OpFact && c.Column(k.V.Other).State == Unknown {
			out = r.name(out, k.V.Other)
		}
	}
	return out
}

func (r *Rule) name(out []string, fact int) []string {
	i := slices.Index(r.Parts.Facts, fact)
	switch {
	case out == nil:
		return r.Parts.Names[i : i+1 : i+1] // costs nothing, and most often there is only one
	case slices.Contains(out, r.Parts.Names[i]):
		return out
	}
	return append(out, r.Parts.Names[i])
}

// The ends of a span that has none: figures, not infinities, so that a span can
// be written as a constant.
const (
	lowest  = -math.MaxFloat64
	highest = math.MaxFloat64
)
