package advise

import (
	"math"
	"sync"

	"tenter/fibres"
	"tenter/fibres/hang"
	"tenter/fibres/units"
)

// tables keeps what thousands of make-ups of one question share: the stand-off
// of its flap over the bending length, and the spread of its joining.
type tables struct {
	mu    sync.Mutex
	stand map[flapKind]*standTable
	join  map[[2]float64]*[fibres.N]float64
}

// flapKind is a flap by its length and the strip along its edge.
type flapKind struct {
	flap, strip    units.Length
	rigidity, mass float64
}

// standTable holds the stand-off in cm at bending lengths spaced evenly in ln,
// read by straight lines between them; its error against hang is under 0.1 %
// (TestStandTable).
type standTable struct{ v [standSteps + 1]float64 }

const (
	standSteps = 600
	standLow   = 0.2 // cm
	standHigh  = 25  // cm
)

var (
	standLn0 = math.Log(standLow)
	standPer = standSteps / (math.Log(standHigh) - math.Log(standLow))
)

func (t *standTable) at(c float64) float64 {
	x := (math.Log(c) - standLn0) * standPer
	i := min(max(int(x), 0), standSteps-1)
	f := x - float64(i)
	return t.v[i] + f*(t.v[i+1]-t.v[i])
}

// exactStandOff asks the mechanics.
func exactStandOff(k flapKind, c float64) float64 {
	if k.strip > 0 {
		return float64(hang.StandOffStrip(k.flap, units.Length(c), k.strip, k.rigidity, k.mass))
	}
	return float64(hang.StandOff(k.flap, units.Length(c)))
}

func (t *tables) standOff(k flapKind) *standTable {
	t.mu.Lock()
	defer t.mu.Unlock()
	if got := t.stand[k]; got != nil {
		return got
	}
	out := &standTable{}
	for i := range out.v {
		out.v[i] = exactStandOff(k, math.Exp(standLn0+float64(i)/standPer))
	}
	if t.stand == nil {
		t.stand = map[flapKind]*standTable{}
	}
	t.stand[k] = out
	return out
}

// joining deals the spread of a way of joining round the members in a fixed
// order: each draws one stiffening between low and high.
func (t *tables) joining(low, high float64) *[fibres.N]float64 {
	t.mu.Lock()
	defer t.mu.Unlock()
	k := [2]float64{low, high}
	if got := t.join[k]; got != nil {
		return got
	}
	out := &[fibres.N]float64{}
	for i := range out {
		u := (float64((i*97)%fibres.N) + 0.5) / fibres.N
		out[i] = low * math.Pow(high/low, u)
	}
	if t.join == nil {
		t.join = map[[2]float64]*[fibres.N]float64{}
	}
	t.join[k] = out
	return out
}
