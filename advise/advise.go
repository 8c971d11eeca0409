package advise

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"tenter/advise/cut"
	"tenter/advise/order"
	"tenter/advise/rules"
	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/prose"
	"tenter/fibres/units"
)

// Advise answers what to use for a piece and a finish, and how to work it: the
// cloths that suit (unless a shell is named), the linings, interfacings, seams
// and edges, the pre-wash, pressing, needle and thread, and the order of work.
// limit is the most candidates of a kind; 0 is all.
func (a *Adviser) Advise(m MakeUp, limit int) (AdviseAnswer, error) {
	return a.AdviseAmong(m, limit, nil)
}

// AdviseAmong is [Adviser.Advise] with the cloths that the shell is chosen from;
// nil are all that the catalogue has.
func (a *Adviser) AdviseAmong(m MakeUp, limit int, shells []*fibres.Subject) (AdviseAnswer, error) {
	if m.Piece == nil {
		return AdviseAnswer{}, &fault.Fault{Kind: fault.WrongCall, Where: "--piece", What: "no piece is named", Expected: "what is to be made", Mend: "`tenter list pieces` shows them"}
	}
	if m = a.WithUsualFinish(m); m.Finish == nil {
		return AdviseAnswer{}, &fault.Fault{Kind: fault.WrongCall, Where: "--finish", What: "no finish is named", Expected: "how it is made up", Mend: "`tenter list finishes` shows them"}
	}
	out := AdviseAnswer{Version: Version, MakeUp: IDsOf(m), Wishes: wishEchoes(m), Cloths: []Candidate{}, Linings: []Candidate{}, Interfacings: []Choice{},
		Seams: []Choice{}, Edges: []Choice{}, PreWash: []PreWash{}, Order: []OrderStep{}, Working: []Working{}, Cautions: []Caution{},
		Places: []Sewn{}, Needles: []Choice{}, Threads: []Choice{}, Bindings: []Choice{}}
	if m.FinishTaken {
		out.Notes = append(out.Notes, "No finish is named: the usual one is taken, "+m.Finish.Name+".")
	}
	if m.Shell == nil {
		if shells == nil {
			shells = subjectsOf(a.Shells())
		}
		js := a.judgeAll(m, shells, putShell)
		a.recommend(js, shellOf, a.shellTaste(m))
		out.Cloths = candidates(js, limit, shellOf)
		if len(js) > 0 {
			m.Shell = js[0].make.Shell
			out.Notes = append(out.Notes, "The work below is for the first of the cloths, "+m.Shell.Label()+"; name one with --shell to see its own.")
		}
	}
	if m.Finish.Lined {
		m = a.linings(m, limit, &out)
	}
	if m.Shell == nil {
		return out, nil
	}
	j := a.judge(m)
	c := a.say(j)
	out.Judged = &c
	out.Seams, out.Edges = a.choices(j, "seam", limit), a.choices(j, "edge", limit)
	out.Interfacings = a.choices(j, "interfacing", limit)
	out.Places = a.sewnAt(m, j.c, out.Seams, out.Edges)
	a.work(j, &out)
	return out, nil
}

// judgeAll judges a make-up with each of the cloths put in, best first.
func (a *Adviser) judgeAll(m MakeUp, cloths []*fibres.Subject, put func(*MakeUp, *fibres.Subject)) []*judged {
	return a.judgeEach(len(cloths), func(i int) MakeUp {
		mm := m
		put(&mm, cloths[i])
		return mm
	})
}

// judgeEach judges n make-ups, best first, for no more than their ranking.
func (a *Adviser) judgeEach(n int, of func(int) MakeUp) []*judged {
	js := make([]*judged, n)
	beside(n, func(i int) {
		js[i] = a.judge(of(i))
		a.schema.Done(js[i].c) // there may be thousands
		js[i].c = nil
	})
	sortJudged(js)
	return js
}

// Where a layer stands in a make-up.
func shellOf(j *judged) *fibres.Subject      { return j.make.Shell }
func liningOf(j *judged) *fibres.Subject     { return j.make.Lining }
func putShell(m *MakeUp, s *fibres.Subject)  { m.Shell = s }
func putLining(m *MakeUp, s *fibres.Subject) { m.Lining = s }

// subjectsOf are the names of cloths, of which nothing more is known.
func subjectsOf(cloths []*fibres.Cloth) []*fibres.Subject {
	out := make([]*fibres.Subject, len(cloths))
	for i, c := range cloths {
		out[i] = &fibres.Subject{Cloth: c}
	}
	return out
}

