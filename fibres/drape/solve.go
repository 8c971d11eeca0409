package drape

import (
	"cmp"
	"context"
	"errors"
	"math"
	"runtime"
	"slices"
	"sync"
)

// Options say how finely and how long to compute.
type Options struct {
	Cell       float64 // side of the mesh's cells in metres
	Seeds      int     // first disturbances tried; 0 is one
	First      uint64  // the first seed
	Iterations int     // at most, a seed and stage; 0 is 300
	Tolerance  float64 // greatest force left over, as a multiple of a cell's weight; 0 is 0.001
	Gently     bool    // begin coarse and soft, and go on with the best start alone: for cloth on a body
	Settled    float64 // metres: also done once ten steps move the cloth by less, on the average; 0: only Tolerance counts
	Apart      bool    // keep the cloth from passing through itself
	Watch
}

// Watch is told how a computation goes. Its functions are never called at the same time.
type Watch struct {
	Progress func(Progress)
	Rough    func(Result) // the coarse shape, once, before the fine one is begun
}

// Progress is where a computation stands.
type Progress struct {
	Seed, Stage, Stages, Iteration int
	Residual                       float64
}

// Result is cloth at rest.
type Result struct {
	At         []Vec        // place of each node
	UV         [][2]float64 // the same node in the flat panel
	Panel      []int
	Quads      [][4]int32 // corners 00, 10, 01, 11 of each cell
	Part       []float64  // share of the cell inside the outline
	Cell       float64
	Energy     float64 // joule
	Residual   float64 // greatest force left over, as a multiple of a cell's weight
	Converged  bool
	Crossings  int    // pairs of triangles that pass through each other
	Crossed    []Mark // where they lie in the flat
	Iterations int
	Seed       uint64
	mesh       *mesh
}

// Point returns where a point of the flat cloth has come to rest.
func (r Result) Point(k Mark) (Vec, bool) {
	w, ok := r.mesh.point(k)
	if !ok {
		return Vec{}, false
	}
	return w.of(r.At), true
}

// Prepared is a scene with its meshes and the plan of their matrices: what several
// cloths in one scene share.
type Prepared struct {
	scene   Scene
	options Options
	stages  []stage
	plans   map[float64]*plan // by the scale of a stage
}

// Prepare lays out the meshes of a scene, which is not changed. It fails with a [*fault.Fault]
// where the mesh is too fine or empty.
func Prepare(sc Scene, o Options) (*Prepared, error) {
	o = o.filled()
	p := &Prepared{scene: sc, options: o, stages: o.stages(), plans: map[float64]*plan{}}
	for _, st := range p.stages {
		if p.plans[st.scale] != nil {
			continue
		}
		m, err := newMesh(sc, o.Cell*st.scale)
		if err != nil {
			return nil, err
		}
		p.plans[st.scale] = newPlan(m, sc)
	}
	return p, nil
}

// Fall returns one cloth at rest in the scene, one result for each seed, the lowest energy first
// among those that converged. Gently gives the best alone.
//
// Given: the sheet, and who is told how it goes. Body and the panels' functions of the scene are
// called from several goroutines; so may Fall be.
//
// Valid: a cell of a quarter of the bending length or less where folds matter.
// Accuracy: see docs/mechanics.md; folds are one of several arrangements.
// Errors: the context's error.
// Source: energy of a sheet on a square grid, minimised by Newton's method; own working.
// Checked: reference_test.go.
func (p *Prepared) Fall(ctx context.Context, sheet Sheet, watch Watch) ([]Result, error) {
	fine := len(p.stages)
	if p.options.Gently {
		fine--
	}
	tries := make([]*try, max(p.options.Seeds, p.starts()))
	if !p.options.Gently {
		tries = tries[:p.options.Seeds]
	}
	errs := make([]error, len(tries))
	var wait sync.WaitGroup
	workers := make(chan struct{}, max(1, min(2, runtime.GOMAXPROCS(0))))
	var report sync.Mutex
	for i := range tries {
		tries[i] = &try{Prepared: p, sheet: sheet, index: i, watch: watch, report: &report}
		wait.Go(func() {
			workers <- struct{}{}
			defer func() { <-workers }()
			errs[i] = tries[i].through(ctx, 0, fine)
		})
	}
	wait.Wait()
	if err := errors.Join(errs...); err != nil {
		return nil, errs[slices.IndexFunc(errs, func(e error) bool { return e != nil })]
	}
	slices.SortStableFunc(tries, func(a, b *try) int { return a.result.compare(b.result) })
	if p.options.Gently {
		if watch.Rough != nil {
			watch.Rough(tries[0].result)
		}
		tries = tries[:1]
		if err := tries[0].through(ctx, fine, len(p.stages)); err != nil {
			return nil, err
		}
	}
	var out []Result
	for _, t := range tries {
		out = append(out, t.result)
	}
	return out, nil
}

// starts is how many starts the panels offer.
func (p *Prepared) starts() int {
	most := 1
	for _, x := range p.scene.Panels {
		most = max(most, len(x.Starts))
	}
	return most
}

