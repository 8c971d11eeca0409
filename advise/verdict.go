package advise

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"tenter/advise/rules"
	"tenter/fibres"
	"tenter/fibres/prose"
)

// The verdicts, and the shares that part them (a rule that forbids is unsuited
// whatever the share). The shares are fitted, over a grid of 0.02, on the two thirds of
// the panel's rows that are worked on and on make-ups that several hands had judged before
// the product was asked (internal/matrix/agreed.txt), but that SuitsFrom stays above what one firm grave
// objection leaves (0.496, TestGraveObjection).
const (
	Suits      = "suits"
	Borderline = "borderline"
	Unsuited   = "unsuited"

	SuitsFrom      = 0.5
	BorderlineFrom = 0.35
)

// A rule fires firmly from this share on, and may apply from the lesser one.
const (
	firm = 0.8
	may  = 0.2
)

// score is how far one member meets a demand: 1 inside the ideal range, falling
// straight to 0 at the limit.
func (d *Demand) score(v float64) float64 {
	lo, hi := d.Limit.Low, d.Limit.High
	if d.graded {
		lo, hi = lo-1, hi+1
	}
	switch {
	case v >= d.Ideal.Low && v <= d.Ideal.High:
		return 1
	case v < d.Ideal.Low:
		if lo >= d.Ideal.Low || v <= lo {
			return 0
		}
		return (v - lo) / (d.Ideal.Low - lo)
	default:
		if hi <= d.Ideal.High || v >= hi {
			return 0
		}
		return (hi - v) / (hi - d.Ideal.High)
	}
}

// asked is a demand met with a make-up.
type asked struct {
	demand *Demand
	known  bool
	share  float64 // mean of how far the members meet it
	cost   float64 // the part of the population that it takes by itself
	column []float64
	of     rules.Members // whom it concerns; nil for all
	upper  []float64     // what the upper end is asked of, where that is not the column: the lower is the shell's alone
	hangs  bool          // the piece hangs free, and its weight is felt
	allow  float64       // how many times the upper end that may come to
}

// judged is the outcome of a make-up before it is put into words.
type judged struct {
	make MakeUp
	c    *rules.Case
	job  *Job // of the lining, where there is one
	composite
	asked   []asked
	fits    float64 // how far the cloths of the name meet what is asked
	share   float64 // what the objections leave of that
	known   bool    // at least one demand could be met with a figure
	verdict string
	forbid  []rules.Firing // bans that hold for [firm] of the members or more
	liked   float64        // how much speaks for it, for ranking alike shares
	why     string         // what speaks for it in a list of candidates
	group   string         // the group of the list that it stands in
	least   float64        // the share below which nothing more is asked
}

// demandsOf are the demands of the piece, of the finish, of the job of each layer and
// of the wishes. Where two ask of one fact, the piece goes before the finish; what
// every piece of a class asks gives way to what the piece itself asks under its id.
func (a *Adviser) demandsOf(m MakeUp, job *Job) []*Demand {
	fixed := a.tables.demands.Within(maxDemands, nil).Get(demandsKey{m.Piece, m.Finish, job, a.outer}, func() []*Demand { return slices.Clip(a.fixedDemands(m, job)) })
	return append(fixed, wishDemands(m)...)
}

// fixedDemands are those that hang on no wish.
func (a *Adviser) fixedDemands(m MakeUp, job *Job) []*Demand {
	var out []*Demand
	asks := func(same func(x *Demand) bool) bool { return slices.ContainsFunc(out, same) }
	if m.Piece != nil {
		out = pointers(m.Piece.Demands)
	}
	if m.Finish != nil {
		for _, d := range pointers(m.Finish.Demands) {
			if !asks(func(x *Demand) bool { return x.Fact == d.Fact }) {
				out = append(out, d)
			}
		}
	}
	if a.outer != nil && m.Piece != nil {
		var more []*Demand
		for _, d := range pointers(a.outer.Demands) {
			if !asks(func(x *Demand) bool { return x.ID == d.ID }) {
				more = append(more, d)
			}
		}
		out = append(out, more...)
	}
	if job != nil {
		out = append(out, pointers(job.Demands)...)
	}
	return out
}

func pointers(list []Demand) []*Demand {
	out := make([]*Demand, len(list))
	for i := range list {
		out[i] = &list[i]
	}
	return out
}

// judge runs the population of a make-up through its demands and the rules
// that judge the make-up as a whole.
func (a *Adviser) judge(m MakeUp) *judged { return a.judgeFrom(m, 0) }

