package advise

import (
	"cmp"
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"tenter/advise/rules"
	"tenter/fibres"
)

// A sieve passes over pairs that cannot be among the best. What each layer leaves of
// the members by itself, and what demands on both together leave, bounds the rank of a
// pair from above: a further demand or objection only takes from it. So a pair whose bound
// lies under the worst of the best so far need not be judged, and what comes out is
// what judging all of them gives (TestTheSieveChangesNoAnswer).
type sieve struct {
	a        *Adviser
	m        MakeUp
	shells   map[*fibres.Subject]*alone
	linings  map[liningAs]*alone
	jobSure  bool               // no lining has a part in what its job is
	demands  map[*Job][]*Demand // on both layers together
	ofShell  []bool             // by fact: it hangs on the shell, or on no layer
	ofLining []bool
	allow    float64 // how many times the upper end of its weight a lined make-up may come to
}

// alone is what a layer leaves of a make-up, whatever the other is.
type alone struct {
	sample *fibres.Sample
	job    *Job              // of the lining
	leaves [fibres.N]float64 // of each member, at most
	banned bool              // it is unsuited
	liked  float64           // how much may speak for it, at most
}

// liningAs is a lining in a job.
type liningAs struct {
	lining *fibres.Subject
	job    *Job
}

func (a *Adviser) newSieve(m MakeUp, pairs []pair) *sieve {
	s := &sieve{a: a, m: m, shells: map[*fibres.Subject]*alone{}, linings: map[liningAs]*alone{}, demands: map[*Job][]*Demand{}, ofShell: a.hangsOn(shell), ofLining: a.hangsOn(lining)}
	m.Lining = &fibres.Subject{}
	s.allow = weightAllowed(m)
	s.jobSure = !slices.ContainsFunc(a.Jobs, func(j *Job) bool { return j.When != nil && !within(j.When, s.ofShell) })
	for _, p := range pairs {
		if s.shells[p.shell] == nil {
			s.shells[p.shell] = s.shellAlone(p.shell)
		}
		if job := s.shells[p.shell].job; s.demands[job] == nil {
			s.demands[job] = s.demandsOn(job)
		}
		if k := (liningAs{p.lining, s.shells[p.shell].job}); s.linings[k] == nil {
			s.linings[k] = s.liningAlone(k)
		}
	}
	return s
}

// hangsOn marks the facts that no other layer than the one has a part in.
func (a *Adviser) hangsOn(layer int) []bool {
	x := a.at
	out := make([]bool, len(a.facts))
	for i := range out {
		switch {
		case i >= x.layer[shell] && i < x.layer[lining]:
			out[i] = layer == shell
		case i >= x.layer[lining] && i < x.derived:
			out[i] = layer == lining
		default:
			out[i] = i != a.jobFact && (i < x.derived || i >= x.interfacing)
		}
	}
	return out
}

func (s *sieve) shellAlone(shell *fibres.Subject) *alone {
	m := s.m
	m.Shell, m.Lining = shell, nil
	c, _ := s.a.build(m)
	x := &alone{sample: s.a.sample(shell, fibres.ShellSalt)}
	if s.jobSure {
		x.job = s.a.jobOfLining(m, c)
	}
	x.weigh(s.a, m, c, s.ofShell)
	for _, r := range s.a.Rules {
		if r.Effect == rules.For && judges(r, m) && (within(r, s.ofShell) || !within(r, s.ofLining)) {
			x.liked += atMost(r, c, s.ofShell)
		}
	}
	return x
}

func (s *sieve) liningAlone(as liningAs) *alone {
	m := s.m
	m.Shell, m.Lining = nil, as.lining
	c, _ := s.a.build(m)
	x := &alone{job: as.job, sample: s.a.sample(as.lining, fibres.LiningSalt)}
	x.weigh(s.a, m, c, s.ofLining)
	for _, r := range s.a.Rules {
		if r.Effect == rules.For && judges(r, m) && within(r, s.ofLining) && !within(r, s.ofShell) {
			x.liked += atMost(r, c, s.ofLining)
		}
	}
	return x
}

