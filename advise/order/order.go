// Package order keeps the order of work: steps that come after one another as
// far as they must, and that rules add to, move, drop and say anew. It gives an
// order that respects every constraint and otherwise keeps to the order in
// which the steps were written.
package order

import (
	"slices"
	"strings"

	"tenter/fibres/fault"
)

// Step is one thing to do.
type Step struct {
	ID      string
	Say     string
	Because string
	After   []string // ids of the steps that come before it
	Sources []string
	Fixed   bool   // it may be said anew, but not moved or dropped
	If      bool   // only some cloths of the name need it: its words say which
	Notes   []Note // what rules add to it
}

// Note is what a rule has to say about a step beside the step's own words.
type Note struct{ Say, Because string }

// Placed is a step in its place.
type Placed struct {
	Step            // its After names the nearest steps that must come before
	Before []string // the nearest steps that must come after
	Why    string   // why it stands where it does
	// Movable says that it could be done earlier or later while all others keep
	// their places.
	Movable bool
	Later   string // the last step after which it could still be done; "" when it cannot wait
}

// Plan is a set of steps with what must come before what.
type Plan struct {
	nodes []*node // in the order they are written in, unless a constraint forbids
	byID  map[string]*node
}

// node is a step in the plan. A dropped one stays, unseen, so that what came
// before it still comes before what came after it.
type node struct {
	Step
	dropped bool
	anchor  *node // the step it was put behind
	before  []edge
}

// edge says that from comes first.
type edge struct {
	from  *node
	asked bool // by a rule, and so not to be given up for another's sake
}

// New makes a plan of the steps of a finish.
func New(steps []Step) (*Plan, error) {
	p := &Plan{byID: make(map[string]*node, len(steps))}
	var found fault.List
	for _, s := range steps {
		if s.ID == "" {
			found = append(found, &fault.Fault{Kind: fault.BadData, What: "a step has no id", Expected: "an id for every step", Mend: s.Say})
			continue
		}
		if p.byID[s.ID] != nil {
			found = append(found, &fault.Fault{Kind: fault.BadData, What: `step "` + s.ID + `" is there twice`, Expected: "each id once"})
			continue
		}
		n := &node{Step: s}
		p.nodes, p.byID[s.ID] = append(p.nodes, n), n
	}
	for _, n := range p.nodes {
		for _, id := range n.After {
			from, err := p.find(id)
			if err != nil {
				found.Add(err)
				continue
			}
			n.comesAfter(from, false)
		}
	}
	if len(found) > 0 {
		return nil, found.OrNil()
	}
	if err := p.circle(); err != nil {
		return nil, err
	}
	return p, nil
}

// find looks a step up, also a dropped one.
func (p *Plan) find(id string) (*node, error) {
	if n := p.byID[id]; n != nil {
		return n, nil
	}
	known := make([]string, len(p.nodes))
	for i, n := range p.nodes {
		known[i] = n.ID
	}
	return nil, &fault.Fault{Kind: fault.BadData, What: `there is no step "` + id + `"`,
		Expected: "one of " + strings.Join(known, ", "), Mend: fault.DidYouMean(id, known, "")}
}

// optional looks up a step that may be left out.
func (p *Plan) optional(id string) (*node, error) {
	if id == "" {
		return nil, nil
	}
	return p.find(id)
}

// comesAfter adds a constraint, once.
func (n *node) comesAfter(from *node, asked bool) {
	for i := range n.before {
		if n.before[i].from == from {
			n.before[i].asked = n.before[i].asked || asked
			return
		}
	}
	n.before = append(n.before, edge{from, asked})
}

// Add puts a step into the plan, after one step, before another, or both;
// either may be "". A step that is there already keeps its words and gains the
// constraints and sources; one that was dropped stays dropped. On an error the plan is as it was.
func (p *Plan) Add(step Step, after, before string) error {
	q := p.clone()
	n := q.byID[step.ID]
	a, err := q.optional(after)
	if err != nil {
		return err
	}
	b, err := q.optional(before)
	if err != nil {
		return err
	}
	if n == nil {
		if step.ID == "" {
			return &fault.Fault{Kind: fault.BadData, What: "the added step has no id", Expected: "an id for every step"}
		}
		n = &node{Step: step}
		q.byID[step.ID] = n
		q.put(n, a, b)
	} else if n.dropped {
		return nil
	} else {
		for _, s := range step.Sources {
			if !slices.Contains(n.Sources, s) {
				n.Sources = append(n.Sources, s)
			}
		}
	}
	for _, id := range step.After {
		from, err := q.find(id)
		if err != nil {
			return err
		}
		n.comesAfter(from, true)
	}
	if a != nil {
		n.comesAfter(a, true)
	}
	if b != nil {
		b.comesAfter(n, true)
	}
	if err := q.circle(); err != nil {
		return err
	}
	*p = *q
	return nil
}