// judgeFrom is judge for one who wants no make-up whose share is below the least: of one
// that cannot reach it no more is asked, and it is given as unsuited.
func (a *Adviser) judgeFrom(m MakeUp, least float64) *judged {
	j := &judged{make: m, verdict: Unsuited, least: least}
	j.c, j.composite = a.build(m)
	if m.Lining != nil {
		j.job = a.jobOfLining(m, j.c)
	}
	met, ok := a.meet(j)
	if !ok {
		return j
	}
	for _, x := range met {
		j.fits += x / fibres.N
	}
	j.share = weigh(&met, a.objections(j))
	switch {
	case len(j.forbid) > 0:
		j.verdict, j.share = Unsuited, 0
	case j.unjudged():
		j.verdict, j.share, j.fits = Borderline, 0, 0 // it may do: that nothing is known speaks neither way
	default:
		j.verdict = verdictAt(j.share)
	}
	return j
}

// meet asks the demands of each member, and gives how far each meets the worst; not ok
// where one demand leaves less than the least that is wanted: no other adds to it.
func (a *Adviser) meet(j *judged) (met [fibres.N]float64, ok bool) {
	fill(&met)
	var grave faults
	defer func() { grave.done() }()
	m := j.make
	awaits := a.awaitsBearer(j)
	var classes []string // what has been asked of the class of the piece: the first that concerns it stands
	for _, d := range a.demandsOf(m, j.job) {
		if m.past != nil && slices.Contains(m.past.demands, d) {
			continue
		}
		if d.about == washMatter && m.Wished(dryCleaned) {
			continue // it is never washed
		}
		if a.at.origin[d.fact].paired && (m.Lining == nil || m.Finish == nil || !m.Finish.Lined) {
			continue // nothing can part from a single layer
		}
		if shell, lining := layersOf(m); d.fact == a.reverseFact && shell+lining > 1 {
			continue // the back of the shell is shut in
		}
		if awaits && a.at.origin[d.fact].borne {
			continue // what lies under it will answer for it
		}
		k := asked{demand: d, hangs: m.Piece != nil && a.outer != nil && slices.Contains(a.outer.Hangs, m.Piece.Group)}
		if !k.stands(j.c, &classes, true) {
			continue
		}
		if col := j.c.Column(d.fact); col.State == rules.Known {
			k.known, j.known, k.column = true, true, col.Num
			if d.upperFact > 0 {
				k.upper, k.allow = j.c.Column(d.upperFact-1).Num, weightAllowed(m)
			}
			k.meet(grave.of(d, &met))
			if 1-k.cost < j.least-roundingOff {
				return met, false
			}
		} else if d.floor() == 0 {
			l := grave.of(d, &met)
			for i := range l {
				l[i] = math.Min(l[i], unknownLeaves)
			}
		}
		j.asked = append(j.asked, k)
	}
	a.meetInner(j, &grave, &met)
	lesser := met // what is only a reservation bounds a member, and takes no part of a grave fault
	fill(&met)
	for _, f := range grave {
		for i, l := range f.left {
			met[i] *= l
		}
	}
	for i, l := range lesser {
		met[i] = math.Min(met[i], l)
	}
	return met, true
}

// roundingOff is more than sums of the same shares, added up in another order, differ by.
const roundingOff = 1e-9

// awaitsBearer reports whether the lining of a make-up is not named yet, and will have to
// carry its shell.
func (a *Adviser) awaitsBearer(j *judged) bool {
	m := j.make
	if m.Lining != nil || m.Finish == nil || !m.Finish.Lined {
		return false
	}
	job := a.jobOfLining(m, j.c)
	return job != nil && job.Bears
}

func fill(list *[fibres.N]float64) {
	for i := range list {
		list[i] = 1
	}
}

// faults are what grave demands leave of the members, by the kind of fault they find:
// of one kind the worst counts, since they look at one thing from two sides; faults
// of different kinds each take their part.
type faults []*oneFault

type oneFault struct {
	kind int
	left [fibres.N]float64
}

// of is where a demand puts down what it leaves: with the others of its kind; a
// lesser one with what is only a reservation, of which the gravest counts.
func (list *faults) of(d *Demand, lesser *[fibres.N]float64) *[fibres.N]float64 {
	if d.floor() >= leaves[looksWrong] {
		return lesser
	}
	kind := d.about
	switch kind { // too stiff or too soft is one fault, too much cloth is one
	case bodyMatter:
		kind = fallMatter
	case weightMatter:
		kind = bulkMatter
	}
	for _, f := range *list {
		if f.kind == kind {
			return &f.left
		}
	}
	f, ok := spareFaults.Get().(*oneFault)
	if !ok {
		f = &oneFault{}
	}
	f.kind = kind
	fill(&f.left)
	*list = append(*list, f)
	return &f.left
}

// spareFaults are those of make-ups that are judged: a ranking finds a thousand.
var spareFaults sync.Pool