func sortJudged(js []*judged) {
	slices.SortStableFunc(js, func(x, y *judged) int { return cmp.Compare(y.rank(), x.rank()) })
}

func candidates(js []*judged, limit int, who func(*judged) *fibres.Subject) []Candidate {
	out := []Candidate{}
	for _, j := range js {
		if limit > 0 && len(out) == limit {
			break
		}
		s := who(j)
		id := s.Name
		if s.Cloth != nil && !s.Swatch {
			id = s.Cloth.ID
		}
		out = append(out, Candidate{ID: id, Name: s.Label(), Verdict: j.verdict, Share: j.share, Unjudged: j.unjudged(), Say: short(j), Group: j.inGroup(), Why: j.why})
	}
	return out
}

// short says in a phrase what decided a candidate.
func short(j *judged) string {
	if len(j.forbid) > 0 {
		return prose.Lower(strings.TrimSuffix(j.forbid[0].Rule.Say, "."))
	}
	if j.unjudged() {
		return "not judged, for nothing that is asked is known of it"
	}
	say := InTen(j.share) + " would do"
	var worst *asked
	for i := range j.asked {
		if k := &j.asked[i]; k.known && (worst == nil || k.share < worst.share) {
			worst = k
		}
	}
	if worst != nil && worst.share < 0.9 {
		say += "; " + worst.failing()
	}
	return say
}

// failing says on which side of a demand most of the members lie that miss it.
func (k *asked) failing() string { return sideWords(k.demand, k.tooMuch()) }

// failings are the words for demands that are no property of a layer: too little,
// too much; by what is asked, or by the demand.
var failings = map[string][2]string{
	"fall":            {"too limp", "too stiff"},
	"body":            {"too limp", "too stiff"},
	"safety":          {"burns too readily", "burns too readily"},
	"shrink":          {"shrinks too little", "shell and lining shrink apart"},
	"rigidity-ratio":  {"the lining is too limp", "the lining is too stiff"},
	"stiffness-ratio": {"the lining is too limp", "the lining is too stiff"},
	"mass-ratio":      {"the lining is too light", "the lining is too heavy"},
	"stretch-lack":    {"the lining gives more", "the lining gives too little"},
	"care-lack":       {"the lining takes more", "the lining cannot be washed as the shell"},
	"weave":           {"woven too open", "woven too close"},
}

// sideWords names a failing in the maker's words.
func sideWords(d *Demand, over bool) string {
	_, asks, _ := strings.Cut(d.Fact, ".")
	if asks == "wind" && d.Matter != "warmth" && d.Matter != "water" {
		asks = "weave" // wind tells how close a cloth is; it is not the air that is minded
	}
	w := [2]string{"too little " + d.ID, "too much " + d.ID}
	for _, id := range []string{d.ID, asks} {
		if x, ok := failings[id]; ok {
			w = x
			break
		}
		if p, ok := fibres.PropertyByID(id); ok && fibres.Properties[p].Failing[0] != "" {
			w = fibres.Properties[p].Failing
			break
		}
	}
	if over {
		return w[1]
	}
	return w[0]
}

// choices judges every seam, edge or interfacing on the make-up by what makers take
// and by the rules that speak of it, best first.
func (a *Adviser) choices(j *judged, kind string, limit int) []Choice {
	m := j.make
	if kind == support {
		m.Interfacing = nil // the one that is named speaks neither for others nor against them
	}
	c := a.caseOf(m)
	var job *Job
	if kind == support {
		job = a.supportJob(c)
	}
	picks, says := a.picksFor(c, kind), a.pickSays(c, kind)
	var list []scored
	for _, x := range a.candidatesOf(m, kind, job) {
		s := a.score(x, kind)
		s.take(picks)
		s.Why = says[s.ID]
		list = append(list, s)
	}
	leaveOut(list, picks)
	if kind != support {
		leastBad(list, picks)
	}
	slices.SortStableFunc(list, func(x, y scored) int { return cmp.Compare(y.v, x.v) })
	out := make([]Choice, len(list))
	for i, s := range list {
		out[i] = s.Choice
	}
	if job != nil {
		out = a.supportChoices(m, job, out, picks)
	}
	out = fewest(bestFirst(out))
	if limit > 0 {
		out = out[:min(limit, len(out))]
	}
	return out
}