// within reports whether a rule asks of no facts but these.
func within(r *rules.Rule, facts []bool) bool {
	return !slices.ContainsFunc(r.Facts(), func(f int) bool { return !facts[f] })
}

// atMost is the share of the members for which a rule may hold, when only these facts
// are as they will be: what the others come to stays open, but for whether they are known.
func atMost(r *rules.Rule, c *rules.Case, facts []bool) float64 {
	for i := range r.Parts.Conds {
		if k := &r.Parts.Conds[i]; !facts[k.Fact] && (k.Op == rules.OpKnown || k.Op == rules.OpUnknown) {
			return 1
		}
	}
	return r.Fire(c).Share
}

// weigh lets demands and objections that ask of these facts alone take their part of
// the members.
func (x *alone) weigh(a *Adviser, m MakeUp, c *rules.Case, facts []bool) {
	for i := range x.leaves {
		x.leaves[i] = 1
	}
	var classes []string
	for _, d := range a.demandsOf(m, x.job) {
		k := asked{demand: d, allow: 1}
		sure := d.when == nil || within(d.when, facts)
		if !k.stands(c, &classes, sure) || !sure || !facts[d.fact] || d.fact == a.reverseFact || c.Column(d.fact).State != rules.Known {
			continue
		}
		k.column = c.Column(d.fact).Num
		if d.whole > 0 { // the upper end is asked of both layers
			k.whole = []float64{d.Ideal.High}
		}
		k.meet(&x.leaves)
	}
	for i, r := range a.Rules {
		if r.Effect >= rules.For || !judges(r, m) || !within(r, facts) {
			continue
		}
		f := r.Fire(c)
		about := a.ruleAbout[i]
		switch {
		case f.Share == 0 || len(f.Open) > 0:
			continue
		case r.Effect == rules.Forbids && f.Share >= firm:
			x.banned = true
		case r.Effect == rules.Against && about >= 0 && Abouts[about] == working:
			continue
		}
		o := objection{leaves: leavesOf(r)}
		if f.Share < 1 {
			o.holds = c.NewMembers()
			r.Hold(c, o.holds)
		}
		o.lower(&x.leaves)
	}
}

// layers bounds the rank of a pair by what each layer leaves, and gives what is left
// of the members.
func (s *sieve) layers(p pair) (met [fibres.N]float64, most float64) {
	sh := s.shells[p.shell]
	li := s.linings[liningAs{p.lining, sh.job}]
	for i := range met {
		met[i] = math.Min(sh.leaves[i], li.leaves[i])
	}
	return met, rankAtMost(&met, sh.banned || li.banned, sh.liked+li.liked)
}

// reaches reports whether a pair may reach a rank, as far as demands on both layers
// together tell.
func (s *sieve) reaches(p pair, rank float64) bool {
	met, most := s.layers(p)
	if most < rank {
		return false
	}
	sh := s.shells[p.shell]
	li := s.linings[liningAs{p.lining, sh.job}]
	m := s.m
	m.Shell, m.Lining = p.shell, p.lining
	steps := []func(*composite, MakeUp, *fibres.Sample, *fibres.Sample){s.a.composeLayers, s.a.composeHang}
	if m.Piece.Flap > 0 { // how it falls decides most
		slices.Reverse(steps)
	}
	var w composite
	left := s.demands[sh.job]
	for _, step := range steps {
		step(&w, m, sh.sample, li.sample)
		w.support(sh.job, sh.sample, li.sample)
		left = s.meet(&met, &w, left)
		if rankAtMost(&met, sh.banned || li.banned, sh.liked+li.liked) < rank {
			return false
		}
	}
	return true
}

// meet asks the demands of the members, and gives back those whose figures are not
// worked out.
func (s *sieve) meet(met *[fibres.N]float64, w *composite, list []*Demand) (later []*Demand) {
	column := func(fact int) []float64 { return derivedFacts[fact-s.a.at.derived].column(w) }
	for _, d := range list {
		k := asked{demand: d, column: column(d.fact), allow: s.allow}
		if d.whole > 0 {
			k.whole = column(d.whole - 1)
		}
		if k.column == nil || d.whole > 0 && k.whole == nil {
			later = append(later, d)
			continue
		}
		k.meet(met)
	}
	return later
}