// Move gives a step another place. What speaks against it in the steps' own
// order gives way: the steps it now follows no longer wait for it, but for what
// it waited for itself, and the steps after those wait for it still. What
// another rule asked for does not give way; then the error names the circle, and
// the plan is as it was. Moving a dropped step changes nothing.
func (p *Plan) Move(id, after, before string) error {
	n, err := p.find(id)
	if err != nil {
		return err
	}
	if n.dropped {
		return nil
	}
	if n.Fixed {
		return fixed(id, "moved")
	}
	q := p.clone()
	n = q.byID[id]
	a, err := q.optional(after)
	if err != nil {
		return err
	}
	b, err := q.optional(before)
	if err != nil {
		return err
	}
	if a == n || b == n {
		return &fault.Fault{Kind: fault.BadData, What: `step "` + id + `" is to be moved after or before itself`, Expected: "another step"}
	}
	if a == nil && b == nil {
		return &fault.Fault{Kind: fault.BadData, What: `step "` + id + `" is moved to no place`, Expected: "after or before another step"}
	}
	q.rehang(n, a, b)
	if a != nil {
		n.comesAfter(a, true)
	}
	if b != nil {
		b.comesAfter(n, true)
	}
	if err := q.circle(); err != nil {
		return err
	}
	q.nodes = slices.DeleteFunc(q.nodes, func(x *node) bool { return x == n })
	q.put(n, a, b)
	*p = *q
	return nil
}

// rehang takes away what keeps n from standing after a and before b: the
// steps that n led to and that lead to a need not wait for n, nor n for those
// it waited for and that b leads to. All other steps keep the order they had,
// among themselves and to n, also where they had it only through those. What a
// rule asked for is left, and shows as a circle.
func (p *Plan) rehang(n, a, b *node) {
	first, then := slices.Clone(n.before), p.following(n)
	for _, s := range then {
		i := s.waitsFor(n)
		if a == nil || s.before[i].asked || !p.leads(s, a) {
			continue
		}
		s.before = slices.Delete(s.before, i, i+1)
		for _, e := range first {
			s.comesAfter(e.from, false)
		}
		for _, x := range p.past(s, a) {
			x.comesAfter(n, false)
		}
	}
	for _, e := range first {
		if b == nil || e.asked || !p.leads(b, e.from) {
			continue
		}
		i := n.waitsFor(e.from)
		n.before = slices.Delete(n.before, i, i+1)
		for _, s := range then {
			s.comesAfter(e.from, false)
		}
		for _, x := range p.short(e.from, b) {
			n.comesAfter(x, false)
		}
	}
}

// past lists the nearest steps after s that do not lead to a.
func (p *Plan) past(s, a *node) []*node {
	var out []*node
	for _, x := range p.following(s) {
		if p.leads(x, a) {
			out = append(out, p.past(x, a)...)
		} else {
			out = append(out, x)
		}
	}
	return out
}

// short lists the nearest steps before x that b does not lead to.
func (p *Plan) short(x, b *node) []*node {
	var out []*node
	for _, e := range x.before {
		if p.leads(b, e.from) {
			out = append(out, p.short(e.from, b)...)
		} else {
			out = append(out, e.from)
		}
	}
	return out
}

// put writes a step behind a, and behind others that were put there, or else
// before b, or else at the end.
func (p *Plan) put(n, a, b *node) {
	i := len(p.nodes)
	switch {
	case a != nil:
		n.anchor = a
		for i = slices.Index(p.nodes, a) + 1; i < len(p.nodes) && p.nodes[i].anchor == a; i++ {
		}
	case b != nil:
		n.anchor = nil
		i = slices.Index(p.nodes, b)
	}
	p.nodes = slices.Insert(p.nodes, i, n)
}

// Drop takes a step out. What came before it still comes before what came
// after it.
func (p *Plan) Drop(id string) error {
	n, err := p.find(id)
	if err != nil {
		return err
	}
	if n.Fixed {
		return fixed(id, "dropped")
	}
	n.dropped = true
	return nil
}

func fixed(id, what string) error {
	return &fault.Fault{Kind: fault.BadData, What: `step "` + id + `" is fixed and cannot be ` + what, Expected: "another step, or other words for this one"}
}

// Say gives the step of the same id other words, and another reason unless that is empty.
func (p *Plan) Say(step Step) error {
	n, err := p.find(step.ID)
	if err != nil {
		return err
	}
	n.Step.Say, n.If = step.Say, step.If
	if step.Because != "" {
		n.Because = step.Because
	}
	return nil
}

// Note adds to a step what a rule has to say about it.
func (p *Plan) Note(id, text, because string) error {
	n, err := p.find(id)
	if err != nil {
		return err
	}
	if note := (Note{text, because}); !slices.Contains(n.Notes, note) {
		n.Notes = append(n.Notes, note)
	}
	return nil
}

