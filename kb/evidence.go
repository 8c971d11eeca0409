package kb

import (
	"fmt"
	"math"
	"sort"
	"strings"
	"time"

	"tenter/fibres"
	"tenter/fibres/fault"
	"tenter/fibres/hang"
	"tenter/kb/record"
)

// Found is what the readings of one swatch say of one property.
type Found struct {
	Property fibres.Property
	fibres.Readings
	Test string // the home test
}

// Evidence is what was measured of one swatch: the figures, and what is worth
// knowing of the readings.
type Evidence struct {
	Found  []Found
	Shadow *Shadow  // of a drape test; nil: none
	Notes  []string // what makes them poor, or what no figure holds
	Bleed  string   // the grade of the last test of its dye; "" was not tested
}

// Known are the figures as a subject takes them.
func (e Evidence) Known() map[fibres.Property]fibres.Estimate {
	if len(e.Found) == 0 {
		return nil
	}
	m := map[fibres.Property]fibres.Estimate{}
	for _, f := range e.Found {
		if f.Known() {
			m[f.Property] = f.Estimate
		}
	}
	return m
}

// How repeated readings of one cloth differ, and what one may be out by: parts of
// one, points for shrinkage. Common practice; see the home tests.
const (
	massSpread      = 0.02
	massStated      = 0.025 // of a mass that is told per area
	cutError        = 0.05  // cm, of each side of a square
	thicknessSpread = 0.05
	shrinkSpread    = 0.5
	markError       = 0.1 // cm, of each of the two readings between marks
	shrinkStated    = 0.5 // of a shrinkage that is told in per cent
)

// EvidenceOf gathers what measurements of one swatch say. Measurements of a kind
// are taken together, however many days they were taken on; of washing, the
// latest cycle counts. Readings that cannot be read any more are told and left
// out.
func EvidenceOf(ms []record.Measurement) Evidence {
	var out Evidence
	by := map[string][]record.Measurement{}
	for _, m := range ms {
		if m.Removed.IsZero() {
			by[m.Kind] = append(by[m.Kind], m)
		}
	}
	for _, kind := range record.Kinds {
		list := by[kind]
		if len(list) == 0 || kind == "loop" && len(by["droop"]) > 0 {
			continue // loops are judged with the droops
		}
		switch kind {
		case "mass":
			out.mass(list)
		case "thickness":
			out.thickness(list)
		case "droop", "loop":
			out.bending(append(append([]record.Measurement{}, by["droop"]...), by["loop"]...))
		case "wash":
			out.wash(list)
		case "stretch":
			out.stretch(list)
		case "fray":
			out.fray(list)
		case "width":
			out.width(list)
		case "drape":
			out.shadow(list)
		case "press":
			out.press(list)
		case "bleed":
			last := list[len(list)-1]
			for _, r := range last.Readings {
				if w, ok := r["level"].(string); ok {
					out.Bleed = w
				}
			}
		default:
			if p, ok := gradedBy(kind); ok {
				out.graded(p, list)
			}
		}
	}
	return out
}

// days says when measurements were taken: "2 Nov 2026", "2 to 9 Nov 2026".
func days(ms []record.Measurement) string {
	first, last := time.Time{}, time.Time{}
	for _, m := range ms {
		if first.IsZero() || m.Taken.Before(first) {
			first = m.Taken
		}
		if m.Taken.After(last) {
			last = m.Taken
		}
	}
	const day = "2 Jan 2006"
	a, b := first.Format(day), last.Format(day)
	if a == b {
		return b
	}
	return a + " to " + b
}

func because(n int, test string, ms []record.Measurement) string {
	readings := "readings"
	if n == 1 {
		readings = "reading"
	}
	return fmt.Sprintf("your %s of %s, %d %s", test, days(ms), n, readings)
}

func figure(r record.Reading, key string) (float64, bool) {
	v, ok := r[key].(float64)
	return v, ok && !math.IsNaN(v) && !math.IsInf(v, 0)
}

func (e *Evidence) add(f Found) { e.Found = append(e.Found, f) }

