package drape

import (
	"context"
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
	Gently     bool    // begin coarse and soft: for cloth on a body
	Settled    float64 // metres: also done once the cloth's weight sinks by less in ten steps; 0: only Tolerance counts
	Apart      bool    // keep the cloth from passing through itself
	Progress   func(Progress)
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
	Crossings  int // pairs of triangles that pass through each other
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

// Drape returns the cloth at rest, one result for each seed, the lowest energy first
// among those that converged.
//
// Given: the scene, the sheet and how to compute. No part of them is changed; Body and
// the panels' functions are called from several goroutines.
//
// Valid: a cell of a quarter of the bending length or less where folds matter.
// Accuracy: see docs/mechanics.md; folds are one of several arrangements.
// Errors: [*fault.Fault] where the mesh is too fine or empty, and the context's error.
// Source: energy of a sheet on a square grid, minimised by Newton's method; own working.
// Checked: reference_test.go.
func Drape(ctx context.Context, sc Scene, sheet Sheet, o Options) ([]Result, error) {
	o = o.filled()
	meshes, err := o.meshes(sc)
	if err != nil {
		return nil, err
	}
	out := make([]Result, o.Seeds)
	errs := make([]error, o.Seeds)
	var wait sync.WaitGroup
	workers := make(chan struct{}, max(1, min(2, runtime.GOMAXPROCS(0))))
	var report sync.Mutex
	for i := range o.Seeds {
		wait.Go(func() {
			workers <- struct{}{}
			defer func() { <-workers }()
			out[i], errs[i] = o.one(ctx, sc, sheet, meshes, i, &report)
		})
	}
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	slices.SortStableFunc(out, func(a, b Result) int {
		switch {
		case a.Converged != b.Converged:
			if a.Converged {
				return -1
			}
			return 1
		case a.Energy < b.Energy:
			return -1
		case a.Energy > b.Energy:
			return 1
		}
		return 0
	})
	return out, nil
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
type stage struct {
	scale, soft float64
	apart       bool
}

func (o Options) stages() []stage {
	if !o.Gently {
		return []stage{{1, 1, o.Apart}}
	}
	return []stage{{2, 0.05, false}, {2, 0.25, o.Apart}, {2, 1, o.Apart}, {1, 1, o.Apart}}
}

func (o Options) meshes(sc Scene) (map[float64]*mesh, error) {
	out := map[float64]*mesh{}
	for _, st := range o.stages() {
		if out[st.scale] == nil {
			m, err := newMesh(sc, o.Cell*st.scale)
			if err != nil {
				return nil, err
			}
			out[st.scale] = m
		}
	}
	return out, nil
}

// one computes one seed through all stages.
func (o Options) one(ctx context.Context, sc Scene, sheet Sheet, meshes map[float64]*mesh, index int, report *sync.Mutex) (Result, error) {
	seed := o.First + uint64(index)
	stages := o.stages()
	var x []Vec
	var last *mesh
	var r Result
	for i, st := range stages {
		m := meshes[st.scale]
		switch {
		case x == nil:
			x = m.disturbed(seed, 0.002)
		case m != last:
			x = m.refined(last, x)
		}
		last = m
		s := newSystem(m, sc, sheet, st.apart)
		s.soft = st.soft
		run := o
		if i < len(stages)-1 {
			run.Tolerance, run.Iterations = max(o.Tolerance, 0.1), min(o.Iterations, 60)
			run.Settled = 4 * o.Settled
		}
		d := descent{system: s, options: run, x: x}
		tell := func(iteration int, residual float64) {
			if o.Progress != nil {
				report.Lock()
				defer report.Unlock()
				o.Progress(Progress{index, i + 1, len(stages), iteration, residual})
			}
		}
		if err := d.run(ctx, tell); err != nil {
			return r, err
		}
		x = d.x
		r.Iterations += d.iteration
		r.Energy, r.Residual, r.Converged = d.value, d.residual, d.converged
	}
	r.Seed, r.At, r.mesh = seed, x, last
	r.UV, r.Panel, r.Cell = last.uv, last.panel, last.h
	for _, q := range last.quads {
		r.Quads, r.Part = append(r.Quads, q.n), append(r.Part, q.part)
	}
	r.Crossings = last.crossings(x)
	return r, nil
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
	past      []float64 // energy at each step so far
}

// settled reports whether ten steps brought the cloth hardly lower.
func (d *descent) settled() bool {
	const steps = 10
	d.past = append(d.past, d.value)
	n := len(d.past)
	if d.options.Settled <= 0 || n <= steps {
		return false
	}
	weight := 0.0
	for _, l := range d.load {
		weight += l * d.sheet.Mass * gravity
	}
	return math.Abs(d.past[n-1-steps]-d.value) < d.options.Settled*weight
}

// largest step of a node, in cells.
const (
	stepCells      = 1.4
	stepCellsApart = 0.4
)

func (d *descent) run(ctx context.Context, tell func(int, float64)) error {
	g, step := make([]Vec, len(d.x)), make([]Vec, len(d.free))
	trial := make([]Vec, len(d.x))
	time, safe := 0.03, false
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
		shift, sound, ok := d.factored(1/(time*time), &safe)
		if !ok {
			return nil
		}
		if d.residual < d.options.Tolerance && sound && shift < 10 {
			d.converged = true
			return nil
		}
		if d.settled() {
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
		taken := d.search(g, step, trial, d.limit())
		switch {
		case taken == 0:
			time /= 4
		case !sound:
			time /= 1.2
		case taken >= 0.99:
			time *= 1.7
		case taken < 0.3:
			time /= 1.5
		}
		time = math.Max(1e-5, math.Min(time, 1e4))
	}
	return nil
}

func (d *descent) limit() float64 {
	if d.near != nil {
		return stepCellsApart * d.h
	}
	return stepCells * d.h
}

// factored factors the matrix, first as it is; it says with which shift, and whether
// it is the true one.
func (d *descent) factored(shift float64, safe *bool) (float64, bool, bool) {
	*safe = false
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
	*safe = true
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