// clone copies the plan, so that a change that fails leaves no trace.
func (p *Plan) clone() *Plan {
	q := &Plan{nodes: make([]*node, len(p.nodes)), byID: make(map[string]*node, len(p.nodes))}
	for i, n := range p.nodes {
		c := *n
		c.Sources, c.Notes = slices.Clone(n.Sources), slices.Clone(n.Notes)
		q.nodes[i], q.byID[n.ID] = &c, &c
	}
	for _, n := range q.nodes {
		n.before = slices.Clone(n.before)
		for i := range n.before {
			n.before[i].from = q.byID[n.before[i].from.ID]
		}
		if n.anchor != nil {
			n.anchor = q.byID[n.anchor.ID]
		}
	}
	return q
}

// waitsFor gives the place of the constraint on from, or -1.
func (n *node) waitsFor(from *node) int {
	return slices.IndexFunc(n.before, func(e edge) bool { return e.from == from })
}

// following lists the steps that wait for n directly.
func (p *Plan) following(n *node) []*node {
	var out []*node
	for _, x := range p.nodes {
		if x.waitsFor(n) >= 0 {
			out = append(out, x)
		}
	}
	return out
}

// leads says that a is b or must come before it.
func (p *Plan) leads(a, b *node) bool {
	seen := map[*node]bool{}
	var back func(x *node) bool
	back = func(x *node) bool {
		if x == a {
			return true
		}
		if seen[x] {
			return false
		}
		seen[x] = true
		for _, e := range x.before {
			if back(e.from) {
				return true
			}
		}
		return false
	}
	return back(b)
}

// circle gives a fault that names the steps of a circle, or nil.
func (p *Plan) circle() error {
	const fresh, open, done = 0, 1, 2
	state := map[*node]int{}
	var path []*node
	var visit func(n *node) []*node
	visit = func(n *node) []*node {
		switch state[n] {
		case done:
			return nil
		case open:
			return path[slices.Index(path, n):]
		}
		state[n] = open
		path = append(path, n)
		for _, e := range n.before {
			if c := visit(e.from); c != nil {
				return c
			}
		}
		path = path[:len(path)-1]
		state[n] = done
		return nil
	}
	for _, n := range p.nodes {
		if state[n] != fresh {
			continue
		}
		if c := visit(n); c != nil {
			names := make([]string, 0, len(c)+1)
			for i := len(c) - 1; i >= 0; i-- {
				names = append(names, c[i].ID)
			}
			names = append(names, names[0])
			return &fault.Fault{Kind: fault.BadData, What: "the steps go round in a circle: " + strings.Join(names, ", then "),
				Expected: "an order in which each step comes once", Mend: "let one of them go first"}
		}
	}
	return nil
}

// Order gives the steps in an order that respects every constraint. Where
// nothing is asked, they stand as they were written; where steps were moved,
// each stands as near as it can to the step it was moved to.
func (p *Plan) Order() ([]Placed, error) {
	if err := p.circle(); err != nil {
		return nil, err
	}
	var list []*node // dropped ones too: they carry constraints
	placed := map[*node]bool{}
	for len(list) < len(p.nodes) {
		i := slices.IndexFunc(p.nodes, func(n *node) bool {
			return !placed[n] && !slices.ContainsFunc(n.before, func(e edge) bool { return !placed[e.from] })
		})
		list = append(list, p.nodes[i])
		placed[p.nodes[i]] = true
	}
	list = slices.DeleteFunc(list, func(n *node) bool { return n.dropped })
	at := make(map[string]int, len(list))
	out := make([]Placed, len(list))
	for i, n := range list {
		at[n.ID] = i
		out[i].Step = n.Step
		out[i].Sources, out[i].Notes = slices.Clone(n.Sources), slices.Clone(n.Notes)
		out[i].After = n.seen(nil)
		slices.SortFunc(out[i].After, func(a, b string) int { return at[a] - at[b] })
		for _, id := range out[i].After {
			out[at[id]].Before = append(out[at[id]].Before, n.ID)
		}
	}
	for i := range out {
		out[i].explain(i, out, at)
	}
	return out, nil
}

// seen lists the steps that come directly before n, looking through dropped
// ones.
func (n *node) seen(out []string) []string {
	for _, e := range n.before {
		switch {
		case e.from.dropped:
			out = e.from.seen(out)
		case !slices.Contains(out, e.from.ID):
			out = append(out, e.from.ID)
		}
	}
	return out
}

// explain says why the step at place i stands there, and how far it could go.
func (s *Placed) explain(i int, all []Placed, at map[string]int) {
	earliest, latest := 0, len(all)-1
	var why []string
	if n := len(s.After); n > 0 {
		why = append(why, "after "+s.After[n-1])
		earliest = at[s.After[n-1]] + 1
	}
	if len(s.Before) > 0 {
		why = append(why, "before "+s.Before[0])
		latest = at[s.Before[0]] - 1
	}
	s.Movable = !s.Fixed && earliest < latest
	if !s.Fixed && latest > i {
		s.Later = all[latest].ID
	}
	switch {
	case len(why) > 0:
		s.Why = "it comes " + strings.Join(why, " and ")
	case s.Movable:
		s.Why = "it may be done at any time"
	default:
		s.Why = "it is all there is to do"
	}
}