func (e *Evidence) mass(ms []record.Measurement) {
	var v []float64
	worst, coarse := 0.0, ""
	for _, m := range ms {
		for _, r := range m.Readings {
			g, ok := figure(r, record.ReadingMass)
			if !ok || !(g > 0) {
				continue
			}
			v = append(v, g)
			out := massStated
			if w, ok := figure(r, "grams"); ok && w > 0 {
				st, _ := figure(r, "step_g")
				side, _ := figure(r, "side_cm")
				out = st / 2 / w
				if side > 0 {
					out = math.Hypot(out, 2*cutError/side)
				}
				if out > 0.05 {
					coarse = fmt.Sprintf("The scale shows steps of %s g on %s g: weigh a larger piece.", fibres.Round(st), fibres.Round(w))
				}
			}
			worst = math.Max(worst, out)
		}
	}
	if r := fibres.FromReadings(fibres.Mass, v, massSpread, worst, because(len(v), "weighing", ms)); r.Known() {
		e.add(Found{fibres.Mass, r, "scale"})
	}
	if coarse != "" {
		e.Notes = append(e.Notes, coarse)
	}
	e.apart("mass", 0.15)
}

// apart notes that the readings of a property lie further apart than those of one
// cloth do.
func (e *Evidence) apart(what string, limit float64) {
	if n := len(e.Found); n > 0 && e.Found[n-1].Spread > limit {
		e.Notes = append(e.Notes, fmt.Sprintf("The readings of %s lie %.0f %% apart: one of them may be a slip, or not of this cloth.", what, 100*e.Found[n-1].Spread))
	}
}

func (e *Evidence) thickness(ms []record.Measurement) {
	var v []float64
	worst := 0.0
	for _, m := range ms {
		for _, r := range m.Readings {
			t, ok := figure(r, "thickness_mm")
			if !ok || !(t > 0) {
				continue
			}
			v = append(v, t)
			if pile, ok := figure(r, "pile_mm"); ok && pile > 0 {
				out := 0.5 // a ruler's half millimetre
				switch st, _ := figure(r, "step_mm"); {
				case st <= 0.01:
					out = 0.05
				case st <= 0.1:
					out = 0.25
				}
				worst = math.Max(worst, out/pile)
			}
		}
	}
	if r := fibres.FromReadings(fibres.Thickness, v, thicknessSpread, worst, because(len(v), "pile", ms)); r.Known() {
		e.add(Found{fibres.Thickness, r, "pile-of-ten"})
		e.apart("thickness", 0.25)
	}
}

// tapeSpread is how widths of one bolt differ (common practice), tapeRead how far a
// tape is read, as a part of the width.
const (
	tapeSpread = 0.01
	tapeRead   = 0.005
)

func (e *Evidence) width(ms []record.Measurement) {
	var v []float64
	for _, m := range ms {
		for _, r := range m.Readings {
			if w, ok := figure(r, "width_cm"); ok && w > 0 {
				v = append(v, w)
			}
		}
	}
	if r := fibres.FromReadings(fibres.Width, v, tapeSpread, tapeRead, because(len(v), "tape", ms)); r.Known() {
		e.add(Found{fibres.Width, r, "tape"})
		e.apart("width", 0.05)
	}
}

