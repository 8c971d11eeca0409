package advise

import (
	"fmt"
	"slices"
	"strings"

	"tenter/advise/plain"
	"tenter/advise/rules"
	"tenter/fibres"
	"tenter/fibres/fault"
)

// Job is what a layer of a make-up has to do, and what that asks of it.
type Job struct {
	ID, Name, Layer string
	UsedFor         []string // what cloths of its pool are used for
	Also, Never     []string // ids that are in the pool besides, and that are not
	When            *rules.Rule
	Demands         []Demand
	Bears           bool     // it carries the shell: strength, weight and stretch are those of both
	Strengthens     bool     // it takes the strain of a shell that is weaker
	Hangs           []string // the groups of pieces that hang free of their cloth, so that its weight is felt
	Wish            string   // a wish that makes it the layer's job, whatever the piece
	Place           string   // where in the piece the support goes
	None            bool     // the piece wants no support
	Roles           []string // what of the supports may do it, see [supportRoles]
	Say             string
	Cite
}

// jobLayers are the layers that have jobs.
var jobLayers = []string{"shell", "lining", "interlining", support}

// support is the layer of what firms a part of the shell.
const support = "interfacing"

// jobs reads jobs.toml. Its conditions are in the words of rules, so that the facts
// must be known already.
func (l *loader) jobs(doc *plain.Doc) {
	seen := map[string]bool{}
	for _, t := range doc.Tables("job") {
		j := &Job{ID: t.String("id"), Name: t.String("name"), Layer: l.word(t, "layer", jobLayers), UsedFor: t.Strings("used-for"),
			Also: t.Strings("also"), Never: t.Strings("never"), Say: t.String("say")}
		t.Need("id", "lower-case words joined by hyphens")
		t.Need("name", "what it is called")
		if seen[j.ID] {
			t.Fault("id", &fault.Fault{Kind: fault.BadData, What: fmt.Sprintf("id %q is there twice", j.ID), Expected: "each id once", Mend: "rename one of them"})
		}
		seen[j.ID] = true
		for _, id := range append(slices.Clone(j.Also), j.Never...) {
			if l.a.Cat.Cloths[id] == nil {
				t.Fault("never", &fault.Fault{Kind: fault.BadData, Names: "cloth", What: fmt.Sprintf("there is no cloth %q", id), Expected: "ids of cloths", Mend: fault.DidYouMean(id, l.a.Cat.ClothNames.IDs(), "")})
			}
		}
		j.Bears, _ = t.Bool("bears")
		j.Strengthens, _ = t.Bool("strengthens")
		j.Hangs = t.Strings("hangs")
		j.Wish = t.String("wish")
		j.Place, j.None, j.Roles = t.String("place"), l.flag(t, "none"), l.words(t, "roles", supportRoles)
		j.When = l.a.schema.ReadConditions(t)
		j.Demands, j.Cite = l.demands(t), l.cite(t)
		if j.Layer == "shell" {
			for i := range j.Demands {
				j.Demands[i].class = true
			}
		}
		l.a.Jobs = append(l.a.Jobs, j)
	}
}

// jobIDs lists the ids of the jobs before the jobs can be read: conditions may name
// them.
func (l *loader) jobIDs() []string {
	var out []string
	l.toml("jobs.toml", func(doc *plain.Doc) {
		for _, t := range doc.Tables("job") {
			out = append(out, t.String("id"))
			t.Leaves()
			for _, d := range t.Tables("demand") {
				d.Leaves()
			}
		}
	})
	return out
}

// Job finds a job by its id or name.
func (a *Adviser) Job(name string) (*Job, error) {
	return jobNamed(a.Jobs, name, "no job is called %q")
}

// LiningJob finds a job of linings by its id or name.
func (a *Adviser) LiningJob(name string) (*Job, error) {
	return jobNamed(a.liningJobs(), name, "no lining has the job %q")
}

// jobNamed finds one of the jobs by its id or name; none is what is said where there is none.
func jobNamed(list []*Job, name, none string) (*Job, error) {
	for _, j := range list {
		if j.ID == name || fibres.FoldName(j.Name) == fibres.FoldName(name) {
			return j, nil
		}
	}
	ids := jobIDs(list)
	return nil, &fault.Fault{Kind: fault.NotFound, What: fmt.Sprintf(none, name), Expected: strings.Join(ids, ", "), Mend: fault.DidYouMean(name, ids, "")}
}