// demandsOn are the demands on both layers together that every pair of a job meets
// with.
func (s *sieve) demandsOn(job *Job) []*Demand {
	derived := func(fact int) bool { return fact >= s.a.at.derived && fact < s.a.at.interfacing }
	m := s.m
	m.Shell, m.Lining = nil, nil
	c, _ := s.a.build(m)
	var out []*Demand
	var classes []string
	for _, d := range s.a.demandsOf(m, job) {
		sure := d.when == nil || within(d.when, s.ofShell) && within(d.when, s.ofLining)
		if !(&asked{demand: d}).stands(c, &classes, sure) || !sure || !derived(d.fact) || d.whole > 0 && !derived(d.whole-1) {
			continue
		}
		out = append(out, d)
	}
	return out
}

// rankAtMost is the most that [judged.rank] can be of a pair of which so much is left.
func rankAtMost(met *[fibres.N]float64, banned bool, liked float64) float64 {
	j := judged{verdict: Unsuited, liked: liked}
	if !banned {
		var sum float64
		for _, v := range met {
			sum += v
		}
		j.share = sum / fibres.N
		if j.verdict = verdictAt(j.share); j.verdict == Unsuited {
			j.verdict = Borderline // as is one of which nothing is known
		}
	}
	return j.rank()
}

// best judges the pairs and gives the numbers of the best, best first, alike ones in
// their order. No more than a rank is kept of each: the columns of thousands would
// fill the memory. tell is told now and then how many are done; it may be nil.
func (s *sieve) best(pairs []pair, keep int, tell func(done, of int)) []int {
	bounds, order := make([]float64, len(pairs)), make([]int, len(pairs))
	beside(len(pairs), func(i int) {
		_, bounds[i] = s.layers(pairs[i])
		order[i] = i
	})
	slices.SortStableFunc(order, func(x, y int) int { return cmp.Compare(bounds[y], bounds[x]) })
	top := newPodium(keep)
	var done atomic.Int64
	beside(len(pairs), func(k int) {
		i := order[k]
		if least := top.least(); bounds[i] >= least && s.reaches(pairs[i], least) {
			m := s.m
			m.Shell, m.Lining = pairs[i].shell, pairs[i].lining
			top.add(i, s.a.judge(m).rank())
		}
		if n := done.Add(1); tell != nil && n%tellEvery == 0 {
			tell(int(n), len(pairs))
		}
	})
	return top.order()
}

// podium keeps the best of what is ranked.
type podium struct {
	keep int
	mu   sync.Mutex
	top  []placed
	bar  atomic.Uint64 // the bits of the least rank on it, once it is full
}

type placed struct {
	of   int
	rank float64
}

func newPodium(keep int) *podium {
	p := &podium{keep: keep}
	p.bar.Store(math.Float64bits(math.Inf(-1)))
	return p
}

// least is what a rank must reach to be among the best.
func (p *podium) least() float64 { return math.Float64frombits(p.bar.Load()) }

func (p *podium) add(of int, rank float64) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.top = append(p.top, placed{of, rank})
	if len(p.top) >= 2*p.keep {
		p.tidy()
	}
}

// tidy puts the best in order and lets the rest go.
func (p *podium) tidy() {
	slices.SortFunc(p.top, func(x, y placed) int { return cmp.Or(cmp.Compare(y.rank, x.rank), cmp.Compare(x.of, y.of)) })
	if len(p.top) >= p.keep {
		p.top = p.top[:p.keep]
		p.bar.Store(math.Float64bits(p.top[p.keep-1].rank))
	}
}

func (p *podium) order() []int {
	p.tidy()
	out := make([]int, len(p.top))
	for i, x := range p.top {
		out[i] = x.of
	}
	return out
}
