package rules

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"tenter/fibres/fault"
	"tenter/fibres/prose"
)

// neverFires looks for conditions of one rule that cannot hold together. It
// proves what it says: a rule it passes may still never fire. The scratch case
// is written over.
func (s *Schema) neverFires(r *Rule, scratch *Case) error {
	f := s.clash(r)
	if f == nil {
		f = s.circle(r)
	}
	if f == nil {
		f = s.implied(r, scratch)
	}
	if f == nil {
		return nil
	}
	f.Kind, f.Mend = fault.BadData, "widen one of the two, or make two rules of it"
	return f
}

// never phrases two conditions that cannot hold together, at the later one.
func (r *Rule) never(i, j int) *fault.Fault {
	if r.Parts.Lines[i] > r.Parts.Lines[j] {
		i, j = j, i
	}
	return &fault.Fault{Where: r.Parts.When[j].Place, What: "can never fire: " + r.wants(i) + ", " + r.wants(j), Expected: together}
}

const together = "conditions that can hold together"

func (r *Rule) wants(i int) string {
	return "line " + strconv.Itoa(r.Parts.Lines[i]) + " wants " + r.Parts.When[i].String()
}

// clash finds two conditions on one fact that exclude each other, and
// conditions on facts that another condition wants unknown.
func (s *Schema) clash(r *Rule) *fault.Fault {
	for j := range r.Parts.Written {
		for i := range j {
			a, b := &r.Parts.Written[i], &r.Parts.Written[j]
			if a.Fact == b.Fact && s.exclude(a, b) {
				return r.never(i, j)
			}
			for _, k := range [][2]*Cond{{a, b}, {b, a}} {
				if k[0].Op == OpUnknown && k[1].Op == OpFact && k[1].V.Other == k[0].Fact {
					return r.never(i, j)
				}
			}
		}
	}
	return nil
}

// exclude says that two conditions on one fact cannot both hold.
func (s *Schema) exclude(a, b *Cond) bool {
	if a.Op > b.Op {
		a, b = b, a
	}
	switch {
	case a.Op == OpKnown:
		return b.Op == OpUnknown
	case a.Op == OpUnknown:
		return b.Op != OpUnknown
	case a.Op != b.Op:
		return false
	case a.Op == OpLevels:
		return a.V.Levels&b.V.Levels == 0
	case a.Op == OpSpan:
		return meetSpans(a.spans(), b.spans()) == nil
	case a.Op == OpWords && s.facts[a.Fact].Kind == Word:
		switch {
		case a.Not && b.Not:
			return false
		case a.Not:
			return subset(b.V.Words, a.V.Words)
		case b.Not:
			return subset(a.V.Words, b.V.Words)
		}
		return !meet(a.V.Words, b.V.Words)
	case a.Op == OpWords && a.Not != b.Not: // a set: it contains one of these, and none of those
		if a.Not {
			a, b = b, a
		}
		return subset(a.V.Words, b.V.Words)
	}
	return false
}

// spans gives the numbers for which the condition holds, in order.
func (k *Cond) spans() []Span {
	l := append([]Span{k.V.Span}, k.V.More...)
	slices.SortFunc(l, func(a, b Span) int { return cmp.Compare(a.Lo, b.Lo) })
	if !k.Not {
		return l
	}
	var out []Span
	lo := lowest
	for _, s := range l {
		if hi := math.Nextafter(s.Lo, lowest); s.Lo > lowest && lo <= hi {
			out = append(out, Span{lo, hi})
		}
		lo = math.Max(lo, math.Nextafter(s.Hi, highest))
	}
	if lo < highest {
		out = append(out, Span{lo, highest})
	}
	return out
}

// meetSpans gives the numbers that lie in both lists.
func meetSpans(a, b []Span) []Span {
	var out []Span
	for _, x := range a {
		for _, y := range b {
			if lo, hi := math.Max(x.Lo, y.Lo), math.Min(x.Hi, y.Hi); lo <= hi {
				out = append(out, Span{lo, hi})
			}
		}
	}
	return out
}

