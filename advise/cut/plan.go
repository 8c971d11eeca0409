package cut

import (
	"math"
	"runtime"
	"slices"
	"sync"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/units"
)

// CommonWidths are widths that cloth is commonly sold in, in cm (common
// practice).
var CommonWidths = []units.Length{90, 115, 140, 150}

// Plan works a job out: cut sizes, what to buy, how the layers part, binding and
// thread. It is the only place where they are worked out.
func Plan(j Job) (Answer, error) {
	ans := Answer{Version: 1, Layers: []LayerAnswer{}, Parts: []Geometry{}, Seams: []Join{}, Notes: []string{}}
	if err := j.check(); err != nil {
		return ans, err
	}
	ans.Notes = append(append(ans.Notes, j.Notes...), j.treat()...)
	if err := j.onlyNamed(); err != nil {
		return ans, err
	}
	if err := ans.layers(j); err != nil {
		return ans, err
	}
	for _, p := range j.Parts {
		g := GeometryOf(p)
		ans.Parts = append(ans.Parts, g)
		ans.Perimeter += g.Perimeter * float64(p.Count)
		ans.Area += g.Area * float64(p.Count)
	}
	ans.Perimeter, ans.Area = round4(ans.Perimeter), round4(ans.Area)
	ans.gap(j)
	err := ans.sew(j)
	for i, n := range ans.Notes { // those of the shapes are in centimetres
		ans.Notes[i] = units.Prose(n, j.Units)
	}
	return ans, err
}

// layers plans each layer.
func (ans *Answer) layers(j Job) error {
	var found fault.List
	var noted []note
	for _, l := range j.Layers {
		l.sys = j.Units
		a, notes, err := planLayer(j, l)
		if err != nil {
			found.Add(err)
			continue
		}
		ans.Layers = append(ans.Layers, a)
		noted = append(noted, notes...)
	}
	ans.Notes = append(ans.Notes, merged(noted)...)
	return found.OrNil()
}

// gap adds how far shell and lining part.
func (ans *Answer) gap(j Job) {
	shell, lining := j.layer("shell"), j.layer("lining")
	if shell == nil || lining == nil {
		return
	}
	if g, ok := gapOf(j, *shell, *lining); ok {
		ans.Gap, ans.GapMM = &g, &g.MM
		return
	}
	ans.Notes = append(ans.Notes, "How shell and lining shrink is not known of both, so neither is the gap between them. Wash a marked square of each.")
}

// sew adds the thread and the binding.
func (ans *Answer) sew(j Job) error {
	joins, guessed := j.joins()
	if !guessed {
		ans.Seams = append(ans.Seams, joins...)
	}
	if b := j.Binding; b != nil {
		p, err := PlanBinding(joins, *b, j.Sewing.Thickness)
		if err != nil {
			return at("--binding", err)
		}
		ans.Binding = &p
	}
	if j.Sewing.Tex > 0 && len(joins) > 0 {
		t, err := PlanThread(joins, j.Sewing)
		if err != nil {
			return at("--stitch", err)
		}
		ans.Thread = &t
	}
	if guessed && (ans.Thread != nil || ans.Binding != nil) {
		ans.Notes = append(ans.Notes, "The seams of these parts are not known: thread and binding are for every edge of every part.")
	}
	return nil
}

// at puts the flag that can mend it to a fault.
func at(flag string, err error) error {
	var out fault.List
	for _, f := range fault.All(err) {
		if f.Where == "" {
			f = f.At(flag)
		}
		out = append(out, f)
	}
	return out.OrNil()
}

// three are the values of a figure for the lucky, the likely and the unlucky.
type three struct{ low, mid, high float64 }

// percents turns per cent into parts of one; what is not known is zero.
func percents(e fibres.Estimate) three {
	if !e.Known() {
		return three{}
	}
	return three{e.Low / 100, e.Typical / 100, e.High / 100}
}

// together does the tasks on as many threads as there are cores.
func together(tasks []func()) {
	var wg sync.WaitGroup
	gate := make(chan struct{}, max(1, runtime.GOMAXPROCS(0)))
	for _, t := range tasks {
		gate <- struct{}{}
		wg.Go(func() {
			defer func() { <-gate }()
			t()
		})
	}
	wg.Wait()
}

// cutSize is the width and height of a part when cut, so that it has its finished
// size, and its allowances their full width, after the shrinking:
//
//	cut = (finished + 2·allowance) / (1 − s)
//
// The allowances come first, because they are cloth and shrink with the rest. On the
// bias both directions run at 45° to the warp, and the losses are taken together.
//
// Given: a part with its cut line before any shrinking; whether its height lies across
// the cloth; what the cloth loses across and along.
//
// Accuracy: exact for a known s along the threads.
// Source: arithmetic; the definition of s as in [shrink.FromMarks].
// Checked: reference_test.go, TestCutSizeOfTheWorkedExample; plan_test.go, TestPlansOfAnyPiece.
func cutSize(p sized, turned bool, across, along float64) [2]float64 {
	low, high := bounds(p.pts)
	w, h := high.X-low.X, high.Y-low.Y
	if p.Grain == OnBias { // both run at 45° to the warp
		k := math.Sqrt((1/(1-across)/(1-across) + 1/(1-along)/(1-along)) / 2)
		return [2]float64{w * k, h * k}
	}
	if turned {
		across, along = along, across
	}
	return [2]float64{w / (1 - across), h / (1 - along)}
}

// derived is a length worked out from the shrinkage and width of a layer.
func derived(v three, because string, l Layer) fibres.Estimate {
	e := fibres.Estimate{Low: round4(v.low), Typical: round4(v.mid), High: round4(v.high), Unit: "cm", Basis: fibres.Derived, Sources: []string{}, Because: because}
	for _, x := range []fibres.Estimate{l.Warp, l.Weft, l.Width} {
		for _, s := range x.Sources {
			if !slices.Contains(e.Sources, s) {
				e.Sources = append(e.Sources, s)
			}
		}
	}
	return e
}

// round4 drops what floating point adds to a length in cm.
func round4(v float64) float64 { return math.Round(v*1e4) / 1e4 }