func (list faults) done() {
	for _, f := range list {
		spareFaults.Put(f)
	}
}

// stands reports whether a demand is asked: one of a class gives way to an earlier one
// of its id that concerns the make-up. Where it is not sure yet whether it will be
// asked, none after it is.
func (k *asked) stands(c *rules.Case, classes *[]string, sure bool) bool {
	d := k.demand
	if d.class && slices.Contains(*classes, d.ID) || sure && d.when != nil && !k.concerns(c) {
		return false
	}
	if d.class {
		*classes = append(*classes, d.ID)
	}
	return true
}

// concerns works out for which members the conditions of a demand hold, and says
// whether there are any.
func (k *asked) concerns(c *rules.Case) bool {
	f := k.demand.when.Fire(c)
	if f.Share == 0 || len(f.Open) > 0 {
		return false
	}
	if f.Share < 1 {
		k.of = c.NewMembers()
		k.demand.when.Hold(c, k.of)
	}
	return true
}

// score is how far a member meets the demand.
func (k *asked) score(i int) float64 {
	if k.of != nil && !k.of.Has(i) {
		return 1
	}
	d, v := k.demand, value(k.column, i)
	if k.upper == nil {
		return d.score(v)
	}
	return math.Min(d.score(math.Min(v, d.Ideal.High)), d.score(math.Max(value(k.upper, i)/k.allow, d.Ideal.Low)))
}

// linedWeighs is how many times the weight that a piece may have it may have where it
// is lined, and childCarries what part of a grown person's piece a child carries
// (common practice).
const (
	linedWeighs  = 1.35
	childCarries = 0.65
)

// weightAllowed is how many times the upper end of its weight a make-up may come to.
func weightAllowed(m MakeUp) float64 {
	allow := 1.0
	if _, lining := layersOf(m); lining > 0 {
		allow = linedWeighs
	}
	if m.Wearer == "child" && m.Piece.Wearer == "adult" {
		allow *= childCarries
	}
	return allow
}

// floorOf is what it leaves of member i: a cloth too light for the piece is weighted
// at the hem or lined, and nothing lightens one that is far too heavy or too thick.
func (k *asked) floorOf(i int) float64 {
	d, f := k.demand, k.demand.floor()
	switch light := value(k.column, i) < d.Ideal.Low; {
	case d.about == weightMatter && light:
		return math.Max(f, leaves[pieceFails])
	case d.Harm == 0 && !light && (d.about == weightMatter || d.about == bulkMatter):
		return leaves[ruined]
	}
	return f
}

// The matters that the code speaks of, by their places among [Abouts].
var (
	weightMatter = slices.Index(Abouts, "weight")
	bulkMatter   = slices.Index(Abouts, "bulk")
	fallMatter   = slices.Index(Abouts, "fall")
	bodyMatter   = slices.Index(Abouts, "body")
	washMatter   = slices.Index(Abouts, "wash")
)

// meet asks a known demand of each member that it concerns.
func (k *asked) meet(met *[fibres.N]float64) {
	var sum, cost float64
	for i := range fibres.N {
		s := k.score(i)
		left := 1.0
		if s < 1 {
			f := k.floorOf(i)
			left = f + (1-f)*s
		}
		sum += s
		cost += 1 - left
		if left < met[i] { // math.Min is a call
			met[i] = left
		}
	}
	k.share, k.cost = sum/fibres.N, cost/fibres.N
}

// objections are what rules have against the members. Bans that hold for nearly
// all of them are noted in the judgement; how much speaks for it too.
func (a *Adviser) objections(j *judged) []objection {
	var asks uint64 // matters that a known demand has weighed
	for _, k := range j.asked {
		if k.known && k.demand.about >= 0 {
			asks |= 1 << k.demand.about
		}
	}
	var out []objection
	for i, r := range a.Rules {
		if r.Effect > rules.For || r.About() != "" && !named(r, &j.make) || j.make.past != nil && j.make.past.rules[i] {
			continue
		}
		about := a.ruleAbout[i]
		o := objection{matter: about, leaves: leavesOf(r), asked: about >= 0 && asks>>about&1 == 1}
		f := r.Fire(j.c)
		switch {
		case f.Share == 0 || len(f.Open) > 0:
			continue
		case r.Effect == rules.For:
			j.liked += f.Share
			continue
		case r.Effect == rules.Forbids && f.Share >= firm:
			j.forbid = append(j.forbid, f)
		case r.Effect == rules.Against && about >= 0 && Abouts[about] == working:
			continue
		}
		if f.Share < 1 {
			o.holds = j.c.NewMembers()
			r.Hold(j.c, o.holds)
		}
		out = append(out, o)
	}
	return out
}

