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
	Levels   uint64 // bit i stands for the scale's word i
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
	for i := range r.conds {
		switch r.conds[i].decide(c) {
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

// FireAll returns the firings of the rules that speak, firmly or not, in the
// order of the rules.
func FireAll(rules []*Rule, c *Case) []Firing { return AppendFirings(nil, rules, c) }

// AppendFirings is [FireAll] into a slice that is used again.
func AppendFirings(dst []Firing, rules []*Rule, c *Case) []Firing {
	for _, r := range rules {
		if f := r.Fire(c); f.Share > 0 {
			dst = append(dst, f)
		}
	}
	return dst
}

// decide answers a condition without looking at the members one by one.
func (k *Cond) decide(c *Case) answer {
	col := &c.Columns[k.Fact]
	switch {
	case k.Op == OpKnown:
		return is(col.State == Known)
	case k.Op == OpUnknown:
		return is(col.State == Unknown)
	case col.State == Absent:
		return no
	case k.Op == OpFact && c.Columns[k.V.Other].State == Absent:
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
	other := &c.Columns[k.V.Other]
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

// level turns a place on a scale into a shift that finds no bit where the place
// is off every scale.
func level(x float64) uint {
	if x >= 0 && x < 64 {
		return uint(x)
	}
	return 64
}

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

// room is how many words of marks stand on the stack: enough for 1,024 members.
const room = 16

// count gives the number of members for which every condition of the mask
// holds.
func (r *Rule) count(c *Case, mask uint64) int {
	if mask&(mask-1) == 0 {
		return r.conds[bits.TrailingZeros64(mask)].tally(c)
	}
	var space [room]uint64
	marks := space[:]
	if need := (c.N + 63) / 64; need <= room {
		marks = space[:need]
	} else {
		marks = make([]uint64, need)
	}
	for i := range marks {
		marks[i] = ^uint64(0)
	}
	n := 0
	for ; mask != 0; mask &= mask - 1 {
		r.conds[bits.TrailingZeros64(mask)].mark(c, marks)
		n = 0
		for _, w := range marks {
			n += bits.OnesCount64(w)
		}
		if n == 0 {
			break
		}
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
		lo := bits.TrailingZeros64(k.V.Levels)
		if n := bits.OnesCount64(k.V.Levels); k.V.Levels>>lo == ^uint64(0)>>(64-n) {
			return Span{float64(lo), float64(lo + n - 1)}, true
		}
	}
	return Span{}, false
}

// tally counts the members for which the condition holds.
func (k *Cond) tally(c *Case) int {
	num := c.Columns[k.Fact].Num
	if s, ok := k.run(); ok {
		lo, hi := s.Lo, s.Hi
		var n uint64
		switch {
		case math.IsInf(hi, 1):
			for _, x := range num {
				n += bit(x >= lo)
			}
		case math.IsInf(lo, -1):
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
	n := 0
	if k.Op == OpFact {
		other := c.Columns[k.V.Other].Num
		less, same, more := k.accepts()
		f := k.V.Factor
		for i := range c.N {
			x, y := at(num, i), at(other, i)*f
			n += int(bit(x < y)&less | bit(x == y)&same | bit(x > y)&more)
		}
		return n
	}
	for _, x := range num {
		n += int(bit(k.one(x)))
	}
	return n
}

// one judges a single value of a level or number.
func (k *Cond) one(x float64) bool {
	if k.Op == OpLevels {
		return k.V.Levels>>level(x)&1 == 1
	}
	return k.within(x)
}

// accepts says which outcomes of comparing two facts satisfy the condition.
func (k *Cond) accepts() (less, same, more uint64) {
	return bit(k.relates(0, 1/k.V.Factor)), bit(k.relates(0, 0)), bit(k.relates(0, -1/k.V.Factor))
}

// mark clears the marks of the members for which the condition does not hold,
// and those beyond the last member.
func (k *Cond) mark(c *Case, marks []uint64) {
	num := c.Columns[k.Fact].Num
	span, run := k.run()
	lo, hi, flip := span.Lo, span.Hi, bit(k.Not)
	var other []float64
	var less, same, more uint64
	if k.Op == OpFact {
		other = c.Columns[k.V.Other].Num
		less, same, more = k.accepts()
	}
	for w := range marks {
		first := w * 64
		last := min(first+64, c.N)
		var m uint64
		switch {
		case run:
			for _, x := range num[first:last] {
				m = m>>1 | (bit(x >= lo)&bit(x <= hi)^flip)<<63
			}
		case k.Op == OpFact:
			f := k.V.Factor
			for i := first; i < last; i++ {
				x, y := at(num, i), at(other, i)*f
				m = m>>1 | (bit(x < y)&less|bit(x == y)&same|bit(x > y)&more)<<63
			}
		default:
			for _, x := range num[first:last] {
				m = m>>1 | bit(k.one(x))<<63
			}
		}
		marks[w] &= m >> (64 - (last - first))
	}
}

func at(num []float64, i int) float64 {
	if len(num) == 1 {
		return num[0]
	}
	return num[i]
}

// unknown names the facts that leave the conditions of the mask open.
func (r *Rule) unknown(c *Case, mask uint64) []string {
	var out []string
	for ; mask != 0; mask &= mask - 1 {
		k := &r.conds[bits.TrailingZeros64(mask)]
		if c.Columns[k.Fact].State == Unknown {
			out = r.name(out, k.Fact)
		}
		if k.Op == OpFact && c.Columns[k.V.Other].State == Unknown {
			out = r.name(out, k.V.Other)
		}
	}
	return out
}

func (r *Rule) name(out []string, fact int) []string {
	i := slices.Index(r.facts, fact)
	switch {
	case out == nil:
		return r.names[i : i+1 : i+1] // costs nothing, and most often there is only one
	case slices.Contains(out, r.names[i]):
		return out
	}
	return append(out, r.names[i])
}