// compare puts first what came to rest, then what does not pass through itself, then
// the lower energy.
func (r Result) compare(o Result) int {
	if r.Converged != o.Converged {
		if r.Converged {
			return -1
		}
		return 1
	}
	const few = 5 // crossings that a finer mesh may still undo
	return cmp.Or(cmp.Compare(max(few, r.Crossings), max(few, o.Crossings)), cmp.Compare(r.Energy, o.Energy))
}

func (o Options) filled() Options {
	o.Seeds = max(1, o.Seeds)
	if o.Iterations <= 0 {
		o.Iterations = 300
	}
	if o.Tolerance <= 0 {
		o.Tolerance = 1e-3
	}
	return o
}

// stage is one pass: how large the cells are and what is left of the stiffness.
type stage struct{ scale, soft float64 }

func (o Options) stages() []stage {
	if !o.Gently {
		return []stage{{1, 1}}
	}
	return []stage{{2, 0.05}, {2, 0.25}, {2, 1}, {1, 1}}
}

// try is one start on its way through the stages.
type try struct {
	*Prepared
	sheet  Sheet
	index  int
	watch  Watch
	report *sync.Mutex
	system *system
	x      []Vec
	result Result
}

// through computes the stages from one up to another.
func (t *try) through(ctx context.Context, from, to int) error {
	for i := from; i < to; i++ {
		if err := t.stage(ctx, i); err != nil {
			return err
		}
	}
	r, m := &t.result, t.system.mesh
	r.Seed = t.options.First + uint64(t.index)
	r.lay(m, t.x)
	r.Crossed = m.crossings(t.x)
	r.Crossings = len(r.Crossed)
	return nil
}

// lay says where the nodes of a mesh are.
func (r *Result) lay(m *mesh, at []Vec) {
	r.At, r.mesh = at, m
	r.UV, r.Panel, r.Cell = m.uv, m.panel, m.h
	r.Quads, r.Part = nil, nil
	for _, q := range m.quads {
		r.Quads, r.Part = append(r.Quads, q.n), append(r.Part, q.part)
	}
}

// Restore is a result whose places were kept; false where they are those of another mesh. What
// else was found must be put back by who kept it.
func (p *Prepared) Restore(at []Vec) (Result, bool) {
	m := p.plans[p.stages[len(p.stages)-1].scale].mesh
	if len(at) != len(m.uv) {
		return Result{}, false
	}
	var r Result
	r.lay(m, at)
	return r, true
}

// coarseSteps is how many steps a stage before the last may take.
const coarseSteps = 120

func (t *try) stage(ctx context.Context, i int) error {
	st, run := t.stages[i], t.options
	plan := t.plans[st.scale]
	switch {
	case t.system == nil:
		t.x = plan.disturbed(plan.begun(t.scene, t.index), t.options.First+uint64(t.index), 0.002)
	case t.system.mesh != plan.mesh:
		t.x = plan.refined(t.system.mesh, t.x)
	}
	if t.system == nil || t.system.mesh != plan.mesh {
		t.system = newSystem(plan, t.sheet, t.options.Apart)
	}
	t.system.begin(st.soft)
	if i < len(t.stages)-1 {
		run.Tolerance, run.Iterations = max(run.Tolerance, 0.1), min(run.Iterations, coarseSteps)
		run.Settled *= 4
	}
	d := descent{system: t.system, options: run, x: t.x}
	tell := func(iteration int, residual float64) {
		if t.watch.Progress != nil {
			t.report.Lock()
			defer t.report.Unlock()
			t.watch.Progress(Progress{t.index, i + 1, len(t.stages), iteration, residual})
		}
	}
	if err := d.run(ctx, tell); err != nil {
		return err
	}
	t.x = d.x
	t.result.Iterations += d.iteration
	t.result.Energy, t.result.Residual, t.result.Converged = d.value, d.residual, d.converged
	return nil
}

// refined returns where the nodes of a finer mesh lie on the cloth at rest in a coarser.
func (m *mesh) refined(coarse *mesh, x []Vec) []Vec {
	out := make([]Vec, len(m.start))
	for i, p := range m.start {
		out[i] = p
		if m.fixed[i] {
			continue
		}
		if w, ok := coarse.point(Mark{m.panel[i], m.uv[i][0], m.uv[i][1]}); ok {
			out[i] = w.of(x)
		}
	}
	return out
}

// descent is Newton's method with a shift that stands for a step of time.
type descent struct {
	*system
	options   Options
	x         []Vec
	value     float64
	residual  float64
	converged bool
	iteration int
	past      []Vec // where the nodes were ten steps ago
}

// settled reports, every ten steps, whether they moved the cloth hardly at all, on the average.
func (d *descent) settled() bool {
	const steps = 10
	if d.options.Settled <= 0 || d.iteration%steps != 0 {
		return false
	}
	before := d.past
	d.past = slices.Clone(d.x)
	if before == nil {
		return false
	}
	weight, sum := 0.0, 0.0
	for _, n := range d.free {
		weight += d.mass[n]
		sum += d.mass[n] * d.x[n].Sub(before[n]).Len()
	}
	return sum < d.options.Settled*weight
}

