package advise

import (
	"slices"

	"tenter/advise/rules"
	"tenter/fibres"
)

// noSupport is the answer where nothing is to be stiffened.
const noSupport = "none"

// How far a support must meet what its job asks to be recommended, and to do at all, as
// means over the members. Own judgement.
const (
	supportMeets = 0.6
	supportDoes  = 0.3
)

// supportJob is what support has to do in a make-up whose facts are in the case: the
// first job whose conditions hold for most members; nil where there is none.
func (a *Adviser) supportJob(c *rules.Case) *Job {
	for _, j := range a.Jobs {
		if j.Layer == support && mostly(j.When, c) {
			return j
		}
	}
	return nil
}

// supportChoices says of each support whether the make-up has work for it, and where.
// None is an answer where nothing is to be stiffened; an underlining and an interlining
// are for make-ups that are mounted or kept warm.
func (a *Adviser) supportChoices(m MakeUp, job *Job, list []Choice, picks map[string]float64) []Choice {
	for i := range list {
		x := &list[i]
		if s, _ := a.Interfacing(x.ID); s != nil && !x.Refused() {
			a.support(m, s, job, x, picks[x.ID])
		}
	}
	if !job.None {
		return list
	}
	return append([]Choice{{ID: noSupport, Name: "none needed", Effect: "for", Say: job.Say}}, list...)
}

// support says whether one support does the job; picked is how surely makers take it.
func (a *Adviser) support(m MakeUp, s *Interfacing, job *Job, x *Choice, picked float64) {
	glued := s.Attach == "fuse"
	mounted := m.Finish != nil && slices.Contains(m.Finish.Takes, s.Role)
	switch {
	case glued && m.Wished("no-glue"), !glued && m.Wished("fusible"):
		x.Effect = NotFor
	case s.Narrow:
		x.Effect = WillDo
	case mounted:
	case job.None && picked > 0 && slices.Contains(job.Roles, s.Role):
		x.Effect = WillDo
	case job.None:
		x.Effect, x.Say = NotFor, job.Say
	case !slices.Contains(job.Roles, s.Role):
		x.Effect, x.Say = NotFor, "Nothing in this make-up asks for it."
	default:
		a.supportMeets(m, s, job, x)
	}
}

// supportMeets asks of a support what its job asks.
func (a *Adviser) supportMeets(m MakeUp, s *Interfacing, job *Job, x *Choice) {
	m.Interfacing = s
	c := a.caseOf(m)
	worst, say := 1.0, ""
	for _, d := range pointers(job.Demands) {
		k := asked{demand: d}
		col := c.Column(d.fact)
		if col.State != rules.Known || !k.stands(c, nil, true) {
			continue
		}
		k.column = col.Num
		sum := 0.0
		for i := range fibres.N {
			sum += k.score(i)
		}
		if share := sum / fibres.N; share < worst {
			worst, say = share, d.Say
		}
	}
	switch {
	case worst < supportDoes:
		x.Effect, x.Say = NotFor, say
	case worst < supportMeets:
		x.Effect = WillDo
	}
	if x.Effect == "for" {
		x.Place, x.Why = job.Place, job.Say
	}
}

// How many a list recommends, and how many more it lets pass: what a maker reads. More
// would be no recommendation.
const (
	maxRecommended = 4
	maxWillDo      = 5
)

// fewest keeps what a list recommends and what it lets pass few.
func fewest(list []Choice) []Choice {
	best, rest := 0, 0
	for i := range list {
		x := &list[i]
		if x.Effect != "for" || x.Why == x.Say {
			x.Why = "" // a reason is given for what is recommended
		}
		if x.Effect == "for" {
			if best++; best > maxRecommended {
				x.Effect, x.Why, x.Place = WillDo, "", ""
			}
		}
		if x.Effect == WillDo {
			if rest++; rest > maxWillDo {
				x.Effect, x.Say = NotFor, othersUsual
			}
		}
	}
	return list
}

// othersUsual is what is said of a choice that nothing speaks against but that makers
// take others.
const othersUsual = "Others are usual here."