// scored is a choice with what speaks for it, less what speaks against it.
type scored struct {
	Choice
	v       float64
	own     string // what is said of it whatever it is for
	instead string // what is said of it where it belongs to another way of making up
	because string // why the rule speaks against it whose words are told
}

// leastBad offers the one that is least spoken against, where each is and a piece must be
// joined and finished all the same; its reservation is told with it. What belongs to the
// finish goes before what does not, and where all that belongs to it is refused, one of it
// is offered too. What is banned stays so.
func leastBad(list []scored, picks map[string]float64) {
	best, top := -1, math.Inf(-1)
	for i := range list {
		s := &list[i]
		if s.Effect == "forbids" {
			continue
		}
		if !s.Refused() {
			top = math.Max(top, s.v)
		}
		if !s.other && !s.Refused() {
			return
		}
		if best < 0 || s.before(list[best], picks) {
			best = i
		}
	}
	if best < 0 || !list[best].Refused() {
		return
	}
	s := &list[best]
	s.Effect, s.v = WillDo, math.Max(s.v, top)
	s.Say = s.own
	if s.because != "" {
		s.Say += " It is the least bad here: " + prose.Lower(s.because)
	}
}

// before reports whether what is refused is less bad than another.
func (s *scored) before(o scored, picks map[string]float64) bool {
	if s.other != o.other {
		return !s.other
	}
	return s.v+pickCounts*picks[s.ID] > o.v+pickCounts*picks[o.ID]
}

// candidate is a seam, edge or interfacing put into a make-up.
type candidate struct {
	Choice
	make MakeUp
}

// candidatesOf are all of a kind that are made for such a cloth; job is what a support has to do.
func (a *Adviser) candidatesOf(m MakeUp, kind string, job *Job) (out []candidate) {
	if kind == support {
		carries := job != nil && job.Bears // it is the shape, whatever the shell weighs
		for _, x := range a.Interfacings {
			if !carries && x.ShellMassHigh > 0 && !a.within(m.Shell, x.ShellMassLow, x.ShellMassHigh) {
				continue // made for another weight of cloth
			}
			m.Interfacing = x
			out = append(out, candidate{Choice{ID: x.ID, Name: x.Name, Where: x.Role, Say: x.Say}, m})
		}
		return out
	}
	for _, s := range a.Seams {
		switch {
		case s.Kind != kind:
			continue
		case kind == "seam":
			m.Seam = s
		default:
			m.Edge = s
		}
		out = append(out, candidate{Choice{ID: s.ID, Name: s.Name, Say: s.Say}, m})
	}
	return out
}

// score weighs what rules say of a candidate.
func (a *Adviser) score(x candidate, kind string) scored {
	return weighed(x.Choice, a.spokenOf(x, kind))
}

// spokenOf are the rules that speak of a candidate.
func (a *Adviser) spokenOf(x candidate, kind string) (out []rules.Firing) {
	c := a.caseOf(x.make)
	for _, r := range a.Rules {
		if r.About() != kind {
			continue
		}
		if f := r.Fire(c); len(f.Open) == 0 && f.Share >= may {
			out = append(out, f)
		}
	}
	return out
}

// weighed is a choice as the rules weigh it that speak of it.
func weighed(x Choice, spoken []rules.Firing) scored {
	s := scored{Choice: x, own: x.Say}
	banned, worst := false, 0.0 // worst is how gravely the rule speaks whose words are told
	for _, f := range spoken {
		r := f.Rule
		switch {
		case r.Effect == rules.For:
			s.v += f.Share
			if s.Say == x.Say && s.v > 0 {
				s.Say = r.Say
			}
		case r.Effect == rules.Against && r.Harm == aside:
			s.v -= f.Share // worth saying, and no reason to refuse it
			if f.Share >= 0.5 && !s.other {
				s.other, s.instead = true, r.Say
			}
		case r.Effect == rules.Against, r.Effect == rules.Forbids:
			weight := 1.0
			if r.Effect == rules.Forbids && f.Share >= firm {
				weight, banned = 2, true
			}
			s.v -= weight * f.Share
			if f.Share >= 0.5 && weight > worst {
				worst, s.Say, s.because = weight, r.Say, r.Because
			}
		}
	}
	switch {
	case banned:
		s.Effect = "forbids"
	case worst > 0:
		s.Effect = NotFor
	case s.v >= 0.5 && !s.other:
		s.Effect = "for"
	default:
		s.Effect = WillDo
	}
	return s
}