// bending pools the strips of droops and loops: warp and weft each by itself, and
// both together where both were measured.
func (e *Evidence) bending(ms []record.Measurement) {
	by := map[hang.Direction][]hang.Reading{}
	for _, m := range ms {
		for _, r := range m.Readings {
			x, ok := stripReading(r)
			if !ok {
				continue
			}
			if _, err := x.BendingLength(); err != nil {
				e.Notes = append(e.Notes, "A reading of "+days([]record.Measurement{m})+" gives no bending length and is left out: "+fault.All(err)[0].What+".")
				continue
			}
			by[x.Direction] = append(by[x.Direction], x)
			if d := x.Doubt(); d != "" && !contains(e.Notes, d) {
				e.Notes = append(e.Notes, d)
			}
		}
	}
	put := func(p fibres.Property, list []hang.Reading) {
		if len(list) == 0 {
			return
		}
		i, err := hang.FromReadings(list)
		if err != nil {
			e.Notes = append(e.Notes, fault.All(err)[0].What)
			return
		}
		f := Found{Property: p, Test: "ruler-droop"}
		f.Estimate = fibres.Figure(p, float64(i.Low), float64(i.Typical), float64(i.High), fibres.Measured, because(len(list), "ruler droop", ms))
		f.Count, f.Spread = len(list), spreadOf(list)
		e.add(f)
		if p != fibres.BendingLength || len(by[hang.Warp]) == 0 { // told of each direction, not again of both
			e.apart(fibres.Properties[p].Name, 0.2)
		}
	}
	both := append(append([]hang.Reading{}, by[hang.Warp]...), by[hang.Weft]...)
	switch {
	case len(by[hang.Warp]) > 0 && len(by[hang.Weft]) > 0:
		put(fibres.BendingLength, both)
	case len(both) == 0:
		put(fibres.BendingLength, by[hang.AnyDirection])
	}
	put(fibres.BendingLengthWarp, by[hang.Warp])
	put(fibres.BendingLengthWeft, by[hang.Weft])
	put(fibres.BendingLengthBias, by[hang.Bias])
	if len(both) > 0 && len(by[hang.AnyDirection]) > 0 {
		e.Notes = append(e.Notes, "Strips without a direction are left out where warp or weft was measured.")
	}
	switch {
	case len(by[hang.Warp]) > 0 && len(by[hang.Weft]) == 0:
		e.Notes = append(e.Notes, "Only the warp was measured: a strip of the weft would settle the overall bending length.")
	case len(by[hang.Weft]) > 0 && len(by[hang.Warp]) == 0:
		e.Notes = append(e.Notes, "Only the weft was measured: a strip of the warp would settle the overall bending length.")
	}
}

// spreadOf is the standard deviation in ln of bending lengths about the mean of
// their direction and face.
func spreadOf(list []hang.Reading) float64 {
	type key struct {
		d hang.Direction
		f hang.Face
	}
	groups := map[key][]float64{}
	for _, r := range list {
		if c, err := r.BendingLength(); err == nil {
			k := key{r.Direction, r.Face}
			groups[k] = append(groups[k], math.Log(float64(c)))
		}
	}
	squares, free := 0.0, 0.0
	for _, g := range groups {
		mean := 0.0
		for _, x := range g {
			mean += x / float64(len(g))
		}
		for _, x := range g {
			squares += (x - mean) * (x - mean)
		}
		free += float64(len(g) - 1)
	}
	if free == 0 {
		return 0
	}
	return math.Sqrt(squares / free)
}

func contains(list []string, x string) bool {
	for _, y := range list {
		if x == y {
			return true
		}
	}
	return false
}

func (e *Evidence) wash(ms []record.Measurement) {
	var methods []string
	for _, d := range []struct {
		name string
		p    fibres.Property
	}{{"warp", fibres.ShrinkWarp}, {"weft", fibres.ShrinkWeft}} {
		last := 0.0
		for _, m := range ms {
			for _, r := range m.Readings {
				if c, _ := figure(r, "cycle"); r["direction"] == d.name {
					last = math.Max(last, c)
				}
			}
		}
		var v []float64
		var of []record.Measurement
		worst := 0.0
		for _, m := range ms {
			used := false
			for _, r := range m.Readings {
				s, ok := figure(r, "shrink_pct")
				if c, _ := figure(r, "cycle"); !ok || r["direction"] != d.name || c != last {
					continue
				}
				v, used = append(v, s), true
				out := shrinkStated
				if b, ok := figure(r, "before_cm"); ok && b > 0 {
					out = 100 * math.Sqrt2 * markError / b
				}
				worst = math.Max(worst, out)
				if w, ok := r["method"].(string); ok && w != "" && !contains(methods, w) {
					methods = append(methods, w)
				}
			}
			if used {
				of = append(of, m)
			}
		}
		if len(v) == 0 {
			continue
		}
		why := because(len(v), "wash swatch", of)
		if last > 1 {
			why += fmt.Sprintf(", after %.0f washes", last)
		}
		if r := fibres.FromReadings(d.p, v, shrinkSpread, worst, why); r.Known() {
			e.add(Found{d.p, r, "wash-swatch"})
		}
	}
	sort.Strings(methods)
	if len(methods) > 1 {
		e.Notes = append(e.Notes, "Washed in several ways, and taken together: "+strings.Join(methods, "; ")+".")
	} else if len(methods) == 1 {
		e.Notes = append(e.Notes, "Shrinkage is for: "+methods[0]+".")
	}
}

