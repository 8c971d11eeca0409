package rules

import "slices"

// State is how much is known of a fact.
type State uint8

// The states of a fact.
const (
	Unknown State = iota // nothing is known
	Absent               // the thing it is about is not there: the lining of an unlined piece
	Known
	unread // until it is asked for
)

// Column is what is known of one fact.
type Column struct {
	State State
	Num   []float64 // number, level (0 is the first word) or flag (0, 1): one value for every member of the population, or one each
	Words []string  // word or set
}

// Case is what is known of one make-up: a column for each fact, in the order of
// the schema. N members stand for the cloths it may mean; the same place in
// every column is the same member.
type Case struct {
	N       int
	columns []Column
	later   []later
}

// later are facts in a row that are worked out when they are asked for.
type later struct {
	first, n int
	of       func(i int) []float64
}

// Column is what is known of a fact.
func (c *Case) Column(fact int) *Column {
	col := &c.columns[fact]
	if col.State == unread {
		c.read(fact)
	}
	return col
}

func (c *Case) read(fact int) {
	for _, l := range slices.Backward(c.later) {
		if fact >= l.first && fact < l.first+l.n {
			c.SetNumber(fact, l.of(fact-l.first)...)
			return
		}
	}
}

// SetLater leaves the numbers of n facts in a row to be worked out when a fact is
// asked for: no values leave it unknown. Few rules come to ask of most facts.
func (c *Case) SetLater(first, n int, of func(i int) []float64) {
	for i := range n {
		c.columns[first+i] = Column{State: unread}
	}
	c.later = append(slices.Clip(c.later), later{first, n, of})
}

// NewCase returns a case of which nothing is known.
func (s *Schema) NewCase(n int) *Case {
	if c, ok := s.spare.Get().(*Case); ok {
		clear(c.columns)
		c.N, c.later = n, nil
		return c
	}
	return &Case{N: n, columns: make([]Column, len(s.facts))}
}

// Done gives a case back that nobody asks any more: a ranking makes one for each cloth.
func (s *Schema) Done(c *Case) { s.spare.Put(c) }

// small holds the constants that flags and levels are made of, so that setting
// one costs nothing.
var small = func() (v [64]float64) {
	for i := range v {
		v[i] = float64(i)
	}
	return v
}()

// SetNumber sets a number (or the places on a scale): one value for all members,
// or one for each. The slice is kept, not copied. Any other count of values
// leaves the fact unknown.
func (c *Case) SetNumber(fact int, v ...float64) {
	if len(v) != 1 && len(v) != c.N {
		c.columns[fact] = Column{}
		return
	}
	c.columns[fact] = Column{State: Known, Num: v}
}

// SetLevel sets a level to one place on its scale, counted from 0; a place off
// the scale leaves it unknown.
func (c *Case) SetLevel(fact, level int) {
	if level < 0 || level >= len(small) {
		c.columns[fact] = Column{}
		return
	}
	c.columns[fact] = Column{State: Known, Num: small[level : level+1 : level+1]}
}

// SetFlag sets a flag.
func (c *Case) SetFlag(fact int, yes bool) {
	level := 0
	if yes {
		level = 1
	}
	c.SetLevel(fact, level)
}

// SetWord sets a word; the empty word leaves it unknown.
func (c *Case) SetWord(fact int, word string) {
	if word == "" {
		c.columns[fact] = Column{}
		return
	}
	c.columns[fact] = Column{State: Known, Words: []string{word}}
}

// SetSet sets a set, which may be known to be empty.
func (c *Case) SetSet(fact int, words ...string) {
	c.columns[fact] = Column{State: Known, Words: words}
}

// SetAbsent says that the thing which the facts are about is not there. Every
// condition on them is then surely false, "unknown" among them.
func (c *Case) SetAbsent(facts ...int) {
	for _, f := range facts {
		c.columns[f] = Column{State: Absent}
	}
}

// Forget makes facts unknown.
func (c *Case) Forget(facts ...int) {
	for _, f := range facts {
		c.columns[f] = Column{}
	}
}

// With returns a copy whose columns can be set without touching c. The values
// behind them are shared.
func (c *Case) With() *Case {
	return &Case{N: c.N, columns: slices.Clone(c.columns), later: c.later}
}

// Patch is a few columns to lay over a case, so that one copy serves to judge
// many candidates in turn.
type Patch struct {
	facts   []int
	columns []Column
}

// Cut takes the columns of the facts out of c as a patch.
func (c *Case) Cut(facts ...int) Patch {
	p := Patch{facts: facts, columns: make([]Column, len(facts))}
	for i, f := range facts {
		p.columns[i] = *c.Column(f)
	}
	return p
}

// Lay sets the columns of the patch, and nothing else.
func (c *Case) Lay(p Patch) {
	for i, f := range p.facts {
		c.columns[f] = p.columns[i]
	}
}