func jobIDs(list []*Job) (ids []string) {
	for _, j := range list {
		ids = append(ids, j.ID)
	}
	return ids
}

// liningJobs are the jobs that a lining may have.
func (a *Adviser) liningJobs() []*Job {
	return slices.DeleteFunc(slices.Clone(a.Jobs), func(j *Job) bool { return j.Layer != "lining" })
}

// LiningJobIDs are the ids of the jobs that a lining may have.
func (a *Adviser) LiningJobIDs() []string { return jobIDs(a.liningJobs()) }

// jobOfLining is the job of the lining of a make-up whose facts are in the case: the
// one that the user named, else the first whose conditions hold. It is nil where
// there is no lining to have one.
func (a *Adviser) jobOfLining(m MakeUp, c *rules.Case) *Job {
	if m.Finish == nil || !m.Finish.Lined {
		return nil
	}
	for _, j := range a.Jobs {
		if j.Layer != "lining" {
			continue
		}
		if m.Job != nil {
			return m.Job
		}
		if j.When == nil || j.Wish != "" && m.Wished(j.Wish) {
			return j
		}
		if f := j.When.Fire(c); len(f.Open) == 0 && f.Share >= firm {
			return j
		}
	}
	return nil
}

// offers reports whether a cloth is one that is offered for the job.
func (j *Job) offers(c *fibres.Cloth) bool {
	if c.Era != "" || slices.Contains(j.Never, c.ID) {
		return false
	}
	return slices.Contains(j.Also, c.ID) || slices.ContainsFunc(c.UsedFor, func(u string) bool { return slices.Contains(j.UsedFor, u) })
}

// Shells are the cloths that may be a shell: all that is sold today but lining
// cloths, and what is only ever shut in.
func (a *Adviser) Shells() []*fibres.Cloth {
	outer, err := a.Job("outer")
	var out []*fibres.Cloth
	for _, c := range a.Cat.ClothList() {
		if c.Group != "lining" && c.Era == "" && (err != nil || !slices.Contains(outer.Never, c.ID)) {
			out = append(out, c)
		}
	}
	return out
}

// Linings are the cloths that serve as a lining, whatever its job: those that their
// description names for it.
func (a *Adviser) Linings() []*fibres.Cloth {
	var out []*fibres.Cloth
	for _, c := range a.Cat.ClothList() {
		if c.Era == "" && (c.Group == "lining" || slices.ContainsFunc(a.Jobs, func(j *Job) bool { return j.Layer == "lining" && j.lines() && j.offers(c) })) {
			out = append(out, c)
		}
	}
	return out
}

// lines reports whether what the job is done by is called a lining.
func (j *Job) lines() bool {
	return slices.Contains(j.UsedFor, "lining") && j.ID != "hold-shape" && j.ID != "warmth"
}

// LiningsFor are the cloths that are offered for the job of the lining of a make-up, and
// those that makers take for it: for a second face, whatever may be seen.
func (a *Adviser) LiningsFor(m MakeUp) []*fibres.Cloth {
	return a.liningsFor(m, a.jobToFill(m))
}

// jobToFill is the job of the lining that is yet to be chosen, nil where it has none.
func (a *Adviser) jobToFill(m MakeUp) *Job {
	m.Lining = nil
	return a.jobOfLining(m, a.caseOf(m))
}

// seen reports whether what does the job is seen as the shell is: any cloth may do it.
func (j *Job) seen() bool { return j != nil && len(j.UsedFor) == 0 }

func (a *Adviser) liningsFor(m MakeUp, j *Job) []*fibres.Cloth {
	switch {
	case j == nil:
		return a.Linings()
	case j.seen():
		return a.Shells()
	}
	taken := a.layerPicks(m, "lining")
	var out []*fibres.Cloth
	for _, k := range a.Cat.ClothList() {
		if j.offers(k) || taken[k.ID] > 0 && k.Era == "" && !slices.Contains(j.Never, k.ID) {
			out = append(out, k)
		}
	}
	return out
}