func subset(a, b []string) bool {
	for _, x := range a {
		if !slices.Contains(b, x) {
			return false
		}
	}
	return true
}

// circle finds facts that are compared with each other so that no values fit:
// each over the other, or over it while its bounds forbid it. Facts that are
// compared by a multiple are taken to be more than zero.
func (s *Schema) circle(r *Rule) *fault.Fault {
	for j := range r.Parts.Written {
		b := &r.Parts.Written[j]
		if b.Op != OpFact || b.Not || s.words(b.Fact) {
			continue
		}
		for i := range j {
			a := &r.Parts.Written[i]
			if a.Op != OpFact || a.Not {
				continue
			}
			ra, rb, ka, kb := a.V.Relation, b.V.Relation, a.V.Factor, b.V.Factor
			switch {
			case a.Fact == b.V.Other && a.V.Other == b.Fact:
				// a over ka·b and b over kb·a: together a over ka·kb·a.
				up, down := overOrEqual(ra) && overOrEqual(rb), underOrEqual(ra) && underOrEqual(rb)
				strict := ra == Over || rb == Over || ra == Under || rb == Under
				if up && (ka*kb > 1 || ka*kb == 1 && strict) || down && (ka*kb < 1 || ka*kb == 1 && strict) {
					return r.never(i, j)
				}
			case a.Fact == b.Fact && a.V.Other == b.V.Other:
				// over the one multiple and under another that is not more.
				if ra == Same || rb == Same {
					if ra == rb && ka != kb {
						return r.never(i, j)
					}
					continue
				}
				if overOrEqual(rb) {
					ra, rb, ka, kb = rb, ra, kb, ka
				}
				if overOrEqual(ra) && underOrEqual(rb) && (ka > kb || ka == kb && (ra == Over || rb == Under)) {
					return r.never(i, j)
				}
			}
		}
		if i, bad := s.unreachable(r, b); bad {
			if i < 0 {
				return &fault.Fault{Where: r.Parts.When[j].Place, What: "can never fire: nothing on the scale is " + r.Parts.When[j].Words,
					Expected: together}
			}
			return r.never(i, j)
		}
	}
	return nil
}

// unreachable says that the bounds which other conditions set to the two facts
// leave the relation of b no values; i is one of those conditions, or -1.
func (s *Schema) unreachable(r *Rule, b *Cond) (i int, bad bool) {
	x, ix := s.bounds(r, b.Fact)
	y, iy := s.bounds(r, b.V.Other)
	if x.Lo > x.Hi || y.Lo > y.Hi {
		return 0, false // said by clash
	}
	lo, hi := y.Lo*b.V.Factor, y.Hi*b.V.Factor
	switch b.V.Relation {
	case Same:
		bad = x.Hi < lo || x.Lo > hi
	case Under:
		bad = x.Lo >= hi
	case AtMost:
		bad = x.Lo > hi
	case AtLeast:
		bad = x.Hi < lo
	case Over:
		bad = x.Hi <= lo
	}
	return max(ix, iy), bad
}

// bounds gives the least and the greatest value that the conditions leave a
// fact, and the last of those conditions, -1 when there is none.
func (s *Schema) bounds(r *Rule, fact int) (Span, int) {
	out, last := Span{lowest, highest}, -1
	if f := &s.facts[fact]; f.Kind == Level || f.Kind == Flag {
		out = Span{0, float64(len(s.vocab[fact]) - 1)}
	}
	for i := range r.Parts.Written {
		k := &r.Parts.Written[i]
		if k.Fact != fact {
			continue
		}
		var l []Span
		switch k.Op {
		case OpSpan:
			l = k.spans()
		case OpLevels:
			for j := range len(s.vocab[fact]) {
				if k.V.Levels>>j&1 == 1 {
					l = append(l, Span{float64(j), float64(j)})
				}
			}
		}
		if len(l) > 0 {
			out.Lo, out.Hi = math.Max(out.Lo, l[0].Lo), math.Min(out.Hi, l[len(l)-1].Hi)
			last = i
		}
	}
	return out, last
}