// The stretches that part none, low, medium and high, in per cent, and the threads
// of ten rubs that part the grades of fray: see the home tests.
var (
	stretchBelow = []float64{5.01, 10.01, 25.01, math.Inf(1)}
	threadsBelow = []float64{0.5, 1.5, 4.5, math.Inf(1)}
)

func (e *Evidence) stretch(ms []record.Measurement) {
	var v []float64
	for _, m := range ms {
		for _, r := range m.Readings {
			if s, ok := figure(r, "stretch_pct"); ok {
				v = append(v, s)
			}
		}
	}
	e.counted(fibres.Stretch, "hand-stretch", "hand stretch", v, 1, stretchBelow, ms)
}

func (e *Evidence) fray(ms []record.Measurement) {
	var v []float64
	var words []record.Measurement
	for _, m := range ms {
		graded := false
		for _, r := range m.Readings {
			if n, ok := figure(r, "threads"); ok {
				rubs, _ := figure(r, "rubs")
				if rubs > 0 {
					n *= 10 / rubs
				}
				v = append(v, n)
			} else if _, ok := r["level"]; ok {
				graded = true
			}
		}
		if graded {
			words = append(words, m)
		}
	}
	if len(v) == 0 {
		e.graded(fibres.Fray, words)
		return
	}
	worst := v[0] // the direction that frays more counts
	for _, n := range v {
		worst = math.Max(worst, n)
	}
	e.counted(fibres.Fray, "thumbnail-fray", "thumbnail fray", []float64{worst}, 1, threadsBelow, ms)
	e.Found[len(e.Found)-1].Count = len(v)
}

// counted grades a mean of counts, and what it would be one out either way.
func (e *Evidence) counted(p fibres.Property, test, called string, v []float64, out float64, below []float64, ms []record.Measurement) {
	if len(v) == 0 {
		return
	}
	mean := 0.0
	for _, x := range v {
		mean += x / float64(len(v))
	}
	f := Found{Property: p, Test: test}
	f.Estimate = fibres.Figure(p, float64(band(mean-out, below)), float64(band(mean, below)), float64(band(mean+out, below)), fibres.Measured, because(len(v), called, ms))
	f.Count = len(v)
	e.add(f)
}

// graded takes the grades of a test that is told by a word.
func (e *Evidence) graded(p fibres.Property, ms []record.Measurement) {
	var levels []float64
	for _, m := range ms {
		for _, r := range m.Readings {
			if w, ok := r["level"].(string); ok {
				if l, on := fibres.Properties[p].Scale.Level(w); on {
					levels = append(levels, float64(l))
				}
			}
		}
	}
	if len(levels) == 0 {
		return
	}
	sort.Float64s(levels)
	t := fibres.Tests[fibres.Properties[p].Test]
	f := Found{Property: p, Test: t.ID}
	f.Estimate = fibres.Figure(p, levels[0], levels[len(levels)/2], levels[len(levels)-1], fibres.Measured, because(len(levels), t.Name, ms))
	f.Count = len(levels)
	e.add(f)
}

// press takes the hottest sole plate that left no mark: the least of what was
// found on several days.
func (e *Evidence) press(ms []record.Measurement) {
	safe, n := math.Inf(1), 0
	for _, m := range ms {
		for _, r := range m.Readings {
			if c, ok := figure(r, "safe_c"); ok {
				safe = math.Min(safe, c)
				n++
			}
		}
	}
	if n == 0 {
		return
	}
	f := Found{Property: fibres.PressingLimit, Test: "iron-scrap"}
	f.Estimate = fibres.Figure(fibres.PressingLimit, safe, safe, safe, fibres.Measured, because(n, "ironed scrap", ms))
	f.Count = n
	e.add(f)
}