// largest step of a node, in cells.
const (
	stepCells      = 1.4
	stepCellsApart = 0.4
)

func (d *descent) run(ctx context.Context, tell func(int, float64)) error {
	g, step := make([]Vec, len(d.x)), make([]Vec, len(d.free))
	trial, before := make([]Vec, len(d.x)), make([]Vec, len(d.x))
	time := usualStep
	for d.iteration = 0; d.iteration < d.options.Iterations; d.iteration++ {
		if err := ctx.Err(); err != nil {
			return err
		}
		d.stick(d.x)
		if d.near != nil {
			d.near.find(d.system, d.x)
		}
		d.value = d.energy(d.x, g)
		d.residual = d.largest(g)
		tell(d.iteration, d.residual)
		shift, sound, ok := d.factored(1 / (time * time))
		if !ok {
			return nil
		}
		if d.residual < d.options.Tolerance && sound && shift < 10 || d.settled() {
			d.converged = true
			return nil
		}
		for i, n := range d.free {
			step[i] = g[n].Mul(-1)
		}
		if asked := 1 / (time * time); shift > asked { // do not ask for so little again at once
			time = 2.0 / math.Sqrt(shift)
		}
		d.mat.solve(step)
		copy(before, d.x)
		taken := d.search(g, step, trial, d.limit())
		if d.near != nil {
			d.lighten()
			d.held(before)
		}
		time = d.paced(time, taken, sound)
	}
	return nil
}

// usualStep is the first step of time, in seconds, and of cloth on a body the least that is asked for because
// the matrix was not the true one: a spot that is caught must not hold up all the rest.
const usualStep = 0.03

// paced is the next step of time, by which part of the last was taken.
func (d *descent) paced(time, taken float64, sound bool) float64 {
	switch {
	case taken == 0:
		time /= 4
	case !sound && d.near != nil:
		time = math.Max(usualStep, time/1.2)
	case !sound:
		time /= 1.2
	case taken >= 0.99:
		time *= 1.7
	case taken < 0.3:
		time /= 1.5
	}
	return math.Max(1e-5, math.Min(time, 1e4))
}

// slower is how many times as heavy a node is taken that was put back, slowest how many at most.
const (
	slower  = 10
	slowest = 1e4
)

// lighten takes back, step by step, what made nodes heavy.
func (d *descent) lighten() {
	for i, w := range d.weight {
		d.weight[i] = math.Max(d.light[i], w*0.8)
	}
}

// held puts back the nodes of what has come to pass through itself in this step.
func (d *descent) held(before []Vec) {
	const rounds = 3
	for range rounds {
		moved := false
		d.crossing(d.x, func(a, b [3]int32) {
			if d.touch(a, b, farCells) || pierces(before, a, b) || pierces(before, b, a) {
				return // one sharp fold, which opens by itself; or they did so already
			}
			for _, n := range [6]int32{a[0], a[1], a[2], b[0], b[1], b[2]} {
				if d.x[n] != before[n] {
					moved = true
					d.x[n] = before[n]
					if p := d.place[n]; p >= 0 {
						d.weight[p] = math.Min(d.weight[p]*slower, slowest*d.light[p])
					}
				}
			}
		})
		if !moved {
			return
		}
	}
}

func (d *descent) limit() float64 {
	if d.near != nil {
		return stepCellsApart * d.h
	}
	return stepCells * d.h
}

// factored factors the matrix, first as it is; it says with which shift, and whether
// it is the true one.
func (d *descent) factored(shift float64) (float64, bool, bool) {
	d.hessian(d.x, false)
	if d.mat.factor(shift, d.weight) {
		return shift, true, true
	}
	if d.residual < 20 {
		for range 8 { // near rest: a saddle, left along its own slope
			shift = math.Max(8*shift, 3)
			if d.mat.factor(shift, d.weight) {
				return shift, true, true
			}
		}
	}
	d.hessian(d.x, true)
	for range 12 {
		if d.mat.factor(shift, d.weight) {
			return shift, false, true
		}
		shift = math.Max(8*shift, 3)
	}
	return shift, false, false
}

// search goes along the step as far as the energy falls and says which part of it
// was taken.
func (d *descent) search(g, step, trial []Vec, limit float64) float64 {
	longest, slope := 0.0, 0.0
	for i, n := range d.free {
		longest = math.Max(longest, step[i].Len())
		slope += step[i].Dot(g[n])
	}
	scale := 1.0
	if longest > limit {
		scale = limit / longest
	}
	for part := 1.0; part > 1e-4; part /= 2 {
		copy(trial, d.x)
		for i, n := range d.free {
			trial[n] = d.x[n].Add(step[i].Mul(scale * part))
		}
		if v := d.energy(trial, nil); v <= d.value+1e-4*scale*part*slope+1e-14*math.Abs(d.value) {
			copy(d.x, trial)
			return part
		}
	}
	return 0
}

// largest is the greatest force on a node as a multiple of the weight of a cell.
func (d *descent) largest(g []Vec) float64 {
	most := 0.0
	for _, n := range d.free {
		most = math.Max(most, g[n].Len())
	}
	return most / (d.sheet.Mass * gravity * d.h * d.h)
}