func (s *Schema) words(fact int) bool { return s.facts[fact].Kind == Word || s.facts[fact].Kind == Set }

func overOrEqual(r Relation) bool  { return r == Over || r == AtLeast || r == Same }
func underOrEqual(r Relation) bool { return r == Under || r == AtMost || r == Same }

// implied finds a condition that is surely false by what follows from the word
// of another: the lining of an unlined finish. It builds what follows in base.
func (s *Schema) implied(r *Rule, base *Case) *fault.Fault {
	if s.imply == nil {
		return nil
	}
	clear(base.columns)
	var many []int
	for i := range r.Parts.Written {
		words := s.alternatives(&r.Parts.Written[i])
		switch {
		case len(words) == 1:
			s.imply(base, r.Parts.Written[i].Fact, words[0])
			if j := r.false(base, i); j >= 0 {
				return s.cannot(r, base, i, j, words[0])
			}
		case len(words) > 1:
			many = append(many, i)
		}
	}
	// Every word of a choice has to fail, on top of what is fixed already.
	for _, i := range many {
		words := s.alternatives(&r.Parts.Written[i])
		first, firstCase := -1, base
		for _, w := range words {
			c := base.With()
			s.imply(c, r.Parts.Written[i].Fact, w)
			j := r.false(c, i)
			if j < 0 {
				first = -1
				break
			}
			if first < 0 {
				first, firstCase = j, c
			}
		}
		if first >= 0 {
			return s.cannot(r, firstCase, i, first, words[0])
		}
	}
	return nil
}

// false gives the first condition but i that the case surely makes false, or -1.
func (r *Rule) false(c *Case, i int) int {
	for j := range r.Parts.Written {
		if j != i && r.Parts.Written[j].decide(c) == no {
			return j
		}
	}
	return -1
}

// alternatives lists the words one of which the fact must have.
func (s *Schema) alternatives(k *Cond) []string {
	switch {
	case k.Op == OpWords && !k.Not && s.facts[k.Fact].Kind == Word:
		return k.V.Words
	case k.Op == OpLevels && s.facts[k.Fact].Kind == Flag:
		var out []string
		for i, w := range yesNo {
			if k.V.Levels>>i&1 == 1 {
				out = append(out, w)
			}
		}
		return out
	}
	return nil
}

// cannot phrases that condition j is false because of the word that condition i
// wants.
func (s *Schema) cannot(r *Rule, c *Case, i, j int, word string) *fault.Fault {
	k := &r.Parts.Written[j]
	f := &s.facts[k.Fact]
	col := c.Column(k.Fact)
	if k.Op == OpFact && col.State != Absent && c.Column(k.V.Other).State == Absent {
		f, col = &s.facts[k.V.Other], c.Column(k.V.Other)
	}
	if s.facts[r.Parts.Written[i].Fact].Kind == Flag {
		word = r.Parts.When[i].String()
	}
	var why string
	switch {
	case col.State == Absent:
		why = "has no " + f.group()
	case k.Op == OpUnknown:
		why = "makes " + f.Name + " known"
	case f.Kind == Word || f.Kind == Set:
		why = "has " + f.Name + " = " + cmp.Or(strings.Join(col.Words, ", "), "nothing")
	case f.Kind == Number:
		why = "has " + f.Name + " = " + strings.TrimSpace(strconv.FormatFloat(col.Num[0], 'g', 4, 64)+" "+f.Unit)
	default:
		if l := level(col.Num[0]); l < uint(len(s.vocab[s.index[f.Name]])) {
			why = "has " + f.Name + " = " + s.vocab[s.index[f.Name]][l]
		}
	}
	if r.Parts.Lines[i] > r.Parts.Lines[j] {
		return &fault.Fault{Where: r.Parts.When[i].Place, What: "can never fire: " + r.wants(j) + ", but " + word + " " + why, Expected: together}
	}
	return &fault.Fault{Where: r.Parts.When[j].Place, What: "can never fire: line " + strconv.Itoa(r.Parts.Lines[i]) + " wants " + word + ", which " + why, Expected: together}
}