// leavesOf is what a rule leaves of the members it speaks against.
func leavesOf(r *rules.Rule) float64 {
	if r.Effect == rules.Forbids {
		return 0
	}
	return leaves[r.Harm]
}

// unjudged reports whether nothing that is asked is known, so that there is no
// verdict to speak of.
func (j *judged) unjudged() bool { return len(j.asked) > 0 && !j.known && len(j.forbid) == 0 }

// judges reports whether a rule has a say on this make-up: rules about seams
// only where a seam is named, and so for edges and interfacings.
func judges(r *rules.Rule, m MakeUp) bool { return r.About() == "" || named(r, &m) }

// named reports whether the make-up names what the rule is about.
func named(r *rules.Rule, m *MakeUp) bool {
	switch r.About() {
	case "seam":
		return m.Seam != nil
	case "edge":
		return m.Edge != nil
	case "interfacing":
		return m.Interfacing != nil
	}
	return true
}

// rank orders candidates: verdict, then share with what rules say for it.
func (j *judged) rank() float64 {
	return j.share + likedCounts*j.liked - verdictCounts*float64(slices.Index(verdicts, j.verdict))
}

// verdictCounts is more than shares and what rules say for a make-up come to.
const verdictCounts = 10

// estimateOf sums a column up as an estimate.
func estimateOf(col []float64, unit string, scale fibres.Scale, because string, sources []string) fibres.Estimate {
	e := fibres.Estimate{Unit: unit, Basis: fibres.Derived, Sources: sources, Because: because}
	if e.Sources == nil {
		e.Sources = []string{}
	}
	if len(col) == 0 {
		e.Basis = fibres.Unknown
		return e
	}
	s := slices.Clone(col)
	slices.Sort(s)
	at := func(u float64) float64 { return s[int(u*float64(len(s)))] }
	e.Low, e.Typical, e.High = at(0.1), at(0.5), at(0.9)
	if scale != nil {
		e.Unit, e.Words = "level", []string{scale.Word(e.Low), scale.Word(e.Typical), scale.Word(e.High)}
	}
	return e
}

// InTen says a share as a maker says it.
func InTen(share float64) string {
	switch {
	case share >= 0.975:
		return "nearly all"
	case share < 0.025:
		return "hardly any"
	}
	n := int(math.Round(share * 10))
	if n == 0 {
		return "fewer than 1 in 10"
	}
	if n == 10 {
		return "more than 9 in 10"
	}
	if n == 5 && share < SuitsFrom { // what suits and what is borderline never read alike
		return "fewer than 5 in 10"
	}
	return fmt.Sprintf("about %d in 10", n)
}

// mayBe says of each layer whose name shops give to several cloths which they are.
func mayBe(m MakeUp) []string {
	var out []string
	for _, s := range []*fibres.Subject{m.Shell, m.Lining} {
		if s != nil && len(s.May) > 0 {
			out = append(out, prose.Upper(s.MayBe())+"; name one to narrow it.")
		}
	}
	return out
}

// soldAs names the population of a subject: "cloths sold as cotton sateen".
func soldAs(s *fibres.Subject) string {
	switch {
	case s == nil:
		return "cloths"
	case s.Swatch && s.Measured():
		return "cloths that measure as " + s.Label() + " does"
	case s.Swatch && s.Cloth != nil:
		return "cloths sold as " + s.Cloth.Name + " (" + s.Label() + " is not measured)"
	case s.Swatch:
		return "cloths that " + s.Label() + " may be"
	case len(s.Known) > 0 && !(s.IsDescribed() && s.Known[fibres.Mass].Basis == fibres.Derived):
		return "cloths of the figures you gave"
	}
	return "cloths sold as " + s.Label()
}

// Headline is the verdict in words with its share.
func headline(j *judged) string {
	s := j.make.Shell
	if len(j.forbid) > 0 {
		return fmt.Sprintf("%s: %s", j.verdict, prose.Lower(strings.TrimSuffix(j.forbid[0].Rule.Say, ".")))
	}
	if !j.known {
		return "not judged: nothing that the piece asks is known of " + s.Label()
	}
	if s.Swatch && (j.share > 0.95 || j.share < 0.05) {
		if j.share > 0.95 {
			return "suits: yes, " + s.Label() + " would do"
		}
		return "unsuited: no, " + s.Label() + " would not do"
	}
	if _, measured := s.Known[fibres.BendingLength]; measured && s.Cloth != nil {
		switch {
		case j.share > 0.95:
			return "suits: yes, a " + s.Cloth.Name + " of these figures would do"
		case j.share < 0.05:
			return "unsuited: no, a " + s.Cloth.Name + " of these figures would not do"
		}
	}
	return fmt.Sprintf("%s: %s %s would do", j.verdict, InTen(j.share), soldAs(s))
}