// enough is how many choices a maker picks among; beyond them, what nobody takes and
// no rule speaks for is left out.
const enough = 2

// leaveOut counts what no rule speaks for and makers do not take among what is not for
// the make-up, where enough is recommended.
func leaveOut(list []scored, picks map[string]float64) {
	taken := 0
	for _, s := range list {
		if s.Effect == "for" {
			taken++
		}
	}
	if taken < enough {
		return
	}
	for i := range list {
		if s := &list[i]; s.Effect == WillDo && picks[s.ID] == 0 && s.v <= 0 {
			s.Effect, s.Say = NotFor, othersUsual
		}
	}
}

// aside is the harm of what is worth saying and no reason to refuse anything.
const aside = 1

// pickCounts is how much it counts for a choice that makers take it, against a rule
// that speaks for it. Own judgement.
const pickCounts = 2

// take adds what makers take: it moves what nothing speaks against to the front, and
// where makers are known to take others, the rest only will do.
func (s *scored) take(picks map[string]float64) {
	if picks == nil || s.Refused() {
		return
	}
	sure := picks[s.ID]
	s.v += pickCounts * sure
	if s.other && sure < 0.5 {
		s.Effect, s.Say = NotFor, cmp.Or(s.instead, s.Say)
		return
	}
	if sure >= 0.5 && !s.other {
		s.Effect = "for"
	}
}

// within reports whether the shell's typical mass lies in a range, or is not
// known.
func (a *Adviser) within(s *fibres.Subject, low, high float64) bool {
	e := a.Cat.Estimate(*s, fibres.Mass)
	return !e.Known() || (e.Typical >= low && e.Typical <= high)
}

// work fills in what to do: pre-wash, pressing, needle, thread, order, cautions.
func (a *Adviser) work(j *judged, out *AdviseAnswer) {
	m := j.make
	washed := m.Piece.Wash != "never" && !a.cleaned(m)
	out.PreWash = append(out.PreWash, a.preWash("shell", m.Shell, washed))
	if m.Lining != nil {
		out.PreWash = append(out.PreWash, a.preWash("lining", m.Lining, washed))
	}
	for _, x := range m.Inner {
		out.PreWash = append(out.PreWash, a.preWash(x.Name, x.Of, washed))
	}
	out.Pressing = a.pressing(j)
	out.Needles, out.Threads = a.notionsOf(j.c, "needle"), a.notionsOf(j.c, "thread")
	out.Needle, out.Thread = a.stitching(m, out.Needles, out.Threads)
	if a.bound(m, out) {
		out.Bindings = a.notionsOf(j.c, "binding")
	}
	out.Order = washStep(a.order(j), m.Finish.firstStep(), out.PreWash)
	out.Working = a.working(j)
	out.Cautions = append(out.Cautions, a.cautions(j)...)
}

// cautions are what to mind, in the order of the rules.
func (a *Adviser) cautions(j *judged) (out []Caution) {
	for _, r := range a.Rules {
		if r.Effect != rules.Caution || !judges(r, j.make) {
			continue
		}
		f := r.Fire(j.c)
		if told(f) {
			out = append(out, Caution{Say: r.Say, Because: r.Because, Basis: r.Basis, Sources: r.Sources, Share: f.Share, Firm: firmly(f), Open: f.Open})
		}
	}
	return out
}

// noWarp are the classes of structure that have neither warp nor weft.
var noWarp = []string{"knit", "nonwoven"}

// cleaned reports whether a piece of these cloths is dry-cleaned: it is said to be, or one
// of them takes no wash, so that none of them gets one, as [cut.Plan] reckons.
func (a *Adviser) cleaned(m MakeUp) bool {
	if m.Wished(dryCleaned) {
		return true
	}
	for _, s := range m.subjects() {
		if e := a.Cat.Estimate(*s, fibres.Wash); e.Known() && e.Words[1] == "dry-clean" {
			return true
		}
	}
	return false
}