// contradictions finds rules that forbid, or are against, what another is for:
// under the same conditions, or wherever the other speaks. A narrower warning
// beside a broader "for" is how exceptions are written, and passes.
func contradictions(s *Schema, rules []*Rule) fault.List {
	var found fault.List
	var good, bad []*Rule
	for _, r := range rules {
		switch r.Effect {
		case For:
			good = append(good, r)
		case Forbids, Against:
			bad = append(bad, r)
		}
	}
	place := map[*Rule]int{}
	for i, r := range rules {
		place[r] = i
	}
	for _, g := range good {
		for _, b := range bad {
			if b.Parts.About != g.Parts.About || b.Matter != "" && b.Matter == g.Matter || !s.covers(b, g) {
				continue // those of one matter are parted by opposed
			}
			if b.Effect == Against && !s.covers(g, b) {
				continue // a general doubt with an exception
			}
			later, earlier := b, g
			if place[g] > place[b] {
				later, earlier = g, b
			}
			found = append(found, &fault.Fault{Kind: fault.BadData, Where: later.Place,
				What:     says(later) + " " + s.object(g) + " where " + earlier.Place + " " + says(earlier) + " it",
				Expected: "two rules that can both be followed",
				Mend:     `add replaces = "` + earlier.ID + `", or narrow one of them`})
		}
	}
	return found
}

// says phrases what a rule holds of its object.
func says(r *Rule) string {
	if r.Effect == Forbids {
		return "forbids"
	}
	return "is " + r.Effect.String()
}

// object names what the rule judges: the candidates it names, or the sort.
func (s *Schema) object(r *Rule) string {
	for i := range r.Parts.Written {
		k := &r.Parts.Written[i]
		if r.Parts.About != "" && s.facts[k.Fact].Name == r.Parts.About && k.Op == OpWords && !k.Not {
			return prose.Or(k.V.Words)
		}
	}
	if r.Parts.About != "" {
		return "a sort of " + r.Parts.About
	}
	return "a make-up"
}

// covers says that wherever every condition of narrow holds, so does every
// condition of wide. It proves what it says.
func (s *Schema) covers(wide, narrow *Rule) bool {
	for i := range wide.Parts.Conds {
		w := &wide.Parts.Conds[i]
		if !slices.ContainsFunc(narrow.Parts.Conds, func(n Cond) bool { return s.follows(w, &n) }) {
			return false
		}
	}
	return true
}

// follows says that w holds wherever n does.
func (s *Schema) follows(w, n *Cond) bool {
	if w.Op == OpKnown && n.Op != OpUnknown {
		return w.Fact == n.Fact || n.Op == OpFact && n.V.Other == w.Fact
	}
	if w.Fact != n.Fact || w.Op != n.Op {
		return false
	}
	switch w.Op {
	case OpUnknown:
		return true
	case OpLevels:
		return n.V.Levels&^w.V.Levels == 0
	case OpWords:
		switch {
		case !w.Not && !n.Not:
			return subset(n.V.Words, w.V.Words)
		case w.Not && n.Not:
			return subset(w.V.Words, n.V.Words)
		case w.Not && s.facts[w.Fact].Kind == Word:
			return !meet(n.V.Words, w.V.Words)
		}
		return false
	case OpSpan:
		in := n.spans()
		for _, x := range in {
			if !slices.ContainsFunc(w.spans(), func(y Span) bool { return y.Lo <= x.Lo && x.Hi <= y.Hi }) {
				return false
			}
		}
		return true
	}
	if w.V.Other != n.V.Other || w.Not != n.Not || s.words(w.Fact) {
		return w.V.Other == n.V.Other && w.Not == n.Not
	}
	if w.V.Relation == n.V.Relation && w.V.Factor == n.V.Factor {
		return true
	}
	if w.Not || n.Not || w.V.Factor != n.V.Factor {
		return false
	}
	switch w.V.Relation {
	case AtLeast:
		return n.V.Relation == Over || n.V.Relation == Same
	case AtMost:
		return n.V.Relation == Under || n.V.Relation == Same
	}
	return false
}