func (a *Adviser) preWash(layer string, s *fibres.Subject, washed bool) PreWash {
	w, wf := a.Cat.Estimate(*s, fibres.ShrinkWarp), a.Cat.Estimate(*s, fibres.ShrinkWeft)
	out := PreWash{Layer: layer, Cloth: s.Label(), Shrink: map[string]fibres.Estimate{"warp": w, "weft": wf}}
	wash := a.Cat.Estimate(*s, fibres.Wash)
	switch {
	case keptDry(s):
		out.Method, out.Say = "leave", "Do not wash or steam it: wax and oil run, and the cloth no longer sheds water."
		return out
	case !wash.Known():
		out.Method, out.Say = "test first", "Nobody has recorded how it washes: wash a swatch first."
		return out
	case wash.Words[1] == "dry-clean":
		out.Method, out.Say = "steam", "Do not wash it: shrink it with steam or a damp cloth, flat and untouched until dry."
	case !washed:
		out.Method, out.Say = "steam", "It will not be washed: steam it over once, so that pressing does not shrink it later."
	case wash.Words[1] == "hand":
		out.Method, out.Say = "hand", "Wash it by hand in cool water, dry it flat, press it half dry."
	default:
		out.Method = wash.Words[1]
		out.Times = 1
		times := "once"
		if w.Known() && w.High >= 6 && !felts(s) { // each wash felts wool further
			out.Times, times = 2, "twice"
		}
		out.Say = fmt.Sprintf("Wash and dry it %s as the piece will be washed, %s at most.", times, wash.Words[1])
	}
	if w.Known() && wf.Known() && out.Method != "steam" {
		along, across := "along the warp", "along the weft"
		if k := s.Named(); k != nil && slices.Contains(noWarp, k.Structure.Class) {
			along, across = "along the length", "across the width"
		}
		out.Say += fmt.Sprintf(" Expect %s–%s %% "+along+", %s–%s %% "+across+".", fibres.Round(w.Low), fibres.Round(w.High), fibres.Round(wf.Low), fibres.Round(wf.High))
	}
	return out
}

// stitching is the needle, thread and stitch for the heaviest layer of a make-up; nil
// where its mass is not known.
func (a *Adviser) stitching(m MakeUp, needles, threads []Choice) (*NeedleAdvice, *ThreadAdvice) {
	mass := a.Cat.Estimate(*m.Shell, fibres.Mass)
	if !mass.Known() {
		return nil, nil
	}
	g := mass.Typical
	if m.Lining != nil {
		if l := a.Cat.Estimate(*m.Lining, fibres.Mass); l.Known() {
			g = math.Max(g, l.Typical)
		}
	}
	n := a.needleRow(g)
	if n == nil {
		return nil, nil
	}
	needle := &NeedleAdvice{FirstNM: n.NeedleFirst, LowNM: n.NeedleLow, HighNM: n.NeedleHigh, StitchMM: [2]float64{n.StitchLow, n.StitchHigh}, Basis: n.Basis, Sources: n.Sources,
		Say: fmt.Sprintf("%s %s (US %s) first; %s will do. Stitch %s mm (%s to the inch).", firstOf(needles, "Size"), fibres.Round(n.NeedleFirst), fibres.Round(cut.NeedleUS(n.NeedleFirst)),
			between(n.NeedleLow, n.NeedleHigh), between(n.StitchLow, n.StitchHigh), between(PerInch(n.StitchHigh), PerInch(n.StitchLow)))}
	thread := &ThreadAdvice{TexLow: n.ThreadLow, TexHigh: n.ThreadHigh, Basis: n.Basis, Sources: n.Sources,
		Say: fmt.Sprintf("%s, about %.0f–%.0f tex.", firstOf(threads, "Any that suits"), n.ThreadLow, n.ThreadHigh)}
	if _, joins := a.Drafted(m.Piece); len(joins) > 0 {
		if t, err := cut.PlanThread(joins, a.sewing(m)); err == nil {
			thread.Metres = &t.Total
			thread.Say += fmt.Sprintf(" The seams take about %s m, %s m of it from the bobbin.", fibres.Round(t.Total.Typical), fibres.Round(t.Under))
		}
	}
	return needle, thread
}

// topics orders what there is to do by when it comes; a rule's topic is the
// file it stands in.
var topics = []string{"prewash", "cutting", "marking", "nap", "bias", "interfacing", "needle", "thread", "pressing", "care", "wearing"}

// Topic is the subject of a rule: the name of its file.
func Topic(r *rules.Rule) string {
	file, _, _ := strings.Cut(r.Place, ".toml")
	return file[strings.LastIndexByte(file, '/')+1:]
}

// working lists what rules say to do outside the order of work, topic by topic
// in the order of the work, what surely applies first.
func (a *Adviser) working(j *judged) []Working {
	out := []Working{}
	for _, r := range a.Rules {
		if r.Effect != rules.Do || r.Step != nil || !judges(r, j.make) || a.saidByNotion(r) {
			continue
		}
		if f := r.Fire(j.c); done(f) {
			out = append(out, Working{Topic(r), r.ID, f.Share, r.Say, r.Because, r.Basis, r.Sources})
		}
	}
	at := func(t string) int {
		if i := slices.Index(topics, t); i >= 0 {
			return i
		}
		return len(topics)
	}
	slices.SortStableFunc(out, func(x, y Working) int {
		return cmp.Or(at(x.Topic)-at(y.Topic), cmp.Compare(y.Share, x.Share))
	})
	return out
}

// order is the steps of the finish as the rules edit them.
func (a *Adviser) order(j *judged) []OrderStep {
	out := []OrderStep{}
	if j.make.Finish == nil {
		return out
	}
	var steps []order.Step
	for _, s := range j.make.Finish.Steps {
		steps = append(steps, order.Step{ID: s.ID, Say: s.Say, Because: s.Because, After: s.After})
	}
	plan, err := order.New(steps)
	if err != nil {
		return out // the data tests make this impossible for built-in finishes
	}
	for _, pass := range []bool{true, false} { // add steps before others move them
		for _, r := range a.Rules {
			s := r.Step
			if s == nil || !judges(r, j.make) || (s.Add != "") != pass {
				continue
			}
			f := r.Fire(j.c)
			if !done(f) {
				continue
			}
			step := order.Step{Say: r.Say, Because: r.Because, If: !firmly(f)}
			if step.If {
				step.Say = ifTested(r) + ": " + prose.Lower(r.Say)
			}
			a.edit(plan, s, step)
		}
	}
	list, err := plan.Order()
	if err != nil {
		return out
	}
	for _, s := range list {
		out = append(out, inOrder(s))
	}
	return out
}

// inOrder is a step as an answer has it: with the reason of the first note that has one,
// where it has none of its own.
func inOrder(s order.Placed) OrderStep {
	st := OrderStep{Step: s.ID, Say: s.Say, Because: s.Because, If: s.If, Why: s.Why, Movable: s.Movable, Later: s.Later}
	for _, n := range s.Notes {
		st.Notes = append(st.Notes, n.Say)
		st.Because = cmp.Or(st.Because, n.Because)
	}
	return st
}

// shown is what a cloth does in its test where it has much of a property.
var shown = map[string]string{"fray": "frays", "slip": "slips", "slide": "slips", "stretch": "stretches", "crease": "creases", "show-through": "shows through"}

// ifTested says what a test must show before a step is taken that only some cloths of
// the name need: by the property that the rule of the step asks of.
func ifTested(r *rules.Rule) string {
	for _, w := range r.When() {
		if does := shown[w.Fact[strings.LastIndex(w.Fact, ".")+1:]]; does != "" && !strings.HasPrefix(w.Words, "not ") && !strings.HasPrefix(w.Words, "at most ") {
			return "If it " + does + " in the test"
		}
	}
	return "If your test says so"
}

// edit applies one rule's step to the plan; a step that the finish does not
// have is passed over, since a rule may speak for several finishes.
func (a *Adviser) edit(plan *order.Plan, s *rules.Step, step order.Step) {
	switch {
	case s.Add != "":
		step.ID = s.Add
		_ = plan.Add(step, s.After, s.Before)
	case s.Move != "":
		if plan.Move(s.Move, s.After, s.Before) == nil {
			_ = plan.Note(s.Move, step.Say, step.Because)
		}
	case s.Drop != "":
		_ = plan.Drop(s.Drop)
	case s.Say != "":
		step.ID = s.Say
		_ = plan.Say(step)
	}
}

// NeedleFor is the needle for one cloth by its mass, or nil where that is not
// known.
func (a *Adviser) NeedleFor(s fibres.Subject) *NeedleAdvice {
	m := MakeUp{Shell: &s}
	c := a.caseOf(m)
	n, _ := a.stitching(m, a.notionsOf(c, "needle"), nil)
	return n
}

// PerInch is how many whole stitches of so many millimetres lie in an inch.
func PerInch(mm float64) float64 {
	return math.Round(units.StitchesPerInch(units.Length(mm) * units.Millimetre))
}

// between writes a range, or the figure where both ends are the same.
func between(low, high float64) string {
	if low == high {
		return fibres.Round(low)
	}
	return fibres.Round(low) + "–" + fibres.Round(high)
}
